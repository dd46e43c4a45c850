//! A sheet's line in the index of a folder: what it is looked for by.

use seamwright_model::document::Document;
use seamwright_model::quantity::UnitSystem;
use seamwright_page::block::Sheet;
use seamwright_page::html::IndexEntry;
use seamwright_weld::{RunView, View};

use super::{Subject, quantity};

/// The line of a sheet, without the paths of its files; a lesson is found by the procedure that it teaches, and thickness in
/// both systems of units.
pub fn index_entry(subject: Subject<'_>, sheet: &Sheet, units: UnitSystem) -> IndexEntry {
    let identification = subject.loaded.document.identification();
    let mut entry = IndexEntry {
        number: identification.number.to_string(),
        revision: identification.revision.to_string(),
        title: identification.title.to_string(),
        kind: sheet.masthead.kind.clone(),
        ..IndexEntry::default()
    };
    let procedure = match &subject.loaded.document {
        Document::Procedure(procedure) => Some(&**procedure),
        _ => subject.procedure,
    };
    if let Some(procedure) = procedure {
        let view = View::new(procedure);
        entry.process = each(view.runs.iter().map(RunView::number).map(ToOwned::to_owned));
        entry.metal = each(view.metals.iter().map(|metal| metal.stated.specification.to_string()));
        entry.thickness = thicknesses(&view, units);
        let others = [UnitSystem::Si, UnitSystem::Us].into_iter().map(|other| thicknesses(&view, other));
        entry.other_units = each(others.filter(|other| *other != entry.thickness));
        entry.position = each(procedure.positions.iter().map(ToString::to_string));
    }
    entry
}

/// Thicknesses of the metals in a system of units.
fn thicknesses(view: &View<'_>, units: UnitSystem) -> String {
    each(view.metals.iter().filter_map(|metal| quantity(metal.stated.thickness.as_ref(), units)))
}

/// Texts with commas between, each once.
fn each(texts: impl Iterator<Item = String>) -> String {
    let mut found: Vec<String> = Vec::new();
    for text in texts.filter(|text| !text.is_empty()) {
        if !found.contains(&text) {
            found.push(text);
        }
    }
    found.join(", ")
}
