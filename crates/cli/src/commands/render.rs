//! `render`: checks documents and writes their sheets; a file that cannot be read does not stop the others.

use std::cell::OnceCell;
use std::collections::{BTreeSet, HashMap};
use std::fs;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use seamwright_check::rule::counted;
use seamwright_desk::appearance::Appearance;
use seamwright_desk::companions::{Companions, Named};
use seamwright_desk::files::{self, Input, reason, shown};
use seamwright_desk::house_style;
use seamwright_desk::report::Report;
use seamwright_desk::review::{self, Review};
use seamwright_desk::revise;
use seamwright_desk::seal::{self, Format, Note};
use seamwright_desk::sheets::{self, Made, SheetRequest};
use seamwright_desk::unchanged::{self, NamedFile, Unchanged};
use seamwright_page::block::Sheet;
use seamwright_page::html::{HtmlRenderer, IndexEntry, IndexOptions};
use seamwright_page::pdf;
use seamwright_page::words::Language;
use seamwright_page::{Kind, SheetOptions};

use crate::args::{RenderArgs, To};
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
    /// The files that were written.
    put: Vec<PathBuf>,
    /// How many sheets were left, because they are already what they would be.
    left: usize,
    /// Why files of a folder have no sheet, each in words.
    without: Vec<String>,
}

/// Names below the output folder that the program itself writes.
const INDEX: &str = "index.html";
const BINDER: &str = "binder.pdf";

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

/// A format of a review as data.
#[derive(Debug, Clone, Copy)]
enum Data {
    Csv,
    Json,
}

impl Data {
    /// How the names of its files end.
    const fn ending(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Json => "json",
        }
    }
}

/// What every file of a run shares.
struct Job<'a> {
    args: &'a RenderArgs,
    /// Whether a folder was given, which gets an index.
    folder: bool,
    html: Option<HtmlRenderer>,
    /// What is asked for, by language, each with what stands of it.
    requests: Vec<(SheetRequest, Unchanged<'a>)>,
    companions: &'a Companions<'a>,
    formats: Vec<Format>,
    /// The formats of a review as data, which have no seal: they are to be answered, and written into.
    data: Vec<Data>,
}

impl<'a> Job<'a> {
    fn new(args: &'a RenderArgs, folder: bool, companions: &'a Companions<'a>) -> Result<Self> {
        let appearance = companions.appearance();
        let html = args.to.contains(&To::Html).then(|| appearance.renderer()).transpose()?;
        if let Some(house) = appearance.house.as_deref().filter(|_| args.to.contains(&To::Pdf)) {
            house_style::check_print(house)?;
        }
        let formats = [(To::Pdf, Format::Pdf), (To::Html, Format::Html)].into_iter();
        let requests = requests(args)?;
        let data = [(To::Csv, Data::Csv), (To::Json, Data::Json)].into_iter();
        let data: Vec<Data> = data.filter(|(to, _)| args.to.contains(to)).map(|(_, data)| data).collect();
        if let (Some(first), Some(other)) =
            (data.first(), requests.iter().flat_map(|request| &request.kinds).find(|kind| **kind != Kind::Review))
        {
            bail!(
                "--to {}: these are the findings of a review, and a {} sheet has no such form; write `--sheet review --to {0}`",
                first.ending(),
                other.name()
            );
        }
        Ok(Self {
            data,
            args,
            folder,
            html,
            formats: formats.filter(|(to, _)| args.to.contains(to)).map(|(_, format)| format).collect(),
            requests: requests
                .into_iter()
                .map(|request| {
                    let unchanged = Unchanged::new(&request, companions, args.force);
                    (request, unchanged)
                })
                .collect(),
            companions,
        })
    }

