//! The lesson: objectives, kit, set-up with hook-up, exercises with what good looks like, faults, marking sheet, signatures.

use seamwright_check::weld::Assumption;
use seamwright_check::{View, kit};
use seamwright_handbook::workshop;
use seamwright_model::lesson::{Assessment, Coupon, Exercise, Lesson};
use seamwright_model::quantity::UnitSystem;
use seamwright_model::shop::Shop;
use seamwright_model::stated::Text;

use super::words::{field, joined_option, section};
use super::{DEFERS, SheetOptions, Subject, cautions, footer, joined, joint, masthead, quantity, setup, source};
use crate::block::{Align, Block, Cell, Column, Figure, NoticeItem, NoticeKind, Row, Sheet, Table};

/// What a class uses up, ready to print.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Kit {
    /// The items in order.
    items: Vec<KitItem>,
    /// Cost of all, with currency, where rates are known.
    total: Option<String>,
    /// What was taken for granted, one sentence each.
    assumptions: Vec<String>,
}

/// One thing of the kit.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct KitItem {
    /// What it is: "ER70S-2, 1.6 mm".
    what: String,
    /// For the class, with unit: "1.2 kg".
    quantity: String,
    /// For one learner, with unit, where it is shared out.
    each: Option<String>,
    /// Cost, with currency, where a rate is known.
    cost: Option<String>,
}

