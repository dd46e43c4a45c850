//! Carbon equivalents CE (IIW), CET, Pcm, CEN and CE (AWS) of a steel.

use seamwright_calc::Composition;
use seamwright_calc::carbon_equivalent as formulas;

use super::Answer;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Mass percent of each element, such as C=0.12,Mn=1.45.
    pub composition: Composition,
}

/// The answer.
pub fn answer(given: &Given) -> Answer {
    let steel = &given.composition;
    [formulas::CE_IIW, formulas::CET, formulas::PCM, formulas::CEN, formulas::CE_AWS]
        .into_iter()
        .fold(Answer::new("carbon-equivalent", "IIW, CET, Pcm, CEN and AWS"), Answer::by)
        .given("composition", crate::input::composition(steel))
        .result("ce_iiw", formulas::ce_iiw_pct(steel), "%")
        .result("cet", formulas::cet_pct(steel), "%")
        .result("pcm", formulas::pcm_pct(steel), "%")
        .result("cen", formulas::cen_pct(steel), "%")
        .result("ce_aws", formulas::ce_aws_pct(steel), "%")
}
