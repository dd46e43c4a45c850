//! What a procedure costs over a length: weld metal, filler, gas, arc time, labour, energy and money.
//!
//! [`estimate`] takes a procedure, the joints to weld and the rates of the shop, and gives the amounts by run and in total.
//! Every figure that the document does not state comes from a handbook table and is named in [`Estimate::assumptions`];
//! what nothing states is named in [`Estimate::not_stated`], and what hangs on it is left out. `run.rs` computes one run,
//! `filler.rs` and `gas.rs` what it takes, `money.rs` what is paid and charged, `stock.rs` what is left of the shop's stock and what must be bought.
//!
//! ```
//! use seamwright_estimate::{Joint, Options, estimate};
//! use seamwright_model::document::Document;
//!
//! let text = include_bytes!("../../../procedures/butt-3-carbon-141.yaml");
//! let loaded = seamwright_model::load("butt.yaml", text).expect("a document");
//! let Document::Procedure(procedure) = &loaded.document else { panic!("no procedure") };
//! let seams = [Joint { name: "W1".to_owned(), length_mm: 2000.0, count: 2 }];
//! let found = estimate(procedure, &seams, &Options::default()).expect("an estimate");
//! assert_eq!(found.length_mm, 4000.0);
//! assert!(found.weld_metal_kg.middle > 0.1 && found.arc_time_min > 1.0);
//! ```

mod filler;
mod gas;
mod joint;
mod log;
mod money;
mod run;
mod stock;

pub use filler::{FillerUse, Pieces};
pub use gas::GasUse;
pub use joint::Joint;
pub use money::{Cost, JointPrice, Kind, LABOUR_HINT, Line, quote};
pub use run::{RunEstimate, Slower};
pub use seamwright_weld::consumption::GasPlace;
pub use stock::{Buy, Remainder, buying, remainders, unit_of, us_unit};

use seamwright_calc::time_cost::COST;
use seamwright_calc::{Formula, Spread, weld_metal};
use seamwright_model::procedure::{Filler, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;
use seamwright_model::variants;
use seamwright_weld::section::{self, Assumption};
use seamwright_weld::{View, fill};

use log::Log;

/// The choices of an estimate.
#[derive(Debug, Clone, Copy, Default)]
pub struct Options<'s> {
    /// Thickness, mm, in place of the stated one, which may be a range that the procedure covers.
    pub thickness_mm: Option<f64>,
    /// The shop: its rates give the cost, its stock what is left.
    pub shop: Option<&'s Shop>,
}

/// What a procedure uses over its joints.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// The joints.
    pub joints: Vec<Joint>,
    /// Length of all of them, mm.
    pub length_mm: f64,
    /// Cross-section of the weld, mm².
    pub area_mm2: Spread,
    /// That the runs as stated do not make the size, in words; a price is never given without them.
    pub cannot_make: Option<String>,
    /// Weld metal, kg; nothing for a weld without filler.
    pub weld_metal_kg: Spread,
    /// Each run, in order.
    pub runs: Vec<RunEstimate>,
    /// Filler to buy, by name.
    pub fillers: Vec<FillerUse>,
    /// Shielding, trailing and backing gas, by place and designation.
    pub gases: Vec<GasUse>,
    /// Time with the arc burning, min.
    pub arc_time_min: f64,
    /// Time at the work, min.
    pub working_time_min: f64,
    /// Energy from the mains, kWh.
    pub energy_kwh: f64,
    /// What it costs, where rates are given.
    pub cost: Option<Cost>,
    /// The formulas that were used.
    pub formulas: Vec<Formula>,
    /// What was put in beside the stated values, each once.
    pub assumptions: Vec<Assumption>,
    /// What nothing states, and what is left out for it.
    pub not_stated: Vec<String>,
}

