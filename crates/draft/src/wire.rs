//! Settings of solid and cored wire: wire, size and mode of transfer give current, voltage, wire feed and travel.

use seamwright_handbook::gmaw_parameters::{self as gmaw, Setting, StartingPoint, Transfer};
use seamwright_handbook::gtaw_starting_points::Joint;
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{self, Attitude, Part};
use seamwright_handbook::processes::{Polarity, Wire as Kind};
use seamwright_handbook::{Band, SourceRef, fcaw_parameters as fcaw};
use seamwright_model::procedure::JointType;

mod ranges;
mod run;

use self::ranges::Ranges;
use self::run::Wire;
use crate::begin::Line;
use crate::facts::Facts;
use crate::figures::{rounded, rule, span};
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::plan::{Plan, Run};
use crate::refused::Refused;
use crate::settings::{Entry, Settings, first_lines, ranged, technique_lines, trailing_gas};

pub(crate) fn settings(facts: &Facts, plan: &Plan) -> Result<Settings, Refused> {
    // Metal cored wire has its rows beside those of solid wire: like it, it has modes of transfer.
    let solid = facts.process.uses_shielding_gas && facts.process.wire != Some(Kind::FluxCored);
    let (diameter_mm, diameter_said) = diameter(facts, plan, solid)?;
    let mut ranges = Vec::new();
    for run in &plan.runs {
        let of_run =
            if solid { solid_ranges(facts, plan, diameter_mm, run.transfer) } else { cored_ranges(plan, diameter_mm) };
        ranges.push(match of_run.or_else(|| run.line.as_ref().and_then(by_itself)) {
            Some(ranges) => ranges,
            None => {
                return Err(nothing(
                    format!("no table has settings for this wire at {} mm", figure(diameter_mm)),
                    facts,
                ));
            }
        });
    }
    // A line that is printed for the very sheet goes before those near it.
    let point = if solid { starting_point(facts, plan, diameter_mm) } else { None };
    let mut lines = first_lines(facts, polarity(facts, plan));
    let modes: Vec<Option<Transfer>> = plan.runs.iter().map(|run| run.transfer).collect();
    let shared = modes.first().copied().flatten().filter(|_| modes.windows(2).all(|pair| pair.first() == pair.last()));
    if let (Some(mode), Some(run)) = (shared, plan.runs.first()) {
        lines.push(Entry::Key("transfer_mode", transfer(mode, run)));
    }
    let flux = facts.process.uses_flux.then(|| rule(planning::TIP_TO_WORK_FLUX));
    let flux = flux.map(|(times, source)| (scaled(times, diameter_mm), source));
    let tips: Vec<Option<Tip>> = ranges.iter().map(|ranges| tip(ranges, point).or_else(|| flux.clone())).collect();
    // A root by short circuits is welded with the torch nearer than the runs over it.
    let one_tip = tips.windows(2).all(|pair| pair.first() == pair.last());
    if one_tip {
        lines.push(tip_line(tips.first().and_then(Option::as_ref)));
    }
    if facts.process.uses_shielding_gas {
        lines.push(gas_block(facts, plan, diameter_mm, ranges.last(), point, solid));
    }
    lines.extend(trailing_gas(facts));
    lines.push(technique_lines(facts, Vec::new()));
    let wire = Wire::new(facts, diameter_mm, point);
    let runs = plan
        .runs
        .iter()
        .zip(&ranges)
        .zip(&tips)
        .map(|((run, ranges), tip)| {
            let mut settings = run::settings(facts, plan, run, ranges, &wire)?;
            if !one_tip {
                settings.lines.insert(0, tip_line(tip.as_ref()));
            }
            if let (None, Some(mode)) = (shared, run.transfer) {
                settings.lines.insert(0, Entry::Key("transfer_mode", transfer(mode, run)));
            }
            Ok(settings)
        })
        .collect::<Result<Vec<_>, Refused>>()?;
    let filler = vec![Entry::Key("diameter", Value::new(format!("{} mm", figure(diameter_mm)), diameter_said))];
    Ok(Settings { filler, process: lines, runs, low_hydrogen: run::LOW_HYDROGEN })
}

