//! What all requests share.

use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::time::Duration;

use seamwright_desk::appearance::{Appearance, AppearanceFiles};
use seamwright_desk::beside::Opened;
use seamwright_desk::companions::CompanionFiles;
use seamwright_desk::files::Disk;
use seamwright_desk::job::Known;
use seamwright_model::stated::Date;
use seamwright_page::html::HtmlRenderer;
use seamwright_page::lately::Lately;
use tokio::sync::broadcast;

use crate::Options;
use crate::edit::Parsed;
use crate::event::Event;
use crate::folder::{Folder, Stamp, digest, id_of, read};
use crate::guard::Guard;
use crate::pages::Pages;
use crate::row::Row;
use crate::store::{NotSaved, Store};
use crate::trouble::ServeError;

/// How long a check or a sheet of one document may take before the page is told that it takes too long.
const PATIENCE: Duration = Duration::from_secs(5);
/// How long the sheets of many documents may take at the most.
const PATIENCE_OF_MANY: Duration = Duration::from_mins(2);
/// Most texts whose checks are remembered for jobs.
const KNOWN: usize = 4096;
/// Most files that are dropped and not kept.
const DROPPED: usize = 8;

/// A file that was dropped, kept in memory until it gets a name.
#[derive(Debug, Clone)]
pub struct Dropped {
    /// Its name, as the browser told it.
    pub name: String,
    /// What it holds.
    pub bytes: Arc<[u8]>,
}

/// The rows of a folder with what they were made from.
pub type Rows = HashMap<String, (Stamp, u64, Option<String>, Row)>;

/// What all requests share.
pub struct App {
    /// Who may ask for what.
    pub guard: Guard,
    /// The documents.
    pub folder: Folder,
    /// What lies beside them.
    pub store: Store,
    /// The templates.
    pub pages: Pages,
    /// What documents are held against.
    pub companions: CompanionFiles,
    today: fn() -> Date,
    events: broadcast::Sender<Event>,
    /// Counts what may change the judgement of other documents.
    generation: AtomicU64,
    rows: Mutex<Rows>,
    /// One listing at a time: the next finds what the last one made.
    listing: Mutex<()>,
    /// Procedures with their checks, by the digest of path and text.
    known: Mutex<HashMap<String, Option<Arc<Known>>>>,
    /// What was opened of the sheets and kept copies beside documents.
    pub opened: Arc<Opened>,
    dropped: Mutex<(u64, BTreeMap<u64, Dropped>)>,
    bench: OnceLock<Option<String>>,
    renderer: OnceLock<Result<HtmlRenderer, String>>,
    /// What was made lately of sheets.
    pub lately: Lately,
    /// The text that was changed last, as it was parsed.
    parsed: Mutex<Option<Parsed>>,
}

impl App {
    /// Opens the folder and reads what stands beside it.
    pub fn new(options: &Options, guard: Guard) -> Result<Self, ServeError> {
        let folder = Folder::open(&options.folder)
            .map_err(|reason| ServeError::Folder { folder: options.folder.clone(), reason })?;
        for file in options.shop.iter().chain(&options.records) {
            read(file).map_err(|error| {
                ServeError::Companion(format!("{}: cannot be read: {}", file.display(), crate::folder::reason(&error)))
            })?;
        }
        let store = Store::open(&folder, options.read_only);
        let pages = Pages::new().map_err(|error| ServeError::Io(std::io::Error::other(error)))?;
        Ok(Self {
            guard,
            folder,
            store,
            pages,
            companions: CompanionFiles {
                records: options.records.clone(),
                shop: options.shop.clone(),
                ..CompanionFiles::default()
            },
            today: options.today,
            events: broadcast::channel(256).0,
            generation: AtomicU64::new(0),
            rows: Mutex::default(),
            listing: Mutex::default(),
            known: Mutex::default(),
            opened: Arc::default(),
            dropped: Mutex::default(),
            bench: OnceLock::new(),
            renderer: OnceLock::new(),
            lately: Lately::default(),
            parsed: Mutex::default(),
        })
    }

    /// The files of this machine on this day.
    pub fn disk(&self) -> Disk {
        Disk::new((self.today)())
    }

    /// The day.
    pub fn today(&self) -> Date {
        (self.today)()
    }

    /// The shop's name block, colour and logo, where the folder has them; else the built-in look.
    pub fn appearance(&self) -> Appearance {
        let style = self.folder.root.join("house-style.yaml");
        let style: Option<PathBuf> = style.is_file().then_some(style);
        let read = Appearance::read(&self.disk(), &AppearanceFiles { style, ..AppearanceFiles::default() });
        let mut appearance = read.unwrap_or_default();
        appearance.lately = self.lately.clone();
        appearance
    }

    /// A renderer of sheets.
    pub fn renderer(&self) -> Result<HtmlRenderer, String> {
        self.renderer.get_or_init(|| HtmlRenderer::new().map_err(|error| error.to_string())).clone()
    }

    /// Tells every open page; a page that does not listen misses nothing that it could not ask for.
    pub fn tell(&self, event: Event) {
        let _ = self.events.send(event);
    }

    /// Hears of everything from now on.
    pub fn listen(&self) -> broadcast::Receiver<Event> {
        self.events.subscribe()
    }

    /// A document was changed: others may be judged by it.
    pub fn saw(&self, _event: &Event) {
        self.generation.fetch_add(1, Ordering::Relaxed);
    }

    /// Writes a new document, tells every open page of it, and gives its id.
    pub fn create(&self, below: &Path, text: &str) -> Result<String, NotSaved> {
        self.store.create(&self.folder, below, text)?;
        let id = id_of(below);
        let _ = self.folder.look();
        let event = Event::New { id: id.clone() };
        self.saw(&event);
        self.tell(event);
        Ok(id)
    }

