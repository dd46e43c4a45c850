//! Writes sample sheets as HTML, to look at while working on templates and style.
//!
//! `cargo run -p seamwright-sheet --example sample_html -- FOLDER` writes `procedure.html`, `bench-card.html` and
//! `index.html`. The shop and its people are invented, and so are the values.

use std::error::Error;
use std::fmt::Write as _;
use std::path::PathBuf;
use std::time::Instant;

use seamwright_sheet::block::{
    Align, Block, Cell, Column, Field, Figure, Footer, Masthead, NoticeItem, NoticeKind, Row, Sheet, Source, Table,
};
use seamwright_sheet::html::{HtmlOptions, HtmlRenderer, IndexEntry, IndexOptions};
use seamwright_sheet::sketch::drawing::{Anchor, Drawing, Fill, Item, Label, Segment, Stroke, weight};

/// How often a sheet is set to learn how long it takes.
const REPEATS: u32 = 50;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| ".".to_owned()));
    std::fs::create_dir_all(&folder)?;
    let start = Instant::now();
    let renderer = HtmlRenderer::new()?;
    println!("renderer: {:.1} ms", start.elapsed().as_secs_f64() * 1e3);
    let options = HtmlOptions::default();
    for (sheet, name) in [(procedure(), "procedure.html"), (bench_card(), "bench-card.html")] {
        let page = renderer.render(&sheet, &options)?;
        let start = Instant::now();
        for _ in 0..REPEATS {
            renderer.render(&sheet, &options)?;
        }
        let each = start.elapsed().as_secs_f64() * 1e3 / f64::from(REPEATS);
        println!("{name}: {} bytes, {each:.2} ms once warm", page.len());
        std::fs::write(folder.join(name), page)?;
    }
    let title = "Tarn Beck Metalwork: procedures".to_owned();
    let page = renderer.index(&entries(), &IndexOptions { title, ..IndexOptions::default() })?;
    std::fs::write(folder.join("index.html"), page)?;
    Ok(())
}

fn entries() -> Vec<IndexEntry> {
    let entry = |number: &str, title: &str, process: &str, metal: &str, thickness: &str, position: &str, file: &str| {
        IndexEntry {
            number: number.into(),
            revision: "1".into(),
            title: title.into(),
            kind: "welding procedure specification".into(),
            process: process.into(),
            metal: metal.into(),
            thickness: thickness.into(),
            position: position.into(),
            html: Some(format!("{file}.html")),
            pdf: Some(format!("{file}.pdf")),
        }
    };
    vec![
        entry("P-003", "2 mm carbon steel, lap fillet, TIG", "141", "carbon steel", "2 mm", "PB", "bench-card"),
        entry(
            "P-021",
            "Pipe butt, 60.3 × 5.5 mm carbon steel",
            "141, 111",
            "carbon steel",
            "5.5 mm",
            "PH",
            "procedure",
        ),
        entry("P-022", "Plate butt, 10 mm carbon steel", "135", "carbon steel", "10 mm", "PA", "P-022"),
        entry("P-030", "Sheet corner, 1.5 mm stainless", "141", "austenitic stainless", "1.5 mm", "PA", "P-030"),
    ]
}

fn source(number: &str) -> Source {
    let mut text = format!("# Nähte, invented\nnumber: {number}\n");
    for line in 0..60 {
        let _ = writeln!(text, "variable-{line}: {} mm", line * 7 % 31);
    }
    let digest = "7c1e 09ab 44d2".into();
    Source { file_name: format!("{number}.yaml"), text, digest, date: Some("2026-02-17".into()), made_with: None }
}

fn column(heading: &str, unit: Option<&str>, align: Align, weight: f64) -> Column {
    Column { heading: heading.into(), unit: unit.map(Into::into), align, weight }
}

fn row(cells: &[&str]) -> Row {
    Row { cells: cells.iter().map(|text| Cell::bold(*text)).collect(), marked: false }
}

