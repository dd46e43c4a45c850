//! Changes of single values in an author's text: comments, order and layout stay, and nothing else moves.
//!
//! What is to change is named by JSON pointer. Each change is proved before it is given out: the new text is read again, and
//! must hold the values that are meant and no others, every comment in its order, and no more than one new line (two where a
//! key is put before the first of a list's item). Where that cannot be proved, nothing is changed, and the refusal says why.
//!
//! `text.rs` finds where entries begin and end, `write.rs` writes values as YAML.
//!
//! ```
//! use seamwright_model::edit::{Edit, edit};
//! let text = "joint: {type: butt}  # as drawn\nroot_gap: 1 mm\n";
//! let change = Edit::Set { pointer: "/root_gap".into(), value: "1.5 mm".into() };
//! let edited = edit(text, &change).unwrap();
//! assert_eq!(edited.text, "joint: {type: butt}  # as drawn\nroot_gap: 1.5 mm\n");
//! ```

mod draft;
mod text;
mod write;

use std::ops::Range;

use serde_json::{Map, Value};

use crate::load::{Fault, Plain, limits};
use crate::source::{Node, NodeKind, Scalar, Style, steps};
use draft::Draft;
use text::{Text, comments};

/// A change of one value.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// Writes a value in the place of the one at a pointer.
    Set {
        /// JSON pointer of the value.
        pointer: String,
        /// What is to stand there.
        value: Value,
    },
    /// Writes a new key, or a new item of a list; sections that lead to it and are missing are written, too.
    Insert {
        /// JSON pointer of the new value; in a list the index that it is to have.
        pointer: String,
        /// What is to stand there.
        value: Value,
        /// The key of the section before which it is put; after the last if left out.
        before: Option<String>,
    },
    /// Takes a value and its key out.
    Remove {
        /// JSON pointer of the value.
        pointer: String,
    },
    /// Writes a new last item of a list, which is made where it is missing.
    Append {
        /// JSON pointer of the list.
        pointer: String,
        /// The new item.
        value: Value,
    },
    /// Moves an item inside its list.
    Move {
        /// JSON pointer of the item.
        pointer: String,
        /// The index that it is to have.
        to: usize,
    },
}

/// A text that was changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edited {
    /// The new text.
    pub text: String,
    /// The bytes of the old text that were replaced.
    pub replaced: Range<usize>,
    /// What stands there now.
    pub by: String,
}

/// Why a text was not changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What stands in the way, lower case, no full stop.
    pub message: String,
    /// JSON pointer of the place.
    pub pointer: String,
}

impl Refusal {
    fn new(pointer: &str, message: impl Into<String>) -> Self {
        Self { message: message.into(), pointer: pointer.to_owned() }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Refusal {}

/// Changes one value of a YAML text.
///
/// `Err` says what stands in the way; the text is then to be changed by hand at the refusal's pointer.
pub fn edit(text: &str, edit: &Edit) -> Result<Edited, Refusal> {
    let unread = |faults: Vec<Fault>| {
        let first = faults.first().map_or("it cannot be read", |fault| fault.message.as_str());
        Refusal::new(edit.pointer(), format!("the text cannot be changed while it is broken: {first}"))
    };
    let (after, replaced, by) = Plain::read(text).map_err(unread)?.edit(edit)?;
    Ok(Edited { text: after.text, replaced, by })
}

impl Plain {
    /// The text after a change, the bytes of this one that were replaced, and what stands there now.
    pub fn edit(&self, edit: &Edit) -> Result<(Self, Range<usize>, String), Refusal> {
        let told = || {
            let mut meant = self.tree.to_value();
            edit.apply(&mut meant)?;
            Ok((meant, comments(&self.text, &self.tree)))
        };
        // What is meant is worked out while the new text is parsed: a page asks for it at each key.
        let (told, written) = std::thread::scope(|scope| {
            let told = scope.spawn(told);
            let drafted = edit.draft(&Text::new(&self.text), &self.tree);
            let written = drafted.and_then(|draft| written(&self.text, draft, edit.pointer()));
            (told.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)), written)
        });
        let (meant, kept) = told?;
        prove(&self.text, written?, (&meant, kept), edit.pointer())
    }
}

fn refuse(pointer: &str, why: &str) -> Refusal {
    Refusal::new(pointer, format!("{why}; change the text at this place"))
}

