//! Every label is printed by something.

use std::fs;
use std::path::Path;

fn sources(folder: &Path, text: &mut String) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, text);
        } else {
            text.push_str(&fs::read_to_string(path).unwrap());
        }
    }
}

#[test]
fn a_label_is_named_in_code() {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut text = String::new();
    for own in ["page/src", "sheet/src"] {
        sources(&crates.join(own), &mut text);
    }
    let labels = fs::read_to_string(crates.join("page/words/labels.yaml")).unwrap();
    let keys = labels.lines().filter_map(|line| line.trim_start().strip_prefix("- {key: ")?.split(',').next());
    let mut found = 0;
    for key in keys {
        found += 1;
        let constant = format!("label::{}", key.to_uppercase().replace('-', "_"));
        let named = text.match_indices(&constant).any(|(at, own)| {
            !text[at + own.len()..].starts_with(|next: char| next.is_ascii_alphanumeric() || next == '_')
        });
        assert!(named, "nothing prints the label `{key}`");
    }
    assert!(found > 300, "{found} labels");
}
