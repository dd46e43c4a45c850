//! `toughness-unreadable`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::toughness;

use super::impact_colder_than_metal::AT;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "toughness-unreadable",
    harm: Harm::Qualification,
    finds: "A toughness that is no energy at a temperature, and does not say that none is required.",
    matters: "Whether impact tests and the limits of heat input bind hangs on it; they are taken to bind.",
    remedy: "Write the energy and the temperature, or that none is required.",
    limit: "An energy at a temperature, in the words of the format or of the trade; an error.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "required")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "bananas")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "27 J")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "not required")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "27 J at 0 °C")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "Charpy V 27 J @ 0 °C")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/toughness", "")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let stated = x.view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let Some(text) = stated else { return };
    x.examined(AT);
    if toughness(text).is_err() {
        x.report(
            Severity::Error,
            AT,
            format!("`{text}` is no energy at a temperature, and it counts as one that is asked for"),
        )
        .stated(text)
        .hint("write an energy at a temperature, such as `27 J at -20 °C`, or `not required`");
    }
}
