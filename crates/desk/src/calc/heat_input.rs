//! Arc energy and heat input of a run.

use anyhow::{Result, bail};
use seamwright_calc::{Band, Spread, heat_input as formulas};
use seamwright_handbook::thermal_efficiency;
use seamwright_model::quantity::{Current, Energy, Length, Power, Range, Speed, Voltage};

use super::Answer;
use crate::input::{self, ends};
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// ISO 4063 number or AWS letters: the thermal efficiency hangs on it.
    pub process: String,
    /// Arc voltage.
    pub voltage: Option<Range<Voltage>>,
    /// Welding current.
    pub current: Option<Range<Current>>,
    /// Travel speed.
    pub travel_speed: Option<Range<Speed>>,
    /// Mean of the instantaneous power, for waveform-controlled machines.
    pub arc_power: Option<Range<Power>>,
    /// Sum of the instantaneous energy over `--length`, for waveform-controlled machines.
    pub arc_energy: Option<Range<Energy>>,
    /// Bead laid from `--electrode-length`, for the measure of QW-409.1(b).
    pub bead_length: Option<Range<Length>>,
    /// Electrode used up for `--bead-length`.
    pub electrode_length: Option<Range<Length>>,
    /// Length of the run, with `--arc-energy`.
    pub length: Option<Range<Length>>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let process = input::process(&given.process)?;
    if let (None, None, Some(bead), Some(electrode)) =
        (&given.travel_speed, &given.arc_energy, &given.bead_length, &given.electrode_length)
    {
        // QW-409.1(b) measures the bead and needs no travel speed.
        let answer = Answer::new("heat-input", "ASME IX QW-409.1(b): bead laid from an electrode length")
            .given("process", format!("{}, {}", process.number, process.name));
        return bead_ratio(answer, bead, electrode);
    }
    let Some(efficiency) = thermal_efficiency::get(process.number) else {
        bail!("the handbook has no thermal efficiency for {} ({})", process.number, process.name);
    };
    let base = Answer::new("heat-input", "ISO/TR 17671-1, with the thermal efficiency of the process")
        .given("process", format!("{}, {}", process.number, process.name));
    let (answer, arc_energy) = if let (Some(energy), Some(length)) = (&given.arc_energy, &given.length) {
        let (joules, mm) = (ends("--arc-energy", energy, Energy::joules)?, ends("--length", length, Length::mm)?);
        let found =
            Spread::of([joules], [mm], |[energy], [length]| formulas::arc_energy_from_energy_kj_mm(energy, length))?;
        let worked = format!("E = {} / {} / 1000 = {} kJ/mm", mid(joules), mid(mm), number(found.middle));
        let answer = base
            .by(formulas::ARC_ENERGY_FROM_ENERGY)
            .given("arc energy over the length", energy)
            .given("length", length)
            .worked(worked);
        (answer, found)
    } else {
        let Some(speed) = &given.travel_speed else { bail!("--travel-speed is missing") };
        let mm_s = ends("--travel-speed", speed, Speed::mm_per_s)?;
        if let Some(power) = &given.arc_power {
            let watts = ends("--arc-power", power, Power::watts)?;
            let found =
                Spread::of([watts], [mm_s], |[power], [speed]| formulas::arc_energy_from_power_kj_mm(power, speed))?;
            let worked = format!("E = {} / {} / 1000 = {} kJ/mm", mid(watts), mid(mm_s), number(found.middle));
            let answer = base
                .by(formulas::ARC_ENERGY_FROM_POWER)
                .given("arc power", power)
                .given("travel speed", speed)
                .worked(worked);
            (answer, found)
        } else {
            let (Some(voltage), Some(current)) = (&given.voltage, &given.current) else {
                bail!("--voltage and --current are missing; or give --arc-power, or --arc-energy with --length");
            };
            let volts = ends("--voltage", voltage, Voltage::volts)?;
            let amperes = ends("--current", current, Current::amperes)?;
            let found = Spread::of([volts, amperes], [mm_s], |[voltage, current], [speed]| {
                formulas::arc_energy_kj_mm(voltage, current, speed)
            })?;
            let worked = format!(
                "E = {} x {} / {} / 1000 = {} kJ/mm",
                mid(volts),
                mid(amperes),
                mid(mm_s),
                number(found.middle)
            );
            let answer = base
                .by(formulas::ARC_ENERGY)
                .given("arc voltage U", voltage)
                .given("welding current I", current)
                .given("travel speed v", format!("{speed} = {} mm/s", mid(mm_s)))
                .worked(worked);
            (answer, found)
        }
    };
    let k = efficiency.k;
    let with_k = |energy: f64| formulas::heat_input_kj_mm(energy, k);
    let heat = arc_energy.try_map(with_k)?;
    let answer = match (&given.bead_length, &given.electrode_length) {
        (Some(bead), Some(electrode)) => bead_ratio(answer, bead, electrode)?,
        _ => answer,
    };
    Ok(answer
        .by(formulas::HEAT_INPUT)
        .looked_up("thermal efficiency k", k, efficiency.origin.source_ref())
        .worked(format!("Q = {k} x {} = {} kJ/mm", number(arc_energy.middle), number(heat.middle)))
        .spread("arc_energy", arc_energy, "kJ/mm")
        .spread("heat_input", heat, "kJ/mm")
        .note(format!(
            "heat input {} kJ/mm is {} kJ/cm or {} kJ/in; arc energy is {} kJ/in",
            number(heat.middle),
            number(formulas::kj_cm(heat.middle)),
            number(formulas::kj_in(heat.middle)),
            number(formulas::kj_in(arc_energy.middle))
        ))
        .note("ASME IX QW-409.1 and AWS D1.1 limit the arc energy, without k; EN ISO codes the heat input, with k"))
}

fn bead_ratio(answer: Answer, bead: &Range<Length>, electrode: &Range<Length>) -> Result<Answer> {
    let bead_mm = input::one("--bead-length", bead, Length::mm)?;
    let electrode_mm = input::one("--electrode-length", electrode, Length::mm)?;
    Ok(answer.by(formulas::BEAD_RATIO).given("bead length", bead).given("electrode used", electrode).result(
        "bead_length_ratio",
        formulas::bead_length_ratio(bead_mm, electrode_mm)?,
        "",
    ))
}

fn mid(range: Band) -> String {
    number(range.middle())
}
