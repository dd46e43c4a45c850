//! What is answered, one file for each screen.

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

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::{Path, Request, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderMap, HeaderValue};
use axum::http::{Method, StatusCode, Uri};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use seamwright_handbook::variables::Terms;
use seamwright_model::quantity::UnitSystem;
use seamwright_sheet::kinds::{JobPaper, Kind, SheetOptions};
use seamwright_sheet::pdf::Paper;
use seamwright_sheet::words::Language;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::app::{App, TooLong};
use crate::guard::{DROPPED, SHEET_POLICY, query};
use crate::pages::FILES;
use crate::store::NotSaved;

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

/// An answer that refuses, in words.
#[derive(Debug, Clone)]
pub struct Refused {
    status: StatusCode,
    words: String,
    now: Option<String>,
}

impl Refused {
    /// A refusal.
    pub fn new(status: StatusCode, words: impl Into<String>) -> Self {
        Self { status, words: words.into(), now: None }
    }

    /// There is no such document.
    pub fn no_document() -> Self {
        Self::new(StatusCode::NOT_FOUND, "this document is not in the folder any more")
    }
}

#[derive(Serialize)]
struct Told<'a> {
    error: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    now: Option<&'a str>,
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let told = Told { error: &self.words, now: self.now.as_deref() };
        let text = serde_json::to_string(&told).unwrap_or_default();
        let mut answer = (self.status, [(CONTENT_TYPE, "application/json")], text).into_response();
        answer.extensions_mut().insert(self);
        answer
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

impl From<TooLong> for Refused {
    fn from(late: TooLong) -> Self {
        match late {
            TooLong::Late(patience) => Self::new(
                StatusCode::SERVICE_UNAVAILABLE,
                format!(
                    "this takes more than {} s: a document is very long, or there are many at once",
                    patience.as_secs()
                ),
            ),
            TooLong::Broken => Self::new(
                StatusCode::INTERNAL_SERVER_ERROR,
                "the program found a fault of its own; nothing was changed",
            ),
        }
    }
}

impl From<NotSaved> for Refused {
    fn from(why: NotSaved) -> Self {
        match why {
            NotSaved::ReadOnly => Self::new(StatusCode::FORBIDDEN, "this folder is open for reading only"),
            NotSaved::Changed(now) => Self {
                status: StatusCode::PRECONDITION_FAILED,
                words: if now.is_some() {
                    "another program changed the file meanwhile".to_owned()
                } else {
                    "another program took the file away meanwhile".to_owned()
                },
                now: Some(now.unwrap_or_default()),
            },
            NotSaved::Failed(words) => Self::new(StatusCode::INSUFFICIENT_STORAGE, format!("not saved: {words}")),
        }
    }
}

impl From<String> for Refused {
    fn from(words: String) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, words)
    }
}

/// What is answered, or a refusal.
pub type Answer = Result<Response, Refused>;

/// Values as JSON.
fn json(values: &impl Serialize) -> Response {
    ([(CONTENT_TYPE, "application/json")], serde_json::to_string(values).unwrap_or_default()).into_response()
}

/// What was sent, as values.
fn read<T: DeserializeOwned>(bytes: &Bytes) -> Result<T, Refused> {
    serde_json::from_slice(bytes)
        .map_err(|error| Refused::new(StatusCode::BAD_REQUEST, format!("what was sent cannot be read: {error}")))
}

/// A page of a template.
fn page(app: &App, name: &str, values: &impl Serialize) -> Answer {
    let text = app.pages.page(name, values).map_err(|error| Refused::new(StatusCode::INTERNAL_SERVER_ERROR, error))?;
    Ok(([(CONTENT_TYPE, "text/html; charset=utf-8")], text).into_response())
}

/// What every page shows.
#[derive(Debug, Clone, Serialize)]
pub struct Base {
    token: String,
    title: String,
    folder: String,
    here: &'static str,
    read_only: bool,
    bench: Option<String>,
    version: &'static str,
}

impl Base {
    fn new(app: &App, title: impl Into<String>, here: &'static str) -> Self {
        Self {
            token: app.guard.token.clone(),
            title: title.into(),
            folder: app.folder.root.to_string_lossy().into_owned(),
            here,
            read_only: app.store.read_only(),
            bench: app.bench_address().map(str::to_owned),
            version: env!("CARGO_PKG_VERSION"),
        }
    }
}

/// A sheet for a frame of the page: it may load its own styles and nothing else.
fn framed(page: String) -> Response {
    let policy = (CONTENT_SECURITY_POLICY, SHEET_POLICY);
    ([(CONTENT_TYPE, "text/html; charset=utf-8"), policy], page).into_response()
}

/// A PDF that the browser shows, under a name for saving it.
fn shown_pdf(bytes: Vec<u8>, name: &str) -> Response {
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_') { c } else { '-' }).collect();
    let mut answer = ([(CONTENT_TYPE, "application/pdf")], bytes).into_response();
    if let Ok(value) = HeaderValue::from_str(&format!("inline; filename=\"{plain}.pdf\"")) {
        answer.headers_mut().insert(CONTENT_DISPOSITION, value);
    }
    // The browser's own reader of PDF needs styles and pictures of its own.
    answer.headers_mut().insert(
        CONTENT_SECURITY_POLICY,
        HeaderValue::from_static("default-src 'self' 'unsafe-inline' data: blob:; frame-ancestors 'self'"),
    );
    answer
}

/// How a sheet is wanted, from the query of its address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    kind: Kind,
    options: SheetOptions,
    paper: Paper,
    job: JobWanted,
}

/// What of a job is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JobWanted {
    /// One of its papers.
    Paper(JobPaper),
    /// Cover, traveller and cards in one.
    Binder,
}

impl Wanted {
    fn of(uri: &Uri) -> Self {
        Self::asked(uri.query())
    }

    fn asked(asked: Option<&str>) -> Self {
        let ask = |name: &str| query(asked, name).unwrap_or_default();
        let kind = ask("kind");
        let known = Kind::ALL.into_iter().find(|own| own.name() == kind).unwrap_or_default();
        let language = ask("language").parse().unwrap_or_default();
        Self {
            kind: known,
            options: SheetOptions {
                units: match ask("units").as_str() {
                    "us" => UnitSystem::Us,
                    "both" => UnitSystem::Both,
                    _ => UnitSystem::Si,
                },
                terms: if ask("terms") == "aws" { Terms::Aws } else { Terms::Iso },
                annex: ask("annex") == "yes",
                // A kind that a language has not stays in English, as the page says.
                language: if known.languages().contains(&language) { language } else { Language::En },
                ..SheetOptions::default()
            },
            paper: if ask("paper") == "letter" { Paper::Letter } else { Paper::A4 },
            job: if kind == "binder" {
                JobWanted::Binder
            } else {
                JobWanted::Paper(JobPaper::ALL.into_iter().find(|own| own.name() == kind).unwrap_or(JobPaper::Office))
            },
        }
    }
}
