//! Prepared grooves: their exact outline, and the area that weld metal fills.
//!
//! All lengths are in mm. The outline stands in the frame of the joint: x = 0 half way across the root gap, y = 0 at the
//! upper surface, y downwards. Area and outline come from the same flank, so that what is drawn is what is counted. The
//! flank of a bevel or a J is the left wall's; the right wall is upright. The round of a U or a J starts level at the upper
//! edge of the root face and runs into the flank as a tangent.
//!
//! To add a preparation: its name below, and its flank (`flank.rs`) in `Groove::flanks`.

use std::fmt;
use std::str::FromStr;

use crate::Result;
use crate::argument::{Argument, result};
use crate::band::Band;
use crate::error::{CalcError, Must};
use crate::flank::Flank;
use crate::formula::{Basis, Formula};
use crate::spread::Spread;

const THICKNESS: Argument = Argument("thickness", "mm");
const INCLUDED_ANGLE: Argument = Argument("included angle", "°");
const BEVEL_ANGLE: Argument = Argument("bevel angle", "°");
const ROOT_GAP: Argument = Argument("root gap", "mm");
const ROOT_FACE: Argument = Argument("root face", "mm");
const RADIUS: Argument = Argument("radius", "mm");
const CAP_HEIGHT: Argument = Argument("cap height", "mm");
const ROOT_HEIGHT: Argument = Argument("root height", "mm");

/// Cross-section of a groove with straight flanks.
pub const STRAIGHT_FLANKS: Formula = Formula {
    name: "groove-straight-flanks",
    equation: "A = b t + n h² tan β; h = t - c (single), n h²/2 a side with h = (t - c)/2 (double)   [mm²; b gap, t thickness, c root face, β angle of a flank, n = 1 for V, 1/2 for bevel]",
    source: "geometry; for a V without root face as in the tables of electrode handbooks",
    basis: Basis::Published,
    validity: "double preparations are symmetric, the root face half way",
};

/// Cross-section of a groove with round flanks.
pub const ROUND_FLANKS: Formula = Formula {
    name: "groove-round-flanks",
    equation: "flank = r²/2 (π/2 - β - sin β cos β) + r cos β (h - e) + (h - e)²/2 tan β; e = r (1 - sin β); A = b t + flanks   [mm²; r radius, β angle of a flank, h depth above the root face]",
    source: "geometry: the arc is tangent to the flank and level at the root face",
    basis: Basis::CommonPractice,
    validity: "a groove no deeper than e is arc alone",
};

/// Area of a cap or a root reinforcement.
pub const REINFORCEMENT: Formula = Formula {
    name: "reinforcement",
    equation: "A = 2/3 w h   [mm²; w width, h height of the bow]",
    source: "weight tables of a consumables handbook",
    basis: Basis::Published,
    validity: "a parabola; the width is that of the groove at the surface, without overlap on the plate",
};

/// How the edges are prepared (ISO 9692-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Preparation {
    /// Square edges.
    Square,
    /// Both edges bevelled.
    SingleV,
    /// Both edges bevelled from both sides.
    DoubleV,
    /// One edge bevelled.
    SingleBevel,
    /// One edge bevelled from both sides.
    DoubleBevel,
    /// Both edges hollowed.
    SingleU,
    /// Both edges hollowed from both sides.
    DoubleU,
    /// One edge hollowed.
    SingleJ,
    /// One edge hollowed from both sides.
    DoubleJ,
}