fn polarity(facts: &Facts, plan: &Plan) -> Value {
    let permitted: &[Polarity] = plan.filler.reads.as_ref().map_or(&[], |reads| &reads.polarity);
    let usual = &facts.process.polarity_usual;
    let own = if facts.process.shielded_wire(Kind::Solid) { &[] } else { permitted };
    let chosen = usual.iter().find(|word| own.is_empty() || own.contains(word)).or(own.first()).or(usual.first());
    let said = if own.is_empty() {
        Said::table(facts.process.origin.source_of("polarity_usual"))
    } else {
        Said::how(facts.process.origin.source_of("polarity_usual"), "as the class permits it")
    };
    Value::new(chosen.map_or("DCEP", |word| word.as_str()), said)
}

fn transfer(mode: Transfer, run: &Run) -> Value {
    let word = match mode {
        Transfer::ShortCircuit => "short-circuit",
        Transfer::Globular => "globular",
        Transfer::Spray => "spray",
        Transfer::Pulsed => "pulsed",
    };
    Value::new(word, Said::how(run.row.origin.source_ref(), "by thickness and position"))
}

/// The class whose settings serve: its own, or that of the like.
fn cored_class(plan: &Plan) -> &str {
    let own =
        fcaw::rows().iter().any(|row| fcaw::range(&plan.filler.class, row.diameter_mm, Setting::Current).is_some());
    match plan.like {
        Some(like) if !own => like.like,
        _ => &plan.filler.class,
    }
}

/// Diameter of the wire: the planned one, or the next larger one that has settings in every mode.
fn diameter(facts: &Facts, plan: &Plan, solid: bool) -> Result<(f64, Said), Refused> {
    let run = plan.runs.last().or(plan.runs.first());
    let (mode, which) = run.map_or((None, Part::Root), |run| (run.transfer, run.part));
    if let Some(size) = facts.size_mm() {
        return Ok((sold(size), facts.size_said()));
    }
    let row = planning::size(facts.process.number, mode, facts.thickness_mm, which, facts.attitude())
        .ok_or_else(|| nothing("electrode-size has no row for this process".to_owned(), facts))?;
    // The edge of a thin lap of light metal takes a thinner wire.
    let (edge, source) = rule(planning::LAP_WIRE_LIGHT);
    let thin = facts.joint == JointType::Lap && facts.thickness_mm <= rule(planning::LAP_WIRE_LIGHT_TO).0.high;
    let lap = (thin && facts.process.inert_gas_alone()).then_some(edge.high);
    let has = |size: f64| {
        plan.runs.iter().all(|run| {
            if solid {
                solid_ranges(facts, plan, size, run.transfer).is_some()
            } else {
                cored_ranges(plan, size).is_some()
            }
        })
    };
    if let Some(size) = lap.filter(|size| has(*size)) {
        return Ok((size, Said::table(source)));
    }
    if let Some((size, said)) = by_line(plan, row.diameter_mm, solid).filter(|(size, _)| !solid || has(*size)) {
        return Ok((size, said));
    }
    let said = Said::table(row.origin.source_ref());
    if has(row.diameter_mm) {
        return Ok((row.diameter_mm, said));
    }
    let mut sizes: Vec<f64> = if solid {
        gmaw::rows().iter().map(|row| row.diameter_mm).collect()
    } else {
        fcaw::rows().iter().map(|row| row.diameter_mm).collect()
    };
    sizes.sort_by(f64::total_cmp);
    let larger = sizes.iter().copied().find(|size| *size > row.diameter_mm && has(*size));
    let size = larger.or(sizes.iter().rev().copied().find(|size| has(*size)));
    let size = size.ok_or_else(|| nothing("no table has settings for this wire".to_owned(), facts))?;
    Ok((
        size,
        Said::how(
            row.origin.source_ref(),
            format!("the size nearest to {} mm that has settings", figure(row.diameter_mm)),
        ),
    ))
}