/// Makes the new text and reads it.
fn written(old: &str, draft: Draft, pointer: &str) -> Result<(Plain, Draft), Refusal> {
    let (Some(before), Some(after)) = (old.get(..draft.replaced.start), old.get(draft.replaced.end..)) else {
        return Err(refuse(pointer, "the place of the value cannot be told"));
    };
    let text = [before, &draft.by, after].concat();
    if text.len() > limits::FILE_BYTES {
        return Err(refuse(pointer, "the file would have more than 1 MiB"));
    }
    let broken = "the value cannot be written here without breaking what stands around it";
    Ok((Plain::read(&text).map_err(|_| refuse(pointer, broken))?, draft))
}

/// Holds the new text against what is meant and the comments that stood in the old one.
fn prove(
    old: &str,
    (again, draft): (Plain, Draft),
    (meant, mut kept): (&Value, Vec<&str>),
    pointer: &str,
) -> Result<(Plain, Range<usize>, String), Refusal> {
    if !again.tree.has(meant) {
        return Err(refuse(pointer, "other values would change with this one"));
    }
    let mut now = comments(&again.text, &again.tree);
    if draft.comments_move {
        kept.sort_unstable();
        now.sort_unstable();
    }
    if kept != now {
        return Err(refuse(pointer, "a comment would be lost"));
    }
    if new_lines(old, &again.text) > draft.new_lines {
        return Err(refuse(pointer, "more lines would change than the value's own"));
    }
    Ok((again, draft.replaced, draft.by))
}

/// How many lines of the new text are not those of the old one at its beginning and end.
fn new_lines(old: &str, new: &str) -> usize {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let same = old.iter().zip(&new).take_while(|(own, other)| own == other).count();
    let most = old.len().min(new.len()) - same;
    let tail = old.iter().rev().zip(new.iter().rev()).take(most).take_while(|(own, other)| own == other).count();
    new.len() - same - tail
}

impl Edit {
    /// JSON pointer of what is to change.
    pub fn pointer(&self) -> &str {
        match self {
            Self::Set { pointer, .. }
            | Self::Insert { pointer, .. }
            | Self::Remove { pointer }
            | Self::Append { pointer, .. }
            | Self::Move { pointer, .. } => pointer,
        }
    }

    /// Makes the same change of plain values; `Err` where the values do not have what is to change.
    pub fn apply(&self, whole: &mut Value) -> Result<(), Refusal> {
        let pointer = self.pointer();
        let missing = || Refusal::new(pointer, format!("nothing stands at `{pointer}`"));
        match self {
            Self::Set { value, .. } => *whole.pointer_mut(pointer).ok_or_else(missing)? = value.clone(),
            Self::Insert { value, before, .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                if whole.pointer(parent).is_none_or(Value::is_null) {
                    let section = Value::Object(Map::from_iter([(key, value.clone())]));
                    return Self::put(parent, section, whole).apply(whole);
                }
                match whole.pointer_mut(parent) {
                    Some(Value::Object(map)) if map.contains_key(&key) => {
                        return Err(Refusal::new(pointer, format!("`{key}` stands there already")));
                    }
                    Some(Value::Object(map)) => {
                        let at = match before {
                            None => map.len(),
                            Some(other) => map
                                .keys()
                                .position(|own| own == other)
                                .ok_or_else(|| Refusal::new(pointer, format!("no key `{other}` stands beside it")))?,
                        };
                        let mut entries: Vec<(String, Value)> = std::mem::take(map).into_iter().collect();
                        entries.insert(at, (key, value.clone()));
                        map.extend(entries);
                    }
                    Some(Value::Array(items)) => {
                        let at = key.parse().ok().filter(|at| *at <= items.len()).ok_or_else(missing)?;
                        items.insert(at, value.clone());
                    }
                    _ => return Err(Refusal::new(pointer, format!("`{parent}` is a single value, no section"))),
                }
            }
            Self::Remove { .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                match whole.pointer_mut(parent) {
                    Some(Value::Object(map)) => {
                        map.shift_remove(&key).ok_or_else(missing)?;
                    }
                    Some(Value::Array(items)) => {
                        let at = key.parse().ok().filter(|at: &usize| *at < items.len()).ok_or_else(missing)?;
                        items.remove(at);
                    }
                    _ => return Err(missing()),
                }
            }
            Self::Append { value, .. } => match whole.pointer_mut(pointer) {
                Some(Value::Array(items)) => items.push(value.clone()),
                None | Some(Value::Null) => {
                    return Self::put(pointer, Value::Array(vec![value.clone()]), whole).apply(whole);
                }
                Some(_) => return Err(Refusal::new(pointer, "this is no list")),
            },
            Self::Move { to, .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                let Some(Value::Array(items)) = whole.pointer_mut(parent) else {
                    return Err(Refusal::new(pointer, "only items of a list are moved"));
                };
                let from = key.parse().ok().filter(|at: &usize| *at < items.len()).ok_or_else(missing)?;
                if *to >= items.len() {
                    return Err(Refusal::new(pointer, format!("the list has {} items", items.len())));
                }
                let item = items.remove(from);
                items.insert(*to, item);
            }
        }
        Ok(())
    }

