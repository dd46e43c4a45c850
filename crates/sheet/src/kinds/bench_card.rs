//! The bench card: what the welder sets, on one page that is read at arm's length and legible at two metres.

mod make_up;
mod settings;

use seamwright_check::shops::machines;
use seamwright_check::{View, heat};
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::HeatInput;
use seamwright_model::stated::{NONE, NOT_APPLICABLE, OrNone, Stated};

use self::make_up::make_up;
use self::settings::settings;
use super::words::{
    field, gas_named, joined_option, labels, low, plain, positions_in_words, preparation as preparation_in_words,
    process_name,
};
use super::{
    DEFERS, Lettering, SheetOptions, Subject, cautions, footer, joined, joint, masthead, part, quantity, setup, source,
};
use crate::block::{Block, Cell, Column, Field, Figure, NoticeItem, NoticeKind, Row, Sheet, Table, Way};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, view: &View<'_>, options: SheetOptions) -> Sheet {
    let procedure = view.procedure;
    let lettering = Lettering::bench(options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut blocks = Vec::new();
    settings(&mut blocks, view, options);
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
    pictures.extend(setup::positions(view, lettering).into_iter().take(2));
    let plain = |figures: Vec<Figure>| -> Vec<Figure> {
        figures.into_iter().map(|figure| Figure { clause: None, ..figure }).collect()
    };
    if !pictures.is_empty() {
        blocks.push(Block::Drawings { drawings: plain(pictures) });
    }
    if !of_torch.is_empty() {
        let drawings = vec![Block::Drawings { drawings: plain(of_torch) }];
        blocks.push(Block::GivesWay { way: Way::Drawings, blocks: drawings, instead: Vec::new() });
    }
    let limits = limits(procedure, view, options);
    blocks.push(Block::Notice { kind: NoticeKind::Stop, title: Some("Stop and ask".into()), items: limits });
    let safety = |items| vec![Block::Notice { kind: NoticeKind::Safety, title: None, items }];
    blocks.push(Block::GivesWay {
        way: Way::Cautions,
        blocks: safety(cautions::items(view, options)),
        instead: safety(cautions::in_short(view, options)),
    });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });
    Sheet {
        masthead: masthead(subject, "bench card", Vec::new()),
        blocks,
        footer: footer(subject),
        one_page: true,
        planned: None,
        annex: Vec::new(),
        source: source(subject),
    }
}

fn large(label: &str, value: Option<String>) -> Option<Field> {
    let mut field = field(label, value)?;
    field.span = if field.value.chars().count() > 34 { 2 } else { 1 };
    field.large = true;
    Some(field)
}

