//! `acceptance-missing`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "acceptance-missing",
    finds: "An examination without the standard and level that it accepts by.",
    matters: "The inspector and the welder have different pores in mind.",
    remedy: "Write the standard and level, such as ISO 5817 level C.",
    limit: "An examination names the standard and level that it accepts by, practice of document control; a note.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/inspection/0/acceptance", "")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(rule) = practice::get("acceptance") else { return };
    for (index, examination) in view.procedure.inspection.iter().enumerate() {
        let pointer = format!("/inspection/{index}/acceptance");
        x.examined(&pointer);
        if examination.acceptance.is_none() {
            x.report(Severity::Note, pointer, format!("{} examination without acceptance", examination.method))
                .limit("standard and level", &rule.origin.source_ref())
                .hint("write standard and level, such as ISO 5817 level C");
        }
    }
}
