//! Which ranges bind a procedure, at which places, and what to write to stay within.

use seamwright_handbook::measure;
use seamwright_model::finding::Basis;
use seamwright_model::procedure::WeldType;

use super::against::AgainstView;
use super::stated::of_process;
use crate::codes::code::Code;
use crate::codes::range::{Bounds, Effect, Qualified, THICKER_MEMBER};
use crate::codes::summary::{Ends, Summary, Value};

/// Whether a range says something of this procedure.
pub(super) fn applies(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> bool {
    let fillet = summary.weld == Some(WeldType::Fillet) && code.groove_covers_fillets();
    let size = matches!(range.variable, "base_metal_thickness" | "deposit_thickness" | "outside_diameter");
    let process = range.process.as_deref().is_none_or(|name| of_process(summary, name).is_some());
    !(fillet && size) && process && range.variable != "process"
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
    let high = |value: &Value<Ends>| value.value.1.unwrap_or(f64::INFINITY);
    let [first, .., last] = summary.thickness.as_slice() else { return None };
    let (thinner, thicker) = if high(first) <= high(last) { (first, last) } else { (last, first) };
    (high(thinner) < high(thicker)).then_some(thicker.pointer.as_str())
}

/// What to write to stay within bounds, and how far they are to be believed.
pub(super) fn hint(range: &Qualified, bounds: &Bounds) -> String {
    const VERIFY: &str = "verify against your edition";
    let within = match bounds {
        Bounds::Span { low: Some(low), high: None, unit } => {
            format!("no less than {}", measure::length_text(*low, unit))
        }
        Bounds::Span { low: None, high: Some(high), unit } => {
            format!("no more than {}", measure::length_text(*high, unit))
        }
        Bounds::Span { .. } => format!("a value within {}", bounds.text()),
        Bounds::Set(words) if words.len() > 1 => format!("one of {}", bounds.text()),
        Bounds::Set(_) | Bounds::All => bounds.text(),
    };
    let note = range.note.as_deref().filter(|note| !note.contains(VERIFY));
    let note = note.map_or_else(String::new, |note| format!(" ({note})"));
    let verify = if range.source.basis == Basis::FromMemory { format!("; {VERIFY}") } else { String::new() };
    format!("write {within}, or make a new test{note}{verify}")
}
