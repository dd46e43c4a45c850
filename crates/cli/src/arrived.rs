//! A sheet that arrives: whether what it shows is what its attached source gives.
//!
//! The sheet is made again in every kind and choice of units, terms and paper; one of them must be what arrived.

use seamwright_check::Outcome;
use seamwright_handbook::variables::Terms;
use seamwright_model::Loaded;
use seamwright_model::load::Fault;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::shop::Shop;
use seamwright_sheet::agree::{self, Difference};
use seamwright_sheet::html::{HtmlOptions, HtmlRenderer};
use seamwright_sheet::kinds::{self, Kind, SheetOptions, Subject};
use seamwright_sheet::pdf::{self, Paper, PdfOptions};

use crate::files::{self, Input};

/// Compares a PDF or HTML sheet with its source; nothing for a file that is the source itself.
///
/// `Err` says where the sheet differs: it was changed, or made with templates, documents or a program other than here.
pub fn compare(
    input: &Input,
    loaded: &Loaded,
    outcome: &Outcome,
    shop: Option<&Shop>,
) -> Result<Option<String>, Fault> {
    let Ok(bytes) = files::bytes(input) else { return Ok(None) };
    let page = if files::is_pdf(&bytes) {
        None
    } else if files::is_page(input) {
        Some(String::from_utf8_lossy(&bytes).into_owned())
    } else {
        return Ok(None);
    };
    let mut nearest: Option<Difference> = None;
    let renderer = HtmlRenderer::new().map_err(|error| fault(error.to_string()))?;
    for (kind, options) in choices() {
        let subject = Subject { loaded, outcome, shop, procedure: None, estimate: None };
        let Ok(sheet) = kinds::sheet(kind, subject, options) else { continue };
        for paper in [Paper::A4, Paper::Letter] {
            let difference = match &page {
                None => match pdf::render(&sheet, &PdfOptions { paper, ..PdfOptions::default() }) {
                    Ok(made) => agree::pdf(&bytes, &made).map_err(|error| fault(error.to_string()))?,
                    Err(_) => continue,
                },
                Some(page) => match renderer.render(&sheet, &HtmlOptions { paper, ..HtmlOptions::default() }) {
                    Ok(made) => agree::html(page, &made),
                    Err(_) => continue,
                },
            };
            match difference {
                None => {
                    return Ok(Some(format!("the {} sheet shows what its attached source gives", kind.name())));
                }
                Some(own) if nearest.as_ref().is_none_or(|so_far| so_far.alike < own.alike) => nearest = Some(own),
                Some(_) => {}
            }
        }
    }
    let what = nearest.map_or_else(|| "no kind of sheet is made of it".to_owned(), |difference| difference.what);
    Err(fault(format!("the sheet does not show what its attached source gives: {what}")))
}

fn choices() -> impl Iterator<Item = (Kind, SheetOptions)> {
    let units = [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both];
    let terms = [Terms::Iso, Terms::Aws];
    Kind::ALL.into_iter().flat_map(move |kind| {
        units
            .into_iter()
            .flat_map(move |units| terms.into_iter().map(move |terms| (kind, SheetOptions { units, terms })))
    })
}

fn fault(message: String) -> Fault {
    Fault {
        message,
        hint: Some(
            "it was changed after it was written, or made with other templates, records, shop or version: ask for the \
             source and render it here"
                .to_owned(),
        ),
        span: None,
        pointer: String::new(),
    }
}