impl Preparation {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Square,
        Self::SingleV,
        Self::DoubleV,
        Self::SingleBevel,
        Self::DoubleBevel,
        Self::SingleU,
        Self::DoubleU,
        Self::SingleJ,
        Self::DoubleJ,
    ];

    /// The name in kebab-case.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::SingleV => "single-v",
            Self::DoubleV => "double-v",
            Self::SingleBevel => "single-bevel",
            Self::DoubleBevel => "double-bevel",
            Self::SingleU => "single-u",
            Self::DoubleU => "double-u",
            Self::SingleJ => "single-j",
            Self::DoubleJ => "double-j",
        }
    }

    /// Whether it is prepared from both sides.
    pub fn is_double(self) -> bool {
        matches!(self, Self::DoubleV | Self::DoubleBevel | Self::DoubleU | Self::DoubleJ)
    }

    /// Whether only one edge is prepared; its angle is then that of the one bevel, not an included angle.
    pub fn is_one_sided(self) -> bool {
        matches!(self, Self::SingleBevel | Self::DoubleBevel | Self::SingleJ | Self::DoubleJ)
    }

    /// Whether it has a radius at the root.
    pub fn has_radius(self) -> bool {
        matches!(self, Self::SingleU | Self::DoubleU | Self::SingleJ | Self::DoubleJ)
    }
}

impl fmt::Display for Preparation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl FromStr for Preparation {
    type Err = CalcError;

    fn from_str(text: &str) -> Result<Self> {
        Self::ALL
            .into_iter()
            .find(|preparation| preparation.as_str() == text)
            .ok_or_else(|| CalcError::UnknownWord { text: text.to_owned(), of: "preparation" })
    }
}

/// The sizes of a prepared joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Groove {
    /// How the edges are prepared.
    pub preparation: Preparation,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Included angle of a V or of the flanks of a U; the angle of the one bevel of a bevel or a J. Not used by square edges.
    pub included_angle_deg: f64,
    /// Root gap, mm.
    pub root_gap_mm: f64,
    /// Root face, mm. Not used by square edges.
    pub root_face_mm: f64,
    /// Radius of a U or a J, mm. Not used by others.
    pub radius_mm: f64,
    /// Height of the cap above the surface, mm; of a double preparation on both sides.
    pub cap_height_mm: f64,
    /// Height of the root reinforcement under the lower surface, mm. Not used by double preparations.
    pub root_height_mm: f64,
}

impl Default for Groove {
    /// Square edges of a 1 mm plate, closed and flush: a base to write the other sizes over.
    fn default() -> Self {
        Self {
            preparation: Preparation::Square,
            thickness_mm: 1.0,
            included_angle_deg: 0.0,
            root_gap_mm: 0.0,
            root_face_mm: 0.0,
            radius_mm: 0.0,
            cap_height_mm: 0.0,
            root_height_mm: 0.0,
        }
    }
}

/// The area of a weld in a groove, part by part, in mm².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrossSection {
    /// What the groove holds up to the surfaces.
    pub groove_mm2: f64,
    /// The cap, or both caps of a double preparation.
    pub cap_mm2: f64,
    /// The root reinforcement.
    pub root_mm2: f64,
    /// All of it.
    pub total_mm2: f64,
}

/// A point, mm: x across the joint from its middle, y down from the upper surface.
pub type Point = [f64; 2];

/// The round part of a wall, mm and degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallArc {
    /// Centre.
    pub centre: Point,
    /// Radius, mm.
    pub radius_mm: f64,
    /// Where the arc leaves the root face.
    pub from: Point,
    /// Where it runs into the straight flank, or meets the surface.
    pub to: Point,
    /// How far it turns, degrees.
    pub turn_deg: f64,
}

/// One wall of a groove from the upper surface to the lower one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Wall {
    /// The wall as a polyline; arcs in fine steps.
    pub points: Vec<Point>,
    /// The arcs of the wall, from the top.
    pub arcs: Vec<WallArc>,
}

/// The exact outline of a groove and of the weld's bows over it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The left wall: the prepared one of a bevel or a J.
    pub left: Wall,
    /// The right wall.
    pub right: Wall,
    /// The cap from left to right, above the surface (y below 0); empty where there is none.
    pub cap: Vec<Point>,
    /// The bow under the lower surface from right to left: root reinforcement, or second cap; empty where there is none.
    pub under: Vec<Point>,
}

impl Outline {
    /// The groove between its walls and the two surfaces, as a closed polygon; the last point is not the first again.
    pub fn groove_polygon(&self) -> Vec<Point> {
        self.left.points.iter().chain(self.right.points.iter().rev()).copied().collect()
    }

