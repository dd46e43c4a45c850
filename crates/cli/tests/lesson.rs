//! Lessons as they are drafted, checked and printed: the steps before the arc, what a class uses, what is accepted.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{root, run};

/// A drafted lesson on a procedure, in a folder of its own.
fn drafted(procedure: &Path, folder: &Path, learners: &str, booths: &str) -> PathBuf {
    let line = ["draft", "--lesson", procedure.to_str().unwrap(), "--learners", learners, "--booths", booths];
    let (code, text, said) = run(&line);
    assert_eq!(code, 0, "{said}");
    // The procedure stands in another folder than the lesson.
    let own = text.lines().map(|line| {
        if line.starts_with("procedure: ") { format!("procedure: {}", procedure.display()) } else { line.to_owned() }
    });
    let file = folder.join("lesson.yaml");
    fs::write(&file, own.collect::<Vec<_>>().join("\n") + "\n").unwrap();
    file
}

/// The lesson on a procedure as a page.
fn page(procedure: &Path, learners: &str, booths: &str, language: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let lesson = drafted(procedure, folder.path(), learners, booths);
    printed(&lesson, folder.path(), language)
}

/// A lesson as a page, without its marks.
fn printed(lesson: &Path, folder: &Path, language: &str) -> String {
    let out = folder.join("out");
    let line = ["render", lesson.to_str().unwrap(), "--sheet", "lesson", "--to", "html", "--language", language];
    let (_, _, said) = run(&[line.as_slice(), &["--out", out.to_str().unwrap()]].concat());
    let made = fs::read_dir(&out).unwrap_or_else(|_| panic!("{said}")).next().unwrap().unwrap().path();
    let text = fs::read_to_string(made).unwrap();
    // Without the source that it carries.
    let body = text.split("<main").nth(1).unwrap_or(&text);
    let mut plain = String::new();
    let mut within = false;
    for letter in body.chars() {
        match letter {
            '<' => within = true,
            '>' => {
                within = false;
                plain.push(' ');
            }
            _ if !within => plain.push(letter),
            _ => {}
        }
    }
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn library(name: &str) -> PathBuf {
    root().join("procedures").join(name)
}

#[test]
fn whoever_follows_the_steps_heats_purges_and_shields_before_the_arc() {
    let asked: [(&str, &str, &[&str]); 6] = [
        (
            "butt-6-copper-141.yaml",
            "en",
            &["Preheat to 350\u{2013}400 °C", "thermometer", "mark it HOT", "Between runs: 350\u{2013}450 °C"],
        ),
        ("butt-6-copper-141.yaml", "de", &["Vorwärmen auf 350\u{2013}400 °C", "mit HEISS kennzeichnen"]),
        (
            "butt-3-titanium-141.yaml",
            "en",
            &[
                "Fit the trailing shield behind the torch: argon, 15\u{2013}20 L/min",
                "backing bar or box",
                "oxygen 10 ppm",
            ],
        ),
        (
            "pipe-butt-304l-141-pc.yaml",
            "en",
            &[
                "Dams in the pipe",
                "Purge before the first arc, for tack welds too: 3 min minimum, oxygen 50 ppm maximum",
                "until: two layers stand",
            ],
        ),
        ("pipe-butt-304l-141-pc.yaml", "es", &["Tapones de purga", "Purgue antes del primer arco"]),
        (
            "butt-20-a516-121.yaml",
            "en",
            &[
                "clear safety glasses",
                "Fill the hopper with flux: F7A2-EM12K, dried",
                "Spread flux over the joint",
                "Take up the loose flux",
            ],
        ),
    ];
    for (procedure, language, words) in asked {
        let page = page(&library(procedure), "9", "3", language);
        for word in words {
            assert!(page.contains(word), "{procedure} in {language} has no `{word}`: {page}");
        }
    }
    let covered = page(&library("butt-20-a516-121.yaml"), "9", "3", "en");
    assert!(!covered.contains("Helmet down") && !covered.contains("hang the torch up"), "{covered}");
    // A plate at the heat of the room is not told to be hot before the arc.
    let cold = page(&library("butt-3-carbon-141.yaml"), "9", "3", "en");
    assert!(!cold.contains("HOT") && !cold.contains("Preheat to"), "{cold}");
}

#[test]
fn the_kit_has_the_gas_of_torch_root_and_trailing_shield() {
    let page = page(&library("butt-3-titanium-141.yaml"), "9", "3", "en");
    for words in ["Gas I1 1.65 m³", "Trailing gas I1", "Backing gas I1"] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn the_fullest_booth_has_pieces_for_all_its_learners() {
    let page = page(&library("butt-6-copper-141.yaml"), "7", "3", "en");
    // Two joints of two pieces each: four for a learner, twelve for a booth of three.
    assert!(page.contains("C12200, 6 mm × 50 mm × 150 mm 4 12 36"), "{page}");
}

/// Every procedure of the library, drafted as a lesson of 12 learners in 6 booths.
#[test]
fn a_drafted_lesson_passes_its_own_check() {
    let mut wrong = Vec::new();
    let mut files: Vec<PathBuf> =
        fs::read_dir(root().join("procedures")).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    assert!(files.len() > 40);
    let folder = tempfile::tempdir().unwrap();
    for (learners, booths) in [("12", "6"), ("9", "3")] {
        for file in &files {
            let lesson = drafted(file, folder.path(), learners, booths);
            let (_, said, _) = run(&["check", lesson.to_str().unwrap()]);
            if !said.contains("0 errors, 0 cautions") {
                wrong.push(format!("{}: {said}", file.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_drafted_lesson_is_of_the_procedures_own_weld() {
    let folder = tempfile::tempdir().unwrap();
    let text = |file: &Path| fs::read_to_string(drafted(file, folder.path(), "12", "6")).unwrap();
    let pipe = text(&library("pipe-butt-304l-141-pc.yaml"));
    assert!(
        pipe.contains("coupon: {outside_diameter: 60.3 mm, thickness: 3.9 mm, length: 75 mm, pieces: 2}"),
        "{pipe}"
    );
    assert!(pipe.contains("weld: \"pipe butt to the procedure\"") && !pipe.contains("width: 50 mm"), "{pipe}");
    // Level B of ISO 5817: 0.05 x 3.9 mm is 0.195 mm, and never 0.2 mm.
    assert!(pipe.contains("{what: undercut, accepted: \"0.1 mm maximum\""), "{pipe}");
    assert!(pipe.contains("{what: excess weld metal, accepted: \"1 mm + 0.1 x width, at most 5 mm\""), "{pipe}");
    let structural = text(&library("butt-3-8-in-a36-111-3g.yaml"));
    assert!(structural.contains("acceptance: \"AWS D1.1 Table 8.1\"  # of the procedure"), "{structural}");
    assert!(structural.contains("accepted: \"by AWS D1.1 Table 8.1\""), "{structural}");
    let whole = fs::read_to_string(library("tee-fillet-12-s355-135.yaml")).unwrap();
    let trial = |name: &str, edits: &[(&str, &str)]| {
        let own = edits.iter().fold(whole.clone(), |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replacen(from, to, 1)
        });
        let file = folder.path().join(name);
        fs::write(&file, own).unwrap();
        text(&file)
    };
    for (weld, said) in
        [("plug", "Plug weld with 135"), ("surfacing", "Surfacing with 135"), ("edge", "Edge weld with 135")]
    {
        let own = trial("own.yaml", &[("  weld: fillet", &format!("  weld: {weld}"))]);
        assert!(own.contains(&format!("title: \"{said}")) && !own.contains("tee fillet to"), "{own}");
    }
}

#[test]
fn what_is_stamped_on_a_lesson_stands_on_its_plan() {
    let folder = tempfile::tempdir().unwrap();
    let lesson = drafted(&library("butt-3-carbon-141.yaml"), folder.path(), "9", "3");
    let text = fs::read_to_string(&lesson).unwrap();
    let short = text.lines().map(|line| if line.starts_with("duration:") { "duration: 3 h" } else { line });
    fs::write(&lesson, short.collect::<Vec<_>>().join("\n") + "\n").unwrap();
    let page = printed(&lesson, folder.path(), "en");
    assert!(page.contains("Put right before the lesson"), "{page}");
    assert!(
        page.contains("the exercises take 3 h for 9 learners at 3 booths; 2 h 20 min are left for welding"),
        "{page}"
    );
    assert!(!page.contains("see the review"), "{page}");
    // In another language the reader is told why these lines are in English.
    assert!(!page.contains("told in English"), "{page}");
    fs::remove_dir_all(folder.path().join("out")).unwrap();
    let german = printed(&lesson, folder.path(), "de");
    assert!(german.contains("Die Befunde der Prüfungen stehen auf Englisch."), "{german}");
    let (_, said, _) = run(&["check", lesson.to_str().unwrap()]);
    assert!(said.replace('\n', " ").contains("2 h 20 min"), "{said}");
}
