//! Drafts: a procedure from a few facts, the lesson that teaches one, its test record, and a shop file, as commented YAML.

use std::path::Path;

use anyhow::{Result, anyhow, bail};
use seamwright_check::Context;
use seamwright_draft::{Choices, Facts, Refused, ShopAnswers, Typed};
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::load;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;

use crate::editors;
use crate::files::{Asked, Files, MOST, reason};

/// The facts of a procedure that is to be drafted, as typed.
#[derive(Debug, Clone, Default)]
pub struct DraftRequest {
    /// What must be known.
    pub typed: Typed,
    /// What may be chosen.
    pub choices: Choices,
    /// Its number; a usual one where it is empty.
    pub number: String,
}

/// A document that was drafted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// Its text, with the line that names the schema.
    pub text: String,
}

impl Draft {
    fn new(page: &str) -> Self {
        Self { text: editors::with_line(page) }
    }

    /// Each value with the comment after it that says where it comes from.
    pub fn origins(&self) -> Vec<(String, String)> {
        self.text
            .lines()
            .filter_map(|line| {
                let (value, comment) = line.split_once(" # ")?;
                Some((value.trim().trim_start_matches("- ").to_owned(), comment.trim().to_owned()))
            })
            .collect()
    }
}

/// Drafts a procedure, with what a shop has where one is given. `Err` says what cannot be drafted, and what can.
pub fn procedure(request: &DraftRequest, shop: Option<&Shop>) -> Result<Draft, Refused> {
    let DraftRequest { typed, choices, number } = request;
    Facts::read_with(typed, choices)
        .map(|facts| facts.numbered(number))
        .and_then(|facts| match shop {
            Some(shop) => seamwright_draft::draft_in_shop(&facts, shop),
            None => seamwright_draft::draft(&facts),
        })
        .map(|page| Draft::new(&page))
        .map_err(|refused| refused.with_alternatives(typed, choices, shop))
}

/// Drafts the test record that the procedure of a file needs, to be filled in.
pub fn record(files: &dyn Files, file: &Path, code: Option<&str>) -> Result<Draft> {
    let code = code.map(str::parse).transpose().map_err(anyhow::Error::msg)?;
    let (name, procedure) = of_file(files, file, "a test record is made for a procedure")?;
    let page = seamwright_draft::record(&procedure, code).map_err(|why| anyhow!("{name}: {why}"))?;
    Ok(Draft::new(&page))
}

/// Drafts a lesson that teaches the procedure of a file.
pub fn lesson(files: &dyn Files, file: &Path, learners: u32, booths: u32) -> Result<Draft> {
    let (name, procedure) = of_file(files, file, "a lesson teaches a procedure")?;
    Ok(Draft::new(&seamwright_draft::lesson(&procedure, &name.replace('\\', "/"), learners, booths)))
}

/// The procedure of a file, with the file's name; `wants` says in the refusal what takes one.
fn of_file(files: &dyn Files, file: &Path, wants: &str) -> Result<(String, Box<Procedure>)> {
    let name = file.display().to_string();
    let read = files.read(file, Asked::Typed, MOST);
    let source = read.map_err(|error| anyhow!("{name}: cannot be read: {}", reason(&error)))?;
    let loaded = load(&name, &source).map_err(|(_, faults)| {
        let first = faults.into_iter().next().map_or("it cannot be read".to_owned(), |fault| fault.message);
        anyhow!("{name}: {first}")
    })?;
    match loaded.document {
        Document::Procedure(procedure) => Ok((name, procedure)),
        other => bail!("{name}: {wants}, and this is a {}", other.kind()),
    }
}

/// Drafts a shop file.
pub fn shop(own: &ShopAnswers) -> Draft {
    Draft::new(&seamwright_draft::shop_file(own))
}

/// Why answers cannot stand in a shop file; nothing where they can.
pub fn against(own: &ShopAnswers) -> Option<String> {
    let joined = |message: String, hint: Option<String>| match hint {
        Some(hint) => format!("{message}; {hint}"),
        None => message,
    };
    match load("the shop", seamwright_draft::shop_file(own).as_bytes()) {
        Err((_, faults)) => faults.into_iter().next().map(|fault| joined(fault.message, fault.hint)),
        Ok(loaded) => {
            let found = seamwright_check::check_with(&loaded.document, &Context::default()).findings;
            let unknown = found.into_iter().find(|own| own.severity != Severity::Note);
            unknown.map(|finding| joined(finding.message, finding.hint))
        }
    }
}
