//! What a card and a procedure sheet show of settings, members and the joint is true of each run and member.

mod common;

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use common::run;

/// A butt weld with 111 whose runs are these lines.
fn butt(metals: &str, joint: &str, runs: &str) -> String {
    format!(
        "format: 1\ndocument: procedure\n\
         identification: {{number: T1, revision: 1, date: 2026-02-17, title: A weld, manufacturer: Tarn Beck Metalwork}}\n\
         qualification: {{route: none, code: none}}\nparent_metals:\n{metals}\njoint: {{{joint}}}\npositions: [PA]\n\
         fillers:\n  rod: {{designation: E7018, diameter: 3.2 mm}}\n\
         processes:\n  111: {{mechanization: manual, polarity: DCEP, filler: rod, technique: {{direction: drag, travel_angle: 5-15 deg, work_angle: 90 deg}}}}\n\
         temperatures: {{preheating: 10 °C minimum, interpass: 250 °C maximum}}\nruns:\n{runs}"
    )
}

const PLATE: &str = "  - {specification: S355J2+N, thickness: 12 mm}";
const SINGLE_V: &str = "type: butt, weld: groove, penetration: full, preparation: single-v, included_angle: 60 deg, root_gap: 2-3 mm, root_face: 2 mm, welded_from: both sides";

/// The page of a document as a kind of sheet.
fn page(folder: &Path, text: &str, kind: &str) -> String {
    fs::write(folder.join("p.yaml"), text).unwrap();
    let (file, out) = (folder.join("p.yaml").display().to_string(), folder.join("out").display().to_string());
    let (code, _, said) = run(&["render", &file, "--sheet", kind, "--to", "html,pdf", "--out", &out]);
    assert!(code < 2, "{said}");
    let mut made = fs::read_dir(folder.join("out")).unwrap().map(|entry| entry.unwrap().path());
    let html = made.find(|path| path.extension().is_some_and(|ending| ending == "html")).unwrap();
    let text = fs::read_to_string(&html)
        .unwrap()
        .replace('\u{a0}', " ")
        .replace("<span class=\"q\">", "")
        .replace("</span>", "");
    fs::remove_dir_all(folder.join("out")).unwrap();
    // The source at the end of a page is the author's own text.
    text.split_once("<details").map_or(text.clone(), |(sheet, _)| sheet.to_owned())
}

#[test]
fn a_row_of_a_card_shows_no_setting_that_is_not_that_of_its_runs() {
    let folder = tempfile::tempdir().unwrap();
    let mut rising = String::new();
    for run in 1..=12 {
        let low = 90 + 8 * (run - 1);
        let _ = writeln!(rising, "  - {{run: {run}, process: 111, layer: fill, current: {low}-{} A}}", low + 20);
    }
    let card = page(folder.path(), &butt(PLATE, SINGLE_V, &rising), "bench-card");
    for run in 1..=12 {
        let low = 90 + 8 * (run - 1);
        assert!(card.contains(&format!("{low}–{}", low + 20)), "run {run}");
    }
    assert!(!card.contains("98–198") && !card.contains("90–198"));

    let (mut runs, mut conditions) = (String::new(), String::from("conditions:\n"));
    for (number, low) in (0..5).map(|number| (number, 100 + 2 * number)) {
        let _ = writeln!(
            runs,
            "  - {{run: 1, condition: c{number}, layer: root, process: 111, current: {low}-{} A}}",
            low + 20
        );
        let _ = writeln!(
            runs,
            "  - {{run: 2-n, condition: c{number}, process: 111, current: {}-{} A}}",
            low + 20,
            low + 40
        );
        let _ = writeln!(conditions, "  c{number}: {{thickness: {}-{} mm}}", 5 + 2 * number, 7 + 2 * number);
    }
    let text = butt("  - {specification: S355J2+N, thickness: 5-15 mm}", SINGLE_V, &(runs + &conditions));
    let card = page(folder.path(), &text, "bench-card");
    assert!(!card.contains("100–148"));
    for own in ["100–120", "120–140", "108–128", "128–148", "c0", "c4"] {
        assert!(card.contains(own), "{own}");
    }
    // Runs of the same settings still stand in one row, also where others lie between.
    let alike: String = (1..=12)
        .map(|run| {
            format!(
                "  - {{run: {run}, process: 111, layer: fill, current: {} A}}\n",
                if run % 2 == 0 { "90-110" } else { "100-120" }
            )
        })
        .collect();
    let card = page(folder.path(), &butt(PLATE, SINGLE_V, &alike), "bench-card");
    assert_eq!(card.matches("90–110").count(), 1);
    assert!(card.contains("2, 4, 6, 8, 10, 12"));
}

