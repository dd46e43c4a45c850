//! Heat input of each run from its stated ranges, by ISO/TR 17671-1 and by QW-409.1.

use seamwright_calc::heat_input;
use seamwright_handbook::{Range, thermal_efficiency};

use crate::view::RunView;

/// Arc energy and heat input of a run, kJ/mm, lowest to highest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunHeat {
    /// Arc energy, which QW-409.1(a) calls heat input: no thermal efficiency.
    pub arc_energy: Range,
    /// Heat input of ISO/TR 17671-1, with the thermal efficiency k of the process.
    pub heat_input: Range,
    /// Thermal efficiency k.
    pub k: f64,
}

/// The heat of a run, where voltage, current, travel speed and process are stated with both ends.
pub fn of(run: &RunView<'_>) -> Option<RunHeat> {
    let k = thermal_efficiency::get(run.number())?.k;
    let voltage = run.quantity("voltage", |s| s.voltage.as_ref())?.value;
    let current = run.quantity("current", |s| s.current.as_ref())?.value;
    let speed = run.quantity("travel_speed", |s| s.travel_speed.as_ref())?.value;
    let low = heat_input::arc_energy_kj_mm(voltage.low()?.volts(), current.low()?.amperes(), speed.high()?.mm_per_s())
        .ok()?;
    let high =
        heat_input::arc_energy_kj_mm(voltage.high()?.volts(), current.high()?.amperes(), speed.low()?.mm_per_s())
            .ok()?;
    Some(RunHeat { arc_energy: Range::new(low, high), heat_input: Range::new(k * low, k * high), k })
}
