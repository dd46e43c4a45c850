//! Sheets as blocks, and the blocks as HTML and PDF.

pub mod attached;
pub mod block;
mod held;
pub mod house;
pub mod html;
pub mod kinds;
pub mod lately;
pub mod logo;
pub mod made_with;
pub mod pdf;
pub mod qr;
pub mod received;
pub mod sketch;
pub mod svg;
pub mod words;
