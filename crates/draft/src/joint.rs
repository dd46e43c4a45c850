//! The joint: prepared edges or the leg of a fillet, and the cross-section that weld metal fills.

use seamwright_calc::fillet::Fillet;
use seamwright_calc::groove::{Groove, Preparation};
use seamwright_handbook::measure::{MM_IN, figure, length_text};
use seamwright_handbook::planning::{self, GrooveRow};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{Band, aws_d1_1, joint_preparations, setting_limits};

use crate::facts::Facts;
use crate::figures::{rounded, rule, span};
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::refused::Refused;

/// The edges and the size of the weld.
#[expect(clippy::large_enum_variant, reason = "one stands in a plan: its size does not matter")]
pub(crate) enum Shape {
    /// A groove.
    Groove {
        /// Square, V or double V.
        preparation: Preparation,
        /// Where the choice comes from.
        said: Said,
        /// Included angle of the V.
        angle: Option<Value>,
        /// Root gap.
        gap: Value,
        /// Root face of the V.
        face: Option<Value>,
        /// Backing other than gas.
        backing: Option<Value>,
    },
    /// A fillet.
    Fillet {
        /// Its leg in mm; at the edge of a lap.
        leg_mm: f64,
        /// Its leg.
        leg: Value,
        /// The other leg, on the face of a lap, where it is longer.
        face: Option<Value>,
    },
}

impl Shape {
    /// Whether the edges are square.
    pub(crate) fn square(&self) -> bool {
        matches!(self, Self::Groove { preparation: Preparation::Square, .. })
    }

    /// Whether a strip or a tile holds the root.
    pub(crate) fn held(&self) -> bool {
        matches!(self, Self::Groove { backing: Some(_), .. })
    }

    /// Whether it is welded from both sides.
    pub(crate) fn both_sides(&self) -> bool {
        matches!(self, Self::Groove { preparation, .. } if preparation.is_double())
    }
}

/// The prepared edges or the leg, and the cross-section of the weld in mm².
pub(crate) fn shape(facts: &Facts) -> Result<(Shape, f64), Refused> {
    let computed =
        |error: seamwright_calc::CalcError| nothing(format!("the cross-section cannot be computed: {error}"), facts);
    if !facts.groove() {
        let (leg_mm, leg) = leg(facts);
        let area = Fillet::equal(leg_mm).area_mm2().map_err(computed)?;
        let (round, _) = rule(planning::FILLET_CONVEXITY);
        return Ok((Shape::Fillet { leg_mm, leg, face: None }, area * round.high));
    }
    // The process of the root decides how the edges are prepared.
    let of_root = facts.root.as_deref().unwrap_or(facts);
    // A plate that is welded from both sides has no backing.
    let backing = if thick(facts) { Some("none".to_owned()) } else { facts.backing() };
    let Some(groove) = planning::groove(of_root.metal, of_root.process.number, backing.as_deref(), facts.down) else {
        return Err(nothing(
            format!("the handbook prepares no edges for process {} (groove-planning)", facts.process.number),
            facts,
        ));
    };
    let (cap, _) = rule(planning::CAP_HEIGHT);
    let (root, _) = rule(planning::ROOT_HEIGHT);
    // Nothing falls through a strip.
    let on_strip = backing.as_deref() == Some("strip");
    let base = Groove {
        thickness_mm: facts.thickness_mm,
        cap_height_mm: cap.high.min(facts.thickness_mm),
        root_height_mm: if on_strip { 0.0 } else { root.high.min(facts.thickness_mm) },
        ..Groove::default()
    };
    // 1/8 in is sold and welded as 3 mm is.
    let sold = if facts.inches { 0.2 } else { 0.0 };
    // The ends of pipe are bevelled from a thinner wall on, but for a wire in inert gas: one run of it is more than a thin V holds.
    let (pipe, _) = rule(planning::PIPE_SQUARE_UP_TO);
    let inert = facts.process.shielded_wire(Wire::Solid) && facts.process.inert_gas_alone();
    let square_mm = facts
        .diameter
        .as_ref()
        .filter(|_| !inert)
        .map_or(groove.square_up_to_mm + sold, |_| groove.square_up_to_mm.min(pipe.high));
    let (shape, sizes) = if let Some(row) = facts.detail {
        detailed(facts, row, base)
    } else if facts.thickness_mm <= square_mm {
        square(facts, groove, base)
    } else if thick(facts) {
        double_v(facts, groove, base)?
    } else {
        single_v(facts, groove, base)
    };
    let area = sizes.cross_section().map_err(computed)?.total_mm2;
    backing_is_kept(facts, &shape)?;
    Ok((shape, area))
}

