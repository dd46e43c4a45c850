//! A procedure that leaves a choice, as the procedures of which each holds for one: several conditions, and fillers or sizes of
//! which any may be taken.

use std::collections::HashSet;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::procedure::{Condition, Procedure, Quantity as Stretch, Run, Settings, keys};
use crate::quantity::{Length, alternatives};
use crate::source::{escape, steps};
use crate::stated::{OrNone, Stated, Text};

/// How many conditions, and how many different choices under each, are told apart: no page of a procedure holds more.
const MOST: usize = 64;
/// How many runs all the procedures that a document stands for may have together.
const RUNS: usize = 20_000;

/// One of the procedures that a document stands for.
#[derive(Debug, Clone)]
pub struct Variant {
    /// What it is told by: its condition, or what is taken: `thick`, `with ER70S-3`.
    pub name: String,
    /// The procedure, with one value wherever there was a choice.
    pub procedure: Procedure,
    /// The condition that it is for: its name, and what it states.
    condition: Option<(String, Value)>,
    /// The place of each of its runs in the document.
    runs: Vec<usize>,
}

impl Variant {
    /// The condition that it is for.
    pub fn condition(&self) -> Option<&str> {
        self.condition.as_ref().map(|(name, _)| name.as_str())
    }

    /// JSON pointer in the document of a value of this variant.
    pub fn pointer(&self, own: &str) -> String {
        let mut parts = steps(own);
        let (first, second) = (parts.next(), parts.next());
        if let (Some("runs"), Some(place)) =
            (first.as_deref(), second.as_deref().and_then(|at| at.parse::<usize>().ok()))
        {
            let below: String = parts.map(|step| format!("/{}", escape(&step))).collect();
            return format!("/runs/{}{below}", self.runs.get(place).unwrap_or(&place));
        }
        let Some((name, stated)) = &self.condition else { return own.to_owned() };
        let of_metal = own.strip_prefix("/parent_metals/").and_then(|own| own.split_once('/')).map(|(_, key)| key);
        let key = match of_metal {
            Some(key @ ("thickness" | "outside_diameter")) => format!("/{key}"),
            Some(_) => return own.to_owned(),
            None => own.to_owned(),
        };
        if stated.pointer(&key).is_some() { format!("/conditions/{}{key}", escape(name)) } else { own.to_owned() }
    }
}

/// Whether a document leaves a choice; most leave none, and are not copied to find out.
fn leaves_choice(procedure: &Procedure) -> bool {
    let or = |text: &str| text.contains(" or ");
    let size = |size: &Stretch<Length>| size.as_ref().and_then(Stated::value).is_some_and(|own| or(own.spelled()));
    let text = |own: &Option<Text>| own.as_deref().is_some_and(or);
    let choice = |own: &Settings| {
        let gas = own.shielding_gas.as_ref().and_then(OrNone::value);
        text(&own.filler)
            || own.tungsten.as_ref().is_some_and(|own| text(&own.designation) || size(&own.diameter))
            || own
                .torch
                .as_ref()
                .is_some_and(|own| text(&own.size) || own.nozzle.as_deref().is_some_and(|own| nozzles(own).len() > 1))
            || gas.is_some_and(|gas| text(&gas.designation))
    };
    !procedure.conditions.is_empty()
        || procedure.fillers.iter().any(|(_, own)| or(&own.designation) || size(&own.diameter))
        || procedure.processes.iter().any(|(_, own)| choice(own))
        || procedure.runs.iter().any(|own| choice(&own.settings))
}

/// The first place at which a document leaves more open than is told apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beyond {
    /// JSON pointer.
    pub pointer: String,
    /// How many there are in all, in words.
    pub found: String,
    /// How many there may be.
    pub most: usize,
}

