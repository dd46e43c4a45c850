//! What follows from what a procedure states, while it is written: figures of each run and of the weld, and what the standards
//! still ask for.

use std::collections::BTreeMap;

use seamwright_calc::carbon_equivalent;
use seamwright_calc::composition::Composition as Steel;
use seamwright_check::completeness;
use seamwright_check::rule::range_text;
use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, metal_heat};
use seamwright_model::procedure::{JointType, Procedure};
use seamwright_weld::{View, deposit, heat};
use serde::Serialize;

/// What the standard asks for and the document does not state.
#[derive(Debug, Clone, Serialize)]
pub struct Ask {
    /// Where it is stated.
    pub pointer: String,
    /// Clause and item.
    pub line: String,
    /// The standard or code that asks.
    pub standard: &'static str,
}

/// What follows for an entry of a table: from the settings of a run, or for a joint of a job.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Figures {
    /// The entry of the list.
    pub index: usize,
    /// Figures by the names of their columns.
    #[serde(flatten)]
    pub values: BTreeMap<&'static str, String>,
}

/// A figure with its name.
#[derive(Debug, Clone, Serialize)]
pub struct Total {
    /// What it is.
    pub name: String,
    /// The figure.
    pub value: String,
    /// How it is found.
    pub how: String,
}

/// What the standard still asks for, with the places where it is stated.
pub fn asks(view: &View<'_>, missing: &[completeness::Entry]) -> Vec<Ask> {
    let pointer = |entry: &completeness::Entry| {
        let key = entry.keys.first().copied().unwrap_or_default();
        let path = key.replace('.', "/");
        let process = entry.process.clone().or_else(|| Some(view.procedure.processes.iter().next()?.0.to_string()));
        if let Some(own) = path.strip_prefix("settings/") {
            return format!("/processes/{}/{own}", process.unwrap_or_default());
        }
        if let Some(own) = path.strip_prefix("fillers/") {
            let first = view.procedure.fillers.iter().next().map(|(name, _)| name.to_string());
            return first.map_or_else(|| "/fillers".to_owned(), |name| format!("/fillers/{name}/{own}"));
        }
        match path.split_once('/') {
            Some((list @ ("parent_metals" | "runs"), own)) => format!("/{list}/0/{own}"),
            _ => format!("/{path}"),
        }
    };
    missing.iter().map(|entry| Ask { pointer: pointer(entry), line: entry.line(), standard: entry.standard }).collect()
}

/// Two decimals where they matter: what is computed is no more exact than what was typed.
fn rounded(range: Band) -> Band {
    let round = |value: f64| {
        let scale = if value.abs() < 10.0 {
            100.0
        } else if value.abs() < 100.0 {
            10.0
        } else {
            1.0
        };
        (value * scale).round() / scale
    };
    Band::new(round(range.low), round(range.high))
}

/// What follows from the settings of each run.
pub fn figures(view: &View<'_>) -> Vec<Figures> {
    let grooved = view.weld().is_some_and(|weld| weld.has_groove());
    let tee = view.procedure.joint.as_ref().is_some_and(|joint| joint.kind == JointType::Tee);
    // The formulas of EN 1011-2 hold for ferritic steel.
    let steel = view.metals.iter().any(|metal| metal.is("steel") && !metal.is("stainless"));
    view.runs
        .iter()
        .map(|run| {
            let heat = heat::of(run);
            let cooling = heat.filter(|_| steel).and_then(|own| {
                let cooling = heat::Cooling::of(grooved, tee, view.thickness_mm()?)?;
                let celsius = welding_temperature(view.procedure);
                let low = cooling.shortest(celsius.low).cooling_time(own.heat_input.low).ok()?.time_s;
                let high = cooling.longest(celsius.high).cooling_time(own.heat_input.high).ok()?.time_s;
                Some(range_text(rounded(Band::new(low.min(high), high)), "s"))
            });
            let deposit = deposit::of(view, run)
                .map(|laid| range_text(rounded(Band::new(laid.rate_kg_h.low, laid.rate_kg_h.high)), "kg/h"));
            let heat = heat.map(|own| range_text(rounded(own.heat_input), "kJ/mm"));
            let all = [("heat", heat), ("cooling", cooling), ("deposit", deposit)];
            Figures { index: run.index, values: all.into_iter().filter_map(|(key, own)| Some((key, own?))).collect() }
        })
        .collect()
}

/// The temperatures between which runs are welded, °C: from the stated preheating to the stated interpass temperature.
fn welding_temperature(procedure: &Procedure) -> Band {
    let room = metal_heat::ROOM_TEMPERATURE.value.low;
    let temperatures = procedure.temperatures.as_ref();
    let preheating = temperatures.and_then(|own| own.preheating.as_ref()).and_then(|stated| stated.value());
    let interpass = temperatures.and_then(|own| own.interpass.as_ref()).and_then(|stated| stated.value());
    let low = preheating.and_then(|own| own.low()).map_or(room, |low| low.celsius());
    let high = interpass.and_then(|own| own.high()).map_or(low, |high| high.celsius());
    Band::new(low, high.max(low))
}

/// What follows for the weld: carbon equivalents of steels, from the stated analysis, else the most that the grade may have.
pub fn totals(view: &View<'_>) -> Vec<Total> {
    let mut all = Vec::new();
    for metal in view.metals.iter().filter(|metal| metal.is("steel") && !metal.is("stainless")) {
        let stated = metal.stated.composition.as_ref().and_then(|own| {
            let elements = own.iter().filter_map(|(element, percent)| Some((element.parse().ok()?, percent)));
            Some(carbon_equivalent::ce_iiw_pct(&Steel::new(elements).ok()?))
        });
        let (value, how) = match (stated, metal.known.and_then(|known| known.carbon_equivalent_max)) {
            (Some(value), _) => (figure(value), "from the stated analysis"),
            (None, Some(most)) => (format!("{} at the most", figure(most)), "by the standard of the grade"),
            (None, None) => continue,
        };
        let name = format!("Carbon equivalent of {}", metal.stated.specification);
        if all.iter().all(|own: &Total| own.name != name) {
            all.push(Total { name, value, how: how.to_owned() });
        }
    }
    all
}
