//! Sheets are set, then read back with lopdf or measured by their text boxes.

use std::sync::{Arc, LazyLock};

use lopdf::{Document, Object, Stream, dictionary};
use proptest::prelude::*;
use seamwright_drawing::face::Face;
use seamwright_drawing::{Anchor, Drawing, Fill, Segment, Stroke};

use super::*;
use crate::attached::{ReadError, SOURCE_LIMIT};
use crate::block::{
    Align, Block, Cell, Column, Field, Figure, Footer, Masthead, NoticeItem, NoticeKind, Row, Source, Table,
};

fn sheet(blocks: Vec<Block>) -> Sheet {
    Sheet {
        masthead: Masthead {
            manufacturer: "Tarn Beck Metalwork (invented)".into(),
            kind: "welding procedure specification".into(),
            title: "Pipe butt, 60.3 × 5.5 mm carbon steel, 141 root with 111 fill and cap".into(),
            number: "P-021".into(),
            facts: vec![("Revision".into(), "1".into()), ("Date".into(), "2026-02-17".into())],
            stamp: Some("NOT QUALIFIED: no test record named".into()),
            qr: Some("P-021 rev 1 7c1e 09ab 44d2".into()),
        },
        blocks,
        footer: Footer { checked: "Checked: 63 values against 44 limits.".into(), reference: "P-021 rev 1".into() },
        one_page: false,
        large: false,
        planned: None,
        annex: Vec::new(),
        source: Source {
            file_name: "P-021.yaml".into(),
            text: "number: P-021\ntitle: \"Łódź, 60° ± 5°\"\n".into(),
            digest: "7c1e 09ab 44d2".into(),
            date: Some("2026-02-17".into()),
            made_with: None,
        },
    }
}

fn column(heading: &str, align: Align) -> Column {
    Column { heading: heading.into(), unit: None, align, weight: 1.0 }
}

fn table(rows: usize) -> Table {
    Table {
        caption: None,
        columns: vec![column("Variable", Align::Left), column("Amperes", Align::Right), column("Remark", Align::Left)],
        rows: (1..=rows)
            .map(|number| Row {
                cells: vec![
                    Cell::bold(format!("row-{number}")),
                    Cell::text(format!("{number} A")),
                    Cell { text: "stated".into(), note: Some("by the handbook table".into()), bold: false },
                ],
                marked: number == 5,
            })
            .collect(),
    }
}

fn drawing() -> Drawing {
    let mut drawing = Drawing::new(80.0, 40.0);
    let square = &[(10.0, 5.0), (60.0, 5.0), (60.0, 35.0), (10.0, 35.0)];
    drawing.polygon(square, Fill::Hatch(1.5), Some(Stroke::solid(0.5)));
    drawing.path(
        vec![Segment::Move((0.0, 0.0)), Segment::Curve((5.0, 9.0), (9.0, 5.0), (70.0, 30.0))],
        Fill::None,
        Some(Stroke::dashed(0.2)),
    );
    drawing.text((35.0, 20.0), "5.5 mm", 8.0, Anchor::Middle);
    drawing
}

fn figure(title: &str) -> Figure {
    Figure {
        title: title.into(),
        clause: Some("4.4.2".into()),
        drawing: drawing().into(),
        alt: "a square in section".into(),
        caption: Some("to scale".into()),
    }
}

fn every_block() -> Vec<Block> {
    vec![
        Block::heading("Parent metals", Some("ISO 15609-1, 4.3")),
        Block::Fields {
            fields: vec![
                Field::new("Specification", "P235GH to P235GH"),
                Field::new("Thickness", "3–11 mm"),
                Field::new("Preparation", "degrease, then grind to bright metal 25 mm each side").wide(4),
            ],
        },
        Block::Drawings { drawings: vec![figure("Joint"), figure("Runs")] },
        Block::heading("Runs", None),
        Block::Table(table(4)),
        Block::Settings(table(2)),
        Block::Notice {
            kind: NoticeKind::Caution,
            title: Some("Cautions".into()),
            items: vec![
                NoticeItem { lead: Some("Arc light".into()), text: "shade 10–12.".into() },
                NoticeItem { lead: None, text: "A qualified person decides.".into() },
            ],
        },
        Block::Notice {
            kind: NoticeKind::Stop,
            title: Some("Stop and ask".into()),
            items: vec![NoticeItem { lead: None, text: "over 90 A".into() }],
        },
        Block::paragraph("Running text that says what the blocks above do not."),
        Block::List { numbered: true, small: true, items: vec!["ISO 15609-1:2019".into(), "ISO 14175:2008".into()] },
        Block::Columns {
            left: vec![Block::heading("Left", None), Block::paragraph("left text")],
            right: vec![Block::paragraph("right text")],
            share: 0.5,
        },
        Block::Signatures {
            boxes: vec![("Written by".into(), "A. Lindqvist".into()), ("Inspector".into(), String::new())],
        },
    ]
}

/// The usual options; the faces are made once for all tests.
fn usual() -> PdfOptions {
    static USUAL: LazyLock<PdfOptions> = LazyLock::new(PdfOptions::default);
    USUAL.clone()
}

fn set(sheet: &Sheet) -> Vec<u8> {
    render(sheet, &usual()).expect("the sheet is set")
}

fn boxes(sheet: &Sheet) -> Vec<TextBox> {
    text_boxes(sheet, &usual()).expect("the sheet is laid out")
}

/// The object that pages place under the logo's name.
fn logo_of(document: &Document) -> Stream {
    let page = document.get_pages()[&1];
    let (resources, ids) = document.get_page_resources(page).expect("the page has resources");
    let resources = resources.unwrap_or_else(|| document.get_dictionary(ids[0]).expect("resources"));
    let objects = resources.get(b"XObject").and_then(Object::as_dict).expect("the logo is a resource");
    let id = objects.get(b"Logo").and_then(Object::as_reference).expect("the logo is there");
    document.get_object(id).and_then(Object::as_stream).expect("the logo is a stream").clone()
}

