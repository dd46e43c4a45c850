//! Proof that the checks catch: every figure of every starter procedure is put far out of range, one at a time, and a
//! finding must stand on that very value.
//!
//! A figure is multiplied and divided by each of [`FAR`] in the text of the file. It counts as caught where a finding that the sound
//! file does not have, or the fault of a file that no longer loads, stands on the line of the value; what catches it is
//! counted by severity. Values in [`FREE`] have no limit in that direction, for the reason that stands beside each.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use seamwright_check::check_document;
use seamwright_model::Loaded;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::load;
use serde_json::Value;

/// How far out of range: a slip of a digit and a half, and of less than one.
const FAR: [f64; 2] = [20.0, 6.0];

/// The share of mutated values that must be caught.
const SHARE: f64 = 0.95;

/// Which way a value is free.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Way {
    Up,
    Down,
    Both,
    /// Down, where the value as it stands is at most this: what the metal has without preheat.
    DownFrom(f64),
}

/// Values without a limit: the end of their pointer, the way, and why.
const FREE: &[(&str, Way, &str)] = &[
    ("identification/revision", Way::Both, "a count of revisions"),
    ("qualification/edition", Way::Both, "the year of an edition"),
    ("backing/material", Way::Both, "the number of a steel"),
    ("inspection/*/acceptance", Way::Both, "the number of a standard"),
    ("outside_diameter", Way::Up, "a shell may have any diameter, up to flat plate"),
    ("inspection/*/extent", Way::Down, "a spot examination of any share is in use"),
    ("tungsten/stickout", Way::Down, "a tip flush with the nozzle still welds"),
    ("backing_gas/oxygen", Way::Down, "less oxygen is better"),
    ("temperatures/preheating", Way::DownFrom(20.0), "metal at room temperature where no heat is asked for"),
    ("composition/C", Way::Down, "a steel may have next to no carbon"),
    ("composition/Si", Way::Down, "a steel may have next to no silicon"),
    ("composition/Ni", Way::Down, "a residual element"),
    ("composition/Cu", Way::Down, "a residual element"),
];

/// Values that a slip of less than a digit leaves within what is done: the end of their pointer, the way, why, and on what
/// that rests: a table of the handbook, a standard from memory, or common practice.
const FREE_NEAR: &[(&str, Way, &str, &str)] = &[
    (
        "temperatures/preheating",
        Way::Up,
        "60 °C in place of none, and more than is asked for, harms no steel",
        PRACTICE,
    ),
    ("temperatures/interpass", Way::Down, "42 °C takes time and harms nothing", PRACTICE),
    ("joint/root_gap", Way::Down, "closed edges are in use", "table joint-preparations: gaps up to a most"),
    ("joint/root_face", Way::Down, "a feather edge is in use", "table joint-preparations: root faces up to a most"),
    ("shielding_gas/pre_flow", Way::Up, "a few seconds of gas before the arc fill a long hose", PRACTICE),
    ("backing_gas/purge_time", Way::Up, "a longer purge harms nothing", PRACTICE),
    ("backing_gas/purge_time", Way::Down, "a short tube is purged in half a minute", PRACTICE),
    ("composition/Cr", Way::Both, "within what low-alloy steel has", "table base-metals: A335-P11 to A335-P91"),
    ("composition/Mo", Way::Both, "within what low-alloy steel has", "table base-metals: A335-P11 to A335-P91"),
    ("composition/Mn", Way::Down, "within what steel has", "table base-metals: most contents, no least one"),
    ("composition/Ni", Way::Up, "within what low-alloy steel has", "table base-metals: A203-E"),
    ("composition/Cu", Way::Up, "within what weathering steel has", "table base-metals: A588-B"),
    ("inspection/*/extent", Way::Up, "60 % is in use as 10 % is", "EN 1090-2 Table 24, from memory: 10 to 100 %"),
    (
        "post_weld_heat_treatment/time",
        Way::Up,
        "thick parts are held for hours",
        "ASME VIII UCS-56, from memory: by thickness",
    ),
    ("outside_diameter", Way::Down, "tube of 19 mm is in use", "table pipe-schedules: from 10.3 mm"),
];

