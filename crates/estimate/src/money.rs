//! What the amounts cost at a shop's rates.

use seamwright_calc::time_cost::COST;
use seamwright_handbook::{filler_classes, find, processes};
use seamwright_model::price::{Bought, Price};
use seamwright_model::shop::Rates;
use seamwright_model::stated::Named;

use crate::{Estimate, Log};

/// One line of a cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What is paid for.
    pub what: String,
    /// The amount in `unit`.
    pub amount: f64,
    /// Unit of the amount.
    pub unit: &'static str,
    /// Price of one unit.
    pub price: f64,
    /// What it costs.
    pub cost: f64,
}

/// What a weld costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Currency as the shop names it, or empty text.
    pub currency: String,
    /// The lines.
    pub lines: Vec<Line>,
    /// Sum of the lines.
    pub total: f64,
}

pub(crate) fn cost(estimate: &Estimate, rates: &Rates, log: &mut Log<'_>) -> Cost {
    let mut lines = Vec::new();
    let mut add = |what: String, amount: f64, unit: &'static str, price: Option<f64>, log: &mut Log<'_>| {
        if amount <= 0.0 {
            return;
        }
        match price {
            Some(price) => lines.push(Line { what, amount, unit, price, cost: amount * price }),
            None => log.missing(format!("rates: {what}, so it is not in the cost")),
        }
    };
    let labour = rates.labour.as_ref().and_then(|price| price.of(Bought::Time));
    add("labour".to_owned(), estimate.working_time_min / 60.0, "h", labour, log);
    for filler in &estimate.fillers {
        let price = named(&rates.filler, |key| {
            find::same(key, &filler.designation)
                || same_class(key, &filler.designation)
                || processes::get(key).is_some_and(|row| row.number == filler.process)
        });
        let by_mass = price.and_then(|price| price.of(Bought::Mass));
        match (by_mass, price.and_then(|price| price.of(Bought::Piece)), filler.pieces) {
            (None, Some(each), Some((count, kind))) => {
                #[expect(clippy::cast_precision_loss, reason = "a count of pieces is far below 2^53")]
                let count = count as f64;
                add(format!("filler {}", filler.designation), count, kind.as_str(), Some(each), log);
            }
            _ => add(format!("filler {}", filler.designation), filler.mass_kg.middle, "kg", by_mass, log),
        }
    }
    for gas in &estimate.gases {
        let price = named(&rates.gas, |key| find::same(key, &gas.designation));
        let what = if gas.backing { "backing gas" } else { "gas" };
        let price = price.and_then(|price| price.of(Bought::Volume));
        add(format!("{what} {}", gas.designation), gas.volume_l / 1000.0, "m3", price, log);
    }
    let electricity = rates.electricity.as_ref().and_then(|price| price.of(Bought::Energy));
    add("electricity".to_owned(), estimate.energy_kwh, "kWh", electricity, log);
    log.formula(COST);
    let total = lines.iter().map(|line| line.cost).sum();
    Cost { currency: rates.currency.as_deref().unwrap_or_default().to_owned(), lines, total }
}

/// The price under the first key that suits, else under `other`.
fn named(prices: &Named<Price>, suits: impl Fn(&str) -> bool) -> Option<&Price> {
    prices.iter().find(|(key, _)| suits(key)).map(|(_, price)| price).or_else(|| prices.get("other"))
}

fn same_class(one: &str, other: &str) -> bool {
    let class = |text: &str| filler_classes::find(text).map(|row| row.classification.as_str());
    class(one).is_some_and(|one| class(other) == Some(one))
}
