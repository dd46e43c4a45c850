//! `render`: checks documents and writes their sheets; a file that cannot be read does not stop the others.

use std::collections::{BTreeSet, HashMap};
use std::fs;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
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
use crate::files::{self, Input, reason};
use crate::look::Look;
use crate::output;
use crate::report::{Report, text};
use crate::seal::{self, Format, Note};
use crate::standing::{self, Standing};
use crate::stop::Stop;
use crate::style;
use crate::terminal::{self, shown};

/// Runs the command.
pub fn run(args: &RenderArgs) -> Result<Ending> {
    let inputs = files::inputs(&args.paths)?;
    let beside = match Beside::read(&args.beside, Look::read(&args.look)?) {
        Ok(beside) => beside,
        Err(failed) => {
            text::print(&failed);
            return Ok(Ending::Failed);
        }
    };
    let folder = args.paths.iter().any(|path| path.is_dir());
    let job = Job::new(args, folder, &beside)?;
    job.no_two_alike(&inputs)?;
    fs::create_dir_all(&args.out).map_err(|error| {
        anyhow!("{}: the folder for the sheets cannot be made: {}", shown(&args.out), reason(&error))
    })?;
    let folders: BTreeSet<_> = inputs.iter().filter_map(|input| input.stem.parent()).collect();
    for folder in folders {
        output::sweep(&args.out.join(folder));
    }
    let stop = Stop::listen();
    let mut finished = 0;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(args.jobs.unwrap_or(0)).build()?;
    let bar = progress(inputs.len());
    let mut ending = Ending::Clean;
    let mut told = text::Told::new();
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
                    ending = ending.max(report.ending(args.deny));
                    bar.suspend(|| told.report(&report));
                }
                Looked::Stands(examined, deviations) => told.standing(examined, deviations),
            }
            all.failures.append(&mut written.failures);
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
    for failure in all.failures {
        terminal::say(failure);
        ending = Ending::Failed;
    }
    told.end();
    Ok(ending)
}

/// How many files are done before what was found in them is told and let go.
const PART: usize = 256;

/// What was looked at of a file.
enum Looked {
    /// The document, which was checked.
    Checked(Box<Report>),
    /// Its sheets, which stand as they are: how many values were examined and how many stand under a deviation, and
    /// nothing was found.
    Stands(usize, usize),
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
    formats: Vec<Format>,
    standing: Standing,
}

