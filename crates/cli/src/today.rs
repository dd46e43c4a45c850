//! The day on which documents are checked.

use seamwright_desk::files::Disk;
use seamwright_model::stated::Date;

/// The files of this machine, today.
pub fn disk() -> Disk {
    Disk::new(today())
}

/// The day of the place: the date on the calendar of this machine, by its time zone.
pub fn today() -> Date {
    Date(jiff::ZonedDateTime::now().date())
}
