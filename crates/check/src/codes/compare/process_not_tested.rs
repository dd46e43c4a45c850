//! `process-not-tested`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use crate::codes::range::{Bounds, Qualified};
use crate::codes::summary::Summary;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "process-not-tested",
    harm: Harm::Qualification,
    finds: "A process of the procedure that none of its test records has.",
    matters: "A process is qualified by a test with that process only.",
    remedy: "Name a record with the process, or make a test.",
    limit: "The processes of the records.",
    tables: &[],
    examine,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/runs/1/process", "136")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let summary = Summary::of(x.view.view);
    let tested: Vec<&Qualified> = x.view.ranges.iter().filter(|range| range.variable == "process").collect();
    for process in &summary.processes {
        let known =
            tested.iter().any(|range| matches!(&range.bounds, Bounds::Set(words) if words.contains(&process.number)));
        x.examined(process.pointer.clone());
        if !known {
            let names: Vec<&str> = tested.iter().filter_map(|range| range.process.as_deref()).collect();
            let message =
                format!("process {} is in none of the test records; they have {}", process.name, names.join(", "));
            let report = x.report(Severity::Error, process.pointer.clone(), message).stated(process.name.clone());
            let report = match tested.first() {
                Some(range) => report.limit(names.join(", "), &range.source),
                None => report,
            };
            report.hint("name a record with this process, or make a test");
        }
    }
}
