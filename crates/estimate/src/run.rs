//! One run: its share of the weld, its time, and the filler and gas that it takes.

use seamwright_calc::deposition::{self as deposition_formulas};
use seamwright_calc::time_cost::{self, ArcTimes, Mains};
use seamwright_calc::{Spread, weld_metal};
use seamwright_handbook::deposition;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Share, Voltage};
use seamwright_weld::deposit::{self, By, Deposit};
use seamwright_weld::{RunView, View, consumption, machines};

use crate::filler::{FillerUse, filler};
use crate::gas::{GasUse, gas, trailing};
use crate::joint::Joint;
use crate::log::{Log, middle, rule};

/// What one row of runs uses over all joints.
#[derive(Debug, Clone, PartialEq)]
pub struct RunEstimate {
    /// Number or range of numbers, as stated.
    pub run: String,
    /// How many runs that is.
    pub count: u32,
    /// ISO 4063 number of the process, or empty text.
    pub process: &'static str,
    /// Cross-section of one run by its deposition rate and travel speed, mm².
    pub deposited_mm2: Option<Spread>,
    /// Its share of the cross-section of the weld, mm².
    pub area_mm2: Spread,
    /// Weld metal, kg.
    pub weld_metal_kg: Spread,
    /// Arc time by the travel speed, min.
    pub by_travel_min: Option<f64>,
    /// Arc time by the deposition rate, min.
    pub by_rate_min: Option<f64>,
    /// How much longer the time by rate is than that by travel, %.
    pub disagreement_pct: Option<f64>,
    /// The arc time that is reckoned with, min: the longer of the two.
    pub arc_time_min: Option<f64>,
    /// Which of the two it is.
    pub slower: Option<Slower>,
    /// Time at the work, min.
    pub working_time_min: Option<f64>,
    /// Energy from the mains, kWh.
    pub energy_kwh: Option<f64>,
    /// How often the arc is started.
    pub starts: f64,
    /// Filler to buy.
    pub filler: Option<FillerUse>,
    /// Shielding gas.
    pub gas: Option<GasUse>,
    /// Gas of the shield that follows the torch.
    pub trailing: Option<GasUse>,
}

/// What the arc time of a run hangs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slower {
    /// The length of the weld over the travel speed.
    Travel,
    /// The weld metal over the deposition rate.
    Deposition,
}

impl Slower {
    /// The words for it.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Travel => "travel speed",
            Self::Deposition => "deposition rate",
        }
    }
}

