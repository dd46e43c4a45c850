//! `prequalified-groove-unlisted`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;
use seamwright_model::stated::Stated;

use super::prequalified;
use crate::codes::aws_d1_1::details;
use crate::rule::{Case, Examiner, Harm, Rule};

/// A prequalified butt on a strip that names no detail, with one value changed.
macro_rules! groove {
    ($pointer:literal, $value:literal) => {
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/joint/detail", ""), ($pointer, $value)] }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-groove-unlisted",
    harm: Harm::Qualification,
    finds: "A groove called prequalified that is none of the details of AWS D1.1.",
    matters: "Outside the figures no groove is prequalified, and no test stands behind it.",
    remedy: "Change the groove to the nearest detail and name it under `joint: detail`, or qualify it by test.",
    limit: "Figures 5.1 and 5.2 of AWS D1.1 with what fit-up may have; an error. Pipe is not looked at.",
    tables: &["aws-d1-1-joints", "aws-d1-1-fit-up"],
    examine,
    faulty: &[
        groove!("/joint/root_gap", "1/8 in"),
        groove!("/joint/root_gap", "3 mm"),
        groove!("/joint/backing", "none"),
        groove!("/joint/included_angle", "70 deg"),
    ],
    sound: &[
        groove!("/joint/root_gap", "1/4 in"),
        groove!("/joint/root_gap", "6 mm"),
        groove!("/joint/root_gap", "3/16 in"),
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[("/joint/detail", "")] },
        Case { base: "tee-fillet-3-8-in-a992-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let pipe = view.metals.iter().any(|metal| metal.stated.outside_diameter.as_ref().and_then(Stated::value).is_some());
    if !prequalified::applies(view)
        || joint.detail.is_some()
        || pipe
        || !view.weld().is_some_and(WeldType::has_groove)
        || joint.preparation.as_ref().and_then(Stated::value).is_none()
    {
        return;
    }
    let Some((row, faults)) = details::nearest(view, joint) else { return };
    x.examined("/joint");
    let Some(fault) = faults.into_iter().find(|fault| fault.severity == Severity::Error) else { return };
    let message = format!(
        "{} is none of a prequalified detail; the nearest is {} ({})",
        fault.what, row.designation, fault.limit
    );
    x.report(Severity::Error, fault.pointer, message)
        .stated(fault.stated)
        .limit(fault.limit, &row.origin.source_ref())
        .hint(format!("write the figures of the detail and `detail: {}`, or `route: test-record`", row.designation));
}