/// What a document leaves open beyond what is told apart, so that it must not be read.
pub fn beyond(procedure: &Procedure) -> Option<Beyond> {
    if !leaves_choice(procedure) {
        return None;
    }
    let conditions: Vec<&str> = procedure.conditions.keys().collect();
    if let Some(name) = conditions.get(MOST) {
        let (pointer, found) = (format!("/conditions/{}", escape(name)), format!("{} conditions", conditions.len()));
        return Some(Beyond { pointer, found, most: MOST });
    }
    let (mut found, mut own) = (Vec::new(), procedure.clone());
    slots(&mut own, &mut |pointer, slot| {
        let all = slot.all();
        if all.len() > 1 {
            found.extend(all.into_iter().skip(1).map(|other| (pointer(), other)));
        }
    });
    let condition = |pointer: &str| {
        let index = pointer.strip_prefix("/runs/")?.split('/').next()?.parse::<usize>().ok()?;
        procedure.runs.get(index)?.condition.as_deref()
    };
    let each = if conditions.is_empty() { vec![None] } else { conditions.into_iter().map(Some).collect() };
    let mut runs = 0;
    let many = each.into_iter().find_map(|own| {
        let holds = |pointer: &str| own.is_none() || condition(pointer).is_none_or(|of| Some(of) == own);
        let mut seen = HashSet::new();
        let held = found.iter().filter(|(pointer, other)| holds(pointer) && seen.insert(other));
        let pointers: Vec<&String> = held.map(|(pointer, _)| pointer).collect();
        let held = |of: &Run| own.is_none() || of.condition.as_deref().is_none_or(|of| Some(of) == own);
        // The same choice in many places is one, as in [`each_choice`].
        let all = found.iter().filter(|(pointer, _)| holds(pointer)).count();
        let choices = if all > MOST { pointers.len() } else { all };
        runs += procedure.runs.iter().filter(|run| held(run)).count() * (1 + choices);
        let pointer = (*pointers.get(MOST)?).clone();
        Some(Beyond { pointer, found: format!("{} different choices", pointers.len()), most: MOST })
    });
    let found = format!("{runs} runs over all its conditions and choices");
    many.or_else(|| (runs > RUNS).then(|| Beyond { pointer: "/runs".to_owned(), found, most: RUNS }))
}

/// The procedures that a document stands for; none where it leaves no choice.
pub fn variants(procedure: &Procedure) -> Vec<Variant> {
    if !leaves_choice(procedure) {
        return Vec::new();
    }
    let conditions: Vec<Variant> = if procedure.conditions.is_empty() {
        let runs = (0..procedure.runs.len()).collect();
        vec![Variant { name: String::new(), procedure: procedure.clone(), condition: None, runs }]
    } else {
        procedure.conditions.iter().map(|(name, condition)| under(procedure, name, condition)).collect()
    };
    let all: Vec<Variant> = conditions.into_iter().flat_map(each_choice).collect();
    if all.len() > 1 || all.iter().any(|own| own.condition.is_some()) { all } else { Vec::new() }
}

/// The first choice whose condition holds for a thickness (mm), else the first of all; none where the document leaves none.
pub fn of_thickness(procedure: &Procedure, thickness_mm: Option<f64>) -> Option<Variant> {
    let mut all = variants(procedure);
    let holds = |own: &Variant| {
        let name = own.condition()?;
        let range = procedure.conditions.get(name)?.thickness.as_ref()?.value()?;
        range.contains(Length::from_mm(thickness_mm?)?).then_some(())
    };
    let at = all.iter().position(|own| holds(own).is_some()).unwrap_or_default();
    (at < all.len()).then(|| all.swap_remove(at))
}

fn under(procedure: &Procedure, name: &str, condition: &Condition) -> Variant {
    let mut own = procedure.clone();
    for metal in &mut own.parent_metals {
        metal.thickness = condition.thickness.clone().or(metal.thickness.take());
        metal.outside_diameter = condition.outside_diameter.clone().or(metal.outside_diameter.take());
    }
    if !condition.positions.is_empty() {
        own.positions.clone_from(&condition.positions);
    }
    own.joint = over(own.joint, condition.joint.as_ref());
    own.weld_size = over(own.weld_size, condition.weld_size.as_ref());
    own.temperatures = over(own.temperatures, condition.temperatures.as_ref());
    // A run of a condition that there is not is told with each.
    let known: HashSet<&str> = procedure.conditions.keys().collect();
    let holds = |of: Option<&Text>| of.is_none_or(|of| &**of == name || !known.contains(&**of));
    let (runs, kept) = procedure.runs.iter().enumerate().filter(|(_, run)| holds(run.condition.as_ref())).unzip();
    let kept: Vec<&crate::procedure::Run> = kept;
    own.runs = kept.into_iter().cloned().collect();
    let stated = serde_json::to_value(condition).unwrap_or_default();
    Variant { name: name.to_owned(), procedure: own, condition: Some((name.to_owned(), stated)), runs }
}