fn label(at: (f64, f64), text: &str) -> Item {
    let text = text.to_owned();
    Item::Text(Label { at, text, size: 8.0, anchor: Anchor::Middle, bold: false, ground: true })
}

fn groove() -> Drawing {
    let mut drawing = Drawing::new(100.0, 56.0, "Single-V butt joint: angle 60 to 70 degrees, gap 2 to 3 mm");
    let outline = Some(Stroke::solid(weight::HEAVY));
    let hatch = Fill::Hatch(1.6);
    drawing.polygon(&[(4.0, 20.0), (34.0, 20.0), (48.0, 38.0), (48.0, 44.0), (4.0, 44.0)], hatch, outline);
    drawing.polygon(&[(96.0, 20.0), (66.0, 20.0), (52.0, 38.0), (52.0, 44.0), (96.0, 44.0)], hatch, outline);
    let arc = vec![Segment::Move((30.0, 14.0)), Segment::Curve((40.0, 4.0), (60.0, 4.0), (70.0, 14.0))];
    drawing.path(arc, Fill::None, Some(Stroke::solid(weight::FINE)));
    drawing.line((34.0, 20.0), (28.0, 12.0), Stroke::solid(weight::FINE));
    drawing.line((66.0, 20.0), (72.0, 12.0), Stroke::solid(weight::FINE));
    drawing.items.push(label((50.0, 7.5), "60–70°"));
    drawing.line((48.0, 46.0), (48.0, 52.0), Stroke::solid(weight::FINE));
    drawing.line((52.0, 46.0), (52.0, 52.0), Stroke::solid(weight::FINE));
    drawing.text((54.0, 51.0), "2–3 mm", 8.0, Anchor::Start);
    drawing.line((12.0, 38.0), (48.0, 38.0), Stroke::dashed(weight::FINE));
    drawing.items.push(label((88.0, 33.0), "5.5 mm"));
    drawing
}

fn beads() -> Drawing {
    let mut drawing = Drawing::new(80.0, 56.0, "Four runs in the joint: 1 root, 2 and 3 fill, 4 cap");
    let plate = [(2.0, 20.0), (78.0, 20.0), (78.0, 44.0), (2.0, 44.0)];
    drawing.polygon(&plate, Fill::White, Some(Stroke::solid(weight::MEDIUM)));
    for (number, top, grey) in [("1", 36.0, 0.85), ("2", 30.0, 0.89), ("3", 25.0, 0.93), ("4", 20.0, 0.97)] {
        let half = 3.0 + (44.0 - top) * 0.6;
        let (left, right) = (40.0 - half, 40.0 + half);
        let bead = vec![
            Segment::Move((left, top)),
            Segment::Curve((left + half / 2.0, top - 3.0), (right - half / 2.0, top - 3.0), (right, top)),
            Segment::Line((40.0 + half * 0.7, top + 6.0)),
            Segment::Line((40.0 - half * 0.7, top + 6.0)),
            Segment::Close,
        ];
        drawing.path(bead, Fill::Grey(grey), Some(Stroke::solid(weight::MEDIUM)));
        drawing.text((40.0, top + 3.0), number, 8.0, Anchor::Middle);
    }
    drawing
}

