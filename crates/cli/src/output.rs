//! Writing: a file is there whole or not at all, whatever happens while it is written.
//!
//! A file is written beside its place under a hidden name, then renamed. While it is written it is locked, so that what
//! a killed run left behind can be told from what another run is writing now.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

use anyhow::{Result, anyhow};
use seamwright_desk::files::{reason, shown};
use tempfile::NamedTempFile;

/// How the hidden names begin and end.
const PART: (&str, &str) = (".seamwright-", ".part");

/// Writes a file whole or not at all; its folder is made if it is not there.
///
/// A link at this place is replaced; what it leads to stays as it is.
pub fn write(path: &Path, bytes: &[u8]) -> Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let failed = |error: &io::Error| anyhow!("{}: cannot be written: {}", shown(path), reason(error));
    let put = || {
        fs::create_dir_all(folder)?;
        let mut file = part(folder)?;
        file.write_all(bytes)?;
        file.flush()?;
        file.persist(path).map_err(|error| error.error)
    };
    put().map(|_: File| ()).map_err(|error| failed(&error))
}

/// A new hidden file, locked.
fn part(folder: &Path) -> io::Result<NamedTempFile> {
    const TRIES: usize = 8;
    let mut builder = tempfile::Builder::new();
    builder.prefix(PART.0).suffix(PART.1);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o644));
    }
    for _ in 0..TRIES {
        let file = builder.tempfile_in(folder)?;
        // Where the file system knows no locks, no run can sweep either.
        let _ = file.as_file().lock();
        // Another run may have swept it away before it was locked.
        if file.path().exists() {
            return Ok(file);
        }
    }
    Err(io::Error::other("another program removes the files that are written here"))
}

/// Removes the hidden files that killed runs left in a folder; those of runs that are at work are locked, and stay.
///
/// What cannot be removed does no harm, and is not told.
pub fn sweep(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let own = name.to_str().is_some_and(|name| name.starts_with(PART.0) && name.ends_with(PART.1));
        if own
            && entry.file_type().is_ok_and(|kind| kind.is_file())
            && let Ok(file) = File::open(entry.path())
            && file.try_lock().is_ok()
        {
            let _ = fs::remove_file(entry.path());
        }
    }
}
