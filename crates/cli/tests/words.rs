//! What people are told who type something wrong: sixty command lines and sixty files, each with its message, kept in
//! `data/wrong-lines.txt` and `data/wrong-files.txt` to be read as a whole. `BLESS=1` writes them anew: read the difference.

mod common;

use std::fs;
use std::process::Command;

use common::{ended, root};

/// A folder with what the lines name: a procedure, a lesson, a shop, a record, files that are none of them.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (from, to) in [
        ("procedures/lap-fillet-2-carbon-141.yaml", "p.yaml"),
        ("procedures/butt-3-carbon-141.yaml", "q.yaml"),
        ("examples/shop/shop.yaml", "shop.yaml"),
        ("examples/inspection/record-iso.yaml", "record.yaml"),
        ("examples/inspection/procedure.yaml", "old.yaml"),
        ("examples/inspection/procedure-revision-2.yaml", "new.yaml"),
    ] {
        fs::copy(root().join(from), folder.path().join(to)).unwrap();
    }
    fs::write(folder.path().join("empty.yaml"), "").unwrap();
    fs::write(folder.path().join("photo.jpg"), b"\xff\xd8\xff").unwrap();
    fs::create_dir(folder.path().join("none")).unwrap();
    folder
}

/// Runs a line in a folder; exit status and what was said, as one text.
fn said(folder: &std::path::Path, words: &[&str]) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_seamwright"))
        .args(words)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .env_remove("COLUMNS")
        .output()
        .unwrap();
    let (code, _, text) = ended(&output);
    (code, text)
}

/// Holds a text against the one that is kept.
fn kept(name: &str, text: &str) {
    let file = root().join("crates/cli/tests/data").join(name);
    if std::env::var_os("BLESS").is_some() {
        fs::write(&file, text).unwrap();
        return;
    }
    let before = fs::read_to_string(&file).unwrap();
    let differs = before.lines().zip(text.lines()).find(|(before, now)| before != now);
    assert!(before == text, "{name} differs, first at {differs:?}; bless it with BLESS=1 and read the difference");
}

/// Command lines as people type them, words between bars.
const LINES: &[&str] = &[
    "chek|p.yaml",
    "check",
    "check|p.yml",
    "check|procedures",
    "check|none",
    "check|photo.jpg",
    "check|empty.yaml",
    "check|p.yaml|--fromat|json",
    "check|p.yaml|--format|xml",
    "check|p.yaml|--code|d1.1",
    "check|p.yaml|--code|iso15614",
    "check|p.yaml|--record|shop.yaml",
    "check|p.yaml|--record|r.yaml",
    "check|p.yaml|--shop|record.yaml",
    "check|p.yaml|--deny|warnings",
    "render|p.yaml",
    "render|p.yaml|--out",
    "render|p.yaml|--out|photo.jpg",
    "render|p.yaml|--out|s|--to|docx",
    "render|p.yaml|--out|s|--to|csv",
    "render|p.yaml|--out|s|--sheet|card",
    "render|p.yaml|--out|s|--sheet|lesson",
    "render|p.yaml|--out|s|--units|cgs",
    "render|p.yaml|--out|s|--units|mm",
    "render|p.yaml|--out|s|--paper|A5",
    "render|p.yaml|--out|s|--terms|asme",
    "render|p.yaml|--out|s|--sheet|estimate",
    "render|p.yaml|--out|s|--sheet|estimate|--length|2",
    "render|p.yaml|--out|s|--style|house.yaml",
    "render|shop.yaml|--out|s",
    "render|record.yaml|--out|s",
    "render|none|--out|s",
    "find|p.yaml|--metal|S355J9",
    "find|p.yaml|--metal|unobtainium",
    "find|p.yaml|--thickness|3",
    "find|p.yaml|--thickness|99 ga",
    "find|p.yaml|--thickness|3 lb",
    "find|p.yaml|--thickness|-3 mm",
    "find|p.yaml|--thickness|3,2 mm",
    "find|p.yaml|--thickness|4'-6\"",
    "find|p.yaml|--joint|TJ",
    "find|p.yaml|--joint|scarf",
    "find|p.yaml|--weld|bead",
    "find|p.yaml|--position|overhed",
    "find|p.yaml|--position|7G",
    "find|p.yaml|--process|TOG",
    "draft",
    "draft|--process|141",
    "draft|--process|141|--metal|S235JR|--thickness|3|--joint|butt|--position|PA",
    "draft|--process|141|--metal|S235JR|--thickness|3 mm|--joint|scarf|--position|PA",
    "draft|--process|141|--metal|S235JR|--thickness|3 mm|--joint|butt|--position|PZ",
    "draft|--process|141|--metal|cheese|--thickness|3 mm|--joint|butt|--position|PA",
    "draft|--lesson|shop.yaml",
    "estimate|p.yaml",
    "estimate|p.yaml|--length|2",
    "estimate|p.yaml|--length|0 m",
    "estimate|p.yaml|--length|2 kg",
    "estimate|p.yaml|--joints|list.csv",
    "compare|p.yaml",
    "compare|p.yaml|shop.yaml",
    "range|p.yaml",
    "range|record.yaml|--code|ped",
    "explain|polarity-wrong",
    "explain|banana",
    "table|tungsten",
    "schema|render",
    "completions|cmd",
    "calc",
    "calc|heat-input|--process|141",
    "calc|heat-input|--process|141|--voltage|11|--current|120 A|--travel-speed|90 mm/min",
    "calc|heatinput",
    "issue|p.yaml",
    "issue|shop.yaml|--by|A. Lindqvist",
    "revise|p.yaml",
    "job|job.yaml",
];

