//! Blocks as HTML: one page in one file, with nothing to fetch and no script.
//!
//! A sheet goes through these rooms:
//!
//! - `view`: the sheet as the templates see it, with drawings already written as SVG and the QR code as a path;
//! - `templates`: the files of the top-level `templates/` folder, compiled in, under a user's files of the same names;
//! - `bound`: limits of time and size for templates that the program did not write;
//! - `fit`: the size of type with which a one-page sheet prints on one page;
//! - `embed`: the YAML source in the page, read back by [`source_of`];
//! - `index`: the page that lists a folder of sheets.
//!
//! The templates decide how a block looks; the program decides what is in it and escapes it. A new kind of block is a
//! variant in `view`, a template, a line in `templates/blocks.html` and one in the list of `templates`.

pub(crate) mod base64;
mod bound;
pub(crate) mod embed;
mod error;
mod fit;
mod index;
mod options;
mod qr;
mod templates;
#[cfg(test)]
mod tests;
mod text;
mod view;

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tera::{Context, Tera};

use crate::block::Sheet;

pub use bound::{PAGE_LIMIT, TIME_LIMIT};
pub use embed::source_of;
pub use error::HtmlError;
pub use index::{IndexEntry, IndexOptions, index};
pub use options::HtmlOptions;
pub use templates::template_names;

/// Sets sheets as HTML; made once, used for any number of sheets and from any thread.
#[derive(Debug, Clone)]
pub struct HtmlRenderer {
    tera: Arc<Tera>,
    styles: templates::Styles,
    /// Set where templates of a user's own take part.
    limit: Option<Duration>,
    /// Whether they once did not finish: then no other sheet waits for them.
    slow: Arc<AtomicBool>,
}

impl HtmlRenderer {
    /// A renderer with the built-in templates. Errors: none in practice; the tests render with every one of them.
    pub fn new() -> Result<Self, HtmlError> {
        Self::with_overrides(&[])
    }

    /// A renderer in which the given files, as (name, text), stand in for built-in templates of the same names.
    ///
    /// Files that end neither in `.html` nor in `.css` are passed over. A file may also be new, if another one
    /// includes it, and may extend or include the one that it stands in for as `built-in/NAME`. Errors:
    /// [`HtmlError::Template`] with file and line, and [`HtmlError::UnusedTemplate`] for a name that is never used.
    pub fn with_overrides(files: &[(String, String)]) -> Result<Self, HtmlError> {
        let (tera, styles, own) = templates::load(files)?;
        Ok(Self { tera: Arc::new(tera), styles, limit: own.then_some(TIME_LIMIT), slow: Arc::default() })
    }

    /// The same renderer with another limit for the time that a user's templates may take.
    #[must_use]
    pub fn with_time_limit(self, limit: Duration) -> Self {
        Self { limit: self.limit.map(|_| limit), ..self }
    }

    /// Sets a sheet as one self-contained page.
    ///
    /// Equal sheets, options and templates give equal text. A template that does not finish in time is stopped at its
    /// next output; one that writes nothing is left behind on a thread of its own, and the call returns. After that every
    /// call returns at once. Errors: [`HtmlError`].
    pub fn render(&self, sheet: &Sheet, options: &HtmlOptions) -> Result<String, HtmlError> {
        let page = self.run("sheet.html", view::context(sheet, options, &self.styles.sheet)?)?;
        if self.limit.is_some() {
            // Only templates of a user's own can lose the source.
            let lost = |reason: String| HtmlError::SourceLost { reason };
            let attached = source_of(&page).map_err(|error| lost(error.to_string()))?;
            if attached.text != sheet.source.text {
                return Err(lost("the page carries another text".to_owned()));
            }
            if attached.made_with.is_some() != sheet.source.made_with.is_some() {
                return Err(lost("the page does not carry what the sheet was made with".to_owned()));
            }
        }
        Ok(page)
    }

    /// Renders a template under the limits that apply to it.
    fn run(&self, name: &'static str, context: Context) -> Result<String, HtmlError> {
        match self.limit {
            None => bound::render(&self.tera, name, &context, None),
            Some(limit) if self.slow.load(Ordering::Relaxed) => Err(HtmlError::TooSlow { limit }),
            Some(limit) => {
                let result = bound::render_in_time(&self.tera, name, context, limit);
                self.slow.fetch_or(matches!(result, Err(HtmlError::TooSlow { .. })), Ordering::Relaxed);
                result
            }
        }
    }
}
