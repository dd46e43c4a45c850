//! No state of the whole process below the command line: what makes the next answer faster is a value that the caller keeps.

use std::fs;
use std::path::Path;

/// Crates below `cli`. The handbook is left out: it remembers which row of its own tables a name means.
const BELOW: [&str; 10] = ["calc", "check", "desk", "draft", "drawing", "estimate", "model", "page", "serve", "sheet"];

/// Whether a line of a source declares what the whole process shares and can change; what is read once cannot.
fn is_shared(line: &str) -> bool {
    const CHANGES: [&str; 6] = ["Mutex", "RwLock", "RefCell", "Cell<", "Atomic", "UnsafeCell"];
    let plain = line.trim_start().trim_start_matches("pub").trim_start_matches("(crate)").trim_start_matches("(super)");
    let declares = plain.trim_start().starts_with("static ");
    line.trim_start().starts_with("thread_local!") || declares && CHANGES.iter().any(|word| line.contains(word))
}

fn shared(folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            shared(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&path).unwrap();
            found.extend(text.lines().filter(|line| is_shared(line)).map(|line| format!("{}: {line}", path.display())));
        }
    }
}

#[test]
fn nothing_below_the_command_line_keeps_state_of_the_whole_process() {
    for line in ["    static LATELY: Mutex<Drawings> = ", "pub(crate) static COUNT: AtomicU64 = ", "thread_local! {"] {
        assert!(is_shared(line), "{line}");
    }
    for line in ["static ROWS: LazyLock<Vec<Row>> = ", "    rows: Mutex<Rows>,", "/// A static Mutex"] {
        assert!(!is_shared(line), "{line}");
    }
    let mut found = Vec::new();
    for name in BELOW {
        shared(&Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name).join("src"), &mut found);
    }
    assert!(found.is_empty(), "{found:#?}");
}