    /// The weld: the groove with its cap and what is under it, as a closed polygon; the last point is not the first again.
    pub fn weld_polygon(&self) -> Vec<Point> {
        let inner = |bow: &[Point]| bow.get(1..bow.len().saturating_sub(1)).unwrap_or_default().to_vec();
        let mut polygon = self.left.points.clone();
        let mut under = inner(&self.under);
        under.reverse();
        polygon.extend(under);
        polygon.extend(self.right.points.iter().rev());
        let mut cap = inner(&self.cap);
        cap.reverse();
        polygon.extend(cap);
        polygon
    }
}

/// Steps of an arc or a bow; an arc of 90 degrees then lacks 0.01 % of its area.
const STEPS: u32 = 64;

impl Groove {
    /// The angle of the left and of the right flank, radians, after all sizes have been looked at.
    fn flanks(&self) -> Result<[Flank; 2]> {
        THICKNESS.positive(self.thickness_mm)?;
        ROOT_GAP.not_negative(self.root_gap_mm)?;
        CAP_HEIGHT.not_negative(self.cap_height_mm)?;
        ROOT_HEIGHT.not_negative(self.root_height_mm)?;
        if self.preparation == Preparation::Square {
            return Ok([Flank::UPRIGHT; 2]);
        }
        ROOT_FACE.not_negative(self.root_face_mm)?;
        if self.root_face_mm >= self.thickness_mm {
            return Err(ROOT_FACE.refuse(self.root_face_mm, Must::StayBelowOther("the thickness", self.thickness_mm)));
        }
        let (argument, share) =
            if self.preparation.is_one_sided() { (BEVEL_ANGLE, 1.0) } else { (INCLUDED_ANGLE, 0.5) };
        let given = self.included_angle_deg;
        let given = argument.below(argument.not_negative(given)?, 90.0 / share)?;
        let angle = (given * share).to_radians();
        let flank = if self.preparation.has_radius() {
            Flank::Round { angle, radius: RADIUS.positive(self.radius_mm)? }
        } else {
            argument.positive(given)?;
            Flank::Straight(angle)
        };
        Ok([flank, if self.preparation.is_one_sided() { Flank::UPRIGHT } else { flank }])
    }

    /// Depth of the groove above its root face, mm: of each side of a double preparation.
    fn depth(&self) -> f64 {
        match self.preparation {
            Preparation::Square => 0.0,
            _ if self.preparation.is_double() => (self.thickness_mm - self.root_face_mm) / 2.0,
            _ => self.thickness_mm - self.root_face_mm,
        }
    }

    /// Width of the groove at the surface in mm, which the cap spans: root gap and what the flanks open to.
    ///
    /// Refuses sizes that cannot be, as all of this type's functions do: thickness 0 or less, a root face as thick as the plate,
    /// an included angle of 180° (a bevel of 90°) or more, a U or J without radius. A V of 60° in 10 mm with a gap of 2 mm is
    /// 13.55 mm wide.
    pub fn cap_width_mm(&self) -> Result<f64> {
        let depth = self.depth();
        let open: f64 = self.flanks()?.iter().map(|flank| flank.aside(depth)).sum();
        result("cap width", self.root_gap_mm + open)
    }

