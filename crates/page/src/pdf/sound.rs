//! What of a sheet cannot be printed is refused before it is set.

use seamwright_drawing::Item;

use crate::block::{Block, Sheet, Table};

use super::error::PdfError;
use super::{figure, fonts};

/// Refuses a sheet with text or drawings that cannot be printed.
pub(super) fn check(sheet: &Sheet) -> Result<(), PdfError> {
    let head = &sheet.masthead;
    for text in [
        &head.manufacturer,
        &head.kind,
        &head.title,
        &head.number,
        &sheet.footer.checked,
        &sheet.footer.reference,
        &sheet.source.digest,
    ] {
        fonts::check(text)?;
    }
    for (label, value) in &head.facts {
        fonts::check(label)?;
        fonts::check(value)?;
    }
    check_option(head.stamp.as_deref())?;
    check_blocks(&sheet.blocks)?;
    check_blocks(&sheet.annex)
}

fn check_option(text: Option<&str>) -> Result<(), PdfError> {
    text.map_or(Ok(()), fonts::check)
}

fn check_blocks(blocks: &[Block]) -> Result<(), PdfError> {
    for block in blocks {
        match block {
            Block::Heading { text, clause } => {
                fonts::check(text)?;
                check_option(clause.as_deref())?;
            }
            Block::Fields { fields } | Block::Strip { fields } => {
                for field in fields {
                    fonts::check(&field.label)?;
                    fonts::check(&field.value)?;
                }
            }
            Block::Table(table) | Block::Settings(table) => check_table(table)?,
            Block::Drawings { drawings } => {
                for figure in drawings {
                    fonts::check(&figure.title)?;
                    check_option(figure.clause.as_deref())?;
                    check_option(figure.caption.as_deref())?;
                    if !figure::is_sound(&figure.drawing) {
                        return Err(PdfError::Drawing { title: figure.title.clone() });
                    }
                    for item in &figure.drawing.items {
                        if let Item::Text(label) = item {
                            fonts::check(&label.text)?;
                        }
                    }
                }
            }
            Block::Notice { title, items, .. } => {
                check_option(title.as_deref())?;
                for item in items {
                    check_option(item.lead.as_deref())?;
                    fonts::check(&item.text)?;
                }
            }
            Block::Paragraph { text, .. } => fonts::check(text)?,
            Block::List { items, .. } => items.iter().try_for_each(|item| fonts::check(item))?,
            Block::Signatures { boxes } => {
                for (role, name) in boxes {
                    fonts::check(role)?;
                    fonts::check(name)?;
                }
            }
            Block::Columns { left, right, .. } => {
                check_blocks(left)?;
                check_blocks(right)?;
            }
            Block::Together { blocks } => check_blocks(blocks)?,
            Block::GivesWay { blocks, instead, .. } => {
                check_blocks(blocks)?;
                check_blocks(instead)?;
            }
            Block::PageBreak => {}
        }
    }
    Ok(())
}

fn check_table(table: &Table) -> Result<(), PdfError> {
    check_option(table.caption.as_deref())?;
    for column in &table.columns {
        fonts::check(&column.heading)?;
        check_option(column.unit.as_deref())?;
    }
    for cell in table.rows.iter().flat_map(|row| &row.cells) {
        fonts::check(&cell.text)?;
        check_option(cell.note.as_deref())?;
    }
    Ok(())
}
