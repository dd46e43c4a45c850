//! `heat-treatment-harms-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_text};
use seamwright_handbook::measure::band;
use seamwright_handbook::metal_heat;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-treatment-harms-metal",
    harm: Harm::Metal,
    finds: "A heat treatment after welding in a range of temperature that spoils stainless steel.",
    matters: "Carbides and sigma phase take corrosion resistance and toughness.",
    remedy: "Leave it out; where stress must go, anneal in full, or take a stabilised or low-carbon grade and say so.",
    limit: "The range in which austenitic steel sensitises (a caution) and duplex steel becomes brittle (an error).",
    tables: &["heat-treatment"],
    examine,
    faulty: &[
        Case {
            base: "butt-2-304l-141",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 600-650 °C, time: 1 h}")],
        },
        Case {
            base: "pipe-butt-2205-141",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 600 °C, time: 1 h}")],
        },
    ],
    sound: &[
        Case { base: "butt-2-304l-141", edits: &[] },
        Case {
            base: "butt-2-304l-141",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 1040-1080 °C, time: 10 min}")],
        },
        Case { base: "pipe-butt-p91-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let treatment = x.view.procedure.heat_treatment();
    let Some(range) = treatment.and_then(|own| own.temperature.as_ref()).and_then(Stated::value) else { return };
    let pointer = "/temperatures/post_weld_heat_treatment/temperature";
    let own = band(range, Temperature::celsius).closed();
    for metal in &x.view.metals {
        let Some(row) = metal.known.and_then(metal_heat::treatment) else { continue };
        let Some((harmful, harm)) = row.harmful_c.zip(row.harm) else { continue };
        x.examined(pointer);
        if own.overlap(harmful).is_none() {
            continue;
        }
        let severity = if row.severe { Severity::Error } else { Severity::Caution };
        let source = row.origin.source_ref();
        let stated = range.spelled();
        let limit = format!("not within {}", range_text(harmful, "°C"));
        x.report(severity, pointer, format!("heat treatment at {stated} harms {}: {harm}", metal.stated.specification))
            .stated(stated)
            .limit(limit, &source)
            .hint("write `post_weld_heat_treatment: none`, or a full anneal");
        return;
    }
}