/// A section with what is stated over it, key by key.
fn over<T: Clone + Serialize + DeserializeOwned>(own: Option<T>, other: Option<&T>) -> Option<T> {
    fn put(own: &mut Value, other: Value) {
        match (own, other) {
            (Value::Object(own), Value::Object(other)) => {
                for (key, value) in other {
                    put(own.entry(key).or_insert(Value::Null), value);
                }
            }
            (own, other) => *own = other,
        }
    }
    let Some(other) = other else { return own };
    let mut whole = own.and_then(|own| serde_json::to_value(own).ok()).unwrap_or_default();
    put(&mut whole, serde_json::to_value(other).ok()?);
    // What was read twice is read together.
    serde_json::from_value(whole).ok().or_else(|| Some(other.clone()))
}

/// The first choice of everything, and each further choice beside the first of the others; of a list of runs that leaves more
/// than [`MOST`], the same choice wherever it is left.
fn each_choice(mut base: Variant) -> Vec<Variant> {
    let found = choices(&mut base.procedure);
    let many = found.iter().map(|(_, others)| others.len()).sum::<usize>() > MOST;
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    for (place, others) in found {
        for other in others {
            match groups.iter().position(|(own, _)| many && *own == other) {
                Some(at) => groups[at].1.push(place),
                None => groups.push((other, vec![place])),
            }
        }
    }
    let mut others: Vec<Variant> = Vec::new();
    for (other, places) in &groups {
        let mut one = Variant { name: joined(&base.name, other), ..base.clone() };
        take(&mut one.procedure, places, other);
        others.push(one);
    }
    std::iter::once(base).chain(others).collect()
}

fn joined(condition: &str, choice: &str) -> String {
    if condition.is_empty() { format!("with {choice}") } else { format!("{condition}, with {choice}") }
}