/// Basis of what no table or standard says.
const PRACTICE: &str = "common practice";

/// Quantities: a figure or two, then a unit; several units may stand in words and are not of interest here.
fn mutated(text: &str, factor: f64) -> Option<String> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    if !text.get(..start)?.trim_matches(['-', '+', ' ']).is_empty() {
        return None;
    }
    let mut out = String::new();
    let mut figure = String::new();
    for c in text.chars().chain(std::iter::once(' ')) {
        if c.is_ascii_digit() || c == '.' {
            figure.push(c);
            continue;
        }
        if let Ok(value) = figure.parse::<f64>() {
            let scaled = format!("{:.4}", value * factor);
            out.push_str(scaled.trim_end_matches('0').trim_end_matches('.'));
        } else {
            out.push_str(&figure);
        }
        figure.clear();
        out.push(c);
    }
    Some(out.trim_end().to_owned())
}

/// Whether a text is a quantity, or two figures of a purity.
fn is_quantity(text: &str) -> bool {
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || ".- –".contains(c));
    let unit = unit.trim_end_matches(" maximum").trim_end_matches(" minimum");
    seamwright_model::quantity::convert(text, unit).is_ok()
}

/// Every value that is a figure with or without a unit, with its pointer.
fn figures(value: &Value, pointer: &str, all: &mut Vec<(String, String)>) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                figures(inner, &format!("{pointer}/{}", seamwright_model::source::escape(key)), all);
            }
        }
        Value::Array(items) => {
            for (index, inner) in items.iter().enumerate() {
                figures(inner, &format!("{pointer}/{index}"), all);
            }
        }
        Value::Number(number) => all.push((pointer.to_owned(), number.to_string())),
        Value::String(text) if is_quantity(text) => all.push((pointer.to_owned(), text.clone())),
        _ => {}
    }
}

