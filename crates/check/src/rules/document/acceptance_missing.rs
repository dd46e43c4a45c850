//! `acceptance-missing`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "acceptance-missing",
    harm: Harm::Qualification,
    finds: "An examination without the standard and level that it accepts by.",
    matters: "The inspector and the welder have different pores in mind.",
    remedy: "Write the standard and level, such as ISO 5817 level C.",
    limit: "An examination names the standard and level that it accepts by, practice of document control; a note.",
    tables: &["practice-statements"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/inspection/0/acceptance", "")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/inspection/0/acceptance", "as per client")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        // Colours are accepted by their names.
        Case { base: "butt-3-titanium-141", edits: &[("/inspection/1/acceptance", "silver or straw")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for (index, examination) in view.procedure.inspection.iter().enumerate() {
        let pointer = format!("/inspection/{index}/acceptance");
        x.examined(&pointer);
        let message = match examination.acceptance.as_deref() {
            None => format!("{} examination without acceptance", examination.method),
            // A colour is judged by its name.
            Some(_) if ["colour", "color"].iter().any(|word| examination.method.to_lowercase().contains(word)) => {
                continue;
            }
            // The number of a standard, of a clause or a size: what has no figure accepts anything.
            Some(text) if !text.chars().any(|c| c.is_ascii_digit()) => {
                format!("{} examination accepted by `{text}`, which states nothing", examination.method)
            }
            Some(_) => continue,
        };
        x.report(Severity::Note, pointer, message)
            .limit("standard and level", &practice::ACCEPTANCE.origin.source_ref())
            .hint("write standard and level, such as ISO 5817 level C");
    }
}
