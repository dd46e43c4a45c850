//! How the house is built: no circle of imports inside a crate, no rule of the handbook asked for that is not there, one program to run.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use seamwright_handbook::TABLES;
use seamwright_page::Kind;

/// A module by its path inside its crate: `["quantity", "unit"]`; the crate's own file is the empty path.
type Module = Vec<String>;

/// The crates, by name, with the text of each module without comments and tests.
fn crates() -> BTreeMap<String, BTreeMap<Module, String>> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    let folders = fs::read_dir(top).unwrap().map(|entry| entry.unwrap().path());
    folders
        .map(|folder| {
            let source = folder.join("src");
            let modules = files(&source).into_iter().filter_map(|file| {
                let path = file.strip_prefix(&source).unwrap().with_extension("");
                let mut module: Module = path.iter().map(|part| part.to_string_lossy().into_owned()).collect();
                if module.last().is_some_and(|last| ["mod", "lib", "main"].contains(&last.as_str())) {
                    module.pop();
                }
                let tests = module.iter().any(|part| part == "tests");
                (!tests).then(|| (module, code(&fs::read_to_string(&file).unwrap())))
            });
            (folder.file_name().unwrap().to_string_lossy().into_owned(), modules.collect())
        })
        .collect()
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().map(|entry| entry.unwrap().path());
    let within = |path: PathBuf| if path.is_dir() { files(&path) } else { vec![path] };
    entries.flat_map(within).filter(|path| path.extension().is_some_and(|end| end == "rs")).collect()
}

/// A text without comments, and without the tests at its end.
fn code(text: &str) -> String {
    let cut = text.match_indices("#[cfg(").find(|(at, _)| {
        let (attribute, after) = text[*at..].split_once('\n').unwrap_or_default();
        let after = after.trim_start().trim_start_matches("pub(crate) ");
        attribute.contains("test")
            && after.starts_with("mod ")
            && after.lines().next().unwrap_or_default().ends_with('{')
    });
    let text = cut.map_or(text, |(at, _)| &text[..at]);
    text.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n")
}

/// The paths that a tree of imports names: `a::{b, c::d}` is `a::b` and `a::c::d`.
fn paths(tree: &str, before: &[String], found: &mut Vec<Vec<String>>) {
    let tree = tree.trim();
    let (head, inside) = match tree.split_once('{') {
        Some((head, inside)) => (head, inside.trim_end().strip_suffix('}')),
        None => (tree.split(" as ").next().unwrap_or_default(), None),
    };
    let mut path = before.to_vec();
    path.extend(head.split("::").map(str::trim).filter(|part| !part.is_empty()).map(str::to_owned));
    let Some(inside) = inside else { return found.push(path) };
    let (mut depth, mut start) = (0, 0);
    for (at, sign) in inside.char_indices().chain([(inside.len(), ',')]) {
        match sign {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                if !inside[start..at].trim().is_empty() {
                    paths(&inside[start..at], &path, found);
                }
                start = at + 1;
            }
            _ => {}
        }
    }
}

/// What a module imports, and names in its code by whole paths; each with whether it hands it on.
fn imports(text: &str) -> Vec<(bool, Vec<String>)> {
    let mut found = Vec::new();
    let mut rest = String::new();
    for statement in text.split_inclusive(';') {
        let start = statement
            .rfind("\nuse ")
            .or_else(|| statement.rfind(" use "))
            .or_else(|| statement.starts_with("use ").then_some(0));
        match start {
            Some(at) if statement.ends_with(';') && !statement[at..].contains(['(', '=']) => {
                let (head, tree) = statement.split_at(at);
                let line = head.rsplit('\n').next().unwrap_or_default();
                let handed_on = line.trim_start().starts_with("pub");
                let mut own = Vec::new();
                paths(tree.trim_start().trim_start_matches("use ").trim_end_matches(';'), &[], &mut own);
                found.extend(own.into_iter().map(|path| (handed_on, path)));
                rest.push_str(head);
            }
            _ => rest.push_str(statement),
        }
    }
    let word = |sign: char| sign.is_alphanumeric() || sign == '_';
    for (at, _) in rest.match_indices("::") {
        let head = &rest[..at];
        let first = &head[head.trim_end_matches(word).len()..];
        if first.is_empty() || head.trim_end_matches(word).ends_with("::") {
            continue;
        }
        let whole = rest[at..].split(|sign| !word(sign) && sign != ':').next().unwrap_or_default();
        let path = [first].into_iter().chain(whole.split("::")).filter(|part| !part.is_empty());
        found.push((false, path.map(str::to_owned).collect()));
    }
    found
}

