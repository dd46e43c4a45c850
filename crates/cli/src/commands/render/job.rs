//! The files of a run: each checked, its sheets written, and what gathers them all.

use std::cell::OnceCell;
use std::collections::HashMap;
use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result, bail};
use seamwright_check::rule::counted;
use seamwright_desk::companions::{Companions, Named};
use seamwright_desk::files::{Input, shown};
use seamwright_desk::house_style;
use seamwright_desk::report::Report;
use seamwright_desk::review::{self, Review};
use seamwright_desk::revise;
use seamwright_desk::seal::{self, Format, Note};
use seamwright_desk::sheets::{self, Made, SheetRequest};
use seamwright_desk::unchanged::{self, NamedFile, Unchanged};
use seamwright_page::Kind;
use seamwright_page::block::Sheet;
use seamwright_page::html::{HtmlRenderer, IndexEntry, IndexOptions};
use seamwright_page::pdf;
use seamwright_page::words::Language;

use super::done::{Looked, Written};
use super::names::{BINDER, Data, INDEX, below, sheet_itself};
use super::requests::requests;
use crate::args::{RenderArgs, To};
use crate::output;

/// What every file of a run shares.
pub(super) struct Job<'a> {
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
    pub(super) fn new(args: &'a RenderArgs, folder: bool, companions: &'a Companions<'a>) -> Result<Self> {
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
    pub(super) fn no_two_alike(&self, inputs: &[Input]) -> Result<()> {
        let mut taken: HashMap<String, &str> = HashMap::new();
        for input in inputs {
            let of_kind = |(kind, language): (Kind, Language)| {
                let endings = self.formats.iter().map(|format| format.ending());
                let endings = endings.chain(self.data.iter().map(|data| data.ending()));
                endings.map(move |ending| below(input, kind, language, ending))
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
    pub(super) fn file(&self, input: &Input) -> (Looked, Written) {
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
        let path =
            |format: Format| self.formats.contains(&format).then(|| below(input, kind, language, format.ending()));
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
        // What welds are made by is not printed anew under an issued number.
        let prints = request.kinds.is_empty() || request.kinds.iter().any(|kind| kind.welds());
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
    pub(super) fn gather(&self, all: &Written) -> Result<()> {
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
    pub(super) fn said(&self, all: &Written, stopped: bool) -> Vec<String> {
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
        self.args.out.join(below(input, kind, language, ending))
    }
}

/// Lets a sheet say whether its file is sealed, so that a seal that was taken off is missed.
const fn say_sealed(sheet: &mut Sheet, sealed: bool) {
    if let Some(made_with) = &mut sheet.source.made_with {
        made_with.sealed = sealed;
    }
}
