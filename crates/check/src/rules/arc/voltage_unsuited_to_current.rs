//! `voltage-unsuited-to-current`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Voltage;
use seamwright_weld::deposit::middle;
use seamwright_weld::in_joint;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "voltage-unsuited-to-current",
    harm: Harm::Fusion,
    finds: "A voltage that no arc of the process has at the stated current.",
    matters: "The voltage follows from current and arc length: far above, the arc is too long to shield and melts nothing; far below, it goes out or the wire stubs.",
    remedy: "Measure the voltage at the arc at the stated current.",
    limit: "The conventional load voltage of IEC 60974-1 at the current, with the spread of settings in use around it: outside a caution, past the widest an error.",
    tables: &["arc-voltage"],
    examine,
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/runs/0/voltage", "20-24 V")] },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[("/runs/0/voltage", "42-44 V"), ("/runs/0/current", "180-190 A")],
        },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/voltage", "42-46 V")] },
        Case { base: "butt-20-a516-121", edits: &[("/runs/0/voltage", "18-20 V")] },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "butt-6-copper-141", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "pipe-butt-x52-111-pj", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        // A tungsten arc in helium stands several volts higher.
        Case {
            base: "butt-3-carbon-141",
            edits: &[
                ("/runs/0/voltage", "17-19 V"),
                ("/processes/141/shielding_gas", "{designation: I2, composition: {He: 100}, flow: 20 L/min}"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        if in_joint::pulsed(run) {
            continue;
        }
        let Some(voltage) = run.value(&keys::VOLTAGE) else { continue };
        let (Some(volts), Some(amperes), Some(arc)) =
            (middle(voltage.value, Voltage::volts), in_joint::current_a(run), in_joint::arc(run))
        else {
            continue;
        };
        let (usual, widest) = arc.at(amperes);
        let whole = |range: Band| Band::new(range.low.round(), range.high.round());
        let stated = voltage.value.spelled();
        let source = arc.origin.source_ref();
        let outer = x.compare(&voltage.pointer, stated, Band::at(volts), usual, "V", &source);
        if !outer.either() {
            continue;
        }
        let severity = if widest.contains(volts) { Severity::Caution } else { Severity::Error };
        let side = if outer.above { "high" } else { "low" };
        let text = range_limit(whole(usual), "V");
        x.report(
            severity,
            &voltage.pointer,
            format!(
                "voltage {stated} is {side} for the arc of {} at {} A ({text})",
                run.number(),
                figure(amperes.round())
            ),
        )
        .stated(stated)
        .limit(text.clone(), &source)
        .hint(format!("write a voltage within {text}, measured at the arc, or the current that was welded with"));
    }
}
