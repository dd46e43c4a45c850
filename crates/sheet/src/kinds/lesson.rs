//! The lesson: objectives, kit, set-up with hook-up, exercises with what good looks like, faults, marking sheet, signatures.

mod heat_and_gas;
mod kit;
mod marking;
mod piece;
mod set_up;

use seamwright_handbook::workshop;
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::lesson::{Assessment, Lesson};
use seamwright_model::procedure::{TransferMode, keys};
use seamwright_model::stated::Text;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Align, Block, Cell, Column, NoticeItem, NoticeKind, Row, Sheet, Table};
use seamwright_page::words::{Label, Language, label};
use seamwright_weld::View;

use self::kit::kit_table;
use self::marking::marking;
use self::piece::{name, piece};
use self::set_up::set_up;
use super::words::{field, joined_option, section};
use super::{DEFERS, Subject, cautions, footer, joined, masthead, quantity, source};

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::Lesson(lesson) = &subject.loaded.document else { return None };
    Some(Ok(sheet(subject, lesson, options)))
}

/// Builds the sheet: the instructor's plan, the learner's sheet, and the marking, each from a page of its own.
fn sheet(subject: Subject<'_>, lesson: &Lesson, options: SheetOptions) -> Sheet {
    let view = subject.procedure.map(View::new);
    let mut blocks = Vec::new();
    plan(&mut blocks, subject, lesson, view.as_ref(), options);

    blocks.push(Block::PageBreak);
    blocks.push(Block::heading(options.say(label::LEARNERS_SHEET), None));
    if let Some(view) = &view {
        // Before anything is switched on.
        blocks.push(Block::Notice { kind: NoticeKind::Safety, title: None, items: cautions::items(view, options) });
    }
    list(&mut blocks, label::YOU_WILL_LEARN, &lesson.objectives, options);
    list(&mut blocks, label::WEAR, &lesson.protection, options);
    if let Some(view) = &view {
        set_up(&mut blocks, view, subject, options);
        glosses(&mut blocks, view, options);
    }
    exercises(&mut blocks, lesson, options);
    faults(&mut blocks, lesson, view.as_ref(), options);
    list(&mut blocks, label::READ, &lesson.reading, options);
    list(&mut blocks, label::CAN_YOU_ANSWER, &lesson.questions, options);

    if let Some(assessment) = &lesson.assessment {
        blocks.push(Block::PageBreak);
        class_grid(&mut blocks, assessment, lesson, options);
        blocks.push(Block::PageBreak);
        marking(&mut blocks, assessment, lesson, view.as_ref(), options);
    }
    blocks.push(Block::Signatures {
        boxes: vec![
            (options.say(label::INSTRUCTOR).into_owned(), lesson.instructor.as_deref().unwrap_or_default().into()),
            (options.say(label::LEARNER).into_owned(), String::new()),
        ],
    });
    blocks.push(Block::Paragraph { text: options.say(DEFERS).into_owned(), small: true });
    Sheet {
        masthead: masthead(subject, label::LESSON, Vec::new(), options),
        blocks,
        annex: Vec::new(),
        footer: footer(subject, options),
        one_page: false,
        large: true,
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
    blocks.push(Block::heading(options.say(label::INSTRUCTORS_PLAN), None));
    if let Some(view) = view {
        blocks.push(Block::Notice { kind: NoticeKind::Safety, title: None, items: cautions::in_short(view, options) });
    }
    found(blocks, subject, options);
    list(blocks, label::SAY_FIRST, &lesson.safety_briefing, options);
    class(blocks, lesson, subject, options);
    list(blocks, label::OBJECTIVES, &lesson.objectives, options);
    timetable(blocks, lesson, options);
    list(blocks, label::SHOW, &lesson.demonstration, options);
    kit_table(blocks, lesson, view, subject.shop, options);
    cut_list(blocks, lesson, view, options);
    list(blocks, label::NOTES, &lesson.notes, options);
}

/// What the checks hold against the lesson, in the words that `check` has for it.
fn found(blocks: &mut Vec<Block>, subject: Subject<'_>, options: SheetOptions) {
    let findings = subject.outcome.findings.iter().filter(|own| own.severity != Severity::Note);
    let items: Vec<String> = findings
        .map(|own| {
            let hint = own.hint.as_deref().map_or_else(String::new, |hint| format!("; {hint}"));
            format!("{}: {}{hint}", own.severity.as_str(), own.message)
        })
        .collect();
    if !items.is_empty() {
        blocks.push(Block::heading(options.say(label::PUT_RIGHT_FIRST), None));
        if options.language != Language::En {
            blocks.push(Block::Paragraph { text: options.say(label::FINDINGS_IN_ENGLISH).into_owned(), small: false });
        }
        blocks.push(Block::List { numbered: false, small: false, items });
    }
}

/// The parts with their times, and who welds when.
fn timetable(blocks: &mut Vec<Block>, lesson: &Lesson, options: SheetOptions) {
    let booths = lesson.booths.unwrap_or(lesson.learners).max(1);
    if lesson.timetable.is_empty() && lesson.learners <= booths {
        return;
    }
    blocks.push(Block::heading(options.say(label::TIME_AND_ROTA), None));
    if !lesson.timetable.is_empty() {
        let rows = lesson.timetable.iter().map(|entry| Row {
            cells: vec![
                Cell::bold(entry.part.to_string()),
                Cell::text(quantity(entry.time.as_ref(), options).unwrap_or_default()),
            ],
            marked: false,
        });
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![Column::words(options.say(label::PART), 3.0), Column::words(options.say(label::TIME), 1.0)],
            rows: rows.collect(),
        }));
    }
    if lesson.learners > booths {
        let turns = lesson.learners.div_ceil(booths);
        let items = (0..turns).map(|turn| {
            let (first, last) = (turn * booths + 1, ((turn + 1) * booths).min(lesson.learners));
            let (turn, first, last) = ((turn + 1).to_string(), first.to_string(), last.to_string());
            options.fill(label::TURN, &[("turn", &turn), ("first", &first), ("last", &last)])
        });
        blocks.push(Block::List { numbered: false, small: false, items: items.collect() });
    }
}

