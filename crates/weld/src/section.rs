//! The cross-section of a procedure's weld, from its joint and weld size: for checks, estimates and sheets.

use seamwright_calc::fillet::{self, Fillet};
use seamwright_calc::flare::{self, Flare};
use seamwright_calc::groove::{self, GrooveRange, Preparation};
use seamwright_calc::{Formula, Spread};
use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, deposition};
use seamwright_model::finding::SourceRef;
use seamwright_model::procedure::{Joint, JointType, Penetration, Preparation as Stated9692, Side, WeldType};
use seamwright_model::quantity::{Angle, Length, Quantity, Range};
use seamwright_model::stated::Stated;

use crate::view::View;

/// Something that is put in although the document does not state it.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// What is put in, in words.
    pub text: String,
    /// Where the figure is written; nothing where it is none of a table.
    pub source: Option<SourceRef>,
}

/// The cross-section of a weld.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldSection {
    /// Area, mm²: of the low ends, the middles and the high ends of what is stated.
    pub area_mm2: Spread,
    /// The formulas that give it.
    pub formulas: Vec<Formula>,
    /// What is put in beside the stated values.
    pub assumptions: Vec<Assumption>,
}

/// The cross-section of the weld; `thickness_mm` takes the place of the stated thickness, which may be a range that the
/// procedure covers.
///
/// `Err` says in words what is not stated, or what cannot be.
pub fn of(view: &View<'_>, thickness_mm: Option<f64>) -> Result<WeldSection, String> {
    let weld = view.weld().ok_or("joint/weld is not stated")?;
    let mut whole = WeldSection { area_mm2: Spread::NOTHING, formulas: Vec::new(), assumptions: Vec::new() };
    if !weld.has_groove() && !weld.has_fillet() {
        return Err(format!("the cross-section of a weld of kind {weld} does not follow from the joint"));
    }
    if weld.has_groove() {
        add(&mut whole, groove_part(view, weld, thickness_mm)?);
    }
    if weld.has_fillet() {
        add(&mut whole, fillet_part(view)?);
    }
    Ok(whole)
}

/// How many fillets the runs of a procedure fill over one length: 2 where a fillet is welded on a first and a second side.
pub fn fillets(view: &View<'_>) -> f64 {
    let fillet = view.weld().is_some_and(|weld| !weld.has_groove());
    let on = |second: bool| view.runs.iter().any(|run| (run.run.side == Some(Side::Second)) == second);
    if fillet && on(true) && on(false) { 2.0 } else { 1.0 }
}

fn add(whole: &mut WeldSection, part: WeldSection) {
    whole.area_mm2 = whole.area_mm2 + part.area_mm2;
    whole.formulas.extend(part.formulas);
    whole.assumptions.extend(part.assumptions);
}

/// Both ends of a stated range; the one end that is stated where the other is open.
fn ends<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, of: impl Fn(Q) -> f64) -> Option<Band> {
    Some(band(stated?.value()?, of).closed())
}

