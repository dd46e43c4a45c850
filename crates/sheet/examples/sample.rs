//! Writes sample sheets as PDF, to look at while working on the setting.
//!
//! `cargo run -p seamwright-sheet --example sample -- FOLDER` writes `procedure.pdf`, `bench-card.pdf` and
//! `binder.pdf`. The shop and its people are invented, and so are the values.

use std::error::Error;
use std::fmt::Write as _;
use std::path::PathBuf;
use std::time::Instant;

use seamwright_sheet::block::{
    Align, Block, Cell, Column, Field, Figure, Footer, Masthead, NoticeItem, NoticeKind, Row, Sheet, Source, Table,
};
use seamwright_sheet::pdf::{PdfOptions, binder, render};
use seamwright_sheet::sketch::drawing::{Anchor, Drawing, Fill, Segment, Stroke, weight};

/// How often a sheet is set to learn how long it takes.
const REPEATS: u32 = 20;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| ".".to_owned()));
    std::fs::create_dir_all(&folder)?;
    let options = PdfOptions::default();
    let sheets = [procedure(), bench_card()];
    for (sheet, name) in sheets.iter().zip(["procedure.pdf", "bench-card.pdf"]) {
        let pdf = render(sheet, &options)?;
        let start = Instant::now();
        for _ in 0..REPEATS {
            render(sheet, &options)?;
        }
        let each = start.elapsed().as_secs_f64() * 1e3 / f64::from(REPEATS);
        println!("{name}: {} bytes, {each:.1} ms once warm", pdf.len());
        std::fs::write(folder.join(name), pdf)?;
    }
    std::fs::write(folder.join("binder.pdf"), binder(&sheets, "Tarn Beck Metalwork: procedures", &options)?)?;
    Ok(())
}

fn source(number: &str) -> Source {
    let mut text = format!("number: {number}\n");
    for line in 0..120 {
        _ = writeln!(text, "variable-{line}: {} mm", line * 7 % 31);
    }
    Source {
        file_name: format!("{number}.yaml"),
        text,
        digest: "7c1e 09ab 44d2".into(),
        date: Some("2026-02-17".into()),
        made_with: None,
    }
}

fn column(heading: &str, unit: Option<&str>, align: Align, weight: f64) -> Column {
    Column { heading: heading.into(), unit: unit.map(Into::into), align, weight }
}

fn row(cells: &[&str]) -> Row {
    Row { cells: cells.iter().map(|text| Cell::bold(*text)).collect(), marked: false }
}

fn groove() -> Drawing {
    let mut drawing = Drawing::new(100.0, 56.0, "Single-V butt joint, 60 to 70 degrees");
    let hatch = Fill::Hatch(1.6);
    let outline = Some(Stroke::solid(weight::HEAVY));
    drawing.polygon(&[(4.0, 20.0), (34.0, 20.0), (48.0, 38.0), (48.0, 44.0), (4.0, 44.0)], hatch, outline);
    drawing.polygon(&[(96.0, 20.0), (66.0, 20.0), (52.0, 38.0), (52.0, 44.0), (96.0, 44.0)], hatch, outline);
    let arc = vec![Segment::Move((30.0, 14.0)), Segment::Curve((40.0, 4.0), (60.0, 4.0), (70.0, 14.0))];
    drawing.path(arc, Fill::None, Some(Stroke::solid(weight::FINE)));
    drawing.line((34.0, 20.0), (28.0, 12.0), Stroke::solid(weight::FINE));
    drawing.line((66.0, 20.0), (72.0, 12.0), Stroke::solid(weight::FINE));
    drawing.text((50.0, 5.0), "60–70°", 8.0, Anchor::Middle);
    drawing.line((48.0, 46.0), (48.0, 52.0), Stroke::solid(weight::FINE));
    drawing.line((52.0, 46.0), (52.0, 52.0), Stroke::solid(weight::FINE));
    drawing.text((54.0, 51.0), "2–3 mm", 8.0, Anchor::Start);
    drawing.line((12.0, 38.0), (48.0, 38.0), Stroke::dashed(weight::FINE));
    drawing.items.push(seamwright_sheet::sketch::drawing::Item::Text(seamwright_sheet::sketch::drawing::Label {
        at: (88.0, 33.0),
        text: "5.5 mm".into(),
        size: 8.0,
        anchor: Anchor::Middle,
        bold: false,
        ground: true,
    }));
    drawing
}

