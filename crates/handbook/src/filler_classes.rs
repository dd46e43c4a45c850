//! Filler metal classes, how a designation finds one, and how a filler goes with a pair of metals.
//!
//! To add a class, add a row; classes that differ only in covering, gas or form are `aliases` of one row. Which class is
//! usual for a pair of metals stands in [`crate::filler_choice`].

use std::collections::{BTreeMap, HashMap};
use std::sync::LazyLock;

use serde::Deserialize;

use crate::base_metals::BaseMetal;
use crate::composition::Composition;
use crate::designation::{self, Form};
use crate::range::Range;
use crate::rule::{self, Rule};
use crate::table::{Origin, table};
use crate::{filler_choice, find as names, metal_families};

table!("filler-classes", Row);
table!(MORE, more, "filler-classes-more", Row);
table!(RULES, rules, "filler-rules", Rule);

/// One class.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// AWS classification.
    #[serde(rename = "class")]
    pub classification: String,
    /// Specification of the class, such as `A5.18`.
    pub spec: String,
    /// Form of the filler.
    pub form: Form,
    /// ISO 4063 numbers that use it.
    pub processes: Vec<String>,
    /// F-Number of ASME IX.
    pub f_no: Option<String>,
    /// A-Number of ASME IX, where the deposit has one.
    pub a_no: Option<String>,
    /// Families of base metal that it is meant for.
    pub families: Vec<String>,
    /// Kinds of alloy within those families; all where empty.
    #[serde(default)]
    pub alloys: Vec<String>,
    /// Whether it joins unlike metals.
    pub dissimilar: bool,
    /// ISO designations of the like.
    #[serde(default)]
    pub iso: Vec<String>,
    /// Least tensile strength of the deposit, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Highest tensile strength of the deposit, in megapascals.
    pub tensile_max_mpa: Option<f64>,
    /// Usual tensile strength where the specification asks for none, in megapascals.
    pub tensile_typical_mpa: Option<f64>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Range>,
    /// Most magnesium in the base metal with which it is used, in percent.
    pub base_magnesium_max: Option<f64>,
    /// Limits by element, in mass percent.
    #[serde(default)]
    pub composition: Composition,
    /// Classes that share the row.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Kinds of metal for which it can be used, and what is then to be known.
    #[serde(default)]
    pub usable_for: BTreeMap<String, String>,
    /// Kinds of metal within its families that it does not suit, and why.
    #[serde(default)]
    pub unsuited_for: BTreeMap<String, String>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The classification and the others that mean the row.
    pub fn classes(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.classification.as_str()).chain(self.aliases.iter().map(String::as_str))
    }

    /// Whether a process uses it, by ISO 4063 number.
    pub fn serves(&self, process: &str) -> bool {
        self.processes.iter().any(|own| own == process)
    }

    /// Whether it is meant for a metal: the family, and the kind of alloy where it names some.
    pub fn meant_for(&self, metal: &BaseMetal) -> bool {
        let alloy = metal.alloy.as_deref();
        self.in_families(metal)
            && (self.alloys.is_empty() || alloy.is_none_or(|alloy| self.alloys.iter().any(|own| own == alloy)))
    }

    fn in_families(&self, metal: &BaseMetal) -> bool {
        self.families.iter().any(|family| metal_families::is_in(&metal.family, family))
    }
}

