//! ASME IX: what a procedure states, QW-200 and QW-250.

use seamwright_handbook::asme_ix as tables;
use seamwright_handbook::qualified::Category;
use seamwright_model::stated::{NONE, NOT_APPLICABLE};
use seamwright_weld::View;

use super::changes::holds;
use crate::codes::asks::{Item, contents};

/// The code as a list of contents names it.
const STANDARD: &str = "ASME BPVC IX";

/// What it asks for.
pub(super) fn asks(view: &View<'_>) -> Vec<Item> {
    let mut items = contents(STANDARD, tables::contents());
    let toughness = view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let toughness = toughness.is_some_and(|text| !matches!(text, NONE | NOT_APPLICABLE | "not required"));
    for row in tables::variables() {
        // Supplementary variables count only where impact tests are asked for; what no key states is the user's duty.
        let counts = !row.keys.is_empty() && (row.category != Category::Supplementary || toughness);
        if counts && holds(row.paragraph, view) {
            let text = format!("{} ({})", row.subject, row.category.as_str());
            items.push(Item::variable(STANDARD, row.paragraph.to_owned(), text, row.keys, row.processes));
        }
    }
    items
}
