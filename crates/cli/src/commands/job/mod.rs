//! `job`: a list of joints against its procedures, machines, welders and stock; its price, and the papers of it.
//!
//! `rows.rs` reads a list from a spreadsheet.

mod rows;

use std::collections::HashMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};
use seamwright_check::cover::{self, Verdict, Wanted};
use seamwright_check::shops::{self, machines};
use seamwright_check::{Context, Outcome, View, check_with, codes};
use seamwright_desk::appearance::Appearance;
use seamwright_desk::files::{self, Files, Input, shown};
use seamwright_desk::report::Report;
use seamwright_desk::{companions, sheets};
use seamwright_estimate::{Cost, Estimate, Joint, Options, buying, estimate, quote};
use seamwright_handbook::variables::Terms;
use seamwright_handbook::{base_metals, find};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::job::{Job, JobJoint};
use seamwright_model::load;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Length, UnitSystem};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;
use seamwright_sheet::kinds::{self, JobPaper, JobRow, JobSheets, Kind, SheetOptions, Subject};
use seamwright_sheet::pdf::{self, Paper};
use serde_json::json;

use crate::args::{JobArgs, PaperSize, Units};
use crate::report::text;
use crate::{Ending, output, today};

/// A procedure of the job with what its own checks found.
struct Known {
    loaded: Loaded,
    outcome: Outcome,
}

impl Known {
    fn procedure(&self) -> &Procedure {
        match &self.loaded.document {
            Document::Procedure(procedure) => procedure,
            // cannot be: only procedures are kept
            _ => unreachable!("a procedure"),
        }
    }
}

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
    let known = procedures(&disk, &paths)?;
    let mut findings: Vec<(Severity, String)> = Vec::new();
    let mut done: Vec<Option<Estimate>> = Vec::new();
    let mut judged: HashMap<(String, String, String), Vec<(Severity, String)>> = HashMap::new();
    for joint in &job.joints {
        let (estimate, mut own) = one(job, joint, &known, shop.as_deref(), &mut judged, disk.today());
        done.push(estimate);
        findings.append(&mut own);
    }
    let estimates: Vec<&Estimate> = done.iter().flatten().collect();
    for buy in buying(estimates.iter().copied()).iter().filter(|buy| buy.in_stock.is_some()) {
        findings.push((
            Severity::Caution,
            format!(
                "{}: {} {} are needed, {} {} are in stock",
                buy.what,
                figure(buy.used),
                buy.unit,
                figure(buy.in_stock.unwrap_or(0.0)),
                buy.unit
            ),
        ));
    }
    let cost = shop.as_deref().and_then(|shop| quote(&estimates, shop));
    let sheets = papers(job, &done, &known, cost, &estimates, &findings);
    tell(&sheets, &findings)?;
    if let Some(out) = &args.out {
        write(args, out, &loaded, shop.as_deref(), &known, &sheets)?;
    }
    let errors = findings.iter().any(|(severity, _)| *severity == Severity::Error);
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
    let rows = rows::read(&args.file, &table)?;
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let mut job = json!({
        "format": 1,
        "document": "job",
        "identification": {
            "number": args.number.clone().unwrap_or_else(|| stem.clone()),
            "revision": 1,
            "date": disk.today().to_string(),
            "title": args.title.clone().unwrap_or_else(|| format!("Joints of {stem}")),
        },
    });
    if let Some(shop) = &args.shop {
        job["shop"] = json!(from(args, shop));
    }
    if !args.procedures.is_empty() {
        job["procedures"] = args.procedures.iter().map(|path| json!(from(args, path))).collect();
    }
    job["joints"] = json!(rows);
    let text = serde_yaml::to_string(&job).map_err(|error| anyhow!("{}: {error}", shown(&args.file)))?;
    match load::load(&shown(&args.file), text.as_bytes()) {
        Ok(loaded) => Ok(Some(loaded)),
        Err((_, faults)) => {
            let all: Vec<String> = faults.iter().map(|fault| format!("{}: {}", fault.pointer, fault.message)).collect();
            bail!("{}: {}", shown(&args.file), all.join("; "))
        }
    }
}