/// How a filler goes with a pair of metals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Suitability {
    /// Meant for both, or the usual choice for the pair.
    Suited,
    /// Can be used; what is then to be known, in words.
    Usable(String),
    /// Not meant for them; the reason in words.
    Unsuited(String),
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
        for name in row.classes().chain(row.iso.iter().map(String::as_str)) {
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

/// The rule with this name: `strength-rounding`, `low-carbon-grade`, `low-carbon-filler`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

/// How a filler suits the two metals of a joint; give the same metal twice for a joint of one metal.
///
/// The usual choice of `filler-choice` and what the filler is meant for suit; what has too little strength, or is meant
/// for a near alloy, can be used.
pub fn filler_suits(filler: &Row, first: &BaseMetal, second: &BaseMetal) -> Suitability {
    let both = [first, second];
    let chosen = filler_choice::best(first, second).is_some_and(|row| row.lists(&filler.classification));
    if !chosen {
        if let Some(unsuited) = unsuited(filler, both) {
            return Suitability::Unsuited(unsuited);
        }
        if let Some(usable) = less_than_suited(filler, both) {
            return usable;
        }
    }
    match weaker(filler, both) {
        Some(reason) => Suitability::Usable(reason),
        None => Suitability::Suited,
    }
}

/// Why a filler does not suit one of the metals at all, whatever the other is.
fn unsuited(filler: &Row, both: [&BaseMetal; 2]) -> Option<String> {
    both.into_iter().find_map(|metal| {
        let named = metal.kinds().into_iter().find_map(|kind| filler.unsuited_for.get(kind));
        let reason = named.map(|reason| format!("{reason} ({})", metal.specification));
        reason.or_else(|| {
            let (most, magnesium) = (filler.base_magnesium_max?, metal.composition.get("Mg")?);
            let least = magnesium.min?;
            (least > most).then(|| {
                format!(
                    "it takes base metal with up to {most} % magnesium, and {} has {least} % and more",
                    metal.specification
                )
            })
        })
    })
}

/// What stands between a filler and being suited, where it is not the usual choice for the pair.
fn less_than_suited(filler: &Row, both: [&BaseMetal; 2]) -> Option<Suitability> {
    let [first, second] = both;
    let wanting: Vec<&BaseMetal> = both.into_iter().filter(|metal| !filler.meant_for(metal)).collect();
    let Some(metal) = wanting.first() else {
        // Meant for both; magnesium may still reach beyond what it takes.
        return both.into_iter().find_map(|metal| {
            let (most, magnesium) = (filler.base_magnesium_max?, metal.composition.max("Mg")?);
            (magnesium > most).then(|| {
                Suitability::Usable(format!(
                    "it takes base metal with up to {most} % magnesium, and {} may have {magnesium} %",
                    metal.specification
                ))
            })
        });
    };
    let unlike = first.family != second.family;
    if filler.dissimilar && unlike && wanting.len() == 1 {
        return None;
    }
    let usable = |metal: &BaseMetal| {
        let named = metal.kinds().into_iter().find_map(|kind| filler.usable_for.get(kind));
        named.map(|reason| format!("{reason} ({})", metal.specification))
    };
    if let Some(reason) = wanting.iter().map(|metal| usable(metal)).collect::<Option<Vec<_>>>() {
        return Some(Suitability::Usable(reason.into_iter().next().unwrap_or_default()));
    }
    let steel = |metal: &BaseMetal| {
        metal_families::is_in(&metal.family, "steel") && !metal_families::is_in(&metal.family, "stainless")
    };
    if wanting.len() == 1 && both.into_iter().all(steel) && unlike {
        return Some(Suitability::Usable(format!("it is meant for the other steel, not for {}", metal.specification)));
    }
    let meant = if filler.alloys.is_empty() { filler.families.join(", ") } else { filler.alloys.join(", ") };
    if wanting.iter().all(|metal| filler.in_families(metal)) {
        let kind = metal.alloy.as_deref().unwrap_or(&metal.family);
        return Some(Suitability::Usable(format!("it is meant for {meant}, and {} is {kind}", metal.specification)));
    }
    Some(Suitability::Unsuited(format!(
        "it is for {}, and {} is {}",
        filler.families.join(", "),
        metal.specification,
        metal.family
    )))
}

/// Why the weld metal is weaker than the weaker of the two metals, by more than metric editions round.
///
/// Both by their least tensile strength; nothing where the class asks for none.
pub fn weaker(filler: &Row, both: [&BaseMetal; 2]) -> Option<String> {
    let deposit = filler.tensile_min_mpa?;
    let metal = both.into_iter().min_by(|a, b| {
        let strength = |metal: &BaseMetal| metal.tensile_min_mpa.unwrap_or(f64::INFINITY);
        strength(a).total_cmp(&strength(b))
    })?;
    let strength = metal.tensile_min_mpa?;
    let rounding = rule("strength-rounding").map_or(0.0, |rule| rule.value.high / 100.0);
    (deposit < strength * (1.0 - rounding)).then(|| {
        format!("its weld metal has at least {deposit} MPa, and {} at least {strength} MPa", metal.specification)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base_metals;

    fn class(text: &str) -> Option<&'static str> {
        find(text).map(|row| row.classification.as_str())
    }

    fn suits(filler: &str, first: &str, second: &str) -> Suitability {
        let metal = |name| base_metals::find(name).unwrap_or_else(|| panic!("{name}"));
        filler_suits(find(filler).unwrap_or_else(|| panic!("{filler}")), metal(first), metal(second))
    }

    #[test]
    fn two_hundred_and_fifty_classes_are_known_by_their_own_names() {
        assert!(all().count() >= 250);
        for row in all() {
            for name in row.classes() {
                assert_eq!(find(name).map(|found| &found.classification), Some(&row.classification), "{name}");
            }
            for family in &row.families {
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
            for iso in &row.iso {
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
            let read = designation::parse(&row.classification).unwrap();
            if let (Some(own), Some(read)) = (row.tensile_min_mpa, read.tensile_min_mpa) {
                // A5.28 asks 515 MPa of ER70S-A1, the other classes have the strength of their digits.
                assert!((own - read).abs() < 1e-9 || row.classification == "ER70S-A1", "{}", row.classification);
            }
        }
    }

    #[test]
    fn families_alloys_and_processes_exist() {
        let alloy = |name: &String| base_metals::rows().iter().any(|metal| metal.alloy.as_deref() == Some(name));
        for row in rows() {
            assert!(!row.families.is_empty() && !row.processes.is_empty(), "{}", row.classification);
            assert!(row.families.iter().all(|family| metal_families::get(family).is_some()), "{}", row.classification);
            assert!(
                row.alloys.iter().all(|name| alloy(name) || name == "29-9"),
                "{}: {:?}",
                row.classification,
                row.alloys
            );
            let kinds = row.usable_for.keys().chain(row.unsuited_for.keys());
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

    // AWS A5.9 and A5.10, annexes on intended use, and welding handbooks (from memory).
    #[test]
    fn fillers_suit_what_they_are_meant_for() {
        use Suitability::{Suited, Unsuited, Usable};
        for (filler, first, second) in [
            ("ER70S-6", "S355J2", "S355J2"),
            ("E7018", "A36", "A572-50"),
            ("E7018", "P235GH", "P235GH"),
            ("ER70S-2", "A516-70", "A516-70"),
            ("E8018-B2", "A335-P11", "A335-P11"),
            ("ER308L", "304L", "304L"),
            ("ER309L", "S355J2", "304L"),
            ("E309L-16", "A36", "316L"),
            ("ER2209", "1.4462", "316L"),
            ("ERNiCr-3", "N06600", "A36"),
            ("ER4043", "6061-T6", "6061-T6"),
            ("ER5356", "6082-T6", "5754-H111"),
            ("ER5183", "5083-H116", "5083-H116"),
            ("ERTi-2", "Grade 2", "Grade 2"),
            ("ENiFe-CI", "EN-GJS-400-15", "S235JR"),
        ] {
            assert_eq!(suits(filler, first, second), Suited, "{filler} {first} {second}");
        }
        for (filler, first, second) in [
            ("E7018", "S690QL", "S690QL"),
            ("E6013", "S355J2", "S355J2"),
            ("ER309L", "A36", "A36"),
            ("ER308L", "316L", "316L"),
            ("ER4043", "5052-H32", "5052-H32"),
            ("ER5356", "3003", "3003"),
            ("E8018-B2", "A335-P11", "A106-B"),
        ] {
            assert!(
                matches!(suits(filler, first, second), Usable(_)),
                "{filler} {first} {second}: {:?}",
                suits(filler, first, second)
            );
        }
        for (filler, first, second) in [
            ("ER70S-2", "6061-T6", "6061-T6"),
            ("ER4043", "5083-O", "5083-O"),
            ("ER5356", "2219-T87", "2219-T87"),
            ("ER308L", "A36", "A36"),
            ("ER308L", "304L", "A36"),
            ("ER70S-6", "304L", "304L"),
            ("ER70S-6", "A335-P91", "A335-P91"),
            ("ERTi-2", "S355J2", "S355J2"),
            ("E7018", "Cu-DHP", "Cu-DHP"),
            ("ER2209", "1.4410", "1.4410"),
        ] {
            assert!(
                matches!(suits(filler, first, second), Unsuited(_)),
                "{filler} {first} {second}: {:?}",
                suits(filler, first, second)
            );
        }
    }

    #[test]
    fn order_of_the_metals_does_not_matter() {
        let metals: Vec<_> = base_metals::rows().iter().step_by(20).collect();
        for filler in rows() {
            for first in &metals {
                for second in &metals {
                    let kind = |suitability| match suitability {
                        Suitability::Suited => 0,
                        Suitability::Usable(_) => 1,
                        Suitability::Unsuited(_) => 2,
                    };
                    assert_eq!(
                        kind(filler_suits(filler, first, second)),
                        kind(filler_suits(filler, second, first)),
                        "{} {} {}",
                        filler.classification,
                        first.specification,
                        second.specification
                    );
                }
            }
        }
    }
}