/// Refuses a backing that is asked for where the joint has no use of it: it would be left out without a word.
fn backing_is_kept(facts: &Facts, shape: &Shape) -> Result<(), Refused> {
    let asked = facts.choices.backing.as_deref().filter(|own| *own != "none");
    let kept = |own: &str| if own == "gouge" { shape.both_sides() } else { shape.held() };
    match asked.filter(|own| facts.detail.is_none() && !kept(own)) {
        None => Ok(()),
        Some(asked) => {
            let edges = if shape.square() { "square edges" } else { "a V" };
            let sides = if shape.both_sides() { "from both sides" } else { "from one side with an open root" };
            Err(Refused::Contradiction(format!(
                "{} is welded {sides} with {edges}, and `--backing {asked}` is asked for: leave it out, and write it where the joint is prepared for it",
                facts.thickness
            )))
        }
    }
}

/// The leg of a fillet, in mm and as written.
fn leg(facts: &Facts) -> (f64, Value) {
    let (thin, _) = rule(planning::FILLET_LEG_THIN_UP_TO);
    let own = if facts.thickness_mm <= thin.high { planning::FILLET_LEG_THIN } else { planning::FILLET_LEG };
    let (share, source) = rule(own);
    let step = if facts.thickness_mm <= thin.high { 0.5 } else { 1.0 };
    let said = || Said::how(source.clone(), "the designer decides; a leg by the thickness to begin with");
    if let Some((text, leg_mm)) = &facts.leg {
        return (*leg_mm, Value::new(text.clone(), Said::Given));
    }
    if facts.thickness_mm <= thin.high
        && let Some(even) = fraction(facts)
    {
        return (even, Value::new(size(facts, even), said()));
    }
    if facts.thickness_mm <= thin.high {
        // As it is written, so that leg and thickness are one figure.
        return (facts.thickness_mm, Value::new(facts.thickness.clone(), said()));
    }
    let thin = facts.thickness_mm <= rule(planning::FILLET_LEG_MOST_TO).0.high;
    let (most, _) = rule(if thin { planning::FILLET_LEG_MOST } else { planning::FILLET_LEG_MOST_THICK });
    let step = if facts.inches { MM_IN / 16.0 } else { step };
    // A size is raised to the next one, never refused for being under the least.
    let raised = ((share.high * facts.thickness_mm / step).ceil() * step).min((most.high / step).round() * step);
    (raised, Value::new(format!("{} mm", figure(raised)), said()))
}

/// A leg of sheet in mm as it is written: in inches a fraction down to 1/64 in.
pub(crate) fn size(facts: &Facts, mm: f64) -> String {
    let parts = mm / MM_IN * 64.0;
    let near = (parts.round() - parts).abs() < 0.05;
    if !facts.inches || !near || !(1.0..256.0).contains(&parts.round()) {
        return format!("{} mm", figure(mm));
    }
    length_text(parts.round() / 64.0, "in")
}

/// The leg in mm of a thickness in inches that is no fraction, such as a gauge: 1/8 in from there on, else the next 1/64 in where
/// that is over the sheet by no more than a twentieth.
///
/// Nothing of a fraction, of what no fraction is near to, and in millimetres.
fn fraction(facts: &Facts) -> Option<f64> {
    let own = facts.thickness_mm;
    let whole = |step: f64| ((own / step).round() - own / step).abs() < 1e-3;
    if !facts.inches || whole(MM_IN / 32.0) {
        return None;
    }
    // 0.063 in is sold for 1/16 in.
    let even = (own / (MM_IN / 32.0)).round() * (MM_IN / 32.0);
    if own < MM_IN / 8.0 && (own - even).abs() < 0.012 * own {
        return Some(even);
    }
    if own > MM_IN / 8.0 {
        return Some(MM_IN / 8.0);
    }
    let (most, _) = rule(planning::LEG_OVER_SHEET);
    let next = (own / (MM_IN / 64.0)).ceil() * (MM_IN / 64.0);
    Some(next).filter(|next| *next <= most.high * own)
}

/// Whether a plate is so thick that it is welded from both sides; the inside of a pipe is seldom in reach.
fn thick(facts: &Facts) -> bool {
    let held = facts.backing().is_some_and(|own| own == "strip" || own == "ceramic");
    !held && facts.thick_plate()
}