/// The procedures of files and folders; two of one number are an error, for nobody knows which is meant.
fn procedures(disk: &dyn Files, paths: &[PathBuf]) -> Result<Vec<Known>> {
    let mut all: Vec<Known> = Vec::new();
    for input in files::inputs(disk, paths)? {
        let loaded = match files::read(disk, &input) {
            Ok(loaded) => loaded,
            Err(unread) => {
                text::print(&[Report::unread(input.clone(), unread)]);
                bail!("{}: cannot be read", input.name);
            }
        };
        if !matches!(loaded.document, Document::Procedure(_)) {
            continue;
        }
        let number = loaded.document.number();
        if let Some(other) = all.iter().find(|own| own.loaded.document.number() == number) {
            if other.loaded.source.text == loaded.source.text {
                continue;
            }
            bail!("{} and {} both have the number {number}", other.loaded.source.name, input.name);
        }
        let outcome = check_with(&loaded.document, &Context { today: Some(disk.today()), ..Context::default() });
        all.push(Known { loaded, outcome });
    }
    Ok(all)
}

/// What stands against a procedure with a machine and a welder, by the three names.
type Judged = HashMap<(String, String, String), Vec<(Severity, String)>>;

/// One joint: its estimate, and what stands against it.
fn one(
    job: &Job,
    joint: &JobJoint,
    known: &[Known],
    shop: Option<&Shop>,
    judged: &mut Judged,
    today: seamwright_model::stated::Date,
) -> (Option<Estimate>, Vec<(Severity, String)>) {
    let mut findings = Vec::new();
    let name = &joint.joint;
    let wanted = wanted(joint, &mut findings);
    let numbers = || known.iter().map(|own| own.loaded.document.number());
    let covering = |wanted: &Wanted| -> Vec<&str> {
        let covers = |own: &&Known| cover::cover(&View::new(own.procedure()), wanted).0 == Verdict::Covered;
        known.iter().filter(covers).map(|own| own.loaded.document.number()).collect()
    };
    let asks = joint.metal.is_some() || joint.thickness.is_some() || joint.kind.is_some() || joint.position.is_some();
    let Some(number) = joint.procedure.as_deref() else {
        let found = if asks { covering(&wanted) } else { Vec::new() };
        let hint = if found.is_empty() { String::new() } else { format!("; it is covered by {}", found.join(", ")) };
        findings.push((Severity::Error, format!("joint {name}: names no procedure{hint}")));
        return (None, findings);
    };
    let Some(own) = known.iter().find(|own| find::same(own.loaded.document.number(), number)) else {
        let near = find::nearest(number, numbers());
        let hint = if near.is_empty() { String::new() } else { format!("; did you mean {}?", near.join(" or ")) };
        findings.push((Severity::Error, format!("joint {name}: there is no procedure {number}{hint}")));
        return (None, findings);
    };
    let procedure = own.procedure();
    let identification = &procedure.identification;
    if let Some(planned) = joint.procedure_revision.as_deref().filter(|planned| **planned != *identification.revision) {
        let why = procedure.revisions.iter().find(|entry| entry.revision == identification.revision);
        let why = why.map_or(String::new(), |entry| format!(" ({})", entry.change));
        findings.push((
            Severity::Error,
            format!(
                "joint {name}: planned with revision {planned} of {number}, which is revision {} now{why}: its estimate, traveller and card are stale",
                identification.revision
            ),
        ));
    }
    if own.outcome.count(Severity::Error) > 0 {
        findings.push((
            Severity::Error,
            format!(
                "procedure {number}: {} errors; see seamwright check {}",
                own.outcome.count(Severity::Error),
                own.loaded.source.name
            ),
        ));
    }
    if asks {
        let (verdict, off) = cover::cover(&View::new(procedure), &wanted);
        if verdict != Verdict::Covered {
            let off: Vec<String> = off
                .iter()
                .map(|off| {
                    format!(
                        "{} {} is asked for, it covers {}",
                        off.what,
                        off.asked,
                        if off.covers.is_empty() { "nothing stated" } else { &off.covers }
                    )
                })
                .collect();
            let others = covering(&wanted);
            let hint = if others.is_empty() { String::new() } else { format!("; covered by {}", others.join(", ")) };
            findings.push((
                Severity::Error,
                format!("joint {name}: {} by {number}: {}{hint}", verdict.as_str(), off.join(", ")),
            ));
        }
    }
    if let Some(shop) = shop {
        let day = job.start.unwrap_or(today);
        let key = (
            number.to_owned(),
            joint.machine.as_deref().unwrap_or_default().to_owned(),
            joint.welder.as_deref().unwrap_or_default().to_owned(),
        );
        let against = judged.entry(key).or_insert_with(|| in_shop(procedure, joint, shop, day));
        findings.extend(against.iter().map(|(severity, text)| (*severity, format!("joint {name}: {text}"))));
    }
    let mut procedure = procedure.clone();
    if let (Some(leg), Some(Stated::Is(size))) = (&joint.leg, &mut procedure.weld_size) {
        size.leg = Some(leg.clone());
        size.throat = None;
    }
    let thickness_mm = joint.thickness.as_ref().and_then(Stated::value).and_then(|range| range.high()).map(Length::mm);
    let thickness_mm = thickness_mm.filter(|_| View::new(&procedure).weld().is_some_and(|weld| weld.has_groove()));
    let length_mm = joint.length.value().and_then(|range| range.middle().or(range.high())).map_or(0.0, Length::mm);
    let joints = [Joint { name: name.to_string(), length_mm, count: joint.pieces.unwrap_or(1).max(1) }];
    match estimate(&procedure, &joints, &Options { thickness_mm, shop }) {
        Ok(estimate) => {
            if let Some(words) = &estimate.cannot_make {
                findings.push((Severity::Error, format!("joint {name}: {words}")));
            }
            (Some(estimate), findings)
        }
        Err(reason) => {
            findings.push((Severity::Error, format!("joint {name}: no estimate: {reason}")));
            (None, findings)
        }
    }
}

