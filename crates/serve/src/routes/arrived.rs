//! Something that arrived: a PDF, a page or YAML. Does it carry its source, is it unchanged, what is found in it; a review.

use std::path::PathBuf;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::HeaderMap;
use seamwright_desk::companions::Companions;
use seamwright_desk::files::{Input, Overlay};
use seamwright_handbook::variables::Terms;
use seamwright_model::Loaded;
use seamwright_sheet::kinds;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Base, Refused, framed, json, page as answer, read as sent};
use super::document::standing;
use super::wanted::Wanted;
use crate::app::App;
use crate::differences::{Compared, compared};
use crate::judge::Judged;
use crate::listing::listing;
use crate::live::{Found, Live, live};
use crate::pages::data;

#[derive(Serialize)]
struct Taken {
    number: u64,
}

/// Takes a dropped file into memory.
pub async fn take(State(app): State<Arc<App>>, headers: HeaderMap, body: Bytes) -> Answer {
    let name = headers.get("x-file-name").and_then(|own| own.to_str().ok()).unwrap_or("arrived");
    let name = form_urlencoded::parse(format!("n={name}").as_bytes())
        .next()
        .map_or_else(String::new, |(_, value)| value.into_owned());
    if body.is_empty() {
        return Err(Refused::from("the file is empty".to_owned()));
    }
    let plain: String = name.chars().filter(|c| !c.is_control() && !matches!(c, '/' | '\\')).take(120).collect();
    let number = app.drop_in(plain, body.as_ref().into());
    Ok(json(&Taken { number }))
}

/// Looks at a dropped file as if it lay in the folder, and hands on what was found.
fn looked<T>(app: &App, number: u64, then: impl FnOnce(&str, &Judged<'_, '_>) -> T) -> Result<T, Refused> {
    let dropped = app
        .dropped(number)
        .ok_or_else(|| Refused::new(StatusCode::NOT_FOUND, "this file was let go: drop it again"))?;
    let disk = app.disk();
    let mut files = Overlay::new(&disk);
    // Its own place, so that it takes the place of no document; the shop that it names is looked for in the folder.
    let below = PathBuf::from(format!("arrived {number} {}", dropped.name));
    let path = app.folder.path(&below);
    files.put(&path, dropped.bytes.to_vec());
    let mut trouble = Vec::new();
    let companions = Companions::read(&files, &app.companions, app.appearance()).unwrap_or_else(|_| {
        trouble.push("the shop or a record that the program was started with cannot be read".to_owned());
        Companions::none(&files).keeping(&app.lately)
    });
    let (report, named) = companions.examine(Input::found(path, PathBuf::new()));
    let judged = Judged {
        app,
        files: &files,
        below: &below,
        companions: &companions,
        report: &report,
        named: &named,
        trouble: &trouble,
    };
    Ok(then(&dropped.name, &judged))
}

/// The document in a dropped file.
pub fn loaded(app: &App, number: u64) -> Result<Loaded, String> {
    looked(app, number, |_, judged| match &judged.report.result {
        Ok((loaded, _)) => Ok(loaded.clone()),
        Err(unread) => Err(unread.faults.first().map_or_else(String::new, |fault| fault.message.clone())),
    })
    .map_err(|_| "this file was let go: drop it again".to_owned())?
}

#[derive(Serialize)]
struct Page {
    base: Base,
    number: u64,
    name: String,
    /// `proved`, `source`, or `refused`.
    verdict: &'static str,
    /// The verdict in words.
    words: String,
    hint: Option<String>,
    document: String,
    title: String,
    live: Live,
    ours: Option<(String, String)>,
    compared: Option<Compared>,
    today: String,
    file: String,
    data: String,
}

