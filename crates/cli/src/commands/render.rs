//! `render`: checks documents and writes their sheets; a file that cannot be read does not stop the others.

use std::collections::HashMap;
use std::fs;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use seamwright_estimate::{Estimate, Joint, Options, estimate};
use seamwright_handbook::variables::Terms;
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Length, Range, UnitSystem};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;
use seamwright_sheet::block::Sheet;
use seamwright_sheet::html::{HtmlOptions, HtmlRenderer, IndexEntry, IndexOptions};
use seamwright_sheet::kinds::{self, Kind, SheetOptions, Subject};
use seamwright_sheet::pdf::{self, Paper, PdfOptions};

use crate::Ending;
use crate::args::{PaperSize, RenderArgs, SheetKind, TermsOf, To, Units};
use crate::beside::{Beside, Named};
use crate::commands::calc::input;
use crate::files;
use crate::look::Look;
use crate::report::{Report, text};

/// Runs the command.
pub fn run(args: &RenderArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let mut seen: HashMap<&Path, &str> = HashMap::new();
    for input in &inputs {
        if let Some(other) = seen.insert(&input.stem, &input.name) {
            bail!(
                "{other} and {} would write the same sheets; rename one, or render them into two folders",
                input.name
            );
        }
    }
    let beside = match Beside::read(&args.beside, Look::read(&args.look)?) {
        Ok(beside) => beside,
        Err(failed) => {
            text::print(&failed);
            return Ok(Ending::Failed);
        }
    };
    let folder = args.paths.iter().any(|path| path.is_dir());
    for (name, wanted) in [(INDEX, folder), (BINDER, args.binder)] {
        let stem = Path::new(name).with_extension("");
        if let Some(input) = inputs.iter().find(|input| wanted && input.stem == stem) {
            bail!("{}: its sheet would take the place of {name}; rename the file", input.name);
        }
    }
    fs::create_dir_all(&args.out)
        .with_context(|| format!("{}: the folder for the sheets cannot be made", args.out.display()))?;
    let job = Job::new(args, folder, &beside)?;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(args.jobs.unwrap_or(0)).build()?;
    let bar = progress(inputs.len());
    let done: Vec<(Report, Written)> = pool.install(|| {
        inputs
            .into_par_iter()
            .map(|input| {
                let (report, named) = beside.examine(input);
                let written = job.write(&report, &named);
                bar.inc(1);
                (report, written)
            })
            .collect()
    });
    bar.finish_and_clear();
    let mut ending = Ending::Clean;
    let mut reports = Vec::with_capacity(done.len());
    let mut all = Written::default();
    for (report, mut written) in done {
        ending = ending.max(report.ending(args.deny));
        all.failures.append(&mut written.failures);
        all.entries.append(&mut written.entries);
        all.sheets.append(&mut written.sheets);
        reports.push(report);
    }
    if let Err(error) = job.gather(&all) {
        all.failures.push(format!("{error:#}"));
    }
    for failure in all.failures {
        eprintln!("seamwright: {failure}");
        ending = Ending::Failed;
    }
    text::print(&reports);
    Ok(ending)
}

/// What came of a file.
#[derive(Default)]
struct Written {
    /// What could not be written, in words.
    failures: Vec<String>,
    /// Lines of the index, for a folder.
    entries: Vec<IndexEntry>,
    /// The sheets, for a binder.
    sheets: Vec<Sheet>,
}

/// Names below the output folder that the program itself writes.
const INDEX: &str = "index.html";
const BINDER: &str = "binder.pdf";

fn progress(files: usize) -> ProgressBar {
    const WORTH_SHOWING: usize = 50;
    if files < WORTH_SHOWING || !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(files as u64);
    if let Ok(style) = ProgressStyle::with_template("{pos} of {len} files {bar:30} {elapsed}") {
        bar.set_style(style);
    }
    bar
}

/// What every file of a run shares.
struct Job<'a> {
    args: &'a RenderArgs,
    /// Whether a folder was given, which gets an index.
    folder: bool,
    html: Option<HtmlRenderer>,
    sheet: SheetOptions,
    kinds: Vec<Kind>,
    beside: &'a Beside,
    paper: Paper,
}

impl<'a> Job<'a> {
    fn new(args: &'a RenderArgs, folder: bool, beside: &'a Beside) -> Result<Self> {
        let html = args.to.contains(&To::Html).then(|| beside.look().renderer()).transpose()?;
        Ok(Self {
            args,
            folder,
            html,
            sheet: SheetOptions {
                units: match args.units {
                    Units::Si => UnitSystem::Si,
                    Units::Us => UnitSystem::Us,
                    Units::Both => UnitSystem::Both,
                },
                terms: match args.terms {
                    TermsOf::Iso => Terms::Iso,
                    TermsOf::Aws => Terms::Aws,
                },
            },
            kinds: wanted(&args.sheet),
            beside,
            paper: match args.paper {
                PaperSize::A4 => Paper::A4,
                PaperSize::Letter => Paper::Letter,
            },
        })
    }

