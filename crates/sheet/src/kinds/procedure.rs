//! The procedure sheet: one page for one process, two for more; what is set stands first, the rest in the order in which
//! it is looked for. Sources of limits stand on the review; an annex holds cautions in full, compositions and history.

mod annex;
mod records;
mod runs;
mod settings;

use seamwright_drawing::Item;
use seamwright_drawing::text::LEGIBLE;
use seamwright_handbook::code_scope::full_title;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::document::Document;
use seamwright_model::procedure::{CodeName, JointType, Procedure, WeldType};
use seamwright_model::stated::{OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Field, Figure, NoticeItem, NoticeKind, Sheet, Way};
use seamwright_page::words::label;
use seamwright_weld::view::Metal;
use seamwright_weld::{RunView, View};

use self::annex::annex;
use self::records::{deviations, inspect};
use self::runs::{heat_remark, runs};
use self::settings::{own_settings, process_fields};
use super::conditions::{self, soaked, treated};
use super::standing;
use super::words::{
    self, clauses, composition, joined_option, labels, plain, plain_word, positions_in_words, push_strip, strip_field,
};
use super::{Lettering, Subject, cautions, footer, joined, joint, masthead, part, quantity, setup, source};

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::Procedure(procedure) = &subject.loaded.document else { return None };
    Some(Ok(sheet(subject, procedure, &View::new(procedure), options)))
}

/// Builds the sheet.
fn sheet(subject: Subject<'_>, procedure: &Procedure, view: &View<'_>, options: SheetOptions) -> Sheet {
    let terms = options.terms;
    let identification = &procedure.identification;
    let lettering = Lettering::close(subject, options);
    let setups = setup::setups(view);
    let (mut blocks, mut rest) = (Vec::new(), Vec::new());
    // To draw the joint takes as long as all the rest, which is made meanwhile.
    let drawn = std::thread::scope(|scope| {
        let drawn = scope.spawn(|| drawings(view, lettering));
        runs(&mut blocks, view, options);
        open_items(&mut blocks, subject);
        metals_and_heat(&mut blocks, view, options);
        conditions::conditions(&mut blocks, view, options);
        prepare(&mut rest, view, options);
        if let [run] = setups.as_slice() {
            torch_and_gas(&mut rest, view, run, lettering);
        }
        own_settings(&mut rest, view, options);
        inspect(&mut rest, subject, view, terms);
        drawn.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    });
    blocks.extend(drawn);
    blocks.append(&mut rest);
    deviations(&mut blocks, subject.outcome, terms);
    let safety = Block::Notice { kind: NoticeKind::Safety, title: None, items: cautions::in_short(view, options) };
    let signatures = Block::Signatures {
        boxes: vec![
            (
                variables::term("/identification/prepared_by", terms).into(),
                identification.prepared_by.as_deref().unwrap_or_default().into(),
            ),
            (
                variables::term("/identification/approved_by", terms).into(),
                identification.approved_by.as_deref().unwrap_or_default().into(),
            ),
            (label::INSPECTOR.into(), String::new()),
        ],
    };
    if setups.len() > 1 {
        blocks.push(signatures);
        blocks.push(Block::PageBreak);
        side_by_side(&mut blocks, view, &setups, lettering);
        blocks.push(safety);
    } else {
        blocks.extend([safety, signatures]);
    }

    let mut facts = Vec::new();
    if let Some(status) = identification.status {
        facts.push((label::STATUS.into(), status.to_string()));
    }
    if let Some(code) = procedure.qualification.as_ref().and_then(|q| q.code).filter(|code| *code != CodeName::None) {
        facts.push((label::CODE.into(), full_title(code.as_str()).into()));
    }
    let mut footer = footer(subject, options);
    footer.checked = joined_sentences([heat_remark(view, terms), footer.checked, super::DEFERS.into()]);
    Sheet {
        masthead: masthead(subject, label::WELDING_PROCEDURE_SPECIFICATION, facts, options),
        blocks,
        annex: if options.annex { annex(subject, procedure, view, options) } else { Vec::new() },
        footer,
        one_page: false,
        large: false,
        planned: Some(if setups.len() > 1 { 2 } else { 1 }),
        source: source(subject),
    }
}

