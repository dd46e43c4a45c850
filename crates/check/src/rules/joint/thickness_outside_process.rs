//! `thickness-outside-process`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "thickness-outside-process",
    harm: Harm::Process,
    finds: "A thickness that the process of every run does not weld.",
    matters: "On thinner metal the arc burns through; on thicker the process takes days and another does it in hours.",
    remedy: "Look at the figure and its unit, or choose another process.",
    limit: "Thickness by process, common practice: outside the usual is a note, outside the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/thickness", "0.05 mm")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let every: Option<Vec<_>> = view.runs.iter().map(|run| limits(setting_limits::THICKNESS, run.number())).collect();
    let hull = every.unwrap_or_default().into_iter().reduce(|(mut hull, unit), (next, _)| {
        hull.envelope = hull.envelope.hull(next.envelope);
        hull.usual = hull.usual.zip(next.usual).map(|(a, b)| a.hull(b));
        (hull, unit)
    });
    let Some((limits, unit)) = hull else { return };
    let grade = Grade {
        what: "thickness",
        usual: Severity::Note,
        widest: Severity::Caution,
        hint: "look at the figure and its unit, or choose another process",
    };
    for metal in &view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let pointer = metal.pointer("thickness");
        hold(x, Value::of(pointer, thickness, Length::mm), &limits, unit, &grade);
    }
}
