//! Duty cycle of a power source at a current, or its current at a duty cycle, and the rest in ten minutes.

use anyhow::{Result, bail};
use seamwright_calc::duty_cycle as formulas;
use seamwright_model::quantity::{Current, Range, Share};

use super::Answer;
use crate::input::one;
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Current of the rated point.
    pub rated_current: Range<Current>,
    /// Duty cycle of the rated point.
    pub rated_duty: Range<Share>,
    /// Current to be used.
    pub current: Option<Range<Current>>,
    /// Duty cycle to be had, instead of the current.
    pub duty: Option<Range<Share>>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let rated_current = one("--rated-current", &given.rated_current, Current::amperes)?;
    let rated_duty = one("--rated-duty", &given.rated_duty, Share::percent)?;
    let answer = Answer::new("duty-cycle", "the square of the current, in a period of ten minutes")
        .by(formulas::DUTY_CYCLE)
        .given("rated current", &given.rated_current)
        .given("rated duty cycle", &given.rated_duty);
    let (answer, current) = match (&given.current, &given.duty) {
        (Some(stated), _) => (answer.given("current", stated), one("--current", stated, Current::amperes)?),
        (None, Some(stated)) => {
            let duty = one("--duty", stated, Share::percent)?;
            let current = formulas::current_at_duty_cycle_a(rated_current, rated_duty, duty)?;
            let (amperes, rated) = (number(current), number(rated_current));
            let worked = format!("{rated} sqrt({} / {}) = {amperes} A", number(rated_duty), number(duty));
            (answer.given("duty cycle", stated).worked(worked).result("current", current, "A"), current)
        }
        (None, None) => bail!("--current or --duty is missing"),
    };
    let found = formulas::duty_cycle(rated_current, rated_duty, current)?;
    Ok(answer
        .worked(format!(
            "{} ({} / {})² = {} %, at most 100 %",
            number(rated_duty),
            number(rated_current),
            number(current),
            number(found.duty_cycle_pct)
        ))
        .result("duty_cycle", found.duty_cycle_pct, "%")
        .result("arc_minutes_in_ten", found.arc_minutes_in_ten, "min")
        .result("rest_minutes_in_ten", found.rest_minutes_in_ten, "min")
        .note("the rating plate goes before the computed figure; a hot workshop or blocked air lowers both"))
}
