//! The documents that others are held against: test records and a shop. They are read once, before any document is checked.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use seamwright_check::codes::{self, Qualification, Refusal};
use seamwright_check::kit::{self, Kit};
use seamwright_check::{Context, Outcome, Records, View};
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_model::procedure::{CodeName, Identification, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::source::Source;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_model::{Loaded, Reading, document};
use seamwright_sheet::kinds::{self, SheetOptions, Subject};
use seamwright_sheet::lately::Lately;
use seamwright_sheet::made_with::{Companion, MadeWith, Role};
use seamwright_sheet::words::Language;
use seamwright_version::VERSION;

use crate::appearance::Appearance;
use crate::beside::{Beside, Opened};
use crate::current::Current;
use crate::files::{self, Files, Input, Unread};
use crate::received;
use crate::report::Report;
use crate::report::machine::Machine;
use crate::seal;
use crate::unchanged;

/// A document that was read, and what a sheet says of it.
pub struct Read<T> {
    /// The document.
    pub document: Box<T>,
    /// Its number.
    number: String,
    /// Digest of its text.
    digest: String,
    /// Digest of what its file held when it was read.
    file: Vec<u8>,
}

impl<T> Read<T> {
    fn new(document: Box<T>, loaded: (&Identification, &Source)) -> Self {
        let (number, text) = (loaded.0.number.to_string(), &loaded.1.text);
        Self { document, number, digest: kinds::digest(text), file: seal::digest_of([text.as_bytes()]) }
    }

    /// What a sheet says of it.
    fn companion(&self, role: Role) -> Companion {
        Companion { role, name: self.number.clone(), digest: self.digest.clone() }
    }
}

/// A test record and what it qualifies.
pub struct Tested {
    /// The record.
    pub record: Read<TestRecord>,
    /// What it qualifies.
    pub qualification: Qualification,
}

/// The files that documents are to be held against.
#[derive(Debug, Clone, Default)]
pub struct CompanionFiles {
    /// Test records of procedures.
    pub records: Vec<PathBuf>,
    /// Shop, in place of the one that a document names.
    pub shop: Option<PathBuf>,
    /// Procedure that lessons teach, in place of the one that they name.
    pub procedure: Option<PathBuf>,
    /// Code that governs, where the documents do not name it.
    pub code: Option<CodeName>,
}

/// What stands beside the documents of a request, and the files that these name others in.
pub struct Companions<'f> {
    files: &'f dyn Files,
    records: Vec<Arc<Tested>>,
    shop: Option<Arc<Read<Shop>>>,
    procedure: Option<Arc<Read<Procedure>>>,
    /// The same as it was read: sheets of it are told whether they still hold.
    now: Option<Arc<Loaded>>,
    code: Option<CodeName>,
    appearance: Appearance,
    /// What was issued and lies beside the documents.
    beside: Beside<'f>,
    /// The day of the check; today where there is none.
    day: Option<Date>,
}

impl<'f> Companions<'f> {
    /// Nothing beside documents but what they name themselves.
    pub fn none(files: &'f dyn Files) -> Self {
        let (records, appearance) = (Vec::new(), Appearance::default());
        let beside = Beside::new(files);
        Self { files, records, shop: None, procedure: None, now: None, code: None, appearance, beside, day: None }
    }

    /// The same with what was made lately of other sheets.
    #[must_use]
    pub fn keeping(mut self, lately: &Lately) -> Self {
        self.appearance.lately = lately.clone();
        self
    }

    /// Reads what was named; `Err` holds a report of each file that gives nothing.
    pub fn read(files: &'f dyn Files, named: &CompanionFiles, appearance: Appearance) -> Result<Self, Vec<Report>> {
        let mut companions = Self { code: named.code, appearance, ..Self::none(files) };
        let mut failed = Vec::new();
        for path in &named.records {
            let input = Input::typed(path);
            match files::read(files, &input).and_then(|loaded| tested(&loaded, named.code)) {
                Ok(found) => companions.records.push(Arc::new(found)),
                Err(unread) => failed.push(Report::unread(input, unread)),
            }
        }
        if let Some(path) = &named.shop {
            let input = Input::typed(path);
            match read_shop(files, &input) {
                Ok(shop) => companions.shop = Some(Arc::new(shop)),
                Err(unread) => failed.push(Report::unread(input, unread)),
            }
        }
        if let Some(path) = &named.procedure {
            let input = Input::typed(path);
            match kind(files, &input, "procedure").and_then(|loaded| Ok((as_procedure(&loaded)?, loaded))) {
                Ok((procedure, loaded)) => {
                    companions.procedure = Some(Arc::new(procedure));
                    companions.now = Some(Arc::new(loaded));
                }
                Err(unread) => failed.push(Report::unread(input, unread)),
            }
        }
        if failed.is_empty() { Ok(companions) } else { Err(failed) }
    }

