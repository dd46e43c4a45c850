//! What codes and standards ask a procedure to state.

use std::borrow::Cow;

use seamwright_handbook::iso_15609_1::{self, Asks, Row, When};

/// Something that is asked for, before it is looked up.
#[derive(Debug, Clone)]
pub struct Item {
    /// The standard or code that asks.
    pub standard: &'static str,
    /// Its clause, paragraph or table.
    pub reference: String,
    /// What is asked for.
    pub text: Cow<'static, str>,
    /// Keys that state it.
    pub keys: &'static [&'static str],
    /// Whether any of the keys will do.
    pub asks: Asks,
    /// What it hangs on.
    pub when: When,
    /// ISO 4063 numbers of the processes that it is asked of; of all where there is none.
    pub processes: &'static [&'static str],
    /// Whether an item of the same words that was asked before stands for it.
    pub once: bool,
}

impl Item {
    /// Something that any of some keys states, asked for in every procedure with one of these processes.
    pub(super) fn variable(
        standard: &'static str,
        reference: String,
        text: impl Into<Cow<'static, str>>,
        keys: &'static [&'static str],
        processes: &'static [&'static str],
    ) -> Self {
        Self {
            standard,
            reference,
            text: text.into(),
            keys,
            asks: Asks::Any,
            when: When::Always,
            processes,
            once: false,
        }
    }
}

/// The items of a list of contents.
pub(super) fn contents(standard: &'static str, rows: &'static [Row]) -> Vec<Item> {
    let item = |row: &'static Row| Item {
        standard,
        reference: row.clause.to_owned(),
        text: row.item.into(),
        keys: row.keys,
        asks: row.asks,
        when: row.when,
        processes: row.processes,
        once: false,
    };
    rows.iter().map(item).collect()
}

/// What ISO 15609-1 asks for.
pub fn iso_15609_1() -> Vec<Item> {
    contents("ISO 15609-1:2019", iso_15609_1::rows())
}
