//! `serve`: the page in the browser, until it is stopped.

use std::io::Write;
use std::process::{Command, Stdio};

use anyhow::Result;
use seamwright_serve::{Options, start};

use crate::args::ServeArgs;
use crate::ending::Ending;

/// Runs the command.
pub fn run(args: &ServeArgs) -> Result<Ending> {
    let running = start(&Options {
        folder: args.folder.clone(),
        shop: args.shop.clone(),
        records: args.record.clone(),
        port: args.port.unwrap_or(0),
        read_only: args.read_only,
        lan: args.lan,
        today: crate::today::today,
    })?;
    let address = running.address();
    let mut out = std::io::stdout().lock();
    writeln!(out, "{} is open at {address}", args.folder.display())?;
    writeln!(out, "It answers this machine only; end it with Ctrl+C.")?;
    if let Some(bench) = running.bench_address() {
        writeln!(out, "Cards for telephones in this network, to read only: {bench}")?;
    }
    out.flush()?;
    drop(out);
    if !args.no_open {
        open(&address);
    }
    running.serve()?;
    Ok(Ending::Clean)
}

/// Shows an address in the browser of the person; where none can be had, the address was printed.
fn open(address: &str) {
    let program: &[&str] = if cfg!(target_os = "macos") {
        &["open"]
    } else if cfg!(windows) {
        &["rundll32", "url.dll,FileProtocolHandler"]
    } else {
        &["xdg-open"]
    };
    let Some((name, first)) = program.split_first() else { return };
    let mut command = Command::new(name);
    let _ = command.args(first).arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
}
