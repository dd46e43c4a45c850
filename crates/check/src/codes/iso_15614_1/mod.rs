//! ISO 15614-1: ranges of a procedure test of steel, level 2.

mod changes;

use seamwright_handbook::iso_15614_1::{self as tables, Covers};
use seamwright_model::procedure::{TransferMode, WeldType};
use seamwright_model::test_record::{TestMethod, TestRecord};

use crate::codes::changed::{Changed, Classified};
use crate::codes::code::{Code, Refusal};
use crate::codes::range::{Bounds, Effect, Qualified, without_cap};
use crate::codes::summary::{Ends, ProcessSummary, Summary, Treatment, Value};
use crate::codes::words::{clause, distinct, own_name, pair, treatment_word};
use crate::rule::figure;
use crate::view::Metal;

/// The code.
pub(super) struct Iso15614;

impl Code for Iso15614 {
    fn word(&self) -> &'static str {
        "iso-15614-1"
    }

    fn ranges(&self, record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        ranges(record, tested)
    }

    fn label(&self, metal: &Metal<'_>) -> String {
        label(metal)
    }

    fn variables(&self, process: &str, toughness: bool) -> Vec<(&'static [String], Classified)> {
        changes::variables(process, toughness)
    }

    fn counts(&self, change: &Changed<'_>) -> bool {
        changes::counts(change)
    }

    fn levels(&self) -> Option<&'static str> {
        Some("iso-15614-1-level")
    }

    /// Of steels whose heat affected zone hardens, all but groups 1.1 and 8 (note of `coupon-tests`).
    fn asks_hardness(&self, tested: &Summary<'_>) -> bool {
        tested.view.metals.iter().any(|metal| {
            let group = metal.known.and_then(|known| known.iso_group.as_deref()).unwrap_or_default();
            tables::covered_by(group).is_some() && group != "1.1" && group.split('.').next() != Some("8")
        })
    }

    fn limits_hardness(&self) -> bool {
        true
    }

    fn heat<'s>(&self, process: &'s ProcessSummary<'_>) -> &'s [Value<Ends>] {
        &process.heat_input
    }

    fn groove_covers_fillets(&self) -> bool {
        false
    }

    /// A lower heat input comes from hardness tests and binds always; so does all else.
    fn without_impact_tests(&self, range: &Qualified, bounds: &Bounds) -> Option<Bounds> {
        match (range.variable, bounds) {
            ("heat_input", Bounds::Span { low: Some(_), .. }) => bounds.uncapped(true),
            ("heat_input", _) => None,
            _ => Some(bounds.clone()),
        }
    }
}

/// Group of ISO/TR 15608 of a metal, as stated or from the handbook.
fn group<'d>(metal: &Metal<'d>) -> Option<&'d str> {
    metal.stated.group.as_deref().or_else(|| metal.known.and_then(|known| known.iso_group.as_deref()))
}

/// How a metal is named in ranges: its group, or its own name where it has none.
fn label(metal: &Metal<'_>) -> String {
    group(metal).map_or_else(|| own_name(metal), str::to_owned)
}

/// The ranges of a record, and the edition.
fn ranges(record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
    if record.level() == Some("1") {
        return Err(Refusal::new(
            "/level",
            "the handbook has no ranges for level 1",
            "level 1 follows ASME IX: name `code: asme-ix`, or test to level 2",
        ));
    }
    let old = record.edition().is_some_and(|edition| edition.starts_with("2004"));
    let edition = if old { "2004" } else { "2017" };
    let mut ranges = Vec::new();
    base_metals(tested, &mut ranges)?;
    if tested.weld.is_none_or(WeldType::has_groove) {
        butt(record, tested, edition, &mut ranges);
    } else {
        fillet(tested, edition, &mut ranges);
    }
    diameter(tested, edition, &mut ranges);
    weld_type(tested, &mut ranges);
    let hardness = record.tests.iter().any(|test| test.method == TestMethod::Hardness);
    for process in &tested.processes {
        of_process(tested, process, hardness, &mut ranges);
    }
    position(tested, hardness, &mut ranges);
    temperatures(tested, &mut ranges);
    Ok((format!("{edition}, level 2"), ranges))
}

/// A variable of the table, as a set.
fn named(variable: &'static str, words: Vec<String>) -> Option<Qualified> {
    let row = tables::variable(variable)?;
    (!words.is_empty()).then(|| {
        Qualified::set(variable, &row.paragraph, words, row.origin.source_ref()).effect(Effect::of(row.category, true))
    })
}

