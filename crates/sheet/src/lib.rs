//! The kinds of sheet: a document as blocks. What becomes of these is in `page`, whose parts stand here by their names.

pub mod kinds;

pub use seamwright_page::{attached, block, house, html, lately, logo, made_with, pdf, qr, received, words};
