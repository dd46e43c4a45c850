//! Estimate of transverse shrinkage and of the angular distortion of a fillet.

use anyhow::{Result, bail};
use seamwright_calc::shrinkage as formulas;
use seamwright_model::quantity::{Length, Range};

use super::Answer;
use crate::input::one;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Cross-section of a butt weld.
    pub cross_section: Option<f64>,
    /// Thickness of the plate, or of the flange of a fillet.
    pub thickness: Range<Length>,
    /// Root gap of a butt weld; 0 if left out.
    pub root_gap: Option<Range<Length>>,
    /// Width of the flange that a fillet pulls.
    pub flange_width: Option<Range<Length>>,
    /// Leg of the fillet.
    pub leg: Option<Range<Length>>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let thickness = one("--thickness", &given.thickness, Length::mm)?;
    let mut answer = Answer::new("shrinkage", "rules of thumb, for information").given("thickness", &given.thickness);
    if let Some(area) = given.cross_section {
        let gap = given.root_gap.as_ref().map(|gap| one("--root-gap", gap, Length::mm)).transpose()?.unwrap_or(0.0);
        answer = answer
            .by(formulas::TRANSVERSE)
            .given("cross-section", format!("{area} mm2"))
            .given("root gap", format!("{gap} mm"))
            .result("transverse_shrinkage", formulas::transverse_butt_mm(area, thickness, gap)?, "mm");
    }
    if let (Some(width), Some(leg)) = (&given.flange_width, &given.leg) {
        let (width_mm, leg_mm) = (one("--flange-width", width, Length::mm)?, one("--leg", leg, Length::mm)?);
        answer = answer.by(formulas::ANGULAR).given("width of the flange", width).given("leg", leg).result(
            "angular_distortion",
            formulas::angular_fillet_mm(width_mm, leg_mm, thickness)?,
            "mm",
        );
    }
    if given.cross_section.is_none() && given.flange_width.is_none() {
        bail!("--cross-section of a butt weld, or --flange-width and --leg of a fillet are missing");
    }
    Ok(answer.note("clamping, sequence and heat input change it much: weld a trial piece where it matters"))
}
