//! The version of the file format.

/// The version of the file format that this program reads.
pub const FORMAT: u32 = 1;