fn groove_part(view: &View<'_>, weld: WeldType, thickness_mm: Option<f64>) -> Result<WeldSection, String> {
    let joint = view.procedure.joint.as_ref().ok_or("joint is not stated")?;
    if joint.kind == JointType::Cavity {
        return cavity(joint);
    }
    if let Some(shape) = joint.preparation.as_ref().and_then(Stated::value).filter(|shape| shape.is_flare()) {
        return flare_part(view, joint, *shape);
    }
    let mut assumptions = Vec::new();
    let mut assume = |text: String, source: Option<SourceRef>| assumptions.push(Assumption { text, source });
    let preparation = match joint.preparation.as_ref().and_then(Stated::value) {
        Some(preparation) => *preparation,
        None if joint.kind == JointType::Butt => {
            assume("preparation is not stated: square".to_owned(), None);
            Stated9692::Square
        }
        None => return Err("joint/preparation is not stated".to_owned()),
    };
    let preparation: Preparation = preparation.as_str().parse().map_err(|error| format!("{error}"))?;
    let thickness = match thickness_mm {
        Some(thickness) => Band::at(thickness),
        // The thinner of two members is the one that is prepared through.
        None => view
            .procedure
            .parent_metals
            .iter()
            .filter_map(|metal| ends(metal.thickness.as_ref(), Length::mm))
            .reduce(|a, b| if b.high < a.high { b } else { a })
            .ok_or("parent_metals/thickness is not stated")?,
    };
    let partial = joint.penetration.as_ref().and_then(Stated::value) == Some(&Penetration::Partial);
    let depth = match ends(joint.penetration_depth.as_ref(), Length::mm) {
        Some(depth) if partial && !preparation.is_double() => depth,
        _ if partial => return Err("the depth of a partial penetration is not stated for one side".to_owned()),
        _ => thickness,
    };
    let angle = ends(joint.included_angle.as_ref(), Angle::degrees);
    if preparation != Preparation::Square && angle.is_none() {
        return Err("joint/included_angle is not stated".to_owned());
    }
    let radius = ends(joint.root_radius.as_ref(), Length::mm);
    if preparation.has_radius() && radius.is_none() {
        return Err("joint/root_radius is not stated".to_owned());
    }
    let mut or_none = |name: &str, stated: Option<Band>| {
        stated.unwrap_or_else(|| {
            assume(format!("{name} is not stated: 0 mm"), None);
            Band::at(0.0)
        })
    };
    let root_gap_mm = or_none("root gap", ends(joint.root_gap.as_ref(), Length::mm));
    let root_face_mm = if preparation == Preparation::Square || partial {
        Band::at(0.0)
    } else {
        or_none("root face", ends(joint.root_face.as_ref(), Length::mm))
    };
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let cap = match size.and_then(|size| ends(size.reinforcement.as_ref(), Length::mm)) {
        Some(cap) => cap,
        // The fillet stands on the groove: no cap beside it.
        None if weld.has_fillet() => Band::at(0.0),
        None => {
            let rule = deposition::CAP_HEIGHT;
            assume(
                format!("height of the cap is not stated: {} to {} mm", rule.value.low, rule.value.high),
                Some(rule.origin.source_ref()),
            );
            rule.value
        }
    };
    let groove = GrooveRange {
        preparation,
        thickness_mm: depth,
        included_angle_deg: angle.unwrap_or(Band::at(0.0)),
        root_gap_mm,
        root_face_mm,
        radius_mm: radius.unwrap_or(Band::at(0.0)),
        cap_height_mm: cap,
        root_height_mm: Band::at(0.0),
    };
    let flanks = if preparation.has_radius() { groove::ROUND_FLANKS } else { groove::STRAIGHT_FLANKS };
    let mut area_mm2 = groove.cross_section_mm2().map_err(|error| error.to_string())?;
    if !weld.has_fillet() {
        // The cap is wider than the groove: a bow of w and 2 o more over the edges, 2/3 of its height.
        let rule = deposition::CAP_OVERLAP;
        let sides = if preparation.is_double() { 2.0 } else { 1.0 };
        let over = |overlap: f64, height: f64| sides * 2.0 / 3.0 * 2.0 * overlap * height;
        area_mm2.low += over(rule.value.low, cap.low);
        area_mm2.middle += over(rule.value.middle(), cap.middle());
        area_mm2.high += over(rule.value.high, cap.high);
        assume(
            format!("the cap reaches {} to {} mm over each edge of the groove", rule.value.low, rule.value.high),
            Some(rule.origin.source_ref()),
        );
    }
    Ok(WeldSection { area_mm2, formulas: vec![flanks, groove::REINFORCEMENT], assumptions })
}

/// Diameter of the smallest round member as it is stated: outside diameter, or thickness of a round bar.
pub fn round_diameter<'d>(view: &View<'d>) -> Option<&'d Stated<Range<Length>>> {
    let all = view.metals.iter().filter_map(|metal| {
        let of_bar = || metal.stated.thickness.as_ref().filter(|_| metal.is_round_bar());
        let stated = metal.stated.outside_diameter.as_ref().or_else(of_bar)?;
        Some((ends(Some(stated), Length::mm)?, stated))
    });
    all.reduce(|a, b| if b.0.low < a.0.low { b } else { a }).map(|(_, stated)| stated)
}

/// Outside radius of the round member of a flare, mm: as the joint states it, else half of its diameter.
pub fn flare_radius_mm(view: &View<'_>, joint: &Joint) -> Option<Band> {
    ends(joint.root_radius.as_ref(), Length::mm).or_else(|| Some(ends(round_diameter(view), Length::mm)?.scaled(0.5)))
}

