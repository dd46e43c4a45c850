//! The joint in section: outlines of the members and the room that weld metal fills.
//!
//! Everything is in the frame of the joint: mm, x across the groove, y up from the root side, the gap's middle at
//! x = 0. The first member lies left of the gap. Tee and corner joints are the same frame turned by a right angle on
//! paper, the standing member being the left one. A [`Region`] is what one side fills; seen from its own face it has
//! one bottom and one top over every x, which is what lets `bead.rs` lay beads in it.

mod edge;
mod filleted;
mod geometry;
mod grooved;
mod region;
mod sizes;

pub(super) use self::geometry::Geometry;
pub(super) use self::region::Region;
pub(super) use self::sizes::Sizes;

use self::edge::edge;
use self::filleted::{fillet_tee, lap, open_corner};
use self::grooved::groove;
use super::joint_sketch::JointKind;

/// The section of a joint whose plates are drawn beyond the weld by `tail` mm or `share` of their thickness,
/// whichever is more.
pub(super) fn section(sizes: &Sizes, tail: f64, share: f64) -> Geometry {
    let tail = tail.max(share * sizes.thickness[0].max(sizes.thickness[1]));
    match (sizes.joint, sizes.preparation) {
        (JointKind::Lap, _) => lap(sizes, tail),
        (JointKind::Corner, None) => open_corner(sizes, tail),
        (JointKind::Tee, None) => fillet_tee(sizes, tail),
        (JointKind::Edge, _) => edge(sizes, tail),
        _ => groove(sizes, tail),
    }
}