/// A value that may leave a choice.
enum Slot<'s> {
    Words(&'s mut Text),
    /// A nozzle, whose numbers may be a range.
    Nozzle(&'s mut Text),
    Size(&'s mut Stretch<Length>),
}

impl Slot<'_> {
    fn all(&self) -> Vec<String> {
        match self {
            Self::Words(text) => alternatives(text),
            Self::Nozzle(text) => nozzles(text),
            Self::Size(size) => {
                let stated = size.as_ref().and_then(Stated::value);
                stated.map_or_else(Vec::new, |range| alternatives(range.spelled()))
            }
        }
    }

    fn take(&mut self, one: &str) {
        match self {
            Self::Words(text) | Self::Nozzle(text) => **text = Text(one.to_owned()),
            Self::Size(size) => {
                if let Ok(range) = one.parse() {
                    **size = Some(Stated::Is(range));
                }
            }
        }
    }
}

/// The nozzles that may be taken: those that are named, or the least and the greatest of a range of numbers such as
/// `No. 6 to No. 8` or `6-8`.
fn nozzles(text: &str) -> Vec<String> {
    let all = alternatives(text);
    if all.len() > 1 {
        return all;
    }
    let ends = text.split_once(" to ").or_else(|| text.split_once(['-', '–']));
    let number = |part: &str| {
        let digits = part.trim().trim_start_matches(|c: char| !c.is_ascii_digit());
        (!digits.is_empty() && digits.bytes().all(|own| own.is_ascii_digit())).then(|| format!("No. {digits}"))
    };
    match ends.map(|(low, high)| (number(low), number(high))) {
        Some((Some(low), Some(high))) => vec![low, high],
        _ => all,
    }
}

/// Shows every value that may leave a choice with its JSON pointer, always in the same order.
fn slots(procedure: &mut Procedure, see: &mut dyn FnMut(&dyn Fn() -> String, Slot<'_>)) {
    for (name, filler) in &mut procedure.fillers.0 {
        let at = |key: &str| format!("/fillers/{}/{key}", escape(name));
        see(&|| at("designation"), Slot::Words(&mut filler.designation));
        see(&|| at("diameter"), Slot::Size(&mut filler.diameter));
    }
    for (name, settings) in &mut procedure.processes.0 {
        slots_of(settings, &|| keys::process(name), see);
    }
    for (index, run) in procedure.runs.iter_mut().enumerate() {
        slots_of(&mut run.settings, &|| format!("/runs/{index}"), see);
    }
}

/// The same of the settings at a place.
fn slots_of(own: &mut Settings, place: &dyn Fn() -> String, see: &mut dyn FnMut(&dyn Fn() -> String, Slot<'_>)) {
    let at = |key: &str| format!("{}/{key}", place());
    if let Some(own) = &mut own.filler {
        see(&|| at(keys::FILLER.path), Slot::Words(own));
    }
    if let Some(tungsten) = &mut own.tungsten {
        tungsten.designation.iter_mut().for_each(|own| see(&|| at(keys::TUNGSTEN_DESIGNATION.path), Slot::Words(own)));
        see(&|| at(keys::TUNGSTEN_DIAMETER.path), Slot::Size(&mut tungsten.diameter));
    }
    if let Some(torch) = &mut own.torch {
        torch.size.iter_mut().for_each(|own| see(&|| at(keys::TORCH_SIZE.path), Slot::Words(own)));
        torch.nozzle.iter_mut().for_each(|own| see(&|| at(keys::TORCH_NOZZLE.path), Slot::Nozzle(own)));
    }
    if let Some(OrNone::Is(gas)) = &mut own.shielding_gas {
        gas.designation.iter_mut().for_each(|own| see(&|| at(keys::SHIELDING_GAS_DESIGNATION.path), Slot::Words(own)));
    }
}

/// Takes the first choice of everything; gives what else may be taken, by the place among the values.
fn choices(procedure: &mut Procedure) -> Vec<(usize, Vec<String>)> {
    let (mut found, mut place) = (Vec::new(), 0);
    slots(procedure, &mut |_, mut slot| {
        let mut all = slot.all();
        if all.len() > 1 {
            slot.take(&all.remove(0));
            found.push((place, all));
        }
        place += 1;
    });
    found
}

/// Takes one choice at places among the values, in their order.
fn take(procedure: &mut Procedure, places: &[usize], one: &str) {
    let mut at = 0;
    slots(procedure, &mut |_, mut slot| {
        if places.binary_search(&at).is_ok() {
            slot.take(one);
        }
        at += 1;
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn procedure(extra: &str) -> Procedure {
        let text = format!(
            "format: 1\ndocument: procedure\nidentification: {{number: 1, revision: 1, title: T}}\nparent_metals: [{{specification: S355J2, thickness: 3-40 mm}}]\n{extra}"
        );
        match crate::load("p.yaml", text.as_bytes()).unwrap().document {
            crate::Document::Procedure(own) => *own,
            _ => unreachable!(),
        }
    }

    #[test]
    fn a_document_without_a_choice_stands_for_itself() {
        assert!(variants(&procedure("positions: [PA]\n")).is_empty());
    }

    #[test]
    fn each_condition_has_its_own_values_and_the_rest() {
        let own = procedure(
            "temperatures: {interpass: 250 °C maximum}\nconditions:\n  thin: {thickness: 3-20 mm}\n  thick: {thickness: 20-40 mm, temperatures: {preheating: 75 °C minimum}}\nruns:\n  - {run: 1, condition: thin, current: 90 A}\n  - {run: 1, condition: thick, current: 120 A}\n  - {run: 2, current: 150 A}\n",
        );
        let all = variants(&own);
        assert_eq!(all.iter().map(|one| one.name.as_str()).collect::<Vec<_>>(), ["thin", "thick"]);
        let [thin, thick] = all.as_slice() else { panic!() };
        let text = |one: &Variant| serde_json::to_value(&one.procedure).unwrap();
        assert_eq!(text(thin).pointer("/parent_metals/0/thickness"), Some(&"3-20 mm".into()));
        assert_eq!(text(thin).pointer("/temperatures"), Some(&serde_json::json!({"interpass": "250 °C maximum"})));
        assert_eq!(text(thick).pointer("/temperatures/preheating"), Some(&"75 °C minimum".into()));
        assert_eq!(text(thick).pointer("/temperatures/interpass"), Some(&"250 °C maximum".into()));
        assert_eq!(text(thick).pointer("/runs/0/current"), Some(&"120 A".into()));
        assert_eq!(thick.procedure.runs.len(), 2);
        for (own, whole) in [
            ("/runs/0/current", "/runs/1/current"),
            ("/runs/1/current", "/runs/2/current"),
            ("/temperatures/preheating", "/conditions/thick/temperatures/preheating"),
            ("/temperatures/interpass", "/temperatures/interpass"),
            ("/parent_metals/0/thickness", "/conditions/thick/thickness"),
            ("/parent_metals/0/specification", "/parent_metals/0/specification"),
        ] {
            assert_eq!(thick.pointer(own), whole);
        }
    }

    #[test]
    fn a_long_list_of_runs_takes_the_same_choice_wherever_it_is_left() {
        let run = |n: usize| format!("  - {{run: {n}, process: 141, tungsten: {{diameter: 1.6 or 2.4 mm}}}}\n");
        let all = variants(&procedure(&format!("runs:\n{}", (1..200).map(run).collect::<String>())));
        let [first, other] = all.as_slice() else { panic!("{} variants", all.len()) };
        for (variant, size) in [(first, "1.6 mm"), (other, "2.4 mm")] {
            let runs = serde_json::to_value(&variant.procedure.runs).unwrap();
            assert!((0..199).all(|at| runs[at]["tungsten"]["diameter"] == size), "{size}");
        }
    }

    /// Where and why a file with these sections is refused.
    fn refused(extra: &str) -> Option<(String, String)> {
        let text = format!(
            "format: 1\ndocument: procedure\nidentification: {{number: 1, revision: 1, title: T}}\nparent_metals: [{{specification: S355J2, thickness: 3-40 mm}}]\n{extra}"
        );
        let (_, faults) = crate::load("p.yaml", text.as_bytes()).err()?;
        faults.into_iter().next().map(|fault| (fault.pointer, fault.message))
    }

    #[test]
    fn what_is_beyond_the_most_is_refused_with_its_place() {
        let told = |pointer: String, found: &str, most: usize| {
            Some((pointer, format!("the procedure has {found}; at most {most} can be told apart")))
        };
        let runs = |all: &str| format!("runs: [{all}]\n");
        let run = |n: usize| format!("{{run: {n}, process: 141, filler: rod{n} or wire{n}}}, ");
        let of = |count: usize| refused(&runs(&(1..=count).map(run).collect::<String>()));
        assert_eq!(of(MOST), None);
        assert_eq!(of(MOST + 6), told(format!("/runs/{MOST}/filler"), "70 different choices", MOST));

        let condition = |n: usize| format!("  c{n}: {{thickness: {}-{} mm}}\n", n + 1, n + 2);
        let of = |count: usize, runs: &str| {
            let all: String = (0..count).map(condition).collect();
            refused(&format!("conditions:\n{all}{runs}"))
        };
        assert_eq!(of(MOST, ""), None);
        assert_eq!(of(MOST + 1, ""), told(format!("/conditions/c{MOST}"), "65 conditions", MOST));
        let plain = |count: usize| runs(&(1..=count).map(|n| format!("{{run: {n}}}, ")).collect::<String>());
        assert_eq!(of(10, &plain(RUNS / 10)), None);
        let found = format!("{} runs over all its conditions and choices", RUNS + 10);
        assert_eq!(of(10, &plain(RUNS / 10 + 1)), told("/runs".to_owned(), &found, RUNS));
        // Each condition has choices of its own.
        let own = |n: usize| format!("{{run: {n}, condition: c{}, filler: rod{n} or wire{n}}}, ", n % 2);
        let of_two = |count: usize| of(2, &runs(&(1..=count).map(own).collect::<String>()));
        assert_eq!(of_two(MOST * 2), None);
        assert_eq!(of_two(MOST * 2 + 1).map(|(pointer, _)| pointer), Some(format!("/runs/{}/filler", MOST * 2)));
    }

    #[test]
    fn each_filler_and_size_that_may_be_taken_is_taken_once() {
        let own = procedure(
            "fillers:\n  wire: {designation: ER70S-6 or ER70S-3, diameter: 2.4 or 3.2 mm}\nprocesses:\n  141: {filler: wire, torch: {nozzle: No. 6 to No. 8}}\n",
        );
        let taken = |one: &Variant| {
            let value = serde_json::to_value(&one.procedure).unwrap();
            let at = |pointer: &str| value.pointer(pointer).unwrap().as_str().unwrap().to_owned();
            [at("/fillers/wire/designation"), at("/fillers/wire/diameter"), at("/processes/141/torch/nozzle")]
        };
        let all = variants(&own);
        let names: Vec<&str> = all.iter().map(|one| one.name.as_str()).collect();
        assert_eq!(names, ["", "with ER70S-3", "with 3.2 mm", "with No. 8"]);
        let values: Vec<_> = all.iter().map(taken).collect();
        assert_eq!(values[0], ["ER70S-6", "2.4 mm", "No. 6"]);
        assert_eq!(values[1], ["ER70S-3", "2.4 mm", "No. 6"]);
        assert_eq!(values[2], ["ER70S-6", "3.2 mm", "No. 6"]);
        assert_eq!(values[3], ["ER70S-6", "2.4 mm", "No. 8"]);
    }
}
