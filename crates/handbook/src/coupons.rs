//! Test coupons: their sizes, and the formers of bend tests.

use crate::bounds::Bounds;
use crate::coupon_tests::Coupon;
use crate::find;
use crate::measure::{self, Inches};
use crate::table::{Origin, table};

table!(SIZES, sizes, "test-coupons", SizeRow);
table!(FORMERS, formers, "bend-formers", FormerRow);
table!(LAYOUTS, layouts, "coupon-layouts", LayoutRow);

/// Where specimens are cut from a coupon.
#[derive(Debug, Clone, PartialEq)]
pub struct LayoutRow {
    /// Code of the test.
    pub code: &'static str,
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// Length that is discarded at each end.
    pub discard_mm: f64,
    /// The same in inches.
    pub discard_in: Option<Inches>,
    /// Methods of the specimens in their order.
    pub order: &'static [&'static str],
    /// Thickness for which the row holds.
    #[cfg_attr(false, prefix = "")]
    pub thickness: Bounds,
    /// Outside diameter for which the row holds.
    #[cfg_attr(false, prefix = "diameter_")]
    pub diameter: Bounds,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The order of specimens of a code for a `groove` or `fillet` of a size.
pub fn layout(code: &str, weld: &str, coupon: Coupon) -> Option<&'static LayoutRow> {
    let own = |row: &&LayoutRow| row.code == code && row.weld == weld && coupon.is_within(row.thickness, row.diameter);
    layouts().iter().find(own)
}

/// Least size of a coupon.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeRow {
    /// Code of the test, as a document names it.
    pub code: &'static str,
    /// `procedure` or `welder`.
    #[cfg_attr(false, key = "for")]
    pub of: &'static str,
    /// `plate` or `pipe`.
    pub product: &'static str,
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// The coupon in words.
    pub coupon: &'static str,
    /// Least length along the weld; of pipe the length of each part.
    pub length_mm: f64,
    /// The same in inches.
    pub length_in: Option<Inches>,
    /// Least width of each part.
    pub width_mm: Option<f64>,
    /// The same in inches.
    pub width_in: Option<Inches>,
    /// Thickness; as used where absent.
    pub thickness_mm: Option<f64>,
    /// The same in inches.
    pub thickness_in: Option<Inches>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A former of a bend test.
#[derive(Debug, Clone, PartialEq)]
pub struct FormerRow {
    /// Code of the test.
    pub code: &'static str,
    /// Yield strength above which the row holds, `MPa`.
    pub yield_over_mpa: Option<f64>,
    /// Yield strength up to which the row holds, `MPa`.
    pub yield_up_to_mpa: Option<f64>,
    /// P-Numbers that it holds for; all others where empty.
    #[cfg_attr(false, optional)]
    pub p_numbers: &'static [&'static str],
    /// Thickness of the specimen.
    pub specimen_mm: f64,
    /// The same in inches.
    pub specimen_in: Option<Inches>,
    /// Diameter of the former.
    pub former_mm: f64,
    /// The same in inches.
    pub former_in: Option<Inches>,
    /// Width of the die.
    pub die_mm: Option<f64>,
    /// The same in inches.
    pub die_in: Option<Inches>,
    /// Diameter of the former as a multiple of the thickness of the specimen.
    pub times: Option<f64>,
    /// What a bent specimen may show.
    pub accepts: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A length in inches or in millimetres, whichever is wanted and printed.
fn text(mm: f64, inches: Option<Inches>, customary: bool) -> String {
    match inches.filter(|_| customary) {
        Some(inches) => measure::length_text(inches.0, "in"),
        None => measure::length_text(mm, "mm"),
    }
}

