//! The folder: one row for each document.

use std::sync::Arc;

use axum::extract::State;
use serde::Serialize;

use super::answer::{Answer, Base, Refused, json, page as answer};
use crate::app::App;
use crate::folder::reason;
use crate::listing;
use crate::pages::data;
use crate::row::Row;

#[derive(Serialize)]
struct Page {
    base: Base,
    rows: Vec<Row>,
    data: String,
}

async fn listing(app: &Arc<App>) -> Result<Vec<Row>, Refused> {
    app.work_on_all(|app| listing::listing(app))
        .await?
        .map_err(|error| Refused::from(format!("the folder cannot be read: {}", reason(&error))))
}

/// The page of the folder.
pub async fn page(State(app): State<Arc<App>>) -> Answer {
    let rows = listing(&app).await?;
    let data = data(&rows);
    answer(&app, "folder.html", &Page { base: Base::new(&app, "Documents", "folder"), rows, data })
}

/// The rows as values, for a page that hears of a change.
pub async fn rows(State(app): State<Arc<App>>) -> Answer {
    Ok(json(&listing(&app).await?))
}