#[test]
fn wrong_command_lines_are_told_what_to_type() {
    let mut text = String::new();
    for line in LINES {
        let folder = folder();
        let words: Vec<&str> = line.split('|').collect();
        let (code, told) = said(folder.path(), &words);
        assert_eq!(code, 2, "{line}: {told}");
        let typed: Vec<String> = words
            .iter()
            .map(|word| if word.contains(' ') { format!("\"{word}\"") } else { (*word).to_owned() })
            .collect();
        text.push_str(&format!("$ seamwright {}\n{}\n\n", typed.join(" "), told.trim_end()));
    }
    assert!(LINES.len() >= 60);
    kept("wrong-lines.txt", &text);
}

/// A procedure that is sound but for notes.
const SOUND: &str = r"format: 1
document: procedure
identification: {number: P-1, revision: 1, date: 2026-02-17, title: Trial}
parent_metals:
  - {specification: S235JR, thickness: 2 mm}
joint:
  type: lap
  weld: fillet
weld_size: {leg: 2 mm}
positions: [PB]
fillers:
  rod: {designation: ER70S-2, diameter: 1.6 mm}
processes:
  141:
    polarity: DCEN
    filler: rod
    tungsten: {designation: WLa15, diameter: 1.6 mm, stickout: 4-5 mm}
    torch: {size: 17, nozzle: No. 5, gas_lens: no}
    shielding_gas: {designation: I1, flow: 6-8 L/min, post_flow: 8-10 s}
runs:
  - {run: 1, layer: single, process: 141, current: 70-90 A, voltage: 9-12 V, travel_speed: 80-110 mm/min}
";

