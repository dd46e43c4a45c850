//! Bench cards and lessons in Spanish and German: whole, proved, and told by what lacks.

mod common;

use std::fs;
use std::path::PathBuf;

use common::{names, root, run};

/// Every procedure of the library and the lessons of the examples.
fn documents() -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> =
        fs::read_dir(root().join("procedures")).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.retain(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    found.sort();
    found.extend(["lesson", "lesson-vertical"].map(|name| root().join("examples").join(name).join("lesson.yaml")));
    assert!(found.len() > 40, "{}", found.len());
    found
}

#[test]
fn no_word_of_the_library_lacks_in_spanish_or_german() {
    for language in ["es", "de"] {
        let mut line = vec!["check".to_owned(), "--language".to_owned(), language.to_owned()];
        line.extend(documents().iter().map(|path| path.display().to_string()));
        let (_, said, _) = run(&line);
        let said = said.replace('\n', " ");
        assert!(said.matches("lacks no word").count() == documents().len(), "{language}: {said}");
    }
}

#[test]
fn a_word_that_lacks_is_listed_and_stands_in_english() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.yaml");
    // A method of inspection that no table knows.
    let text = fs::read_to_string(root().join("procedures/tee-fillet-6-s235-111.yaml")).unwrap();
    let text = format!("{text}\n").replacen("method: visual", "method: eddy current", 1);
    assert!(text.contains("eddy current"));
    fs::write(&file, text).unwrap();
    let line = |words: &[&str]| {
        let own: Vec<String> =
            words.iter().map(|word| (*word).to_owned()).chain([file.display().to_string()]).collect();
        run(&own)
    };
    let (_, said, _) = line(&["check", "--language", "de"]);
    assert!(said.replace('\n', " ").contains("German lacks, and prints in English: eddy current"), "{said}");
    let out = folder.path().join("out").display().to_string();
    let (code, _, said) = line(&["render", "--sheet", "bench-card", "--language", "de", "--to", "html", "--out", &out]);
    assert_eq!(code, 0, "{said}");
    let page = fs::read_to_string(folder.path().join("out/p.bench-card.de.html")).unwrap();
    assert!(page.contains("Eddy current") && !page.contains('\u{e000}'), "the word stands, without a mark");
}

#[test]
fn cards_and_lessons_stand_beside_the_english_ones_and_are_proved() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out").display().to_string();
    let render = |more: &[&str]| {
        let mut line = vec!["render", "procedures/tee-fillet-3-304l-141.yaml", "examples/lesson/lesson.yaml"];
        line.extend(["--language", "en,es,de", "--out", &out]);
        line.extend(more);
        run(&line)
    };
    let (code, _, said) = render(&["--sheet", "bench-card,lesson"]);
    assert_eq!(code, 0, "{said}");
    let made = names(&folder.path().join("out"));
    for stem in ["tee-fillet-3-304l-141.bench-card", "lesson.lesson"] {
        for ending in ["pdf", "html", "es.pdf", "es.html", "de.pdf", "de.html"] {
            assert!(made.contains(&format!("{stem}.{ending}")), "{stem}.{ending}: {made:?}");
        }
    }
    // What stands is left as it is.
    // The lesson's shop hangs on the day, so that it is made anew; the cards stand, in every language.
    let card = "procedures/tee-fillet-3-304l-141.yaml";
    let line = ["render", card, "--sheet", "bench-card,lesson", "--language", "en,es,de"];
    let (_, _, said) = run(&[line.as_slice(), &["--out", &out]].concat());
    assert!(said.contains("left 6 sheets"), "{said}");
    for (language, words) in [
        ("es", ["Deténgase y pregunte", "Tono del filtro", "Advertencias", "Antes del arco"].as_slice()),
        ("de", ["Anhalten und nachfragen", "Schutzstufe", "Vor dem Lichtbogen", "Schweißrauch"].as_slice()),
    ] {
        let file = format!("tee-fillet-3-304l-141.bench-card.{language}.html");
        let page = fs::read_to_string(folder.path().join("out").join(file)).unwrap();
        assert!(page.contains(&format!("<html lang=\"{language}\">")));
        for word in words.iter().filter(|word| **word != "Advertencias") {
            assert!(page.contains(word), "{language}: {word}");
        }
        for english in ["Stop and ask", "Before the arc", "Lens shade", "Source digest", "work clamp"] {
            assert!(!page.contains(english), "{language}: {english}");
        }
    }
    for sheet in ["tee-fillet-3-304l-141.bench-card.es.pdf", "tee-fillet-3-304l-141.bench-card.de.html"] {
        let path = folder.path().join("out").join(sheet);
        let (code, said, _) = run(&["check", &path.display().to_string()]);
        assert!(code < 2 && said.contains("is proved"), "{sheet}: {said}");
        // A word that is changed is found out.
        let mut bytes = fs::read(&path).unwrap();
        if sheet.ends_with("html") {
            let text = String::from_utf8(bytes).unwrap().replacen("Schutzstufe", "Schutzstufo", 1);
            bytes = text.into_bytes();
            fs::write(&path, bytes).unwrap();
            let (code, said, _) = run(&["check", &path.display().to_string()]);
            assert!(code == 2 && said.contains("not proved"), "{said}");
        }
    }
}