fn hookup() -> Drawing {
    let mut drawing = Drawing::new(90.0, 56.0, "Torch on the negative terminal, work clamp on the positive");
    let source = [(4.0, 10.0), (28.0, 10.0), (28.0, 38.0), (4.0, 38.0)];
    drawing.polygon(&source, Fill::White, Some(Stroke::solid(weight::HEAVY)));
    drawing.text((16.0, 16.0), "power source", 8.0, Anchor::Middle);
    drawing.text((10.0, 33.0), "−", 9.0, Anchor::Middle);
    drawing.text((22.0, 33.0), "+", 9.0, Anchor::Middle);
    let torch = vec![Segment::Move((10.0, 34.0)), Segment::Curve((14.0, 48.0), (40.0, 20.0), (58.0, 24.0))];
    drawing.path(torch, Fill::None, Some(Stroke::solid(0.8)));
    let clamp = vec![Segment::Move((22.0, 34.0)), Segment::Curve((24.0, 52.0), (40.0, 50.0), (60.0, 48.0))];
    drawing.path(clamp, Fill::None, Some(Stroke::solid(0.8)));
    drawing.text((60.0, 23.0), "torch", 8.0, Anchor::Start);
    drawing.text((62.0, 49.0), "work clamp", 8.0, Anchor::Start);
    let plate = [(50.0, 36.0), (88.0, 36.0), (88.0, 39.0), (50.0, 39.0)];
    drawing.polygon(&plate, Fill::Hatch(1.2), Some(Stroke::solid(weight::MEDIUM)));
    drawing
}

fn figure(title: &str, clause: Option<&str>, drawing: Drawing, caption: Option<&str>) -> Figure {
    Figure { title: title.into(), clause: clause.map(Into::into), drawing, caption: caption.map(Into::into) }
}

fn item(lead: Option<&str>, text: &str) -> NoticeItem {
    NoticeItem { lead: lead.map(Into::into), text: text.into() }
}

fn cautions() -> Block {
    Block::Notice {
        kind: NoticeKind::Caution,
        title: None,
        items: vec![
            item(Some("Arc light"), "filter shade 10–12 at these currents; screens for others."),
            item(Some("Fume"), "of every metal harms: extract at the arc."),
            item(Some("Argon"), "displaces air inside pipe and pits: ventilate and test before entry."),
            item(Some("Shock"), "dry gloves, dry floor; change electrodes with gloves on."),
            item(Some("Fire"), "clear 11 m or post a fire watch."),
            item(
                None,
                "The edition of the code that applies, local regulations and a qualified welding engineer or inspector decide.",
            ),
        ],
    }
}

fn fields(list: &[(&str, &str, u8)]) -> Block {
    Block::Fields { fields: list.iter().map(|(label, value, span)| Field::new(*label, *value).wide(*span)).collect() }
}

fn runs() -> Table {
    let last = row(&["4", "cap", "111", "E7018", "2.5", "DCEP", "70–95", "21–25", "90–150", "0.47–1.27"]);
    Table {
        caption: None,
        columns: vec![
            column("Run", None, Align::Left, 0.8),
            column("Layer", None, Align::Left, 1.0),
            column("Process", None, Align::Left, 1.0),
            column("Filler", None, Align::Left, 2.0),
            column("Size", Some("mm"), Align::Right, 1.0),
            column("Current and polarity", None, Align::Left, 1.5),
            column("Current", Some("A"), Align::Right, 1.5),
            column("Voltage", Some("V"), Align::Right, 1.0),
            column("Travel speed", Some("mm/min"), Align::Right, 1.4),
            column("Heat input", Some("kJ/mm"), Align::Right, 1.5),
        ],
        rows: vec![
            row(&["1", "root", "141", "ER70S-2", "2.4", "DCEN", "90–120", "9–12", "60–90", "0.32–0.86"]),
            row(&["2–3", "fill", "111", "E7018", "2.5", "DCEP", "70–95", "21–25", "90–150", "0.47–1.27"]),
            Row { marked: true, ..last },
        ],
    }
}

fn limits() -> Table {
    Table {
        caption: Some("Every value that was checked, with its limit and where the limit stands".into()),
        columns: vec![
            column("Variable", None, Align::Left, 2.0),
            column("Stated", None, Align::Right, 1.2),
            column("Limit", None, Align::Right, 1.2),
            column("Source", None, Align::Left, 3.0),
            column("Result", None, Align::Left, 1.0),
        ],
        rows: (1..=40)
            .map(|number| Row {
                cells: vec![
                    Cell {
                        text: format!("Variable {number}"),
                        note: (number % 7 == 0).then(|| "run 2, by the handbook table".into()),
                        bold: true,
                    },
                    Cell::text(format!("{}–{} A", number * 3, number * 3 + 25)),
                    Cell::text(format!("{} A", number * 4 + 40)),
                    Cell::text("ISO 15609-1:2019, 4.4.9, and the table of the manufacturer handbook for this diameter"),
                    Cell::bold(if number == 9 { "over" } else { "within" }),
                ],
                marked: number == 9,
            })
            .collect(),
    }
}

