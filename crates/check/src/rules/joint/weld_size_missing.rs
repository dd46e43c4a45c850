//! `weld-size-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "weld-size-missing",
    harm: Harm::Instruction,
    finds: "A fillet without leg or throat.",
    matters: "The welder guesses the size, and the inspector has nothing to measure against.",
    remedy: "Write `weld_size: {leg: ...}` or a throat.",
    limit: "A fillet has a leg or a throat (ISO 2553, ISO 15609-1); a caution.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size", "")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }, Case { base: "butt-3-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    if x.view.weld() != Some(WeldType::Fillet) {
        return;
    }
    if let Some(stated) = &x.view.procedure.weld_size {
        x.examined("/weld_size");
        let sized = stated.value().is_none_or(|size| {
            let given = |length: &Option<Stated<_>>| length.as_ref().is_some_and(|stated| stated.value().is_some());
            given(&size.leg) || given(&size.throat)
        });
        if sized {
            return;
        }
    }
    x.report(Severity::Caution, "/weld_size", "a fillet without leg or throat")
        .hint("write `weld_size: {leg: 5 mm}` or a throat")
        .asked("weld_size.leg", "a leg or a throat");
}
