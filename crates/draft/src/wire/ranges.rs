//! What the tables have of a wire.

use seamwright_handbook::{Band, SourceRef};

/// The ranges of a wire in one mode of transfer.
pub(crate) struct Ranges {
    pub(crate) current: (Band, SourceRef),
    /// The whole range of current, to which the ranges of voltage and wire feed belong.
    pub(crate) whole_a: Band,
    pub(crate) voltage: Option<(Band, SourceRef)>,
    pub(crate) feed: Option<(Band, SourceRef)>,
    pub(crate) tip_to_work: Option<(Band, SourceRef)>,
    pub(crate) gas_flow: Option<(Band, SourceRef)>,
    /// Travel speed of one run on this thickness, where a row of the wire is for it.
    pub(crate) travel: Option<(Band, SourceRef)>,
    pub(crate) how: String,
}
