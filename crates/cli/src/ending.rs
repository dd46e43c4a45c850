//! How a command ended.

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// Nothing wrong.
    Clean,
    /// Findings of severity error.
    Findings,
    /// The work, or a part of it, could not be done.
    Failed,
}
