//! The binary under hostile documents: each is refused with its place, or its text stays text, wherever it ends up.

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use common::{names, procedure, run, text};
use serde_json::Value;

/// Checks and renders a file that must be refused: no sheet, and a message with each of the texts.
fn refused(bytes: &[u8], texts: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("x.yaml"), folder.path().join("out"));
    fs::write(&path, bytes).unwrap();
    let all = [&["check", text(&path)][..], &["render", text(&path), "--out", text(&out)]].map(run);
    for (code, _, said) in all {
        assert_eq!(code, 2, "{said}");
        assert!(texts.iter().all(|text| said.contains(text)), "{texts:?} is not in:\n{said}");
        assert!(said.len() < 100_000, "the message has {} bytes", said.len());
        let steers = |own: char| seamwright_model::source::hidden(own) && own != '\n';
        assert!(!said.contains(steers), "{said:?}");
    }
    assert_eq!(names(&out), Vec::<String>::new());
}

/// The start of a document, then the given lines.
fn document(rest: &str) -> Vec<u8> {
    format!("format: 1\ndocument: procedure\n{rest}\n").into_bytes()
}

/// Renders a document that is sound but for its size or its words; gives its page and what was said.
fn rendered(document: &str) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.yaml");
    fs::write(&path, document).unwrap();
    let (code, _, said) = run(&["render", text(&path), "--out", text(folder.path())]);
    assert!(code < 2, "{said}");
    assert_eq!(names(folder.path()), ["x.html", "x.pdf", "x.yaml"], "{said}");
    let pdf = fs::read(folder.path().join("x.pdf")).unwrap();
    assert_eq!(seamwright_page::pdf::source_of(&pdf).unwrap().text, document);
    (fs::read_to_string(folder.path().join("x.html")).unwrap(), said)
}

#[test]
fn aliases_multiply_neither_values_nor_depth() {
    let values = (0..40)
        .fold("a0: &a0 [x, x]".to_owned(), |text, n| format!("{text}\na{}: &a{} [*a{n}, *a{n}, *a{n}]", n + 1, n + 1));
    refused(&document(&values), &["more than 400000 values once its aliases are written out", "x.yaml:"]);
    // Each alias stands for few values, but every one lies deeper than the one before.
    let deep = |from: &str| format!("{}{from}{}", "[".repeat(30), "]".repeat(30));
    let depth = (0..12_000).fold(format!("a0: &a0 {}", deep("x")), |text, n| {
        format!("{text}\na{}: &a{} {}", n + 1, n + 1, deep(&format!("*a{n}")))
    });
    refused(&document(&depth), &["values are nested more than 32 deep", "x.yaml:4:"]);
    // Anchors inside anchors: each would keep all that is below it.
    let opened: String = (0..30).map(|n| format!("[&a{n} ")).collect();
    let anchors = format!("notes: {opened}[{}]{}", "x, ".repeat(200_000), "]".repeat(30));
    refused(&document(&anchors), &["more than 400000 values once its aliases are written out"]);
    // One long value, many times.
    let long = format!("notes: [&a {}{}]", "x".repeat(16_000), ", *a".repeat(200_000));
    refused(&document(&long), &["more than 4194304 bytes of text once its aliases are written out"]);
    refused(&document("notes: &a [*a]"), &["this alias names no finished value"]);
}

#[test]
fn brackets_and_keys_without_end_are_refused() {
    for bracket in ["[", "{", "- ", "? ", "&a [", "!!x [", "a: "] {
        refused(&document(&format!("notes: {}", bracket.repeat(100_000))), &["x.yaml:3:"]);
    }
    let indented: String = (0..1400).map(|depth| format!("{}a:\n", " ".repeat(depth))).collect();
    refused(indented.as_bytes(), &["values are nested more than 32 deep"]);
    let keys: String = (0..60_000).map(|key| format!("k{key}: 1\n")).collect();
    refused(&document(&keys), &["more than 1000 keys stand in one section"]);
    let twice = "title: x\n".repeat(60_000);
    refused(&document(&twice), &["the key `title` stands twice"]);
}

