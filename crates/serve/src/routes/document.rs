//! A document: its form, what is found in it, its sheet, saved and not saved.

use std::path::PathBuf;
use std::sync::Arc;
use std::thread::ScopedJoinHandle;

use axum::body::Bytes;
use axum::extract::{Path, State};
use axum::http::header::{CONTENT_TYPE, ETAG, HeaderMap, HeaderValue, IF_MATCH};
use axum::http::{StatusCode, Uri};
use axum::response::IntoResponse;
use seamwright_desk::job;
use seamwright_desk::sheets::{self, SheetRequest};
use seamwright_model::Loaded;
use seamwright_model::document::{Document, KINDS};
use seamwright_page::Kind;
use seamwright_sheet::kinds::JobPaper;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::answer::{Answer, Base, Refused, framed, json, page as answer, read as sent, shown_pdf};
use super::wanted::{JobWanted, Wanted};
use crate::app::App;
use crate::edit::{self, Op};
use crate::event::Event;
use crate::folder::{digest, read, reason};
use crate::form::{self, Field, Form, Group, Section};
use crate::guard::query;
use crate::judge::{Judged, input_of, judge, judge_read};
use crate::listing::listing;
use crate::live::{Live, live};
use crate::pages::data;
use crate::planned::Planned;
use crate::store::Unsaved;

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

/// The kind of document that values are of.
fn kind_of(values: &Value) -> &str {
    values.get("document").and_then(Value::as_str).filter(|own| KINDS.contains(own)).unwrap_or("procedure")
}

