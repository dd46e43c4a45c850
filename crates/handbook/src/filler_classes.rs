//! Filler metal classes, how a designation finds one, and how a filler goes with a pair of metals.
//!
//! To add a class, add a row; classes that differ only in covering, gas or form are `aliases` of one row. Which class is
//! usual for a pair of metals stands in [`crate::filler_choice`].

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::band::Band;
use crate::base_metals::BaseMetal;
use crate::composition::Composition;
use crate::designation::{self, Form};
use crate::rule::Rule;
use crate::table::{Origin, named, table};
use crate::{find as names, metal_families};

table!("filler-classes", Row);
table!(MORE, more, "filler-classes-more", Row);
table!(RULES, rules, "filler-rules", Rule);
named!("filler-rules");

/// One class.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Specification of the class, such as `A5.18`.
    pub spec: &'static str,
    /// Form of the filler.
    pub form: Form,
    /// ISO 4063 numbers that use it.
    pub processes: &'static [&'static str],
    /// F-Number of ASME IX.
    pub f_no: Option<&'static str>,
    /// A-Number of ASME IX, where the deposit has one.
    pub a_no: Option<&'static str>,
    /// Families of base metal that it is meant for.
    pub families: &'static [&'static str],
    /// Kinds of alloy within those families; all where empty.
    #[cfg_attr(false, optional)]
    pub alloys: &'static [&'static str],
    /// Whether it joins unlike metals.
    pub dissimilar: bool,
    /// ISO designations of the like.
    #[cfg_attr(false, optional)]
    pub iso: &'static [&'static str],
    /// Least tensile strength of the deposit, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Band>,
    /// Most magnesium in the base metal with which it is used, in percent.
    pub base_magnesium_max: Option<f64>,
    /// Limits by element, in mass percent.
    #[cfg_attr(false, optional)]
    pub composition: Composition,
    /// Classes that share the row.
    #[cfg_attr(false, optional)]
    pub aliases: &'static [&'static str],
    /// Kinds of metal for which it can be used, and what is then to be known.
    #[cfg_attr(false, optional)]
    pub usable_for: &'static [(&'static str, &'static str)],
    /// Kinds of metal within its families that it does not suit, and why.
    #[cfg_attr(false, optional)]
    pub unsuited_for: &'static [(&'static str, &'static str)],
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The classification and the others that mean the row.
    pub fn classes(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.classification).chain(self.aliases.iter().copied())
    }

    /// Whether a process uses it, by ISO 4063 number.
    pub fn serves(&self, process: &str) -> bool {
        self.processes.contains(&process)
    }

    /// Whether it is meant for a metal: the family, and the kind of alloy where it names some.
    pub fn meant_for(&self, metal: &BaseMetal) -> bool {
        let alloy = metal.alloy;
        self.in_families(metal) && (self.alloys.is_empty() || alloy.is_none_or(|alloy| self.alloys.contains(&alloy)))
    }

    pub(crate) fn in_families(&self, metal: &BaseMetal) -> bool {
        self.families.iter().any(|family| metal_families::is_in(metal.family, family))
    }
}

/// The class with this designation, of AWS or of ISO, with the standard before it or without.
///
/// Optional marks (`H4R`, `J`) and the gas letter do not count. An ISO designation finds the class of the like: of the
/// same composition and covering, and of the nearest strength and impact temperature.
pub fn find(text: &str) -> Option<&'static Row> {
    static KNOWN: names::Known<Option<&'static Row>> = names::Known::new();
    let text = names::first(text);
    KNOWN.of(text, || search(text))
}

fn search(text: &str) -> Option<&'static Row> {
    static INDEX: LazyLock<HashMap<String, usize>> = LazyLock::new(|| index(rows()));
    static MORE_INDEX: LazyLock<HashMap<String, usize>> = LazyLock::new(|| index(more()));
    let by = |name: &str| {
        let name = names::folded(name);
        let first = INDEX.get(&name).and_then(|at| rows().get(*at));
        first.or_else(|| MORE_INDEX.get(&name).and_then(|at| more().get(*at)))
    };
    if let Some(row) = by(text) {
        return Some(row);
    }
    let filler = designation::parse(text).ok()?;
    if filler.standard.starts_with("ISO") {
        return by(&format!("{} {}", filler.standard, filler.class)).or_else(|| alike(&filler));
    }
    // E7016-1 is an E7016, E81T1-Ni1C and E81T1-Ni1M are of one composition.
    let class = filler.class.as_str();
    by(class).or_else(|| by(class.strip_suffix("-1")?)).or_else(|| by(class.strip_suffix(['C', 'M'])?))
}