#[test]
fn values_and_files_over_their_limits_are_refused() {
    let most = 1 << 20;
    for value in ["x".repeat(most - 200), format!("\"{}\"", "y ".repeat(most / 2 - 200)), "9".repeat(most - 200)] {
        let file = procedure("P-1", &value);
        refused(file.as_bytes(), &["the most is 16384", "x.yaml:3:"]);
    }
    let block = format!("notes:\n- |\n{}", "  a line\n".repeat(100_000));
    refused(&document(&block), &["the most is 16384"]);
    refused(&document(&format!("{}: 1", "k".repeat(most - 200))), &["x.yaml:3:"]);
    refused(&document(&format!("notes: [{}]", "x,".repeat(most / 2 - 100))), &["x.yaml:"]);
    refused(&document(&format!("# {}", "x".repeat(most))), &["the most is 1 MiB"]);
    // A comment may be as long as the file.
    let long = format!("{}# {}\n", procedure("P-1", "Trial"), "x".repeat(most - 500));
    assert!(rendered(&long).0.contains("Trial"));
}

// What is told apart is told apart whole: nothing is left out without a word.
#[test]
fn more_conditions_or_choices_than_are_told_apart_are_refused_with_their_place() {
    let head = "identification: {number: P-1, revision: 1, title: T}";
    let conditions: String = (1..=70).map(|n| format!("  c{n}: {{thickness: {n} mm}}\n")).collect();
    let own = document(&format!("{head}\nconditions:\n{conditions}"));
    refused(&own, &["the procedure has 70 conditions; at most 64 can be told apart", "x.yaml:69:3"]);
    let runs: String =
        (1..=70).map(|n| format!("- {{run: {n}, process: 141, filler: rod {n} or wire {n}}}\n")).collect();
    let own = document(&format!("{head}\nruns:\n{runs}"));
    refused(&own, &["the procedure has 70 different choices; at most 64 can be told apart", "x.yaml:69:"]);
    // A choice of many in one place.
    let many: String = (1..=70).map(|n| format!(" or wire {n}")).collect();
    let own = document(&format!("{head}\nfillers: {{f: {{designation: rod{many}}}}}"));
    refused(&own, &["the procedure has 70 different choices; at most 64 can be told apart", "x.yaml:4:"]);
}

#[test]
fn ten_thousand_runs_render() {
    let runs: String = (1..=10_000).map(|run| format!("- {{run: {run}, process: 111, current: 90 A}}\n")).collect();
    let head = procedure("P-1", "Trial");
    let head = head.split_once("- {run").unwrap().0;
    let (page, _) = rendered(&format!("{head}{runs}"));
    assert!(page.matches("<tr").count() >= 10_000);
}