/// The pieces to cut, by size, with what a whole class and a booth need.
fn cut_list(blocks: &mut Vec<Block>, lesson: &Lesson, view: Option<&View<'_>>, options: SheetOptions) {
    let booths = lesson.booths.unwrap_or(lesson.learners).max(1);
    let mut sizes: Vec<(String, u32)> = Vec::new();
    for exercise in &lesson.exercises {
        let Some(coupon) = exercise.coupon.as_ref().filter(|_| exercise.reuse.is_none()) else { continue };
        let size = piece(coupon, view, options);
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
        // The fullest booth has as many learners as there are turns.
        let booth = each.saturating_mul(lesson.learners.div_ceil(booths));
        Row {
            cells: vec![
                Cell::bold(size),
                Cell::text(each.to_string()),
                Cell::text(booth.to_string()),
                Cell::text(booth.saturating_mul(booths).to_string()),
            ],
            marked: false,
        }
    });
    blocks.push(Block::heading(options.say(label::CUT_LIST), None));
    blocks.push(Block::Table(Table {
        caption: Some(options.say(label::ROUNDED_UP).into_owned()),
        columns: vec![
            Column::words(options.say(label::PIECE), 2.4),
            Column::new(options.say(label::EACH_LEARNER), Align::Right, 0.8),
            Column::new(options.say(label::EACH_BOOTH), Align::Right, 0.8),
            Column::new(options.say(label::CUT), Align::Right, 0.8),
        ],
        rows: rows.collect(),
    }));
}

/// Codes that stand on the learner's sheet, in plain words.
fn glosses(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    const WORDS: [(&str, Label); 9] = [
        ("DCEN", label::GLOSS_DCEN),
        ("DCEP", label::GLOSS_DCEP),
        ("AC", label::GLOSS_AC),
        ("PA", label::GLOSS_PA),
        ("PB", label::GLOSS_PB),
        ("PC", label::GLOSS_PC),
        ("PF", label::GLOSS_PF),
        ("PG", label::GLOSS_PG),
        ("PE", label::GLOSS_PE),
    ];
    let mut stand: Vec<String> = view.procedure.positions.iter().map(ToString::to_string).collect();
    for run in &view.runs {
        if let Some(at) = run.value(&keys::POLARITY) {
            stand.push(at.value.to_string());
        }
    }
    let mut items: Vec<String> = WORDS
        .iter()
        .filter(|(code, _)| stand.iter().any(|own| own == code))
        .map(|(code, words)| format!("{code}: {}", options.say(*words)))
        .collect();
    if view.runs.iter().any(|run| run.process.is_some_and(|row| row.uses_tungsten)) {
        items.push(options.say(label::GLOSS_STICKOUT).into_owned());
        items.push(options.say(label::GLOSS_FLOW).into_owned());
    }
    items.push(options.say(label::GLOSS_ANGLES).into_owned());
    blocks.push(Block::heading(options.say(label::WORDS_ON_THIS_SHEET), None));
    blocks.push(Block::List { numbered: false, small: false, items });
}

