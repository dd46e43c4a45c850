//! Settings of the tungsten arc: starting points give the current, the current gives tungsten, nozzle, flow and torch.

use seamwright_handbook::gtaw_starting_points::{self as starting, Joint};
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{self, Part};
use seamwright_handbook::technique::gas_timing;
use seamwright_handbook::tungsten_current::{self, CurrentType};
use seamwright_handbook::tungsten_types::{self, Group, Suits};
use seamwright_handbook::{
    Band, deposition, find, gas_nozzles, gtaw_polarity, nozzle_gas_flow, process_suitability, setting_limits, torches,
    tungsten_stickout, tungsten_tips,
};
use seamwright_model::procedure::JointType;

use crate::begin::{Line, narrowed};
use crate::bench::Bench;
use crate::cooling::{self, Arc};
use crate::facts::Facts;
use crate::figures::{opened, opened_current, part, rounded, rule, share, span, stepped};
use crate::machine;
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::plan::{Plan, Run};
use crate::refused::Refused;
use crate::settings::{
    Entry, RunSettings, Settings, first_lines, no_wider, ranged, technique_lines, trailing_gas, travel_about,
    travel_by_rate, travel_said,
};

/// A starting point with its current for this metal and attitude.
struct Start {
    row: &'static starting::Row,
    /// The line of settings that gives current and travel, where one is near.
    line: Option<Line>,
    current_a: Band,
}

pub(crate) fn settings(facts: &Facts, plan: &Plan) -> Result<Settings, Refused> {
    let polarity_row = gtaw_polarity::get(facts.metal.family);
    let suited: Vec<&str> = polarity_row.map(|row| row.suited.to_vec()).unwrap_or_default();
    let polarity = machine::polarity(facts, &suited)?.unwrap_or("DCEN");
    let alternating = polarity == "AC";
    let mut starts = Vec::new();
    for run in &plan.runs {
        starts.push(start(facts, plan, run)?);
    }
    let runs = plan.runs.iter().zip(&starts).map(|(run, start)| run_settings(facts, plan, run, start, alternating));
    let runs: Vec<RunSettings> = runs.collect::<Result<_, _>>()?;
    let all = starts.iter().map(|start| start.current_a).reduce(Band::hull).unwrap_or(Band::at(0.0));
    // The heat of the metal may have asked for more than the tables begin with.
    let most = runs.iter().map(|run| run.current_a.high).fold(all.high, f64::max);
    let all = Band::new(all.low, most);
    let kind = if alternating { CurrentType::Ac } else { CurrentType::Dcen };
    let of_line = |start: &Start| start.line.filter(|_| facts.groove() && facts.diameter.is_some())?.row.tungsten_mm;
    let designed =
        starts.first().map_or(0.0, |start| listed(of_line(start).map_or(start.row.electrode_mm.low, |own| own.low)));
    let (electrode_mm, electrode_said) = electrode(facts, kind, designed, all, &starts)
        .ok_or_else(|| nothing(format!("no tungsten electrode carries {}", span(all, "A")), facts))?;

    let polarity = Value::new(
        polarity,
        polarity_row.map_or(Said::Decide("polarity".into()), |row| Said::table(row.origin.source_ref())),
    );
    let mut lines = first_lines(facts, polarity);
    let reactive = process_suitability::family(facts.metal.family)
        .is_some_and(|row| row.trailing_gas == process_suitability::Need::Needed);
    let nozzle = nozzle(facts, electrode_mm);
    lines.push(tungsten_block(
        facts,
        alternating,
        electrode_mm,
        electrode_said,
        nozzle.as_ref().map(|nozzle| nozzle.1),
        reactive,
        all,
    ));
    lines.push(torch_block(facts, alternating, all, electrode_mm, nozzle.as_ref(), reactive));
    lines.push(gas_block(facts, plan, electrode_mm, nozzle.as_ref().map(|nozzle| nozzle.0), reactive, all));
    lines.extend(trailing_gas(facts));
    let (start, start_said) = machine::arc_start(facts, alternating);
    lines.push(Entry::Key("arc_start", Value::new(start.as_str(), start_said)));
    lines.push(Entry::Remark(
        "current_control: decide: fixed, torch-switch or foot-pedal, as the machine has it".to_owned(),
    ));
    let without = facts.bench.as_ref().map(Bench::machine);
    let without = without.filter(|machine| machine.slopes.as_ref().is_some_and(|has| !has.0));
    if let Some(machine) = without {
        lines.push(Entry::Remark(format!(
            "no slopes, as {} has none: fill the crater, then draw the arc out quickly and hold the gas over it",
            machine.name
        )));
    }
    for (key, own) in [("up_slope", gas_timing::UP_SLOPE), ("down_slope", gas_timing::DOWN_SLOPE)] {
        if without.is_some() {
            continue;
        }
        let (time, source) = rule(own);
        lines.push(Entry::Key(key, ranged(time, "s", source)));
    }
    let mut more = Vec::new();
    if let Some(row) = setting_limits::get(setting_limits::FILLER_ANGLE, facts.process.number) {
        more.push(Entry::Key("filler_angle", ranged(row.usual, "deg", row.origin.source_ref())));
    }
    lines.push(technique_lines(facts, more));

    let filler_mm = starts.last().map_or(Band::at(0.0), |start| start.row.filler_mm);
    let filler_said = starts.last().map_or(Said::Given, |start| Said::table(start.row.origin.source_of("filler_mm")));
    let (thickest, _) = rule(planning::PIPE_ROD_MOST);
    let thin = facts.diameter.is_some() || all.high <= rule(planning::ROD_THIN_UP_TO).0.high;
    let rod = if thin { filler_mm.low.min(thickest.high) } else { filler_mm.low };
    let (rod, filler_said) = facts.size_mm().map_or((rod, filler_said), |own| (own, facts.size_said()));
    let filler = vec![Entry::Key("diameter", Value::new(format!("{} mm", figure(rod)), filler_said))];
    Ok(Settings { filler, process: lines, runs, low_hydrogen: true })
}

