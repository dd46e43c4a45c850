//! The joint in section: outlines of the members and the room that weld metal fills.
//!
//! Everything is in the frame of the joint: mm, x across the groove, y up from the root side, the gap's middle at
//! x = 0. The first member lies left of the gap. Tee and corner joints are the same frame turned by a right angle on
//! paper, the standing member being the left one. A [`Region`] is what one side fills; seen from its own face it has
//! one bottom and one top over every x, which is what lets `bead.rs` lay beads in it.

use super::canvas::{Point, add, dot, sane, sub, times, unit};
use super::groove::{Backing, FilletSize, JointKind, JointSketch, Preparation};

/// Steps across a region; its curves are drawn with them.
const STEPS: u32 = 140;
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
            return Flank::Straight(0.0);
        }
        match self.preparation {
            Preparation::None | Preparation::Square => Flank::Straight(0.0),
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

/// The face of a groove above its root face.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Flank {
    /// At an angle from the upright, radians.
    Straight(f64),
    /// A quarter round that runs into a straight face.
    Round { angle: f64, radius: f64 },
}

impl Flank {
    /// How far the face has gone sideways at a height above the root face.
    fn aside(self, height: f64) -> f64 {
        let height = height.max(0.0);
        match self {
            Self::Straight(angle) => height * angle.tan(),
            Self::Round { angle, radius } => {
                let end = radius * (1.0 - angle.sin());
                if height < end {
                    (2.0 * radius * height - height * height).max(0.0).sqrt()
                } else {
                    radius * angle.cos() + (height - end) * angle.tan()
                }
            }
        }
    }

    /// The height above the root face at which the face has gone so far sideways.
    fn height(self, aside: f64) -> f64 {
        match self {
            Self::Straight(angle) => {
                if angle.tan() > 1e-9 {
                    aside / angle.tan()
                } else {
                    0.0
                }
            }
            Self::Round { angle, radius } => {
                let reach = radius * angle.cos();
                if aside < reach {
                    radius - (radius * radius - aside * aside).max(0.0).sqrt()
                } else if angle.tan() > 1e-9 {
                    radius * (1.0 - angle.sin()) + (aside - reach) / angle.tan()
                } else {
                    radius
                }
            }
        }
    }

    /// Points (aside, height) from the root face up to `top`.
    fn points(self, top: f64) -> Vec<Point> {
        let mut points = vec![(0.0, 0.0)];
        if let Self::Round { angle, radius } = self {
            let full = std::f64::consts::FRAC_PI_2 - angle;
            for step in 1..=ROUND {
                let turn = full * f64::from(step) / f64::from(ROUND);
                let height = radius * (1.0 - turn.cos());
                if height < top {
                    points.push((radius * turn.sin(), height));
                }
            }
        }
        points.push((self.aside(top), top));
        points
    }

    fn is_upright(self) -> bool {
        matches!(self, Self::Straight(angle) if angle < 1e-6)
    }

