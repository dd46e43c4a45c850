//! The day on which documents are checked.

use seamwright_desk::files::Disk;
use seamwright_model::stated::Date;

/// The files of this machine, today.
pub fn disk() -> Disk {
    Disk::new(today())
}

/// The day where the sun rises first: a date that is today anywhere does not lie in the future.
pub fn today() -> Date {
    Date(jiff::tz::offset(14).to_datetime(jiff::Timestamp::now()).date())
}
