//! How much is read of a file at the most, whatever it says of itself.

use std::cell::Cell;

use super::arrival::Unreadable;

/// Bytes that all streams together unpack to.
const UNPACKED: usize = 96 * 1024 * 1024;

/// Bytes that are read as objects, those that stand in several counted each time.
const READ: usize = 64 * 1024 * 1024;

/// Parts of objects that are read, all of them together.
const PARTS: usize = 1_500_000;

/// What may still be read.
pub(super) struct Budget {
    pub(super) read: Cell<usize>,
    pub(super) parts: Cell<usize>,
    pub(super) unpacked: Cell<usize>,
}

impl Budget {
    /// What may be read of one file.
    pub(super) const fn whole() -> Self {
        Self { read: Cell::new(READ), parts: Cell::new(PARTS), unpacked: Cell::new(UNPACKED) }
    }

    /// Takes a part of what is left; refused where that is less.
    pub(super) fn take(left: &Cell<usize>, own: usize) -> Result<(), Unreadable> {
        match left.get().checked_sub(own) {
            Some(rest) => {
                left.set(rest);
                Ok(())
            }
            None => Err(Unreadable::TooMuch),
        }
    }
}
