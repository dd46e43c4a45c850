//! `tungsten-current-above-range`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "tungsten-current-above-range",
    harm: Harm::Equipment,
    finds: "A welding current above what the tungsten electrode carries at its diameter, type and polarity.",
    matters: "An overloaded electrode melts at the tip, spits tungsten into the weld and lets the arc wander.",
    remedy: "Take the next larger electrode, or lower the current.",
    limit: "The widest range of several handbooks for that diameter, electrode group and current type; above it is an error, above what they agree on a note.",
    tables: &["tungsten-current"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "310-340 A")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "80-100 A")] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some((current, limits)) = super::of_run::limits(run) else { continue };
        let own = Band::at_most(band(current.value, Current::amperes).closed().high);
        let stated = current.value.spelled();
        let outer = x.compare(&current.pointer, stated, own, limits.envelope, "A", &limits.source);
        let grade = crate::rules::bounds::typical(own, limits.envelope);
        if outer.above
            && let Some(grade) = grade
        {
            x.report(
                // A little over the highest figure of a maker wears the tip, and melts it farther on.
                if grade == Severity::Note { Severity::Caution } else { Severity::Error },
                &current.pointer,
                format!(
                    "current {stated} passes what the tungsten electrode carries ({})",
                    range_text(limits.envelope, "A")
                ),
            )
            .stated(stated)
            .limit(range_limit(limits.envelope, "A"), &limits.source)
            .hint(super::of_run::hint(run, own.high_end()));
        } else if let Some(usual) = limits.usual
            && own.outside(usual).above
        {
            x.report(
                Severity::Note,
                &current.pointer,
                format!(
                    "current {stated} lies above what sources agree on for the tungsten electrode ({})",
                    range_text(usual, "A")
                ),
            )
            .stated(stated)
            .limit(range_limit(usual, "A"), &limits.source)
            .hint(super::of_run::hint(run, own.high_end()));
        }
    }
}