fn index(rows: &'static [Row]) -> HashMap<String, usize> {
    let mut index = HashMap::new();
    for (at, row) in rows.iter().enumerate() {
        for name in row.classes().chain(row.iso.iter().copied()) {
            index.entry(names::folded(name)).or_insert(at);
        }
    }
    index
}

/// Every class: those that are met often first.
pub fn all() -> impl Iterator<Item = &'static Row> {
    rows().iter().chain(more())
}

/// The class whose own ISO designation is most like one that was read.
fn alike(wanted: &designation::Filler) -> Option<&'static Row> {
    static READ: LazyLock<Vec<(usize, designation::Filler)>> = LazyLock::new(|| {
        let of = |(at, row): (usize, &'static Row)| row.iso.iter().map(move |iso| (at, iso));
        let all = rows().iter().enumerate().flat_map(of);
        all.filter_map(|(at, iso)| Some((at, designation::parse(iso).ok()?))).collect()
    });
    // The first word of a covering tells its kind: rutile, rutile-cellulosic and thick rutile are told apart by it too,
    // so a class with the same whole text goes before one with the same kind.
    let kind = |filler: &designation::Filler| filler.covering.map(|covering| covering.contains("basic"));
    let off = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs(),
        (None, None) => 0.0,
        // Untested against tested: farther than any step of the scale.
        _ => 200.0,
    };
    let near = READ.iter().filter(|(_, own)| {
        own.standard == wanted.standard
            && own.alloy == wanted.alloy
            && own.form == wanted.form
            && kind(own) == kind(wanted)
    });
    let best = near.min_by(|(_, a), (_, b)| {
        let score = |own: &designation::Filler| {
            let covering = if own.covering == wanted.covering { 0.0 } else { 1.0 };
            [
                covering,
                off(own.yield_min_mpa.or(own.tensile_min_mpa), wanted.yield_min_mpa.or(wanted.tensile_min_mpa)),
                off(own.impact_c, wanted.impact_c),
                if own.polarity == wanted.polarity { 0.0 } else { 1.0 },
            ]
        };
        score(a).partial_cmp(&score(b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    best.and_then(|(at, _)| rows().get(*at))
}

/// Up to three classes that are spelt most like `text`.
pub fn nearest(text: &str) -> Vec<&'static str> {
    names::nearest(text, all().flat_map(Row::classes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base_metals;

    fn class(text: &str) -> Option<&'static str> {
        find(text).map(|row| row.classification)
    }

    #[test]
    fn two_hundred_and_fifty_classes_are_known_by_their_own_names() {
        assert!(all().count() >= 250);
        for row in all() {
            for name in row.classes() {
                assert_eq!(find(name).map(|found| &found.classification), Some(&row.classification), "{name}");
            }
            for family in row.families {
                assert!(metal_families::get(family).is_some(), "{}: {family}", row.classification);
            }
            assert!(
                row.processes.iter().all(|number| crate::processes::get(number).is_some()),
                "{}",
                row.classification
            );
        }
    }

    // AWS A5.1, A5.4, A5.18, A5.20, A5.29 (classes and optional marks); ISO 2560-A, 14341-A, 14343-A, 3581-A, 18273.
    #[test]
    fn designations_of_aws_and_iso_find_their_class() {
        for (written, found) in [
            ("EL12", "EL12"),
            ("EM12K", "EM12K"),
            ("E81T1-K2C", "E80T1-K2C"),
            ("E110C-K4", "E110C-K4"),
            ("E9018-B91", "E9018-B9"),
            ("ER307", "ER307"),
            ("E7018", "E7018"),
            ("E7018-1 H4R", "E7018-1"),
            ("e 7018 h8", "E7018"),
            ("E7016-1 H4", "E7016"),
            ("er70s-6", "ER70S-6"),
            ("AWS A5.18 ER70S-6", "ER70S-6"),
            ("SFA-5.18: ER70S-2", "ER70S-2"),
            ("E8018-B2 H4R", "E8018-B2"),
            ("E308L-17", "E308L-16"),
            ("E71T-1M", "E71T-1C/M"),
            ("E71T-1MJ H8", "E71T-1C/M"),
            ("E81T1-Ni1C", "E81T1-Ni1M"),
            ("E308LT1-4", "E308LT1-1"),
            ("ER308LSi", "ER308LSi"),
            ("R4043", "ER4043"),
            ("ENiCrFe-3", "ENiCrFe-3"),
            ("F7A2-EM12K-H8", "F7A2-EM12K"),
            ("E 42 4 B 42 H5", "E7018"),
            ("ISO 2560-A - E 42 4 B 3 2 H5", "E7018"),
            ("E 46 3 B 12 H10", "E7016"),
            ("E 38 0 RC 11", "E6013"),
            ("E 38 3 C 21", "E6010"),
            ("ISO 14341-A - G 42 4 M21 3Si1", "ER70S-6"),
            ("G 3Si1", "ER70S-6"),
            ("G 42 2 C1 2Si", "ER70S-3"),
            ("W 42 5 W3Si1", "ER70S-6"),
            ("W 2Ti", "ER70S-2"),
            ("T 46 4 P M21 1 H5", "E71T-1C/M"),
            ("T 42 4 M M21 1 H5", "E70C-6M"),
            ("W 19 9 L", "ER308L"),
            ("G 19 12 3 L Si", "ER316LSi"),
            ("ISO 14343-A - W 23 12 L", "ER309L"),
            ("E 19 9 L R 32", "E308L-16"),
            ("S Al 5356 (AlMg5Cr)", "ER5356"),
            ("S Al 4043", "ER4043"),
            ("S Ni 6082", "ERNiCr-3"),
            ("S Ti 0120", "ERTi-2"),
        ] {
            assert_eq!(class(written), Some(found), "{written}");
        }
        for written in ["", "nonsense", "E9999", "ER", "18", "ISO 2560-A"] {
            assert_eq!(class(written), None, "{written}");
        }
        assert_eq!(nearest("ER70S-9").len(), 3);
    }

    #[test]
    fn every_class_finds_its_own_row_and_reads_by_its_system() {
        for row in rows() {
            for name in row.classes() {
                assert_eq!(find(name), Some(row), "{name}");
                let read = designation::parse(name).unwrap_or_else(|error| panic!("{error}"));
                assert_eq!(read.standard, format!("AWS {}", row.spec), "{name}");
                assert_eq!(read.form, row.form, "{name}");
            }
            for iso in row.iso {
                // System B of the stainless standards names the AWS numbers and has no parser.
                if !iso.starts_with("ISO 14343-B") && !iso.starts_with("ISO 3581-B") {
                    assert!(designation::parse(iso).is_ok(), "{}: {:?}", row.classification, designation::parse(iso));
                }
            }
        }
    }

    // The tensile strength of a class is that of the digits in it: AWS A5.1, A5.5, A5.18, A5.28, A5.20, A5.29.
    #[test]
    fn strength_agrees_with_the_designation() {
        for row in rows() {
            let read = designation::parse(row.classification).unwrap();
            if let (Some(own), Some(read)) = (row.tensile_min_mpa, read.tensile_min_mpa) {
                // A5.28 asks 515 MPa of ER70S-A1, the other classes have the strength of their digits.
                assert!((own - read).abs() < 1e-9 || row.classification == "ER70S-A1", "{}", row.classification);
            }
        }
    }

    #[test]
    fn families_alloys_and_processes_exist() {
        let alloy = |name: &&str| base_metals::rows().iter().any(|metal| metal.alloy == Some(name));
        for row in rows() {
            assert!(!row.families.is_empty() && !row.processes.is_empty(), "{}", row.classification);
            assert!(row.families.iter().all(|family| metal_families::get(family).is_some()), "{}", row.classification);
            assert!(
                row.alloys.iter().all(|name| alloy(name) || *name == "29-9"),
                "{}: {:?}",
                row.classification,
                row.alloys
            );
            let kinds = row.usable_for.iter().chain(row.unsuited_for).map(|(kind, _)| kind);
            for kind in kinds {
                assert!(alloy(kind) || metal_families::get(kind).is_some(), "{}: {kind}", row.classification);
            }
            assert!(
                row.processes.iter().all(|number| crate::processes::get(number).is_some()),
                "{}",
                row.classification
            );
        }
    }
}