impl<'a> Job<'a> {
    fn new(args: &'a RenderArgs, folder: bool, beside: &'a Beside) -> Result<Self> {
        let html = args.to.contains(&To::Html).then(|| beside.look().renderer()).transpose()?;
        if let Some(house) = beside.look().house.as_deref().filter(|_| args.to.contains(&To::Pdf)) {
            style::check_print(house)?;
        }
        let formats = [(To::Pdf, Format::Pdf), (To::Html, Format::Html)].into_iter();
        Ok(Self {
            args,
            folder,
            html,
            formats: formats.filter(|(to, _)| args.to.contains(to)).map(|(_, format)| format).collect(),
            standing: Standing::new(args, beside),
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

    /// Refuses inputs whose sheets would take the place of each other, of what gathers all, or of an input.
    fn no_two_alike(&self, inputs: &[Input]) -> Result<()> {
        let mut taken: HashMap<String, &str> = HashMap::new();
        for input in inputs {
            let of_kind = |kind: &Kind| {
                let kind = *kind;
                self.formats.iter().map(move |format| Self::below(input, kind, format.ending()))
            };
            for sheet in self.kinds.iter().flat_map(of_kind) {
                if (self.folder && sheet == INDEX) || (self.args.binder && sheet == BINDER) {
                    bail!("{}: its sheet would take the place of {sheet}; rename the file", input.name);
                }
                if sheet_itself(&input.path)
                    && let Ok(place) = self.args.out.join(&sheet).canonicalize()
                    && input.path.canonicalize().is_ok_and(|own| own == place)
                {
                    bail!("{}: its sheet would take the place of the file itself; name another folder", input.name);
                }
                if let Some(other) = taken.insert(sheet, &input.name) {
                    bail!(
                        "{other} and {} would write the same sheets; rename one, or render them into two folders",
                        input.name
                    );
                }
            }
        }
        Ok(())
    }

    /// Checks a file and writes its sheets, but for those that stand already.
    ///
    /// What was found is told again though the sheets stand, and a binder needs them all.
    fn file(&self, input: &Input) -> (Looked, Written) {
        let path = |kind, format: Format| self.path(input, kind, format.ending());
        let standing = self.standing.of(input, &self.kinds, &self.formats, path);
        let Some(standing) = standing else {
            let (report, named) = self.beside.examine(input.clone());
            let written = self.write(&report, &named, true);
            return (Looked::Checked(Box::new(report)), written);
        };
        let note = standing.first().map(|(_, note)| note.clone()).unwrap_or_default();
        let mut written = Written::default();
        if self.folder {
            let entry = |(kind, note): (Kind, Note)| Some(self.entry(input, kind, note.entry?));
            written.entries = standing.into_iter().filter_map(entry).collect();
        }
        if note.findings == 0 && !self.args.binder {
            return (Looked::Stands(note.examined, note.deviations), written);
        }
        let (report, named) = self.beside.examine(input.clone());
        if self.args.binder {
            written = self.write(&report, &named, false);
        }
        (Looked::Checked(Box::new(report)), written)
    }

    /// A line of the index with the paths of the files.
    fn entry(&self, input: &Input, kind: Kind, entry: IndexEntry) -> IndexEntry {
        let path = |format: Format| self.formats.contains(&format).then(|| Self::below(input, kind, format.ending()));
        IndexEntry { html: path(Format::Html), pdf: path(Format::Pdf), ..entry }
    }

    /// Makes the sheets of a file, and writes them where they do not stand.
    fn write(&self, report: &Report, named: &Named, put: bool) -> Written {
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
        let sheets: Vec<String> =
            made.iter().filter(|(_, sheet)| sheet.is_ok()).map(|(kind, _)| kind.name().to_owned()).collect();
        let files = named.files();
        // What could not be made is told every time.
        let note = (failures.is_empty() && standing::can_stand(&report.input))
            .then(|| standing::note(self.beside, outcome, named))
            .flatten();
        for (kind, sheet) in made {
            match sheet {
                Ok(sheet) => {
                    let entry = kinds::index_entry(subject, &sheet, self.sheet.units);
                    if put {
                        let (sheets, entry) = (sheets.clone(), Some(entry.clone()));
                        let own = note.clone().map(|note| Note { sheets, entry, ..note });
                        let own = own.as_ref().map(|note| (note, files.as_slice()));
                        self.put(&sheet, kind, report, own, failures);
                    }
                    if self.folder {
                        done.entries.push(self.entry(&report.input, kind, entry));
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
            let options = IndexOptions { house: self.beside.look().house.clone(), ..IndexOptions::default() };
            let page = html.index(&all.entries, &options)?;
            output::write(&self.args.out.join(INDEX), page.as_bytes())?;
        }
        if self.args.binder {
            if all.sheets.is_empty() {
                bail!("no sheet for a binder");
            }
            let options =
                PdfOptions { paper: self.paper, house: self.beside.look().house.clone(), ..PdfOptions::default() };
            let bytes = pdf::binder(&all.sheets, &IndexOptions::default().title, &options)?;
            output::write(&self.args.out.join(BINDER), &bytes)?;
        }
        Ok(())
    }

    /// Writes a sheet in the formats asked for, sealed where it has a note, which hangs on the files that its document names.
    fn put(
        &self,
        sheet: &Sheet,
        kind: Kind,
        report: &Report,
        note: Option<(&Note, &[standing::NamedFile])>,
        failures: &mut Vec<String>,
    ) {
        let sealed = |format, bytes: Vec<u8>| {
            let Some((note, files)) = note else { return bytes };
            let source = sheet.source.text.as_bytes();
            let made_of = self.standing.made_of(&report.input, source, files, kind, format);
            seal::seal(format, bytes, &made_of, note)
        };
        let mut put = |format: Format, bytes: Result<Vec<u8>>| {
            let path = self.path(&report.input, kind, format.ending());
            let written = bytes
                .with_context(|| report.input.name.clone())
                .and_then(|bytes| output::write(&path, &sealed(format, bytes)));
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
            put(Format::Pdf, bytes.map_err(Into::into));
        }
        if let Some(page) = html {
            put(Format::Html, page.map(String::into_bytes).map_err(Into::into));
        }
    }

    /// Where a sheet goes.
    fn path(&self, input: &Input, kind: Kind, ending: &str) -> PathBuf {
        self.args.out.join(Self::below(input, kind, ending))
    }

    /// The path of a sheet below the output folder: the kind stands in the name, but for that of the procedure.
    fn below(input: &Input, kind: Kind, ending: &str) -> String {
        let stem = input.stem.to_string_lossy();
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

/// Whether a path is named as sheets are.
fn sheet_itself(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "pdf" || ending == "html")
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
