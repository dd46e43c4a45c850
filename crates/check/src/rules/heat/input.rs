//! What the checks of metals share.

use seamwright_handbook::measure::figure;
use seamwright_handbook::metal_heat;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::heat;

use crate::rule::{Examiner, range_limit, range_text};
use crate::rules::bounds::{self, Side};

/// Holds one end of the heat input of every run against its metals: past every source an error, past the usual a caution.
pub(super) fn heat_input(x: &mut Examiner<'_>, side: Side) {
    for run in &x.view.runs {
        let Some(heat) = heat::of(run) else { continue };
        let Some(speed) = run.value(&keys::TRAVEL_SPEED) else { continue };
        for metal in &x.view.metals {
            let thickness = metal.thickness_mm().or_else(|| x.view.thickness_mm());
            let limits = metal.known.zip(thickness).and_then(|(known, mm)| metal_heat::heat_input(known, mm));
            let Some(limits) = limits else { continue };
            let usual = limits.usual.unwrap_or(limits.envelope);
            let range = heat.heat_input;
            let (value, word) = match side {
                Side::Low => (range.low, "low"),
                Side::High => (range.high, "high"),
            };
            let own = side.of(range);
            let stated = range_text(range, "kJ/mm");
            let outer = x.compare(&speed.pointer, &stated, own, limits.envelope, "kJ/mm", &limits.source);
            let (severity, limit) = if outer.either() {
                (Severity::Error, limits.envelope)
            } else if let Some(severity) = bounds::typical(own, usual) {
                (severity.min(Severity::Caution), usual)
            } else {
                continue;
            };
            let limit = range_limit(limit, "kJ/mm");
            x.report(
                severity,
                &speed.pointer,
                format!(
                    "heat input {} kJ/mm (k {}) is too {word} for {} ({limit})",
                    figure(value),
                    figure(heat.k),
                    metal.stated.specification
                ),
            )
            .stated(speed.value.spelled())
            .limit(limit, &limits.source)
            .hint("change travel speed, current or voltage");
            break;
        }
    }
}
