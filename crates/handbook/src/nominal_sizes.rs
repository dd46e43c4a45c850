//! Sizes by which electrodes, wires, rods and tungstens are sold, in millimetres and in inches.

use seamwright_model::quantity::{Length, Range, UnitSystem};

use crate::table::{Origin, table};

table!("nominal-sizes", Row);

/// A size under both its names.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Diameter in inches as it is said: `0.045`, `3/32`.
    pub diameter_in: &'static str,
    /// Whether the inch size is said as this one where two have it.
    pub back: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How far a stated size may lie from the one that it is sold by, mm: 3/32 in is 2.381 mm and sold as 2.4 mm.
const NEAR_MM: f64 = 0.04;

/// The inches by which a size in millimetres is sold.
pub fn inches(mm: f64) -> Option<&'static str> {
    rows().iter().find(|row| (row.diameter_mm - mm).abs() < NEAR_MM).map(|row| row.diameter_in)
}

/// The size that a diameter is sold by, printed for a system; as [`Range::print`] does where the table has none, and always
/// for a range or a limit.
pub fn print(diameter: &Range<Length>, system: UnitSystem) -> String {
    sold(diameter, system).unwrap_or_else(|| diameter.print(system))
}

fn sold(diameter: &Range<Length>, system: UnitSystem) -> Option<String> {
    let stated = diameter.single()?;
    let in_inches = diameter.unit().symbol == "in";
    let other = if in_inches {
        let same = |row: &&Row| {
            let own = Range::<Length>::parse(&format!("{} in", row.diameter_in)).ok();
            own.and_then(|own| own.single()) == Some(stated)
        };
        format!("{} mm", rows().iter().filter(|row| row.back).find(same)?.diameter_mm)
    } else {
        format!("{} in", inches(stated.mm())?)
    };
    match (system, in_inches) {
        (UnitSystem::Both, _) => {
            let own = if in_inches { UnitSystem::Us } else { UnitSystem::Si };
            Some(format!("{} ({other})", diameter.print(own)))
        }
        (UnitSystem::Si, true) | (UnitSystem::Us, false) => Some(other),
        (UnitSystem::Si, false) | (UnitSystem::Us, true) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn printed(text: &str, system: UnitSystem) -> String {
        print(&Range::parse(text).unwrap(), system)
    }

    #[test]
    fn a_size_is_said_as_it_is_sold() {
        for (mm, inches) in [
            ("0.8 mm", "0.030 in"),
            ("0.9 mm", "0.035 in"),
            ("1.0 mm", "0.040 in"),
            ("1.2 mm", "0.045 in"),
            ("1.6 mm", "1/16 in"),
            ("2.4 mm", "3/32 in"),
            ("2.5 mm", "3/32 in"),
            ("3.2 mm", "1/8 in"),
            ("4.0 mm", "5/32 in"),
            ("5.0 mm", "3/16 in"),
        ] {
            assert_eq!(printed(mm, UnitSystem::Us), inches);
            assert_eq!(printed(mm, UnitSystem::Si), mm);
            assert_eq!(printed(mm, UnitSystem::Both), format!("{mm} ({inches})"));
        }
        for (inches, mm) in [("0.045 in", "1.2 mm"), ("3/32 in", "2.4 mm"), ("1/8 in", "3.2 mm"), ("3/16 in", "4.8 mm")]
        {
            assert_eq!(printed(inches, UnitSystem::Si), mm);
            assert_eq!(printed(inches, UnitSystem::Us), inches);
        }
    }

    #[test]
    fn a_limit_and_a_size_that_nobody_sells_are_converted() {
        for stated in ["1.2 mm maximum", "1.2-1.6 mm", "3 mm", "1.1 mm"] {
            let range: Range<Length> = Range::parse(stated).unwrap();
            assert_eq!(print(&range, UnitSystem::Us), range.print(UnitSystem::Us), "{stated}");
        }
        assert_eq!(printed("1.1 mm", UnitSystem::Us), "0.043 in");
    }

    #[test]
    fn each_size_has_one_way_back() {
        for row in rows() {
            assert_eq!(rows().iter().filter(|other| other.back && other.diameter_in == row.diameter_in).count(), 1);
        }
    }
}
