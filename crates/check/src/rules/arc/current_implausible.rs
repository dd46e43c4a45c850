//! `current-implausible`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Current;
use seamwright_weld::RunView;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings_where};
use crate::rules::electrode::of_run as electrode;
use crate::rules::tungsten::of_run as tungsten;
use crate::rules::wire::settings::Setting;

/// The check.
pub const RULE: Rule = Rule {
    name: "current-implausible",
    harm: Harm::Impossible,
    finds: "A welding current that no source of power gives with the process.",
    matters: "A slip of a digit or a unit that no other table catches.",
    remedy: "Look at the figure and its unit.",
    limit: "Current by process, common practice, where no table of electrode, rod or wire holds it: outside the usual is a note, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "butt-20-a516-121", edits: &[("/runs/0/current", "14000 A")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/runs/0/current", "1400-1800 A"), ("/processes/141/tungsten/diameter", "")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "1400-1800 A")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    // A table of the electrode, rod or wire says more, and its own check holds the current against it.
    let no_other_table = |run: &RunView<'_>| {
        tungsten::limits(run).is_none()
            && electrode::limits(view, run).is_none()
            && run.wire.as_ref().and_then(|wire| Setting::Current.limits(wire)).is_none()
    };
    settings_where(
        x,
        setting_limits::CURRENT,
        no_other_table,
        &keys::CURRENT,
        Current::amperes,
        &Grade {
            what: "current",
            usual: Severity::Note,
            widest: Severity::Error,
            hint: "look at the figure and its unit",
        },
    );
}
