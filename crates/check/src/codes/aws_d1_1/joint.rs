//! AWS D1.1: what a test covers of the groove and of the gas, Table 6.5.

use seamwright_handbook::aws_d1_1::{self as tables, FitUpRow, VariableRow};
use seamwright_handbook::measure::figure;
use seamwright_handbook::qualified::Span;
use seamwright_handbook::{Band, Size, nominal_sizes};
use seamwright_model::procedure::{BackingType, Joint, Penetration, WeldType, keys};
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::{OrNone, Stated};

use crate::codes::compare::stated::of_joint;
use crate::codes::range::{ANY_PARTIAL, Qualified};
use crate::codes::summary::{ProcessSummary, Summary, Value};
use crate::codes::words::{clause, distinct};

/// A root that has a backing or is gouged out.
const SOUND_ROOT: &str = "with backing or back gouging";
/// A root that has neither.
const OPEN_ROOT: &str = "without backing and back gouging";

/// The ranges of the groove of a coupon.
pub(super) fn ranges(tested: &Summary<'_>) -> Vec<Qualified> {
    let Some(joint) = tested.view.procedure.joint.as_ref() else { return Vec::new() };
    let mut ranges = Vec::new();
    if let (Some(row), Some(angle)) = (row_of("groove angle"), of_joint(joint, "groove_angle")) {
        let low = row.decrease_over.map_or(f64::NEG_INFINITY, |by| angle.value.low - by);
        let range =
            Qualified::span("groove_angle", &clause(&row.origin), Band::at_least(low), "°", row.origin.source_ref());
        ranges.push(range.tested(angle.stated));
    }
    let opening = fit_up(tested, joint, "root opening");
    ranges.extend(root(joint, "root_opening", "root opening", opening, (true, true)));
    // The code does not limit the face of a root that is gouged out.
    let face = fit_up(tested, joint, "root face").filter(|_| !tested.view.back_gouged());
    ranges.extend(root(joint, "root_face", "root face", face, (false, true)));
    if let (Some(row), Some(shape)) = (row_of("kind of groove"), joint.preparation.as_ref().and_then(Stated::value)) {
        let partial = tested.view.full_penetration().then(|| ANY_PARTIAL.to_owned());
        let words = std::iter::once(shape.to_string()).chain(partial);
        let range = Qualified::set("groove_type", &clause(&row.origin), words, row.origin.source_ref());
        ranges.push(range.tested(shape.to_string()));
    }
    if let (Some(row), true) = (row_of("backing or back gouging"), sound_root(tested.view.back_gouged(), joint)) {
        let words = [SOUND_ROOT];
        let range = Qualified::set("backing_or_back_gouging", &clause(&row.origin), words, row.origin.source_ref());
        ranges.push(range.tested(SOUND_ROOT));
    }
    ranges
}

fn row_of(variable: &str) -> Option<&'static VariableRow> {
    tables::variables().iter().find(|row| row.variable == variable)
}

/// The tolerance of a dimension in fabrication, by how the root of the coupon is made.
fn fit_up(tested: &Summary<'_>, joint: &Joint, dimension: &str) -> Option<&'static FitUpRow> {
    let detail = match dimension {
        "root face" => "not back gouged",
        _ if backed(joint) => "with backing",
        _ if tested.view.back_gouged() => "back gouged",
        _ => "no backing",
    };
    tables::fit_up("fabrication", detail, dimension)
}

/// A size of the root with its tolerance, in the unit that is stated and in the other.
fn root(
    joint: &Joint,
    variable: &'static str,
    name: &str,
    tolerance: Option<&FitUpRow>,
    (falls, rises): (bool, bool),
) -> Option<Qualified> {
    let (row, tolerance) = (row_of(name)?, tolerance?);
    let value = of_joint(joint, variable)?;
    let range: Range<Length> = value.stated.parse().ok()?;
    let ends = (range.low().or(range.high())?, range.high().or(range.low())?);
    let customary = Size::stated(ends.0, range.unit()).is_customary();
    let span = |customary: bool| {
        let own = |length: Length| if customary { length.inches() } else { length.mm() };
        let (plus, minus) = if customary {
            (tolerance.plus_in.map(|own| own.0), tolerance.minus_in.map(|own| own.0))
        } else {
            (Some(tolerance.plus), Some(tolerance.minus))
        };
        let low = minus.filter(|_| falls).map(|by| own(ends.0) - by).filter(|low| *low > 0.0);
        let high = plus.filter(|_| rises).map(|by| own(ends.1) + by);
        Span { band: Band::of((low, high)), unit: if customary { "in" } else { "mm" } }
    };
    let reference = clause(&row.origin);
    let range = Qualified::sizes(variable, &reference, span(customary), span(!customary), row.origin.source_ref());
    Some(range.tested(value.stated))
}

/// Whether the root has a backing that is no gas.
fn backed(joint: &Joint) -> bool {
    matches!(&joint.backing, Some(OrNone::Is(own)) if own.kind != BackingType::Gas)
}

fn sound_root(back_gouged: bool, joint: &Joint) -> bool {
    back_gouged || backed(joint)
}

/// The ranges of a process that have no figure: a size of electrode that may not change, and the mixture of the gas.
pub(super) fn of_process(tested: &Summary<'_>, process: &ProcessSummary<'_>, rows: &[&VariableRow]) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let fixed = |row: &&&VariableRow| row.variable.ends_with("diameter") && row.increase_over.is_none();
    let own = process.figures.iter().find(|own| own.variable == "filler_diameter");
    if let (Some(row), Some(own)) = (rows.iter().find(fixed), own) {
        let customary = own.each.first().is_some_and(Value::is_customary);
        if let (Some(own_span), Some(other)) = (diameters(&own.each, customary), diameters(&own.each, !customary)) {
            let source = row.origin.source_ref();
            let range = Qualified::sizes("filler_diameter", &clause(&row.origin), own_span, other, source);
            ranges.push(range.process(&process.name).tested(own.value.stated.clone()));
        }
    }
    let mixtures = mixtures(tested, process);
    if let (Some(row), false) = (rows.iter().find(|row| row.variable == "shielding gas"), mixtures.is_empty()) {
        let words = distinct(&mixtures, |own| own.value.clone());
        let stated = words.join("; ");
        let range = Qualified::set("gas_mixture", &clause(&row.origin), words, row.origin.source_ref());
        let range = range.process(&process.name).tested(stated);
        ranges.push(Qualified { note: row.origin.doubt.map(str::to_owned), ..range });
    }
    ranges
}