    /// The same with what was opened before of the sheets and copies beside documents.
    #[must_use]
    pub fn remembering(mut self, opened: Arc<Opened>) -> Self {
        self.beside = Beside::remembering(self.files, opened);
        self
    }

    /// Reads and checks one file against what stands beside it, and the documents that it names.
    pub fn examine(&self, input: Input) -> (Report, Named) {
        let mut named = Named::default();
        let mut received = None;
        let result = files::open(self.files, &input).and_then(|(loaded, arrival)| {
            let refused = |faults| refused(&loaded, faults);
            received = arrival.map(|arrival| received::judge(self, &input, &loaded, &arrival));
            if let (Some(received), Some(now)) = (&mut received, &self.now) {
                received.current = Current::of(&loaded, now);
            }
            named = self.named(&input, &loaded).map_err(refused)?;
            let outcome = self.check(&loaded, &named).map_err(refused)?;
            Ok((loaded, outcome))
        });
        let rest = match &result {
            Err(Unread { reading: Some(reading), .. }) => self.check_rest(&input, reading).map(Box::new),
            _ => None,
        };
        let received = received.or_else(|| result.as_ref().err()?.received.as_deref().cloned());
        let issued = result.as_ref().ok().filter(|_| received.is_none());
        let issued = issued.and_then(|(loaded, _)| self.beside.issued_otherwise(&input, loaded));
        let issued = issued.map(|otherwise| otherwise.finding(&input.name));
        (Report { input, received, result, rest, issued }, named)
    }

    /// Checks what could be read of a file with faults. Only what has nothing to do with the faulty values is told: nothing of
    /// their sections, and no finding that something is missing or does not go together, which may hang on them.
    fn check_rest(&self, input: &Input, reading: &Reading) -> Option<(Loaded, Outcome)> {
        const TOGETHER: &[&str] = &[
            "missing",
            "undeclared",
            "without",
            "incomplete",
            "fill-joint",
            "for-joint",
            "unsuited",
            "unknown",
            "overlap",
            "for-metal",
            "to-metal",
            "on-plate",
            "cooling-time",
            "contradict",
            "direction",
            "undermatching",
        ];
        let (source, tree) = (reading.source.clone()?, reading.tree.clone()?);
        let loaded = Loaded { source, tree, document: reading.document.clone()? };
        let named = self.named(input, &loaded).unwrap_or_default();
        let mut outcome = self.check(&loaded, &named).ok()?;
        let faulty: Vec<String> = reading.left_out.iter().map(|pointer| section(pointer)).collect();
        if !faulty.is_empty() {
            outcome.findings.retain(|finding| {
                let beside = section(&reading.in_file(&finding.pointer));
                !faulty.contains(&beside) && !TOGETHER.iter().any(|word| finding.check.contains(word))
            });
        }
        let accepted = outcome.deviations.iter_mut().map(|(finding, _)| finding);
        for finding in outcome.findings.iter_mut().chain(accepted) {
            finding.pointer = reading.in_file(&finding.pointer);
        }
        Some((loaded, outcome))
    }

    /// Checks a document against what stands beside it.
    pub fn check(&self, loaded: &Loaded, named: &Named) -> Result<Outcome, Vec<Fault>> {
        self.check_on(self.day.or(Some(self.files.today())), loaded, named)
    }

