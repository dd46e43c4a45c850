//! What is welded with what: filler, gas and mode of transfer, with the joint and its runs.

mod filler;
mod gas;
mod transfer;

use seamwright_calc::band::whole_down;
use seamwright_handbook::measure::{MM_IN, figure};
use seamwright_handbook::planning::{self, FamilyRow};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{metal_heat, processes, setting_limits};
use seamwright_model::procedure::JointType;

pub(crate) use self::filler::Filler;
use self::filler::{filler, root_filler};
use self::gas::{Gas, backing_gas, gas};
use self::transfer::transfers;
use crate::facts::Facts;
use crate::figures::rule;
use crate::hold::Holds;
use crate::joint::{self, Shape};
use crate::layers::{self, Modes};
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::refused::Refused;

pub(crate) use crate::layers::Run;

/// The decisions that come before the settings.
pub(crate) struct Plan {
    pub(crate) filler: Filler,
    /// The filler of the root run, where that is another.
    pub(crate) root_filler: Option<Filler>,
    /// Whose settings the metal begins with; covered electrodes need none.
    pub(crate) like: Option<&'static FamilyRow>,
    pub(crate) gas: Option<Gas>,
    pub(crate) shape: Shape,
    pub(crate) backing_gas: Option<Gas>,
    /// Cross-section of the whole weld, mm².
    pub(crate) area_mm2: f64,
    pub(crate) runs: Vec<Run>,
}

impl Plan {
    /// Holds the runs, of which the first has a place on the page.
    pub(crate) fn hold(&mut self, holds: &Holds, first: usize) {
        for (at, run) in self.runs.iter_mut().enumerate() {
            run.hold = holds.of(first + at);
        }
    }

