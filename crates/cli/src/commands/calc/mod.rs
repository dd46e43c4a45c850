//! `calc`: one calculation, with its equation, the numbers put into it, the result and the source.
//!
//! One file a calculation: what it takes, and its [`Answer`]. To add one, write its file, and its variant and arm below.

pub mod answer;

mod carbon_equivalent;
mod convert;
mod cooling_time;
mod duty_cycle;
mod ferrite;
mod filler;
mod gas_supply;
mod hardness;
mod heat_input;
mod heat_treatment;
mod preheat;
mod purge;
mod shrinkage;
mod throat;
mod weld_metal;

use std::io::Write;

use anyhow::Result;
use clap::{Args, Subcommand};
use seamwright_desk::input;

use crate::Ending;
use crate::args::Form;
use crate::results;
use answer::Answer;

/// Arguments of `calc`.
#[derive(Debug, Args)]
pub struct CalcArgs {
    /// What to compute.
    #[command(subcommand)]
    pub calculation: Calculation,
    /// Text that shows the working, or json.
    #[arg(long, value_enum, default_value_t = Form::Text, global = true)]
    pub format: Form,
}

/// The calculations.
// Parsed once a run: the size of a variant does not matter.
#[allow(clippy::large_enum_variant)]
#[derive(Debug, Subcommand)]
pub enum Calculation {
    /// Carbon equivalents CE (IIW), CET, Pcm and CEN of a steel.
    CarbonEquivalent(carbon_equivalent::Given),
    /// A quantity in another unit.
    Convert(convert::Given),
    /// Cooling time from 800 to 500 °C, or the heat input that keeps it.
    CoolingTime(cooling_time::Given),
    /// Duty cycle of a power source at another current, and the rest in ten minutes.
    DutyCycle(duty_cycle::Given),
    /// Chromium and nickel equivalents and ferrite number of stainless weld metal.
    Ferrite(ferrite::Given),
    /// Filler to buy for a mass of weld metal.
    Filler(filler::Given),
    /// How long a gas supply lasts.
    GasSupply(gas_supply::Given),
    /// Estimate of the hardness of the heat-affected zone.
    Hardness(hardness::Given),
    /// Arc energy and heat input of a run.
    HeatInput(heat_input::Given),
    /// Post-weld heat treatment: whether a code asks for it, temperature, time and rates.
    HeatTreatment(heat_treatment::Given),
    /// Preheating temperature of a steel.
    Preheat(preheat::Given),
    /// Volume, time and gas of purging a pipe.
    Purge(purge::Given),
    /// Estimate of transverse shrinkage and of the angular distortion of a fillet.
    Shrinkage(shrinkage::Given),
    /// Throat of a fillet and, for information, the load that it carries.
    Throat(throat::Given),
    /// Cross-section and mass of the weld metal of a groove or a fillet.
    WeldMetal(weld_metal::Given),
}

/// Runs the command.
pub fn run(args: &CalcArgs) -> Result<Ending> {
    let answer: Answer = match &args.calculation {
        Calculation::CarbonEquivalent(given) => carbon_equivalent::answer(given),
        Calculation::Convert(given) => convert::answer(given)?,
        Calculation::CoolingTime(given) => cooling_time::answer(given)?,
        Calculation::DutyCycle(given) => duty_cycle::answer(given)?,
        Calculation::Ferrite(given) => ferrite::answer(given)?,
        Calculation::Filler(given) => filler::answer(given)?,
        Calculation::GasSupply(given) => gas_supply::answer(given)?,
        Calculation::Hardness(given) => hardness::answer(given)?,
        Calculation::HeatInput(given) => heat_input::answer(given)?,
        Calculation::HeatTreatment(given) => heat_treatment::answer(given)?,
        Calculation::Preheat(given) => preheat::answer(given)?,
        Calculation::Purge(given) => purge::answer(given)?,
        Calculation::Shrinkage(given) => shrinkage::answer(given)?,
        Calculation::Throat(given) => throat::answer(given)?,
        Calculation::WeldMetal(given) => weld_metal::answer(given)?,
    };
    match args.format {
        Form::Text => write!(std::io::stdout().lock(), "{answer}")?,
        Form::Json => results::json("calc", answer.json())?,
    }
    Ok(Ending::Clean)
}
