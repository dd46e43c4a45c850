//! Heat input of each run from its stated ranges, by ISO/TR 17671-1 and by QW-409.1; the plate that it cools in.

use seamwright_calc::cooling_time::{Plate, ShapeFactors};
use seamwright_calc::heat_input;
use seamwright_handbook::metal_heat::ROOM_TEMPERATURE;
use seamwright_handbook::preheat_methods::{self, ShapeFactorRow};
use seamwright_handbook::{Band, thermal_efficiency};

pub use crate::follows::RunHeat;
use crate::view::RunView;
use seamwright_model::procedure::{Procedure, keys};
use seamwright_model::quantity::{Range, Temperature};

/// The heat of a run, where voltage, current, travel speed and process are stated with both ends.
pub fn of(run: &RunView<'_>) -> Option<RunHeat> {
    *run.follows.heat.get_or_init(|| worked_out(run))
}

fn worked_out(run: &RunView<'_>) -> Option<RunHeat> {
    let k = thermal_efficiency::get(run.number())?.k;
    let voltage = run.value(&keys::VOLTAGE)?.value;
    let current = run.value(&keys::CURRENT)?.value;
    let speed = run.value(&keys::TRAVEL_SPEED)?.value;
    let low = heat_input::arc_energy_kj_mm(voltage.low()?.volts(), current.low()?.amperes(), speed.high()?.mm_per_s())
        .ok()?;
    let high =
        heat_input::arc_energy_kj_mm(voltage.high()?.volts(), current.high()?.amperes(), speed.low()?.mm_per_s())
            .ok()?;
    Some(RunHeat { arc_energy: Band::new(low, high), heat_input: Band::new(k * low, k * high), k })
}

/// The temperatures between which runs are welded, °C: from the stated preheating to the stated interpass temperature.
pub fn welding_temperature(procedure: &Procedure) -> Band {
    let low = procedure.preheating().and_then(Range::low).map_or(ROOM_TEMPERATURE.value.low, Temperature::celsius);
    let high = procedure.interpass().and_then(Range::high).map_or(low, Temperature::celsius);
    Band::new(low, high.max(low))
}

/// A weld as EN 1011-2 lets it cool.
#[derive(Debug, Clone, Copy)]
pub struct Cooling {
    thickness_mm: f64,
    shape: &'static ShapeFactorRow,
}

impl Cooling {
    /// A groove or fillet weld of a tee or another joint, by thickness in mm; the table `shape-factors` has its factors.
    pub fn of(grooved: bool, tee: bool, thickness_mm: f64) -> Option<Self> {
        let shape = preheat_methods::shape(match (grooved, tee) {
            (true, _) => "run inside a butt weld",
            (false, true) => "single-run fillet, tee joint",
            (false, false) => "single-run fillet, corner joint",
        })?;
        Some(Self { thickness_mm, shape })
    }

    /// The shortest and the longest cooling time, s, of a heat input between temperatures in °C: least heat on the coldest metal,
    /// most heat on the hottest.
    pub fn time_s(&self, heat_input: Band, celsius: Band) -> Option<Band> {
        let low = self.shortest(celsius.low).cooling_time(heat_input.low).ok()?.time_s;
        let high = self.longest(celsius.high).cooling_time(heat_input.high).ok()?.time_s;
        Some(Band::new(low.min(high), high))
    }

    /// The plate, at a temperature in °C, that gives the shortest cooling time.
    ///
    /// Where the table gives a range for a shape, its larger end: the weld is taken to cool no faster than it may.
    pub fn shortest(&self, celsius: f64) -> Plate {
        self.plate(celsius, |range| range.high)
    }

    /// The plate, at a temperature in °C, that gives the longest cooling time; of a range of factors the smaller end.
    pub fn longest(&self, celsius: f64) -> Plate {
        self.plate(celsius, |range| range.low)
    }

    fn plate(&self, preheat_c: f64, end: impl Fn(Band) -> f64) -> Plate {
        let f3 = self.shape.f3.unwrap_or(self.shape.f2);
        let shape = ShapeFactors { f2: end(self.shape.f2), f3: end(f3) };
        Plate { thickness_mm: self.thickness_mm, preheat_c, shape }
    }
}