#[test]
fn characters_that_hide_or_steer_are_refused_with_their_place() {
    for (character, code) in [
        ('\0', "U+0000"),
        ('\u{1}', "U+0001"),
        ('\u{7}', "U+0007"),
        ('\u{1b}', "U+001B"),
        ('\u{7f}', "U+007F"),
        ('\u{9b}', "U+009B"),
        ('\u{202a}', "U+202A"),
        ('\u{202e}', "U+202E"),
        ('\u{2066}', "U+2066"),
        ('\u{feff}', "U+FEFF"),
        ('\u{34f}', "U+034F"),
        ('\u{2800}', "U+2800"),
        ('\u{fffc}', "U+FFFC"),
        ('\u{200b}', "U+200B"),
        ('\u{ad}', "U+00AD"),
        ('\u{e0041}', "U+E0041"),
    ] {
        // In a value, a key and a comment, and as an escape in quotes.
        let file = procedure("P-1", "Trial");
        refused(file.replace("Trial", &format!("Tri{character}al")).as_bytes(), &[code, "x.yaml:3:54"]);
        refused(file.replace("title", &format!("ti{character}tle")).as_bytes(), &[code, "x.yaml:3:"]);
        refused(format!("{file}# a{character}b\n").as_bytes(), &[code, "x.yaml:7:4"]);
        let escape = format!("\"Tri\\U{:08x}al\"", u32::from(character));
        refused(file.replace("Trial", &escape).as_bytes(), &[code, "x.yaml:3:"]);
        // In a word of which a hint is made, and in the name of a file that is given and of one that is not there.
        refused(file.replace("DCEP", &format!("DC{character}EP")).as_bytes(), &[code]);
        if character != '\0' {
            let folder = tempfile::tempdir().unwrap();
            for name in [format!("a{character}b.yaml"), format!("gone{character}.yaml"), format!("a{character}.pdf")] {
                let path = folder.path().join(&name);
                if !name.starts_with("gone") {
                    fs::write(&path, file.replace("90 A", "90 mm").replace("DCEP", "DCEPP")).unwrap();
                }
                let (code, out, said) = run(&["check", text(&path)]);
                assert_eq!(code, 2, "{said}");
                let steers = |own: char| seamwright_model::source::hidden(own) && own != '\n';
                assert!(!said.contains(steers) && !out.contains(steers), "{character:?}: {out:?} {said:?}");
            }
        }
    }
    // What stays invisible, or reads from the right, cannot be printed.
    for character in ['\u{200b}', '\u{200f}', '\u{61c}', '\u{ad}', '\u{2028}', '\u{e0041}', '\u{5d0}'] {
        let file = procedure("P-1", &format!("\"Tri{character}al\""));
        refused(file.as_bytes(), &[&format!("U+{:04X}", u32::from(character)), "x.yaml:3:"]);
    }
    refused(b"\xff\xfef\0o\0r\0m\0a\0t\0", &["the file is not text in UTF-8"]);
    refused(b"format: 1\ndocument: procedure\nnotes: [\xc3\x28]\n", &["the file is not text in UTF-8"]);
}

#[test]
fn a_byte_order_mark_shifts_no_place() {
    let file = procedure("P-1", "Trial").replace("90 A", "90 mm");
    let place = |file: &str| {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("x.yaml"), file).unwrap();
        let (_, _, said) = run(&["check", text(&folder.path().join("x.yaml"))]);
        said.replace(text(folder.path()), "")
    };
    assert_eq!(place(&format!("\u{feff}{file}")), place(&file));
}

#[test]
fn the_name_of_a_file_steers_no_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let bad = folder.path().join("a\u{1b}[31mb\u{202e}\nc.yaml");
    fs::write(&bad, "format: 9\n").unwrap();
    let good = folder.path().join("good\u{1b}[2J.yaml");
    fs::write(&good, procedure("P-1", "Trial").replace("90 A", "900 A")).unwrap();
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::create_dir(out.join("good\u{1b}[2J.pdf")).unwrap();
    for args in [&["check", text(folder.path())][..], &["render", text(folder.path()), "--out", text(&out)]] {
        let (code, _, said) = run(args);
        assert_eq!(code, 2);
        assert!(said.contains("a\\u{1b}[31mb\\u{202e}\\u{a}c.yaml"), "{said}");
        assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'), "{said:?}");
    }
    let page = fs::read_to_string(out.join("index.html")).unwrap();
    assert!(page.contains("href=\"good%1B%5B2J.html\"") && !page.contains('\u{1b}'));
}

const PAYLOADS: [&str; 12] = [
    "</script><script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "\"><svg onload=alert(1)>",
    "' onmouseover='alert(1)",
    "{{ 7*7 }}{% include \"index.html\" %}",
    "</style><style>*{display:none}",
    "}*{background:url(//example.org)}",
    "\\3c script>",
    "</title></pre></code><h1>",
    "javascript:alert(1)",
    "<!-- --><![CDATA[ x ]]>",
    "&lt;script&gt; &#60;",
];

