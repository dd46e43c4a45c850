//! What welding one run over a length takes: filler to buy, gas and arc time, for checks against a stock and for the kit of a
//! class.

use seamwright_calc::deposition::{Loss, filler_mass_kg};
use seamwright_calc::gas::GasUse;
use seamwright_calc::{time_cost, weld_metal};
use seamwright_handbook::deposition;
use seamwright_model::procedure::{ShieldingGas, keys};
use seamwright_model::quantity::{Duration, Flow, Range, Speed};
use seamwright_model::stated::{OrNone, Stated};

use crate::deposit::{self, middle};
use crate::section;
use crate::view::{RunView, View};

/// What is welded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    /// Cross-section of the weld metal, mm²; 0 for a run without filler.
    pub area_mm2: f64,
    /// Length, mm.
    pub length_mm: f64,
    /// How often the arc is started.
    pub starts: f64,
}

/// Filler to buy for a run, kg, at the middle of the handbook's efficiency; nothing where density or efficiency is unknown.
pub fn filler_kg(view: &View<'_>, run: &RunView<'_>, work: Work) -> Option<f64> {
    let (density, _) = deposit::density(view, run)?;
    let share = deposit::efficiency(run)?.efficiency_pct.middle() / 100.0;
    let mass = weld_metal::mass_kg(work.area_mm2, work.length_mm, density).ok()?;
    filler_mass_kg(mass, Loss::Efficiency(share)).ok()
}

/// Arc time of a run, min, at the middle of its travel speed; nothing where that is not stated.
pub fn arc_time_min(run: &RunView<'_>, length_mm: f64) -> Option<f64> {
    let speed = run.value(&keys::TRAVEL_SPEED)?;
    let speed = middle(speed.value, Speed::mm_per_s)?;
    time_cost::arc_time_by_travel_min(length_mm, 1.0, speed).ok()
}

/// Where a gas flows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GasPlace {
    /// At the torch, over the arc.
    Torch,
    /// At the root.
    Root,
    /// Behind the torch, over the hot bead.
    Trailing,
}

/// Gas of a run at the torch or behind it, litres, with pre-flow and post-flow where they are stated; nothing where flow or
/// arc time is not known.
pub fn gas_l(run: &RunView<'_>, gas: &ShieldingGas, work: Work) -> Option<f64> {
    let seconds = |of: fn(&ShieldingGas) -> &Option<Stated<Range<Duration>>>| {
        of(gas).as_ref().and_then(Stated::value).and_then(|range| middle(range, Duration::seconds)).unwrap_or(0.0)
    };
    GasUse {
        flow_l_min: middle(gas.flow.as_ref()?.value()?, Flow::l_per_min)?,
        arc_time_min: arc_time_min(run, work.length_mm)?,
        starts: work.starts,
        pre_flow_s: seconds(|gas| &gas.pre_flow),
        post_flow_s: seconds(|gas| &gas.post_flow),
    }
    .gas_l()
    .ok()
}

/// Backing gas, litres, over so many joints of a whole length, mm: purging before each, and flow while the first run is
/// welded with its pauses; nothing where flow or arc time is not known.
pub fn backing_l(view: &View<'_>, first: &RunView<'_>, joints: f64, length_mm: f64) -> Option<f64> {
    let gas = view.procedure.backing_gas.as_ref().and_then(OrNone::value)?;
    let flow = middle(gas.flow.as_ref()?.value()?, Flow::l_per_min)?;
    let purge = gas.purge_time.as_ref().and_then(Stated::value).and_then(|time| middle(time, Duration::seconds));
    let stated = first.value(&keys::MECHANIZATION).map(|at| at.value.to_string());
    let usual = || first.process?.mechanization.first().map(|usual| (*usual).to_owned());
    let share = stated.or_else(usual).and_then(|how| deposition::operating_factor(first.number(), &how));
    let share = share.map_or(100.0, |row| row.arc_on_typical_pct.unwrap_or_else(|| row.arc_on_pct.middle()));
    let arc = arc_time_min(first, length_mm)?;
    let welding = time_cost::working_time_min(arc, share / 100.0).ok()?;
    Some(flow * (purge.unwrap_or(0.0) / 60.0 * joints + welding))
}

/// Each row of runs with how many runs it stands for; settings for another position of the same runs stand for none.
///
/// `3-n` stands for as many as the weld metal of the joint needs beside the other runs, and for one where that is not known.
pub fn counted<'v, 'd>(view: &'v View<'d>) -> impl Iterator<Item = (&'v RunView<'d>, u32)> {
    let open = view.runs.iter().any(|run| run.open);
    let section = open.then(|| section::of(view, None).ok()).flatten();
    taken(view, section.map(|own| own.area_mm2.middle * section::fillets(view))).into_iter()
}

/// As [`counted`], for a joint of this cross-section, mm².
pub fn taken<'v, 'd>(view: &'v View<'d>, joint_mm2: Option<f64>) -> Vec<(&'v RunView<'d>, u32)> {
    let mut next = 1;
    let mut rows: Vec<(&RunView<'_>, u32)> = Vec::new();
    for run in &view.runs {
        let (first, last) = run.numbers;
        if last < next {
            continue;
        }
        rows.push((run, last.saturating_sub(first.max(next)).saturating_add(1)));
        next = last.saturating_add(1);
    }
    let open = rows.iter().filter(|(run, _)| run.open).count();
    let Some(joint) = joint_mm2.filter(|_| open > 0) else { return rows };
    let laid = |run: &RunView<'_>| deposit::of(view, run).and_then(|own| own.area_mm2).map_or(0.0, |area| area.middle);
    let fixed: f64 = rows.iter().filter(|(run, _)| !run.open).map(|(run, count)| laid(run) * f64::from(*count)).sum();
    let each = (joint - fixed).max(0.0) / f64::from(u32::try_from(open).unwrap_or(1));
    for (run, count) in rows.iter_mut().filter(|(run, _)| run.open) {
        *count = runs_of(each, laid(run));
    }
    rows
}

/// How many runs of an area fill a cross-section: at least one, and one where nothing is known of the run.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 1 and the most")]
fn runs_of(section_mm2: f64, run_mm2: f64) -> u32 {
    /// More runs than any joint takes.
    const MOST: f64 = 10_000.0;
    /// A run that would be that little of a whole one is none.
    const ROUNDING: f64 = 0.02;
    if run_mm2 <= 0.0 { 1 } else { (section_mm2 / run_mm2 - ROUNDING).ceil().clamp(1.0, MOST) as u32 }
}