/// Whether a value spelt `text` has no limit that way; a `*` stands for one step of the pointer.
fn free(list: &[(&'static str, Way, &str)], pointer: &str, text: &str, way: Way) -> Option<&'static str> {
    let ends = |pattern: &str| {
        let (mut steps, mut wanted) = (pointer.rsplit('/'), pattern.rsplit('/'));
        wanted.all(|want| steps.next().is_some_and(|step| want == "*" || want == step))
    };
    let fits = |free: Way| match free {
        Way::Both => true,
        Way::DownFrom(most) => {
            let figure: String = text.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            way == Way::Down && figure.parse::<f64>().is_ok_and(|figure| figure <= most)
        }
        own => own == way,
    };
    list.iter().find(|(end, free, _)| fits(*free) && ends(end)).map(|(end, _, _)| *end)
}

/// A file whose value at a pointer, spelt `text`, is spelt `changed`; nothing where the text of the file spells it otherwise.
fn edited(bytes: &str, sound: &Loaded, pointer: &str, text: &str, changed: &str) -> String {
    let span = sound.tree.at(pointer).unwrap_or_else(|| panic!("{pointer}")).span;
    let own = bytes.get(span.bytes()).unwrap_or_else(|| panic!("{pointer}"));
    assert!(own.contains(text), "{pointer}: {own:?} does not spell {text:?}");
    let mut file = bytes.to_owned();
    file.replace_range(span.bytes(), &own.replacen(text, changed, 1));
    file
}

/// What of a finding stays the same when another value changes.
fn mark(finding: &Finding) -> (&'static str, Severity, String) {
    (finding.check, finding.severity, finding.pointer.clone())
}

/// How gravely the value on a line is found fault with, and whether it is named itself rather than another value of its line;
/// a file that does not load has an error.
fn caught(
    file: &str,
    (line, pointer): (usize, &str),
    known: &[(&'static str, Severity, String)],
) -> Option<(Severity, bool)> {
    match load("mutated", file.as_bytes()) {
        Err((_, faults)) => {
            let on_line = faults.iter().filter(|fault| fault.span.is_some_and(|span| span.line == line));
            on_line.map(|fault| (Severity::Error, fault.pointer == pointer)).max()
        }
        Ok(loaded) => {
            let findings = check_document(&loaded.document).findings;
            let on_line = findings.iter().filter(|own| loaded.tree.span_of(&own.pointer).line == line);
            let new =
                on_line.filter(|own| !known.contains(&mark(own))).map(|own| (own.severity, own.pointer == pointer));
            new.max()
        }
    }
}

#[test]
fn figures_far_out_of_range_are_found_on_their_line() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let mut files: Vec<_> =
        fs::read_dir(folder).expect("the starter library").map(|entry| entry.expect("an entry").path()).collect();
    files.sort();
    let (mut tried, mut itself) = (0_u32, 0_u32);
    let mut found: BTreeMap<&str, u32> = BTreeMap::new();
    let mut missed: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let free_near: Vec<_> = FREE_NEAR.iter().map(|(end, way, why, _)| (*end, *way, *why)).collect();
    let mut near_used = BTreeSet::new();
    let mut unused: Vec<&str> = FREE.iter().map(|(end, _, _)| *end).collect();
    for path in files.iter().filter(|path| path.extension().is_some_and(|ending| ending == "yaml")) {
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let bytes = fs::read_to_string(path).expect("a file");
        let sound = load(&name, bytes.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{name}: {faults:#?}"));
        let known: Vec<_> = check_document(&sound.document).findings.iter().map(mark).collect();
        let mut all = Vec::new();
        figures(&sound.tree.to_value(), "", &mut all);
        for (pointer, text) in all {
            for (way, factor) in FAR.into_iter().flat_map(|far| [(Way::Up, far), (Way::Down, 1.0 / far)]) {
                let Some(changed) = mutated(&text, factor).filter(|changed| *changed != text) else { continue };
                let near = factor.max(1.0 / factor) < FAR[0];
                if near
                    && let Some(own) = free_near.iter().position(|own| free(&[*own], &pointer, &text, way).is_some())
                {
                    near_used.insert(own);
                    continue;
                }
                if let Some(end) = free(FREE, &pointer, &text, way) {
                    unused.retain(|own| *own != end);
                    continue;
                }
                tried += 1;
                let file = edited(&bytes, &sound, &pointer, &text, &changed);
                let place = (sound.tree.span_of(&pointer).line, pointer.as_str());
                if let Some((severity, named)) = caught(&file, place, &known) {
                    itself += u32::from(named);
                    *found.entry(severity.as_str()).or_default() += 1;
                } else {
                    let key: Vec<&str> = pointer.split('/').filter(|step| step.parse::<u32>().is_err()).collect();
                    missed
                        .entry(format!("{} {way:?}", key.join("/")))
                        .or_default()
                        .push(format!("{name} {pointer}: {text} -> {changed}"));
                }
            }
        }
    }
    for (kind, list) in &missed {
        println!("missed {} x {kind}: {}", list.len(), list.join("; "));
    }
    let caught: u32 = found.values().sum();
    let share = f64::from(caught) / f64::from(tried);
    println!("caught {caught} of {tried} mutated figures, {:.1} %, by {found:?}", 100.0 * share);
    println!("{itself} by a finding that names the value itself, the others by one on another value of its line");
    assert!(unused.is_empty(), "these free values stand in no starter procedure: {unused:?}");
    let idle: Vec<_> = free_near.iter().enumerate().filter(|(own, _)| !near_used.contains(own)).collect();
    assert!(idle.is_empty(), "these free values stand in no starter procedure: {idle:?}");
    assert!(tried > 1000, "{tried}");
    assert!(share >= SHARE, "caught {caught} of {tried}");
}