#[test]
fn a_kind_that_is_english_only_is_refused_with_what_to_write() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out").display().to_string();
    let card = "procedures/tee-fillet-6-s235-111.yaml";
    let (code, _, said) = run(&["render", card, "--sheet", "procedure", "--language", "es", "--out", &out]);
    assert_eq!(code, 2);
    let said = said.replace('\n', " ");
    assert!(said.contains("made in English only") && said.contains("--sheet bench-card"), "{said}");
    assert!(names(&folder.path().join("out")).is_empty());
    let (code, _, said) = run(&["render", card, "--language", "fr", "--out", &out]);
    assert!(code == 2 && said.contains("'fr'"), "{said}");
    // Beside English, each kind comes in the languages that it has.
    let (code, _, said) =
        run(&["render", card, "--sheet", "procedure,bench-card", "--language", "en,es", "--to", "pdf", "--out", &out]);
    assert_eq!(code, 0, "{said}");
    let stem = "tee-fillet-6-s235-111";
    let wanted = [format!("{stem}.bench-card.es.pdf"), format!("{stem}.bench-card.pdf"), format!("{stem}.pdf")];
    assert_eq!(names(&folder.path().join("out")), wanted);
}

/// What the tags of a PDF and the drawings of a page say of each figure.
fn told(folder: &std::path::Path, stem: &str) -> (Vec<String>, Vec<String>) {
    let pdf = lopdf::Document::load(folder.join(format!("{stem}.pdf"))).unwrap();
    let parts = pdf.objects.values().filter_map(|object| object.as_dict().ok());
    let alts = parts.filter_map(|part| lopdf::decode_text_string(part.get(b"Alt").ok()?).ok());
    let page = fs::read_to_string(folder.join(format!("{stem}.html"))).unwrap();
    let descriptions = page.split("<desc ").skip(1).filter_map(|rest| {
        let text = rest.split_once('>')?.1.split_once("</desc>")?.0;
        Some(
            text.replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&quot;", "\"")
                .replace("&#39;", "'")
                .replace("&amp;", "&"),
        )
    });
    (alts.collect(), descriptions.collect())
}

#[test]
fn drawings_are_told_in_spanish_and_german_by_the_tags_of_a_pdf() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let documents = [
        "procedures/tee-fillet-3-304l-141.yaml",
        "procedures/lap-fillet-2-carbon-141.yaml",
        "procedures/pipe-butt-p235gh-141-111.yaml",
        "examples/lesson/lesson.yaml",
    ];
    let line =
        [["render"].as_slice(), &documents, &["--sheet", "bench-card,lesson", "--language", "en,es,de"]].concat();
    let (code, _, said) = run(&[line.as_slice(), &["--out", &out.display().to_string()]].concat());
    assert_eq!(code, 0, "{said}");
    for stem in [
        "tee-fillet-3-304l-141.bench-card",
        "lap-fillet-2-carbon-141.bench-card",
        "pipe-butt-p235gh-141-111.bench-card",
        "lesson.lesson",
    ] {
        let (english, _) = told(&out, stem);
        for (language, words) in [("es", ["raíz", "posición", "antorcha"]), ("de", ["Wurzel", "Position", "Brenner"])]
        {
            let (alts, descriptions) = told(&out, &format!("{stem}.{language}"));
            // Which pictures have room on a card hangs on the length of its words.
            assert!(alts.len() > 2, "{stem}.{language}: {alts:#?}");
            for alt in &alts {
                assert!(!english.contains(alt), "{stem}.{language} in English: {alt}");
            }
            // The code of a sheet is told by its name in a page, and not by a description.
            let otherwise: Vec<&String> = alts.iter().filter(|alt| !descriptions.contains(alt)).collect();
            assert!(otherwise.len() <= 1, "{stem}.{language} tells otherwise than its page: {otherwise:?}");
            let all = alts.join(" ").to_lowercase();
            assert!(words.iter().any(|word| all.contains(&word.to_lowercase())), "{language}: {all}");
        }
    }
}

#[test]
fn no_card_of_the_library_is_without_its_joint_in_any_language() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let procedures: Vec<PathBuf> = documents().into_iter().filter(|path| !path.ends_with("lesson.yaml")).collect();
    let line = |more: &[&str]| {
        let mut line: Vec<String> = vec!["render".to_owned(), "--sheet".to_owned(), "bench-card".to_owned()];
        line.extend(procedures.iter().map(|path| path.display().to_string()));
        line.extend(more.iter().map(|own| (*own).to_owned()));
        line
    };
    let (code, _, said) = run(&line(&["--language", "en,es,de", "--out", &out.display().to_string()]));
    assert!(code < 2, "{said}");
    for (ending, title) in [("bench-card", "Joint"), ("bench-card.es", "Unión"), ("bench-card.de", "Stoß")] {
        let mut drawn = 0;
        for path in &procedures {
            let stem = format!("{}.{ending}", path.file_stem().unwrap().to_string_lossy());
            let page = fs::read_to_string(out.join(format!("{stem}.html"))).unwrap();
            let Some((_, figure)) = page.split_once(&format!("<h2>{title}")) else { continue };
            let (_, figure) = figure.split_once("<desc ").unwrap();
            let joint = figure.split_once('>').unwrap().1.split_once("</desc>").unwrap().0;
            let (alts, descriptions) = told(&out, &stem);
            let joint = descriptions.iter().find(|own| own.starts_with(joint.split('&').next().unwrap())).unwrap();
            assert!(alts.contains(joint), "{stem} is without its joint");
            drawn += 1;
        }
        assert!(drawn > 45, "{ending}: {drawn}");
    }
}
