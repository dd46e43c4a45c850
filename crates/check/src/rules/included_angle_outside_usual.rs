//! `included-angle-outside-usual`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Angle;
use seamwright_model::stated::Stated;

use crate::rule::range_text;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "included-angle-outside-usual",
    finds: "A groove angle outside what the preparation is usually given.",
    matters: "Too narrow a groove hides the root from the arc; too wide a one costs weld metal and distortion.",
    remedy: "Write an angle within the usual range.",
    limit: "The angle of the preparation in ISO 9692-1 and common practice; outside is a caution, far outside an error.",
    tables: &["joint-preparations"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/joint/included_angle", "150-160 deg")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(joint) = &x.view.procedure.joint else { return };
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) {
        return;
    }
    let Some(stated_range) = joint.included_angle.as_ref().and_then(Stated::value) else { return };
    let Some((envelope, usual, source)) = super::preparation_limits(x.view, super::angle_of) else {
        return;
    };
    let pointer = "/joint/included_angle";
    let stated = stated_range.spelled();
    let ends = (stated_range.low().map(Angle::degrees), stated_range.high().map(Angle::degrees));
    let outer = x.compare(pointer, stated, ends, usual, "deg", &source);
    if outer.below || outer.above {
        let far = ends.0.is_some_and(|low| low < envelope.low) || ends.1.is_some_and(|high| high > envelope.high);
        x.report(
            if far { Severity::Error } else { Severity::Caution },
            pointer,
            format!("angle {stated} lies outside the usual range ({})", range_text(usual, "deg")),
        )
        .stated(stated)
        .limit(range_text(usual, "deg"), &source)
        .hint(format!("write a value within {}", range_text(usual, "deg")));
    }
}