fn wanted(joint: &JobJoint, findings: &mut Vec<(Severity, String)>) -> Wanted {
    let metal = joint.metal.as_deref().and_then(|name| {
        let found = base_metals::find(name);
        if found.is_none() {
            findings.push((
                Severity::Caution,
                format!(
                    "joint {}: `{name}` is no metal that the handbook knows: it is not held against the procedure",
                    joint.joint
                ),
            ));
        }
        found
    });
    Wanted {
        metal,
        thickness_mm: joint.thickness.as_ref().and_then(Stated::value).and_then(|range| range.high()).map(Length::mm),
        joint: joint.kind,
        position: joint.position.as_ref().map(ToString::to_string),
        ..Wanted::default()
    }
}

/// What stands against a procedure on the machine and with the welder of a joint.
fn in_shop(
    procedure: &Procedure,
    joint: &JobJoint,
    shop: &Shop,
    day: seamwright_model::stated::Date,
) -> Vec<(Severity, String)> {
    let mut found = Vec::new();
    let (mut procedure, mut shop) = (procedure.clone(), shop.clone());
    if let Some(machine) = &joint.machine {
        if machines::find(&shop, machine).is_none() {
            let names: Vec<&str> = shop.power_sources.iter().map(|own| &*own.name).collect();
            found.push((Severity::Error, format!("the shop has no machine {machine}; it has {}", names.join(", "))));
        } else {
            procedure.machine = Some(machine.clone());
            for settings in procedure.processes.0.iter_mut().map(|(_, settings)| settings) {
                settings.machine = None;
            }
        }
    }
    if let Some(welder) = &joint.welder {
        let named = |own: &seamwright_model::shop::Welder| {
            find::same(&own.name, welder) || own.stamp.as_deref().is_some_and(|stamp| find::same(stamp, welder))
        };
        if shop.welders.iter().any(named) {
            shop.welders.retain(|own| named(own));
        } else {
            let names: Vec<&str> = shop.welders.iter().map(|own| &*own.name).collect();
            found.push((Severity::Error, format!("the shop has no welder {welder}; it has {}", names.join(", "))));
            shop.welders.clear();
        }
    }
    let outcome = check_with(
        &Document::Procedure(Box::new(procedure)),
        &Context { shop: Some(&shop), today: Some(day), ..Context::default() },
    );
    let of_shop = |check: &str| {
        shops::FITNESS.iter().any(|rule| rule.name == check)
            || codes::in_shop::RULES.iter().any(|rule| rule.name == check)
    };
    let own = outcome.findings.iter().filter(|finding| of_shop(finding.check) && finding.severity != Severity::Note);
    found.extend(own.map(|finding| (finding.severity, finding.message.clone())));
    found
}

fn figure(value: f64) -> String {
    crate::commands::calc::answer::number(value)
}

