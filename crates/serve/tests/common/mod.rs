//! A page that is served on a thread, and a client that speaks to it over a bare socket.
#![allow(dead_code, missing_docs, reason = "each test uses a part")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::Child;
use std::time::Duration;

use seamwright_model::stated::Date;
use seamwright_serve::{Options, start};
use serde_json::Value;

pub struct Page {
    pub folder: PathBuf,
    pub host: String,
    pub key: String,
    pub cookie: String,
    pub token: String,
    pub bench: Option<String>,
    place: Option<tempfile::TempDir>,
}

pub fn day() -> Date {
    "2026-03-01".parse().unwrap()
}

pub const PROCEDURE: &str = "format: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Lap}\n";

pub fn options(folder: &Path) -> Options {
    Options {
        folder: folder.to_owned(),
        shop: None,
        records: Vec::new(),
        port: 0,
        read_only: false,
        lan: false,
        today: day,
    }
}

/// Serves a new folder with these files.
pub fn page(files: &[(&str, &str)]) -> Page {
    page_with(files, |_| {})
}

pub fn page_with(files: &[(&str, &str)], change: impl FnOnce(&mut Options)) -> Page {
    let place = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = place.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let mut options = options(place.path());
    change(&mut options);
    let mut page = serve(&options);
    page.place = Some(place);
    page
}

pub fn serve(options: &Options) -> Page {
    let running = start(options).unwrap();
    let (address, bench) = (running.address(), running.bench_address());
    std::thread::spawn(move || running.serve());
    attach(&address, &options.folder, bench)
}

/// In a test that is run again as a program: serves the folder that a variable names, and says where; nothing where none
/// is named.
pub fn serve_named(variable: &str) {
    let Some(folder) = std::env::var_os(variable) else { return };
    let running = start(&options(Path::new(&folder))).unwrap();
    println!("{}", running.address());
    running.serve().unwrap();
}

/// Where such a program serves, as it says itself; what more it says is read and let go.
pub fn address_of(child: &mut Child) -> String {
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let address = lines.find_map(|line| line.unwrap().split_once("http://").map(|(_, own)| format!("http://{own}")));
    std::thread::spawn(move || lines.for_each(drop));
    address.expect("the program says where it serves")
}

/// A client of a page that is served at an address.
pub fn attach(address: &str, folder: &Path, bench: Option<String>) -> Page {
    let (host, key) = address.strip_prefix("http://").unwrap().split_once("/?key=").unwrap();
    let (host, key) = (host.to_owned(), key.to_owned());
    let folder = folder.to_owned();
    let mut page = Page { folder, host, key, cookie: String::new(), token: String::new(), bench, place: None };
    let answer =
        page.raw(&format!("GET /?key={} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", page.key, page.host));
    page.cookie = answer.header("set-cookie").unwrap().split(';').next().unwrap().into();
    let first = page.get("/");
    page.token = first.body.split("name=\"token\" content=\"").nth(1).unwrap().split('"').next().unwrap().into();
    page
}

#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Answer {
    pub fn header(&self, name: &str) -> Option<String> {
        self.head.lines().find_map(|line| {
            let (own, value) = line.split_once(':')?;
            own.eq_ignore_ascii_case(name).then(|| value.trim().to_owned())
        })
    }

    pub fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }
}

/// Sends bytes as they are and reads to the end.
pub fn raw(host: &str, bytes: &[u8]) -> Answer {
    let mut stream = TcpStream::connect(host).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    let _ = stream.write_all(bytes);
    let mut all = Vec::new();
    let _ = stream.read_to_end(&mut all);
    let text = String::from_utf8_lossy(&all).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
    let status = head.split(' ').nth(1).and_then(|own| own.parse().ok()).unwrap_or(0);
    let chunked = head.to_lowercase().contains("transfer-encoding: chunked");
    let body = if chunked { unchunked(body) } else { body.to_owned() };
    Answer { status, head: head.to_owned(), body }
}

fn unchunked(body: &str) -> String {
    let mut whole = String::new();
    let mut rest = body;
    while let Some((size, after)) = rest.split_once("\r\n") {
        let size = usize::from_str_radix(size.trim(), 16).unwrap_or(0);
        if size == 0 {
            break;
        }
        whole.push_str(after.get(..size).unwrap_or_default());
        rest = after.get(size + 2..).unwrap_or_default();
    }
    whole
}

impl Page {
    pub fn raw(&self, text: &str) -> Answer {
        raw(&self.host, text.as_bytes())
    }

    pub fn get(&self, path: &str) -> Answer {
        self.raw(&format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nConnection: close\r\n\r\n",
            self.host, self.cookie
        ))
    }

    pub fn post_with(&self, path: &str, body: &str, more: &str) -> Answer {
        self.raw(&format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nX-Seamwright-Token: {}\r\n{more}Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.token,
            body.len(),
            host = self.host,
        ))
    }

    pub fn post(&self, path: &str, body: &Value) -> Answer {
        self.post_with(path, &body.to_string(), "")
    }

    /// The id of a document by its file's name.
    pub fn id(&self, file: &str) -> String {
        let rows = self.get("/rows").json();
        let row =
            rows.as_array().unwrap().iter().find(|row| row["file"] == file).unwrap_or_else(|| panic!("{file}: {rows}"));
        row["id"].as_str().unwrap().to_owned()
    }

    pub fn state(&self, id: &str) -> Value {
        self.get(&format!("/d/{id}/state")).json()
    }

    /// Changes the text on the page.
    pub fn edit(&self, id: &str, ops: &Value) -> Value {
        let state = self.state(id);
        let body = serde_json::json!({"of": state["live"]["digest"], "base": state["base"], "n": 1, "ops": ops});
        let answer = self.post(&format!("/d/{id}/edit"), &body);
        assert_eq!(answer.status, 200, "{answer:?}");
        answer.json()
    }

    pub fn save(&self, id: &str, of: &str, base: &str) -> Answer {
        let body = serde_json::json!({"of": of}).to_string();
        self.post_with(&format!("/d/{id}/save"), &body, &format!("If-Match: \"{base}\"\r\n"))
    }
}