/// Computes what a procedure uses over the joints.
///
/// `Err` says in words why there is no estimate: no cross-section follows from the document, a length is nothing, or no run
/// is stated.
pub fn estimate(procedure: &Procedure, joints: &[Joint], options: &Options<'_>) -> Result<Estimate, String> {
    let choice = variants::of_thickness(procedure, options.thickness_mm);
    let view = View::new(choice.as_ref().map_or(procedure, |own| &own.procedure));
    let length_mm: f64 = joints.iter().map(|joint| joint.length_mm * f64::from(joint.count)).sum();
    if !length_mm.is_finite() || length_mm <= 0.0 {
        return Err("the joints have no length".to_owned());
    }
    if view.runs.is_empty() {
        return Err("no runs are stated".to_owned());
    }
    let section = section::of(&view, options.thickness_mm)?;
    let mut log = Log {
        shelf: options.shop.and_then(|shop| shop.stock.as_ref()),
        times: options.shop.and_then(|shop| shop.times.as_ref()),
        assumptions: section.assumptions.clone(),
        ..Log::default()
    };
    log.formulas.extend(section.formulas.iter().copied());
    if let Some(name) = choice.as_ref().and_then(variants::Variant::condition) {
        log.assume(format!("condition {name}"), None);
    }
    for (name, filler) in choice.iter().flat_map(|_| procedure.fillers.iter()) {
        let (text, taken) = (&filler.designation, view.procedure.fillers.get(name));
        if let Some(taken) = taken.filter(|own| own.designation != *text || own.diameter != filler.diameter) {
            let of = |own: &Filler| {
                let size = own.diameter.as_ref().and_then(Stated::value).map_or("", |own| own.spelled());
                format!("{} {size}", own.designation).trim().to_owned()
            };
            log.assume(format!("filler {name}: {} of {}", of(taken), of(filler)), None);
        }
    }
    if view.back_gouged() {
        log.assume("weld metal that fills what back gouging takes out is not counted", None);
    }
    let cannot_make = fill::beside(&view, section.area_mm2).filter(|fill| fill.short().is_some()).map(|fill| {
        let (laid, joint) = fill.words();
        format!(
            "the runs as stated lay down {laid} where the joint holds {joint}: they do not make the size, and the time is that \
             of the weld metal"
        )
    });
    // The section is that of one side; the runs of a fillet's second side fill a second fillet.
    let sides = section::fillets(&view);
    if sides > 1.0 {
        log.assume("a fillet on each side: twice the cross-section of one", None);
    }
    let area_mm2 = section.area_mm2.times(sides);
    let runs = run::all(&view, area_mm2, joints, length_mm, &mut log);
    let weld_metal_kg: Spread = runs.iter().map(|run| run.weld_metal_kg).sum();
    if weld_metal_kg.high > 0.0 {
        log.formula(weld_metal::MASS);
    }
    let fillers = filler::fillers(runs.iter().filter_map(|run| run.filler.as_ref()), &mut log);
    let root_min = runs.first().and_then(|run| run.working_time_min.or(run.arc_time_min)).unwrap_or(0.0);
    let gases =
        gas::gases(&view, runs.iter().flat_map(|run| run.gas.iter().chain(&run.trailing)), root_min, joints, &mut log);
    let sum = |of: fn(&RunEstimate) -> Option<f64>| runs.iter().filter_map(of).sum::<f64>();
    let mut estimate = Estimate {
        joints: joints.to_vec(),
        length_mm,
        area_mm2,
        cannot_make,
        weld_metal_kg,
        fillers,
        gases,
        arc_time_min: sum(|run| run.arc_time_min),
        working_time_min: sum(|run| run.working_time_min),
        energy_kwh: sum(|run| run.energy_kwh),
        runs,
        cost: None,
        formulas: Vec::new(),
        assumptions: Vec::new(),
        not_stated: Vec::new(),
    };
    estimate.cost = options.shop.and_then(|shop| quote(&[&estimate], shop));
    if let Some(cost) = &estimate.cost {
        log.formula(COST);
        for missing in &cost.not_stated {
            log.missing(missing);
        }
    }
    estimate.formulas = log.formulas;
    estimate.assumptions = log.assumptions;
    estimate.not_stated = log.not_stated;
    Ok(estimate)
}