fn joined_sentences(sentences: impl IntoIterator<Item = String>) -> String {
    sentences.into_iter().filter(|sentence| !sentence.is_empty()).collect::<Vec<_>>().join(" ")
}

/// What a draft still has to decide.
fn open_items(blocks: &mut Vec<Block>, subject: Subject<'_>) {
    let open: Vec<String> = standing::to_decide(&subject.loaded.source.text).iter().map(standing::Open::text).collect();
    if open.is_empty() {
        return;
    }
    let item = NoticeItem { lead: Some(label::STILL_TO_DECIDE.into()), text: format!("{}.", open.join("; ")) };
    blocks.push(Block::Notice { kind: NoticeKind::Remark, title: None, items: vec![item] });
}

/// Texts with a slash or a comma between, each once.
fn each(texts: impl IntoIterator<Item = Option<String>>, between: &str) -> Option<String> {
    let mut found: Vec<String> = Vec::new();
    for text in texts.into_iter().flatten() {
        if !found.contains(&text) {
            found.push(text);
        }
    }
    (!found.is_empty()).then(|| found.join(between))
}

/// Metals, thickness or diameter, position and temperatures, in a strip.
fn metals_and_heat(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let procedure = view.procedure;
    // What is laid on a part, or into it, joins no second one.
    let kind = procedure.joint.as_ref().map(|joint| joint.kind);
    let of_one = view.weld() == Some(WeldType::Surfacing) || kind == Some(JointType::Cavity);
    let names: Vec<String> = match view.metals.as_slice() {
        [one] if of_one => vec![one.stated.specification.to_string()],
        [one] => vec![one.stated.specification.to_string(), one.stated.specification.to_string()],
        metals => metals.iter().map(|metal| metal.stated.specification.to_string()).collect(),
    };
    let groups = each(
        view.metals.iter().map(|metal| {
            let stated = metal.stated;
            let group = stated.group.as_deref().map(str::to_owned);
            let group = group.or_else(|| metal.known?.iso_group.map(str::to_owned));
            let number = stated.p_number.as_deref().map(str::to_owned);
            let number = number.or_else(|| metal.known?.p_no.map(str::to_owned));
            joined_option([
                group.map(|group| label::GROUP_GROUP.fill(&[("group", &group)])),
                number.map(|number| label::P_NO_NUMBER.fill(&[("number", &number)])),
            ])
        }),
        "; ",
    );
    let metals = || view.metals.iter().map(|metal| metal.stated);
    // Each value is that of a member: with "to" between they would read as one range.
    let between = if kind == Some(JointType::Tee) && view.metals.len() == 2 { " on " } else { " and " };
    let bars = view.metals.iter().filter(|metal| metal.stated.outside_diameter.is_some());
    let across = if bars.clone().count() > 0 && bars.clone().all(Metal::is_round_bar) {
        label::BAR_DIAMETER.english()
    } else {
        label("/parent_metals/*/outside_diameter")
    };
    let mut fields = vec![
        strip_field(label("/parent_metals/*/specification"), (!names.is_empty()).then(|| names.join(" to "))),
        strip_field(
            label("/parent_metals/*/thickness"),
            each(metals().map(|own| quantity(own.thickness.as_ref(), units)), between),
        ),
        strip_field(across, each(metals().map(|own| quantity(own.outside_diameter.as_ref(), units)), between)),
        strip_field(label("/positions"), positions_in_words(view, options)),
    ];
    if let Some(stated) = &procedure.temperatures {
        fields.extend([
            strip_field(label("/temperatures/preheating"), conditions::preheating(procedure, options)),
            strip_field(label("/temperatures/interpass"), conditions::interpass(procedure, options)),
            strip_field(label("/temperatures/time_between_runs"), quantity(stated.time_between_runs.as_ref(), units)),
            strip_field(
                label("/temperatures/preheat_maintenance"),
                quantity(stated.preheat_maintenance.as_ref(), units),
            ),
            strip_field(
                label("/temperatures/post_heating"),
                part(stated.post_heating.as_ref(), |own| soaked(own, options)),
            ),
            strip_field(
                label("/temperatures/post_weld_heat_treatment"),
                part(stated.post_weld_heat_treatment.as_ref(), |own| treated(own, options)),
            ),
            strip_field(label("/temperatures/measurement"), stated.measurement.as_deref()),
        ]);
    }
    fields.extend([
        strip_field(&labels(&["/parent_metals/*/group", "/parent_metals/*/p_number"], options), groups),
        strip_field(
            label("/parent_metals/*/form"),
            each(metals().map(|own| own.form.as_deref().map(Into::into)), "; "),
        ),
        strip_field(
            label("/parent_metals/*/heat"),
            each(metals().map(|own| own.heat.as_deref().map(Into::into)), "; "),
        ),
        strip_field(
            label("/parent_metals/*/coating"),
            each(metals().map(|own| own.coating.as_deref().map(Into::into)), "; "),
        ),
    ]);
    push_strip(blocks, fields);
    let compositions: Vec<Option<Field>> = view
        .metals
        .iter()
        .map(|metal| {
            let name = format!("{}, {}", label("/parent_metals/*/composition"), metal.stated.specification);
            strip_field(&name, metal.stated.composition.as_ref().map(composition))
        })
        .collect();
    gives_way(blocks, Way::Composition, compositions);
}

