//! A document saved, let go of, and as it was saved before.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, ETAG, HeaderMap, HeaderValue, IF_MATCH};
use axum::response::IntoResponse;
use serde::{Deserialize, Serialize};

use super::standing::standing;
use crate::app::App;
use crate::event::Event;
use crate::folder::digest;
use crate::routes::answer::{Answer, Refused, json, read as sent};

#[derive(Debug, Deserialize)]
struct Save {
    /// Digest of the text that the page shows.
    of: String,
}

#[derive(Serialize)]
struct Saved {
    base: String,
}

/// Writes the text of the page into its file, if the file is still the one that the page knows.
pub async fn save(State(app): State<Arc<App>>, Path(id): Path<String>, headers: HeaderMap, body: Bytes) -> Answer {
    let save: Save = sent(&body)?;
    let Some(expected) =
        headers.get(IF_MATCH).and_then(|own| own.to_str().ok()).map(|own| own.trim_matches('"').to_owned())
    else {
        return Err(Refused::new(StatusCode::PRECONDITION_REQUIRED, "a save says which version it is made from"));
    };
    let saved = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            if digest(standing.text.as_bytes()) != save.of {
                return Err(Refused::new(
                    StatusCode::CONFLICT,
                    "the document was changed in another window; look at it, then save",
                ));
            }
            let now = app.store.save(&app.folder, &standing.below, &standing.text, &expected)?;
            app.store.forget(&id);
            let event = Event::Changed { id: id.clone(), digest: now.clone() };
            app.saw(&event);
            app.tell(event);
            Ok(now)
        })
        .await??;
    let mut answer = json(&Saved { base: saved.clone() });
    if let Ok(tag) = HeaderValue::from_str(&format!("\"{saved}\"")) {
        answer.headers_mut().insert(ETAG, tag);
    }
    Ok(answer)
}

/// Lets go of what is not saved.
pub async fn discard(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer {
    app.store.forget(&id);
    app.tell(Event::Edited { id, digest: String::new(), page: String::new() });
    Ok(json(&true))
}

/// The versions before.
pub async fn versions(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer {
    Ok(json(&app.work(move |app| app.store.versions(&id)).await?))
}

/// The text of a version before.
pub async fn version(State(app): State<Arc<App>>, Path((id, name)): Path<(String, String)>) -> Answer {
    let bytes = app.work(move |app| app.store.version(&id, &name)).await?;
    let bytes = bytes.ok_or_else(|| Refused::new(StatusCode::NOT_FOUND, "this version is not kept any more"))?;
    Ok(([(CONTENT_TYPE, "text/plain; charset=utf-8")], bytes).into_response())
}
