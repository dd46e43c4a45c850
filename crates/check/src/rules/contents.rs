//! What ISO 15609-1 asks a procedure to state: the source of checks that find a value missing.

use seamwright_handbook::iso_15609_1;

use seamwright_model::finding::Limit;

use crate::rule::Report;

impl Report<'_> {
    /// What ISO 15609-1 asks for under a key of the format, such as `joint.cleaning`, as the limit, with its clause.
    pub(super) fn asked(self, key: &str, limit: impl Into<Limit>) {
        if let Some(row) = iso_15609_1::rows().iter().find(|row| row.keys.contains(&key)) {
            let mut source = row.origin.source_ref();
            source.clause = Some(row.clause.into());
            self.limit(limit, &source);
        }
    }
}