fn procedure() -> Sheet {
    let text = |text: &str| text.to_owned();
    Sheet {
        masthead: Masthead {
            manufacturer: text("Tarn Beck Metalwork (invented)"),
            kind: text("welding procedure specification"),
            title: text("Pipe butt, 60.3 × 5.5 mm carbon steel, 141 root with 111 fill and cap"),
            number: text("P-021"),
            facts: vec![
                (text("Revision"), text("1")),
                (text("Date"), text("2026-02-17")),
                (text("Code"), text("ISO 15614-1")),
            ],
            stamp: Some(text("NOT QUALIFIED: no test record named")),
            qr: Some(text("P-021 rev 1 7c1e09ab44d2")),
        },
        blocks: vec![
            Block::heading("Parent metals", Some("ISO 15609-1, 4.3")),
            fields(&[
                ("Specification", "P235GH to P235GH", 1),
                ("Group (ISO/TR 15608), P-Number", "1.1 · P-No. 1", 1),
                ("Thickness", "3–11 mm", 1),
                ("Outside diameter", "30 mm minimum", 1),
            ]),
            Block::Drawings {
                drawings: vec![
                    figure("Joint", Some("4.4.2"), groove(), None),
                    figure("Runs in the joint", Some("4.4.5"), beads(), Some("1 root 141 · 2–3 fill 111 · 4 cap 111")),
                ],
            },
            Block::heading("Runs", Some("4.4.9, 4.4.17, 4.5")),
            Block::Table(runs()),
            Block::heading("Process 141", Some("4.5.4")),
            fields(&[
                ("Tungsten", "WLa15, 2.4 mm, gold", 1),
                ("Tip and stickout", "30°, 6 mm", 1),
                ("Torch and nozzle", "size 17, No. 7 (11 mm)", 1),
                ("Arc start, control", "lift, foot pedal", 1),
                ("Shielding gas", "ISO 14175-I1, argon 99.99 %, 8–10 L/min", 2),
                ("Pre-flow, post-flow", "0.5 s, 12–15 s", 1),
                ("Backing gas", "none", 1),
            ]),
            Block::heading("Temperatures", Some("4.4.11 to 4.4.15")),
            fields(&[
                ("Preheating", "10 °C minimum", 1),
                ("Interpass", "250 °C maximum", 1),
                ("Post-weld heat treatment", "none", 1),
                ("Electrode drying", "350 °C, 2 h, once, then held at 120 °C until the electrode is used", 1),
            ]),
            Block::heading("Technique", Some("4.4.4 to 4.4.6")),
            fields(&[
                ("Positions", "PH, upward", 1),
                ("Bead", "stringer, to 10 mm wide", 1),
                ("Torch", "90°, tilted 10–15°, push", 1),
                ("Between runs", "chip and wire brush", 1),
                (
                    "Preparation",
                    "Machined; degrease, then grind to bright metal 25 mm each side\nfour tacks of 10 mm",
                    4,
                ),
            ]),
            Block::heading("Cautions", None),
            cautions(),
            Block::PageBreak,
            Block::heading("Limits and results", Some("4.1")),
            Block::paragraph("One value is over its limit, and a deviation is stated for it."),
            Block::Table(limits()),
            Block::Notice {
                kind: NoticeKind::Remark,
                title: Some(text("Remark")),
                items: vec![item(None, "A range is drawn at its middle and dimensioned as the range.")],
            },
            Block::heading("Sources", None),
            Block::List {
                numbered: true,
                small: true,
                items: vec![
                    text(
                        "ISO 15609-1:2019, Specification and qualification of welding procedures for metallic materials",
                    ),
                    text("ISO 14175:2008, Welding consumables, gases and gas mixtures for fusion welding"),
                ],
            },
            Block::List {
                numbered: false,
                small: false,
                items: vec![
                    text("Set the flow with the torch on the work."),
                    text("Purge for a minute before the first arc."),
                ],
            },
            Block::Together {
                blocks: vec![
                    Block::heading("Approval", None),
                    Block::Signatures {
                        boxes: vec![
                            (text("Written by"), text("A. Lindqvist")),
                            (text("Welding coordinator"), text("M. Okafor")),
                            (text("Inspector"), String::new()),
                        ],
                    },
                    Block::Paragraph { text: text("All persons are invented."), small: true },
                ],
            },
        ],
        footer: Footer {
            checked: text(
                "Checked: 63 values against 44 limits. Out of range 1, cautions 0, waived 1, not stated 2 (listed on page 2).",
            ),
            reference: text("P-021 rev 1"),
        },
        one_page: false,
        source: source("P-021"),
    }
}

