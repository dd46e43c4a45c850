//! Printing: kinds, paper, units and words; a binder of the ticked documents.

use std::sync::Arc;

use axum::extract::State;
use axum::http::Uri;
use seamwright_desk::sheets::pdf_options;
use seamwright_page::pdf;
use serde::Serialize;

use super::answer::{Answer, Base, Refused, page as answer, shown_pdf};
use super::document::{printed, standing};
use super::wanted::Wanted;
use crate::app::App;
use crate::guard::query;
use crate::judge::judge;
use crate::listing::listing;
use crate::row::Row;

#[derive(Serialize)]
struct Page {
    base: Base,
    rows: Vec<Row>,
    ticked: Vec<String>,
}

/// The page that prints.
pub async fn page(State(app): State<Arc<App>>, uri: Uri) -> Answer {
    let ticked = query(uri.query(), "ids")
        .unwrap_or_default()
        .split(',')
        .filter(|id| !id.is_empty())
        .map(str::to_owned)
        .collect();
    let rows = app.work_on_all(|app| listing(app)).await?.unwrap_or_default();
    let rows = rows.into_iter().filter(|row| matches!(row.kind.as_str(), "procedure" | "lesson")).collect();
    answer(&app, "print.html", &Page { base: Base::new(&app, "Print", "print"), rows, ticked })
}

/// Most documents of one binder.
const MOST: usize = 200;

/// The sheets of the ticked documents in one file.
pub async fn binder(State(app): State<Arc<App>>, uri: Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let pairs: Vec<(String, String)> =
        form_urlencoded::parse(uri.query().unwrap_or_default().as_bytes()).into_owned().collect();
    let ids: Vec<String> = pairs
        .into_iter()
        .filter(|(name, _)| name == "id" || name == "ids")
        .flat_map(|(_, value)| value.split(',').map(str::to_owned).collect::<Vec<_>>())
        .filter(|id| !id.is_empty())
        .collect();
    if ids.is_empty() {
        return Err(Refused::from("tick the documents that are to be printed".to_owned()));
    }
    if ids.len() > MOST {
        return Err(Refused::from(format!("a binder holds at most {MOST} documents")));
    }
    let documents = u32::try_from(ids.len()).unwrap_or(u32::MAX);
    let bytes = app
        .work_on(documents, move |app| {
            let mut all = Vec::new();
            let mut options = None;
            for id in &ids {
                let standing = standing(app, id)?;
                judge(app, &standing.below, &standing.text, |judged| {
                    options.get_or_insert_with(|| pdf_options(wanted.paper, judged.companions.appearance()));
                    // A lesson among procedures has its own sheet.
                    let own = match &judged.report.result {
                        Ok((loaded, _)) if loaded.document.kind() == "lesson" => {
                            Wanted { kind: seamwright_page::Kind::Lesson, ..wanted }
                        }
                        _ => wanted,
                    };
                    printed(judged, own, None)
                        .map(|sheet| all.push(sheet))
                        .map_err(|why| format!("{}: {why}", standing.below.display()))
                })?;
            }
            pdf::binder(&all, "Welding procedures", &options.unwrap_or_default())
                .map_err(|error| Refused::from(error.to_string()))
        })
        .await??;
    Ok(shown_pdf(bytes, "binder"))
}
