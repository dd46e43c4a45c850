//! Estimates for programs and spreadsheets.

use std::io::Write;

use anyhow::Result;
use seamwright_calc::Spread;
use seamwright_estimate::{Cost, Estimate, FillerUse, GasPlace, RunEstimate, Slower, remainders};
use serde_json::{Value, json};

use super::answer::{EstimateAnswer, Estimated};
use crate::report::number;

/// A figure with its unit.
pub(crate) fn figure(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

fn figures(spread: Spread, unit: &str) -> Value {
    json!({"value": spread.middle, "low": spread.low, "high": spread.high, "unit": unit})
}

fn filler_value(filler: &FillerUse) -> Value {
    json!({
        "name": filler.name,
        "designation": filler.designation,
        "filler_mass": figures(filler.mass_kg, "kg"),
        "pieces": filler.pieces.map(|(count, kind)| json!({"count": count, "kind": kind.as_str()})),
    })
}

fn run_value(run: &RunEstimate) -> Value {
    json!({
        "run": run.run,
        "count": run.count,
        "process": run.process,
        "cross_section": figures(run.area_mm2, "mm2"),
        "deposited_area": run.deposited_mm2.map(|area| figures(area, "mm2")),
        "weld_metal": figures(run.weld_metal_kg, "kg"),
        "filler": run.filler.as_ref().map(filler_value),
        "gas": run.gas.as_ref().map(|gas| json!({"designation": gas.designation, "volume": figure(gas.volume_l, "L")})),
        "arc_time": run.arc_time_min.map(|time| figure(time, "min")),
        "arc_time_by_travel_speed": run.by_travel_min.map(|time| figure(time, "min")),
        "slower": run.slower.map(Slower::as_str),
        "arc_time_by_deposition_rate": run.by_rate_min.map(|time| figure(time, "min")),
        "disagreement": run.disagreement_pct.map(|pct| figure(pct, "%")),
        "working_time": run.working_time_min.map(|time| figure(time, "min")),
        "energy": run.energy_kwh.map(|energy| figure(energy, "kWh")),
        "starts": run.starts,
    })
}

/// A cost with its lines and the price of each joint.
pub(crate) fn cost_value(cost: &Cost) -> Value {
    json!({
        "currency": cost.currency,
        "lines": cost.lines.iter().map(|line| json!({
            "what": line.what, "amount": figure(line.amount, line.unit), "price": line.price, "cost": line.cost,
        })).collect::<Vec<_>>(),
        "total": cost.total,
        "added": cost.added.as_ref().map(|(what, amount)| json!({"what": what, "amount": amount})),
        "price": cost.price,
        "least_charge": cost.least_charge,
        "time": figure(cost.time_min, "min"),
        "joints": cost.joints.iter().map(|joint| json!({
            "joint": joint.name, "pieces": joint.pieces, "length": figure(joint.length_mm, "mm"),
            "time": figure(joint.time_min, "min"), "price": joint.price, "each": joint.each,
        })).collect::<Vec<_>>(),
    })
}

/// What an estimate takes: metal, filler, gas, time and energy.
pub(crate) fn uses(estimate: &Estimate) -> Value {
    json!({
        "length": figure(estimate.length_mm, "mm"),
        "cross_section": figures(estimate.area_mm2, "mm2"),
        "weld_metal": figures(estimate.weld_metal_kg, "kg"),
        "fillers": estimate.fillers.iter().map(filler_value).collect::<Vec<_>>(),
        "gases": estimate.gases.iter().map(|gas| json!({
            "designation": gas.designation, "backing": gas.place == GasPlace::Root,
            "trailing": gas.place == GasPlace::Trailing, "volume": figure(gas.volume_l, "L"), "cylinders": gas.cylinders,
        })).collect::<Vec<_>>(),
        "arc_time": figure(estimate.arc_time_min, "min"),
        "working_time": figure(estimate.working_time_min, "min"),
        "energy": figure(estimate.energy_kwh, "kWh"),
        "cannot_make": estimate.cannot_make,
        "not_stated": estimate.not_stated,
    })
}

/// An estimate with its runs, its cost, and what it goes by.
fn whole(one: &Estimated) -> Value {
    let estimate = &one.estimate;
    let mut whole = json!({
        "file": one.file,
        "number": one.number,
        "joints": estimate.joints.iter().map(|joint| json!({
            "joint": joint.name, "length": figure(joint.length_mm, "mm"), "count": joint.count,
        })).collect::<Vec<_>>(),
        "runs": estimate.runs.iter().map(run_value).collect::<Vec<_>>(),
        "cost": estimate.cost.as_ref().map(cost_value),
        "assumptions": estimate.assumptions.iter().map(|assumption| json!({
            "text": assumption.text, "source": assumption.source,
        })).collect::<Vec<_>>(),
        "equations": estimate.formulas.iter().map(|formula| formula.equation).collect::<Vec<_>>(),
    });
    if let (Value::Object(whole), Value::Object(uses)) = (&mut whole, uses(estimate)) {
        whole.extend(uses);
    }
    whole
}

impl EstimateAnswer {
    /// For programs.
    pub fn json(&self) -> Value {
        let estimates: Vec<Value> = self.done.iter().map(whole).collect();
        let total = self.total();
        json!({
            "estimates": estimates,
            "total": {
                "weld_metal": figure(total.weld_metal_kg, "kg"),
                "filler_mass": figure(total.filler_kg, "kg"),
                "gas": figure(total.gas_l, "L"),
                "arc_time": figure(total.arc_time_min, "min"),
                "working_time": figure(total.working_time_min, "min"),
                "energy": figure(total.energy_kwh, "kWh"),
                "cost": total.cost.map(|(cost, currency)| json!({"value": cost, "currency": currency})),
                "stock": remainders(self.done.iter().map(|one| &one.estimate), self.shop.as_deref()).iter().map(|own| json!({
                    "what": own.what,
                    "in_stock": figure(own.in_stock, own.unit),
                    "used": figure(own.used, own.unit),
                    "left": figure(own.left(), own.unit),
                })).collect::<Vec<_>>(),
            },
        })
    }

    /// For spreadsheets: a line for each run, with the unit in the heading.
    pub fn csv(&self, out: impl Write) -> Result<()> {
        let mut out = csv::Writer::from_writer(out);
        out.write_record([
            "procedure",
            "run",
            "count",
            "process",
            "length_m",
            "weld_metal_kg",
            "filler",
            "filler_kg",
            "gas",
            "gas_L",
            "arc_time_min",
            "working_time_min",
            "energy_kWh",
        ])?;
        for one in &self.done {
            for run in &one.estimate.runs {
                let or_empty = |value: Option<f64>| value.map(number).unwrap_or_default();
                let (filler, gas) = (run.filler.as_ref(), run.gas.as_ref());
                out.write_record([
                    text_cell(&one.number),
                    text_cell(&run.run),
                    run.count.to_string(),
                    run.process.to_owned(),
                    number(one.estimate.length_mm / 1000.0),
                    number(run.weld_metal_kg.middle),
                    filler.map(|filler| text_cell(&filler.designation)).unwrap_or_default(),
                    or_empty(filler.map(|filler| filler.mass_kg.middle)),
                    gas.map(|gas| text_cell(&gas.designation)).unwrap_or_default(),
                    or_empty(gas.map(|gas| gas.volume_l)),
                    or_empty(run.arc_time_min),
                    or_empty(run.working_time_min),
                    or_empty(run.energy_kwh),
                ])?;
            }
        }
        out.flush()?;
        Ok(())
    }
}

/// Text for a cell: a spreadsheet would compute what begins with one of these signs, so a quotation mark goes before it.
fn text_cell(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}
