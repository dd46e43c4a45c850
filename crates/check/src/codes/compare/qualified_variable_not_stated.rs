//! `qualified-variable-not-stated`: explanation, cases, logic.

use seamwright_handbook::positions;
use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use super::binding::{applies, binding, hint};
use super::stated::{of_process, stated};
use crate::codes::range::{Bounds, Effect, Qualified, THICKER_MEMBER};
use crate::codes::summary::Summary;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "qualified-variable-not-stated",
    harm: Harm::Qualification,
    finds: "An essential variable that the procedure does not state, though its records limit it.",
    matters: "The welder cannot keep within a range that the sheet does not show.",
    remedy: "State the variable within the range.",
    limit: "The ranges of the code for the tested values.",
    tables: &[],
    examine,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/temperatures/interpass", "")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let summary = Summary::of(x.view.view);
    for range in x.view.ranges {
        let bare = matches!(range.bounds, Bounds::All) || binding(x.view, &summary, range, ("", false)).is_none();
        let bare = bare || range.effect == Effect::Nonessential;
        // Only what is welded in a vertical position has a progression.
        let level = range.variable == "progression" && !goes_vertical(&summary);
        let bare = bare || level;
        // A single process deposits the whole thickness; what is computed or looked up is not for the writer to state.
        let implied = match range.variable {
            "deposit_thickness" => summary.processes.len() < 2,
            "heat_input"
            | "yield_strength"
            | "filler_strength"
            | "holding_temperature"
            | "process"
            | "a_number"
            | "f_number"
            | "pipeline_filler_group"
            | "root_face"
            | "groove_type"
            | "backing_or_back_gouging"
            | "gas_mixture"
            | THICKER_MEMBER
            | "outside_diameter"
            | "weld_type" => true,
            _ => false,
        };
        if bare || implied || !applies(&summary, range, x.view.code) {
            continue;
        }
        if stated(&summary, range, x.view.code).is_empty() {
            let process = range.process.as_deref().map_or_else(String::new, |process| format!(" of {process}"));
            let message = format!(
                "{}{process} is not stated; {} qualifies {} ({} {})",
                range.name(),
                range.records.join(", "),
                range.bounds.text(),
                x.view.code.title(),
                range.reference
            );
            let pointer = section(&summary, range);
            let source = range.source.clone();
            let hint = hint(x.view, range, &range.bounds);
            x.report(Severity::Caution, pointer, message).limit(range.bounds.limit(), &source).hint(hint);
        }
    }
}

/// Whether a position of the procedure is vertical, or not known.
fn goes_vertical(summary: &Summary<'_>) -> bool {
    let rows = summary.positions.iter().map(|own| positions::get(&own.value));
    summary.positions.is_empty() || rows.into_iter().any(|row| row.is_none_or(|row| row.vertical))
}

/// The place where a variable would stand.
fn section(summary: &Summary<'_>, range: &Qualified) -> String {
    match range.variable {
        "preheating" | "interpass" | "time_between_runs" | "post_weld_heat_treatment" => {
            format!("/temperatures/{}", range.variable)
        }
        "base_metal_thickness" => "/parent_metals/0/thickness".to_owned(),
        "position" | "pipe_position" => "/positions".to_owned(),
        "joint_design" => "/joint/preparation".to_owned(),
        "progression" => "/progression".to_owned(),
        "groove_angle" => "/joint/included_angle".to_owned(),
        "root_opening" => "/joint/root_gap".to_owned(),
        variable => {
            let own = range.process.as_deref().and_then(|name| of_process(summary, name));
            own.map_or_else(String::new, |process| format!("{}/{variable}", process.pointer))
        }
    }
}
