//! `calc carbon-equivalent`.

use clap::Args;
use seamwright_calc::Composition;
use seamwright_calc::carbon_equivalent as formulas;

use super::answer::Answer;

/// What it takes.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  seamwright calc carbon-equivalent --composition C=0.16,Mn=1.45,Si=0.3")]
pub struct Given {
    /// Mass percent of each element, such as C=0.12,Mn=1.45.
    #[arg(long)]
    composition: Composition,
}

/// The answer.
pub fn answer(given: &Given) -> Answer {
    let steel = &given.composition;
    [formulas::CE_IIW, formulas::CET, formulas::PCM, formulas::CEN]
        .into_iter()
        .fold(Answer::new("carbon-equivalent", "IIW, CET, Pcm and CEN"), Answer::by)
        .given("composition", super::input::composition(steel))
        .result("ce_iiw", formulas::ce_iiw_pct(steel), "%")
        .result("cet", formulas::cet_pct(steel), "%")
        .result("pcm", formulas::pcm_pct(steel), "%")
        .result("cen", formulas::cen_pct(steel), "%")
}
