//! `filler-unknown`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::{covered_electrodes, filler_classes};
use seamwright_model::finding::Severity;
use seamwright_model::source::escape;

/// Tables by filler: a check that reads one does not run on a filler that none of them names.
const BY_FILLER: &[&str] = &[
    "covered-electrodes",
    "electrode-current",
    "flux-cored-electrodes",
    "fcaw-parameters",
    "filler-choice",
    "filler-classes",
    "gmaw-parameters",
];

/// The check.
pub const RULE: Rule = Rule {
    name: "filler-unknown",
    harm: Harm::Instruction,
    finds: "A filler that the handbook does not know.",
    matters: "Neither its strength nor its suitability can be checked.",
    remedy: "Check the spelling of the classification.",
    limit: "The classes of the handbook tables.",
    tables: &["filler-classes", "covered-electrodes"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/fillers/rod/designation", "QQ-77")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for (name, filler) in x.view.procedure.fillers.iter() {
        let pointer = format!("/fillers/{}/designation", escape(name));
        x.examined(&pointer);
        let stated = &*filler.designation;
        if filler_classes::find(stated).is_none() && covered_electrodes::get(stated).is_none() {
            let near = filler_classes::nearest(stated).join(", ");
            let checks = x.checks_on(BY_FILLER);
            let message = format!(
                "not reviewed: {stated}, a filler that the handbook does not know; {checks} checks did not run on it"
            );
            x.report(Severity::Caution, pointer, message).stated(stated).hint(if near.is_empty() {
                "its suitability is not checked".to_owned()
            } else {
                format!("the nearest classes are {near}")
            });
        }
    }
}
