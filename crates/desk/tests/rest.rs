//! A file with faulty values is checked as far as it goes, and nothing is told of it that is not so.

use std::fs;
use std::path::{Path, PathBuf};

use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Input, Overlay};
use seamwright_desk::report::Report;
use seamwright_model::edit::{Edit, edit};
use seamwright_model::load;
use seamwright_model::source::{Node, NodeKind, escape};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures")
}

fn disk() -> Disk {
    Disk::new("2026-06-01".parse().unwrap())
}

fn examined(disk: &Disk, path: &Path, text: &str) -> Report {
    let unsaved = Overlay::new(disk).with(path, text);
    Companions::none(&unsaved).examine(Input::typed(path)).0
}

/// Check and place of what is found, deviations included.
fn found(report: &Report) -> Vec<(&'static str, String)> {
    let told = report.diagnostics();
    told.iter().filter(|own| !own.is_fault()).map(|own| (own.check, own.pointer.to_owned())).collect()
}

#[test]
fn faults_and_findings_are_told_together_at_their_places() {
    let path = folder().join("butt-3-carbon-141.yaml");
    let text = fs::read_to_string(&path).unwrap();
    let text =
        text.replace("polarity: DCEN", "polarity: DCEP").replace("root_gap: 1-1.5 mm", "root_gap: 1-1.5 furlongs");
    let report = examined(&disk(), &path, &text);
    assert!(report.result.is_err());
    let told = report.diagnostics();
    let fault = told.iter().find(|own| own.is_fault()).unwrap();
    assert_eq!((fault.pointer, told[0].pointer), ("/joint/root_gap", "/joint/root_gap"));
    let finding =
        told.iter().find(|own| own.check == "tungsten-current-above-range").unwrap_or_else(|| panic!("{told:?}"));
    let line = text.lines().position(|line| line.contains("current: 95-120 A")).unwrap() + 1;
    assert_eq!(finding.span.unwrap().line, line);
    // The root gap is not told to be missing: it is there, and faulty.
    assert!(!told.iter().any(|own| own.check.contains("gap")), "{told:?}");
}

/// Pointers of all single values.
fn singles(node: &Node, pointer: &str, all: &mut Vec<String>) {
    match &node.kind {
        NodeKind::Scalar(_) => all.push(pointer.to_owned()),
        NodeKind::List(items) => {
            for (at, item) in items.iter().enumerate() {
                singles(item, &format!("{pointer}/{at}"), all);
            }
        }
        NodeKind::Map(entries) => {
            for entry in entries {
                singles(&entry.value, &format!("{pointer}/{}", escape(&entry.key)), all);
            }
        }
    }
}

#[test]
fn one_faulty_value_raises_no_finding_about_the_others() {
    let (disk, mut tried, mut told, mut wrong) = (disk(), 0, 0, Vec::new());
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "yaml") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let sound = found(&examined(&disk, &path, &text));
        let mut all = Vec::new();
        singles(&load("p.yaml", text.as_bytes()).unwrap().tree, "", &mut all);
        for pointer in all {
            let change = Edit::Set { pointer: pointer.clone(), value: "?!".into() };
            let Ok(edited) = edit(&text, &change) else { continue };
            let report = examined(&disk, &path, &edited.text);
            if report.result.is_ok() {
                continue;
            }
            tried += 1;
            told += usize::from(report.rest.is_some());
            let more = found(&report).into_iter().filter(|own| !sound.contains(own));
            wrong.extend(more.map(|own| format!("{}: {pointer}: {own:?}", path.display())));
        }
    }
    assert!(wrong.is_empty(), "{} of {tried}: {wrong:#?}", wrong.len());
    assert!(tried > 1_000 && told * 10 > tried * 8, "{told} of {tried} were checked as far as they go");
}