fn whole(app: &App, id: &str, standing: &Standing) -> State_ {
    judge(app, &standing.below, &standing.text, |judged| {
        let (kind, values) = values(judged, &standing.text);
        let form = values.is_object().then(|| form::form(&kind, &values));
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

#[derive(Serialize)]
struct FormPage<'a> {
    form: &'a Option<Form>,
}

/// A change of a text that is not saved.
#[derive(Debug, Deserialize)]
pub struct Edit {
    /// Digest of the text that the page shows.
    of: String,
    /// Digest of the file that it was made from.
    base: String,
    /// Counts the changes of the page.
    n: u64,
    /// The page, to be told of changes of others only.
    #[serde(default)]
    page: String,
    /// What changes.
    ops: Vec<Op>,
    /// The parts of the form that the page shows, with their shapes.
    #[serde(default)]
    shape: String,
    /// The sheet that stands beside it, as a query; empty for none.
    #[serde(default)]
    sheet: String,
}

/// The answer to a change, but for the sheet.
#[derive(Serialize)]
struct Edited<'a> {
    n: u64,
    base: &'a str,
    unsaved: bool,
    text: &'a str,
    live: &'a Live,
    /// The form as HTML, where it has other sections.
    form: Option<String>,
    /// Else those of its parts as HTML in which other fields stand.
    parts: Vec<(String, String)>,
    shape: &'a str,
    /// What stands in each field now, as typed; a field that is not named is empty.
    values: Vec<(&'a str, &'a str)>,
    /// What holds where nothing is stated; of a field that is not named, nothing.
    inherited: Vec<(&'a str, &'a str)>,
    /// What was typed and is not understood: it is not in the text.
    refused: Vec<edit::NotTaken>,
}

/// Changes the text on the page; nothing is written but what is kept against a crash.
pub async fn edit(State(app): State<Arc<App>>, Path(id): Path<String>, body: Bytes) -> Answer {
    let edit: Edit = sent(&body)?;
    if app.store.read_only() {
        return Err(crate::store::NotSaved::ReadOnly.into());
    }
    let page = edit.page.clone();
    let own = id.clone();
    let (digest, answer) = app.work(move |app| edited(app, &id, &edit)).await??;
    app.tell(Event::Edited { id: own, digest, page });
    Ok(([(CONTENT_TYPE, "application/json")], answer).into_response())
}

/// The digest of the text after a change, and the answer to it.
fn edited(app: &App, id: &str, edit: &Edit) -> Result<(String, String), Refused> {
    let before = standing(app, id)?;
    let same = digest(before.text.as_bytes()) == edit.of;
    if !same && !edit.ops.iter().all(Op::is_by_place) {
        let mut refused = Refused::new(
            StatusCode::CONFLICT,
            "the document was changed in another window; this one shows it as it is now",
        );
        refused.now = Some(digest(before.text.as_bytes()));
        return Err(refused);
    }
    let name = input_of(app, &before.below).name;
    let mut changing = edit::Standing::new(&name, &before.text).parsed(app.parsed().take());
    edit.ops.iter().try_for_each(|op| changing.change(op))?;
    let not_taken = changing.not_taken();
    let (text, values, parsed, loaded) = changing.into_parts();
    *app.parsed() = parsed;
    let base = if app.store.unsaved(id).is_some() { before.base.clone() } else { edit.base.clone() };
    let unsaved = digest(text.as_bytes()) != base;
    let own = Unsaved { below: before.below.clone(), base: base.clone(), text: text.clone() };
    if unsaved {
        app.store.remember(id, own.clone());
    } else {
        app.store.forget(id);
    }
    // The disk is slower than all the rest: the text is written down meanwhile, and before it is answered.
    std::thread::scope(|scope| {
        if unsaved {
            scope.spawn(|| app.store.write_down(id, &own));
        }
        answered(app, edit, &own, unsaved, Changed { loaded, values, not_taken })
    })
}

/// What was read of a text that was changed.
struct Changed {
    loaded: Option<Loaded>,
    values: Arc<Value>,
    not_taken: Vec<edit::NotTaken>,
}

/// The answer to a change, with the digest of the text.
fn answered(
    app: &App,
    edit: &Edit,
    own: &Unsaved,
    unsaved: bool,
    Changed { loaded, values, not_taken }: Changed,
) -> Result<(String, String), Refused> {
    let Unsaved { below, base, text } = own;
    std::thread::scope(|scope| {
        // The form hangs on the values alone: it is made while these are judged.
        let form = scope.spawn(|| formed(&values, &edit.shape));
        judge_read(app, below, text, loaded, |judged| {
            let sheet = || {
                let wanted = Wanted::asked(Some(&edit.sheet));
                let page = sheet_of(judged, wanted, query(Some(&edit.sheet), "length").as_deref());
                serde_json::to_string(&page)
            };
            // The sheet takes about as long as all the rest: it is made beside it, and put in at the end.
            std::thread::scope(|scope| {
                let sheet = (!edit.sheet.is_empty()).then(|| scope.spawn(sheet));
                let live = live(text, judged);
                let (form, patch) = joined(form);
                let whole = form.is_none() || patch.whole;
                let html = whole.then(|| app.pages.page("form.html", &FormPage { form: &form })).transpose();
                let below = patch.below.iter().flat_map(|own| form::fields_of(&own.1));
                let fields: Vec<&Field> = form.iter().flat_map(form::fields).chain(below).collect();
                let answer = Edited {
                    n: edit.n,
                    base,
                    unsaved,
                    text,
                    live: &live,
                    form: html.map_err(Refused::from)?,
                    parts: patch.html(app, form.as_ref())?,
                    shape: &patch.shape,
                    values: filled(&fields, |field| &field.value),
                    inherited: filled(&fields, |field| &field.inherited),
                    refused: not_taken,
                };
                let told = |error: serde_json::Error| Refused::from(error.to_string());
                let answer = serde_json::to_string(&answer).map_err(told)?;
                let sheet = sheet.map(joined).transpose().map_err(told)?;
                Ok((live.digest, with_sheet(answer, sheet.as_deref().unwrap_or("null"))))
            })
        })
    })
}

/// An answer as JSON with the sheet beside the document put into it.
fn with_sheet(mut answer: String, sheet: &str) -> String {
    // The brace that ends the answer.
    answer.pop();
    answer.reserve(sheet.len() + 16);
    for part in [",\"sheet\":", sheet, "}"] {
        answer.push_str(part);
    }
    answer
}

/// The form of values, and what of it a page does not show yet.
fn formed(values: &Value, shown: &str) -> (Option<Form>, Patch) {
    let form = values.is_object().then(|| form::form(kind_of(values), values));
    let patch = form.as_ref().map(|form| Patch::new(form, values, shown)).unwrap_or_default();
    (form, patch)
}

fn joined<T>(thread: ScopedJoinHandle<'_, T>) -> T {
    thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
}

/// What of fields is not empty, by their places.
fn filled<'f>(fields: &[&'f Field], part: impl Fn(&'f Field) -> &'f str) -> Vec<(&'f str, &'f str)> {
    fields.iter().map(|field| (field.pointer.as_str(), part(field))).filter(|(_, own)| !own.is_empty()).collect()
}

/// What of the form that a page shows is not that of the document any more.
#[derive(Default)]
struct Patch {
    /// It has other sections.
    whole: bool,
    /// Keys of the sections in which other fields stand.
    sections: Vec<String>,
    /// What somebody opened below rows, and whether other fields stand there.
    below: Vec<(String, Vec<Group>, bool)>,
    /// The shapes now.
    shape: String,
}

