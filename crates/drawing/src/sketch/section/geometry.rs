//! The joint in section: members, what the sides fill, and where it is dimensioned.

use crate::point::{Point, times};
use crate::sketch::joint_sketch::{Backing, JointKind};

use super::region::{Region, Wedge};
use super::sizes::{Sizes, backing_size, hollow, root_level, root_width};

/// A member in section.
#[derive(Debug, Clone)]
pub(in crate::sketch) struct Member {
    /// Closed outline.
    pub(in crate::sketch) outline: Vec<Point>,
    /// Which edges are broken off; edge i runs from point i to the next.
    pub(in crate::sketch) broken: Vec<usize>,
}

/// The joint in section.
#[derive(Debug, Clone, Default)]
pub(in crate::sketch) struct Geometry {
    pub(in crate::sketch) members: Vec<Member>,
    /// What the first side fills, then the second.
    pub(in crate::sketch) regions: Vec<Region>,
    /// The first fillet.
    pub(in crate::sketch) wedge: Option<Wedge>,
    /// Top edge and direction of the groove face of each member.
    pub(in crate::sketch) faces: Option<[(Point, Point); 2]>,
    pub(in crate::sketch) gap: Option<(Point, Point)>,
    pub(in crate::sketch) root_face: Option<(Point, Point)>,
    pub(in crate::sketch) depth: Option<(Point, Point)>,
    /// A point on the round part and the centre of the round.
    pub(in crate::sketch) radius: Option<(Point, Point)>,
    pub(in crate::sketch) thickness: [(Point, Point); 2],
    /// Where the thickness of each member is dimensioned.
    pub(in crate::sketch) thickness_away: [Point; 2],
    /// The end of the pipe at which its diameter is dimensioned, and its outer surface there.
    pub(in crate::sketch) pipe_end: Point,
    pub(in crate::sketch) pipe_surface: Point,
    pub(super) turned: bool,
}

impl Geometry {
    /// A direction of the joint on paper.
    pub(in crate::sketch) fn turn(&self, direction: Point) -> Point {
        let (x, y) = direction;
        if self.turned { (-y, x) } else { (x, -y) }
    }

    /// A point of the joint on paper, origin at the root.
    pub(in crate::sketch) fn on_paper(&self, at: Point, scale: f64) -> Point {
        times(self.turn(at), scale)
    }

    /// Outline of the backing, and the hollow in it.
    pub(in crate::sketch) fn backing(&self, sizes: &Sizes) -> Option<(Vec<Point>, Vec<Point>)> {
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
    pub(in crate::sketch) fn backing_mark(&self, sizes: &Sizes) -> Option<Point> {
        self.backing(sizes)?;
        let (width, height) = backing_size(sizes);
        Some((-width * 0.8, root_level(sizes) - height))
    }
}