    fn check_on(&self, day: Option<Date>, loaded: &Loaded, named: &Named) -> Result<Outcome, Vec<Fault>> {
        let records: Vec<&TestRecord> = self.records.iter().map(|own| &*own.record.document).collect();
        let qualifications: Vec<&Qualification> = self.records.iter().map(|own| &own.qualification).collect();
        let mut context = Context { today: day, ..Context::default() };
        context.shop = self.shop(named);
        context.procedure = self.procedure(named);
        match &loaded.document {
            Document::Procedure(procedure) if !records.is_empty() => {
                let code = self.code_for(procedure, loaded)?;
                context.records = Some(Records { code, records: &records, qualifications: &qualifications });
            }
            _ => {}
        }
        Ok(seamwright_check::check_with(&loaded.document, &context))
    }

    /// The shop that a document is held against: the one that was typed, else the one that it names.
    pub fn shop<'b>(&'b self, named: &'b Named) -> Option<&'b Shop> {
        self.shop_read(named).map(|own| &*own.document)
    }

    fn shop_read<'b>(&'b self, named: &'b Named) -> Option<&'b Read<Shop>> {
        self.shop.as_deref().or(named.shop())
    }

    /// The procedure that a lesson teaches: the one that was typed, else the one that it names.
    pub fn procedure<'b>(&'b self, named: &'b Named) -> Option<&'b Procedure> {
        self.procedure_read(named).map(|own| &*own.document)
    }

    fn procedure_read<'b>(&'b self, named: &'b Named) -> Option<&'b Read<Procedure>> {
        self.procedure.as_deref().filter(|_| named.lesson).or(named.procedure())
    }

    /// The test records, as a sheet tells of them.
    fn records_told(&self) -> impl Iterator<Item = Companion> {
        self.records.iter().map(|own| own.record.companion(Role::TestRecord))
    }

