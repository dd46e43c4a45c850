//! AWS D1.1: ranges of a procedure qualification test.

mod changes;
mod contents;
mod details;
mod joint;
mod preheat;
pub(crate) mod rules;
mod welders;

use seamwright_handbook::aws_d1_1::{self as tables, VariableRow};
use seamwright_handbook::measure::{self, figure};
use seamwright_handbook::qualified::Span;
use seamwright_handbook::{Band, Size, positions, variables};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Joint, WeldType};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::codes::asks::Item;
use crate::codes::code::{Code, FilletGap, Judge, LeastLeg, Preheat, Refusal, Weld};
use crate::codes::range::{Effect, Qualified};
use crate::codes::summary::{ProcessSummary, Summary, Value};
use crate::codes::welders::test::{FILLET_THICKNESS, continuity};
use crate::codes::words::{clause, distinct, least_preheat, own_name, pair, treatment_word};

/// The code.
pub(super) struct AwsD11;

impl Code for AwsD11 {
    fn word(&self) -> &'static str {
        "aws-d1.1"
    }

    fn ranges(&self, _record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        ranges(tested)
    }

    fn judge(&self) -> Judge {
        Judge { label, variables: changes::variables, counts: changes::counts }
    }

    fn asks(&self, view: &View<'_>) -> Vec<Item> {
        contents::asks(view)
    }

    fn clause(&self, key: &str, _view: &View<'_>) -> Option<String> {
        let clause = variables::get(key)?.aws_d1_1().first()?.origin.source_ref().clause?;
        Some(format!("{}, {clause}", self.title()))
    }

    fn preheat(&self, view: &View<'_>, metal: &Metal<'_>, thickness: Size) -> Option<Preheat> {
        preheat::of(view, metal, thickness)
    }

    fn has_detail(&self, view: &View<'_>, joint: &Joint) -> bool {
        details::nearest(view, joint)
            .is_some_and(|(_, faults)| faults.iter().all(|fault| fault.severity != Severity::Error))
    }

    fn fillet_gap(&self, view: &View<'_>) -> Option<FilletGap> {
        let from = tables::FILLET_GAP_THICK_FROM;
        // Parts from 3 in on, all of them, may stand wider, with backing.
        let all_thick = !view.metals.is_empty()
            && view.metals.iter().all(|own| own.thickness().is_some_and(|size| !from.below(size)));
        let most = if all_thick { tables::FILLET_GAP_THICK } else { tables::FILLET_GAP };
        Some(FilletGap { most, free: tables::FILLET_GAP_FREE })
    }

    fn least_leg(&self, thicker: Size) -> Option<LeastLeg> {
        let row = tables::minimum_fillet(thicker)?;
        Some(LeastLeg { mm: row.leg_min_mm, inches: row.leg_min_in.0, source: row.origin.source_ref() })
    }

    fn stated(
        &self,
        variable: &str,
        summary: &Summary<'_>,
        process: Option<&ProcessSummary<'_>>,
    ) -> Vec<Value<String>> {
        joint::stated(variable, summary, process)
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        welders::ranges(test)
    }

    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        continuity(test, tables::WELDER_CONTINUITY)
    }

    fn speaks_of(&self, variable: &str, weld: Weld) -> bool {
        match variable {
            welders::GROOVE_THICKNESS => !weld.fillet,
            FILLET_THICKNESS => weld.fillet,
            _ => weld.has_position(variable),
        }
    }

    fn not_covered(&self, range: &Qualified, _summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
        welders::not_covered(range, process)
    }
}

/// The edition whose figures the tables hold.
const EDITION: &str = "2020";

/// How a metal is named in ranges: its group, or its own name where it has none.
fn label(metal: &Metal<'_>) -> String {
    group(metal).map_or_else(|| own_name(metal), |group| format!("group {group}"))
}

fn group<'d>(metal: &Metal<'d>) -> Option<&'d str> {
    metal.known.and_then(|known| known.d1_1_group)
}

/// The ranges of a record, and the edition.
fn ranges(tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
    let mut ranges = Vec::new();
    base_metals(tested, &mut ranges);
    if tested.weld.is_none_or(WeldType::has_groove) {
        thickness(tested, &mut ranges)?;
        ranges.extend(joint::ranges(tested));
    }
    position(tested, &mut ranges);
    for process in &tested.processes {
        of_process(tested, process, &mut ranges);
    }
    if let (Some(row), Some(value)) = (row_of("post weld heat treatment"), &tested.treatment) {
        ranges.push(
            Qualified::set(
                "post_weld_heat_treatment",
                &clause(&row.origin),
                vec![treatment_word(&value.value)],
                row.origin.source_ref(),
            )
            .tested(value.stated.clone()),
        );
    }
    Ok((EDITION.to_owned(), ranges))
}