/// Metals that the coupon covers: whole groups, and the yield strength where it counts.
fn base_metals(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) -> Result<(), Refusal> {
    let metals = &tested.view.metals;
    let (Some(first), Some(last)) = (metals.first(), metals.last()) else { return Ok(()) };
    for metal in [first, last] {
        let whole = group(metal).and_then(|group| group.split('.').next()).and_then(|whole| whole.parse::<u32>().ok());
        if whole.is_some_and(|whole| (21..=38).contains(&whole) || whole >= 51) {
            return Err(Refusal::new(
                metal.pointer("specification"),
                format!(
                    "{} is no steel and no nickel alloy; ISO 15614-1 does not cover it",
                    metal.stated.specification
                ),
                "name the part of ISO 15614 for this metal; its ranges are not in the handbook",
            ));
        }
    }
    let sides = [covered(first), covered(last)];
    let stated = distinct_labels(first, last);
    let [one, other] = &sides;
    let words = if one == other {
        one.clone()
    } else {
        let mut words: Vec<String> = one.iter().flat_map(|a| other.iter().map(|b| pair(a, b))).collect();
        words.sort();
        words.dedup();
        words
    };
    if let Some(row) = tables::variable("base_metal_group") {
        ranges.push(Qualified::set("base_metal_group", &row.paragraph, words, row.origin.source_ref()).tested(stated));
    }
    // Equal or lower yield strength, where the group's rule says so on both sides.
    let by_yield = |metal: &Metal<'_>| {
        let row = tables::covered_by(group(metal)?)?;
        (row.covers == Covers::EqualOrLowerYield).then_some(row)
    };
    let strongest = [first, last].iter().filter_map(|metal| metal.known?.yield_min_mpa).reduce(f64::max);
    if let (Some(row), Some(_), Some(highest)) = (by_yield(first), by_yield(last), strongest) {
        ranges.push(
            Qualified::span(
                "yield_strength",
                &clause(&row.origin),
                (None, Some(highest)),
                "MPa",
                row.origin.source_ref(),
            )
            .tested(format!("{} MPa", figure(highest)))
            .note("specified least yield strength of the base metal, within the group"),
        );
    }
    Ok(())
}

fn distinct_labels(first: &Metal<'_>, last: &Metal<'_>) -> String {
    let (one, other) = (label(first), label(last));
    if one == other { one } else { pair(&one, &other) }
}

/// Groups that a test of this metal covers.
fn covered(metal: &Metal<'_>) -> Vec<String> {
    let Some(group) = group(metal) else { return vec![own_name(metal)] };
    let Some(rule) = tables::covered_by(group) else { return vec![group.to_owned()] };
    if rule.covers == Covers::SameSubgroup {
        return vec![group.to_owned()];
    }
    let Some((whole, sub)) = group.split_once('.') else { return vec![group.to_owned()] };
    let mut words: Vec<String> = tables::groups()
        .iter()
        .filter(|row| row.group.split_once('.').is_some_and(|(own, below)| own == whole && below <= sub))
        .map(|row| row.group.clone())
        .collect();
    if words.is_empty() {
        words.push(group.to_owned());
    }
    words
}

/// Thickness of a butt weld, Table 7 of 2017 and Table 5 of 2004: of the parent metal and of each process's deposit.
fn butt(record: &TestRecord, tested: &Summary<'_>, edition: &str, ranges: &mut Vec<Qualified>) {
    let Some(coupon) = tested.thinnest().and_then(|value| value.value.0) else { return };
    let of = |variable: &'static str, thickness: f64| {
        let (span, row) = tables::range("butt-thickness", edition, thickness, tested.single_run)?;
        let (low, mut high) = (span.low, span.high);
        let mut note = row.origin.doubt.clone();
        let tested_impact = record.tests.iter().any(|test| test.method == TestMethod::Impact);
        if let Some(rule) = tables::rule("impact-thickness")
            && tested.toughness
            && !tested_impact
            && row.tested_up_to_mm.is_some_and(|up_to| (up_to - rule.value.high).abs() < 1e-9)
        {
            high = high.map(|high| high.min(rule.value.high));
            note = Some("impact energy is asked for and was not tested".to_owned());
        }
        let mut range = Qualified::span(variable, &clause(&row.origin), (low, high), "mm", row.origin.source_ref())
            .tested(format!("{} mm", figure(thickness)));
        range.note = note;
        Some(range)
    };
    ranges.extend(of("base_metal_thickness", coupon));
    if let Some(rule) = tables::rule("unequal-thickness").filter(|rule| coupon >= rule.value.low) {
        let tested = format!("{} mm", figure(coupon));
        ranges.push(without_cap(&clause(&rule.origin), rule.origin.source_ref(), &tested));
    }
    let alone = tested.processes.len() == 1;
    for process in &tested.processes {
        let deposit = process.deposit.as_ref().and_then(|value| value.value.0).or(alone.then_some(coupon));
        let range = deposit.and_then(|deposit| of("deposit_thickness", deposit));
        ranges.extend(range.map(|range| {
            let lowest_open = Qualified {
                // The deposit of one process among several may be as thin as the joint allows.
                bounds: match range.bounds {
                    Bounds::Span { low, high, unit } => Bounds::Span { low: low.filter(|_| alone), high, unit },
                    other => other,
                },
                ..range
            };
            lowest_open.process(&process.name)
        }));
    }
}

