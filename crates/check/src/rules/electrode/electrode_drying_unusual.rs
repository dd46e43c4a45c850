//! `electrode-drying-unusual`: explanation, cases, logic.

use std::collections::HashMap;

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, covered_electrodes, metal_heat};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::{Range, Temperature};
use seamwright_model::source::escape;

use super::drying::temperature;
use super::of_run;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-drying-unusual",
    harm: Harm::Metal,
    finds: "A temperature of drying or holding that does not keep a low-hydrogen electrode dry, or spoils it.",
    matters: "Too cold leaves the moisture in the covering; too hot breaks its binder, and it falls off at the arc.",
    remedy: "Take the temperatures that the manufacturer gives for the electrode.",
    limit: "Outside the handbook's range is a note. Drying no hotter than an oven that holds, holding as hot as drying or no warmer than the room, and drying above every source are a caution.",
    tables: &["covered-electrodes", "electrode-rules", "heat-rules"],
    examine,
    faulty: &[
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/holding", "12 °C")] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/drying", "35 °C for 2 h")] },
        Case { base: "butt-12-s690ql-111", edits: &[("/fillers/electrode/holding", "300 °C")] },
    ],
    sound: &[
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/drying", "300-350 °C, 2 h")] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/drying", "as the manufacturer gives")] },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode", "{designation: E6013, diameter: 3.2 mm, drying: 80 °C for 1 h}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let (drying, holding) = (covered_electrodes::RE_DRYING, covered_electrodes::HOLDING_OVEN);
    let room = metal_heat::ROOM_TEMPERATURE;
    // Many runs share one electrode, and reading its words takes longer than comparing them.
    let mut read: HashMap<&str, Option<Range<Temperature>>> = HashMap::new();
    for run in &x.view.runs {
        let Some(electrode) = of_run::electrode(x.view, run).filter(of_run::Electrode::low_hydrogen) else {
            continue;
        };
        let row = electrode.row;
        let (dry, hold) = (
            row.and_then(|row| row.redrying_c).unwrap_or(drying.value),
            row.and_then(|row| row.holding_c).unwrap_or(holding.value),
        );
        let steps = [
            ("drying", &electrode.filler.drying, dry, Band::new(hold.high, dry.high), drying),
            ("holding", &electrode.filler.holding, hold, Band::new(room.value.high, dry.low), holding),
        ];
        for (key, stated, usual, widest, rule) in steps {
            let Some(text) = stated.as_deref() else { continue };
            let Some(range) = read.entry(text).or_insert_with(|| temperature(text)).as_ref() else { continue };
            let pointer = format!("/fillers/{}/{key}", escape(electrode.name));
            let source = row.map_or_else(|| rule.origin.source_ref(), |row| row.origin.source_of(&format!("{key}_c")));
            let own = band(range, Temperature::celsius);
            let outer = x.compare(&pointer, text, own, usual, "°C", &source);
            if !outer.either() {
                continue;
            }
            let far = own.outside(widest);
            let limit = range_limit(usual, "°C");
            x.report(
                if far.either() { Severity::Caution } else { Severity::Note },
                pointer,
                format!(
                    "{key} of {} at {} lies outside the usual range ({limit})",
                    electrode.filler.designation,
                    range.spelled()
                ),
            )
            .stated(text)
            .limit(limit.clone(), &source)
            .hint(format!("write a temperature within {limit}, or what the manufacturer gives"));
        }
    }
}
