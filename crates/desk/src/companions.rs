//! The documents that others are held against: test records and a shop. They are read once, before any document is checked.

use std::path::PathBuf;
use std::sync::Arc;

use seamwright_check::codes::{self, Qualification};
use seamwright_check::kit;
use seamwright_check::rules::document::date_in_future;
use seamwright_check::{Context, Outcome, Records};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_model::procedure::{CodeName, Procedure};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_page::SheetOptions;
use seamwright_page::lately::Lately;
use seamwright_page::made_with::{Companion, MadeWith, Role};
use seamwright_page::words::Language;
use seamwright_sheet::kinds::{self, Subject};
use seamwright_version::VERSION;
use seamwright_weld::View;

use crate::appearance::Appearance;
use crate::beside::{Beside, Opened};
use crate::files::{self, Files, Input};
use crate::named::{Called, Missing, file_beside, procedure_of, shop_of};
use crate::read::{Read, Tested, as_procedure, kind, procedure, read_shop};
use crate::report::Report;
use crate::report::machine::Machine;

pub use crate::named::Named;
pub use crate::read::{shop, tested};
pub use crate::report::Follow;

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
    pub(crate) files: &'f dyn Files,
    records: Vec<Arc<Tested>>,
    shop: Option<Arc<Read<Shop>>>,
    procedure: Option<Arc<Read<Procedure>>>,
    /// The same as it was read: sheets of it are told whether they still hold.
    pub(crate) now: Option<Arc<Loaded>>,
    code: Option<CodeName>,
    appearance: Appearance,
    /// What was issued and lies beside the documents.
    pub(crate) beside: Beside<'f>,
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
            || found.any(|finding| finding.check == date_in_future::RULE.name)
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
    pub(crate) fn named(&self, input: &Input, loaded: &Loaded) -> Result<Named, Vec<Fault>> {
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
