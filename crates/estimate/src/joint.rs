//! Joints to be welded.

/// Joints of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Name of the joint on the drawing.
    pub name: String,
    /// Length of weld, mm.
    pub length_mm: f64,
    /// How many there are.
    pub count: u32,
}
