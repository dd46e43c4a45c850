//! Edge joints.

use seamwright_calc::Flank;

use super::geometry::{Geometry, Member};
use super::region::{Place, Region};
use super::sizes::{ROUND, Sizes};
use seamwright_model::procedure::Preparation;

/// Two plates face to face, welded on their edges.
pub(super) fn edge(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let thin = sizes.thin();
    let square = matches!(sizes.preparation, None | Some(Preparation::Square));
    let deep = sizes.depth.unwrap_or(0.6 * thin);
    let length = (deep + tail).max(t1 + t2);
    let half_gap = sizes.half_gap.min(0.3 * thin);
    let mut members = Vec::new();
    let mut openings = [0.0; 2];
    for (member, sign, thickness) in [(0_usize, -1.0, t1), (1, 1.0, t2)] {
        let flank = if square { Flank::UPRIGHT } else { sizes.flank(member) };
        let mut wall = vec![(sign * half_gap, -length)];
        for (aside, height) in flank.points(deep, ROUND) {
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
