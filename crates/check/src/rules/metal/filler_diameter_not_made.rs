//! `filler-diameter-not-made`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-diameter-not-made",
    harm: Harm::Soundness,
    finds: "A filler of a diameter that is not made for the process.",
    matters: "Nobody can buy it: a slip of a digit or a unit.",
    remedy: "Write the diameter on the label.",
    limit: "Sizes of filler metals by process after ISO 544; outside the usual is a note, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "butt-6-5083-131", edits: &[("/fillers/wire/diameter", "12 mm")] }],
    sound: &[Case { base: "butt-6-5083-131", edits: &[] }, Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some((limits, unit)) = limits(setting_limits::FILLER_DIAMETER, run.number()) else { continue };
        let Some((name, filler)) = run.filler(view.procedure) else { continue };
        let Some(diameter) = filler.diameter.as_ref().and_then(Stated::value) else { continue };
        let pointer = format!("/fillers/{}/diameter", seamwright_model::source::escape(name.value));
        let grade = Grade {
            what: "filler diameter",
            usual: Severity::Note,
            widest: Severity::Error,
            hint: "write the diameter on the label",
        };
        hold(x, Value::of(pointer, diameter, Length::mm), &limits, unit, &grade);
    }
}