/// The kit that the exercises, the procedure and the shop's rates ask for.
fn computed(lesson: &Lesson, view: &View<'_>, shop: Option<&Shop>) -> Kit {
    let found = kit::of(lesson, view, shop);
    let learners = f64::from(lesson.learners.max(1));
    let item = |what: String, quantity: String, each: Option<String>| KitItem { what, quantity, each, cost: None };
    let mut items = Vec::new();
    for own in &found.coupons {
        let size = [own.thickness_mm, own.outside_diameter_mm, own.width_mm, own.length_mm];
        let size: Vec<String> = size.into_iter().flatten().map(|size| format!("{size}")).collect();
        items.push(item(
            format!("{}, {} mm", own.specification, size.join(" × ")),
            format!("{} pieces", own.pieces),
            None,
        ));
    }
    for own in &found.fillers {
        let rods = own.rods.map(|rods| format!(", {rods} rods")).unwrap_or_default();
        let each = format!("{:.0} g", own.mass_kg * 1000.0 / learners);
        items.push(item(own.designation.clone(), format!("{:.2} kg{rods}", own.mass_kg), Some(each)));
    }
    if let Some((designation, count)) = &found.tungstens {
        items.push(item(designation.clone(), format!("{count} pieces"), None));
    }
    for gas in &found.gases {
        let cylinders = gas
            .cylinders
            .map(|count| format!(", {count} cylinder{}", if count == 1 { "" } else { "s" }))
            .unwrap_or_default();
        let each = format!("{:.0} L", gas.litres / learners);
        items.push(item(
            format!("Gas {}", gas.designation),
            format!("{:.2} m³{cylinders}", gas.litres / 1000.0),
            Some(each),
        ));
    }
    items.push(item(
        "Time in the booths".to_owned(),
        format!("{:.0} min, {} turns", found.minutes_in_booths, found.turns),
        Some(format!("{:.0} min", found.minutes_each)),
    ));
    let total: f64 = found.cost.iter().map(|(_, cost)| cost).sum();
    let said = |own: &Assumption| {
        own.source.as_ref().map_or_else(|| own.text.clone(), |source| format!("{}. {}", own.text, source.line()))
    };
    let missing = found.not_stated.iter().map(|text| format!("not stated, and left out: {text}"));
    Kit {
        items,
        total: (!found.cost.is_empty()).then(|| format!("{total:.2} {} of filler and gas", found.currency)),
        assumptions: found.assumptions.iter().map(said).chain(missing).collect(),
    }
}

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, lesson: &Lesson, options: SheetOptions) -> Sheet {
    let units = options.units;
    let view = subject.procedure.map(View::new);
    let mut blocks = Vec::new();
    class(&mut blocks, lesson, subject, units);
    list(&mut blocks, "Objectives", &lesson.objectives);
    if let Some(view) = &view {
        set_up(&mut blocks, view, subject, units);
    }
    let computed = view.as_ref().map(|view| computed(lesson, view, subject.shop));
    kit_table(&mut blocks, lesson, view.as_ref(), computed.as_ref(), units);
    exercises(&mut blocks, lesson, units);
    faults(&mut blocks, lesson, view.as_ref());
    list(&mut blocks, "Notes", &lesson.notes);
    if let Some(view) = &view {
        blocks.push(Block::heading("Cautions", None));
        blocks.push(Block::Notice { kind: NoticeKind::Caution, title: None, items: cautions::items(view) });
    }
    if let Some(assessment) = &lesson.assessment {
        blocks.push(Block::PageBreak);
        marking(&mut blocks, assessment);
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
    section(
        blocks,
        "Class",
        None,
        vec![
            field("Procedure", Some(taught)),
            field("Instructor", lesson.instructor.as_deref()),
            field("Day", lesson.date.map(|date| date.to_string())),
            field("Learners", Some(lesson.learners.to_string())),
            field("Booths", Some(booths.to_string())),
            field("Duration", quantity(Some(&lesson.duration), units)),
            field("Of it without welding", quantity(lesson.without_welding.as_ref(), units)),
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

/// The steps before the arc, numbered, beside the hook-up; then what is seen of joint and torch.
fn set_up(blocks: &mut Vec<Block>, view: &View<'_>, subject: Subject<'_>, units: UnitSystem) {
    let mut drawings: Vec<Figure> = joint::figures(view, units);
    for run in setup::setups(view) {
        let number = run.number();
        let title = if number.is_empty() { "Set-up".to_owned() } else { format!("Set-up, {number}") };
        blocks.push(Block::heading(title, None));
        let (figure, notes) = match setup::hook_up(run, subject.shop, units) {
            Some((sketch, notes)) => (Some(setup::hook_up_figure(&sketch, "Hook-up")), notes),
            None => (None, Vec::new()),
        };
        let mut steps: Vec<String> =
            vec!["Machine off: look over cables, hoses and torch for damage; clear what burns".into()];
        steps.extend(notes.into_iter().map(|note| note.trim_end_matches('.').to_owned()));
        if let Some(tungsten) = run.setting("tungsten", |s| s.tungsten.as_ref()).map(|at| at.value) {
            let tip = joined([
                tungsten.designation.as_deref().map(super::words::tungsten_words),
                quantity(tungsten.diameter.as_ref(), units),
                quantity(tungsten.included_angle.as_ref(), units).map(|angle| format!("tip {angle}")),
                quantity(tungsten.stickout.as_ref(), units).map(|out| format!("stickout {out}")),
            ]);
            steps.push(format!("Fit the tungsten: {tip}"));
        }
        if let Some((nozzle, _, _)) = run.nozzle() {
            let lens = if run.gas_lens() { ", with gas lens" } else { "" };
            steps.push(format!("Fit the nozzle: {}{lens}", nozzle.value));
        }
        if let Some(filler) = run.filler(view.procedure).map(|(_, filler)| filler) {
            let name = joined([Some(filler.designation.to_string()), quantity(filler.diameter.as_ref(), units)]);
            let what =
                if run.process.is_some_and(|row| row.uses_wire_feed) { "Load the wire" } else { "Lay out the filler" };
            steps.push(format!("{what}: {name}"));
        }
        if let Some(gas) = run.gas() {
            let name = joined([
                setup::gas_name(run),
                quantity(gas.value.flow.as_ref(), units),
                quantity(gas.value.post_flow.as_ref(), units).map(|time| format!("post-flow {time}")),
            ]);
            steps.push(format!("Open the cylinder slowly and set the gas while it flows: {name}"));
        }
        let settings = joined([
            run.quantity("current", |s| s.current.as_ref()).map(|at| at.value.print(units)),
            run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value.print(units)),
            run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref())
                .map(|at| format!("wire feed {}", at.value.print(units))),
        ]);
        if !settings.is_empty() {
            steps.push(format!("Set the machine: {settings}"));
        }
        if let Some(cleaning) = view.procedure.joint.as_ref().and_then(|joint| joint.cleaning.as_deref()) {
            steps.push(format!("Clean the coupons: {cleaning}"));
        }
        steps.push("Helmet, gloves and screens in place, extraction on; then the arc".into());
        let steps = Block::List { numbered: true, small: false, items: steps };
        match figure {
            Some(figure) => {
                let left = vec![Block::Drawings { drawings: vec![figure] }];
                blocks.push(Block::Columns { left, right: vec![steps], share: 0.5 });
            }
            None => blocks.push(steps),
        }
        drawings.extend(setup::torch(view, run, units));
        drawings.extend(setup::tungsten(run, units));
    }
    for figure in &mut drawings {
        figure.clause = None;
    }
    if !drawings.is_empty() {
        blocks.push(Block::Drawings { drawings });
    }
}

fn column(heading: &str, align: Align, weight: f64) -> Column {
    Column { heading: heading.into(), unit: None, align, weight }
}

fn kit_table(blocks: &mut Vec<Block>, lesson: &Lesson, view: Option<&View<'_>>, kit: Option<&Kit>, units: UnitSystem) {
    blocks.push(Block::heading("Kit", None));
    if let Some(kit) = kit {
        let priced = kit.items.iter().any(|item| item.cost.is_some());
        let mut columns = vec![
            column("What", Align::Left, 2.4),
            column("For the class", Align::Right, 1.0),
            column("Each learner", Align::Right, 1.0),
        ];
        if priced {
            columns.push(column("Cost", Align::Right, 0.9));
        }
        let rows = kit
            .items
            .iter()
            .map(|item| {
                let mut cells = vec![
                    Cell::bold(item.what.clone()),
                    Cell::text(item.quantity.clone()),
                    Cell::text(item.each.clone().unwrap_or_default()),
                ];
                if priced {
                    cells.push(Cell::text(item.cost.clone().unwrap_or_default()));
                }
                Row { cells, marked: false }
            })
            .collect();
        blocks.push(Block::Table(Table { caption: None, columns, rows }));
        if let Some(total) = &kit.total {
            blocks.push(Block::paragraph(format!("Cost of all: {total}.")));
        }
        if !kit.assumptions.is_empty() {
            blocks.push(Block::List { numbered: false, small: true, items: kit.assumptions.clone() });
        }
        return;
    }
    // Counted from what the lesson states: coupons by exercise.
    let rows: Vec<Row> = lesson
        .exercises
        .iter()
        .filter_map(|exercise| {
            let coupon = exercise.coupon.as_ref()?;
            let each = exercise.count.unwrap_or(1).saturating_mul(coupon.pieces.unwrap_or(1));
            let all = u64::from(each) * u64::from(lesson.learners);
            Some(Row {
                cells: vec![
                    Cell { note: Some(name(exercise)), ..Cell::bold(piece(coupon, view, units)) },
                    Cell::text(format!("{all} pieces")),
                    Cell::text(each.to_string()),
                ],
                marked: false,
            })
        })
        .collect();
    if !rows.is_empty() {
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                column("Coupon", Align::Left, 2.4),
                column("For the class", Align::Right, 1.0),
                column("Each learner", Align::Right, 1.0),
            ],
            rows,
        }));
    }
    let mut needs: Vec<String> = Vec::new();
    if let Some(view) = view {
        for (_, filler) in view.procedure.fillers.iter() {
            needs.push(joined([Some(filler.designation.to_string()), quantity(filler.diameter.as_ref(), units)]));
        }
        for run in setup::setups(view) {
            needs.extend(setup::gas_name(run).map(|gas| format!("shielding gas: {gas}")));
        }
    }
    if let Some(loss) = quantity(lesson.practice_loss.as_ref(), units) {
        needs.push(format!("{loss} of coupons, filler and gas on top, for practice"));
    }
    needs.dedup();
    if !needs.is_empty() {
        blocks.push(Block::List { numbered: false, small: false, items: needs });
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

fn exercises(blocks: &mut Vec<Block>, lesson: &Lesson, units: UnitSystem) {
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
            field("Length of weld", quantity(exercise.length.as_ref(), units)),
            field("Time for one", quantity(exercise.time.as_ref(), units)),
            field("Position", exercise.position.as_deref()),
            field("Filler", exercise.with_filler.as_ref().map(|with| if with.0 { "with" } else { "without" })),
            field(
                "Settings that differ",
                settings.and_then(|s| {
                    joined_option([
                        quantity(s.current.as_ref(), units),
                        quantity(s.voltage.as_ref(), units),
                        quantity(s.travel_speed.as_ref(), units),
                        quantity(s.wire_feed_speed.as_ref(), units).map(|feed| format!("wire feed {feed}")),
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
        columns: vec![
            column("Fault", Align::Left, 1.0),
            column("Cause", Align::Left, 1.8),
            column("Remedy", Align::Left, 1.8),
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

/// The marking sheet of one learner: room for a measured value and a mark, and for those of a second attempt.
fn marking(blocks: &mut Vec<Block>, assessment: &Assessment) {
    let retest = assessment.retest.as_ref().is_some_and(|retest| retest.0);
    section(
        blocks,
        "Marking sheet",
        None,
        vec![
            field("Learner", Some("\u{a0}")),
            field("Welded for it", assessment.weld.as_deref()),
            field("Acceptance", assessment.acceptance.as_deref()),
        ],
    );
    let mut columns = vec![
        column("Measured", Align::Left, 1.2),
        column("Accepted", Align::Left, 1.4),
        column("With", Align::Left, 1.0),
        column("Value", Align::Left, 0.8),
        column("Passed", Align::Left, 0.7),
    ];
    if retest {
        columns.push(column("Retest value", Align::Left, 0.9));
        columns.push(column("Retest passed", Align::Left, 0.9));
    }
    let room = columns.len() - 3;
    let rows = assessment
        .measures
        .iter()
        .map(|measure| {
            let mut cells = vec![
                Cell::bold(measure.what.to_string()),
                Cell::text(measure.accepted.as_deref().unwrap_or_default()),
                // The second line leaves height for a pen.
                Cell { note: Some("\u{a0}".into()), ..Cell::text(measure.with.as_deref().unwrap_or_default()) },
            ];
            cells.extend(std::iter::repeat_n(Cell::text(""), room));
            Row { cells, marked: false }
        })
        .collect();
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
}
