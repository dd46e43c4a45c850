//! One run: its share of the weld, its time, and the filler and gas that it takes.

use seamwright_calc::deposition::{self as deposition_formulas, Loss, Rod};
use seamwright_calc::gas as gas_formulas;
use seamwright_calc::time_cost::{self, ArcTimes, Mains};
use seamwright_calc::{Spread, weld_metal};
use seamwright_check::consumption;
use seamwright_check::deposit::{self, By, Deposit};
use seamwright_check::shops::{machines, stock};
use seamwright_check::view::{RunView, View};
use seamwright_handbook::{SourceRef, deposition, rule::Rule, technique};
use seamwright_model::procedure::Filler;
use seamwright_model::quantity::{Current, Duration, Flow, Length, Quantity, Range, Share, Voltage};
use seamwright_model::stated::{Composition, OrNone, Stated};

use crate::{Joint, Log};

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

/// Filler to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerUse {
    /// Its name in the document.
    pub name: String,
    /// Its designation.
    pub designation: String,
    /// ISO 4063 number of the process that uses it.
    pub process: &'static str,
    /// Diameter, mm.
    pub diameter_mm: Option<f64>,
    /// Length of one electrode or rod, mm: of the stock, else the usual one.
    pub length_mm: Option<f64>,
    /// How many electrodes weigh a kilogram.
    per_kg: Option<f64>,
    /// Mass of one spool or box of the stock, kg.
    pub package_kg: Option<f64>,
    /// Density, kg/m³.
    density_kg_m3: f64,
    /// Weld metal that it gives, kg.
    pub weld_metal_kg: f64,
    /// Mass to buy, kg.
    pub mass_kg: Spread,
    /// The same in pieces.
    pub pieces: Option<(u64, Pieces)>,
    /// What the shop has of it, kg.
    pub in_stock_kg: Option<f64>,
    /// The rows of the stock that it is taken from, each with its mass, kg.
    pub(crate) shelf: Vec<(usize, Option<f64>)>,
}

impl FillerUse {
    /// Mass of one package, kg, and the word for it: a spool of wire, a box of electrodes or rods.
    pub fn package(&self) -> Option<(f64, &'static str)> {
        let wire = self.pieces.is_some_and(|(_, kind)| kind == Pieces::Spools);
        let usual = || deposition::rule("spool-mass").filter(|_| wire).map(|rule| rule.value.middle());
        Some((self.package_kg.or_else(usual)?, if wire { "spool" } else { "box" }))
    }

    /// How many packages it is, and the part of one.
    pub fn packages(&self) -> Option<f64> {
        self.package().map(|(each, _)| self.mass_kg.middle / each)
    }
}

/// The pieces in which filler is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pieces {
    /// Covered electrodes.
    Electrodes,
    /// Rods for tungsten arc welding.
    Rods,
    /// Spools of wire.
    Spools,
}

impl Pieces {
    /// The word for them.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Electrodes => "electrodes",
            Self::Rods => "rods",
            Self::Spools => "spools",
        }
    }

    /// A number of them in words: "1 rod", "12 rods".
    pub fn count(self, count: u64) -> String {
        let word = if count == 1 { self.as_str().trim_end_matches('s') } else { self.as_str() };
        format!("{count} {word}")
    }
}

