//! AWS D1.1: what a procedure states, and the essential variables of a test.

use std::borrow::Cow;

use seamwright_handbook::aws_d1_1 as tables;
use seamwright_model::procedure::Route;
use seamwright_weld::View;

use crate::codes::asks::{Item, contents};

/// The code as a list of contents names it.
const STANDARD: &str = "AWS D1.1";

/// What it asks for.
pub(super) fn asks(view: &View<'_>) -> Vec<Item> {
    let mut items = contents(STANDARD, tables::contents());
    // The essential variables of a test; a prequalified procedure has none.
    if view.procedure.qualification.as_ref().is_none_or(|own| own.route != Route::TestRecord) {
        return items;
    }
    for row in tables::variables().iter().filter(|row| !row.keys.is_empty()) {
        let clause = row.origin.source_ref().clause;
        let reference = clause.map_or_else(|| "essential variables".to_owned(), Cow::into_owned);
        let item = Item::variable(STANDARD, reference, row.variable, row.keys, row.processes);
        items.push(Item { once: row.processes.is_empty(), ..item });
    }
    items
}
