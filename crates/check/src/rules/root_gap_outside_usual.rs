//! `root-gap-outside-usual`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::range_text;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "root-gap-outside-usual",
    finds: "A root gap outside what the preparation is usually given.",
    matters: "Too narrow a gap leaves the root unfused, too wide a one falls through.",
    remedy: "Write a gap within the usual range, or choose the preparation that goes with the gap.",
    limit: "The gap of the preparation in ISO 9692-1; outside the row is a caution, beyond twice its high end an error.",
    tables: &["joint-preparations"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/joint/root_gap", "15-18 mm")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(joint) = &x.view.procedure.joint else { return };
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) {
        return;
    }
    let Some(stated_range) = joint.root_gap.as_ref().and_then(Stated::value) else { return };
    let Some((envelope, usual, source)) = super::preparation_limits(x.view, super::gap_of) else {
        return;
    };
    let pointer = "/joint/root_gap";
    let stated = stated_range.spelled();
    let ends = (stated_range.low().map(Length::mm), stated_range.high().map(Length::mm));
    let outer = x.compare(pointer, stated, ends, usual, "mm", &source);
    if outer.below || outer.above {
        let far = ends.0.is_some_and(|low| low < envelope.low) || ends.1.is_some_and(|high| high > envelope.high);
        x.report(
            if far { Severity::Error } else { Severity::Caution },
            pointer,
            format!("root gap {stated} lies outside the usual range ({})", range_text(usual, "mm")),
        )
        .stated(stated)
        .limit(range_text(usual, "mm"), &source)
        .hint(format!("write a value within {}", range_text(usual, "mm")));
    }
}
