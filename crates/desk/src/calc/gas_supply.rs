//! How long a gas supply lasts.

use anyhow::Result;
use seamwright_calc::gas as formulas;
use seamwright_model::quantity::{Flow, GasVolume, Range};

use super::Answer;
use crate::input::one;
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Gas flow.
    pub flow: Range<Flow>,
    /// Contents of the cylinder as free gas.
    pub contents: Range<GasVolume>,
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
