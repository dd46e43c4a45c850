//! The pages that a newcomer follows: every command on them does what is said there, typed in a clean folder that holds
//! nothing but what the project hands out.

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use common::{ended, root};

/// A clean folder with the starter library and the examples, and the program on the PATH.
struct Clean {
    folder: tempfile::TempDir,
    path: std::ffi::OsString,
}

impl Clean {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        for name in ["examples", "procedures"] {
            copy(&root().join(name), &folder.path().join(name));
        }
        let bin = Path::new(env!("CARGO_BIN_EXE_seamwright")).parent().unwrap().to_owned();
        let old = std::env::var_os("PATH").unwrap_or_default();
        let path = std::env::join_paths(std::iter::once(bin).chain(std::env::split_paths(&old))).unwrap();
        Self { folder, path }
    }

    /// Types a line into a shell; exit status, results, and all that was said.
    fn typed(&self, line: &str) -> (i32, String, String) {
        let mut command = Command::new("sh");
        command.args(["-c", line]).current_dir(self.folder.path()).env("PATH", &self.path).env("NO_COLOR", "1");
        ended(&command.output().unwrap())
    }

    fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let own = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &own);
        } else {
            fs::copy(entry.path(), own).unwrap();
        }
    }
}

/// Every line of a page that begins with the program's name, and how it ends: `# exit status N` says so where it is not 0.
fn commands(page: &Path) -> Vec<(String, i32)> {
    let text = fs::read_to_string(page).unwrap();
    let mut fenced = false;
    let mut found = Vec::new();
    for line in text.lines() {
        fenced ^= line.starts_with("```");
        if !fenced || !line.starts_with("seamwright ") {
            continue;
        }
        let status = line
            .split_once("# exit status ")
            .map_or(0, |(_, status)| status.get(..1).and_then(|status| status.parse().ok()).unwrap());
        found.push((line.to_owned(), status));
    }
    found
}

/// Runs the commands of a page in its order in one clean folder; how many there were.
fn follow(page: &Path) -> usize {
    let clean = Clean::new();
    let mut run = 0;
    for (line, status) in commands(page) {
        // It answers until it is ended; its tests are its own.
        if line.starts_with("seamwright serve") {
            continue;
        }
        let (code, _, said) = clean.typed(&line);
        assert_eq!(code, status, "{}: {line}\n{said}", page.display());
        run += 1;
    }
    run
}

#[test]
fn the_commands_of_the_examples_run_in_a_clean_folder() {
    let mut run = 0;
    for entry in fs::read_dir(root().join("examples")).unwrap() {
        let page = entry.unwrap().path().join("README.md");
        let own = follow(&page);
        assert!(own > 0, "{} shows no command", page.display());
        run += own;
    }
    assert!(run >= 28, "{run}");
}

#[test]
fn the_first_steps_of_the_front_page_run_in_a_clean_folder() {
    let page = root().join("README.md");
    assert!(follow(&page) >= 8);
    // What is shown there as typed elsewhere has the words that the commands know.
    let text = fs::read_to_string(page).unwrap();
    for folder in fs::read_dir(root().join("examples")).unwrap() {
        let name = folder.unwrap().file_name().to_string_lossy().into_owned();
        assert!(text.contains(&format!("(examples/{name})")), "the front page does not link examples/{name}");
    }
}

#[test]
fn the_commands_of_the_guide_run_in_a_clean_folder() {
    let guide = root().join("docs/guide");
    let list = fs::read_to_string(guide.join("SUMMARY.md")).unwrap();
    let pages: Vec<&str> = list.split("](").skip(1).filter_map(|rest| rest.split(')').next()).collect();
    assert!(pages.len() >= 10 && pages.len() <= 15, "{pages:?}");
    let mut run = 0;
    for entry in fs::read_dir(&guide).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.extension().is_none_or(|ending| ending != "md") || name == "SUMMARY.md" {
            continue;
        }
        assert!(pages.contains(&name.as_str()), "{name} is not in the list of pages");
        let text = fs::read_to_string(&path).unwrap();
        // What a page links is there; the page on the browser has a file of its own.
        for link in text.split("](").skip(1).filter_map(|rest| rest.split([')', '#']).next()) {
            let there = link.starts_with("http") || link == "browser.md" || guide.join(link).exists();
            assert!(there, "{name} links {link}");
        }
        run += follow(&path);
    }
    assert!(run >= 50, "{run}");
}

#[test]
fn render_says_what_it_wrote_what_it_left_and_where_to_look() {
    let clean = Clean::new();
    let (code, _, said) = clean.typed("seamwright render procedures/butt-3-carbon-141.yaml --out cards");
    assert!(code == 0 && said.contains("wrote cards/butt-3-carbon-141."), "{said}");
    assert!(clean.at("cards/butt-3-carbon-141.pdf").is_file());
    let (code, _, said) = clean.typed("seamwright render procedures --out sheets");
    let count = fs::read_dir(clean.at("procedures")).unwrap().count();
    assert_eq!(code, 0, "{said}");
    assert!(said.contains(&format!("wrote {} sheets to sheets; open sheets/index.html", 2 * count)), "{said}");
    // Those with notes stand as well as those without.
    let (_, _, again) = clean.typed("seamwright render procedures --out sheets");
    assert!(again.contains(&format!("left {} sheets in sheets as they were", 2 * count)), "{again}");
    fs::remove_file(clean.at("sheets/butt-3-carbon-141.pdf")).unwrap();
    let (_, _, one) = clean.typed("seamwright render procedures --out sheets");
    assert!(one.contains(&format!("wrote 2 sheets to sheets, left {} as they were", 2 * count - 2)), "{one}");
    let (_, _, binder) = clean.typed("seamwright render procedures --out sheets --binder --to pdf");
    assert!(binder.contains("all in one: sheets/binder.pdf"), "{binder}");
}

