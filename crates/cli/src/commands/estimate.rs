//! `estimate`: what procedures use and cost over a length or a list of joints.

use anyhow::Result;
use seamwright_desk::estimate::{EstimateRequest, Failed, estimates};

use crate::args::{EstimateArgs, EstimateForm};
use crate::ending::Ending;
use crate::report::{refused, text};
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: EstimateArgs) -> Result<Ending> {
    let EstimateArgs { paths, length, joints, thickness, shop, format } = args;
    let request = EstimateRequest { length, joints, thickness, shop };
    let answer = match estimates(&today::disk(), &paths, &request) {
        Ok(answer) => answer,
        Err(why) => return refused(why),
    };
    for failed in &answer.failed {
        match failed {
            Failed::Unread(report) => text::print(std::slice::from_ref(report)),
            Failed::Without(words) => terminal::say(words),
        }
    }
    match format {
        EstimateForm::Text => results::folded(|out| Ok(answer.text(out, terminal::width())?))?,
        EstimateForm::Json => results::json("estimate", answer.json())?,
        EstimateForm::Csv => answer.csv(results::out())?,
    }
    Ok(if answer.failed.is_empty() { Ending::Clean } else { Ending::Failed })
}