/// Every text of a document.
fn texts(document: &mut Value) -> Vec<&mut String> {
    match document {
        Value::String(text) => vec![text],
        Value::Array(items) => items.iter_mut().flat_map(texts).collect(),
        Value::Object(map) => map.values_mut().flat_map(texts).collect(),
        _ => Vec::new(),
    }
}

/// A document of the project with a word in the place of every text that may be anything.
fn filled_with(word: &str, path: &str) -> String {
    let written = |document: &Value| serde_yaml::to_string(document).unwrap();
    let loads = |document: &Value| seamwright_model::load("x.yaml", written(document).as_bytes()).is_ok();
    let text = fs::read_to_string(common::root().join(path)).unwrap();
    let mut document = seamwright_model::load(path, text.as_bytes()).unwrap().tree.to_value();
    let mut filled = 0;
    for at in 0..texts(&mut document).len() {
        let mut changed = document.clone();
        word.clone_into(texts(&mut changed)[at]);
        if loads(&changed) {
            document = changed;
            filled += 1;
        }
    }
    assert!(filled > 9, "{path}: only {filled} texts may be anything");
    written(&document)
}

/// A style without its figures, which the length of words changes, and without what stands in its strings, as CSS reads
/// them: a backslash takes the next character into the string, the end of a line ends it.
fn without_words(style: &str) -> String {
    let (mut rest, mut inside) = (style.chars(), false);
    let mut found = String::new();
    while let Some(character) = rest.next() {
        match character {
            '\\' if inside => _ = rest.next(),
            '"' | '\n' if inside => inside = false,
            _ if inside => {}
            '"' => inside = true,
            '0'..='9' | '.' => {}
            other => found.push(other),
        }
    }
    found
}

/// What a page is made of: its elements with the names of their attributes, where they lead, and its styles and
/// scripts.
fn made_of(page: &str) -> BTreeSet<String> {
    let page = scraper::Html::parse_document(page);
    let mut parts = BTreeSet::new();
    for element in page.tree.nodes().filter_map(scraper::ElementRef::wrap) {
        let name = element.value().name();
        parts.insert(name.to_owned());
        for (attribute, value) in element.value().attrs() {
            parts.insert(format!("{name} {attribute}"));
            if ["href", "src"].contains(&attribute) {
                parts.extend(value.split_once(':').map(|(scheme, _)| format!("{name} {attribute} {scheme}:")));
            }
        }
        match name {
            // The foot of printed pages names the document: a string of the style.
            "style" => parts.insert(without_words(&element.inner_html())),
            "script" => parts.insert(element.inner_html()),
            _ => false,
        };
    }
    parts
}

/// Sheets filled with hostile words are made of nothing that the same sheets with harmless words are not made of.
#[test]
fn text_of_a_document_stays_text_on_the_page_and_in_the_index() {
    let folder = tempfile::tempdir().unwrap();
    let rendered = |word: &str| {
        let (input, out) = (folder.path().join("in"), folder.path().join("out"));
        let _ = fs::remove_dir_all(&out);
        fs::create_dir_all(&input).unwrap();
        for (name, path) in [
            ("sheet.yaml", "procedures/butt-3-carbon-141.yaml"),
            ("pipe.yaml", "procedures/pipe-butt-13crmo4-5-141-111.yaml"),
            ("lesson.yaml", "examples/lesson/lesson.yaml"),
        ] {
            fs::write(input.join(name), filled_with(word, path)).unwrap();
        }
        let (shop, taught) = (folder.path().join("shop.yaml"), folder.path().join("taught.yaml"));
        fs::write(&shop, filled_with(word, "examples/shop/shop.yaml")).unwrap();
        fs::write(&taught, filled_with(word, "procedures/lap-fillet-2-carbon-141.yaml")).unwrap();
        let (code, _, said) = run(&[
            &["render", text(&input), "--out", text(&out), "--shop", text(&shop), "--procedure", text(&taught)][..],
            &["--sheet", "procedure,bench-card,review,lesson", "--to", "html"],
        ]
        .concat());
        assert!(code < 2, "{word}: {said}");
        let pages = names(&out).into_iter().map(|name| (fs::read_to_string(out.join(&name)).unwrap(), name));
        pages.map(|(page, name)| (name, page)).collect::<BTreeMap<_, _>>()
    };
    let harmless = rendered("Trial");
    assert_eq!(harmless.len(), 8, "{:?}", harmless.keys());
    assert!(harmless["pipe.html"].contains("<svg") && harmless["lesson.lesson.html"].contains("Trial"));
    for payload in PAYLOADS {
        let hostile = rendered(payload);
        assert!(hostile.keys().eq(harmless.keys()), "{payload}: {:?}", hostile.keys());
        for (name, page) in &hostile {
            let parts = made_of(page);
            let more: Vec<_> = parts.difference(&made_of(&harmless[name])).cloned().collect();
            assert_eq!(more, Vec::<String>::new(), "{name}: {payload}");
            // The program's own comment, last of all, holds words of the document and ends where it should.
            let (page, comment) = page.split_once("<!-- ").unwrap_or((page, "-->"));
            assert!(comment.trim_end().ends_with("-->") && comment.matches("--").count() == 1, "{name}: {comment}");
            assert!(!page.contains("<!--") && !page.contains(">49"), "{name}: {payload}");
        }
    }
}