impl Patch {
    fn new(form: &Form, values: &Value, shown: &str) -> Self {
        let known: Vec<(&str, &str)> = shown.split(' ').filter_map(|part| part.split_once('=')).collect();
        let (rows, known): (Vec<_>, Vec<_>) = known.into_iter().partition(|(key, _)| key.starts_with('/'));
        let mut shape = form::shapes(form);
        let now: Vec<(&str, &str)> = shape.split(' ').filter_map(|part| part.split_once('=')).collect();
        let whole = !now.iter().map(|(key, _)| key).eq(known.iter().map(|(key, _)| key));
        let other = now.iter().zip(&known).filter(|(now, known)| now != known).map(|((key, _), _)| (*key).to_owned());
        let sections: Vec<String> = if whole { Vec::new() } else { other.collect() };
        let mut below = Vec::new();
        for (row, before) in rows {
            let Some(groups) = form::below(&form.kind, values, row) else { continue };
            let own = form::shape_of(&groups);
            // With its table everything below the rows is renewed.
            let table = row.split('/').nth(1).is_some_and(|key| sections.iter().any(|own| own == key));
            below.push((row.to_owned(), groups, whole || table || own != before));
            shape.push_str(&format!(" {row}={own}"));
        }
        Self { whole, sections, below, shape }
    }

    /// The parts as HTML.
    fn html(&self, app: &App, form: Option<&Form>) -> Result<Vec<(String, String)>, Refused> {
        let mut all = Vec::new();
        for section in form.iter().flat_map(|form| &form.sections).filter(|own| self.sections.contains(&own.key)) {
            all.push((section.key.clone(), app.pages.page("section.html", &SectionPage { section })?));
        }
        for (row, groups, _) in self.below.iter().filter(|(_, _, other)| *other) {
            all.push((row.clone(), app.pages.page("below.html", &BelowPage { groups })?));
        }
        Ok(all)
    }
}

#[derive(Serialize)]
struct SectionPage<'a> {
    section: &'a Section,
}

#[derive(Serialize)]
struct BelowPage<'a> {
    groups: &'a [Group],
}

/// What else an entry of a table may state: its fields as values and as HTML, and their shape.
#[derive(Serialize)]
struct Below {
    shape: String,
    html: String,
    groups: Vec<Group>,
}

/// What stands below a row of a table, when somebody opens it.
pub async fn below(State(app): State<Arc<App>>, Path(id): Path<String>, uri: Uri) -> Answer {
    let row = query(uri.query(), "at").unwrap_or_default();
    let below = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            let gone = || Refused::new(StatusCode::NOT_FOUND, "this entry is not in the document any more");
            let values = edit::values(&standing.text).ok_or_else(gone)?;
            let groups = form::below(kind_of(&values), &values, &row).ok_or_else(gone)?;
            let html = app.pages.page("below.html", &BelowPage { groups: &groups })?;
            Ok::<_, Refused>(Below { shape: form::shape_of(&groups), html, groups })
        })
        .await??;
    Ok(json(&below))
}

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

/// The sheet of the text on the page.
pub async fn frame(State(app): State<Arc<App>>, Path(id): Path<String>, uri: Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let length = query(uri.query(), "length");
    Ok(framed(
        app.work(move |app| {
            let standing = standing(app, &id)?;
            Ok::<_, Refused>(sheet_page(app, &standing.below, &standing.text, wanted, length.as_deref()))
        })
        .await??,
    ))
}

/// The sheet of a text as a page, or why there is none, as a page.
pub fn sheet_page(app: &App, below: &std::path::Path, text: &str, wanted: Wanted, length: Option<&str>) -> String {
    judge(app, below, text, |judged| sheet_of(judged, wanted, length))
}

/// The sheet of a judged document as a page, or why there is none, as a page.
pub fn sheet_of(judged: &Judged<'_, '_>, wanted: Wanted, length: Option<&str>) -> String {
    sheet(judged, wanted, length)
        .and_then(|sheet| {
            let page = sheets::html(&judged.app.renderer()?, &sheet, wanted.paper, judged.companions.appearance());
            page.map_err(|error| error.to_string())
        })
        .unwrap_or_else(|why| no_sheet(&why))
}

/// A page in the place of a sheet that cannot be made.
pub fn no_sheet(why: &str) -> String {
    let plain = why.replace('&', "&amp;").replace('<', "&lt;");
    format!(
        "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"color-scheme\" content=\"light dark\"><title>No sheet</title>\
         <style>body{{font:1rem/1.4 system-ui,sans-serif;margin:2rem;max-width:40rem}}</style>\
         <body><main><h1>No sheet yet</h1><p>{plain}</p></main></body></html>"
    )
}

