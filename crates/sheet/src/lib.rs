//! Sheets as blocks, and the blocks as HTML and PDF.

pub mod attached;
pub mod block;
pub mod pdf;
pub mod sketch;