fn joint_fields(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let low = |key: &'static str| low(key, terms);
    let procedure = view.procedure;
    let metals: Vec<String> = view
        .metals
        .iter()
        .map(|metal| {
            let stated = metal.stated;
            let bore = quantity(stated.outside_diameter.as_ref(), units)
                .map(|it| format!("{it} {}", low("/parent_metals/*/outside_diameter")));
            joined([Some(stated.specification.to_string()), quantity(stated.thickness.as_ref(), units), bore])
        })
        .collect();
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let weld = size.map(|size| {
        joined([
            quantity(size.leg.as_ref(), units).map(|leg| format!("{} {leg}", low("/weld_size/leg"))),
            quantity(size.second_leg.as_ref(), units).map(|leg| format!("by {leg}")),
            quantity(size.throat.as_ref(), units).map(|throat| format!("{} {throat}", low("/weld_size/throat"))),
            quantity(size.reinforcement.as_ref(), units)
                .map(|cap| format!("{} {cap}", low("/weld_size/reinforcement"))),
            quantity(size.length.as_ref(), units).map(|length| format!("{} {length}", low("/weld_size/length"))),
        ])
    });
    let joint = procedure.joint.as_ref();
    let preparation = joint.and_then(|joint| {
        joined_option([
            preparation_in_words(joint.preparation.as_ref(), terms),
            quantity(joint.included_angle.as_ref(), units),
            quantity(joint.root_gap.as_ref(), units).map(|gap| format!("{} {gap}", low("/joint/root_gap"))),
            quantity(joint.root_face.as_ref(), units).map(|face| format!("{} {face}", low("/joint/root_face"))),
        ])
    });
    let positions = positions_in_words(view, terms);
    let temperatures = procedure.temperatures.as_ref();
    let fields = [
        large("Lens shade", cautions::shades_in_words(view, terms)),
        large(label("/parent_metals"), (!metals.is_empty()).then(|| metals.join("; "))),
        large(
            label("/joint"),
            joint.map(|joint| joined([Some(joint.kind.to_string()), view.weld().map(|weld| weld.to_string())])),
        ),
        large(label("/weld_size"), weld),
        large(label("/positions"), positions),
        large(label("/joint/preparation"), preparation.filter(|_| view.weld().is_some_and(|weld| weld.has_groove()))),
        large(label("/temperatures/preheating"), temperatures.and_then(|t| quantity(t.preheating.as_ref(), units))),
        large(label("/temperatures/interpass"), temperatures.and_then(|t| quantity(t.interpass.as_ref(), units))),
        large(
            label("/backing_gas"),
            procedure.backing_gas.as_ref().and_then(OrNone::value).and_then(|gas| {
                joined_option([
                    gas_named(gas.designation.as_deref(), gas.composition.as_ref()),
                    quantity(gas.flow.as_ref(), units),
                    quantity(gas.purge_time.as_ref(), units)
                        .map(|time| format!("{} {time}", low("/backing_gas/purge_time"))),
                    quantity(gas.oxygen.as_ref(), units)
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
    let SheetOptions { units, terms, .. } = options;
    let procedure = view.procedure;
    let label = |key: &'static str| variables::term(key, terms);
    let mut before: Vec<String> = Vec::new();
    let mut between: Vec<String> = Vec::new();
    let mut after: Vec<String> = Vec::new();
    let add = |list: &mut Vec<String>, lead: &str, text: Option<String>| {
        if let Some(text) = text.filter(|text| !text.is_empty() && text != NONE && text != NOT_APPLICABLE) {
            let line = format!("{lead}: {text}");
            if !list.contains(&line) {
                list.push(line);
            }
        }
    };
    if let Some(joint) = &procedure.joint {
        add(&mut before, label("/joint/cleaning"), joint.cleaning.as_deref().map(Into::into));
        let gap = quantity(joint.root_gap.as_ref(), units);
        let face = quantity(joint.root_face.as_ref(), units);
        add(
            &mut before,
            "Fit-up",
            joined_option([
                gap.map(|gap| format!("{} {gap}", low("/joint/root_gap", terms))),
                face.map(|face| format!("{} {face}", low("/joint/root_face", terms))),
                joint.jigging.as_deref().map(Into::into),
            ]),
        );
        add(&mut before, label("/joint/tack_welds"), joint.tack_welds.as_deref().map(Into::into));
        add(&mut between, label("/joint/back_gouging"), joint.back_gouging.as_deref().map(Into::into));
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
            add(&mut before, &format!("Dry {name}"), filler.drying.as_deref().map(Into::into));
            add(&mut before, &format!("Hold {name}"), filler.holding.as_deref().map(Into::into));
        }
        let cleaned = run.setting("technique", |s| s.technique.as_ref()?.interpass_cleaning.as_deref());
        add(&mut between, "Clean", cleaned.map(|at| at.value.to_owned()));
        let stated = run.quantity("heat_input", |s| s.heat_input.as_ref()).map(|at| at.value.print(units));
        let computed = heat::of(run).map(|heat| heat.heat_input.high);
        match (stated, computed) {
            (Some(stated), _) => add(&mut between, label("/processes/*/heat_input"), Some(stated)),
            (None, Some(high)) => most = Some(most.map_or(high, |most| most.max(high))),
            (None, None) => {}
        }
        let flow = run.gas().and_then(|at| quantity(at.value.post_flow.as_ref(), units));
        add(&mut after, "Hold the torch on the crater for the gas", flow);
    }
    let most = most.and_then(HeatInput::from_kj_per_mm).map(|most| HeatInput::print_range(most, most, units));
    add(&mut between, label("/processes/*/heat_input"), most.map(|most| format!("{most} at most")));
    if let Some(heat) = &procedure.temperatures {
        let measured = heat.measurement.as_deref().map(Into::into);
        add(
            &mut before,
            label("/temperatures/preheating"),
            joined_option([quantity(heat.preheating.as_ref(), units), measured]),
        );
        add(&mut between, label("/temperatures/interpass"), quantity(heat.interpass.as_ref(), units));
        add(
            &mut between,
            label("/temperatures/preheat_maintenance"),
            quantity(heat.preheat_maintenance.as_ref(), units),
        );
        let soak = part(heat.post_heating.as_ref(), |own| {
            joined([quantity(own.temperature.as_ref(), units), quantity(own.time.as_ref(), units)])
        });
        add(&mut after, label("/temperatures/post_heating"), soak);
        let treatment = part(heat.post_weld_heat_treatment.as_ref(), |own| {
            joined([quantity(own.temperature.as_ref(), units), quantity(own.time.as_ref(), units)])
        });
        add(&mut after, label("/temperatures/post_weld_heat_treatment"), treatment);
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        let purge = quantity(gas.purge_time.as_ref(), units);
        add(&mut before, label("/backing_gas/purge_time"), purge);
        add(&mut after, label("/backing_gas/maintained_until"), gas.maintained_until.as_deref().map(Into::into));
    }
    for entry in &procedure.inspection {
        let name = super::cautions::capital(&plain(&entry.method));
        let asked = joined([entry.extent.as_deref().map(Into::into), entry.acceptance.as_deref().map(Into::into)]);
        add(&mut after, &name, Some(asked));
    }
    let all = [("Before the arc", before), ("Between runs", between), ("After", after)];
    let filled: Vec<_> = all.into_iter().filter(|(_, lines)| !lines.is_empty()).collect();
    if filled.is_empty() {
        return;
    }
    blocks.push(Block::Table(Table {
        caption: None,
        columns: filled
            .iter()
            .map(|(heading, _)| match *heading {
                "Between runs" if terms == Terms::Aws => Column::words("Between passes", 1.0),
                other => Column::words(other, 1.0),
            })
            .collect(),
        rows: vec![Row {
            cells: filled.iter().map(|(_, lines)| Cell::text(lines.join("\n"))).collect(),
            marked: false,
        }],
    }));
}

/// What must not be passed: the document's own limits, and what can be seen to have gone wrong.
fn limits(procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Vec<NoticeItem> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let mut items: Vec<NoticeItem> = Vec::new();
    let mut add = |lead: &str, text: Option<String>| {
        if let Some(text) = text {
            items.push(NoticeItem { lead: Some(lead.into()), text });
        }
    };
    if let Some(temperatures) = &procedure.temperatures {
        add(label("/temperatures/preheating"), quantity(temperatures.preheating.as_ref(), units));
        add(label("/temperatures/interpass"), quantity(temperatures.interpass.as_ref(), units));
    }
    if let Some(joint) = &procedure.joint {
        add(label("/joint/root_gap"), quantity(joint.root_gap.as_ref(), units));
    }
    if let Some(size) = procedure.weld_size.as_ref().and_then(Stated::value) {
        add(label("/weld_size/leg"), quantity(size.leg.as_ref(), units));
        add(label("/weld_size/throat"), quantity(size.throat.as_ref(), units));
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        add(&labels(&["/backing_gas", "/backing_gas/oxygen"], terms), quantity(gas.oxygen.as_ref(), units));
    }
    let mut seen: Vec<String> = Vec::new();
    for run in &view.runs {
        let width = run.quantity("technique", |s| s.technique.as_ref()?.maximum_bead_width.as_ref());
        let heat = run.quantity("heat_input", |s| s.heat_input.as_ref());
        for (lead, text) in [
            (label("/processes/*/technique/maximum_bead_width"), width.map(|at| at.value.print(units))),
            (label("/processes/*/heat_input"), heat.map(|at| at.value.print(units))),
        ] {
            if let Some(text) = text.filter(|text| !seen.contains(&format!("{lead}{text}"))) {
                seen.push(format!("{lead}{text}"));
                add(lead, Some(text));
            }
        }
    }
    let tungsten = view.runs.iter().any(|run| run.process.is_some_and(|row| row.uses_tungsten));
    let faults = [
        Some("a value outside its range on this card"),
        Some("a crack or porosity"),
        tungsten.then_some("tungsten touched the pool"),
        Some("a part of the set-up changed"),
    ];
    items.extend(faults.into_iter().flatten().map(|text| NoticeItem { lead: None, text: text.into() }));
    items
}
