//! Throat of a fillet and, for information, the load that it carries.

use anyhow::{Result, bail};
use seamwright_calc::{fillet, strength};
use seamwright_model::quantity::{Length, Range, Stress};

use super::Answer;
use crate::input::one;
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Leg of the fillet.
    pub leg: Option<Range<Length>>,
    /// Other leg, where the legs are unequal.
    pub second_leg: Option<Range<Length>>,
    /// Throat, instead of the leg.
    pub throat: Option<Range<Length>>,
    /// Allowable shear stress on the throat, by your design code.
    pub allowable_stress: Option<Range<Stress>>,
    /// Length of the weld.
    pub length: Option<Range<Length>>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let mut answer = Answer::new("throat", "theoretical throat of a fillet").by(fillet::LEG_AND_THROAT);
    let (leg, throat) = if let Some(leg) = &given.leg {
        let first = one("--leg", leg, Length::mm)?;
        let second = given.second_leg.as_ref().map(|leg| one("--second-leg", leg, Length::mm)).transpose()?;
        answer = answer.given("leg", leg);
        if let Some(second) = &given.second_leg {
            answer = answer.given("second leg", second);
        }
        (first, fillet::Fillet::unequal(first, second.unwrap_or(first)).throat_mm()?)
    } else if let Some(throat) = &given.throat {
        let mm = one("--throat", throat, Length::mm)?;
        answer = answer.given("throat", throat);
        (fillet::leg_from_throat_mm(mm)?, mm)
    } else {
        bail!("--leg or --throat is missing");
    };
    answer = answer
        .worked(format!("leg {} mm, throat {} mm", number(leg), number(throat)))
        .result("leg", leg, "mm")
        .result("throat", throat, "mm");
    if let Some(stress) = &given.allowable_stress {
        let load = strength::allowable_load_n_mm(throat, one("--allowable-stress", stress, Stress::mpa)?)?;
        answer = answer
            .by(strength::ALLOWABLE_LOAD)
            .given("allowable shear stress", stress)
            .result("allowable_load_per_length", load, "N/mm")
            .note("for information only: the design code and a structural engineer decide");
        if let Some(length) = &given.length {
            let kn = strength::load_kn(load, one("--length", length, Length::mm)?)?;
            answer = answer.given("length", length).result("allowable_load", kn, "kN");
        }
    }
    Ok(answer)
}
