//! Shielding, trailing and backing gas: how much flows, and how many cylinders that is.

use seamwright_calc::gas as gas_formulas;
use seamwright_handbook::technique::gas_timing;
use seamwright_handbook::{Rule, SourceRef, deposition};
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Duration, Flow, Range};
use seamwright_model::stated::{Composition, OrNone, Stated};
use seamwright_weld::consumption::GasPlace;
use seamwright_weld::{RunView, View, stock};

use crate::joint::Joint;
use crate::log::{Log, middle, rule};

/// Gas.
#[derive(Debug, Clone, PartialEq)]
pub struct GasUse {
    /// Its designation, or its composition.
    pub designation: String,
    /// Where it flows.
    pub place: GasPlace,
    /// Volume, litres of free gas.
    pub volume_l: f64,
    /// The same as a share of a full cylinder: of the stock's, else of a usual one.
    pub cylinders: Option<f64>,
    /// What one cylinder of the stock holds, litres of free gas.
    pub cylinder_l: Option<f64>,
    /// The rows of the stock that it is taken from, each with its gas, L.
    pub(crate) shelf: Vec<(usize, Option<f64>)>,
    /// What the cylinders of the shop hold of it, litres of free gas.
    pub in_stock_l: Option<f64>,
}

/// The cylinders of the stock that hold a gas, each with its gas, litres, where that is stated, and what one of them holds.
fn cylinders_of(
    designation: Option<&str>,
    composition: Option<&Composition>,
    log: &Log<'_>,
) -> (Vec<(usize, Option<f64>)>, Option<f64>) {
    let Some(shelf) = log.shelf else { return (Vec::new(), None) };
    let own = stock::cylinders(shelf, designation, composition);
    let each = own.iter().find_map(|own| stock::one_cylinder_l(own));
    let rows = shelf.gas_cylinders.iter().enumerate().filter(|(_, row)| own.iter().any(|own| std::ptr::eq(*own, *row)));
    (rows.map(|(index, row)| (index, stock::contents_l(row))).collect(), each)
}

fn seconds(stated: Option<&Stated<Range<Duration>>>) -> Option<f64> {
    middle(stated?.value()?, Duration::seconds)
}

pub(crate) fn gas(run: &RunView<'_>, label: &str, arc_min: f64, starts: f64, log: &mut Log<'_>) -> Option<GasUse> {
    if !run.process.is_some_and(|process| process.uses_shielding_gas) {
        return None;
    }
    let Some(gas) = run.gas() else {
        log.missing(format!("run {label}: shielding_gas, so no gas of it"));
        return None;
    };
    let designation = gas
        .value
        .designation
        .as_deref()
        .map_or_else(|| gas.value.composition.as_ref().map_or_else(|| "gas".to_owned(), composition), str::to_owned);
    let Some(flow_l_min) =
        gas.value.flow.as_ref().and_then(Stated::value).and_then(|flow| middle(flow, Flow::l_per_min))
    else {
        log.missing(format!("run {label}: shielding_gas/flow, so no gas of it"));
        return None;
    };
    let tungsten = run.process.is_some_and(|process| process.uses_tungsten);
    let current = run.value(&keys::CURRENT).and_then(|at| middle(at.value, Current::amperes)).unwrap_or(0.0);
    // What practice asks for where the document is silent.
    let usual = |rule: &Rule, per: f64| tungsten.then(|| (rule.value.middle() * per, rule.origin.source_ref()));
    let mut time = |name: &str, stated: Option<&Stated<Range<Duration>>>, usual: Option<(f64, SourceRef)>| {
        seconds(stated).unwrap_or_else(|| {
            let Some((time, source)) = usual else {
                log.assume(format!("{}: {name} is not stated: gas flows while the arc burns", run.number()), None);
                return 0.0;
            };
            log.assume(format!("run {label}: {name} is not stated: {time:.1} s"), Some(source));
            time
        })
    };
    let pre_flow_s = time("pre_flow", gas.value.pre_flow.as_ref(), usual(gas_timing::PRE_FLOW, 1.0));
    let post_flow_s =
        time("post_flow", gas.value.post_flow.as_ref(), usual(gas_timing::POST_FLOW_PER_10_A, current / 10.0));
    log.formula(gas_formulas::GAS_USED);
    let volume_l =
        gas_formulas::GasUse { flow_l_min, arc_time_min: arc_min, starts, pre_flow_s, post_flow_s }.gas_l().ok()?;
    Some(gas_use(
        designation,
        GasPlace::Torch,
        volume_l,
        gas.value.designation.as_deref(),
        gas.value.composition.as_ref(),
        log,
    ))
}

