//! `job`: a list of joints against its procedures, machines, welders and stock; its price, and the papers of it.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};
use seamwright_desk::appearance::Appearance;
use seamwright_desk::files::{self, Files, Input, shown};
use seamwright_desk::job::{self, Distinct, Heading, Known, Worked};
use seamwright_desk::report::Report;
use seamwright_desk::{companions, sheets};
use seamwright_handbook::variables::Terms;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::load;
use seamwright_model::shop::Shop;
use seamwright_page::SheetOptions;
use seamwright_sheet::kinds::JobPaper;

use crate::args::{Form, JobArgs};
use crate::ending::Ending;
use crate::report::text;
use crate::{output, results, terminal, today};

/// Runs the command.
pub fn run(args: &JobArgs) -> Result<Ending> {
    let disk = today::disk();
    let Some(loaded) = read(&disk, args)? else { return Ok(Ending::Failed) };
    let Document::Job(job) = &loaded.document else {
        bail!("{}: `document: {}` is not a job", shown(&args.file), loaded.document.kind());
    };
    if job.joints.is_empty() {
        bail!("{}: no joints", shown(&args.file));
    }
    if let Some(path) = &args.write {
        if path.exists() {
            bail!("{}: is there already; a job is never written over", shown(path));
        }
        output::write(path, loaded.source.text.as_bytes())?;
    }
    // What a document names lies beside it; what was typed for a list, where the command runs.
    let folder = if is_list(&args.file) { Path::new("") } else { args.file.parent().unwrap_or(Path::new("")) };
    let shop = match args.shop.clone().or_else(|| job.shop.as_deref().map(|name| folder.join(name))) {
        None => None,
        Some(path) => match companions::shop(&disk, &path) {
            Ok(shop) => Some(shop),
            Err(failed) => {
                text::print(&[*failed]);
                return Ok(Ending::Failed);
            }
        },
    };
    let mut paths = args.procedures.clone();
    if !is_list(&args.file) {
        paths.extend(job.procedures.iter().map(|name| folder.join(&**name)));
    }
    if paths.is_empty() {
        bail!(
            "{}: names no procedures; write `procedures: [FOLDER]`, or name them with --procedures",
            shown(&args.file)
        );
    }
    let all = procedures(&disk, &paths)?;
    let distinct = Distinct::of(&all);
    let worked = job::work_out(job, &distinct, shop.as_deref(), disk.today());
    if args.format == Form::Text {
        results::folded(|out| {
            let told = if terminal::quiet() { worked.found(out, false) } else { worked.text(out, terminal::width()) };
            Ok(told?)
        })?;
    }
    let written = match &args.out {
        Some(out) => write(args, out, &loaded, shop.as_deref(), &distinct.known, &worked)?,
        None => Vec::new(),
    };
    match args.format {
        Form::Text if terminal::quiet() => {}
        Form::Text => written.iter().try_for_each(|path| writeln!(results::out(), "{path}"))?,
        Form::Json => results::json("job", worked.json(job, &written))?,
    }
    let errors = worked.against.iter().any(|own| own.severity == Severity::Error);
    Ok(if errors { Ending::Findings } else { Ending::Clean })
}

/// Whether a file is a list of joints from a spreadsheet.
fn is_list(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ["csv", "tsv", "txt"].iter().any(|own| ending == *own))
}

/// How a path is named in a job that is written elsewhere.
fn from(args: &JobArgs, path: &Path) -> String {
    let elsewhere = args.write.as_deref().and_then(Path::parent).is_some_and(|folder| !folder.as_os_str().is_empty());
    let whole = || std::path::absolute(path).ok().filter(|_| elsewhere);
    whole().map_or_else(|| shown(path), |path| shown(&path))
}

/// The job: a document, or a list of joints from a spreadsheet.
fn read(disk: &dyn Files, args: &JobArgs) -> Result<Option<Loaded>> {
    if !is_list(&args.file) {
        let input = Input::typed(&args.file);
        return match files::read(disk, &input) {
            Ok(loaded) => Ok(Some(loaded)),
            Err(unread) => {
                text::print(&[Report::unread(input, unread)]);
                Ok(None)
            }
        };
    }
    let table = files::text(disk, &args.file, 4 << 20)?;
    let rows = job::rows(&shown(&args.file), &table)?;
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let heading = Heading {
        number: args.number.clone().unwrap_or_else(|| stem.clone()),
        title: args.title.clone().unwrap_or_else(|| format!("Joints of {}", disk.today())),
        date: disk.today(),
        shop: args.shop.as_deref().map(|shop| from(args, shop)),
        procedures: args.procedures.iter().map(|path| from(args, path)).collect(),
    };
    let text = job::text(&heading, &rows).map_err(|error| anyhow!("{}: {error}", shown(&args.file)))?;
    match load::load(&shown(&args.file), text.as_bytes()) {
        Ok(loaded) => Ok(Some(loaded)),
        Err((_, faults)) => {
            let all: Vec<String> = faults.iter().map(|fault| format!("{}: {}", fault.pointer, fault.message)).collect();
            bail!("{}: {}", shown(&args.file), all.join("; "))
        }
    }
}

/// The procedures of files and folders.
fn procedures(disk: &dyn Files, paths: &[PathBuf]) -> Result<Vec<Known>> {
    let mut all = Vec::new();
    for input in files::inputs(disk, paths)? {
        match files::read(disk, &input) {
            Ok(loaded) => all.extend(Known::new(loaded, disk.today())),
            Err(unread) => {
                text::print(&[Report::unread(input.clone(), unread)]);
                bail!("{}: cannot be read", input.name);
            }
        }
    }
    Ok(all)
}

/// Writes the papers: for the customer, for the office, and the binder with cover, traveller and cards.
fn write(
    args: &JobArgs,
    out: &Path,
    loaded: &Loaded,
    shop: Option<&Shop>,
    known: &[&Known],
    worked: &Worked,
) -> Result<Vec<String>> {
    let appearance = Appearance::default();
    let paper = args.paper;
    let options = SheetOptions { units: args.units, terms: Terms::Iso, ..SheetOptions::default() };
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let mut written = Vec::new();
    for kind in [JobPaper::Office, JobPaper::Quotation] {
        let sheet = match job::paper(kind, loaded, shop, worked) {
            Ok(sheet) => sheet,
            Err(why) => {
                terminal::say(format_args!("no {}: {why}", kind.name()));
                continue;
            }
        };
        let path = out.join(format!("{stem}.{}.pdf", kind.name()));
        output::write(&path, &sheets::pdf(&sheet, paper, &appearance)?)?;
        written.push(shown(&path));
    }
    let path = out.join(format!("{stem}.binder.pdf"));
    output::write(&path, &job::binder(loaded, shop, worked, known, options, paper, &appearance)?)?;
    written.push(shown(&path));
    Ok(written)
}