#[test]
fn members_that_differ_are_not_told_as_a_range() {
    let folder = tempfile::tempdir().unwrap();
    let two = "  - {specification: S355J2+N, thickness: 25 mm}\n  - {specification: S355J2+N, thickness: 40 mm}";
    let runs = "  - {run: 1-n, process: 111, current: 110-130 A}\n";
    let tee = "type: tee, weld: fillet, welded_from: both sides";
    let tee = butt(two, tee, runs) + "weld_size: {leg: 8 mm}\n";
    let sheet = page(folder.path(), &tee, "procedure");
    assert!(sheet.contains("25 mm on 40 mm") && !sheet.contains("25 mm to 40 mm"));
    let sheet = page(folder.path(), &butt(two, SINGLE_V, runs), "procedure");
    assert!(sheet.contains("25 mm and 40 mm") && !sheet.contains("25 mm to 40 mm"));
    // The bead of an open run stands for more than one.
    assert!(sheet.contains(">1-n</text>"), "{sheet}");
}

#[test]
fn a_figure_that_would_be_another_joint_is_not_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let runs = "  - {run: 1, process: 111, current: 110-130 A}\n";
    let sheet = |metals: &str, joint: &str| page(folder.path(), &butt(metals, joint, runs), "procedure");
    assert!(sheet(PLATE, SINGLE_V).contains("Position PA") && sheet(PLATE, SINGLE_V).contains("Work angle</h2>"));
    for joint in
        ["type: edge, weld: edge", "type: lap, weld: plug", "type: corner, weld: fillet", "type: butt, weld: surfacing"]
    {
        let drawn = sheet(PLATE, joint);
        assert!(!drawn.contains("Position PA") && !drawn.contains("Work angle</h2>"), "{joint}");
    }
    let laid = sheet(PLATE, "type: butt, weld: surfacing");
    assert!(!laid.contains("S355J2+N to S355J2+N"));
    // A bar is no pipe.
    let bar = "  - {specification: S355J2+N, thickness: 20 mm, outside_diameter: 20 mm, form: round bar}\n  - {specification: S355J2+N, thickness: 10 mm}";
    let flare = "type: lap, weld: groove, penetration: partial, penetration_depth: 6 mm, preparation: flare-bevel";
    let drawn = sheet(bar, flare);
    assert!(drawn.contains("Bar diameter") && !drawn.contains("rotated") && !drawn.contains("all round"), "{drawn}");
    let card = page(folder.path(), &butt(bar, flare, runs), "bench-card");
    assert!(card.contains("20 mm bar diameter"));
}

#[test]
fn the_card_of_a_draft_says_that_it_is_not_ready_on_its_one_page() {
    let folder = tempfile::tempdir().unwrap();
    for (process, metal, thickness, joint) in
        [("135", "S355", "12 mm", "tee"), ("141", "304L", "3 mm", "butt"), ("141,111", "S355", "6 mm", "butt")]
    {
        let facts = ["--process", process, "--metal", metal, "--thickness", thickness, "--joint", joint];
        let (code, draft, said) = run(&[["draft"].as_slice(), &facts, &["--position", "PA"]].concat());
        assert_eq!(code, 0, "{said}");
        for (text, open) in [(draft.clone(), true), (draft.replace("decide:", "by:"), false)] {
            let card = page(folder.path(), &text, "bench-card");
            assert_eq!(card.contains("Not ready to weld, still to decide"), open, "{card}");
            assert!(!open || card.contains("tack welds"), "{card}");
        }
        let (file, out) = (folder.path().join("p.yaml"), folder.path().join("pdf"));
        fs::write(&file, &draft).unwrap();
        let (file, out) = (file.display().to_string(), out.display().to_string());
        let (_, _, said) = run(&["render", &file, "--sheet", "bench-card", "--to", "pdf", "--force", "--out", &out]);
        let made = fs::read_dir(&out).unwrap_or_else(|_| panic!("{said}")).next().unwrap().unwrap().path();
        assert_eq!(lopdf::Document::load(made).unwrap().get_pages().len(), 1, "{process}");
        fs::remove_dir_all(&out).unwrap();
    }
}
