//! `ac-settings-missing`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Polarity, keys};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_text};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "ac-settings-missing",
    harm: Harm::Instruction,
    finds: "Alternating current without its electrode-negative share or its frequency.",
    matters: "The share sets cleaning and penetration, the frequency the width of the arc: the welder must guess both.",
    remedy: "Write `ac: {frequency: 100 Hz, electrode_negative: 70 %}` as set at the machine.",
    limit: "Both are asked for where the arc burns on alternating current from a tungsten electrode; a note.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/ac", "")] }],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        if *polarity.value != Polarity::Ac || !run.process.is_some_and(|process| process.uses_tungsten) {
            continue;
        }
        let Some((share, unit)) = limits(setting_limits::ELECTRODE_NEGATIVE, run.number()) else { continue };
        let stated = run.setting(&keys::AC);
        if stated.as_ref().is_some_and(|at| matches!(at.value, Stated::NotApplicable)) {
            continue;
        }
        let ac = stated.as_ref().and_then(|at| at.value.value());
        let lacks = [
            ("frequency", ac.is_none_or(|ac| ac.frequency.is_none())),
            ("electrode-negative share", ac.is_none_or(|ac| ac.electrode_negative.is_none())),
        ];
        let words: Vec<&str> = lacks.iter().filter(|(_, lacks)| *lacks).map(|(word, _)| *word).collect();
        if words.is_empty() {
            continue;
        }
        let usual = range_text(share.usual.unwrap_or(share.envelope), unit);
        x.report(Severity::Note, polarity.pointer, format!("alternating current without {}", words.join(" and ")))
            .limit(format!("electrode-negative share {usual}"), &share.source)
            .hint("write `ac: {frequency: 100 Hz, electrode_negative: 70 %}` as set at the machine");
    }
}