/// The flare beside one round member or between two, from the top of the round to the depth that is stated.
fn flare_part(view: &View<'_>, joint: &Joint, shape: Stated9692) -> Result<WeldSection, String> {
    let radius =
        flare_radius_mm(view, joint).ok_or("neither joint/root_radius nor the diameter of a round member is stated")?;
    let mut assumptions = Vec::new();
    let mut assume = |text: String| assumptions.push(Assumption { text, source: None });
    let depth = ends(joint.penetration_depth.as_ref(), Length::mm).unwrap_or_else(|| {
        assume("depth of the flare is not stated: down to where the members come nearest".to_owned());
        radius
    });
    let mut or_none = |stated: Option<Band>, words: &str| {
        stated.unwrap_or_else(|| {
            assume(words.to_owned());
            Band::at(0.0)
        })
    };
    let gap = or_none(ends(joint.root_gap.as_ref(), Length::mm), "root gap is not stated: 0 mm");
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let cap = size.and_then(|size| ends(size.reinforcement.as_ref(), Length::mm));
    let cap = or_none(cap, "height of the cap is not stated: flush with the round");
    let round = if shape == Stated9692::FlareV { 2 } else { 1 };
    let area = |radius_mm: f64, depth_mm: f64, root_gap_mm: f64, cap: f64| {
        let flare = Flare { round, radius_mm, depth_mm, root_gap_mm };
        let bow = flare.width_mm().and_then(|width| groove::bow_area_mm2(width, cap));
        flare.area_mm2().and_then(|area| Ok(area + bow?)).map_err(|error| error.to_string())
    };
    let area_mm2 = Spread {
        low: area(radius.low, depth.low.min(radius.low), gap.low, cap.low)?,
        middle: area(radius.middle(), depth.middle(), gap.middle(), cap.middle())?,
        high: area(radius.high, depth.high, gap.high, cap.high)?,
    };
    Ok(WeldSection { area_mm2, formulas: vec![flare::FLARE_AREA, groove::REINFORCEMENT], assumptions })
}

/// A cavity with sloping sides and a flat or round bottom: its width at the surface, less what the slope takes with depth.
fn cavity(joint: &Joint) -> Result<WeldSection, String> {
    let depth = ends(joint.penetration_depth.as_ref(), Length::mm).ok_or("joint/penetration_depth is not stated")?;
    let width = ends(joint.cavity_width.as_ref(), Length::mm).ok_or("joint/cavity_width is not stated")?;
    let angle = ends(joint.included_angle.as_ref(), Angle::degrees).ok_or("joint/included_angle is not stated")?;
    let area = |[depth, width, angle]: [f64; 3], []: [f64; 0]| {
        let taken = depth * (angle.to_radians() / 2.0).tan();
        if width < 2.0 * taken {
            return Err(format!("a cavity {depth} mm deep with sides at {angle} degrees is wider than {width} mm"));
        }
        Ok(depth * (width - taken))
    };
    Ok(WeldSection {
        area_mm2: Spread::of([depth, width, angle], [], area)?,
        formulas: vec![groove::STRAIGHT_FLANKS],
        assumptions: Vec::new(),
    })
}

fn fillet_part(view: &View<'_>) -> Result<WeldSection, String> {
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value).ok_or("weld_size is not stated")?;
    let text = |error: seamwright_calc::CalcError| error.to_string();
    let mut formulas = vec![fillet::FILLET_AREA];
    let first = if let Some(leg) = ends(size.leg.as_ref(), Length::mm) {
        leg
    } else {
        formulas.push(fillet::LEG_AND_THROAT);
        let throat = ends(size.throat.as_ref(), Length::mm).ok_or("weld_size/leg is not stated")?;
        throat.try_map(fillet::leg_from_throat_mm).map_err(text)?
    };
    let second = ends(size.second_leg.as_ref(), Length::mm).unwrap_or(first);
    let area = |[first, second]: [f64; 2], []: [f64; 0]| Fillet::unequal(first, second).area_mm2().map_err(text);
    Ok(WeldSection { area_mm2: Spread::of([first, second], [], area)?, formulas, assumptions: Vec::new() })
}