    /// Refuses inputs whose sheets would take the place of each other, of what gathers all, or of an input.
    fn no_two_alike(&self, inputs: &[Input]) -> Result<()> {
        let mut taken: HashMap<String, &str> = HashMap::new();
        for input in inputs {
            let of_kind = |(kind, language): (Kind, Language)| {
                let endings = self.formats.iter().map(|format| format.ending());
                let endings = endings.chain(self.data.iter().map(|data| data.ending()));
                endings.map(move |ending| Self::below(input, kind, language, ending))
            };
            let all = self.requests.iter();
            let all = all.flat_map(|(own, _)| own.kinds.iter().map(|kind| (*kind, own.options.language)));
            for sheet in all.flat_map(of_kind) {
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
        // Checked once, whatever it is printed in, and only where a sheet has to be made or told of.
        let examined = OnceCell::new();
        let look = || examined.get_or_init(|| self.examine(input));
        let mut stands = None;
        let mut done = Written::default();
        for (request, unchanged) in &self.requests {
            let note = self.file_in(input, request, unchanged, &look, &mut done);
            stands = stands.or(note);
        }
        match (examined.into_inner(), stands) {
            (Some((report, _)), _) => (Looked::Checked(Box::new(report)), done),
            (None, Some(note)) => (Looked::Stands(note.examined, note.deviations), done),
            (None, None) => (Looked::Stands(0, 0), done),
        }
    }

    /// The same in one language; what is noted of sheets that stand, where they do.
    fn file_in<'e>(
        &self,
        input: &Input,
        request: &SheetRequest,
        unchanged: &Unchanged<'_>,
        look: &dyn Fn() -> &'e (Report, Named),
        done: &mut Written,
    ) -> Option<Note> {
        let language = request.options.language;
        let path = |kind, format: Format| self.path(input, kind, language, format.ending());
        let standing = unchanged.of(input, &request.kinds, &self.formats, path);
        let Some(standing) = standing else {
            let (report, named) = look();
            self.write(report, named, request, unchanged, true, done);
            return None;
        };
        let note = standing.first().map(|(_, note)| note.clone()).unwrap_or_default();
        done.left += standing.len() * self.formats.len();
        let anew = self.args.binder || !self.data.is_empty();
        if note.findings > 0 || anew {
            let (report, named) = look();
            if anew {
                self.write(report, named, request, unchanged, false, done);
                return Some(note);
            }
        }
        if self.folder {
            let entry = |(kind, note): (Kind, Note)| Some(self.entry(input, kind, language, note.entry?));
            done.entries.extend(standing.into_iter().filter_map(entry));
        }
        Some(note)
    }

    /// A line of the index with the paths of the files.
    fn entry(&self, input: &Input, kind: Kind, language: Language, entry: IndexEntry) -> IndexEntry {
        let path = |format: Format| {
            self.formats.contains(&format).then(|| Self::below(input, kind, language, format.ending()))
        };
        IndexEntry { html: path(Format::Html), pdf: path(Format::Pdf), ..entry }
    }

    fn examine(&self, input: &Input) -> (Report, Named) {
        let (report, named) = self.companions.examine(input.clone());
        (report.proved_only(), named)
    }

    /// Makes the sheets of a file, and writes them where they do not stand.
    fn write(
        &self,
        report: &Report,
        named: &Named,
        request: &SheetRequest,
        unchanged: &Unchanged<'_>,
        put: bool,
        done: &mut Written,
    ) {
        let language = request.options.language;
        let Ok((loaded, outcome)) = &report.result else { return };
        // A review is of what arrived and an estimate of what might be; nothing else is printed under an issued number.
        let welds = |kind: &Kind| !matches!(kind, Kind::Review | Kind::Estimate);
        let prints = request.kinds.is_empty() || request.kinds.iter().any(welds);
        if let Some(words) = report.not_printed().filter(|_| put && prints) {
            done.failures.push(words);
            return;
        }
        let sheets::Sheets { made, failures, unfit } = self.companions.sheets(request, loaded, outcome, named);
        // What could not be made is told every time.
        let note = (failures.is_empty() && unchanged::can_stand(&report.input))
            .then(|| unchanged::note(self.companions, outcome, named))
            .flatten();
        // Of a folder, what has no sheet is left out; a file that was named is to have one.
        let in_words = failures.iter().map(|error| format!("{}: {error:#}", report.input.name));
        let left_out = unfit && !self.args.paths.contains(&report.input.path);
        if left_out { &mut done.without } else { &mut done.failures }.extend(in_words);
        let sheets: Vec<String> = made.iter().map(|own| own.kind.name().to_owned()).collect();
        let files = named.files();
        for Made { kind, mut sheet, entry } in made {
            if put {
                let (sheets, entry) = (sheets.clone(), Some(entry.clone()));
                let own = note.clone().map(|note| Note { sheets, entry, ..note });
                let own = own.as_ref().map(|note| (note, files.as_slice()));
                say_sealed(&mut sheet, own.is_some());
                self.put(&sheet, kind, report, own, unchanged, done);
                // A binder has no seals.
                say_sealed(&mut sheet, false);
            }
            if self.folder {
                done.entries.push(self.entry(&report.input, kind, language, entry));
            }
            if self.args.binder {
                done.sheets.push(sheet);
            }
        }
        if !self.data.is_empty()
            && let Some(review) = Review::of(loaded, outcome, request.options.terms)
        {
            for data in &self.data {
                match self.put_data(&review, *data, &report.input) {
                    Ok(path) => done.put.push(path),
                    Err(error) => done.failures.push(format!("{error:#}")),
                }
            }
        }
    }

    /// Writes a review as data, but not over the answers that somebody wrote into it.
    fn put_data(&self, review: &Review, data: Data, input: &Input) -> Result<PathBuf> {
        let path = self.path(input, Kind::Review, Language::En, data.ending());
        let bytes = match data {
            Data::Csv => review.csv(),
            Data::Json => review.json()?,
        };
        if !self.args.force
            && let Ok(there) = fs::read(&path)
            && review::is_answered(&there)
        {
            bail!(
                "{}: {} has dispositions or replies written into it, or is another file, and is not written over; write into another folder with --out, or add --force",
                input.name,
                shown(&path)
            );
        }
        output::write(&path, &bytes)?;
        Ok(path)
    }

    /// Writes what lists or holds all sheets: the index of a folder, and the binder.
    fn gather(&self, all: &Written) -> Result<()> {
        if let (true, Some(html)) = (self.folder, &self.html) {
            let options = IndexOptions { house: self.companions.appearance().house.clone(), ..IndexOptions::default() };
            let page = html.index(&all.entries, &options)?;
            output::write(&self.args.out.join(INDEX), page.as_bytes())?;
        }
        if self.args.binder {
            if all.sheets.is_empty() {
                bail!("no sheet for a binder");
            }
            let options = sheets::pdf_options(self.args.paper, self.companions.appearance());
            let bytes = pdf::binder(&all.sheets, &IndexOptions::default().title, &options)?;
            output::write(&self.args.out.join(BINDER), &bytes)?;
        }
        Ok(())
    }

    /// What was written, what was left, and where to look.
    fn said(&self, all: &Written, stopped: bool) -> Vec<String> {
        const NAMED: usize = 4;
        let out = shown(&self.args.out);
        let what = if self.formats.is_empty() { "file" } else { "sheet" };
        let mut line = match (all.put.len(), all.left) {
            (0, 0) => String::new(),
            (0, left) => format!("left {} in {out} as they were", counted(left, what)),
            (put, 0) if put <= NAMED => {
                let names: Vec<String> = all.put.iter().map(|path| shown(path)).collect();
                format!("wrote {}", names.join(", "))
            }
            (put, 0) => format!("wrote {} to {out}", counted(put, what)),
            (put, left) => format!("wrote {} to {out}, left {left} as they were", counted(put, what)),
        };
        if !line.is_empty() && !stopped {
            if self.args.binder {
                line.push_str(&format!("; all in one: {}", shown(&self.args.out.join(BINDER))));
            }
            if self.folder && self.html.is_some() {
                line.push_str(&format!("; open {}", shown(&self.args.out.join(INDEX))));
            }
        }
        let without = all.without.iter().map(|reason| format!("left out: {reason}"));
        without.chain((!line.is_empty()).then_some(line)).collect()
    }

    /// Writes a sheet in the formats asked for, sealed where it has a note, which hangs on the files that its document names.
    fn put(
        &self,
        sheet: &Sheet,
        kind: Kind,
        report: &Report,
        note: Option<(&Note, &[NamedFile])>,
        unchanged: &Unchanged<'_>,
        done: &mut Written,
    ) {
        let sealed = |format, bytes: Vec<u8>| {
            let Some((note, files)) = note else { return bytes };
            let source = sheet.source.text.as_bytes();
            let made_of = unchanged.made_of(&report.input, source, files, kind, format);
            seal::seal(format, bytes, &made_of, note)
        };
        let mut put = |format: Format, bytes: Result<Vec<u8>>| {
            let path = self.path(&report.input, kind, sheet.language(), format.ending());
            if let Ok((loaded, _)) = &report.result
                && let Err(error) = revise::refuse_same_revision(self.companions.files(), loaded, &report.input, &path)
            {
                done.failures.push(format!("{error:#}"));
                return;
            }
            let written = bytes
                .with_context(|| report.input.name.clone())
                .and_then(|bytes| output::write(&path, &sealed(format, bytes)));
            match written {
                Ok(()) => done.put.push(path),
                Err(error) => done.failures.push(format!("{error:#}")),
            }
        };
        // The two formats of one sheet need nothing of each other.
        let (paper, appearance) = (self.args.paper, self.companions.appearance());
        let (pdf, html) = rayon::join(
            || self.args.to.contains(&To::Pdf).then(|| sheets::pdf(sheet, paper, appearance)),
            || self.html.as_ref().map(|renderer| sheets::html(renderer, sheet, paper, appearance)),
        );
        if let Some(bytes) = pdf {
            put(Format::Pdf, bytes.map_err(Into::into));
        }
        if let Some(page) = html {
            put(Format::Html, page.map(String::into_bytes).map_err(Into::into));
        }
    }

    /// Where a sheet goes.
    fn path(&self, input: &Input, kind: Kind, language: Language, ending: &str) -> PathBuf {
        self.args.out.join(Self::below(input, kind, language, ending))
    }

    /// The path of a sheet below the output folder: the kind stands in the name, but for that of the procedure, and the language,
    /// but for English.
    fn below(input: &Input, kind: Kind, language: Language, ending: &str) -> String {
        let ending = match language {
            Language::En => ending.to_owned(),
            other => format!("{}.{ending}", other.tag()),
        };
        let stem = input.stem.to_string_lossy();
        match kind {
            Kind::Procedure => format!("{stem}.{ending}"),
            _ => format!("{stem}.{}.{ending}", kind.name()),
        }
    }
}

/// Lets a sheet say whether its file is sealed, so that a seal that was taken off is missed.
const fn say_sealed(sheet: &mut Sheet, sealed: bool) {
    if let Some(made_with) = &mut sheet.source.made_with {
        made_with.sealed = sealed;
    }
}

/// What was typed as requests for sheets, one for each language.
///
/// Errors: a kind that is typed and that none of the languages has.
fn requests(args: &RenderArgs) -> Result<Vec<SheetRequest>> {
    let (languages, typed) = (once(&args.language), once(&args.sheet));
    let lacks = |kind: &&Kind| !kind.languages().iter().any(|language| languages.contains(language));
    if let (Some(kind), Some(language)) = (typed.iter().find(lacks), languages.first()) {
        bail!(
            "--language {}: a {} sheet is made in English only; {} has bench cards and lessons: write `--sheet bench-card` or `--sheet lesson`",
            language.tag(),
            kind.name(),
            language.name()
        );
    }
    let of = |language: Language| {
        let kinds = match language {
            _ if !typed.is_empty() => typed.clone(),
            Language::En => vec![Kind::Procedure, Kind::Lesson],
            _ => vec![Kind::BenchCard, Kind::Lesson],
        };
        let kinds = kinds.into_iter().filter(|kind| kind.languages().contains(&language)).collect();
        request(args, kinds, language)
    };
    Ok(languages.into_iter().map(of).filter(|request| !request.kinds.is_empty()).collect())
}

fn request(args: &RenderArgs, kinds: Vec<Kind>, language: Language) -> SheetRequest {
    SheetRequest {
        kinds,
        options: SheetOptions {
            units: args.units,
            terms: args.terms,
            annex: args.annex,
            language,
            ..SheetOptions::default()
        },
        paper: args.paper,
        length: args.length.clone(),
    }
}

/// Whether a path is named as sheets are.
fn sheet_itself(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "pdf" || ending == "html")
}

/// Each once, in the order in which they were typed.
fn once<T: Copy + PartialEq>(typed: &[T]) -> Vec<T> {
    let mut all = Vec::new();
    for own in typed {
        if !all.contains(own) {
            all.push(*own);
        }
    }
    all
}