    /// So often was something changed by which documents may be judged.
    pub fn generation(&self) -> u64 {
        self.generation.load(Ordering::Relaxed)
    }

    /// Held by who lists the folder: two pages that ask at once do not check it twice.
    pub fn one_listing(&self) -> MutexGuard<'_, ()> {
        self.listing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The text that was changed last, as it was parsed.
    pub fn parsed(&self) -> MutexGuard<'_, Option<Parsed>> {
        self.parsed.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What was listed before, by document.
    pub fn rows(&self) -> MutexGuard<'_, Rows> {
        self.rows.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A text as a procedure with its own checks; nothing where it is none. What was checked once is not checked again.
    pub fn known(&self, below: &Path, text: &str) -> Option<Arc<Known>> {
        let name = below.to_string_lossy();
        let key = digest(format!("{} {name} {text}", self.today()).as_bytes());
        let all = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = all().get(&key) {
            return known.clone();
        }
        let loaded = seamwright_model::load(&name, text.as_bytes()).ok();
        let known = loaded.and_then(|loaded| Known::new(loaded, self.today())).map(Arc::new);
        let mut all = all();
        if all.len() >= KNOWN {
            all.clear();
        }
        all.insert(key, known.clone());
        known
    }

    /// Keeps a dropped file in memory; the oldest goes where there are too many.
    pub fn drop_in(&self, name: String, bytes: Arc<[u8]>) -> u64 {
        let mut dropped = self.dropped.lock().unwrap_or_else(PoisonError::into_inner);
        dropped.0 += 1;
        let number = dropped.0;
        dropped.1.insert(number, Dropped { name, bytes });
        while dropped.1.len() > DROPPED {
            dropped.1.pop_first();
        }
        number
    }

    /// A dropped file.
    pub fn dropped(&self, number: u64) -> Option<Dropped> {
        self.dropped.lock().unwrap_or_else(PoisonError::into_inner).1.get(&number).cloned()
    }

    /// Says once where telephones find the cards.
    pub fn set_bench_address(&self, address: Option<String>) {
        let _ = self.bench.set(address);
    }

    /// Where telephones find the cards.
    pub fn bench_address(&self) -> Option<&str> {
        self.bench.get()?.as_deref()
    }

    /// Does work that takes time beside the thread that answers; `Err` where it panics or takes too long.
    ///
    /// A panic ends the one answer. What takes too long goes on by itself, and its answer is thrown away.
    pub async fn work<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Arc<Self>) -> T + Send + 'static,
    ) -> Result<T, TooLong> {
        self.work_on(1, work).await
    }

    /// The same on every document of the folder, for up to two minutes.
    pub async fn work_on_all<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Arc<Self>) -> T + Send + 'static,
    ) -> Result<T, TooLong> {
        self.work_on(u32::MAX, work).await
    }

    /// The same on as many documents as are counted, each of which may take as long as one alone, up to two minutes.
    pub async fn work_on<T: Send + 'static>(
        self: &Arc<Self>,
        documents: u32,
        work: impl FnOnce(&Arc<Self>) -> T + Send + 'static,
    ) -> Result<T, TooLong> {
        let patience = PATIENCE.saturating_mul(documents).min(PATIENCE_OF_MANY);
        let made = Arc::new(Mutex::new(None));
        let into = Arc::clone(&made);
        let work: Work = Box::new(move |app| {
            let own = work(app);
            *into.lock().unwrap_or_else(PoisonError::into_inner) = Some(own);
        });
        self.work_for(patience, work).await?;
        let mut made = made.lock().unwrap_or_else(PoisonError::into_inner);
        made.take().ok_or(TooLong::Broken)
    }

    /// Works beside those who are answered; compiled once for all that is worked on.
    async fn work_for(self: &Arc<Self>, patience: Duration, work: Work) -> Result<(), TooLong> {
        let app = Arc::clone(self);
        let handle = tokio::task::spawn_blocking(move || work(&app));
        match tokio::time::timeout(patience, handle).await {
            Ok(Ok(())) => Ok(()),
            Ok(Err(_)) => Err(TooLong::Broken),
            Err(_) => Err(TooLong::Late(patience)),
        }
    }
}

/// What is worked on, and where its result goes.
type Work = Box<dyn FnOnce(&Arc<App>) + Send>;

/// Why work gave nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TooLong {
    /// It took longer than this.
    Late(Duration),
    /// The program found a fault of its own.
    Broken,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day() -> Date {
        "2026-03-02".parse().unwrap()
    }

    #[test]
    fn work_that_takes_too_long_or_breaks_harms_no_other() {
        let place = tempfile::tempdir().unwrap();
        let options = Options {
            folder: place.path().to_owned(),
            shop: None,
            records: Vec::new(),
            port: 0,
            read_only: false,
            lan: false,
            today: day,
        };
        let app = Arc::new(App::new(&options, Guard::new("127.0.0.1:1".to_owned()).unwrap()).unwrap());
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(async {
            let (end, ended) = std::sync::mpsc::channel::<()>();
            let begun = std::time::Instant::now();
            let late = app.work(move |_| ended.recv().is_ok()).await;
            assert_eq!(late, Err(TooLong::Late(PATIENCE)));
            assert!(begun.elapsed() >= PATIENCE);
            // It is still at work, and others are answered.
            assert_eq!(app.work(|_| 1).await, Ok(1));
            assert_eq!(app.work(|_| -> i32 { panic!("a fault of its own") }).await, Err(TooLong::Broken));
            assert_eq!(app.work(|app| crate::listing::listing(app).map(|rows| rows.len()).ok()).await, Ok(Some(0)));
            drop(end);
        });
    }
}
