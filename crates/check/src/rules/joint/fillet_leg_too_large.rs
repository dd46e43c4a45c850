//! `fillet-leg-too-large`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, Limits, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::JointType;
use seamwright_model::quantity::Length;

use super::measures::{legs, thicknesses};
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-leg-too-large",
    harm: Harm::Fusion,
    finds: "A fillet leg larger than the parts allow.",
    matters: "At a lap the edge melts away before the leg is reached; elsewhere a leg far over the thickness burns through and pulls.",
    remedy: "Write a leg no larger than the edge, or weld another joint.",
    limit: "Leg over the edge that carries it at a lap, the longer of two legs on the face as well, and leg over the thicker part elsewhere, but never less than the leg that one run makes on thin sheet, common practice: past the usual is a note, past the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size/leg", "12 mm")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/weld_size/leg", "30 mm")] },
        // Thin sheet carries the leg of one run, not more.
        Case {
            base: "tee-fillet-3-6061-141",
            edits: &[("/parent_metals/0/thickness", "1 mm"), ("/weld_size/leg", "5 mm")],
        },
        // Neither leg may stand higher at the edge of a lap than the edge is.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/weld_size/leg", "5 mm"), ("/weld_size/second_leg", "4 mm")],
        },
        // Nor may the other one run far along the face.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/weld_size/leg", "2 mm"), ("/weld_size/second_leg", "6 mm")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        // A manufacturer's settings for 1 mm sheet lay a leg of nearly 3 mm.
        Case {
            base: "tee-fillet-3-6061-141",
            edits: &[("/parent_metals/0/thickness", "1 mm"), ("/weld_size/leg", "3 mm")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/weld_size/leg", "2 mm"), ("/weld_size/second_leg", "3 mm")],
        },
        // Of unequal legs the one on the face is a little more than twice the other.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/weld_size/leg", "2 mm"), ("/weld_size/second_leg", "4.5 mm")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((thinner, thicker)) = thicknesses(view) else { return };
    let first = view.runs.first().and_then(|run| run.process);
    let process = first.map_or("", |process| process.number);
    let (Some((at_edge, edge_unit)), Some((on_face, _)), Some((elsewhere, unit)), Some((one_run, _))) = (
        limits(setting_limits::LEG_AT_LAP_EDGE, ""),
        limits(setting_limits::LEG_AT_LAP_FACE, ""),
        limits(setting_limits::LEG_OVER_THICKER, ""),
        limits(setting_limits::LEG_OF_ONE_RUN, process),
    ) else {
        return;
    };
    // Sheet that is thinner than a run is high carries the leg of one run all the same.
    let elsewhere = Limits {
        envelope: widened(elsewhere.envelope, one_run.envelope.high / thicker),
        usual: elsewhere.usual.zip(one_run.usual).map(|(own, run)| widened(own, run.high / thicker)),
        ..elsewhere
    };
    let lap = view.procedure.joint.as_ref().is_some_and(|joint| joint.kind == JointType::Lap);
    let legs = legs(view);
    // Of unequal legs at a lap the shorter one stands at the edge, the longer one lies on the face of the other part.
    let shortest = legs.iter().map(|leg| band(leg.value, Length::mm).high).fold(f64::INFINITY, f64::min);
    for leg in legs {
        let high = band(leg.value, Length::mm).high;
        let edge = lap && (high <= shortest || high.is_infinite());
        // On the face it may be longer than the edge is high, and is held as elsewhere where that is more.
        let face = lap && !edge && on_face.envelope.high * thinner > elsewhere.envelope.high * thicker;
        let (limits, unit, part) = if face {
            (&on_face, edge_unit, thinner)
        } else if edge {
            (&at_edge, edge_unit, thinner)
        } else {
            (&elsewhere, unit, thicker)
        };
        let grade =
            Grade { what: "leg", usual: Severity::Note, widest: Severity::Caution, hint: "write a smaller leg" };
        let value = Value::new(leg.pointer, leg.value.spelled(), Band::at_most(high / part));
        hold(x, value, &at_most(limits), unit, &grade);
    }
}

/// A range that reaches at least this far.
fn widened(range: Band, high: f64) -> Band {
    Band::new(range.low, range.high.max(high))
}
