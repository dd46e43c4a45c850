//! The day on which documents are checked.

use seamwright_desk::files::Disk;
use seamwright_model::stated::Date;

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// The files of this machine, today.
pub fn disk() -> Disk {
    Disk::new(today())
}

/// The day of the place: the date on the calendar of this machine, by its time zone.
pub fn today() -> Date {
    let zone = set_here().unwrap_or_else(TimeZone::system);
    Date(Timestamp::now().to_zoned_datetime(zone).date())
}

/// The time zone that the machine is set to, where nothing asks for another.
///
/// The file is read as it stands: to find its name takes a walk over every zone there is, at each start of the program.
fn set_here() -> Option<TimeZone> {
    if std::env::var_os("TZ").is_some() {
        return None;
    }
    TimeZone::tzif("", &std::fs::read("/etc/localtime").ok()?).ok()
}
