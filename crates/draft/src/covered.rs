//! Settings of covered electrodes: class and size give the current.

use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{self, Part};
use seamwright_handbook::processes::Polarity;
use seamwright_handbook::{Band, SourceRef, aws_d1_1, covered_electrodes, electrode_current, find};

use crate::begin::Line;
use crate::cooling::{self, Arc};
use crate::facts::Facts;
use crate::figures::{THOUSANDTH_MM, opened, opened_current, part, rounded, rule, span, within};
use crate::machine;
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::plan::{Filler, Plan, Run};
use crate::refused::Refused;
use crate::settings::{Entry, RunSettings, Settings, first_lines, technique_lines, travel_about, travel_said};

/// An electrode with its range of current.
struct Electrode {
    diameter_mm: f64,
    said: Said,
    current_a: Band,
    /// What the electrode carries at all.
    reach_a: Band,
    source: SourceRef,
    how: &'static str,
    /// Whether the current is that of a line for the run, and not of the electrode alone.
    of_line: bool,
}

pub(crate) fn settings(facts: &Facts, plan: &Plan) -> Result<Settings, Refused> {
    // One electrode for all runs: that of the fill, unless the root must have a thinner one.
    let several = plan.runs.len() > 1 && plan.runs.iter().any(|run| run.part == Part::Fill);
    let of = |part: Part| plan.runs.iter().find(|run| run.part == part).or(plan.runs.first()).and_then(|run| run.line);
    let own_root = plan.root_filler.as_ref();
    // On a strip or a tile the root takes the electrode of the rest.
    let first = if plan.shape.held() { Part::Fill } else { Part::Root };
    // A cellulosic root has its own size whatever fills the joint.
    let unsized_facts = own_root.filter(|_| facts.sized.is_some()).map(|_| facts.without_size());
    let root_facts = unsized_facts.as_ref().unwrap_or(facts);
    let root = electrode(root_facts, own_root.unwrap_or(&plan.filler), first, of(Part::Root))?;
    let chosen = if facts.part.is_some() {
        // The root is another process's: one electrode fills the rest.
        (electrode(facts, &plan.filler, Part::Fill, of(Part::Fill))?, None)
    } else if several {
        let fill = electrode(facts, &plan.filler, Part::Fill, of(Part::Fill))?;
        let apart = own_root.is_some() || (facts.groove() && root.diameter_mm < fill.diameter_mm);
        if apart { (root, Some(fill)) } else { (fill, None) }
    } else {
        (root, None)
    };
    let (first, second) = chosen;
    let polarity = polarity(facts, plan)?;
    let mut lines = first_lines(facts, polarity);
    let (width, width_source) = rule(planning::BEAD_WIDTH);
    let largest = second.as_ref().map_or(first.diameter_mm, |second| second.diameter_mm);
    let more = vec![
        Entry::Key(
            "maximum_bead_width",
            Value::new(
                format!("{} mm", figure((width.high * largest).round())),
                Said::how(width_source, "times the core diameter"),
            ),
        ),
        Entry::Key(
            "interpass_cleaning",
            Value::new("chip and wire brush", Said::Follows("slag covers the bead".into())),
        ),
    ];
    lines.push(technique_lines(facts, more));
    let runs = plan
        .runs
        .iter()
        .map(|run| {
            let electrode = if run.part == Part::Fill { second.as_ref().unwrap_or(&first) } else { &first };
            run_settings(facts, plan, run, electrode, second.is_some())
        })
        .collect::<Result<Vec<_>, Refused>>()?;
    let mut filler = vec![Entry::Key("diameter", diameter(&first))];
    filler.extend(drying(facts, own_root.unwrap_or(&plan.filler)));
    let mut settings = Settings { filler, process: lines, runs, low_hydrogen: low_hydrogen(plan) };
    if let Some(second) = second {
        let mut thicker = vec![
            Entry::Key("designation", Value::new(plan.filler.class.clone(), plan.filler.said.clone())),
            Entry::Key("diameter", diameter(&second)),
        ];
        thicker.extend(drying(facts, &plan.filler));
        settings.filler.push(Entry::Block("fill-electrode", thicker));
    }
    Ok(settings)
}

/// Whether the covering is of the low-hydrogen kind.
fn low_hydrogen(plan: &Plan) -> bool {
    let reads = plan.filler.reads.as_ref();
    plan.filler.covered.map(|row| row.low_hydrogen).or(reads.and_then(|own| own.low_hydrogen)) == Some(true)
}

fn diameter(electrode: &Electrode) -> Value {
    Value::new(format!("{} mm", figure(electrode.diameter_mm)), electrode.said.clone())
}

