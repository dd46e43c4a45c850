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
mod fit;
mod index;
mod qr;
mod templates;
#[cfg(test)]
mod tests;
mod view;

use std::borrow::Cow;
use std::fmt::Write as _;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tera::{Context, Tera};

use crate::attached::SOURCE_LIMIT;
use crate::block::Sheet;
use crate::held::quantities;
use crate::house::House;
use crate::pdf::Paper;
use crate::svg::Escaped;

pub use embed::source_of;
pub use index::{IndexEntry, IndexOptions, index};
pub use templates::template_names;

/// How long templates of a user's own may take.
pub const TIME_LIMIT: Duration = Duration::from_secs(5);
/// Most bytes of a page.
pub const PAGE_LIMIT: usize = 16 * 1024 * 1024;

/// What the page says of the program that made it.
const GENERATOR: &str = concat!("Seamwright ", env!("CARGO_PKG_VERSION"));

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

/// Why a page cannot be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum HtmlError {
    /// A template cannot be read or does not work with the sheet.
    #[error("{}: {reason}", Place(file, *line))]
    Template {
        /// Name of the file in the folder of templates.
        file: String,
        /// Line, from one, where it is known.
        line: Option<usize>,
        /// What is wrong.
        reason: String,
    },
    /// A template whose name no page asks for.
    #[error("{file}: no template of this name is built in, and no other file of the folder includes it")]
    UnusedTemplate {
        /// Name of the file.
        file: String,
        /// The built-in name that is nearest to it, if any is near.
        nearest: Option<String>,
    },
    /// The templates took too long.
    #[error("the templates did not finish within {} s: one of them repeats itself too often", limit.as_secs_f64())]
    TooSlow {
        /// The limit.
        limit: Duration,
    },
    /// The page grew too large.
    #[error("the page has more than {limit} bytes")]
    TooLarge {
        /// The limit.
        limit: usize,
    },
    /// The templates left out or changed the source that every page carries.
    #[error("the templates do not carry the source: {reason}")]
    SourceLost {
        /// What reading it back found.
        reason: String,
    },
    /// The source is larger than can be read back.
    #[error("the source has {bytes} bytes, over the limit of {SOURCE_LIMIT}")]
    SourceTooLarge {
        /// Its size.
        bytes: usize,
    },
    /// A drawing has a number that cannot be drawn.
    #[error("the drawing \"{title}\" has a measure that is not a number or out of bounds")]
    Drawing {
        /// Title of the figure.
        title: String,
    },
    /// The text of the QR code is too long for one.
    #[error("the text of the QR code has {bytes} bytes, more than a code holds")]
    QrTooLong {
        /// Length of the text.
        bytes: usize,
    },
}

/// A file and, where known, its line.
struct Place<'a>(&'a str, Option<usize>);

impl std::fmt::Display for Place<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(self.0)?;
        self.1.map_or(Ok(()), |line| write!(formatter, ", line {line}"))
    }
}

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

/// Text as lines: escaped, with a `<br>` at each line break, and a quantity in a span that stays whole where it can.
fn lines(text: &str) -> String {
    let mut whole = String::with_capacity(text.len());
    let mut written = 0;
    for place in quantities(text) {
        let (before, quantity) = (text.get(written..place.start), text.get(place.clone()));
        let (before, quantity) = (Escaped(before.unwrap_or_default()), Escaped(quantity.unwrap_or_default()));
        let _ = write!(whole, "{before}<span class=\"q\">{quantity}</span>");
        written = place.end;
    }
    let _ = write!(whole, "{}", Escaped(text.get(written..).unwrap_or_default()));
    let text = whole;
    if text.contains(['\n', '\r']) { text.replace("\r\n", "\n").replace(['\n', '\r'], "<br>") } else { text }
}

/// Text as a quoted CSS string that ends neither the string nor the style element.
fn css_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for character in text.chars() {
        if character.is_alphanumeric() || matches!(character, ' ' | '.' | ',' | '-' | ':' | '·' | '–') {
            out.push(character);
        } else {
            // A code point in hexadecimal ends at the space (CSS Syntax 3, 4.3.7).
            let code = if character == '\0' { 0xfffd } else { u32::from(character) };
            let _ = write!(out, "\\{code:x} ");
        }
    }
    out.push('"');
    out
}

/// A relative address of a file: everything but plain characters and the slash is percent-encoded (RFC 3986, 2.1), so
/// that it can neither name a scheme nor leave its attribute.
fn path_href(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    let path: Cow<'_, str> = if path.contains('\\') { path.replace('\\', "/").into() } else { path.into() };
    for byte in path.trim_start_matches('/').bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/') {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}