/// The sheet of the text on the page as PDF.
pub async fn pdf(State(app): State<Arc<App>>, Path(id): Path<String>, uri: Uri) -> Answer {
    let wanted = Wanted::of(&uri);
    let length = query(uri.query(), "length");
    let (bytes, name) = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            let bytes = sheet_pdf(app, &standing, wanted, length.as_deref())?;
            let stem = standing.below.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            Ok::<_, Refused>((bytes, format!("{stem}.{}", wanted.kind.name())))
        })
        .await??;
    Ok(shown_pdf(bytes, &name))
}

/// A sheet as the bytes of a PDF.
pub fn sheet_pdf(app: &App, standing: &Standing, wanted: Wanted, length: Option<&str>) -> Result<Vec<u8>, Refused> {
    judge(app, &standing.below, &standing.text, |judged| {
        if let (JobWanted::Binder, Some((loaded, _))) = (wanted.job, judged.report.result.as_ref().ok())
            && let Document::Job(job) = &loaded.document
        {
            let planned = Planned::of(judged, job);
            let (options, look) = (wanted.options, judged.companions.appearance());
            let (shop, known) = (planned.shop(), planned.known());
            return job::binder(loaded, shop, &planned.worked, &known, options, wanted.paper, look)
                .map_err(|error| Refused::from(error.to_string()));
        }
        let sheet = printed(judged, wanted, length)?;
        sheets::pdf(&sheet, wanted.paper, judged.companions.appearance())
            .map_err(|error| Refused::from(error.to_string()))
    })
}

/// A sheet that leaves the page, as blocks; none under a number that was issued with another content.
pub fn printed(
    judged: &Judged<'_, '_>,
    wanted: Wanted,
    length: Option<&str>,
) -> Result<seamwright_page::block::Sheet, String> {
    // A review is of what arrived and an estimate of what might be.
    let welds = !matches!(wanted.kind, Kind::Review | Kind::Estimate);
    match judged.report.not_printed().filter(|_| welds) {
        Some(words) => Err(words),
        None => sheet(judged, wanted, length),
    }
}

/// A sheet as blocks.
pub fn sheet(
    judged: &Judged<'_, '_>,
    wanted: Wanted,
    length: Option<&str>,
) -> Result<seamwright_page::block::Sheet, String> {
    let (loaded, outcome) = judged
        .report
        .result
        .as_ref()
        .map_err(|unread| unread.faults.first().map_or_else(String::new, |fault| fault.message.clone()))?;
    if let Document::Job(own) = &loaded.document {
        let planned = Planned::of(judged, own);
        let paper = match wanted.job {
            JobWanted::Paper(paper) => paper,
            JobWanted::Binder => JobPaper::Cover,
        };
        return job::paper(paper, loaded, planned.shop(), &planned.worked);
    }
    let length = length.map(|own| {
        let read = crate::typed::quantity("length", own, "1 m");
        read.parse().map_err(|_| format!("`{own}` is no length of weld: write it with its unit, such as `2.4 m`"))
    });
    let request = SheetRequest {
        kinds: vec![wanted.kind],
        options: wanted.options,
        paper: wanted.paper,
        length: length.transpose()?,
    };
    let mut done = judged.companions.sheets(&request, loaded, outcome, judged.named);
    match done.made.pop() {
        Some(made) => Ok(made.sheet),
        None => Err(done.failures.first().map_or_else(|| "there is no such sheet".to_owned(), ToString::to_string)),
    }
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

/// What can be picked; what the shop has stands first.
pub async fn choices(State(app): State<Arc<App>>, Path(list): Path<String>, uri: Uri) -> Answer {
    let id = query(uri.query(), "for");
    let all = app
        .work(move |app| {
            if list == "procedures" {
                return form::procedures(&listing(app).unwrap_or_default());
            }
            if matches!(list.as_str(), "machines" | "welders") {
                return form::choices(&list, crate::listing::shop(app).as_ref().map(|(_, shop)| &**shop));
            }
            let standing = id.and_then(|id| standing(app, &id).ok());
            match standing {
                Some(own) if matches!(list.as_str(), "own-fillers" | "conditions") => {
                    form::own_names(&list, &edit::values(&own.text).unwrap_or_default())
                }
                Some(own) => judge(app, &own.below, &own.text, |judged| {
                    form::choices(&list, judged.companions.shop(judged.named))
                }),
                None => form::choices(&list, None),
            }
        })
        .await?;
    Ok(json(&all))
}
