//! `heat-treatment-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::measure::figure;
use seamwright_handbook::metal_heat::{self, Asked};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-treatment-missing",
    harm: Harm::Metal,
    finds: "A creep-resisting or martensitic steel without heat treatment after welding.",
    matters: "The heat-affected zone stays hard and brittle, and cracks in service or before.",
    remedy: "State temperature and time of the heat treatment, or the reason why the code does without.",
    limit: "Steel with 5 % chromium and more is always heat-treated: an error; others above the thickness up to which codes do without: an error; below it a caution, unless the metal has the preheat that codes ask for in return.",
    tables: &["heat-treatment", "preheat-practice"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/post_weld_heat_treatment", "none")] },
        Case {
            base: "pipe-butt-13crmo4-5-141-111",
            edits: &[("/parent_metals/0/thickness", "16 mm"), ("/temperatures/post_weld_heat_treatment", "")],
        },
        // Thin enough to be spared, and too cold for it.
        Case {
            base: "pipe-butt-13crmo4-5-141-111",
            edits: &[("/temperatures/preheating", "50 °C minimum"), ("/temperatures/post_weld_heat_treatment", "none")],
        },
    ],
    sound: &[
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-12-s690ql-111", edits: &[] },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[("/temperatures/post_weld_heat_treatment", "none")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let pointer = "/temperatures/post_weld_heat_treatment";
    if x.view.procedure.heat_treatment().is_some() {
        return;
    }
    let preheat_c = x.view.procedure.preheating().and_then(|range| range.low()).map(Temperature::celsius);
    let asked = x.view.metals.iter().find_map(|metal| {
        let known = metal.known?;
        let row = metal_heat::treatment(known)?;
        let thickness = metal.thickness_mm().or_else(|| x.view.thickness_mm());
        let thin = thickness.zip(row.thin_mm).is_some_and(|(thickness, thin)| thickness <= thin);
        match row.asked {
            Asked::AboveThickness if thickness.is_some_and(|mm| row.spared(known, mm, preheat_c)) => None,
            Asked::Always => Some((Severity::Error, metal, row)),
            Asked::AboveThickness if thin => Some((Severity::Caution, metal, row)),
            Asked::AboveThickness => Some((Severity::Error, metal, row)),
            Asked::Optional => None,
        }
    });
    let Some((severity, metal, row)) = asked else { return };
    x.examined(pointer);
    let source = row.origin.source_ref();
    let name = &metal.stated.specification;
    let limit = match row.thin_mm {
        Some(thin) => format!("asked for above {} mm by most codes", figure(thin)),
        None => "asked for at every thickness".to_owned(),
    };
    let usual = row.usual_c.map_or(String::new(), |usual| {
        format!(
            "write for example `post_weld_heat_treatment: {{temperature: {:.0}-{:.0} °C, time: 1 h}}`",
            usual.low, usual.high
        )
    });
    x.report(severity, pointer, format!("{name} is welded without heat treatment after welding ({limit})"))
        .limit(limit, &source)
        .hint(usual);
}
