//! `electrode-current-below-range`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-current-below-range",
    harm: Harm::Fusion,
    finds: "A current below the range of the covered electrode at its diameter.",
    matters: "The arc goes out, slag runs into the weld, and the root is not fused.",
    remedy: "Raise the current, or take a smaller electrode.",
    limit: "The widest range of several handbooks for the class and diameter: just outside nothing, a little outside a note, outside a caution, far outside an error.",
    tables: &["electrode-current", "settings-rules"],
    examine,
    faulty: &[Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/current", "50-60 A")] }],
    sound: &[Case { base: "tee-fillet-10-s355-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some((current, limits, name)) = super::of_run::limits(x.view, run) else { continue };
        let own = Band::at_least(band(current.value, Current::amperes).closed().low);
        let stated = current.value.spelled();
        let outer = x.compare(&current.pointer, stated, own, limits.envelope, "A", &limits.source);
        if outer.below
            && let Some(severity) = crate::rules::bounds::typical(own, limits.envelope)
        {
            x.report(
                severity,
                &current.pointer,
                format!(
                    "current {stated} lies below the range of {name} at its diameter ({})",
                    range_text(limits.envelope, "A")
                ),
            )
            .stated(stated)
            .limit(range_limit(limits.envelope, "A"), &limits.source)
            .hint(format!("write a current within {}, or a smaller electrode", range_text(limits.envelope, "A")));
        }
    }
}