fn with_logo(bytes: &[u8]) -> Document {
    let logo = crate::logo::Logo::new(bytes).expect("the logo is read");
    let house = House { logo: Some(logo), ..House::default() };
    let options = PdfOptions { house: Some(Arc::new(house)), ..usual() };
    load(&render(&sheet(every_block()), &options).expect("the sheet is set"))
}

#[test]
fn an_svg_logo_is_printed_as_paths_of_its_own_size_and_colours() {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 80 40\"><rect width=\"80\" height=\"10\" fill=\"#ff0000\"/>\
               <path d=\"M0 20L80 40\" stroke=\"#0000ff\" stroke-width=\"3\"/></svg>";
    let document = with_logo(svg.as_bytes());
    let logo = logo_of(&document);
    assert_eq!(logo.dict.get(b"Subtype").and_then(Object::as_name).unwrap(), b"Form");
    let numbers = |key: &[u8]| -> Vec<f32> {
        let array = logo.dict.get(key).and_then(Object::as_array).unwrap();
        array.iter().map(|number| number.as_float().unwrap()).collect()
    };
    assert_eq!(numbers(b"BBox"), [0.0, 0.0, 80.0, 40.0]);
    assert_eq!(numbers(b"Matrix"), [1.0 / 80.0, 0.0, 0.0, -1.0 / 40.0, 0.0, 1.0]);
    let content = lopdf::content::Content::decode(&logo.get_plain_content().unwrap()).unwrap();
    let operators: Vec<&str> = content.operations.iter().map(|own| own.operator.as_str()).collect();
    for wanted in ["rg", "f", "RG", "w", "S"] {
        assert!(operators.contains(&wanted), "{wanted} in {operators:?}");
    }
    // Twice as wide as high, so the height of the box decides: 56 by 28 pt, upright on the page.
    let page = document.get_pages()[&1];
    let page = lopdf::content::Content::decode(&document.get_page_content(page)).unwrap();
    let at = page.operations.iter().position(|own| own.operator == "Do").expect("the page places the logo");
    let placed = page.operations[..at].iter().filter(|own| own.operator == "cm").any(|own| {
        let matrix: Vec<f32> = own.operands.iter().map(|number| number.as_float().unwrap()).collect();
        matrix[..4] == [56.0, 0.0, 0.0, 28.0]
    });
    assert!(placed, "{:?}", page.operations[..=at].iter().map(|own| &own.operator).collect::<Vec<_>>());
}

#[test]
fn a_png_logo_is_printed_as_its_pixels() {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 2, 1);
    encoder.set_color(png::ColorType::Rgba);
    encoder.write_header().unwrap().write_image_data(&[200, 0, 0, 255, 0, 0, 0, 0]).unwrap();
    let logo = logo_of(&with_logo(&bytes));
    assert_eq!(logo.dict.get(b"Subtype").and_then(Object::as_name).unwrap(), b"Image");
    assert_eq!(logo.get_plain_content().unwrap(), [200, 0, 0, 255, 255, 255]);
}

fn load(pdf: &[u8]) -> Document {
    Document::load_mem(pdf).expect("lopdf reads the file")
}

/// Text without white space, which extraction places by guess.
fn squeezed(text: &str) -> String {
    text.chars().filter(|character| !character.is_whitespace()).collect()
}

/// What is wrong with the places of texts: overlaps, or anything outside the margins.
fn faults(boxes: &[TextBox], (width, height): (f64, f64)) -> Vec<String> {
    let mut faults = Vec::new();
    let margin = style::MARGIN - 0.5;
    for (index, one) in boxes.iter().enumerate().filter(|(_, text)| !text.in_drawing) {
        if one.x < margin || one.x + one.width > width - margin || one.y < 20.0 || one.y + one.height > height - 20.0 {
            faults.push(format!("outside the margins: {one:?}"));
        }
        for other in boxes.iter().skip(index + 1).filter(|text| text.page == one.page && !text.in_drawing) {
            let across = (one.x + one.width).min(other.x + other.width) - one.x.max(other.x);
            let down = (one.y + one.height).min(other.y + other.height) - one.y.max(other.y);
            if across > 0.05 && down > 0.05 {
                faults.push(format!("overlap by {across:.2} × {down:.2}: {one:?} and {other:?}"));
            }
        }
    }
    faults
}

#[test]
fn equal_sheets_give_equal_bytes() {
    let sheet = sheet(every_block());
    assert!(set(&sheet) == set(&sheet.clone()));
}

#[test]
fn every_font_is_an_embedded_subset() {
    let document = load(&set(&sheet(every_block())));
    let mut fonts = 0;
    for object in document.objects.values() {
        let Ok(entries) = object.as_dict() else { continue };
        if entries.has_type(b"Font") {
            let name = entries.get(b"BaseFont").and_then(Object::as_name).expect("a font has a name");
            assert_eq!(name.get(6), Some(&b'+'), "a subset has a tag: {}", String::from_utf8_lossy(name));
            assert!(entries.has(b"ToUnicode"));
            fonts += 1;
        }
        if entries.has_type(b"FontDescriptor") {
            let program = entries.get(b"FontFile2").and_then(Object::as_reference).expect("the font is embedded");
            let program = document.get_object(program).and_then(Object::as_stream).expect("a font program");
            let length = program.get_plain_content().expect("the program unpacks").len();
            assert!((1000..30_000).contains(&length), "a subset, not the whole font: {length} bytes");
        }
    }
    assert_eq!(fonts, 2);
}

