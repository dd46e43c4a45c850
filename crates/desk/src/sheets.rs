//! The sheets of a document that was checked, as blocks, and each of them as PDF and HTML.

use anyhow::anyhow;
use seamwright_check::Outcome;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::quantity::{Length, Range};
use seamwright_page::block::Sheet;
use seamwright_page::html::{HtmlError, HtmlOptions, HtmlRenderer, IndexEntry};
use seamwright_page::pdf::{self, Paper, PdfError, PdfOptions};
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{self, Subject};

use crate::appearance::Appearance;
use crate::companions::Companions;
use crate::estimate;
use crate::named::Named;

/// Which sheets of a document are wanted, and how.
#[derive(Debug, Clone, Default)]
pub struct SheetRequest {
    /// Kinds of sheet, each once.
    pub kinds: Vec<Kind>,
    /// Units and words.
    pub options: SheetOptions,
    /// Paper size.
    pub paper: Paper,
    /// Length of weld for the estimate sheet; the length that the procedure states if left out.
    pub length: Option<Range<Length>>,
}

/// A sheet that was made, and its line in an index.
pub struct Made {
    /// The kind of sheet.
    pub kind: Kind,
    /// The sheet.
    pub sheet: Sheet,
    /// Its line in an index, without the paths of files.
    pub entry: IndexEntry,
}

/// The sheets of a document.
#[derive(Default)]
pub struct Sheets {
    /// Those that were made: of several kinds, those that the document has.
    pub made: Vec<Made>,
    /// Why others were not, in words: an estimate that fails, a review that is too long, or a kind that does not fit where none does.
    pub failures: Vec<anyhow::Error>,
    /// Whether there is none because the document has no sheet of these kinds.
    pub unfit: bool,
}

impl Companions<'_> {
    /// Makes the sheets of a document that was checked.
    pub fn sheets(&self, request: &SheetRequest, loaded: &Loaded, outcome: &Outcome, named: &Named) -> Sheets {
        let mut done = Sheets::default();
        let (shop, procedure) = (self.shop(named), self.procedure(named));
        let mut wanted = request.kinds.clone();
        let estimate = match &loaded.document {
            Document::Procedure(own) if wanted.contains(&Kind::Estimate) => {
                match estimate::of(own, shop, request.length.as_ref()) {
                    Ok(made) => Some(made),
                    Err(error) => {
                        wanted.retain(|kind| *kind != Kind::Estimate);
                        done.failures.push(error);
                        None
                    }
                }
            }
            _ => None,
        };
        let review = matches!(loaded.document, Document::Procedure(_)) && wanted.contains(&Kind::Review);
        if let Some(reason) = review.then(|| kinds::review_too_long(outcome)).flatten() {
            wanted.retain(|kind| *kind != Kind::Review);
            done.failures.push(anyhow!(reason));
        }
        let lately = &self.appearance().lately;
        let subject = Subject { loaded, outcome, shop, procedure, estimate: estimate.as_ref(), lately };
        let mut unfit = None;
        for kind in wanted {
            match kinds::sheet(kind, subject, request.options) {
                Ok(mut sheet) => {
                    if let Some(made_with) = &mut sheet.source.made_with {
                        let length = request.length.as_ref().filter(|_| kind == Kind::Estimate);
                        made_with.length = length.map(|length| length.spelled().to_owned());
                        self.tell(made_with, loaded, outcome, named);
                    }
                    let entry = kinds::index_entry(subject, &sheet, request.options.units);
                    done.made.push(Made { kind, sheet, entry });
                }
                Err(reason) => unfit = unfit.or(Some(reason)),
            }
        }
        // A kind that the document lacks is told only where none fits.
        if let (true, Some(reason)) = (done.made.is_empty(), unfit) {
            done.failures.push(anyhow!(reason));
            done.unfit = true;
        }
        done
    }
}

/// A sheet as the bytes of a PDF.
pub fn pdf(sheet: &Sheet, paper: Paper, appearance: &Appearance) -> Result<Vec<u8>, PdfError> {
    pdf::render(sheet, &pdf_options(paper, appearance))
}

/// How PDF sheets look.
pub fn pdf_options(paper: Paper, appearance: &Appearance) -> PdfOptions {
    PdfOptions { paper, house: appearance.house.clone(), lately: appearance.lately.clone(), ..PdfOptions::default() }
}

/// A sheet as a page; the renderer is [`Appearance::renderer`].
pub fn html(
    renderer: &HtmlRenderer,
    sheet: &Sheet,
    paper: Paper,
    appearance: &Appearance,
) -> Result<String, HtmlError> {
    renderer.render(sheet, &HtmlOptions { paper, house: appearance.house.clone(), ..HtmlOptions::default() })
}
