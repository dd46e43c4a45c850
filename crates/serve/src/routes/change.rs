//! The change of an issued document: why, the next revision, the old one kept as superseded, both side by side.

use std::path::PathBuf;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Path, State};
use seamwright_desk::revise::{self, Change, Raised};
use seamwright_model::issue;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Base, Refused, json, page as answer, read as sent};
use super::document::standing;
use crate::app::App;
use crate::event::Event;
use crate::folder::id_of;
use crate::judge::loaded;
use crate::store::Store;

#[derive(Serialize)]
struct Page {
    base: Base,
    id: String,
    number: String,
    title: String,
    revision: String,
    next: Option<String>,
    status: String,
    unsaved: bool,
}

/// The page of a change.
pub async fn page(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer {
    let page = app
        .work(move |app| {
            let standing = standing(app, &id)?;
            let loaded = loaded("page", &standing.text).map_err(|why| format!("mend the document first: {why}"))?;
            let own = loaded.document.identification();
            Ok::<_, Refused>(Page {
                base: Base::new(app, format!("Change {}", own.number), "folder"),
                number: own.number.to_string(),
                title: own.title.to_string(),
                revision: own.revision.to_string(),
                next: issue::next_revision(&own.revision),
                status: own.status.map_or_else(String::new, |status| status.to_string()),
                unsaved: app.store.unsaved(&id).is_some(),
                id,
            })
        })
        .await??;
    answer(&app, "change.html", &page)
}

#[derive(Debug, Deserialize)]
struct Asked {
    why: String,
    #[serde(default)]
    by: String,
}

#[derive(Serialize)]
struct Changed {
    old: String,
    new: String,
}

/// Raises the revision: nothing is written unless both files are.
pub async fn make(State(app): State<Arc<App>>, Path(id): Path<String>, body: Bytes) -> Answer {
    let change: Asked = sent(&body)?;
    if change.why.trim().is_empty() {
        return Err(Refused::from("a change has a reason: say why".to_owned()));
    }
    Ok(json(&app.work(move |app| made(app, &id, &change)).await??))
}

fn made(app: &App, id: &str, change: &Asked) -> Result<Changed, Refused> {
    if app.store.unsaved(id).is_some() {
        return Err(Refused::from("save what is on the page first, or throw it away".to_owned()));
    }
    let standing = standing(app, id)?;
    let document = loaded("page", &standing.text).map_err(|why| format!("mend the document first: {why}"))?;
    let own = document.document.identification();
    let Some(next) = issue::next_revision(&own.revision) else {
        return Err(Refused::from(format!(
            "the revision after `{}` is not plain: type it into its field",
            own.revision
        )));
    };
    let by = Some(change.by.trim()).filter(|by| !by.is_empty());
    let raised = revise::raised(&document, &Change { revision: &next, why: &change.why, by, day: app.today() });
    let Raised { text, superseded } = raised.map_err(|error| Refused::from(error.to_string()))?;
    // A file that is no issued one is not kept as one.
    let Some(superseded) = superseded else {
        return Err(Refused::from(format!(
            "the content was changed after revision {} was issued, so what was issued is not in it: take the issued text from the versions of the document first, or raise the revision with `seamwright revise`, which keeps no old text then",
            own.revision
        )));
    };
    let stem = standing.below.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let name = app.folder.place_for(&format!("{stem}-rev-{}", own.revision))?;
    let kept = standing.below.parent().map_or_else(|| name.clone(), |folder| folder.join(&name));
    app.store.create(&app.folder, &kept, &superseded)?;
    let saved = app.store.save(&app.folder, &standing.below, &text, &standing.base);
    let digest = saved.inspect_err(|_| Store::withdraw(&app.folder, &kept, &superseded))?;
    let _ = app.folder.look();
    let old = id_of(&PathBuf::from(&kept));
    for event in [Event::New { id: old.clone() }, Event::Changed { id: id.to_owned(), digest }] {
        app.saw(&event);
        app.tell(event);
    }
    Ok(Changed { old, new: id.to_owned() })
}