#[test]
fn a_house_style_brings_in_neither_styles_nor_acts() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("p.yaml"), procedure("P-1", "Trial")).unwrap();
    fs::write(folder.path().join("secret"), "hunter2").unwrap();
    let render_to = |to: &str, style: &str, logo: &str| {
        let out = folder.path().join("out");
        let _ = fs::remove_dir_all(&out);
        fs::write(folder.path().join("style.yaml"), style).unwrap();
        fs::write(folder.path().join("logo.svg"), logo).unwrap();
        let style = folder.path().join("style.yaml");
        let input = folder.path().join("p.yaml");
        let (code, _, said) = run(&["render", text(&input), "--out", text(&out), "--style", text(&style), "--to", to]);
        let page = fs::read_to_string(out.join("p.html")).unwrap_or_default();
        assert_eq!(to.contains("pdf") && code == 0, out.join("p.pdf").exists(), "{said}");
        (code, said, page)
    };
    let render = |style: &str, logo: &str| render_to("pdf,html", style, logo);
    let svg = |inside: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">{inside}</svg>");
    for accent in ["\"red;}*{display:none}\"", "\"#1f4e79;}\"", "\"url(x)\"", "\"</style>\""] {
        let (code, said, page) = render(&format!("accent: {accent}\n"), "");
        assert_eq!((code, page.len()), (2, 0), "{said}");
        assert!(said.contains("`accent:"), "{said}");
    }
    let (code, said, page) = render("lines: [\"</style><script>x</script>\", \"{{ 7*7 }} \\\\\"]\n", "");
    assert_eq!(code, 0, "{said}");
    assert!(page.contains("&lt;/style&gt;") && !page.contains("<script") && page.contains("{{ 7*7 }}"));
    for inside in [
        "<script>x</script>",
        "<ScRiPt/>",
        "<rect onload=\"x\"/>",
        "<rect fill=\"red\"onload=\"x\"/>",
        "<set attributeName=\"onload\" to=\"x\"/>",
        "<animate attributeName=\"href\" values=\"javascript:x\"/>",
        "<a href=\"java&#115;cript:x\"><rect/></a>",
        "<image href=\"//example.org/x.png\"/>",
        "<image xlink:href = \"https://example.org/x.png\"/>",
        "<image href=\"file:///etc/passwd\"/>",
        "<image href=\"data:text/html,x\"/>",
        "<foreignObject><p/></foreignObject>",
        "<style>@import 'x'</style>",
        "<style>*{fill:url(//example.org)}</style>",
        "<rect style=\"fill:url( 'https://example.org' )\"/>",
        "<use href=\"x.svg#a\"/>",
        "<?xml-stylesheet href=\"x.css\"?>",
        "<iframe/>",
        "<handler type=\"text/javascript\"/>",
    ] {
        let (code, said, page) = render("logo: logo.svg\n", &svg(inside));
        assert_eq!((code, page.len()), (2, 0), "{inside}: {said}");
        assert!(said.contains("logo.svg"), "{inside}: {said}");
    }
    let entity = "<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/passwd\">]>";
    assert_eq!(render("logo: logo.svg\n", &format!("{entity}{}", svg("&x;"))).0, 2);
    for logo in ["secret", "../../../../../../etc/passwd", "nowhere.svg", ".", "/dev/zero", "/dev/stdin"] {
        let (code, said, page) = render(&format!("logo: {logo}\n"), "");
        assert_eq!((code, page.len()), (2, 0), "{said}");
        assert!(said.contains("logo") && !said.contains("hunter2") && !said.contains("root:"), "{said}");
    }
    let drawn = "<defs><linearGradient id=\"g\"><stop offset=\"0\" stop-color=\"#123\"/></linearGradient></defs>\
                 <g fill=\"url(#g)\" transform=\"scale(2)\"><path d=\"M0 0h9v9z\"/><text font-family=\"one, on\">on = off</text></g>";
    let (code, said, page) = render_to("html", "logo: logo.svg\n", &svg(drawn));
    assert_eq!(code, 0, "{said}");
    assert_eq!(page.matches("src=\"data:image/svg+xml;base64,").count(), 1);
    // What a PDF would show in part only is refused where one is asked for, and named.
    let (code, said, page) = render("logo: logo.svg\n", &svg(drawn));
    assert_eq!((code, page.len()), (2, 0), "{said}");
    assert!(said.contains("text of an SVG is not printed in a PDF") && said.contains("print_logo"), "{said}");
    let plain = svg("<g transform=\"scale(2)\"><path fill=\"#1f4e79\" d=\"M0 0h4v4z\"/></g>");
    let (code, said, page) = render("logo: logo.svg\n", &plain);
    assert_eq!(code, 0, "{said}");
    assert_eq!(page.matches("src=\"data:image/svg+xml;base64,").count(), 1);
    // Ten parts that use ten parts each, eight times over, are seen before they are drawn.
    let level = |own: usize| format!("<g id=\"a{}\">{}</g>", own + 1, format!("<use href=\"#a{own}\"/>").repeat(10));
    let bomb = format!("<path id=\"a0\" d=\"M0 0h4v4z\"/>{}", (0..8).map(level).collect::<String>());
    let (code, said, page) = render("logo: logo.svg\n", &svg(&bomb));
    assert_eq!((code, page.len()), (2, 0), "{said}");
    assert!(said.contains("so many parts"), "{said}");
}

