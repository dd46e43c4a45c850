//! `check`: reads documents and reports what is wrong with them.

use std::cell::Cell;
use std::io::Write;

use anyhow::{Result, bail};
use rayon::prelude::*;

use seamwright_desk::appearance::Appearance;
use seamwright_desk::companions::{Companions, Follow};
use seamwright_desk::files::{self, Input};
use seamwright_desk::report::{Checked, completeness, json, kit, sarif};
use seamwright_page::words::Language;

use crate::args::{CheckArgs, Deny, ReportForm};
use crate::ending::Ending;
use crate::report::{self, text};
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: &CheckArgs) -> Result<Ending> {
    let disk = today::disk();
    let inputs = files::inputs(&disk, &args.paths)?;
    let ending = Cell::new(Ending::Clean);
    let language = args.language.filter(|language| *language != Language::En);
    if let (Some(language), false) = (language, matches!(args.format, ReportForm::Text)) {
        bail!("--language {}: the words that lack are listed as text; leave out --format", language.tag());
    }
    match Companions::read(&disk, &args.companions.files(), Appearance::read(&disk, &args.appearance.files())?) {
        Ok(companions) => {
            tell(args, checked(&inputs, &companions, language).inspect(|own| note(&ending, own, args.deny)))?;
        }
        Err(failed) => {
            let failed = failed.into_iter().map(|report| Checked { report, follow: Follow::default(), lacking: None });
            tell(args, failed.inspect(|own| note(&ending, own, args.deny)))?;
        }
    }
    Ok(ending.get())
}

fn note(ending: &Cell<Ending>, checked: &Checked, deny: Option<Deny>) {
    ending.set(ending.get().max(report::ending(&checked.report, deny)));
}

/// How many files are checked before what was found in them is told and let go.
const PART: usize = 256;

/// Checks files in parts, so that no more documents are in memory at once, however many there are.
fn checked(inputs: &[Input], companions: &Companions<'_>, language: Option<Language>) -> impl Iterator<Item = Checked> {
    inputs.chunks(PART).flat_map(move |part| {
        let one = |input: &Input| {
            let (report, named) = companions.examine(input.clone());
            let follow = companions.follow(&report, &named);
            let lacking = language.map(|language| (language, companions.lacking(&report, &named, language)));
            Checked { report, follow, lacking }
        };
        part.par_iter().map(one).collect::<Vec<_>>()
    })
}

/// Tells what was found, file by file as they come.
fn tell(args: &CheckArgs, files: impl Iterator<Item = Checked>) -> Result<()> {
    let mut out = results::out();
    match args.format {
        ReportForm::Text => for_people(files, args.completeness, &mut out),
        ReportForm::Json => json::write(files, args.completeness, &mut out),
        ReportForm::Sarif => sarif::write(files, &mut out),
    }
}

/// Everything goes to standard output: what was found is what was asked for.
fn for_people(files: impl Iterator<Item = Checked>, matrix: bool, out: &mut impl Write) -> Result<()> {
    let mut told = text::Told::new(&std::io::stdout());
    for Checked { report, follow, lacking } in files {
        told.report(&report, out)?;
        let name = &report.input.name;
        let mut more = Vec::new();
        if let (true, Ok((loaded, _))) = (matrix, &report.result) {
            completeness::print(&mut more, name, &completeness::of(loaded))?;
        }
        for machine in &follow.machines {
            writeln!(more, "{name}: {machine}")?;
        }
        if let (Some((language, words)), Ok(_)) = (&lacking, &report.result) {
            let language = language.name();
            match words.as_slice() {
                [] => writeln!(more, "{name}: {language} lacks no word of its bench card and lesson")?,
                words => writeln!(more, "{name}: {language} lacks, and prints in English: {}", words.join("; "))?,
            }
        }
        if let Some(own) = &follow.kit {
            kit::print(&mut more, name, own)?;
        }
        if !more.is_empty() {
            let more = String::from_utf8_lossy(&more);
            writeln!(out, "{}", terminal::wrapped(more.trim_end(), terminal::width()))?;
        }
    }
    told.end(out)?;
    Ok(())
}