/// Thickness and throat of a fillet weld, Table 8 of 2017 and Table 6 of 2004.
fn fillet(tested: &Summary<'_>, edition: &str, ranges: &mut Vec<Qualified>) {
    let get = |quantity: &str, value: f64| {
        // Where the table of 2017 has no row, that of 2004 stands in and says so.
        tables::range(quantity, edition, value, tested.single_run).map(|found| (found, None)).or_else(|| {
            tables::range(quantity, "2004", value, tested.single_run)
                .map(|found| (found, Some("figure of the edition of 2004; verify against your edition".to_owned())))
        })
    };
    if let Some(thickness) = tested.thinnest().and_then(|value| value.value.0)
        && let Some(((span, row), note)) = get("fillet-thickness", thickness)
    {
        let mut range = Qualified::span(
            "base_metal_thickness",
            &clause(&row.origin),
            (span.low, span.high),
            "mm",
            row.origin.source_ref(),
        )
        .tested(format!("{} mm", figure(thickness)));
        range.note = note.or_else(|| row.origin.doubt.clone());
        ranges.push(range);
    }
    if let Some(throat) = tested.throat.as_ref().and_then(|value| value.value.0)
        && let Some(((span, row), note)) = get("fillet-throat", throat)
    {
        let mut range = Qualified::span(
            "throat_thickness",
            &clause(&row.origin),
            (span.low, span.high),
            "mm",
            row.origin.source_ref(),
        )
        .tested(format!("{} mm", figure(throat)));
        range.note = note;
        ranges.push(range);
    }
}

/// Outside diameter, Table 9 of 2017 and Table 7 of 2004; plate covers pipe from a size on.
fn diameter(tested: &Summary<'_>, edition: &str, ranges: &mut Vec<Qualified>) {
    let smallest = tested.diameter.iter().filter_map(|value| value.value.0).reduce(f64::min);
    if let Some(diameter) = smallest {
        if let Some((span, row)) = tables::range("outside-diameter", edition, diameter, tested.single_run) {
            let mut range = Qualified::span(
                "outside_diameter",
                &clause(&row.origin),
                (span.low, span.high),
                "mm",
                row.origin.source_ref(),
            )
            .tested(format!("{} mm", figure(diameter)));
            range.note.clone_from(&row.origin.doubt);
            ranges.push(range);
        }
        return;
    }
    let flat = !tested.positions.is_empty()
        && tested.positions.iter().all(|position| matches!(position.value.as_str(), "PA" | "PC" | "1G" | "2G"));
    let rule = tables::rule(if flat { "plate-covers-rotated-pipe" } else { "plate-covers-pipe" });
    if let Some(rule) = rule {
        let mut range = Qualified::span(
            "outside_diameter",
            &clause(&rule.origin),
            (Some(rule.value.low), None),
            "mm",
            rule.origin.source_ref(),
        )
        .tested("plate");
        if flat {
            range = range.note("rotated pipe; fixed pipe from 500 mm");
        }
        ranges.push(range);
    }
}

/// A butt weld covers fillets; a fillet covers fillets only.
fn weld_type(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    let Some(weld) = tested.weld else { return };
    let words: Vec<String> = if weld.has_groove() {
        [WeldType::Groove, WeldType::Fillet, WeldType::GrooveAndFillet].iter().map(ToString::to_string).collect()
    } else {
        vec![weld.to_string()]
    };
    ranges.extend(named("weld_type", words).map(|range| range.tested(weld.to_string())));
}

