//! `calc throat`.

use anyhow::{Result, bail};
use clap::Args;
use seamwright_calc::{fillet, strength};
use seamwright_model::quantity::{Length, Range, Stress};

use super::answer::{Answer, number};
use super::input::one;

/// What it takes.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  seamwright calc throat --leg \"6 mm\" --allowable-stress \"140 MPa\" --length \"200 mm\""
)]
pub struct Given {
    /// Leg of the fillet.
    #[arg(long, required_unless_present = "throat", allow_hyphen_values = true)]
    leg: Option<Range<Length>>,
    /// Other leg, where the legs are unequal.
    #[arg(long, requires = "leg", allow_hyphen_values = true)]
    second_leg: Option<Range<Length>>,
    /// Throat, instead of the leg.
    #[arg(long, conflicts_with = "leg", allow_hyphen_values = true)]
    throat: Option<Range<Length>>,
    /// Allowable shear stress on the throat, by your design code.
    #[arg(long, allow_hyphen_values = true)]
    allowable_stress: Option<Range<Stress>>,
    /// Length of the weld.
    #[arg(long, requires = "allowable_stress", allow_hyphen_values = true)]
    length: Option<Range<Length>>,
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
