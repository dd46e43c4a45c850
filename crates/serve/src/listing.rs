//! The documents of the folder, each in a line; what was not changed is not checked again.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use seamwright_handbook::processes;
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;
use seamwright_weld::View;

use crate::app::App;
use crate::folder::{Listed, digest, read};
use crate::judge::judge;
use crate::row::Row;

/// The rows of the folder; what was not changed is not checked again.
pub fn listing(app: &App) -> std::io::Result<Vec<Row>> {
    let _one = app.one_listing();
    let listed = app.folder.look()?;
    let generation = app.generation();
    let unsaved = |one: &Listed| app.store.unsaved(&one.id).map(|own| digest(own.text.as_bytes()));
    let stale: Vec<&Listed> = {
        let rows = app.rows();
        let fresh = |one: &&Listed| {
            rows.get(&one.id).is_some_and(|(stamp, at, text, row)| {
                *stamp == one.stamp && *text == unsaved(one) && (*at == generation || !row.hangs_on_others)
            })
        };
        listed.iter().filter(|one| !fresh(one)).collect()
    };
    let made = rows(app, &stale);
    let mut rows = app.rows();
    for (one, row) in stale.into_iter().zip(made) {
        rows.insert(one.id.clone(), (one.stamp, generation, unsaved(one), row));
    }
    rows.retain(|id, _| listed.iter().any(|one| one.id == *id));
    Ok(listed.iter().filter_map(|one| rows.get(&one.id).map(|(_, _, _, row)| row.clone())).collect())
}

/// The shop of the folder: the one that was named, else the only one among the documents.
pub fn shop(app: &App) -> Option<(String, Box<Shop>)> {
    let disk = app.disk();
    let read = |path: &Path| seamwright_desk::companions::shop(&disk, path).ok();
    if let Some(path) = &app.companions.shop {
        return Some((path.to_string_lossy().into_owned(), read(path)?));
    }
    let rows = listing(app).ok()?;
    let mut shops = rows.iter().filter(|row| row.kind == "shop");
    let only = shops.next()?;
    if shops.next().is_some() {
        return None;
    }
    Some((only.file.clone(), read(&app.folder.path(&PathBuf::from(&only.file)))?))
}

/// The lines of documents, in their order.
fn rows(app: &App, listed: &[&Listed]) -> Vec<Row> {
    listed.par_iter().map(|one| row(app, one)).collect()
}

/// The line of a document.
fn row(app: &App, listed: &Listed) -> Row {
    let unsaved = app.store.unsaved(&listed.id);
    let mut row = Row {
        id: listed.id.clone(),
        file: listed.below.to_string_lossy().into_owned(),
        unsaved: unsaved.is_some(),
        changed: listed
            .stamp
            .changed
            .and_then(|time| jiff::Timestamp::try_from(time).ok())
            .map_or_else(String::new, |time| time.strftime("%Y-%m-%d %H:%M").to_string()),
        ..Row::default()
    };
    let text = match unsaved {
        Some(own) => own.text,
        None => match read(&app.folder.path(&listed.below)).map(String::from_utf8) {
            Ok(Ok(text)) => text,
            Ok(Err(_)) => return unreadable(row, "the file is not text in UTF-8"),
            Err(error) => return unreadable(row, &format!("cannot be read: {}", crate::folder::reason(&error))),
        },
    };
    judge(app, &listed.below, &text, |judged| {
        if let Some((loaded, _)) = judged.report.checked() {
            let identification = loaded.document.identification();
            loaded.document.kind().clone_into(&mut row.kind);
            row.number = identification.number.to_string();
            row.revision = identification.revision.to_string();
            row.title = identification.title.to_string();
            row.status = identification.status.map_or_else(String::new, |status| status.to_string());
            row.hangs_on_others =
                !judged.named.files().is_empty() || app.companions.shop.is_some() || judged.report.issued.is_some();
            if let Document::Procedure(procedure) = &loaded.document {
                describe(&mut row, procedure);
            }
        }
        if let Err(unread) = &judged.report.result {
            let first = unread.faults.first().map_or("cannot be read", |fault| fault.message.as_str());
            // What it names may come to be there.
            return Row { hangs_on_others: true, ..unreadable(row, first) };
        }
        let worst = judged.report.findings().max_by_key(|finding| finding.severity);
        worst.map_or("clean", |finding| finding.severity.as_str()).clone_into(&mut row.worst);
        row.count = worst.map_or(0, |finding| judged.report.count(finding.severity));
        row.finding = worst.map_or_else(String::new, |finding| finding.message.clone());
        row
    })
}

fn unreadable(row: Row, why: &str) -> Row {
    let title = if row.title.is_empty() { row.file.clone() } else { row.title };
    Row { worst: "unreadable".to_owned(), count: 1, finding: why.to_owned(), title, ..row }
}

/// What a procedure is looked for by.
fn describe(row: &mut Row, procedure: &Procedure) {
    let view = View::new(procedure);
    let mut words = Vec::new();
    for run in &view.runs {
        if once(&mut row.processes, run.number())
            && let Some(process) = run.process
        {
            words.push(process_words(process));
        }
    }
    for metal in &view.metals {
        once(&mut row.metals, &metal.stated.specification);
        words.push(metal.family().to_owned());
        if let Some(thickness) = metal.stated.thickness.as_ref().and_then(|stated| stated.value()) {
            once(&mut row.thicknesses, thickness.spelled());
        }
    }
    for position in &procedure.positions {
        once(&mut row.positions, position);
        if let Some(known) = seamwright_handbook::positions::get(position) {
            words.push(known.name.to_owned());
        }
    }
    if let Some(joint) = &procedure.joint {
        words.push(joint.kind.to_string());
        words.extend(joint.weld.map(|weld| weld.to_string()));
    }
    words.extend(procedure.fillers.iter().map(|(_, filler)| filler.designation.to_string()));
    row.words = words.join(" ");
}

/// The names of a process in the words of the trade.
fn process_words(process: &processes::Row) -> String {
    format!("{} {} {} {}", process.number, process.letters, process.also.join(" "), process.name)
}

fn once(all: &mut Vec<String>, text: &str) -> bool {
    let new = !text.is_empty() && !all.iter().any(|own| own == text);
    if new {
        all.push(text.to_owned());
    }
    new
}
