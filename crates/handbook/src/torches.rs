//! Ratings of tungsten arc torches by size number, and the rules that hold for all of them.

use crate::band::{Band, Limits};
use crate::find;
use crate::rule::Rule;
use crate::table::{Origin, table};

table!(INFO, rows, "torches", Row);
table!(RULES, rules, "torch-rules", Rule);

/// One size of torch.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Size number.
    pub size: &'static str,
    /// `gas` or `water`.
    pub cooling: &'static str,
    /// US rating on direct current, in amperes.
    pub us_dc_a: f64,
    /// European rating on direct current, in amperes.
    pub eu_dc_a: f64,
    /// European rating on alternating current, in amperes.
    pub eu_ac_a: Option<f64>,
    /// Lowest and highest rating on direct current, in amperes.
    pub dc_rating_a: Band,
    /// Lowest and highest rating on alternating current, in amperes.
    pub ac_rating_a: Band,
    /// Electrode diameters that the torch takes, in millimetres.
    pub electrode_mm: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The current that the torch carries, in amperes: at most the highest rating, usually at most the lowest.
    pub fn current(&self, alternating: bool) -> Limits {
        let (field, rating) =
            if alternating { ("ac_rating_a", self.ac_rating_a) } else { ("dc_rating_a", self.dc_rating_a) };
        Limits {
            envelope: Band::new(0.0, rating.high),
            usual: Some(Band::new(0.0, rating.low)),
            source: self.origin.source_of(field),
            doubt: self.origin.doubt,
        }
    }
}

/// The torch with this size number; `WP-17` and the like are no size numbers.
pub fn get(size: &str) -> Option<&'static Row> {
    find::by_name(rows(), size, |row| [row.size])
}

/// Size numbers that are spelt most like this one.
pub fn nearest(size: &str) -> Vec<&'static str> {
    find::nearest(size, rows().iter().map(|row| row.size))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rule;

    #[test]
    fn ratings_hold_what_the_row_prints() {
        for row in rows() {
            assert!(row.dc_rating_a.contains(row.us_dc_a) && row.dc_rating_a.contains(row.eu_dc_a), "{}", row.size);
            assert!(row.eu_ac_a.is_none_or(|rating| row.ac_rating_a.contains(rating)), "{}", row.size);
        }
    }

    #[test]
    fn unprinted_ac_ratings_follow_the_rule() {
        let ratio = rule::get(rules(), "ac-over-dc").unwrap().value;
        for row in rows().iter().filter(|row| row.eu_ac_a.is_none()) {
            assert!((row.ac_rating_a.low - ratio.low * row.dc_rating_a.low).abs() <= 2.5, "{}", row.size);
            assert!((row.ac_rating_a.high - ratio.high * row.dc_rating_a.high).abs() <= 2.5, "{}", row.size);
        }
    }

    #[test]
    fn alternating_current_has_its_own_rating() {
        let torch = get("17").unwrap();
        assert!(torch.current(true).envelope.high < torch.current(false).envelope.high);
        assert_eq!(rule::get(rules(), "Water cooling above").unwrap().unit, "A");
    }
}
