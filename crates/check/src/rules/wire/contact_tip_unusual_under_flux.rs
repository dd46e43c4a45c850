//! `contact-tip-unusual-under-flux`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};
use seamwright_handbook::{Band, Limits, setting_limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "contact-tip-unusual-under-flux",
    harm: Harm::Soundness,
    finds: "A distance from contact tip to work under flux that does not go with the diameter of the wire.",
    matters: "Too long preheats the wire and takes penetration; too short burns the tip and spills arc through the flux.",
    remedy: "Take about eight wire diameters.",
    limit: "A share of the wire diameter, common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "butt-20-a516-121", edits: &[("/processes/121/contact_tip_to_work", "250-320 mm")] }],
    sound: &[
        Case { base: "butt-20-a516-121", edits: &[] },
        Case {
            base: "butt-20-a516-121",
            edits: &[("/fillers/wire/diameter", "2.4 mm"), ("/processes/121/contact_tip_to_work", "20-25 mm")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in view.runs.iter().filter(|run| run.process.is_some_and(|process| process.uses_flux)) {
        let Some(at) = run.value(&keys::CONTACT_TIP_TO_WORK) else { continue };
        let Some((limits, _)) = limits(setting_limits::TIP_TO_WORK_OVER_WIRE, run.number()) else { continue };
        let diameter = run.filler(view.procedure).and_then(|(_, filler)| filler.diameter.as_ref());
        let Some(diameter) = diameter.and_then(Stated::value).and_then(|range| range.middle()).map(Length::mm) else {
            continue;
        };
        let times = |range: Band| range.scaled(diameter);
        let limits = Limits { envelope: times(limits.envelope), usual: limits.usual.map(times), ..limits };
        let grade = Grade {
            what: "contact tip distance",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write about eight wire diameters",
        };
        hold(x, Value::of(at.pointer, at.value, Length::mm), &limits, "mm", &grade);
    }
}