/// What each module of a crate needs of its other modules; a name that is only handed on is needed where it is defined.
fn needs(modules: &BTreeMap<Module, String>) -> BTreeMap<Module, BTreeSet<Module>> {
    let absolute = |module: &Module, path: &[String]| -> Option<Vec<String>> {
        let (first, rest) = path.split_first()?;
        let mut whole = module.clone();
        match first.as_str() {
            "crate" => whole.clear(),
            "self" => {}
            "super" => {
                whole.pop();
                let up = rest.iter().take_while(|part| *part == "super").count();
                whole.truncate(whole.len().saturating_sub(up));
                whole.extend(rest[up..].iter().cloned());
                return Some(whole);
            }
            child => {
                whole.push(child.to_owned());
                modules.contains_key(&whole).then_some(())?;
            }
        }
        whole.extend(rest.iter().cloned());
        Some(whole)
    };
    let mut handed: BTreeMap<(Module, String), Option<Vec<String>>> = BTreeMap::new();
    let mut used: Vec<(Module, Vec<String>)> = Vec::new();
    for (module, text) in modules {
        for (handed_on, path) in imports(text) {
            let whole = absolute(module, &path);
            if let (true, Some(name)) = (handed_on, path.last()) {
                handed.insert((module.clone(), name.clone()), whole);
            } else if let Some(whole) = whole {
                used.push((module.clone(), whole));
            }
        }
    }
    let mut needs: BTreeMap<Module, BTreeSet<Module>> = BTreeMap::new();
    for (module, mut path) in used {
        // As often as a name may be handed on.
        for _ in 0..8 {
            let owner = (0..=path.len()).rev().map(|end| path[..end].to_vec()).find(|own| modules.contains_key(own));
            let owner = owner.unwrap_or_default();
            let name = path.get(owner.len()).cloned().unwrap_or_default();
            match handed.get(&(owner.clone(), name)) {
                Some(None) => break,
                Some(Some(on)) => path = on.iter().chain(&path[owner.len() + 1..]).cloned().collect(),
                None => {
                    if owner != module {
                        needs.entry(module).or_default().insert(owner);
                    }
                    break;
                }
            }
        }
    }
    needs
}

/// Modules that need each other: those that reach themselves.
fn circles(needs: &BTreeMap<Module, BTreeSet<Module>>) -> BTreeSet<&Module> {
    let reached = |from: &Module| {
        let mut seen: BTreeSet<&Module> = BTreeSet::new();
        let mut open: Vec<&Module> = needs.get(from).into_iter().flatten().collect();
        while let Some(next) = open.pop() {
            if seen.insert(next) {
                open.extend(needs.get(next).into_iter().flatten());
            }
        }
        seen.contains(from)
    };
    needs.keys().filter(|module| reached(module)).collect()
}

#[test]
fn no_modules_of_a_crate_need_each_other() {
    for (name, modules) in crates() {
        let needs = needs(&modules);
        let found: Vec<String> = circles(&needs)
            .into_iter()
            .map(|module| {
                let on: Vec<String> = needs[module].iter().map(|own| own.join("::")).collect();
                format!("{} needs {}", module.join("::"), on.join(", "))
            })
            .collect();
        assert!(found.is_empty(), "{name}: modules need each other in a circle:\n{}", found.join("\n"));
    }
}

#[test]
fn a_circle_is_found() {
    let text = |pairs: &[(&str, &str)]| -> BTreeMap<Module, String> {
        let module = |path: &str| path.split("::").filter(|part| !part.is_empty()).map(str::to_owned).collect();
        pairs.iter().map(|(path, text)| (module(path), (*text).to_owned())).collect()
    };
    let round =
        text(&[("", "pub mod a;\npub mod b;"), ("a", "use crate::b::{B, C};"), ("b", "fn f() { super::a::g(); }")]);
    assert_eq!(circles(&needs(&round)).len(), 2);
    let handed =
        text(&[("", "mod a;\npub use a::A;"), ("a", ""), ("b", "use crate::A;"), ("a::c", "use crate::b::B;")]);
    assert!(circles(&needs(&handed)).is_empty());
}

/// The name of the constant for a name of a table.
fn constant(name: &str) -> String {
    name.replace('-', "_").to_uppercase()
}

/// How often a text names statics of tables, `planning::FILLET_LEG`; keys of a document and labels of a sheet
/// may be called the same.
fn named(text: &str, statics: &BTreeSet<String>) -> usize {
    let of_table = |(at, _): &(usize, &str)| {
        let own = text[at + 2..].split(|own: char| !own.is_alphanumeric() && own != '_').next().unwrap_or_default();
        statics.contains(own) && !["keys", "label"].iter().any(|other| text[..*at].ends_with(other))
    };
    text.match_indices("::").filter(of_table).count()
}

/// The names that stand in a column of tables.
fn column(tables: impl Fn(&str) -> bool, key: &str) -> BTreeSet<&'static str> {
    let rows = TABLES.iter().filter(|info| tables(info.name())).flat_map(|info| &info.table().rows);
    rows.filter_map(|row| row.get(key)?.as_str()).collect()
}

