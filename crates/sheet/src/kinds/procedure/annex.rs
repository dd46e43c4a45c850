//! The annex of a procedure sheet: what does not have to be seen while welding.

use seamwright_handbook::variables;
use seamwright_model::procedure::Procedure;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, NoticeKind, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::View;

use super::records::{checked, qualified};
use crate::kinds::words::{composition, push_strip, strip_field};
use crate::kinds::{Subject, cautions, ferrite};

/// Cautions in full, compositions, ferrite, qualified ranges, findings with their sources, and older revisions.
pub(super) fn annex(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Vec<Block> {
    let terms = options.terms;
    let label = |key: &'static str| variables::term(key, terms);
    let mut blocks = vec![Block::heading(label::CAUTIONS_IN_FULL, None)];
    blocks.push(Block::Notice { kind: NoticeKind::Caution, title: None, items: cautions::items(view, options) });
    let metals = view
        .metals
        .iter()
        .map(|metal| strip_field(&metal.stated.specification, metal.stated.composition.as_ref().map(composition)));
    let fillers = procedure
        .fillers
        .iter()
        .map(|(_, filler)| strip_field(&filler.designation, filler.composition.as_ref().map(composition)));
    let mut own = Vec::new();
    push_strip(&mut own, metals.chain(fillers).collect());
    if !own.is_empty() {
        blocks.push(Block::heading(label("/parent_metals/*/composition"), None));
        blocks.extend(own);
    }
    blocks.extend(ferrite::block(view, subject.lately));
    qualified(&mut blocks, subject.outcome, terms);
    checked(&mut blocks, subject.outcome);
    if !procedure.revisions.is_empty() {
        blocks.push(Block::heading(label("/revisions"), None));
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                Column::words(label("/revisions/*/revision"), 0.6),
                Column::words(label("/revisions/*/date"), 0.8),
                Column::words(label("/revisions/*/change"), 3.0),
                Column::words(label("/revisions/*/by"), 1.0),
            ],
            rows: procedure
                .revisions
                .iter()
                .map(|entry| Row {
                    cells: vec![
                        Cell::bold(entry.revision.to_string()),
                        Cell::text(entry.date.map_or(String::new(), |date| date.to_string())),
                        Cell::text(entry.change.to_string()),
                        Cell::text(entry.by.as_deref().unwrap_or_default()),
                    ],
                    marked: false,
                })
                .collect(),
        }));
    }
    blocks
}
