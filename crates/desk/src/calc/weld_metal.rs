//! Cross-section and mass of the weld metal of a groove or a fillet.

use anyhow::{Result, bail};
use seamwright_calc::fillet::{self, Fillet};
use seamwright_calc::groove::{self, GrooveRange, Preparation};
use seamwright_calc::{Spread, weld_metal as formulas};
use seamwright_model::quantity::{Angle, Length, Range};

use super::Answer;
use crate::input::{density, ends, ends_or, one};
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Preparation, such as square, single-v, double-u; or fillet.
    pub preparation: String,
    /// Thickness of the plate, for grooves.
    pub thickness: Option<Range<Length>>,
    /// Included angle of the groove.
    pub included_angle: Option<Range<Angle>>,
    /// Root gap; 0 if left out.
    pub root_gap: Option<Range<Length>>,
    /// Root face; 0 if left out.
    pub root_face: Option<Range<Length>>,
    /// Root radius of U and J preparations.
    pub radius: Option<Range<Length>>,
    /// Height of the cap above the plate; 0 if left out. For a fillet, its convexity.
    pub cap_height: Option<Range<Length>>,
    /// Height of the root under the plate; 0 if left out.
    pub root_height: Option<Range<Length>>,
    /// Leg of a fillet.
    pub leg: Option<Range<Length>>,
    /// Other leg of a fillet with unequal legs.
    pub second_leg: Option<Range<Length>>,
    /// Throat of a fillet, instead of its leg.
    pub throat: Option<Range<Length>>,
    /// Length of the weld.
    pub length: Range<Length>,
    /// Metal, its family or a base metal: its density gives the mass.
    pub metal: Option<String>,
    /// Cross-section that one run fills: the answer then has the number of runs.
    pub run_cross_section: Option<f64>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let (answer, area) = if given.preparation.trim() == "fillet" { fillet_area(given)? } else { groove_area(given)? };
    let length = one("--length", &given.length, Length::mm)?;
    let mut answer = answer.given("length", &given.length).spread("cross_section", area, "mm2");
    let volume = area.try_map(|area| formulas::volume_cm3(area, length))?;
    answer = answer.spread("volume", volume, "cm3");
    if let Some(metal) = &given.metal {
        let (density, source) = density(metal)?;
        let mass = area.try_map(|area| formulas::mass_kg(area, length, density))?;
        answer = answer
            .by(formulas::MASS)
            .looked_up("density", format!("{} kg/m3", number(density)), source)
            .worked(format!(
                "m = {} mm2 x {} mm x {} kg/m3 / 10^9 = {} kg",
                number(area.middle),
                number(length),
                number(density),
                number(mass.middle)
            ))
            .spread("mass", mass, "kg");
    } else {
        answer = answer.note("no mass without --metal");
    }
    if let Some(run) = given.run_cross_section {
        let runs = formulas::runs_needed(area.middle, run)?;
        #[expect(clippy::cast_precision_loss, reason = "a count of runs is far below 2^53")]
        let runs = runs as f64;
        answer =
            answer.by(formulas::RUNS).given("cross-section of a run", format!("{run} mm2")).result("runs", runs, "");
    }
    Ok(answer)
}

