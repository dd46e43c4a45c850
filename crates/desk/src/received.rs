//! A sheet that arrives: whether what it shows is what its attached source gives.
//!
//! A sheet says what it was made with; it is made again with that, and the two are compared.

use anyhow::Result;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::load::Fault;
use seamwright_sheet::agree::{self, Difference};
use seamwright_sheet::block::Sheet;
use seamwright_sheet::html::HtmlOptions;
use seamwright_sheet::kinds::{self, SheetOptions, Subject};
use seamwright_sheet::made_with::MadeWith;
use seamwright_sheet::pdf::{self, PdfOptions};

use crate::appearance::Appearance;
use crate::companions::{Companions, Named};
use crate::files::{Arrival, Arrived, Input};
use crate::sheets;

/// Compares a sheet with what its source gives, and says that they agree.
///
/// `Err` says where the sheet differs, or what it was made with that is not at hand.
pub fn compare(
    companions: &Companions<'_>,
    input: &Input,
    loaded: &Loaded,
    arrival: &Arrival,
) -> Result<String, Fault> {
    let Some(made) = &arrival.made_with else {
        return Err(fault(
            "the sheet does not say what it was made with, so it cannot be made again and compared".to_owned(),
            "ask for the source, and render it here".to_owned(),
        ));
    };
    let page = matches!(arrival.sheet, Arrived::Page(_));
    let (then, named) = companions.as_then(made, page, input, loaded).map_err(|missing| {
        let message = format!(
            "the sheet was made with {}: without it the sheet cannot be made again and compared",
            missing.words()
        );
        fault(message, format!("name it with {}, or ask for the source alone", missing.arguments()))
    })?;
    let sheet = again(made, &then, &named, loaded).map_err(|reason| differs(made, &reason))?;
    match difference(&sheet, made, then.appearance(), &arrival.sheet) {
        Ok(None) => Ok(format!("the {} sheet shows what its attached source gives", made.sheet.name())),
        Ok(Some(difference)) => Err(differs(made, &difference.what)),
        Err(error) => Err(differs(made, &format!("{error:#}"))),
    }
}

/// Makes the sheet again.
fn again(made: &MadeWith, then: &Companions<'_>, named: &Named, loaded: &Loaded) -> Result<Sheet, String> {
    let first = |faults: Vec<Fault>| faults.into_iter().next().map_or_else(String::new, |fault| fault.message);
    let outcome = then.check(loaded, named).map_err(first)?;
    let shop = then.shop(named);
    let estimate = match &loaded.document {
        Document::Procedure(procedure) if made.sheet == kinds::Kind::Estimate => {
            let length = made.length.as_deref().map(str::parse).transpose().map_err(|_| "its length is no length")?;
            Some(sheets::estimate_of(procedure, shop, length.as_ref()).map_err(|error| format!("{error:#}"))?)
        }
        _ => None,
    };
    let procedure = then.procedure(named);
    let subject = Subject { loaded, outcome: &outcome, shop, procedure, estimate: estimate.as_ref() };
    let mut sheet =
        kinds::sheet(made.sheet, subject, SheetOptions { units: made.units, terms: made.terms, annex: made.annex })?;
    sheet.source.made_with = Some(made.clone());
    Ok(sheet)
}

/// Where the sheet that arrived differs from the one that was made again.
fn difference(sheet: &Sheet, made: &MadeWith, look: &Appearance, arrived: &Arrived) -> Result<Option<Difference>> {
    let (paper, house) = (made.paper, look.house.clone());
    Ok(match arrived {
        Arrived::Pdf(bytes) => {
            let again = pdf::render(sheet, &PdfOptions { paper, house, ..PdfOptions::default() })?;
            agree::pdf(bytes, &again)?
        }
        Arrived::Page(page) => {
            let again = look.renderer()?.render(sheet, &HtmlOptions { paper, house, ..HtmlOptions::default() })?;
            agree::html(page, &again)
        }
    })
}

fn differs(made: &MadeWith, what: &str) -> Fault {
    let own = env!("CARGO_PKG_VERSION");
    let hint = if made.version == own {
        "it was changed after it was written: ask for the source, and render it here".to_owned()
    } else {
        format!(
            "it was changed after it was written, or version {} of this program, which wrote it, sets sheets otherwise \
             than {own}: ask for the source, and render it here",
            made.version
        )
    };
    fault(format!("the sheet does not show what its attached source gives: {what}"), hint)
}

fn fault(message: String, hint: String) -> Fault {
    Fault { message, hint: Some(hint), span: None, pointer: String::new() }
}
