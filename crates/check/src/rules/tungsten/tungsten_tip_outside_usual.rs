//! `tungsten-tip-outside-usual`: explanation, cases, logic.

use seamwright_handbook::{Band, Limits, tungsten_tips};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Angle, Length};

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold};

/// The check.
pub const RULE: Rule = Rule {
    name: "tungsten-tip-outside-usual",
    harm: Harm::Equipment,
    finds: "A tip of the tungsten electrode ground to an unusual angle or flat.",
    matters: "A needle melts into the pool, a blunt tip wanders: the shape sets width and depth of the weld.",
    remedy: "Write the included angle of the tip, wider for more current.",
    limit: "Angles of the tip table and of practice: outside the usual is a note, outside every row a caution; the flat in electrode diameters.",
    tables: &["tungsten-tips", "tungsten-tip-rules"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/included_angle", "150 deg")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/tip_flat", "4 mm")] },
    ],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }, Case { base: "tee-fillet-3-6061-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let general = tungsten_tips::INCLUDED_ANGLE;
    let usual = tungsten_tips::INCLUDED_ANGLE_THIN.value.hull(general.value);
    let envelope = tungsten_tips::rows().iter().fold(usual, |hull, row| hull.hull(Band::at(row.included_angle_deg)));
    let limits = Limits { envelope, usual: Some(usual), source: general.origin.source_ref(), doubt: None };
    let grade = |what, hint| Grade { what, usual: Severity::Note, widest: Severity::Caution, hint };
    for run in &view.runs {
        if let Some(angle) = run.value(&keys::TUNGSTEN_INCLUDED_ANGLE) {
            let value = Value::of(angle.pointer, angle.value, Angle::degrees);
            hold(x, value, &limits, "°", &grade("tip angle", "write the included angle of the ground tip"));
        }
        let (tip, flat) = (run.value(&keys::TUNGSTEN_TIP_FLAT), tungsten_tips::TIP_FLAT);
        if let (Some(tip), Some(diameter)) = (tip, super::of_run::diameter(run).filter(|mm| *mm > 0.0)) {
            let value = Value::of(tip.pointer, tip.value, |mm| Length::mm(mm) / diameter);
            let hint = "grind the flat to less than half the electrode";
            hold(x, value, &at_most(&flat.limits()), flat.unit, &grade("tip flat", hint));
        }
    }
}
