//! Sheets as blocks, and the blocks as HTML and PDF.

pub mod block;
pub mod sketch;
