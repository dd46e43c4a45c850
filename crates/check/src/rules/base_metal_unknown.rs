//! `base-metal-unknown`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Rule};
use seamwright_handbook::base_metals;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "base-metal-unknown",
    finds: "A base metal that the handbook does not know.",
    matters: "No limit that hangs on the metal can be checked.",
    remedy: "Check the spelling; an unknown metal is no fault, but its limits are yours.",
    limit: "The names of the handbook table.",
    tables: &["base-metals"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "Unobtainium 9")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for metal in &x.view.metals {
        let pointer = metal.pointer("specification");
        x.examined(&pointer);
        if metal.known.is_none() {
            let stated = &*metal.stated.specification;
            let near = base_metals::nearest(stated).join(", ");
            x.report(Severity::Note, pointer, format!("the handbook does not know the metal {stated}"))
                .stated(stated)
                .hint(if near.is_empty() {
                    "its limits are not checked".to_owned()
                } else {
                    format!("the nearest names are {near}")
                });
        }
    }
}