fn bench_card() -> Sheet {
    let text = |text: &str| text.to_owned();
    let large = |label: &str, value: &str| Field { large: true, ..Field::new(label, value) };
    let noted = |main: &str, note: &str| Cell { text: main.into(), note: Some(note.into()), bold: true };
    let settings = Table {
        caption: None,
        columns: vec![
            column("Run", None, Align::Left, 0.5),
            column("Current", None, Align::Left, 2.0),
            column("Polarity", None, Align::Left, 1.5),
            column("Filler", None, Align::Left, 2.0),
            column("Leg", None, Align::Left, 2.0),
        ],
        rows: vec![Row {
            cells: vec![
                Cell::bold("1"),
                Cell::bold("70–90 A"),
                Cell::bold("DCEN"),
                noted("ER70S-2", "1.6 mm (1/16 in)"),
                noted("2 mm", "80–110 mm/min"),
            ],
            marked: false,
        }],
    };
    let limits =
        ["Over 90 A or under 70 A", "gap over 1 mm", "leg under 2 mm", "porosity", "tungsten touched the pool"];
    Sheet {
        masthead: Masthead {
            manufacturer: text("Tarn Beck Metalwork (invented)"),
            kind: text("bench card"),
            title: text("2 mm carbon steel, lap fillet, TIG"),
            number: text("P-003"),
            facts: vec![(text("Revision"), text("2")), (text("Date"), text("2026-02-03"))],
            stamp: None,
            qr: Some(text("P-003 rev 2 11f073c9aa05")),
        },
        blocks: vec![
            Block::Settings(settings),
            Block::Columns {
                left: vec![Block::Drawings { drawings: vec![figure("Hook-up", None, hookup(), None)] }],
                right: vec![Block::Fields {
                    fields: vec![
                        large("Tungsten", "WLa15 (gold)\n1.6 mm"),
                        large("Tip", "30° point"),
                        large("Nozzle", "No. 5\n8 mm bore"),
                        large("Stickout", "4–5 mm"),
                        large("Gas", "argon\n7–9 L/min"),
                        large("Post-flow", "9–10 s"),
                        large("Start", "lift"),
                        large("Torch", "10–15° push"),
                    ],
                }],
                share: 0.54,
            },
            Block::Drawings {
                drawings: vec![
                    figure("Joint", None, groove(), None),
                    figure("Runs", None, beads(), Some("1 root 141")),
                ],
            },
            Block::Notice {
                kind: NoticeKind::Stop,
                title: Some(text("Stop and ask")),
                items: limits.into_iter().map(|limit| item(None, limit)).collect(),
            },
            cautions(),
        ],
        footer: Footer {
            checked: text("Checked against 31 limits: all within range."),
            reference: text("P-003 rev 2"),
        },
        one_page: true,
        source: source("P-003"),
    }
}