/// The gas of the shield that follows the torch of a run; where its own times are not stated it flows with the arc.
pub(crate) fn trailing(run: &RunView<'_>, label: &str, arc_min: f64, starts: f64, log: &mut Log<'_>) -> Option<GasUse> {
    let gas = run.part(&keys::TRAILING_GAS)?.value;
    let Some(flow_l_min) = gas.flow.as_ref().and_then(Stated::value).and_then(|flow| middle(flow, Flow::l_per_min))
    else {
        log.missing(format!("run {label}: trailing_gas/flow, so no trailing gas of it"));
        return None;
    };
    let (pre_flow_s, post_flow_s) = (seconds(gas.pre_flow.as_ref()), seconds(gas.post_flow.as_ref()));
    if post_flow_s.is_none() {
        log.assume("the trailing gas flows while the arc burns: its post-flow is not stated", None);
    }
    log.formula(gas_formulas::GAS_USED);
    let (pre_flow_s, post_flow_s) = (pre_flow_s.unwrap_or(0.0), post_flow_s.unwrap_or(0.0));
    let used = gas_formulas::GasUse { flow_l_min, arc_time_min: arc_min, starts, pre_flow_s, post_flow_s };
    let volume_l = used.gas_l().ok()?;
    let (designation, parts) = (gas.designation.as_deref(), gas.composition.as_ref());
    let name = designation.map_or_else(|| parts.map_or_else(|| "gas".to_owned(), composition), str::to_owned);
    Some(gas_use(name, GasPlace::Trailing, volume_l, designation, parts, log))
}

fn composition(parts: &Composition) -> String {
    parts.iter().map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(" ")
}

/// The gases of all runs, each once, and the backing gas, which flows over a root run of so many minutes.
pub(crate) fn gases<'r>(
    view: &View<'_>,
    of_runs: impl Iterator<Item = &'r GasUse>,
    root_min: f64,
    joints: &[Joint],
    log: &mut Log<'_>,
) -> Vec<GasUse> {
    let mut all: Vec<GasUse> = Vec::new();
    for own in of_runs {
        match all.iter_mut().find(|other| other.place == own.place && other.designation == own.designation) {
            Some(same) => same.volume_l += own.volume_l,
            None => all.push(own.clone()),
        }
    }
    all.extend(backing(view, root_min, joints, log));
    for gas in &mut all {
        let usual = |log: &mut Log<'_>| rule(deposition::CYLINDER_CONTENTS, "gas in a full cylinder", log) * 1000.0;
        let each = gas.cylinder_l.filter(|each| *each > 0.0).unwrap_or_else(|| usual(log));
        gas.cylinders = Some(gas.volume_l / each);
    }
    all
}

fn backing(view: &View<'_>, root_min: f64, joints: &[Joint], log: &mut Log<'_>) -> Option<GasUse> {
    let gas = view.procedure.backing_gas.as_ref().and_then(OrNone::value)?;
    let Some(flow) = gas.flow.as_ref().and_then(Stated::value).and_then(|flow| middle(flow, Flow::l_per_min)) else {
        log.missing("backing_gas/flow, so no backing gas");
        return None;
    };
    let purge = if let Some(seconds) = seconds(gas.purge_time.as_ref()) {
        seconds / 60.0
    } else {
        log.missing("backing_gas/purge_time: the time before welding is reckoned as nothing");
        0.0
    };
    // Kept on over the first row of runs; what is kept longer is not reckoned.
    log.assume("the backing gas flows before each joint and over the first run", None);
    let pieces: f64 = joints.iter().map(|joint| f64::from(joint.count)).sum();
    let designation = gas
        .designation
        .as_deref()
        .map_or_else(|| gas.composition.as_ref().map_or_else(|| "gas".to_owned(), composition), str::to_owned);
    let volume_l = flow * (purge * pieces + root_min);
    Some(gas_use(designation, GasPlace::Root, volume_l, gas.designation.as_deref(), gas.composition.as_ref(), log))
}

fn gas_use(
    name: String,
    place: GasPlace,
    volume_l: f64,
    designation: Option<&str>,
    composition: Option<&Composition>,
    log: &Log<'_>,
) -> GasUse {
    let (shelf, cylinder_l) = cylinders_of(designation, composition, log);
    let in_stock_l = log.shelf.and_then(|shelf| stock::gas_l(shelf, designation, composition));
    GasUse { designation: name, place, volume_l, cylinders: None, cylinder_l, in_stock_l, shelf }
}
