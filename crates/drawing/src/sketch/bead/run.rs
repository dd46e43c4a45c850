//! Runs that have been given to a side, and the beads that they make.

use crate::sketch::joint_sketch::Layer;

/// A run that has been given to a side.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) order: usize,
    pub(super) label: String,
    pub(super) layer: Layer,
    pub(super) share: f64,
}

/// A bead in the joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// Number in the order of welding.
    pub label: String,
    /// Where it lies.
    pub layer: Layer,
    /// Welded from the other side.
    pub second_side: bool,
    /// Outline as drawn, mm of the joint, y downwards.
    pub polygon: Vec<(f64, f64)>,
    /// Area, mm².
    pub area: f64,
}