fn row_of(variable: &str) -> Option<&'static VariableRow> {
    tables::variables().iter().find(|row| row.variable == variable)
}

/// Groups of Table 6.8 that the coupon covers; a metal without group covers itself.
fn base_metals(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    let metals = &tested.view.metals;
    let (Some(first), Some(last)) = (metals.first(), metals.last()) else { return };
    let stated = pair(&label(first), &label(last));
    let covered = |metal: &Metal<'_>| -> Vec<String> {
        group(metal)
            .and_then(tables::group)
            .map_or_else(|| vec![label(metal)], |row| row.covers.iter().map(|group| format!("group {group}")).collect())
    };
    let (one, other) = (covered(first), covered(last));
    let mut words: Vec<String> = one.iter().flat_map(|a| other.iter().map(|b| pair(a, b))).collect();
    words.sort();
    words.dedup();
    let row = group(first).and_then(tables::group);
    let source = row.map(|row| &row.origin).or_else(|| row_of("group of the base metal").map(|row| &row.origin));
    if let Some(origin) = source {
        let mut range = Qualified::set("base_metal_group", &clause(origin), words, origin.source_ref()).tested(stated);
        range.note = origin.doubt.map(str::to_owned);
        ranges.push(range);
    }
}

/// Thickness and outside diameter, Table 6.2.
fn thickness(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) -> Result<(), Refusal> {
    let Some(coupon) = tested.thinnest() else { return Ok(()) };
    let Some(thickness) = coupon.size() else { return Ok(()) };
    let diameter = tested.diameter.iter().filter_map(Value::size).min_by_key(|size| size.length());
    let row_for = |size: Size| match diameter {
        None => tables::plate_range(size),
        Some(diameter) => tables::pipe_range(size, diameter),
    };
    let Some(row) = row_for(thickness) else {
        return Err(Refusal::new(
            coupon.pointer.clone(),
            format!("a coupon of {} qualifies no thickness under AWS D1.1", thickness.text()),
            "the table starts at 3 mm (1/8 in)",
        ));
    };
    let mut put = |variable, own, other, stated: String| {
        let range = Qualified::sizes(variable, &clause(&row.origin), own, other, row.origin.source_ref());
        ranges.push(range.tested(stated));
    };
    put("base_metal_thickness", row.span(thickness), row.other_span(thickness), thickness.text());
    if let Some(diameter) = diameter {
        put("outside_diameter", row.diameter_span(diameter), row.other_diameter_span(diameter), diameter.text());
    }
    let alone = tested.processes.len() == 1;
    for process in tested.processes.iter().filter(|_| !alone) {
        // The code takes the deposit of each process as its tested thickness where several stand in one coupon.
        if let Some(deposit) = process.deposit.as_ref().and_then(Value::size)
            && let Some(row) = row_for(deposit)
        {
            let open = |span: Span| Span { band: Band::at_most(span.band.high), ..span };
            ranges.push(
                Qualified::sizes(
                    "deposit_thickness",
                    &clause(&row.origin),
                    open(row.span(deposit)),
                    open(row.other_span(deposit)),
                    row.origin.source_ref(),
                )
                .process(&process.name)
                .tested(deposit.text()),
            );
        }
    }
    Ok(())
}

/// Positions of Table 6.1.
fn position(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    let product = if tested.is_pipe() { "pipe" } else { "plate" };
    let weld = if tested.weld.is_none_or(WeldType::has_groove) { "groove" } else { "fillet" };
    let codes: Vec<&str> = tested.positions.iter().map(|position| position.value.as_str()).collect();
    let rows = tables::positions_covered(product, weld, &codes);
    let mut words: Vec<String> = Vec::new();
    for word in ["flat", "horizontal", "vertical", "overhead"] {
        if rows.iter().any(|row| row.covers.contains(&word)) {
            words.push(word.to_owned());
        }
    }
    let stated = distinct(&tested.positions, |position| position.stated.clone()).join(", ");
    if let Some(row) = rows.first() {
        ranges.push(
            Qualified::set("position", &clause(&row.origin), words, row.origin.source_ref()).tested(stated.clone()),
        );
    }
    let vertical =
        tested.positions.iter().filter_map(|position| positions::get(&position.value)).any(|row| row.vertical);
    if let (true, Some(down), Some(row)) = (vertical, tested.downward, row_of("progression of vertical welds")) {
        let word = if down { "downward" } else { "upward" };
        ranges.push(
            Qualified::set("progression", &clause(&row.origin), vec![word.to_owned()], row.origin.source_ref())
                .tested(word),
        );
    }
}

