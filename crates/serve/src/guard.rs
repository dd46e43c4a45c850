//! Who may ask for what. Everything is refused that does not come from the page that this program opened.
//!
//! A page of another name can be bound to 127.0.0.1 anew, and its requests then carry neither `Origin` nor
//! `Sec-Fetch-Site`: only the fixed `Host` stops it. A cookie goes to every port of a host, so it opens pages and never
//! writes: what writes carries a token that only our page holds.

use std::time::Duration;

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::header::{
    ALLOW, CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, COOKIE, HOST, HeaderName, HeaderValue, LOCATION,
    ORIGIN, REFERRER_POLICY, SET_COOKIE, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

/// The header that carries the token of what writes.
pub const TOKEN: &str = "x-seamwright-token";

/// Most bytes of a file that is dropped: 16 MiB.
pub const DROPPED: usize = 16 << 20;
/// Most bytes of every other body: a document as JSON, twice.
const BODY: usize = 4 << 20;
/// How long a body may take.
const BODY_TIME: Duration = Duration::from_secs(30);

/// What the pages may load: themselves, and nothing inline. A script writes HTML only through the page's own policy.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; \
     connect-src 'self'; frame-src 'self'; manifest-src 'self'; frame-ancestors 'none'; base-uri 'none'; \
     form-action 'self'; require-trusted-types-for 'script'; trusted-types seamwright";

/// What a sheet may load that is shown in a frame of the page: its own styles and pictures, no script.
pub const SHEET_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; \
     frame-ancestors 'self'; base-uri 'none'; form-action 'none'";

/// The secrets and the address of one run.
#[derive(Debug)]
pub struct Guard {
    /// `127.0.0.1:PORT`, as it is printed.
    pub host: String,
    /// In the address that is opened, once for each browser.
    pub key: String,
    /// In the cookie, which opens pages.
    cookie: String,
    /// In the page, which writes.
    pub token: String,
}

impl Guard {
    /// New secrets for an address. Fails where the system gives no random bytes.
    pub fn new(host: String) -> std::io::Result<Self> {
        Ok(Self { host, key: secret()?, cookie: secret()?, token: secret()? })
    }

    /// The address that opens the page.
    pub fn address(&self) -> String {
        format!("http://{}/?key={}", self.host, self.key)
    }

    /// Cookies are told apart by name, not by port.
    fn cookie_name(&self) -> String {
        format!("seamwright-{}", self.host.rsplit(':').next().unwrap_or_default())
    }

    /// Lets a request pass with its body read, or answers it.
    pub async fn check(&self, request: Request) -> Result<Request, Response> {
        let (parts, body) = request.into_parts();
        if only(&parts.headers, &HOST) != Some(&self.host)
            || parts.uri.authority().is_some_and(|authority| authority.as_str() != self.host)
        {
            return Err(refused(
                StatusCode::MISDIRECTED_REQUEST,
                "this address is not the one that the program printed",
            ));
        }
        let reads = matches!(parts.method, Method::GET | Method::HEAD);
        if !reads && parts.method != Method::POST {
            let mut answer = refused(StatusCode::METHOD_NOT_ALLOWED, "only GET, HEAD and POST are answered");
            answer.headers_mut().insert(ALLOW, HeaderValue::from_static("GET, HEAD, POST"));
            return Err(answer);
        }
        if reads {
            if parts.uri.path() == "/"
                && let Some(key) = query(parts.uri.query(), "key")
            {
                return Err(if same(&key, &self.key) { self.admitted() } else { not_opened() });
            }
            if !self.has_cookie(&parts.headers) {
                return Err(not_opened());
            }
        } else {
            let ours = format!("http://{}", self.host);
            if only(&parts.headers, &ORIGIN) != Some(ours.as_str()) {
                return Err(refused(StatusCode::FORBIDDEN, "this was not sent by a page of this program"));
            }
            let site = parts.headers.get("sec-fetch-site").map(HeaderValue::as_bytes);
            if site.is_some_and(|site| site != b"same-origin") {
                return Err(refused(StatusCode::FORBIDDEN, "this was sent by a page of another site"));
            }
            if !only(&parts.headers, &HeaderName::from_static(TOKEN)).is_some_and(|token| same(token, &self.token)) {
                return Err(refused(StatusCode::FORBIDDEN, "the page is of an earlier run: load it again"));
            }
        }
        let most = if parts.uri.path() == "/arrived" { DROPPED } else { BODY };
        let length =
            parts.headers.get(axum::http::header::CONTENT_LENGTH).and_then(|own| own.to_str().ok()?.parse().ok());
        let over = || {
            let words = format!("more than {} MiB were sent; a file may have {} MiB", most >> 20, most >> 20);
            refused(StatusCode::PAYLOAD_TOO_LARGE, &words)
        };
        if length.is_some_and(|length: u64| length > most as u64) {
            return Err(over());
        }
        let Ok(body) = tokio::time::timeout(BODY_TIME, to_bytes(body, most)).await else {
            return Err(refused(StatusCode::REQUEST_TIMEOUT, "what was sent did not arrive in time"));
        };
        let body = body.map_err(|_| over())?;
        Ok(Request::from_parts(parts, Body::from(body)))
    }

    fn has_cookie(&self, headers: &HeaderMap) -> bool {
        let name = self.cookie_name();
        headers
            .get_all(COOKIE)
            .iter()
            .filter_map(|own| own.to_str().ok())
            .flat_map(|own| own.split(';'))
            .any(|own| own.trim().split_once('=').is_some_and(|(own, value)| own == name && same(value, &self.cookie)))
    }

    /// Sets the cookie and goes on to the page, whose address no longer holds the key.
    fn admitted(&self) -> Response {
        let cookie = format!("{}={}; Path=/; HttpOnly; SameSite=Strict", self.cookie_name(), self.cookie);
        let mut answer = StatusCode::SEE_OTHER.into_response();
        answer.headers_mut().insert(LOCATION, HeaderValue::from_static("/"));
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            answer.headers_mut().insert(SET_COOKIE, cookie);
        }
        dressed(answer)
    }
}