fn beads() -> Drawing {
    let mut drawing = Drawing::new(80.0, 56.0, "Four runs in the joint");
    drawing.polygon(
        &[(2.0, 20.0), (78.0, 20.0), (78.0, 44.0), (2.0, 44.0)],
        Fill::White,
        Some(Stroke::solid(weight::MEDIUM)),
    );
    for (number, top, grey) in [(1, 36.0, 0.85), (2, 30.0, 0.89), (3, 25.0, 0.93), (4, 20.0, 0.97)] {
        let half = 3.0 + (44.0 - top) * 0.6;
        let bead = vec![
            Segment::Move((40.0 - half, top)),
            Segment::Curve((40.0 - half / 2.0, top - 3.0), (40.0 + half / 2.0, top - 3.0), (40.0 + half, top)),
            Segment::Line((40.0 + half * 0.7, top + 6.0)),
            Segment::Curve(
                (40.0 + half / 2.0, top + 4.0),
                (40.0 - half / 2.0, top + 4.0),
                (40.0 - half * 0.7, top + 6.0),
            ),
            Segment::Close,
        ];
        drawing.path(bead, Fill::Grey(grey), Some(Stroke::solid(weight::MEDIUM)));
        drawing.text((40.0, top + 3.0), number.to_string(), 8.0, Anchor::Middle);
    }
    drawing
}

fn hookup() -> Drawing {
    let mut drawing =
        Drawing::new(90.0, 56.0, "Power source, torch on the negative terminal, work clamp on the positive");
    drawing.polygon(
        &[(4.0, 10.0), (28.0, 10.0), (28.0, 38.0), (4.0, 38.0)],
        Fill::White,
        Some(Stroke::solid(weight::HEAVY)),
    );
    drawing.text((16.0, 16.0), "power source", 8.0, Anchor::Middle);
    drawing.text((10.0, 33.0), "−", 9.0, Anchor::Middle);
    drawing.text((22.0, 33.0), "+", 9.0, Anchor::Middle);
    let torch = vec![Segment::Move((10.0, 34.0)), Segment::Curve((14.0, 48.0), (40.0, 20.0), (58.0, 24.0))];
    drawing.path(torch, Fill::None, Some(Stroke::solid(0.8)));
    let clamp = vec![Segment::Move((22.0, 34.0)), Segment::Curve((24.0, 52.0), (40.0, 50.0), (60.0, 48.0))];
    drawing.path(clamp, Fill::None, Some(Stroke::solid(0.8)));
    drawing.text((60.0, 23.0), "torch", 8.0, Anchor::Start);
    drawing.text((62.0, 49.0), "work clamp", 8.0, Anchor::Start);
    drawing.polygon(
        &[(50.0, 36.0), (88.0, 36.0), (88.0, 39.0), (50.0, 39.0)],
        Fill::Hatch(1.5),
        Some(Stroke::solid(weight::MEDIUM)),
    );
    drawing
}

fn figure(title: &str, clause: Option<&str>, drawing: Drawing, caption: Option<&str>) -> Figure {
    Figure { title: title.into(), clause: clause.map(Into::into), drawing, caption: caption.map(Into::into) }
}

fn cautions() -> Block {
    let item = |lead: &str, text: &str| NoticeItem { lead: Some(lead.into()), text: text.into() };
    Block::Notice {
        kind: NoticeKind::Caution,
        title: None,
        items: vec![
            item("Arc light", "filter shade 10–12 at these currents; screens for others."),
            item("Fume", "of every metal harms: extract at the arc."),
            item("Argon", "displaces air inside pipe and pits: ventilate and test before entry."),
            item("Shock", "dry gloves, dry floor; change electrodes with gloves on."),
            item("Fire", "clear 11 m or post a fire watch."),
            NoticeItem {
                lead: None,
                text: "The edition of the code that applies, local regulations and a qualified welding engineer or inspector decide.".into(),
            },
        ],
    }
}

