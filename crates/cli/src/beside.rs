//! The documents that others are held against: test records and a shop. They are read once, before any document is checked.

use std::path::{Path, PathBuf};

use seamwright_check::codes::{self, Qualification, Qualified};
use seamwright_check::kit::{self, Kit};
use seamwright_check::{Context, Outcome, Records, View};
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_model::procedure::{CodeName, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_model::{Loaded, document};

use crate::args::BesideArgs;
use crate::arrived;
use crate::files::{self, Input, Unread};
use crate::report::Report;
use crate::report::machine::Machine;

/// What stands beside the documents of a command.
#[derive(Default)]
pub struct Beside {
    records: Vec<(Box<TestRecord>, Qualification)>,
    ranges: Vec<Qualified>,
    shop: Option<Box<Shop>>,
    code: Option<CodeName>,
}

impl Beside {
    /// Reads what was named; `Err` holds a report of each file that gives nothing.
    pub fn read(args: &BesideArgs) -> Result<Self, Vec<Report>> {
        let mut beside = Self { code: args.code, ..Self::default() };
        let mut failed = Vec::new();
        for path in &args.record {
            match record(path, args.code) {
                Ok(found) => beside.records.push(found),
                Err(report) => failed.push(*report),
            }
        }
        if let Some(path) = &args.shop {
            match shop(path) {
                Ok(shop) => beside.shop = Some(shop),
                Err(report) => failed.push(*report),
            }
        }
        if !failed.is_empty() {
            return Err(failed);
        }
        let qualifications: Vec<Qualification> = beside.records.iter().map(|(_, found)| found.clone()).collect();
        beside.ranges = codes::combine(&qualifications);
        Ok(beside)
    }

    /// Reads and checks one file against what stands beside it.
    pub fn examine(&self, input: Input) -> Report {
        let result = files::read(&input).and_then(|loaded| {
            let outcome = self.check(&input, &loaded).map_err(|faults| refused(&loaded, faults))?;
            if let Some(agreed) = arrived::compare(&input, &loaded, &outcome, self.shop.as_deref())
                .map_err(|fault| refused(&loaded, vec![fault]))?
            {
                eprintln!("{}: {agreed}", input.name);
            }
            Ok((loaded, outcome))
        });
        Report { input, result }
    }

    fn check(&self, input: &Input, loaded: &Loaded) -> Result<Outcome, Vec<Fault>> {
        let records: Vec<&TestRecord> = self.records.iter().map(|(record, _)| &**record).collect();
        let mut context = Context { today: Some(today()), ..Context::default() };
        let named = self.named(input, loaded)?;
        context.shop = self.shop.as_deref().or(named.shop.as_deref());
        context.procedure = named.procedure.as_deref();
        match &loaded.document {
            Document::Procedure(procedure) if !records.is_empty() => {
                let code = self.code_for(procedure, loaded)?;
                context.records = Some(Records { code, records: &records, ranges: &self.ranges });
            }
            _ => {}
        }
        Ok(seamwright_check::check_with(&loaded.document, &context))
    }

    /// What follows from a document and what stands beside it: the machines for a procedure, the kit of a lesson.
    pub fn follow(&self, report: &Report) -> Follow {
        let Ok((loaded, _)) = &report.result else { return Follow::default() };
        let named = self.named(&report.input, loaded).unwrap_or_default();
        let shop = self.shop.as_deref().or(named.shop.as_deref());
        match (&loaded.document, shop, &named.procedure) {
            (Document::Procedure(procedure), Some(shop), _) => {
                Follow { machines: Machine::for_procedure(&View::new(procedure), shop), kit: None }
            }
            (Document::Lesson(lesson), shop, Some(procedure)) => {
                Follow { machines: Vec::new(), kit: Some(kit::of(lesson, &View::new(procedure), shop)) }
            }
            _ => Follow::default(),
        }
    }

    /// The shop that was named for all documents.
    pub fn shop(&self) -> Option<&Shop> {
        self.shop.as_deref()
    }

    /// Reads the documents that one names; `Err` says at its place which of them cannot be read.
    pub fn named(&self, input: &Input, loaded: &Loaded) -> Result<Named, Vec<Fault>> {
        let file = |name: &str, pointer: &str, meant: &str| {
            let path = input.path.parent().unwrap_or(Path::new("")).join(name);
            let fault = |message: String| {
                vec![Fault {
                    message,
                    hint: Some("write the path of the file as seen from this one".to_owned()),
                    span: Some(loaded.tree.span_of(pointer)),
                    pointer: pointer.to_owned(),
                }]
            };
            let read = kind(&self::input(&path), meant).map_err(|unread| {
                let first = unread.faults.first().map_or("cannot be read", |fault| fault.message.as_str());
                fault(format!("{}: {first}", path.display()))
            })?;
            if no_machines(&read) {
                return Err(fault(format!("{}: {}", path.display(), without_machines(&read).message)));
            }
            Ok(read.document)
        };
        let own_shop = |name: Option<&str>, pointer: &str| match name.filter(|_| self.shop.is_none()) {
            Some(name) => file(name, pointer, "shop").map(|document| match document {
                Document::Shop(shop) => Some(shop),
                _ => None,
            }),
            None => Ok(None),
        };
        Ok(match &loaded.document {
            Document::Procedure(procedure) => Named {
                shop: own_shop(procedure.identification.shop.as_deref(), "/identification/shop")?,
                procedure: None,
            },
            Document::Lesson(lesson) => Named {
                shop: own_shop(lesson.shop.as_deref(), "/shop")?,
                procedure: match file(&lesson.procedure, "/procedure", "procedure")? {
                    Document::Procedure(procedure) => Some(procedure),
                    _ => None,
                },
            },
            _ => Named::default(),
        })
    }

    /// The code under which a procedure and its records stand; `Err` where they do not belong together.
    fn code_for(&self, procedure: &Procedure, loaded: &Loaded) -> Result<CodeName, Vec<Fault>> {
        let qualification = procedure.qualification.as_ref();
        let own = qualification.and_then(|own| own.code).filter(|code| *code != CodeName::None);
        let asked = self.code.filter(|code| *code != CodeName::None);
        let listed = qualification.map(|own| own.records.as_slice()).unwrap_or_default();
        let number = &procedure.identification.number;
        let mut faults = Vec::new();
        let mut fault = |pointer: &str, message: String, hint: &str| {
            faults.push(Fault {
                message,
                hint: Some(hint.to_owned()),
                span: Some(loaded.tree.span_of(pointer)),
                pointer: pointer.to_owned(),
            });
        };
        if let (Some(own), Some(asked)) = (own, asked)
            && own != asked
        {
            fault(
                "/qualification/code",
                format!("{number} is under {}, not under {}", codes::title(own), codes::title(asked)),
                "leave --code out, or name the code of the procedure",
            );
        }
        for (record, found) in &self.records {
            let name = &record.identification.number;
            if let Some(code) = asked.or(own).filter(|code| *code != found.code) {
                fault(
                    "/qualification/code",
                    format!(
                        "{name} is a record of {}, and {number} is under {}",
                        codes::title(found.code),
                        codes::title(code)
                    ),
                    "name a record of the code that governs",
                );
            }
            let in_list = listed.iter().any(|own| own == name);
            let of_this = record.procedure.as_ref().is_none_or(|own| own == number);
            if !in_list && (!listed.is_empty() || !of_this) {
                let others = listed.iter().map(|own| &**own).collect::<Vec<_>>().join(", ");
                let message = if listed.is_empty() {
                    format!(
                        "{name} is the record of {}, not of {number}",
                        record.procedure.as_deref().unwrap_or_default()
                    )
                } else {
                    format!("{name} is not among the records of {number}, which are {others}")
                };
                fault("/qualification/records", message, "name one of its records, or add this one under `records:`");
            }
        }
        let code = asked.or(own).or_else(|| self.records.first().map(|(_, found)| found.code));
        match code {
            Some(code) if faults.is_empty() => Ok(code),
            _ => Err(faults),
        }
    }
}

/// The day where the sun rises first: a date that is today anywhere does not lie in the future.
fn today() -> Date {
    Date(jiff::tz::offset(14).to_datetime(jiff::Timestamp::now()).date())
}

/// What follows from a document and what stands beside it.
#[derive(Default)]
pub struct Follow {
    /// The best machine for each process of a procedure.
    pub machines: Vec<Machine>,
    /// The kit of a lesson.
    pub kit: Option<Kit>,
}

/// The documents that one names.
#[derive(Default)]
pub struct Named {
    /// Its shop, where none was named for all documents.
    pub shop: Option<Box<Shop>>,
    /// The procedure of a lesson.
    pub procedure: Option<Box<Procedure>>,
}

fn no_machines(loaded: &Loaded) -> bool {
    matches!(&loaded.document, Document::Shop(shop) if shop.power_sources.is_empty())
}

fn without_machines(loaded: &Loaded) -> Fault {
    Fault {
        message: "this shop names no power source; nothing can be held against it".to_owned(),
        hint: Some("list its machines under `power_sources:`".to_owned()),
        span: Some(loaded.tree.span_of("/document")),
        pointer: "/document".to_owned(),
    }
}

/// Reads a shop, which must name its machines.
pub fn shop(path: &Path) -> Result<Box<Shop>, Box<Report>> {
    let input = input(path);
    let failed = |input, unread| Box::new(Report { input, result: Err(unread) });
    let loaded = match kind(&input, "shop") {
        Ok(loaded) => loaded,
        Err(unread) => return Err(failed(input, unread)),
    };
    let fault = without_machines(&loaded);
    match loaded.document {
        Document::Shop(shop) if !shop.power_sources.is_empty() => Ok(shop),
        _ => Err(failed(input, Unread { source: Some(loaded.source), faults: vec![fault] })),
    }
}

/// Reads a test record and what it qualifies.
pub fn record(path: &Path, code: Option<CodeName>) -> Result<(Box<TestRecord>, Qualification), Box<Report>> {
    let input = input(path);
    let loaded = match kind(&input, "test-record") {
        Ok(loaded) => loaded,
        Err(unread) => return Err(Box::new(Report { input, result: Err(unread) })),
    };
    let Document::TestRecord(record) = &loaded.document else {
        return Err(Box::new(not_a(input, &loaded, "test-record")));
    };
    match codes::qualify(record, code) {
        Ok(found) => Ok((record.clone(), found)),
        Err(refusals) => {
            let faults = refusals
                .into_iter()
                .map(|refusal| Fault {
                    message: refusal.message,
                    hint: refusal.hint,
                    span: Some(loaded.tree.span_of(&refusal.pointer)),
                    pointer: refusal.pointer,
                })
                .collect();
            let result = Err(refused(&loaded, faults));
            Err(Box::new(Report { input, result }))
        }
    }
}

fn not_a(input: Input, loaded: &Loaded, meant: &str) -> Report {
    let result = Err(refused(loaded, vec![other_kind(loaded, meant)]));
    Report { input, result }
}

/// Reads a file as one kind of document.
fn kind(input: &Input, meant: &str) -> Result<Loaded, Unread> {
    debug_assert!(document::KINDS.contains(&meant));
    let loaded = files::read(input)?;
    if loaded.document.kind() == meant {
        return Ok(loaded);
    }
    let fault = other_kind(&loaded, meant);
    Err(refused(&loaded, vec![fault]))
}

fn other_kind(loaded: &Loaded, meant: &str) -> Fault {
    Fault {
        message: format!("this is a {}, and a {meant} is meant", loaded.document.kind()),
        hint: Some(format!("name a file with `document: {meant}`")),
        span: Some(loaded.tree.span_of("/document")),
        pointer: "/document".to_owned(),
    }
}

fn refused(loaded: &Loaded, faults: Vec<Fault>) -> Unread {
    Unread { source: Some(loaded.source.clone()), faults }
}

/// A path as a file to read.
pub fn input(path: &Path) -> Input {
    let name = if path.as_os_str() == "-" { "standard input".to_owned() } else { path.display().to_string() };
    Input { path: path.to_owned(), name, stem: path.file_stem().map(PathBuf::from).unwrap_or_default() }
}
