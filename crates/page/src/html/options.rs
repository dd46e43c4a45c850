//! How a sheet is set as HTML.

use std::sync::Arc;

use crate::house::House;
use crate::paper::Paper;

/// How a sheet is set.
#[derive(Debug, Clone, PartialEq)]
pub struct HtmlOptions {
    /// The language of the text (BCP 47), told to readers that speak it aloud.
    pub language: String,
    /// The paper that the page is printed on.
    pub paper: Paper,
    /// What the shop puts on its sheets.
    pub house: Option<Arc<House>>,
}

impl Default for HtmlOptions {
    fn default() -> Self {
        Self { language: "en".to_owned(), paper: Paper::A4, house: None }
    }
}
