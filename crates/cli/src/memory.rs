//! A run under a limit of memory (`ulimit -v`) ends with a message and an exit status, never by a signal.
//!
//! Where the system sets such a limit, the work is done by a second process that this one waits for: what cannot be had
//! any more ends that one, and this one says so. Without a limit nothing is started.

use std::process::{Child, Command, ExitCode};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use std::{env, fs, panic, thread};

use signal_hook::consts::{SIGINT, SIGTERM};

use crate::terminal;

/// Set for the process that does the work.
const MARK: &str = "SEAMWRIGHT_WITHIN_LIMIT";
/// Exit statuses that a command itself gives.
const OWN: std::ops::RangeInclusive<i32> = 0..=2;

/// Does the work in a second process where memory is limited; nothing where this process is to do it.
pub fn within_limit() -> Option<ExitCode> {
    if env::var_os(MARK).is_some() {
        // What cannot be had panics in some places: the first process says it better.
        panic::set_hook(Box::new(|_| {}));
        return None;
    }
    let limit = limit()?;
    let stop = Arc::new(AtomicBool::new(false));
    for signal in [SIGINT, SIGTERM] {
        let _ = signal_hook::flag::register(signal, Arc::clone(&stop));
    }
    let mut work = Command::new(env::current_exe().ok()?);
    let child = work.args(env::args_os().skip(1)).env(MARK, "1").spawn();
    let code = child.ok().and_then(|child| ended(child, &stop)).filter(|code| OWN.contains(code));
    Some(ExitCode::from(code.and_then(|code| u8::try_from(code).ok()).unwrap_or_else(|| {
        terminal::say(format_args!(
            "the memory that is allowed here ({} MiB, ulimit -v) does not suffice for this; allow more, or fewer files at once",
            limit / (1024 * 1024)
        ));
        2
    })))
}

/// The exit status of the second process; nothing where a signal ended it.
fn ended(mut child: Child, stop: &AtomicBool) -> Option<i32> {
    const PAUSE: Duration = Duration::from_millis(4);
    let mut stopped = None;
    loop {
        if let Some(status) = child.try_wait().ok()? {
            return status.code().or(stopped);
        }
        if stop.swap(false, Ordering::Relaxed) {
            // It has no more to lose than any run that is stopped: files are whole or not there.
            let _ = child.kill();
            stopped = Some(2);
        }
        thread::sleep(PAUSE);
    }
}

/// The limit of address space in bytes, where there is one (Linux).
fn limit() -> Option<u64> {
    let limits = fs::read_to_string("/proc/self/limits").ok()?;
    let line = limits.lines().find_map(|line| line.strip_prefix("Max address space"))?;
    line.split_whitespace().next()?.parse().ok()
}
