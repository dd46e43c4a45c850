//! The lesson: objectives, kit, set-up with hook-up, exercises with what good looks like, faults, marking sheet, signatures.

mod kit;
mod marking;
mod set_up;

use seamwright_check::View;
use seamwright_check::rule::counted;
use seamwright_handbook::{variables, workshop};
use seamwright_model::lesson::{Assessment, Coupon, Exercise, Lesson};
use seamwright_model::procedure::TransferMode;
use seamwright_model::quantity::UnitSystem;
use seamwright_model::stated::{Stated, Text};

use self::kit::kit_table;
use self::marking::marking;
use self::set_up::set_up;
use super::words::{field, joined_option, low, section};
use super::{DEFERS, SheetOptions, Subject, cautions, footer, joined, masthead, quantity, source};
use crate::block::{Align, Block, Cell, Column, NoticeItem, NoticeKind, Row, Sheet, Table};

/// Builds the sheet: the instructor's plan, the learner's sheet, and the marking, each from a page of its own.
pub(super) fn sheet(subject: Subject<'_>, lesson: &Lesson, options: SheetOptions) -> Sheet {
    let units = options.units;
    let view = subject.procedure.map(View::new);
    let mut blocks = Vec::new();
    plan(&mut blocks, subject, lesson, view.as_ref(), options);

    blocks.push(Block::PageBreak);
    blocks.push(Block::heading("Learner's sheet", None));
    if let Some(view) = &view {
        // Before anything is switched on.
        blocks.push(Block::Notice { kind: NoticeKind::Safety, title: None, items: cautions::items(view, options) });
    }
    list(&mut blocks, "You will learn to", &lesson.objectives);
    list(&mut blocks, "Wear", &lesson.protection);
    if let Some(view) = &view {
        set_up(&mut blocks, view, subject, options);
        glosses(&mut blocks, view);
    }
    exercises(&mut blocks, lesson, options);
    faults(&mut blocks, lesson, view.as_ref());
    list(&mut blocks, "Read", &lesson.reading);
    list(&mut blocks, "Can you answer this?", &lesson.questions);

    if let Some(assessment) = &lesson.assessment {
        blocks.push(Block::PageBreak);
        class_grid(&mut blocks, assessment, lesson);
        blocks.push(Block::PageBreak);
        marking(&mut blocks, assessment, lesson, view.as_ref(), units);
    }
    blocks.push(Block::Signatures {
        boxes: vec![
            ("Instructor".into(), lesson.instructor.as_deref().unwrap_or_default().into()),
            ("Learner".into(), String::new()),
        ],
    });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    Sheet {
        masthead: masthead(subject, "lesson", Vec::new()),
        blocks,
        annex: Vec::new(),
        footer: footer(subject),
        one_page: false,
        planned: None,
        source: source(subject),
    }
}

/// What the instructor needs: class, cautions, time, rota, demonstration, kit and cost.
fn plan(
    blocks: &mut Vec<Block>,
    subject: Subject<'_>,
    lesson: &Lesson,
    view: Option<&View<'_>>,
    options: SheetOptions,
) {
    let units = options.units;
    blocks.push(Block::heading("Instructor's plan", None));
    if let Some(view) = view {
        blocks.push(Block::Notice { kind: NoticeKind::Safety, title: None, items: cautions::in_short(view, options) });
    }
    list(blocks, "Say first, with everything switched off", &lesson.safety_briefing);
    class(blocks, lesson, subject, units);
    list(blocks, "Objectives", &lesson.objectives);
    timetable(blocks, lesson, units);
    list(blocks, "Show", &lesson.demonstration);
    kit_table(blocks, lesson, view, subject.shop, units);
    cut_list(blocks, lesson, view, units);
    list(blocks, "Notes", &lesson.notes);
}

