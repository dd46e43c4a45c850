//! Values set, put in, moved and taken out by JSON pointer on the author's text: comments and order stay.
//!
//! Each edit is proved by reading the result again: it holds the values that are meant, and every comment that stood there.

use seamwright_model::load::tree;
use seamwright_model::source::{Node, NodeKind};
use serde_json::Value;

/// Why a text is not edited here, in words.
type Edited = Result<String, String>;

/// Sets the value at a pointer, where it is or under a new key of a section that is there.
///
/// `order` lists the keys of the section in the order in which new ones go.
pub fn set(text: &str, at: &str, value: &Value, order: &[String]) -> Edited {
    let root = read(text)?;
    let (above, key) = parted(at)?;
    let parent = root.at(above).ok_or_else(|| gone(above))?;
    let flow = opens(text, parent);
    let edited = match &parent.kind {
        NodeKind::Map(entries) => match entries.iter().position(|entry| entry.key == key) {
            Some(place) => {
                let entry = &entries[place];
                replaced(text, entry.key_span.end, &entry.value, value)
            }
            None if flow => {
                let item = format!("{}: {}", name(&key), shown(value));
                put_in_flow(text, parent, entries.iter().map(|entry| &entry.value).last(), &item)
            }
            None => {
                let rank = |key: &str| order.iter().position(|own| own == key);
                let before = entries.iter().rposition(|entry| rank(&entry.key) < rank(&key) || rank(&key).is_none());
                let first = entries.first().ok_or("an empty section is filled in the text")?;
                let indent = " ".repeat(first.key_span.column - 1);
                let line = format!("{}: {}", name(&key), shown(value));
                match before {
                    Some(place) => after_line(text, entries[place].value.span.end, &format!("{indent}{line}")),
                    // Before the first key, which may stand after the dash of a list.
                    None => spliced(
                        text,
                        first.key_span.start,
                        first.key_span.start,
                        &format!("{line}{}{indent}", ending(text)),
                    ),
                }
            }
        },
        NodeKind::List(items) => {
            let place: usize = key.parse().map_err(|_| gone(at))?;
            let item = items.get(place).ok_or_else(|| gone(at))?;
            spliced(text, item.span.start, item.span.end, &shown(value))
        }
        NodeKind::Scalar(_) => return Err(gone(at)),
    };
    let mut meant = root.to_value();
    match meant.pointer_mut(above) {
        Some(Value::Object(map)) => {
            map.insert(key, value.clone());
        }
        Some(Value::Array(all)) => {
            if let Some(own) = key.parse::<usize>().ok().and_then(|place| all.get_mut(place)) {
                *own = value.clone();
            }
        }
        _ => return Err(gone(at)),
    }
    proved(text, edited, &meant, true)
}

/// Puts a value into a list, before the entry that stands at an index or at its end.
pub fn insert(text: &str, list: &str, index: usize, value: &Value) -> Edited {
    let root = read(text)?;
    let node = root.at(list).ok_or_else(|| gone(list))?;
    let NodeKind::List(items) = &node.kind else { return Err(gone(list)) };
    let index = index.min(items.len());
    let edited = if opens(text, node) {
        match items.get(index) {
            Some(next) => spliced(text, next.span.start, next.span.start, &format!("{}, ", shown(value))),
            None => put_in_flow(text, node, items.last(), &shown(value)),
        }
    } else {
        let dash = items.first().and_then(|first| dash(text, first)).ok_or("this list is filled in the text")?;
        let indent = " ".repeat(dash - line_start(text, dash));
        let line = format!("{indent}- {}", shown(value));
        match items.get(index) {
            Some(next) => {
                let start = line_start(text, next.span.start);
                spliced(text, start, start, &format!("{line}{}", ending(text)))
            }
            None => after_line(text, items.last().map_or(node.span.end, |last| last.span.end), &line),
        }
    };
    let mut meant = root.to_value();
    if let Some(Value::Array(all)) = meant.pointer_mut(list) {
        all.insert(index, value.clone());
    }
    proved(text, edited, &meant, true)
}

