//! The page in the browser: documents of a folder written, checked, compared and printed by people who know welding and no YAML.
//!
//! The YAML file stays the only truth. All judgement is computed by the other crates: no limit, rule or formula stands here
//! or in the browser.
//!
//! - `guard.rs`: who may ask for what; `server.rs`: connections and their limits.
//! - `folder.rs`: the documents of a folder by ids; `store.rs`: saving, history and unsaved texts; `watch.rs`: what other
//!   programs change; `edit.rs`: changes of a text, as the page asks for them; `entries.rs`: what hangs on the
//!   place of an entry.
//! - [`form`]: a document as sections, fields and choices, as values; [`typed`]: what people type, as the format has it.
//! - `app.rs`: what all requests share; `event.rs`: what pages hear of; `trouble.rs`: why nothing is served.
//! - `judge.rs`: a document judged; `listing.rs`: the documents of the folder in lines (`row.rs`); `planned.rs`: a job worked
//!   out against the folder; `differences.rs`: two revisions; `live.rs`: what a page shows of a document, `hints.rs`: in which words. `routes/`: one file for each screen.
//! - `pages.rs`: the templates of `templates/serve`.

mod app;
mod differences;
mod edit;
mod entries;
mod event;
mod folder;
pub mod form;
mod guard;
mod hints;
mod judge;
mod listing;
mod live;
mod pages;
mod planned;
mod routes;
mod row;
mod server;
mod store;
mod trouble;
pub mod typed;
mod watch;

use std::path::PathBuf;

use seamwright_model::stated::Date;

pub use server::{Running, start};
pub use trouble::ServeError;

/// What is served, and how.
#[derive(Debug, Clone)]
pub struct Options {
    /// The folder of documents.
    pub folder: PathBuf,
    /// Shop that procedures are held against.
    pub shop: Option<PathBuf>,
    /// Test records that procedures are held against.
    pub records: Vec<PathBuf>,
    /// Port of 127.0.0.1; 0 for the one that the folder had before, else a free one.
    pub port: u16,
    /// Whether nothing is written, whatever is asked.
    pub read_only: bool,
    /// Whether cards are also shown to telephones in the same network.
    pub lan: bool,
    /// Tells the day, on which dates and qualifications are judged.
    pub today: fn() -> Date,
}
