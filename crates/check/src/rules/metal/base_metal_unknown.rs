//! `base-metal-unknown`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::base_metals;
use seamwright_model::finding::Severity;

/// Tables by metal: a check that reads one does not run on a metal that none of them names.
const BY_METAL: &[&str] = &[
    "base-metals",
    "code-scope",
    "cooling-time-windows",
    "filler-choice",
    "filler-classes",
    "gtaw-polarity",
    "heat-input-limits",
    "heat-treatment",
    "interpass-temperature",
    "metal-families",
    "preheat-practice",
    "process-suitability",
];

/// The check.
pub const RULE: Rule = Rule {
    name: "base-metal-unknown",
    harm: Harm::Instruction,
    finds: "A base metal that the handbook does not know.",
    matters: "No limit that hangs on the metal can be checked.",
    remedy: "Check the spelling; an unknown metal is no fault, but its limits are yours.",
    limit: "The names of the handbook table.",
    tables: &["base-metals"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "Unobtainium 9")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/parent_metals", "[{specification: Unobtainium 9, thickness: 2 mm, group: '1.2'}]")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "group 1.2")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "P-No. 1")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for metal in &x.view.metals {
        let pointer = metal.pointer("specification");
        x.examined(&pointer);
        let stated = &*metal.stated.specification;
        if let Some(group) = metal.known.filter(|own| own.generic && base_metals::find(stated).is_none()) {
            let message = format!(
                "{stated} is a metal that the handbook does not know; its checks run on {}, which tells no strength and no composition",
                group.specification
            );
            x.report(Severity::Note, pointer, message).stated(stated).hint("judge strength and composition yourself");
        } else if metal.known.is_none() {
            let near = base_metals::nearest(stated).join(", ");
            let checks = x.checks_on(BY_METAL);
            let message = format!(
                "not reviewed: {stated}, a metal that the handbook does not know; {checks} checks did not run on it"
            );
            x.report(Severity::Caution, pointer, message).stated(stated).hint(if near.is_empty() {
                "write its P-Number or group (`P-1`, `group 1.2`), and judge its limits yourself".to_owned()
            } else {
                format!("the nearest names are {near}; its P-Number or group (`P-1`, `group 1.2`) is understood, too")
            });
        }
    }
}
