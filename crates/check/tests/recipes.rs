//! What the recipes of DEVELOPERS.md claim: where a check, a code and a process stand.

use std::fs;
use std::path::{Path, PathBuf};

use seamwright_check::codes::CODES;
use seamwright_check::explanations;
use seamwright_handbook::{code_scope, processes};
use seamwright_model::procedure::CodeName;
use seamwright_model::shop::WelderCode;

/// Every source of this crate with its path below `src`, without comments.
fn sources() -> Vec<(String, String)> {
    sources_of("check")
}

/// Every source of a crate with its path below `src`, without comments and unit tests.
fn sources_of(name: &str) -> Vec<(String, String)> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() { walk(&path, found) } else { found.push(path) }
        }
    }
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name).join("src");
    let mut paths = Vec::new();
    walk(&top, &mut paths);
    let sources = paths.iter().map(|path| {
        let text = fs::read_to_string(path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        let code: Vec<&str> = code.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
        (path.strip_prefix(&top).unwrap().to_string_lossy().replace('\\', "/"), code.join("\n"))
    });
    sources.collect()
}

#[test]
fn a_check_is_the_file_of_its_name() {
    let mut found = 0;
    for (path, text) in sources() {
        let name = path.rsplit('/').next().unwrap().trim_end_matches(".rs").replace('_', "-");
        if !text.contains("pub const RULE: Rule") {
            continue;
        }
        found += 1;
        assert!(text.contains(&format!("name: \"{name}\"")), "{path} has the check of another name");
        assert!(explanations().iter().any(|own| own.name == name), "{path} stands in no list");
    }
    assert!(found > 150, "{found} files have a check");
}

#[test]
fn a_code_stands_in_its_folder_and_its_tables() {
    let identifiers: Vec<String> = CODES.iter().map(|code| code.word().replace(['-', '.'], "_")).collect();
    for (path, text) in sources().into_iter().chain(sources_of("weld")) {
        let own = identifiers.iter().any(|own| path.starts_with(&format!("codes/{own}/")));
        // The lists of codes, of modules and of checks name each once.
        if own || ["codes/list.rs", "codes/mod.rs", "records/mod.rs", "rules/mod.rs"].contains(&path.as_str()) {
            continue;
        }
        for other in &identifiers {
            assert!(!text.contains(other.as_str()), "{path} names {other}");
        }
        for line in text.lines().filter(|line| line.contains("CodeName::") || line.contains("WelderCode::")) {
            assert!(line.contains("CodeName::None") || line.contains("::ALL"), "{path} tells codes apart: {line}");
        }
    }
}

#[test]
fn every_word_for_a_code_has_its_code_and_its_name() {
    let words = CodeName::ALL.iter().filter(|code| **code != CodeName::None).map(|code| code.as_str());
    for word in words.chain(WelderCode::ALL.iter().map(|code| code.as_str())) {
        assert!(CODES.iter().any(|code| code.word() == word), "{word}");
        assert!(code_scope::names().iter().any(|row| row.code == word), "{word}");
    }
}

/// Stops where a line of code names a process by its number.
fn name_no_process<'s>(sources: impl Iterator<Item = &'s (String, String)>) {
    let numbers: Vec<String> = processes::rows().iter().map(|row| format!("\"{}\"", row.number)).collect();
    for (path, text) in sources {
        for line in text.lines().filter(|line| !line.contains("Case {") && !line.contains("(\"/")) {
            for number in &numbers {
                assert!(!line.contains(number.as_str()), "{path} names process {number}: {line}");
            }
            assert!(!line.contains("starts_with(\"1"), "{path} tells processes apart by digits: {line}");
        }
    }
}

#[test]
fn a_check_of_any_code_names_no_process_by_number() {
    name_no_process(sources().iter().filter(|(path, _)| !path.starts_with("codes/")));
}

#[test]
fn what_stands_beside_the_checks_names_no_process_by_number() {
    for name in ["draft", "estimate", "weld"] {
        let sources = sources_of(name);
        assert!(sources.len() > 3, "{name}");
        name_no_process(sources.iter());
    }
}