#[test]
fn text_is_found_in_reading_order() {
    let document = load(&set(&sheet(every_block())));
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let text = squeezed(&document.extract_text(&pages).expect("text can be extracted"));
    let mut from = 0;
    for words in [
        "TarnBeckMetalwork",
        "60.3×5.5mm",
        "P-021",
        "Parentmetals",
        "ISO15609-1,4.3",
        "Specification",
        "P235GHtoP235GH",
        "3–11mm",
        "Joint",
        "5.5mm",
        "row-1",
        "Stopandask",
        "over90A",
        "A.Lindqvist",
        "Checked:63values",
    ] {
        let found = text.get(from..).and_then(|rest| rest.find(words));
        from += found.unwrap_or_else(|| panic!("{words:?} is not after byte {from} of {text}"));
    }
}

// Glyphs are numbered in the order of the face: with this many, some have the numbers of the bytes that end or steer a string.
#[test]
fn every_glyph_number_is_written_so_that_it_is_read_back() {
    let ranges = ['!'..='~', '\u{c0}'..='\u{ff}', '\u{391}'..='\u{3a1}', '\u{410}'..='\u{44f}'];
    let words: Vec<String> = ranges.into_iter().map(|range| range.filter(|c| *c != '\u{d7}').collect()).collect();
    let text = words.iter().flat_map(|word| word.chars()).map(String::from).collect::<Vec<_>>().join(" ");
    let document = load(&set(&sheet(vec![Block::paragraph(text.clone())])));
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let read = squeezed(&document.extract_text(&pages).expect("text can be extracted"));
    assert!(read.contains(&squeezed(&text)), "{read}");
}

#[test]
fn operators_are_written_short_and_a_state_once() {
    let fonts = embed::Fonts::of(&used::Used::default(), &Faces::default()).expect("no font is asked for");
    let block = |x: f64| Mark::Block { x, y: 10.0, width: 12.25, height: 0.05, grey: 0.333 };
    let painted = paint::Painter::new(100.0, &fonts).page(&[block(-0.5), block(120.0)], &mut tag::Structure::default());
    assert_eq!(
        String::from_utf8_lossy(&painted),
        "/Artifact BMC\n0.33 g\n-0.5 89.95 12.25 0.05 re\nf\n120 89.95 12.25 0.05 re\nf\nEMC\n"
    );
    let upright = vec![
        Segment::Move((10.0, 20.0)),
        Segment::Line((30.0, 20.0)),
        Segment::Line((30.0, 25.0)),
        Segment::Line((10.0, 25.0)),
        Segment::Close,
    ];
    let mut skewed = upright.clone();
    skewed[2] = Segment::Line((31.0, 25.0));
    let shape = |segments| Mark::Shape { segments, fill: piece::ShapeFill::Grey(0.0), stroke: None };
    let painted =
        paint::Painter::new(100.0, &fonts).page(&[shape(upright), shape(skewed)], &mut tag::Structure::default());
    assert_eq!(
        String::from_utf8_lossy(&painted),
        "/Artifact BMC\n0 g\n10 75 20 5 re\nf\n10 80 m\n30 80 l\n31 75 l\n10 75 l\nh\nf\nEMC\n"
    );
}

#[test]
fn a_sheet_in_another_language_tells_it_and_has_its_letters() {
    use crate::kind::Kind;
    use crate::language::Language;
    use crate::options::SheetOptions;
    for (language, tag) in [(Language::Es, b"es".as_slice()), (Language::De, b"de".as_slice())] {
        let mut given = sheet(vec![Block::paragraph("¿Qué tamaño? ¡Ángulo! Nahtgröße, Überstand, schräg, Ölfilm")]);
        let options = SheetOptions { language, ..SheetOptions::default() };
        given.source.made_with = Some(crate::made_with::MadeWith::new(Kind::BenchCard, options));
        let document = load(&set(&given));
        let catalog = document.catalog().expect("a catalog");
        assert_eq!(catalog.get(b"Lang").and_then(Object::as_str).expect("a language"), tag);
    }
}

#[test]
fn the_file_says_what_it_is() {
    let document = load(&set(&sheet(every_block())));
    assert_eq!(document.version, "1.7");
    let catalog = document.catalog().expect("a catalog");
    assert_eq!(catalog.get(b"Lang").and_then(Object::as_str).expect("a language"), b"en");
    let view = catalog.get(b"ViewerPreferences").and_then(Object::as_dict).expect("preferences");
    assert!(view.get(b"DisplayDocTitle").and_then(Object::as_bool).expect("a choice"));
    assert_eq!(catalog.get(b"PageMode").and_then(Object::as_name).expect("a mode"), b"UseOutlines");
    assert!(catalog.has(b"PageLabels"));
    let info = document.trailer.get(b"Info").and_then(Object::as_reference).expect("metadata");
    let info = document.get_dictionary(info).expect("metadata");
    let entry = |key: &[u8]| lopdf::decode_text_string(info.get(key).expect("an entry")).expect("text");
    assert_eq!(entry(b"Title"), "P-021 Pipe butt, 60.3 × 5.5 mm carbon steel, 141 root with 111 fill and cap");
    assert_eq!(entry(b"Producer"), "Seamwright");
    assert_eq!(entry(b"CreationDate"), "D:20260217000000Z");
    assert_eq!(entry(b"Keywords"), "P-021, revision 1, date 2026-02-17, digest 7c1e 09ab 44d2");
    let titles: Vec<String> =
        document.get_toc().expect("an outline").toc.into_iter().map(|entry| entry.title).collect();
    assert_eq!(titles, ["Parent metals", "Joint", "Runs", "Runs", "Left"]);
}