/// The rows of runs; settings for another position of runs that stand already use nothing more.
pub(crate) fn all(
    view: &View<'_>,
    area: Spread,
    joints: &[Joint],
    length_mm: f64,
    log: &mut Log<'_>,
) -> Vec<RunEstimate> {
    let taken = consumption::taken(view, Some(area.middle));
    for run in &view.runs {
        match taken.iter().find(|(own, _)| own.index == run.index) {
            None => log.assume(format!("run {}: settings for another position, reckoned once", run.run.run), None),
            Some((_, count)) if run.open => {
                log.assume(format!("run {}: {count} by the weld metal that the joint needs", run.run.run), None);
            }
            Some(_) => {}
        }
    }
    let rows: Vec<(&RunView<'_>, u32, Option<&Deposit>)> =
        taken.into_iter().map(|(run, count)| (run, count, deposit::of(view, run))).collect();
    let share = shares(&rows, log);
    rows.iter()
        .zip(share)
        .map(|((run, count, deposit), share)| {
            one(view, run, *count, *deposit, area.times(share), joints, length_mm, log)
        })
        .collect()
}

/// Which share of the weld each row of runs fills: in proportion to what it lays down, else each run alike.
fn shares(rows: &[(&RunView<'_>, u32, Option<&Deposit>)], log: &mut Log<'_>) -> Vec<f64> {
    let laid = |(_, count, deposit): &(&RunView<'_>, u32, Option<&Deposit>)| {
        deposit.and_then(|deposit| deposit.area_mm2).map(|area| area.middle * f64::from(*count))
    };
    let filled: Vec<bool> = rows.iter().map(|(_, _, deposit)| deposit.is_some()).collect();
    let by_deposit: Option<Vec<f64>> =
        rows.iter().zip(&filled).map(|(row, filled)| if *filled { laid(row) } else { Some(0.0) }).collect();
    let weights = by_deposit.unwrap_or_else(|| {
        log.assume("travel speed is not stated for every run: each run fills an equal share", None);
        rows.iter().zip(&filled).map(|(row, filled)| if *filled { f64::from(row.1) } else { 0.0 }).collect()
    });
    let sum: f64 = weights.iter().sum();
    weights.iter().map(|weight| if sum > 0.0 { weight / sum } else { 0.0 }).collect()
}

#[expect(clippy::too_many_arguments, reason = "all of them are what one row hangs on")]
fn one(
    view: &View<'_>,
    run: &RunView<'_>,
    count: u32,
    deposit: Option<&Deposit>,
    area: Spread,
    joints: &[Joint],
    length_mm: f64,
    log: &mut Log<'_>,
) -> RunEstimate {
    let label = run.run.run.to_string();
    let density = deposit.map(|deposit| deposit.density_kg_m3);
    let weld_metal_kg = density.map_or(Spread::NOTHING, |density| {
        area.map(|area| weld_metal::mass_kg(area, length_mm, density).unwrap_or(0.0))
    });
    if let Some(deposit) = deposit {
        for source in &deposit.sources {
            log.assume(figure_of(deposit, source), Some(source.clone()));
        }
        log.formula(deposition_formulas::DEPOSITION_RATE);
    } else if let Some((_, filler)) = run.filler(view.procedure) {
        log.missing(format!(
            "run {label}: density or deposition efficiency of {}, so no weld metal and filler of it",
            filler.designation
        ));
    }
    let speed = run.value(&keys::TRAVEL_SPEED);
    let by_travel_min = speed
        .and_then(|at| middle(at.value, |speed| speed.mm_per_s()))
        .and_then(|speed| time_cost::arc_time_by_travel_min(length_mm, f64::from(count), speed).ok());
    let by_rate_min = deposit
        .and_then(|deposit| time_cost::arc_time_by_rate_min(weld_metal_kg.middle, deposit.rate_kg_h.middle).ok());
    let disagreement_pct = match (by_travel_min, by_rate_min) {
        (Some(travel), Some(rate)) => ArcTimes::new(travel, rate).ok().map(|times| times.disagreement_pct),
        _ => None,
    };
    let slower = match (by_travel_min, by_rate_min) {
        (Some(travel), Some(rate)) if rate > travel => Some(Slower::Deposition),
        (Some(_), _) => Some(Slower::Travel),
        (None, Some(_)) => Some(Slower::Deposition),
        (None, None) => None,
    };
    let arc_time_min = match slower {
        Some(Slower::Travel) => by_travel_min,
        Some(Slower::Deposition) => by_rate_min,
        None => None,
    };
    if by_travel_min.is_some() {
        log.formula(time_cost::ARC_TIME_BY_TRAVEL);
    }
    if by_rate_min.is_some() {
        log.formula(time_cost::ARC_TIME_BY_RATE);
    }
    if slower.is_none() {
        log.missing(format!("run {label}: travel_speed, so no arc time, gas, labour and energy of it"));
    }
    let working_time_min = arc_time_min.and_then(|arc| working_time(run, arc, log));
    let energy_kwh = arc_time_min.and_then(|arc| energy(run, &label, arc, working_time_min.unwrap_or(arc), log));
    let starts = starts(run, count, joints, log);
    RunEstimate {
        count,
        process: run.number(),
        deposited_mm2: deposit.and_then(|deposit| deposit.area_mm2),
        area_mm2: area,
        filler: deposit.and_then(|deposit| filler(view, run, deposit, weld_metal_kg, log)),
        gas: arc_time_min.and_then(|arc| gas(run, &label, arc, starts, log)),
        trailing: arc_time_min.and_then(|arc| trailing(run, &label, arc, starts, log)),
        weld_metal_kg,
        by_travel_min,
        by_rate_min,
        disagreement_pct,
        arc_time_min,
        slower,
        working_time_min,
        energy_kwh,
        starts,
        run: label,
    }
}

/// What a source of a deposit gives, in words.
fn figure_of(deposit: &Deposit, source: &seamwright_model::finding::SourceRef) -> String {
    match source.table.as_deref() {
        Some("deposition-efficiency") => format!(
            "deposition efficiency, {}: {}",
            deposit.efficiency.label,
            percent(deposit.efficiency.efficiency_pct)
        ),
        Some("metal-densities") => format!("density {:.0} kg/m3", deposit.density_kg_m3),
        Some("gmaw-rules") => "wire feed speed by the current".to_owned(),
        Some("cost-rules") => "a cored wire weighs less than a solid one".to_owned(),
        _ if deposit.by == By::Size => {
            format!("deposition rate by class, diameter and current: {:.2} kg/h", deposit.rate_kg_h.middle)
        }
        _ if matches!(deposit.by, By::Melted | By::Table) => format!(
            "deposition rate {:.1} to {:.1} kg/h, {:.2} is reckoned with",
            deposit.rate_kg_h.low, deposit.rate_kg_h.high, deposit.rate_kg_h.middle
        ),
        _ => "deposition rate".to_owned(),
    }
}

fn percent(range: seamwright_handbook::Band) -> String {
    if range.is_single() {
        format!("{} %", range.low)
    } else {
        format!("{} to {} %, the middle is reckoned with", range.low, range.high)
    }
}

fn working_time(run: &RunView<'_>, arc_min: f64, log: &mut Log<'_>) -> Option<f64> {
    let stated = run.value(&keys::MECHANIZATION).map(|at| at.value.to_string());
    let own = log.times.and_then(|times| {
        let share = times.arc_on.iter().find(|(key, _)| machines::same_process(key, run.number()))?;
        // No arc burns longer than all of the time; the check of the shop says so.
        middle(share.1.value()?, Share::percent).filter(|pct| *pct > 0.0 && *pct <= 100.0)
    });
    if let Some(pct) = own {
        log.assume(format!("{}: the arc burns {pct:.0} % of the time, by the shop's own figure", run.number()), None);
        log.formula(time_cost::WORKING_TIME);
        return time_cost::working_time_min(arc_min, pct / 100.0).ok();
    }
    let mechanization = stated.or_else(|| {
        let usual = run.process?.mechanization.first().copied()?;
        log.assume(format!("{}: mechanization is not stated: {usual}", run.number()), None);
        Some(usual.to_owned())
    })?;
    let Some(row) = deposition::operating_factor(run.number(), &mechanization) else {
        log.missing(format!("operating factor of {} {mechanization}, so no labour of it", run.number()));
        return None;
    };
    let pct = row.arc_on_typical_pct.unwrap_or_else(|| row.arc_on_pct.middle());
    log.assume(
        format!("{}: the arc burns {pct:.0} % of the time ({mechanization})", run.number()),
        Some(row.origin.source_ref()),
    );
    log.formula(time_cost::WORKING_TIME);
    time_cost::working_time_min(arc_min, pct / 100.0).ok()
}

fn energy(run: &RunView<'_>, label: &str, arc_min: f64, working_min: f64, log: &mut Log<'_>) -> Option<f64> {
    let voltage = run.value(&keys::VOLTAGE).and_then(|at| middle(at.value, Voltage::volts));
    let current = run.value(&keys::CURRENT).and_then(|at| middle(at.value, Current::amperes));
    let (Some(voltage_v), Some(current_a)) = (voltage, current) else {
        log.missing(format!("run {label}: voltage and current, so no energy of it"));
        return None;
    };
    let efficiency = rule(deposition::SOURCE_EFFICIENCY, "efficiency of the power source", log);
    let idle = rule(deposition::IDLE_POWER, "idle power of the power source", log);
    log.formula(time_cost::MAINS_ENERGY);
    Mains {
        voltage_v,
        current_a,
        arc_time_min: arc_min,
        working_time_min: working_min,
        source_efficiency: efficiency / 100.0,
        idle_power_kw: idle / 1000.0,
    }
    .energy_kwh()
    .ok()
}

fn starts(run: &RunView<'_>, count: u32, joints: &[Joint], log: &mut Log<'_>) -> f64 {
    let wire = run.process.is_some_and(|process| process.uses_wire_feed);
    let (own, what) = if wire {
        (deposition::LENGTH_PER_START_WIRE, "length from one start, fed wire")
    } else {
        (deposition::LENGTH_PER_START, "length from one start, manual")
    };
    let length = rule(own, what, log);
    let of_joint = |joint: &Joint| (joint.length_mm / length).ceil().max(1.0) * f64::from(joint.count);
    joints.iter().map(of_joint).sum::<f64>() * f64::from(count)
}
