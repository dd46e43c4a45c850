//! What every screen answers with: values, pages, sheets and refusals.

use axum::body::Bytes;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::app::{App, TooLong};
use crate::guard::SHEET_POLICY;
use crate::store::NotSaved;

/// An answer that refuses, in words.
#[derive(Debug, Clone)]
pub struct Refused {
    /// The status of the answer.
    pub status: StatusCode,
    /// Why, in words.
    pub words: String,
    /// Digest of the text as it is now, where another change came first.
    pub now: Option<String>,
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
pub fn json(values: &impl Serialize) -> Response {
    ([(CONTENT_TYPE, "application/json")], serde_json::to_string(values).unwrap_or_default()).into_response()
}

/// What was sent, as values.
pub fn read<T: DeserializeOwned>(bytes: &Bytes) -> Result<T, Refused> {
    serde_json::from_slice(bytes)
        .map_err(|error| Refused::new(StatusCode::BAD_REQUEST, format!("what was sent cannot be read: {error}")))
}

/// A page of a template.
pub fn page(app: &App, name: &str, values: &impl Serialize) -> Answer {
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
    /// That of a page by its title, and the screen it is.
    pub fn new(app: &App, title: impl Into<String>, here: &'static str) -> Self {
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
pub fn framed(page: String) -> Response {
    let policy = (CONTENT_SECURITY_POLICY, SHEET_POLICY);
    ([(CONTENT_TYPE, "text/html; charset=utf-8"), policy], page).into_response()
}

/// A PDF that the browser shows, under a name for saving it.
pub fn shown_pdf(bytes: Vec<u8>, name: &str) -> Response {
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
