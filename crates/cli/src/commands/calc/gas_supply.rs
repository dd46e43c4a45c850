//! `calc gas-supply`.

use anyhow::Result;
use clap::Args;
use seamwright_calc::gas as formulas;
use seamwright_model::quantity::{Flow, GasVolume, Range};

use super::answer::{Answer, number};
use super::input::one;

/// What it takes.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  seamwright calc gas-supply --flow \"10 L/min\" --contents \"10 m3\"")]
pub struct Given {
    /// Gas flow.
    #[arg(long, allow_hyphen_values = true)]
    flow: Range<Flow>,
    /// Contents of the cylinder as free gas.
    #[arg(long, allow_hyphen_values = true)]
    contents: Range<GasVolume>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let flow = one("--flow", &given.flow, Flow::l_per_min)?;
    let contents = one("--contents", &given.contents, GasVolume::litres)?;
    let hours = formulas::flow_time_h(contents, flow)?;
    Ok(Answer::new("gas-supply", "contents over flow")
        .by(formulas::FLOW_TIME)
        .given("flow", &given.flow)
        .given("contents", &given.contents)
        .worked(format!("{} / {} / 60 = {} h", number(contents), number(flow), number(hours)))
        .result("flow_time", hours, "h")
        .note("time of flowing gas, with pre-flow and post-flow; the last bars of a cylinder are left in it"))
}
