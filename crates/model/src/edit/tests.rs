use serde_json::json;

use super::*;
use crate::load::tree;

fn changed(text: &str, change: &Edit) -> String {
    edit(text, change).unwrap_or_else(|refusal| panic!("{change:?}: {refusal}\n{text}")).text
}

fn refused(text: &str, change: &Edit) -> String {
    match edit(text, change) {
        Ok(edited) => panic!("{change:?} gave\n{}", edited.text),
        Err(refusal) => refusal.message,
    }
}

fn set(pointer: &str, value: Value) -> Edit {
    Edit::Set { pointer: pointer.into(), value }
}

fn insert(pointer: &str, value: Value, before: Option<&str>) -> Edit {
    Edit::Insert { pointer: pointer.into(), value, before: before.map(str::to_owned) }
}

fn remove(pointer: &str) -> Edit {
    Edit::Remove { pointer: pointer.into() }
}

fn append(pointer: &str, value: Value) -> Edit {
    Edit::Append { pointer: pointer.into(), value }
}

fn shift(pointer: &str, to: usize) -> Edit {
    Edit::Move { pointer: pointer.into(), to }
}

const TEXT: &str = "\
# A sheet.
joint:
  type: butt  # as drawn
  # measured cold
  root_gap: 1-1.5 mm
  note: 'it''s so'
