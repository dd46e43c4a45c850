//! The lesson: objectives, kit, set-up with hook-up, exercises with what good looks like, faults, marking sheet, signatures.

mod kit;
mod marking;
mod set_up;

use seamwright_check::View;
use seamwright_check::rule::counted;
use seamwright_handbook::{variables, workshop};
use seamwright_model::lesson::{Coupon, Exercise, Lesson};
use seamwright_model::quantity::UnitSystem;
use seamwright_model::stated::Text;

use self::kit::kit_table;
use self::marking::marking;
use self::set_up::set_up;
use super::words::{field, joined_option, low, section};
use super::{DEFERS, SheetOptions, Subject, cautions, footer, joined, masthead, quantity, source};
use crate::block::{Block, Cell, Column, NoticeItem, NoticeKind, Row, Sheet, Table};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, lesson: &Lesson, options: SheetOptions) -> Sheet {
    let units = options.units;
    let view = subject.procedure.map(View::new);
    let mut blocks = Vec::new();
    class(&mut blocks, lesson, subject, units);
    list(&mut blocks, "Objectives", &lesson.objectives);
    if let Some(view) = &view {
        set_up(&mut blocks, view, subject, options);
    }
    kit_table(&mut blocks, lesson, view.as_ref(), subject.shop, units);
    exercises(&mut blocks, lesson, options);
    faults(&mut blocks, lesson, view.as_ref());
    list(&mut blocks, "Notes", &lesson.notes);
    if let Some(view) = &view {
        blocks.push(Block::heading("Cautions", None));
        blocks.push(Block::Notice { kind: NoticeKind::Caution, title: None, items: cautions::items(view, options) });
    }
    if let Some(assessment) = &lesson.assessment {
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
        footer: footer(subject),
        one_page: false,
        planned: None,
        annex: Vec::new(),
        source: source(subject),
    }
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
        part.push(Block::Fields { fields: fields.into_iter().flatten().collect() });
        if !exercise.good.is_empty() {
            let items = exercise.good.iter().map(|text| NoticeItem { lead: None, text: text.to_string() }).collect();
            part.push(Block::Notice { kind: NoticeKind::Remark, title: Some("What good looks like".into()), items });
        }
        blocks.push(Block::Together { blocks: part });
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
                if !all.iter().any(|(fault, ..)| fault.eq_ignore_ascii_case(&row.fault)) {
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
        columns: vec![Column::words("Fault", 1.0), Column::words("Cause", 1.8), Column::words("Remedy", 1.8)],
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
