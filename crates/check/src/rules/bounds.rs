//! Holding a stated range against a usual and a widest one: the piece that checks of settings share.

use seamwright_handbook::measure::band;
use seamwright_handbook::settings_by_thickness as printed;
use seamwright_handbook::{Band, Limits, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Key;
use seamwright_model::quantity::{Quantity, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::RunView;

use crate::rule::{Examiner, range_limit};

/// Which end of a range a check looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Low,
    High,
}

impl Side {
    /// That end alone, the other one open.
    pub fn of(self, range: Band) -> Band {
        match self {
            Self::Low => Band::at_least(range.low),
            Self::High => Band::at_most(range.high),
        }
    }
}

/// What a value is called, and how grave it is to leave each range.
pub(super) struct Grade<'g> {
    /// The value in words.
    pub what: &'g str,
    /// Severity outside the usual range.
    pub usual: Severity,
    /// Severity outside the widest range.
    pub widest: Severity,
    /// What to write.
    pub hint: &'g str,
}

/// A value, its place and its range in the unit of its limit.
pub(super) struct Value<'v> {
    pub pointer: String,
    pub stated: &'v str,
    pub band: Band,
}

impl<'v> Value<'v> {
    /// A value that is reckoned from what is stated.
    pub fn new(pointer: impl Into<String>, stated: &'v str, band: Band) -> Self {
        Self { pointer: pointer.into(), stated, band }
    }

    /// A stated range.
    pub fn of<Q: Quantity>(pointer: impl Into<String>, stated: &'v Range<Q>, figure: impl Fn(Q) -> f64) -> Self {
        Self::new(pointer, stated.spelled(), band(stated, figure))
    }
}

/// Holds a value against its limits and reports it where it lies outside.
pub(super) fn hold(x: &mut Examiner<'_>, value: Value<'_>, limits: &Limits, unit: &str, grade: &Grade<'_>) {
    let usual = limits.usual.unwrap_or(limits.envelope);
    let outer = x.compare(&value.pointer, value.stated, value.band, limits.envelope, unit, &limits.source);
    let unusual = value.band.outside(usual);
    let (severity, limit, word) = if outer.either() {
        (grade.widest, limits.envelope, "widest")
    } else if unusual.either() && typical(value.band, usual).is_some() {
        (grade.usual, usual, "usual")
    } else {
        return;
    };
    let limit = range_limit(limit, unit);
    x.report(
        severity,
        value.pointer,
        format!("{} {} lies outside the {word} range ({limit})", grade.what, value.stated),
    )
    .stated(value.stated)
    .limit(limit, &limits.source)
    .hint(grade.hint);
}

/// The limits of a quantity for a process, and their unit.
pub(crate) fn limits(quantity: &str, process: &str) -> Option<(Limits, &'static str)> {
    setting_limits::get(quantity, process).map(|row| (row.limits(), row.unit))
}

/// Limits without a lower end.
pub(super) fn at_most(limits: &Limits) -> Limits {
    let open = |range: Band| Band::at_most(range.high);
    Limits { envelope: open(limits.envelope), usual: limits.usual.map(open), ..limits.clone() }
}

/// Holds a setting of every run against the row of its process.
pub(super) fn settings<Q: Quantity>(
    x: &mut Examiner<'_>,
    quantity: &str,
    key: &Key<Stated<Range<Q>>>,
    figure: impl Fn(Q) -> f64,
    grade: &Grade<'_>,
) {
    settings_where(x, quantity, |_| true, key, figure, grade);
}

/// Holds a setting of the runs that are wanted against the row of their process.
pub(super) fn settings_where<Q: Quantity>(
    x: &mut Examiner<'_>,
    quantity: &str,
    wanted: impl Fn(&RunView<'_>) -> bool,
    key: &Key<Stated<Range<Q>>>,
    figure: impl Fn(Q) -> f64,
    grade: &Grade<'_>,
) {
    let view = x.view;
    for run in view.runs.iter().filter(|run| wanted(run)) {
        let Some(at) = run.value(key) else { continue };
        let Some((limits, unit)) = limits(quantity, run.number()) else { continue };
        hold(x, Value::of(at.pointer, at.value, &figure), &limits, unit, grade);
    }
}

/// How grave it is that a value leaves a typical range, which is no law: by rounding nothing, by little a note, by more a
/// caution, and far outside an error.
pub(super) fn typical(own: Band, range: Band) -> Option<Severity> {
    let rules = [printed::TYPICAL_SILENT, printed::TYPICAL_NOTE, printed::TYPICAL_FARTHEST];
    let [silent, note, farthest] = rules.map(|rule| rule.value.high);
    match own.times_beyond(range) {
        far if far <= silent => None,
        far if far <= note => Some(Severity::Note),
        far if far <= farthest => Some(Severity::Caution),
        _ => Some(Severity::Error),
    }
}
