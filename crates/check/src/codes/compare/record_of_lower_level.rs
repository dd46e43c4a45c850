//! `record-of-lower-level`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "record-of-lower-level",
    harm: Harm::Qualification,
    finds: "A procedure of level 2 of ISO 15614-1 whose test record is of level 1.",
    matters: "A test of level 1 has fewer specimens and other ranges: it does not show what level 2 asks for.",
    remedy: "Name a record of level 2, or state level 1 where the contract allows it.",
    limit: "Levels of ISO 15614-1:2017; a test of level 2 covers level 1, not the reverse.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "inspection/procedure", edits: &[("record:/level", "1")] }],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case { base: "inspection/procedure", edits: &[("/qualification/level", "1")] },
        Case { base: "inspection/procedure", edits: &[("record:/level", "")] },
    ],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let view = x.view;
    let Some((limits, _)) = view.code.levels().and_then(|row| limits(row, "")) else { return };
    let stated = view.view.procedure.qualification.as_ref().and_then(|own| own.level.as_deref());
    let figure = |text: &str| text.trim().parse::<f64>().ok();
    let Some((text, level)) = stated.and_then(|text| Some((text, figure(text)?))) else { return };
    x.examined("/qualification/level");
    let lower: Vec<String> = view
        .records
        .iter()
        .filter_map(|record| {
            let own = record.level()?;
            (figure(own)? < level).then(|| format!("{} is of level {own}", record.identification.number))
        })
        .collect();
    if lower.is_empty() {
        return;
    }
    let (title, lower) = (view.code.title(), lower.join("; "));
    x.report(Severity::Error, "/qualification/level", format!("level {text} of {title}, and {lower}"))
        .stated(text)
        .limit("the level of the record or lower", &limits.source)
        .hint("name a record of this level, or write the level of the record");
}