fn of_process(tested: &Summary<'_>, process: &ProcessSummary<'_>, ranges: &mut Vec<Qualified>) {
    let rows = tables::variables_of(&process.number);
    let mut put = |name: &str, variable: &'static str, words: Vec<String>| {
        if let Some(row) = rows.iter().find(|row| row.variable == name).filter(|_| !words.is_empty()) {
            let stated = words.join(", ");
            ranges.push(
                Qualified::set(variable, &clause(&row.origin), words, row.origin.source_ref())
                    .process(&process.name)
                    .tested(stated),
            );
        }
    };
    put("kind of current or polarity", "polarity", distinct(&process.polarity, |value| value.stated.clone()));
    put("mode of transfer", "transfer_mode", distinct(&process.transfer, |value| value.stated.clone()));
    put("shielding gas", "shielding_gas", distinct(&process.gas, |gas| gas.value.clone()));
    if let Some(row) = row_of("group of the base metal") {
        ranges.push(
            Qualified::set("process", &clause(&row.origin), vec![process.number.clone()], row.origin.source_ref())
                .process(&process.name)
                .tested(process.name.clone()),
        );
    }
    let strength = process.fillers.iter().filter_map(|filler| filler.value?.tensile_min_mpa).reduce(f64::max);
    if let (Some(row), Some(strength)) = (row_of("strength class of the filler"), strength) {
        ranges.push(
            Qualified::span(
                "filler_strength",
                &clause(&row.origin),
                Band::at_most(strength),
                "MPa",
                row.origin.source_ref(),
            )
            .process(&process.name)
            .tested(distinct(&process.fillers, |filler| filler.stated.clone()).join(", "))
            .note("least tensile strength of the filler class"),
        );
    }
    ranges.extend(joint::of_process(tested, process, &rows));
    for row in rows.iter().filter(|row| !row.toughness || tested.toughness) {
        figures(tested, process, row, ranges);
    }
}

/// Variables that may rise or fall by a figure, Table 6.5.
fn figures(tested: &Summary<'_>, process: &ProcessSummary<'_>, row: &VariableRow, ranges: &mut Vec<Qualified>) {
    if row.increase_over.is_none() && row.decrease_over.is_none() {
        return;
    }
    let measured: Option<(&'static str, &'static str, &Value<Band>)> = row.keys.iter().find_map(|key| {
        let temperature = match *key {
            "temperatures.preheating" => tested.preheating.as_ref().map(|value| ("preheating", "°C", value)),
            "temperatures.interpass" => tested.interpass.as_ref().map(|value| ("interpass", "°C", value)),
            _ => None,
        };
        temperature.or_else(|| {
            if row.variable == "heat input" {
                return None;
            }
            let own = process.figures.iter().find(|own| own.key == *key)?;
            Some((own.variable, own.unit, &own.value))
        })
    });
    let highest = process.arc_energy.iter().filter_map(|heat| heat.value.high_end()).reduce(f64::max);
    if let ("heat input", Some(highest)) = (row.variable, highest) {
        ranges.push(
            Qualified::span(
                "heat_input",
                &clause(&row.origin),
                Band::at_most(highest),
                "kJ/mm",
                row.origin.source_ref(),
            )
            .process(&process.name)
            .tested(format!("{} kJ/mm", figure(highest)))
            .effect(Effect::Supplementary),
        );
        return;
    }
    let Some((variable, unit, value)) = measured else { return };
    let share = row.unit == Some("%");
    // A temperature that is stated in degrees Fahrenheit moves by the step that the code prints in those.
    let step = row.customary.filter(|_| unit == "°C" && value.is_customary());
    let unit = if step.is_some() { "°F" } else { unit };
    let moved = |end: f64, by: Option<f64>, sign: f64| {
        let by = step.or(by).filter(|_| by.is_some())?;
        Some(if share { end * (1.0 + sign * by / 100.0) } else { end + sign * by })
    };
    let stated = value.value.map(|end| if step.is_some() { measure::converted(end, "°C", "°F") } else { end });
    let closed = stated.closed();
    let (low, high) = (moved(closed.low, row.decrease_over, -1.0), moved(closed.high, row.increase_over, 1.0));
    // A record states the highest interpass temperature; only a measured range tells the lowest as well.
    let highest_only = variable == "interpass" && stated.is_single();
    let low = low.filter(|_| !highest_only);
    let low = low.map(|low| if variable == "preheating" { least_preheat(low, unit) } else { low });
    let band = Band::of((low, high));
    if band == Band::ANY {
        return;
    }
    let mut range = Qualified::span(variable, &clause(&row.origin), band, unit, row.origin.source_ref())
        .tested(value.stated.clone())
        .effect(if row.toughness { Effect::Supplementary } else { Effect::Essential });
    // Temperatures hold for the joint, but the figure hangs on the process.
    range = range.process(&process.name);
    ranges.push(range);
}
