//! What other programs change in the folder, told to every open page.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use crate::app::App;
use crate::event::Event;
use crate::folder::{Listed, digest, read};

/// How often the folder is looked at.
const EVERY: Duration = Duration::from_secs(1);

/// Looks at the folder from now on, on a thread of its own.
pub fn start(app: Arc<App>) {
    let run = move || {
        let mut known = seen(app.folder.look().unwrap_or_default());
        loop {
            std::thread::sleep(EVERY);
            // A folder that is gone for a moment has changed nothing.
            let Ok(now) = app.folder.look() else { continue };
            let now = seen(now);
            for event in
                changes(&known, &now, |listed| read(&app.folder.path(&listed.below)).ok().map(|bytes| digest(&bytes)))
            {
                app.saw(&event);
                app.tell(event);
            }
            known = now;
        }
    };
    // Without it the page still works, and hears of nothing.
    let _ = std::thread::Builder::new().name("watch".to_owned()).spawn(run);
}

fn seen(listed: Vec<Listed>) -> BTreeMap<String, Listed> {
    listed.into_iter().map(|one| (one.id.clone(), one)).collect()
}

/// What lies between two looks; files are read only where time or length differ.
fn changes(
    before: &BTreeMap<String, Listed>,
    now: &BTreeMap<String, Listed>,
    read: impl Fn(&Listed) -> Option<String>,
) -> Vec<Event> {
    let mut events = Vec::new();
    for (id, listed) in now {
        match before.get(id) {
            None => events.push(Event::New { id: id.clone() }),
            Some(old) if old.stamp != listed.stamp => {
                events.extend(read(listed).map(|digest| Event::Changed { id: id.clone(), digest }));
            }
            Some(_) => {}
        }
    }
    events.extend(before.keys().filter(|id| !now.contains_key(*id)).map(|id| Event::Gone { id: id.clone() }));
    events
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folder::Stamp;

    #[test]
    fn a_change_of_time_or_length_is_seen_and_nothing_else_is_read() {
        let one = |id: &str, bytes| Listed { id: id.into(), below: id.into(), stamp: Stamp { changed: None, bytes } };
        let before = seen(vec![one("a", 1), one("b", 1), one("c", 1)]);
        let now = seen(vec![one("a", 1), one("b", 2), one("d", 1)]);
        let events = changes(&before, &now, |listed| {
            assert_eq!(listed.id, "b");
            Some("new".into())
        });
        assert_eq!(
            events,
            [
                Event::Changed { id: "b".into(), digest: "new".into() },
                Event::New { id: "d".into() },
                Event::Gone { id: "c".into() }
            ]
        );
    }
}
