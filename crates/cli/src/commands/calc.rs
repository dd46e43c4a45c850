//! `calc`: one calculation, with its equation, the numbers put into it, the result and the source.

use std::io::Write;

use anyhow::Result;
use seamwright_desk::calc;

use crate::args::Form;
use crate::args::calc::{CalcArgs, Calculation};
use crate::ending::Ending;
use crate::results;

/// Runs the command.
pub fn run(args: CalcArgs) -> Result<Ending> {
    let answer = match args.calculation {
        Calculation::CarbonEquivalent(typed) => calc::carbon_equivalent::answer(&typed.into()),
        Calculation::Convert(typed) => calc::convert::answer(&typed.into())?,
        Calculation::CoolingTime(typed) => calc::cooling_time::answer(&typed.into())?,
        Calculation::DutyCycle(typed) => calc::duty_cycle::answer(&typed.into())?,
        Calculation::Ferrite(typed) => calc::ferrite::answer(&typed.into())?,
        Calculation::Filler(typed) => calc::filler::answer(&typed.into())?,
        Calculation::GasSupply(typed) => calc::gas_supply::answer(&typed.into())?,
        Calculation::Hardness(typed) => calc::hardness::answer(&typed.into())?,
        Calculation::HeatInput(typed) => calc::heat_input::answer(&typed.into())?,
        Calculation::HeatTreatment(typed) => calc::heat_treatment::answer(&typed.into())?,
        Calculation::Preheat(typed) => calc::preheat::answer(&typed.into())?,
        Calculation::Purge(typed) => calc::purge::answer(&typed.into())?,
        Calculation::Shrinkage(typed) => calc::shrinkage::answer(&typed.into())?,
        Calculation::Throat(typed) => calc::throat::answer(&typed.into())?,
        Calculation::WeldMetal(typed) => calc::weld_metal::answer(&typed.into())?,
    };
    match args.format {
        Form::Text => write!(results::out(), "{answer}")?,
        Form::Json => results::json("calc", answer.json())?,
    }
    Ok(Ending::Clean)
}
