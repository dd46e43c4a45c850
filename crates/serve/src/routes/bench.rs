//! The bench: cards on a telephone in the same network. It shows and writes nothing, under an address and a token of its own.

use std::net::{IpAddr, UdpSocket};
use std::sync::Arc;

use axum::Router;
use axum::extract::{Path, Request, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, HOST, HeaderValue};
use axum::http::{Method, StatusCode, Uri};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use seamwright_page::Kind;
use seamwright_page::qr::Qr;
use serde::Serialize;

use super::answer::{Answer, Base, Refused, framed, page as answer};
use super::document::sheet_page;
use super::wanted::Wanted;
use crate::app::App;
use crate::guard::{dressed, refused, same, secret};
use crate::listing::listing;
use crate::row::Row;

/// The address and the token of the bench.
#[derive(Debug)]
pub struct Lan {
    host: String,
    token: String,
}

impl Lan {
    /// A new token for an address. Fails where the system gives no random bytes.
    pub fn new(host: String) -> std::io::Result<Self> {
        Ok(Self { host, token: secret()? })
    }

    /// The address that a telephone opens.
    pub fn address(&self) -> String {
        format!("http://{}/{}/", self.host, self.token)
    }
}

/// The address of this machine in its network; nothing is sent to find it.
pub fn own_address() -> Option<IpAddr> {
    // A datagram socket that is connected sends nothing, and says which address it would send from (RFC 5737 has the other).
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    let own = socket.local_addr().ok()?.ip();
    (!own.is_unspecified()).then_some(own)
}

/// All that is answered at the bench.
pub fn router(app: Arc<App>, lan: Arc<Lan>) -> Router {
    Router::new()
        .route("/{token}/", get(list))
        .route("/{token}/card/{id}", get(card))
        .route("/{token}/style", get(style))
        .route("/{token}/script", get(script))
        .fallback(|| async { Refused::new(StatusCode::NOT_FOUND, "there is nothing here") })
        .with_state(app)
        .layer(from_fn_with_state(lan, guarded))
}

/// Only reading, only under the own address, only with the token.
async fn guarded(State(lan): State<Arc<Lan>>, request: Request, next: Next) -> Response {
    let mut hosts = request.headers().get_all(HOST).iter();
    let host = hosts.next().filter(|_| hosts.next().is_none()).and_then(|own| own.to_str().ok());
    if host != Some(lan.host.as_str()) {
        return refused(StatusCode::MISDIRECTED_REQUEST, "this address is not the one that the program printed");
    }
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        return refused(StatusCode::METHOD_NOT_ALLOWED, "the bench only shows");
    }
    // A browser asks for it beside every page; there is none.
    if request.uri().path() == "/favicon.ico" {
        return dressed(StatusCode::NO_CONTENT.into_response());
    }
    let token = request.uri().path().split('/').nth(1).unwrap_or_default();
    if !same(token, &lan.token) {
        return refused(StatusCode::FORBIDDEN, "open the address in the code that the program shows");
    }
    let mut answer = dressed(next.run(request).await);
    // Back and forward work out of reach of the network; what is opened anew is asked for, so that no old card is welded by.
    answer.headers_mut().insert(CACHE_CONTROL, HeaderValue::from_static("private, no-cache"));
    // Browsers heed it over https and on the own machine only, and complain elsewhere.
    answer.headers_mut().remove("cross-origin-opener-policy");
    answer
}

#[derive(Serialize)]
struct Code {
    base: Base,
    /// The code as the path of a drawing of square modules.
    path: String,
    /// Modules of a side, with the quiet zone.
    side: usize,
}

/// Modules of the quiet zone around a code (ISO/IEC 18004).
const QUIET: usize = 4;

/// The page that tells a telephone where the cards are.
pub async fn shown(State(app): State<Arc<App>>) -> Answer {
    let code = Qr::from(app.bench_address().unwrap_or_default());
    let modules = app.bench_address().and_then(|_| code.modules());
    let dark = |row: &[bool], y: usize| -> String {
        let own = row.iter().enumerate().filter(|(_, dark)| **dark);
        own.map(|(x, _)| format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET)).collect()
    };
    let path = modules.into_iter().flatten().enumerate().map(|(y, row)| dark(row, y)).collect();
    let side = modules.map_or(0, Vec::len) + 2 * QUIET;
    answer(&app, "code.html", &Code { base: Base::new(&app, "Bench", "bench"), path, side })
}

#[derive(Serialize)]
struct Page {
    rows: Vec<Row>,
}

async fn list(State(app): State<Arc<App>>) -> Answer {
    let rows = app.work_on_all(|app| listing(app)).await?.unwrap_or_default();
    let mut rows: Vec<Row> =
        rows.into_iter().filter(|row| row.kind == "procedure" && row.status != "superseded").collect();
    rows.sort_by(|one, other| (&one.number, &one.file).cmp(&(&other.number, &other.file)));
    answer(&app, "bench.html", &Page { rows })
}

async fn style() -> Response {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], include_str!("../../../../templates/serve/serve.css")).into_response()
}

async fn script() -> Response {
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8")], include_str!("../../../../templates/serve/bench.js"))
        .into_response()
}

/// The saved bench card of a document, in SI or US units.
async fn card(State(app): State<Arc<App>>, Path((_, id)): Path<(String, String)>, uri: Uri) -> Answer {
    let wanted = Wanted { kind: Kind::BenchCard, ..Wanted::of(&uri) };
    let page = app
        .work(move |app| {
            // What is not saved yet is nobody's instruction.
            let below = app.folder.find(&id).ok_or_else(Refused::no_document)?;
            let bytes = crate::folder::read(&app.folder.path(&below)).map_err(|_| Refused::no_document())?;
            let text = String::from_utf8(bytes).map_err(|_| Refused::no_document())?;
            Ok::<_, Refused>(sheet_page(app, &below, &text, wanted, None))
        })
        .await??;
    Ok(framed(page))
}
