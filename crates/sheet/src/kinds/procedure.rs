//! The procedure sheet: every stated variable in the order of ISO 15609-1, for the shop's file and the customer.

use seamwright_check::{View, heat};
use seamwright_handbook::iso_15609_1;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{
    CodeName, HeatTreatment, Procedure, Qualification, Route, Settings, Soak, Technique,
};
use seamwright_model::quantity::{HeatInput, UnitSystem};
use seamwright_model::stated::{OrNone, Stated};

use super::words::{code_title, composition, field, gas, joined_option, section, setting, tungsten_words};
use super::{
    DEFERS, SheetOptions, Subject, cautions, ferrite, footer, joined, joint, masthead, part, quantity, setup, source,
    word,
};
use crate::block::{Align, Block, Cell, Column, Field, Figure, NoticeItem, NoticeKind, Row, Sheet, Table};

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Sheet {
    let units = options.units;
    let outcome = subject.outcome;
    let identification = &procedure.identification;
    let mut blocks = Vec::new();

    parent_metals(&mut blocks, procedure, view, options);
    let figures = joint::figures(view, units);
    if !figures.is_empty() {
        blocks.push(Block::Drawings { drawings: figures });
    }
    let mut places: Vec<Figure> = setup::welding_symbol(view, options.terms, units).into_iter().collect();
    places.extend(setup::positions(view));
    let setups = setup::setups(view);
    for run in &setups {
        let mut drawn = setup::torch(view, run, units);
        drawn.extend(setup::tungsten(run, units));
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
    masthead.stamp = stamp(procedure.qualification.as_ref());
    Sheet { masthead, blocks, footer: footer(subject), one_page: false, source: source(subject) }
}

/// What a procedure whose route needs a test record is stamped without one.
fn stamp(qualification: Option<&Qualification>) -> Option<String> {
    let qualification = qualification?;
    let needs_record = matches!(qualification.route, Route::TestRecord | Route::PreProductionTest);
    (needs_record && qualification.records.is_empty()).then(|| "NOT QUALIFIED: no test record named".to_owned())
}

/// Keys that the run table shows.
const RUN_KEYS: [&str; 6] = [
    "/runs/*/run",
    "/processes/*/polarity",
    "/processes/*/current",
    "/processes/*/voltage",
    "/processes/*/travel_speed",
    "/processes/*/heat_input",
];

/// Clauses of ISO 15609-1 that ask a process for its settings.
fn settings_clauses(process: &str) -> String {
    let asked = iso_15609_1::items_for(process).into_iter();
    let own = asked.filter(|item| item.keys.iter().any(|key| key.starts_with("settings.")));
    iso_15609_1::clauses_in_words(own.map(|item| item.clause.as_str()))
}

/// The terms for several values that share a field: `Pre-flow, post-flow`.
fn labels(keys: &[&'static str], terms: Terms) -> String {
    let mut text = String::new();
    for key in keys {
        let term = variables::term(key, terms);
        if text.is_empty() {
            text.push_str(term);
        } else {
            text.push_str(", ");
            text.push_str(&term.to_lowercase());
        }
    }
    text
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
            field("ISO/TR 15608, ASME IX", (!groups.is_empty()).then_some(groups)),
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

fn runs(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    if view.runs.is_empty() {
        return;
    }
    let column = |heading: &str, align, weight| Column { heading: heading.into(), unit: None, align, weight };
    let by_position = view.runs.iter().any(|run| !run.run.positions.is_empty());
    let wire = view.runs.iter().any(|run| run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).is_some());
    let mut columns = vec![
        column(label("/runs/*/run"), Align::Left, 0.6),
        column(label("/runs/*/layer"), Align::Left, 0.7),
        column(label("/runs/*/process"), Align::Left, 0.75),
    ];
    if by_position {
        columns.push(column(label("/runs/*/positions"), Align::Left, 0.8));
    }
    columns.extend([
        column(label("/processes/*/filler"), Align::Left, 1.2),
        column("Polarity", Align::Left, 0.8),
        column(label("/processes/*/current"), Align::Right, 1.1),
        column(label("/processes/*/voltage"), Align::Right, 0.9),
    ]);
    if wire {
        columns.push(column(label("/processes/*/wire_feed_speed"), Align::Right, 1.2));
    }
    columns.extend([
        column(label("/processes/*/travel_speed"), Align::Right, 1.3),
        column(label("/processes/*/heat_input"), Align::Right, 1.4),
    ]);
    let mut remarks: Vec<String> = Vec::new();
    let rows = view
        .runs
        .iter()
        .map(|run| {
            let filler = run.filler(view.procedure).map(|(_, filler)| filler);
            let heat = heat::of(run);
            if let Some(heat) = heat {
                let remark = format!("{} k = {}", run.number(), heat.k);
                if !remarks.contains(&remark) {
                    remarks.push(remark);
                }
            }
            let mut cells = vec![
                Cell::bold(run.run.run.to_string()),
                Cell::text(run.run.layer.map_or(String::new(), |layer| layer.to_string())),
                Cell::text(run.run.process.as_deref().or(run.block.map(|(name, _)| name)).unwrap_or_default()),
            ];
            if by_position {
                cells
                    .push(Cell::text(run.run.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")));
            }
            cells.extend([
                Cell {
                    note: filler.and_then(|filler| quantity(filler.diameter.as_ref(), units)),
                    ..Cell::bold(filler.map_or("none".to_owned(), |filler| filler.designation.to_string()))
                },
                Cell::text(
                    run.setting("polarity", |s| s.polarity.as_ref())
                        .map_or(String::new(), |at| word(Some(at.value)).unwrap_or_default()),
                ),
                Cell::bold(setting(run.quantity("current", |s| s.current.as_ref()).map(|at| at.value), units)),
                Cell::bold(setting(run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value), units)),
            ]);
            if wire {
                cells.push(Cell::bold(setting(
                    run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).map(|at| at.value),
                    units,
                )));
            }
            cells.extend([
                Cell::bold(setting(
                    run.quantity("travel_speed", |s| s.travel_speed.as_ref()).map(|at| at.value),
                    units,
                )),
                heat.map_or(Cell::text(""), |heat| Cell {
                    note: Some(format!("arc energy {}", kj(heat.arc_energy, units))),
                    ..Cell::bold(kj(heat.heat_input, units))
                }),
            ]);
            Row { cells, marked: false }
        })
        .collect();
    blocks.push(Block::heading(label("/runs"), Some(&variables::clauses(RUN_KEYS))));
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
    if !remarks.is_empty() {
        blocks.push(Block::Paragraph {
            text: format!(
                "Heat input by ISO/TR 17671-1 with thermal efficiency {}; arc energy without k is the heat input of ASME IX QW-409.1(a). Computed from the lowest and highest stated values.",
                remarks.join(", ")
            ),
            small: true,
        });
    }
}

/// A computed range of heat input in the chosen units.
fn kj(range: seamwright_handbook::Range, units: UnitSystem) -> String {
    match (HeatInput::from_kj_per_mm(range.low), HeatInput::from_kj_per_mm(range.high)) {
        (Some(low), Some(high)) => HeatInput::print_range(low, high, units),
        _ => String::new(),
    }
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

fn technique_fields(technique: &Technique, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    vec![
        field(
            label("/processes/*/technique/bead"),
            joined_option([
                word(technique.bead.as_ref()),
                quantity(technique.maximum_bead_width.as_ref(), units).map(|width| format!("to {width} wide")),
            ]),
        ),
        field(
            label("/processes/*/technique/direction"),
            joined_option([
                word(technique.direction.as_ref()),
                quantity(technique.travel_angle.as_ref(), units).map(|angle| format!("{angle} travel angle")),
            ]),
        ),
        field(label("/processes/*/technique/work_angle"), quantity(technique.work_angle.as_ref(), units)),
        field(label("/processes/*/technique/filler_angle"), quantity(technique.filler_angle.as_ref(), units)),
        field(label("/processes/*/technique/arc_length"), quantity(technique.arc_length.as_ref(), units)),
        field(
            label("/processes/*/technique/oscillation_width"),
            joined_option([
                quantity(technique.oscillation_width.as_ref(), units),
                quantity(technique.oscillation_frequency.as_ref(), units),
                quantity(technique.oscillation_dwell.as_ref(), units),
            ]),
        ),
        field(label("/processes/*/technique/interpass_cleaning"), technique.interpass_cleaning.as_deref()),
    ]
}

/// Everything that a block of settings states, but for what the run table shows when `in_table` holds.
fn settings_fields(settings: &Settings, options: SheetOptions, in_table: bool) -> Vec<Option<Field>> {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let tungsten = settings.tungsten.as_ref();
    let torch = settings.torch.as_ref();
    let shielding = settings.shielding_gas.as_ref().and_then(OrNone::value);
    let pulse = settings.pulse.as_ref();
    let mut fields = vec![
        field(label("/processes/*/mechanization"), word(settings.mechanization.as_ref())),
        field(label("/processes/*/polarity"), word(settings.polarity.as_ref())),
        field(label("/processes/*/filler"), settings.filler.as_deref()),
    ];
    if !in_table {
        fields.extend([
            field(label("/processes/*/current"), quantity(settings.current.as_ref(), units)),
            field(label("/processes/*/voltage"), quantity(settings.voltage.as_ref(), units)),
            field(label("/processes/*/travel_speed"), quantity(settings.travel_speed.as_ref(), units)),
            field(label("/processes/*/wire_feed_speed"), quantity(settings.wire_feed_speed.as_ref(), units)),
        ]);
    }
    fields.extend([
        field(
            label("/processes/*/tungsten"),
            tungsten.and_then(|t| {
                joined_option([t.designation.as_deref().map(tungsten_words), quantity(t.diameter.as_ref(), units)])
            }),
        ),
        field(
            &labels(&["/processes/*/tungsten/included_angle", "/processes/*/tungsten/stickout"], terms),
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), units),
                    quantity(t.tip_flat.as_ref(), units).map(|flat| format!("flat {flat}")),
                    quantity(t.stickout.as_ref(), units),
                ])
            }),
        ),
        field(
            label("/processes/*/torch"),
            torch.and_then(|t| {
                joined_option([
                    t.size.as_deref().map(|size| format!("size {size}")),
                    t.cooling.map(|cooling| format!("{cooling} cooled")),
                ])
            }),
        ),
        field(
            label("/processes/*/torch/nozzle"),
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.map(|lens| if lens.0 { "gas lens".to_owned() } else { "no gas lens".to_owned() }),
                ])
            }),
        ),
        field(label("/processes/*/shielding_gas"), part(settings.shielding_gas.as_ref(), |g| gas(g, units))),
        field(
            &labels(&["/processes/*/shielding_gas/pre_flow", "/processes/*/shielding_gas/post_flow"], terms),
            shielding.and_then(|g| {
                joined_option([quantity(g.pre_flow.as_ref(), units), quantity(g.post_flow.as_ref(), units)])
            }),
        ),
        field(label("/processes/*/trailing_gas"), part(settings.trailing_gas.as_ref(), |g| gas(g, units))),
        field(label("/processes/*/plasma_gas"), part(settings.plasma_gas.as_ref(), |g| gas(g, units))),
        field(label("/processes/*/orifice"), quantity(settings.orifice.as_ref(), units)),
        field(label("/processes/*/transfer_mode"), word(settings.transfer_mode.as_ref())),
        field(label("/processes/*/contact_tip_to_work"), quantity(settings.contact_tip_to_work.as_ref(), units)),
        field(label("/processes/*/arc_start"), word(settings.arc_start.as_ref())),
        field(label("/processes/*/current_control"), word(settings.current_control.as_ref())),
        field(
            label("/processes/*/pulse"),
            part(pulse, |p| {
                joined([
                    quantity(p.peak_current.as_ref(), units).map(|v| format!("peak {v}")),
                    quantity(p.background_current.as_ref(), units).map(|v| format!("background {v}")),
                    quantity(p.frequency.as_ref(), units),
                    quantity(p.peak_time.as_ref(), units).map(|v| format!("peak time {v}")),
                ])
            }),
        ),
        field(
            label("/processes/*/ac"),
            settings.ac.as_ref().map(|ac| match ac {
                Stated::NotApplicable => "not applicable".to_owned(),
                Stated::Is(ac) => joined([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units).map(|v| format!("electrode negative {v}")),
                ]),
            }),
        ),
        field(
            &labels(&["/processes/*/up_slope", "/processes/*/down_slope"], terms),
            joined_option([quantity(settings.up_slope.as_ref(), units), quantity(settings.down_slope.as_ref(), units)]),
        ),
        field(label("/processes/*/arc_power"), quantity(settings.arc_power.as_ref(), units)),
        field(label("/processes/*/run_out_length"), quantity(settings.run_out_length.as_ref(), units)),
        field(label("/processes/*/deposit_thickness"), quantity(settings.deposit_thickness.as_ref(), units)),
        field(label("/processes/*/heat_input"), quantity(settings.heat_input.as_ref(), units)),
        field(label("/processes/*/inductance"), settings.inductance.as_deref()),
        field(label("/processes/*/arc_force"), settings.arc_force.as_deref()),
        field(
            label("/processes/*/flux"),
            settings.flux.as_ref().map(|flux| {
                joined([
                    flux.designation.as_deref().map(Into::into),
                    flux.make.as_deref().map(Into::into),
                    flux.drying.as_deref().map(Into::into),
                    flux.recycling.as_deref().map(Into::into),
                ])
            }),
        ),
        field(
            label("/processes/*/number_of_wires"),
            joined_option([
                settings.number_of_wires.as_deref().map(Into::into),
                quantity(settings.wire_spacing.as_ref(), units).map(|v| format!("{v} apart")),
            ]),
        ),
    ]);
    if let Some(technique) = &settings.technique {
        fields.extend(technique_fields(technique, options));
    }
    fields
}

