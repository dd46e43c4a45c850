//! Butt joints, and grooves in tee and corner joints.

use seamwright_calc::Flank;

use super::geometry::{Geometry, Member};
use super::region::{Place, Region};
use super::sizes::{ROUND, Sizes, backing_size, hollow, least_root, root_width};
use crate::point::Point;
use seamwright_model::procedure::Preparation;

use crate::sketch::joint_sketch::{Backing, JointKind};

/// Butt, and grooves in tee and corner joints.
pub(super) fn groove(sizes: &Sizes, tail: f64) -> Geometry {
    let double = sizes.preparation.is_some_and(Preparation::is_double);
    let [t1, t2] = sizes.thickness;
    let standing = matches!(sizes.joint, JointKind::Tee | JointKind::Corner);
    // Levels of each member; the other member of a tee or corner joint is a wall of the first one's thickness.
    let levels = |thickness: f64| if double { (-thickness / 2.0, thickness / 2.0) } else { (0.0, thickness) };
    let spans = [levels(t1), levels(if standing { t1 } else { t2 })];
    let thin = if standing { t1 } else { sizes.thin() };
    let h = sizes.half_gap;
    let square = matches!(sizes.preparation, None | Some(Preparation::Square));
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
                flank.points(c0 - y0, ROUND).into_iter().rev().map(|(aside, height)| (sign * (h + aside), c0 - height)),
            );
        } else {
            wall.push((sign * h, y0));
        }
        if square {
            wall.push((sign * h, y1));
        } else {
            wall.extend(
                flank.points(y1 - c1, ROUND).into_iter().map(|(aside, height)| (sign * (h + aside), c1 + height)),
            );
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
            let flank = flanks.get(member).copied().unwrap_or(Flank::UPRIGHT);
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
            for (aside, height) in self.flank.points(full, ROUND) {
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
    let double = sizes.preparation.is_some_and(Preparation::is_double);
    let square = matches!(sizes.preparation, None | Some(Preparation::Square));
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
                (Flank::UPRIGHT, sizes.half_gap, foot, half_root)
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