/// Adds to an answer what every answer carries.
pub fn dressed(mut answer: Response) -> Response {
    let headers = answer.headers_mut();
    let mut put = |name: HeaderName, value: &'static str| {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    };
    put(CONTENT_SECURITY_POLICY, POLICY);
    put(X_CONTENT_TYPE_OPTIONS, "nosniff");
    put(REFERRER_POLICY, "no-referrer");
    put(CACHE_CONTROL, "no-store");
    put(HeaderName::from_static("cross-origin-resource-policy"), "same-origin");
    put(HeaderName::from_static("cross-origin-opener-policy"), "same-origin");
    put(HeaderName::from_static("x-frame-options"), "SAMEORIGIN");
    answer
}

/// An answer in plain words.
pub fn refused(status: StatusCode, words: &str) -> Response {
    let answer = (status, [(CONTENT_TYPE, "text/plain; charset=utf-8")], format!("{words}\n")).into_response();
    dressed(answer)
}

fn not_opened() -> Response {
    refused(
        StatusCode::FORBIDDEN,
        "This browser was not let in yet. Open the address that the program printed in its window: it ends with a key. \
         What was typed on a page of the same folder before is kept in this browser.",
    )
}

/// The one value of a header; nothing where it is missing or stands twice.
fn only<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    let mut all = headers.get_all(name).iter();
    let first = all.next()?;
    all.next().is_none().then(|| first.to_str().ok()).flatten()
}

/// The value of a name in a query.
pub fn query(query: Option<&str>, name: &str) -> Option<String> {
    let mut pairs = form_urlencoded::parse(query.unwrap_or_default().as_bytes());
    pairs.find(|(own, _)| own == name).map(|(_, value)| value.into_owned())
}

/// Compares secrets by their digests, in a time that tells nothing of where they differ.
pub fn same(one: &str, other: &str) -> bool {
    Sha256::digest(one) == Sha256::digest(other)
}

/// 256 random bits as hexadecimal digits.
pub fn secret() -> std::io::Result<String> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(|error| std::io::Error::other(error.to_string()))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}
