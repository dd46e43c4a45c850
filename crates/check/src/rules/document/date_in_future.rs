//! `date-in-future`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::stated::Date;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "date-in-future",
    harm: Harm::Papers,
    finds: "A date after today.",
    matters: "A document dated ahead can be taken for the one in force.",
    remedy: "Write the day of the revision.",
    limit: "The day on which the check is run, as the caller gives it, by the practice of document control; an error. Without a day nothing is compared.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/identification/date", "2999-01-01"), ("/revisions/0/date", "2999-01-01")],
    }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(today) = view.today else { return };
    let procedure = view.procedure;
    let own = procedure.identification.date.map(|date| ("/identification/date".to_owned(), date));
    let history = procedure
        .revisions
        .iter()
        .enumerate()
        .filter_map(|(index, entry)| Some((format!("/revisions/{index}/date"), entry.date?)));
    let accepted = procedure
        .deviations
        .iter()
        .enumerate()
        .filter_map(|(index, deviation)| Some((format!("/deviations/{index}/date"), deviation.date?)));
    let dates: Vec<(String, Date)> = own.into_iter().chain(history).chain(accepted).collect();
    for (pointer, date) in dates {
        x.examined(&pointer);
        x.findings.extend(finding(&pointer, date, today));
    }
}

/// What is found of a day after the day of the check.
pub(crate) fn finding(pointer: &str, date: Date, today: Date) -> Option<Finding> {
    let what = if pointer.starts_with("/revisions") || pointer.starts_with("/identification") {
        "the day of the revision"
    } else {
        "the day on which it was done"
    };
    (date > today).then(|| Finding {
        check: RULE.name,
        severity: Severity::Error,
        message: format!("date {date} lies in the future; today is {today}"),
        pointer: pointer.to_owned(),
        stated: Some(date.to_string()),
        limit: Some(format!("{today} or before").into()),
        source: Some(practice::DATE.origin.source_ref()),
        hint: Some(format!("write {what}")),
    })
}