positions: [PA, PB]
fillers: {rod: {designation: \"ER70S-2\"}}
runs:
  # the root
  - {run: 1, current: 70 A} # root
  - run: 2
    current: 90 A  # fill
  - run: 3
empty:
last: x
";

#[test]
fn a_value_is_set_in_its_place() {
    let set_to = |pointer, value, old: &str, new: &str| {
        assert!(TEXT.contains(old));
        assert_eq!(changed(TEXT, &set(pointer, value)), TEXT.replace(old, new));
    };
    set_to("/joint/root_gap", json!("2 mm"), "1-1.5 mm", "2 mm");
    set_to("/joint/type", json!("tee, lap"), "butt ", "tee, lap ");
    set_to("/joint/note", json!("that's it"), "it''s so", "that''s it");
    set_to("/fillers/rod/designation", json!("316L"), "ER70S-2", "316L");
    set_to("/positions/1", json!("PF, up"), "PB", "\"PF, up\"");
    set_to("/positions", json!(["PC"]), "[PA, PB]", "[PC]");
    set_to("/runs/1/run", json!(5), "run: 2", "run: 5");
    set_to(
        "/empty",
        json!({"a": "1 mm", "b": [true, null, "no: x"]}),
        "empty:",
        "empty: {a: 1 mm, b: [true, null, \"no: x\"]}",
    );
    set_to("/last", json!("true"), "last: x", "last: \"true\"");
    set_to("/last", json!("2"), "last: x", "last: \"2\"");
    set_to("/last", json!("two\nlines"), "last: x", "last: \"two\\nlines\"");
    set_to("/runs/2", json!({"run": 4}), "run: 3", "{run: 4}");
}

#[test]
fn a_key_is_put_last_first_and_between() {
    let put = |change: &Edit, old: &str, new: &str| {
        assert!(TEXT.contains(old));
        assert_eq!(changed(TEXT, change), TEXT.replace(old, new));
    };
    put(&insert("/joint/weld", json!("groove"), None), "it''s so'\n", "it''s so'\n  weld: groove\n");
    put(&insert("/joint/weld", json!("groove"), Some("root_gap")), "  root_gap", "  weld: groove\n  root_gap");
    put(&insert("/joint/weld", json!("groove"), Some("type")), "  type", "  weld: groove\n  type");
    put(&insert("/fillers/rod/diameter", json!("2 mm"), None), "\"}}", "\", diameter: 2 mm}}");
    put(&insert("/fillers/wire", json!({"a": 1}), Some("rod")), "{rod", "{wire: {a: 1}, rod");
    put(&insert("/runs/1/voltage", json!("20 V"), None), "# fill\n", "# fill\n    voltage: 20 V\n");
    put(&insert("/runs/1/layer", json!("fill"), Some("run")), "- run: 2\n", "- layer: fill\n    run: 2\n");
    put(&insert("/technique/weave", json!("3 mm"), None), "last: x\n", "last: x\ntechnique: {weave: 3 mm}\n");
    put(&insert("/empty/a", json!("1 mm"), None), "empty:", "empty: {a: 1 mm}");
    put(&insert("/positions/0", json!("PF"), None), "[PA", "[PF, PA");
    put(&insert("/runs/0", json!({"run": 0}), None), "  - {run: 1", "  - {run: 0}\n  - {run: 1");
    put(&append("/positions", json!("PF")), "PB]", "PB, PF]");
    put(&append("/runs", json!({"run": 4})), "  - run: 3\n", "  - run: 3\n  - {run: 4}\n");
    put(&append("/notes", json!("new")), "last: x\n", "last: x\nnotes: [new]\n");
    assert_eq!(changed("a: [1, 2,]\nb: {}", &append("/a", json!(3))), "a: [1, 2, 3]\nb: {}");
    assert_eq!(changed("a: []\nb: {}", &append("/a", json!(3))), "a: [3]\nb: {}");
    assert_eq!(changed("a: []\nb: {}", &insert("/b/c", json!("x"), None)), "a: []\nb: {c: x}");
    assert_eq!(changed("a:\n- 1\n- 2", &append("/a", json!(3))), "a:\n- 1\n- 2\n- 3");
    assert_eq!(changed("a: 1", &insert("/b", json!("x"), None)), "a: 1\nb: x");
    assert_eq!(changed("a: 1\r\nb: 2", &insert("/c", json!("x"), None)), "a: 1\r\nb: 2\r\nc: x");
}

#[test]
fn a_value_is_taken_out_and_its_comments_stay() {
    let take = |pointer: &str, old: &str, new: &str| {
        assert!(TEXT.contains(old));
        assert_eq!(changed(TEXT, &remove(pointer)), TEXT.replace(old, new));
    };
    take("/joint/root_gap", "  root_gap: 1-1.5 mm\n", "");
    take("/joint/type", "  type: butt  # as drawn\n", "  # as drawn\n");
    take("/positions/0", "PA, ", "");
    take("/positions/1", ", PB", "");
    take("/fillers/rod", "rod: {designation: \"ER70S-2\"}", "");
    take("/runs/0", "  - {run: 1, current: 70 A} # root\n", "  # root\n");
    take("/runs/1", "  - run: 2\n    current: 90 A  # fill\n", "  # fill\n");
    take("/runs/1/run", "run: 2\n    current", "current");
    take("/runs/2/run", "- run: 3", "- {}");
    take("/empty", "empty:\n", "");
    take("/last", "last: x\n", "");
    assert_eq!(changed("a: 1\nb: 2", &remove("/b")), "a: 1\n");
    assert_eq!(changed("a:\n  b: 1\n", &remove("/a/b")), "a: {}\n");
    assert_eq!(changed("a:\n- 1\nb: 2\n", &remove("/a/0")), "a: []\nb: 2\n");
}

#[test]
fn an_item_is_moved_with_its_comment() {
    let text = changed(TEXT, &shift("/runs/0", 2));
    let (from, to) = (
        "  - {run: 1, current: 70 A} # root\n  - run: 2\n    current: 90 A  # fill\n  - run: 3\n",
        "  - run: 2\n    current: 90 A  # fill\n  - run: 3\n  - {run: 1, current: 70 A} # root\n",
    );
    assert_eq!(text, TEXT.replace(from, to));
    assert_eq!(changed(&text, &shift("/runs/2", 0)), TEXT);
    assert_eq!(changed(TEXT, &shift("/positions/1", 0)), TEXT.replace("PA, PB", "PB, PA"));
    assert_eq!(changed("- a\n\n- b # x\n- c", &shift("/2", 0)), "- c\n\n- a\n- b # x");
}

#[test]
fn what_cannot_be_proved_is_refused_in_words() {
    let text = "a: &x {b: 1}\nc: *x\nd: |\n  text # no comment\ne:\n  f: 1\n  # between\n  g: 2\n";
    assert!(refused(text, &set("/c/b", json!(2))).contains("alias"));
    assert!(refused(text, &insert("/c/h", json!(2), None)).contains("alias"));
    assert!(refused(text, &set("/a/b", json!(2))).contains("other values would change"));
    assert!(refused(text, &remove("/a")).contains("breaking"));
    assert!(refused(text, &set("/d", json!("new"))).contains("lines of its own"));
    assert!(refused(text, &set("/e", json!({"f": 1}))).contains("comment"));
    assert!(refused(text, &set("/q", json!(1))).contains("nothing stands"));
    assert!(refused(text, &insert("/e/f", json!(1), None)).contains("already"));
    assert!(refused(text, &insert("/e/h", json!(1), Some("q"))).contains("no key `q`"));
    assert!(refused(text, &append("/e", json!(1))).contains("no list"));
    assert!(refused("a: [1\n", &set("/a", json!(1))).contains("broken"));
    // An alias itself is a value like another, and a text block can go.
    assert_eq!(changed(text, &set("/c", json!(5))), text.replace("*x", "5"));
    assert_eq!(changed(text, &remove("/d")), text.replace("d: |\n  text # no comment\n", ""));
}

#[test]
fn comments_are_told_from_what_looks_like_one() {
    let text = "# one\na: 'x # no' # two\nb: a#no\nc: | # three\n  # no\n  text\nd: [1, # four\n  2]\n#five";
    let tree = tree::read(text).unwrap();
    assert_eq!(comments(text, &tree), ["# one", "# two", "# three", "# four", "#five"]);
}