/// The starting point of a run: that of the whole thickness where one run does, else of what one run melts.
fn start(facts: &Facts, plan: &Plan, of_run: &Run) -> Result<Start, Refused> {
    let (run, use_share) = (of_run.part, of_run.row.current_share);
    let Some(like) = plan.like else {
        return Err(nothing("starting-families has no row for this metal".to_owned(), facts));
    };
    let joint = match facts.joint {
        JointType::Butt | JointType::Edge | JointType::Cavity => Joint::Butt,
        JointType::Tee => Joint::Tee,
        JointType::Lap => Joint::Lap,
        JointType::Corner => Joint::Corner,
    };
    let (root, _) = rule(planning::RUN_THICKNESS_ROOT);
    let (fill, _) = rule(planning::RUN_THICKNESS_FILL);
    let several = plan.runs.len() > 1;
    let most = if several && run == Part::Root && facts.groove() { root.high } else { fill.high };
    let thickness = facts.thickness_mm.min(most);
    let mut rows = starting::near(like.like, thickness, joint);
    if rows.is_empty() {
        // Nothing at this thickness: the nearest that the table has for the joint.
        let of_family =
            starting::rows().iter().filter(|row| row.joints.contains(&joint) && row.metals.contains(&like.like));
        let off = |row: &&'static starting::Row| (row.thickness_mm.middle() - thickness).abs();
        rows = of_family.min_by(|a, b| off(a).total_cmp(&off(b))).into_iter().collect();
    }
    let here = rows.iter().find(|row| row.position == facts.position.code).or(rows.first());
    let row =
        here.ok_or_else(|| nothing("gtaw-starting-points has no line for this metal and joint".to_owned(), facts))?;
    if let Some((line, current)) = of_run.line.and_then(|line| Some((line, by_line(facts, plan, of_run, line)?))) {
        // Where a starting point for the very joint meets the line, both are kept.
        let listed =
            Band::new(row.current_a.low * like.current_ratio.low, row.current_a.high * like.current_ratio.high);
        let single = plan.runs.len() == 1 && row.thickness_mm.contains(facts.thickness_mm);
        let both = match current.overlap(listed).filter(|_| single) {
            Some(both) if both.high - both.low >= 10.0 => both,
            Some(both) => Band::new((0.9 * both.high).max(listed.low), both.high),
            None => current,
        };
        return Ok(Start { row, line: Some(line), current_a: machine::reached(facts, rounded(both, 5.0))? });
    }
    let ratio = like.current_ratio;
    let current = Band::new(row.current_a.low * ratio.low, row.current_a.high * ratio.high);
    Ok(Start { row, line: None, current_a: machine::reached(facts, rounded(part(current, use_share), 5.0))? })
}

