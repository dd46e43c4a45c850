//! API 1104: ranges of a procedure test.

mod changes;
mod designs;
pub(crate) mod records;
mod welders;

use seamwright_handbook::api_1104::{self as tables, VariableRow};
use seamwright_handbook::{Band, positions};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::Stated;
use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::codes::asks::{self, Item};
use crate::codes::code::{Code, Judge, Refusal};
use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary, Value};
use crate::codes::words::{at_clause, distinct, own_name, pair, treatment_word};
use designs::{design, turning};

/// The code.
pub(super) struct Api1104;

impl Code for Api1104 {
    fn word(&self) -> &'static str {
        "api-1104"
    }

    fn ranges(&self, _record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        ranges(tested)
    }

    fn judge(&self) -> Judge {
        Judge { label, variables: changes::variables, counts: changes::counts }
    }

    fn asks(&self, _view: &View<'_>) -> Vec<Item> {
        let own = tables::variables()
            .iter()
            .map(|row| Item::variable("API 1104", row.paragraph.to_owned(), row.variable, row.keys, row.processes));
        asks::iso_15609_1().into_iter().chain(own).collect()
    }

    fn stated(
        &self,
        variable: &str,
        summary: &Summary<'_>,
        process: Option<&ProcessSummary<'_>>,
    ) -> Vec<Value<String>> {
        match variable {
            "joint_design" => {
                let joint = summary.view.procedure.joint.as_ref();
                let shape = joint.and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
                let value = shape.map(|shape| Value {
                    value: design(*shape).to_owned(),
                    stated: shape.as_str().to_owned(),
                    pointer: "/joint/preparation".to_owned(),
                });
                value.into_iter().collect()
            }
            "pipe_position" => {
                let turned = |own: &Value<String>| {
                    let row = positions::get(&own.value)?;
                    Some(Value { value: turning(row).to_owned(), ..own.clone() })
                };
                summary.positions.iter().filter_map(turned).collect()
            }
            "pipeline_filler_group" => {
                let group = |own: &Value<_>| {
                    let row = tables::filler(&own.stated);
                    let value = row.map_or_else(|| own.stated.clone(), |row| format!("group {}", row.group));
                    Value { value, stated: own.stated.clone(), pointer: own.pointer.clone() }
                };
                let fillers = process.map(|own| own.fillers.as_slice()).unwrap_or_default();
                fillers.iter().map(group).collect()
            }
            _ => Vec::new(),
        }
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        welders::ranges(test)
    }

    fn not_covered(&self, range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
        welders::not_covered(range, summary, process)
    }
}

/// The editions whose figures the tables hold.
const EDITION: &str = "21st and 22nd";

/// How a metal is named in ranges: its group of strength, or its own name where each grade is tested by itself.
fn label(metal: &Metal<'_>) -> String {
    let group = metal.known.and_then(|known| known.yield_min_mpa).and_then(tables::strength);
    match group {
        Some(group) if !group.alone => format!("yield {}", group.group),
        _ => own_name(metal),
    }
}

/// Whether grades of the joint are tested each by itself.
fn alone(tested: &Summary<'_>) -> bool {
    tested.view.metals.iter().any(|metal| {
        let strength = metal.known.and_then(|known| known.yield_min_mpa).and_then(tables::strength);
        strength.is_none_or(|group| group.alone)
    })
}

