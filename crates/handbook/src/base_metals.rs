//! Base metals with family, groups, strength and composition: table `base-metals`.

use serde::Deserialize;
use serde_json::{Map, Value};

use crate::find as names;
use crate::range::Range;
use crate::table::{Origin, table};

table!("base-metals", BaseMetal);

/// One metal.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct BaseMetal {
    /// Name by which the metal is ordered.
    pub specification: String,
    /// Family of `metal-families`.
    pub family: String,
    /// Kind of alloy within the family.
    pub alloy: Option<String>,
    /// P-Number of ASME IX.
    pub p_no: Option<String>,
    /// Group number of ASME IX.
    pub group_no: Option<u32>,
    /// Group of ISO/TR 15608.
    pub iso_group: Option<String>,
    /// Least tensile strength, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Least yield strength, in megapascals.
    pub yield_min_mpa: Option<f64>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Range>,
    /// Metal that coats the surface.
    pub coating: Option<String>,
    /// Mass percent: a figure is the most, a pair the least and the most, `min` the least.
    #[serde(default)]
    pub composition: Map<String, Value>,
    /// Other names, numbers and former names.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Product specifications, which combine with `grades`.
    #[serde(default)]
    pub products: Vec<String>,
    /// How product specifications name the metal.
    #[serde(default)]
    pub grades: Vec<String>,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

impl BaseMetal {
    fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.specification.as_str()).chain(self.aliases.iter().map(String::as_str))
    }
}

/// A name without the words that only introduce it, and with only the letters and digits that tell metals apart.
fn bare(text: &str) -> String {
    let lower = text.to_lowercase().replace(['(', ')', ','], " ");
    let words = lower.split_whitespace().filter(|word| {
        !matches!(
            *word,
            "astm"
                | "asme"
                | "aisi"
                | "sae"
                | "uns"
                | "en"
                | "din"
                | "iso"
                | "gr"
                | "gr."
                | "grade"
                | "type"
                | "class"
                | "cl"
                | "cl."
                | "aw"
                | "steel"
                | "alloy"
                | "temper"
                | "werkstoff"
                | "nr."
                | "no."
        )
    });
    let joined: String = words.collect::<Vec<_>>().join(" ");
    // SA-516 and A/SA-516 are A516; EN AW-6082 is 6082.
    let joined = joined
        .strip_prefix("a/sa")
        .or_else(|| joined.strip_prefix("sa"))
        .map_or_else(|| joined.strip_prefix("en-").unwrap_or(&joined).to_owned(), |rest| format!("a{rest}"));
    let joined = joined.strip_prefix("aw-").unwrap_or(&joined).to_owned();
    joined.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '.').collect()
}

/// The metal with this name, forgiving case, spaces, hyphens and introducing words; a delivery condition after `+` is left
/// off where the whole name finds nothing.
pub fn find(text: &str) -> Option<&'static BaseMetal> {
    let find_bare = |wanted: &str| {
        if wanted.is_empty() {
            return None;
        }
        rows()
            .iter()
            .find(|metal| metal.names().any(|name| bare(name) == wanted))
            .or_else(|| {
                rows().iter().find(|metal| {
                    metal.products.iter().any(|product| {
                        let product = bare(product);
                        metal.grades.iter().any(|grade| format!("{product}{}", bare(grade)) == wanted)
                    })
                })
            })
            .or_else(|| rows().iter().find(|metal| metal.grades.iter().any(|grade| bare(grade) == wanted)))
    };
    find_bare(&bare(text)).or_else(|| text.split_once('+').and_then(|(name, _)| find_bare(&bare(name)))).or_else(|| {
        // A standard before the name: EN 10025-2 S355J2.
        let (head, rest) = text.trim().rsplit_once(' ')?;
        head.chars().any(|c| c.is_ascii_digit()).then(|| find_bare(&bare(rest.split('+').next().unwrap_or(rest))))?
    })
}

/// Up to three metals that are spelt most like `text`.
pub fn nearest(text: &str) -> Vec<&'static str> {
    names::nearest(text, rows().iter().flat_map(BaseMetal::names))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metal_families;

    // ASME IX QW/QB-422 (2017) and ISO/TR 15608: the groups of common metals.
    #[test]
    fn common_names_find_their_metal() {
        for (name, family) in [
            ("S355J2+N", "carbon-steel"),
            ("EN 10025-2 S355J2", "carbon-steel"),
            ("304L", "austenitic-stainless"),
            ("AISI 304L", "austenitic-stainless"),
            ("1.4307", "austenitic-stainless"),
            ("P235GH", "carbon-steel"),
            ("ASTM A106 Gr. B", "carbon-steel"),
            ("SA-516 Grade 70", "carbon-steel"),
            ("6061-T6", "aluminium-heat-treatable"),
            ("EN AW-6082 T6", "aluminium-heat-treatable"),
        ] {
            assert_eq!(find(name).map(|metal| metal.family.as_str()), Some(family), "{name}");
        }
        assert!(find("Unobtainium 9").is_none());
        assert!(find("").is_none());
    }

    #[test]
    fn every_family_exists() {
        for metal in rows() {
            assert!(metal_families::get(&metal.family).is_some(), "{}: {}", metal.specification, metal.family);
        }
    }
}
