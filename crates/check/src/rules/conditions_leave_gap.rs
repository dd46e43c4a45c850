//! `conditions-leave-gap`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::Condition;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::source::escape;

use super::conditions_overlap::SIZES;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "conditions-leave-gap",
    finds: "Thicknesses or outside diameters between those of two conditions for which no condition holds.",
    matters: "A joint of that size has no settings, and the welder guesses which condition is meant.",
    remedy: "Let one condition begin where the other ends.",
    limit: "The thicknesses and outside diameters that the document states for its conditions.",
    tables: &["variables"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 3-4 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1/16-1/8 in}, thick: {thickness: 3/16-1/4 in}}")],
        },
        Case {
            base: "pipe-butt-a106-111",
            edits: &[("/conditions", "{small: {outside_diameter: 60-114 mm}, large: {outside_diameter: 168-324 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[(
                "/conditions",
                "{a: {thickness: 1-2 mm, positions: [PB]}, b: {thickness: 3-4 mm, positions: [PB]}, c: {thickness: 1-4 mm, positions: [PF]}}",
            )],
        },
    ],
    sound: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 2-4 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1/16-1/8 in}, thick: {thickness: 1/8-1/4 in}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[(
                "/conditions",
                "{level: {thickness: 1-2 mm, positions: [PB]}, upright: {thickness: 3-4 mm, positions: [PF]}}",
            )],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for (key, of) in SIZES {
        let all: Vec<(&str, &Condition)> = x.view.procedure.conditions.iter().collect();
        // Conditions that something else tells apart as well need not meet: only those that agree in the rest are a row.
        let rest = |own: &Condition| {
            let sizes: Vec<_> =
                SIZES.iter().filter(|(other, _)| *other != key).map(|(_, of)| of(own).cloned()).collect();
            (sizes, own.positions.clone())
        };
        for (at, (_, first)) in all.iter().enumerate() {
            if all[..at].iter().any(|(_, own)| rest(own) == rest(first)) {
                continue;
            }
            let row: Vec<&(&str, &Condition)> = all.iter().filter(|(_, own)| rest(own) == rest(first)).collect();
            gaps(x, key, row.iter().filter_map(|(name, own)| Some((*name, of(own)?.clone()))).collect());
        }
    }
}

/// Reports what lies between two ranges that follow each other.
fn gaps(x: &mut Examiner<'_>, key: &str, mut all: Vec<(&str, Range<Length>)>) {
    all.sort_by_key(|(_, range)| range.low());
    // The condition that reaches furthest so far.
    let mut last: Option<(&str, Range<Length>)> = None;
    for (next, after) in all {
        let pointer = format!("/conditions/{}/{key}", escape(next));
        x.examined(&pointer);
        if let Some((name, range)) = &last
            && range.high().zip(after.low()).is_some_and(|(high, low)| low > high)
        {
            let message = format!("no condition holds between `{name}` ({range}) and `{next}` ({after})");
            x.report(Severity::Caution, pointer, message)
                .stated(after.spelled())
                .hint(format!("let `{next}` begin where `{name}` ends"));
        }
        let further = last.as_ref().is_none_or(|(_, range)| match (range.high(), after.high()) {
            (Some(high), Some(own)) => own > high,
            (None, _) => false,
            (Some(_), None) => true,
        });
        if further {
            last = Some((next, after));
        }
    }
}