/// The ranges of a record, and the edition.
fn ranges(tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
    let mut ranges = Vec::new();
    let metals = &tested.view.metals;
    if let (Some(row), Some(first), Some(last)) = (row("base metal"), metals.first(), metals.last()) {
        let (one, other) = (label(first), label(last));
        let word = if one == other { one } else { pair(&one, &other) };
        ranges.push(set(row, "base_metal_group", vec![word.clone()]).tested(word));
    }
    thickness(tested, &mut ranges)?;
    let shape = tested.view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref());
    if let (Some(row), Some(shape)) = (row("joint design"), shape.and_then(Stated::value)) {
        ranges.push(set(row, "joint_design", vec![design(*shape).to_owned()]).tested(shape.as_str()));
    }
    if let Some(row) = row("position") {
        let rows = tested.positions.iter().filter_map(|own| positions::get(&own.value));
        let mut words: Vec<String> = rows.map(|own| turning(own).to_owned()).collect();
        words.dedup();
        let stated = distinct(&tested.positions, |own| own.stated.clone()).join(", ");
        if !words.is_empty() {
            ranges.push(set(row, "pipe_position", words).tested(stated));
        }
    }
    if let (Some(row), Some(down)) = (row("direction of welding"), tested.downward) {
        let word = if down { "downward" } else { "upward" };
        ranges.push(set(row, "progression", vec![word.to_owned()]).tested(word));
    }
    if let (Some(row), Some(value)) = (row("preheat"), &tested.preheating) {
        let least = Band::at_least(value.value.closed().low);
        let range = Qualified::span("preheating", row.paragraph, least, "°C", source(row));
        ranges.push(range.tested(value.stated.clone()));
    }
    if let (Some(row), Some(value)) = (row("time between passes"), &tested.between) {
        let most = Band::at_most(value.value.closed().high);
        let range = Qualified::span("time_between_runs", row.paragraph, most, "min", source(row));
        ranges.push(range.tested(value.stated.clone()));
    }
    if let (Some(row), Some(value)) = (row("post-weld heat treatment"), &tested.treatment) {
        ranges.push(
            set(row, "post_weld_heat_treatment", vec![treatment_word(&value.value)]).tested(value.stated.clone()),
        );
    }
    for process in &tested.processes {
        of_process(tested, process, &mut ranges);
    }
    Ok((EDITION.to_owned(), ranges))
}

fn row(variable: &str) -> Option<&'static VariableRow> {
    tables::variables().iter().find(|row| row.variable == variable)
}

fn source(row: &VariableRow) -> seamwright_handbook::SourceRef {
    at_clause(&row.origin, row.paragraph)
}

fn set(row: &VariableRow, variable: &'static str, words: Vec<String>) -> Qualified {
    Qualified::set(variable, row.paragraph, words, source(row))
}

/// The wall: the code leaves the range to the procedure and suggests the groups of welders.
fn thickness(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) -> Result<(), Refusal> {
    let (Some(row), Some(coupon)) = (row("wall thickness"), tested.thinnest()) else { return Ok(()) };
    let Some(size) = coupon.size() else { return Ok(()) };
    let Some(group) = tables::group("wall", size) else {
        return Err(Refusal::new(
            coupon.pointer.clone(),
            format!("a wall of {} lies in no group of API 1104", size.text()),
            "write the measured wall",
        ));
    };
    let own = group.span(size.is_customary());
    let other = group.span(!size.is_customary());
    let range = Qualified::sizes("base_metal_thickness", row.paragraph, own, other, source(row));
    let range = range.excluding(group.exclusive());
    ranges.push(range.tested(size.text()).note("the group that the code suggests; a procedure states its own range"));
    Ok(())
}

fn of_process(tested: &Summary<'_>, process: &ProcessSummary<'_>, ranges: &mut Vec<Qualified>) {
    let mut put = |name: &str, variable: &'static str, words: Vec<String>, stated: Option<String>| {
        let rows = tables::variables_of(&process.number);
        if let Some(row) = rows.into_iter().find(|row| row.variable == name).filter(|_| !words.is_empty()) {
            let stated = stated.unwrap_or_else(|| words.join(", "));
            ranges.push(set(row, variable, words).process(&process.name).tested(stated));
        }
    };
    put("process or method of application", "process", vec![process.number.clone()], Some(process.name.clone()));
    put(
        "process or method of application",
        "mechanization",
        distinct(&process.mechanization, |value| value.stated.clone()),
        None,
    );
    put("electrical characteristics", "polarity", distinct(&process.polarity, |value| value.stated.clone()), None);
    put("shielding gas and flow", "shielding_gas", distinct(&process.gas, |gas| gas.value.clone()), None);
    let stated = distinct(&process.fillers, |filler| filler.stated.clone());
    let groups = |filler: &Value<_>| tables::filler(&filler.stated).map(|row| format!("group {}", row.group));
    let mut words: Vec<String> = process.fillers.iter().filter_map(groups).collect();
    words.dedup();
    if alone(tested) || words.is_empty() {
        put("filler metal", "filler_designation", stated, None);
    } else {
        put("filler metal", "pipeline_filler_group", words, Some(stated.join(", ")));
    }
}
