//! The bench card: what the welder sets, on one page that is read at arm's length and legible at two metres.

use seamwright_check::{RunView, View};
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Current, Quantity, Range, Speed, UnitSystem, Voltage};
use seamwright_model::stated::{OrNone, Stated};

use super::words::{composition, field, joined_option, tungsten_words};
use super::{DEFERS, SheetOptions, Subject, cautions, footer, joined, joint, masthead, quantity, setup, source, word};
use crate::block::{Align, Block, Cell, Column, Field, NoticeItem, NoticeKind, Row, Sheet, Table};

/// More rows than these are drawn together, so that the type stays large.
const MOST_ROWS: usize = 8;

/// Builds the sheet.
pub(super) fn sheet(subject: Subject<'_>, view: &View<'_>, options: SheetOptions) -> Sheet {
    let units = options.units;
    let procedure = view.procedure;
    let mut blocks = Vec::new();
    settings(&mut blocks, view, units);
    joint_fields(&mut blocks, view, units);

    let setups = setup::setups(view);
    let several = setups.len() > 1;
    let mut pictures = joint::figures(view, units);
    if setups.len() > 2 {
        // Room for what differs between processes; the joint alone is on the procedure sheet.
        pictures.truncate(2);
    }
    for run in &setups {
        make_up(&mut blocks, run, subject, several, units);
    }
    for run in &setups {
        let mut of_run = setup::torch(view, run, units);
        of_run.extend(setup::tungsten(run, units));
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
    let limits = limits(procedure, view, units);
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

/// Runs that stand in one row.
type Group<'v, 'd> = Vec<&'v RunView<'d>>;

/// The runs in rows: those with equal settings together, and if that leaves too many rows, those of a kind.
fn groups<'v, 'd>(view: &'v View<'d>, units: UnitSystem) -> Vec<Group<'v, 'd>> {
    let equal = |run: &RunView<'d>| {
        format!("{:?}{:?}{}{}", run.run.positions, run.run.side, run.number(), cells(view, &[run], units).join("|"))
    };
    let layer = |run: &RunView<'d>| format!("{:?}{:?}{}", run.run.positions, run.run.layer, run.number());
    let process = |run: &RunView<'d>| run.number().to_owned();
    let adjacent = gather(view, &equal, true);
    if adjacent.len() <= MOST_ROWS {
        return adjacent;
    }
    let of_a_kind = gather(view, &layer, false);
    if of_a_kind.len() <= MOST_ROWS { of_a_kind } else { gather(view, &process, false) }
}

fn gather<'v, 'd>(view: &'v View<'d>, key: &dyn Fn(&RunView<'d>) -> String, adjacent: bool) -> Vec<Group<'v, 'd>> {
    let mut groups: Vec<(String, Group<'v, 'd>)> = Vec::new();
    for run in &view.runs {
        let name = key(run);
        let last = groups.len().saturating_sub(1);
        let found = groups.iter_mut().enumerate().find(|(at, (other, _))| *other == name && (!adjacent || *at == last));
        match found {
            Some((_, (_, group))) => group.push(run),
            None => groups.push((name, vec![run])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// Current, voltage, wire feed, travel speed and filler of a group, each over all its runs.
fn cells(view: &View<'_>, group: &[&RunView<'_>], units: UnitSystem) -> [String; 6] {
    let mut fillers: Vec<String> = Vec::new();
    let mut polarities: Vec<String> = Vec::new();
    for run in group {
        let filler = run.filler(view.procedure).map_or("none".to_owned(), |(_, filler)| {
            joined([Some(filler.designation.to_string()), quantity(filler.diameter.as_ref(), units)])
        });
        let polarity = run.setting("polarity", |s| s.polarity.as_ref()).and_then(|at| word(Some(at.value)));
        for (list, text) in [(&mut fillers, Some(filler)), (&mut polarities, polarity)] {
            if let Some(text) = text.filter(|text| !list.contains(text)) {
                list.push(text);
            }
        }
    }
    [
        over(
            group,
            units,
            |run| run.quantity("current", |s| s.current.as_ref()).map(|at| at.value),
            Current::print_range,
        ),
        over(
            group,
            units,
            |run| run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value),
            Voltage::print_range,
        ),
        over(
            group,
            units,
            |run| run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).map(|at| at.value),
            Speed::print_range,
        ),
        over(
            group,
            units,
            |run| run.quantity("travel_speed", |s| s.travel_speed.as_ref()).map(|at| at.value),
            Speed::print_range,
        ),
        polarities.join(", "),
        fillers.join("; "),
    ]
}

/// The range over all runs of a group; as it is spelled where there is only one.
fn over<'v, 'd, Q: Quantity + Copy + PartialOrd>(
    group: &[&'v RunView<'d>],
    units: UnitSystem,
    get: impl Fn(&'v RunView<'d>) -> Option<&'d Range<Q>>,
    print: fn(Q, Q, UnitSystem) -> String,
) -> String {
    let ranges: Vec<&Range<Q>> = group.iter().filter_map(|run| get(run)).collect();
    let Some(first) = ranges.first() else { return String::new() };
    let texts: Vec<String> = ranges.iter().map(|range| range.print(units)).collect();
    if texts.iter().all(|text| Some(text) == texts.first()) {
        return first.print(units);
    }
    let least = ranges.iter().filter_map(|range| range.low()).reduce(|a, b| if b < a { b } else { a });
    let most = ranges.iter().filter_map(|range| range.high()).reduce(|a, b| if b > a { b } else { a });
    match (least, most) {
        (Some(least), Some(most)) => print(least, most, units),
        _ => first.print(units),
    }
}

/// The numbers of the runs of a group: `2–8, 11`.
fn numbers(group: &[&RunView<'_>]) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for run in group {
        let (first, last) = run.numbers;
        match spans.last_mut() {
            Some(span) if first <= span.1.saturating_add(1) && first >= span.0 => span.1 = span.1.max(last),
            _ => spans.push((first, last)),
        }
    }
    let texts: Vec<String> = spans
        .iter()
        .map(|(first, last)| if first == last { first.to_string() } else { format!("{first}–{last}") })
        .collect();
    texts.join(", ")
}

fn settings(blocks: &mut Vec<Block>, view: &View<'_>, units: UnitSystem) {
    if view.runs.is_empty() {
        return;
    }
    let groups = groups(view, units);
    let several = setup::setups(view).len() > 1;
    let by_position = groups.iter().flatten().any(|run| !run.run.positions.is_empty());
    let values: Vec<[String; 6]> = groups.iter().map(|group| cells(view, group, units)).collect();
    let mut columns = vec![Column { heading: "Run".into(), unit: None, align: Align::Left, weight: 5.5 }];
    if by_position {
        columns.push(Column { heading: "Position".into(), unit: None, align: Align::Left, weight: 6.0 });
    }
    if several {
        columns.push(Column { heading: "Process".into(), unit: None, align: Align::Left, weight: 5.5 });
    }
    let lead = columns.len();
    let mut shown: Vec<usize> = Vec::new();
    let headings = ["Current", "Voltage", "Wire feed", "Travel speed", "Polarity", "Filler"];
    for (index, heading) in headings.into_iter().enumerate() {
        let texts: Vec<&str> = values.iter().filter_map(|row| row.get(index).map(String::as_str)).collect();
        if texts.iter().all(|text| text.is_empty()) {
            continue;
        }
        let unit = if index < 4 { common_unit(&texts) } else { None };
        // As wide as its longest setting asks, so that numbers do not wrap.
        let longest = texts.iter().map(|text| {
            let cell = setting_cell(text, unit.as_deref(), index == 5);
            cell.text.chars().count().max(cell.note.map_or(0, |note| note.chars().count() / 2))
        });
        let weight = f64::from(u32::try_from(longest.max().unwrap_or(0)).unwrap_or(u32::MAX).clamp(4, 14)) + 1.5;
        columns.push(Column { heading: heading.into(), unit, align: Align::Left, weight });
        shown.push(index);
    }
    let rows = groups
        .iter()
        .zip(&values)
        .map(|(group, values)| {
            let mut layers: Vec<String> =
                group.iter().filter_map(|run| run.run.layer.map(|layer| layer.to_string())).collect();
            layers.dedup();
            let mut row =
                vec![Cell { note: (!layers.is_empty()).then(|| layers.join(", ")), ..Cell::bold(numbers(group)) }];
            let first = group.first();
            if by_position {
                row.push(Cell::bold(first.map_or(String::new(), |run| {
                    run.run.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
                })));
            }
            if several {
                row.push(Cell::bold(first.map_or("", |run| run.number())));
            }
            for (&index, column) in shown.iter().zip(columns.iter().skip(lead)) {
                let text = values.get(index).map(String::as_str).unwrap_or_default();
                row.push(setting_cell(text, column.unit.as_deref(), index == 5));
            }
            Row { cells: row, marked: false }
        })
        .collect();
    blocks.push(Block::Settings(Table { caption: None, columns, rows }));
    if groups.iter().any(|group| group.len() > 1 && cells(view, &group[..1], units) != cells(view, group, units)) {
        blocks.push(Block::Paragraph {
            text: "Runs of a kind stand in one row with the range of them all; the procedure sheet has each run."
                .into(),
            small: true,
        });
    }
}

/// The unit that every text of a column ends in, for its heading.
fn common_unit(texts: &[&str]) -> Option<String> {
    let unit = |text: &str| {
        let (number, unit) = text.split_once([' ', '\u{a0}'])?;
        let plain = number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '–'));
        (plain && !unit.is_empty() && unit.split(['(', ' ', '\u{a0}']).count() == 1).then(|| unit.to_owned())
    };
    let mut units = texts.iter().filter(|text| !text.is_empty()).map(|text| unit(text));
    let first = units.next()??;
    units.all(|other| other.as_ref() == Some(&first)).then_some(first)
}

/// A setting: without the unit that its heading has; what stands in brackets or after a comma goes below in small.
fn setting_cell(text: &str, unit: Option<&str>, filler: bool) -> Cell {
    let text = match unit.and_then(|unit| text.strip_suffix(unit)) {
        Some(number) => number.trim_end(),
        None => text,
    };
    let parts =
        if filler { text.split_once(", ") } else { text.split_once(" (").map(|(a, b)| (a, b.trim_end_matches(')'))) };
    match parts {
        Some((main, rest)) if !rest.contains("; ") => Cell { note: Some(rest.to_owned()), ..Cell::bold(main) },
        _ => Cell::bold(text),
    }
}

fn large(label: &str, value: Option<String>) -> Option<Field> {
    let mut field = field(label, value)?;
    field.span = if field.value.chars().count() > 34 { 2 } else { 1 };
    field.large = true;
    Some(field)
}

fn joint_fields(blocks: &mut Vec<Block>, view: &View<'_>, units: UnitSystem) {
    let procedure = view.procedure;
    let metals: Vec<String> = view
        .metals
        .iter()
        .map(|metal| {
            let stated = metal.stated;
            let bore = quantity(stated.outside_diameter.as_ref(), units).map(|it| format!("{it} outside diameter"));
            joined([Some(stated.specification.to_string()), quantity(stated.thickness.as_ref(), units), bore])
        })
        .collect();
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let weld = size.map(|size| {
        joined([
            quantity(size.leg.as_ref(), units).map(|leg| format!("leg {leg}")),
            quantity(size.second_leg.as_ref(), units).map(|leg| format!("by {leg}")),
            quantity(size.throat.as_ref(), units).map(|throat| format!("throat {throat}")),
            quantity(size.reinforcement.as_ref(), units).map(|cap| format!("reinforcement {cap}")),
            quantity(size.length.as_ref(), units).map(|length| format!("length {length}")),
        ])
    });
    let joint = procedure.joint.as_ref();
    let preparation = joint.and_then(|joint| {
        joined_option([
            word(joint.preparation.as_ref()),
            quantity(joint.included_angle.as_ref(), units),
            quantity(joint.root_gap.as_ref(), units).map(|gap| format!("gap {gap}")),
            quantity(joint.root_face.as_ref(), units).map(|face| format!("root face {face}")),
        ])
    });
    let positions = joined_option([
        (!procedure.positions.is_empty())
            .then(|| procedure.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")),
        word(procedure.progression.as_ref()),
    ]);
    let temperatures = procedure.temperatures.as_ref();
    let fields = [
        large("Metal", (!metals.is_empty()).then(|| metals.join("; "))),
        large(
            "Joint",
            joint.map(|joint| joined([Some(joint.kind.to_string()), view.weld().map(|weld| weld.to_string())])),
        ),
        large("Weld size", weld),
        large("Position", positions),
        large("Preparation", preparation.filter(|_| view.weld().is_some_and(|weld| weld.has_groove()))),
        large("Preheat", temperatures.and_then(|t| quantity(t.preheating.as_ref(), units))),
        large("Interpass", temperatures.and_then(|t| quantity(t.interpass.as_ref(), units))),
        large(
            "Backing gas",
            procedure.backing_gas.as_ref().and_then(OrNone::value).and_then(|gas| {
                joined_option([
                    gas.designation.as_deref().map(Into::into),
                    quantity(gas.flow.as_ref(), units),
                    quantity(gas.purge_time.as_ref(), units).map(|time| format!("purge {time}")),
                    quantity(gas.oxygen.as_ref(), units).map(|oxygen| format!("oxygen {oxygen}")),
                ])
            }),
        ),
    ];
    let fields: Vec<Field> = fields.into_iter().flatten().collect();
    if !fields.is_empty() {
        blocks.push(Block::Fields { fields });
    }
}

/// Hook-up beside torch make-up, gas and technique of one process.
fn make_up(blocks: &mut Vec<Block>, run: &RunView<'_>, subject: Subject<'_>, several: bool, units: UnitSystem) {
    let name = if several { format!(", {}", run.number()) } else { String::new() };
    let fields = torch_fields(run, units);
    let Some((sketch, notes)) = setup::hook_up(run, subject.shop, units) else {
        if !fields.is_empty() {
            blocks.push(Block::Fields { fields });
        }
        return;
    };
    let mut notes = notes.into_iter();
    let connection = notes.next().unwrap_or_default();
    let mut cables = vec![Field { label: format!("Cables{name}"), value: connection, span: 4, large: true }];
    cables.extend(fields);
    let mut left = vec![Block::Drawings { drawings: vec![setup::hook_up_figure(&sketch, &format!("Hook-up{name}"))] }];
    left.extend(notes.map(Block::paragraph));
    blocks.push(Block::Columns { left, right: vec![Block::Fields { fields: cables }], share: 0.42 });
}

/// Tungsten, nozzle, gas and technique of a run.
fn torch_fields(run: &RunView<'_>, units: UnitSystem) -> Vec<Field> {
    let tungsten = run.setting("tungsten", |s| s.tungsten.as_ref()).map(|at| at.value);
    let torch = run.setting("torch", |s| s.torch.as_ref()).map(|at| at.value);
    let gas = run.gas().map(|at| at.value);
    let technique = run.setting("technique", |s| s.technique.as_ref()).map(|at| at.value);
    let trailing = run.setting("trailing_gas", |s| s.trailing_gas.as_ref().and_then(OrNone::value)).map(|at| at.value);
    let pulse = run.setting("pulse", |s| s.pulse.as_ref().and_then(OrNone::value)).map(|at| at.value);
    let ac = run.setting("ac", |s| s.ac.as_ref().and_then(Stated::value)).map(|at| at.value);
    let fields = [
        large(
            "Tungsten",
            tungsten.and_then(|t| {
                joined_option([t.designation.as_deref().map(tungsten_words), quantity(t.diameter.as_ref(), units)])
            }),
        ),
        large(
            "Tip",
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), units),
                    quantity(t.tip_flat.as_ref(), units).map(|flat| format!("flat {flat}")),
                ])
            }),
        ),
        large(
            "Nozzle",
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.as_ref().map(|lens| if lens.0 { "gas lens" } else { "no gas lens" }.to_owned()),
                ])
            }),
        ),
        large("Stickout", tungsten.and_then(|t| quantity(t.stickout.as_ref(), units))),
        large(
            "Contact tip to work",
            run.setting("contact_tip_to_work", |s| s.contact_tip_to_work.as_ref())
                .and_then(|at| quantity(Some(at.value), units)),
        ),
        large(
            "Transfer",
            run.setting("transfer_mode", |s| s.transfer_mode.as_ref()).and_then(|at| word(Some(at.value))),
        ),
        large("Gas", gas.and_then(|gas| joined_option([setup::gas_name(run), quantity(gas.flow.as_ref(), units)]))),
        large(
            "Pre-flow, post-flow",
            gas.and_then(|gas| {
                joined_option([quantity(gas.pre_flow.as_ref(), units), quantity(gas.post_flow.as_ref(), units)])
            }),
        ),
        large(
            "Trailing gas",
            trailing.and_then(|gas| {
                joined_option([
                    gas.designation.as_deref().map(Into::into),
                    gas.composition.as_ref().filter(|_| gas.designation.is_none()).map(composition),
                    quantity(gas.flow.as_ref(), units),
                ])
            }),
        ),
        large(
            "Torch",
            joined_option([
                technique.and_then(|t| word(t.direction.as_ref())),
                technique.and_then(|t| quantity(t.travel_angle.as_ref(), units)),
            ]),
        ),
        large("Work angle", technique.and_then(|t| quantity(t.work_angle.as_ref(), units))),
        large("Filler angle", technique.and_then(|t| quantity(t.filler_angle.as_ref(), units))),
        large("Arc length", technique.and_then(|t| quantity(t.arc_length.as_ref(), units))),
        large(
            "Bead",
            technique.and_then(|t| {
                joined_option([
                    word(t.bead.as_ref()),
                    quantity(t.maximum_bead_width.as_ref(), units).map(|width| format!("to {width} wide")),
                ])
            }),
        ),
        large("Arc start", run.setting("arc_start", |s| s.arc_start.as_ref()).and_then(|at| word(Some(at.value)))),
        large(
            "Current control",
            run.setting("current_control", |s| s.current_control.as_ref()).and_then(|at| word(Some(at.value))),
        ),
        large(
            "Pulse",
            pulse.and_then(|p| {
                joined_option([
                    quantity(p.peak_current.as_ref(), units).map(|it| format!("peak {it}")),
                    quantity(p.background_current.as_ref(), units).map(|it| format!("background {it}")),
                    quantity(p.frequency.as_ref(), units),
                ])
            }),
        ),
        large(
            "Alternating current",
            ac.and_then(|ac| {
                joined_option([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units).map(|it| format!("electrode negative {it}")),
                ])
            }),
        ),
        large(
            "Flux",
            run.setting("flux", |s| s.flux.as_ref()).and_then(|at| {
                joined_option([
                    at.value.designation.as_deref().map(Into::into),
                    at.value.drying.as_deref().map(Into::into),
                ])
            }),
        ),
    ];
    fields.into_iter().flatten().collect()
}

