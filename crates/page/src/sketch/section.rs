//! The joint in section: outlines of the members and the room that weld metal fills.
//!
//! Everything is in the frame of the joint: mm, x across the groove, y up from the root side, the gap's middle at
//! x = 0. The first member lies left of the gap. Tee and corner joints are the same frame turned by a right angle on
//! paper, the standing member being the left one. A [`Region`] is what one side fills; seen from its own face it has
//! one bottom and one top over every x, which is what lets `bead.rs` lay beads in it.

mod edge;
mod filleted;
mod grooved;
mod region;

pub(super) use self::region::Region;

use seamwright_calc::Flank;

use self::edge::edge;
use self::filleted::{fillet_tee, lap, open_corner};
use self::grooved::groove;
use super::canvas::{Point, sane, times};
use super::groove::{Backing, FilletSize, JointKind, JointSketch, Preparation, Section};

/// Steps of the round part of a U or J flank.
const ROUND: u32 = 14;

/// The sizes of a sketch, cut to what can be drawn.
#[derive(Debug, Clone)]
pub(super) struct Sizes {
    pub(super) joint: JointKind,
    pub(super) preparation: Preparation,
    pub(super) thickness: [f64; 2],
    /// Half the included angle of V and U, the bevel angle of bevel and J, radians.
    flank_angle: f64,
    half_gap: f64,
    root_face: f64,
    radius: f64,
    depth: Option<f64>,
    pub(super) backing: Backing,
    /// The wall of a pipe.
    pub(super) pipe: bool,
    pub(super) fillet: Option<FilletSize>,
    reinforcement: Option<f64>,
    root_penetration: Option<f64>,
    /// A run from the other side of a joint prepared from one.
    back_run: bool,
}

impl Sizes {
    pub(super) fn of(sketch: &JointSketch) -> Self {
        let thickness = sketch.thickness.map(|value| sane(value, 0.3, 500.0, 10.0));
        let thin = thickness[0].min(thickness[1]);
        let preparation = sketch.preparation;
        let one_flank = matches!(sketch.joint, JointKind::Tee | JointKind::Corner);
        let included = matches!(
            preparation,
            Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU
        );
        // A V against the side of another plate has its whole angle on the one edge.
        let share = if included && !one_flank { 0.5 } else { 1.0 };
        let flank_angle = sane(sketch.angle * share, 0.0, 75.0, 30.0).to_radians();
        let fillet = sketch.fillet.map(|fillet| FilletSize {
            legs: fillet.legs.map(|leg| sane(leg, 0.2, 300.0, 3.0)),
            both_sides: fillet.both_sides,
        });
        let fillet = fillet.map(|fillet| match sketch.joint {
            // A leg cannot be longer than the edge that it lies on.
            JointKind::Lap => FilletSize { legs: [fillet.legs[0].min(thickness[0]), fillet.legs[1]], ..fillet },
            JointKind::Corner if preparation == Preparation::None => {
                FilletSize { legs: [fillet.legs[0].min(thickness[1]), fillet.legs[1].min(thickness[0])], ..fillet }
            }
            _ => fillet,
        });
        let mut half_gap = sane(sketch.gap, 0.0, 60.0, 0.0) / 2.0;
        if let (Some(fillet), Preparation::None) = (fillet, preparation) {
            half_gap = half_gap.min(fillet.legs[0] * 0.3);
        }
        let square = matches!(preparation, Preparation::None | Preparation::Square);
        Self {
            joint: sketch.joint,
            preparation,
            thickness,
            flank_angle,
            half_gap,
            root_face: if square { thin } else { sane(sketch.root_face, 0.0, thin * 0.95, 0.0) },
            radius: sane(sketch.radius, 0.0, thin, 0.0),
            depth: sketch.depth.map(|depth| sane(depth, thin * 0.05, thin, thin)).filter(|depth| *depth < thin * 0.999),
            backing: sketch.backing,
            pipe: matches!(sketch.section, Section::Pipe { .. }),
            fillet,
            reinforcement: sketch.reinforcement.map(|value| sane(value, 0.0, 20.0, 1.0)),
            root_penetration: sketch.root_penetration.map(|value| sane(value, 0.0, 10.0, 0.8)),
            back_run: sketch.runs.iter().any(|run| run.second_side),
        }
    }

    /// A fillet with no groove under it.
    pub(super) fn is_fillet(&self) -> bool {
        self.fillet.is_some()
            && (matches!(self.joint, JointKind::Lap)
                || (matches!(self.preparation, Preparation::None)
                    && matches!(self.joint, JointKind::Tee | JointKind::Corner)))
            || self.joint == JointKind::Lap
    }

    fn thin(&self) -> f64 {
        self.thickness[0].min(self.thickness[1])
    }

    /// The flank of a member: the first has it always, the second in V and U only.
    fn flank(&self, member: usize) -> Flank {
        let both = matches!(
            self.preparation,
            Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU
        ) && !matches!(self.joint, JointKind::Tee | JointKind::Corner);
        if member == 1 && !both {
            return Flank::UPRIGHT;
        }
        match self.preparation {
            Preparation::None | Preparation::Square => Flank::UPRIGHT,
            Preparation::SingleV | Preparation::DoubleV | Preparation::SingleBevel | Preparation::DoubleBevel => {
                Flank::Straight(self.flank_angle)
            }
            Preparation::SingleU | Preparation::DoubleU | Preparation::SingleJ | Preparation::DoubleJ => {
                Flank::Round { angle: self.flank_angle, radius: self.radius }
            }
        }
    }

