//! A procedure beside its test records, and what they qualify.

use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;

use crate::codes::code::Code;
use crate::codes::combine::SetAside;
use crate::codes::qualify::Qualification;
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
    /// What each of them qualifies, in their order.
    pub qualifications: &'d [&'d Qualification],
    /// Those of them that the procedure may rest on.
    pub supporting: &'d [&'d Qualification],
    /// What those qualify together.
    pub ranges: &'d [Qualified],
    /// The others.
    pub aside: &'d [SetAside],
}

impl<'d> AgainstView<'d> {
    /// The records, each with what it qualifies.
    pub(super) fn tested(&self) -> impl Iterator<Item = (&'d TestRecord, &'d Qualification)> {
        self.records.iter().copied().zip(self.qualifications.iter().copied())
    }

    /// The place where the procedure names a record, or where it would.
    pub(super) fn place_of(&self, record: &TestRecord) -> String {
        let listed = self.view.procedure.qualification.as_ref().map(|own| own.records.as_slice()).unwrap_or_default();
        let place = listed.iter().position(|own| *own == record.identification.number);
        place.map_or_else(|| "/qualification/records".to_owned(), |index| format!("/qualification/records/{index}"))
    }

    /// What is said of records, by place: records that the procedure does not list share one.
    pub(super) fn by_place(
        &self,
        said: impl Fn(&'d TestRecord, &'d Qualification) -> Option<String>,
    ) -> Vec<(String, String)> {
        let mut places: Vec<(String, String)> = Vec::new();
        for (record, qualification) in self.tested() {
            let Some(words) = said(record, qualification) else { continue };
            let place = self.place_of(record);
            match places.iter_mut().find(|(own, _)| *own == place) {
                Some((_, all)) => *all = format!("{all}; {words}"),
                None => places.push((place, words)),
            }
        }
        places
    }
}