fn of_process(tested: &Summary<'_>, process: &ProcessSummary<'_>, hardness: bool, ranges: &mut Vec<Qualified>) {
    let mut put = |range: Option<Qualified>, stated: &str| {
        ranges.extend(range.map(|range| range.process(&process.name).tested(stated)));
    };
    put(named("process", vec![process.number.clone()]), &process.name);
    let mechanization = distinct(&process.mechanization, |value| value.stated.clone());
    put(named("mechanization", mechanization.clone()), &mechanization.join(", "));
    let fillers = distinct(&process.fillers, |filler| filler.stated.clone());
    let filler = named("filler_designation", fillers.clone())
        .map(|range| range.note("another make or size of the same designation is covered"));
    put(filler, &fillers.join(", "));
    let polarity = distinct(&process.polarity, |value| value.stated.clone());
    let mut covered = polarity.clone();
    if process.number == "111" && polarity.iter().any(|word| word == "AC") && !tested.toughness {
        covered = ["AC", "DCEN", "DCEP"].map(str::to_owned).to_vec();
    }
    put(named("polarity", covered), &polarity.join(", "));
    let modes = distinct(&process.transfer, |mode| mode.stated.clone());
    let mut covered = modes.clone();
    let spray = [TransferMode::Spray, TransferMode::Globular];
    if process.transfer.iter().any(|mode| spray.contains(&mode.value)) {
        covered.extend(spray.map(|mode| mode.to_string()));
        covered.sort();
        covered.dedup();
    }
    put(named("transfer_mode", covered), &modes.join(", "));
    let gas = distinct(&process.gas, |gas| gas.value.clone());
    put(named("shielding_gas", gas.clone()), &gas.join(", "));
    heat_input(tested, process, hardness, ranges);
}

/// Heat input: an upper limit with impact tests, a lower one with hardness tests.
fn heat_input(tested: &Summary<'_>, process: &ProcessSummary<'_>, hardness: bool, ranges: &mut Vec<Qualified>) {
    let Some((low, high)) = ProcessSummary::hull(&process.heat_input) else { return };
    let (Some(upper), Some(lower)) = (tables::rule("heat-input-upper"), tables::rule("heat-input-lower")) else {
        return;
    };
    let high = high.filter(|_| tested.toughness).map(|high| high * upper.value.high);
    let low = low.filter(|_| hardness).map(|low| low * lower.value.low);
    if high.is_none() && low.is_none() {
        return;
    }
    let stated = distinct(&process.heat_input, |heat| heat.stated.clone()).join(", ");
    ranges.push(
        Qualified::span("heat_input", &clause(&upper.origin), (low, high), "kJ/mm", upper.origin.source_ref())
            .process(&process.name)
            .tested(stated)
            .effect(Effect::Supplementary)
            .note("with the thermal efficiency of ISO/TR 17671-1"),
    );
}

/// Any position covers all but those welded downwards; where hardness or impact counts, the coupon's position matters.
fn position(tested: &Summary<'_>, hardness: bool, ranges: &mut Vec<Qualified>) {
    let stated = distinct(&tested.positions, |position| position.stated.clone());
    if stated.is_empty() {
        return;
    }
    let down = ["PG", "PJ", "J-L045"];
    let (downs, others): (Vec<_>, Vec<_>) = tested.positions.iter().partition(|position| {
        down.contains(&position.value.as_str())
            || tested.downward == Some(true)
                && seamwright_handbook::positions::get(&position.value).is_some_and(|row| row.vertical)
    });
    let mut words = Vec::new();
    if !others.is_empty() {
        words.push("all but vertical downward".to_owned());
    }
    if !downs.is_empty() {
        words.push("vertical downward".to_owned());
    }
    let range = named("position", words).map(|range| range.tested(stated.join(", ")));
    ranges.extend(range.map(|range| {
        if hardness || tested.toughness {
            range.note("impact specimens come from the position of highest heat input, hardness from that of lowest")
        } else {
            range
        }
    }));
}

fn temperatures(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    let span = |variable: &'static str, ends, stated: &str| {
        let row = tables::variable(variable)?;
        Some(Qualified::span(variable, &row.paragraph, ends, "°C", row.origin.source_ref()).tested(stated))
    };
    if let (Some(value), Some(rule)) = (&tested.preheating, tables::rule("preheat-decrease"))
        && let Some(low) = value.value.0.or(value.value.1)
    {
        ranges.extend(span("preheating", (Some(low - rule.value.high), None), &value.stated));
    }
    if let (Some(value), Some(rule)) = (&tested.interpass, tables::rule("interpass-increase"))
        && let Some(high) = value.value.1.or(value.value.0)
    {
        ranges.extend(span("interpass", (None, Some(high + rule.value.high)), &value.stated));
    }
    let Some(value) = &tested.treatment else { return };
    let words = named("post_weld_heat_treatment", vec![treatment_word(&value.value)]);
    ranges.extend(words.map(|range| range.tested(value.stated.clone())));
    if let (Treatment::Held((Some(low), Some(high)), _), Some(rule)) =
        (&value.value, tables::rule("heat-treatment-tolerance"))
    {
        ranges.push(
            Qualified::span(
                "holding_temperature",
                &clause(&rule.origin),
                (Some(low - rule.value.high), Some(high + rule.value.high)),
                "°C",
                rule.origin.source_ref(),
            )
            .tested(value.stated.clone()),
        );
    }
}
