//! What the checks of prequalified procedures share: AWS D1.1 Table 5.1 by process, position and weld.

use seamwright_calc::Band;
use seamwright_handbook::aws_d1_1::{self, PrequalifiedRow};
use seamwright_handbook::{Size, measure};
use seamwright_model::finding::Limit;
use seamwright_model::procedure::{CodeName, Procedure, Route, WeldType};
use seamwright_weld::{RunView, View};

use crate::rules::positions::run_positions;

/// Whether a procedure is under AWS D1.1.
pub(super) fn under_code(procedure: &Procedure) -> bool {
    procedure.qualification.as_ref().and_then(|own| own.code) == Some(CodeName::AwsD11)
}

/// Whether a procedure is called prequalified under AWS D1.1.
pub(super) fn applies(view: &View<'_>) -> bool {
    let qualification = view.procedure.qualification.as_ref();
    under_code(view.procedure) && qualification.is_some_and(|own| own.route == Route::Prequalified)
}

/// The position in which a quantity of a run has its least limit, with that limit's row.
///
/// `weld` is `fillet`, `groove` or `root`; rows that name no weld hold for all.
fn least<'d>(
    view: &View<'d>,
    run: &RunView<'d>,
    quantity: &str,
    weld: &str,
) -> Option<(&'d str, &'static str, &'static PrequalifiedRow)> {
    let positions = run_positions(view, run);
    let rows = positions.iter().flat_map(|(_, stated, row)| row.parts().into_iter().map(move |part| (*stated, part)));
    rows.filter_map(|(stated, part)| {
        let rows = aws_d1_1::limits(quantity, run.number(), part);
        let mut own = rows.into_iter().filter(|row| row.weld.is_none_or(|own| own == weld));
        // One electrode, where nothing else is said.
        let row = own.find(|row| row.electrodes.is_none_or(|own| own == "single"))?;
        row.maximum.map(|maximum| (maximum, (stated, part, row)))
    })
    .min_by(|(one, _), (other, _)| one.total_cmp(other))
    .map(|(_, found)| found)
}

/// A size above what Table 5.1 allows.
pub(super) struct Beyond<'d> {
    /// Position with the least limit, as stated.
    pub position: &'d str,
    /// Its part, as the table tells positions apart.
    pub part: &'static str,
    /// The limit in the column of the size's unit.
    pub limit: Limit,
    /// Its figure with the unit.
    pub largest: String,
    /// The limit in millimetres.
    pub largest_mm: f64,
    /// The row that prints it.
    pub row: &'static PrequalifiedRow,
}

/// Whether a size of a run lies above the least limit of its positions, for `quantity` and `weld` as in [`least`].
pub(super) fn beyond<'d>(
    view: &View<'d>,
    run: &RunView<'d>,
    (quantity, weld): (&str, &str),
    size: Size,
) -> Option<Beyond<'d>> {
    let (position, part, row) = least(view, run, quantity, weld)?;
    let (maximum, unit) = size.column(row.maximum, row.maximum_in)?;
    (!size.up_to(row.maximum, row.maximum_in)).then(|| Beyond {
        position,
        part,
        limit: measure::length_limit(Band::at_most(maximum), unit),
        largest: measure::length_text(maximum, unit),
        largest_mm: measure::converted(maximum, unit, "mm"),
        row,
    })
}

/// The weld of a run as Table 5.1 tells welds apart.
pub(super) fn weld(view: &View<'_>, run: &RunView<'_>) -> &'static str {
    if view.weld() == Some(WeldType::Fillet) {
        "fillet"
    } else if run.numbers.0 == 1 {
        "root"
    } else {
        "groove"
    }
}
