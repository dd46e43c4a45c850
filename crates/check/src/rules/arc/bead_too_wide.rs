//! `bead-too-wide`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "bead-too-wide",
    harm: Harm::Soundness,
    finds: "A bead or weave wider than the electrode or the gas covers.",
    matters: "A wide weave loses its shield, traps slag at its edges and doubles the heat of every run.",
    remedy: "Write stringers or a narrower weave, and add runs.",
    limit: "Width by process and, with covered electrodes, in diameters of the core wire, common practice; past the usual is a note, past the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "pipe-butt-p235gh-141-111",
        edits: &[("/processes/111/technique/maximum_bead_width", "40 mm")],
    }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }, Case { base: "butt-6-5083-131", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let grade = Grade {
        what: "bead width",
        usual: Severity::Note,
        widest: Severity::Caution,
        hint: "write a narrower bead, and more runs",
    };
    settings(x, setting_limits::BEAD_WIDTH, &keys::MAXIMUM_BEAD_WIDTH, Length::mm, &grade);
    let view = x.view;
    for run in &view.runs {
        let Some((limits, unit)) = limits(setting_limits::BEAD_OVER_CORE, run.number()) else { continue };
        let Some(width) = run.value(&keys::MAXIMUM_BEAD_WIDTH) else { continue };
        let core = run
            .filler(view.procedure)
            .and_then(|(_, filler)| filler.diameter.as_ref()?.value()?.middle())
            .map(Length::mm)
            .filter(|core| *core > 0.0);
        let Some(core) = core else { continue };
        hold(x, Value::of(width.pointer, width.value, |w| w.mm() / core), &limits, unit, &grade);
    }
}
