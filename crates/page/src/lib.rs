//! Sheets as blocks with their drawings, as HTML and PDF; what a sheet is of is not known here.
//!
//! - [`block`]: a sheet as blocks; [`words`]: its words and languages; [`kind`], [`options`]: what may be chosen
//! - [`html`], [`pdf`]: the back ends; [`house`], [`logo`]: a shop's name block
//! - [`attached`], [`made_with`]: what a sheet carries; [`received`]: a sheet read again; [`lately`]: what was made lately
//!
//! ```
//! use seamwright_page::block::{Block, Sheet};
//! use seamwright_page::html::{HtmlOptions, HtmlRenderer};
//! use seamwright_page::pdf;
//!
//! let mut sheet = Sheet { blocks: vec![Block::Paragraph { text: "Weld & grind".into(), small: false }], ..Sheet::default() };
//! sheet.masthead.title = "Trial".into();
//! let page = HtmlRenderer::new().expect("templates").render(&sheet, &HtmlOptions::default()).expect("a page");
//! assert!(page.contains("Weld &amp; grind"));
//! let file = pdf::render(&sheet, &pdf::PdfOptions::default()).expect("a PDF");
//! assert!(file.starts_with(b"%PDF-"));
//! ```

pub mod attached;
pub mod block;
pub mod house;
pub mod html;
pub mod kind;
mod language;
pub mod lately;
pub mod logo;
pub mod made_with;
pub mod options;
mod paper;
pub mod pdf;
pub mod qr;
pub mod received;
mod refused;
pub mod words;

pub use kind::Kind;
pub use options::SheetOptions;
