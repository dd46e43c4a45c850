//! `fillet-leg-too-large`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::JointType;

use super::bounds::{Grade, Value, at_most, hold, limits};
use super::joints::{legs, thicknesses};
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-leg-too-large",
    finds: "A fillet leg larger than the parts allow.",
    matters: "At a lap the edge melts away before the leg is reached; elsewhere a leg far over the thickness burns through and pulls.",
    remedy: "Write a leg no larger than the edge, or weld another joint.",
    limit: "Leg over the edge that carries it at a lap, and leg over the thicker part elsewhere, common practice: past the usual is a note, past the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/leg", "12 mm")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/weld_size/leg", "30 mm")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((thinner, thicker)) = thicknesses(view) else { return };
    let lap = view.procedure.joint.as_ref().is_some_and(|joint| joint.kind == JointType::Lap);
    let (quantity, part) = if lap { ("leg-at-lap-edge", thinner) } else { ("leg-over-thicker", thicker) };
    let Some((limits, unit)) = limits(quantity, "") else { return };
    for leg in legs(view) {
        let grade =
            Grade { what: "leg", usual: Severity::Note, widest: Severity::Caution, hint: "write a smaller leg" };
        let value = Value { pointer: &leg.pointer, stated: leg.stated, ends: (None, leg.high.map(|mm| mm / part)) };
        hold(x, &value, &at_most(&limits), unit, &grade);
    }
}
