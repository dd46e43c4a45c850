//! What follows from what a procedure states, while it is written: figures of each run and of the weld, and what the standards
//! still ask for.

use std::collections::BTreeMap;

use seamwright_calc::carbon_equivalent;
use seamwright_calc::composition::Composition as Steel;
use seamwright_check::completeness;
use seamwright_check::rule::range_text;
use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::procedure::{JointType, keys};
use seamwright_model::source::escape;
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
        if let Some(setting) = keys::named(key) {
            let process = entry.process.as_deref().or_else(|| view.procedure.processes.keys().next());
            return setting.in_process(process.unwrap_or_default());
        }
        let path = key.replace('.', "/");
        if let Some(own) = path.strip_prefix("fillers/") {
            let first = view.procedure.fillers.keys().next();
            return first.map_or_else(|| "/fillers".to_owned(), |name| format!("/fillers/{}/{own}", escape(name)));
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
                let time_s = cooling.time_s(own.heat_input, heat::welding_temperature(view.procedure))?;
                Some(range_text(rounded(time_s), "s"))
            });
            let deposit = deposit::of(view, run)
                .map(|laid| range_text(rounded(Band::new(laid.rate_kg_h.low, laid.rate_kg_h.high)), "kg/h"));
            let heat = heat.map(|own| range_text(rounded(own.heat_input), "kJ/mm"));
            let all = [("heat", heat), ("cooling", cooling), ("deposit", deposit)];
            Figures { index: run.index, values: all.into_iter().filter_map(|(key, own)| Some((key, own?))).collect() }
        })
        .collect()
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

#[cfg(test)]
mod tests {
    use seamwright_check::completeness::{Entry, State};
    use seamwright_model::procedure::Procedure;

    use super::*;

    #[test]
    fn a_name_with_a_slash_is_one_step_of_the_place() {
        let entry = |keys, process: Option<&str>| Entry {
            standard: "ISO 15609-1",
            reference: String::new(),
            item: String::new(),
            process: process.map(str::to_owned),
            keys,
            state: State::Missing,
            stated: String::new(),
        };
        let procedure: Procedure = serde_json::from_value(serde_json::json!({
            "format": 1,
            "document": "procedure",
            "identification": {"number": "1", "revision": "1", "title": "T"},
            "fillers": {"root/cap": {"designation": "ER70S-6"}},
            "processes": {"141/root": {}},
        }))
        .unwrap();
        let missing = [
            entry(&["fillers.diameter"], None),
            entry(&["settings.tungsten.diameter"], Some("141/root")),
            entry(&["settings.polarity"], None),
        ];
        let places: Vec<String> = asks(&View::new(&procedure), &missing).into_iter().map(|own| own.pointer).collect();
        let known =
            ["/fillers/root~1cap/diameter", "/processes/141~1root/tungsten/diameter", "/processes/141~1root/polarity"];
        assert_eq!(places, known);
    }
}
