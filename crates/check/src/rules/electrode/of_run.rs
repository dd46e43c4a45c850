//! What the checks of covered electrodes share: the electrode of a run, and what its classification says.

use seamwright_handbook::{Limits, SourceRef, covered_electrodes, designation, electrode_current};
use seamwright_model::procedure::{Filler, keys};
use seamwright_model::quantity::{Current, Range};
use seamwright_weld::view::Located;
use seamwright_weld::{RunView, View};

/// The covered electrode of a run.
pub(super) struct Electrode<'d> {
    /// Name of the filler.
    pub name: &'d str,
    /// The filler as stated.
    pub filler: &'d Filler,
    /// Its row in the handbook, where its class has one.
    pub row: Option<&'static covered_electrodes::Row>,
    /// What its designation says, where it can be read.
    pub read: Option<designation::Filler>,
}

/// The covered electrode of a run; nothing for another process or an undeclared filler.
pub(super) fn electrode<'d>(view: &View<'d>, run: &RunView<'d>) -> Option<Electrode<'d>> {
    if !run.is_covered() {
        return None;
    }
    let (name, filler) = run.filler(view.procedure)?;
    let read = designation::parse(&filler.designation).ok();
    Some(Electrode { name: name.value, filler, row: covered_electrodes::get(&filler.designation), read })
}

impl Electrode<'_> {
    /// Whether the covering is of the low-hydrogen kind.
    pub fn low_hydrogen(&self) -> bool {
        self.row.is_some_and(|row| row.low_hydrogen)
            || self.read.as_ref().is_some_and(|read| read.low_hydrogen == Some(true))
    }

    /// Positions that the classification permits, in the words of designations; empty where nothing says so.
    pub fn positions(&self) -> Vec<&'static str> {
        if let Some(read) = self.read.as_ref().filter(|read| !read.positions.is_empty()) {
            return read.positions.clone();
        }
        let own = self.row.map_or(&[][..], |row| row.positions);
        own.iter().map(|word| if *word == "vertical" { "vertical-up" } else { *word }).collect()
    }

    /// Largest diameter for vertical and overhead welding, mm, and where it is written.
    pub fn largest_out_of_position(&self) -> Option<(f64, SourceRef)> {
        if let Some(row) = self.row {
            return row.largest_out_of_position_mm.map(|largest| (largest, row.origin.source_ref()));
        }
        let read = self.read.as_ref()?;
        let rule = match read.standard {
            "AWS A5.1" | "AWS A5.5" if self.low_hydrogen() => covered_electrodes::OUT_OF_POSITION_LOW_HYDROGEN,
            "AWS A5.1" | "AWS A5.5" => covered_electrodes::OUT_OF_POSITION_OTHER,
            "AWS A5.4" => covered_electrodes::OUT_OF_POSITION_STAINLESS,
            _ => return None,
        };
        Some((rule.value.high, rule.origin.source_ref()))
    }
}

/// Current, limits and class of a run with a covered electrode.
pub(crate) fn limits<'d>(view: &View<'d>, run: &RunView<'d>) -> Option<(Located<'d, Range<Current>>, Limits, &'d str)> {
    if !run.is_covered() {
        return None;
    }
    let (_, filler) = run.filler(view.procedure)?;
    let diameter = filler.diameter.as_ref()?.value()?.middle()?.mm();
    let limits = electrode_current::range(&filler.designation, diameter)?;
    Some((run.value(&keys::CURRENT)?, limits, &filler.designation))
}