    /// Length of the lower plate under the upper one of a lap joint.
    fn overlap(&self) -> f64 {
        let legs = self.fillet.map_or(0.0, |fillet| if fillet.both_sides { fillet.legs[1] } else { 0.0 });
        2.5 * self.thin() + 1.2 * legs
    }
}

/// A member in section.
#[derive(Debug, Clone)]
pub(super) struct Member {
    /// Closed outline.
    pub(super) outline: Vec<Point>,
    /// Which edges are broken off; edge i runs from point i to the next.
    pub(super) broken: Vec<usize>,
}

/// A fillet's corner and toes.
#[derive(Debug, Clone)]
pub(super) struct Wedge {
    pub(super) apex: Point,
    /// Toes on the first and on the second member.
    pub(super) toes: [Point; 2],
}

/// The joint in section.
#[derive(Debug, Clone)]
pub(super) struct Geometry {
    pub(super) members: Vec<Member>,
    /// What the first side fills, then the second.
    pub(super) regions: Vec<Region>,
    /// The first fillet.
    pub(super) wedge: Option<Wedge>,
    /// Top edge and direction of the groove face of each member.
    pub(super) faces: Option<[(Point, Point); 2]>,
    pub(super) gap: Option<(Point, Point)>,
    pub(super) root_face: Option<(Point, Point)>,
    pub(super) depth: Option<(Point, Point)>,
    /// A point on the round part and the centre of the round.
    pub(super) radius: Option<(Point, Point)>,
    pub(super) thickness: [(Point, Point); 2],
    /// Where the thickness of each member is dimensioned.
    pub(super) thickness_away: [Point; 2],
    /// The end of the pipe at which its diameter is dimensioned, and its outer surface there.
    pub(super) pipe_end: Point,
    pub(super) pipe_surface: Point,
    turned: bool,
}

impl Geometry {
    /// The section of a joint whose plates are drawn beyond the weld by `tail` mm or `share` of their thickness,
    /// whichever is more.
    pub(super) fn new(sizes: &Sizes, tail: f64, share: f64) -> Self {
        let tail = tail.max(share * sizes.thickness[0].max(sizes.thickness[1]));
        match (sizes.joint, sizes.preparation) {
            (JointKind::Lap, _) => lap(sizes, tail),
            (JointKind::Corner, Preparation::None) => open_corner(sizes, tail),
            (JointKind::Tee, Preparation::None) => fillet_tee(sizes, tail),
            (JointKind::Edge, _) => edge(sizes, tail),
            _ => groove(sizes, tail),
        }
    }

    /// A direction of the joint on paper.
    pub(super) fn turn(&self, direction: Point) -> Point {
        let (x, y) = direction;
        if self.turned { (-y, x) } else { (x, -y) }
    }

    /// A point of the joint on paper, origin at the root.
    pub(super) fn on_paper(&self, at: Point, scale: f64) -> Point {
        times(self.turn(at), scale)
    }

    /// Outline of the backing, and the hollow in it.
    pub(super) fn backing(&self, sizes: &Sizes) -> Option<(Vec<Point>, Vec<Point>)> {
        if sizes.backing == Backing::None
            || matches!(sizes.joint, JointKind::Lap | JointKind::Edge)
            || sizes.is_fillet()
        {
            return None;
        }
        let (width, height) = backing_size(sizes);
        let bottom = self.gap.map_or(0.0, |_| root_level(sizes));
        let left = -width;
        let right = if sizes.joint == JointKind::Butt { width } else { sizes.half_gap };
        let outline = match sizes.backing {
            // Open to the root: the channel that holds the gas.
            Backing::Gas if sizes.joint == JointKind::Butt => {
                vec![(left, bottom), (left, bottom - height), (right, bottom - height), (right, bottom)]
            }
            Backing::Gas => vec![(left, bottom), (left, bottom - height), (right, bottom - height)],
            _ => vec![(left, bottom), (left, bottom - height), (right, bottom - height), (right, bottom)],
        };
        let half = root_width(sizes) + 0.2 * sizes.thin().min(4.0);
        let deep = hollow(sizes);
        let hollow = (0..=20)
            .map(|step| {
                let f = f64::from(step) / 10.0 - 1.0;
                ((half * f).min(right), bottom - deep * (1.0 - f * f))
            })
            .collect();
        Some((outline, hollow))
    }

    /// The corner of the backing to which its label points.
    pub(super) fn backing_mark(&self, sizes: &Sizes) -> Option<Point> {
        self.backing(sizes)?;
        let (width, height) = backing_size(sizes);
        Some((-width * 0.8, root_level(sizes) - height))
    }
}

fn backing_size(sizes: &Sizes) -> (f64, f64) {
    let thin = sizes.thin();
    let width = sizes.half_gap + (0.9 * thin).clamp(2.0, 14.0);
    let height =
        if sizes.backing == Backing::Gas { (0.8 * thin).clamp(2.5, 10.0) } else { (0.45 * thin).clamp(1.5, 6.0) };
    (width, height)
}

fn root_level(sizes: &Sizes) -> f64 {
    if sizes.preparation.is_double() { -sizes.thin() / 2.0 } else { 0.0 }
}

fn hollow(sizes: &Sizes) -> f64 {
    (0.12 * sizes.thin()).clamp(0.4, 1.4)
}

/// Half the width that the root run melts at the least: edges that touch are fused too.
fn least_root(sizes: &Sizes) -> f64 {
    (0.12 * sizes.thin()).clamp(0.3, 1.0)
}

fn root_width(sizes: &Sizes) -> f64 {
    sizes.half_gap.max(least_root(sizes))
}
