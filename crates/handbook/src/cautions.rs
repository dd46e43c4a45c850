//! Safety cautions, and what in a document calls for each.
//!
//! To add a caution, add a row: its lists say when it applies.

use crate::find;
use crate::metal_families;
use crate::processes;
use crate::table::{Origin, table};

table!("cautions", Row);

/// One caution.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Name of the hazard.
    pub cause: &'static str,
    /// The words to print.
    pub caution: &'static str,
    /// The words where there is room for a line, after the name of the hazard.
    pub short: &'static str,
    /// ISO 4063 numbers that call for it.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Families of metal that call for it.
    #[cfg_attr(false, optional)]
    pub metals: &'static [&'static str],
    /// Components of the gas that call for it.
    #[cfg_attr(false, optional)]
    pub gases: &'static [&'static str],
    /// Other marks that call for it.
    #[cfg_attr(false, optional)]
    pub marks: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a document says of itself, as far as cautions ask.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Circumstances<'d> {
    /// Processes, by number or letters.
    pub processes: Vec<&'d str>,
    /// Families of metal, base and filler.
    pub families: Vec<&'d str>,
    /// Components of shielding and backing gases, such as `H2`.
    pub gases: Vec<&'d str>,
    /// Marks: `coated`, `gouged`, `ground`, `high-frequency`, `solvent`, `thoriated`.
    pub marks: Vec<&'d str>,
}

impl Row {
    /// Whether a document calls for the caution: each list that the row has must name something of the document.
    pub fn applies(&self, document: &Circumstances<'_>) -> bool {
        let number = |name: &str| processes::get(name).map(|row| row.number);
        let met = |list: &[&str], meets: &dyn Fn(&str) -> bool| list.is_empty() || list.iter().any(|own| meets(own));
        met(self.processes, &|own| document.processes.iter().any(|name| number(name) == Some(own)))
            && met(self.metals, &|own| document.families.iter().any(|family| metal_families::is_in(family, own)))
            && met(self.gases, &|own| document.gases.iter().any(|gas| find::same(gas, own)))
            && met(self.marks, &|own| document.marks.iter().any(|mark| find::same(mark, own)))
    }
}

/// The cautions that a document calls for, in the order of the table.
pub fn for_document(document: &Circumstances<'_>) -> Vec<&'static Row> {
    rows().iter().filter(|row| row.applies(document)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn causes(document: &Circumstances<'_>) -> Vec<&'static str> {
        for_document(document).iter().map(|row| row.cause).collect()
    }

    #[test]
    fn every_arc_has_radiation_fume_shock_and_fire() {
        let always = causes(&Circumstances::default());
        for cause in ["arc-radiation", "fume", "electric-shock", "hot-work", "hot-metal", "closed-container"] {
            assert!(always.contains(&cause), "{cause}");
        }
        assert!(!always.contains(&"hexavalent-chromium") && !always.contains(&"hydrogen-mixture"));
    }

    // IARC vol. 118 and OSHA 1910.1026: chromium VI in fume from stainless steel.
    #[test]
    fn stainless_with_a_hydrogen_mixture_calls_for_more() {
        let document = Circumstances {
            processes: vec!["GTAW"],
            families: vec!["austenitic-stainless"],
            gases: vec!["Ar", "H2"],
            marks: vec!["thoriated", "high-frequency"],
        };
        let found = causes(&document);
        for cause in
            ["hexavalent-chromium", "hydrogen-mixture", "thoriated-tungsten", "high-frequency", "ozone", "asphyxiation"]
        {
            assert!(found.contains(&cause), "{cause}");
        }
        assert!(!found.contains(&"titanium-swarf") && !found.contains(&"slag"));
    }

    #[test]
    fn what_rows_name_exists() {
        for row in rows() {
            assert!(row.processes.iter().all(|number| processes::get(number).is_some()), "{}", row.cause);
            assert!(row.metals.iter().all(|family| metal_families::get(family).is_some()), "{}", row.cause);
            assert!(row.caution.ends_with('.') && row.short.ends_with('.'), "{}", row.cause);
            assert!(row.short.len() < 95, "{}", row.cause);
        }
    }
}