    /// Where its files are read from.
    pub fn files(&self) -> &'f dyn Files {
        self.files
    }

    /// The code that was named beside documents.
    pub fn code(&self) -> Option<CodeName> {
        self.code
    }

    /// The look of sheets.
    pub fn appearance(&self) -> &Appearance {
        &self.appearance
    }

    /// What follows from a document and what stands beside it: the machines for a procedure, the kit of a lesson.
    pub fn follow(&self, report: &Report, named: &Named) -> Follow {
        let Ok((loaded, _)) = &report.result else { return Follow::default() };
        match (&loaded.document, self.shop(named), self.procedure(named)) {
            (Document::Procedure(procedure), Some(shop), _) => {
                Follow { machines: Machine::for_procedure(&View::new(procedure), shop), kit: None }
            }
            (Document::Lesson(lesson), shop, Some(procedure)) => {
                Follow { machines: Vec::new(), kit: Some(kit::of(lesson, &View::new(procedure), shop)) }
            }
            _ => Follow::default(),
        }
    }

    /// The words of a document's sheets that a language lacks, each once; nothing of a document that cannot be read.
    pub fn lacking(&self, report: &Report, named: &Named, language: Language) -> Vec<String> {
        let Ok((loaded, outcome)) = &report.result else { return Vec::new() };
        let (shop, procedure) = (self.shop(named), self.procedure(named));
        let lately = &self.appearance.lately;
        let subject = Subject { loaded, outcome, shop, procedure, estimate: None, lately };
        kinds::lacking(subject, SheetOptions::default(), language)
    }

    /// Adds to what a sheet says it was made with what stands beside its document.
    pub fn tell(&self, made: &mut MadeWith, loaded: &Loaded, outcome: &Outcome, named: &Named) {
        VERSION.clone_into(&mut made.version);
        made.code = self.code.map(|code| code.to_string());
        if matches!(loaded.document, Document::Procedure(_)) {
            made.beside.extend(self.records_told());
        }
        made.beside.extend(self.at_hand(named));
        // Where nothing hangs on the day, equal input gives equal sheets on every day.
        let elsewhen = self.hangs_on_the_day(outcome, named).then(|| self.check_on(None, loaded, named));
        if elsewhen.is_some_and(|other| other.is_ok_and(|other| other.findings != outcome.findings)) {
            made.day = Some(self.day.unwrap_or_else(|| self.files.today()).to_string());
        }
    }

    /// Whether another day may find otherwise: a welder's qualification lapses, or a date lies ahead.
    pub fn hangs_on_the_day(&self, outcome: &Outcome, named: &Named) -> bool {
        let mut found = outcome.findings.iter().chain(outcome.deviations.iter().map(|(finding, _)| finding));
        self.shop(named).is_some_and(|shop| !shop.welders.is_empty())
            || found.any(|finding| finding.check == "date-in-future")
    }

    /// What was typed beside all documents, as a sheet tells of it: records, procedure, shop and look.
    pub fn typed(&self) -> Vec<Companion> {
        let procedure = self.procedure.iter().map(|own| own.companion(Role::Procedure));
        let shop = self.shop.iter().map(|own| own.companion(Role::Shop));
        self.records_told().chain(procedure).chain(shop).chain(self.appearance.companions.iter().cloned()).collect()
    }

    /// Shop, taught procedure and look, as a sheet tells of them.
    fn at_hand(&self, named: &Named) -> Vec<Companion> {
        let procedure = self.procedure_read(named).map(|own| own.companion(Role::Procedure));
        let shop = self.shop_read(named).map(|own| own.companion(Role::Shop));
        procedure.into_iter().chain(shop).chain(self.appearance.companions.iter().cloned()).collect()
    }

    /// What stood beside a document when its sheet was made, of what stands beside it now.
    ///
    /// `Err` names what a sheet was made with and is not at hand.
    pub fn as_then(
        &self,
        made: &MadeWith,
        page: bool,
        input: &Input,
        loaded: &Loaded,
    ) -> Result<(Self, Named), Missing> {
        let mut named = Named {
            lesson: matches!(loaded.document, Document::Lesson(_)),
            shop: self.named_shop(input, loaded).unwrap_or_default(),
            procedure: self.named_procedure(input, loaded).unwrap_or_default(),
        };
        let records: Vec<Companion> = self.records_told().chain(self.at_hand(&named)).collect();
        let missing: Vec<(Role, String)> = made
            .beside
            .iter()
            // Templates make pages only.
            .filter(|own| page || own.role != Role::Templates)
            .filter(|own| !records.iter().any(|other| other.role == own.role && other.digest == own.digest))
            .map(|own| {
                let same = records.iter().any(|other| other.role == own.role && other.name == own.name);
                let other = if same { ", of which another version is at hand" } else { "" };
                (own.role, format!("the {} {} (digest {}){other}", own.role.as_str(), own.name, own.digest))
            })
            .collect();
        if !missing.is_empty() {
            return Err(Missing(missing));
        }
        let has = |role| made.beside.iter().any(|own| own.role == role);
        let used = |digest: &str| made.beside.iter().any(|own| own.digest == digest);
        if !has(Role::Shop) {
            named.shop = None;
        }
        let then = Self {
            files: self.files,
            records: self.records.iter().filter(|own| used(&own.record.digest)).cloned().collect(),
            shop: self.shop.clone().filter(|_| has(Role::Shop)),
            procedure: self.procedure.clone(),
            now: None,
            code: made.code.as_deref().and_then(|code| code.parse().ok()),
            beside: Beside::new(self.files),
            appearance: self.appearance.only(has(Role::HouseStyle), has(Role::Templates)),
            day: made.day.as_deref().and_then(|day| day.parse().ok()),
        };
        Ok((then, named))
    }

    /// Reads the documents that one names; `Err` says at its place which of them cannot be read.
    fn named(&self, input: &Input, loaded: &Loaded) -> Result<Named, Vec<Fault>> {
        Ok(Named {
            lesson: matches!(loaded.document, Document::Lesson(_)),
            shop: self.named_shop(input, loaded)?,
            procedure: self.named_procedure(input, loaded)?,
        })
    }

    /// The shop that a document names, where none was typed.
    fn named_shop(&self, input: &Input, loaded: &Loaded) -> Result<Option<Called<Shop>>, Vec<Fault>> {
        let Some((name, pointer)) = shop_of(&loaded.document).filter(|_| self.shop.is_none()) else { return Ok(None) };
        let (other, fault) = file_beside(input, loaded, name, pointer);
        read_shop(self.files, &other).map(|read| Some((name.to_owned(), read))).map_err(fault)
    }

    /// The procedure that a lesson names, where none was typed.
    fn named_procedure(&self, input: &Input, loaded: &Loaded) -> Result<Option<Called<Procedure>>, Vec<Fault>> {
        let named = procedure_of(&loaded.document).filter(|_| self.procedure.is_none());
        let Some((name, pointer)) = named else { return Ok(None) };
        let (other, fault) = file_beside(input, loaded, name, pointer);
        procedure(self.files, &other).map(|read| Some((name.to_owned(), read))).map_err(fault)
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
        for tested in &self.records {
            let (record, found) = (&tested.record.document, &tested.qualification);
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
        let code = asked.or(own).or_else(|| self.records.first().map(|own| own.qualification.code));
        match code {
            Some(code) if faults.is_empty() => Ok(code),
            _ => Err(faults),
        }
    }
}