#[test]
fn render_prints_of_each_document_the_sheet_that_it_has() {
    let clean = Clean::new();
    let (code, _, said) = clean.typed("seamwright render examples/lesson --out class");
    assert!(code == 0 && clean.at("class/lesson.lesson.pdf").is_file(), "{said}");
    // A folder may hold what has no sheet; a file that is named is to have one.
    fs::copy(clean.at("examples/shop/shop.yaml"), clean.at("examples/lesson/shop.yaml")).unwrap();
    let (code, _, said) = clean.typed("seamwright render examples/lesson --out class");
    assert!(code == 0 && said.contains("left out: examples/lesson/shop.yaml: `document: shop` has no"), "{said}");
    let (code, _, said) = clean.typed("seamwright render examples/shop/shop.yaml --out class");
    assert!(code == 2 && !said.contains("left out"), "{said}");
    let (code, _, said) = clean.typed("seamwright render examples/shop --out class");
    assert!(code == 2 && said.contains("nothing was printed"), "{said}");
}

#[test]
fn a_lesson_prints_the_plan_the_sheet_of_the_learner_and_the_marks() {
    let clean = Clean::new();
    for (folder, learners) in [("lesson", 12), ("lesson-vertical", 10)] {
        let (code, _, said) = clean.typed(&format!("seamwright render examples/{folder}/lesson.yaml --out {folder}"));
        assert_eq!(code, 0, "{said}");
        assert!(said.contains("0 errors, 0 cautions"), "{said}");
        let page = fs::read_to_string(clean.at(&format!("{folder}/lesson.lesson.html"))).unwrap();
        let mut at = 0;
        for part in ["Instructor's plan", "Learner's sheet", "Marks of the class", "Marking sheet"] {
            let part = part.replace('\'', "&#39;");
            let found = page[at..].find(&part).unwrap_or_else(|| panic!("{folder}: no {part} in its place"));
            at += found;
        }
        // A line of the grid for each learner, under that of the headings.
        let grid = page.split("Marks of the class").last().unwrap();
        let rows = grid.split("</table>").next().unwrap().matches("<tr").count();
        assert_eq!(rows, learners + 1, "{folder}");
        assert!(page.contains("invented"), "{folder}");
    }
}

#[test]
fn find_ends_with_1_where_nothing_covers_and_calls_near_what_is_near() {
    let clean = Clean::new();
    let ask = |thickness: &str| {
        let line =
            format!("seamwright find --metal S355J2 --thickness \"{thickness}\" --joint tee --position PB procedures");
        clean.typed(&line)
    };
    // Tees of S355 in PB are of 10, 12 and 20 mm.
    let (code, out, _) = ask("12 mm");
    assert!(code == 0 && out.contains("\ncovered") || out.starts_with("covered"), "{out}");
    let (code, out, _) = ask("80 mm");
    assert!(code == 1 && out.contains("0 covered, 0 nearly") && out.contains("draft --interactive"), "{out}");
    let (code, out, _) = clean.typed("seamwright find --metal S355J2 --joint tee --position horizontal procedures");
    assert!(code == 0 && out.contains("covered"), "{out}");
    let (code, _, said) = clean.typed("seamwright find --metal S355J2 --position overhead procedures");
    assert!(code == 2 && said.contains("PE of a groove and PD of a fillet"), "{said}");
    let (code, out, _) = ask("8 mm");
    assert!(code == 1 && out.contains("0 covered, 2 nearly"), "{out}");
    // The nearest first.
    assert!(out.find("10 mm: 2.00 mm below").unwrap() < out.find("12 mm: 4.00 mm below").unwrap(), "{out}");
    let (code, out, _) = clean.typed("mkdir none && seamwright find --metal S355J2 examples/shop/shop.yaml");
    assert!(code == 1 && out.contains("no procedure here"), "{out}");
}

#[test]
fn the_day_of_a_document_is_that_of_the_place() {
    let clean = Clean::new();
    // The farthest time zones east and west, as POSIX spells them: their dates always differ.
    let (_, date, _) = clean.typed("TZ=EAST-14 date +%F");
    let text =
        common::procedure("P-1", "Trial").replace("title: Trial", &format!("title: Trial, date: {}", date.trim()));
    fs::write(clean.at("today.yaml"), text).unwrap();
    let (_, _, east) = clean.typed("TZ=EAST-14 seamwright check today.yaml");
    assert!(!east.contains("in the future"), "{east}");
    let (_, _, west) = clean.typed("TZ=WEST12 seamwright check today.yaml");
    assert!(west.contains("in the future"), "{west}");
}
