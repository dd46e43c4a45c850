//! `revision-dates-out-of-order`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "revision-dates-out-of-order",
    harm: Harm::Papers,
    finds: "A history whose dates do not rise.",
    matters: "The order of changes cannot be followed, and the wrong revision is taken for the last.",
    remedy: "Put the entries oldest first, with their dates.",
    limit: "The dates of the history rise, practice of document control; an error.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[(
            "/revisions",
            "[{revision: 0, date: 2026-05-01, change: Draft}, {revision: 1, date: 2026-02-17, change: First issue}]",
        )],
    }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[(
                "/revisions",
                "[{revision: 0, date: 2026-01-01, change: Draft}, {revision: 1, date: 2026-02-17, change: First issue}]",
            )],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let mut last = None;
    for (index, entry) in view.procedure.revisions.iter().enumerate() {
        let Some(date) = entry.date else { continue };
        let pointer = format!("/revisions/{index}/date");
        x.examined(&pointer);
        if let Some(before) = last.filter(|before| date < *before) {
            x.report(Severity::Error, pointer, format!("revision {} is dated {date}, before {before}", entry.revision))
                .stated(date.to_string())
                .limit(format!("{before} or after"), &practice::HISTORY.origin.source_ref())
                .hint("put the entries oldest first");
        }
        last = Some(date);
    }
}
