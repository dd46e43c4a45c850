//! `prequalified-fillet-pass-too-large`: explanation, cases, logic.

use seamwright_handbook::Size;
use seamwright_handbook::aws_d1_1::quantity;
use seamwright_model::finding::Severity;
use seamwright_model::stated::Stated;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-fillet-pass-too-large",
    harm: Harm::Qualification,
    finds: "A fillet made in one pass that is larger than a prequalified procedure may make in one.",
    matters: "So much metal at once rolls over the edge, traps slag and does not reach the root.",
    remedy: "Weld it in more passes, or qualify the procedure by test.",
    limit: "Largest single-pass fillet of AWS D1.1 Table 5.1 by process and position; an error.",
    tables: &["aws-d1-1-prequalified"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[4F]"),
                ("/weld_size/leg", "1/2 in"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[PB]"),
                ("/weld_size/leg", "9 mm"),
            ],
        },
    ],
    sound: &[
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[4F]"),
                ("/weld_size/leg", "5/16 in"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/positions", "[3F]"),
                ("/weld_size/leg", "1/2 in"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/weld_size/leg", "12 mm"),
                ("/runs/0/run", "1-3"),
                ("/runs/0/layer", "fill"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let [run] = view.runs.as_slice() else { return };
    if !prequalified::applies(view) || run.several() || prequalified::weld(view, run) != "fillet" {
        return;
    }
    let Some(size) = view.procedure.weld_size.as_ref().and_then(Stated::value) else { return };
    let Some(leg) = size.leg.as_ref().and_then(Stated::value) else { return };
    let Some(largest) = leg.high() else { return };
    x.examined("/weld_size/leg");
    let size = Size::stated(largest, leg.unit());
    let Some(beyond) = prequalified::beyond(view, run, (quantity::SINGLE_PASS_FILLET, "fillet"), size) else { return };
    let limit = beyond.limit;
    x.report(
        Severity::Error,
        "/weld_size/leg",
        format!(
            "a leg of {} in one pass is too large for a prequalified fillet in position {} ({limit}, {})",
            leg.spelled(),
            beyond.position,
            beyond.part
        ),
    )
    .stated(leg.spelled())
    .limit(limit, &beyond.row.origin.source_ref())
    .hint("write more runs, or `route: test-record` with its record");
}
