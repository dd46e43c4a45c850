//! `code-does-not-cover-thickness`: explanation, cases, logic.

use seamwright_handbook::{Range, code_scope};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Rule, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "code-does-not-cover-thickness",
    finds: "A metal thinner than the code of qualification is written for.",
    matters: "AWS D1.1 leaves sheet to another code: its rules do not hold there.",
    remedy: "Name the code for sheet, or `code: none`.",
    limit: "Least thickness of the scope of each code; an error.",
    tables: &["code-scope"],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/qualification", "{route: test-record, code: aws-d1.1, records: [T-1]}")],
    }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[("/qualification", "{route: test-record, code: aws-d1.1, records: [T-1]}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(code) = view.procedure.qualification.as_ref().and_then(|qualification| qualification.code) else { return };
    let Some(scope) = code_scope::get(code.as_str()) else { return };
    let Some(least) = scope.thickness_least_mm else { return };
    let limit = Range::new(least, f64::INFINITY);
    let source = scope.origin.source_ref();
    for metal in &view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let pointer = metal.pointer("thickness");
        let stated = thickness.spelled();
        let low = thickness.low().map(Length::mm);
        if x.compare(&pointer, stated, (low, None), limit, "mm", &source).below {
            let text = range_text(limit, "mm");
            x.report(
                Severity::Error,
                pointer,
                format!("{} does not cover a thickness of {stated} ({text})", code.as_str()),
            )
            .stated(stated)
            .limit(text, &source)
            .hint("name the code for sheet, or write `code: none`");
        }
    }
}