/// Re-drying and holding of a low-hydrogen covering, as its code asks.
fn drying(facts: &Facts, filler: &Filler) -> Vec<Entry> {
    let asked = facts.under_aws_d1_1().then(|| aws_d1_1::exposure(&filler.class)).flatten();
    let under_code = asked.map(|row| {
        let dried = format!("{} for {} h", span(row.drying_c, "°C"), figure(row.drying_h));
        Value::new(dried, Said::how(row.origin.source_ref(), "within what the maker allows"))
    });
    let mut lines = Vec::new();
    let low = filler.reads.as_ref().and_then(|reads| reads.low_hydrogen) == Some(true);
    let text = |c: Band, h: Band| format!("{} for {}", span(c, "°C"), span(h, "h"));
    match filler.covered {
        Some(row) => {
            if let (Some(c), Some(h)) = (row.redrying_c, row.redrying_h) {
                let said = Said::how(row.origin.source_of("redrying_c"), "the maker's figure goes before");
                lines.push(Entry::Key("drying", under_code.unwrap_or_else(|| Value::new(text(c, h), said))));
            }
            if let Some(c) = row.holding_c {
                lines.push(Entry::Key(
                    "holding",
                    Value::new(span(c, "°C"), Said::table(row.origin.source_of("holding_c"))),
                ));
            }
        }
        None if low => {
            let (c, h) = (covered_electrodes::RE_DRYING, covered_electrodes::RE_DRYING_TIME);
            let said = Said::how(c.origin.source_ref(), "the maker's figure goes before");
            lines.push(Entry::Key("drying", under_code.unwrap_or_else(|| Value::new(text(c.value, h.value), said))));
            let oven = covered_electrodes::HOLDING_OVEN;
            let said = Said::table(oven.origin.source_ref());
            lines.push(Entry::Key("holding", Value::new(span(oven.value, oven.unit), said)));
        }
        None => lines.push(Entry::Remark("drying: decide: as the electrode maker says".to_owned())),
    }
    lines
}

fn polarity(facts: &Facts, plan: &Plan) -> Result<Value, Refused> {
    let permitted: &[Polarity] = match (plan.filler.covered, &plan.filler.reads) {
        (Some(row), _) => row.polarity,
        (None, Some(reads)) => &reads.polarity,
        (None, None) => &[],
    };
    let usual = &facts.process.polarity_usual;
    let both = usual.iter().filter(|own| permitted.is_empty() || permitted.contains(own));
    let suited: Vec<&str> = both.chain(permitted).map(|own| own.as_str()).collect();
    let word = machine::polarity(facts, &suited)?.or(usual.first().map(|own| own.as_str())).unwrap_or("DCEP");
    let said = match plan.filler.covered {
        Some(row) => Said::table(row.origin.source_of("polarity")),
        None => Said::how(
            facts.process.origin.source_of("polarity_usual"),
            "usual; the class permits it, or the maker says",
        ),
    };
    Ok(Value::new(word, said))
}

/// The electrode of a line of settings: its size as electrodes are sold, and its current.
fn by_line(line: &Line) -> Option<Electrode> {
    const SOLD: [f64; 6] = [1.6, 2.0, 2.5, 3.2, 4.0, 5.0];
    let wire = line.row.wire()?.middle();
    let off = |own: &f64| (own / wire).ln().abs();
    let diameter_mm = SOLD.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    let current_a = line.current()?;
    Some(Electrode {
        diameter_mm,
        said: Said::how(line.source("wire_mm"), line.how()),
        current_a,
        reach_a: current_a,
        source: line.source("current_a"),
        how: "",
        of_line: true,
    })
}

/// Size and range of current for a run.
fn electrode(facts: &Facts, filler: &Filler, run: Part, line: Option<Line>) -> Result<Electrode, Refused> {
    let row = planning::size(facts.process.number, None, facts.thickness_mm, run, facts.attitude())
        .ok_or_else(|| nothing("electrode-size has no row for this thickness".to_owned(), facts))?;
    let (wanted_mm, said) = match facts.size_mm() {
        Some(chosen) => (chosen, facts.size_said()),
        None => (row.diameter_mm, Said::table(row.origin.source_ref())),
    };
    let largest = filler.covered.and_then(|row| row.largest_out_of_position_mm);
    let listed = filler.covered.map_or(filler.class.as_str(), |row| row.classification);
    let mut sizes: Vec<f64> = electrode_current::rows()
        .iter()
        .filter(|own| find::same(own.classification, listed))
        .map(|own| own.diameter_mm)
        .collect();
    sizes.sort_by(f64::total_cmp);
    if let Some(electrode) = line.as_ref().and_then(by_line) {
        let listed = electrode_current::range(listed, electrode.diameter_mm);
        let envelope = listed.map_or(electrode.current_a, |limits| limits.envelope);
        let held = envelope.overlap(electrode.current_a);
        let reach_a = if held.is_some() { envelope } else { electrode.current_a };
        let said = if facts.size_mm().is_some() { said } else { electrode.said };
        return Ok(Electrode { current_a: held.unwrap_or(electrode.current_a), reach_a, said, ..electrode });
    }
    if sizes.is_empty() {
        // The class has no row: the rule of thumb by the core.
        let (per, source) = rule(covered_electrodes::AMPERES_PER_DIAMETER);
        let resists = covered_electrodes::resists(&filler.class);
        let (about, _) =
            rule(if resists { planning::ELECTRODE_CURRENT_ABOUT_NICKEL } else { planning::ELECTRODE_CURRENT_ABOUT });
        let thumb = wanted_mm / THOUSANDTH_MM * per.high;
        return Ok(Electrode {
            diameter_mm: wanted_mm,
            said,
            current_a: about.scaled(thumb),
            reach_a: about.scaled(thumb),
            source,
            how: "the class has no row of its own; the maker's range goes before",
            of_line: false,
        });
    }
    let near = |size: &f64| find::same_size(*size, wanted_mm);
    let size = if sizes.iter().any(near) || facts.size_mm().is_some() {
        wanted_mm
    } else {
        let larger = sizes.iter().copied().find(|size| *size > wanted_mm);
        larger.or(sizes.last().copied()).unwrap_or(wanted_mm)
    };
    if largest.is_some_and(|most| size > most && facts.attitude() == planning::Attitude::Other) {
        return Err(nothing(
            format!("{} mm is too thick an electrode for {}", figure(size), facts.position.code),
            facts,
        ));
    }
    let limits = electrode_current::range(listed, size)
        .ok_or_else(|| nothing(format!("electrode-current has no {} of {} mm", listed, figure(size)), facts))?;
    Ok(Electrode {
        diameter_mm: size,
        said,
        current_a: limits.usual.unwrap_or(limits.envelope),
        reach_a: limits.envelope,
        source: limits.source,
        how: "",
        of_line: false,
    })
}