    /// Sets what is there and empty, or inserts what is not there.
    fn put(pointer: &str, value: Value, whole: &Value) -> Self {
        let pointer = pointer.to_owned();
        if whole.pointer(&pointer).is_some() {
            Self::Set { pointer, value }
        } else {
            Self::Insert { pointer, value, before: None }
        }
    }

    /// The replacement in the text.
    fn draft(&self, text: &Text<'_>, tree: &Node) -> Result<Draft, Refusal> {
        let pointer = self.pointer();
        let missing = || Refusal::new(pointer, format!("nothing stands at `{pointer}`"));
        not_below_alias(tree, pointer)?;
        match self {
            Self::Set { value, .. } => set(text, tree, pointer, value),
            Self::Insert { value, before, .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                match tree.at(parent) {
                    Some(node) if !empty(node) => insert(text, node, parent, &key, value, before.as_deref()),
                    found => {
                        let section = Value::Object(Map::from_iter([(key, value.clone())]));
                        Self::put_at(parent, section, found).draft(text, tree)
                    }
                }
            }
            Self::Remove { .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                remove(text, tree, parent, &key)
            }
            Self::Append { value, .. } => match tree.at(pointer) {
                Some(Node { kind: NodeKind::List(items), .. }) => {
                    Self::Insert { pointer: format!("{pointer}/{}", items.len()), value: value.clone(), before: None }
                        .draft(text, tree)
                }
                found => Self::put_at(pointer, Value::Array(vec![value.clone()]), found).draft(text, tree),
            },
            Self::Move { to, .. } => {
                let (parent, key) = last_step(pointer).ok_or_else(missing)?;
                let node = tree.at(parent).ok_or_else(missing)?;
                move_item(text, node, parent, key.parse().map_err(|_| missing())?, *to)
            }
        }
    }

    fn put_at(pointer: &str, value: Value, found: Option<&Node>) -> Self {
        let pointer = pointer.to_owned();
        if found.is_some() { Self::Set { pointer, value } } else { Self::Insert { pointer, value, before: None } }
    }
}

/// A pointer as that of the section and the last step, written out.
fn last_step(pointer: &str) -> Option<(&str, String)> {
    let (parent, _) = pointer.rsplit_once('/')?;
    Some((parent, steps(pointer).last()?))
}

fn empty(node: &Node) -> bool {
    matches!(node.kind, NodeKind::Scalar(Scalar::Null))
}

/// Refuses what stands inside an alias or a text block.
fn not_below_alias(tree: &Node, pointer: &str) -> Result<(), Refusal> {
    let mut parent = pointer;
    while let Some((above, _)) = parent.rsplit_once('/') {
        parent = above;
        if tree.at(parent).is_some_and(|node| node.style == Style::Alias) {
            let why = format!("`{parent}` is an alias: a change below it would change another place, too");
            return Err(Refusal::new(pointer, why));
        }
    }
    Ok(())
}

/// Whether any section around a value, the nearest included, is in braces or brackets.
fn in_flow(tree: &Node, parent: &str) -> bool {
    let mut above = Some(parent);
    while let Some(pointer) = above {
        if tree.at(pointer).is_some_and(|node| node.style == Style::Flow) {
            return true;
        }
        above = pointer.rsplit_once('/').map(|(above, _)| above);
    }
    false
}

