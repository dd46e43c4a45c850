//! Which fillers are usual for a pair of metals, by process.
//!
//! A side of a row names a kind of alloy or a family; the row that names both metals most closely counts. To add a pair,
//! add a row.

use crate::base_metals::BaseMetal;
use crate::filler_classes;
use crate::processes;
use crate::table::{Origin, table};

table!("filler-choice", Row);
table!(ORDER, orders, "alloy-order", OrderRow);

/// Alloys from lean to rich.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderRow {
    /// What they are chosen for.
    pub order: &'static str,
    /// Alloys or families, the leanest first.
    pub alloys: &'static [&'static str],
    /// What leaner weld metal does in service.
    pub harm: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

impl OrderRow {
    /// How many alloys lie from a lean one to a richer one; 0 where one of them is not in the order.
    pub fn steps(&self, lean: &str, rich: &str) -> usize {
        let place = |name: &str| self.alloys.iter().position(|own| *own == name);
        place(rich).zip(place(lean)).map_or(0, |(rich, lean)| rich.saturating_sub(lean))
    }
}

/// The order in which a class of filler is leaner than the leaner of two metals, the alloy that it is for, and that of the
/// metal.
pub fn leaner(
    class: &filler_classes::Row,
    first: &BaseMetal,
    second: &BaseMetal,
) -> Option<(&'static OrderRow, &'static str, &'static str)> {
    orders().iter().find_map(|order| {
        let place = |kind: &str| order.alloys.iter().position(|own| *own == kind);
        let metal = |metal: &BaseMetal| metal.kinds().into_iter().find_map(place);
        // Nothing is leaner than the leanest.
        let needed = Some(metal(first)?.min(metal(second)?)).filter(|needed| *needed > 0)?;
        let own = rows().iter().filter(|row| row.first == row.second && row.lists(class.classification));
        let has = own.filter_map(|row| place(row.first)).max()?;
        (has < needed).then(|| Some((order, *order.alloys.get(has)?, *order.alloys.get(needed)?)))?
    })
}

/// The fillers of one pair.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Alloy or family of the one metal.
    pub first: &'static str,
    /// Alloy or family of the other metal.
    pub second: &'static str,
    #[cfg_attr(false, optional)]
    fillers_111: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_114: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_121: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_131: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_135: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_136: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_138: &'static [&'static str],
    #[cfg_attr(false, optional)]
    fillers_141: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// Classes by ISO 4063 number, the usual first; empty for a process without filler.
    pub fn by_process(&self) -> [(&'static str, &[&str]); 8] {
        [
            ("111", self.fillers_111),
            ("114", self.fillers_114),
            ("121", self.fillers_121),
            ("131", self.fillers_131),
            ("135", self.fillers_135),
            ("136", self.fillers_136),
            ("138", self.fillers_138),
            ("141", self.fillers_141),
        ]
    }

    /// Classes for a process, the usual first; empty where there is none. 15 and 143 take what 141 takes.
    pub fn classes(&self, process: &str) -> &[&str] {
        let filled = processes::get(process).filter(|row| row.filler != processes::Filler::None);
        let column = filled.map_or(process, |row| row.suiting());
        self.by_process().into_iter().find(|(number, _)| *number == column).map_or(&[], |(_, classes)| classes)
    }

    /// Whether a class stands in the row for any process.
    pub fn lists(&self, class: &str) -> bool {
        self.by_process().iter().any(|(_, classes)| classes.contains(&class))
    }

    /// How far the row is from naming two metals, given by their kinds from the closest to the widest: the steps from
    /// each to what the row names, or nothing.
    fn distance(&self, first: &[&str], second: &[&str]) -> Option<usize> {
        let steps = |kinds: &[&str], kind: &str| kinds.iter().position(|own| *own == kind);
        let pair = |a: &[&str], b: &[&str]| Some(steps(a, self.first)? + steps(b, self.second)?);
        [pair(first, second), pair(second, first)].into_iter().flatten().min()
    }
}

/// The row that names two metals most closely.
pub fn best(first: &BaseMetal, second: &BaseMetal) -> Option<&'static Row> {
    ranked(first, second).into_iter().next()
}

/// The fillers for two metals and a process (ISO 4063 number), the usual first, and the row that says so.
///
/// Where the closest row has none for the process, the next one speaks. Nothing where no row has a filler.
pub fn choose(
    first: &BaseMetal,
    second: &BaseMetal,
    process: &str,
) -> Option<(&'static Row, Vec<&'static filler_classes::Row>)> {
    ranked(first, second).into_iter().find_map(|row| {
        let classes: Vec<_> = row.classes(process).iter().filter_map(|class| filler_classes::find(class)).collect();
        (!classes.is_empty()).then_some((row, classes))
    })
}