/// What is shown of something that arrived: what is found alike at several runs is one finding, which is answered once.
fn answered_live(text: &str, judged: &Judged<'_, '_>) -> Live {
    let live = live(text, judged);
    let said = |own: &Found| {
        let hint = own.hint.clone().unwrap_or_default();
        (own.check, own.severity, own.message.clone(), hint, own.limit.clone(), own.source.clone())
    };
    let each = live.findings.iter().map(|own| (own.pointer.as_str(), said(own), own));
    let findings = kinds::alike(each)
        .into_iter()
        .map(|(own, pointers)| Found { place: kinds::places(&pointers, Terms::Iso), ..own.clone() })
        .collect();
    Live { findings, ..live }
}

/// The page of something that arrived.
pub async fn page(State(app): State<Arc<App>>, Path(number): Path<u64>) -> Answer {
    let page = app.work(move |app| page_of(app, number)).await??;
    answer(&app, "arrived.html", &page)
}

fn page_of(app: &App, number: u64) -> Result<Page, Refused> {
    let rows = listing(app).unwrap_or_default();
    looked(app, number, |name, judged| {
        let text = judged.report.result.as_ref().map_or_else(
            |unread| unread.source.as_ref().map_or_else(String::new, |source| source.text.to_string()),
            |(loaded, _)| loaded.source.text.to_string(),
        );
        let live = answered_live(&text, judged);
        let mut page = Page {
            base: Base::new(app, name, "folder"),
            number,
            name: name.to_owned(),
            verdict: "refused",
            words: String::new(),
            hint: None,
            document: String::new(),
            title: String::new(),
            ours: None,
            compared: None,
            today: app.today().to_string(),
            file: String::new(),
            data: data(&live),
            live,
        };
        match &judged.report.result {
            Ok((loaded, _)) => {
                let own = loaded.document.identification();
                page.document = own.number.to_string();
                page.title = own.title.to_string();
                page.file = format!("{}-received", own.number.to_lowercase().replace(['/', ' '], "-"));
                (page.verdict, page.words) = match &judged.report.received {
                    Some(received) if received.proved() => ("proved", received.words()),
                    Some(received) => {
                        page.hint = received.hint();
                        let words = [Some(received.words()), received.caveat()];
                        ("refused", words.into_iter().flatten().collect::<Vec<_>>().join("; "))
                    }
                    None => {
                        ("source", "this is a document itself: there is no sheet that could differ from it".to_owned())
                    }
                };
                let ours = rows.iter().find(|row| row.number == *own.number && row.kind == loaded.document.kind());
                if let Some(row) = ours {
                    page.ours = Some((row.id.clone(), format!("{} revision {}", row.number, row.revision)));
                    page.compared = standing(app, &row.id)
                        .ok()
                        .and_then(|own| crate::judge::loaded(&row.file, &own.text).ok())
                        .and_then(|own| compared(&own, loaded, None).ok());
                }
            }
            Err(unread) => {
                let first = unread.faults.first();
                page.words = first.map_or_else(|| "cannot be read".to_owned(), |fault| fault.message.clone());
                page.hint = first.and_then(|fault| fault.hint.clone());
            }
        }
        page
    })
}

/// The review sheet of something that arrived.
pub async fn frame(State(app): State<Arc<App>>, Path(number): Path<u64>, uri: axum::http::Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let page =
        app.work(move |app| looked(app, number, |_, judged| super::document::sheet_of(judged, wanted, None))).await??;
    Ok(framed(page))
}

/// A review as it is written on the page.
#[derive(Debug, Deserialize)]
struct Review {
    reviewer: String,
    date: String,
    disposition: String,
    #[serde(default)]
    remarks: String,
    #[serde(default)]
    replies: Vec<Reply>,
}

/// What the reviewer says of one finding.
#[derive(Debug, Deserialize)]
#[expect(clippy::struct_field_names, reason = "the keys that the page sends")]
struct Reply {
    check: String,
    pointer: String,
    disposition: String,
    #[serde(default)]
    reply: String,
}

/// The dispositions of a document.
const OF_DOCUMENT: [&str; 3] = ["accepted", "accepted with comments", "returned"];
/// The dispositions of a finding.
const OF_FINDING: [&str; 4] = ["to be corrected", "to be explained", "accepted as it is", "not relevant here"];

