//! `conditions-overlap`: explanation, cases, logic.

use seamwright_handbook::{Size, positions};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Condition;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::source::escape;
use seamwright_model::stated::{Stated, Text};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "conditions-overlap",
    harm: Harm::Instruction,
    finds: "Two conditions that hold for the same joint, or that nothing on the joint tells apart.",
    matters: "The welder finds two settings for one joint, and nobody can say which were meant.",
    remedy: "Let each thickness, outside diameter and position stand under one condition.",
    limit: "Thicknesses, outside diameters, positions and joints that the document states for its conditions.",
    tables: &["variables"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-3 mm}, thick: {thickness: 2-4 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1/16-3/16 in}, thick: {thickness: 1/8-1/4 in}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{level: {positions: [PA, PB]}, upright: {positions: [PB, PF]}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-3 mm}, upright: {positions: [PF]}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{summer: {}, winter: {temperatures: {preheating: 50 °C minimum}}}")],
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
                "{level: {thickness: 1-3 mm, positions: [PA, PB]}, upright: {thickness: 1-4 mm, positions: [PF]}}",
            )],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[(
                "/conditions",
                "{tight: {joint: {type: lap, root_gap: 0 mm}}, open: {joint: {type: lap, root_gap: 1 mm}}}",
            )],
        },
    ],
};

/// A size by which conditions are told apart: its key, and what a condition states of it.
pub(super) type SizeOf = (&'static str, fn(&Condition) -> Option<&Range<Length>>);

/// The sizes by which conditions are told apart.
pub(super) const SIZES: [SizeOf; 2] = [
    ("thickness", |own| own.thickness.as_ref().and_then(Stated::value)),
    ("outside_diameter", |own| own.outside_diameter.as_ref().and_then(Stated::value)),
];

fn examine(x: &mut Examiner<'_>) {
    let all: Vec<(&str, &Condition)> = x.view.procedure.conditions.iter().collect();
    for (at, (name, own)) in all.iter().enumerate() {
        for (other_name, other) in &all[at + 1..] {
            let key = told_by(other);
            let pointer = format!("/conditions/{}{key}", escape(other_name));
            x.examined(&pointer);
            let Some(shared) = shared(own, other) else { continue };
            let message = if shared.is_empty() {
                format!("nothing on the joint tells `{name}` from `{other_name}`")
            } else {
                format!("both `{name}` and `{other_name}` hold {}", shared.join(", "))
            };
            x.report(Severity::Caution, pointer, message).stated(*other_name).hint(format!(
                "state thickness, outside_diameter, positions or joint of `{name}` and `{other_name}` so that one alone holds"
            ));
        }
    }
}

/// The key by which a condition is told from others, as the end of a pointer.
fn told_by(own: &Condition) -> &'static str {
    match (&own.thickness, &own.outside_diameter, own.positions.is_empty()) {
        (Some(_), ..) => "/thickness",
        (None, Some(_), _) => "/outside_diameter",
        (None, None, false) => "/positions",
        _ => "",
    }
}

/// Where two conditions hold both, in words; nothing where one alone holds for every joint.
fn shared(one: &Condition, other: &Condition) -> Option<Vec<String>> {
    let mut words = Vec::new();
    for (key, of) in SIZES {
        match (of(one), of(other)) {
            (Some(own), Some(next)) => words.push(format!("for {} {}", key.replace('_', " "), common(own, next)?)),
            (Some(own), None) | (None, Some(own)) => words.push(format!("for {} {own}", key.replace('_', " "))),
            (None, None) => {}
        }
    }
    let positions = match (one.positions.as_slice(), other.positions.as_slice()) {
        ([], own) | (own, []) => own.iter().map(ToString::to_string).collect(),
        (own, next) => {
            let both: Vec<String> =
                own.iter().filter(|code| next.iter().any(|own| is_same(code, own))).map(ToString::to_string).collect();
            (!both.is_empty()).then_some(both)?
        }
    };
    if !positions.is_empty() {
        words.push(format!("in {}", positions.join(", ")));
    }
    // The joint itself shows which is meant, where nothing else is said to tell them apart.
    let differs = one.joint != other.joint || one.weld_size != other.weld_size;
    (!(words.is_empty() && differs)).then_some(words)
}

/// The sizes of two ranges in common, in words; a common end is none.
fn common(one: &Range<Length>, other: &Range<Length>) -> Option<String> {
    let low = [one.low(), other.low()].into_iter().flatten().max();
    let high = [one.high(), other.high()].into_iter().flatten().min();
    let text = |own: Length| Size::stated(own, one.unit()).text();
    match (low, high) {
        (Some(low), Some(high)) if low < high => Some(format!("{} to {}", text(low), text(high))),
        (Some(low), Some(high)) => {
            // A single value meets a range inside it, or the same value.
            let inside =
                |own: &Range<Length>| own.low() == own.high() || own.low() < Some(low) && own.high() > Some(low);
            (low == high && inside(one) && inside(other)).then(|| text(low))
        }
        (Some(low), None) => Some(format!("from {}", text(low))),
        (None, Some(high)) => Some(format!("up to {}", text(high))),
        (None, None) => Some("of any size".to_owned()),
    }
}

/// Whether two codes stand for one position.
fn is_same(one: &Text, other: &Text) -> bool {
    match (positions::get(one), positions::get(other)) {
        (Some(own), Some(next)) => own.code == next.code || own.equivalent.contains(&next.code),
        _ => one == other,
    }
}
