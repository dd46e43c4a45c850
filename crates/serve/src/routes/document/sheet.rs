//! The sheet of a document: beside it on the page, and as PDF.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::Uri;
use seamwright_desk::job;
use seamwright_desk::sheets::{self, SheetRequest};
use seamwright_model::document::Document;
use seamwright_sheet::kinds::JobPaper;

use super::standing::{Standing, standing};
use crate::app::App;
use crate::guard::query;
use crate::hints;
use crate::judge::{Judged, judge};
use crate::planned::Planned;
use crate::routes::answer::{Answer, Refused, framed, shown_pdf};
use crate::routes::wanted::{JobWanted, Wanted};

/// The sheet of the text on the page.
pub async fn frame(State(app): State<Arc<App>>, Path(id): Path<String>, uri: Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let length = query(uri.query(), "length");
    Ok(framed(
        app.work(move |app| {
            let standing = standing(app, &id)?;
            Ok::<_, Refused>(sheet_page(app, &standing.below, &standing.text, wanted, length.as_deref()))
        })
        .await??,
    ))
}

/// The sheet of a text as a page, or why there is none, as a page.
pub fn sheet_page(app: &App, below: &std::path::Path, text: &str, wanted: Wanted, length: Option<&str>) -> String {
    judge(app, below, text, |judged| sheet_of(judged, wanted, length))
}

/// The sheet of a judged document as a page, or why there is none, as a page.
pub fn sheet_of(judged: &Judged<'_, '_>, wanted: Wanted, length: Option<&str>) -> String {
    sheet(judged, wanted, length)
        .and_then(|sheet| {
            let page = sheets::html(&judged.app.renderer()?, &sheet, wanted.paper, judged.companions.appearance());
            page.map_err(|error| error.to_string())
        })
        .unwrap_or_else(|why| no_sheet(&why))
}

/// A page in the place of a sheet that cannot be made.
pub fn no_sheet(why: &str) -> String {
    let plain = why.replace('&', "&amp;").replace('<', "&lt;");
    format!(
        "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"color-scheme\" content=\"light dark\"><title>No sheet</title>\
         <style>body{{font:1rem/1.4 system-ui,sans-serif;margin:2rem;max-width:40rem}}</style>\
         <body><main><h1>No sheet yet</h1><p>{plain}</p></main></body></html>"
    )
}

/// The sheet of the text on the page as PDF.
pub async fn pdf(State(app): State<Arc<App>>, Path(id): Path<String>, uri: Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let length = query(uri.query(), "length");
    let (bytes, name) = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            let bytes = sheet_pdf(app, &standing, wanted, length.as_deref())?;
            let stem = standing.below.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            Ok::<_, Refused>((bytes, format!("{stem}.{}", wanted.kind.name())))
        })
        .await??;
    Ok(shown_pdf(bytes, &name))
}

/// A sheet as the bytes of a PDF.
fn sheet_pdf(app: &App, standing: &Standing, wanted: Wanted, length: Option<&str>) -> Result<Vec<u8>, Refused> {
    judge(app, &standing.below, &standing.text, |judged| {
        if let (JobWanted::Binder, Some((loaded, _))) = (wanted.job, judged.report.result.as_ref().ok())
            && let Document::Job(job) = &loaded.document
        {
            let planned = Planned::of(judged, job);
            let (options, look) = (wanted.options, judged.companions.appearance());
            let (shop, known) = (planned.shop(), planned.known());
            return job::binder(loaded, shop, &planned.worked, &known, options, wanted.paper, look)
                .map_err(|error| Refused::from(error.to_string()));
        }
        let sheet = printed(judged, wanted, length)?;
        sheets::pdf(&sheet, wanted.paper, judged.companions.appearance())
            .map_err(|error| Refused::from(error.to_string()))
    })
}

/// A sheet that leaves the page, as blocks; none under a number that was issued with another content.
pub fn printed(
    judged: &Judged<'_, '_>,
    wanted: Wanted,
    length: Option<&str>,
) -> Result<seamwright_page::block::Sheet, String> {
    match judged.report.not_printed().filter(|_| wanted.kind.welds()) {
        Some(words) => Err(words),
        None => sheet(judged, wanted, length),
    }
}

/// A sheet as blocks.
fn sheet(
    judged: &Judged<'_, '_>,
    wanted: Wanted,
    length: Option<&str>,
) -> Result<seamwright_page::block::Sheet, String> {
    let (loaded, outcome) = judged.report.result.as_ref().map_err(|unread| {
        unread.faults.first().map_or_else(String::new, |own| hints::message(&own.message, &own.pointer))
    })?;
    if let Document::Job(own) = &loaded.document {
        let planned = Planned::of(judged, own);
        let paper = match wanted.job {
            JobWanted::Paper(paper) => paper,
            JobWanted::Binder => JobPaper::Cover,
        };
        return job::paper(paper, loaded, planned.shop(), &planned.worked);
    }
    let length = length.map(|own| {
        let read = crate::typed::quantity("length", own, "1 m");
        read.parse().map_err(|_| format!("`{own}` is no length of weld: write it with its unit, such as `2.4 m`"))
    });
    let request = SheetRequest {
        kinds: vec![wanted.kind],
        options: wanted.options,
        paper: wanted.paper,
        length: length.transpose()?,
    };
    let mut done = judged.companions.sheets(&request, loaded, outcome, judged.named);
    match done.made.pop() {
        Some(made) => Ok(made.sheet),
        None => Err(done.failures.first().map_or_else(|| "there is no such sheet".to_owned(), ToString::to_string)),
    }
}
