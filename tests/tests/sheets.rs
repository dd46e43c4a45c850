//! Every kind of sheet of every starter procedure, on both papers and in several units: what must fit, fits.

use std::fs;
use std::path::Path;

use seamwright_handbook::variables::Terms;
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::{Loaded, load};
use seamwright_page::block::{Block, Figure, Sheet};
use seamwright_page::lately::Lately;
use seamwright_page::pdf::{Paper, PdfOptions, TextBox, render, text_boxes};
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{self, Subject};

/// The shortest texts on the one paper, the longest on the other.
const SETTINGS: [(UnitSystem, Paper); 2] = [(UnitSystem::Si, Paper::A4), (UnitSystem::Both, Paper::Letter)];

fn starters() -> Vec<(String, Loaded)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../procedures");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let read = |path: &Path| {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let loaded = load(&name, &fs::read(path).unwrap()).unwrap_or_else(|(_, faults)| panic!("{name}: {faults:?}"));
        (name, loaded)
    };
    paths.iter().map(|path| read(path)).collect()
}

fn sheet(kind: Kind, loaded: &Loaded, units: UnitSystem) -> Option<Sheet> {
    let outcome = seamwright_check::check_document(&loaded.document);
    let lately = &Lately::default();
    let subject = Subject { loaded, outcome: &outcome, shop: None, procedure: None, estimate: None, lately };
    kinds::sheet(kind, subject, SheetOptions { units, ..SheetOptions::default() }).ok()
}

fn boxes(sheet: &Sheet, paper: Paper) -> Vec<TextBox> {
    text_boxes(sheet, &PdfOptions { paper, ..PdfOptions::default() }).unwrap()
}

/// Texts that cover each other by more than a hair.
fn overlaps(boxes: &[TextBox]) -> Vec<String> {
    let mut found = Vec::new();
    for (index, one) in boxes.iter().enumerate() {
        for other in boxes.iter().skip(index + 1).filter(|other| other.page == one.page) {
            let across = (one.x + one.width).min(other.x + other.width) - one.x.max(other.x);
            let down = (one.y + one.height).min(other.y + other.height) - one.y.max(other.y);
            if across > 0.5 && down > 0.5 {
                found.push(format!("page {}: `{}` and `{}`", one.page, one.text, other.text));
            }
        }
    }
    found
}

fn sound(kind: Kind, name: &str, loaded: &Loaded) {
    for (units, paper) in SETTINGS {
        let Some(sheet) = sheet(kind, loaded, units) else { continue };
        let boxes = boxes(&sheet, paper);
        let found = overlaps(&boxes);
        assert!(found.is_empty(), "{name} {kind:?} {paper:?} {units:?}: {found:?}");
        if kind == Kind::BenchCard {
            assert!(boxes.iter().all(|text| text.page == 1), "{name} {paper:?} {units:?} takes a second page");
        }
    }
}

#[test]
fn no_text_covers_another_and_a_bench_card_takes_one_page() {
    for (name, loaded) in starters() {
        for kind in Kind::ALL {
            sound(kind, &name, &loaded);
        }
    }
}

/// Every unit system on every paper.
fn appearances() -> impl Iterator<Item = (UnitSystem, Paper)> {
    let units = [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both];
    units.into_iter().flat_map(|units| [(units, Paper::A4), (units, Paper::Letter)])
}

#[test]
fn a_procedure_takes_a_page_for_one_process_and_two_for_more() {
    for (name, loaded) in starters() {
        let Document::Procedure(procedure) = &loaded.document else { unreachable!() };
        let one = procedure.processes.iter().count() < 2;
        for (units, paper) in appearances() {
            let boxes = boxes(&sheet(Kind::Procedure, &loaded, units).unwrap(), paper);
            let pages = boxes.iter().map(|text| text.page).max().unwrap();
            let on = |wanted: &str| {
                let found = boxes.iter().find(|text| text.text.starts_with(wanted));
                found.map_or_else(|| panic!("{name}: no {wanted}"), |text| text.page)
            };
            assert_eq!((on("Set this"), on("Inspector")), (1, 1), "{name} {units:?} {paper:?}");
            // On shorter paper or with both units the drawings of the torch may move to a second page.
            assert!(pages <= 2, "{name} {units:?} {paper:?} takes {pages} pages");
            let usual = units != UnitSystem::Both && paper == Paper::A4;
            assert!(!(one && usual) || pages == 1, "{name} {units:?} {paper:?} takes {pages} pages");
        }
    }
}