fn procedure() -> Sheet {
    let runs = Table {
        caption: None,
        columns: vec![
            column("Run", None, Align::Left, 1.0),
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
            Row {
                marked: true,
                ..row(&["4", "cap", "111", "E7018", "2.5", "DCEP", "70–95", "21–25", "90–150", "0.47–1.27"])
            },
        ],
    };
    let fields = |list: &[(&str, &str, u8)]| Block::Fields {
        fields: list.iter().map(|(label, value, span)| Field::new(*label, *value).wide(*span)).collect(),
    };
    let limits = Table {
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
    };
    Sheet {
        masthead: Masthead {
            manufacturer: "Tarn Beck Metalwork".into(),
            kind: "welding procedure specification".into(),
            title: "Pipe butt, 60.3 × 5.5 mm carbon steel, 141 root with 111 fill and cap".into(),
            number: "P-021".into(),
            facts: vec![
                ("Revision".into(), "1".into()),
                ("Date".into(), "2026-02-17".into()),
                ("Code".into(), "ISO 15614-1".into()),
            ],
            stamp: Some("NOT QUALIFIED: no test record named".into()),
            qr: Some("P-021 rev 1 7c1e09ab44d2".into()),
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
            Block::Table(runs),
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
                ("Electrode drying", "350 °C, 2 h, once, then held in a quiver at 120 °C until the electrode is used", 1),
            ]),
            Block::heading("Technique", Some("4.4.4 to 4.4.6")),
            fields(&[
                ("Positions", "PH, upward", 1),
                ("Bead", "stringer, to 10 mm wide", 1),
                ("Torch", "90°, tilted 10–15°, push", 1),
                ("Between runs", "chip and wire brush", 1),
                ("Preparation", "Machined; degrease, then grind to bright metal 25 mm each side; four tacks of 10 mm, feathered", 4),
            ]),
            Block::heading("Cautions", None),
            cautions(),
            Block::heading("Limits and results", Some("4.1")),
            Block::Table(limits),
            Block::heading("Sources", None),
            Block::List {
                numbered: true,
                small: true,
                items: vec![
                    "ISO 15609-1:2019, Specification and qualification of welding procedures for metallic materials".into(),
                    "ISO 14175:2008, Welding consumables, gases and gas mixtures for fusion welding".into(),
                ],
            },
            Block::heading("Approval", None),
            Block::Signatures {
                boxes: vec![
                    ("Written by".into(), "A. Lindqvist".into()),
                    ("Welding coordinator".into(), "M. Okafor".into()),
                    ("Inspector".into(), String::new()),
                ],
            },
        ],
        footer: Footer {
            checked: "Checked: 63 values against 44 limits. Out of range 0, cautions 0, waived 0, not stated 2 (listed on page 2). Sources on page 2.".into(),
            reference: "P-021 rev 1".into(),
        },
        one_page: false,
        source: source("P-021"),
    }
}

fn bench_card() -> Sheet {
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
                Cell { text: "ER70S-2".into(), note: Some("1.6 mm (1/16 in)".into()), bold: true },
                Cell { text: "2 mm".into(), note: Some("80–110 mm/min".into()), bold: true },
            ],
            marked: false,
        }],
    };
    let large = |label: &str, value: &str| Field { large: true, ..Field::new(label, value) };
    Sheet {
        masthead: Masthead {
            manufacturer: "Tarn Beck Metalwork".into(),
            kind: "bench card".into(),
            title: "2 mm carbon steel, lap fillet, TIG".into(),
            number: "P-003".into(),
            facts: vec![("Revision".into(), "2".into()), ("Date".into(), "2026-02-03".into())],
            stamp: None,
            qr: Some("P-003 rev 2 11f073c9aa05".into()),
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
                title: Some("Stop and ask".into()),
                items: [
                    "Over 90 A or under 70 A",
                    "gap over 1 mm",
                    "leg under 2 mm",
                    "porosity",
                    "tungsten touched the pool",
                    "nozzle or gas lens changed",
                ]
                .into_iter()
                .map(|text| NoticeItem { lead: None, text: text.into() })
                .collect(),
            },
            cautions(),
        ],
        footer: Footer {
            checked: "Checked against 31 limits: all within range.".into(),
            reference: "P-003 rev 2".into(),
        },
        one_page: true,
        source: source("P-003"),
    }
}
