//! The bench card: what the welder sets, on one page that is read at arm's length and legible at two metres.

mod make_up;
mod settings;

use seamwright_model::capital::capital;
use seamwright_model::document::Document;
use seamwright_model::procedure::{Procedure, WeldType, keys};
use seamwright_model::quantity::HeatInput;
use seamwright_model::stated::{NONE, NOT_APPLICABLE, OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Field, Figure, NoticeItem, NoticeKind, Row, Sheet, Table, Way};
use seamwright_page::words::{Language, label};
use seamwright_weld::{View, heat, machines};

use self::make_up::make_up;
use self::settings::{is_long, settings};
use super::conditions;
use super::words::{
    gas_named, joined_option, labels, large, plain, positions_in_words, preparation as preparation_in_words,
    process_name,
};
use super::{
    DEFERS, Lettering, Subject, cautions, footer, joined, joint, masthead, part, print, quantity, setup, source,
    standing,
};

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::Procedure(procedure) = &subject.loaded.document else { return None };
    Some(Ok(sheet(subject, &View::new(procedure), options)))
}

/// Builds the sheet.
fn sheet(subject: Subject<'_>, view: &View<'_>, options: SheetOptions) -> Sheet {
    let procedure = view.procedure;
    let lettering = Lettering::bench(subject, options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut blocks = Vec::new();
    let long = is_long(view, options);
    blocks.extend(not_ready(subject, options));
    settings(&mut blocks, view, options);
    conditions::conditions(&mut blocks, view, options);
    joint_fields(&mut blocks, view, options);
    around_the_arc(&mut blocks, view, options);

    let setups = setup::setups(view);
    let several = setups.len() > 1;
    let mut pictures = joint::figures(view, lettering);
    if setups.len() > 2 {
        // Room for what differs between processes; the joint alone is on the procedure sheet.
        pictures.truncate(2);
    }
    make_up(&mut blocks, &setups, subject.shop, &machines, lettering);
    let mut of_torch = Vec::new();
    for run in &setups {
        let mut of_run = setup::torch(view, run, lettering);
        of_run.extend(setup::tungsten(run, lettering));
        for figure in &mut of_run {
            if several {
                figure.title = format!("{}, {}", figure.title, process_name(run.number(), options.terms));
            }
        }
        of_torch.extend(of_run);
    }
    let positions = setup::positions(view, lettering);
    pictures.extend(positions.iter().take(2).cloned());
    let without_clauses = |figures: Vec<Figure>| -> Vec<Figure> {
        figures.into_iter().map(|figure| Figure { clause: None, ..figure }).collect()
    };
    let drawn =
        |drawings: Vec<Figure>| if drawings.is_empty() { Vec::new() } else { vec![Block::Drawings { drawings }] };
    let stop = vec![Block::Notice {
        kind: NoticeKind::Stop,
        title: Some(options.say(label::STOP_AND_ASK).into_owned()),
        items: limits(procedure, view, options),
    }];
    // Of one joint the position still has room beside it.
    let mut beside = joint::alone(view, lettering);
    if beside.len() == 1 {
        beside.extend(positions.into_iter().next());
    }
    let instead = match drawn(without_clauses(beside)) {
        joints if joints.is_empty() => stop.clone(),
        joints => vec![Block::Columns { left: stop.clone(), right: joints, share: 0.5 }],
    };
    let mut row = drawn(without_clauses(pictures));
    if !of_torch.is_empty() {
        let of_torch = drawn(without_clauses(of_torch));
        row.push(Block::GivesWay { way: Way::Drawings, blocks: of_torch, instead: Vec::new() });
    }
    row.extend(stop);
    blocks.push(Block::GivesWay { way: Way::Beside, blocks: row, instead });
    let safety = |items| vec![Block::Notice { kind: NoticeKind::Safety, title: None, items }];
    blocks.push(Block::GivesWay {
        way: Way::Cautions,
        blocks: safety(cautions::items(view, options)),
        instead: safety(cautions::in_short(view, options)),
    });
    blocks.push(Block::Paragraph { text: options.say(DEFERS).into_owned(), small: true });
    Sheet {
        masthead: masthead(subject, label::BENCH_CARD, Vec::new(), options),
        blocks,
        footer: footer(subject, options),
        one_page: !long,
        large: false,
        planned: long.then_some(2),
        annex: Vec::new(),
        source: source(subject),
    }
}

/// That nobody welds by it yet, where the draft still has something to decide.
fn not_ready(subject: Subject<'_>, options: SheetOptions) -> Option<Block> {
    let mut open: Vec<String> = Vec::new();
    for one in standing::to_decide(&subject.loaded.source.text).into_iter().map(|open| open.short(options)) {
        if !open.contains(&one) {
            open.push(one);
        }
    }
    let item = NoticeItem { lead: Some(options.say(label::NOT_READY).into()), text: format!("{}.", open.join(", ")) };
    (!open.is_empty()).then(|| Block::Notice { kind: NoticeKind::Stop, title: None, items: vec![item] })
}

fn joint_fields(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let term = |key: &'static str| options.term(key);
    let low = |key: &'static str| options.low(key);
    let procedure = view.procedure;
    let metals: Vec<String> = view
        .metals
        .iter()
        .map(|metal| {
            let stated = metal.stated;
            let across = quantity(stated.outside_diameter.as_ref(), options).map(|it| {
                if metal.is_round_bar() {
                    options.fill(label::ACROSS_A_BAR, &[("size", &it)])
                } else {
                    format!("{it} {}", low("/parent_metals/*/outside_diameter"))
                }
            });
            joined([Some(stated.specification.to_string()), quantity(stated.thickness.as_ref(), options), across])
        })
        .collect();
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let weld = size.map(|size| {
        joined([
            quantity(size.leg.as_ref(), options).map(|leg| format!("{} {leg}", low("/weld_size/leg"))),
            quantity(size.second_leg.as_ref(), options).map(|leg| options.fill(label::BY_LEG, &[("leg", &leg)])),
            quantity(size.throat.as_ref(), options).map(|throat| format!("{} {throat}", low("/weld_size/throat"))),
            quantity(size.reinforcement.as_ref(), options)
                .map(|cap| format!("{} {cap}", low("/weld_size/reinforcement"))),
            quantity(size.length.as_ref(), options).map(|length| format!("{} {length}", low("/weld_size/length"))),
        ])
    });
    let joint = procedure.joint.as_ref();
    let preparation = joint.and_then(|joint| {
        joined_option([
            preparation_in_words(joint.preparation.as_ref(), options),
            quantity(joint.included_angle.as_ref(), options),
            quantity(joint.root_gap.as_ref(), options).map(|gap| format!("{} {gap}", low("/joint/root_gap"))),
            quantity(joint.root_face.as_ref(), options).map(|face| format!("{} {face}", low("/joint/root_face"))),
        ])
    });
    let positions = positions_in_words(view, options);
    let fields = [
        large(&options.say(label::LENS_SHADE), cautions::shades_in_words(view, options)),
        large(&term("/parent_metals"), (!metals.is_empty()).then(|| metals.join("; "))),
        large(
            &term("/joint"),
            joint.map(|joint| {
                let weld = view.weld().map(|weld| match weld {
                    WeldType::Edge if options.language != Language::En => options.word("edge weld").into_owned(),
                    other => options.word(&plain(other.as_str())).into_owned(),
                });
                joined([Some(options.word(joint.kind.as_str()).into_owned()), weld])
            }),
        ),
        large(&term("/weld_size"), weld),
        large(&term("/positions"), positions),
        large(&term("/joint/preparation"), preparation.filter(|_| view.weld().is_some_and(|weld| weld.has_groove()))),
        large(&term("/temperatures/preheating"), conditions::preheating(procedure, options)),
        large(&term("/temperatures/interpass"), conditions::interpass(procedure, options)),
        large(
            &term("/backing_gas"),
            procedure.backing_gas.as_ref().and_then(OrNone::value).and_then(|gas| {
                joined_option([
                    gas_named(gas.designation.as_deref(), gas.composition.as_ref(), options),
                    quantity(gas.flow.as_ref(), options),
                    quantity(gas.purge_time.as_ref(), options)
                        .map(|time| format!("{} {time}", low("/backing_gas/purge_time"))),
                    quantity(gas.oxygen.as_ref(), options)
                        .map(|oxygen| format!("{} {oxygen}", low("/backing_gas/oxygen"))),
                ])
            }),
        ),
    ];
    let fields: Vec<Field> = fields.into_iter().flatten().collect();
    if !fields.is_empty() {
        blocks.push(Block::Fields { fields });
    }
}

/// What is done before the arc, between runs and after, in three columns.
fn around_the_arc(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, .. } = options;
    let procedure = view.procedure;
    let term = |key: &'static str| options.term(key);
    let mut before: Vec<String> = Vec::new();
    let mut between: Vec<String> = Vec::new();
    let mut after: Vec<String> = Vec::new();
    let add = |list: &mut Vec<String>, lead: &str, text: Option<String>| {
        if let Some(text) = text.filter(|text| {
            !text.is_empty() && ![NONE, NOT_APPLICABLE].iter().any(|none| text == none || *text == options.word(none))
        }) {
            let line = format!("{lead}: {text}");
            if !list.contains(&line) {
                list.push(line);
            }
        }
    };
    if let Some(joint) = &procedure.joint {
        add(&mut before, &term("/joint/cleaning"), joint.cleaning.as_deref().map(Into::into));
        let gap = quantity(joint.root_gap.as_ref(), options);
        let face = quantity(joint.root_face.as_ref(), options);
        add(
            &mut before,
            &options.say(label::FIT_UP),
            joined_option([
                gap.map(|gap| format!("{} {gap}", options.low("/joint/root_gap"))),
                face.map(|face| format!("{} {face}", options.low("/joint/root_face"))),
                joint.jigging.as_deref().map(Into::into),
            ]),
        );
        add(&mut before, &term("/joint/tack_welds"), joint.tack_welds.as_deref().map(Into::into));
        add(&mut between, &term("/joint/back_gouging"), joint.back_gouging.as_deref().map(Into::into));
    }
    let mut used: Vec<&str> = Vec::new();
    // The most that the stated values of any run come to.
    let mut most: Option<f64> = None;
    for run in &view.runs {
        if let Some((at, filler)) = run.filler(procedure)
            && !used.contains(&at.value)
        {
            used.push(at.value);
            let name = filler.designation.to_string();
            add(&mut before, &options.fill(label::DRY, &[("name", &name)]), filler.drying.as_deref().map(Into::into));
            add(&mut before, &options.fill(label::HOLD, &[("name", &name)]), filler.holding.as_deref().map(Into::into));
        }
        let cleaned = run.setting(&keys::INTERPASS_CLEANING);
        add(&mut between, &options.say(label::CLEAN), cleaned.map(|at| at.value.to_owned()));
        let stated = run.value(&keys::HEAT_INPUT).map(|at| print(at.value, options));
        let computed = heat::of(run).map(|heat| heat.heat_input.high);
        match (stated, computed) {
            (Some(stated), _) => add(&mut between, &term(keys::HEAT_INPUT.of_process), Some(stated)),
            (None, Some(high)) => most = Some(most.map_or(high, |most| most.max(high))),
            (None, None) => {}
        }
        let flow = run.gas().and_then(|at| quantity(at.value.post_flow.as_ref(), options));
        add(&mut after, &options.say(label::HOLD_FOR_THE_GAS), flow);
    }
    let most = most.and_then(HeatInput::from_kj_per_mm).map(|most| HeatInput::print_range(most, most, units));
    add(
        &mut between,
        &term(keys::HEAT_INPUT.of_process),
        most.map(|most| options.fill(label::AT_MOST, &[("value", &most)])),
    );
    if let Some(heat) = &procedure.temperatures {
        let measured = heat.measurement.as_deref().map(Into::into);
        add(
            &mut before,
            &term("/temperatures/preheating"),
            joined_option([conditions::preheating(procedure, options), measured]),
        );
        add(&mut between, &term("/temperatures/interpass"), conditions::interpass(procedure, options));
        add(
            &mut between,
            &term("/temperatures/preheat_maintenance"),
            quantity(heat.preheat_maintenance.as_ref(), options),
        );
        let soak = part(heat.post_heating.as_ref(), |own| {
            joined([quantity(own.temperature.as_ref(), options), quantity(own.time.as_ref(), options)])
        });
        add(&mut after, &term("/temperatures/post_heating"), soak);
        let treatment = conditions::of_each(procedure, |heat| {
            part(heat.post_weld_heat_treatment.as_ref(), |own| {
                joined([
                    quantity(own.temperature.as_ref(), options),
                    quantity(own.time.as_ref(), options),
                    own.time_by_thickness.as_deref().map(Into::into),
                ])
            })
        });
        add(&mut after, &term("/temperatures/post_weld_heat_treatment"), treatment);
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        let purge = quantity(gas.purge_time.as_ref(), options);
        add(&mut before, &term("/backing_gas/purge_time"), purge);
        add(&mut after, &term("/backing_gas/maintained_until"), gas.maintained_until.as_deref().map(Into::into));
    }
    for entry in &procedure.inspection {
        let name = capital(&options.word(&plain(&entry.method)));
        let asked = joined([entry.extent.as_deref().map(Into::into), entry.acceptance.as_deref().map(Into::into)]);
        add(&mut after, &name, Some(asked));
    }
    let all = [(label::BEFORE_THE_ARC, before), (label::BETWEEN_RUNS, between), (label::AFTER_THE_ARC, after)];
    let filled: Vec<_> = all.into_iter().filter(|(_, lines)| !lines.is_empty()).collect();
    if filled.is_empty() {
        return;
    }
    blocks.push(Block::Table(Table {
        caption: None,
        columns: filled.iter().map(|(heading, _)| Column::words(options.say(*heading), 1.0)).collect(),
        rows: vec![Row {
            cells: filled.iter().map(|(_, lines)| Cell::text(lines.join("\n"))).collect(),
            marked: false,
        }],
    }));
}

