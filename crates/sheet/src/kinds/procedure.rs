//! The procedure sheet: every stated variable in the order of ISO 15609-1, for the shop's file and the customer.

mod records;
mod runs;
mod settings;

use seamwright_check::View;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::{CodeName, HeatTreatment, Procedure, Soak};
use seamwright_model::stated::{OrNone, Stated};

use self::records::{checked, deviations, people, qualified, stamp};
use self::runs::runs;
use self::settings::{own_settings, process};
use super::words::{code_title, composition, field, joined_option, labels, section};
use super::{
    DEFERS, Lettering, SheetOptions, Subject, cautions, ferrite, footer, joined, joint, masthead, part, quantity,
    setup, source, word,
};
use crate::block::{Block, Cell, Column, Figure, NoticeKind, Row, Sheet, Table};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Sheet {
    let units = options.units;
    let outcome = subject.outcome;
    let identification = &procedure.identification;
    let mut blocks = Vec::new();

    parent_metals(&mut blocks, procedure, view, options);
    let lettering = Lettering::desk(options);
    let figures = joint::figures(view, lettering);
    if !figures.is_empty() {
        blocks.push(Block::Drawings { drawings: figures });
    }
    let mut places: Vec<Figure> = setup::welding_symbol(view, options.terms, units).into_iter().collect();
    places.extend(setup::positions(view));
    let setups = setup::setups(view);
    for run in &setups {
        let mut drawn = setup::torch(view, run, lettering);
        drawn.extend(setup::tungsten(run, lettering));
        for figure in &mut drawn {
            if setups.len() > 1 {
                figure.title = format!("{}, {}", figure.title, run.number());
            }
        }
        places.extend(drawn);
    }
    if !places.is_empty() {
        blocks.push(Block::Drawings { drawings: places });
    }
    joint_fields(&mut blocks, procedure, options);
    runs(&mut blocks, view, options);
    fillers(&mut blocks, procedure, options);
    blocks.extend(ferrite::block(view));
    for (name, settings) in procedure.processes.iter() {
        process(&mut blocks, name, settings, options);
    }
    own_settings(&mut blocks, view, options);
    backing_gas(&mut blocks, procedure, options);
    temperatures(&mut blocks, procedure, options);
    qualified(&mut blocks, outcome, options.terms);
    inspection(&mut blocks, procedure, options.terms);
    people(&mut blocks, procedure, options.terms);
    deviations(&mut blocks, outcome);
    blocks.push(Block::heading("Cautions", None));
    blocks.push(Block::Notice { kind: NoticeKind::Caution, title: None, items: cautions::items(view) });
    checked(&mut blocks, outcome);
    blocks.push(Block::Signatures {
        boxes: vec![
            ("Prepared by".into(), identification.prepared_by.as_deref().unwrap_or_default().into()),
            ("Approved by".into(), identification.approved_by.as_deref().unwrap_or_default().into()),
            ("Inspector".into(), String::new()),
        ],
    });
    blocks.push(Block::Paragraph { text: DEFERS.into(), small: true });

    let mut facts = Vec::new();
    if let Some(status) = identification.status {
        facts.push(("Status".into(), status.to_string()));
    }
    if let Some(code) = procedure.qualification.as_ref().and_then(|q| q.code).filter(|code| *code != CodeName::None) {
        facts.push(("Code".into(), code_title(code).into()));
    }
    let mut masthead = masthead(subject, "welding procedure specification", facts);
    masthead.stamp = stamp(procedure.qualification.as_ref(), outcome);
    Sheet { masthead, blocks, footer: footer(subject), one_page: false, source: source(subject) }
}