    /// Makes a single fillet run some steps larger than planned, where its heat melts more than the small leg.
    pub(crate) fn larger(&mut self, facts: &Facts, steps: u32) {
        let (Shape::Fillet { leg_mm, leg, .. }, [run]) = (&mut self.shape, self.runs.as_mut_slice()) else { return };
        if steps == 0 || facts.leg.is_some() || facts.joint == JointType::Lap {
            return;
        }
        let step = if facts.inches { MM_IN / 32.0 } else { 0.5 };
        let larger = (*leg_mm + f64::from(steps) * step).min(largest_leg(facts, step)).max(*leg_mm);
        let by = (larger / *leg_mm).powi(2);
        *leg_mm = larger;
        let said = Said::Computed(
            "as large as one run at these settings melts it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        *leg = Value::new(format!("{} mm", figure(larger)), said);
        run.area_mm2 *= by;
        self.area_mm2 *= by;
    }

    /// Gives a single fillet run the leg that its settings lay down, where that is more than was planned.
    ///
    /// The leg at the edge of a lap is no longer than the edge is high: what is more lies on the face of the other sheet.
    pub(crate) fn grow(&mut self, facts: &Facts, laid_mm2: Option<f64>) {
        if facts.leg.is_some() {
            return;
        }
        let (Shape::Fillet { leg_mm, face, leg }, [run], Some(laid)) =
            (&mut self.shape, self.runs.as_mut_slice(), laid_mm2)
        else {
            return;
        };
        let Some(flat) = past_leg(laid, *leg_mm) else { return };
        let said = Said::Computed(
            "as large as one run at these settings makes it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        // Sixteenths are too coarse for sheet.
        let sheet = facts.thickness_mm < rule(planning::LEG_GROWN_PLATE).0.low;
        let step = if sheet { MM_IN / 32.0 } else { MM_IN / 16.0 };
        let step = if facts.inches { step } else { 0.5 };
        let even = |mm: f64| (mm / step).round() * step;
        let equal = even((2.0 * flat).sqrt()).min(largest_leg(facts, step)).max(*leg_mm);
        let edge = if facts.inches { *leg_mm } else { facts.thickness_mm };
        if facts.joint == JointType::Lap && equal > edge {
            *leg_mm = edge;
            let (most, _) = rule(planning::LAP_FACE_LEG);
            let (thin, _) = rule(planning::LAP_FACE_LEG_THIN);
            let widest = thin.high.max(most.high * facts.thickness_mm);
            // In inches a size is one that a rule has.
            let fine = MM_IN / 64.0;
            let widest = if facts.inches { whole_down(widest / fine) * fine } else { widest };
            let wide = even(2.0 * flat / edge).min(widest);
            *face = Some(Value::new(joint::size(facts, wide), said.clone()));
        } else {
            *leg_mm = equal;
        }
        *leg = Value::new(joint::size(facts, *leg_mm), said);
        run.area_mm2 = laid;
        self.area_mm2 = laid;
    }

    /// Gives a fillet of several runs the leg that they lay down, where the metal must cool in time: no smaller run has the heat
    /// for it.
    pub(crate) fn grow_timed(&mut self, facts: &Facts, laid_mm2: &[Option<f64>]) {
        let timed = metal_heat::cooling_time(facts.metal).is_some();
        let Shape::Fillet { leg_mm, leg, .. } = &mut self.shape else { return };
        if !timed || self.runs.len() < 2 || facts.leg.is_some() || facts.joint == JointType::Lap {
            return;
        }
        let all = self.runs.iter().zip(laid_mm2).map(|(run, laid)| laid.map(|laid| f64::from(run.count()) * laid));
        let Some(laid) = all.sum::<Option<f64>>() else { return };
        let Some(flat) = past_leg(laid, *leg_mm) else { return };
        let step = if facts.inches { MM_IN / 16.0 } else { 0.5 };
        let equal = ((2.0 * flat).sqrt() / step).round() * step;
        let most = (rule(planning::LEG_GROWN_FOR_HEAT).0.high * *leg_mm).min(largest_leg(facts, step));
        *leg_mm = equal.min(most).max(*leg_mm);
        let said = Said::Computed(
            "as large as runs with the heat that the metal needs make it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        *leg = Value::new(joint::size(facts, *leg_mm), said);
        self.area_mm2 = laid;
        for (run, laid) in self.runs.iter_mut().zip(laid_mm2) {
            run.area_mm2 = laid.unwrap_or(run.area_mm2);
        }
    }

    /// Decides, with runs of a size over the usual one; refused where the handbook has nothing that serves.
    ///
    /// Over the root of another process only the runs that fill the joint are planned.
    pub(crate) fn new(facts: &Facts, run_size: f64, root_plan: Option<&Self>) -> Result<Self, Refused> {
        downwards(facts)?;
        on_small_pipe(facts)?;
        let process = facts.process.number;
        let like = planning::starting_family(facts.metal, process);
        if like.is_none() && !facts.process.covered_electrode() {
            return Err(nothing(format!("the handbook has no settings of process {process} for this metal"), facts));
        }
        let (root, fill) = transfers(facts, like)?;
        let mut filler = filler(facts)?;
        let (shape, area_mm2) = joint::shape(facts)?;
        let root_filler = root_filler(facts, &shape, &filler).filter(|_| root_plan.is_none());
        let classes = [root_filler.as_ref().unwrap_or(&filler).class.clone(), filler.class.clone()];
        let classes = [classes[0].as_str(), classes[1].as_str()];
        let over = root_plan.map(|plan| (plan.runs.len(), plan.runs.iter().map(|run| run.area_mm2).sum::<f64>()));
        let runs =
            layers::runs(facts, &shape, (area_mm2, over), Modes { root: root.0, fill: fill.0 }, classes, run_size)?;
        let line = runs.last().and_then(|run| run.line);
        let gas = gas(facts, &mut filler, like, root.max_spray(fill), line);
        let backing_gas = backing_gas(facts, &shape);
        Ok(Self { filler, root_filler, like, gas, shape, backing_gas, area_mm2, runs })
    }
}

/// Cross-section in mm² of a flat fillet of what is laid down, where that is a larger leg.
fn past_leg(laid_mm2: f64, leg_mm: f64) -> Option<f64> {
    let flat = laid_mm2 / rule(planning::FILLET_CONVEXITY).0.high;
    (flat > rule(planning::FILLET_LEG_GROWS).0.high * leg_mm * leg_mm / 2.0).then_some(flat)
}

/// The largest leg that a part of this thickness takes, in whole steps of millimetres.
fn largest_leg(facts: &Facts, step: f64) -> f64 {
    // As the page names it: GMAW leaves open which of two it is.
    let process = processes::get(facts.process_name()).map_or(facts.process.number, |row| row.number);
    let widest = |name: &str| setting_limits::get(name, process).map_or(f64::INFINITY, |row| row.widest.high);
    // What one run makes on plate is not let grow past what the plate takes as usual.
    let (share, _) = rule(planning::LEG_GROWN_MOST);
    let (plate, _) = rule(planning::LEG_GROWN_PLATE);
    let grown = if facts.thickness_mm > plate.high { share.low } else { share.high };
    let over = if facts.thickness_mm > plate.low { grown } else { widest(setting_limits::LEG_OVER_THICKER) };
    let most = (over * facts.thickness_mm).max(widest(setting_limits::LEG_OF_ONE_RUN));
    whole_down(most / step) * step
}

/// A bath under flux needs a wide curve to lie on.
fn on_small_pipe(facts: &Facts) -> Result<(), Refused> {
    let least = setting_limits::get(setting_limits::DIAMETER_UNDER_FLUX, facts.process.number).map(|row| row.usual.low);
    match facts.diameter_mm.zip(least).filter(|(own, least)| facts.process.uses_flux && own < least) {
        None => Ok(()),
        Some((own, least)) => Err(nothing(
            format!("a pipe of {} mm is too small for a bath under flux (from {} mm on)", figure(own), figure(least)),
            facts,
        )),
    }
}

/// Downward welding with a gas-shielded arc is for thin metal, and so is a groove of plate by covered electrode: those of pipe, and
/// cored electrodes, have it in their class.
fn downwards(facts: &Facts) -> Result<(), Refused> {
    let (most, _) = rule(planning::VERTICAL_DOWN_MOST);
    let plate = facts.groove() && facts.diameter.is_none();
    let by_class = (facts.process.covered_electrode() && !plate) || facts.process.wire == Some(Wire::FluxCored);
    if facts.downward() && !by_class && facts.thickness_mm > most.high {
        return Err(Refused::Nothing {
            reason: format!(
                "{} is too thick for welding downwards in {} (up to {} mm)",
                facts.thickness,
                facts.position.code,
                figure(most.high)
            ),
            instead: vec!["an upward position such as PF".to_owned()],
        });
    }
    Ok(())
}