fn gives_way(blocks: &mut Vec<Block>, way: Way, fields: Vec<Option<Field>>) {
    let mut own = Vec::new();
    push_strip(&mut own, fields);
    if !own.is_empty() {
        blocks.push(Block::GivesWay { way, blocks: own, instead: Vec::new() });
    }
}

/// Room of the position relative to that of the joint, so that it is read at arm's length and stands beside the joint: of one,
/// of several, and where the sheet has little room.
const BESIDE: (f64, f64, f64) = (0.85, 0.6, 0.5);

/// Whether no label of drawings is so small that print would enlarge it against its lines.
fn is_legible(figures: &[Figure]) -> bool {
    figures.iter().flat_map(|figure| &figure.drawing.items).all(|item| match item {
        Item::Text(label) => label.size >= LEGIBLE,
        Item::Path { .. } => true,
    })
}

/// Width that joint and runs have in a row beside the symbol, mm.
const ABREAST: f64 = 116.0;

/// Joint and runs, beside them the symbol over the position.
fn drawings(view: &View<'_>, lettering: Lettering<'_>) -> Vec<Block> {
    let wide = |figures: &[Figure]| figures.iter().map(|figure| figure.drawing.width).sum::<f64>();
    let with = |room: f64| Lettering { room: lettering.room * room, ..lettering };
    // Joint and runs stand in a row beside the symbol, drawn as large as it has room for.
    let mut tried = [1.0, 0.9, 0.8, 0.7, 0.6].into_iter().map(|room| joint::figures(view, with(room)));
    let fits = |figures: &Vec<Figure>| wide(figures) <= ABREAST && is_legible(figures);
    let joint = untagged(tried.find(fits).unwrap_or_else(|| joint::figures(view, lettering)));
    // Symbol and position are as small as their letters can still be read.
    let rooms = [0.6, 0.75, 0.9, 1.1, 1.4].into_iter();
    let mut symbols = rooms.map(|room| setup::welding_symbol(view, with(room)).into_iter().collect::<Vec<_>>());
    let symbol = symbols.find(|figures| is_legible(figures)).unwrap_or_default();
    let positions = |room: f64| setup::positions(view, with(room));
    let mut large = positions(BESIDE.0);
    if large.len() > 1 {
        large = positions(BESIDE.1);
    }
    let drawn = |mut figures: Vec<Figure>| {
        if figures.len() > 1 {
            // Each has its code; a heading over each would ask for a row of its own.
            for figure in &mut figures {
                figure.title.clear();
            }
        }
        vec![Block::Drawings { drawings: untagged(figures) }]
    };
    let mut beside: Vec<Block> = Vec::new();
    if !symbol.is_empty() {
        beside.push(Block::Drawings { drawings: untagged(symbol) });
    }
    if !large.is_empty() {
        beside.push(Block::GivesWay { way: Way::Size, blocks: drawn(large), instead: drawn(positions(BESIDE.2)) });
    }
    match (joint.is_empty(), beside.is_empty()) {
        (false, false) => {
            vec![Block::Columns { left: vec![Block::Drawings { drawings: joint }], right: beside, share: 0.68 }]
        }
        (false, true) => vec![Block::Drawings { drawings: joint }],
        (true, _) => beside,
    }
}

