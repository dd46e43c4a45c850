//! Writing over a file that a person keeps: whole or not at all, on the disk before the old one goes, with its mode kept,
//! and through a link that stays.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Writes a person's file whole or not at all.
///
/// The new text is on the disk before it takes the old one's place, and so is the folder after it. The mode of a file that
/// was there is kept; a new one has the mode that the system gives. Where a link stands, the file that it leads to is written.
/// Errors: of the system; a link that leads nowhere, or anything else that is no regular file.
pub fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    write_synced(path, bytes, &|file| file.sync_all())
}

/// The same with what waits until a file, or a folder, is on the disk.
fn write_synced(path: &Path, bytes: &[u8], sync: &dyn Fn(&File) -> io::Result<()>) -> io::Result<()> {
    let place = place(path)?;
    let folder = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let before = match fs::metadata(&place) {
        Ok(before) => Some(before.permissions()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(error),
    };
    if before.as_ref().is_some_and(fs::Permissions::readonly) {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file may not be written over"));
    }
    let mut builder = tempfile::Builder::new();
    builder.prefix(".seamwright-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // Less what the system's mask takes, as for any new file.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    // A locked one is left alone by other runs; where the file system knows no locks, they cannot sweep either.
    let _ = file.as_file().lock();
    file.write_all(bytes)?;
    if let Some(permissions) = before {
        file.as_file().set_permissions(permissions)?;
    }
    sync(file.as_file())?;
    file.persist(&place).map_err(|error| error.error)?;
    // A new name is on the disk once its folder is; a system that opens no folder does that by itself.
    File::open(folder).map_or(Ok(()), |folder| sync(&folder))
}

/// The file that is written.
fn place(path: &Path) -> io::Result<PathBuf> {
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(path.to_owned()),
        Err(error) => Err(error),
        Ok(found) if found.is_symlink() => {
            let target = fs::canonicalize(path)?;
            if fs::metadata(&target)?.is_file() { Ok(target) } else { Err(not_regular()) }
        }
        Ok(found) if found.is_file() => Ok(path.to_owned()),
        Ok(_) => Err(not_regular()),
    }
}

fn not_regular() -> io::Error {
    io::Error::other("it is not a regular file")
}

#[cfg(all(test, unix))]
mod tests {
    use std::os::unix::fs::{PermissionsExt, symlink};

    use super::*;

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_written_over_and_keeps_its_mode() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("p.yaml");
        for kept in [0o600, 0o640, 0o664] {
            fs::write(&path, "old").unwrap();
            fs::set_permissions(&path, fs::Permissions::from_mode(kept)).unwrap();
            write(&path, b"new").unwrap();
            assert_eq!((fs::read(&path).unwrap(), mode(&path)), (b"new".to_vec(), kept));
        }
        let new = folder.path().join("new.yaml");
        let usual = folder.path().join("usual.yaml");
        File::create(&usual).unwrap();
        write(&new, b"new").unwrap();
        assert_eq!(mode(&new), mode(&usual), "as any new file");
        assert_eq!(names(folder.path()), ["new.yaml", "p.yaml", "usual.yaml"]);
    }

    #[test]
    fn the_text_is_on_the_disk_before_the_old_one_goes_and_the_folder_after_it() {
        use std::cell::RefCell;

        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("p.yaml");
        for before in [None, Some("old")] {
            if let Some(before) = before {
                fs::write(&path, before).unwrap();
            } else {
                let _ = fs::remove_file(&path);
            }
            let stood = || fs::read_to_string(&path).ok();
            let seen = RefCell::new(Vec::new());
            let watched = |file: &File| {
                let own = file.metadata().unwrap();
                seen.borrow_mut().push((own.is_dir(), own.len(), stood()));
                file.sync_all()
            };
            write_synced(&path, b"new text", &watched).unwrap();
            let seen = seen.into_inner();
            assert_eq!(seen.len(), 2, "{seen:?}");
            assert_eq!(seen[0], (false, 8, before.map(str::to_owned)), "the whole text, while the old one stands");
            assert_eq!(
                (seen[1].0, seen[1].2.as_deref()),
                (true, Some("new text")),
                "the folder, once the new one stands"
            );
        }
        // A disk that takes no more: the old text stays, and nothing is left behind.
        let full = |_: &File| Err(io::Error::from(io::ErrorKind::StorageFull));
        fs::write(&path, "old").unwrap();
        assert_eq!(write_synced(&path, b"new", &full).unwrap_err().kind(), io::ErrorKind::StorageFull);
        assert_eq!(
            (fs::read_to_string(&path).unwrap().as_str(), names(folder.path())),
            ("old", vec!["p.yaml".to_owned()])
        );
    }

    #[test]
    fn a_link_is_followed_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let (own, other) = (folder.path().join("link.yaml"), folder.path().join("kept.yaml"));
        fs::write(&other, "old").unwrap();
        symlink(&other, &own).unwrap();
        write(&own, b"new").unwrap();
        assert_eq!(fs::read(&other).unwrap(), b"new");
        assert!(own.is_symlink());
        let nowhere = folder.path().join("nowhere.yaml");
        symlink(folder.path().join("absent"), &nowhere).unwrap();
        assert!(write(&nowhere, b"new").is_err());
        assert!(write(folder.path(), b"new").is_err(), "a folder");
    }

    #[test]
    fn a_file_that_may_not_be_written_over_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("p.yaml");
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        assert!(write(&path, b"new").is_err());
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(names(folder.path()), ["p.yaml"]);
    }
}
