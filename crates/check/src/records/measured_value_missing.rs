//! `measured-value-missing`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::test_record::TestRecord;

use crate::codes::summary::{Summary, Value};
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "measured-value-missing",
    harm: Harm::Qualification,
    finds: "A value that a test record needs and does not state, or states as a range.",
    matters: "The qualified ranges grow out of single measured values; what was not measured is not qualified.",
    remedy: "Write the one value that was measured.",
    limit: "Thickness, diameter of pipe, current, voltage and travel speed of each run, deposits, preheat and interpass temperature.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "inspection/record-iso", edits: &[("/runs/0/voltage", "")] },
        Case { base: "inspection/record-iso", edits: &[("/parent_metals/0/thickness", "3-11 mm")] },
        Case { base: "inspection/record-iso", edits: &[("/temperatures/interpass", "")] },
        Case { base: "inspection/record-iso", edits: &[("/processes/141/deposit_thickness", "")] },
        Case { base: "inspection/record-iso", edits: &[("/code", "")] },
    ],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        Case { base: "inspection/record-asme", edits: &[] },
        // The heat input may be found by the length welded and the power of the arc instead.
        Case {
            base: "inspection/record-iso",
            edits: &[
                ("/runs/0/voltage", ""),
                ("/runs/0/current", ""),
                ("/runs/0/travel_speed", ""),
                ("/runs/0/heat_input", "0.55 kJ/mm"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let record = x.view.record;
    let tested = Summary::of(x.view.view);
    if record.code().is_none() {
        missing(x, "/code", "the code of the test");
    }
    for (index, metal) in record.parent_metals.iter().enumerate() {
        if metal.thickness.is_none() {
            missing(x, &format!("/parent_metals/{index}/thickness"), "the measured thickness");
        }
    }
    let deposits = tested.processes.iter().filter_map(|process| process.deposit.as_ref());
    for value in tested.thickness.iter().chain(&tested.diameter).chain(deposits) {
        single(x, value);
    }
    if tested.processes.len() > 1 {
        for process in tested.processes.iter().filter(|process| process.deposit.is_none()) {
            let pointer = format!("{}/{}", process.pointer, keys::DEPOSIT_THICKNESS.path);
            missing(x, &pointer, &format!("the deposit of {}", process.name));
        }
    }
    for run in &x.view.view.runs {
        if run.value(&keys::HEAT_INPUT).is_some() {
            continue;
        }
        let power = run.setting(&keys::ARC_POWER).is_some();
        let length = run.setting(&keys::RUN_OUT_LENGTH).is_some();
        let measured = [
            (keys::CURRENT.path, power || run.setting(&keys::CURRENT).is_some()),
            (keys::VOLTAGE.path, power || run.setting(&keys::VOLTAGE).is_some()),
            (keys::TRAVEL_SPEED.path, length || run.setting(&keys::TRAVEL_SPEED).is_some()),
        ];
        for (key, _) in measured.into_iter().filter(|(_, stated)| !stated) {
            missing(
                x,
                &format!("{}/{key}", run.pointer()),
                &format!("{} of run {}", key.replace('_', " "), run.run.run),
            );
        }
    }
    if tested.preheating.is_none() {
        missing(x, "/temperatures/preheating", "the preheating temperature, or the metal's own at the start,");
    }
    let runs: u32 = x.view.view.runs.iter().map(|run| run.numbers.1 - run.numbers.0 + 1).sum();
    if tested.interpass.is_none() && runs > 1 {
        missing(x, "/temperatures/interpass", "the highest interpass temperature");
    }
    if record.tests.is_empty() {
        missing(x, "/tests", "every test");
    }
    for (index, test) in record.tests.iter().enumerate() {
        if test.result.is_none() {
            missing(x, &format!("/tests/{index}/result"), &format!("the result of the {} test", test.method));
        }
    }
}

fn missing(x: &mut Examiner<'_, TestRecord>, pointer: &str, what: &str) {
    x.examined(pointer);
    let key = pointer.rsplit('/').next().unwrap_or_default().to_owned();
    x.report(Severity::Error, pointer, format!("{what} is not stated"))
        .hint(format!("write `{key}:` as it was measured"));
}

fn single(x: &mut Examiner<'_, TestRecord>, value: &Value<Band>) {
    x.examined(&value.pointer);
    if !value.value.is_single() {
        x.report(Severity::Error, &value.pointer, format!("{} is no single measured value", value.stated))
            .stated(value.stated.clone())
            .hint("write the one value that was measured on the coupon");
    }
}
