//! Which ranges bind a procedure, at which places, and what to write to stay within.

use seamwright_handbook::{Band, measure};
use seamwright_model::finding::Basis;
use seamwright_model::procedure::WeldType;
use seamwright_weld::View;

use super::against::AgainstView;
use super::stated::of_process;
use crate::codes::code::Code;
use crate::codes::range::{Bounds, Effect, Qualified, THICKER_MEMBER};
use crate::codes::summary::{Summary, Value};

/// Whether a range says something of this procedure.
pub(super) fn applies(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> bool {
    let fillet = summary.weld == Some(WeldType::Fillet) && code.groove_covers_fillets();
    let size = matches!(range.variable, "base_metal_thickness" | "deposit_thickness" | "outside_diameter");
    let groove = matches!(range.variable, "groove_angle" | "root_opening" | "root_face");
    let of_groove = groove && summary.weld == Some(WeldType::Fillet);
    let process = range.process.as_deref().is_none_or(|name| of_process(summary, name).is_some());
    !(of_groove || fillet && size) && process && range.variable != "process"
}

/// What a range binds a procedure to at a place, in the unit that stands there; nothing where it does not bind.
///
/// Supplementary limits bind where impact tests are asked for, or as the code has it. The thicker of two members may have no
/// upper limit.
pub(super) fn binding(
    view: &AgainstView<'_>,
    summary: &Summary<'_>,
    range: &Qualified,
    (place, customary): (&str, bool),
) -> Option<Bounds> {
    let bounds = range.bounds_for(customary);
    if range.effect == Effect::Supplementary && !summary.toughness {
        return view.code.without_impact_tests(range, bounds);
    }
    let uncapped = || {
        let of = |own: &&Qualified| own.variable == THICKER_MEMBER && own.records == range.records;
        view.ranges.iter().any(|own| of(&own)) && thicker_member(summary).is_some_and(|own| own == place)
    };
    if range.variable == "base_metal_thickness" && uncapped() {
        return bounds.uncapped(true);
    }
    Some(bounds.clone())
}

/// Place of the thickness of the thicker member, where two members differ.
fn thicker_member<'s>(summary: &'s Summary<'_>) -> Option<&'s str> {
    let high = |value: &Value<Band>| value.value.high;
    let [first, .., last] = summary.thickness.as_slice() else { return None };
    let (thinner, thicker) = if high(first) <= high(last) { (first, last) } else { (last, first) };
    (high(thinner) < high(thicker)).then_some(thicker.pointer.as_str())
}

/// What to write to stay within bounds, and how far they are to be believed.
pub(super) fn hint(view: &AgainstView<'_>, range: &Qualified, bounds: &Bounds) -> String {
    const VERIFY: &str = "verify against your edition";
    let plain = || match bounds {
        Bounds::Span { span, exclusive } => match (span.band.low_end(), span.band.high_end()) {
            (Some(low), None) if !exclusive.0 => format!("no less than {}", measure::length_text(low, span.unit)),
            (None, Some(high)) if !exclusive.1 => format!("no more than {}", measure::length_text(high, span.unit)),
            (Some(_), Some(_)) => format!("a value within {}", bounds.text()),
            _ => format!("a value {}", bounds.text()),
        },
        Bounds::Set(words) if words.len() > 1 => format!("one of {}", bounds.text()),
        Bounds::Set(_) | Bounds::All => bounds.text(),
    };
    let within = match range.variable {
        "heat_input" => format!("settings that give {}", plain()),
        _ => such_as(view, range, bounds).unwrap_or_else(plain),
    };
    let note = range.note.as_deref().filter(|note| !note.contains(VERIFY));
    let note = note.map_or_else(String::new, |note| format!(" ({note})"));
    let verify = if range.source.basis == Basis::FromMemory { format!("; {VERIFY}") } else { String::new() };
    format!("write {within}, or make a new test{note}{verify}")
}

/// Of a range in groups, what may be written for one: the value of the record that has it.
fn such_as(view: &AgainstView<'_>, range: &Qualified, bounds: &Bounds) -> Option<String> {
    let record = view.records.iter().find(|own| range.records.iter().any(|one| *own.identification.number == **one))?;
    let procedure = record.to_procedure();
    let welded = View::new(&procedure);
    let tested = Summary::of(&welded);
    let filler = || {
        let process = of_process(&tested, range.process.as_deref()?)?;
        Some(process.fillers.first()?.stated.clone())
    };
    let (what, value) = match range.variable {
        "base_metal_group" | "yield_strength" => {
            let mut names: Vec<String> =
                welded.metals.iter().map(|metal| metal.stated.specification.to_string()).collect();
            names.dedup();
            ("a metal", names.join(" to "))
        }
        "f_number" | "a_number" | "pipeline_filler_group" | "filler_strength" => ("a filler", filler()?),
        "position" | "pipe_position" => ("a position", tested.positions.first()?.stated.clone()),
        "joint_design" => {
            let shape = procedure.joint.as_ref()?.preparation.as_ref()?.value()?;
            ("a preparation", shape.to_string())
        }
        _ => return None,
    };
    let own_name = |words: &[String]| words.contains(&value);
    let group = match bounds {
        Bounds::Set(words) if own_name(words) && words.len() == 1 => return Some(format!("`{value}`")),
        Bounds::Set(words) if !what.ends_with("position") && !what.ends_with("preparation") && words.len() < 4 => {
            let mut words: Vec<&str> = words.iter().map(|word| alone(word)).collect();
            words.dedup();
            let numbered = words.iter().all(|word| word.starts_with(|own: char| own.is_ascii_digit()));
            format!(" of {}{}", if numbered { "group " } else { "" }, words.join(", "))
        }
        _ => String::new(),
    };
    Some(format!("{what}{group} such as `{value}`"))
}

/// One side of a pair whose sides are alike.
fn alone(word: &str) -> &str {
    word.split_once(" to ").filter(|(one, other)| one == other).map_or(word, |(one, _)| one)
}
