//! A value that differs between two revisions, as a code judges whether it is a change of a variable.

use std::cell::RefCell;
use std::collections::HashMap;

use seamwright_calc::band::below;
use seamwright_handbook::{Band, SourceRef, base_metals, filler_classes, positions};
use seamwright_model::procedure::CodeName;
use seamwright_model::quantity;
use seamwright_weld::View;

use super::range::Effect;
use super::summary::{ProcessSummary, Summary};

/// The two documents, with what judging them needs.
pub struct Pair<'d> {
    /// The one before.
    pub old: View<'d>,
    /// The one after.
    pub new: View<'d>,
    /// The code by which changes are judged.
    pub code: CodeName,
    /// Whether impact tests are asked for.
    pub toughness: bool,
    /// All processes by number.
    pub processes: Vec<String>,
    /// What was asked of the heat of a process, by its number and whether efficiency counts.
    pub heats: Heats,
}

/// Lowest and highest heat of processes before and after, where both are stated.
pub type Heats = RefCell<HashMap<(String, bool), Option<(Band, Band)>>>;

/// What a change of a key means under a code.
#[derive(Debug, Clone, PartialEq)]
pub struct Classified {
    /// What the change means.
    pub effect: Effect,
    /// Number of the variable in the code.
    pub reference: String,
    /// The variable, or the change that counts, in words.
    pub wording: String,
    /// Increase above which it counts, in `unit`.
    pub increase_over: Option<f64>,
    /// Decrease above which it counts, in `unit`.
    pub decrease_over: Option<f64>,
    /// Unit of the two; `%` is of the tested value.
    pub unit: Option<String>,
    /// Where it is written.
    pub source: SourceRef,
}

impl Classified {
    /// A variable whose change has no figure.
    pub(super) fn new(effect: Effect, reference: &str, wording: impl Into<String>, source: SourceRef) -> Self {
        Self {
            effect,
            reference: reference.to_owned(),
            wording: wording.into(),
            increase_over: None,
            decrease_over: None,
            unit: None,
            source,
        }
    }
}

/// A value that differs, and the variable that it may be a change of.
pub struct Changed<'c> {
    /// The documents.
    pub pair: &'c Pair<'c>,
    /// The variable.
    pub variable: &'c Classified,
    /// The key as the tables of the codes write it.
    pub key: &'c str,
    /// The process by number.
    pub process: &'c str,
    /// The value before.
    pub old: Option<&'c str>,
    /// The value after.
    pub new: Option<&'c str>,
}

impl Changed<'_> {
    /// The old and the new figures in one unit, where both are quantities.
    pub(super) fn figures(&self, unit: Option<&str>) -> Option<(Band, Band)> {
        let (old, new) = (self.old?, self.new?);
        let unit = unit.or_else(|| quantity::unit_of(new))?;
        let band = |text: &str| Some(Band::of(quantity::convert(text, unit).ok()?.ends()));
        Some((band(old)?, band(new)?))
    }

    /// A value that comes or goes counts; figures count where they leave the old range.
    pub(super) fn outside(&self) -> bool {
        self.figures(None).is_none_or(|(old, new)| beyond(old, new, 0.0, 0.0))
    }

    /// Whether a temperature falls by more than some kelvins.
    pub(super) fn lower_by_more(&self, degrees: f64) -> bool {
        self.figures(Some("°C"))
            .is_none_or(|(old, new)| beyond(Band::at_least(old.low), Band::at_least(new.low), degrees, 0.0))
    }

    /// Whether a temperature rises by more than some kelvins.
    pub(super) fn higher_by_more(&self, degrees: f64) -> bool {
        self.figures(Some("°C"))
            .is_none_or(|(old, new)| beyond(Band::at_most(old.high), Band::at_most(new.high), 0.0, degrees))
    }

    /// Whether a figure of a metal's row is not the same before and after; what is not known counts.
    pub(super) fn metal_differs<T: PartialEq>(&self, of: impl Fn(&base_metals::BaseMetal) -> Option<T>) -> bool {
        let figure = |text: Option<&str>| base_metals::find(text?).and_then(&of);
        differ(figure(self.old).as_ref(), figure(self.new).as_ref())
    }

    /// Whether a figure of a filler's row is not the same before and after; what is not known counts.
    pub(super) fn filler_differs<T: PartialEq>(&self, of: impl Fn(&filler_classes::Row) -> Option<T>) -> bool {
        let figure = |text: Option<&str>| filler_classes::find(text?).and_then(&of);
        differ(figure(self.old).as_ref(), figure(self.new).as_ref())
    }

    /// Lowest and highest arc energy or heat input of the process over its runs before and after, where both are stated.
    pub(super) fn heat(&self, with_efficiency: bool) -> Option<(Band, Band)> {
        let key = (self.process.to_owned(), with_efficiency);
        if let Some(found) = self.pair.heats.borrow().get(&key) {
            return *found;
        }
        let of = |view: &View<'_>| {
            let summary = Summary::of(view);
            let own = summary.process(self.process)?;
            let values = if with_efficiency { &own.heat_input } else { &own.arc_energy };
            ProcessSummary::hull(values)
        };
        let found = of(&self.pair.old).zip(of(&self.pair.new));
        self.pair.heats.borrow_mut().insert(key, found);
        found
    }

    /// Whether the highest arc energy of the process rises, or is not stated.
    pub(super) fn more_energy(&self) -> bool {
        self.heat(false).is_none_or(|(old, new)| beyond(Band::at_most(old.high), Band::at_most(new.high), 0.0, 0.0))
    }

    /// Whether the new list has positions that the old one has not.
    pub(super) fn positions_added(&self) -> bool {
        let codes = |text: Option<&str>| -> Vec<String> {
            let own =
                text.unwrap_or_default().split(',').map(|one| one.trim().to_owned()).filter(|one| !one.is_empty());
            own.map(|one| positions::get(&one).map_or(one, |row| row.code.to_owned())).collect()
        };
        let old = codes(self.old);
        codes(self.new).iter().any(|new| !old.contains(new))
    }
}

/// Whether two figures are not known to be the same.
fn differ<T: PartialEq>(old: Option<&T>, new: Option<&T>) -> bool {
    old.is_none() || new.is_none() || old != new
}

/// Whether the new range reaches beyond the old one by more than a slack at either end.
pub(super) fn beyond(old: Band, new: Band, by_below: f64, by_above: f64) -> bool {
    // An end that is no longer stated reaches beyond any.
    let lower = |old: f64, new: f64, by: f64| old.is_finite() && (new.is_infinite() || below(new, old - by));
    lower(old.low, new.low, by_below) || lower(-old.high, -new.high, by_above)
}