/// Diameters from the least to the largest, with the sizes by which they are sold in a unit.
fn diameters(values: &[Value<Band>], customary: bool) -> Option<Span> {
    let mut sizes = Vec::new();
    for value in values {
        let range: Range<Length> = value.stated.parse().ok()?;
        let own = range.single()?;
        sizes.push(if customary { own.inches() } else { own.mm() });
        let stated_so = Size::stated(own, range.unit()).is_customary() == customary;
        let sold = nominal_sizes::rows().iter().filter_map(|row| {
            let inches = Range::<Length>::parse(&format!("{} in", row.diameter_in)).ok()?.single()?;
            let same = if customary { (row.diameter_mm - own.mm()).abs() < 1e-6 } else { inches == own };
            same.then_some(if customary { inches.inches() } else { row.diameter_mm })
        });
        sizes.extend(sold.filter(|_| !stated_so));
    }
    let band = sizes.into_iter().map(Band::at).reduce(Band::hull)?;
    Some(Span { band, unit: if customary { "in" } else { "mm" } })
}

/// The mixtures of a process in words, the largest share first; nothing of a gas whose parts are not stated.
pub(super) fn mixtures(summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<Value<String>> {
    let mut found: Vec<Value<String>> = Vec::new();
    for run in process.runs() {
        let Some(at) = run.part(&keys::SHIELDING_GAS) else { continue };
        found.extend(at.value.composition.as_ref().and_then(|parts| words(parts.iter(), at.pointer)));
    }
    let block = summary.view.procedure.processes.get(&process.name).filter(|_| process.runs().is_empty());
    if let Some(OrNone::Is(gas)) = block.and_then(|own| own.shielding_gas.as_ref()) {
        let pointer = keys::SHIELDING_GAS.in_process(&process.name);
        found.extend(gas.composition.as_ref().and_then(|parts| words(parts.iter(), pointer)));
    }
    found.dedup();
    found
}

/// A mixture as people say it, its shares as whole percents: a certificate has them no more exactly.
fn words<'p>(parts: impl Iterator<Item = (&'p str, f64)>, pointer: String) -> Option<Value<String>> {
    let mut parts: Vec<(&str, f64)> =
        parts.map(|(name, share)| (name, share.round())).filter(|own| own.1 > 0.0).collect();
    parts.sort_by(|one, other| other.1.total_cmp(&one.1).then(one.0.cmp(other.0)));
    let text = parts.iter().map(|(name, share)| format!("{} % {name}", figure(*share))).collect::<Vec<_>>().join(", ");
    (!parts.is_empty()).then(|| Value { value: text.clone(), stated: text, pointer })
}

/// What a procedure states of a variable that has words of this code.
pub(super) fn stated(
    variable: &str,
    summary: &Summary<'_>,
    process: Option<&ProcessSummary<'_>>,
) -> Vec<Value<String>> {
    let joint = summary.view.procedure.joint.as_ref().filter(|_| summary.weld != Some(WeldType::Fillet));
    let partial = joint.is_some_and(|own| own.penetration == Some(Stated::Is(Penetration::Partial)));
    let value = match (variable, joint) {
        ("gas_mixture", _) => return process.map(|own| mixtures(summary, own)).unwrap_or_default(),
        ("groove_type", Some(joint)) => joint.preparation.as_ref().and_then(Stated::value).map(|shape| Value {
            value: shape.to_string(),
            stated: shape.to_string(),
            pointer: "/joint/preparation".to_owned(),
        }),
        ("backing_or_back_gouging", Some(joint)) if !partial => {
            let said = joint.backing.is_some() || joint.back_gouging.is_some();
            let word = if sound_root(summary.view.back_gouged(), joint) { SOUND_ROOT } else { OPEN_ROOT };
            let key = if joint.backing.is_some() { "backing" } else { "back_gouging" };
            said.then(|| Value { value: word.to_owned(), stated: word.to_owned(), pointer: format!("/joint/{key}") })
        }
        _ => None,
    };
    value.into_iter().collect()
}
