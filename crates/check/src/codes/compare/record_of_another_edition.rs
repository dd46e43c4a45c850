//! `record-of-another-edition`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "record-of-another-edition",
    harm: Harm::Papers,
    finds: "A procedure that states another edition of its code than its test record.",
    matters: "Ranges and tests differ between editions; those of the record are used.",
    remedy: "State one edition, or have the record assessed by the edition of the procedure.",
    limit: "The editions that both state; a caution.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "inspection/procedure", edits: &[("record:/edition", "2004")] },
        Case { base: "inspection/procedure-asme", edits: &[("/qualification/edition", "2025")] },
    ],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case { base: "inspection/procedure-asme", edits: &[] },
        Case { base: "inspection/procedure", edits: &[("record:/edition", "")] },
    ],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let stated = x.view.view.procedure.qualification.as_ref().and_then(|own| own.edition.as_deref());
    let Some(edition) = stated else { return };
    x.examined("/qualification/edition");
    let year = |text: &str| text.split(|own: char| !own.is_ascii_digit()).find(|own| own.len() == 4).map(str::to_owned);
    let others: Vec<String> = x
        .view
        .records
        .iter()
        .filter_map(|record| {
            let own = record.edition()?;
            let same = match (year(own), year(edition)) {
                (Some(own), Some(other)) => own == other,
                _ => own == edition,
            };
            (!same).then(|| format!("{} is of {own}", record.identification.number))
        })
        .collect();
    if others.is_empty() {
        return;
    }
    let message = format!(
        "edition {edition} of {}, and {}; the ranges are those of the record's edition",
        x.view.code.title(),
        others.join("; ")
    );
    x.report(Severity::Caution, "/qualification/edition", message)
        .stated(edition)
        .hint("write the edition of the record, or have the record assessed by this one");
}
