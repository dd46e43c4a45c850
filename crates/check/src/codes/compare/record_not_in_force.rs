//! `record-not-in-force`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::Status;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "record-not-in-force",
    harm: Harm::Papers,
    finds: "A test record of the procedure that is a draft, superseded or withdrawn.",
    matters: "What it says may change yet, or has been replaced: nobody answers for it.",
    remedy: "Name the record that is issued.",
    limit: "The status that the record states; a caution.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "inspection/procedure", edits: &[("record:/identification/status", "superseded")] },
        Case { base: "inspection/procedure", edits: &[("record:/identification/status", "draft")] },
        Case { base: "inspection/procedure-asme", edits: &[("record:/identification/status", "withdrawn")] },
    ],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case { base: "inspection/procedure", edits: &[("record:/identification/status", "")] },
    ],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let said = x.view.by_place(|record, _| {
        let number = &record.identification.number;
        match record.identification.status? {
            Status::Draft => Some(format!("{number} is a draft")),
            Status::Superseded => Some(format!("{number} is superseded")),
            Status::Withdrawn => Some(format!("{number} is withdrawn")),
            Status::Issued => None,
        }
    });
    for (place, words) in said {
        x.examined(&place);
        x.report(Severity::Caution, place, format!("{words}; what it qualifies may no longer hold"))
            .hint("name the record that is issued, or write `status: issued` in it when it is");
    }
}