fn parent_metals(blocks: &mut Vec<Block>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    if procedure.parent_metals.is_empty() {
        return;
    }
    blocks.push(Block::heading(
        label("/parent_metals"),
        Some(&format!("ISO 15609-1, {}", variables::clauses(["/parent_metals"]))),
    ));
    let both = procedure.parent_metals.len() == 1;
    for metal in &view.metals {
        let stated = metal.stated;
        let name = if both { format!("{0} to {0}", stated.specification) } else { stated.specification.to_string() };
        let group =
            stated.group.as_deref().map(str::to_owned).or_else(|| metal.known.and_then(|row| row.iso_group.clone()));
        let p_number =
            stated.p_number.as_deref().map(str::to_owned).or_else(|| metal.known.and_then(|row| row.p_no.clone()));
        let groups =
            joined([group.map(|group| format!("group {group}")), p_number.map(|number| format!("P-No. {number}"))]);
        let fields = vec![
            field(label("/parent_metals/*/specification"), Some(name)),
            field(
                &labels(&["/parent_metals/*/group", "/parent_metals/*/p_number"], terms),
                (!groups.is_empty()).then_some(groups),
            ),
            field(label("/parent_metals/*/thickness"), quantity(stated.thickness.as_ref(), units)),
            field(label("/parent_metals/*/outside_diameter"), quantity(stated.outside_diameter.as_ref(), units)),
            field(label("/parent_metals/*/form"), stated.form.as_deref()),
            field(label("/parent_metals/*/heat"), stated.heat.as_deref()),
            field(label("/parent_metals/*/coating"), stated.coating.as_deref()),
            field(label("/parent_metals/*/composition"), stated.composition.as_ref().map(composition)),
        ];
        blocks.push(Block::Fields { fields: fields.into_iter().flatten().collect() });
    }
}