/// What stands in the sound file, and what was typed in its place.
const FILES: &[(&str, &str)] = &[
    ("format: 1\n", ""),
    ("format: 1\n", "format: 2\n"),
    ("format: 1\n", "format: one\n"),
    ("document: procedure", "document: wps"),
    ("document: procedure\n", ""),
    ("identification: {number: P-1, revision: 1, date: 2026-02-17, title: Trial}\n", ""),
    ("number: P-1, ", ""),
    ("date: 2026-02-17", "date: 17.02.2026"),
    ("date: 2026-02-17", "date: 2026-02-30"),
    ("date: 2026-02-17", "date: 02/17/2026"),
    ("title: Trial", "title: Trial: lap"),
    ("title: Trial}", "title: Trial"),
    ("title: Trial", "title: "),
    (", title: Trial", ""),
    ("title: Trial", "titel: Trial"),
    ("  - {specification: S235JR", "\t- {specification: S235JR"),
    ("  weld: fillet", "\tweld: fillet"),
    ("  weld: fillet", "   weld: fillet"),
    ("  weld: fillet", " weld: fillet"),
    ("  type: lap", "  type lap"),
    ("positions: [PB]", "positions: [PB"),
    ("positions: [PB]", "positions: PB"),
    ("positions: [PB]", "positions: [PX]"),
    ("positions: [PB]", "position: [PB]"),
    ("  type: lap", "  type: T"),
    ("  type: lap", "  type: overlap"),
    ("  weld: fillet", "  weld: Fillet"),
    ("thickness: 2 mm", "thickness: 2"),
    ("thickness: 2 mm", "thickness: 2 milimetre"),
    ("thickness: 2 mm", "thickness: 2 kg"),
    ("thickness: 2 mm", "thickness: 2,5 mm"),
    ("thickness: 2 mm", "thickness: 2,5-3,5 mm"),
    ("thickness: 2 mm", "thickness: 1,200 mm"),
    ("thickness: 2 mm", "thickness: 14 ga"),
    ("thickness: 2 mm", "thickness: \"2 in sch 40\""),
    ("thickness: 2 mm", "thickness: 4'-6\""),
    ("thickness: 2 mm", "thickness: about 2 mm"),
    ("thickness: 2 mm", "thickness: 2 mm +/- 0.1"),
    ("thickness: 2 mm", "thickness: 3-2 mm"),
    ("thickness: 2 mm", "thickness: -2 mm"),
    ("thickness: 2 mm", "thickness: [2 mm]"),
    ("thickness: 2 mm", "thickness: two mm"),
    ("thickness: 2 mm", "thickness: 2 mm x 3 mm"),
    ("diameter: 1.6 mm}\nprocesses", "diameter: 5. mm}\nprocesses"),
    ("polarity: DCEN", "polarity: DC"),
    ("polarity: DCEN", "polarity:"),
    ("filler: rod", "filler: wire"),
    ("  141:\n", "  TOG:\n"),
    ("process: 141", "process: 135"),
    ("run: 1, ", ""),
    ("current: 70-90 A", "current: 70-90"),
    ("current: 70-90 A", "current: 90-70 A"),
    ("current: 70-90 A", "current: max 90 A"),
    ("current: 70-90 A", "current: 70-90 V"),
    ("current: 70-90 A", "amps: 70-90 A"),
    ("current: 70-90 A", "current: 700-900 A"),
    ("voltage: 9-12 V", "voltage: 9..12 V"),
    ("travel_speed: 80-110 mm/min", "travel speed: 80-110 mm/min"),
    ("travel_speed: 80-110 mm/min", "travel_speed: 80-110 in/m"),
    ("run: 1,", "run: one,"),
    ("run: 1,", "run: 3-1,"),
    ("runs:\n", "passes:\n"),
    ("gas_lens: no", "gas_lens: perhaps"),
    ("nozzle: No. 5", "nozzle: \"No. 5"),
    ("flow: 6-8 L/min", "flow: 6-8 lb/h"),
    ("flow: 6-8 L/min", "flow: 20°"),
    ("runs:\n", "format: 1\nruns:\n"),
    ("revision: 1,", "revision: 1, revision: 2,"),
];

#[test]
fn wrong_files_are_told_what_to_write() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.yaml");
    fs::write(&file, SOUND).unwrap();
    let (code, told) = said(folder.path(), &["check", "p.yaml", "--quiet"]);
    assert!(code == 0 && told.is_empty(), "{told}");
    let mut text = String::new();
    for (from, to) in FILES {
        assert!(SOUND.contains(from), "{from}");
        fs::write(&file, SOUND.replacen(from, to, 1)).unwrap();
        let (code, told) = said(folder.path(), &["check", "p.yaml", "--quiet"]);
        assert!(code > 0, "{to}: {told}");
        let shown = |text: &str| text.replace('\n', "⏎").replace('\t', "⇥");
        text.push_str(&format!("{} -> {}\n{}\n\n", shown(from), shown(to), told.trim_end()));
    }
    assert!(FILES.len() >= 60);
    kept("wrong-files.txt", &text);
}

/// What a file has and what the hint says to write for it, in the one fault that there is.
#[test]
fn hints_name_the_word_that_is_meant() {
    let folder = tempfile::tempdir().unwrap();
    for (from, to, hint) in [
        ("current: 70-90 A", "amps: 70-90 A", "did you mean `current`?"),
        ("runs:\n", "passes:\n", "did you mean `runs`?"),
        ("thickness: 2 mm", "thickness: 2,5 mm", "write `2.5 mm`; inside `{}`"),
        ("thickness: 2 mm", "thickness: 2,5-3,5 mm", "write `2.5-3.5 mm`; inside `{}`"),
        ("thickness: 2 mm", "thickness: 1,200 mm", "write `1200 mm` or `1.200 mm`; inside `{}`"),
        ("thickness: 2 mm", "thickness: \"2 in sch 40\"", "`seamwright table pipe-schedules` lists pipes"),
        ("date: 2026-02-17", "date: 17.02.2026", "write 2026-02-17\n"),
        ("date: 2026-02-17", "date: 02/17/2026", "write 2026-02-17\n"),
        ("date: 2026-02-17", "date: 03/04/2026", "write year-month-day"),
        (", title: Trial", "", "write `title:` here, such as `title: "),
    ] {
        assert!(SOUND.contains(from), "{from}");
        fs::write(folder.path().join("p.yaml"), SOUND.replacen(from, to, 1)).unwrap();
        let (code, told) = said(folder.path(), &["check", "p.yaml", "--quiet"]);
        assert_eq!(code, 2, "{to}: {told}");
        assert!(told.contains(&format!("hint: {hint}")) || told.contains(hint), "{to}: {told}");
    }
    for (to, wrong) in [("thickness: 2,5 mm", "has no unit"), ("thickness: 2,5-3,5 mm", "is not known")] {
        fs::write(folder.path().join("p.yaml"), SOUND.replacen("thickness: 2 mm", to, 1)).unwrap();
        let (_, told) = said(folder.path(), &["check", "p.yaml", "--quiet"]);
        assert!(told.matches("error[").count() == 1 && !told.contains(wrong), "{told}");
    }
}