/// The wire of the line of the last run; sizes are those that are sold.
fn by_line(plan: &Plan, planned_mm: f64, solid: bool) -> Option<(f64, Said)> {
    let line = plan.runs.last()?.line?;
    let wire = line.row.wire()?;
    // Of a range of sizes the planned one, where it is among them; solid wire is sold by the tenth of a millimetre, cored wire in
    // coarser steps.
    let thinner = if solid { 0.95 } else { 0.87 };
    let size = if Band::new(thinner * wire.low, 1.05 * wire.high).contains(planned_mm) { planned_mm } else { wire.low };
    let sold = sold(size);
    Some((sold, Said::how(line.source("wire_mm"), line.how())))
}

/// The metric size by which a wire is sold.
fn sold(size_mm: f64) -> f64 {
    const SOLD: [f64; 11] = [0.6, 0.8, 0.9, 1.0, 1.2, 1.6, 2.0, 2.4, 3.2, 4.0, 4.8];
    let off = |own: &f64| (own / size_mm).ln().abs();
    SOLD.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(size_mm)
}

/// A distance in whole millimetres of so many wire diameters.
fn scaled(times: Band, diameter_mm: f64) -> Band {
    rounded(times.scaled(diameter_mm), 1.0)
}

/// What several rows have in common, where they have something.
fn common(ranges: impl Iterator<Item = (Band, SourceRef)>) -> Option<(Band, SourceRef)> {
    ranges.reduce(|(range, source), (other, _)| (range.overlap(other).unwrap_or(range), source))
}

fn solid_ranges(facts: &Facts, plan: &Plan, diameter_mm: f64, mode: Option<Transfer>) -> Option<Ranges> {
    let wire = plan.like?.like;
    let rows = gmaw::settings(wire, diameter_mm, mode);
    // Rows for this thickness go before those of the full range of the wire.
    let own = |row: &&&gmaw::Row| row.thickness_mm.is_some_and(|range| range.contains(facts.thickness_mm));
    let (for_thickness, full): (Vec<_>, Vec<_>) = rows.iter().copied().partition(|row| own(&row));
    let rows = if for_thickness.is_empty() {
        full.into_iter().filter(|row| row.thickness_mm.is_none()).collect()
    } else {
        for_thickness
    };
    let mut current = common(rows.iter().map(|row| (row.current_a, row.origin.source_of("current_a"))))?;
    let voltage = common(rows.iter().map(|row| (row.voltage_v, row.origin.source_of("voltage_v"))));
    let feed =
        common(rows.iter().filter_map(|row| Some((row.wire_feed_m_min?, row.origin.source_of("wire_feed_m_min")))));
    let ratio = plan.like?.current_ratio;
    current.0 = Band::new(ratio.low * current.0.low, ratio.high * current.0.high);
    let whole_a = current.0;
    let travel =
        common(rows.iter().filter_map(|row| Some((row.travel_mm_min?, row.origin.source_of("travel_mm_min")))))
            // Such rows are for flat work and fuse a corner; the edge of a lap asks for more speed.
            .filter(|_| facts.attitude() == Attitude::Flat && facts.joint != JointType::Lap && plan.runs.len() == 1);
    let mut how = String::new();
    if mode == Some(Transfer::Spray) {
        let mixture: Vec<String> = plan
            .gas
            .iter()
            .flat_map(|gas| &gas.parts)
            .map(|(name, percent)| format!("{}{name}", figure(*percent)))
            .collect();
        if let Some(above) = gmaw::spray_above(wire, diameter_mm, &mixture.join("-"))
            && above.envelope.high > current.0.low
            && above.envelope.high < current.0.high
        {
            current.0.low = above.envelope.high;
            how = format!("spray from {} A on (spray-transition)", figure(above.envelope.high));
        }
    }
    let wanted = match mode {
        Some(Transfer::ShortCircuit) if diameter_mm >= rule(planning::THICK_WIRE_FROM).0.high => {
            gmaw::TIP_TO_WORK_THICK_SHORT_CIRCUIT
        }
        Some(Transfer::ShortCircuit) => gmaw::TIP_TO_WORK_SHORT_CIRCUIT,
        Some(Transfer::Pulsed) => gmaw::TIP_TO_WORK_PULSED,
        _ => gmaw::TIP_TO_WORK_SPRAY,
    };
    let tip = rows.iter().find_map(|row| Some((row.tip_to_work_mm?, row.origin.source_of("tip_to_work_mm"))));
    let flow = rows.iter().find_map(|row| Some((row.gas_flow_l_min?, row.origin.source_of("gas_flow_l_min"))));
    // The flow of a spray serves metal cored wire in every mode.
    let cored = (wire == "metal-cored").then(|| rule(gmaw::GAS_FLOW_SPRAY));
    let (per_mm, per_wire) = rule(gmaw::GAS_FLOW_PER_WIRE);
    // The thinnest wire takes the least flow that shields at all.
    let counted_mm = diameter_mm.max(gmaw::GAS_FLOW_WIDEST.value.low / per_mm.low);
    let per_wire = (per_mm.scaled(counted_mm), per_wire);
    Some(Ranges {
        current,
        whole_a,
        voltage,
        feed,
        tip_to_work: Some(tip.unwrap_or_else(|| rule(wanted))),
        gas_flow: Some(flow.or(cored).unwrap_or(per_wire)),
        travel,
        how,
    })
}