/// The section that a value belongs to: `/joint`, or of many of a kind its own: `/runs/0`.
fn section(pointer: &str) -> String {
    const MANY: &[&str] = &["processes", "runs", "fillers"];
    let steps: Vec<&str> = pointer.split('/').skip(1).collect();
    let own = if steps.first().is_some_and(|first| MANY.contains(first)) { 2 } else { 1 };
    steps.iter().take(own).map(|step| format!("/{step}")).collect()
}

/// What follows from a document and what stands beside it.
#[derive(Default)]
pub struct Follow {
    /// The best machine for each process of a procedure.
    pub machines: Vec<Machine>,
    /// The kit of a lesson.
    pub kit: Option<Kit>,
}

/// What a sheet was made with and is not at hand: what it was, and in words which.
pub struct Missing(Vec<(Role, String)>);

impl Missing {
    /// All of it in words.
    pub fn words(&self) -> String {
        self.0.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>().join(" and ")
    }

    /// The arguments with which it is named.
    pub fn arguments(&self) -> String {
        let mut roles: Vec<Role> = self.0.iter().map(|(role, _)| *role).collect();
        roles.sort_unstable();
        roles.dedup();
        let argument = |role| match role {
            Role::Procedure => "--procedure FILE",
            Role::TestRecord => "--record FILE",
            Role::Shop => "--shop FILE",
            Role::HouseStyle => "--style FILE",
            Role::Templates => "--templates FOLDER",
        };
        roles.into_iter().map(argument).collect::<Vec<_>>().join(" ")
    }
}

/// The documents that one names.
#[derive(Default)]
pub struct Named {
    /// Whether the document is a lesson.
    lesson: bool,
    shop: Option<Called<Shop>>,
    procedure: Option<Called<Procedure>>,
}

/// A document that was read, after the name by which another calls it.
type Called<T> = (String, Read<T>);

impl Named {
    /// The files, as they were when they were read.
    pub fn files(&self) -> Vec<unchanged::NamedFile> {
        let shop = self.shop.iter().map(|(name, read)| (name, &read.file));
        let procedure = self.procedure.iter().map(|(name, read)| (name, &read.file));
        let file =
            |(name, digest): (&String, &Vec<u8>)| unchanged::NamedFile { name: name.clone(), digest: digest.clone() };
        shop.chain(procedure).map(file).collect()
    }

    /// The shop that the document names.
    fn shop(&self) -> Option<&Read<Shop>> {
        self.shop.as_ref().map(|(_, read)| read)
    }

    /// The procedure that the document names.
    fn procedure(&self) -> Option<&Read<Procedure>> {
        self.procedure.as_ref().map(|(_, read)| read)
    }
}

/// The files that a document names, as it names them.
pub(crate) fn names(document: &Document) -> impl Iterator<Item = &str> {
    shop_of(document).into_iter().chain(procedure_of(document)).map(|(name, _)| name)
}

/// The shop that a document names, and where.
fn shop_of(document: &Document) -> Option<(&str, &'static str)> {
    match document {
        Document::Procedure(own) => own.identification.shop.as_deref().map(|name| (name, "/identification/shop")),
        Document::Lesson(own) => own.shop.as_deref().map(|name| (name, "/shop")),
        _ => None,
    }
}

