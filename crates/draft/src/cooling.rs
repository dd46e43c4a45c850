//! Settings of a run held to the heat that its metal needs and stands: heat input, and cooling time where the metal has one.

use seamwright_calc::cooling_time::Plate;
use seamwright_handbook::metal_heat::{self, CoolingTimeRow};
use seamwright_handbook::{Band, planning, thermal_efficiency};
use seamwright_model::procedure::JointType;
use seamwright_weld::heat::Cooling;

use crate::facts::Facts;
use crate::figures::{rounded, rule};
use crate::hold::Warmth;
use crate::page::Said;
use crate::plan::Run;
use crate::preheat::{preheat_c, usual_interpass};

/// Step in which a travel speed is written, mm/min.
const STEP: f64 = 5.0;

/// What makes the heat of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Arc {
    pub(crate) current_a: Band,
    pub(crate) voltage_v: Band,
    pub(crate) travel_mm_min: Band,
}

impl Arc {
    /// Heat input from its least to its most, kJ/mm, with thermal efficiency k.
    fn heat(&self, k: f64) -> Band {
        let power = |current: f64, voltage: f64| k * current * voltage * 60.0 / 1000.0;
        Band::new(
            power(self.current_a.low, self.voltage_v.low) / self.travel_mm_min.high,
            power(self.current_a.high, self.voltage_v.high) / self.travel_mm_min.low,
        )
    }

    /// Range of travel speed that gives a heat input in kJ/mm.
    fn travel_for(&self, k: f64, heat: Band) -> Band {
        let own = Self { travel_mm_min: Band::at(1.0), ..*self }.heat(k);
        Band::new(own.high / heat.high, own.low / heat.low)
    }
}

/// The arc of a run held within the heat of the metal, with a word on it; as it was where the metal asks for none or it fits.
///
/// The travel speed gives way first, within what is usual for the run; then the ranges of voltage and current are narrowed; then the
/// current is moved inside `reach`, which electrode or wire carries.
pub(crate) fn held(facts: &Facts, low_hydrogen: bool, run: &Run, reach: Band, own: Arc) -> (Arc, Option<&'static str>) {
    let Some(k) = thermal_efficiency::get(facts.process.number).map(|row| row.k) else { return (own, None) };
    let preheat_c = preheat_c(facts, low_hydrogen, own.heat(k).low);
    let temperatures = |facts: &Facts| run.hold.warmth.map_or_else(|| temperatures(facts, preheat_c), |own| vec![own]);
    let windows = windows(facts, temperatures(facts));
    let windows = match facts.other().map(|other| self::windows(&other, temperatures(&other))) {
        Some(others) => both(windows, others),
        None => windows,
    };
    let fits = |arc: &Arc, window: &Band| window.covers(arc.heat(k));
    if windows.is_empty() || windows.iter().any(|window| fits(&own, window)) {
        return (own, None);
    }
    let usual_travel = run.hold.widest(slowed(facts, run.widest_travel()));
    let (voltage, _) = rule(planning::NARROW_VOLTAGE);
    let (current, _) = rule(planning::NARROW_CURRENT);
    let (speed, _) = rule(planning::NARROW_SPEED);
    let narrow = |range: Band, ratio: f64, step: f64| {
        let low = (2.0 * range.middle() / (1.0 + ratio)).max(range.low);
        rounded(Band::new(low, (low * ratio).min(range.high)), step)
    };
    let volts = narrow(own.voltage_v, voltage.high, 0.5);
    let hotter = Band::new(own.current_a.high / current.high, own.current_a.high);
    let cooler = Band::new(own.current_a.low, own.current_a.low * current.high);
    let middle = narrow(own.current_a, current.high, 1.0);
    let amperes = [own.current_a, middle, rounded(hotter, 1.0), rounded(cooler, 1.0)];
    let (moved, _) = rule(planning::CURRENT_MOVED);
    let half = |end: f64| f64::midpoint(1.0, end);
    let moved = [half(moved.high), moved.high, half(moved.low), moved.low];
    let moved = moved.map(|by| rounded(middle.scaled(by), 1.0));
    let narrowed = [(own.current_a, own.voltage_v)].into_iter().chain(amperes.map(|own| (own, volts)));
    let narrowed: Vec<_> = narrowed.collect();
    let moved: Vec<_> = moved.into_iter().filter(|own| reach.covers(*own)).map(|own| (own, volts)).collect();
    // A fillet takes the least preheat at which its run has heat enough and is made no larger than a leg may grow for it; a faster
    // travel that was asked for is kept as nearly as it goes.
    let nearest = !facts.groove() || run.hold.moved_faster();
    let mut found: Vec<Arc> = Vec::new();
    for arcs in [&narrowed, &moved] {
        for (window, (current_a, voltage_v)) in
            windows.iter().flat_map(|window| arcs.iter().map(move |arc| (window, *arc)))
        {
            let arc = Arc { current_a, voltage_v, ..own };
            let Some(travel) = inside(arc.travel_for(k, *window), usual_travel) else { continue };
            let held = [near(travel, own.travel_mm_min), travel].into_iter().find_map(|range| {
                let held = Arc { travel_mm_min: rounded(range, STEP), ..arc };
                let wide = held.travel_mm_min.high >= speed.high * held.travel_mm_min.low;
                (wide && fits(&held, window)).then_some(held)
            });
            found.extend(held);
            if !found.is_empty() && !nearest {
                break;
            }
        }
        if !found.is_empty() {
            break;
        }
    }
    let (grown, _) = rule(planning::LEG_GROWN_FOR_HEAT);
    let slower = if facts.groove() { 0.0 } else { 2.0 * grown.high.ln() };
    let off = |arc: &Arc| {
        let off = (arc.travel_mm_min.middle() / own.travel_mm_min.middle()).ln();
        off.max(-off - slower).max(0.0)
    };
    match found.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))) {
        Some(held) => (held, Some("held to the heat that the metal needs (heat-input-limits, cooling-time-windows)")),
        None => (own, None),
    }
}