/// The ranges of a line alone, where no table has the wire.
fn by_itself(line: &Line) -> Option<Ranges> {
    let current = line.current()?;
    Some(Ranges {
        current: (current, line.source("current_a")),
        whole_a: current,
        voltage: line.voltage().map(|range| (range, line.source("voltage_v"))),
        feed: line.feed().map(|range| (range, line.source("wire_feed_m_min"))),
        tip_to_work: None,
        gas_flow: line.row.flow_l_min.map(|range| (range, line.source("flow_l_min"))),
        travel: None,
        how: String::new(),
    })
}

fn cored_ranges(plan: &Plan, diameter_mm: f64) -> Option<Ranges> {
    let class = cored_class(plan);
    let of = |setting| fcaw::range(class, diameter_mm, setting).map(|limits| (limits.envelope, limits.source));
    let how =
        if class == plan.filler.class { String::new() } else { format!("settings of {class}, which serve the class") };
    let current = of(Setting::Current)?;
    Some(Ranges {
        whole_a: current.0,
        current,
        voltage: of(Setting::Voltage),
        feed: of(Setting::WireFeed),
        tip_to_work: of(Setting::TipToWork),
        gas_flow: Some(of(Setting::GasFlow).unwrap_or_else(|| rule(fcaw::GAS_FLOW_THIN))),
        travel: None,
        how,
    })
}

