//! Every draft that is allowed, over process, family of metal, thickness, joint and position, loads and passes the checks.

use std::collections::BTreeMap;

use seamwright_draft::{Facts, Refused, Typed, draft};
use seamwright_handbook::{base_metals, planning, positions, process_suitability};
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;

const THICKNESSES: [&str; 12] =
    ["0.8 mm", "1 mm", "1.5 mm", "2 mm", "3 mm", "4 mm", "5 mm", "6 mm", "8 mm", "12 mm", "16 mm", "25 mm"];
const JOINTS: [&str; 4] = ["butt", "tee", "lap", "corner"];

/// One metal of each alloy of each family, by name.
fn metals() -> Vec<&'static str> {
    let mut first: BTreeMap<(&str, Option<&str>), &str> = BTreeMap::new();
    for metal in base_metals::rows() {
        first.entry((metal.family.as_str(), metal.alloy.as_deref())).or_insert(&metal.specification);
    }
    first.into_values().collect()
}

/// Findings of severity error or caution in a draft.
fn faults(name: &str, text: &str) -> Vec<String> {
    let loaded = match seamwright_model::load(name, text.as_bytes()) {
        Ok(loaded) => loaded,
        Err((_, faults)) => return faults.into_iter().map(|fault| format!("not read: {}", fault.message)).collect(),
    };
    let Document::Procedure(procedure) = &loaded.document;
    let found = seamwright_check::check(procedure).findings.into_iter();
    let worse = found.filter(|finding| finding.severity != Severity::Note);
    worse.map(|finding| format!("{}: {} at {}", finding.check, finding.message, finding.pointer)).collect()
}

#[test]
fn every_allowed_draft_passes_the_checks() {
    let mut drafted = 0;
    let mut refused: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut wrong: BTreeMap<String, (usize, String)> = BTreeMap::new();
    let mut by_process: BTreeMap<&str, usize> = BTreeMap::new();
    for process in planning::processes() {
        for metal in metals() {
            for thickness in THICKNESSES {
                for joint in JOINTS {
                    for position in positions::rows() {
                        let diameter = (position.product == positions::Product::Pipe).then(|| "168.3 mm".to_owned());
                        let typed = Typed {
                            process: process.to_owned(),
                            metal: metal.to_owned(),
                            thickness: thickness.to_owned(),
                            joint: joint.to_owned(),
                            position: position.code.clone(),
                            diameter,
                        };
                        let text = Facts::read(&typed).and_then(|facts| draft(&facts));
                        let text = match text {
                            Ok(text) => text,
                            Err(why) => {
                                let kind = match &why {
                                    Refused::Unsuited { .. } => "unsuited",
                                    Refused::Thickness { .. } => "thickness",
                                    Refused::Contradiction(_) => "contradiction",
                                    Refused::Nothing { .. } => "nothing to begin with",
                                    other => panic!("{typed:?}: {other}"),
                                };
                                *refused.entry(kind).or_default() += 1;
                                continue;
                            }
                        };
                        drafted += 1;
                        *by_process.entry(process).or_default() += 1;
                        let name = format!("{process} {metal} {thickness} {joint} {}", position.code);
                        for fault in faults(&name, &text) {
                            let entry = wrong.entry(fault).or_insert((0, name.clone()));
                            entry.0 += 1;
                        }
                    }
                }
            }
        }
    }
    println!("{drafted} drafts {by_process:?}, refused {refused:?}");
    let list: Vec<String> =
        wrong.iter().map(|(fault, (count, first))| format!("{count} x {fault} (first: {first})")).collect();
    assert!(list.is_empty(), "{} kinds of fault:\n{}", list.len(), list.join("\n"));
    assert!(by_process.len() == 6 && drafted > 10_000, "{drafted} drafts {by_process:?}");
}
