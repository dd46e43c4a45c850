//! Every value of every procedure and example, changed in every way, with line feeds, carriage returns and no last line
//! break: held against what the values should be, and against what another program's parser reads.
//!
//! The other reader is the crate `yaml-edit`, which has a parser of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use seamwright_model::edit::{Edit, Edited, edit};
use seamwright_model::load;
use seamwright_model::source::{Node, NodeKind, Scalar, Style, escape};
use serde_json::{Value, json};
use yaml_edit::{Document, YamlNode};

fn files() -> Vec<PathBuf> {
    fn walk(folder: &Path, all: &mut Vec<PathBuf>) {
        let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
        paths.sort();
        for path in paths {
            if path.is_dir() {
                walk(&path, all);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                all.push(path);
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut all = Vec::new();
    walk(&root.join("procedures"), &mut all);
    walk(&root.join("examples"), &mut all);
    all
}

/// Pointers of all values below a node, with what stands there.
fn values<'n>(node: &'n Node, pointer: &str, all: &mut Vec<(String, &'n Node)>) {
    if !pointer.is_empty() {
        all.push((pointer.to_owned(), node));
    }
    match &node.kind {
        NodeKind::List(items) => {
            for (at, item) in items.iter().enumerate() {
                values(item, &format!("{pointer}/{at}"), all);
            }
        }
        NodeKind::Map(entries) => {
            for entry in entries {
                values(&entry.value, &format!("{pointer}/{}", escape(&entry.key)), all);
            }
        }
        NodeKind::Scalar(_) => {}
    }
}

/// The changes that are tried on a file.
fn changes(tree: &Node) -> Vec<Edit> {
    let mut all = Vec::new();
    values(tree, "", &mut all);
    let mut changes = Vec::new();
    for (at, (pointer, node)) in all.into_iter().enumerate() {
        let words = ["12-15 mm", "a, b: c # d", "no", "it's \"so\"", "7", "ä °C / #1", "- x", ""];
        let value = json!(words[at % words.len()]);
        changes.push(Edit::Set { pointer: pointer.clone(), value: value.clone() });
        changes.push(Edit::Remove { pointer: pointer.clone() });
        match &node.kind {
            NodeKind::Map(entries) => {
                let before = entries.get(at % (entries.len() + 1)).map(|entry| entry.key.clone());
                changes.push(Edit::Insert { pointer: format!("{pointer}/new"), value, before });
                let value = json!({"a": ["1 mm", {"b": "x"}]});
                changes.push(Edit::Insert { pointer: format!("{pointer}/deep/er"), value, before: None });
            }
            NodeKind::List(items) => {
                let index = at % (items.len() + 1);
                changes.push(Edit::Insert {
                    pointer: format!("{pointer}/{index}"),
                    value: value.clone(),
                    before: None,
                });
                changes.push(Edit::Append { pointer: pointer.clone(), value });
                if items.len() > 1 {
                    let (from, to) = (at % items.len(), (at + 1) % items.len());
                    changes.push(Edit::Move { pointer: format!("{pointer}/{from}"), to });
                }
            }
            NodeKind::Scalar(_) => {}
        }
    }
    changes.push(Edit::Insert { pointer: "/new".into(), value: json!("x"), before: None });
    changes
}

/// The values of a text as the other parser reads them, and its comments; nothing where it does not read it.
fn second_opinion(text: &str) -> Option<(Vec<String>, Vec<String>)> {
    fn walk(node: &YamlNode, pointer: &str, all: &mut Vec<String>) {
        match node {
            YamlNode::Scalar(scalar) => all.push(format!("{pointer} {}", scalar.as_string())),
            YamlNode::Mapping(map) => {
                all.push(format!("{pointer} section of {}", map.len()));
                for (key, value) in map.iter() {
                    let key = key.as_scalar().map(|key| key.as_string()).unwrap_or_default();
                    walk(&value, &format!("{pointer}/{}", escape(&key)), all);
                }
            }
            YamlNode::Sequence(list) => {
                all.push(format!("{pointer} list of {}", list.len()));
                for (at, item) in list.values().enumerate() {
                    walk(&item, &format!("{pointer}/{at}"), all);
                }
            }
            _ => all.push(format!("{pointer} another")),
        }
    }
    let document = Document::from_str(text).ok()?;
    let mut all = Vec::new();
    walk(&YamlNode::Mapping(document.as_mapping()?), "", &mut all);
    let comments = document.comments().map(|comment| comment.text().trim_end().to_owned()).collect();
    Some((all, comments))
}

/// The same of values as they are meant.
fn meant(value: &Value, pointer: &str, all: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            all.push(format!("{pointer} section of {}", map.len()));
            for (key, value) in map {
                meant(value, &format!("{pointer}/{}", escape(key)), all);
            }
        }
        Value::Array(items) => {
            all.push(format!("{pointer} list of {}", items.len()));
            for (at, item) in items.iter().enumerate() {
                meant(item, &format!("{pointer}/{at}"), all);
            }
        }
        Value::String(text) => all.push(format!("{pointer} {text}")),
        other => all.push(format!("{pointer} {other}")),
    }
}

/// Texts that stand after `#` at the beginning of a line or after a space, outside quotes: enough for these files.
fn lines_but_for(old: &str, edited: &Edited) -> bool {
    let (before, after) = (old.get(..edited.replaced.start), old.get(edited.replaced.end..));
    edited.text == [before.unwrap(), &edited.by, after.unwrap()].concat()
}

#[test]
fn every_value_of_every_file_can_be_changed_and_nothing_else_changes() {
    let (mut done, mut refused, mut seen, mut files_seen) = (0_usize, Vec::new(), 0_usize, 0_usize);
    for (number, path) in files().into_iter().enumerate() {
        let plain = fs::read_to_string(&path).unwrap();
        assert!(!plain.contains('\r'));
        let forms = [plain.clone(), plain.replace('\n', "\r\n"), plain.trim_end().to_owned()];
        for (form, text) in forms.iter().enumerate() {
            let Ok(loaded) = load("p.yaml", text.as_bytes()) else { continue };
            let comments = second_opinion(text).map(|(_, comments)| comments);
            for (at, change) in changes(&loaded.tree).iter().enumerate() {
                // The other forms take their turns.
                if form > 0 && (at + number) % 5 != form {
                    continue;
                }
                let edited = match edit(text, change) {
                    Ok(edited) => edited,
                    Err(refusal) => {
                        refused.push((path.clone(), change.clone(), refusal.message));
                        continue;
                    }
                };
                done += 1;
                assert!(lines_but_for(text, &edited), "{}: {change:?}", path.display());
                assert_eq!(form == 1, edited.text.contains('\r'), "{}: {change:?}", path.display());
                assert!(form != 1 || !edited.text.replace("\r\n", "").contains(['\r', '\n']), "{change:?}");
                // The other parser is slow: it is asked every seventh time.
                if (at + number) % 7 == 0 {
                    let mut whole = loaded.tree.to_value();
                    change.apply(&mut whole).unwrap();
                    let mut wanted = Vec::new();
                    meant(&whole, "", &mut wanted);
                    let Some((found, now)) = second_opinion(&edited.text) else {
                        panic!("{}: {change:?} gives what the other parser refuses:\n{}", path.display(), edited.text)
                    };
                    assert_eq!(found, wanted, "{}: {change:?}", path.display());
                    let mut kept = comments.clone().unwrap();
                    let mut now = now;
                    if matches!(change, Edit::Move { .. }) {
                        kept.sort();
                        now.sort();
                    }
                    assert_eq!(now, kept, "{}: {change:?}", path.display());
                    seen += 1;
                }
            }
            files_seen += usize::from(form == 0);
        }
    }
    assert!(files_seen > 40 && done > 10_000 && seen > 1_000, "{files_seen} files, {done} changes, {seen} seen twice");
    // What is refused is refused for one of these reasons, and seldom.
    let reasons = ["comment", "lines of its own", "more lines would change"];
    for (path, change, message) in &refused {
        assert!(reasons.iter().any(|reason| message.contains(reason)), "{}: {change:?}: {message}", path.display());
    }
    assert!(refused.len() * 20 < done, "{} of {done} refused: {:?}", refused.len(), refused.first());
    let _ = (Scalar::Null, Style::Plain);
}