#[test]
fn a_long_table_repeats_its_header_and_splits_no_row() {
    let sheet = sheet(vec![Block::heading("Runs", None), Block::Table(table(40))]);
    let boxes = boxes(&sheet);
    let pages = boxes.iter().map(|text| text.page).max().expect("some text");
    assert!(pages >= 2);
    for page in 1..=pages {
        let headers = boxes.iter().filter(|text| text.page == page && text.text == "Amperes").count();
        assert_eq!(headers, 1, "on page {page}");
    }
    for number in 1..=40 {
        let at =
            |words: String| boxes.iter().filter(|text| text.text == words).map(|text| text.page).collect::<Vec<_>>();
        let (name, value) = (at(format!("row-{number}")), at(format!("{number} A")));
        assert_eq!(name.len(), 1, "row {number} stands once");
        assert_eq!(name, value, "row {number} stands on one page");
    }
    assert_eq!(faults(&boxes, Paper::A4.size()), Vec::<String>::new());
}

#[test]
fn a_row_taller_than_a_page_goes_on_without_loss() {
    let long: String = (0..900).map(|number| format!("word{number}")).collect::<Vec<_>>().join(" ");
    let mut table = table(2);
    table.rows[1].cells[2].text = long;
    let sheet = sheet(vec![Block::Table(table)]);
    let boxes = boxes(&sheet);
    assert!(boxes.iter().map(|text| text.page).max() >= Some(2));
    let text: String = boxes.iter().flat_map(|text| [text.text.as_str(), " "]).collect();
    for number in 0..900 {
        let word = format!("word{number} ");
        assert_eq!(text.matches(&word).count(), 1, "{word} stands once");
    }
    assert_eq!(faults(&boxes, Paper::A4.size()), Vec::<String>::new());
}

#[test]
fn a_row_to_write_in_leaves_eight_millimetres_for_a_pen() {
    let rows = |cell: fn() -> Cell| {
        let row = |number| Row { cells: vec![Cell::text(format!("W{number}")), cell()], marked: false };
        let columns = vec![column("Joint", Align::Left), column("Sign", Align::Left)];
        let table = Table { caption: None, columns, rows: (10..16).map(row).collect() };
        let boxes = boxes(&sheet(vec![Block::Table(table)]));
        let tops: Vec<f64> = boxes.iter().filter(|own| own.text.starts_with("W1")).map(|own| own.y).collect();
        assert_eq!(tops.len(), 6);
        tops.windows(2).map(|two| (two[1] - two[0]).abs() * 25.4 / 72.0).fold(f64::INFINITY, f64::min)
    };
    let (written, printed) = (rows(Cell::to_write_in), rows(|| Cell::text("M. Okafor")));
    assert!(written >= 8.0 && printed < 8.0, "{written:.1} mm to write in, {printed:.1} mm in print");
}

#[test]
fn a_heading_is_never_left_alone() {
    // Whatever fills the page before it, a heading has its first field on its own page.
    for lines in 30..75 {
        let mut blocks = vec![Block::paragraph(vec!["line"; lines].join("\n"))];
        blocks.push(Block::heading("Lonely", None));
        blocks.push(Block::Fields { fields: vec![Field::new("Label", "companion")] });
        let boxes = boxes(&sheet(blocks));
        let page = |words: &str| boxes.iter().find(|text| text.text == words).map(|text| text.page);
        assert_eq!(page("Lonely"), page("companion"), "after {lines} lines");
    }
}

#[test]
fn long_values_wrap_inside_their_columns() {
    let value =
        "ER70S-2/ER70S-3/ER70S-6_or_any_other_classification_of_AWS_A5.18M:2017_that_is_stated_in_the_test_record";
    let blocks = vec![Block::Fields {
        fields: vec![
            Field::new("A label that is much longer than one column of the grid can hold in one line", value),
            Field { large: true, ..Field::new("Large", value) },
            Field::new("Next", "next"),
        ],
    }];
    let boxes = boxes(&sheet(blocks));
    assert_eq!(faults(&boxes, Paper::A4.size()), Vec::<String>::new());
    let next = boxes.iter().find(|text| text.text == "next").expect("the next field");
    for text in
        boxes.iter().filter(|text| text.page == 1 && text.x < next.x && text.y > 120.0 && text.y < next.y + 200.0)
    {
        assert!(text.x + text.width < next.x, "{text:?} reaches into the next column");
    }
}

#[test]
fn a_number_keeps_its_unit() {
    let lines = measure::wrap(Face::Regular, 10.0, "wire of 2.4 mm", Face::Regular.width("wire of 2.4 m") * 10.0);
    let texts: Vec<&str> = lines.iter().flat_map(|line| &line.runs).map(|run| run.text.as_str()).collect();
    assert_eq!(texts, ["wire of", "2.4 mm"]);
}

#[test]
fn what_cannot_be_printed_is_named() {
    let with = |text: &str| render(&sheet(vec![Block::paragraph(text)]), &usual()).err();
    assert_eq!(with("weld 溶接 here"), Some(PdfError::MissingGlyph { character: '溶', text: "weld 溶接 here".into() }));
    for hidden in ['\u{202e}', '\u{200b}', '\u{7}', '\u{feff}', 'ש'] {
        let error = with(&format!("a{hidden}b"));
        assert!(matches!(error, Some(PdfError::Unprintable { character, .. }) if character == hidden), "{error:?}");
    }
    assert_eq!(missing_glyphs("Ø 60.3 mm ± 0.5°, ½ in → Łódź Ωμ сварка\nline"), Vec::<char>::new());
    assert_eq!(missing_glyphs("溶接溶\u{202e}"), ['溶', '接', '\u{202e}']);
}

#[test]
fn impossible_drawings_are_refused() {
    let mut bad = figure("Joint");
    let mut drawing = Drawing::clone(&bad.drawing);
    drawing.line((0.0, f64::NAN), (1.0, 1.0), Stroke::solid(0.2));
    bad.drawing = drawing.into();
    let error = render(&sheet(vec![Block::Drawings { drawings: vec![bad] }]), &usual()).err();
    assert_eq!(error, Some(PdfError::Drawing { title: "Joint".into() }));
}

