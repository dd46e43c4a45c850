//! What codes ask of a coupon, and how far the values of a test record may differ.

use crate::bounds::Bounds;
use crate::find;
use crate::measure::Size;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(INFO, rows, "coupon-tests", Row);
table!(RULES, rules, "test-record-rules", Rule);
named!("test-record-rules");

/// A test that a code asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Code, as a document names it: `iso-15614-1`, `asme-ix`, `aws-d1.1`.
    pub code: &'static str,
    /// `groove` or `fillet`.
    pub weld: &'static str,
    /// Method of the test.
    pub method: &'static str,
    /// Methods of which one serves; the method alone where empty.
    #[cfg_attr(false, optional)]
    pub types: &'static [&'static str],
    /// Least number of specimens or sets.
    pub count: u32,
    /// `toughness` or `hardness`, where the row holds only then.
    pub condition: Option<&'static str>,
    /// What the type of the test says of the specimen, such as `root`; any where absent.
    pub specimen: Option<&'static str>,
    /// Thickness for which the row holds.
    #[cfg_attr(false, prefix = "")]
    pub thickness: Bounds,
    /// Outside diameter for which the row holds.
    #[cfg_attr(false, prefix = "diameter_")]
    pub diameter: Bounds,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Size of a coupon.
#[derive(Debug, Clone, Copy)]
pub struct Coupon {
    /// Thickness, of the thinnest part.
    pub thickness: Size,
    /// Outside diameter of pipe, of the smallest part.
    pub diameter: Option<Size>,
}

impl Coupon {
    /// Whether it lies within bounds; a bound of the diameter is one of pipe.
    pub(crate) fn is_within(self, thickness: Bounds, diameter: Bounds) -> bool {
        thickness.hold(self.thickness) && self.diameter.map_or(diameter.are_open(), |size| diameter.hold(size))
    }
}

impl Row {
    /// Whether the stated type of a test is that of the row's specimens.
    pub fn is_of(&self, stated: Option<&str>) -> bool {
        let own = self.specimen;
        own.is_none_or(|own| stated.is_some_and(|stated| stated.to_lowercase().contains(own)))
    }

    /// The specimens in words: `root bend`, or the methods of which one serves.
    pub fn words(&self) -> String {
        match self.specimen {
            Some(own) => format!("{own} {}", self.method),
            None => self.methods().join(" or "),
        }
    }

    /// The methods of which one serves.
    pub fn methods(&self) -> Vec<&str> {
        if self.types.is_empty() { vec![&self.method] } else { self.types.to_vec() }
    }
}

/// The tests that a code asks of a `groove` or `fillet` coupon of a size.
pub fn asked(code: &str, weld: &str, coupon: Coupon) -> Vec<&'static Row> {
    let own =
        |row: &&Row| find::same(row.code, code) && row.weld == weld && coupon.is_within(row.thickness, row.diameter);
    rows().iter().filter(own).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(thickness_mm: f64) -> Coupon {
        Coupon { thickness: Size::from_mm(thickness_mm).unwrap(), diameter: None }
    }

    // ISO 15614-1:2017 Table 2 and ASME IX QW-451.1 (from memory): two tensile and four bend specimens of a butt weld.
    #[test]
    fn butt_welds_need_two_tensile_and_four_bend_specimens() {
        for code in ["iso-15614-1", "asme-ix", "aws-d1.1"] {
            let count = |method| {
                asked(code, "groove", plate(20.0)).iter().find(|row| row.method == method).map(|row| row.count)
            };
            assert_eq!((count("tensile"), count("bend")), (Some(2), Some(4)), "{code}");
        }
        assert!(asked("iso-15614-1", "groove", plate(12.0)).iter().all(|row| row.method != "impact"));
    }

    // API 1104 Table 2 (from memory): specimens by diameter and wall, both sides of each bound in both units.
    #[test]
    fn pipelines_have_their_specimens_by_diameter_and_wall() {
        let count = |wall: Option<Size>, across: Option<Size>| {
            let coupon = Coupon { thickness: wall.unwrap(), diameter: across };
            let rows = asked("api-1104", "groove", coupon);
            let of =
                |specimen: &str| rows.iter().filter(|row| row.words() == specimen).map(|row| row.count).sum::<u32>();
            [of("tensile"), of("nick fracture"), of("root bend"), of("face bend"), of("side bend")]
        };
        for (wall, across, counts) in [
            (12.7, 60.2, [0, 2, 2, 0, 0]),
            (12.7, 114.3, [0, 2, 2, 0, 0]),
            (12.7, 114.4, [2, 2, 2, 2, 0]),
            (12.7, 323.9, [2, 2, 2, 2, 0]),
            (12.7, 324.0, [4, 4, 4, 4, 0]),
            (12.8, 114.3, [0, 2, 0, 0, 2]),
            (12.8, 323.9, [2, 2, 0, 0, 4]),
            (12.8, 324.0, [4, 4, 0, 0, 8]),
        ] {
            assert_eq!(count(Size::from_mm(wall), Size::from_mm(across)), counts, "{across} x {wall} mm");
        }
        for (wall, across, counts) in [
            (0.5, 4.5, [0, 2, 2, 0, 0]),
            (0.5, 4.51, [2, 2, 2, 2, 0]),
            (0.5, 12.75, [2, 2, 2, 2, 0]),
            (0.5, 12.76, [4, 4, 4, 4, 0]),
            (0.501, 4.5, [0, 2, 0, 0, 2]),
            (0.501, 12.75, [2, 2, 0, 0, 4]),
            (0.501, 12.76, [4, 4, 0, 0, 8]),
        ] {
            assert_eq!(count(Size::from_inches(wall), Size::from_inches(across)), counts, "{across} x {wall} in");
        }
    }
}
