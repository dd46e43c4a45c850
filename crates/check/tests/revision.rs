//! What a change between two revisions means under three codes, one change at a time.
//!
//! Expected meanings: ASME BPVC IX QW-253 and QW-256 with QW-402 to QW-410, ISO 15614-1:2017 clause 8 and AWS D1.1:2020 Table
//! 6.5, from the tables of the facts; most of them are remembered.

mod common;

use common::{edit, example, starter};
use seamwright_check::revision::{Comparison, Meaning, compare};
use seamwright_model::document::Document;
use seamwright_model::load;
use seamwright_model::procedure::CodeName;
use serde_json::Value;

use Meaning::{Editorial as Ed, Essential as Es, Nonessential as No, Supplementary as Su};

const ASME: &str = "inspection/procedure-asme";
const WIRE: &str = "butt-10-s355-135";

fn loaded(value: &Value) -> seamwright_model::Loaded {
    // JSON is YAML, so the changed document reads as a file does.
    let text = serde_json::to_string_pretty(value).unwrap();
    load::load("trial.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:#?}"))
}

fn compared(base: &str, common: &[(&str, &str)], changes: &[(&str, &str)], code: CodeName) -> Comparison {
    let mut old = if base.contains('/') { example(base) } else { starter(base) };
    for (pointer, yaml) in common {
        edit(&mut old, pointer, yaml);
    }
    let mut new = old.clone();
    for (pointer, yaml) in changes {
        edit(&mut new, pointer, yaml);
    }
    let (old, new) = (loaded(&old), loaded(&new));
    let (Document::Procedure(first), Document::Procedure(second)) = (&old.document, &new.document) else {
        panic!("two procedures")
    };
    compare((&old, first), (&new, second), Some(code))
}

/// The heaviest meaning of all changes, and the references of the variables that count.
fn verdict(comparison: &Comparison) -> (Option<Meaning>, Vec<String>) {
    let meaning = comparison.changes.iter().map(|change| change.meaning).max();
    let references = comparison.changes.iter().flat_map(|change| &change.variables);
    (meaning, references.map(|variable| variable.reference.clone()).collect())
}

