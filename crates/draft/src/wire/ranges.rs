//! What the tables have of a wire.

use seamwright_handbook::{Range, SourceRef};

/// The ranges of a wire in one mode of transfer.
pub(crate) struct Ranges {
    pub(crate) current: (Range, SourceRef),
    /// The whole range of current, to which the ranges of voltage and wire feed belong.
    pub(crate) whole_a: Range,
    pub(crate) voltage: Option<(Range, SourceRef)>,
    pub(crate) feed: Option<(Range, SourceRef)>,
    pub(crate) tip_to_work: Option<(Range, SourceRef)>,
    pub(crate) gas_flow: Option<(Range, SourceRef)>,
    /// Travel speed of one run on this thickness, where a row of the wire is for it.
    pub(crate) travel: Option<(Range, SourceRef)>,
    pub(crate) how: String,
}
