//! What a welding procedure specification states under ISO 15609-1, clause by clause.

use crate::processes;
use crate::table::{Origin, table};

table!("iso-15609-1-contents", Row);

/// One item of a specification.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Clause of ISO 15609-1:2019, such as `4.4.8`.
    pub clause: &'static str,
    /// What is to be stated.
    pub item: &'static str,
    /// What must hold for it to be asked for.
    #[cfg_attr(false, optional)]
    pub when: When,
    /// Whether each key is asked for, or any of them.
    #[cfg_attr(false, optional)]
    pub asks: Asks,
    /// ISO 4063 numbers that it is for; all where empty.
    #[cfg_attr(false, optional)]
    pub processes: &'static [&'static str],
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// How many of an item's keys are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Asks {
    /// Any of them states the item.
    #[default]
    Any,
    /// Each of them is asked for.
    All,
}

/// What must hold for an item to be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum When {
    /// Nothing: it is asked for always.
    #[default]
    Always,
    /// The parties specify it: its absence is no gap.
    Specified,
    /// The procedure rests on a procedure test.
    Tested,
    /// Pipe or tube.
    Pipe,
    /// Prepared edges.
    Groove,
    /// Edges that are not square.
    Bevelled,
    /// Edges with a radius.
    Rounded,
    /// A fillet.
    Fillet,
    /// Partial penetration.
    Partial,
    /// Welded from both sides.
    BothSides,
    /// A backing other than none.
    Backed,
    /// A backing gas other than none.
    GasBacked,
    /// A vertical position.
    Vertical,
    /// More than one run.
    SeveralRuns,
    /// Torch or electrode moved by hand.
    Manual,
    /// Torch moved by machine.
    Mechanized,
    /// Torch moved by machine, and a wire that is fed.
    MechanizedWire,
    /// An oscillated torch.
    Oscillated,
    /// A filler other than none.
    Filler,
    /// A filler that is to be kept dry.
    LowHydrogen,
    /// More than one wire.
    SeveralWires,
    /// Pulsed current.
    Pulsed,
    /// A heat treatment other than none.
    HeatTreated,
}

impl When {
    /// The condition in a few words.
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Always => "always",
            Self::Specified => "where specified",
            Self::Tested => "with a procedure test",
            Self::Pipe => "pipe and tube",
            Self::Groove => "grooves",
            Self::Bevelled => "grooves that are not square",
            Self::Rounded => "U and J grooves",
            Self::Fillet => "fillets",
            Self::Partial => "partial penetration",
            Self::BothSides => "welded from both sides",
            Self::Backed => "with backing",
            Self::GasBacked => "with backing gas",
            Self::Vertical => "vertical positions",
            Self::SeveralRuns => "more than one run",
            Self::Manual => "manual and partly mechanized",
            Self::Mechanized => "mechanized",
            Self::MechanizedWire => "mechanized, with wire feed",
            Self::Oscillated => "oscillated torch",
            Self::Filler => "with filler",
            Self::LowHydrogen => "low-hydrogen electrodes",
            Self::SeveralWires => "more than one wire",
            Self::Pulsed => "pulsed",
            Self::HeatTreated => "with heat treatment",
        }
    }
}

impl Row {
    /// Whether a process (ISO 4063 number) has to state it.
    pub fn is_for(&self, number: &str) -> bool {
        self.processes.is_empty() || self.processes.contains(&number)
    }
}

/// The items that a process (number or letters) has to state.
pub fn items_for(process: &str) -> Vec<&'static Row> {
    let number = processes::get(process).map_or(process, |row| row.number);
    rows().iter().filter(|row| row.is_for(number)).collect()
}

/// A clause number as numbers, so that 4.4.10 comes after 4.4.9.
pub fn clause_order(clause: &str) -> Vec<u32> {
    clause.split('.').map(|part| part.parse().unwrap_or(0)).collect()
}

/// Clauses in few words, neighbours drawn together: `4.3.1, 4.4.1 to 4.4.8`.
pub fn clauses_in_words<'c>(clauses: impl IntoIterator<Item = &'c str>) -> String {
    let mut ordered: Vec<Vec<u32>> = clauses.into_iter().map(clause_order).collect();
    ordered.sort();
    ordered.dedup();
    let follows = |a: &[u32], b: &[u32]| {
        a.split_last().zip(b.split_last()).is_some_and(|((x, left), (y, right))| left == right && *y == x + 1)
    };
    let text = |clause: &[u32]| clause.iter().map(u32::to_string).collect::<Vec<_>>().join(".");
    let stretches = ordered.chunk_by(|a, b| follows(a, b)).filter_map(|stretch| {
        let (first, last) = (stretch.first()?, stretch.last()?);
        Some(match stretch.len() {
            1 => text(first),
            2 => format!("{}, {}", text(first), text(last)),
            _ => format!("{} to {}", text(first), text(last)),
        })
    });
    stretches.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tungsten_is_asked_of_tungsten_processes_only() {
        let asks = |process| items_for(process).iter().any(|row| row.item.contains("tungsten"));
        assert!(asks("GTAW") && !asks("SMAW"));
        assert!(rows().iter().flat_map(|row| row.processes).all(|number| processes::get(number).is_some()));
    }

    // The headings of ISO 15609-1:2019, clause 4, as its list of contents gives them.
    #[test]
    fn every_clause_has_an_item_and_the_items_stand_in_order() {
        let clauses: Vec<&str> = rows().iter().map(|row| row.clause).collect();
        assert!(clauses.is_sorted_by_key(|clause| clause_order(clause)));
        let common = (1..=17).map(|n| format!("4.4.{n}"));
        let special = (1..=5).map(|n| format!("4.5.{n}"));
        for clause in ["4.2", "4.3.1", "4.3.2"].map(str::to_owned).into_iter().chain(common).chain(special) {
            assert!(clauses.contains(&clause.as_str()), "{clause}");
        }
    }

    #[test]
    fn neighbouring_clauses_are_drawn_together() {
        assert_eq!(clauses_in_words(["4.4.10", "4.4.9", "4.4.8", "4.3.1"]), "4.3.1, 4.4.8 to 4.4.10");
        assert_eq!(clauses_in_words(["4.2", "4.2"]), "4.2");
        assert_eq!(clauses_in_words([]), "");
    }
}
