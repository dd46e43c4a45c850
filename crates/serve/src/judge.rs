//! A document judged: what was found in it, and what stands beside it.

use std::path::Path;
use std::sync::Arc;

use seamwright_desk::companions::{Companions, Named};
use seamwright_desk::files::{Files, Input, Overlay};
use seamwright_desk::report::Report;
use seamwright_model::{Loaded, load};

use crate::app::App;

/// A document with all that was found in it, and what stands beside it.
pub struct Judged<'a, 'f> {
    /// What all requests share.
    pub app: &'a App,
    /// Files, and the texts over them that are not saved.
    pub files: &'a dyn Files,
    /// Its path below the folder.
    pub below: &'a Path,
    /// What it is held against.
    pub companions: &'a Companions<'f>,
    /// The document, or why it cannot be read.
    pub report: &'a Report,
    /// The documents that it names.
    pub named: &'a Named,
    /// Companions that cannot be read, in words.
    pub trouble: &'a [String],
}

/// Judges a text in the place of a document's file, among all texts that are not saved, and hands it on.
pub fn judge<T>(app: &App, below: &Path, text: &str, then: impl FnOnce(&Judged<'_, '_>) -> T) -> T {
    judge_read(app, below, text, None, then)
}

/// The same of a text that was read as a document already.
pub fn judge_read<T>(
    app: &App,
    below: &Path,
    text: &str,
    loaded: Option<Loaded>,
    then: impl FnOnce(&Judged<'_, '_>) -> T,
) -> T {
    let disk = app.disk();
    let mut files = Overlay::new(&disk);
    for unsaved in app.store.all_unsaved() {
        files.put(&app.folder.path(&unsaved.below), unsaved.text);
    }
    let input = input_of(app, below);
    match loaded {
        Some(loaded) => files.put_read(&input.path, loaded),
        None => files.put(&input.path, text),
    }
    let mut trouble = Vec::new();
    let companions = Companions::read(&files, &app.companions, app.appearance()).unwrap_or_else(|failed| {
        trouble.extend(failed.iter().map(words));
        Companions::none(&files).keeping(&app.lately)
    });
    let companions = companions.remembering(Arc::clone(&app.opened));
    let (report, named) = companions.examine(input);
    let answer = then(&Judged {
        app,
        files: &files,
        below,
        companions: &companions,
        report: &report,
        named: &named,
        trouble: &trouble,
    });
    // What was found in a long document takes milliseconds to give back, which nobody waits for.
    if report.checked().is_some_and(|(_, outcome)| outcome.comparisons.len() > LONG) {
        let _ = std::thread::Builder::new().spawn(move || drop(report));
    }
    answer
}

/// So many comparisons are many.
const LONG: usize = 500;

/// A document of the folder, as the core reads it.
pub fn input_of(app: &App, below: &Path) -> Input {
    Input::found(app.folder.path(below), below.with_extension(""))
}

/// Why a file gives nothing, in a line.
fn words(report: &Report) -> String {
    let first = report.result.as_ref().err().and_then(|unread| unread.faults.first());
    format!("{}: {}", report.input.name, first.map_or("cannot be read", |fault| fault.message.as_str()))
}

/// A text as a document, without what stands beside it.
pub fn loaded(name: &str, text: &str) -> Result<Loaded, String> {
    load(name, text.as_bytes())
        .map_err(|(_, faults)| faults.into_iter().next().map_or_else(String::new, |fault| fault.message))
}