/// The parts with their times, and who welds when.
fn timetable(blocks: &mut Vec<Block>, lesson: &Lesson, units: UnitSystem) {
    let booths = lesson.booths.unwrap_or(lesson.learners).max(1);
    if lesson.timetable.is_empty() && lesson.learners <= booths {
        return;
    }
    blocks.push(Block::heading("Time and rota", None));
    if !lesson.timetable.is_empty() {
        let rows = lesson.timetable.iter().map(|entry| Row {
            cells: vec![
                Cell::bold(entry.part.to_string()),
                Cell::text(quantity(entry.time.as_ref(), units).unwrap_or_default()),
            ],
            marked: false,
        });
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![Column::words("Part", 3.0), Column::words("Time", 1.0)],
            rows: rows.collect(),
        }));
    }
    if lesson.learners > booths {
        let turns = lesson.learners.div_ceil(booths);
        let items = (0..turns).map(|turn| {
            let (first, last) = (turn * booths + 1, ((turn + 1) * booths).min(lesson.learners));
            format!(
                "Turn {}: learners {first} to {last} weld; the others grind, fit up, watch beside them and mark",
                turn + 1
            )
        });
        blocks.push(Block::List { numbered: false, small: false, items: items.collect() });
    }
}

/// The pieces to cut, by size, with what a whole class and a booth need.
fn cut_list(blocks: &mut Vec<Block>, lesson: &Lesson, view: Option<&View<'_>>, units: UnitSystem) {
    let booths = lesson.booths.unwrap_or(lesson.learners).max(1);
    let mut sizes: Vec<(String, u32)> = Vec::new();
    for exercise in &lesson.exercises {
        let Some(coupon) = exercise.coupon.as_ref().filter(|_| exercise.reuse.is_none()) else { continue };
        let size = piece(coupon, view, units);
        let each = exercise.count.unwrap_or(1).saturating_mul(coupon.pieces.unwrap_or(1));
        match sizes.iter_mut().find(|(own, _)| *own == size) {
            Some((_, count)) => *count = count.saturating_add(each),
            None => sizes.push((size, each)),
        }
    }
    if sizes.is_empty() {
        return;
    }
    let rows = sizes.into_iter().map(|(size, each)| {
        let all = each.saturating_mul(lesson.learners);
        Row {
            cells: vec![
                Cell::bold(size),
                Cell::text(each.to_string()),
                Cell::text(all.div_ceil(booths).to_string()),
                Cell::text((all.div_ceil(booths) * booths).to_string()),
            ],
            marked: false,
        }
    });
    blocks.push(Block::heading("Cut list", None));
    blocks.push(Block::Table(Table {
        caption: Some("Rounded up for each booth; what practice loses comes on top.".into()),
        columns: vec![
            Column::words("Piece", 2.4),
            Column::new("Each learner", Align::Right, 0.8),
            Column::new("Each booth", Align::Right, 0.8),
            Column::new("Cut", Align::Right, 0.8),
        ],
        rows: rows.collect(),
    }));
}

/// Codes that stand on the learner's sheet, in plain words.
fn glosses(blocks: &mut Vec<Block>, view: &View<'_>) {
    const WORDS: [(&str, &str); 9] = [
        ("DCEN", "direct current, torch or holder on minus"),
        ("DCEP", "direct current, torch or holder on plus"),
        ("AC", "alternating current"),
        ("PA", "flat: you weld downwards into a joint that lies"),
        ("PB", "a fillet weld with one plate lying and one standing"),
        ("PC", "across an upright plate"),
        ("PF", "upright, from below to above"),
        ("PG", "upright, from above to below"),
        ("PE", "overhead"),
    ];
    let mut stand: Vec<String> = view.procedure.positions.iter().map(ToString::to_string).collect();
    for run in &view.runs {
        if let Some(at) = run.setting("polarity", |s| s.polarity.as_ref().and_then(Stated::value)) {
            stand.push(at.value.to_string());
        }
    }
    let mut items: Vec<String> = WORDS
        .iter()
        .filter(|(code, _)| stand.iter().any(|own| own == code))
        .map(|(code, words)| format!("{code}: {words}"))
        .collect();
    if view.runs.iter().any(|run| run.process.is_some_and(|row| row.uses_tungsten)) {
        items.push("Stickout: how far the tungsten stands out of the nozzle".into());
        items.push("Pre-flow, post-flow: gas before the arc and after it".into());
    }
    items.push(
        "Travel angle: how far the torch leans along the weld; work angle: how far it stands from the plate".into(),
    );
    blocks.push(Block::heading("Words on this sheet", None));
    blocks.push(Block::List { numbered: false, small: false, items });
}