fn card(rows: usize) -> Sheet {
    let mut blocks = vec![Block::Settings(table(rows))];
    blocks.extend(every_block());
    Sheet { one_page: true, planned: None, annex: Vec::new(), ..sheet(blocks) }
}

#[test]
fn a_card_fits_one_page_and_its_settings_can_be_read() {
    for rows in 1..=10 {
        let boxes = boxes(&card(rows));
        assert!(boxes.iter().all(|text| text.page == 1), "{rows} rows");
        for text in
            boxes.iter().filter(|text| text.text.starts_with("row-") && text.text != "row-3" && text.text != "row-4")
        {
            // Rows 3 and 4 also stand in a plain table.
            let large = boxes.iter().any(|other| other.text == text.text && other.size >= style::LEAST_SETTINGS);
            assert!(large, "{text:?} of {rows} rows");
        }
        assert_eq!(faults(&boxes, Paper::A4.size()), Vec::<String>::new(), "{rows} rows");
    }
}

#[test]
fn a_card_with_room_to_spare_fills_the_page() {
    let blocks = vec![Block::Settings(table(1)), Block::Drawings { drawings: vec![figure("Joint")] }];
    let boxes = boxes(&Sheet { one_page: true, planned: None, annex: Vec::new(), ..sheet(blocks) });
    let label = boxes.iter().find(|text| text.in_drawing).expect("a label of the drawing");
    assert!(label.size > 8.0 * 1.5, "the drawing grew: its label is {} pt", label.size);
}

#[test]
fn a_card_that_holds_too_much_is_refused() {
    let error = render(&card(80), &usual()).err();
    assert!(matches!(error, Some(PdfError::DoesNotFit { .. })), "{error:?}");
}

#[test]
fn the_source_is_read_back() {
    let sheet = sheet(every_block());
    let attached = source_of(&set(&sheet)).expect("the source is read");
    assert_eq!(attached.text, sheet.source.text);
    assert_eq!(attached.file_name, "P-021.yaml");
    assert_eq!(attached.digest, "7c1e 09ab 44d2");
}

/// The file after `change`, written anew.
fn changed(change: impl FnOnce(&mut Document)) -> Vec<u8> {
    let mut document = load(&set(&sheet(Vec::new())));
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("lopdf writes to memory");
    bytes
}

fn attached_stream(document: &mut Document) -> &mut Stream {
    let stream = document.objects.values_mut().find_map(|object| match object {
        Object::Stream(stream) if stream.dict.has_type(b"EmbeddedFile") => Some(stream),
        _ => None,
    });
    stream.expect("an attachment")
}

#[test]
fn files_that_carry_no_honest_source_are_refused() {
    assert!(matches!(source_of(b"name: P-021"), Err(ReadError::NotReadable { format: "PDF", .. })));
    assert!(matches!(source_of(b"%PDF-1.7\nnothing"), Err(ReadError::NotReadable { format: "PDF", .. })));

    let none = changed(|document| _ = document.catalog_mut().expect("a catalog").remove(b"Names"));
    assert_eq!(source_of(&none), Err(ReadError::NoSource));

    let foreign = changed(|document| {
        let info = document.trailer.get(b"Info").and_then(Object::as_reference).expect("metadata");
        document.get_dictionary_mut(info).expect("metadata").set("Producer", Object::string_literal("another"));
    });
    assert_eq!(source_of(&foreign), Err(ReadError::OtherProgram { producer: "another".into() }));

    let tampered = changed(|document| attached_stream(document).set_plain_content(b"number: P-099\n".to_vec()));
    assert_eq!(source_of(&tampered), Err(ReadError::Changed));

    let limit = SOURCE_LIMIT;
    let large = changed(|document| attached_stream(document).set_plain_content(vec![b' '; limit + 1]));
    assert_eq!(source_of(&large), Err(ReadError::SourceTooLarge { limit }));

    // A hundred megabytes of spaces in a hundred kilobytes.
    let bomb = changed(|document| {
        let stream = attached_stream(document);
        stream.set_plain_content(vec![b' '; 100 * limit]);
        stream.compress().expect("spaces pack well");
        assert!(stream.content.len() < limit);
    });
    assert_eq!(source_of(&bomb), Err(ReadError::SourceTooLarge { limit }));
}

#[test]
fn a_bomb_in_the_bones_of_a_file_is_refused() {
    let mut document = Document::with_version("1.7");
    let mut stream = Stream::new(dictionary! { "Type" => "ObjStm", "N" => 1, "First" => 4 }, vec![b' '; 200_000_000]);
    stream.compress().expect("spaces pack well");
    document.objects.insert((1, 0), Object::Stream(stream));
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("lopdf writes to memory");
    assert!(source_of(&bytes).is_err());
}

#[test]
fn a_name_in_a_file_leads_nowhere() {
    let mut sheet = sheet(Vec::new());
    for (name, safe) in
        [("../../etc/P.yaml", "P.yaml"), ("C:\\P.yaml", "P.yaml"), ("..", "source.yaml"), ("", "source.yaml")]
    {
        name.clone_into(&mut sheet.source.file_name);
        assert_eq!(source_of(&set(&sheet)).expect("the source is read").file_name, safe);
    }
}

