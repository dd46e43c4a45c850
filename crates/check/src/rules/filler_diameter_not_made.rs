//! `filler-diameter-not-made`: explanation, cases, logic.

<<<<<<< HEAD
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use super::bounds::{Grade, Value, hold, limits};
use crate::rule::{Case, Examiner, Rule};
=======
use crate::rule::{Case, Examiner, Rule};
use seamwright_handbook::filler_classes;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

use crate::rule::range_text;
>>>>>>> 3a4fa70 (Find filler diameters that are not made)

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-diameter-not-made",
<<<<<<< HEAD
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
        let Some((limits, unit)) = limits("filler-diameter", run.number()) else { continue };
        let Some((name, filler)) = run.filler(view.procedure) else { continue };
        let Some(diameter) = filler.diameter.as_ref().and_then(Stated::value) else { continue };
        let pointer = format!("/fillers/{}/diameter", seamwright_model::source::escape(name.value));
        let ends = (diameter.low().map(Length::mm), diameter.high().map(Length::mm));
        let grade = Grade {
            what: "filler diameter",
            usual: Severity::Note,
            widest: Severity::Error,
            hint: "write the diameter on the label",
        };
        hold(x, &Value { pointer: &pointer, stated: diameter.spelled(), ends }, &limits, unit, &grade);
=======
    finds: "A diameter in which fillers of the process are not made.",
    matters: "A slip of the unit or of the decimal point: every limit by diameter then fails too.",
    remedy: "Check the unit: 3/32 in is 2.4 mm, 0.045 in is 1.2 mm.",
    limit: "The least and the largest diameter of each kind of filler.",
    tables: &["filler-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/fillers/wire/diameter", "8 mm")] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/diameter", "0.32 mm")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/fillers/rod/diameter", "24 mm")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/diameter", "3/16 in")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let (Some(process), Some((name, filler))) = (run.process, run.filler(x.view.procedure)) else { continue };
        let kind = match () {
            () if process.uses_flux => "diameter-submerged-wire",
            () if process.wire.is_some() => "diameter-wire",
            () if process.consumable_electrode => "diameter-covered-electrode",
            () => "diameter-rod",
        };
        let (Some(rule), Some(diameter)) =
            (filler_classes::rule(kind), filler.diameter.as_ref().and_then(Stated::value))
        else {
            continue;
        };
        let pointer = format!("/fillers/{}/diameter", escape(name.value));
        let ends = (diameter.low().map(Length::mm), diameter.high().map(Length::mm));
        let source = rule.origin.source_ref();
        let outer = x.compare(&pointer, diameter.spelled(), ends, rule.value, "mm", &source);
        if outer.below || outer.above {
            let limit = range_text(rule.value, "mm");
            x.report(
                Severity::Error,
                pointer,
                format!(
                    "{} is not made in {} for process {} ({limit})",
                    filler.designation,
                    diameter.spelled(),
                    process.number
                ),
            )
            .stated(diameter.spelled())
            .limit(limit, &source)
            .hint("check the unit and the decimal point");
        }
>>>>>>> 3a4fa70 (Find filler diameters that are not made)
    }
}