/// Figures without the clause over them: the section that they stand in has it.
fn untagged(figures: Vec<Figure>) -> Vec<Figure> {
    figures.into_iter().map(|figure| Figure { clause: None, ..figure }).collect()
}

/// How the joint is made ready.
fn prepare(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let procedure = view.procedure;
    let Some(joint) = &procedure.joint else { return };
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let kind = match joint.weld {
        Some(weld) => format!("{}, {}", joint.kind, plain(weld.as_str())),
        None => joint.kind.to_string(),
    };
    blocks.push(Block::heading(
        label::PREPARE,
        clauses(["/joint", "/weld_size", "/joint/preparation_method"], view, terms).as_deref(),
    ));
    push_strip(
        blocks,
        vec![
            strip_field(&labels(&["/joint/type", "/joint/weld"], options), Some(kind)),
            strip_field(label("/joint/detail"), joint.detail.as_deref()),
            strip_field(label("/joint/preparation"), words::preparation(joint.preparation.as_ref(), options)),
            strip_field(label("/joint/cavity_width"), quantity(joint.cavity_width.as_ref(), units)),
            strip_field(label("/joint/included_angle"), quantity(joint.included_angle.as_ref(), units)),
            strip_field(label("/joint/root_gap"), quantity(joint.root_gap.as_ref(), units)),
            strip_field(label("/joint/root_face"), quantity(joint.root_face.as_ref(), units)),
            strip_field(label("/joint/root_radius"), quantity(joint.root_radius.as_ref(), units)),
            strip_field(
                label("/joint/penetration"),
                joined_option([
                    plain_word(joint.penetration.as_ref(), options),
                    quantity(joint.penetration_depth.as_ref(), units),
                ]),
            ),
            strip_field(
                label("/weld_size/leg"),
                size.and_then(|s| {
                    joined_option([quantity(s.leg.as_ref(), units), quantity(s.second_leg.as_ref(), units)])
                }),
            ),
            strip_field(label("/weld_size/throat"), size.and_then(|s| quantity(s.throat.as_ref(), units))),
            strip_field(
                label("/weld_size/reinforcement"),
                size.and_then(|s| quantity(s.reinforcement.as_ref(), units)),
            ),
            strip_field(
                label("/weld_size/root_reinforcement"),
                size.and_then(|s| quantity(s.root_reinforcement.as_ref(), units)),
            ),
            strip_field(label("/weld_size/diameter"), size.and_then(|s| quantity(s.diameter.as_ref(), units))),
            strip_field(label("/weld_size/contour"), size.and_then(|s| plain_word(s.contour.as_ref(), options))),
            strip_field(label("/weld_size/length"), size.and_then(|s| quantity(s.length.as_ref(), units))),
            strip_field(label("/joint/welded_from"), plain_word(joint.welded_from.as_ref(), options)),
            strip_field(
                label("/joint/backing"),
                part(joint.backing.as_ref(), |b| {
                    joined([
                        Some(plain(b.kind.as_str())),
                        b.material.as_deref().map(Into::into),
                        b.size.as_deref().map(Into::into),
                    ])
                }),
            ),
            strip_field(label("/joint/back_gouging"), joint.back_gouging.as_deref()),
            strip_field(label("/joint/preparation_method"), joint.preparation_method.as_deref()),
            strip_field(label("/joint/cleaning"), joint.cleaning.as_deref()),
            strip_field(label("/joint/tack_welds"), joint.tack_welds.as_deref()),
            strip_field(label("/joint/jigging"), joint.jigging.as_deref()),
        ],
    );
}

