//! `code-does-not-cover-metal`: explanation, cases, logic.

use seamwright_handbook::code_scope;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "code-does-not-cover-metal",
    harm: Harm::Qualification,
    finds: "A code of qualification that is not written for the metal.",
    matters: "A test to the wrong code proves nothing to whoever asks for the right one.",
    remedy: "Name the code for the metal, or `code: none`.",
    limit: "Metals of the scope of each code; an error.",
    tables: &["code-scope", "metal-families"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[("/qualification/code", "iso-15614-1")] },
        Case { base: "tee-fillet-3-304l-141", edits: &[("/qualification/code", "iso-15614-2")] },
        Case { base: "tee-fillet-3-304l-141", edits: &[("/qualification/code", "aws-d1.2")] },
        Case { base: "tee-fillet-3-304l-141", edits: &[("/qualification/code", "aws-d1.3")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/qualification/code", "aws-d1.6")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/qualification/code", "iso-15614-2")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/qualification/code", "aws-d1.2")] },
        Case { base: "tee-fillet-3-304l-141", edits: &[("/qualification/code", "aws-d1.6")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/qualification/code", "aws-d1.3")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(code) = view.procedure.qualification.as_ref().and_then(|qualification| qualification.code) else { return };
    let Some(scope) = code_scope::get(code.as_str()) else { return };
    x.examined("/qualification/code");
    let outside = view.metals.iter().find(|metal| metal.known.is_some() && !scope.covers(metal.family()));
    if let Some(metal) = outside {
        x.report(
            Severity::Error,
            "/qualification/code",
            format!("{} does not cover {}", code.as_str(), metal.stated.specification),
        )
        .stated(code.as_str())
        .limit(format!("{} for {}", code.as_str(), scope.families.join(", ")), &scope.origin.source_ref())
        .hint("name the code for the metal, or write `code: none`");
    }
}
