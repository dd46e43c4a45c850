//! `base-metal-taken`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::base_metals;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "base-metal-taken",
    harm: Harm::Instruction,
    finds: "A base metal by a name of the trade, a P-Number or a group alone: what it is taken as.",
    matters: "Limits hang on the grade, and the name tells none.",
    remedy: "Write the specification and grade of the certificate.",
    limit: "The names of the handbook table.",
    tables: &["metal-names", "base-metals-more"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "mild steel")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "P-No. 1 Gr 1")] },
    ],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for metal in &x.view.metals {
        let pointer = metal.pointer("specification");
        let stated = &*metal.stated.specification;
        let exact = metal.known.is_some_and(|known| known.specification == stated);
        let taken = (!exact).then(|| base_metals::lookup(stated)?.taken).flatten();
        if let Some(taken) = taken {
            x.report(Severity::Note, pointer, taken).stated(stated).hint("write the specification and grade");
        }
    }
}