/// A grid of the class: a row for each learner, cells to write in.
fn class_grid(blocks: &mut Vec<Block>, assessment: &Assessment, lesson: &Lesson, options: SheetOptions) {
    const MOST: u32 = 40;
    let mut columns =
        vec![Column::words(options.say(label::ORDINAL), 0.4), Column::words(options.say(label::LEARNER), 2.0)];
    columns
        .extend((1..=lesson.exercises.len()).map(|number| {
            Column::words(options.fill(label::EXERCISE_NUMBER, &[("number", &number.to_string())]), 0.8)
        }));
    columns.push(Column::words(options.say(label::TEST), 0.8));
    if assessment.retest.as_ref().is_some_and(|retest| retest.0) {
        columns.push(Column::words(options.say(label::RETEST), 0.8));
    }
    columns.push(Column::words(options.say(label::SIGNATURE), 1.4));
    let rows = (1..=lesson.learners.min(MOST)).map(|number| {
        let mut cells = vec![Cell::text(number.to_string())];
        cells.extend((1..columns.len()).map(|_| Cell::to_write_in()));
        Row { cells, marked: false }
    });
    let rows = rows.collect();
    blocks.push(Block::heading(options.say(label::MARKS_OF_THE_CLASS), None));
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
}

fn class(blocks: &mut Vec<Block>, lesson: &Lesson, subject: Subject<'_>, options: SheetOptions) {
    let booths = lesson.booths.unwrap_or(lesson.learners);
    let taught = subject.procedure.map_or_else(
        || lesson.procedure.to_string(),
        |procedure| {
            let known = &procedure.identification;
            options.fill(
                label::TAUGHT,
                &[("number", &known.number), ("revision", &known.revision), ("title", &known.title)],
            )
        },
    );
    let duration = quantity(Some(&lesson.duration), options).map(|all| {
        let without = quantity(lesson.without_welding.as_ref(), options);
        without
            .map_or_else(|| all.clone(), |part| options.fill(label::DURATION_PART, &[("all", &all), ("part", &part)]))
    });
    let (learners, count) = (lesson.learners.to_string(), booths.to_string());
    let label = if booths == 1 { label::IN_ONE_BOOTH } else { label::IN_BOOTHS };
    let seats = options.fill(label, &[("learners", &learners), ("count", &count)]);
    section(
        blocks,
        &options.say(label::CLASS),
        None,
        vec![
            field(&options.say(label::PROCEDURE), Some(taught)),
            field(&options.say(label::INSTRUCTOR), lesson.instructor.as_deref()),
            field(&options.say(label::DAY), lesson.date.map(|date| date.to_string())),
            field(&options.say(label::ROOM), lesson.room.as_deref()),
            field(&options.say(label::LEARNERS), Some(seats)),
            // As narrow as the others, so that all stand in a row.
            field(&options.say(label::DURATION), duration).map(|field| field.wide(1)),
        ],
    );
}

fn list(blocks: &mut Vec<Block>, title: Label, texts: &[Text], options: SheetOptions) {
    if !texts.is_empty() {
        blocks.push(Block::heading(options.say(title), None));
        let items = texts.iter().map(ToString::to_string).collect();
        blocks.push(Block::List { numbered: false, small: false, items });
    }
}

