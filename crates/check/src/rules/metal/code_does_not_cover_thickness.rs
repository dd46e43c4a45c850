//! `code-does-not-cover-thickness`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, code_scope};
use seamwright_model::finding::{Severity, SourceRef};
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "code-does-not-cover-thickness",
    harm: Harm::Qualification,
    finds: "A metal thinner or thicker than the code of qualification is written for.",
    matters: "AWS D1.1 leaves sheet to AWS D1.3, and that leaves plate to it: the rules of each do not hold there.",
    remedy: "Name the code for the thickness, or `code: none`.",
    limit: "Thickness of the scope of each code; an error.",
    tables: &["code-scope"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/qualification", "{route: test-record, code: aws-d1.1, records: [T-1]}")],
        },
        Case {
            base: "tee-fillet-6-s235-111",
            edits: &[("/qualification", "{route: test-record, code: aws-d1.3, records: [T-1]}")],
        },
        Case {
            base: "tee-fillet-3-304l-141",
            edits: &[
                ("/qualification", "{route: test-record, code: aws-d1.6, records: [T-1]}"),
                ("/parent_metals/0/thickness", "1.4 mm"),
            ],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/qualification", "{route: test-record, code: aws-d1.3, records: [T-1]}")],
        },
        Case {
            base: "tee-fillet-3-8-in-a992-136",
            edits: &[
                ("/qualification", "{route: test-record, code: aws-d1.3, records: [T-1]}"),
                (
                    "/parent_metals",
                    "[{specification: A36, thickness: 3/16 in}, {specification: A992, thickness: 3/8 in}]",
                ),
            ],
        },
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
    if let Some(most) = scope.thickness_most_mm {
        too_thick(x, code.as_str(), Band::at_most(most), &scope.origin.source_ref());
    }
    let Some(least) = scope.thickness_least_mm else { return };
    let limit = Band::at_least(least);
    let source = scope.origin.source_ref();
    for metal in &view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let pointer = metal.pointer("thickness");
        let stated = thickness.spelled();
        if x.compare(&pointer, stated, Band::at_least(band(thickness, Length::mm).low), limit, "mm", &source).below {
            let text = range_limit(limit, "mm");
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

/// Sheet may lie on thicker metal: the thinnest part counts.
fn too_thick(x: &mut Examiner<'_>, code: &str, limit: Band, source: &SourceRef) {
    let view = x.view;
    let thinnest = view.metals.iter().filter_map(|metal| {
        let stated = metal.stated.thickness.as_ref().and_then(Stated::value)?;
        Some((stated.high().or(stated.low())?, stated, metal.pointer("thickness")))
    });
    let Some((size, stated, pointer)) = thinnest.min_by_key(|(size, ..)| *size) else { return };
    let spelled = stated.spelled();
    if x.compare(&pointer, spelled, Band::at_most(size.mm()), limit, "mm", source).above {
        let text = range_limit(limit, "mm");
        x.report(Severity::Error, pointer, format!("{code} does not cover a thickness of {spelled} ({text})"))
            .stated(spelled)
            .limit(text, source)
            .hint("name the code for plate, or write `code: none`");
    }
}
