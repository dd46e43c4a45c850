//! What is typed into a document, opened in it and picked for it: its text changed, and what the page then shows.

use std::sync::Arc;
use std::thread::ScopedJoinHandle;

use axum::body::Bytes;
use axum::extract::{Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{StatusCode, Uri};
use axum::response::IntoResponse;
use seamwright_model::Loaded;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::sheet::sheet_of;
use super::standing::{FormPage, kind_of, show_words, standing};
use crate::app::App;
use crate::edit::{self, Op};
use crate::entries::Moved;
use crate::event::Event;
use crate::folder::digest;
use crate::form::{self, Field, Form, Group, Section};
use crate::guard::query;
use crate::judge::{input_of, judge, judge_read};
use crate::listing::listing;
use crate::live::{Live, live};
use crate::routes::answer::{Answer, Refused, json, read as sent};
use crate::routes::wanted::Wanted;
use crate::store::Unsaved;

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
    /// Entries that are at other places now, in the order in which they went there.
    moved: Vec<Moved>,
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
    let (not_taken, moved) = (changing.not_taken(), changing.moved());
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
        answered(app, edit, &own, unsaved, Changed { loaded, values, not_taken, moved })
    })
}

/// What was read of a text that was changed.
struct Changed {
    loaded: Option<Loaded>,
    values: Arc<Value>,
    not_taken: Vec<edit::NotTaken>,
    moved: Vec<Moved>,
}

/// The answer to a change, with the digest of the text.
fn answered(
    app: &App,
    edit: &Edit,
    own: &Unsaved,
    unsaved: bool,
    Changed { loaded, values, not_taken, moved }: Changed,
) -> Result<(String, String), Refused> {
    let Unsaved { below, base, text } = own;
    std::thread::scope(|scope| {
        // The form hangs on the values alone: it is made while these are judged.
        let form = scope.spawn(|| formed(&values, &edit.shape));
        judge_read(app, below, text, loaded, |judged| {
            let sheet = || {
                let wanted = Wanted::asked(Some(&edit.sheet));
                let page = sheet_of(judged, wanted, query(Some(&edit.sheet), "length").as_deref());
                Value::String(page).to_string()
            };
            // The sheet takes about as long as all the rest: it is made beside it, and put in at the end.
            std::thread::scope(|scope| {
                let sheet = (!edit.sheet.is_empty()).then(|| scope.spawn(sheet));
                let live = live(text, judged);
                let (mut form, patch) = joined(form);
                show_words(form.as_mut(), judged);
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
                    moved,
                };
                let told = |error: serde_json::Error| Refused::from(error.to_string());
                let answer = serde_json::to_string(&answer).map_err(told)?;
                let sheet = sheet.map(joined);
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
