//! The bench card: what the welder sets, on one page that is read at arm's length and legible at two metres.

mod make_up;
mod settings;

use seamwright_check::View;
use seamwright_check::shops::machines;
use seamwright_handbook::variables;
use seamwright_model::procedure::Procedure;
use seamwright_model::stated::{OrNone, Stated};

use self::make_up::make_up;
use self::settings::settings;
use super::words::{field, joined_option, labels, low};
use super::{
    DEFERS, Lettering, SheetOptions, Subject, cautions, footer, joined, joint, masthead, quantity, setup, source, word,
};
use crate::block::{Block, Field, NoticeItem, NoticeKind, Sheet};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, view: &View<'_>, options: SheetOptions) -> Sheet {
    let procedure = view.procedure;
    let lettering = Lettering::bench(options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut blocks = Vec::new();
    settings(&mut blocks, view, options);
    joint_fields(&mut blocks, view, options);

    let setups = setup::setups(view);
    let several = setups.len() > 1;
    let mut pictures = joint::figures(view, lettering);
    if setups.len() > 2 {
        // Room for what differs between processes; the joint alone is on the procedure sheet.
        pictures.truncate(2);
    }
    for run in &setups {
        make_up(&mut blocks, run, subject.shop, &machines, several, lettering);
    }
    for run in &setups {
        let mut of_run = setup::torch(view, run, lettering);
        of_run.extend(setup::tungsten(run, lettering));
        for figure in &mut of_run {
            if several {
                figure.title = format!("{}, {}", figure.title, run.number());
            }
        }
        pictures.extend(of_run);
    }
    for figure in &mut pictures {
        figure.clause = None;
    }
    if !pictures.is_empty() {
        blocks.push(Block::Drawings { drawings: pictures });
    }
    let limits = limits(procedure, view, options);
    blocks.push(Block::Notice { kind: NoticeKind::Stop, title: Some("Stop and ask".into()), items: limits });
    let mut warnings = cautions::items(view);
    warnings.push(NoticeItem { lead: None, text: DEFERS.into() });
    blocks.push(Block::Notice { kind: NoticeKind::Caution, title: None, items: warnings });
    Sheet {
        masthead: masthead(subject, "bench card", Vec::new()),
        blocks,
        footer: footer(subject),
        one_page: true,
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
    let SheetOptions { units, terms } = options;
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
            word(joint.preparation.as_ref()),
            quantity(joint.included_angle.as_ref(), units),
            quantity(joint.root_gap.as_ref(), units).map(|gap| format!("{} {gap}", low("/joint/root_gap"))),
            quantity(joint.root_face.as_ref(), units).map(|face| format!("{} {face}", low("/joint/root_face"))),
        ])
    });
    let positions = joined_option([
        (!procedure.positions.is_empty())
            .then(|| procedure.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")),
        word(procedure.progression.as_ref()),
    ]);
    let temperatures = procedure.temperatures.as_ref();
    let fields = [
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
                    gas.designation.as_deref().map(Into::into),
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

/// What must not be passed: the document's own limits, and what can be seen to have gone wrong.
fn limits(procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Vec<NoticeItem> {
    let SheetOptions { units, terms } = options;
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
