//! Blocks as PDF: sheets for the file, the customer and the bench.
//!
//! A sheet goes through these rooms, and a reader of the code may follow it:
//!
//! - `measure`: where lines break;
//! - `blocks`: each kind of block as pieces, with `figure` for drawings and `furniture` for the head and foot of pages;
//! - `pages`: pieces on pages, nothing split that belongs together, and bench cards made to fit one page;
//! - `paint`: marks as page operators;
//! - `fonts` and `embed`: the part of the faces that a file needs, and how it stands there;
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
mod error;
mod figure;
mod fonts;
mod furniture;
mod logo;
mod measure;
mod object;
mod options;
mod pages;
mod paint;
mod piece;
mod sound;
mod style;
mod tag;
#[cfg(test)]
mod tests;
mod used;
mod xmp;

use crate::block::Sheet;
use crate::house::House;

pub use attach::{source_of, sources_of};
pub use binder::binder;
pub(crate) use embed::Faces;
pub use error::PdfError;
pub use fonts::missing_glyphs;
pub use options::PdfOptions;

pub use crate::paper::Paper;

use document::{File, Label};
use piece::Mark;
use sound::check;

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
        title: sheet.whole_title(),
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
