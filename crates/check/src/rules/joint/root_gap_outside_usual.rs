//! `root-gap-outside-usual`: explanation, cases, logic.

use seamwright_model::quantity::Length;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "root-gap-outside-usual",
    harm: Harm::Fusion,
    finds: "A root gap outside what the preparation is usually given.",
    matters: "Too narrow a gap leaves the root unfused, too wide a one falls through.",
    remedy: "Write a gap within the usual range, or choose the preparation that goes with the gap.",
    limit: "The gap of the preparation in ISO 9692-1; outside the row is a caution, beyond twice its high end an error.",
    tables: &["joint-preparations", "joint-preparation-rules"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/joint/root_gap", "15-18 mm")] },
        Case { base: "butt-15-s355-136", edits: &[("/joint/backing", "none")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        // B-U2a of AWS D1.1: 20 degrees and 1/2 in on a strip.
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/joint/included_angle", "20 deg"),
                ("/joint/root_gap", "1/2 in"),
                ("/joint/root_face", ""),
                ("/joint/backing", "{type: strip, material: A36}"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    super::preparations::hold(
        x,
        ("root_gap", "root gap", "mm"),
        |joint| joint.root_gap.as_ref(),
        Length::mm,
        super::preparations::gap_of,
    );
}