fn set(text: &Text<'_>, tree: &Node, pointer: &str, value: &Value) -> Result<Draft, Refusal> {
    let missing = || Refusal::new(pointer, format!("nothing stands at `{pointer}`"));
    let node = tree.at(pointer).ok_or_else(missing)?;
    let (parent, key) =
        last_step(pointer).ok_or_else(|| Refusal::new(pointer, "the whole document is no single value"))?;
    if node.style == Style::TextBlock {
        return Err(Refusal::new(pointer, "this text stands on lines of its own after `|` or `>`; change it there"));
    }
    let by = write::value(value, node.style, in_flow(tree, parent));
    if node.style == Style::Block || empty(node) && node.span.start == node.span.end {
        // From the colon or the dash on: there, one line has room for all of it.
        let start = match tree.at(parent).map(|node| &node.kind) {
            Some(NodeKind::Map(entries)) => {
                let entry = entries.iter().find(|entry| entry.key == key).ok_or_else(missing)?;
                text.after_colon(entry).ok_or_else(missing)?
            }
            _ => text.dash(node).ok_or_else(missing)? + 1,
        };
        let end = node.end().max(start);
        return Ok(Draft::new(start..end, format!(" {by}")));
    }
    Ok(Draft::new(node.span.bytes(), by))
}

fn insert(
    text: &Text<'_>,
    node: &Node,
    parent: &str,
    key: &str,
    value: &Value,
    before: Option<&str>,
) -> Result<Draft, Refusal> {
    let pointer = format!("{parent}/{}", crate::source::escape(key));
    let refuse = |why: &str| Refusal::new(&pointer, why);
    let no_place = || refuse("the place for it cannot be told; change the text at this place");
    if node.style == Style::Alias {
        return Err(refuse("this is an alias: a change below it would change another place, too"));
    }
    let flow = node.style == Style::Flow;
    // A section in a list in brackets is itself in braces: its own style tells enough.
    let written = write::value(value, Style::Plain, flow);
    match &node.kind {
        NodeKind::Map(entries) => {
            let line = format!("{}: {written}", write::key(key));
            let at = match before {
                None => entries.len(),
                Some(other) => entries.iter().position(|entry| entry.key == other).ok_or_else(no_place)?,
            };
            match (entries.get(at), entries.last()) {
                (Some(next), _) if flow => {
                    Ok(Draft::new(next.key_span.start..next.key_span.start, format!("{line}, ")))
                }
                (Some(next), _) => {
                    let start = next.key_span.start;
                    let own = text.line_start(start);
                    if text.blank(own..start) {
                        let indent = text.slice(own..start);
                        return Ok(Draft::new(own..own, format!("{indent}{line}{}", text.newline)));
                    }
                    // The key stands on the line of its dash.
                    let indent = " ".repeat(text.column(start));
                    let by = format!("{line}{}{indent}", text.newline);
                    Ok(Draft { new_lines: 2, ..Draft::new(start..start, by) })
                }
                (None, Some(last)) if flow => text.flow_end(node, text.entry_end(last), &line).ok_or_else(no_place),
                (None, Some(last)) => {
                    let first = entries.first().ok_or_else(no_place)?;
                    Ok(text.line_after(text.entry_end(last), text.column(first.key_span.start), &line))
                }
                (None, None) => text.flow_end(node, node.span.start + 1, &line).ok_or_else(no_place),
            }
        }
        NodeKind::List(items) => {
            let at: usize = key.parse().map_err(|_| no_place())?;
            match (items.get(at), items.last()) {
                (Some(next), _) if flow => Ok(Draft::new(next.span.start..next.span.start, format!("{written}, "))),
                (Some(next), _) => {
                    let dash = text.dash(next).ok_or_else(no_place)?;
                    let own = text.line_start(dash);
                    if !text.blank(own..dash) {
                        return Err(no_place());
                    }
                    let indent = text.slice(own..dash);
                    Ok(Draft::new(own..own, format!("{indent}- {written}{}", text.newline)))
                }
                (None, Some(last)) if flow => text.flow_end(node, last.end(), &written).ok_or_else(no_place),
                (None, Some(last)) => {
                    let dash = text.dash(last).ok_or_else(no_place)?;
                    let end = last.end().max(dash + 1);
                    Ok(text.line_after(end, text.column(dash), &format!("- {written}")))
                }
                (None, None) => text.flow_end(node, node.span.start + 1, &written).ok_or_else(no_place),
            }
        }
        NodeKind::Scalar(_) => Err(refuse("a single value stands here, no section")),
    }
}

