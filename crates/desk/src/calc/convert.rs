//! A quantity in another unit.

use anyhow::{Result, anyhow};
use seamwright_calc::Spread;
use seamwright_model::quantity;

use super::Answer;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// A value or a range with its unit.
    pub quantity: String,
    /// Unit to convert into.
    pub to: String,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let conversion = quantity::convert(&given.quantity, &given.to)?;
    let answer = Answer::new("convert", format!("{}, by exact definitions of the units", conversion.dimension.name))
        .given(conversion.dimension.name, &given.quantity)
        .worked(format!("{} = {}", given.quantity.trim(), conversion.print()));
    let (low, high) = conversion.ends();
    let low = low.or(high).ok_or_else(|| anyhow!("`{}` has no value", given.quantity))?;
    let high = high.unwrap_or(low);
    Ok(answer.spread("value", Spread { low, middle: f64::midpoint(low, high), high }, conversion.unit.symbol))
}
