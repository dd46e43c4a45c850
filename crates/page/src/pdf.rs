//! Blocks as PDF: sheets for the file, the customer and the bench.
//!
//! A sheet goes through these rooms, and a reader of the code may follow it:
//!
//! - `fonts` and `measure`: how wide text is, and where lines break;
//! - `blocks`: each kind of block as pieces, with `figure` for drawings and `furniture` for the head and foot of pages;
//! - `pages`: pieces on pages, nothing split that belongs together, and bench cards made to fit one page;
//! - `paint`: marks as page operators;
//! - `embed`: the faces as they stand in a file;
//! - `document`: the file, and `attach`: the YAML source in it, read back by [`source_of`];
//! - `binder`: several sheets in one file behind a table of contents.
//!
//! printpdf writes what it knows best: pages, links, and fonts with their widths and the table that makes text
//! searchable. It would embed fonts whole, so it is handed subsets, and it takes page operators one object each, so
//! `paint` writes them itself. lopdf, on which printpdf stands, then adds what printpdf has no words for: page labels, an
//! outline with places, attachments, document language, and identifiers and dates that are equal for equal input.
//! Streams are packed once, those of fonts once for all files of a caller.
//!
//! A new kind of block is a function in `blocks`; a new page size a variant of [`Paper`].

pub(crate) mod attach;
mod binder;
mod blocks;
mod colour;
mod document;
mod embed;
mod figure;
mod fonts;
mod furniture;
mod logo;
mod md5;
mod measure;
mod pages;
mod paint;
mod piece;
mod style;
mod tag;
#[cfg(test)]
mod tests;
mod xmp;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::block::{Block, Sheet, Table};
use crate::house::House;
use crate::lately::Lately;
use crate::sketch::drawing::Item;

pub use attach::{source_of, sources_of};
pub use binder::binder;
pub(crate) use embed::Faces;
pub use fonts::missing_glyphs;
pub use fonts::text_width;

use document::{File, Label};
use piece::Mark;

/// The size of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 in by 11 in (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Width and height, pt.
    const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// How a sheet is set.
#[derive(Debug, Clone)]
pub struct PdfOptions {
    /// The paper.
    pub paper: Paper,
    /// The language of the text (BCP 47), told to readers that speak it aloud.
    pub language: String,
    /// What the shop puts on its sheets.
    pub house: Option<Arc<House>>,
    /// What was made lately of other sheets.
    pub lately: Lately,
}

impl Default for PdfOptions {
    fn default() -> Self {
        Self { paper: Paper::A4, language: "en".to_owned(), house: None, lately: Lately::default() }
    }
}

/// Why a sheet cannot be set.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// The type has no shape for a character.
    #[error("the character {character} (U+{:04X}) in \"{text}\" has no glyph in the sheet's type", u32::from(*character))]
    MissingGlyph {
        /// The character.
        character: char,
        /// The text it stands in, shortened.
        text: String,
    },
    /// A character that is not printed: a control or formatting character, or a letter that runs from right to left.
    #[error("the character U+{:04X} in \"{text}\" is a control character or runs from right to left, which a sheet cannot print", u32::from(*character))]
    Unprintable {
        /// The character.
        character: char,
        /// The text it stands in, shortened.
        text: String,
    },
    /// A drawing has a number that cannot be drawn.
    #[error("the drawing \"{title}\" has a measure that is not a number or out of bounds")]
    Drawing {
        /// Title of the figure.
        title: String,
    },
    /// A sheet that must fit one page does not, even in the smallest type.
    #[error("\"{title}\" does not fit on one page in type that can be read")]
    DoesNotFit {
        /// Title of the sheet.
        title: String,
    },
    /// The text of the QR code is too long for one.
    #[error("the text of the QR code has {bytes} bytes, more than a code holds")]
    QrTooLong {
        /// Length of the text.
        bytes: usize,
    },
    /// The built-in font cannot be used.
    #[error("{reason}")]
    Font {
        /// What is wrong with it.
        reason: String,
    },
    /// The file could not be put together.
    #[error("the PDF could not be written: {reason}")]
    Write {
        /// What went wrong.
        reason: String,
    },
}

/// A text as it stands on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct TextBox {
    /// Page, from one.
    pub page: usize,
    /// Left edge, pt from the left of the page.
    pub x: f64,
    /// Top edge, pt from the top of the page.
    pub y: f64,
    /// Width, pt.
    pub width: f64,
    /// Height from the top of the capitals to the foot of the descenders, pt.
    pub height: f64,
    /// Size of the type, pt.
    pub size: f64,
    /// The text.
    pub text: String,
    /// It belongs to a drawing, whose labels are placed by the drawing.
    pub in_drawing: bool,
}

/// Sets a sheet as a PDF file.
///
/// Equal sheets and options give equal bytes. Errors: [`PdfError`] for text that cannot be printed, a drawing with
/// impossible numbers, or a one-page sheet that holds too much for a page.
pub fn render(sheet: &Sheet, options: &PdfOptions) -> Result<Vec<u8>, PdfError> {
    check(sheet)?;
    let layout = pages::lay_out(sheet, options)?;
    let head = &sheet.masthead;
    File {
        paper: options.paper,
        language: sheet.language_tag(&options.language),
        title: title(sheet),
        author: head.manufacturer.clone(),
        subject: format!("{}, {}", head.kind, sheet.footer.reference),
        keywords: keywords(sheet),
        date: sheet.source.date.as_deref(),
        outline: document::outline(&layout, 0),
        labels: vec![Label { page: 0, roman: false, prefix: String::new() }],
        links: Vec::new(),
        sources: vec![&sheet.source],
        logo: options.house.as_deref().and_then(House::printed),
        faces: options.lately.faces(),
    }
    .write(&layout)
}

/// Where every text of a sheet stands, page by page in reading order.
///
/// For checks that nothing overlaps or leaves the page. Errors: as [`render`].
pub fn text_boxes(sheet: &Sheet, options: &PdfOptions) -> Result<Vec<TextBox>, PdfError> {
    check(sheet)?;
    let layout = pages::lay_out(sheet, options)?;
    let mut boxes = Vec::new();
    for (index, page) in layout.into_iter().enumerate() {
        for mark in page.marks {
            let (top, bottom) = mark.extent();
            if let Mark::Text { x, width, size, text, drawn, .. } = mark {
                boxes.push(TextBox {
                    page: index + 1,
                    x,
                    y: top,
                    width,
                    height: bottom - top,
                    size,
                    text,
                    in_drawing: drawn,
                });
            }
        }
    }
    Ok(boxes)
}

fn title(sheet: &Sheet) -> String {
    format!("{} {}", sheet.masthead.number, sheet.masthead.title)
}

/// Number, revision and digest, by which a stray file is found again.
fn keywords(sheet: &Sheet) -> String {
    let head = &sheet.masthead;
    let mut words = vec![head.number.clone()];
    words.extend(head.facts.iter().map(|(label, value)| format!("{} {value}", label.to_lowercase())));
    if !sheet.source.digest.is_empty() {
        words.push(format!("digest {}", sheet.source.digest));
    }
    words.join(", ")
}

/// Refuses a sheet with text or drawings that cannot be printed.
fn check(sheet: &Sheet) -> Result<(), PdfError> {
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
