//! Weld metal that a wire or an electrode gives in a minute.

use seamwright_handbook::{Band, covered_electrodes, densities, deposition, planning};

use crate::begin::Line;
use crate::facts::Facts;
use crate::figures::rule;

/// Weld metal in mm³/min of a line of settings: of the wire that it feeds, or of the electrode that its current melts; nothing
/// of a rod that a hand feeds.
pub(crate) fn laid_mm3_min(facts: &Facts, line: &Line, class: &str) -> Option<Band> {
    if facts.process.uses_tungsten {
        return None;
    }
    if !facts.process.uses_wire_feed || facts.process.uses_flux {
        return melted_mm3_min(facts, line.current()?, class);
    }
    let metre = metal_mm3_m(facts, line.row.wire()?.middle());
    let feed = line.feed()?;
    Some(feed.scaled(metre))
}

/// Weld metal in mm³/min that a current in amperes melts off a covered electrode.
pub(crate) fn melted_mm3_min(facts: &Facts, current_a: Band, class: &str) -> Option<Band> {
    let metal = densities::metal(facts.metal.family)?;
    let powder = covered_electrodes::get(class).and_then(|row| row.iron_powder_pct);
    let high = powder.is_some_and(|share| share.low >= rule(planning::IRON_POWDER_MUCH).0.low);
    let (per_ampere, _) = rule(if facts.process.uses_flux {
        planning::ELECTRODE_MELTING_SUBMERGED
    } else if high {
        planning::ELECTRODE_MELTING_IRON_POWDER
    } else {
        planning::ELECTRODE_MELTING
    });
    let volume = |ampere: f64| ampere * per_ampere.high / 60.0 / metal.density_kg_m3.middle() * 1e6;
    Some(Band::new(volume(current_a.low), volume(current_a.high)))
}

/// Weld metal of a metre of wire of a diameter in millimetres, mm³.
pub(crate) fn metal_mm3_m(facts: &Facts, diameter_mm: f64) -> f64 {
    let rows = deposition::efficiency(facts.process.number);
    let general = rows.iter().find(|row| row.gas.is_none() && row.electrode_length_mm.is_none());
    let efficiency = general.or(rows.first()).map_or(1.0, |row| row.efficiency_pct.middle() / 100.0);
    let section_mm2 = std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm;
    1000.0 * section_mm2 * efficiency
}
