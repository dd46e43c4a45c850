//! `rod-unusual-for-current`: explanation, cases, logic.

use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Mechanization, keys};
use seamwright_model::quantity::{Current, Length};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "rod-unusual-for-current",
    harm: Harm::Soundness,
    finds: "A filler rod too thick or too thin for the current.",
    matters: "A thick rod chills the pool, a thin one burns off before it reaches it.",
    remedy: "Choose the rod by the current and the thickness.",
    limit: "Current for each millimetre of rod: the usual range covers every starting point, the widest is common practice; outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/fillers/rod/diameter", "0.3 mm")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some((limits, unit)) = limits(setting_limits::ROD_FOR_CURRENT, run.number()) else { continue };
        let manual = run.value(&keys::MECHANIZATION).is_none_or(|at| *at.value == Mechanization::Manual);
        let Some((name, filler)) = run.filler(view.procedure).filter(|_| manual) else { continue };
        let Some(diameter) = filler.diameter.as_ref().and_then(Stated::value) else { continue };
        let Some(mm) = diameter.middle().map(Length::mm).filter(|mm| *mm > 0.0) else { continue };
        let Some(amperes) = run.value(&keys::CURRENT).and_then(|at| at.value.middle()) else { continue };
        let own = Band::at(Current::amperes(amperes) / mm);
        let pointer = format!("/fillers/{}/diameter", seamwright_model::source::escape(name.value));
        let grade = Grade {
            what: "filler rod",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "choose the rod that goes with the current",
        };
        hold(x, Value::new(pointer, diameter.spelled(), own), &limits, unit, &grade);
    }
}