#[test]
fn templates_that_loop_or_grow_are_stopped_once_for_all_files() {
    let folder = tempfile::tempdir().unwrap();
    let (input, out, own) = (folder.path().join("in"), folder.path().join("out"), folder.path().join("templates"));
    common::procedures(&input, 12);
    fs::create_dir(&own).unwrap();
    let without_end = |body: &str| {
        format!("{{% for a in range(end=99999) %}}{{% for b in range(end=99999) %}}{body}{{% endfor %}}{{% endfor %}}")
    };
    for (template, says) in [
        (without_end(""), "did not finish within 5 s"),
        // So much at a time that a slow machine, too, meets the limit of size before that of time.
        (without_end(&"x".repeat(500_000)), "the page has more than"),
        ("{% include \"sheet.html\" %}".to_owned(), "it includes itself"),
    ] {
        fs::write(own.join("sheet.html"), template).unwrap();
        let args = ["render", text(&input), "--out", text(&out), "--templates", text(&own), "--jobs", "2"];
        let (code, _, said) = run(&args);
        assert_eq!(code, 2, "{said}");
        assert!(said.contains(says), "{said}");
        assert!(names(&out).iter().all(|name| !name.starts_with('.') && !name.starts_with("p0000.html")));
    }
}

#[test]
fn a_list_of_joints_multiplies_nothing_and_steers_no_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let procedure = "procedures/butt-3-carbon-141.yaml";
    let values = (0..40).fold("- &a0 [x, x]".to_owned(), |text, n| format!("{text}\n- &a{} [*a{n}, *a{n}]", n + 1));
    for (name, list, says) in [
        ("a.csv", "joint,length\n\u{1b}[31mred,1 m\n".to_owned(), "a.csv:2:1: "),
        ("b.csv", "joint,length\nlid\u{202e},1 m\n".to_owned(), "b.csv:2:4: "),
        ("c.yaml", "- {joint: \"lid\\e[31m\", length: 1 m}\n".to_owned(), "c.yaml:1:3: "),
        ("d.yaml", values, "d.yaml:"),
        ("e.yaml", "[".repeat(100_000), "e.yaml:1:"),
        ("f.csv", format!("joint,length\n{}", "lid,1 m\n".repeat(600_000)), "more than 4194304 bytes"),
        ("g.csv", "joint,length\n\"lid,1 m\n".to_owned(), "g.csv"),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, list).unwrap();
        let (code, out, said) = run(&["estimate", procedure, "--joints", text(&path)]);
        assert_eq!((code, out.as_str()), (2, ""), "{name}: {said}");
        assert!(said.contains(says) && said.len() < 1000, "{name}: {said}");
        assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'), "{name}: {said:?}");
    }
    // A device that never ends.
    let (code, _, said) = run(&["estimate", procedure, "--joints", "/dev/zero"]);
    assert!(code == 2 && said.contains("more than 4194304 bytes"), "{said}");
}

