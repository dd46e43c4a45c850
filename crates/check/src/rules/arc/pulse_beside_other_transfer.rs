//! `pulse-beside-other-transfer`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{TransferMode, keys};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-beside-other-transfer",
    harm: Harm::Process,
    finds: "A pulsed current beside a transfer by short circuits or in large drops.",
    matters: "A pulse detaches each drop: the machine is set for the one or for the other, and nobody can tell which was meant.",
    remedy: "State `pulsed`, or leave the pulse out.",
    limit: "What the trade calls pulsed transfer, common practice. A spray may be pulsed.",
    tables: &["practice-statements"],
    examine,
    faulty: &[
        Case { base: "butt-10-s355-135", edits: &[("/runs/1/transfer_mode", "globular")] },
        Case { base: "butt-10-s355-135", edits: &[("/runs/2/transfer_mode", "short-circuit")] },
    ],
    sound: &[
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[("/runs/1/transfer_mode", "spray")] },
        Case { base: "butt-10-s355-135", edits: &[("/runs/1/transfer_mode", "globular"), ("/runs/1/pulse", "none")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some(mode) = run.value(&keys::TRANSFER_MODE) else { continue };
        let pulse = run.setting(&keys::PULSE);
        if pulse.is_none_or(|pulse| pulse.value.value().is_none()) {
            continue;
        }
        x.examined(&mode.pointer);
        if matches!(mode.value, TransferMode::Pulsed | TransferMode::Spray) {
            continue;
        }
        x.report(Severity::Caution, &mode.pointer, format!("transfer mode {} beside a pulsed current", mode.value))
            .stated(mode.value.as_str())
            .limit("pulsed or spray", &practice::PULSE_TRANSFER.origin.source_ref())
            .hint("write `transfer_mode: pulsed`, or `pulse: none`");
    }
}
