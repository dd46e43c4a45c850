//! `qualification-level-unknown`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_model::finding::Severity;

use crate::codes;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "qualification-level-unknown",
    harm: Harm::Qualification,
    finds: "A level that ISO 15614-1 does not have.",
    matters: "The level sets which tests were made and what they cover.",
    remedy: "Write level 1 or level 2.",
    limit: "Levels of ISO 15614-1:2017; an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification/level", "4")] }],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(qualification) = &x.view.procedure.qualification else { return };
    let (Some(code), Some(level)) = (qualification.code.and_then(codes::of), qualification.level.as_deref()) else {
        return;
    };
    let Some((limits, unit)) = code.levels().and_then(|row| limits(row, "")) else { return };
    let number = level.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    let own = number.map_or(Band::ANY, Band::at);
    let outer = x.compare("/qualification/level", level, own, limits.envelope, unit, &limits.source);
    if number.is_none() || outer.either() {
        x.report(Severity::Error, "/qualification/level", format!("level {level} is not in {}", code.title()))
            .stated(level)
            .limit(range_limit(limits.envelope, unit), &limits.source)
            .hint("write `level: 1` or `level: 2`");
    }
}
