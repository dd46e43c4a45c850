//! Filler metal classes and the families of base metal that they are meant for: table `filler-classes`.

use serde::Deserialize;
use serde_json::{Map, Value};

use crate::base_metals::BaseMetal;
use crate::range::Range;
use crate::table::{Origin, table};
use crate::{find as names, metal_families};

table!("filler-classes", Row);

/// One class.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// AWS classification.
    #[serde(rename = "class")]
    pub classification: String,
    /// Specification of the class, such as `A5.18`.
    pub spec: String,
    /// `rod-or-wire`, `covered-electrode`, `cored-wire` or `wire-and-flux`.
    pub form: String,
    /// Families of base metal that it is meant for.
    pub families: Vec<String>,
    /// Whether it joins unlike metals.
    pub dissimilar: bool,
    /// F-Number of ASME IX.
    pub f_no: Option<String>,
    /// A-Number of ASME IX.
    pub a_no: Option<String>,
    /// Nearest ISO designation.
    pub iso: Option<String>,
    /// Least tensile strength of the deposit, in megapascals.
    pub tensile_mpa: Option<f64>,
    /// Base metals in words.
    pub base_metals: String,
    /// Mass percent of each element: a figure is the most, a pair the least and the most.
    pub composition: Map<String, Value>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Range>,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// How a filler goes with a pair of metals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Suitability {
    /// Meant for both.
    Suited,
    /// Not meant for them; the reason in words.
    Unsuited(String),
}

/// The class with this name: AWS class, with hydrogen and moisture marks left off, or an ISO designation.
pub fn find(text: &str) -> Option<&'static Row> {
    let wanted = names::folded(text);
    let bare = wanted.trim_start_matches("aws").trim_start_matches("sfa");
    let bare = bare
        .split_once("er")
        .filter(|(head, _)| head.starts_with("a5."))
        .map_or(bare.to_owned(), |(_, class)| format!("er{class}"));
    let own = |row: &Row| names::folded(&row.classification);
    rows()
        .iter()
        .find(|row| own(row) == bare)
        .or_else(|| {
            // E7018-1 H4R, E308L-16 H8: optional designators follow the class.
            rows().iter().filter(|row| bare.starts_with(&own(row))).max_by_key(|row| own(row).len()).filter(|row| {
                let rest = bare.get(own(row).len()..).unwrap_or_default();
                ["h4", "h5", "h8", "h10", "h16", "r", "h4r", "h8r", "si"].contains(&rest)
            })
        })
        .or_else(|| {
            let iso = wanted.trim_start_matches("eniso").trim_start_matches("iso");
            rows().iter().find(|row| row.iso.as_deref().is_some_and(|own| names::folded(own) == iso))
        })
}

/// Up to three classes that are spelt most like `text`.
pub fn nearest(text: &str) -> Vec<&'static str> {
    names::nearest(text, rows().iter().map(|row| row.classification.as_str()))
}

/// Whether a filler is meant for the two metals of a joint.
pub fn filler_suits(filler: &Row, first: &BaseMetal, second: &BaseMetal) -> Suitability {
    let meant = |metal: &BaseMetal| filler.families.iter().any(|family| metal_families::is_in(&metal.family, family));
    let steel = |metal: &BaseMetal| metal_families::is_in(&metal.family, "steel");
    match (meant(first), meant(second)) {
        (true, true) => Suitability::Suited,
        (true, false) | (false, true) if filler.dissimilar => Suitability::Suited,
        (false, false) if filler.dissimilar && first.family != second.family && steel(first) && steel(second) => {
            Suitability::Suited
        }
        // Two steels without much chromium: the filler of the one serves the other.
        (true, false) | (false, true)
            if [first, second]
                .iter()
                .all(|metal| steel(metal) && !metal_families::is_in(&metal.family, "stainless")) =>
        {
            Suitability::Suited
        }
        (first_meant, _) => {
            let metal = if first_meant { second } else { first };
            Suitability::Unsuited(format!(
                "it is for {}, and {} is {}",
                filler.families.join(", "),
                metal.specification,
                metal.family
            ))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // AWS A5.1 and A5.18 (classes and their optional designators, from memory).
    #[test]
    fn designators_and_spelling_do_not_hide_a_class() {
        assert_eq!(find("E7018-1 H4R").unwrap().classification, "E7018-1");
        assert_eq!(find("er70s-6").unwrap().classification, "ER70S-6");
        assert!(find("nonsense").is_none());
    }

    #[test]
    fn every_family_exists() {
        for row in rows() {
            for family in &row.families {
                assert!(metal_families::get(family).is_some(), "{}: {family}", row.classification);
            }
            assert!(!row.families.is_empty(), "{}", row.classification);
        }
    }
}
