//! How a sheet is wanted, from the query of its address.

use axum::http::Uri;
use seamwright_handbook::variables::Terms;
use seamwright_model::quantity::UnitSystem;
use seamwright_page::pdf::Paper;
use seamwright_page::words::Language;
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::JobPaper;

use crate::guard::query;

/// How a sheet is wanted, from the query of its address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    /// The kind of sheet.
    pub kind: Kind,
    /// Its units, terms and language.
    pub options: SheetOptions,
    /// Its paper.
    pub paper: Paper,
    /// What of a job.
    pub job: JobWanted,
}

/// What of a job is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JobWanted {
    /// One of its papers.
    Paper(JobPaper),
    /// Cover, traveller and cards in one.
    Binder,
}

impl Wanted {
    /// What the address asks for.
    pub fn of(uri: &Uri) -> Self {
        Self::asked(uri.query())
    }

    /// What a query asks for; what it does not say is as usual.
    pub fn asked(asked: Option<&str>) -> Self {
        let ask = |name: &str| query(asked, name).unwrap_or_default();
        let kind = ask("kind");
        let known = Kind::ALL.into_iter().find(|own| own.name() == kind).unwrap_or_default();
        let language = ask("language").parse().unwrap_or_default();
        Self {
            kind: known,
            options: SheetOptions {
                units: match ask("units").as_str() {
                    "us" => UnitSystem::Us,
                    "both" => UnitSystem::Both,
                    _ => UnitSystem::Si,
                },
                terms: if ask("terms") == "aws" { Terms::Aws } else { Terms::Iso },
                annex: ask("annex") == "yes",
                // A kind that a language has not stays in English, as the page says.
                language: if known.languages().contains(&language) { language } else { Language::En },
                ..SheetOptions::default()
            },
            paper: if ask("paper") == "letter" { Paper::Letter } else { Paper::A4 },
            job: if kind == "binder" {
                JobWanted::Binder
            } else {
                JobWanted::Paper(JobPaper::ALL.into_iter().find(|own| own.name() == kind).unwrap_or(JobPaper::Office))
            },
        }
    }
}