fn groove_area(given: &Given) -> Result<(Answer, Spread)> {
    let Ok(preparation) = given.preparation.trim().parse::<Preparation>() else {
        let all: Vec<&str> = Preparation::ALL.iter().map(|preparation| preparation.as_str()).collect();
        bail!("`{}` is no preparation; write fillet, {}", given.preparation, all.join(", "));
    };
    if given.leg.is_some() || given.throat.is_some() {
        bail!("--leg and --throat belong to a fillet, not to {preparation}");
    }
    let Some(thickness) = &given.thickness else { bail!("--thickness is missing") };
    let angled = preparation != Preparation::Square;
    if angled && given.included_angle.is_none() {
        bail!("--included-angle is missing for {preparation}");
    }
    if preparation.has_radius() && given.radius.is_none() {
        bail!("--radius is missing for {preparation}");
    }
    for (unused, flag) in [
        (!angled && given.included_angle.is_some(), "--included-angle"),
        (!preparation.has_radius() && given.radius.is_some(), "--radius"),
        (!angled && given.root_face.is_some(), "--root-face"),
        (preparation.is_double() && given.root_height.is_some(), "--root-height"),
    ] {
        if unused {
            bail!("{flag} does not belong to {preparation}");
        }
    }
    let groove = GrooveRange {
        preparation,
        thickness_mm: ends("--thickness", thickness, Length::mm)?,
        included_angle_deg: ends_or("--included-angle", given.included_angle.as_ref(), 0.0, Angle::degrees)?,
        root_gap_mm: ends_or("--root-gap", given.root_gap.as_ref(), 0.0, Length::mm)?,
        root_face_mm: ends_or("--root-face", given.root_face.as_ref(), 0.0, Length::mm)?,
        radius_mm: ends_or("--radius", given.radius.as_ref(), 0.0, Length::mm)?,
        cap_height_mm: ends_or("--cap-height", given.cap_height.as_ref(), 0.0, Length::mm)?,
        root_height_mm: ends_or("--root-height", given.root_height.as_ref(), 0.0, Length::mm)?,
    };
    let spread = groove.cross_section_mm2()?;
    let parts = groove.middle().cross_section()?;
    let mut answer = Answer::new("weld-metal", format!("{preparation}, closed formula of the cross-section"))
        .by(if preparation.has_radius() { groove::ROUND_FLANKS } else { groove::STRAIGHT_FLANKS })
        .given("thickness", thickness);
    for (name, stated) in [("root gap", &given.root_gap), ("root face", &given.root_face), ("radius", &given.radius)] {
        if let Some(stated) = stated {
            answer = answer.given(name, stated);
        }
    }
    if let Some(angle) = &given.included_angle {
        answer = answer.given("included angle", angle);
    }
    if given.cap_height.is_some() || given.root_height.is_some() {
        answer = answer.by(groove::REINFORCEMENT);
    }
    Ok((
        answer.worked(format!(
            "A = {} (groove) + {} (cap) + {} (root) = {} mm2",
            number(parts.groove_mm2),
            number(parts.cap_mm2),
            number(parts.root_mm2),
            number(parts.total_mm2)
        )),
        spread,
    ))
}

fn fillet_area(given: &Given) -> Result<(Answer, Spread)> {
    for (stated, flag) in [
        (given.included_angle.is_some(), "--included-angle"),
        (given.root_gap.is_some(), "--root-gap"),
        (given.root_face.is_some(), "--root-face"),
        (given.radius.is_some(), "--radius"),
        (given.root_height.is_some(), "--root-height"),
    ] {
        if stated {
            bail!("{flag} does not belong to a fillet");
        }
    }
    let mut answer = Answer::new("weld-metal", "fillet, triangle of its legs").by(fillet::FILLET_AREA);
    let first = if let Some(leg) = &given.leg {
        answer = answer.given("leg", leg);
        ends("--leg", leg, Length::mm)?
    } else if let Some(throat) = &given.throat {
        answer = answer.by(fillet::LEG_AND_THROAT).given("throat", throat);
        ends("--throat", throat, Length::mm)?.try_map(fillet::leg_from_throat_mm)?
    } else {
        bail!("--leg or --throat is missing");
    };
    let second = match &given.second_leg {
        Some(leg) => {
            answer = answer.given("second leg", leg);
            ends("--second-leg", leg, Length::mm)?
        }
        None => first,
    };
    let convexity = ends_or("--cap-height", given.cap_height.as_ref(), 0.0, Length::mm)?;
    let spread = Spread::of([first, second, convexity], [], |[first, second, convexity_mm], []| {
        Fillet { convexity_mm, ..Fillet::unequal(first, second) }.area_mm2()
    })?;
    let worked = format!(
        "A = {} x {} / 2 (+ convexity) = {} mm2",
        number(first.middle()),
        number(second.middle()),
        number(spread.middle)
    );
    Ok((answer.worked(worked), spread))
}
