//! Volume, time and gas of purging a pipe.

use anyhow::Result;
use seamwright_calc::gas as formulas;
use seamwright_handbook::purge_oxygen;
use seamwright_model::quantity::{Flow, Length, Oxygen, Range};

use super::Answer;
use crate::input::one;
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Inside diameter of the pipe.
    pub inside_diameter: Range<Length>,
    /// Length between the dams.
    pub length: Range<Length>,
    /// Flow of the backing gas.
    pub flow: Range<Flow>,
    /// Oxygen to reach; without it the volume changes of the handbook are taken.
    pub oxygen: Option<Range<Oxygen>>,
    /// Oxygen of the backing gas itself.
    pub gas_oxygen: Range<Oxygen>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let diameter = one("--inside-diameter", &given.inside_diameter, Length::mm)?;
    let length = one("--length", &given.length, Length::mm)?;
    let flow = one("--flow", &given.flow, Flow::l_per_min)?;
    let own = one("--gas-oxygen", &given.gas_oxygen, Oxygen::ppm)?;
    let volume = formulas::pipe_volume_l(diameter, length)?;
    let rule = purge_oxygen::VOLUME_CHANGES;
    let mut answer = Answer::new("purge", "volume changes of the space between the dams")
        .by(formulas::PURGE)
        .given("inside diameter", &given.inside_diameter)
        .given("length between the dams", &given.length)
        .given("flow", &given.flow);
    let changes = if let Some(oxygen) = &given.oxygen {
        let target = one("--oxygen", oxygen, Oxygen::ppm)?;
        answer = answer
            .by(formulas::PURGE_OXYGEN)
            .given("oxygen to reach", oxygen)
            .given("oxygen of the gas", &given.gas_oxygen);
        formulas::volume_changes_for_oxygen(target, own)?
    } else {
        answer = answer.looked_up(
            "volume changes",
            format!("{} to {}, the higher is put in", rule.value.low, rule.value.high),
            rule.origin.source_ref(),
        );
        rule.value.high
    };
    let minutes = formulas::purge_time_min(volume, changes, flow)?;
    Ok(answer
        .worked(format!(
            "{} l x {} / {} l/min = {} min",
            number(volume),
            number(changes),
            number(flow),
            number(minutes)
        ))
        .result("volume", volume, "L")
        .result("volume_changes", changes, "")
        .result("purge_time", minutes, "min")
        .result("gas", formulas::purge_gas_l(volume, changes)?, "L")
        .note(
            "measure the oxygen before the arc is struck; shielding gas displaces air: ventilate pits, tanks and pipe",
        ))
}