#[test]
fn every_rule_that_the_code_asks_for_stands_in_a_table() {
    let rules = column(|_| true, "rule");
    let quantities = column(|name| ["setting-limits", "aws-d1-1-prequalified"].contains(&name), "quantity");
    let subjects = column(|name| name == "practice-statements", "subject");
    let statics: BTreeSet<String> = rules.iter().map(|rule| constant(rule)).collect();
    let others: BTreeSet<String> = quantities.iter().chain(&subjects).map(|name| constant(name)).collect();
    let asked_by_text = [
        ("rule(\"", &rules),
        ("limits(\"", &quantities),
        ("setting_limits::get(\"", &quantities),
        ("practice::get(\"", &subjects),
    ];
    let (mut asked, mut asked_of_others) = (0, 0);
    for (name, modules) in crates() {
        for (module, text) in modules {
            // What is asked for by its static is there.
            asked += named(&text, &statics);
            asked_of_others += named(&text, &others);
            for (call, listed) in asked_by_text {
                for (at, call) in text.match_indices(call) {
                    let own = text[at + call.len()..].split('"').next().unwrap_or_default();
                    asked += usize::from(call == "rule(\"");
                    // Of some rules each level of a code has its own: `thin-deposit-level-1`.
                    let of_level = |row: &&str| {
                        row.strip_prefix(own).is_some_and(|more| more.is_empty() || more.starts_with("-level-"))
                    };
                    assert!(listed.iter().any(of_level), "{name}, {}: no table has `{own}`", module.join("::"));
                }
            }
        }
    }
    assert!(asked > 250, "{asked} rules are asked for");
    assert!(asked_of_others > 50, "{asked_of_others} quantities and statements are asked for");
}

/// `cargo run`, as the README has it, finds one program to run.
/// Where a kind of sheet may be named beside its own file and its line, and why.
const KINDS_NAMED: [(&str, &str, &[&str]); 8] = [
    ("cli/commands/render/requests", "what is made where no kind is typed", &["Procedure", "BenchCard", "Lesson"]),
    ("cli/commands/render/job", "the findings of a review are also csv and json", &["Review"]),
    (
        "desk/sheets",
        "what a sheet needs is worked out before it: an estimate, a review's length",
        &["Estimate", "Review"],
    ),
    ("desk/judge", "an estimate is worked out before its sheet", &["Estimate"]),
    ("desk/job/papers", "the papers of a job hold the cards of its joints", &["BenchCard"]),
    ("serve/routes/bench", "the page at the bench is the card", &["BenchCard"]),
    ("serve/routes/new", "a draft is shown as the sheet that is welded by", &["BenchCard", "Lesson"]),
    ("serve/routes/print", "a lesson in a binder has its own sheet", &["Lesson"]),
];

#[test]
fn a_kind_of_sheet_is_its_file_and_its_line() {
    let crates = crates();
    let mut used = BTreeSet::new();
    for kind in Kind::ALL {
        let (variant, file) = (format!("{kind:?}"), kind.name().replace('-', "_"));
        let own = ["sheet", "kinds", &file].map(str::to_owned);
        assert!(crates["sheet"].contains_key(&own[1..]), "{variant} has no file kinds/{file}.rs");
        for (name, modules) in &crates {
            for (module, text) in modules {
                let path: Vec<String> = [name.clone()].into_iter().chain(module.iter().cloned()).collect();
                let named = format!("Kind::{variant}");
                let names = text.match_indices(&named).any(|(at, _)| {
                    let before = text[..at].chars().next_back();
                    let after = text[at + named.len()..].chars().next();
                    !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(char::is_alphanumeric)
                });
                if !names || path.starts_with(&own) {
                    continue;
                }
                let path = path.join("/");
                let allowed = KINDS_NAMED.iter().find(|(own, ..)| *own == path);
                assert!(
                    allowed.is_some_and(|(.., kinds)| kinds.contains(&variant.as_str())),
                    "{path} names the kind {variant}: what is particular to it stands in kinds/{file}.rs or in its line of kind.rs"
                );
                used.insert((path, variant.clone()));
            }
        }
    }
    for (path, reason, kinds) in KINDS_NAMED {
        for kind in kinds {
            assert!(used.contains(&(path.to_owned(), (*kind).to_owned())), "{path} names no {kind}: {reason}");
        }
    }
}

#[test]
fn cargo_run_finds_the_program() {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let done = std::process::Command::new(cargo)
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1"])
        .current_dir(top)
        .output()
        .unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let told: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    let default = told["workspace_default_members"].as_array().unwrap();
    let of_default = told["packages"].as_array().unwrap().iter().filter(|own| default.contains(&own["id"]));
    let programs: Vec<&str> = of_default
        .flat_map(|own| own["targets"].as_array().unwrap())
        .filter(|own| own["kind"].as_array().is_some_and(|kind| kind.iter().any(|kind| kind == "bin")))
        .filter_map(|own| own["name"].as_str())
        .collect();
    assert_eq!(programs, ["seamwright"], "`cargo run` cannot tell which to run");
}
