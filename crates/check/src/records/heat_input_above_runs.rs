//! `heat-input-above-runs`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_handbook::coupon_tests;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::HeatInput;
use seamwright_model::test_record::TestRecord;
use seamwright_weld::heat;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "heat-input-above-runs",
    harm: Harm::Qualification,
    finds: "A measured heat input higher than current, voltage and travel speed of the run give.",
    matters: "The qualified range of heat input hangs on this figure; one that is too high lets the shop weld too hot.",
    remedy: "Compute the heat input from the measured values, or mend these.",
    limit: "Volts times amperes over travel speed, without thermal efficiency, which no way of computing exceeds.",
    tables: &["test-record-rules"],
    examine,
    faulty: &[Case { base: "inspection/record-iso", edits: &[("/runs/0/heat_input", "1.4 kJ/mm")] }],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        // 10.5 V, 105 A, 72 mm/min: 0.92 kJ/mm, with k = 0.6 0.55 kJ/mm (ISO/TR 17671-1).
        Case { base: "inspection/record-iso", edits: &[("/runs/0/heat_input", "0.55 kJ/mm")] },
        Case { base: "inspection/record-iso", edits: &[("/runs/0/heat_input", "0.92 kJ/mm")] },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let rule = coupon_tests::HEAT_INPUT_AGREEMENT;
    for run in &x.view.view.runs {
        let Some(stated) = run.value(&keys::HEAT_INPUT) else { continue };
        let (Some(high), Some(computed)) = (stated.value.high().map(HeatInput::kj_per_mm), heat::of(run)) else {
            continue;
        };
        x.examined(&stated.pointer);
        let most = computed.arc_energy.high;
        if high > most * (1.0 + rule.value.high / 100.0) {
            let limit = range_limit(Band::at(most), "kJ/mm");
            let source = rule.origin.source_ref();
            let message = format!(
                "measured heat input {} of run {} exceeds {limit}, which its current, voltage and travel speed give",
                stated.value.spelled(),
                run.run.run
            );
            x.report(Severity::Error, &stated.pointer, message)
                .stated(stated.value.spelled())
                .limit(limit, &source)
                .hint("compute it from the measured values, or mend these");
        }
    }
}