    /// Writes the sheets of a file.
    fn write(&self, report: &Report, named: &Named) -> Written {
        let mut done = Written::default();
        let Ok((loaded, outcome)) = &report.result else { return done };
        let failures = &mut done.failures;
        let mut told = |error: anyhow::Error| failures.push(format!("{}: {error:#}", report.input.name));
        let (shop, procedure) = (self.beside.shop(named), self.beside.procedure(named));
        let mut wanted = self.kinds.clone();
        let estimate = match &loaded.document {
            Document::Procedure(own) if wanted.contains(&Kind::Estimate) => {
                let made = estimate_of(own, shop, self.args.length.as_ref());
                if made.is_err() {
                    wanted.retain(|kind| *kind != Kind::Estimate);
                }
                made.map_err(&mut told).ok()
            }
            _ => None,
        };
        let subject = Subject { loaded, outcome, shop, procedure, estimate: estimate.as_ref() };
        // Of several kinds, those that the document has; one that it lacks is told only where none fits.
        let made: Vec<(Kind, Result<Sheet, String>)> = wanted
            .iter()
            .map(|&kind| {
                let mut sheet = kinds::sheet(kind, subject, self.sheet);
                if let Ok(sheet) = &mut sheet
                    && let Some(made_with) = &mut sheet.source.made_with
                {
                    made_with.length = self.args.length.as_ref().filter(|_| kind == Kind::Estimate).map(spelled);
                    self.beside.tell(made_with, loaded, outcome, named);
                }
                (kind, sheet)
            })
            .collect();
        let none = made.iter().all(|(_, sheet)| sheet.is_err());
        for (kind, sheet) in made {
            match sheet {
                Ok(sheet) => {
                    self.put(&sheet, kind, report, failures);
                    if self.folder {
                        done.entries.push(IndexEntry {
                            html: self.html.is_some().then(|| Self::below(report, kind, "html")),
                            pdf: self.args.to.contains(&To::Pdf).then(|| Self::below(report, kind, "pdf")),
                            ..kinds::index_entry(subject, &sheet, self.sheet.units)
                        });
                    }
                    if self.args.binder {
                        done.sheets.push(sheet);
                    }
                }
                Err(reason) if none => {
                    failures.push(format!("{}: {reason}", report.input.name));
                    break;
                }
                Err(_) => {}
            }
        }
        done
    }

    /// Writes what lists or holds all sheets: the index of a folder, and the binder.
    fn gather(&self, all: &Written) -> Result<()> {
        if let (true, Some(html)) = (self.folder, &self.html) {
            let page = html.index(&all.entries, &IndexOptions::default())?;
            files::write(&self.args.out.join(INDEX), page.as_bytes())?;
        }
        if self.args.binder {
            if all.sheets.is_empty() {
                bail!("no sheet for a binder");
            }
            let options =
                PdfOptions { paper: self.paper, house: self.beside.look().house.clone(), ..PdfOptions::default() };
            let bytes = pdf::binder(&all.sheets, &IndexOptions::default().title, &options)?;
            files::write(&self.args.out.join(BINDER), &bytes)?;
        }
        Ok(())
    }

    /// Writes a sheet in the formats asked for.
    fn put(&self, sheet: &Sheet, kind: Kind, report: &Report, failures: &mut Vec<String>) {
        let mut put = |ending: &str, bytes: Result<Vec<u8>>| {
            let path = self.path(report, kind, ending);
            let written =
                bytes.with_context(|| report.input.name.clone()).and_then(|bytes| files::write(&path, &bytes));
            if let Err(error) = written {
                failures.push(format!("{error:#}"));
            }
        };
        // The two formats of one sheet need nothing of each other.
        let (pdf, html) = rayon::join(
            || {
                let options =
                    PdfOptions { paper: self.paper, house: self.beside.look().house.clone(), ..PdfOptions::default() };
                self.args.to.contains(&To::Pdf).then(|| pdf::render(sheet, &options))
            },
            || {
                let options = HtmlOptions {
                    paper: self.paper,
                    house: self.beside.look().house.clone(),
                    ..HtmlOptions::default()
                };
                self.html.as_ref().map(|html| html.render(sheet, &options))
            },
        );
        if let Some(bytes) = pdf {
            put("pdf", bytes.map_err(Into::into));
        }
        if let Some(page) = html {
            put("html", page.map(String::into_bytes).map_err(Into::into));
        }
    }

    /// Where a sheet goes.
    fn path(&self, report: &Report, kind: Kind, ending: &str) -> PathBuf {
        self.args.out.join(Self::below(report, kind, ending))
    }

    /// The path of a sheet below the output folder: the kind stands in the name, but for that of the procedure.
    fn below(report: &Report, kind: Kind, ending: &str) -> String {
        let stem = report.input.stem.to_string_lossy();
        match kind {
            Kind::Procedure => format!("{stem}.{ending}"),
            _ => format!("{stem}.{}.{ending}", kind.name()),
        }
    }
}

/// What a procedure uses over the length that was typed, else the one that it states.
pub fn estimate_of(procedure: &Procedure, shop: Option<&Shop>, typed: Option<&Range<Length>>) -> Result<Estimate> {
    let stated = procedure.weld_size.as_ref().and_then(Stated::value).and_then(|size| size.length.as_ref());
    let Some(length) = typed.or(stated.and_then(Stated::value)) else {
        bail!("an estimate needs the length of weld: write --length \"2 m\"")
    };
    let length_mm = input::one("--length", length, Length::mm)?;
    let joints = [Joint { name: "weld".to_owned(), length_mm, count: 1 }];
    estimate(procedure, &joints, &Options { shop, ..Options::default() })
        .map_err(|reason| anyhow::anyhow!("no estimate: {reason}"))
}

fn spelled(length: &Range<Length>) -> String {
    length.spelled().to_owned()
}

/// The kinds that were typed, each once.
fn wanted(typed: &[SheetKind]) -> Vec<Kind> {
    let mut kinds = Vec::new();
    for sheet in typed {
        let kind = match sheet {
            SheetKind::Procedure => Kind::Procedure,
            SheetKind::BenchCard => Kind::BenchCard,
            SheetKind::Lesson => Kind::Lesson,
            SheetKind::Review => Kind::Review,
            SheetKind::Estimate => Kind::Estimate,
        };
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    kinds
}
