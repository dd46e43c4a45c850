//! `interpass-below-least`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::{Band, interpass_temperature, measure, metal_heat};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;

/// The check.
pub const RULE: Rule = Rule {
    name: "interpass-below-least",
    harm: Harm::Metal,
    finds: "An interpass temperature under the least that the steel must keep between runs, or a highest one that no weld cools to.",
    matters: "Steel with 9 % chromium hardens when it cools between runs, and cracks from hydrogen; a cap under the warmth of the room stops the work.",
    remedy: "Keep the joint warm between runs, and state the least as well as the most.",
    limit: "The least interpass temperature of the family of metal; what metal has without preheat is the least of a highest.",
    tables: &["interpass-temperature", "heat-rules"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/interpass", "100-250 °C")] },
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "15 °C maximum")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/interpass", "300 °C maximum")] },
        Case { base: "butt-2-304l-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(range) = x.view.procedure.interpass() else { return };
    let most = range.high().map(Temperature::celsius);
    if let Some(most) = most {
        let room = metal_heat::ROOM_TEMPERATURE;
        let (pointer, limit) = ("/temperatures/interpass", Band::at_least(room.value.high));
        let (stated, source) = (range.spelled(), room.origin.source_ref());
        if x.compare(pointer, stated, Band::at_least(most), limit, "°C", &source).below {
            let limit = range_limit(limit, "°C");
            x.report(Severity::Caution, pointer, format!("no weld cools to {stated} between runs ({limit})"))
                .stated(stated)
                .limit(limit, &source)
                .hint("look at the figure and its unit");
            return;
        }
    }
    // A maximum alone says nothing of the least: the preheat holds then.
    let Some(low) = range.low() else { return };
    let rows = x.view.metals.iter().filter_map(|metal| {
        let row = interpass_temperature::get(metal.family())?;
        Some((row.minimum()?, row, metal))
    });
    let Some((least, row, metal)) = rows.max_by(|a, b| a.0.celsius.total_cmp(&b.0.celsius)) else { return };
    let (least, unit) = least.column(measure::is_customary(range.unit()));
    let (pointer, stated, source) = ("/temperatures/interpass", range.spelled(), row.origin.source_ref());
    let limit = Band::at_least(least);
    if !x.compare(pointer, stated, Band::at_least(measure::degrees(low, unit)), limit, unit, &source).below {
        return;
    }
    let limit = range_limit(limit, unit);
    let most = row.usual().column(unit == "°F").0;
    x.report(
        Severity::Caution,
        pointer,
        format!("interpass temperature {stated} is low for {} ({limit})", metal.stated.specification),
    )
    .stated(stated)
    .limit(limit, &source)
    .hint(format!("write `interpass: {least:.0}-{most:.0} {unit}`"));
}
