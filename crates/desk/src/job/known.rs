//! The procedures that the joints of a job can name.

use std::fmt;
use std::sync::OnceLock;

use seamwright_check::{Context, Outcome, check_with};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::procedure::{Procedure, Status};
use seamwright_model::stated::Date;

/// A procedure of a job with what its own checks find, which are made where a joint asks for it.
#[derive(Debug)]
pub struct Known {
    loaded: Loaded,
    today: Date,
    outcome: OnceLock<Outcome>,
}

impl Known {
    /// A document with its checks of a day; nothing where it is no procedure.
    pub fn new(loaded: Loaded, today: Date) -> Option<Self> {
        if !matches!(loaded.document, Document::Procedure(_)) {
            return None;
        }
        Some(Self { loaded, today, outcome: OnceLock::new() })
    }

    /// What its own checks find on the day.
    pub(super) fn outcome(&self) -> &Outcome {
        let context = Context { today: Some(self.today), ..Context::default() };
        self.outcome.get_or_init(|| check_with(&self.loaded.document, &context))
    }

    /// The document.
    pub fn loaded(&self) -> &Loaded {
        &self.loaded
    }

    /// Its number.
    pub fn number(&self) -> &str {
        self.loaded.document.number()
    }

    pub(super) fn procedure(&self) -> &Procedure {
        match &self.loaded.document {
            Document::Procedure(procedure) => procedure,
            // cannot be: only procedures are known
            _ => unreachable!("a procedure"),
        }
    }
}

/// The procedures that joints can name.
#[derive(Debug, Default)]
pub struct Distinct<'k> {
    /// Each number once: a superseded revision gives way to the one that holds.
    pub known: Vec<&'k Known>,
    /// The numbers of which nobody knows which file is meant; none of theirs is known.
    pub doubled: Vec<Doubled>,
}

/// A number that several files have, each with another content.
#[derive(Debug)]
pub struct Doubled {
    /// The number.
    pub number: String,
    files: Vec<String>,
}

impl fmt::Display for Doubled {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let all = if self.files.len() == 2 { "both" } else { "all" };
        write!(formatter, "{} {all} have the number {}", self.files.join(" and "), self.number)
    }
}

impl<'k> Distinct<'k> {
    /// Sorts procedures by their numbers.
    pub fn of(all: impl IntoIterator<Item = &'k Known>) -> Self {
        let superseded = |own: &Known| own.procedure().identification.status == Some(Status::Superseded);
        let (old, holding): (Vec<&Known>, Vec<&Known>) = all.into_iter().partition(|own| superseded(own));
        let mut own = Self::default();
        for one in holding.into_iter().chain(old) {
            let name = |known: &Known| known.loaded.source.name.to_string();
            let Some(other) = own.known.iter().find(|other| other.number() == one.number()) else {
                own.known.push(one);
                continue;
            };
            if superseded(one) || other.loaded.source.text == one.loaded.source.text {
                continue;
            }
            if let Some(doubled) = own.doubled.iter_mut().find(|own| own.number == one.number()) {
                doubled.files.push(name(one));
            } else {
                let files = vec![name(other), name(one)];
                own.doubled.push(Doubled { number: one.number().to_owned(), files });
            }
        }
        let Self { known, doubled } = &mut own;
        known.retain(|own| doubled.iter().all(|doubled| doubled.number != own.number()));
        own
    }
}

/// How a procedure stands that is not to be welded by.
pub(super) fn not_for_use(procedure: &Procedure) -> Option<&'static str> {
    match procedure.identification.status? {
        Status::Draft => Some("a draft"),
        Status::Withdrawn => Some("withdrawn"),
        Status::Superseded => Some("superseded"),
        Status::Issued => None,
    }
}