#[test]
fn a_binder_leads_to_every_document_and_carries_every_source() {
    let mut second = sheet(vec![Block::Table(table(60))]);
    "P-022".clone_into(&mut second.masthead.number);
    "P-022.yaml".clone_into(&mut second.source.file_name);
    let third = Sheet { one_page: true, planned: None, annex: Vec::new(), ..sheet(every_block()) };
    let sheets = [sheet(every_block()), second, third];
    let pdf = binder(&sheets, "Tarn Beck Metalwork: procedures", &usual()).expect("the binder is set");
    assert!(pdf == binder(&sheets, "Tarn Beck Metalwork: procedures", &usual()).expect("and set again"));

    let document = load(&pdf);
    let pages: Vec<_> = document.get_pages().into_values().collect();
    let contents = document.get_dictionary(pages[0]).expect("a page");
    let targets: Vec<usize> = contents
        .get(b"Annots")
        .and_then(Object::as_array)
        .expect("links")
        .iter()
        .map(|link| {
            let link = document.dereference(link).and_then(|(_, link)| link.as_dict()).expect("a link");
            let action = link.get(b"A").and_then(Object::as_dict).expect("an action");
            let place = action.get(b"D").and_then(Object::as_array).expect("a place");
            let page = place[0].as_reference().expect("a page");
            pages.iter().position(|id| *id == page).expect("a page of the file")
        })
        .collect();
    let starts: Vec<usize> = {
        let mut next = 1;
        sheets
            .iter()
            .map(|sheet| {
                let start = next;
                next += boxes(sheet).iter().map(|text| text.page).max().expect("text");
                start
            })
            .collect()
    };
    assert_eq!(targets, starts);
    let contents = document.extract_text(&[1]).expect("text");
    for start in starts {
        assert!(contents.contains(&(start + 1).to_string()), "page {} in {contents}", start + 1);
    }
    // The first and the third sheet come from one file.
    let names: Vec<String> = sources_of(&pdf).expect("sources").into_iter().map(|source| source.file_name).collect();
    assert_eq!(names, ["P-021.yaml", "P-022.yaml"]);
    assert_eq!(source_of(&pdf), Err(ReadError::SeveralSources { count: 2 }));
}

#[test]
fn objects_are_numbered_without_gaps() {
    let pdf = set(&sheet(every_block()));
    let document = load(&pdf);
    assert_eq!(document.objects.len(), document.max_id as usize);
}

#[test]
fn a_sheet_is_small() {
    let size = set(&sheet(every_block())).len();
    assert!(size < 30_000, "{size} bytes");
}

fn words() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        8 => "[a-zA-Z0-9.,°±–/Łżöé-]{1,12}",
        1 => "[A-Z0-9_]{30,90}",
        1 => Just("2.4 mm".to_owned()),
        1 => Just("\n".to_owned()),
    ];
    prop::collection::vec(word, 0..25).prop_map(|words| words.join(" "))
}

fn block() -> impl Strategy<Value = Block> {
    let cell =
        (words(), prop::option::of(words()), any::<bool>()).prop_map(|(text, note, bold)| Cell { text, note, bold });
    let row = (prop::collection::vec(cell, 5), any::<bool>()).prop_map(|(cells, marked)| Row { cells, marked });
    let columns = prop::collection::vec(
        ("[a-z]{1,15}( [a-z]{1,15})?", prop::option::of("[a-z]{1,6}"), any::<bool>(), -1.0..9.0_f64).prop_map(
            |(heading, unit, right, weight)| Column {
                heading,
                unit,
                align: if right { Align::Right } else { Align::Left },
                weight,
            },
        ),
        5,
    );
    let table = (columns, prop::collection::vec(row, 0..12), prop::option::of(words()))
        .prop_map(|(columns, rows, caption)| Table { caption, columns, rows })
        .boxed();
    let field = (words(), words(), 0..6_u8, any::<bool>()).prop_map(|(label, value, span, large)| Field {
        label,
        value,
        span,
        large,
    });
    let fields = prop::collection::vec(field, 0..7).prop_map(|fields| Block::Fields { fields });
    let item = (prop::option::of(words()), words()).prop_map(|(lead, text)| NoticeItem { lead, text });
    let kind = prop_oneof![Just(NoticeKind::Caution), Just(NoticeKind::Stop), Just(NoticeKind::Remark)];
    let leaf = prop_oneof![
        (words(), prop::option::of(words())).prop_map(|(text, clause)| Block::Heading { text, clause }),
        fields,
        table.clone().prop_map(Block::Table),
        table.prop_map(Block::Settings),
        (kind, prop::option::of(words()), prop::collection::vec(item, 0..9))
            .prop_map(|(kind, title, items)| Block::Notice { kind, title, items }),
        (words(), any::<bool>()).prop_map(|(text, small)| Block::Paragraph { text, small }),
        (any::<bool>(), any::<bool>(), prop::collection::vec(words(), 0..12))
            .prop_map(|(numbered, small, items)| Block::List { numbered, small, items }),
        prop::collection::vec((words(), words()), 0..5).prop_map(|boxes| Block::Signatures { boxes }),
        prop::collection::vec((words(), words()), 0..4).prop_map(|titles| Block::Drawings {
            drawings: titles
                .into_iter()
                .map(|(title, caption)| Figure { title, caption: Some(caption), ..figure("") })
                .collect(),
        }),
        Just(Block::PageBreak),
    ];
    leaf.prop_recursive(2, 12, 3, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..3).prop_map(|blocks| Block::Together { blocks }),
            (prop::collection::vec(inner.clone(), 0..3), prop::collection::vec(inner, 0..3), 0.0..1.0_f64)
                .prop_map(|(left, right, share)| Block::Columns { left, right, share }),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// Whatever the texts, none overlaps another or leaves the margins, on either paper.
    #[test]
    fn texts_keep_apart(
        blocks in prop::collection::vec(block(), 0..8),
        title in words(), number in words(), fact in words(), checked in words(), reference in words(),
        letter in any::<bool>(), one_page in any::<bool>(),
    ) {
        let mut sheet = Sheet { one_page, ..sheet(blocks) };
        sheet.masthead.title = title;
        sheet.masthead.number = number;
        sheet.masthead.facts.push(("Code".into(), fact));
        sheet.footer = Footer { checked, reference };
        let paper = if letter { Paper::Letter } else { Paper::A4 };
        let options = PdfOptions { paper, ..usual() };
        match text_boxes(&sheet, &options) {
            Ok(boxes) => prop_assert_eq!(faults(&boxes, paper.size()), Vec::<String>::new()),
            Err(error) => prop_assert!(one_page && matches!(error, PdfError::DoesNotFit { .. }), "{}", error),
        }
    }
}

