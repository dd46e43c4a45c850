//! What is answered, one file for each screen.

mod answer;
mod arrived;
pub mod bench;
mod change;
mod compare;
mod document;
mod events;
mod folder;
pub mod job;
mod new;
mod print;
mod wanted;

use std::sync::Arc;

use axum::Router;
use axum::extract::{Path, Request, State};
use axum::http::header::{CONTENT_TYPE, HeaderMap};
use axum::http::{Method, StatusCode, Uri};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Serialize;

use self::answer::{Base, Refused, framed, page};
use crate::app::App;
use crate::guard::DROPPED;
use crate::pages::FILES;

/// All that is answered to the page.
pub fn router(app: Arc<App>) -> Router {
    Router::new()
        .route("/", get(folder::page))
        .route("/rows", get(folder::rows))
        .route("/events", get(events::events))
        .route("/static/{name}", get(file))
        // A browser asks for it beside what is no page of ours, such as a PDF.
        .route("/favicon.ico", get(async || file(Path("icon.svg".to_owned())).await))
        .route("/blank", get(async || framed(document::no_sheet("It is made as soon as the facts are known."))))
        .route("/choices/{list}", get(document::choices))
        .route("/d/{id}", get(document::page))
        .route("/d/{id}/state", get(document::state))
        .route("/d/{id}/edit", post(document::edit))
        .route("/d/{id}/save", post(document::save))
        .route("/d/{id}/discard", post(document::discard))
        .route("/d/{id}/below", get(document::below))
        .route("/d/{id}/frame", get(document::frame))
        .route("/d/{id}/pdf", get(document::pdf))
        .route("/d/{id}/versions", get(document::versions))
        .route("/d/{id}/versions/{name}", get(document::version))
        .route("/d/{id}/change", get(change::page).post(change::make))
        .route("/shop", get(new::shop_page))
        .route("/bench", get(bench::shown))
        .route("/new", get(new::page))
        .route("/new/draft", post(new::draft))
        .route("/new/keep", post(new::keep))
        .route("/arrived", post(arrived::take))
        .route("/arrived/{number}", get(arrived::page))
        .route("/arrived/{number}/frame", get(arrived::frame))
        .route("/arrived/{number}/review", post(arrived::review))
        .route("/arrived/{number}/keep", post(arrived::keep))
        .route("/compare", get(compare::page))
        .route("/print", get(print::page))
        .route("/print/binder", get(print::binder))
        .route("/job", get(job::page))
        .route("/job/plan", post(job::plan))
        .fallback(nowhere)
        .layer(axum::extract::DefaultBodyLimit::max(DROPPED))
        .layer(from_fn_with_state(Arc::clone(&app), in_words))
        .with_state(app)
}

async fn nowhere(uri: Uri) -> Response {
    Refused::new(StatusCode::NOT_FOUND, format!("there is nothing at {}", uri.path())).into_response()
}

async fn file(Path(name): Path<String>) -> Response {
    match FILES.iter().find(|(own, _, _)| *own == name) {
        Some((_, kind, text)) => ([(CONTENT_TYPE, *kind)], *text).into_response(),
        None => Refused::new(StatusCode::NOT_FOUND, "there is no such file".to_owned()).into_response(),
    }
}

#[derive(Serialize)]
struct Trouble<'a> {
    base: Base,
    heading: &'a str,
    words: &'a str,
}

fn says(headers: &HeaderMap, name: &str, word: &str) -> bool {
    headers.get(name).and_then(|own| own.to_str().ok()).is_some_and(|own| own.contains(word))
}

/// Shows a refusal as a page where a person opened an address, and in the place of the sheet where a frame did.
async fn in_words(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    let opened = request.method() == Method::GET && says(request.headers(), "accept", "text/html");
    let in_frame = says(request.headers(), "sec-fetch-dest", "iframe");
    let answer = next.run(request).await;
    let Some(refused) = answer.extensions().get::<Refused>().filter(|_| opened) else { return answer };
    if in_frame {
        return framed(document::no_sheet(&refused.words));
    }
    let heading = "This cannot be shown";
    let trouble = Trouble { base: Base::new(&app, "Not shown", "folder"), heading, words: &refused.words };
    match page(&app, "trouble.html", &trouble) {
        Ok(mut told) => {
            *told.status_mut() = refused.status;
            told
        }
        Err(_) => answer,
    }
}
