//! Limits for rendering, since a template of a user's own can loop or grow without end.
//!
//! The time runs out in two ways: a template that writes is stopped at its next output; one that loops without a word
//! cannot be stopped from outside, so it runs on a thread of its own that is left behind.

use std::io::{self, Write};
use std::sync::Arc;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::{Duration, Instant};

use tera::{Context, Tera};

use super::error::HtmlError;
use super::templates;

/// How long templates of a user's own may take.
pub const TIME_LIMIT: Duration = Duration::from_secs(5);
/// Most bytes of a page.
pub const PAGE_LIMIT: usize = 16 * 1024 * 1024;

/// Stack of the thread: templates may call each other 20 levels deep, the engine's own limit.
const STACK: usize = 16 * 1024 * 1024;

/// Output up to a size and a moment.
struct Bounded {
    bytes: Vec<u8>,
    deadline: Option<Instant>,
    full: bool,
    late: bool,
}

impl Write for Bounded {
    fn write(&mut self, buffer: &[u8]) -> io::Result<usize> {
        self.full = self.bytes.len() + buffer.len() > PAGE_LIMIT;
        self.late = self.deadline.is_some_and(|deadline| Instant::now() >= deadline);
        if self.full || self.late {
            return Err(io::Error::other("over a limit"));
        }
        self.bytes.extend_from_slice(buffer);
        Ok(buffer.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Renders a template, up to the greatest size of a page and the deadline.
///
/// Errors: [`HtmlError::Template`], [`HtmlError::TooLarge`], [`HtmlError::TooSlow`].
pub(super) fn render(
    tera: &Tera,
    name: &str,
    context: &Context,
    limit: Option<(Duration, Instant)>,
) -> Result<String, HtmlError> {
    let bytes = Vec::with_capacity(32 * 1024);
    let mut out = Bounded { bytes, deadline: limit.map(|(_, deadline)| deadline), full: false, late: false };
    let result = tera.render_to(name, context, &mut out);
    if let (true, Some((limit, _))) = (out.late, limit) {
        return Err(HtmlError::TooSlow { limit });
    }
    if out.full {
        return Err(HtmlError::TooLarge { limit: PAGE_LIMIT });
    }
    result.map_err(|error| templates::explain(&error))?;
    String::from_utf8(out.bytes).map_err(|_| HtmlError::Template {
        file: name.to_owned(),
        line: None,
        reason: "the page is not UTF-8 text".to_owned(),
    })
}

/// Renders a template on a thread of its own and waits no longer than `limit`. Errors: as [`render`].
pub(super) fn render_in_time(
    tera: &Arc<Tera>,
    name: &'static str,
    context: Context,
    limit: Duration,
) -> Result<String, HtmlError> {
    let failed = |reason: &str| HtmlError::Template { file: name.to_owned(), line: None, reason: reason.to_owned() };
    let (sender, receiver) = mpsc::channel();
    let deadline = Instant::now() + limit;
    let tera = Arc::clone(tera);
    thread::Builder::new()
        .name("templates".to_owned())
        .stack_size(STACK)
        .spawn(move || {
            // Nobody listens any more when the time is over.
            let _ = sender.send(render(&tera, name, &context, Some((limit, deadline))));
        })
        .map_err(|error| {
            failed(&format!(
                "what is allowed here of memory and processes does not suffice for a thread of the templates: {error}"
            ))
        })?;
    match receiver.recv_timeout(limit) {
        Ok(result) => result,
        Err(RecvTimeoutError::Timeout) => Err(HtmlError::TooSlow { limit }),
        Err(RecvTimeoutError::Disconnected) => Err(failed("the template engine broke off")),
    }
}
