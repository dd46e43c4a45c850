//! What a table is: title, sources, columns and rows, as text for printing and typed for checks.
//!
//! The typed rows and the sources are statics that the build writes; the whole of a table, for printing, is parsed when it is
//! first asked for.

use std::borrow::Cow;
use std::fmt;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use seamwright_model::finding::{Basis, SourceRef};

use crate::find;

/// A table as the registry lists it: its name, and what it holds once asked for.
pub struct TableInfo {
    name: &'static str,
    /// The whole table as JSON.
    json: &'static str,
    parsed: OnceLock<Table>,
}

impl TableInfo {
    /// A table by its kebab-case name, as the build script made it.
    pub const fn new(name: &'static str, json: &'static str) -> Self {
        Self { name, json, parsed: OnceLock::new() }
    }

    /// The name that `table NAME` takes.
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// The table itself; the first call parses it.
    pub fn table(&self) -> &Table {
        self.parsed.get_or_init(|| {
            // cannot fail: the build script made this JSON, and a test reads every table
            serde_json::from_str(self.json).unwrap_or_else(|error| unreachable!("table {}: {error}", self.name))
        })
    }
}

/// The sources of a table, as findings name them.
struct SourcesOf {
    table: &'static str,
    sources: &'static [Named],
}

/// A source as a finding names it.
struct Named {
    title: &'static str,
    publisher: Option<&'static str>,
    edition: Option<&'static str>,
    clause: Option<&'static str>,
    address: Option<&'static str>,
}

// `SOURCES`: those of every table, by its name.
include!(concat!(env!("OUT_DIR"), "/sources.rs"));

impl fmt::Debug for TableInfo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("TableInfo").field("name", &self.name).finish_non_exhaustive()
    }
}

/// A handbook table for printing: what it holds, where it comes from, and its rows as plain values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Table {
    /// Kebab-case name.
    #[serde(rename = "table")]
    pub name: String,
    /// Title in a few words.
    pub title: String,
    /// One or two plain sentences on what the table is for.
    pub about: String,
    /// Where the figures come from, in the order of the table.
    pub sources: Vec<Source>,
    /// The columns, in the order of the table.
    pub columns: Vec<Column>,
    /// The rows; beside the columns each has `source`, `basis` and at times `basis_of`, `doubt`, `note`.
    pub rows: Vec<Map<String, Value>>,
    /// What a reader must know besides, such as where sources disagree.
    pub notes: Vec<String>,
}

impl Table {
    /// The source with this key.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.key == key)
    }
}

/// A source of a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// The key that rows name it by.
    pub key: String,
    /// Title of the standard, handbook or practice.
    pub title: String,
    /// Edition, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edition: Option<String>,
    /// Clause, table or page, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clause: Option<String>,
    /// Who published it; nothing for practice of the trade.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub publisher: Option<String>,
    /// How the document stands: `primary`, `secondary` or `weak`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<String>,
    /// Address of a page that may be printed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub address: Option<String>,
    /// Identifiers of the documents in the table `sources`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub register: Vec<String>,
    /// Where the figures were read, where not in the document itself: identifiers in the table `sources`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub read_at: Vec<String>,
}

impl Source {
    /// One line: publisher, title, edition, clause or page, address.
    pub fn line(&self) -> String {
        let publisher = self.publisher.as_deref().filter(|publisher| !self.title.starts_with(publisher));
        let parts = [publisher, Some(self.title.as_str()), self.edition.as_deref(), self.clause.as_deref()];
        let line = parts.into_iter().flatten().collect::<Vec<_>>().join(", ");
        match &self.address {
            Some(address) => format!("{line}, {address}"),
            None => line,
        }
    }
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Column {
    /// The key in each row; a figure's key ends in its unit.
    pub key: String,
    /// Heading for printing.
    pub label: String,
    /// Unit of the figures, where they have one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// What stands in the column.
    pub meaning: String,
}

/// Where a typed row comes from; every row type holds one as its field `origin`.
///
/// Table and sources are numbers: with thousands of rows, their names would be most of what a run reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// The table, by its place in `SOURCES`.
    pub(crate) table: usize,
    /// The row's sources, by their places in that table.
    #[cfg_attr(false, optional)]
    pub(crate) source: &'static [usize],
    /// Where the authority of the row's figures comes from.
    pub basis: Basis,
    /// The basis of single fields that differ from `basis`.
    #[cfg_attr(false, optional)]
    pub basis_of: &'static [(&'static str, Basis)],
    /// Why the row is not beyond doubt, where it is not.
    pub doubt: Option<&'static str>,
    /// A remark on the row.
    pub note: Option<&'static str>,
}