/// The current of a line: on a flat line a little less out of position, over the root of a pipe a little more.
fn by_line(facts: &Facts, plan: &Plan, run: &Run, line: Line) -> Option<Band> {
    let mut current = line.current()?;
    if !line.of_position {
        current = part(current, Band::new(0.0, 0.8));
    }
    if facts.diameter.is_some() && plan.runs.len() > 1 && run.part == Part::Fill {
        let over = rule(if facts.thickness_mm > 5.5 {
            planning::PIPE_FILL_OVER_ROOT_THICK
        } else {
            planning::PIPE_FILL_OVER_ROOT
        })
        .0;
        let root = plan.runs.first()?.line?.current()?;
        current = Band::new(root.low * over.low, root.high * over.high);
    }
    Some(current)
}

/// The size that nozzles and tips are listed for at a size of a line: the same, else the next larger one.
fn listed(size_mm: f64) -> f64 {
    let same = nozzle_gas_flow::for_electrode(size_mm).is_some().then_some(size_mm);
    let sizes = || sizes().into_iter();
    let near = same.and_then(|own| sizes().find(|size| find::same_size(*size, own)));
    near.or_else(|| sizes().find(|size| *size > size_mm)).unwrap_or(size_mm)
}

/// The sizes of tungsten electrode, mm, that nozzles and tips are listed for, the smallest first.
fn sizes() -> Vec<f64> {
    let mut sizes: Vec<f64> = tungsten_current::rows().iter().map(|row| row.diameter_mm).collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup();
    sizes.retain(|size| nozzle_gas_flow::for_electrode(*size).is_some());
    sizes
}

/// The electrode of the starting point if it carries the current, else the smallest that does.
fn electrode(
    facts: &Facts,
    kind: CurrentType,
    designed_mm: f64,
    current_a: Band,
    starts: &[Start],
) -> Option<(f64, Said)> {
    let carries = |size: f64| {
        tungsten_current::range(Group::Oxide, kind, size).filter(|limits| limits.envelope.covers(current_a))
    };
    let (full, _) = rule(planning::TUNGSTEN_USE);
    let usual = |size: f64| {
        let easy = |usual: Band| usual.low <= current_a.high && current_a.high <= full.high / 100.0 * usual.high;
        carries(size).is_some_and(|limits| limits.usual.is_none_or(easy))
    };
    let sizes = sizes();
    let first = Some(designed_mm).filter(|_| !starts.is_empty());
    let fitting = first.into_iter().chain(sizes.iter().copied()).filter(|size| usual(*size));
    let size = machine::stocked(facts, fitting, |bench, size| bench.has_tungsten(None, *size))
        .or(sizes.iter().copied().find(|size| carries(*size).is_some()))?;
    if let Some(start) = starts.first().filter(|_| find::same_size(size, designed_mm)) {
        return Some((size, Said::table(start.row.origin.source_of("electrode_mm"))));
    }
    let source = carries(size)?.source;
    Some((size, Said::how(source, "the smallest that carries the current of every run")))
}

/// Number, bore in mm and source of a nozzle for an electrode.
fn nozzle(facts: &Facts, electrode_mm: f64) -> Option<(u32, f64, Said)> {
    let row = nozzle_gas_flow::for_electrode(electrode_mm)?;
    let least = nozzle_gas_flow::BORE_OVER_ELECTRODE.value.low * electrode_mm;
    let middle = row.nozzle.middle();
    // Metal that takes up air while it is hot wants a wide shield.
    let reactive = process_suitability::family(facts.metal.family)
        .is_some_and(|family| family.trailing_gas == process_suitability::Need::Needed);
    let (wide, _) = rule(planning::NOZZLE_FOR_REACTIVE);
    let range = if reactive { wide } else { row.nozzle };
    let fits = |own: &&gas_nozzles::Row| range.contains(f64::from(own.number)) && own.bore_mm >= least;
    let mut fitting: Vec<_> = gas_nozzles::rows().iter().filter(fits).collect();
    let off = |own: &gas_nozzles::Row| (f64::from(own.number) - middle).abs();
    fitting.sort_by(|a, b| off(a).total_cmp(&off(b)));
    let chosen = machine::stocked(facts, fitting, |bench, own| bench.has_nozzle(Some(own.number), own.bore_mm))?;
    Some((chosen.number, chosen.bore_mm, Said::table(row.origin.source_of("nozzle"))))
}

