//! `tungsten-current-below-range`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "tungsten-current-below-range",
    harm: Harm::Equipment,
    finds: "A welding current below what the tungsten electrode holds steadily at its diameter, type and polarity.",
    matters: "A large electrode at a small current starts badly and the arc wanders over its tip.",
    remedy: "Take a smaller electrode, or grind a finer point.",
    limit: "The low end of the widest range of several handbooks; below it is a note.",
    tables: &["tungsten-current"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "8-12 A")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "80-100 A")] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some((current, limits)) = super::of_run::limits(run) else { continue };
        let own = Band::at_least(band(current.value, Current::amperes).low);
        let stated = current.value.spelled();
        let outer = x.compare(&current.pointer, stated, own, limits.envelope, "A", &limits.source);
        if outer.below {
            x.report(
                Severity::Note,
                &current.pointer,
                format!(
                    "current {stated} lies under what the tungsten electrode holds steadily ({})",
                    range_text(limits.envelope, "A")
                ),
            )
            .stated(stated)
            .limit(range_limit(limits.envelope, "A"), &limits.source)
            .hint(super::of_run::hint(run, own.low_end()));
        }
    }
}
