//! What ISO 15609-1 asks a procedure to state: the source of checks that find a value missing.

use seamwright_handbook::{SourceRef, iso_15609_1};

/// Where the standard asks for a key of the format, such as `joint.cleaning`, with its clause.
pub(super) fn asked(key: &str) -> Option<SourceRef> {
    let row = iso_15609_1::rows().iter().find(|row| row.keys.contains(&key))?;
    let mut source = row.origin.source_ref();
    source.clause = Some(row.clause.into());
    Some(source)
}
