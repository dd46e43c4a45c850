//! Holding the gas flow of a tungsten arc against its nozzle: the piece that the checks of both ends share.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, Limits, nozzle_gas_flow};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Flow, Range};
use seamwright_weld::RunView;
use seamwright_weld::view::Located;

use crate::rule::{Examiner, range_limit, range_text};
use crate::rules::bounds::{self, Side};

/// The gas flow of a run and the limits of its nozzle, L/min; a gas with helium needs more.
fn limits<'d>(run: &RunView<'d>, side: Side) -> Option<(Located<'d, Range<Flow>>, Limits)> {
    if !run.process?.uses_tungsten {
        return None;
    }
    let flow = run.value(&keys::SHIELDING_GAS_FLOW)?;
    // Without a nozzle the electrode tells which ones it is used with.
    let mut limits = match run.nozzle() {
        Some((_, number, _)) => nozzle_gas_flow::range(number?, run.gas_lens())?,
        // How much is too much hangs on the nozzle alone.
        None if side == Side::High => return None,
        None => {
            let diameter = run.value(&keys::TUNGSTEN_DIAMETER)?;
            nozzle_gas_flow::range_for_electrode(diameter.value.middle()?.mm())?
        }
    };
    let helium = run
        .gas()
        .and_then(|gas| gas.value.composition.as_ref().map(|parts| parts.percent("He") / 100.0))
        .or_else(|| run.gas_row().and_then(|row| row.he_pct).map(|range| range.middle() / 100.0))
        .unwrap_or(0.0);
    if helium > 0.0 {
        let rule = nozzle_gas_flow::HELIUM_OVER_ARGON;
        let times = Band::new(1.0 + helium * (rule.value.low - 1.0), 1.0 + helium * (rule.value.high - 1.0));
        for range in std::iter::once(&mut limits.envelope).chain(&mut limits.usual) {
            *range = Band::new(range.low * times.low, range.high * times.high);
        }
    }
    Some((flow, limits))
}

/// Holds one end of the gas flow of every run against its nozzle: past every source an error, past the usual a note.
pub(super) fn hold(x: &mut Examiner<'_>, side: Side) {
    for run in &x.view.runs {
        let Some((flow, limits)) = limits(run, side) else { continue };
        let (envelope, usual) = (limits.envelope, limits.usual.unwrap_or(limits.envelope));
        let own = side.of(band(flow.value, Flow::l_per_min));
        let word = if side == Side::Low { "low" } else { "high" };
        let stated = flow.value.spelled();
        let outer = x.compare(&flow.pointer, stated, own, envelope, "L/min", &limits.source);
        let (severity, limit) = if outer.either() {
            (Severity::Error, range_limit(envelope, "L/min"))
        } else if bounds::typical(own, usual).is_some() {
            (Severity::Note, range_limit(usual, "L/min"))
        } else {
            continue;
        };
        let report = x
            .report(severity, &flow.pointer, format!("gas flow {stated} is too {word} for the nozzle ({limit})"))
            .stated(stated);
        // Too little gas shields nothing, whoever says so.
        let report = match side {
            Side::Low => report.limit_of_physics(limit, &limits.source),
            Side::High => report.limit(limit, &limits.source),
        };
        report.hint(format!("write a flow within {}, or change the nozzle", range_text(usual, "L/min")));
    }
}