    /// Area of the weld in mm²: groove, cap and root reinforcement.
    ///
    /// Straight flanks: `b t + h² tan β` for a V, half of the second for a bevel. Round flanks: see [`ROUND_FLANKS`]. Cap and
    /// root: `2/3 w h`, the cap as wide as the groove, the root as wide as the gap. Source: geometry; weight tables of
    /// consumables handbooks.
    ///
    /// ```
    /// use seamwright_calc::{Groove, Preparation};
    /// // Table of an electrode handbook: V of 60 degrees, 10 mm, gap 2 mm, no root face: 77.5 cm3/m.
    /// let groove = Groove {
    ///     preparation: Preparation::SingleV,
    ///     thickness_mm: 10.0,
    ///     included_angle_deg: 60.0,
    ///     root_gap_mm: 2.0,
    ///     ..Groove::default()
    /// };
    /// assert!((groove.cross_section()?.total_mm2 - 77.5).abs() < 0.3);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn cross_section(&self) -> Result<CrossSection> {
        let depth = self.depth();
        let sides = if self.preparation.is_double() { 2.0 } else { 1.0 };
        let flanks: f64 = self.flanks()?.iter().map(|flank| flank.area(depth)).sum();
        let groove_mm2 = self.root_gap_mm * self.thickness_mm + sides * flanks;
        let cap_mm2 = sides * bow_area(self.cap_width_mm()?, self.cap_height_mm);
        let root_mm2 = if self.preparation.is_double() { 0.0 } else { bow_area(self.root_gap_mm, self.root_height_mm) };
        let total_mm2 = result("cross-section", groove_mm2 + cap_mm2 + root_mm2)?;
        Ok(CrossSection { groove_mm2, cap_mm2, root_mm2, total_mm2 })
    }

    /// The outline that [`Groove::cross_section`] is the area of.
    ///
    /// Walls run from the upper surface to the lower one; arcs are flattened in fine steps and given as arcs too.
    pub fn outline(&self) -> Result<Outline> {
        let flanks = self.flanks()?;
        self.cross_section()?;
        let [left, right] = flanks.map(|flank| self.wall(flank));
        let half_gap = self.root_gap_mm / 2.0;
        let left = left.placed(|[aside, y]| [-half_gap - aside, y]);
        let right = right.placed(|[aside, y]| [half_gap + aside, y]);
        let x = |wall: &Wall, at: Option<&Point>| at.or(wall.points.first()).map_or(0.0, |point| point[0]);
        let (from, to) = (x(&left, left.points.first()), x(&right, right.points.first()));
        let cap = bow([from, 0.0], [to, 0.0], -self.cap_height_mm);
        let under_height = if self.preparation.is_double() { self.cap_height_mm } else { self.root_height_mm };
        let (from, to) = (x(&right, right.points.last()), x(&left, left.points.last()));
        let under = bow([from, self.thickness_mm], [to, self.thickness_mm], under_height);
        for points in [&left.points, &right.points, &cap, &under] {
            finite_points(points)?;
        }
        Ok(Outline { left, right, cap, under })
    }

    /// A wall as (aside from the gap's edge, depth), with its arcs.
    fn wall(&self, flank: Flank) -> Wall {
        let (depth, thickness) = (self.depth(), self.thickness_mm);
        // From the surface down to the root face, then mirrored for the other side.
        let mut down = Wall { points: vec![[flank.aside(depth), 0.0]], arcs: Vec::new() };
        if let Flank::Round { angle, radius } = flank {
            let turn = Flank::turn(angle, radius, depth);
            let on_arc = |turn: f64| [radius * turn.sin(), depth - radius * (1.0 - turn.cos())];
            let to = on_arc(turn);
            if to[1] > 1e-9 * thickness {
                down.points.push(to);
            }
            for step in (1..STEPS).rev() {
                down.points.push(on_arc(turn * f64::from(step) / f64::from(STEPS)));
            }
            let centre = [0.0, depth - radius];
            let turn_deg = turn.to_degrees();
            down.arcs.push(WallArc { centre, radius_mm: radius, from: [0.0, depth], to, turn_deg });
        }
        if depth > 0.0 {
            down.points.push([0.0, depth]);
        }
        if self.preparation.is_double() {
            let up = down.clone().placed(|[aside, y]| [aside, thickness - y]);
            // Without a root face the two sides share their last point.
            let shared = usize::from(self.root_face_mm <= 0.0);
            down.points.extend(up.points.into_iter().rev().skip(shared));
            down.arcs.extend(up.arcs.into_iter().rev());
        } else if depth < thickness {
            down.points.push([0.0, thickness]);
        }
        down
    }
}