fn remove(text: &Text<'_>, tree: &Node, parent: &str, key: &str) -> Result<Draft, Refusal> {
    let pointer = format!("{parent}/{}", crate::source::escape(key));
    let no_place = || Refusal::new(&pointer, "its place cannot be told; change the text at this place");
    let node = tree.at(parent).ok_or_else(no_place)?;
    // Where each entry begins, and where it ends.
    let parts: Vec<Range<usize>> = match &node.kind {
        NodeKind::Map(entries) => entries.iter().map(|entry| entry.key_span.start..text.entry_end(entry)).collect(),
        NodeKind::List(items) if node.style == Style::Flow => {
            items.iter().map(|item| item.span.start..item.end()).collect()
        }
        NodeKind::List(items) => {
            let part = |item: &Node| text.dash(item).map(|dash| dash..item.end().max(dash + 1));
            items.iter().map(part).collect::<Option<_>>().ok_or_else(no_place)?
        }
        NodeKind::Scalar(_) => return Err(no_place()),
    };
    let at = match &node.kind {
        NodeKind::Map(entries) => entries.iter().position(|entry| entry.key == key),
        _ => key.parse().ok(),
    };
    let at = at.filter(|at| *at < parts.len()).ok_or_else(no_place)?;
    let (own, next) = (parts.get(at).cloned().ok_or_else(no_place)?, parts.get(at + 1));
    let before = at.checked_sub(1).and_then(|at| parts.get(at));
    if parts.len() == 1 {
        let none =
            if matches!(node.kind, NodeKind::Map(_)) { Value::Object(Map::new()) } else { Value::Array(Vec::new()) };
        return match node.style {
            Style::Flow => Ok(Draft::new(own, "")),
            _ => set(text, tree, parent, &none),
        };
    }
    if node.style == Style::Flow {
        let replaced = match (next, before) {
            (Some(next), _) => own.start..next.start,
            (None, Some(before)) => before.end..own.end,
            (None, None) => own,
        };
        return Ok(Draft::new(replaced, ""));
    }
    let line = text.line_start(own.start);
    if !text.blank(line..own.start) {
        // The first key, on the line of its dash: the next one takes its place.
        let next = next.ok_or_else(no_place)?;
        return Ok(Draft::new(own.start..next.start, ""));
    }
    // Comments on the lines that go stay, on lines of their own.
    let whole = line..text.line_end_with_break(own.end);
    let kept: Vec<String> = text
        .comments_in(tree, &whole)
        .into_iter()
        .map(|comment| format!("{}{comment}{}", text.slice(line..own.start), text.newline))
        .collect();
    Ok(Draft { new_lines: kept.len(), ..Draft::new(whole, kept.concat()) })
}

fn move_item(text: &Text<'_>, node: &Node, parent: &str, from: usize, to: usize) -> Result<Draft, Refusal> {
    let pointer = format!("{parent}/{from}");
    let no_place = || Refusal::new(&pointer, "its place cannot be told; change the text at this place");
    let NodeKind::List(items) = &node.kind else { return Err(no_place()) };
    let flow = node.style == Style::Flow;
    let part = |item: &Node| {
        if flow {
            return Some(item.span.start..item.end());
        }
        let dash = text.dash(item)?;
        let line = text.line_start(dash);
        text.blank(line..dash).then(|| line..text.line_end(item.end().max(dash + 1)))
    };
    let parts: Vec<Range<usize>> = items.iter().map(part).collect::<Option<_>>().ok_or_else(no_place)?;
    let mut order: Vec<usize> = (0..parts.len()).collect();
    if from >= order.len() || to >= order.len() {
        return Err(no_place());
    }
    let moved = order.remove(from);
    order.insert(to, moved);
    let (low, high) = (from.min(to), from.max(to));
    let (Some(first), Some(last)) = (parts.get(low), parts.get(high)) else { return Err(no_place()) };
    let mut by = String::new();
    let mut end = first.start;
    for at in low..=high {
        let (Some(place), Some(item)) = (parts.get(at), order.get(at).and_then(|own| parts.get(*own))) else {
            return Err(no_place());
        };
        by.push_str(text.slice(end..place.start));
        by.push_str(text.slice(item.clone()));
        end = place.end;
    }
    let lines = by.lines().count().max(1);
    Ok(Draft { new_lines: lines, comments_move: true, ..Draft::new(first.start..last.end, by) })
}

#[cfg(test)]
mod tests;