/// What must not be passed: the document's own limits, and what can be seen to have gone wrong.
fn limits(procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Vec<NoticeItem> {
    let term = |key: &'static str| options.term(key);
    let mut items: Vec<NoticeItem> = Vec::new();
    let mut add = |lead: &str, text: Option<String>| {
        if let Some(text) = text {
            items.push(NoticeItem { lead: Some(lead.into()), text });
        }
    };
    add(&term("/temperatures/preheating"), conditions::preheating(procedure, options));
    add(&term("/temperatures/interpass"), conditions::interpass(procedure, options));
    if let Some(joint) = &procedure.joint {
        add(&term("/joint/root_gap"), quantity(joint.root_gap.as_ref(), options));
    }
    if let Some(size) = procedure.weld_size.as_ref().and_then(Stated::value) {
        add(&term("/weld_size/leg"), quantity(size.leg.as_ref(), options));
        add(&term("/weld_size/throat"), quantity(size.throat.as_ref(), options));
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        add(&labels(&["/backing_gas", "/backing_gas/oxygen"], options), quantity(gas.oxygen.as_ref(), options));
    }
    let mut seen: Vec<String> = Vec::new();
    for run in &view.runs {
        let width = run.value(&keys::MAXIMUM_BEAD_WIDTH);
        let heat = run.value(&keys::HEAT_INPUT);
        for (lead, text) in [
            (term(keys::MAXIMUM_BEAD_WIDTH.of_process), width.map(|at| print(at.value, options))),
            (term(keys::HEAT_INPUT.of_process), heat.map(|at| print(at.value, options))),
        ] {
            if let Some(text) = text.filter(|text| !seen.contains(&format!("{lead}{text}"))) {
                seen.push(format!("{lead}{text}"));
                add(&lead, Some(text));
            }
        }
    }
    let tungsten = view.runs.iter().any(|run| run.process.is_some_and(|row| row.uses_tungsten));
    let faults = [
        Some(label::STOP_OUTSIDE),
        Some(label::STOP_CRACK),
        tungsten.then_some(label::STOP_TUNGSTEN),
        Some(label::STOP_CHANGED),
    ];
    let said = |text| NoticeItem { lead: None, text: options.say(text).into_owned() };
    items.extend(faults.into_iter().flatten().map(said));
    items
}
