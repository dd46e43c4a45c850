//! A document as it stands on the page: its text, its form, and what is found in it.

use std::path::PathBuf;
use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use seamwright_model::document::KINDS;
use serde::Serialize;
use serde_json::Value;

use crate::app::App;
use crate::edit;
use crate::folder::{digest, read, reason};
use crate::form::{self, Form};
use crate::judge::{Judged, judge};
use crate::live::{Live, POSITIONS, all_positions, live};
use crate::pages::data;
use crate::routes::answer::{Answer, Base, Refused, json, page as answer};

/// A document as it stands on the page.
pub struct Standing {
    /// Its path below the folder.
    pub below: PathBuf,
    /// The text on the page.
    pub text: String,
    /// Digest of the file that it was made from.
    pub base: String,
    /// Digest of the file as it is now; nothing where it is gone.
    pub disk: Option<String>,
}

/// The text of a document: that which is not saved yet, else its file.
pub fn standing(app: &App, id: &str) -> Result<Standing, Refused> {
    let below = app.folder.find(id).ok_or_else(Refused::no_document)?;
    let bytes =
        read(&app.folder.path(&below)).map_err(|error| Refused::from(format!("cannot be read: {}", reason(&error))));
    let disk = bytes.as_ref().ok().map(|bytes| digest(bytes));
    if let Some(unsaved) = app.store.unsaved(id) {
        return Ok(Standing { below, text: unsaved.text, base: unsaved.base, disk });
    }
    let bytes = bytes?;
    if bytes.len() > seamwright_model::load::limits::FILE_BYTES {
        return Err(Refused::new(StatusCode::PAYLOAD_TOO_LARGE, "the file has more than 1 MiB; it is no document"));
    }
    let base = digest(&bytes);
    let text = String::from_utf8(bytes).map_err(|_| {
        Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "the file is not text in UTF-8; a document is a YAML text file")
    })?;
    Ok(Standing { below, text, base, disk })
}

/// What a page holds of a document.
#[derive(Serialize)]
struct State_ {
    id: String,
    file: String,
    kind: String,
    number: String,
    title: String,
    base: String,
    changed_on_disk: bool,
    /// Digest of the file as it is now, where it is there.
    on_disk: Option<String>,
    unsaved: bool,
    text: String,
    live: Live,
    form: Option<Form>,
    /// The parts of the form with their shapes.
    shape: String,
}

fn values(judged: &Judged<'_, '_>, text: &str) -> (String, Value) {
    let value = match &judged.report.result {
        Ok((loaded, _)) => loaded.tree.to_value(),
        Err(_) => edit::values(text).unwrap_or(Value::Null),
    };
    (kind_of(&value).to_owned(), value)
}

/// Shows the word for all positions in its field, where it was read as the positions.
pub fn show_words(form: Option<&mut Form>, judged: &Judged<'_, '_>) {
    let written = judged.report.result.as_ref().ok().and_then(|(loaded, _)| all_positions(loaded));
    if let (Some(form), Some((written, _))) = (form, written) {
        form.show(POSITIONS, written);
    }
}

/// The kind of document that values are of.
pub fn kind_of(values: &Value) -> &str {
    values.get("document").and_then(Value::as_str).filter(|own| KINDS.contains(own)).unwrap_or("procedure")
}

fn whole(app: &App, id: &str, standing: &Standing) -> State_ {
    judge(app, &standing.below, &standing.text, |judged| {
        let (kind, values) = values(judged, &standing.text);
        let mut form = values.is_object().then(|| form::form(&kind, &values));
        show_words(form.as_mut(), judged);
        let of = |key: &str| {
            let own = values.get("identification").and_then(|own| own.get(key));
            own.map_or_else(String::new, |own| own.as_str().map_or_else(|| own.to_string(), str::to_owned))
        };
        State_ {
            id: id.to_owned(),
            file: standing.below.to_string_lossy().into_owned(),
            number: of("number"),
            title: of("title"),
            base: standing.base.clone(),
            changed_on_disk: standing.disk.as_deref() != Some(&standing.base),
            on_disk: standing.disk.clone(),
            unsaved: app.store.unsaved(id).is_some(),
            text: standing.text.clone(),
            live: live(&standing.text, judged),
            shape: form.as_ref().map(form::shapes).unwrap_or_default(),
            form,
            kind,
        }
    })
}

#[derive(Serialize)]
struct Page<'a> {
    base: Base,
    document: &'a State_,
    form: &'a Option<Form>,
    data: String,
}

/// The page of a document.
pub async fn page(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer {
    let document = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            app.store.keep_port();
            Ok::<_, Refused>(whole(app, &id, &standing))
        })
        .await??;
    let title = if document.number.is_empty() { document.file.clone() } else { document.number.clone() };
    let data = data(&document);
    let here = match document.kind.as_str() {
        "shop" => "shop",
        "job" => "job",
        _ => "folder",
    };
    answer(
        &app,
        "document.html",
        &Page { base: Base::new(&app, title, here), form: &document.form, data, document: &document },
    )
}

/// The same as values, with the form as HTML, for a page that goes on after something changed elsewhere.
pub async fn state(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer {
    let made = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            let document = whole(app, &id, &standing);
            let html = app.pages.page("form.html", &FormPage { form: &document.form }).map_err(Refused::from)?;
            Ok::<_, Refused>((document, html))
        })
        .await??;
    let (document, html) = made;
    let mut value = serde_json::to_value(&document).unwrap_or_default();
    if let Value::Object(map) = &mut value {
        map.insert("form".into(), html.into());
    }
    Ok(json(&value))
}

/// The form as a page has it.
#[derive(Serialize)]
pub struct FormPage<'a> {
    /// The form, where the values have one.
    pub form: &'a Option<Form>,
}