/// Gas.
#[derive(Debug, Clone, PartialEq)]
pub struct GasUse {
    /// Its designation, or its composition.
    pub designation: String,
    /// Whether it shields the root.
    pub backing: bool,
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

const NOTHING: Spread = Spread { low: 0.0, middle: 0.0, high: 0.0 };

fn scaled(spread: Spread, by: f64) -> Spread {
    Spread { low: spread.low * by, middle: spread.middle * by, high: spread.high * by }
}

fn middle<Q: Quantity>(range: &Range<Q>, of: impl Fn(Q) -> f64) -> Option<f64> {
    range.middle().or(range.low()).or(range.high()).map(of)
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
    let rows: Vec<(&RunView<'_>, u32, Option<Deposit>)> =
        taken.into_iter().map(|(run, count)| (run, count, deposit::of(view, run))).collect();
    let share = shares(&rows, log);
    rows.iter()
        .zip(share)
        .map(|((run, count, deposit), share)| {
            one(view, run, *count, deposit.as_ref(), scaled(area, share), joints, length_mm, log)
        })
        .collect()
}

/// Which share of the weld each row of runs fills: in proportion to what it lays down, else each run alike.
fn shares(rows: &[(&RunView<'_>, u32, Option<Deposit>)], log: &mut Log<'_>) -> Vec<f64> {
    let laid = |(_, count, deposit): &(&RunView<'_>, u32, Option<Deposit>)| {
        deposit.as_ref().and_then(|deposit| deposit.area_mm2).map(|area| area.middle * f64::from(*count))
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
    let weld_metal_kg = density.map_or(NOTHING, |density| {
        let mass = |area: f64| weld_metal::mass_kg(area, length_mm, density).unwrap_or(0.0);
        Spread { low: mass(area.low), middle: mass(area.middle), high: mass(area.high) }
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
    let speed = run.quantity("travel_speed", |s| s.travel_speed.as_ref());
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
        _ if deposit.by == By::Table => format!(
            "deposition rate {:.1} to {:.1} kg/h, {:.2} is reckoned with",
            deposit.rate_kg_h.low, deposit.rate_kg_h.high, deposit.rate_kg_h.middle
        ),
        _ => "deposition rate".to_owned(),
    }
}

fn percent(range: seamwright_handbook::Range) -> String {
    if (range.high - range.low).abs() < 1e-9 {
        format!("{} %", range.low)
    } else {
        format!("{} to {} %, the middle is reckoned with", range.low, range.high)
    }
}

fn working_time(run: &RunView<'_>, arc_min: f64, log: &mut Log<'_>) -> Option<f64> {
    let stated = run
        .setting("mechanization", |s| s.mechanization.as_ref().and_then(Stated::value))
        .map(|at| at.value.to_string());
    let own = log.times.and_then(|times| {
        let share = times.arc_on.iter().find(|(key, _)| machines::same_process(key, run.number()))?;
        middle(share.1.value()?, Share::percent).filter(|pct| *pct > 0.0)
    });
    if let Some(pct) = own {
        log.assume(format!("{}: the arc burns {pct:.0} % of the time, by the shop's own figure", run.number()), None);
        log.formula(time_cost::WORKING_TIME);
        return time_cost::working_time_min(arc_min, pct / 100.0).ok();
    }
    let mechanization = stated.or_else(|| {
        let usual = run.process?.mechanization.first()?.clone();
        log.assume(format!("{}: mechanization is not stated: {usual}", run.number()), None);
        Some(usual)
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

fn rule(name: &str, what: &str, log: &mut Log<'_>) -> Option<&'static Rule> {
    let rule = deposition::rule(name)?;
    let value = if (rule.value.high - rule.value.low).abs() < 1e-9 {
        format!("{} {}", rule.value.low, rule.unit)
    } else {
        format!("{} to {} {}, the middle is reckoned with", rule.value.low, rule.value.high, rule.unit)
    };
    log.assume(format!("{what}: {value}"), Some(rule.origin.source_ref()));
    Some(rule)
}

fn energy(run: &RunView<'_>, label: &str, arc_min: f64, working_min: f64, log: &mut Log<'_>) -> Option<f64> {
    let voltage = run.quantity("voltage", |s| s.voltage.as_ref()).and_then(|at| middle(at.value, Voltage::volts));
    let current = run.quantity("current", |s| s.current.as_ref()).and_then(|at| middle(at.value, Current::amperes));
    let (Some(voltage_v), Some(current_a)) = (voltage, current) else {
        log.missing(format!("run {label}: voltage and current, so no energy of it"));
        return None;
    };
    let efficiency = rule("source-efficiency", "efficiency of the power source", log)?;
    let idle = rule("idle-power", "idle power of the power source", log)?;
    log.formula(time_cost::MAINS_ENERGY);
    Mains {
        voltage_v,
        current_a,
        arc_time_min: arc_min,
        working_time_min: working_min,
        source_efficiency: efficiency.value.middle() / 100.0,
        idle_power_kw: idle.value.middle() / 1000.0,
    }
    .energy_kwh()
    .ok()
}

fn starts(run: &RunView<'_>, count: u32, joints: &[Joint], log: &mut Log<'_>) -> f64 {
    let wire = run.process.is_some_and(|process| process.uses_wire_feed);
    let (name, what) = if wire {
        ("length-per-start-wire", "length from one start, fed wire")
    } else {
        ("length-per-start", "length from one start, manual")
    };
    let length = rule(name, what, log).map_or(f64::INFINITY, |rule| rule.value.middle());
    let of_joint = |joint: &Joint| (joint.length_mm / length).ceil().max(1.0) * f64::from(joint.count);
    joints.iter().map(of_joint).sum::<f64>() * f64::from(count)
}

fn filler(
    view: &View<'_>,
    run: &RunView<'_>,
    deposit: &Deposit,
    weld_metal: Spread,
    log: &mut Log<'_>,
) -> Option<FillerUse> {
    let (name, filler) = run.filler(view.procedure)?;
    let diameter_mm = filler.diameter.as_ref().and_then(Stated::value).and_then(|range| middle(range, Length::mm));
    let covered = run.is_covered();
    let counted = diameter_mm
        .filter(|_| covered)
        .and_then(|diameter| deposition::electrodes_per_kg(&filler.designation, diameter));
    let length_mm = length(filler, counted.map(|(_, row)| row), run.number(), log);
    // What is known of the very electrode, less the stub of its length; else what is usual of the process.
    let own = deposit.melted_pct.filter(|_| covered).zip(length_mm).and_then(|(melted, length)| {
        let stub = rule("electrode-stub", "stub of a covered electrode", log)?.value.middle();
        let stub_loss = deposition_formulas::stub_loss(length, stub).ok()?;
        log.assume(
            format!(
                "{}: {melted:.0} % of what is melted ends in the weld, {:.0} % is stub",
                filler.designation,
                stub_loss * 100.0
            ),
            None,
        );
        Some(Loss::EfficiencyAndStub { efficiency: melted / 100.0, stub_loss })
    });
    let share = deposit.efficiency.efficiency_pct;
    let mass = |weld_metal: f64, pct: f64| {
        // The rows of covered electrodes that are taken count the stub already.
        deposition_formulas::filler_mass_kg(weld_metal, own.unwrap_or(Loss::Efficiency(pct / 100.0))).ok()
    };
    log.formula(deposition_formulas::FILLER_MASS);
    if own.is_none() && deposit.efficiency.stub_included == Some(true) {
        log.assume("the efficiency of the electrode counts its stub: it is taken off once", None);
    }
    Some(FillerUse {
        name: name.value.to_owned(),
        designation: filler.designation.to_string(),
        process: run.number(),
        diameter_mm,
        length_mm,
        per_kg: counted.zip(length_mm).map(|((per_kg, row), length)| per_kg * row.length_mm / length),
        package_kg: log.shelf.and_then(|shelf| stock::fillers(shelf, filler).into_iter().find_map(stock::package_kg)),
        shelf: shelf_of(filler, deposit.density_kg_m3, log),
        density_kg_m3: deposit.density_kg_m3,
        weld_metal_kg: weld_metal.middle,
        mass_kg: Spread {
            low: mass(weld_metal.low, share.high)?,
            middle: mass(weld_metal.middle, share.middle())?,
            high: mass(weld_metal.high, share.low)?,
        },
        pieces: None,
        in_stock_kg: log.shelf.and_then(|shelf| stock::filler_kg(shelf, filler, deposit.density_kg_m3)),
    })
}

/// The fillers of all runs, each once, with their pieces.
pub(crate) fn fillers(runs: &[RunEstimate], log: &mut Log<'_>) -> Vec<FillerUse> {
    let mut all: Vec<FillerUse> = Vec::new();
    for own in runs.iter().filter_map(|run| run.filler.as_ref()) {
        if let Some(same) = all.iter_mut().find(|other| other.name == own.name && other.process == own.process) {
            same.weld_metal_kg += own.weld_metal_kg;
            same.mass_kg = crate::total([same.mass_kg, own.mass_kg].into_iter());
        } else {
            all.push(own.clone());
        }
    }
    for filler in &mut all {
        filler.pieces = pieces(filler, log);
    }
    all
}

fn pieces(filler: &FillerUse, log: &mut Log<'_>) -> Option<(u64, Pieces)> {
    match filler.process {
        "111" => {
            log.formula(deposition_formulas::ELECTRODES);
            if let Some(per_kg) = filler.per_kg {
                let each = 1.0 / per_kg;
                return Some((
                    deposition_formulas::electrodes_needed(filler.mass_kg.middle, each).ok()?,
                    Pieces::Electrodes,
                ));
            }
            let stub = rule("electrode-stub", "stub of a covered electrode", log)?.value.middle();
            let rod = Rod {
                diameter_mm: filler.diameter_mm?,
                length_mm: filler.length_mm?,
                stub_mm: stub,
                density_kg_m3: filler.density_kg_m3,
            };
            log.assume("a covered electrode lays down as much as its core melts, its stub aside", None);
            let each = deposition_formulas::electrode_weld_metal_kg(rod, 1.0).ok()?;
            Some((deposition_formulas::electrodes_needed(filler.weld_metal_kg, each).ok()?, Pieces::Electrodes))
        }
        "141" | "143" | "15" => {
            let rod = Rod {
                diameter_mm: filler.diameter_mm?,
                length_mm: filler.length_mm?,
                stub_mm: 0.0,
                density_kg_m3: filler.density_kg_m3,
            };
            let each = rod.mass_kg().ok()?;
            Some((deposition_formulas::electrodes_needed(filler.mass_kg.middle, each).ok()?, Pieces::Rods))
        }
        _ => {
            let spool = match filler.package_kg {
                Some(package) => package,
                None => rule("spool-mass", "wire on a spool", log)?.value.middle(),
            };
            Some((deposition_formulas::spools_needed(filler.mass_kg.middle, spool).ok()?, Pieces::Spools))
        }
    }
}

/// Length of one electrode or rod, mm: of the stock, else of the row that its count stands in, else the usual one.
fn length(filler: &Filler, counted: Option<&deposition::CountRow>, process: &str, log: &mut Log<'_>) -> Option<f64> {
    let stocked = log.shelf.and_then(|shelf| {
        let own = stock::fillers(shelf, filler);
        own.iter().find_map(|own| middle(own.length.as_ref()?.value()?, Length::mm))
    });
    if stocked.is_some() {
        return stocked;
    }
    match process {
        "111" => match counted {
            Some(row) => {
                log.assume(
                    format!("length of a covered electrode: {} mm", row.length_mm),
                    Some(row.origin.source_ref()),
                );
                Some(row.length_mm)
            }
            None => rule("electrode-length", "length of a covered electrode", log).map(|rule| rule.value.middle()),
        },
        "141" | "143" | "15" => rule("rod-length", "length of a rod", log).map(|rule| rule.value.middle()),
        _ => None,
    }
}

/// The rows of the stock that a filler may be taken from, each with its mass, kg, where that is stated.
fn shelf_of(filler: &Filler, density_kg_m3: f64, log: &Log<'_>) -> Vec<(usize, Option<f64>)> {
    let Some(shelf) = log.shelf else { return Vec::new() };
    let own = stock::fillers(shelf, filler);
    let rows = shelf.fillers.iter().enumerate().filter(|(_, row)| own.iter().any(|own| std::ptr::eq(*own, *row)));
    rows.map(|(index, row)| (index, stock::mass_kg(row, density_kg_m3))).collect()
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

fn gas(run: &RunView<'_>, label: &str, arc_min: f64, starts: f64, log: &mut Log<'_>) -> Option<GasUse> {
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
    let current = run
        .quantity("current", |s| s.current.as_ref())
        .and_then(|at| middle(at.value, Current::amperes))
        .unwrap_or(0.0);
    // What practice asks for where the document is silent.
    let usual = |name: &str, per: f64| {
        let rule = technique::gas_timing(name).filter(|_| tungsten)?;
        Some((rule.value.middle() * per, rule.origin.source_ref()))
    };
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
    let pre_flow_s = time("pre_flow", gas.value.pre_flow.as_ref(), usual("pre-flow", 1.0));
    let post_flow_s = time("post_flow", gas.value.post_flow.as_ref(), usual("post-flow-per-10-a", current / 10.0));
    log.formula(gas_formulas::GAS_USED);
    let volume_l =
        gas_formulas::GasUse { flow_l_min, arc_time_min: arc_min, starts, pre_flow_s, post_flow_s }.gas_l().ok()?;
    Some(gas_use(designation, false, volume_l, gas.value.designation.as_deref(), gas.value.composition.as_ref(), log))
}

fn composition(parts: &Composition) -> String {
    parts.iter().map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(" ")
}

/// The gases of all runs, each once, and the backing gas.
pub(crate) fn gases(view: &View<'_>, runs: &[RunEstimate], joints: &[Joint], log: &mut Log<'_>) -> Vec<GasUse> {
    let mut all: Vec<GasUse> = Vec::new();
    for own in runs.iter().filter_map(|run| run.gas.as_ref()) {
        match all.iter_mut().find(|other| other.designation == own.designation) {
            Some(same) => same.volume_l += own.volume_l,
            None => all.push(own.clone()),
        }
    }
    all.extend(backing(view, runs, joints, log));
    for gas in &mut all {
        let usual = |log: &mut Log<'_>| {
            rule("cylinder-contents", "gas in a full cylinder", log).map(|rule| rule.value.middle() * 1000.0)
        };
        let each = gas.cylinder_l.filter(|each| *each > 0.0).or_else(|| usual(log));
        gas.cylinders = each.map(|each| gas.volume_l / each);
    }
    all
}

fn backing(view: &View<'_>, runs: &[RunEstimate], joints: &[Joint], log: &mut Log<'_>) -> Option<GasUse> {
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
    let root = runs.first().and_then(|run| run.working_time_min.or(run.arc_time_min)).unwrap_or(0.0);
    let pieces: f64 = joints.iter().map(|joint| f64::from(joint.count)).sum();
    let designation = gas
        .designation
        .as_deref()
        .map_or_else(|| gas.composition.as_ref().map_or_else(|| "gas".to_owned(), composition), str::to_owned);
    let volume_l = flow * (purge * pieces + root);
    Some(gas_use(designation, true, volume_l, gas.designation.as_deref(), gas.composition.as_ref(), log))
}

fn gas_use(
    name: String,
    backing: bool,
    volume_l: f64,
    designation: Option<&str>,
    composition: Option<&Composition>,
    log: &Log<'_>,
) -> GasUse {
    let (shelf, cylinder_l) = cylinders_of(designation, composition, log);
    let in_stock_l = log.shelf.and_then(|shelf| stock::gas_l(shelf, designation, composition));
    GasUse { designation: name, backing, volume_l, cylinders: None, cylinder_l, in_stock_l, shelf }
}