/// The parts of the tree below an object: name, alternative text, and the pieces of content by page.
fn parts(document: &Document, object: &Object, found: &mut Vec<(String, Option<String>, usize)>) {
    let Ok((_, object)) = document.dereference(object) else { return };
    match object {
        Object::Array(kids) => kids.iter().for_each(|kid| parts(document, kid, found)),
        Object::Dictionary(element) if element.has(b"S") => {
            let name =
                element.get(b"S").and_then(Object::as_name).map(|name| String::from_utf8_lossy(name).into_owned());
            let alt = element.get(b"Alt").ok().and_then(|alt| lopdf::decode_text_string(alt).ok());
            let kids = element.get(b"K").unwrap();
            let own = match kids {
                Object::Array(kids) => kids.iter().filter(|kid| kid.as_i64().is_ok()).count(),
                one => usize::from(one.as_i64().is_ok()),
            };
            found.push((name.unwrap(), alt, own));
            parts(document, kids, found);
        }
        _ => {}
    }
}

/// ISO 14289-1, 7.1 to 7.5: all content is in the tree or marked as an artifact, marked content is closed in order,
/// figures have their alternative text, tables their heads with scope, and the file tells language, title and part.
#[test]
fn a_sheet_is_tagged_for_those_who_do_not_see_it() {
    let bytes = set(&sheet(every_block()));
    let document = load(&bytes);
    let catalog = document.catalog().unwrap();
    assert!(catalog.get(b"MarkInfo").and_then(Object::as_dict).unwrap().get(b"Marked").unwrap().as_bool().unwrap());
    let metadata = catalog.get(b"Metadata").and_then(Object::as_reference).unwrap();
    let metadata = document.get_object(metadata).and_then(Object::as_stream).unwrap();
    let metadata = metadata.get_plain_content().unwrap_or_else(|_| metadata.content.clone());
    assert!(String::from_utf8(metadata).unwrap().contains("<pdfuaid:part>1</pdfuaid:part>"));
    let root = catalog.get(b"StructTreeRoot").and_then(Object::as_reference).unwrap();
    let root = document.get_dictionary(root).unwrap();
    let mut found = Vec::new();
    parts(&document, root.get(b"K").unwrap(), &mut found);
    let count = |name: &str| found.iter().filter(|(own, ..)| own == name).count();
    assert_eq!((count("Document"), count("H1")), (1, 1));
    // Two drawings and the code to scan.
    let figures = found.iter().filter(|(name, ..)| name == "Figure");
    assert!(
        figures.clone().count() == 3 && figures.clone().all(|(_, alt, _)| alt.as_ref().is_some_and(|t| !t.is_empty()))
    );
    // Every row of both tables has as many cells as columns: 3 of 4 rows and a head, 3 of 2 rows and a head.
    assert_eq!((count("Table"), count("TR"), count("TH") + count("TD")), (2, 8, 24));
    // A fact is its label and its value; each has an item of its own.
    assert!(count("Lbl") > 4 && count("LBody") >= count("Lbl"));
    // Nothing is painted outside of marked content, which neither nests nor stays open.
    for page in document.page_iter() {
        let content = lopdf::content::Content::decode(&document.get_page_content(page)).unwrap();
        let mut open = false;
        for operation in content.operations {
            match operation.operator.as_str() {
                "BDC" | "BMC" => assert!(!std::mem::replace(&mut open, true), "nested"),
                "EMC" => assert!(std::mem::replace(&mut open, false), "closed twice"),
                "Tj" | "f" | "S" | "B" | "Do" => assert!(open, "{} outside of marked content", operation.operator),
                _ => {}
            }
        }
        assert!(!open);
    }
}

/// ISO 14289-1, 7.18: a link is a part of the tree, says in words where it leads, and is found from its annotation.
#[test]
fn the_links_of_a_binder_are_read_out() {
    let sheets = [sheet(every_block()), sheet(Vec::new())];
    let document = load(&binder(&sheets, "Binder", &usual()).unwrap());
    let catalog = document.catalog().unwrap();
    let root = catalog.get(b"StructTreeRoot").and_then(Object::as_reference).unwrap();
    let root = document.get_dictionary(root).unwrap();
    let mut found = Vec::new();
    parts(&document, root.get(b"K").unwrap(), &mut found);
    assert_eq!(found.iter().filter(|(name, ..)| name == "Link").count(), sheets.len());
    let numbers = root.get(b"ParentTree").and_then(Object::as_dict).unwrap();
    let numbers = numbers.get(b"Nums").and_then(Object::as_array).unwrap();
    let first = document.get_dictionary(document.page_iter().next().unwrap()).unwrap();
    let links = first.get(b"Annots").and_then(Object::as_array).unwrap();
    assert_eq!(links.len(), sheets.len());
    for (link, sheet) in links.iter().zip(&sheets) {
        let own = document.get_dictionary(link.as_reference().unwrap()).unwrap();
        let words = lopdf::decode_text_string(own.get(b"Contents").unwrap()).unwrap();
        assert!(words.contains(&sheet.masthead.title), "{words}");
        let key = own.get(b"StructParent").and_then(Object::as_i64).unwrap();
        let at = numbers.iter().step_by(2).position(|number| number.as_i64().unwrap() == key).unwrap();
        let part = document.get_dictionary(numbers[at * 2 + 1].as_reference().unwrap()).unwrap();
        assert_eq!(part.get(b"S").and_then(Object::as_name).unwrap(), b"Link");
        let kids = format!("{:?}", part.get(b"K").unwrap());
        assert!(kids.contains("OBJR"), "{kids}");
    }
}

