//! Oxygen behind the root, rules for purging, and discoloration of stainless tube.

use crate::Basis;
use crate::band::{Band, Limits};
use crate::find;
use crate::metal_families;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "purge-oxygen", Row);
table!(RULES, rules, "purge-rules", Rule);
named!("purge-rules");
table!(DISCOLORATION, discolorations, "discoloration", DiscolorationRow);

/// Most oxygen for one family and grade of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Family of metal.
    pub metal: &'static str,
    /// How exacting the work is.
    pub grade: &'static str,
    /// Most oxygen in parts per million; a range where shops differ.
    pub oxygen_max_ppm: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// One level of heat tint.
#[derive(Debug, Clone, PartialEq)]
pub struct DiscolorationRow {
    /// Level of AWS D18.2.
    pub level: u32,
    /// Oxygen in parts per million that gives it.
    pub oxygen_ppm: f64,
    /// The tint in words.
    pub colour: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a family of metal and a grade of work.
pub fn get(family: &str, grade: &str) -> Option<&'static Row> {
    let chain = metal_families::chain(family);
    rows()
        .iter()
        .find(|row| find::same(row.grade, grade) && chain.iter().any(|link| find::same(link.family, row.metal)))
}

/// Limits of the oxygen in parts per million for a family of metal.
///
/// The envelope ends at the most that any row allows, the usual range at the most that a published page allows.
pub fn range(family: &str) -> Option<Limits> {
    let chain = metal_families::chain(family);
    let of = |row: &&Row| chain.iter().any(|link| find::same(link.family, row.metal));
    let widest = rows().iter().filter(of).max_by(|a, b| a.oxygen_max_ppm.high.total_cmp(&b.oxygen_max_ppm.high))?;
    let published = rows().iter().filter(of).filter(|row| row.origin.basis == Basis::Published);
    let usual = published
        .map(|row| row.oxygen_max_ppm.high)
        .fold(None, |most: Option<f64>, high| Some(most.map_or(high, |most| most.max(high))));
    Some(Limits {
        envelope: Band::new(0.0, widest.oxygen_max_ppm.high),
        usual: usual.map(|high| Band::new(0.0, high)),
        source: widest.origin.source_ref(),
        doubt: widest.origin.doubt,
    })
}

/// The oxygen that shops hold behind the root of a family of metal, in parts per million, where they differ from what is
/// published.
pub fn practice(family: &str) -> Option<Band> {
    let row = rows()
        .iter()
        .find(|row| row.origin.basis == Basis::CommonPractice && metal_families::is_in(family, row.metal))?;
    Some(row.oxygen_max_ppm)
}

/// The level of heat tint that this much oxygen, in parts per million, gives: the first level that holds it.
pub fn discoloration(oxygen_ppm: f64) -> Option<&'static DiscolorationRow> {
    discolorations().iter().find(|row| oxygen_ppm <= row.oxygen_ppm)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Purge equipment maker notes: stainless 200 ppm in general, titanium 10 ppm.
    #[test]
    fn titanium_stands_less_oxygen_than_stainless() {
        let (stainless, titanium) = (range("duplex-stainless").unwrap(), range("titanium").unwrap());
        assert_eq!(stainless.usual, Some(Band::new(0.0, 200.0)));
        assert_eq!(titanium.usual, Some(Band::new(0.0, 10.0)));
        assert!(titanium.envelope.high < stainless.usual.unwrap().high);
        assert!(range("carbon-steel").is_none());
        assert!(get("austenitic-stainless", "Demanding").is_some());
    }

    // AWS D18.2: level 4 is 100 ppm.
    #[test]
    fn levels_rise_with_oxygen() {
        assert!(
            discolorations()
                .windows(2)
                .all(|pair| pair[0].oxygen_ppm < pair[1].oxygen_ppm && pair[0].level < pair[1].level)
        );
        assert_eq!(discoloration(60.0).unwrap().level, 4);
        assert!(discoloration(1e6).is_none());
    }
}