/// Writes a review beside the documents as a page that prints, and says where.
pub async fn review(State(app): State<Arc<App>>, Path(number): Path<u64>, body: Bytes) -> Answer {
    let review: Review = sent(&body)?;
    if review.reviewer.trim().is_empty() {
        return Err(Refused::from("a review has a reviewer: write the name".to_owned()));
    }
    if !OF_DOCUMENT.contains(&review.disposition.as_str()) {
        return Err(Refused::from(format!("the disposition is one of {}", OF_DOCUMENT.join(", "))));
    }
    if let Some(reply) = review.replies.iter().find(|own| !OF_FINDING.contains(&own.disposition.as_str())) {
        return Err(Refused::from(format!("`{}` is no disposition of a finding", reply.disposition)));
    }
    let text = app.work(move |app| looked(app, number, |name, judged| written(app, name, judged, &review))).await???;
    Ok(json(&text))
}

#[derive(Serialize)]
struct Written {
    /// The review as a page of its own.
    page: String,
    /// A name for its file.
    name: String,
}

#[derive(Serialize)]
struct ReviewPage<'a> {
    name: &'a str,
    number: String,
    revision: String,
    title: String,
    verdict: String,
    digest: String,
    reviewer: &'a str,
    date: &'a str,
    disposition: &'a str,
    remarks: &'a str,
    rows: Vec<(Found, String, String)>,
}

fn written(app: &App, name: &str, judged: &Judged<'_, '_>, review: &Review) -> Result<Written, Refused> {
    let (loaded, outcome) = judged
        .report
        .result
        .as_ref()
        .map_err(|_| Refused::from("what cannot be read cannot be reviewed".to_owned()))?;
    let own = loaded.document.identification();
    let text = loaded.source.text.to_string();
    let rows = answered_live(&text, judged)
        .findings
        .into_iter()
        .map(|finding| {
            let reply = review.replies.iter().find(|own| own.check == finding.check && own.pointer == finding.pointer);
            let (disposition, words) = reply.map_or_else(
                || ("no disposition".to_owned(), String::new()),
                |own| (own.disposition.clone(), own.reply.clone()),
            );
            (finding, disposition, words)
        })
        .collect();
    let received = judged.report.received.as_ref().map(seamwright_desk::received::Received::words);
    let proof = received.unwrap_or_else(|| "the document itself was reviewed".to_owned());
    let page = ReviewPage {
        name,
        number: own.number.to_string(),
        revision: own.revision.to_string(),
        title: own.title.to_string(),
        verdict: format!("{proof}; {} values examined", outcome.examined),
        digest: kinds::digest(&text),
        reviewer: review.reviewer.trim(),
        date: &review.date,
        disposition: &review.disposition,
        remarks: review.remarks.trim(),
        rows,
    };
    let html = app.pages.page("review.html", &page).map_err(Refused::from)?;
    Ok(Written {
        page: html,
        name: format!("review of {} rev {}.html", own.number, own.revision).replace([' ', '/'], "-"),
    })
}

#[derive(Deserialize)]
struct Keep {
    name: String,
}

#[derive(Serialize)]
struct Kept {
    id: String,
}

/// Keeps the source of something that arrived as a document of the folder.
pub async fn keep(State(app): State<Arc<App>>, Path(number): Path<u64>, body: Bytes) -> Answer {
    let keep: Keep = sent(&body)?;
    let id = app
        .work(move |app| {
            let text = looked(app, number, |_, judged| match &judged.report.result {
                Ok((loaded, _)) => Ok(loaded.source.text.to_string()),
                Err(_) => Err(Refused::from("what cannot be read cannot be kept as a document".to_owned())),
            })??;
            Ok::<_, Refused>(app.create(&app.folder.place_for(&keep.name)?, &text)?)
        })
        .await??;
    Ok(json(&Kept { id }))
}
