//! `heat-treatment-temperature-unusual`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};
use seamwright_handbook::measure::band;
use seamwright_handbook::metal_heat;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-treatment-temperature-unusual",
    harm: Harm::Metal,
    finds: "A temperature of the heat treatment after welding outside the range for the metal.",
    matters: "Too cold leaves the heat-affected zone hard; too hot softens or hardens the steel anew.",
    remedy: "Take the range of the code for the metal, below the temperature at which it was tempered.",
    limit: "Outside every source it is an error, outside the usual range a caution; between two metals the range of the higher.",
    tables: &["heat-treatment"],
    examine,
    faulty: &[
        Case {
            base: "pipe-butt-p91-141",
            edits: &[("/temperatures/post_weld_heat_treatment/temperature", "600-620 °C")],
        },
        Case {
            base: "pipe-butt-13crmo4-5-141-111",
            edits: &[("/temperatures/post_weld_heat_treatment/temperature", "850-900 °C")],
        },
        Case {
            base: "pipe-butt-p235gh-141-111",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 300 °C, time: 1 h}")],
        },
    ],
    sound: &[
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[] },
        Case {
            base: "pipe-butt-p235gh-141-111",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 580-620 °C, time: 1 h}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let treatment = x.view.procedure.heat_treatment();
    let Some(range) = treatment.and_then(|own| own.temperature.as_ref()).and_then(Stated::value) else { return };
    let rows = x.view.metals.iter().filter_map(|metal| {
        let row = metal_heat::treatment(metal.known?)?;
        Some((row.envelope_c?, row.usual_c?, row, metal))
    });
    let Some((envelope, usual, row, metal)) = rows.max_by(|a, b| a.0.low.total_cmp(&b.0.low)) else { return };
    let pointer = "/temperatures/post_weld_heat_treatment/temperature";
    let (stated, source) = (range.spelled(), row.origin.source_ref());
    let own = band(range, Temperature::celsius);
    let outer = x.compare(pointer, stated, own, envelope, "°C", &source);
    let (severity, limit) = if outer.either() {
        (Severity::Error, envelope)
    } else if own.outside(usual).either() {
        (Severity::Caution, usual)
    } else {
        return;
    };
    let limit = range_limit(limit, "°C");
    x.report(
        severity,
        pointer,
        format!("heat treatment at {stated} lies outside {limit} for {}", metal.stated.specification),
    )
    .stated(stated)
    .limit(limit, &source)
    .hint(format!("write a temperature within {}", range_text(usual, "°C")));
}