/// The edges of a prequalified detail, with the figures that the code prints.
fn detailed(facts: &Facts, row: &'static aws_d1_1::JointRow, base: Groove) -> (Shape, Groove) {
    let preparation = match row.groove() {
        1 => Preparation::Square,
        3 => Preparation::DoubleV,
        4 => Preparation::SingleBevel,
        _ => Preparation::SingleV,
    };
    let said = || Said::table(row.origin.source_ref());
    let none = aws_d1_1::Printed { mm: Band::at(0.0), inches: Band::at(0.0) };
    let (gap, face) = (row.root_opening(facts.size()).unwrap_or(none), row.root_face().unwrap_or(none));
    let value = |printed: &aws_d1_1::Printed| Value::new(printed.text(facts.inches).replace(" to ", "-"), said());
    let shape = Shape::Groove {
        preparation,
        said: said(),
        angle: row.angle_deg.map(|angle| Value::new(format!("{} deg", figure(angle)), said())),
        gap: value(&gap),
        face: (preparation != Preparation::Square).then(|| value(&face)),
        backing: row.backing.then(|| Value::new("strip", said())),
    };
    let sizes = Groove {
        preparation,
        included_angle_deg: row.angle_deg.unwrap_or_default(),
        root_gap_mm: gap.mm.middle(),
        root_face_mm: face.mm.middle(),
        ..base
    };
    (shape, sizes)
}

fn square(facts: &Facts, groove: &GrooveRow, base: Groove) -> (Shape, Groove) {
    let (share, gap_source) = rule(planning::SQUARE_GAP);
    let (most, _) = rule(planning::SQUARE_GAP_MOST);
    let gap =
        rounded(Band::new(share.low * facts.thickness_mm, (share.high * facts.thickness_mm).min(most.high)), 0.25);
    let how = format!("up to {} mm", figure(groove.square_up_to_mm));
    let shape = Shape::Groove {
        preparation: Preparation::Square,
        said: Said::how(groove.origin.source_ref(), how),
        angle: None,
        gap: Value::new(span(gap, "mm"), Said::how(gap_source, "up to half the thickness")),
        face: None,
        backing: None,
    };
    (shape, Groove { preparation: Preparation::Square, root_gap_mm: gap.middle(), ..base })
}

fn single_v(facts: &Facts, groove: &GrooveRow, base: Groove) -> (Shape, Groove) {
    let source = groove.origin.source_ref();
    let asked = facts.backing().is_some();
    let backing = groove.backing.map(|kind| {
        let said = if asked {
            Said::Given
        } else {
            Said::how(source.clone(), "an open root is hard to close with this process or metal")
        };
        Value::new(kind, said)
    });
    let how = format!("above {} mm", figure(groove.square_up_to_mm));
    let edges = Edges { preparation: Preparation::SingleV, gap: groove.gap_mm, face: groove.root_face_mm, backing };
    vee(facts, groove, base, Said::how(source, how), ["V", "V with broad root face"], edges)
}

/// Half the weld metal of a V, and the shrinkage of one side draws against that of the other.
fn double_v(facts: &Facts, groove: &GrooveRow, base: Groove) -> Result<(Shape, Groove), Refused> {
    let Some((gap, face)) = groove.double_gap_mm.zip(groove.double_root_face_mm) else {
        return Err(nothing(
            format!(
                "the handbook has no double V of process {} for {} (groove-planning)",
                facts.process.number, facts.thickness
            ),
            facts,
        ));
    };
    let most = setting_limits::get(setting_limits::SINGLE_V_THICKNESS, facts.process.number)
        .map_or(0.0, |limit| limit.usual.high);
    let how = format!("plate from {} mm on is welded from both sides", figure(most));
    let said = Said::how(groove.origin.source_of("double_gap_mm"), how);
    let edges = Edges { preparation: Preparation::DoubleV, gap, face, backing: None };
    Ok(vee(facts, groove, base, said, ["double V", "double V with broad root face"], edges))
}

/// The edges of a V of one side or of both.
struct Edges {
    preparation: Preparation,
    gap: Band,
    face: Band,
    backing: Option<Value>,
}

/// A V of the angle of the process; `kinds` name it in ISO 9692-1.
fn vee(facts: &Facts, groove: &GrooveRow, base: Groove, said: Said, kinds: [&str; 2], edges: Edges) -> (Shape, Groove) {
    let mut standard = kinds.into_iter().flat_map(|kind| joint_preparations::suited(kind, facts.thickness_mm));
    let number = standard.next().map(|row| format!("within ISO 9692-1 number {}", row.number)).unwrap_or_default();
    let within = Said::how(groove.origin.source_ref(), number);
    let shape = Shape::Groove {
        preparation: edges.preparation,
        said,
        angle: Some(Value::new(format!("{} deg", figure(groove.angle_deg)), within.clone())),
        gap: Value::new(span(edges.gap, "mm"), within.clone()),
        face: Some(Value::new(span(edges.face, "mm"), within)),
        backing: edges.backing,
    };
    let sizes = Groove {
        preparation: edges.preparation,
        included_angle_deg: groove.angle_deg,
        root_gap_mm: edges.gap.middle(),
        root_face_mm: edges.face.middle(),
        ..base
    };
    (shape, sizes)
}