/// AWS A3.0: reverse polarity has the electrode positive, straight polarity has it negative.
#[test]
fn a_polarity_in_the_words_of_the_trade_is_taken_with_a_note() {
    let folder = tempfile::tempdir().unwrap();
    for (written, word) in [
        ("DCRP", "DCEP (electrode positive)"),
        ("dcrp", "DCEP (electrode positive)"),
        ("DC+", "DCEP (electrode positive)"),
        ("reverse polarity", "DCEP (electrode positive)"),
        ("DCSP", "DCEN (electrode negative)"),
        ("dcsp", "DCEN (electrode negative)"),
        ("DC-", "DCEN (electrode negative)"),
        ("straight polarity", "DCEN (electrode negative)"),
        ("dcen", "DCEN (electrode negative)"),
        ("dcep", "DCEP (electrode positive)"),
    ] {
        let text = SOUND.replacen("polarity: DCEN", &format!("polarity: {written}"), 1);
        fs::write(folder.path().join("p.yaml"), text).unwrap();
        let (code, told) = said(folder.path(), &["check", "p.yaml"]);
        assert!(told.contains(&format!("note[polarity-taken]: `{written}` is taken as {word}")), "{told}");
        assert!(told.contains("p.yaml:15:15"), "{told}");
        // The other polarity is wrong for this metal, whatever it is called.
        assert_eq!(code, i32::from(word.starts_with("DCEP")), "{told}");
        let (_, _, page) = ended(
            &Command::new(env!("CARGO_BIN_EXE_seamwright"))
                .args(["render", "p.yaml", "--out", "s", "--to", "html"])
                .current_dir(folder.path())
                .output()
                .unwrap(),
        );
        let sheet = fs::read_to_string(folder.path().join("s/p.html")).unwrap_or_else(|_| panic!("{page}"));
        let (printed, _) = sheet.split_once("</main>").unwrap();
        assert!(printed.contains(&word[..4]), "{written} is printed as something else");
    }
}

/// Words of files and options in other letters, and units as they stand on drawings, are taken.
#[test]
fn what_can_only_mean_one_thing_is_taken() {
    let folder = folder();
    for words in [
        &["check", "p.yaml", "--code", "ISO-15614-1", "--quiet"][..],
        &["check", "p.yaml", "--format", "JSON", "--deny", "Cautions"],
        &[
            "render",
            "p.yaml",
            "--out",
            "s",
            "--to",
            "PDF",
            "--paper",
            "Letter",
            "--units",
            "US",
            "--sheet",
            "Bench-Card",
        ],
        &["find", "p.yaml", "--joint", "LAP", "--thickness", "2 MM", "--position", "pb", "--process", "tig"],
        &["find", "p.yaml", "--weld", "Fillet weld"],
        &["find", "p.yaml", "--joint", "lap joint", "--thickness", "“2 mm”"],
        &["render", "p.yaml", "--out", "m", "--units", "metric"],
        &["render", "p.yaml", "--out", "i", "--units", "Imperial"],
        &["render", "p.yaml", "--out", "n", "--units", "inch"],
        &["estimate", "p.yaml", "--length", "6'"],
        &["estimate", "p.yaml", "--length", "18\""],
        &["completions", "BASH"],
        &["explain", "dcen", "--format", "Text"],
    ] {
        let (code, told) = said(folder.path(), words);
        assert_eq!(code, 0, "{words:?}: {told}");
    }
    for (metal, size, taken) in [
        ("S235JR", "14 ga", "14 ga of steel sheet is 0.0747 in"),
        ("304L", "14 ga", "14 ga of stainless sheet is 0.0781 in"),
        ("A106-B", "6 in sch 40", "wall of 0.28 in"),
    ] {
        let (code, told) = said(folder.path(), &["find", "p.yaml", "--metal", metal, "--thickness", size]);
        assert!(code == 1 && told.contains(taken), "{size}: {told}");
    }
}