fn joint_fields(blocks: &mut Vec<Block>, procedure: &Procedure, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let Some(joint) = &procedure.joint else { return };
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let kind = match joint.weld {
        Some(weld) => format!("{}, {weld}", joint.kind),
        None => joint.kind.to_string(),
    };
    section(
        blocks,
        label("/joint"),
        Some(&variables::clauses(["/joint", "/weld_size", "/positions", "/progression"])),
        vec![
            field(&labels(&["/joint/type", "/joint/weld"], terms), Some(kind)),
            field(
                label("/joint/penetration"),
                joined_option([word(joint.penetration.as_ref()), quantity(joint.penetration_depth.as_ref(), units)]),
            ),
            field(label("/joint/preparation"), word(joint.preparation.as_ref())),
            field(label("/joint/included_angle"), quantity(joint.included_angle.as_ref(), units)),
            field(label("/joint/root_gap"), quantity(joint.root_gap.as_ref(), units)),
            field(label("/joint/root_face"), quantity(joint.root_face.as_ref(), units)),
            field(label("/joint/root_radius"), quantity(joint.root_radius.as_ref(), units)),
            field(
                label("/weld_size/leg"),
                size.and_then(|s| {
                    joined_option([quantity(s.leg.as_ref(), units), quantity(s.second_leg.as_ref(), units)])
                }),
            ),
            field(label("/weld_size/throat"), size.and_then(|s| quantity(s.throat.as_ref(), units))),
            field(label("/weld_size/reinforcement"), size.and_then(|s| quantity(s.reinforcement.as_ref(), units))),
            field(label("/weld_size/length"), size.and_then(|s| quantity(s.length.as_ref(), units))),
            field(
                label("/positions"),
                joined_option([
                    (!procedure.positions.is_empty())
                        .then(|| procedure.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")),
                    word(procedure.progression.as_ref()),
                ]),
            ),
            field(label("/joint/welded_from"), word(joint.welded_from.as_ref())),
            field(
                label("/joint/backing"),
                part(joint.backing.as_ref(), |b| {
                    joined([
                        Some(b.kind.to_string()),
                        b.material.as_deref().map(Into::into),
                        b.size.as_deref().map(Into::into),
                    ])
                }),
            ),
            field(label("/joint/back_gouging"), joint.back_gouging.as_deref()),
            field(label("/joint/preparation_method"), joint.preparation_method.as_deref()),
            field(label("/joint/cleaning"), joint.cleaning.as_deref()),
            field(label("/joint/jigging"), joint.jigging.as_deref()),
            field(label("/joint/tack_welds"), joint.tack_welds.as_deref()),
        ],
    );
}

fn fillers(blocks: &mut Vec<Block>, procedure: &Procedure, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    if procedure.fillers.is_empty() {
        return;
    }
    blocks.push(Block::heading(label("/fillers"), Some(&variables::clauses(["/fillers"]))));
    for (name, filler) in procedure.fillers.iter() {
        let fields = vec![
            field(
                name,
                Some(joined([Some(filler.designation.to_string()), quantity(filler.diameter.as_ref(), units)])),
            ),
            field(label("/fillers/*/drying"), filler.drying.as_deref()),
            field(label("/fillers/*/holding"), filler.holding.as_deref()),
            field(label("/fillers/*/make"), filler.make.as_deref()),
            field(label("/fillers/*/batch"), filler.batch.as_deref()),
            field(label("/fillers/*/composition"), filler.composition.as_ref().map(composition)),
        ];
        blocks.push(Block::Fields { fields: fields.into_iter().flatten().collect() });
    }
}

fn backing_gas(blocks: &mut Vec<Block>, procedure: &Procedure, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let Some(backing) = &procedure.backing_gas else { return };
    let fields = match backing {
        OrNone::Is(gas) => vec![
            field(
                label("/backing_gas"),
                joined_option([
                    gas.designation.as_deref().map(|name| format!("ISO 14175-{name}")),
                    gas.composition.as_ref().map(|parts| format!("{} %", composition(parts))),
                ]),
            ),
            field(label("/backing_gas/flow"), quantity(gas.flow.as_ref(), units)),
            field(label("/backing_gas/purge_time"), quantity(gas.purge_time.as_ref(), units)),
            field(label("/backing_gas/oxygen"), quantity(gas.oxygen.as_ref(), units)),
            field(label("/backing_gas/maintained_until"), gas.maintained_until.as_deref()),
        ],
        other => vec![field(label("/backing_gas"), part(Some(other), |_| String::new()))],
    };
    section(blocks, label("/backing_gas"), Some(&variables::clauses(["/backing_gas"])), fields);
}

fn temperatures(blocks: &mut Vec<Block>, procedure: &Procedure, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let Some(stated) = &procedure.temperatures else { return };
    let soak = |soak: &Soak| joined([quantity(soak.temperature.as_ref(), units), quantity(soak.time.as_ref(), units)]);
    let treatment = |treatment: &HeatTreatment| {
        joined([
            quantity(treatment.temperature.as_ref(), units),
            quantity(treatment.time.as_ref(), units),
            quantity(treatment.heating_rate.as_ref(), units).map(|rate| format!("heating {rate}")),
            quantity(treatment.cooling_rate.as_ref(), units).map(|rate| format!("cooling {rate}")),
            treatment.method.as_deref().map(Into::into),
        ])
    };
    section(
        blocks,
        label("/temperatures"),
        Some(&variables::clauses(["/temperatures"])),
        vec![
            field(label("/temperatures/preheating"), quantity(stated.preheating.as_ref(), units)),
            field(label("/temperatures/interpass"), quantity(stated.interpass.as_ref(), units)),
            field(label("/temperatures/preheat_maintenance"), quantity(stated.preheat_maintenance.as_ref(), units)),
            field(label("/temperatures/post_heating"), part(stated.post_heating.as_ref(), soak)),
            field(
                label("/temperatures/post_weld_heat_treatment"),
                part(stated.post_weld_heat_treatment.as_ref(), treatment),
            ),
            field(label("/temperatures/measurement"), stated.measurement.as_deref()),
        ],
    );
}

fn inspection(blocks: &mut Vec<Block>, procedure: &Procedure, terms: Terms) {
    let label = |key: &'static str| variables::term(key, terms);
    if procedure.inspection.is_empty() {
        return;
    }
    blocks.push(Block::heading(label("/inspection"), None));
    let text = |value: Option<&str>| Cell::text(value.unwrap_or_default());
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            Column::words(label("/inspection/*/method"), 1.2),
            Column::words(label("/inspection/*/extent"), 0.6),
            Column::words(label("/inspection/*/acceptance"), 2.0),
        ],
        rows: procedure
            .inspection
            .iter()
            .map(|entry| Row {
                cells: vec![
                    Cell::bold(entry.method.to_string()),
                    text(entry.extent.as_deref()),
                    text(entry.acceptance.as_deref()),
                ],
                marked: false,
            })
            .collect(),
    }));
}