fn run_settings(
    facts: &Facts,
    plan: &Plan,
    run: &Run,
    electrode: &Electrode,
    two: bool,
) -> Result<RunSettings, Refused> {
    let own = match run.line.filter(|_| electrode.of_line) {
        Some(line) => {
            // Each run has the current of its line, held within the electrode that it is welded with.
            let of_run = line.current().unwrap_or(electrode.current_a);
            of_run.overlap(electrode.reach_a).unwrap_or(electrode.current_a)
        }
        None => part(electrode.current_a, run.row.current_share),
    };
    let held = run.hold.current(rounded(own, 5.0), electrode.reach_a);
    let current_a = machine::reached(facts, opened_current(held, rule(planning::RANGE_LEAST).0.high))?;
    let how = if let Some(line) = run.line.filter(|_| electrode.of_line) {
        line.how()
    } else if electrode.how.is_empty() {
        format!("part of {} for this run and position", span(electrode.current_a, "A"))
    } else {
        electrode.how.to_owned()
    };
    let usual = facts.process.voltage_usual_v;
    let (voltage_v, voltage) = match planning::voltage(facts.process.number) {
        Some(row) => {
            let over = row.over(current_a);
            let about = within(Band::new(over.low.floor(), over.high.ceil()), usual);
            (about, Said::how(row.origin.source_ref(), "rises with the current"))
        }
        None => (usual, Said::table(facts.process.origin.source_of("voltage_usual_v"))),
    };
    let class = if run.part == Part::Fill { &plan.filler } else { plan.root_filler.as_ref().unwrap_or(&plan.filler) };
    let melted = crate::rate::melted_mm3_min(facts, current_a, &class.class);
    let (travel_mm_min, how_travel) = match melted {
        Some(volume) => {
            (crate::settings::travel(run, volume), "metal that the current melts over the cross-section of the run")
        }
        None => (travel_about(run), "a trial piece decides"),
    };
    let how_travel =
        if run.hold.moves_travel(travel_mm_min) { "moved to what such joints are welded at" } else { how_travel };
    let travel_mm_min = opened(run.hold.travel(travel_mm_min), rule(planning::RANGE_LEAST).0.high, 5.0);
    let voltage_v = run.hold.voltage(voltage_v);
    let own = Arc { current_a, voltage_v, travel_mm_min };
    let (Arc { current_a, voltage_v, travel_mm_min }, why) =
        cooling::held(facts, low_hydrogen(plan), run, electrode.reach_a, own);
    let melted = crate::rate::melted_mm3_min(facts, current_a, &class.class);
    let laid_mm2 = melted.map(|volume| volume.middle() / travel_mm_min.middle());
    let how_travel = why.unwrap_or(how_travel);
    let mut lines = Vec::new();
    if two && run.part == Part::Fill {
        lines.push(Entry::Key("filler", Value::new("fill-electrode", Said::Follows("declared above".into()))));
    }
    lines.extend([
        Entry::Key(
            "current",
            Value::new(
                span(current_a, "A"),
                cooling::narrowed(Said::how(electrode.source.clone(), how), own.current_a, current_a),
            ),
        ),
        Entry::Key("voltage", Value::new(span(voltage_v, "V"), cooling::narrowed(voltage, own.voltage_v, voltage_v))),
        Entry::Key("travel_speed", Value::new(span(travel_mm_min, "mm/min"), travel_said(run.row, how_travel))),
    ]);
    Ok(RunSettings { current_a, voltage_v, travel_mm_min, laid_mm2, lines })
}