/// The procedure that a document names, and where.
fn procedure_of(document: &Document) -> Option<(&str, &'static str)> {
    match document {
        Document::Lesson(own) => Some((&own.procedure, "/procedure")),
        _ => None,
    }
}

/// The file that a document names, and how to say at its place that it cannot be read.
fn file_beside<'a>(
    input: &Input,
    loaded: &'a Loaded,
    name: &str,
    pointer: &'a str,
) -> (Input, impl FnOnce(Unread) -> Vec<Fault> + use<'a>) {
    let other = input.named(name);
    let told = other.name.clone();
    let fault = move |unread: Unread| {
        let first = unread.faults.first().map_or("cannot be read", |fault| fault.message.as_str());
        vec![Fault {
            message: format!("{told}: {first}"),
            hint: Some("write the path of the file as seen from this one".to_owned()),
            span: Some(loaded.tree.span_of(pointer)),
            pointer: pointer.to_owned(),
        }]
    };
    (other, fault)
}

/// Reads a shop, which must name its machines.
pub fn shop(files: &dyn Files, path: &Path) -> Result<Box<Shop>, Box<Report>> {
    let input = Input::typed(path);
    match read_shop(files, &input) {
        Ok(shop) => Ok(shop.document),
        Err(unread) => Err(Box::new(Report::unread(input, unread))),
    }
}

fn read_shop(files: &dyn Files, input: &Input) -> Result<Read<Shop>, Unread> {
    let loaded = kind(files, input, "shop")?;
    let Document::Shop(shop) = &loaded.document else { return Err(not_a(&loaded, "shop")) };
    if shop.power_sources.is_empty() {
        let fault = Fault {
            message: "this shop names no power source; nothing can be held against it".to_owned(),
            hint: Some("list its machines under `power_sources:`".to_owned()),
            span: Some(loaded.tree.span_of("/document")),
            pointer: "/document".to_owned(),
        };
        return Err(refused(&loaded, vec![fault]));
    }
    Ok(Read::new(shop.clone(), (loaded.document.identification(), &loaded.source)))
}

/// Reads a procedure.
fn procedure(files: &dyn Files, input: &Input) -> Result<Read<Procedure>, Unread> {
    as_procedure(&kind(files, input, "procedure")?)
}

fn as_procedure(loaded: &Loaded) -> Result<Read<Procedure>, Unread> {
    let Document::Procedure(procedure) = &loaded.document else { return Err(not_a(loaded, "procedure")) };
    Ok(Read::new(procedure.clone(), (loaded.document.identification(), &loaded.source)))
}

/// A document as a test record, with what it qualifies.
pub fn tested(loaded: &Loaded, code: Option<CodeName>) -> Result<Tested, Unread> {
    let Document::TestRecord(record) = &loaded.document else { return Err(not_a(loaded, "test-record")) };
    let qualification = codes::qualify(record, code).map_err(|refusals| {
        let fault = |refusal: Refusal| Fault {
            message: refusal.message,
            hint: refusal.hint,
            span: Some(loaded.tree.span_of(&refusal.pointer)),
            pointer: refusal.pointer,
        };
        refused(loaded, refusals.into_iter().map(fault).collect())
    })?;
    let record = Read::new(record.clone(), (loaded.document.identification(), &loaded.source));
    Ok(Tested { record, qualification })
}

/// Reads a file as one kind of document.
fn kind(files: &dyn Files, input: &Input, meant: &str) -> Result<Loaded, Unread> {
    debug_assert!(document::KINDS.contains(&meant));
    let loaded = files::read(files, input)?;
    if loaded.document.kind() == meant {
        return Ok(loaded);
    }
    Err(not_a(&loaded, meant))
}

fn not_a(loaded: &Loaded, meant: &str) -> Unread {
    let fault = Fault {
        message: format!("this is a {}, and a {meant} is meant", loaded.document.kind()),
        hint: Some(format!("name a file with `document: {meant}`")),
        span: Some(loaded.tree.span_of("/document")),
        pointer: "/document".to_owned(),
    };
    refused(loaded, vec![fault])
}

fn refused(loaded: &Loaded, faults: Vec<Fault>) -> Unread {
    Unread { source: Some(loaded.source.clone()), faults, reading: None, received: None }
}
