//! `prequalified-electrode-too-large`: explanation, cases, logic.

use seamwright_handbook::aws_d1_1::quantity;
use seamwright_handbook::{Size, find};
use seamwright_model::finding::Severity;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-electrode-too-large",
    harm: Harm::Qualification,
    finds: "An electrode or wire larger than a prequalified procedure may have in its position.",
    matters: "Outside the table the procedure is not prequalified, and no test stands behind it.",
    remedy: "Take a smaller electrode, or qualify the procedure by test.",
    limit: "Largest electrode of AWS D1.1 Table 5.1 by process, position and weld; an error.",
    tables: &["aws-d1-1-prequalified"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[4F]"),
                ("/fillers/electrode/diameter", "1/4 in"),
            ],
        },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[PD]"),
                ("/fillers/wire/diameter", "2.4 mm"),
            ],
        },
    ],
    sound: &[
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[4F]"),
                ("/fillers/electrode/diameter", "3/16 in"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[1F]"),
                ("/fillers/electrode/diameter", "5/16 in"),
            ],
        },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/qualification", "{route: prequalified, code: aws-d1.1}")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    if !prequalified::applies(x.view) {
        return;
    }
    for run in &x.view.runs {
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(stated) = filler.diameter.as_ref().and_then(Stated::value) else { continue };
        let Some(largest) = stated.high() else { continue };
        let pointer = format!("/fillers/{}/diameter", escape(name.value));
        x.examined(&pointer);
        let weld = prequalified::weld(x.view, run);
        let size = Size::stated(largest, stated.unit());
        let beyond = prequalified::beyond(x.view, run, (quantity::ELECTRODE_DIAMETER, weld), size);
        // 5.0 mm and 3/16 in are one size.
        let Some(beyond) = beyond.filter(|own| !find::same_size(size.mm(), own.largest_mm)) else { continue };
        let limit = beyond.limit;
        x.report(
            Severity::Error,
            pointer,
            format!(
                "{} is too large for a prequalified {weld} weld in position {} ({limit}, {})",
                stated.spelled(),
                beyond.position,
                beyond.part
            ),
        )
        .stated(stated.spelled())
        .limit(limit, &beyond.row.origin.source_ref())
        .hint(format!("write `diameter: {}`, or `route: test-record` with its record", beyond.largest));
    }
}
