//! Two revisions side by side: what changed, and what the code says about a new test.

use std::sync::Arc;

use axum::extract::State;
use axum::http::Uri;
use seamwright_check::codes;
use seamwright_model::Loaded;
use seamwright_model::procedure::CodeName;
use serde::Serialize;

use super::answer::{Answer, Base, page as answer};
use super::document::standing;
use crate::app::App;
use crate::differences::{Compared, compared};
use crate::folder::read;
use crate::guard::query;
use crate::judge::loaded;
use crate::listing::listing;

#[derive(Serialize, Default)]
struct Page {
    base: Option<Base>,
    old: String,
    new: String,
    choices: Vec<(String, String)>,
    code: String,
    codes: Vec<(String, String)>,
    result: Option<Compared>,
    trouble: Option<String>,
}

/// A document that is named by id: `ID`, `ID@disk` for its file though the page has another text, `ID@VERSION`, or `arrived-N`.
pub fn named(app: &App, name: &str) -> Result<Loaded, String> {
    if let Some(number) = name.strip_prefix("arrived-").and_then(|own| own.parse().ok()) {
        return super::arrived::loaded(app, number);
    }
    let (id, which) = name.split_once('@').unwrap_or((name, ""));
    let text = match which {
        "" => standing(app, id).map_err(|_| "choose a document".to_owned())?.text,
        "disk" => {
            let below = app.folder.find(id).ok_or("this document is not in the folder any more")?;
            let bytes = read(&app.folder.path(&below)).map_err(|_| "the file cannot be read")?;
            String::from_utf8(bytes).map_err(|_| "the file is not text in UTF-8")?
        }
        version => {
            let bytes = app.store.version(id, version).ok_or("this version is not kept any more")?;
            String::from_utf8(bytes).map_err(|_| "the version is not text in UTF-8")?
        }
    };
    loaded(id, &text)
}

/// The page that compares.
pub async fn page(State(app): State<Arc<App>>, uri: Uri) -> Answer {
    let ask = |name: &str| query(uri.query(), name).unwrap_or_default();
    let (old, new, code) = (ask("old"), ask("new"), ask("code"));
    let mut page = app
        .work_on_all(move |app| {
            let rows = listing(app).unwrap_or_default();
            let mut page = Page {
                choices: rows
                    .iter()
                    .filter(|row| row.kind == "procedure")
                    .map(|row| (row.id.clone(), format!("{} rev {}: {}", row.number, row.revision, row.title)))
                    .collect(),
                codes: CodeName::ALL
                    .iter()
                    .filter(|code| **code != CodeName::None)
                    .map(|code| (code.to_string(), codes::title(*code).to_owned()))
                    .collect(),
                ..Page::default()
            };
            if !old.is_empty() && !new.is_empty() {
                let both = named(app, &old).and_then(|first| Ok((first, named(app, &new)?)));
                match both.and_then(|(first, second)| compared(&first, &second, code.parse().ok())) {
                    Ok(result) => page.result = Some(result),
                    Err(words) => page.trouble = Some(words),
                }
            }
            Page { old, new, code, ..page }
        })
        .await?;
    page.base = Some(Base::new(&app, "Compare", "compare"));
    answer(&app, "compare.html", &page)
}
