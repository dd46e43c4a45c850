//! `root-face-outside-usual`: explanation, cases, logic.

use seamwright_model::quantity::Length;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "root-face-outside-usual",
    harm: Harm::Fusion,
    finds: "A root face outside what the preparation is usually given.",
    matters: "A thick face is not fused through, none at all burns away.",
    remedy: "Write a root face within the usual range, or choose the preparation that goes with it.",
    limit: "The root face of the preparation in ISO 9692-1; outside the row is a caution, beyond twice its high end an error.",
    tables: &["joint-preparations", "joint-preparation-rules"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/joint/root_face", "20 mm")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    super::preparations::hold(
        x,
        ("root_face", "root face", "mm"),
        |joint| joint.root_face.as_ref(),
        Length::mm,
        |row, _| row.root_face_mm,
    );
}