/// The sizes of type in a file: what its pages hand to `Tf` (ISO 32000-1, 9.3.1).
fn sizes_of_type(bytes: &[u8]) -> Vec<f32> {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let pages = document.page_iter().map(|page| document.get_page_content(page));
    let operations = pages.flat_map(|content| lopdf::content::Content::decode(&content).unwrap().operations);
    let fonts = operations.filter(|operation| operation.operator == "Tf");
    fonts.map(|operation| operation.operands.last().and_then(|size| size.as_float().ok()).unwrap()).collect()
}

/// 6.5 pt is the least that is read on paper at a desk (common practice).
#[test]
fn no_type_is_smaller_than_can_be_read() {
    for (name, loaded) in starters() {
        for kind in Kind::ALL {
            for (units, paper) in appearances() {
                let Some(sheet) = sheet(kind, &loaded, units) else { continue };
                let bytes = render(&sheet, &PdfOptions { paper, ..PdfOptions::default() }).unwrap();
                let sizes = sizes_of_type(&bytes);
                assert!(!sizes.is_empty(), "{name} {kind:?}");
                let least = sizes.iter().copied().fold(f32::INFINITY, f32::min);
                assert!(least >= 6.49, "{name} {kind:?} {units:?} {paper:?}: {least} pt");
            }
        }
    }
}

/// A sheet goes by mail and by telephone: two pages, tagged and with their source, take 40 kB at the most.
#[test]
fn a_sheet_is_small() {
    for (name, loaded) in starters() {
        for kind in [Kind::Procedure, Kind::BenchCard, Kind::Review] {
            for (units, paper) in SETTINGS {
                let sheet = sheet(kind, &loaded, units).unwrap();
                let bytes = render(&sheet, &PdfOptions { paper, ..PdfOptions::default() }).unwrap();
                let pages = lopdf::Document::load_mem(&bytes).unwrap().page_iter().count();
                let most = 40_000 + pages.saturating_sub(2) * 10_000;
                assert!(
                    bytes.len() <= most,
                    "{name} {kind:?} {units:?} {paper:?}: {} bytes on {pages} pages",
                    bytes.len()
                );
            }
        }
    }
}

/// Settings are read at arm's length: 14 pt and more (common practice for signs that are read at two metres).
#[test]
fn settings_of_a_bench_card_stand_in_large_type() {
    for (name, loaded) in starters() {
        let sheet = sheet(Kind::BenchCard, &loaded, UnitSystem::Si).unwrap();
        let Document::Procedure(procedure) = &loaded.document else { unreachable!() };
        let low = procedure.runs.iter().find_map(|run| run.settings.current.as_ref()?.value()?.low()).unwrap();
        let number = format!("{}–", low.amperes());
        let boxes = boxes(&sheet, Paper::A4);
        let found = boxes.iter().find(|text| text.text.starts_with(&number));
        assert!(found.is_some_and(|text| text.size >= 14.0), "{name}: {number} {found:?}");
    }
}

/// A procedure with runs that all differ.
fn many_runs(count: u32) -> Loaded {
    let mut text = String::from(
        "format: 1\ndocument: procedure\nidentification: {number: P-40, revision: 1, title: A thick plate}\n\
         parent_metals: [{specification: S355J2+N, thickness: 60 mm}]\n\
         joint: {type: butt, weld: groove, preparation: double-v, included_angle: 60 deg, root_gap: 2-3 mm, root_face: 1-2 mm}\n\
         positions: [PA]\nfillers:\n  rod: {designation: E7018, diameter: 4 mm}\n\
         processes:\n  111: {polarity: DCEP, filler: rod}\nruns:\n",
    );
    for run in 1..=count {
        let layer = if run == 1 {
            "root"
        } else if run > count - 4 {
            "cap"
        } else {
            "fill"
        };
        text.push_str(&format!(
            "- {{run: {run}, layer: {layer}, current: {}-{} A, voltage: 22-26 V, travel_speed: {}-{} mm/min}}\n",
            120 + run,
            150 + run,
            90 + run,
            140 + run
        ));
    }
    load("many.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"))
}