/// A change, its meaning without and with impact tests, and a variable that must be named; `None`: no change counts at all.
type Case = (&'static str, &'static str, Option<Meaning>, Option<Meaning>, &'static str);

const UNDER_ASME: &[Case] = &[
    ("/parent_metals/0/specification", "304L", Some(Es), Some(Es), "QW-403.11"),
    // P-No. 1 Group 1 to Group 2.
    ("/parent_metals/0/specification", "A516-70", Some(Su), Some(Su), "QW-403.5"),
    ("/parent_metals/0/thickness", "5-30 mm", Some(Es), Some(Es), "QW-403.8"),
    ("/parent_metals/0/thickness", "6-20 mm", Some(No), Some(No), ""),
    ("/parent_metals/0/thickness", "0.5-2.1 cm", None, None, ""),
    ("/joint/preparation", "single-u", Some(No), Some(No), "QW-402.1"),
    ("/joint/backing", "{type: gas}", Some(No), Some(No), ""),
    ("/joint/root_gap", "2-4 mm", Some(No), Some(No), "QW-402.10"),
    ("/joint/back_gouging", "grinding", Some(No), Some(No), "QW-410.6"),
    ("/fillers/fill-electrode/designation", "E7018-1", Some(Su), Some(Su), "QW-404.12"),
    ("/fillers/fill-electrode/designation", "E6010", Some(Es), Some(Es), "QW-404.4"),
    ("/fillers/fill-electrode/diameter", "3.2 mm", Some(No), Some(No), "QW-404.6"),
    ("/fillers/root-rod/designation", "ER308L", Some(Es), Some(Es), "QW-404.5"),
    ("/positions", "[5G, 2G]", Some(No), Some(No), "QW-405.1"),
    ("/progression", "downward", Some(No), Some(No), "QW-405.3"),
    ("/temperatures/preheating", "-50 °C minimum", Some(Es), Some(Es), "QW-406.1"),
    ("/temperatures/preheating", "5 °C minimum", Some(No), Some(No), ""),
    ("/temperatures/preheating", "59 °F minimum", None, None, ""),
    ("/temperatures/preheating", "100 °C minimum", Some(No), Some(No), ""),
    ("/temperatures/interpass", "300 °C maximum", Some(Su), Some(Su), "QW-406.3"),
    ("/temperatures/interpass", "230 °C maximum", Some(No), Some(No), ""),
    (
        "/temperatures/post_weld_heat_treatment",
        "{temperature: 600-620 °C, time: 60 min}",
        Some(Es),
        Some(Es),
        "QW-407.1",
    ),
    ("/processes/GTAW/polarity", "DCEP", Some(No), Some(Su), "QW-409.4"),
    ("/processes/SMAW/deposit_thickness", "20 mm maximum", Some(Es), Some(Es), "QW-404.30"),
    ("/processes/SMAW/mechanization", "automatic", Some(No), Some(No), "QW-410.25"),
    ("/processes/SMAW/technique/bead", "weave", Some(No), Some(No), "QW-410.1"),
    ("/processes/GTAW/shielding_gas/composition", "{Ar: 75, He: 25}", Some(Es), Some(Es), "QW-408.2"),
    ("/processes/GTAW/tungsten/designation", "WCe20", Some(No), Some(No), "QW-409.12"),
    ("/runs/1/current", "70-120 A", Some(Su), Some(Su), "QW-409.1"),
    ("/runs/1/current", "75-90 A", Some(No), Some(No), "QW-409.8"),
    ("/joint/cleaning", "Grind to bright metal", Some(No), Some(No), "QW-410.5"),
    ("/identification/title", "Pipe butt in A106-B", Some(Ed), Some(Ed), ""),
    ("/notes", "[Keep electrodes warm]", Some(Ed), Some(Ed), ""),
    ("/identification/revision", "2", None, None, ""),
];

const UNDER_ISO: &[Case] = &[
    ("/parent_metals/0/specification", "304L", Some(Es), Some(Es), "8.3.1"),
    ("/parent_metals/0/thickness", "3-21 mm", Some(Es), Some(Es), "8.3.2"),
    ("/parent_metals/0/outside_diameter", "30 mm minimum", Some(Es), Some(Es), "8.3.3"),
    ("/parent_metals/0/outside_diameter", "80 mm minimum", Some(No), Some(No), ""),
    ("/processes/GTAW/mechanization", "automatic", Some(Es), Some(Es), "8.4.1"),
    ("/positions", "[5G, 2G]", Some(Su), Some(Su), "8.4.2"),
    ("/joint/weld", "groove-and-fillet", Some(Es), Some(Es), "8.4.3"),
    ("/fillers/fill-electrode/designation", "E7016", Some(Es), Some(Es), "8.4.4"),
    ("/processes/GTAW/polarity", "AC", Some(Es), Some(Es), "8.4.6"),
    ("/temperatures/preheating", "5 °C minimum", Some(Es), Some(Es), "8.4.8"),
    ("/temperatures/preheating", "50 °C minimum", Some(No), Some(No), ""),
    ("/temperatures/interpass", "250 °C maximum", Some(Es), Some(Es), "8.4.9"),
    ("/temperatures/post_weld_heat_treatment", "{temperature: 600-620 °C, time: 60 min}", Some(Es), Some(Es), "8.4.11"),
    ("/processes/GTAW/shielding_gas/composition", "{Ar: 98, H2: 2}", Some(Es), Some(Es), "8.5"),
    ("/runs/1/travel_speed", "60-150 mm/min", Some(Su), Some(Su), "8.4.7"),
    ("/joint/preparation_method", "flame cut", Some(No), Some(No), ""),
    ("/identification/customer", "Invented buyer", Some(Ed), Some(Ed), ""),
];

const UNDER_AWS: &[Case] = &[
    ("/runs/1/current", "132-155 A", Some(No), Some(No), ""),
    ("/runs/1/current", "150-200 A", Some(Es), Some(Es), "Table 6.5"),
    ("/runs/1/voltage", "24-27 V", Some(Es), Some(Es), "Table 6.5"),
    ("/runs/1/travel_speed", "50-140 mm/min", Some(Es), Some(Es), "Table 6.5"),
    ("/runs/1/wire_feed_speed", "3.3-6 m/min", Some(Es), Some(Es), "Table 6.5"),
    ("/processes/135/polarity", "DCEN", Some(Es), Some(Es), "Table 6.5"),
    ("/processes/135/shielding_gas/flow", "14-16 L/min", Some(No), Some(No), ""),
    ("/processes/135/shielding_gas/flow", "14-28 L/min", Some(Es), Some(Es), "Table 6.5"),
    ("/processes/135/shielding_gas/composition", "{CO2: 100}", Some(Es), Some(Es), "Table 6.5"),
    ("/joint/included_angle", "30-40 deg", Some(Es), Some(Es), "Table 6.5"),
    ("/joint/preparation", "single-bevel", Some(Es), Some(Es), "Table 6.5"),
    ("/runs/1/transfer_mode", "spray", Some(Es), Some(Es), "Table 6.5"),
    ("/identification/prepared_by", "R. Tanaka", Some(Ed), Some(Ed), ""),
];

fn hold(base: &str, cases: &[Case], code: CodeName) {
    for (pointer, yaml, plain, impact, reference) in cases {
        for (toughness, expected) in [("not required", plain), ("27 J at -20 °C", impact)] {
            let comparison = compared(base, &[("/qualification/toughness", toughness)], &[(pointer, yaml)], code);
            let (meaning, references) = verdict(&comparison);
            let at = format!("{pointer} to {yaml}, {toughness}");
            assert_eq!(meaning, *expected, "{at}: {:#?}", comparison.changes);
            assert!(
                reference.is_empty() || references.iter().any(|own| own.starts_with(reference)),
                "{at}: {reference} not among {references:?}"
            );
            let needs = *expected == Some(Es) || (toughness.contains('J') && *expected == Some(Su));
            assert_eq!(comparison.needs_test(), needs, "{at}");
        }
    }
}

#[test]
fn changes_under_asme_ix() {
    hold(ASME, UNDER_ASME, CodeName::AsmeIx);
}

#[test]
fn changes_under_iso_15614_1() {
    hold(ASME, UNDER_ISO, CodeName::Iso15614);
}

#[test]
fn changes_under_aws_d1_1() {
    hold(WIRE, UNDER_AWS, CodeName::AwsD11);
}

#[test]
fn at_least_forty_kinds_of_change_are_held() {
    assert!(UNDER_ASME.len() + UNDER_ISO.len() + UNDER_AWS.len() >= 40);
}

#[test]
fn another_spelling_is_no_change() {
    for changes in [
        &[("/runs/0/current", "90–120 A")][..],
        &[("/runs/0/travel_speed", "1-1.5 mm/s")],
        &[("/joint/root_gap", "0.2-0.3 cm")],
        &[("/runs/0/process", "141")],
    ] {
        let comparison = compared(ASME, &[], changes, CodeName::AsmeIx);
        assert!(comparison.changes.is_empty(), "{changes:?}: {:#?}", comparison.changes);
        assert_eq!(comparison.verdict(), "no change");
    }
}

#[test]
fn without_a_code_nothing_asks_for_a_test() {
    let comparison =
        compared(ASME, &[], &[("/parent_metals/0/specification", "304L"), ("/notes", "[New]")], CodeName::None);
    assert!(!comparison.needs_test());
    assert_eq!((comparison.count(No), comparison.count(Ed)), (1, 1), "{:#?}", comparison.changes);
}

/// A toughness that is newly asked for, colder or higher asks for impact tests; one in other words is no change.
#[test]
fn a_changed_toughness_counts_as_what_it_is() {
    for (old, new, meaning) in [
        ("not required", "27 J at -20 °C", Some(Su)),
        ("not required", "Charpy V 27 J at -20 °C", Some(Su)),
        ("27 J at -20 °C", "27 J at -40 °C", Some(Su)),
        ("27 J at -20 °C", "40 J at -20 °C", Some(Su)),
        ("not required", "required", Some(Su)),
        ("27 J at -20 °C", "27 J at 0 °C", Some(No)),
        ("27 J at -20 °C", "not required", Some(No)),
        ("27 J at -20 °C", "KV 27 J, -20 °C", None),
        ("not required", "none", None),
    ] {
        let at = "/qualification/toughness";
        let found = compared("inspection/procedure", &[(at, old)], &[(at, new)], CodeName::Iso15614);
        assert_eq!(verdict(&found).0, meaning, "{old} -> {new}: {found:#?}");
    }
}