/// A grid of the class: a row for each learner, cells to write in.
fn class_grid(blocks: &mut Vec<Block>, assessment: &Assessment, lesson: &Lesson) {
    const MOST: u32 = 40;
    let mut columns = vec![Column::words("No.", 0.4), Column::words("Learner", 2.0)];
    columns.extend((1..=lesson.exercises.len()).map(|number| Column::words(format!("Exercise {number}"), 0.8)));
    columns.push(Column::words("Test", 0.8));
    if assessment.retest.as_ref().is_some_and(|retest| retest.0) {
        columns.push(Column::words("Retest", 0.8));
    }
    columns.push(Column::words("Signature", 1.4));
    let rows = (1..=lesson.learners.min(MOST)).map(|number| {
        let mut cells = vec![Cell::text(number.to_string())];
        // The second line leaves height for a pen.
        let blank = || Cell { note: Some("\u{a0}".into()), ..Cell::text("") };
        cells.extend((1..columns.len()).map(|_| blank()));
        Row { cells, marked: false }
    });
    let rows = rows.collect();
    blocks.push(Block::heading("Marks of the class", None));
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
}

fn class(blocks: &mut Vec<Block>, lesson: &Lesson, subject: Subject<'_>, units: UnitSystem) {
    let booths = lesson.booths.unwrap_or(lesson.learners);
    let taught = subject.procedure.map_or_else(
        || lesson.procedure.to_string(),
        |procedure| {
            let known = &procedure.identification;
            format!("{} revision {}: {}", known.number, known.revision, known.title)
        },
    );
    let duration = quantity(Some(&lesson.duration), units).map(|all| {
        let without = quantity(lesson.without_welding.as_ref(), units);
        without.map_or_else(|| all.clone(), |part| format!("{all}, of it {part} without welding"))
    });
    section(
        blocks,
        "Class",
        None,
        vec![
            field("Procedure", Some(taught)),
            field("Instructor", lesson.instructor.as_deref()),
            field("Day", lesson.date.map(|date| date.to_string())),
            field("Room", lesson.room.as_deref()),
            field("Learners", Some(format!("{} in {}", lesson.learners, counted(booths, "booth")))),
            // As narrow as the others, so that all stand in a row.
            field("Duration", duration).map(|field| field.wide(1)),
        ],
    );
}

fn list(blocks: &mut Vec<Block>, title: &str, texts: &[Text]) {
    if !texts.is_empty() {
        blocks.push(Block::heading(title, None));
        let items = texts.iter().map(ToString::to_string).collect();
        blocks.push(Block::List { numbered: false, small: false, items });
    }
}

fn name(exercise: &Exercise) -> String {
    exercise.title.as_deref().unwrap_or(&exercise.weld).to_owned()
}

/// A piece of a coupon in words: metal and its three measures.
fn piece(coupon: &Coupon, view: Option<&View<'_>>, units: UnitSystem) -> String {
    let own = coupon.specification.as_deref().map(ToOwned::to_owned);
    let metal =
        own.or_else(|| view.and_then(|view| view.metals.first()).map(|metal| metal.stated.specification.to_string()));
    let sizes: Vec<String> = [&coupon.outside_diameter, &coupon.thickness, &coupon.width, &coupon.length]
        .into_iter()
        .filter_map(|size| quantity(size.as_ref(), units))
        .collect();
    joined([metal, (!sizes.is_empty()).then(|| sizes.join(" × "))])
}