/// The published line for thin carbon steel, where one is near and the wire carries it.
fn starting_point(facts: &Facts, plan: &Plan, diameter_mm: f64) -> Option<&'static StartingPoint> {
    // They fuse the corner between two faces; the edges of a lap or an outside corner would melt away.
    if !facts.mag()
        || matches!(facts.joint, JointType::Lap | JointType::Corner)
        || (facts.groove() && facts.attitude() == Attitude::Other)
        || plan.like?.like != "carbon-steel"
        || plan.runs.len() > 1
    {
        return None;
    }
    let joint = if facts.groove() { Joint::Butt } else { Joint::Tee };
    let off = |point: &&'static StartingPoint| (point.thickness_mm - facts.thickness_mm).abs();
    let point =
        gmaw::starting_points().iter().filter(|point| point.joint == joint).min_by(|a, b| off(a).total_cmp(&off(b)))?;
    // A line speaks for its own sheet and what lies half way to the next.
    if off(&point) > 0.35 * point.thickness_mm {
        return None;
    }
    let envelope = |setting| gmaw::range("carbon-steel", diameter_mm, Some(Transfer::ShortCircuit), setting);
    let fits = envelope(Setting::Current)?.envelope.covers(point.current_a)
        && envelope(Setting::Voltage)?.envelope.covers(point.voltage_v);
    let wire = point.diameter_mm.low * 0.95 <= diameter_mm && diameter_mm <= point.diameter_mm.high * 1.05;
    (fits && wire).then_some(point)
}

/// Distance of contact tip to work, mm, and where it is written.
type Tip = (Band, SourceRef);

/// The distance of a run: that of its starting point, else of its wire, else of its mode of transfer.
fn tip(ranges: &Ranges, point: Option<&StartingPoint>) -> Option<Tip> {
    let of_point = point.map(|point| (point.tip_to_work_mm, point.origin.source_of("tip_to_work_mm")));
    of_point.or_else(|| ranges.tip_to_work.clone())
}

fn tip_line(tip: Option<&Tip>) -> Entry {
    match tip {
        Some((range, source)) => Entry::Key("contact_tip_to_work", ranged(*range, "mm", source.clone())),
        None => Entry::Remark("contact_tip_to_work: decide: as the wire maker says".to_owned()),
    }
}

fn gas_block(
    facts: &Facts,
    plan: &Plan,
    diameter_mm: f64,
    ranges: Option<&Ranges>,
    point: Option<&StartingPoint>,
    solid: bool,
) -> Entry {
    let mut lines = Vec::new();
    if let Some(gas) = &plan.gas {
        lines.push(Entry::Key("designation", Value::new(gas.symbol.clone(), gas.said.clone())));
        if !gas.parts.is_empty() {
            let said = Said::Follows("the mixture that the settings are for".into());
            let part =
                |(name, percent): &(&'static str, f64)| Entry::Figure(name, Value::new(figure(*percent), said.clone()));
            let entries = gas.parts.iter().map(part);
            lines.push(Entry::Block("composition", entries.collect()));
        }
    }
    let of_line = plan.runs.last().and_then(|run| run.line).and_then(|line| Some((line.row.flow_l_min?, line)));
    let of_line = of_line.filter(|_| point.is_none());
    if let Some((range, line)) = of_line {
        lines.push(Entry::Key(
            "flow",
            Value::new(span(range, "L/min"), Said::how(line.source("flow_l_min"), line.how())),
        ));
        return Entry::Block("shielding_gas", lines);
    }
    if facts.process.inert_gas_alone() {
        let (range, source) = crate::figures::rule(planning::GAS_FLOW_131);
        lines.push(Entry::Key("flow", ranged(range, "L/min", source)));
        return Entry::Block("shielding_gas", lines);
    }
    let flow = match (point, ranges.and_then(|ranges| ranges.gas_flow.as_ref())) {
        (Some(point), _) => Some(ranged(point.gas_flow_l_min, "L/min", point.origin.source_of("gas_flow_l_min"))),
        (None, Some((range, source))) => {
            let how = if solid { format!("for wire of {} mm", figure(diameter_mm)) } else { String::new() };
            Some(Value::new(span(rounded(*range, 0.5), "L/min"), Said::how(source.clone(), how)))
        }
        (None, None) => None,
    };
    match flow {
        Some(flow) => lines.push(Entry::Key("flow", flow)),
        None => lines.push(Entry::Remark("flow: decide: as the wire maker says".to_owned())),
    }
    Entry::Block("shielding_gas", lines)
}
