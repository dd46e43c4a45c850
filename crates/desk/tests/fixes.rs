//! Every fix that is offered for the faulty cases of the checks makes its finding go.

use std::fs;
use std::path::{Path, PathBuf};

use seamwright_check::explanations;
use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Disk, Input, Overlay};
use seamwright_model::edit::{Edit, edit};
use seamwright_model::load;
use serde_json::Value;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures")
}

/// A starter procedure with the edits of a case, in its author's text; nothing where they need another document.
fn faulty(base: &str, edits: &[(&str, &str)]) -> Option<String> {
    let mut text = fs::read_to_string(folder().join(format!("{base}.yaml"))).ok()?;
    for (pointer, yaml) in edits {
        let pointer = (*pointer).to_owned();
        let there = load("p.yaml", text.as_bytes()).ok()?.tree.at(&pointer).is_some();
        let value = || serde_yaml::from_str::<Value>(yaml).ok();
        let change = match (there, yaml.is_empty()) {
            (true, true) => Edit::Remove { pointer },
            (true, false) => Edit::Set { pointer, value: value()? },
            (false, _) => Edit::Insert { pointer, value: value()?, before: None },
        };
        text = edit(&text, &change).ok()?.text;
    }
    Some(text)
}

#[test]
fn every_fix_that_is_offered_makes_its_finding_go() {
    let disk = Disk::new("2026-06-01".parse().unwrap());
    let (mut fixed, mut seen) = (Vec::new(), 0);
    for rule in explanations().into_iter().filter(|rule| rule.subject == "procedure") {
        for (number, case) in rule.faulty.iter().enumerate() {
            let Some(text) = faulty(case.base, case.edits) else { continue };
            let path = folder().join(format!("{}.yaml", case.base));
            let unsaved = Overlay::new(&disk).with(&path, text.clone());
            let companions = Companions::none(&unsaved);
            let (report, named) = companions.examine(Input::typed(&path));
            let Ok((loaded, outcome)) = &report.result else { continue };
            for finding in outcome.findings.iter().filter(|finding| finding.check == rule.name) {
                seen += 1;
                let Some(fix) = companions.fix(loaded, outcome, &named, finding) else { continue };
                let mended = Overlay::new(&disk).with(&path, fix.edited.text.clone());
                let (after, _) = Companions::none(&mended).examine(Input::typed(&path));
                let place = format!("{} case {number}: {} to {}", rule.name, fix.pointer, fix.value);
                let (after, outcome) = after.result.unwrap_or_else(|unread| panic!("{place}: {:?}", unread.faults));
                let stays = |own: &&_| {
                    let own: &seamwright_model::finding::Finding = own;
                    own.check == finding.check && own.pointer == finding.pointer
                };
                assert!(outcome.findings.iter().find(stays).is_none(), "{place}");
                assert_eq!(after.tree.at(&fix.pointer).map(|node| node.to_value()), Some(fix.value), "{place}");
                assert!(text.lines().count().abs_diff(fix.edited.text.lines().count()) <= 1, "{place}");
                fixed.push(rule.name);
            }
        }
    }
    fixed.dedup();
    // Ranges, words and keys: one of each kind.
    for check in ["electrode-current-above-range", "wire-polarity-wrong", "interpass-missing"] {
        assert!(fixed.contains(&check), "{check} offers no fix: {fixed:?}");
    }
    assert!(fixed.len() >= 40, "{} checks offer a fix, of {seen} findings: {fixed:?}", fixed.len());
}