impl Wall {
    fn placed(mut self, at: impl Fn(Point) -> Point) -> Self {
        for point in &mut self.points {
            *point = at(*point);
        }
        for arc in &mut self.arcs {
            *arc = WallArc { centre: at(arc.centre), from: at(arc.from), to: at(arc.to), ..*arc };
        }
        self
    }
}

/// Area of a bow in mm² from its width and height: `2/3 w h`, a parabola.
///
/// Source: the weight tables of a consumables handbook use it for the cap. Both must be 0 or more.
///
/// ```
/// // Handbook table: 12.70 mm wide, 3.18 mm high, 0.210 kg/m at 7.83 g/cm3.
/// let area = seamwright_calc::groove::bow_area_mm2(12.70, 3.18)?;
/// assert!((area * 7.83e-3 - 0.210).abs() < 0.001);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn bow_area_mm2(width_mm: f64, height_mm: f64) -> Result<f64> {
    let width = Argument("width", "mm").not_negative(width_mm)?;
    result("area", bow_area(width, Argument("height", "mm").not_negative(height_mm)?))
}

fn bow_area(width: f64, height: f64) -> f64 {
    2.0 / 3.0 * width * height
}

/// Refuses an outline that runs out of the range of numbers.
pub(crate) fn finite_points(points: &[Point]) -> Result<()> {
    points.iter().flatten().try_for_each(|value| result("outline", *value).map(|_| ()))
}

/// A parabola over a chord that is level, as a polyline; empty where it has no height or no width.
fn bow(from: Point, to: Point, height: f64) -> Vec<Point> {
    let width = to[0] - from[0];
    if height.abs() <= 0.0 || width.abs() <= 0.0 {
        return Vec::new();
    }
    (0..=STEPS)
        .map(|step| {
            let share = f64::from(step) / f64::from(STEPS);
            [from[0] + share * width, from[1] + 4.0 * share * (1.0 - share) * height]
        })
        .collect()
}

/// The sizes of a prepared joint as ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GrooveRange {
    /// How the edges are prepared.
    pub preparation: Preparation,
    /// Thickness, mm.
    pub thickness_mm: Band,
    /// Angle, as in [`Groove`].
    pub included_angle_deg: Band,
    /// Root gap, mm.
    pub root_gap_mm: Band,
    /// Root face, mm.
    pub root_face_mm: Band,
    /// Radius, mm.
    pub radius_mm: Band,
    /// Height of the cap, mm.
    pub cap_height_mm: Band,
    /// Height of the root reinforcement, mm.
    pub root_height_mm: Band,
}

impl GrooveRange {
    fn at(&self, of: impl Fn(Band) -> f64, root_face_of: impl Fn(Band) -> f64) -> Groove {
        Groove {
            preparation: self.preparation,
            thickness_mm: of(self.thickness_mm),
            included_angle_deg: of(self.included_angle_deg),
            root_gap_mm: of(self.root_gap_mm),
            root_face_mm: root_face_of(self.root_face_mm),
            radius_mm: of(self.radius_mm),
            cap_height_mm: of(self.cap_height_mm),
            root_height_mm: of(self.root_height_mm),
        }
    }

    /// The groove of the least area: every size at its low end, the root face at its high end.
    pub fn low(&self) -> Groove {
        self.at(|own| own.low, |own| own.high)
    }

    /// The groove with every size at its middle.
    pub fn middle(&self) -> Groove {
        self.at(|own| own.middle(), |own| own.middle())
    }

    /// The groove of the greatest area: every size at its high end, the root face at its low end.
    pub fn high(&self) -> Groove {
        self.at(|own| own.high, |own| own.low)
    }

    /// The area of the weld in mm² at the least, in the middle, and at the most.
    pub fn cross_section_mm2(&self) -> Result<Spread> {
        Ok(Spread {
            low: self.low().cross_section()?.total_mm2,
            middle: self.middle().cross_section()?.total_mm2,
            high: self.high().cross_section()?.total_mm2,
        })
    }
}