/// The usual travel of a run, with the slowest that a rod fed by hand is welded at for its heat.
fn slowed(facts: &Facts, usual: Band) -> Band {
    let share = if facts.process.uses_tungsten { rule(planning::SLOW_FOR_HEAT).0.high } else { 1.0 };
    Band::new(share * usual.low, usual.high)
}

/// Where a range comes from, with a word where the heat has narrowed it.
pub(crate) fn narrowed(said: Said, was: Band, now: Band) -> Said {
    match said {
        Said::Table(source, how) if was != now => {
            let before = if how.is_empty() { String::new() } else { format!("{how}; ") };
            Said::how(source, format!("{before}narrowed to hold the heat"))
        }
        said => said,
    }
}

/// What the windows of two metals share.
fn both(own: Vec<Band>, other: Vec<Band>) -> Vec<Band> {
    if own.is_empty() || other.is_empty() {
        return if own.is_empty() { other } else { own };
    }
    own.iter().flat_map(|window| other.iter().filter_map(|second| window.overlap(*second))).collect()
}

/// What two ranges share.
fn inside(range: Band, limit: Band) -> Option<Band> {
    (range.low < range.high).then(|| range.overlap(limit)).flatten()
}

/// The part of a range about another, no wider than a procedure states it; next to it where they share too little.
fn near(range: Band, wanted: Band) -> Band {
    let (wide, _) = rule(planning::NARROW_SPEED);
    let share = range.overlap(wanted);
    if let Some(share) = share.filter(|share| share.high >= wide.high * share.low) {
        return share;
    }
    let middle = wanted.middle().clamp(range.low, range.high);
    let low = (2.0 * middle / (1.0 + wide.high)).min(range.high / wide.high);
    // A step down, so that rounding leaves it as wide.
    let low = (((low / STEP).floor() - 1.0) * STEP).max(range.low);
    Band::new(low, (low * wide.high + STEP).min(range.high))
}

/// Ranges of heat input, kJ/mm, the one with the usual temperatures first; none where the metal asks for nothing.
fn windows(facts: &Facts, temperatures: Vec<Warmth>) -> Vec<Band> {
    let limits = metal_heat::heat_input(facts.metal, facts.thickness_mm);
    let usual = limits.map(|limits| limits.usual.unwrap_or(limits.envelope));
    let Some((row, cooling)) = times(facts) else { return usual.into_iter().collect() };
    let mut windows = Vec::new();
    for Warmth { cold, hot } in temperatures {
        let heat = |plate: Plate, time: f64| plate.heat_input_for_kj_mm(time).ok();
        let low = heat(cooling.shortest(cold), row.time_s.low);
        let high = heat(cooling.longest(hot), row.time_s.high);
        let Some((low, high)) = low.zip(high).filter(|(low, high)| low < high) else { continue };
        let window = Band::new(low, high);
        windows.extend(usual.map_or(Some(window), |usual| window.overlap(usual)));
    }
    windows
}