fn tungsten_block(
    facts: &Facts,
    alternating: bool,
    electrode_mm: f64,
    electrode_said: Said,
    bore_mm: Option<f64>,
    lens: bool,
    current_a: Band,
) -> Entry {
    let mut lines = Vec::new();
    // Good on both kinds of current and not radioactive; of several the one with the middle oxide content.
    let mut types: Vec<_> = tungsten_types::rows()
        .iter()
        .filter(|row| row.dc == Suits::Good && row.ac == Suits::Good && !row.radioactive && !row.withdrawn)
        .collect();
    types.sort_by(|a, b| {
        let content = |row: &tungsten_types::Row| row.oxide_pct.map_or(0.0, |range| range.middle());
        content(a).total_cmp(&content(b))
    });
    let third = types.len() / 3;
    types.rotate_left(third);
    if let Some(row) = machine::stocked(facts, types, |bench, row| bench.has_tungsten(Some(row.iso6848), electrode_mm))
    {
        let said =
            Said::how(row.origin.source_of("iso6848"), format!("suits both kinds of current; {} end", row.colour));
        lines.push(Entry::Key("designation", Value::new(row.iso6848, said)));
    }
    lines.push(Entry::Key("diameter", Value::new(format!("{} mm", figure(electrode_mm)), electrode_said)));
    if alternating {
        let ball = tungsten_tips::BALL;
        lines.push(Entry::Remark(format!(
            "tip: {} up to {} {} (tungsten-tip-rules, {}); a blunt cone on machines with inverter",
            "a ball forms on alternating current,",
            figure(ball.value.high),
            ball.unit,
            ball.origin.basis.as_str()
        )));
    } else {
        let shapes = tungsten_tips::for_electrode(electrode_mm);
        let shape = shapes.iter().find(|row| row.constant_a.contains(current_a.middle())).or(shapes.last());
        let angle = if let Some(row) = shape {
            Value::new(format!("{} deg", figure(row.included_angle_deg)), Said::table(row.origin.source_ref()))
        } else {
            let (angle, source) = rule(tungsten_tips::INCLUDED_ANGLE);
            ranged(angle, "deg", source)
        };
        lines.push(Entry::Key("included_angle", angle));
    }
    if let Some(limits) = tungsten_stickout::range(lens, electrode_mm, bore_mm) {
        let most = limits.usual.unwrap_or(limits.envelope).high;
        let shown = (most * 2.0).floor() / 2.0;
        let said = Said::how(limits.source, format!("up to {} mm", figure(most)));
        lines.push(Entry::Key("stickout", Value::new(format!("{} mm", figure(shown)), said)));
    }
    Entry::Block("tungsten", lines)
}

fn torch_block(
    facts: &Facts,
    alternating: bool,
    current_a: Band,
    electrode_mm: f64,
    nozzle: Option<&(u32, f64, Said)>,
    lens: bool,
) -> Entry {
    let mut lines = Vec::new();
    let rating = |row: &torches::Row| row.current(alternating).usual.map_or(0.0, |usual| usual.high);
    let mut fitting: Vec<&torches::Row> = torches::rows()
        .iter()
        .filter(|row| rating(row) >= current_a.high && row.electrode_mm.contains(electrode_mm))
        .collect();
    // One that is not used up to its rating first, then gas cooling, then the lightest.
    let (share, _) = rule(planning::TORCH_USE);
    // Water keeps a torch cool at its rating.
    let hot = |row: &torches::Row| row.cooling == "gas" && share.high / 100.0 * rating(row) < current_a.high;
    let order = |row: &torches::Row| (hot(row), row.cooling != "gas");
    fitting.sort_by(|a, b| order(a).cmp(&order(b)).then(rating(a).total_cmp(&rating(b))));
    match machine::stocked(facts, fitting, |bench, row| bench.has_torch(row.size)) {
        Some(row) => {
            let limits = row.current(alternating);
            let said = Said::how(limits.source.clone(), format!("rated {} A", figure(rating(row))));
            lines.push(Entry::Key("size", Value::new(row.size, said)));
            lines.push(Entry::Key("cooling", Value::new(row.cooling, Said::table(row.origin.source_of("cooling")))));
        }
        None => lines.push(Entry::Remark("size: decide: no listed torch is rated for the current".to_owned())),
    }
    if let Some((number, bore, said)) = nozzle {
        let said = match said {
            Said::Table(source, _) => Said::how(source.clone(), format!("bore {} mm", figure(*bore))),
            other => other.clone(),
        };
        lines.push(Entry::Key("nozzle", Value::new(format!("No. {number}"), said)));
    }
    let word = if lens { "yes" } else { "no" };
    lines.push(Entry::Key(
        "gas_lens",
        Value::new(word, Said::Decide("a gas lens gives a calmer shield and a longer stickout".into())),
    ));
    Entry::Block("torch", lines)
}

