//! `render`: checks documents and writes their sheets; a file that cannot be read does not stop the others.
//!
//! - `requests.rs`: what was typed; `names.rs`: how files are called; `job.rs`: a file checked and its sheets written;
//!   `done.rs`: what came of it.

mod done;
mod job;
mod names;
mod requests;

use std::collections::BTreeSet;
use std::fs;
use std::io::IsTerminal;

use anyhow::{Result, anyhow, bail};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use seamwright_desk::appearance::Appearance;
use seamwright_desk::companions::Companions;
use seamwright_desk::files::{self, Input, reason, shown};

use self::done::{Looked, Written};
use self::job::Job;
use crate::args::RenderArgs;
use crate::ending::Ending;
use crate::output;
use crate::report::{self, text};
use crate::stop::Stop;
use crate::{terminal, today};

/// Runs the command.
pub fn run(args: &RenderArgs) -> Result<Ending> {
    let disk = today::disk();
    let inputs = files::inputs(&disk, &args.paths)?;
    let appearance = Appearance::read(&disk, &args.appearance.files())?;
    let companions = match Companions::read(&disk, &args.companions.files(), appearance) {
        Ok(companions) => companions,
        Err(failed) => {
            text::print(&failed);
            return Ok(Ending::Failed);
        }
    };
    let folder = args.paths.iter().any(|path| path.is_dir());
    let job = Job::new(args, folder, &companions)?;
    job.no_two_alike(&inputs)?;
    if args.out.is_file() {
        bail!("{}: this is a file, and a folder for the sheets is meant", shown(&args.out));
    }
    fs::create_dir_all(&args.out).map_err(|error| {
        anyhow!("{}: the folder for the sheets cannot be made: {}", shown(&args.out), reason(&error))
    })?;
    let folders: BTreeSet<_> = inputs.iter().filter_map(|input| input.stem.parent()).collect();
    for folder in folders {
        output::sweep(&args.out.join(folder));
    }
    let stop = Stop::listen();
    let mut finished = 0;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(args.jobs.unwrap_or(0)).build().map_err(|error| {
        anyhow!("what is allowed here of memory and processes does not suffice for the threads of this run: {error}; `--jobs 1` needs fewer")
    })?;
    let bar = progress(inputs.len());
    let mut ending = Ending::Clean;
    let mut told = text::Told::new(&std::io::stderr());
    let mut all = Written::default();
    // In parts, so that no more documents are in memory at once, however many there are.
    for part in inputs.chunks(PART) {
        let done: Vec<(Looked, Written)> = pool.install(|| {
            let one = |input: &Input| {
                if stop.asked() {
                    return None;
                }
                let done = job.file(input);
                bar.inc(1);
                Some(done)
            };
            part.par_iter().filter_map(one).collect()
        });
        finished += done.len();
        for (looked, mut written) in done {
            match looked {
                Looked::Checked(report) => {
                    ending = ending.max(report::ending(&report, args.deny));
                    bar.suspend(|| told.report(&report, &mut std::io::stderr().lock())).ok();
                }
                Looked::Stands(examined, deviations) => told.standing(examined, deviations),
            }
            all.failures.append(&mut written.failures);
            all.put.append(&mut written.put);
            all.left += written.left;
            all.without.append(&mut written.without);
            all.entries.append(&mut written.entries);
            all.sheets.append(&mut written.sheets);
        }
    }
    bar.finish_and_clear();
    if stop.asked() {
        all.failures.push(format!(
            "stopped by a signal: {finished} of {} files are done and their sheets whole; what gathers all was not written",
            inputs.len()
        ));
    } else if let Err(error) = job.gather(&all) {
        all.failures.push(format!("{error:#}"));
    }
    if all.put.is_empty() && all.left == 0 && !all.without.is_empty() && all.failures.is_empty() {
        all.failures
            .push("nothing was printed: no document here has a sheet of the kinds that are asked for".to_owned());
    }
    for failure in &all.failures {
        terminal::say(failure);
        ending = Ending::Failed;
    }
    // Where nobody listens, the exit status still tells.
    told.end(&mut std::io::stderr().lock()).ok();
    for line in job.said(&all, stop.asked()).iter().filter(|_| !terminal::quiet()) {
        terminal::print(terminal::wrapped(&terminal::visible(line), terminal::width()));
    }
    Ok(ending)
}

/// How many files are done before what was found in them is told and let go.
const PART: usize = 256;

fn progress(files: usize) -> ProgressBar {
    const WORTH_SHOWING: usize = 50;
    if files < WORTH_SHOWING || terminal::quiet() || !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(files as u64);
    if let Ok(style) = ProgressStyle::with_template("{pos} of {len} files {bar:30} {elapsed}") {
        bar.set_style(style);
    }
    bar
}
