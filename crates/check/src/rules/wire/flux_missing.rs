//! `flux-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::designation::{self, Form};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "flux-missing",
    harm: Harm::Process,
    finds: "Submerged arc welding without a flux.",
    matters: "Wire and flux together make the weld metal: neither its strength nor its toughness is known without the flux.",
    remedy: "State the flux, or the classification of flux and wire together.",
    limit: "Processes that weld under flux.",
    tables: &["processes"],
    examine,
    faulty: &[Case {
        base: "butt-20-a516-121",
        edits: &[("/processes/121/flux", ""), ("/fillers/wire/designation", "EM12K")],
    }],
    sound: &[
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux", "")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(process) = run.process.filter(|process| process.uses_flux) else { continue };
        let pointer = run.of_process(&keys::FLUX);
        x.examined(&pointer);
        // A filler such as F7A2-EM12K names both.
        let named = run.filler(x.view.procedure).and_then(|(_, filler)| designation::parse(&filler.designation).ok());
        let both = named.is_some_and(|read| read.form == Form::WireAndFlux);
        let flux = run.setting(&keys::FLUX);
        let stated = flux.is_some_and(|flux| flux.value.designation.is_some() || flux.value.make.is_some());
        if both || stated {
            continue;
        }
        let source = process.origin.source_ref();
        x.report(Severity::Error, pointer, format!("process {} needs a flux, and none is stated", process.number))
            .limit("a flux", &source)
            .hint("write `flux: {designation: F7A2-EM12K}` with the flux that is used");
    }
}
