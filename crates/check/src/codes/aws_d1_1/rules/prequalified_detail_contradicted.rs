//! `prequalified-detail-contradicted`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::prequalified;
use crate::codes::aws_d1_1::details;
use crate::rule::{Case, Examiner, Harm, Rule};

/// A butt of 3/8 in A36 on a strip, made to detail B-U2a, with one value changed.
macro_rules! b_u2a {
    ($pointer:literal, $value:literal) => {
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/joint/detail", "B-U2a"), ($pointer, $value)] }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-detail-contradicted",
    harm: Harm::Qualification,
    finds: "A joint that names a detail of AWS D1.1 and is not that detail.",
    matters: "Only what the figure shows is prequalified: another opening, angle or position needs a test.",
    remedy: "Write the figures of the detail, name the detail that the joint is, or qualify the procedure by test.",
    limit: "Figures 5.1 and 5.2 of AWS D1.1 with their tolerances: past what fit-up may have an error, past what may be drawn a caution; where the procedure is not prequalified a caution.",
    tables: &["aws-d1-1-joints", "aws-d1-1-fit-up"],
    examine,
    faulty: &[
        // 1/4 in +1/16 -0 as detailed, +1/4 -1/16 as fitted up; 6 mm +2 -0 and +6 -2.
        b_u2a!("/joint/root_gap", "1/8 in"),
        b_u2a!("/joint/root_gap", "3/16 in"),
        b_u2a!("/joint/root_gap", "3/16-17/32 in"),
        b_u2a!("/joint/root_gap", "3 mm"),
        b_u2a!("/joint/root_gap", "4-13 mm"),
        b_u2a!("/joint/included_angle", "35 deg"),
        b_u2a!("/joint/included_angle", "60 deg"),
        b_u2a!("/joint/root_face", "1/8 in"),
        b_u2a!("/joint/backing", "{type: ceramic}"),
        b_u2a!("/joint/backing", "none"),
        b_u2a!("/joint/type", "tee"),
        b_u2a!("/joint/preparation", "double-v"),
        b_u2a!("/joint/penetration", "partial"),
        b_u2a!("/joint/detail", "B-L1a"),
        b_u2a!("/joint/detail", "B-U2a-GF"),
        // An opening of 3/8 in with 30 degrees is not for horizontal.
        Case {
            base: "butt-3-8-in-a36-111-3g",
            edits: &[
                ("/joint/detail", "B-U2a"),
                ("/joint/root_gap", "3/8 in"),
                ("/joint/included_angle", "30 deg"),
                ("/positions", "[2G]"),
            ],
        },
    ],
    sound: &[
        b_u2a!("/joint/root_gap", "1/4 in"),
        b_u2a!("/joint/root_gap", "5/16 in"),
        b_u2a!("/joint/root_gap", "3/16-1/2 in"),
        b_u2a!("/joint/root_gap", "6 mm"),
        b_u2a!("/joint/root_gap", "8 mm"),
        b_u2a!("/joint/root_gap", "4-12 mm"),
        b_u2a!("/joint/included_angle", "40-55 deg"),
        b_u2a!("/positions", "[2G]"),
        Case {
            base: "butt-3-4-in-a572-136-1g",
            edits: &[("/joint/detail", "B-U2a-GF"), ("/joint/root_gap", "3/8 in")],
        },
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let Some(name) = joint.detail.as_deref() else { return };
    let Some((row, faults)) = details::of(view, joint, name) else { return };
    x.examined("/joint/detail");
    let firm = prequalified::applies(view);
    let source = row.origin.source_ref();
    for fault in faults {
        let severity = if firm { fault.severity } else { Severity::Caution };
        let message = format!("{} is not that of {} ({})", fault.what, row.designation, fault.limit);
        x.report(severity, fault.pointer, message)
            .stated(fault.stated)
            .limit(fault.limit, &source)
            .hint("write what the figure has, name another detail, or `route: test-record` with its record");
    }
}