impl Origin {
    /// The row's source as a finding names it: the first of the row's sources, and how many more there are.
    pub fn source_ref(&self) -> SourceRef {
        self.reference(self.basis)
    }

    /// The source of one field, with the basis of that field.
    pub fn source_of(&self, field: &str) -> SourceRef {
        self.reference(find::value_of(self.basis_of, field).copied().unwrap_or(self.basis))
    }

    fn reference(&self, basis: Basis) -> SourceRef {
        let table = SOURCES.get(self.table);
        let first = self.source.first().and_then(|place| table?.sources.get(*place));
        let of = |get: fn(&Named) -> Option<&'static str>| first.and_then(get).map(Cow::Borrowed);
        SourceRef {
            publisher: of(|source| source.publisher),
            title: first.map_or(Cow::Borrowed("handbook"), |source| Cow::Borrowed(source.title)),
            edition: of(|source| source.edition),
            clause: of(|source| source.clause),
            others: self.source.len().saturating_sub(1),
            address: of(|source| source.address),
            doubt: self.doubt.map(Cow::Borrowed),
            basis,
            table: table.map(|own| Cow::Borrowed(own.table)),
        }
    }
}

/// Declares a table of this crate: how it is listed, and its typed rows.
///
/// `table!("lens-shade", Row);` gives `INFO` and `rows()`; a second table in the same module names both:
/// `table!(SERIES, series, "tungsten-current-series", SeriesRow);`.
macro_rules! table {
    ($name:literal, $row:ty) => {
        $crate::table::table!(INFO, rows, $name, $row);
    };
    ($info:ident, $rows:ident, $name:literal, $row:ty) => {
        #[doc = concat!("How the table `", $name, "` is listed.")]
        pub static $info: $crate::TableInfo =
            $crate::TableInfo::new($name, include_str!(concat!(env!("OUT_DIR"), "/", $name, ".json")));

        #[doc = concat!("All rows of the table `", $name, "`, in its order.")]
        pub const fn $rows() -> &'static [$row] {
            #[allow(clippy::unreadable_literal, clippy::approx_constant, reason = "figures as the table has them")]
            static ROWS: &[$row] = include!(concat!(env!("OUT_DIR"), "/", $name, ".rows.rs"));
            ROWS
        }
    };
}
pub(crate) use table;

/// The rules or statements of a table as statics, each by its name, or the names of its quantities: `FILLET_LEG` is
/// `fillet-leg`, and one that the table has not does not compile.
macro_rules! named {
    ($name:literal) => {
        include!(concat!(env!("OUT_DIR"), "/", $name, ".named.rs"));
    };
}
pub(crate) use named;

/// A table that does not exist, with the nearest names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownTable {
    /// What was asked for.
    pub name: String,
    /// Names that are spelt most like it, nearest first; may be empty.
    pub nearest: Vec<&'static str>,
}

impl UnknownTable {
    pub(crate) fn new(name: &str, names: impl Iterator<Item = &'static str>) -> Self {
        Self { name: name.to_owned(), nearest: find::nearest(name, names) }
    }
}

impl fmt::Display for UnknownTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no handbook table `{}`", self.name)?;
        if !self.nearest.is_empty() {
            write!(f, "; the nearest names are {}", self.nearest.join(", "))?;
        }
        Ok(())
    }
}

impl std::error::Error for UnknownTable {}