/// What must not be passed: the document's own limits, and what can be seen to have gone wrong.
fn limits(procedure: &Procedure, view: &View<'_>, units: UnitSystem) -> Vec<NoticeItem> {
    let mut items: Vec<NoticeItem> = Vec::new();
    let mut add = |lead: &str, text: Option<String>| {
        if let Some(text) = text {
            items.push(NoticeItem { lead: Some(lead.into()), text });
        }
    };
    if let Some(temperatures) = &procedure.temperatures {
        add("Preheat", quantity(temperatures.preheating.as_ref(), units));
        add("Interpass", quantity(temperatures.interpass.as_ref(), units));
    }
    if let Some(joint) = &procedure.joint {
        add("Root gap", quantity(joint.root_gap.as_ref(), units));
    }
    if let Some(size) = procedure.weld_size.as_ref().and_then(Stated::value) {
        add("Leg", quantity(size.leg.as_ref(), units));
        add("Throat", quantity(size.throat.as_ref(), units));
    }
    if let Some(OrNone::Is(gas)) = &procedure.backing_gas {
        add("Oxygen in the backing gas", quantity(gas.oxygen.as_ref(), units));
    }
    let mut seen: Vec<String> = Vec::new();
    for run in &view.runs {
        let width = run.quantity("technique", |s| s.technique.as_ref()?.maximum_bead_width.as_ref());
        let heat = run.quantity("heat_input", |s| s.heat_input.as_ref());
        for (lead, text) in [
            ("Bead width, at most", width.map(|at| at.value.print(units))),
            ("Heat input", heat.map(|at| at.value.print(units))),
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
