//! How a filler suits the metals of a joint.

use crate::base_metals::BaseMetal;
use crate::filler_classes::{self, Row as Class};
use crate::find;
use crate::{filler_choice, metal_families};

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

/// How a filler suits the two metals of a joint; give the same metal twice for a joint of one metal.
///
/// The usual choice of `filler-choice` and what the filler is meant for suit; what has too little strength, or is meant
/// for a near alloy, can be used.
pub fn suits(filler: &Class, first: &BaseMetal, second: &BaseMetal) -> Suitability {
    let both = [first, second];
    let chosen = filler_choice::best(first, second).is_some_and(|row| row.lists(filler.classification));
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
fn unsuited(filler: &Class, both: [&BaseMetal; 2]) -> Option<String> {
    both.into_iter().find_map(|metal| {
        let named = metal.kinds().into_iter().find_map(|kind| find::value_of(filler.unsuited_for, kind));
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
fn less_than_suited(filler: &Class, both: [&BaseMetal; 2]) -> Option<Suitability> {
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
        let named = metal.kinds().into_iter().find_map(|kind| find::value_of(filler.usable_for, kind));
        named.map(|reason| format!("{reason} ({})", metal.specification))
    };
    if let Some(reason) = wanting.iter().map(|metal| usable(metal)).collect::<Option<Vec<_>>>() {
        return Some(Suitability::Usable(reason.into_iter().next().unwrap_or_default()));
    }
    let steel = |metal: &BaseMetal| {
        metal_families::is_in(metal.family, "steel") && !metal_families::is_in(metal.family, "stainless")
    };
    if wanting.len() == 1 && both.into_iter().all(steel) && unlike {
        return Some(Suitability::Usable(format!("it is meant for the other steel, not for {}", metal.specification)));
    }
    let meant = if filler.alloys.is_empty() { filler.families.join(", ") } else { filler.alloys.join(", ") };
    if wanting.iter().all(|metal| filler.in_families(metal)) {
        let kind = metal.alloy.unwrap_or(metal.family);
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
pub fn weaker(filler: &Class, both: [&BaseMetal; 2]) -> Option<String> {
    let deposit = filler.tensile_min_mpa?;
    let metal = both.into_iter().min_by(|a, b| {
        let strength = |metal: &BaseMetal| metal.tensile_min_mpa.unwrap_or(f64::INFINITY);
        strength(a).total_cmp(&strength(b))
    })?;
    let strength = metal.tensile_min_mpa?;
    let rounding = filler_classes::STRENGTH_ROUNDING.value.high / 100.0;
    (deposit < strength * (1.0 - rounding)).then(|| {
        format!("its weld metal has at least {deposit} MPa, and {} at least {strength} MPa", metal.specification)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base_metals;

    fn of(filler: &str, first: &str, second: &str) -> Suitability {
        let metal = |name| base_metals::find(name).unwrap_or_else(|| panic!("{name}"));
        suits(filler_classes::find(filler).unwrap_or_else(|| panic!("{filler}")), metal(first), metal(second))
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
            assert_eq!(of(filler, first, second), Suited, "{filler} {first} {second}");
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
                matches!(of(filler, first, second), Usable(_)),
                "{filler} {first} {second}: {:?}",
                of(filler, first, second)
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
                matches!(of(filler, first, second), Unsuited(_)),
                "{filler} {first} {second}: {:?}",
                of(filler, first, second)
            );
        }
    }

    #[test]
    fn order_of_the_metals_does_not_matter() {
        let metals: Vec<_> = base_metals::rows().iter().step_by(20).collect();
        for filler in filler_classes::rows() {
            for first in &metals {
                for second in &metals {
                    let kind = |suitability| match suitability {
                        Suitability::Suited => 0,
                        Suitability::Usable(_) => 1,
                        Suitability::Unsuited(_) => 2,
                    };
                    assert_eq!(
                        kind(suits(filler, first, second)),
                        kind(suits(filler, second, first)),
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
