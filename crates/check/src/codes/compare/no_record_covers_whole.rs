//! `no-record-covers-whole`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::{AgainstRecords, AgainstView};
use super::binding::{applies, binding};
use super::outside_qualified_range::within;
use super::stated::{Stated, of_process, stated};
use crate::codes::combine;
use crate::codes::qualify::Qualification;
use crate::codes::range::{Bounds, Effect, Qualified, THICKER_MEMBER};
use crate::codes::summary::{ProcessSummary, Summary};
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "no-record-covers-whole",
    harm: Harm::Qualification,
    finds: "Test records that together cover each variable of a process, and of which none covers its weld as a whole.",
    matters: "A coupon of one metal and another of the thickness show nothing of that thickness in that metal.",
    remedy: "Name a record whose coupon agrees in all essential variables, or make a test.",
    limit: "Ranges join only among records that cover the metals, fillers and other essential variables of the process. Under ASME IX each process and filler may rest on a record of its own, and the thickness on one that covers the metals.",
    tables: &["iso-15614-1-ranges", "asme-ix-ranges", "aws-d1-1-ranges"],
    examine,
    faulty: &[
        Case {
            base: "inspection/procedure",
            edits: &[
                ("/parent_metals/0/specification", "304L"),
                ("/parent_metals/0/thickness", "5 mm"),
                ("second:/parent_metals/0/specification", "304L"),
                ("second:/parent_metals/0/thickness", "20 mm"),
                ("second:/processes/111/deposit_thickness", "17.5 mm"),
            ],
        },
        Case {
            base: "inspection/procedure-asme",
            edits: &[
                ("/parent_metals/0/thickness", "30 mm"),
                ("second:/parent_metals/0/specification", "304L"),
                ("second:/parent_metals/0/thickness", "20 mm"),
                ("second:/processes/SMAW/deposit_thickness", "17 mm"),
            ],
        },
    ],
    sound: &[
        Case { base: "inspection/procedure", edits: &[] },
        Case {
            base: "inspection/procedure",
            edits: &[
                ("/parent_metals/0/thickness", "3-14 mm"),
                ("second:/parent_metals/0/thickness", "9 mm"),
                ("second:/processes/111/deposit_thickness", "6.5 mm"),
            ],
        },
        Case {
            base: "inspection/procedure",
            edits: &[
                ("second:/parent_metals/0/specification", "304L"),
                ("second:/parent_metals/0/thickness", "20 mm"),
                ("second:/processes/111/deposit_thickness", "17.5 mm"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    let view = x.view;
    if view.supporting.len() < 2 {
        return;
    }
    let summary = Summary::of(view.view);
    let by_deposit = view.code.combines_by_deposit();
    for process in &summary.processes {
        let own: Vec<&Qualification> = view.supporting.iter().copied().filter(|one| has(one, process)).collect();
        // What no record covers is found variable by variable, and so is a process that none has.
        if own.is_empty() || !each_is_covered(view, &summary, process) {
            continue;
        }
        x.examined(process.pointer.clone());
        let lacks = |one: &Qualification, others: &[&Qualification]| lacking(view, &summary, process, one, others);
        let (mut covered, mut whys) = (false, Vec::new());
        for one in &own {
            let mut lacking = lacks(one, &own);
            if by_deposit {
                // The thickness may be that of another record, which covers the metals.
                let of_another = |range: &Qualified| {
                    range.variable == "base_metal_thickness"
                        && view.supporting.iter().any(|other| {
                            let missing = lacks(other, view.supporting);
                            missing.iter().all(|own| own.process.is_some())
                        })
                };
                lacking.retain(|range| !of_another(range));
            }
            match lacking.first() {
                None => covered = true,
                Some(range) => whys.push(format!("{} not {}", range.records.join(", "), range.name())),
            }
        }
        if !covered {
            let message = format!("no record covers the weld of {} as a whole: {}", process.name, whys.join("; "));
            x.report(Severity::Error, process.pointer.clone(), message)
                .stated(process.name.clone())
                .hint("name a record whose coupon agrees in all of these, or make a test");
        }
    }
}

/// Whether a record has a process.
fn has(one: &Qualification, process: &ProcessSummary<'_>) -> bool {
    let number = |name: &str| seamwright_handbook::processes::number_of(name) == process.number;
    one.ranges.iter().any(|range| range.variable == "process" && range.process.as_deref().is_some_and(number))
}

/// Whether a range speaks of a process, or of all.
fn speaks_of(range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> bool {
    range
        .process
        .as_deref()
        .is_none_or(|name| of_process(summary, name).is_some_and(|own| own.number == process.number))
}

/// Whether each variable of a process lies within what some record covers.
fn each_is_covered(view: &AgainstView<'_>, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> bool {
    let own: Vec<&Qualified> = view.ranges.iter().filter(|range| speaks_of(range, summary, process)).collect();
    own.iter().all(|range| {
        own.iter()
            .filter(|other| other.variable == range.variable && other.process == range.process)
            .any(|other| holds(view, summary, other))
    })
}

/// The ranges of a record that a process leaves; sizes are joined with those of the records that cover the same words.
fn lacking(
    view: &AgainstView<'_>,
    summary: &Summary<'_>,
    process: &ProcessSummary<'_>,
    one: &Qualification,
    others: &[&Qualification],
) -> Vec<Qualified> {
    let by_deposit = view.code.combines_by_deposit();
    let words = |of: &Qualification| -> Vec<Qualified> {
        let alone = AgainstView { ranges: &of.ranges, ..*view };
        of.ranges
            .iter()
            .filter(|range| matches!(range.bounds, Bounds::Set(_)) && speaks_of(range, summary, process))
            // Positions are welds of their own, and so are fillers where deposits are counted.
            .filter(|range| !(POSITIONS.contains(&range.variable) || by_deposit && FILLERS.contains(&range.variable)))
            .filter(|range| !holds(&alone, summary, range))
            .cloned()
            .collect()
    };
    let lacking = words(one);
    if !lacking.is_empty() {
        return lacking;
    }
    let alike: Vec<&Qualification> = others.iter().copied().filter(|other| words(other).is_empty()).collect();
    let ranges = combine(&alike);
    let joined = AgainstView { ranges: &ranges, ..*view };
    let number = one.ranges.first().map(|range| range.records.clone()).unwrap_or_default();
    ranges
        .iter()
        .filter(|range| matches!(range.bounds, Bounds::Span { .. }) && speaks_of(range, summary, process))
        .filter(|range| range.variable != THICKER_MEMBER && range.records.iter().any(|own| number.contains(own)))
        .filter(|range| !holds(&joined, summary, range))
        .map(|range| Qualified { records: number.clone(), ..range.clone() })
        .collect()
}

/// Variables of position.
const POSITIONS: &[&str] =
    &["position", "pipe_position", "progression", "position_fillet", "position_small_pipe", "position_groove"];

/// Variables of filler.
const FILLERS: &[&str] = &["f_number", "a_number", "filler_designation"];

/// Whether what the procedure states for a range lies within it, at every place.
fn holds(view: &AgainstView<'_>, summary: &Summary<'_>, range: &Qualified) -> bool {
    if range.effect == Effect::Nonessential || !applies(summary, range, view.code) {
        return true;
    }
    stated(summary, range, view.code).iter().all(|(place, value)| {
        let customary = Stated::is_customary(value);
        binding(view, summary, range, (place, customary)).is_none_or(|bounds| within(value, &bounds))
    })
}
