//! A procedure beside its test records, and what they qualify.

use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;

use crate::codes::code::Code;
use crate::codes::combine::SetAside;
use crate::codes::range::Qualified;
use crate::subject::Subject;

/// A procedure held against test records.
pub struct AgainstRecords;

impl Subject for AgainstRecords {
    const WORD: &'static str = "procedure against test records";
    type View<'d> = AgainstView<'d>;
}

/// A procedure, its records and what they qualify together.
pub struct AgainstView<'d> {
    /// The procedure; pointers of findings lead into it.
    pub view: &'d View<'d>,
    /// The code.
    pub code: &'d dyn Code,
    /// The records.
    pub records: &'d [&'d TestRecord],
    /// What those that the procedure may rest on qualify together.
    pub ranges: &'d [Qualified],
    /// The others.
    pub aside: &'d [SetAside],
}