/// Takes the value at a pointer out, with its key or its dash.
pub fn remove(text: &str, at: &str) -> Edited {
    let root = read(text)?;
    let (above, key) = parted(at)?;
    let parent = root.at(above).ok_or_else(|| gone(above))?;
    // Where each entry starts and ends, and the one that goes.
    let (spans, place): (Vec<(usize, usize)>, usize) = match &parent.kind {
        NodeKind::Map(entries) => (
            entries.iter().map(|entry| (entry.key_span.start, entry.value.span.end.max(entry.key_span.end))).collect(),
            entries.iter().position(|entry| entry.key == key).ok_or_else(|| gone(at))?,
        ),
        NodeKind::List(items) => {
            let start = |item: &Node| if opens(text, parent) { Some(item.span.start) } else { dash(text, item) };
            let spans: Option<Vec<_>> = items.iter().map(|item| Some((start(item)?, item.span.end))).collect();
            (spans.ok_or("this list is changed in the text")?, key.parse().map_err(|_| gone(at))?)
        }
        NodeKind::Scalar(_) => return Err(gone(at)),
    };
    let &(start, end) = spans.get(place).ok_or_else(|| gone(at))?;
    let next = spans.get(place + 1).map(|own| own.0);
    let before = place.checked_sub(1).and_then(|own| spans.get(own)).map(|own| own.1);
    let edited = if opens(text, parent) {
        match (next, before) {
            (Some(next), _) => spliced(text, start, next, ""),
            (None, Some(before)) => spliced(text, before, end, ""),
            (None, None) => spliced(text, start, end, ""),
        }
    } else {
        let line = line_start(text, start);
        let alone = text.get(line..start).is_some_and(|lead| lead.trim().is_empty());
        match next {
            // The first key after a dash gives its place to the next one.
            Some(next) if !alone => spliced(text, start, next, ""),
            None if !alone && spans.len() == 1 => return Err("the last value of a section goes with it".to_owned()),
            _ => spliced(text, line, line_end(text, end), ""),
        }
    };
    let mut meant = root.to_value();
    match meant.pointer_mut(above) {
        Some(Value::Object(map)) => {
            map.shift_remove(&key);
        }
        Some(Value::Array(all)) => {
            all.remove(place);
        }
        _ => {}
    }
    proved(text, edited, &meant, false)
}

/// Moves an entry of a list to another place.
pub fn move_entry(text: &str, list: &str, from: usize, to: usize) -> Edited {
    let root = read(text)?;
    let node = root.at(list).ok_or_else(|| gone(list))?;
    let NodeKind::List(items) = &node.kind else { return Err(gone(list)) };
    let (Some(item), true) = (items.get(from), to < items.len()) else { return Err(gone(list)) };
    let mut meant = root.to_value();
    if let Some(Value::Array(all)) = meant.pointer_mut(list) {
        let own = all.remove(from);
        all.insert(to, own);
    }
    let mut parts: Vec<&str> = Vec::new();
    let block = !opens(text, node);
    let bounds = |item: &Node| {
        if block {
            (line_start(text, item.span.start), line_end(text, item.span.end))
        } else {
            (item.span.start, item.span.end)
        }
    };
    for item in items {
        let (start, end) = bounds(item);
        parts.push(text.get(start..end).unwrap_or_default());
    }
    let _ = item;
    let own = parts.remove(from);
    parts.insert(to, own);
    let mut edited = String::with_capacity(text.len());
    let mut done = 0;
    for (item, part) in items.iter().zip(parts) {
        let (start, end) = bounds(item);
        edited.push_str(text.get(done..start).unwrap_or_default());
        edited.push_str(part);
        if block && !part.ends_with('\n') {
            edited.push_str(ending(text));
        }
        done = end;
    }
    edited.push_str(text.get(done..).unwrap_or_default());
    proved(text, edited, &meant, false)
}

fn read(text: &str) -> Result<Node, String> {
    tree(text).map_err(|faults| faults.into_iter().next().map_or_else(String::new, |fault| fault.message))
}

fn gone(at: &str) -> String {
    format!("there is nothing at {at} any more")
}

fn parted(at: &str) -> Result<(&str, String), String> {
    let (above, key) = at.rsplit_once('/').ok_or_else(|| gone(at))?;
    Ok((above, key.replace("~1", "/").replace("~0", "~")))
}

/// Whether a section stands in brackets.
fn opens(text: &str, node: &Node) -> bool {
    !matches!(node.kind, NodeKind::Scalar(_))
        && text.get(node.span.start..).is_some_and(|rest| rest.starts_with(['{', '[']))
}

/// The dash of an entry of a list in lines.
fn dash(text: &str, item: &Node) -> Option<usize> {
    let start = line_start(text, item.span.start);
    let lead = text.get(start..item.span.start)?;
    // Nested dashes are told apart by nothing here.
    (lead.trim() == "-").then(|| start + lead.find('-').unwrap_or(0))
}

fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |own| own + 1)
}

/// One past the end of the line, its break included.
fn line_end(text: &str, at: usize) -> usize {
    text.get(at..).and_then(|rest| rest.find('\n')).map_or(text.len(), |own| at + own + 1)
}

