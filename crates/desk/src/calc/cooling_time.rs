//! Cooling time from 800 to 500 °C, or the heat input that keeps it.

use anyhow::{Result, bail};
use seamwright_calc::cooling_time::{self as formulas, HeatFlow, Plate, ShapeFactors};
use seamwright_handbook::preheat_methods;
use seamwright_model::quantity::{Duration, HeatInput, Length, Range, Temperature};

use super::Answer;
use crate::input::{ends, one};
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Heat input, with the thermal efficiency k.
    pub heat_input: Option<Range<HeatInput>>,
    /// Cooling time to keep: the answer is then the window of heat input.
    pub cooling_time: Option<Range<Duration>>,
    /// Thickness of the plate.
    pub thickness: Range<Length>,
    /// Preheating or interpass temperature.
    pub preheat: Range<Temperature>,
    /// Kind of weld, by its name in the table shape-factors.
    pub shape: Option<String>,
    /// Shape factor for two-dimensional heat flow; 1 if left out.
    pub f2: Option<f64>,
    /// Shape factor for three-dimensional heat flow; 1 if left out.
    pub f3: Option<f64>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let mut answer = Answer::new("cooling-time", "EN 1011-2 annex D");
    let shape = if let Some(name) = &given.shape {
        let Some(row) = preheat_methods::shape(name) else {
            let all: Vec<String> =
                preheat_methods::shape_factors().iter().map(|row| format!("`{}`", row.weld)).collect();
            bail!("`{name}` is no kind of weld of the table shape-factors; it has {}", all.join(", "));
        };
        let source = row.origin.source_ref();
        let (f2, f3) = (row.f2.middle(), row.f3.map_or(1.0, |f3| f3.middle()));
        answer = answer.looked_up("shape factor F2", f2, source.clone()).looked_up("shape factor F3", f3, source);
        if row.f3.is_none() {
            answer = answer.note("the table has no F3 for this weld: 1 is put in");
        }
        if !row.f2.is_single() || row.f3.is_some_and(|f3| !f3.is_single()) {
            answer = answer.note("the table gives a range for a shape factor: its middle is put in");
        }
        ShapeFactors { f2, f3 }
    } else {
        let shape = ShapeFactors { f2: given.f2.unwrap_or(1.0), f3: given.f3.unwrap_or(1.0) };
        answer = answer.given("shape factors F2, F3", format!("{}, {}", shape.f2, shape.f3));
        shape
    };
    let plate = Plate {
        thickness_mm: one("--thickness", &given.thickness, Length::mm)?,
        preheat_c: one("--preheat", &given.preheat, Temperature::celsius)?,
        shape,
    };
    answer = answer.given("thickness d", &given.thickness).given("temperature T0", &given.preheat);
    if let Some(time) = &given.cooling_time {
        let window = plate.heat_input_window_kj_mm(ends("--cooling-time", time, Duration::seconds)?)?;
        let flow = |heat: f64| plate.cooling_time(heat).map(|found| found.heat_flow.as_str());
        return Ok(answer
            .by(formulas::TWO_DIMENSIONAL)
            .by(formulas::THREE_DIMENSIONAL)
            .given("cooling time to keep", time)
            .result("heat_input_low", window.low, "kJ/mm")
            .result("heat_input_high", window.high, "kJ/mm")
            .word("heat_flow_low", flow(window.low)?)
            .word("heat_flow_high", flow(window.high)?)
            .note("the heat inputs are with the thermal efficiency k"));
    }
    let Some(heat) = &given.heat_input else { bail!("--heat-input or --cooling-time is missing") };
    let heats = ends("--heat-input", heat, HeatInput::kj_per_mm)?;
    let spread = heats.spread(|heat| plate.cooling_time(heat).map(|found| found.time_s))?;
    let found = plate.cooling_time(heats.middle())?;
    let formula = match found.heat_flow {
        HeatFlow::TwoDimensional => formulas::TWO_DIMENSIONAL,
        HeatFlow::ThreeDimensional => formulas::THREE_DIMENSIONAL,
    };
    Ok(answer
        .by(formula)
        .by(formulas::TRANSITION)
        .given("heat input Q, with k", heat)
        .worked(worked(&plate, heats.middle(), found.heat_flow, found.time_s))
        .spread("cooling_time_8_5", spread, "s")
        .result("transition_thickness", found.transition_thickness_mm, "mm")
        .word("heat_flow", found.heat_flow.as_str()))
}

fn worked(plate: &Plate, heat: f64, flow: HeatFlow, time: f64) -> String {
    let (t0, q, d) = (number(plate.preheat_c), number(heat), number(plate.thickness_mm));
    match flow {
        HeatFlow::ThreeDimensional => format!(
            "t8/5 = (6700 - 5 x {t0}) x {q} x (1/(500 - {t0}) - 1/(800 - {t0})) x {} = {} s",
            plate.shape.f3,
            number(time)
        ),
        HeatFlow::TwoDimensional => format!(
            "t8/5 = (4300 - 4.3 x {t0}) x 10^5 x {q}²/{d}² x (1/(500 - {t0})² - 1/(800 - {t0})²) x {} = {} s",
            plate.shape.f2,
            number(time)
        ),
    }
}