/// What the papers of a job print.
fn papers(
    job: &Job,
    done: &[Option<Estimate>],
    known: &[Known],
    cost: Option<Cost>,
    estimates: &[&Estimate],
    findings: &[(Severity, String)],
) -> JobSheets {
    let mut priced = cost.iter().flat_map(|cost| &cost.joints);
    let rows = job.joints.iter().zip(done).map(|(joint, estimate)| {
        let own = joint.procedure.as_deref().unwrap_or_default();
        let revision = known.iter().find(|known| find::same(known.loaded.document.number(), own));
        let priced = if estimate.is_some() { priced.next() } else { None };
        JobRow {
            joint: joint.joint.to_string(),
            drawing: joint.drawing.as_deref().unwrap_or_default().to_owned(),
            procedure: own.to_owned(),
            revision: revision.map_or_else(String::new, |own| own.procedure().identification.revision.to_string()),
            machine: joint.machine.as_deref().unwrap_or_default().to_owned(),
            welder: joint.welder.as_deref().unwrap_or_default().to_owned(),
            length: joint.length.value().map(|range| range.spelled().to_owned()).unwrap_or_default(),
            pieces: joint.pieces.unwrap_or(1),
            hours: priced.map(|own| own.time_min / 60.0).or(estimate.as_ref().map(|own| own.working_time_min / 60.0)),
            price: priced.map(|own| own.price),
            each: priced.map(|own| own.each),
        }
    });
    let rows = rows.collect();
    let word = |severity: Severity| severity.as_str().to_owned();
    JobSheets {
        rows,
        cost,
        buying: buying(estimates.iter().copied()),
        findings: findings.iter().map(|(severity, text)| (word(*severity), text.clone())).collect(),
    }
}

fn tell(papers: &JobSheets, findings: &[(Severity, String)]) -> Result<()> {
    let mut out = std::io::stdout().lock();
    for row in &papers.rows {
        let money = |value: Option<f64>| value.map_or("-".to_owned(), |value| format!("{value:.2}"));
        writeln!(
            out,
            "{:8} {:10} rev {:4} {:4} x {:10} {:8} h  {:>10}  {:>10} each  {}  {}",
            row.joint,
            row.procedure,
            row.revision,
            row.pieces,
            row.length,
            row.hours.map_or("-".to_owned(), figure),
            money(row.price),
            money(row.each),
            row.machine,
            row.welder
        )?;
    }
    if let Some(cost) = &papers.cost {
        writeln!(out, "\nprice of all: {:.2} {}, {} h", cost.price, cost.currency, figure(cost.time_min / 60.0))?;
        for missing in &cost.not_stated {
            writeln!(out, "not in the price: {missing}")?;
        }
    }
    for buy in &papers.buying {
        let packages = buy.packages.map_or(String::new(), |(count, word)| format!(", {count} x {word}"));
        writeln!(out, "to buy: {}: {} {}{packages}", buy.what, figure(buy.amount), buy.unit)?;
    }
    let mut said: Vec<&str> = Vec::new();
    for (severity, text) in findings {
        if !said.contains(&text.as_str()) {
            writeln!(out, "{}: {text}", severity.as_str())?;
            said.push(text);
        }
    }
    Ok(())
}

/// Writes the papers: for the customer, for the office, the traveller, and the binder with the cards.
fn write(
    args: &JobArgs,
    out: &Path,
    loaded: &Loaded,
    shop: Option<&Shop>,
    known: &[Known],
    papers: &JobSheets,
) -> Result<()> {
    let appearance = Appearance::default();
    let paper = match args.paper {
        PaperSize::A4 => Paper::A4,
        PaperSize::Letter => Paper::Letter,
    };
    let units = match args.units {
        Units::Si => UnitSystem::Si,
        Units::Us => UnitSystem::Us,
        Units::Both => UnitSystem::Both,
    };
    let options = SheetOptions { units, terms: Terms::Iso, annex: false };
    let outcome = Outcome::default();
    let subject = Subject { loaded, outcome: &outcome, shop, procedure: None, estimate: None };
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let mut said = std::io::stdout().lock();
    let mut binder = Vec::new();
    for kind in JobPaper::ALL {
        if kind == JobPaper::Quotation && papers.cost.is_none() {
            continue;
        }
        let sheet = kinds::job_sheet(kind, subject, papers);
        if matches!(kind, JobPaper::Cover | JobPaper::Traveller) {
            binder.push(sheet);
            continue;
        }
        let path = out.join(format!("{stem}.{}.pdf", kind.name()));
        output::write(&path, &sheets::pdf(&sheet, paper, &appearance)?)?;
        writeln!(said, "{}", shown(&path))?;
    }
    for own in known {
        let number = own.loaded.document.number();
        if papers.rows.iter().any(|row| find::same(&row.procedure, number)) {
            let subject = Subject { loaded: &own.loaded, outcome: &own.outcome, shop, procedure: None, estimate: None };
            binder.push(kinds::sheet(Kind::BenchCard, subject, options).map_err(|why| anyhow!("{number}: {why}"))?);
        }
    }
    let path = out.join(format!("{stem}.binder.pdf"));
    let title = loaded.document.identification().title.to_string();
    output::write(&path, &pdf::binder(&binder, &title, &sheets::pdf_options(paper, &appearance))?)?;
    writeln!(said, "{}", shown(&path))?;
    Ok(())
}