fn ending(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

fn spliced(text: &str, start: usize, end: usize, put: &str) -> String {
    [text.get(..start).unwrap_or_default(), put, text.get(end..).unwrap_or_default()].concat()
}

/// A line after the one in which a value ends.
fn after_line(text: &str, at: usize, line: &str) -> String {
    let end = line_end(text, at);
    let broken = text.get(..end).is_some_and(|before| before.ends_with('\n'));
    let put = if broken { format!("{line}{}", ending(text)) } else { format!("{}{line}", ending(text)) };
    spliced(text, end, end, &put)
}

/// An item at the end of a section in brackets.
fn put_in_flow(text: &str, node: &Node, last: Option<&Node>, item: &str) -> String {
    match last {
        Some(last) => spliced(text, last.span.end, last.span.end, &format!(", {item}")),
        None => spliced(text, node.span.start + 1, node.span.start + 1, item),
    }
}

/// A value in the place of another; one in lines gives way to one in brackets.
fn replaced(text: &str, key_end: usize, old: &Node, value: &Value) -> String {
    let block = !matches!(old.kind, NodeKind::Scalar(_)) && !opens(text, old);
    // A key that is quoted ends before its colon, too.
    let colon = text.get(key_end..).and_then(|rest| rest.find(':')).map_or(key_end, |own| key_end + own + 1);
    if block || old.span.start < colon {
        return spliced(text, colon, old.span.end.max(colon), &format!(" {}", shown(value)));
    }
    let quoted = text.get(old.span.start..).is_some_and(|rest| rest.starts_with('"'));
    let put = match value {
        Value::String(own) if quoted => serde_json::to_string(own).unwrap_or_default(),
        other => shown(other),
    };
    spliced(text, old.span.start, old.span.end, &put)
}

/// A value as it is written: in brackets, on one line.
fn shown(value: &Value) -> String {
    match value {
        Value::Array(all) => format!("[{}]", all.iter().map(shown).collect::<Vec<_>>().join(", ")),
        Value::Object(map) => {
            let parts: Vec<String> =
                map.iter().map(|(key, value)| format!("{}: {}", name(key), shown(value))).collect();
            format!("{{{}}}", parts.join(", "))
        }
        Value::String(text) => name_or_text(text),
        other => other.to_string(),
    }
}

fn name(key: &str) -> String {
    if !key.is_empty()
        && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'))
        && !key.starts_with('-')
    {
        key.to_owned()
    } else {
        name_or_text(key)
    }
}

/// Text, in quotes where it would mean something else without.
fn name_or_text(text: &str) -> String {
    let first = text.chars().next();
    let plain = first.is_some_and(|c| c.is_alphanumeric() || matches!(c, '°' | '/' | '('))
        && !text.ends_with(char::is_whitespace)
        && !text
            .chars()
            .any(|c| c.is_control() || matches!(c, ',' | '[' | ']' | '{' | '}' | ':' | '#' | '"' | '\'' | '\\'))
        && tree(text).is_ok_and(|node| node.to_value() == Value::from(text));
    if plain { text.to_owned() } else { serde_json::to_string(text).unwrap_or_default() }
}

/// The edited text, if it holds what is meant and every comment that stood there.
fn proved(before: &str, after: String, meant: &Value, comments_stay: bool) -> Edited {
    let refused = || "this cannot be changed here without losing something beside it: change it in the text".to_owned();
    let now = read(&after).map_err(|_| refused())?;
    if now.to_value() != *meant || (comments_stay && comments(before) != comments(&after)) {
        return Err(refused());
    }
    Ok(after)
}

/// The comments of a text, in their order.
fn comments(text: &str) -> Vec<&str> {
    text.lines()
        .filter_map(|line| {
            let mut quote = None;
            let mut before = ' ';
            for (at, character) in line.char_indices() {
                match quote {
                    Some(own) if character == own && before != '\\' => quote = None,
                    Some(_) => {}
                    None if character == '#' && before.is_whitespace() => return line.get(at..),
                    // An apostrophe inside a word opens nothing.
                    None if matches!(character, '"' | '\'') && !before.is_alphanumeric() => quote = Some(character),
                    None => {}
                }
                before = character;
            }
            None
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const TEXT: &str = "# head\nformat: 1\nidentification: {number: P-1, revision: 1, title: \"Lap, 2 mm\"} # who\nparent_metals:\n  - {specification: S235JR, thickness: 2 mm} # plate\n  # the other\n  - specification: 304L\n    thickness: 3 mm\npositions: [PB]\nruns:\n  - {run: 1, process: 141}\n";

    #[test]
    fn values_are_set_where_they_stand_and_the_rest_stays() {
        for (at, value, line) in [
            ("/parent_metals/0/thickness", json!("3 mm"), "  - {specification: S235JR, thickness: 3 mm} # plate"),
            ("/parent_metals/1/thickness", json!("1/8 in"), "    thickness: 1/8 in"),
            ("/identification/title", json!("Tee"), "identification: {number: P-1, revision: 1, title: \"Tee\"} # who"),
            (
                "/identification/date",
                json!("2026-03-01"),
                "identification: {number: P-1, revision: 1, title: \"Lap, 2 mm\", date: 2026-03-01} # who",
            ),
            ("/positions", json!(["PB", "PF"]), "positions: [PB, PF]"),
            ("/runs/0/current", json!("70-90 A"), "  - {run: 1, process: 141, current: 70-90 A}"),
            ("/parent_metals/1/form", json!("pipe: thin, #1"), "    form: \"pipe: thin, #1\""),
        ] {
            let after = set(TEXT, at, &value, &[]).unwrap();
            assert!(after.lines().any(|own| own == line), "{at}: {after}");
            let changed = after.lines().filter(|own| !TEXT.lines().any(|old| old == *own)).count();
            assert_eq!(changed, 1, "{at}");
            let windows = TEXT.replace('\n', "\r\n");
            let after = set(&windows, at, &value, &[]).unwrap();
            assert_eq!(after.matches('\n').count(), after.matches("\r\n").count());
            let cut = TEXT.trim_end();
            set(cut, at, &value, &[]).unwrap();
        }
    }

    #[test]
    fn a_new_section_goes_where_the_order_has_it() {
        let order: Vec<String> =
            ["format", "identification", "parent_metals", "joint", "positions", "runs"].map(str::to_owned).into();
        let after = set(TEXT, "/joint", &json!({"type": "lap"}), &order).unwrap();
        assert!(after.contains("    thickness: 3 mm\njoint: {type: lap}\npositions"), "{after}");
    }

    #[test]
    fn entries_are_put_in_taken_out_and_moved() {
        let after = insert(TEXT, "/runs", 1, &json!({"run": 2, "process": 141})).unwrap();
        assert!(after.ends_with("  - {run: 1, process: 141}\n  - {run: 2, process: 141}\n"));
        let moved = move_entry(&after, "/runs", 0, 1).unwrap();
        assert!(moved.ends_with("  - {run: 2, process: 141}\n  - {run: 1, process: 141}\n"));
        let removed = remove(&after, "/runs/0").unwrap();
        assert!(removed.ends_with("runs:\n  - {run: 2, process: 141}\n"));
        let removed = remove(TEXT, "/parent_metals/1/specification").unwrap();
        assert!(removed.contains("  - thickness: 3 mm\n"), "{removed}");
        let removed = remove(TEXT, "/identification/revision").unwrap();
        assert!(removed.contains("{number: P-1, title: \"Lap, 2 mm\"} # who"));
        assert!(insert(TEXT, "/positions", 0, &json!("PA")).unwrap().contains("positions: [PA, PB]"));
        assert!(insert(TEXT, "/positions", 1, &json!("PF")).unwrap().contains("positions: [PB, PF]"));
    }

    #[test]
    fn every_value_of_every_procedure_is_set_and_only_its_line_changes() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../procedures");
        let mut edits = 0;
        for file in std::fs::read_dir(folder).unwrap() {
            let text = std::fs::read_to_string(file.unwrap().path()).unwrap();
            let mut places = Vec::new();
            leaves(&tree(&text).unwrap().to_value(), String::new(), &mut places);
            for at in places {
                let after = set(&text, &at, &json!("12: 3 # x"), &[]).unwrap();
                let changed = after.lines().zip(text.lines()).filter(|(one, other)| one != other).count();
                assert!(changed == 1 && after.lines().count() == text.lines().count(), "{at}");
                edits += 1;
            }
        }
        assert!(edits > 1000);
    }

    fn leaves(value: &Value, at: String, all: &mut Vec<String>) {
        match value {
            Value::Object(map) => map.iter().for_each(|(key, own)| {
                leaves(own, format!("{at}/{}", seamwright_model::source::escape(key)), all);
            }),
            Value::Array(items) => {
                items.iter().enumerate().for_each(|(place, own)| leaves(own, format!("{at}/{place}"), all))
            }
            _ => all.push(at),
        }
    }
}
