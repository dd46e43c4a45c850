//! What is left of the stock of a shop after the work.

use crate::Estimate;

/// What the stock holds of one filler or gas, what the work takes, and so what is left.
#[derive(Debug, Clone, PartialEq)]
pub struct Remainder {
    /// Filler or gas with its designation, and the diameter of a filler.
    pub what: String,
    /// What is in stock, in `unit`.
    pub in_stock: f64,
    /// What the work takes, in `unit`.
    pub used: f64,
    /// `kg` of filler, `L` of gas.
    pub unit: &'static str,
}

impl Remainder {
    /// What is left, in the unit of the amounts; below 0 the stock is short.
    pub fn left(&self) -> f64 {
        self.in_stock - self.used
    }
}

/// What is left after the work of several estimates, one entry for each filler and gas that the stock is known to hold.
///
/// Filler counts at the middle of its range; procedures that take from one shelf are added up.
pub fn remainders<'e>(estimates: impl IntoIterator<Item = &'e Estimate>) -> Vec<Remainder> {
    let mut all: Vec<Remainder> = Vec::new();
    let mut take = |what: String, in_stock: Option<f64>, used: f64, unit: &'static str| {
        let Some(in_stock) = in_stock else { return };
        match all.iter_mut().find(|own| own.what == what) {
            Some(same) => same.used += used,
            None => all.push(Remainder { what, in_stock, used, unit }),
        }
    };
    for estimate in estimates {
        for filler in &estimate.fillers {
            let size = filler.diameter_mm.map_or(String::new(), |mm| format!(", {mm} mm"));
            let what = format!("filler {}{size}", filler.designation);
            take(what, filler.in_stock_kg, filler.mass_kg.middle, "kg");
        }
        // A backing gas comes from the same cylinders as the same gas at the torch.
        for gas in &estimate.gases {
            take(format!("gas {}", gas.designation), gas.in_stock_l, gas.volume_l, "L");
        }
    }
    all
}
