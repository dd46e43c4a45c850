//! Fillets in tee, lap and corner joints.

use super::geometry::{Geometry, Member};
use super::region::{Region, Wedge};
use super::sizes::Sizes;
use crate::sketch::joint_sketch::FilletSize;

fn fillet_of(sizes: &Sizes, least: f64) -> FilletSize {
    sizes.fillet.unwrap_or(FilletSize { legs: [least, least], both_sides: false })
}

/// What fillets fill; they have no groove.
fn of_wedges(sizes: &Sizes, wedges: Vec<Wedge>) -> Geometry {
    Geometry {
        regions: wedges.iter().map(|wedge| Region::wedge(wedge, sizes.reinforcement)).collect(),
        wedge: wedges.into_iter().next(),
        ..Geometry::default()
    }
}

/// A plate that stands on another, with fillets.
pub(super) fn fillet_tee(sizes: &Sizes, tail: f64) -> Geometry {
    let [t1, t2] = sizes.thickness;
    let h = sizes.half_gap;
    let fillet = fillet_of(sizes, 0.7 * sizes.thin());
    let legs = fillet.legs;
    let length = h + tail + legs[0];
    let reach = tail + legs[1];
    let left = Wedge { apex: (h, t1), toes: [(h - legs[0], t1), (h, t1 + legs[1])] };
    let right = Wedge { apex: (h, 0.0), toes: [(h - legs[0], 0.0), (h, -legs[1])] };
    let wedges = match (fillet.both_sides, sizes.pipe) {
        (true, _) => vec![left, right],
        // The outside of the pipe: its centre line is at the right.
        (false, true) => vec![left],
        // Where position and torch have it too.
        (false, false) => vec![right],
    };
    let web = Member { outline: vec![(-h, 0.0), (-h, t1), (-length, t1), (-length, 0.0)], broken: vec![2] };
    let base = Member {
        outline: vec![(h, t1 + reach), (h + t2, t1 + reach), (h + t2, -reach), (h, -reach)],
        broken: vec![0, 2],
    };
    Geometry {
        members: vec![web, base],
        gap: (h > 0.0).then_some(((-h, 0.0), (h, 0.0))),
        thickness: [((-length, 0.0), (-length, t1)), ((h, -reach), (h + t2, -reach))],
        thickness_away: [(-1.0, 0.0), (0.0, -1.0)],
        pipe_end: (-1.0, 0.0),
        pipe_surface: (-length, t1),
        turned: true,
        ..of_wedges(sizes, wedges)
    }
}

/// One plate over another, with fillets at its edges.
pub(super) fn lap(sizes: &Sizes, tail: f64) -> Geometry {
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
        thickness: [((-left, gap), (-left, gap + t1)), ((right, -t2), (right, 0.0))],
        thickness_away: [(-1.0, 0.0), (1.0, 0.0)],
        pipe_end: (1.0, 0.0),
        pipe_surface: (right, 0.0),
        ..of_wedges(sizes, wedges)
    }
}

/// Two plates whose inner edges touch, filled from outside.
pub(super) fn open_corner(sizes: &Sizes, tail: f64) -> Geometry {
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
        thickness: [((-t1, -length), (0.0, -length)), ((length, 0.0), (length, t2))],
        thickness_away: [(0.0, -1.0), (1.0, 0.0)],
        pipe_end: (1.0, 0.0),
        pipe_surface: (length, t2),
        ..of_wedges(sizes, wedges)
    }
}