fn gas_block(facts: &Facts, plan: &Plan, electrode_mm: f64, number: Option<u32>, lens: bool, current_a: Band) -> Entry {
    let mut lines = Vec::new();
    if let Some(gas) = &plan.gas {
        lines.push(Entry::Key("designation", Value::new(gas.symbol.clone(), gas.said.clone())));
    }
    let of_nozzle = number.and_then(|number| nozzle_gas_flow::range(number, lens));
    let of_electrode = nozzle_gas_flow::for_electrode(electrode_mm);
    if let (Some(limits), Some(row)) = (of_nozzle, of_electrode) {
        let usual = limits.usual.unwrap_or(limits.envelope);
        let of_line = plan.runs.first().and_then(|run| run.line).and_then(|line| line.row.flow_l_min);
        // A pipe has the flow of its line.
        let pipe = of_line.filter(|_| facts.diameter.is_some() && facts.groove());
        let wanted = if lens { rule(planning::FLOW_FOR_REACTIVE).0 } else { pipe.unwrap_or(row.usual_l_min) };
        let flow = usual.overlap(wanted).unwrap_or(usual);
        // A range that a flow meter can be set within, as far as the nozzle goes.
        let (width, _) = rule(planning::FLOW_WIDTH);
        let flow = Band::new(flow.low, flow.high.max(usual.high.min(width.high * flow.low)));
        let said = Said::how(row.origin.source_of("usual_l_min"), "and within nozzle-gas-flow");
        lines.push(Entry::Key("flow", Value::new(span(rounded(flow, 0.5), "L/min"), said)));
    } else {
        lines.push(Entry::Remark("flow: decide: no table has the flow for this electrode".to_owned()));
    }
    let (before, source) = rule(gas_timing::PRE_FLOW);
    lines.push(Entry::Key("pre_flow", ranged(before, "s", source)));
    let (per_ten, source) = rule(gas_timing::POST_FLOW_PER_10_A);
    let (least, _) = rule(gas_timing::POST_FLOW_LEAST);
    let asked = (current_a.high / 10.0 * per_ten.high).ceil().max(least.high);
    let said = Said::how(source, "one second for each 10 A, and not under the least time");
    lines.push(Entry::Key("post_flow", Value::new(format!("{} s", figure(asked)), said)));
    Entry::Block("shielding_gas", lines)
}