/// Each kind of name that a welder may ask for, and what the answer says.
#[test]
fn explain_knows_each_kind_of_name() {
    let folder = folder();
    for (name, says) in [
        ("141", "141: a process"),
        ("tig", "141: a process"),
        ("PF", "PF: a position"),
        ("3G", "3G: a position"),
        ("overhead", "`overhead` is taken as PE or PD"),
        ("DCEN", "Direct current, electrode negative"),
        ("DCRP", "`DCRP` is taken as DCEP"),
        ("DCSP", "`DCSP` is taken as DCEN"),
        ("t joint", "`t joint` is taken as tee"),
        ("butt", "butt: Edge to edge"),
        ("fillet", "fillet: In the corner"),
        ("304L", "304L: a metal"),
        ("mild steel", "A36: a metal"),
        ("E7018", "E7018: a filler"),
        ("75/25", "M21: a gas"),
        ("I1", "I1: a gas"),
        ("travel speed", "travel_speed: speed along the joint"),
        ("learners", "in a lesson: /learners"),
        ("power_sources", "in a shop: /power_sources"),
        ("tests", "in a test-record: /tests"),
        ("lesson", "learners: Number of learners."),
        ("tungsten-current", "Tungsten"),
        ("polarity-taken", "What it finds"),
    ] {
        let (code, out, told) = ended(
            &Command::new(env!("CARGO_BIN_EXE_seamwright"))
                .args(["explain", name])
                .current_dir(folder.path())
                .env("COLUMNS", "100")
                .output()
                .unwrap(),
        );
        assert!(code == 0 && out.contains(says), "{name}: {out}{told}");
    }
}

#[test]
fn quiet_leaves_out_what_needs_no_deed_and_colours_read_on_white() {
    let folder = folder();
    let (code, told) = said(folder.path(), &["render", "p.yaml", "--out", "s", "--quiet"]);
    assert!(code == 0 && told.is_empty(), "{told}");
    let text = fs::read_to_string(folder.path().join("p.yaml")).unwrap().replace("70-90 A", "170-190 A");
    fs::write(folder.path().join("hot.yaml"), text).unwrap();
    let (code, told) = said(folder.path(), &["check", "hot.yaml", "-q"]);
    assert!(code == 1 && told.contains("error[") && !told.contains("note[") && !told.contains("examined"), "{told}");
    let (_, plain) = said(folder.path(), &["check", "hot.yaml", "--color", "never"]);
    assert!(!plain.contains('\u{1b}'), "{plain}");
    let (_, coloured) = said(folder.path(), &["--color", "always", "check", "hot.yaml"]);
    assert!(coloured.contains("\u{1b}[1m\u{1b}[31m") || coloured.contains("\u{1b}[31m"), "{coloured:?}");
    // Yellow, green, cyan and white, plain or bright, are lost on white paper.
    for code in ["32", "33", "36", "37", "92", "93", "94", "96", "97"] {
        assert!(
            !coloured.contains(&format!("[{code}m")) && !coloured.contains(&format!(";{code}m")),
            "{code}: {coloured:?}"
        );
    }
}

#[test]
fn long_answers_fold_to_the_width() {
    let folder = folder();
    for words in [
        &["explain", "tungsten-current-above-range"][..],
        &["explain"],
        &["explain", "travel_speed"],
        &["explain", "304L"],
        &["explain", "E7018"],
        &["table", "tungsten-current"],
        &["estimate", "p.yaml", "--length", "2 m"],
        &["find", "p.yaml", "--thickness", "80 mm", "--all"],
        &["compare", "old.yaml", "new.yaml"],
    ] {
        let output = Command::new(env!("CARGO_BIN_EXE_seamwright"))
            .args(words)
            .current_dir(folder.path())
            .env("COLUMNS", "60")
            .output()
            .unwrap();
        let (_, out, _) = ended(&output);
        assert!(!out.is_empty(), "{words:?}");
        for line in out.lines() {
            // A word without a space is not broken.
            let fits = line.chars().count() <= 60 || !line.trim().contains(' ');
            assert!(fits, "{words:?}: {line}");
        }
    }
}
