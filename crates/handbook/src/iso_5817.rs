//! Quality levels of ISO 5817 and, for aluminium, of ISO 10042: the largest imperfection by level.

use crate::find;
use crate::table::{Origin, table};

table!("iso-5817", Row);
table!(ALUMINIUM, aluminium, "iso-10042", Row);

/// A standard of quality levels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// Steel, nickel, titanium.
    Iso5817,
    /// Aluminium.
    Iso10042,
}

impl Standard {
    fn rows(self) -> &'static [Row] {
        match self {
            Self::Iso5817 => rows(),
            Self::Iso10042 => aluminium(),
        }
    }
}

/// The limit of one imperfection at one level.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Number of the imperfection, such as `1.7`.
    pub number: &'static str,
    /// The imperfection in words.
    pub imperfection: &'static str,
    /// `butt` or `fillet`; both where absent.
    pub weld: Option<&'static str>,
    /// When the row holds, in words.
    pub condition: Option<&'static str>,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness from which the row holds, in millimetres.
    pub from_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Quality level `B`, `C` or `D`.
    pub level: &'static str,
    /// Whether the imperfection is permitted at all.
    pub permitted: bool,
    /// Whether only short imperfections are permitted.
    #[cfg_attr(false, optional)]
    pub short_only: bool,
    /// Constant part of the limit, in millimetres.
    pub plus_mm: Option<f64>,
    /// Factor of the limit.
    pub times: Option<f64>,
    /// What the factor multiplies: `t` thickness, `s` butt thickness, `a` throat, `b` width.
    pub of: Option<&'static str>,
    /// Largest limit, in millimetres.
    pub max_mm: Option<f64>,
    /// Largest share of the area, in percent.
    pub share_pct: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Whether the row holds for a thickness in millimetres.
    pub fn holds(&self, thickness_mm: f64) -> bool {
        self.over_mm.is_none_or(|over| over < thickness_mm)
            && self.from_mm.is_none_or(|from| from <= thickness_mm)
            && self.up_to_mm.is_none_or(|up_to| thickness_mm <= up_to)
    }

    /// The limit in millimetres for the dimension that `of` names, in millimetres.
    ///
    /// Zero where the imperfection is not permitted, nothing where it is permitted freely or limited as a share.
    pub fn limit_mm(&self, dimension_mm: f64) -> Option<f64> {
        if !self.permitted {
            return Some(0.0);
        }
        let limit = self.times.map(|times| self.plus_mm.unwrap_or(0.0) + times * dimension_mm);
        match (limit, self.max_mm) {
            (Some(limit), Some(max)) => Some(limit.min(max)),
            (limit, max) => limit.or(max),
        }
    }
}

/// Limits of an imperfection (number or words) at a level of a standard, for a thickness in millimetres.
pub fn limits((standard, level): (Standard, &str), imperfection: &str, thickness_mm: f64) -> Vec<&'static Row> {
    let named = |row: &&Row| find::same(row.number, imperfection) || find::same(row.imperfection, imperfection);
    standard.rows().iter().filter(named).filter(|row| find::same(row.level, level) && row.holds(thickness_mm)).collect()
}

/// The standard and the quality level that a text names: `ISO 5817 level C` is C of ISO 5817.
pub fn level_in(text: &str) -> Option<(Standard, &'static str)> {
    let mut words = text.split(|letter: char| !letter.is_alphanumeric());
    let standard = words.find_map(|word| match word {
        "5817" => Some(Standard::Iso5817),
        "10042" => Some(Standard::Iso10042),
        _ => None,
    })?;
    Some((standard, words.find_map(|word| ["B", "C", "D"].into_iter().find(|level| *level == word))?))
}