fn run_settings(
    facts: &Facts,
    plan: &Plan,
    run: &crate::plan::Run,
    start: &Start,
    alternating: bool,
) -> Result<RunSettings, Refused> {
    let current_a = no_wider(start.current_a, setting_limits::WIDTH_OF_CURRENT, facts);
    let step = if current_a.low < 40.0 { 1.0 } else { 5.0 };
    let current_a =
        machine::reached(facts, opened_current(rounded(current_a, step), rule(planning::RANGE_LEAST).0.high))?;
    let current_a = run.hold.current(current_a, Band::at_least(0.0));
    // A line may have the voltage of a machine with long cables: what argon has goes before.
    let usual = rule(if alternating { planning::VOLTAGE_TUNGSTEN_AC } else { planning::VOLTAGE_TUNGSTEN_DC });
    let of_line = start.line.and_then(|line| Some((line.row.voltage_v?.overlap(usual.0)?, line)));
    let (voltage_v, voltage_source) = match of_line {
        Some((range, line)) if range.high >= range.low + 1.0 => (range, line.source("voltage_v")),
        _ => usual,
    };
    // The deposition rate rises with the current over the span of the starting points.
    let like = plan.like.map_or("", |like| like.like);
    let spanned = starting::rows().iter().filter(|row| row.metals.contains(&like)).map(|row| row.current_a);
    let spanned = spanned.reduce(Band::hull).unwrap_or(current_a);
    let rate = deposition::rate(facts.process.number).first().map(|row| part(row.rate_kg_h, share(current_a, spanned)));
    let of_line = start.line.and_then(|line| line.travel()).map(|range| narrowed(range, planning::LINE_SPEED_WIDTH));
    let stated = start.row.travel_mm_min.filter(|_| plan.runs.len() == 1 && start.line.is_none());
    let (travel_mm_min, travel) = match (stated, rate) {
        _ if of_line.is_some() => {
            let range = of_line.unwrap_or(run.row.travel_mm_min);
            let said = start.line.map_or(Said::Given, |line| Said::how(line.source("travel_mm_min"), line.how()));
            (stepped(range), said)
        }
        (Some(stated), _) => {
            let about = rounded(
                no_wider(Band::new(0.8 * stated.low, stated.high), setting_limits::WIDTH_OF_SPEED, facts),
                10.0,
            );
            (about, Said::table(start.row.origin.source_of("travel_mm_min")))
        }
        (None, Some(rate)) => {
            let speed = travel_by_rate(facts, run, rate);
            // An open root of pipe is welded no faster than its keyhole is seen.
            let open = facts.diameter.is_some() && facts.groove() && run.part == Part::Root && !plan.shape.square();
            let (root, _) = rule(planning::PIPE_ROOT_SPEED);
            let speed =
                if open && speed.high > root.high { stepped(Band::new(0.8 * root.high, root.high)) } else { speed };
            (speed, travel_said(run.row, "deposition-rate over the cross-section of the run"))
        }
        (None, None) => (travel_about(run), travel_said(run.row, "")),
    };
    // No hand keeps the speed of a machine; thin sheet asks for more.
    let (hand, _) = rule(planning::HAND_SPEED_TUNGSTEN);
    let fast = facts.thickness_mm >= 2.0 && travel_mm_min.high > hand.high;
    let travel_mm_min = if fast { stepped(Band::new(0.8 * hand.high, hand.high)) } else { travel_mm_min };
    let travel = if run.hold.moves_travel(travel_mm_min) {
        travel_said(run.row, "moved to what such joints are welded at")
    } else {
        travel
    };
    let travel_mm_min = opened(run.hold.travel(travel_mm_min), rule(planning::RANGE_LEAST).0.high, 5.0);
    let voltage_v = run.hold.voltage(voltage_v);
    let own = Arc { current_a, voltage_v, travel_mm_min };
    let (Arc { current_a, voltage_v, travel_mm_min }, why) = cooling::held(facts, true, run, Band::at_least(0.0), own);
    let travel = why.map_or(travel, |why| travel_said(run.row, why));
    let ratio = plan.like.map_or(Band::at(1.0), |like| like.current_ratio);
    let mut how = format!("{} of {}", like.replace('-', " "), span(start.row.thickness_mm, "mm"));
    if like != facts.metal.family {
        how = format!("as {how}");
    }
    if ratio.low < 1.0 || ratio.high > 1.0 {
        how.push_str(&format!(", times {}", span(ratio, "").trim_end()));
    }
    if run.row.current_share.high < 1.0 {
        how.push_str(", low part for this position");
    }
    let source = start.line.map_or_else(|| start.row.origin.source_of("current_a"), |line| line.source("current_a"));
    let how = start.line.map_or(how, |line| line.how());
    let lines = vec![
        Entry::Key(
            "current",
            Value::new(span(current_a, "A"), cooling::narrowed(Said::how(source, how), own.current_a, current_a)),
        ),
        Entry::Key(
            "voltage",
            Value::new(span(voltage_v, "V"), cooling::narrowed(Said::table(voltage_source), own.voltage_v, voltage_v)),
        ),
        Entry::Key("travel_speed", Value::new(span(travel_mm_min, "mm/min"), travel)),
    ];
    Ok(RunSettings { current_a, voltage_v, travel_mm_min, laid_mm2: None, lines })
}
