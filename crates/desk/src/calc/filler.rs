//! Filler to buy for a mass of weld metal.

use anyhow::{Result, bail};
use seamwright_calc::deposition::{self as formulas, Loss, Rod};
use seamwright_handbook::deposition;
use seamwright_model::quantity::{Length, Mass, Range};

use super::Answer;
use crate::input::{self, one};
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Mass of weld metal.
    pub mass: Range<Mass>,
    /// ISO 4063 number or AWS letters: the deposition efficiency hangs on it.
    pub process: String,
    /// Shielding gas by the table's name, such as 75Ar-25CO2.
    pub gas: Option<String>,
    /// Diameter of rods: the answer then has their number.
    pub diameter: Option<Range<Length>>,
    /// Length of a rod or electrode.
    pub length: Option<Range<Length>>,
    /// Stub that is thrown away.
    pub stub: Option<Range<Length>>,
    /// Metal of the rod, for its density.
    pub metal: Option<String>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let process = input::process(&given.process)?;
    let mass = one("--mass", &given.mass, Mass::kg)?;
    let rows = deposition::efficiency(process.number);
    let length = given.length.as_ref().map(|length| one("--length", length, Length::mm)).transpose()?;
    // Where no row names a gas, the gas is of no matter.
    let no_gas = rows.iter().all(|row| row.gas.is_none());
    // The row for the gas or the electrode's length, else the first that names neither, else the first.
    let row = rows
        .iter()
        .find(|row| match (&given.gas, length) {
            (Some(gas), _) => row.gas.is_some_and(|own| seamwright_handbook::find::same(own, gas)),
            (None, Some(length)) => row.electrode_length_mm.is_some_and(|own| (own - length).abs() < 5.0),
            (None, None) => row.gas.is_none() && row.electrode_length_mm.is_none(),
        })
        .or(rows.first().filter(|_| given.gas.is_none() || no_gas));
    let Some(row) = row else {
        let with = given.gas.as_ref().map(|gas| format!(" with {gas}")).unwrap_or_default();
        bail!("the handbook has no deposition efficiency for {} ({}){with}", process.number, process.name);
    };
    let efficiency = row.efficiency_pct.middle() / 100.0;
    let mut answer = Answer::new("filler", "weld metal over deposition efficiency")
        .by(formulas::FILLER_MASS)
        .given("weld metal", &given.mass)
        .given("process", format!("{}, {}", process.number, process.name))
        .looked_up(
            format!("efficiency, {}", row.label),
            format!("{} %", number(efficiency * 100.0)),
            row.origin.source_ref(),
        );
    if no_gas && given.gas.is_some() {
        answer = answer.note(format!("the gas is of no matter for the efficiency of {}", process.number));
    }
    let stub = given.stub.as_ref().map(|stub| one("--stub", stub, Length::mm)).transpose()?;
    let loss = match (row.stub_included, stub, length) {
        (Some(true), _, _) => {
            answer = answer.note("the efficiency counts the stub already: it is not taken off again");
            Loss::Efficiency(efficiency)
        }
        (_, Some(stub), Some(length)) => {
            let stub_loss = formulas::stub_loss(length, stub)?;
            answer = answer.given("stub loss", format!("{} %", number(stub_loss * 100.0)));
            Loss::EfficiencyAndStub { efficiency, stub_loss }
        }
        _ => Loss::Efficiency(efficiency),
    };
    let filler = formulas::filler_mass_kg(mass, loss)?;
    answer = answer
        .worked(format!("{} / {} = {} kg", number(mass), number(loss.yield_share()?), number(filler)))
        .result("filler_mass", filler, "kg");
    if !row.efficiency_pct.is_single() {
        answer = answer.note(format!(
            "the table gives {} to {} %: the middle is put in",
            number(row.efficiency_pct.low),
            number(row.efficiency_pct.high)
        ));
    }
    if let (Some(diameter), Some(length), Some(metal)) = (&given.diameter, length, &given.metal) {
        let (density, source) = input::density(metal)?;
        let rod = Rod {
            diameter_mm: one("--diameter", diameter, Length::mm)?,
            length_mm: length,
            stub_mm: 0.0,
            density_kg_m3: density,
        };
        let each = rod.mass_kg()?;
        let count = formulas::electrodes_needed(filler, each)?;
        #[expect(clippy::cast_precision_loss, reason = "a count of rods is far below 2^53")]
        let count = count as f64;
        answer = answer
            .looked_up("density", format!("{} kg/m3", number(density)), source)
            .given("mass of a rod, core only", format!("{} kg", number(each)))
            .result("rods", count, "");
    }
    Ok(answer)
}
