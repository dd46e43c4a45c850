//! Covered electrodes by AWS class, the marks in a classification, and rules on drying and diameter.

use crate::band::Band;
use crate::designation::{self, Form};
use crate::filler_classes;
use crate::find;
use crate::processes::Polarity;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "covered-electrodes", Row);
table!(DESIGNATORS, designators, "electrode-designators", Designator);
table!(RULES, rules, "electrode-rules", Rule);
named!("electrode-rules");

/// One class.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Specification of the class, such as `A5.1`.
    pub specification: &'static str,
    /// Kind of covering.
    pub covering: &'static str,
    /// Polarities that the classification permits.
    pub polarity: &'static [Polarity],
    /// Positions that it permits: `flat`, `horizontal`, `horizontal-fillet`, `vertical`, `vertical-down`, `overhead`.
    pub positions: &'static [&'static str],
    /// Whether the covering is of the low-hydrogen kind.
    pub low_hydrogen: bool,
    /// Least tensile strength in megapascals.
    pub tensile_mpa: Option<f64>,
    /// Diffusible hydrogen or the designators for it, in words.
    pub hydrogen: Option<&'static str>,
    /// Iron powder in the covering, in percent.
    pub iron_powder_pct: Option<Band>,
    /// Largest diameter for vertical and overhead welding, in millimetres.
    pub largest_out_of_position_mm: Option<f64>,
    /// Temperature of re-drying, in degrees Celsius.
    pub redrying_c: Option<Band>,
    /// Time of re-drying, in hours.
    pub redrying_h: Option<Band>,
    /// Temperature of the holding oven, in degrees Celsius.
    pub holding_c: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A mark in a classification.
#[derive(Debug, Clone, PartialEq)]
pub struct Designator {
    /// The digit or mark.
    pub mark: &'static str,
    /// Where in the classification it stands.
    #[cfg_attr(false, key = "where")]
    pub place: &'static str,
    /// What it says.
    pub means: &'static str,
    /// Most diffusible hydrogen, in millilitres for 100 g.
    pub hydrogen_ml_100g: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The electrode with this designation, of AWS or of ISO, with the standard before it or without.
///
/// Marks after the class, as in `E7018-1 H4R`, do not count. An ISO designation finds the class of the like, as
/// [`filler_classes::find`] reads it.
pub fn get(designation: &str) -> Option<&'static Row> {
    let designation = crate::find::first(designation);
    let named = |name: &str| find::by_name(rows(), name, |row| [row.classification]);
    let plain = |class: &str| named(class).or_else(|| named(class.strip_suffix("-1")?));
    if let Some(row) = named(designation) {
        return Some(row);
    }
    let filler = designation::parse(designation).ok().filter(|filler| filler.form == Form::CoveredElectrode)?;
    if filler.standard.starts_with("AWS") {
        return plain(&filler.class);
    }
    filler_classes::find(designation).and_then(|row| plain(row.classification))
}

/// Whether the covering of a class is of cellulose: it drives deep and is welded downwards.
pub fn cellulosic(class: &str) -> bool {
    melts_like(class).is_some_and(|(material, _)| material.starts_with("cellulos"))
}

/// Whether the core of a class is of nickel, which resists the current more than steel.
pub fn resists(class: &str) -> bool {
    static KNOWN: find::Known<bool> = find::Known::new();
    KNOWN.of(class, || {
        let filler = designation::parse(class).ok().filter(|filler| filler.form == Form::CoveredElectrode);
        filler.is_some_and(|filler| ["AWS A5.11", "AWS A5.15", "ISO 14172"].contains(&filler.standard))
    })
}

/// What electrodes that melt alike have in common: the main material of the covering, as designations name it first, and whether
/// they are for the flat position alone; nothing of a class whose covering is not known.
pub fn melts_like(class: &str) -> Option<(&'static str, bool)> {
    static KNOWN: find::Known<Option<(&'static str, bool)>> = find::Known::new();
    KNOWN.of(class, || {
        let filler = designation::parse(class).ok().filter(|filler| filler.form == Form::CoveredElectrode)?;
        let material = filler.covering?.split(['-', ' ']).next()?;
        let flat = !filler.positions.is_empty() && !filler.positions.iter().any(|own| own.starts_with("vertical"));
        Some((material, flat))
    })
}

/// Classes that are spelt most like this one.
pub fn nearest(class: &str) -> Vec<&'static str> {
    find::nearest(class, rows().iter().map(|row| row.classification))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::electrode_current;

    // AWS A5.1: E7018-1 H4R is an E7018 with better toughness, 4 ml/100 g of hydrogen and little moisture.
    #[test]
    fn marks_after_the_class_do_not_count() {
        for written in ["E7018", "e7018-1", "E7018 H4R", "E7018-1 H4R", "E 7018-1H8"] {
            assert_eq!(get(written).map(|row| row.classification), Some("E7018"), "{written}");
        }
        assert_eq!(get("E308L-16").unwrap().specification, "A5.4");
        assert!(get("E9999").is_none() && get("ER70S-6").is_none());
        let hydrogen = designators().iter().find(|row| row.mark == "H8").unwrap().hydrogen_ml_100g;
        assert_eq!(hydrogen, Some(8.0));
    }

    // ISO 2560-A: E 42 4 B is the basic electrode that AWS A5.1 has as E7018; the standard may stand before either.
    #[test]
    fn iso_designations_find_the_class_of_the_like() {
        for written in ["E 42 4 B 32 H5", "ISO 2560-A-E 42 4 B 42 H5", "AWS A5.1 E7018-1 H4R", "SFA-5.1: E7018"] {
            assert_eq!(get(written).map(|row| row.classification), Some("E7018"), "{written}");
        }
        let rutile = get("ISO 2560-A - E 42 0 RR 12").unwrap();
        assert!(!rutile.low_hydrogen, "{}", rutile.classification);
    }

    // AWS A5.1: the two last digits name the covering, 1 or 2 before them all positions or the flat one.
    #[test]
    fn coverings_tell_what_melts_alike() {
        for (one, other, alike) in [
            ("E6010", "E8010-P1", true),
            ("E6010", "E6011", true),
            ("E6013", "E7014", true),
            ("E7014", "E7024", false),
            ("E6010", "E7018", false),
            ("E7018", "E9015-B9", true),
            ("E6013", "E7018", false),
        ] {
            assert_eq!(melts_like(one) == melts_like(other), alike, "{one} {other}");
        }
        assert!(cellulosic("E7010-P1") && cellulosic("E 38 3 C 21") && !cellulosic("E7018") && !cellulosic("ER70S-6"));
    }

    #[test]
    fn drying_and_diameter_agree_with_the_rules() {
        for row in rows() {
            if let (Some(drying), Some(holding)) = (row.redrying_c, row.holding_c) {
                assert!(row.low_hydrogen, "{}", row.classification);
                assert_eq!(drying, RE_DRYING.value);
                assert_eq!(holding, HOLDING_OVEN.value);
            }
            if let Some(diameter) = row.largest_out_of_position_mm {
                let allowed = [OUT_OF_POSITION_LOW_HYDROGEN, OUT_OF_POSITION_OTHER, OUT_OF_POSITION_STAINLESS];
                assert!(allowed.iter().any(|own| own.value.contains(diameter)), "{}", row.classification);
            }
        }
    }

    #[test]
    fn every_class_with_a_current_is_described() {
        for row in electrode_current::rows() {
            assert!(get(row.classification).is_some(), "{}", row.classification);
        }
    }
}