/// What is fitted and set for a process: torch and gas, electrode, or wire.
fn torch_title(run: &RunView<'_>, terms: Terms) -> String {
    let what = match run.process {
        Some(row) if row.uses_tungsten => label::TORCH_AND_GAS,
        Some(row) if row.uses_flux => label::WIRE_AND_FLUX,
        Some(row) if row.uses_wire_feed && row.uses_shielding_gas => label::WIRE_AND_GAS,
        Some(row) if row.uses_wire_feed => label::WIRE,
        _ => label::ELECTRODE,
    };
    format!("{what}, {}", words::process_name(run.number(), terms))
}

fn torch_and_gas(blocks: &mut Vec<Block>, view: &View<'_>, run: &RunView<'_>, lettering: Lettering<'_>) {
    let terms = lettering.options.terms;
    blocks.push(Block::heading(torch_title(run, terms), settings::clauses_of(run, view, terms).as_deref()));
    let mut fields = process_fields(view, run, lettering.options);
    fields.extend(backing_gas(view, lettering.options));
    push_strip(blocks, fields);
    let drawn = torch_drawings(view, run, lettering);
    if !drawn.is_empty() {
        let drawings = vec![Block::Drawings { drawings: drawn }];
        blocks.push(Block::GivesWay { way: Way::Drawings, blocks: drawings, instead: Vec::new() });
    }
}

/// Torch and tungsten, as small as their letters can still be read: where the page has room they grow.
fn torch_drawings(view: &View<'_>, run: &RunView<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    let drawn = |room: f64| {
        let lettering = Lettering { room: lettering.room * room, ..lettering };
        let mut drawn = setup::torch(view, run, lettering);
        drawn.extend(setup::tungsten(run, lettering));
        drawn
    };
    let mut tried = [0.75, 0.85].into_iter().map(drawn);
    untagged(tried.find(|figures| is_legible(figures)).unwrap_or_else(|| drawn(1.0)))
}

/// The processes in two columns, each with what it is fitted with and its drawings.
fn side_by_side(blocks: &mut Vec<Block>, view: &View<'_>, setups: &[&RunView<'_>], lettering: Lettering<'_>) {
    let terms = lettering.options.terms;
    let column = |run: &RunView<'_>| {
        let mut own = vec![Block::heading(torch_title(run, terms), None)];
        push_strip(&mut own, process_fields(view, run, lettering.options));
        let drawn = torch_drawings(view, run, lettering);
        if !drawn.is_empty() {
            own.push(Block::Drawings { drawings: drawn });
        }
        own
    };
    for pair in setups.chunks(2) {
        match pair {
            [one, other] => {
                blocks.push(Block::Columns { left: column(one), right: column(other), share: 0.5 });
            }
            alone => alone.iter().for_each(|run| blocks.extend(column(run))),
        }
    }
    let gas = backing_gas(view, lettering.options);
    if gas.iter().any(Option::is_some) {
        blocks.push(Block::heading(variables::term("/backing_gas", terms), None));
        push_strip(blocks, gas);
    }
}

fn backing_gas(view: &View<'_>, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    match &view.procedure.backing_gas {
        None => Vec::new(),
        Some(OrNone::Is(gas)) => vec![
            strip_field(
                label("/backing_gas"),
                joined_option([
                    words::gas_named(gas.designation.as_deref(), gas.composition.as_ref(), options),
                    quantity(gas.flow.as_ref(), units),
                ]),
            ),
            strip_field(label("/backing_gas/purge_time"), quantity(gas.purge_time.as_ref(), units)),
            strip_field(label("/backing_gas/oxygen"), quantity(gas.oxygen.as_ref(), units)),
            strip_field(label("/backing_gas/maintained_until"), gas.maintained_until.as_deref()),
        ],
        Some(other) => vec![strip_field(label("/backing_gas"), part(Some(other), |_| String::new()))],
    }
}