/// What stands at the head and foot of every page is passed over by a voice (ISO 32000-1, 14.8.2.2).
#[test]
fn heads_and_feet_of_pages_are_no_part_of_the_text() {
    let long = Block::List { numbered: false, small: false, items: vec!["Wait until it is cold.".to_owned(); 90] };
    let document = load(&set(&sheet(vec![long])));
    let pages: Vec<_> = document.page_iter().collect();
    assert!(pages.len() > 1);
    for (index, page) in pages.into_iter().enumerate() {
        let content = String::from_utf8_lossy(&document.get_page_content(page)).into_owned();
        assert_eq!(content.matches("/Subtype/Header").count(), usize::from(index > 0));
        assert!(content.contains("/Subtype/Footer"));
    }
}

/// The parts of the tree as they nest: name, scope, whether there is anything in it, and its own parts.
struct Part {
    name: String,
    scope: Option<String>,
    empty: bool,
    parts: Vec<Self>,
}

fn part(document: &Document, object: &Object) -> Option<Part> {
    let (_, object) = document.dereference(object).ok()?;
    let element = object.as_dict().ok().filter(|own| own.has(b"S"))?;
    let name = |key: &[u8], own: &lopdf::Dictionary| {
        own.get(key).and_then(Object::as_name).ok().map(|name| String::from_utf8_lossy(name).into_owned())
    };
    let kids: Vec<&Object> = match element.get(b"K") {
        Ok(Object::Array(kids)) => kids.iter().collect(),
        Ok(one) => vec![one],
        Err(_) => Vec::new(),
    };
    Some(Part {
        name: name(b"S", element)?,
        scope: element.get(b"A").and_then(Object::as_dict).ok().and_then(|own| name(b"Scope", own)),
        empty: kids.is_empty(),
        parts: kids.into_iter().filter_map(|kid| part(document, kid)).collect(),
    })
}

/// ISO 14289-1, 7.1 to 7.7, and ISO 32000-1, 14.8.4, read by ourselves: headings step down one level at a time, tables and lists hold
/// nothing but their own parts, each head of a table says what it is head of, nothing is empty, and the file shows its title and tells
/// its language.
#[test]
fn the_tree_of_a_sheet_nests_as_it_should() {
    fn walk(own: &Part, last: &mut u8, faults: &mut Vec<String>) {
        // A cell to write in has nothing in it.
        if own.empty && own.name != "TD" {
            faults.push(format!("{} is empty", own.name));
        }
        if let Some(level) = own.name.strip_prefix('H').and_then(|level| level.parse::<u8>().ok()) {
            if level > *last + 1 {
                faults.push(format!("H{level} after H{last}"));
            }
            *last = level;
        }
        if own.name == "TH" && own.scope.is_none() {
            faults.push("a head of a table without scope".to_owned());
        }
        let allowed: Option<&[&str]> = match own.name.as_str() {
            "Table" => Some(&["TR", "THead", "TBody", "TFoot", "Caption"]),
            "THead" | "TBody" => Some(&["TR"]),
            "TR" => Some(&["TH", "TD"]),
            "L" => Some(&["LI", "Caption"]),
            "LI" => Some(&["Lbl", "LBody"]),
            _ => None,
        };
        for inner in &own.parts {
            if allowed.is_some_and(|allowed| !allowed.contains(&inner.name.as_str())) {
                faults.push(format!("{} in {}", inner.name, own.name));
            }
            let inside = match inner.name.as_str() {
                "TR" => ["Table", "THead", "TBody", "TFoot"].contains(&own.name.as_str()),
                "TH" | "TD" => own.name == "TR",
                "LI" => own.name == "L",
                "Lbl" | "LBody" => own.name == "LI",
                _ => true,
            };
            if !inside {
                faults.push(format!("{} in {}", inner.name, own.name));
            }
            walk(inner, last, faults);
        }
    }
    let options = PdfOptions { language: "es".into(), ..PdfOptions::default() };
    let document = load(&render(&sheet(every_block()), &options).unwrap());
    let catalog = document.catalog().unwrap();
    assert_eq!(lopdf::decode_text_string(catalog.get(b"Lang").unwrap()).unwrap(), "es");
    let shown = catalog.get(b"ViewerPreferences").unwrap();
    let (_, shown) = document.dereference(shown).unwrap();
    assert!(shown.as_dict().unwrap().get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    let root = catalog.get(b"StructTreeRoot").and_then(Object::as_reference).unwrap();
    let root = document.get_dictionary(root).unwrap();
    let tops: Vec<Part> = match root.get(b"K").unwrap() {
        Object::Array(kids) => kids.iter().filter_map(|kid| part(&document, kid)).collect(),
        one => part(&document, one).into_iter().collect(),
    };
    assert_eq!(tops.iter().map(|top| top.name.as_str()).collect::<Vec<_>>(), ["Document"]);
    let mut faults = Vec::new();
    walk(&tops[0], &mut 0, &mut faults);
    assert_eq!(faults, Vec::<String>::new());
}

/// A sheet that is read on a bench has its running text in more than 10 pt, where another has 8.4 pt.
#[test]
fn a_sheet_for_the_bench_is_set_in_larger_type() {
    let size = |large| {
        let own = Sheet { large, ..sheet(vec![Block::paragraph("Put on the helmet.")]) };
        let boxes = boxes(&own);
        boxes.iter().find(|own| own.text.contains("helmet")).expect("the paragraph").size
    };
    assert!(size(true) > 10.0 && size(false) < 9.0, "{} {}", size(true), size(false));
}
