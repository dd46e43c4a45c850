//! `prequalified-detail-unknown`: explanation, cases, logic.

use seamwright_handbook::aws_d1_1;
use seamwright_model::finding::Severity;

use super::prequalified::under_code;
use crate::rule::{Case, Examiner, Harm, Rule, nearest_in_words};

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-detail-unknown",
    harm: Harm::Qualification,
    finds: "A joint under AWS D1.1 that names a detail which the handbook does not have.",
    matters: "What the detail permits cannot be checked then.",
    remedy: "Write the designation as the figure has it.",
    limit: "The designations of Figures 5.1 and 5.2 of AWS D1.1.",
    tables: &["aws-d1-1-joints"],
    examine,
    faulty: &[Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/joint/detail", "B-U2x")] }],
    sound: &[
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/joint/detail", "B-U2a")] },
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/joint/detail", "b-u2a")] },
        Case { base: "butt-12-s355-111", edits: &[("/joint/detail", "1.3")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let Some(name) = procedure.joint.as_ref().and_then(|joint| joint.detail.as_deref()) else { return };
    // Details of other codes have names of their own.
    if !under_code(procedure) {
        return;
    }
    x.examined("/joint/detail");
    if aws_d1_1::joint(name).is_empty() {
        let near = nearest_in_words(&aws_d1_1::nearest_joints(name), "aws-d1-1-joints");
        x.report(
            Severity::Caution,
            "/joint/detail",
            format!("`{name}` is no detail of AWS D1.1 that the handbook has"),
        )
        .stated(name)
        .hint(near);
    }
}
