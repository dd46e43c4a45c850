//! What a file may be at the most.

/// Bytes in a file: 1 MiB.
pub const FILE_BYTES: usize = 1 << 20;
/// Bytes in one value.
pub const SCALAR_BYTES: usize = 16 * 1024;
/// Sections inside sections.
pub const DEPTH: usize = 32;
/// Values in a file, aliases written out.
pub const NODES: usize = 400_000;
/// Bytes of text in a file, aliases written out: 4 MiB.
pub const TEXT_BYTES: usize = 4 << 20;
/// Keys in one section.
pub const KEYS: usize = 1_000;
/// Errors that are reported of one file.
pub const FAULTS: usize = 200;