#[test]
fn forty_runs_flow_over_pages_with_repeated_headers_and_fit_a_bench_card() {
    let loaded = many_runs(40);
    for kind in Kind::ALL {
        sound(kind, "40 runs", &loaded);
    }
    let boxes = boxes(&sheet(Kind::Procedure, &loaded, UnitSystem::Si).unwrap(), Paper::A4);
    // Each run's row is whole: its current, its travel speed and its number stand at one height.
    for run in 1..=40 {
        let (current, speed) = (format!("{}–{}", 120 + run, 150 + run), format!("{}–{}", 90 + run, 140 + run));
        let place = |wanted: &str| {
            let found = boxes.iter().find(|text| text.text.replace('\u{a0}', " ") == wanted);
            found.map_or_else(|| panic!("no {wanted}"), |text| (text.page, text.y))
        };
        assert_eq!(place(&current).0, place(&speed).0, "run {run} is split over pages");
        assert!((place(&current).1 - place(&speed).1).abs() < 0.1, "run {run}");
    }
    let pages_of_runs: std::collections::BTreeSet<usize> =
        boxes.iter().filter(|text| text.text == "111").map(|text| text.page).collect();
    for page in pages_of_runs {
        assert!(boxes.iter().any(|text| text.page == page && text.text == "Travel speed"), "page {page} has no header");
    }
}

/// The words of a list of blocks: alternative texts of drawings, paragraphs, labels of fields and headings of tables.
fn words(blocks: &[Block]) -> String {
    let of = |block: &Block| match block {
        Block::Drawings { drawings } => drawings.iter().map(|figure| figure.alt.clone()).collect::<Vec<_>>().join(" "),
        Block::Paragraph { text, .. } => text.clone(),
        Block::Fields { fields } => fields.iter().map(|field| field.label.clone()).collect::<Vec<_>>().join("|"),
        Block::Table(table) | Block::Settings(table) => {
            table.columns.iter().map(|column| column.heading.clone()).collect::<Vec<_>>().join("|")
        }
        Block::Columns { left, right, .. } => format!("{} {}", words(left), words(right)),
        Block::Together { blocks } => words(blocks),
        _ => String::new(),
    };
    blocks.iter().map(of).collect::<Vec<_>>().join("\n")
}