#[test]
fn cells_of_a_spreadsheet_compute_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let root = common::root();
    let starter = fs::read_to_string(root.join("procedures/lap-fillet-2-carbon-141.yaml")).unwrap();
    let number = starter.lines().find(|line| line.trim_start().starts_with("number:")).unwrap();
    let file = starter.replace(number, "  number: \"=HYPERLINK(1)\"");
    assert_ne!(file, starter);
    let path = folder.path().join("x.yaml");
    fs::write(&path, file).unwrap();
    let (code, out, said) = run(&["estimate", text(&path), "--length", "1 m", "--format", "csv"]);
    assert_eq!(code, 0, "{said}");
    assert!(out.contains("\n'=HYPERLINK(1),"), "{out}");
}

#[test]
fn sheets_that_were_tampered_with_are_refused_also_on_standard_input() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("p.yaml"), procedure("P-1", "Trial")).unwrap();
    run(&["render", text(&folder.path().join("p.yaml")), "--out", text(folder.path())]);
    let check = |bytes: &[u8]| common::ended(&common::piped(&["check", "--format", "json", "-"], bytes));
    let page = fs::read(folder.path().join("p.html")).unwrap();
    let pdf = fs::read(folder.path().join("p.pdf")).unwrap();
    for bytes in [&page, &pdf] {
        let (code, _, said) = check(bytes);
        assert!(code < 2 && said.contains("sheet is proved"), "{said}");
    }
    let words = String::from_utf8(page).unwrap().replacen("Trial", "\u{1b}[31mTria1", 2);
    let (code, out, said) = check(words.as_bytes());
    assert_eq!(code, 2);
    assert!(out.contains("sheet is not proved: it was changed"), "{out}");
    assert!(!said.contains('\u{1b}') && !out.contains('\u{1b}'), "{said:?}");
    let report: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(report["errors"], 1);
    // Cut anywhere, or with a byte changed, a sheet is refused in words.
    for step in 1..8 {
        let cut = &pdf[..pdf.len() * step / 8];
        assert_eq!(check(cut).0, 2);
        let mut changed = pdf.clone();
        changed[pdf.len() * step / 8] ^= 0x55;
        check(&changed);
    }
}