impl SizeRow {
    /// The size in words: `two plates of 350 x 150 mm at least`.
    pub fn words(&self, customary: bool) -> String {
        let length = text(self.length_mm, self.length_in, customary);
        let across = self.width_mm.map(|mm| text(mm, self.width_in, customary));
        let thick = self.thickness_mm.map(|mm| text(mm, self.thickness_in, customary));
        let thick = thick.map_or_else(String::new, |own| format!(", {own} thick"));
        match across {
            Some(across) => {
                format!("{}: two plates, each {length} long and {across} wide at least{thick}", self.coupon)
            }
            None => format!("{}: two parts, each {length} long at least{thick}", self.coupon),
        }
    }
}

impl FormerRow {
    /// The former in words.
    pub fn words(&self, customary: bool) -> String {
        let specimen = text(self.specimen_mm, self.specimen_in, customary);
        let former = text(self.former_mm, self.former_in, customary);
        let die = self.die_mm.map(|mm| format!(", die {}", text(mm, self.die_in, customary))).unwrap_or_default();
        let times = self.times.map(|times| format!(" ({times} times the thickness)")).unwrap_or_default();
        format!("specimens of {specimen}: former {former} in diameter{times}{die}")
    }
}

/// The sizes of coupons of a code, for `procedure` or `welder`, `plate` or `pipe`, `groove` or `fillet`.
pub fn sizes_of(code: &str, of: &str, product: &str, weld: &str) -> Vec<&'static SizeRow> {
    let own = |row: &&SizeRow| row.code == code && row.of == of && row.product == product && row.weld == weld;
    sizes().iter().filter(own).collect()
}

/// The former of a code for a metal by its yield strength (`MPa`) and its P-Number.
pub fn former(code: &str, yield_mpa: Option<f64>, p_number: Option<&str>) -> Option<&'static FormerRow> {
    let mut own = formers().iter().filter(|row| row.code == code);
    let by_strength = |row: &FormerRow| {
        let strength = yield_mpa.unwrap_or(0.0);
        row.yield_over_mpa.is_none_or(|over| strength > over) && row.yield_up_to_mpa.is_none_or(|most| strength <= most)
    };
    let named = |row: &FormerRow| {
        row.p_numbers.is_empty() || p_number.is_some_and(|own| row.p_numbers.iter().any(|one| find::same(one, own)))
    };
    own.find(|row| by_strength(row) && named(row))
}

#[cfg(test)]
mod tests {
    use super::*;

    // AWS D1.1 jig: 1-1/2 in to 50 ksi, 2 in to 90 ksi, 2-1/2 in above; ASME QW-466.1: 4 t for all other metals, 8 t for P-51.
    #[test]
    fn formers_go_by_strength_and_p_number() {
        let inches = |code, strength, number| {
            former(code, strength, number).and_then(|row| row.former_in).map(|own| own.to_string())
        };
        assert_eq!(inches("aws-d1.1", Some(345.0), None).as_deref(), Some("1-1/2"));
        assert_eq!(inches("aws-d1.1", Some(346.0), None).as_deref(), Some("2"));
        assert_eq!(inches("aws-d1.1", Some(620.0), None).as_deref(), Some("2"));
        assert_eq!(inches("aws-d1.1", Some(621.0), None).as_deref(), Some("2-1/2"));
        assert_eq!(inches("asme-ix", None, Some("1")).as_deref(), Some("1-1/2"));
        assert_eq!(inches("asme-ix", None, Some("51")).as_deref(), Some("3"));
        assert_eq!(former("iso-15614-1", None, None).map(|row| row.former_mm), Some(40.0));
        assert_eq!(inches("api-1104", None, None).as_deref(), Some("3-1/2"));
        assert!(former("iso-15614-2", None, None).is_none());
    }

    #[test]
    fn sizes_are_said_in_both_units() {
        let row = sizes_of("aws-d1.1", "procedure", "plate", "groove")[0];
        assert!(row.words(true).contains("30 in long and 7 in wide"), "{}", row.words(true));
        assert!(row.words(false).contains("760 mm long and 180 mm wide"), "{}", row.words(false));
    }
}