/// All rows that name two metals, the closest first.
fn ranked(first: &BaseMetal, second: &BaseMetal) -> Vec<&'static Row> {
    let (first, second) = (first.kinds(), second.kinds());
    let mut near: Vec<(usize, &Row)> =
        rows().iter().filter_map(|row| Some((row.distance(&first, &second)?, row))).collect();
    near.sort_by_key(|(distance, _)| *distance);
    near.into_iter().map(|(_, row)| row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::filler_suitability::{self, Suitability};
    use crate::process_suitability::{self, Suits};
    use crate::{base_metals, metal_families};

    fn usual(first: &str, second: &str, process: &str) -> Option<&'static str> {
        let metal = |name: &str| base_metals::find(name).unwrap_or_else(|| panic!("{name}"));
        let (_, classes) = choose(metal(first), metal(second), process)?;
        classes.first().map(|row| row.classification)
    }

    #[test]
    fn a_leaner_filler_is_told_from_a_richer_one() {
        let metal = |name: &str| base_metals::find(name).unwrap_or_else(|| panic!("{name}"));
        let lean = |class: &str, one: &str, other: &str| {
            let class = filler_classes::find(class).unwrap_or_else(|| panic!("{class}"));
            leaner(class, metal(one), metal(other)).map(|(order, _, _)| order.order)
        };
        assert_eq!(lean("ER90S-B3", "A335-P91", "A335-P91"), Some("heat"));
        assert_eq!(lean("E7018", "A335-P22", "A335-P22"), Some("heat"));
        assert_eq!(lean("ER308L", "316L", "316L"), Some("corrosion"));
        assert_eq!(lean("ER2209", "S32750", "S32750"), Some("duplex"));
        // Richer weld metal, and that of the leaner part of two, are in use.
        assert_eq!(lean("ER316L", "304L", "304L"), None);
        assert_eq!(lean("E7018", "A335-P22", "A36"), None);
        assert_eq!(lean("ER90S-B9", "A335-P91", "A335-P91"), None);
    }

    // AWS A5.10 and A5.9, annexes on the choice of filler, and welding handbooks (from memory).
    #[test]
    fn common_pairs_have_their_usual_filler() {
        for (first, second, process, class) in [
            ("S355J2", "S355J2", "135", "ER70S-6"),
            ("S235JR", "A36", "111", "E7018"),
            ("S355J2", "S355J2", "114", "E71T-8"),
            ("304L", "304L", "141", "ER308L"),
            ("304L", "304L", "135", "ER308LSi"),
            ("316L", "1.4404", "141", "ER316L"),
            ("304L", "316L", "141", "ER316L"),
            ("321", "321", "111", "E347-16"),
            ("S355J2", "304L", "141", "ER309L"),
            ("304L", "S355J2", "111", "E309L-16"),
            ("1.4462", "S355J2", "141", "ER2209"),
            ("A335-P11", "A335-P11", "141", "ER80S-B2"),
            ("A335-P22", "A335-P11", "111", "E8018-B2"),
            ("A335-P91", "A335-P91", "111", "E9015-B9"),
            ("6061-T6", "6061-T6", "141", "ER4043"),
            ("5083-O", "5083-O", "131", "ER5183"),
            ("6082-T6", "5083-O", "131", "ER5356"),
            ("5454-O", "5454-O", "131", "ER5554"),
            ("Cu-DHP", "Cu-DHP", "141", "ERCu"),
            ("Grade 2", "Grade 2", "141", "ERTi-2"),
            ("alloy 625", "alloy 625", "141", "ERNiCrMo-3"),
            ("alloy 600", "304L", "111", "ENiCrFe-3"),
            ("EN-GJL-250", "EN-GJL-250", "111", "ENi-CI"),
        ] {
            assert_eq!(usual(first, second, process), Some(class), "{first} {second} {process}");
        }
        assert_eq!(usual("6061-T6", "S355J2", "141"), None);
        assert_eq!(usual("304L", "304L", "142"), None);
        // Of 304L and 316L the leaner one serves as well, after the usual one.
        let row = rows().iter().find(|row| row.first == "18-8" && row.second == "18-12-mo").unwrap();
        assert_eq!(row.fillers_141, ["ER316L", "ER308L"]);
    }

    #[test]
    fn every_class_exists_and_serves_its_process() {
        for row in rows() {
            for (process, classes) in row.by_process() {
                for class in classes {
                    let found = filler_classes::find(class).unwrap_or_else(|| panic!("{class}"));
                    assert_eq!(&found.classification, class);
                    assert!(found.serves(process), "{class} {process}");
                }
            }
            for kind in [&row.first, &row.second] {
                let alloy = base_metals::all().any(|metal| metal.alloy == Some(kind));
                assert!(alloy || metal_families::get(kind).is_some(), "{kind}");
            }
        }
    }

    #[test]
    fn every_metal_has_a_filler_for_every_process_that_suits_it() {
        for metal in base_metals::rows() {
            for process in ["111", "114", "131", "135", "136", "141"] {
                let suits = process_suitability::get(metal, process)
                    .unwrap_or_else(|| panic!("{} {process}", metal.specification));
                let choice = choose(metal, metal, process);
                if suits.suits == Suits::Unsuited {
                    continue;
                }
                let (_, classes) = choice.unwrap_or_else(|| panic!("{} {process}", metal.specification));
                // The usual filler is not one that the same tables refuse.
                assert!(
                    !matches!(filler_suitability::suits(classes[0], metal, metal), Suitability::Unsuited(_)),
                    "{} {}",
                    metal.specification,
                    classes[0].classification
                );
            }
        }
    }
}