    /// Direction of the straight part, outwards and up.
    fn direction(self) -> Point {
        let (Self::Straight(angle) | Self::Round { angle, .. }) = self;
        (angle.sin(), angle.cos())
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

/// Butt, and grooves in tee and corner joints.
fn groove(sizes: &Sizes, tail: f64) -> Geometry {
    let double = sizes.preparation.is_double();
    let [t1, t2] = sizes.thickness;
    let standing = matches!(sizes.joint, JointKind::Tee | JointKind::Corner);
    // Levels of each member; the other member of a tee or corner joint is a wall of the first one's thickness.
    let levels = |thickness: f64| if double { (-thickness / 2.0, thickness / 2.0) } else { (0.0, thickness) };
    let spans = [levels(t1), levels(if standing { t1 } else { t2 })];
    let thin = if standing { t1 } else { sizes.thin() };
    let h = sizes.half_gap;
    let square = sizes.preparation == Preparation::Square || sizes.preparation == Preparation::None;
    let face = if square { thin } else { sizes.root_face.min(thin * 0.95) };
    // Levels of the root face.
    let (c0, c1) = match (double, sizes.depth) {
        (false, None) => (0.0, face),
        (false, Some(depth)) => (0.0, if square { thin } else { thin - depth }),
        (true, None) => (-face / 2.0, face / 2.0),
        (true, Some(depth)) => {
            let face = (thin - 2.0 * depth.min(thin * 0.49)).max(0.0);
            (-face / 2.0, face / 2.0)
        }
    };

    let mut members = Vec::new();
    let mut opening = 0.0_f64;
    for (member, sign) in [(0, -1.0), (1, 1.0)] {
        let flank = sizes.flank(member);
        let (y0, y1) = spans.get(member).copied().unwrap_or((0.0, thin));
        if member == 1 && standing {
            continue;
        }
        let mut wall: Vec<Point> = Vec::new();
        if double {
            wall.extend(
                flank.points(c0 - y0).into_iter().rev().map(|(aside, height)| (sign * (h + aside), c0 - height)),
            );
        } else {
            wall.push((sign * h, y0));
        }
        if square {
            wall.push((sign * h, y1));
        } else {
            wall.extend(flank.points(y1 - c1).into_iter().map(|(aside, height)| (sign * (h + aside), c1 + height)));
        }
        wall.dedup_by(|a, b| (a.0 - b.0).abs() + (a.1 - b.1).abs() < 1e-9);
        opening = wall.iter().map(|point| point.0.abs()).fold(opening, f64::max);
        members.push((wall, sign, y0, y1));
    }
    let regions = groove_regions(sizes, spans, (c0, c1), thin);
    let welded = regions.iter().flat_map(|region| &region.xs).map(|x| x.abs()).fold(0.0, f64::max);
    let backed = if sizes.backing == Backing::None { 0.0 } else { backing_size(sizes).0 };
    // The right-hand end of a region on a standing member lies on the other member, which is as long as it needs to be.
    let length = opening.max(welded).max(backed) + tail;
    let mut drawn: Vec<Member> = Vec::new();
    for (wall, sign, y0, y1) in members {
        let mut outline = wall;
        outline.push((sign * length, y1));
        let broken = vec![outline.len() - 1];
        outline.push((sign * length, y0));
        drawn.push(Member { outline, broken });
    }
    let (y0, y1) = spans[0];
    let reach = (y1 - y0) * 0.25 + tail;
    if standing {
        let closed = sizes.joint == JointKind::Corner;
        let (top, bottom) = (if closed { y1 } else { y1 + reach }, y0 - reach);
        let outline = vec![(h, top), (h + t2, top), (h + t2, bottom), (h, bottom)];
        // From the inner end; the outer end of a corner is a real edge.
        drawn.push(Member { outline, broken: if closed { vec![2] } else { vec![0, 2] } });
    }

    let flanks = [sizes.flank(0), sizes.flank(1)];
    let faces = if square {
        None
    } else {
        let edge = |member: usize, sign: f64, y1: f64| {
            let flank = flanks.get(member).copied().unwrap_or(Flank::Straight(0.0));
            let (dx, dy) = flank.direction();
            ((sign * (h + flank.aside(y1 - c1)), y1), (sign * dx, dy))
        };
        Some([edge(0, -1.0, spans[0].1), edge(1, 1.0, spans[1].1)])
    };
    let gap_level = if double { c0 } else { spans[0].0 };
    let radius = match flanks[0] {
        Flank::Round { angle, radius } if radius > 0.0 => {
            let turn = (std::f64::consts::FRAC_PI_2 - angle) * 0.55;
            Some(((-h - radius * turn.sin(), c1 + radius * (1.0 - turn.cos())), (-h, c1 + radius)))
        }
        _ => None,
    };
    let thickness = if standing {
        [((-length, y0), (-length, y1)), ((h, y0 - reach), (h + t2, y0 - reach))]
    } else {
        [((-length, spans[0].0), (-length, spans[0].1)), ((length, spans[1].0), (length, spans[1].1))]
    };
    Geometry {
        members: drawn,
        regions,
        wedge: None,
        faces,
        gap: Some(((-h, gap_level), (h, gap_level))),
        root_face: (!square && c1 - c0 > 1e-6).then_some(((-h, c0), (-h, c1))),
        depth: sizes.depth.map(|_| ((-h, c1), (-h - flanks[0].aside(y1 - c1), y1))),
        radius,
        thickness,
        thickness_away: if standing { [(-1.0, 0.0), (0.0, -1.0)] } else { [(-1.0, 0.0), (1.0, 0.0)] },
        pipe_end: if standing { (-1.0, 0.0) } else { (1.0, 0.0) },
        pipe_surface: if standing { (-length, y1) } else { (length, spans[1].1) },
        turned: standing,
    }
}

/// One wall of a region, seen with its face up.
struct Bank {
    /// Half width at the base.
    half: f64,
    /// Half gap, from which the flank starts.
    gap: f64,
    flank: Flank,
    /// Level at which the flank starts.
    foot: f64,
    /// Level of the surface.
    surface: f64,
    /// How far the cap reaches over the edge.
    over: f64,
    /// The wall goes on beyond the cap, as that of a tee joint does.
    wall: bool,
}

impl Bank {
    /// Points (aside, level) from the base out to the toe of the cap.
    fn profile(&self, base: f64) -> Vec<Point> {
        let mut points = vec![(self.half, base)];
        if self.wall {
            points.push((self.half, self.surface));
            return points;
        }
        let full = self.surface - self.foot;
        if self.flank.is_upright() || self.half - self.gap >= self.flank.aside(full) {
            points.push((self.half, self.surface));
        } else {
            let started = self.half - self.gap;
            let start = self.flank.height(started);
            points.push((self.half, (self.foot + start).max(base)));
            for (aside, height) in self.flank.points(full) {
                if aside > started + 1e-9 {
                    points.push((self.gap + aside, (self.foot + height).max(base)));
                }
            }
        }
        let edge = points.last().map_or(self.half, |point| point.0);
        if self.over > 0.0 {
            points.push((edge + self.over, self.surface));
        }
        points
    }
}

/// What each side of a groove fills.
fn groove_regions(sizes: &Sizes, spans: [(f64, f64); 2], (c0, c1): (f64, f64), thin: f64) -> Vec<Region> {
    let standing = matches!(sizes.joint, JointKind::Tee | JointKind::Corner);
    let double = sizes.preparation.is_double();
    let square = matches!(sizes.preparation, Preparation::Square | Preparation::None);
    let second = double || sizes.back_run;
    // The sides meet within the root face, or within a square edge.
    let meeting = if double {
        f64::midpoint(c0, c1)
    } else if !second {
        spans[0].0
    } else if square {
        thin * 0.5
    } else {
        c1 * 0.5
    };
    let partial = sizes.depth.is_some();
    let mut regions = Vec::new();
    for side in 0..if second { 2 } else { 1 } {
        let up = if side == 0 { 1.0 } else { -1.0 };
        // Levels as seen with this side's face up.
        let surface = |member: usize| {
            let (y0, y1) = spans.get(member).copied().unwrap_or((0.0, thin));
            if side == 0 { y1 } else { -y0 }
        };
        let foot = if side == 0 { c1 } else { -c0 };
        let grooved = side == 0 || double;
        let mut base = meeting * up;
        if partial {
            base = match (sizes.depth, square) {
                (Some(depth), true) => surface(0).min(surface(1)) - depth.min(thin * if second { 0.5 } else { 1.0 }),
                _ if grooved => foot,
                _ => base,
            };
        }
        let half_root = if partial && !square { sizes.half_gap } else { root_width(sizes) };
        let taper = square && (partial || sizes.half_gap < least_root(sizes));
        let lowest = surface(0).min(surface(1));
        let mut banks = Vec::new();
        for member in 0..2 {
            let wall = standing && member == 1 && sizes.joint == JointKind::Tee;
            let (flank, gap, foot, half) = if taper {
                // Edges without a gap are melted in the shape of the pool: wider at the face.
                let half = half_root;
                let wide = (sizes.half_gap + 0.42 * (lowest - base)).max(half * 1.5);
                let angle = ((wide - half) / (lowest - base).max(1e-6)).atan();
                (Flank::Straight(angle), half, base, half)
            } else if grooved {
                (sizes.flank(member), sizes.half_gap, foot, half_root)
            } else {
                (Flank::Straight(0.0), sizes.half_gap, foot, half_root)
            };
            let half = if wall { sizes.half_gap } else { half };
            let opening = flank.aside(surface(member) - foot);
            let mut over = (0.1 * (opening * 2.0 + gap)).clamp(0.3, 1.6).min(0.25 * thin + 0.2);
            if !grooved && !square {
                over = (0.35 * thin).clamp(0.6, 3.0);
            }
            if surface(member) > lowest + 1e-9 {
                over = 0.0;
            }
            if sizes.joint == JointKind::Corner && member == 1 {
                over = over.min(sizes.thickness[1] * 0.6);
            }
            banks.push(Bank { half, gap, flank, foot, surface: surface(member), over, wall });
        }
        let [Some(left), Some(right)] = [banks.first(), banks.get(1)] else { continue };
        let bulge = if second || partial { 0.0 } else { root_bulge(sizes) };
        let profile = [left.profile(base), right.profile(base)];
        let mut bottom: Vec<Point> = profile[0].iter().rev().map(|&(aside, level)| (-aside, level)).collect();
        // The bottom of a full-penetration root hangs through the gap.
        for step in 1..20 {
            let f = f64::from(step) / 20.0;
            let x = -left.half + (left.half + right.half) * f;
            bottom.push((x, base - bulge * 4.0 * f * (1.0 - f)));
        }
        bottom.extend(profile[1].iter().copied());
        let mut toes = (bottom.first().copied().unwrap_or((-1.0, base)), bottom.last().copied().unwrap_or((1.0, base)));
        if right.wall {
            // Against the wall of a tee joint the cap is a fillet.
            let legs = sizes.fillet.map_or([0.25 * thin; 2], |fillet| fillet.legs);
            let on_side = side == 0 || sizes.fillet.is_none_or(|fillet| fillet.both_sides);
            let legs = if on_side { legs } else { [0.25 * thin; 2] };
            toes.1.1 = right.surface + legs[1];
            let edge = toes.0.0 + left.over;
            let toe = edge.min(sizes.half_gap - legs[0]);
            if toe < edge - left.over
                && let Some(first) = bottom.first_mut()
            {
                first.0 = toe;
                toes.0.0 = toe;
            }
        }
        let width = toes.1.0 - toes.0.0;
        let usual = (0.09 * width).clamp(0.3, 2.5).min(0.35 * thin + 0.2);
        let rise = sizes.reinforcement.unwrap_or(usual);
        regions.push(Region::new(bottom, toes, rise, Place::Groove { up }));
    }
    regions
}

/// How far the root hangs through.
fn root_bulge(sizes: &Sizes) -> f64 {
    let usual = match sizes.backing {
        // The root is fused into the strip.
        Backing::Strip => (0.08 * sizes.thin()).clamp(0.2, 0.8),
        Backing::Ceramic => hollow(sizes),
        _ => (0.1 * sizes.thin()).clamp(0.25, 1.0),
    };
    sizes.root_penetration.unwrap_or(usual).min(4.0 * root_width(sizes))
}

fn fillet_of(sizes: &Sizes, least: f64) -> FilletSize {
    sizes.fillet.unwrap_or(FilletSize { legs: [least, least], both_sides: false })
}

fn wedge_regions(sizes: &Sizes, wedges: &[Wedge]) -> Vec<Region> {
    wedges.iter().map(|wedge| Region::wedge(wedge, sizes.reinforcement)).collect()
}

/// A plate that stands on another, with fillets.
fn fillet_tee(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let h = sizes.half_gap;
    let fillet = fillet_of(sizes, 0.7 * sizes.thin());
    let legs = fillet.legs;
    let length = h + tail + legs[0];
    let reach = tail + legs[1];
    let mut wedges = vec![Wedge { apex: (h, t1), toes: [(h - legs[0], t1), (h, t1 + legs[1])] }];
    if fillet.both_sides {
        wedges.push(Wedge { apex: (h, 0.0), toes: [(h - legs[0], 0.0), (h, -legs[1])] });
    }
    let web = Member { outline: vec![(-h, 0.0), (-h, t1), (-length, t1), (-length, 0.0)], broken: vec![2] };
    let base = Member {
        outline: vec![(h, t1 + reach), (h + t2, t1 + reach), (h + t2, -reach), (h, -reach)],
        broken: vec![0, 2],
    };
    Geometry {
        members: vec![web, base],
        regions: wedge_regions(sizes, &wedges),
        wedge: wedges.into_iter().next(),
        faces: None,
        gap: (h > 0.0).then_some(((-h, 0.0), (h, 0.0))),
        root_face: None,
        depth: None,
        radius: None,
        thickness: [((-length, 0.0), (-length, t1)), ((h, -reach), (h + t2, -reach))],
        thickness_away: [(-1.0, 0.0), (0.0, -1.0)],
        pipe_end: (-1.0, 0.0),
        pipe_surface: (-length, t1),
        turned: true,
    }
}

/// One plate over another, with fillets at its edges.
fn lap(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let fillet = fillet_of(sizes, sizes.thin());
    let legs = fillet.legs;
    let gap = (2.0 * sizes.half_gap).min(legs[0] * 0.4).min(t1 * 0.4);
    // The leg is measured from the lower plate up.
    let up = legs[0].min(t1 + gap);
    let overlap = sizes.overlap();
    let right = legs[1] + tail;
    let left = overlap + tail;
    let upper = Member { outline: vec![(0.0, gap), (0.0, gap + t1), (-left, gap + t1), (-left, gap)], broken: vec![2] };
    let lower = Member { outline: vec![(-overlap, 0.0), (right, 0.0), (right, -t2), (-overlap, -t2)], broken: vec![1] };
    let mut wedges = vec![Wedge { apex: (0.0, 0.0), toes: [(0.0, up), (legs[1], 0.0)] }];
    if fillet.both_sides {
        let down = legs[0].min(t2 + gap);
        wedges.push(Wedge { apex: (-overlap, gap), toes: [(-overlap - legs[1], gap), (-overlap, gap - down)] });
    }
    Geometry {
        members: vec![upper, lower],
        regions: wedge_regions(sizes, &wedges),
        wedge: wedges.into_iter().next(),
        faces: None,
        gap: None,
        root_face: None,
        depth: None,
        radius: None,
        thickness: [((-left, gap), (-left, gap + t1)), ((right, -t2), (right, 0.0))],
        thickness_away: [(-1.0, 0.0), (1.0, 0.0)],
        pipe_end: (1.0, 0.0),
        pipe_surface: (right, 0.0),
        turned: false,
    }
}

/// Two plates whose inner edges touch, filled from outside.
fn open_corner(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let fillet = fillet_of(sizes, sizes.thin());
    let legs = [fillet.legs[0].min(t2), fillet.legs[1].min(t1)];
    let length = tail + t1.max(t2);
    // The first member hangs down, the second lies to the right; the corner between their ends is outside.
    let first = Member { outline: vec![(-t1, -length), (-t1, 0.0), (0.0, 0.0), (0.0, -length)], broken: vec![3] };
    let second = Member { outline: vec![(length, t2), (0.0, t2), (0.0, 0.0), (length, 0.0)], broken: vec![3] };
    let mut wedges = vec![Wedge { apex: (0.0, 0.0), toes: [(0.0, legs[0]), (-legs[1], 0.0)] }];
    if fillet.both_sides {
        let inner = [legs[0].min(0.7 * t1), legs[1].min(0.7 * t2)];
        wedges.push(Wedge { apex: (0.0, 0.0), toes: [(0.0, -inner[0]), (inner[1], 0.0)] });
    }
    Geometry {
        members: vec![first, second],
        regions: wedge_regions(sizes, &wedges),
        wedge: wedges.into_iter().next(),
        faces: None,
        gap: None,
        root_face: None,
        depth: None,
        radius: None,
        thickness: [((-t1, -length), (0.0, -length)), ((length, 0.0), (length, t2))],
        thickness_away: [(0.0, -1.0), (1.0, 0.0)],
        pipe_end: (1.0, 0.0),
        pipe_surface: (length, t2),
        turned: false,
    }
}

/// Two plates face to face, welded on their edges.
fn edge(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let thin = sizes.thin();
    let square = matches!(sizes.preparation, Preparation::None | Preparation::Square);
    let deep = sizes.depth.unwrap_or(0.6 * thin);
    let length = (deep + tail).max(t1 + t2);
    let half_gap = sizes.half_gap.min(0.3 * thin);
    let mut members = Vec::new();
    let mut openings = [0.0; 2];
    for (member, sign, thickness) in [(0_usize, -1.0, t1), (1, 1.0, t2)] {
        let flank = if square { Flank::Straight(0.0) } else { sizes.flank(member) };
        let mut wall = vec![(sign * half_gap, -length)];
        for (aside, height) in flank.points(deep) {
            wall.push((sign * (half_gap + aside.min(thickness * 0.9)), height - deep));
        }
        if let Some(opening) = openings.get_mut(member) {
            *opening = flank.aside(deep).min(thickness * 0.9);
        }
        wall.push((sign * (half_gap + thickness), 0.0));
        let broken = vec![wall.len()];
        wall.push((sign * (half_gap + thickness), -length));
        wall.dedup_by(|a, b| (a.0 - b.0).abs() + (a.1 - b.1).abs() < 1e-9);
        let broken = if wall.len() - 1 == broken[0] { broken } else { vec![wall.len() - 1] };
        members.push(Member { outline: wall, broken });
    }
    // The pool melts the edges from one outer face to the other, deepest at the seam.
    let toes = ((-half_gap - t1 * 0.96, 0.0), (half_gap + t2 * 0.96, 0.0));
    let mut bottom = Vec::new();
    for step in 0..=40 {
        let f = f64::from(step) / 40.0;
        let x = toes.0.0 + (toes.1.0 - toes.0.0) * f;
        let (width, opening) = if x < 0.0 { (-toes.0.0, openings[0]) } else { (toes.1.0, openings[1]) };
        let share = (x.abs() / width).min(1.0);
        let melted = deep * (1.0 - share * share);
        let prepared = if opening > 0.0 && x.abs() < half_gap + opening {
            deep * (1.0 - (x.abs() - half_gap).max(0.0) / opening)
        } else {
            0.0
        };
        bottom.push((x, -melted.max(prepared)));
    }
    let rise = sizes.reinforcement.unwrap_or((0.12 * (t1 + t2)).clamp(0.3, 3.0));
    let region = Region::new(bottom, toes, rise, Place::Groove { up: 1.0 });
    Geometry {
        members,
        regions: vec![region],
        wedge: None,
        faces: (!square).then(|| {
            let face = |member: usize, sign: f64| {
                let (dx, dy) = sizes.flank(member).direction();
                let aside = openings.get(member).copied().unwrap_or(0.0);
                ((sign * (half_gap + aside), 0.0), (sign * dx, dy))
            };
            [face(0, -1.0), face(1, 1.0)]
        }),
        gap: (half_gap > 0.0).then_some(((-half_gap, -length), (half_gap, -length))),
        root_face: None,
        depth: sizes.depth.map(|_| ((-half_gap, -deep), (-half_gap - openings[0], 0.0))),
        radius: None,
        thickness: [((-half_gap - t1, -length), (-half_gap, -length)), ((half_gap, -length), (half_gap + t2, -length))],
        thickness_away: [(0.0, -1.0), (0.0, -1.0)],
        pipe_end: (1.0, 0.0),
        pipe_surface: (half_gap + t2, 0.0),
        turned: false,
    }
}

/// How the frame of a region lies in that of the joint.
#[derive(Debug, Clone, Copy)]
enum Place {
    /// Upright, or head over heels for the second side.
    Groove { up: f64 },
    /// x along the face of a fillet from its second toe to its first, y out of it.
    Wedge { origin: Point, x: Point, y: Point },
}

/// What one side of a joint fills, with its face up: one bottom and one top over every x.
#[derive(Debug, Clone)]
pub(super) struct Region {
    /// x in rising order; an x that comes twice is an upright wall.
    pub(super) xs: Vec<f64>,
    pub(super) bottom: Vec<f64>,
    toes: (Point, Point),
    rise: f64,
    place: Place,
}

impl Region {
    fn new(bottom: Vec<Point>, toes: (Point, Point), rise: f64, place: Place) -> Self {
        let width = (toes.1.0 - toes.0.0).max(1e-6);
        let longest = width / f64::from(STEPS);
        let mut xs = Vec::new();
        let mut levels = Vec::new();
        let mut last: Option<Point> = None;
        for (x, y) in bottom {
            if let Some((x0, y0)) = last {
                let pieces = ((x - x0) / longest).ceil().clamp(1.0, f64::from(STEPS));
                let mut piece = 1.0;
                while piece < pieces {
                    let f = piece / pieces;
                    xs.push(x0 + (x - x0) * f);
                    levels.push(y0 + (y - y0) * f);
                    piece += 1.0;
                }
            }
            xs.push(x);
            levels.push(y);
            last = Some((x, y));
        }
        Self { xs, bottom: levels, toes, rise, place }
    }

    fn wedge(wedge: &Wedge, rise: Option<f64>) -> Self {
        let [first, second] = wedge.toes;
        let x = unit(sub(first, second));
        let foot = dot(sub(wedge.apex, second), x);
        let origin = add(second, times(x, foot));
        let out = sub(origin, wedge.apex);
        let deep = out.0.hypot(out.1);
        let y = unit(out);
        let chord = sub(first, second);
        let width = chord.0.hypot(chord.1);
        let rise = rise.unwrap_or((0.05 * width).clamp(0.05, 2.0));
        let toes = ((-foot, 0.0), (width - foot, 0.0));
        Self::new(vec![toes.0, (0.0, -deep), toes.1], toes, rise, Place::Wedge { origin, x, y })
    }

    /// Whether it is a fillet.
    pub(super) fn is_wedge(&self) -> bool {
        matches!(self.place, Place::Wedge { .. })
    }

    /// The face over each x: one dome, or scallops between the given cuts (shares of the width, rising).
    pub(super) fn top(&self, cuts: &[f64]) -> Vec<f64> {
        let ((x0, y0), (x1, y1)) = self.toes;
        let width = (x1 - x0).max(1e-9);
        let scalloped = !cuts.is_empty();
        self.xs
            .iter()
            .zip(&self.bottom)
            .map(|(&x, &bottom)| {
                let f = ((x - x0) / width).clamp(0.0, 1.0);
                let dome = 4.0 * f * (1.0 - f);
                let rise = if scalloped {
                    let from = cuts.iter().copied().rfind(|&cut| cut <= f).unwrap_or(0.0);
                    let to = cuts.iter().copied().find(|&cut| cut > f).unwrap_or(1.0);
                    let g = ((f - from) / (to - from).max(1e-9)).clamp(0.0, 1.0);
                    // A scallop is as steep as a single bead of its width would be, within the height of the cap.
                    let scallop = (to - from).max(0.15) * 1.1;
                    self.rise * ((1.0 - scallop.min(0.45)) * dome + scallop.min(0.45) * 4.0 * g * (1.0 - g))
                } else {
                    self.rise * dome
                };
                (y0 + (y1 - y0) * f + rise).max(bottom)
            })
            .collect()
    }

    /// A point of the region in the frame of the joint.
    pub(super) fn in_joint(&self, (x, y): Point) -> Point {
        match self.place {
            Place::Groove { up } => (x, y * up),
            Place::Wedge { origin, x: along, y: out } => add(origin, add(times(along, x), times(out, y))),
        }
    }

    /// The outline in the frame of the joint, with one dome.
    pub(super) fn outline(&self) -> Vec<Point> {
        self.outline_under(&self.top(&[]))
    }

    /// The outline under a face, in the frame of the joint.
    pub(super) fn outline_under(&self, top: &[f64]) -> Vec<Point> {
        let upper = self.xs.iter().zip(top).rev();
        self.xs.iter().zip(&self.bottom).chain(upper).map(|(&x, &y)| self.in_joint((x, y))).collect()
    }
}
