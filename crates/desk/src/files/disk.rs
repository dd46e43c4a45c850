//! The files of this machine.

use std::fs;
use std::io::{self, Read};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use seamwright_model::stated::Date;

use super::{Asked, Files, Kind, Listed, STANDARD_INPUT, Stamp};

/// The files of this machine, and a day that is told.
#[derive(Debug)]
pub struct Disk {
    today: Date,
    /// Whether standard input has been read: it can be read to its end once.
    standard_input_read: AtomicBool,
}

impl Disk {
    /// The files of this machine on a day.
    pub const fn new(today: Date) -> Self {
        Self { today, standard_input_read: AtomicBool::new(false) }
    }
}

impl Files for Disk {
    fn read(&self, path: &Path, asked: Asked, most: u64) -> io::Result<Vec<u8>> {
        match asked {
            Asked::Typed if path.as_os_str() == STANDARD_INPUT => {
                // A second document would be found empty.
                if self.standard_input_read.swap(true, Ordering::Relaxed) {
                    return Err(io::Error::other("it was read to its end before; name - once"));
                }
                at_most(io::stdin().lock(), most)
            }
            Asked::Typed => at_most(opened(path)?, most),
            Asked::Found => {
                if !fs::metadata(path)?.is_file() {
                    return Err(io::Error::other("it is not a regular file"));
                }
                at_most(fs::File::open(path)?, most)
            }
        }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<Listed>> {
        let listed = |entry: io::Result<fs::DirEntry>| {
            let entry = entry?;
            let (path, own) = (entry.path(), entry.file_type().ok());
            let kind = match own {
                Some(own) if own.is_dir() => Kind::Folder,
                Some(own) if own.is_symlink() && path.is_dir() => Kind::LinkedFolder,
                _ => Kind::File,
            };
            Ok(Listed { path, kind })
        };
        let mut all = fs::read_dir(folder)?.map(listed).collect::<io::Result<Vec<_>>>()?;
        all.sort_by(|one, other| one.path.cmp(&other.path));
        Ok(all)
    }

    fn is_folder(&self, path: &Path) -> bool {
        path.is_dir()
    }

    fn stamp(&self, path: &Path) -> Option<Stamp> {
        let own = fs::metadata(path).ok()?;
        Some((own.len(), own.modified().ok()?))
    }

    fn today(&self) -> Date {
        self.today
    }
}

/// A path that was typed, opened: a pipe waits for its writer, but not for ever.
fn opened(path: &Path) -> io::Result<fs::File> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        use std::sync::mpsc;
        use std::thread;
        use std::time::Duration;
        const PATIENCE: Duration = Duration::from_secs(5);
        let own = fs::metadata(path)?.file_type();
        if own.is_socket() {
            return Err(io::Error::other("it is a socket, and no file"));
        }
        if own.is_fifo() {
            let (path, (give, take)) = (path.to_owned(), mpsc::channel());
            // Whoever opens a pipe waits until it is opened at its other end.
            thread::spawn(move || give.send(fs::File::open(path)));
            let none = |_| io::Error::other("it is a pipe, and nothing has opened it to write for 5 s");
            return take.recv_timeout(PATIENCE).map_err(none)?;
        }
    }
    fs::File::open(path)
}

/// At most one byte more than `most`, so that a file without end is seen to be too large.
pub(super) fn at_most(reader: impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