fn process(blocks: &mut Vec<Block>, name: &str, settings: &Settings, options: SheetOptions) {
    let row = seamwright_handbook::processes::get(name);
    let title = row.map_or(format!("Process {name}"), |row| format!("Process {name}: {}", row.name));
    section(blocks, &title, Some(&settings_clauses(name)), settings_fields(settings, options, false));
}

/// What single runs state beside the run table.
fn own_settings(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let label = |key: &'static str| variables::term(key, options.terms);
    for run in &view.runs {
        let fields = settings_fields(&run.run.settings, options, true);
        if fields.iter().any(Option::is_some) {
            section(
                blocks,
                &format!("{} {} only", label("/runs/*/run"), run.run.run),
                Some(&settings_clauses(run.number())),
                fields,
            );
        }
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
    let column = |heading: &str, weight| Column { heading: heading.into(), unit: None, align: Align::Left, weight };
    let text = |value: Option<&str>| Cell::text(value.unwrap_or_default());
    blocks.push(Block::Table(Table {
        caption: None,
        columns: vec![
            column(label("/inspection/*/method"), 1.2),
            column(label("/inspection/*/extent"), 0.6),
            column(label("/inspection/*/acceptance"), 2.0),
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

/// Qualification, identification beyond the masthead, notes and the history.
fn people(blocks: &mut Vec<Block>, procedure: &Procedure, terms: Terms) {
    let label = |key: &'static str| variables::term(key, terms);
    let identification = &procedure.identification;
    let qualification = procedure.qualification.as_ref();
    section(
        blocks,
        &labels(&["/qualification", "/identification"], terms),
        Some(&variables::clauses(["/qualification", "/identification"])),
        vec![
            field(label("/qualification/route"), qualification.map(|q| q.route.to_string())),
            field(
                label("/qualification/code"),
                qualification.map(|q| {
                    joined([
                        q.code.map(|code| code_title(code).to_owned()),
                        q.edition.as_deref().map(Into::into),
                        q.level.as_deref().map(|level| format!("level {level}")),
                    ])
                }),
            ),
            field(
                label("/qualification/records"),
                qualification.and_then(|q| {
                    (!q.records.is_empty())
                        .then(|| q.records.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))
                }),
            ),
            field(label("/qualification/toughness"), qualification.and_then(|q| q.toughness.as_deref())),
            field(label("/identification/customer"), identification.customer.as_deref()),
            field(label("/identification/job"), identification.job.as_deref()),
            field(label("/identification/drawing"), identification.drawing.as_deref()),
            field(label("/identification/location"), identification.location.as_deref()),
            field(label("/identification/shop"), identification.shop.as_deref()),
        ],
    );
    if !procedure.notes.is_empty() {
        blocks.push(Block::heading(label("/notes"), None));
        blocks.push(Block::List {
            numbered: false,
            small: false,
            items: procedure.notes.iter().map(ToString::to_string).collect(),
        });
    }
    if !procedure.revisions.is_empty() {
        let column = |heading: &str, weight| Column { heading: heading.into(), unit: None, align: Align::Left, weight };
        blocks.push(Block::heading(label("/revisions"), None));
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                column(label("/revisions/*/revision"), 0.6),
                column(label("/revisions/*/date"), 0.8),
                column(label("/revisions/*/change"), 3.0),
                column(label("/revisions/*/by"), 1.0),
            ],
            rows: procedure
                .revisions
                .iter()
                .map(|entry| Row {
                    cells: vec![
                        Cell::bold(entry.revision.to_string()),
                        Cell::text(entry.date.map_or(String::new(), |date| date.to_string())),
                        Cell::text(entry.change.to_string()),
                        Cell::text(entry.by.as_deref().unwrap_or_default()),
                    ],
                    marked: false,
                })
                .collect(),
        }));
    }
}

fn deviations(blocks: &mut Vec<Block>, outcome: &seamwright_check::Outcome) {
    if outcome.deviations.is_empty() {
        return;
    }
    blocks.push(Block::heading("Deviations", None));
    let items = outcome
        .deviations
        .iter()
        .map(|(finding, deviation)| NoticeItem {
            lead: Some(finding.check.to_owned()),
            text: format!(
                "{}. Accepted because: {}{}{}",
                finding.message,
                deviation.reason.as_deref().unwrap_or_default(),
                deviation.by.as_deref().map_or(String::new(), |by| format!(" ({by}")),
                match (&deviation.by, deviation.date) {
                    (Some(_), Some(date)) => format!(", {date})"),
                    (Some(_), None) => ")".to_owned(),
                    (None, Some(date)) => format!(" ({date})"),
                    (None, None) => String::new(),
                }
            ),
        })
        .collect();
    blocks.push(Block::Notice { kind: NoticeKind::Remark, title: None, items });
}

/// What was checked: findings that stand, and the sources of the limits used.
fn checked(blocks: &mut Vec<Block>, outcome: &seamwright_check::Outcome) {
    blocks.push(Block::heading("What was checked", None));
    let loud: Vec<&Finding> = outcome.findings.iter().collect();
    let limits = outcome.comparisons.len();
    blocks.push(Block::paragraph(format!(
        "{} values examined and {limits} comparisons with limits of the handbook: {} errors, {} cautions, {} notes.",
        outcome.examined,
        outcome.count(Severity::Error),
        outcome.count(Severity::Caution),
        outcome.count(Severity::Note),
    )));
    if !loud.is_empty() {
        let items = loud
            .iter()
            .map(|finding| NoticeItem {
                lead: Some(finding.severity.as_str().to_owned()),
                text: format!(
                    "{} ({}){}",
                    finding.message,
                    finding.check,
                    finding.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line()))
                ),
            })
            .collect();
        blocks.push(Block::Notice { kind: NoticeKind::Remark, title: Some("Findings".into()), items });
    }
    let mut sources: Vec<String> = outcome.comparisons.iter().map(|comparison| comparison.source.line()).collect();
    sources.sort();
    sources.dedup();
    if !sources.is_empty() {
        blocks.push(Block::Paragraph { text: "Sources of the limits used:".into(), small: true });
        blocks.push(Block::List { numbered: false, small: true, items: sources });
    }
}