/// Imperfections that are spelt most like this one.
pub fn nearest(imperfection: &str) -> Vec<&'static str> {
    find::nearest(imperfection, rows().iter().map(|row| row.imperfection))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_is_read_beside_the_standard() {
        assert_eq!(level_in("ISO 5817 level C"), Some((Standard::Iso5817, "C")));
        assert_eq!(level_in("EN ISO 5817-B"), Some((Standard::Iso5817, "B")));
        assert_eq!(level_in("ISO 5817:2023, D"), Some((Standard::Iso5817, "D")));
        assert_eq!(level_in("ISO 5817"), None);
        assert_eq!(level_in("ISO 10042 level C"), Some((Standard::Iso10042, "C")));
        assert_eq!(level_in("ISO 13919-2 level C"), None);
    }

    // ISO 5817:2014, 1.7 (from memory): undercut over 3 mm, level C, 0.1 t but at most 0.5 mm.
    #[test]
    fn undercut_is_capped() {
        let limit = |level, thickness| limits((Standard::Iso5817, level), "undercut", thickness)[0].limit_mm(thickness);
        assert_eq!(limit("C", 4.0), Some(0.4));
        assert_eq!(limit("c", 10.0), Some(0.5));
        assert_eq!(limit("B", 2.0), Some(0.0));
        assert!(limits((Standard::Iso5817, "D"), "1.7", 2.0)[0].short_only);
        assert_eq!(nearest("under cutt").first(), Some(&"undercut"));
    }

    // EN ISO 5817:2007 pp. 6 and 7, 1.8: 0.2 mm + 0.1 t in thin sheet at level D; short ones only at level B.
    #[test]
    fn shrinkage_grooves_and_thin_misalignment_have_limits() {
        let of = |number: &str, level: &str, thickness: f64| limits((Standard::Iso5817, level), number, thickness)[0];
        assert!((of("1.8", "D", 2.0).limit_mm(2.0).unwrap() - 0.4).abs() < 1e-9);
        assert!(of("1.8", "B", 10.0).short_only && of("1.8", "B", 10.0).limit_mm(20.0) == Some(0.5));
        assert!(of("1.14", "C", 10.0).short_only);
        let plates = |row: &&Row| row.condition == Some("plates");
        let thin = limits((Standard::Iso5817, "D"), "3.1", 2.0).into_iter().find(plates).unwrap();
        assert!((thin.limit_mm(2.0).unwrap() - 0.7).abs() < 1e-9);
        assert!(
            !limits((Standard::Iso5817, "C"), "4.1", 10.0).is_empty()
                && !limits((Standard::Iso5817, "B"), "2.9", 10.0).is_empty()
        );
    }

    #[test]
    fn a_stricter_level_never_allows_more() {
        for row in rows().iter().filter(|row| row.level == "D") {
            let twin = |level: &str| {
                rows().iter().find(|other| {
                    other.level == level
                        && other.number == row.number
                        && other.weld == row.weld
                        && other.condition == row.condition
                        && other.over_mm == row.over_mm
                        && other.up_to_mm == row.up_to_mm
                })
            };
            let (c, b) = (twin("C").unwrap(), twin("B").unwrap());
            for size in [1.0, 3.5, 8.0, 30.0] {
                let of = |row: &Row| row.limit_mm(size).or(row.share_pct).unwrap_or(f64::INFINITY);
                assert!(of(b) <= of(c) && of(c) <= of(row), "{} {size}", row.imperfection);
            }
        }
    }

    // ISO 10042 (from memory): excess weld metal of a bead of 10 mm, level C, 1.5 mm and 0.15 b; a pore of level B 0.2 s, at most 1 mm.
    #[test]
    fn aluminium_has_levels_of_its_own() {
        let of =
            |number: &str, level: &str, size: f64| limits((Standard::Iso10042, level), number, size)[0].limit_mm(size);
        assert_eq!(of("1.9", "C", 10.0), Some(3.0));
        assert_eq!((of("1.3", "B", 4.0), of("1.3", "B", 10.0)), (Some(0.8), Some(1.0)));
        assert_eq!(of("1.1", "D", 10.0), Some(0.0));
    }
}
