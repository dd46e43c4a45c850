//! Estimate of the hardness of the heat-affected zone.

use anyhow::Result;
use seamwright_calc::{Composition, hardness as formulas};
use seamwright_model::quantity::{Duration, Range};

use super::Answer;
use crate::input::{composition, hardness_limits, one};

/// The published formulas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Between martensite and bainite, after Yurioka.
    Yurioka,
    /// Line pipe steels, after Lorenz and Düren.
    LorenzDuren,
}

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Mass percent of each element, such as C=0.12,Mn=1.45.
    pub composition: Composition,
    /// Cooling time from 800 to 500 °C.
    pub cooling_time: Range<Duration>,
    /// Which formula.
    pub method: Method,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let time = one("--cooling-time", &given.cooling_time, Duration::seconds)?;
    let answer = |formula| {
        Answer::new("hardness", "estimate for a single run, not tempered")
            .by(formula)
            .given("composition", composition(&given.composition))
            .given("cooling time", &given.cooling_time)
    };
    Ok(match given.method {
        Method::Yurioka => {
            let found = formulas::yurioka_hv(&given.composition, time, &hardness_limits())?;
            answer(formulas::YURIOKA)
                .result("hardness", found.value.hardness_hv, "HV10")
                .result("martensite_hardness", found.value.martensite_hv, "HV10")
                .result("bainite_hardness", found.value.bainite_hv, "HV10")
                .result("martensite_cooling_time", found.value.martensite_time_s, "s")
                .result("bainite_cooling_time", found.value.bainite_time_s, "s")
                .notes(&found.notes)
        }
        Method::LorenzDuren => {
            let found = formulas::lorenz_duren_hv(&given.composition, time)?;
            answer(formulas::LORENZ_DUREN).result("hardness", found.value, "HV10").notes(&found.notes)
        }
    })
}
