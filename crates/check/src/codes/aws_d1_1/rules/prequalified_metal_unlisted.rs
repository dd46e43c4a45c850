//! `prequalified-metal-unlisted`: explanation, cases, logic.

use seamwright_handbook::aws_d1_1;
use seamwright_model::finding::Severity;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-metal-unlisted",
    harm: Harm::Qualification,
    finds: "A steel called prequalified that is not among the prequalified steels of AWS D1.1.",
    matters: "Preheat and filler of the code are those of its listed steels; another needs a test or the engineer's approval.",
    remedy: "Qualify the procedure by test, or take a listed steel.",
    limit: "Steels of Table 5.3 of AWS D1.1 as the handbook has them; an error.",
    tables: &["aws-d1-1-fillers", "base-metals"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[("/qualification", "{route: prequalified, code: aws-d1.1}")] },
        Case { base: "tee-fillet-3-8-in-a992-136", edits: &[("/parent_metals/1/specification", "A514")] },
    ],
    sound: &[
        Case { base: "tee-fillet-3-8-in-a992-136", edits: &[] },
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[] },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/qualification", "{route: test-record, code: aws-d1.1}")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if !prequalified::applies(view) {
        return;
    }
    let Some(group) = aws_d1_1::fillers().first() else { return };
    for metal in &view.metals {
        let Some(known) = metal.known else { continue };
        let pointer = metal.pointer("specification");
        x.examined(&pointer);
        if known.d1_1_group.is_none() && known.d1_1_preheat.is_empty() {
            let limit = "a steel with a group of AWS D1.1";
            x.report(
                Severity::Error,
                pointer,
                format!("{} is not among the prequalified steels of AWS D1.1", metal.stated.specification),
            )
            .stated(metal.stated.specification.to_string())
            .limit(limit, &group.origin.source_ref())
            .hint("write `route: test-record` with its record, or a listed steel such as A36 or A572-50");
        }
    }
}