fn exercises(blocks: &mut Vec<Block>, lesson: &Lesson, options: SheetOptions) {
    let term = |key: &'static str| options.term(key);
    for (index, exercise) in lesson.exercises.iter().enumerate() {
        let mut part = vec![Block::heading(
            options.fill(label::EXERCISE_TITLED, &[("number", &(index + 1).to_string()), ("title", &name(exercise))]),
            None,
        )];
        let coupon = exercise.coupon.as_ref().map(|coupon| {
            let pieces = coupon
                .pieces
                .filter(|pieces| *pieces > 1)
                .map(|pieces| options.fill(label::PIECES, &[("count", &pieces.to_string())]));
            joined([Some(piece(coupon, None, options)), pieces])
        });
        let settings = exercise.settings.as_ref();
        let fields = vec![
            field(&options.say(label::WELD), exercise.title.as_ref().map(|_| exercise.weld.to_string())),
            field(&options.say(label::COUPON), coupon),
            field(&options.say(label::EACH_LEARNER), Some(exercise.count.unwrap_or(1).to_string())),
            field(&term("/weld_size/length"), quantity(exercise.length.as_ref(), options)),
            field(&options.say(label::TIME_FOR_ONE), quantity(exercise.time.as_ref(), options)),
            field(&term("/runs/*/positions"), exercise.position.as_deref()),
            field(
                &term(keys::FILLER.of_process),
                exercise
                    .with_filler
                    .as_ref()
                    .map(|with| options.say(if with.0 { label::WITH } else { label::WITHOUT })),
            ),
            field(
                &options.say(label::SETTINGS_THAT_DIFFER),
                settings.and_then(|s| {
                    joined_option([
                        quantity(keys::CURRENT.of(s), options),
                        quantity(keys::VOLTAGE.of(s), options),
                        quantity(keys::TRAVEL_SPEED.of(s), options),
                        quantity(keys::WIRE_FEED_SPEED.of(s), options)
                            .map(|feed| format!("{} {feed}", options.low(keys::WIRE_FEED_SPEED.of_process))),
                    ])
                }),
            ),
        ];
        let mut fields: Vec<_> = fields.into_iter().flatten().collect();
        fields.extend(field(&options.say(label::PLATE_USED_AGAIN), exercise.reuse.as_deref()));
        if exercise.arc_off.as_ref().is_some_and(|off| off.0) {
            fields.extend(field(&options.say(label::ARC), Some(options.say(label::ARC_OFF))));
        }
        part.push(Block::Fields { fields });
        if !exercise.steps.is_empty() {
            let items = exercise.steps.iter().map(ToString::to_string).collect();
            part.push(Block::List { numbered: true, small: false, items });
        }
        if !exercise.good.is_empty() {
            let items = exercise.good.iter().map(|text| NoticeItem { lead: None, text: text.to_string() }).collect();
            part.push(Block::Notice {
                kind: NoticeKind::Remark,
                title: Some(options.say(label::WHAT_GOOD_LOOKS_LIKE).into_owned()),
                items,
            });
        }
        blocks.push(Block::Together { blocks: part });
    }
}

/// Whether a fault can be seen on the joint that is taught: legs are those of a fillet, a root is open in a groove.
fn fits(row: &workshop::FaultRow, view: &View<'_>) -> bool {
    let Some(weld) = view.weld() else { return true };
    let transfer = |wanted| {
        let modes = view.runs.iter().map(|run| run.setting(&keys::TRANSFER_MODE));
        modes.flatten().any(|at| at.value.value() == Some(&wanted))
    };
    match row.fault {
        "uneven legs" => weld.has_fillet(),
        "lack of penetration" | "sugaring" => weld.has_groove(),
        "lack of fusion" if row.cause.contains("Short-circuit") => transfer(TransferMode::ShortCircuit),
        _ => true,
    }
}

fn faults(blocks: &mut Vec<Block>, lesson: &Lesson, view: Option<&View<'_>>, options: SheetOptions) {
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
                if fits(row, view)
                    && !all
                        .iter()
                        .any(|(fault, ..)| fault.eq_ignore_ascii_case(row.fault) || *fault == options.word(row.fault))
                {
                    let word = |text: &str| options.word(text).into_owned();
                    all.push((word(row.fault), word(row.cause), word(row.remedy)));
                    let line = options.source(&row.origin.source_ref());
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
    blocks.push(Block::heading(options.say(label::FAULTS), None));
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words(options.say(label::WHAT_I_SEE), 1.0),
            Column::words(options.say(label::LIKELY_CAUSE), 1.8),
            Column::words(options.say(label::DO_THIS), 1.8),
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
