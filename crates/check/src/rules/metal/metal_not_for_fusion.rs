//! `metal-not-for-fusion`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::metal_heat::{self, Fusion};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "metal-not-for-fusion",
    harm: Harm::Metal,
    finds: "A metal that arc welding spoils: a free-machining grade, or aluminium of high strength with copper or zinc.",
    matters: "Sulfur, lead and copper make the weld crack while it freezes; zinc boils off.",
    remedy: "Take a grade for welding, or join it another way.",
    limit: "The metals of the table; those that crack whatever is done are an error, the others a caution.",
    tables: &["metals-not-for-fusion"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[("/parent_metals/0/specification", "7075-T6")] },
        Case { base: "butt-2-304l-141", edits: &[("/parent_metals/0/specification", "'303'")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "11SMnPb30")] },
    ],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }, Case { base: "butt-2-304l-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for metal in x.view.metals.iter().filter(|metal| metal.known.is_none()) {
        let Some(row) = metal_heat::not_for_fusion(&metal.stated.specification) else { continue };
        let pointer = metal.pointer("specification");
        x.examined(&pointer);
        let severity = match row.weld {
            Fusion::Not => Severity::Error,
            Fusion::Hard => Severity::Caution,
        };
        let source = row.origin.source_ref();
        x.report(severity, pointer, format!("{} is not for arc welding: {}", metal.stated.specification, row.reason))
            .stated(&*metal.stated.specification)
            .limit("a metal for welding", &source)
            .hint(format!("take {}", row.instead));
    }
}