/// The window of cooling time of the metal, or of the other of two, and how the weld cools.
fn times(facts: &Facts) -> Option<(&'static CoolingTimeRow, Cooling)> {
    let row = metal_heat::cooling_time(facts.metal).or_else(|| metal_heat::cooling_time(facts.second()))?;
    let cooling = Cooling::of(facts.groove(), facts.joint == JointType::Tee, facts.thickness_mm)?;
    Some((row, cooling))
}

/// The temperatures that may be held: the preheat that hydrogen asks for and the usual interpass temperature first,
/// then less interpass temperature, then more preheat.
fn temperatures(facts: &Facts, preheat_c: Option<f64>) -> Vec<Warmth> {
    stepped(facts, preheat_c, rule(planning::TEMPERATURE_STEP).0.high)
}

/// Temperatures that all runs of a weld may share, in coarse steps; none where the metal has no cooling time.
pub(crate) fn shared(facts: &Facts) -> Vec<Warmth> {
    if times(facts).is_none() {
        return Vec::new();
    }
    let (least, _) = rule(planning::METHOD_A_LEAST_HEAT);
    stepped(facts, preheat_c(facts, true, least.high), rule(planning::TEMPERATURE_STEP_SHARED).0.high)
}

fn stepped(facts: &Facts, preheat_c: Option<f64>, step: f64) -> Vec<Warmth> {
    let (least, _) = rule(planning::LEAST_TEMPERATURE);
    let (over, _) = rule(planning::INTERPASS_OVER_PREHEAT);
    let cold = preheat_c.map_or(least.high, |needed| needed.max(least.high));
    let most = usual_interpass(facts).unwrap_or(cold + over.high);
    let mut pairs = Vec::new();
    let mut preheat = cold;
    while preheat + over.high <= most {
        let mut hot = most;
        while hot >= preheat + over.high {
            pairs.push(Warmth { cold: preheat, hot });
            hot -= step;
        }
        // Whole steps past the first, and the warmest that leaves room for the interpass temperature.
        let next = (preheat / step + 1.0).floor() * step;
        preheat = if preheat < most - over.high { next.min(most - over.high) } else { next };
    }
    pairs
}

/// The least preheat, °C, with which a heat input in kJ/mm cools no faster than the metal stands; nothing where any does.
pub(crate) fn least_preheat(facts: &Facts, heat_kj_mm: f64) -> Option<f64> {
    let (row, cooling) = times(facts)?;
    let fast = |celsius: f64| {
        cooling.shortest(celsius).cooling_time(heat_kj_mm).is_ok_and(|time| time.time_s < row.time_s.low)
    };
    steps(facts).find(|celsius| !fast(*celsius)).filter(|celsius| *celsius > rule(planning::LEAST_TEMPERATURE).0.high)
}

/// The highest interpass temperature, °C, at which a heat input in kJ/mm cools no slower than the metal stands.
pub(crate) fn most_interpass(facts: &Facts, heat_kj_mm: f64) -> Option<f64> {
    let (row, cooling) = times(facts)?;
    let slow = |celsius: f64| {
        cooling.longest(celsius).cooling_time(heat_kj_mm).is_ok_and(|time| time.time_s > row.time_s.high)
    };
    steps(facts).take_while(|celsius| !slow(*celsius)).last()
}

/// Temperatures in steps from the least that metal is welded at up to its usual interpass temperature, °C.
fn steps(facts: &Facts) -> impl Iterator<Item = f64> {
    let (least, _) = rule(planning::LEAST_TEMPERATURE);
    let (step, _) = rule(planning::TEMPERATURE_STEP);
    let most = usual_interpass(facts).unwrap_or(least.high);
    std::iter::successors(Some(least.high), move |celsius| Some(celsius + step.high))
        .take_while(move |celsius| *celsius < most)
        .chain(std::iter::once(most))
}

/// Heat input of settings as the page states them, from its least to its most, kJ/mm.
pub(crate) fn heat_as_written(facts: &Facts, own: Arc) -> Option<Band> {
    let Band { low, high } = own.travel_mm_min;
    let written = |mm_min: f64| if facts.inches { crate::units::written_speed(mm_min) } else { mm_min };
    heat(facts, Arc { travel_mm_min: Band::new(written(low), written(high)), ..own })
}

/// Heat input of settings from its least to its most, kJ/mm.
fn heat(facts: &Facts, own: Arc) -> Option<Band> {
    Some(own.heat(thermal_efficiency::get(facts.process.number)?.k))
}