/// The bench card of a starter procedure with the machines of a shop.
fn card(name: &str, machines: &str, terms: Terms) -> String {
    let (_, loaded) = starters().into_iter().find(|(own, _)| own == name).unwrap();
    let text = format!(
        "format: 1\ndocument: shop\nidentification: {{number: S-9, revision: 1, title: A shop}}\npower_sources:\n{machines}\n"
    );
    let shop = load("shop.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let Document::Shop(shop) = &shop.document else { unreachable!() };
    let outcome = seamwright_check::check_document(&loaded.document);
    let (loaded, outcome, lately) = (&loaded, &outcome, &Lately::default());
    let subject = Subject { loaded, outcome, shop: Some(shop), procedure: None, estimate: None, lately };
    let options = SheetOptions { terms, ..SheetOptions::default() };
    words(&kinds::sheet(Kind::BenchCard, subject, options).unwrap().blocks)
}

#[test]
fn a_hook_up_is_that_of_the_best_machine_of_the_shop() {
    let wire = "  - {name: W, processes: [135], polarity: [DCEP], current: 30-400 A, wire_feeder: ";
    let apart = card("butt-10-s355-135.yaml", &format!("{wire}separate}}"), Terms::Iso);
    assert!(apart.contains("The wire feeder stands apart."), "{apart}");
    let within = card("butt-10-s355-135.yaml", &format!("{wire}built-in}}"), Terms::Iso);
    assert!(within.contains("The wire feeder is in the power source."), "{within}");
    let by_hand = "  - {name: S, processes: [141], polarity: [DCEN], current: 5-200 A, gas_solenoid: no}";
    let text = card("lap-fillet-2-carbon-141.yaml", by_hand, Terms::Iso);
    assert!(text.contains("straight to a valve on the torch"), "{text}");
    assert!(text.contains("hold the torch on the crater"), "{text}");
    let none = card("butt-10-s355-135.yaml", by_hand, Terms::Iso);
    assert!(none.contains("No machine of the shop welds 135."), "{none}");
    let weak = card("butt-10-s355-135.yaml", "  - {name: W, processes: [135], current: 30-60 A}", Terms::Iso);
    assert!(weak.contains("W lacks current"), "{weak}");
}

#[test]
fn a_bench_card_speaks_the_terms_that_were_asked_for() {
    let machine = "  - {name: S, processes: [141], current: 5-200 A}";
    let iso = card("lap-fillet-2-carbon-141.yaml", machine, Terms::Iso);
    let aws = card("lap-fillet-2-carbon-141.yaml", machine, Terms::Aws);
    for (one, other) in [
        ("Run|", "Pass|"),
        ("|Filler", "|Filler metal"),
        ("Stickout", "Electrode extension"),
        ("Parent metals", "Base metals"),
    ] {
        assert!(iso.contains(one) && aws.contains(other) && !aws.contains(&format!("{one}|")), "{one} {other}: {aws}");
    }
}

/// Every drawing of a sheet, wherever it stands.
fn drawings(blocks: &[Block]) -> Vec<&Figure> {
    let mut found = Vec::new();
    for block in blocks {
        match block {
            Block::Drawings { drawings } => found.extend(drawings),
            Block::Columns { left, right, .. } => found.extend([left, right].into_iter().flat_map(|own| drawings(own))),
            Block::Together { blocks } | Block::GivesWay { blocks, .. } => found.extend(drawings(blocks)),
            _ => {}
        }
    }
    found
}

/// ISO 129-1: a drawing says its unit once; ISO 2553 and AWS A2.4: a symbol has numbers without unit.
#[test]
fn a_unit_stands_once_on_a_drawing_and_every_groove_and_fillet_has_its_symbol() {
    for (name, loaded) in starters() {
        let Document::Procedure(procedure) = &loaded.document else { unreachable!() };
        let sheet = sheet(Kind::Procedure, &loaded, UnitSystem::Si).unwrap();
        let figures = drawings(&sheet.blocks);
        let titled = |start: &str| {
            let found = figures.iter().find(|figure| figure.title.starts_with(start));
            found.unwrap_or_else(|| panic!("{name}: no {start}"))
        };
        let (joint, symbol) = (titled("Joint"), titled("Welding symbol"));
        for alt in [&joint.alt, &symbol.alt] {
            assert!(!alt.contains("mm"), "{name}: {alt}");
        }
        assert_eq!(joint.caption.as_deref(), Some("Dimensions in mm"), "{name}");
        let stated = procedure.joint.as_ref().unwrap();
        let both = stated.welded_from.as_ref().is_some_and(|from| format!("{from:?}").contains("Both"));
        let fillet = joint.alt.contains("fillet");
        assert_eq!(both && fillet, joint.alt.contains("on both sides"), "{name}: {}", joint.alt);
        if fillet {
            assert_eq!(both, symbol.alt.contains("other side: fillet"), "{name}: {}", symbol.alt);
        }
        let backed = stated.backing.as_ref().is_some_and(|own| {
            let own = format!("{own:?}");
            own.contains("Strip") || own.contains("Ceramic")
        });
        let (said, alt) = (["backing,", "backing;", "backing."], &symbol.alt);
        assert_eq!(backed, said.iter().any(|word| alt.contains(word)), "{name}: {}", symbol.alt);
    }
}

/// A line that does not belong to a process is read by whoever welds with it: no gas on the card of a covered electrode, no tungsten on that
/// of a wire. Of two processes what neither has is strange, on a card and in a lesson.
#[test]
fn no_line_of_a_card_speaks_of_what_its_process_has_not() {
    let mut seen = std::collections::BTreeSet::new();
    let mut hold = |name: &str, procedure: &Procedure, sheet: &Sheet| {
        let numbers: Vec<&str> = procedure.processes.iter().map(|(number, _)| number).collect();
        let Some(each) = numbers.iter().map(|number| strange_to(number)).collect::<Option<Vec<_>>>() else { return };
        let Some((first, others)) = each.split_first() else { return };
        seen.insert(numbers.join("+"));
        // The glosses of polarity and angles are those of all processes.
        let text = serde_json::to_string(&sheet.blocks).unwrap().to_lowercase().replace("torch or holder on", "");
        let text = text.replace("torch or electrode leans", "");
        let strange = first.iter().filter(|word| others.iter().all(|other| other.contains(word)));
        let found: Vec<_> = strange.filter(|word| text.contains(**word)).collect();
        assert!(found.is_empty(), "{name}: {found:?}");
    };
    for (name, loaded) in starters() {
        let Document::Procedure(procedure) = &loaded.document else { unreachable!() };
        hold(&name, procedure, &sheet(Kind::BenchCard, &loaded, UnitSystem::Si).unwrap());
    }
    for name in ["lesson", "lesson-vertical"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../examples/{name}/lesson.yaml"));
        let read =
            |path: &Path| load(name, &fs::read(path).unwrap()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
        let loaded = read(&path);
        let Document::Lesson(lesson) = &loaded.document else { unreachable!() };
        let own = read(&path.with_file_name(&*lesson.procedure));
        let Document::Procedure(procedure) = &own.document else { unreachable!() };
        let outcome = seamwright_check::check_document(&loaded.document);
        let (lately, of) = (&Lately::default(), Some(&**procedure));
        let subject = Subject { loaded: &loaded, outcome: &outcome, shop: None, procedure: of, estimate: None, lately };
        hold(name, procedure, &kinds::sheet(Kind::Lesson, subject, SheetOptions::default()).unwrap());
    }
    assert!(seen.len() > 7 && seen.contains("141+111"), "{seen:?}");
}

/// Words that are strange to a process; nothing for one that is not held.
fn strange_to(number: &str) -> Option<Vec<&'static str>> {
    let gas = ["argon", "cylinder", "regulator", "flow meter", "shielding gas", "post-flow", "asphyxiation"];
    let tungsten = ["tungsten", "filler rod", "rods"];
    let wire = ["wire feed", "contact tip", "wire torch", "wire feeder"];
    let stick = ["electrode holder", "holder on", "covered electrode", "dry e", "stub"];
    Some(match number {
        "111" => [gas.as_slice(), &tungsten, &wire, &["torch", "nozzle"]].concat(),
        "114" => [gas.as_slice(), &tungsten, &stick, &["nozzle"]].concat(),
        "121" => [gas.as_slice(), &tungsten, &stick, &["torch", "nozzle", "lens shade on this"]].concat(),
        "131" | "135" | "136" | "138" => [tungsten.as_slice(), &stick].concat(),
        "141" | "142" => [wire.as_slice(), &stick, &["slag"]].concat(),
        _ => return None,
    })
}

/// A document of the examples.
fn example(name: &str) -> Loaded {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../examples/{name}.yaml"));
    load(name, &fs::read(path).unwrap()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"))
}

#[test]
fn the_joint_is_drawn_for_each_condition_whose_joint_differs() {
    let loaded = example("codes/procedure-conditions");
    for kind in [Kind::Procedure, Kind::BenchCard] {
        let own = sheet(kind, &loaded, UnitSystem::Si).unwrap();
        let figures = drawings(&own.blocks);
        let of =
            |name: &str| figures.iter().filter(|own| own.title.ends_with(&format!(": {name}"))).collect::<Vec<_>>();
        for (name, shape) in [("thin", "single V"), ("thick", "double V")] {
            let own = of(name);
            assert_eq!(own.len(), 2, "{kind:?} {name}: joint and runs");
            assert!(own[0].alt.contains(shape), "{kind:?} {name}: {}", own[0].alt);
        }
    }
    // Where nothing of the joint differs, the drawing says which condition it shows.
    let text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/codes/procedure-conditions.yaml"));
    let text = text.unwrap().replace("    joint: {type: butt, preparation: double-v}\n", "");
    let alike = load("p.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let own = sheet(Kind::Procedure, &alike, UnitSystem::Si).unwrap();
    let titles: Vec<&str> = drawings(&own.blocks).into_iter().map(|own| own.title.as_str()).collect();
    assert!(titles.iter().any(|title| title.ends_with(": thin")), "{titles:?}");
    assert!(!titles.iter().any(|title| title.ends_with(": thick")), "{titles:?}");
}

/// API 1104 Table 2 and Figure 3 (from memory): pipe of 168.3 x 7.1 mm has two of each specimen, drawn around it and listed.
#[test]
fn the_coupon_of_a_pipeline_shows_its_specimens() {
    let own = sheet(Kind::Coupon, &example("codes/record-api-1104"), UnitSystem::Si).unwrap();
    let figures = drawings(&own.blocks);
    let alt = &figures[0].alt;
    for specimen in ["tensile", "nick break", "root bend", "face bend"] {
        assert_eq!(alt.matches(specimen).count(), 2, "{specimen}: {alt}");
    }
    let text = serde_json::to_string(&own.blocks).unwrap();
    assert!(text.contains("former") && text.contains("90 mm"), "{text}");
}