fn exercises(blocks: &mut Vec<Block>, lesson: &Lesson, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    for (index, exercise) in lesson.exercises.iter().enumerate() {
        let mut part = vec![Block::heading(format!("Exercise {}: {}", index + 1, name(exercise)), None)];
        let coupon = exercise.coupon.as_ref().map(|coupon| {
            let pieces = coupon.pieces.filter(|pieces| *pieces > 1).map(|pieces| format!("{pieces} pieces"));
            joined([Some(piece(coupon, None, units)), pieces])
        });
        let settings = exercise.settings.as_ref();
        let fields = vec![
            field("Weld", exercise.title.as_ref().map(|_| exercise.weld.to_string())),
            field("Coupon", coupon),
            field("Each learner", Some(exercise.count.unwrap_or(1).to_string())),
            field(label("/weld_size/length"), quantity(exercise.length.as_ref(), units)),
            field("Time for one", quantity(exercise.time.as_ref(), units)),
            field(label("/runs/*/positions"), exercise.position.as_deref()),
            field(
                label("/processes/*/filler"),
                exercise.with_filler.as_ref().map(|with| if with.0 { "with" } else { "without" }),
            ),
            field(
                "Settings that differ",
                settings.and_then(|s| {
                    joined_option([
                        quantity(s.current.as_ref(), units),
                        quantity(s.voltage.as_ref(), units),
                        quantity(s.travel_speed.as_ref(), units),
                        quantity(s.wire_feed_speed.as_ref(), units)
                            .map(|feed| format!("{} {feed}", low("/processes/*/wire_feed_speed", terms))),
                    ])
                }),
            ),
        ];
        let mut fields: Vec<_> = fields.into_iter().flatten().collect();
        fields.extend(field("Plate used again", exercise.reuse.as_deref()));
        if exercise.arc_off.as_ref().is_some_and(|off| off.0) {
            fields.extend(field("Arc", Some("off: practise posture and travel first")));
        }
        part.push(Block::Fields { fields });
        if !exercise.steps.is_empty() {
            let items = exercise.steps.iter().map(ToString::to_string).collect();
            part.push(Block::List { numbered: true, small: false, items });
        }
        if !exercise.good.is_empty() {
            let items = exercise.good.iter().map(|text| NoticeItem { lead: None, text: text.to_string() }).collect();
            part.push(Block::Notice { kind: NoticeKind::Remark, title: Some("What good looks like".into()), items });
        }
        blocks.push(Block::Together { blocks: part });
    }
}

/// Whether a fault can be seen on the joint that is taught: legs are those of a fillet, a root is open in a groove.
fn fits(row: &workshop::FaultRow, view: &View<'_>) -> bool {
    let Some(weld) = view.weld() else { return true };
    let transfer = |wanted| {
        let modes = view.runs.iter().map(|run| run.setting("transfer_mode", |s| s.transfer_mode.as_ref()));
        modes.flatten().any(|at| at.value.value() == Some(&wanted))
    };
    match row.fault.as_str() {
        "uneven legs" => weld.has_fillet(),
        "lack of penetration" | "sugaring" => weld.has_groove(),
        "lack of fusion" if row.cause.contains("Short-circuit") => transfer(TransferMode::ShortCircuit),
        _ => true,
    }
}

fn faults(blocks: &mut Vec<Block>, lesson: &Lesson, view: Option<&View<'_>>) {
    let own = lesson.faults.iter().map(|fault| {
        let text = |value: Option<&str>| value.unwrap_or_default().to_owned();
        (fault.fault.to_string(), text(fault.cause.as_deref()), text(fault.remedy.as_deref()))
    });
    let mut all: Vec<(String, String, String)> = own.collect();
    let mut sources: Vec<String> = Vec::new();
    // The usual faults of the process on the metal, beside those that the lesson names.
    if let Some(view) = view {
        let family = view.metals.first().map_or("", |metal| metal.family());
        for run in &view.runs {
            for row in workshop::faults_of(run.number(), family) {
                if fits(row, view) && !all.iter().any(|(fault, ..)| fault.eq_ignore_ascii_case(&row.fault)) {
                    all.push((row.fault.clone(), row.cause.clone(), row.remedy.clone()));
                    let line = row.origin.source_ref().line();
                    if !sources.contains(&line) {
                        sources.push(line);
                    }
                }
            }
        }
    }
    if all.is_empty() {
        return;
    }
    blocks.push(Block::heading("Faults", None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words("What I see", 1.0),
            Column::words("Likely cause", 1.8),
            Column::words("Do this", 1.8),
        ],
        rows: all
            .into_iter()
            .map(|(fault, cause, remedy)| Row {
                cells: vec![Cell::bold(fault), Cell::text(cause), Cell::text(remedy)],
                marked: false,
            })
            .collect(),
    }));
    if !sources.is_empty() {
        blocks.push(Block::List { numbered: false, small: true, items: sources });
    }
}
