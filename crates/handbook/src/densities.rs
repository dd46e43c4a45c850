//! Densities of metals and gases, gas cylinders, and figures on duty cycle.

use crate::band::Band;
use crate::find;
use crate::metal_families;
use crate::table::{Origin, table};

table!(METALS, metals, "metal-densities", MetalRow);
table!(GASES, gases, "gas-densities", GasRow);
table!(CYLINDERS, cylinders, "gas-cylinders", CylinderRow);
table!(DUTY_CYCLE, duty_cycle, "duty-cycle", DutyCycleRow);

/// Density of a metal.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalRow {
    /// The metal in words.
    pub metal: &'static str,
    /// Family of metal.
    pub family: Option<&'static str>,
    /// Whether the figure stands for its family.
    pub typical: bool,
    /// Density in kilograms per cubic metre.
    pub density_kg_m3: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Density of a gas at 15 °C and 1 bar.
#[derive(Debug, Clone, PartialEq)]
pub struct GasRow {
    /// Gas, or mixture in volume percent.
    pub gas: &'static str,
    /// Density in kilograms per cubic metre.
    pub density_kg_m3: f64,
    /// Density of the ideal gas in kilograms per cubic metre.
    pub ideal_kg_m3: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A gas cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderRow {
    /// The cylinder in words.
    pub size: &'static str,
    /// What it holds.
    pub gas: &'static str,
    /// Volume of gas when full, in cubic metres.
    pub content_m3: f64,
    /// Nominal volume in cubic feet.
    pub content_ft3: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A worked figure on duty cycle.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyCycleRow {
    /// What is asked.
    pub case: &'static str,
    /// Resulting current in amperes.
    pub current_a: Option<f64>,
    /// Resulting duty cycle in percent.
    pub duty_pct: Option<f64>,
    /// Base period in minutes.
    pub period_min: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The density of a metal by its name, else the typical one of its family or the nearest wider family.
pub fn metal(name_or_family: &str) -> Option<&'static MetalRow> {
    find::by_name(metals(), name_or_family, |row| [row.metal]).filter(|row| row.typical).or_else(|| {
        let of_family = |family: &str| {
            metals().iter().find(|row| row.typical && row.family.is_some_and(|own| find::same(own, family)))
        };
        find::by_name(metals(), name_or_family, |row| [row.metal])
            .or_else(|| metal_families::chain(name_or_family).iter().find_map(|link| of_family(link.family)))
    })
}

/// The density of a gas by its name.
pub fn gas(name: &str) -> Option<&'static GasRow> {
    find::by_name(gases(), name, |row| [row.gas])
}

#[cfg(test)]
mod tests {
    use super::*;

    // Molar masses over the molar volume of the ideal gas at 15 °C and 1 bar, R = 8.314463 J/(mol K).
    #[test]
    fn ideal_densities_follow_the_gas_law() {
        let molar_volume = 8.314_463 * 288.15 / 1e5;
        for (name, grams) in [
            ("argon", 39.948),
            ("helium", 4.0026),
            ("nitrogen", 28.014),
            ("oxygen", 31.998),
            ("carbon dioxide", 44.009),
            ("hydrogen", 2.016),
        ] {
            let ideal = gas(name).unwrap().ideal_kg_m3.unwrap();
            assert!((ideal - grams / 1000.0 / molar_volume).abs() < 2e-3 * ideal + 2e-4, "{name} {ideal}");
        }
    }

    #[test]
    fn a_family_has_a_density() {
        assert!(metal("superduplex-stainless").unwrap().density_kg_m3.contains(7820.0));
        assert!(metal("fine-grain-steel").unwrap().density_kg_m3.contains(7850.0));
        assert!(metal("aluminium 5356").unwrap().density_kg_m3.contains(2657.0));
        assert!(metal("carbon-steel").unwrap().density_kg_m3.contains(7850.0));
        assert!(metal("cheese").is_none());
    }

    // IEC 60974-1: duty falls with the square of the current over a period of 10 min.
    #[test]
    fn worked_figures_follow_the_square_law() {
        let figure = |part: &str| duty_cycle().iter().find(|row| row.case.contains(part)).unwrap();
        assert!((figure("to 100 %").current_a.unwrap() - 200.0 * 0.6_f64.sqrt()).abs() < 0.05);
        assert!((figure("at 250 A").duty_pct.unwrap() - 60.0 * (200.0_f64 / 250.0).powi(2)).abs() < 0.05);
        assert_eq!(duty_cycle().iter().find_map(|row| row.period_min), Some(10.0));
    }

    // 1 ft3 is 0.0283168 m3 by definition.
    #[test]
    fn contents_in_feet_and_metres_agree() {
        for row in cylinders() {
            if let Some(feet) = row.content_ft3 {
                assert!((row.content_m3 - feet * 0.028_316_8).abs() < 0.01, "{row:?}");
            }
        }
    }
}
