//! How a sheet is set as PDF.

use std::sync::Arc;

use crate::house::House;
use crate::lately::Lately;
use crate::paper::Paper;

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
