//! `conditions-leave-gap`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::Condition;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::source::escape;

use super::conditions_overlap::SIZES;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "conditions-leave-gap",
    harm: Harm::Instruction,
    finds: "Thicknesses or outside diameters for which no condition holds: between those of two conditions, or of the metals themselves beyond those of all.",
    matters: "A joint of that size has no settings, and the welder guesses which condition is meant.",
    remedy: "Let one condition begin where the other ends, and the outermost reach as far as the metals are stated.",
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
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/thickness", "1-6 mm"),
                ("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 2-4 mm}}"),
            ],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/thickness", "1/32-1/4 in"),
                ("/conditions", "{thin: {thickness: 1/16-1/8 in}, thick: {thickness: 1/8-1/4 in}}"),
            ],
        },
    ],
    sound: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/thickness", "1-6 mm"),
                ("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 2-6 mm}}"),
            ],
        },
        // The one that names no thickness holds for all that the metal has.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/thickness", "1-6 mm"),
                ("/conditions", "{thin: {thickness: 1-2 mm, positions: [PB]}, rest: {positions: [PA]}}"),
            ],
        },
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
        beyond(x, key, &all.iter().map(|(name, own)| (*name, of(own))).collect::<Vec<_>>());
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

/// Reports what the metals are stated to have beyond the outermost conditions. One that does not state the size holds for all
/// of it, and members that differ are not told apart.
fn beyond(x: &mut Examiner<'_>, key: &str, all: &[(&str, Option<&Range<Length>>)]) {
    let view = x.view;
    let sizes = view.metals.iter().filter_map(|metal| {
        let stated = &metal.stated;
        let own = if key == "thickness" { &stated.thickness } else { &stated.outside_diameter };
        Some((metal.pointer(key), own.as_ref()?.value()?))
    });
    let mut sizes = sizes.collect::<Vec<_>>();
    sizes.dedup_by(|(_, next), (_, own)| next == own);
    let ([(pointer, own)], Some(ranges)) =
        (sizes.as_slice(), all.iter().map(|(name, range)| Some((*name, (*range)?))).collect::<Option<Vec<_>>>())
    else {
        return;
    };
    let first = ranges.iter().min_by_key(|(_, range)| range.low());
    // One that is open upwards reaches furthest.
    let last = ranges.iter().max_by_key(|(_, range)| (range.high().is_none(), range.high()));
    let below = first.filter(|(_, range)| own.low().zip(range.low()).is_some_and(|(own, low)| own < low));
    let above = last.filter(|(_, range)| own.high().zip(range.high()).is_some_and(|(own, high)| own > high));
    for (outermost, side) in [(below, "below"), (above, "above")] {
        let Some((name, range)) = outermost else { continue };
        x.report(Severity::Caution, pointer.clone(), format!("no condition holds {side} `{name}` ({range})"))
            .stated(own.spelled())
            .hint(format!("let `{name}` reach as far, or state what the conditions cover"));
    }
}
