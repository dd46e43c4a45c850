//! `preparation-unusual-for-thickness`: explanation, cases, logic.

use seamwright_handbook::{Band, joint_preparations};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Preparation;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "preparation-unusual-for-thickness",
    harm: Harm::Fusion,
    finds: "A preparation of the edges that is not made at this thickness.",
    matters: "Thin edges cannot be bevelled and held, thick ones take far too much weld metal.",
    remedy: "Choose the preparation that ISO 9692-1 gives for the thickness.",
    limit: "Thickness of the rows of ISO 9692-1 for the kind of groove; outside every row a note, below by more than half a caution.",
    tables: &["joint-preparations", "joint-preparation-rules"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/parent_metals/0/thickness", "0.3 mm")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }, Case { base: "butt-15-s355-136", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let shape = view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    // Square edges and single V have checks of their own at the thick end.
    let Some(shape) = shape.filter(|shape| **shape != Preparation::Square) else { return };
    let kinds = super::preparations::kind_words(*shape);
    let rows = joint_preparations::rows().iter().filter(|row| kinds.contains(&row.kind));
    let least = rows.filter_map(|row| Some((row.over_mm?, row))).min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((least, row)) = least else { return };
    let limit = Band::at_least(least);
    let source = row.origin.source_ref();
    for metal in &view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let Some(low) = thickness.low().or(thickness.high()).map(Length::mm) else { continue };
        let pointer = metal.pointer("thickness");
        let stated = thickness.spelled();
        if x.compare(&pointer, stated, Band::at_least(low), limit, "mm", &source).below {
            let far = low * joint_preparations::FARTHEST.value.high < least;
            let text = range_limit(limit, "mm");
            x.report(
                if far { Severity::Caution } else { Severity::Note },
                pointer,
                format!("thickness {stated} is little for a {} preparation ({text})", shape.as_str()),
            )
            .stated(stated)
            .limit(text, &source)
            .hint("write `preparation: square`, or mend the thickness");
        }
    }
}
