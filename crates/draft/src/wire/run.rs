//! Settings of one run of wire: the current gives voltage and wire feed, the wire fed gives the travel speed.

use seamwright_handbook::gmaw_parameters::{self as gmaw, StartingPoint, Transfer};
use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, SourceRef, aws_d1_1, gtaw_starting_points, planning};
use seamwright_model::procedure::JointType;

use super::ranges::Ranges;
use crate::begin::Line;
use crate::cooling::{self, Arc};
use crate::facts::Facts;
use crate::figures::{THOUSANDTH_MM, opened, opened_current, part, rounded, rule, share, span, within};
use crate::machine;
use crate::page::{Said, Value};
use crate::plan::{Plan, Run};
use crate::rate::{melted_mm3_min, metal_mm3_m};
use crate::refused::Refused;
use crate::settings::{Entry, RunSettings, next_to, travel, travel_about, travel_said};

/// Solid and cored wire brings little hydrogen.
pub(super) const LOW_HYDROGEN: bool = true;

/// The wire of all runs.
pub(super) struct Wire {
    /// The published line that the settings follow, where one is near.
    point: Option<&'static StartingPoint>,
    diameter_mm: f64,
    /// Weld metal of a metre of wire, mm³.
    metal_mm3_m: f64,
}

impl Wire {
    /// A wire by its diameter in millimetres.
    pub(super) fn new(facts: &Facts, diameter_mm: f64, point: Option<&'static StartingPoint>) -> Self {
        Self { point, diameter_mm, metal_mm3_m: metal_mm3_m(facts, diameter_mm) }
    }
}

pub(super) fn settings(
    facts: &Facts,
    plan: &Plan,
    run: &Run,
    ranges: &Ranges,
    wire: &Wire,
) -> Result<RunSettings, Refused> {
    let lined = run.line.filter(|_| wire.point.is_none());
    let (current_a, how) = if let Some((line, range)) = lined.and_then(|line| Some((line, line.current()?))) {
        (of_line(facts, plan, run, ranges, wire, range), Said::how(line.source("current_a"), line.how()))
    } else if let Some(point) = wire.point {
        let how = format!("line of {} mm", figure(point.thickness_mm));
        (point.current_a, Said::how(point.origin.source_of("current_a"), how))
    } else {
        let (range, how) = current(facts, plan, run, ranges, wire);
        (range, Said::how(ranges.current.1.clone(), how))
    };
    let current_a = run.hold.current(current_a, ranges.current.0);
    // One figure of a line is opened to a range; more metal than the line feeds would come of a wider one.
    let one = current_a.high < rule(planning::OVERLAP_ROOM).0.high * current_a.low;
    let current_a = if one { opened_current(current_a, rule(planning::RANGE_LEAST).0.high) } else { current_a };
    let current_a = machine::reached(facts, prequalified(facts, current_a))?;
    let place = share(current_a, ranges.whole_a);
    let (voltage_v, voltage_said) = match lined.and_then(|line| Some((line, line.voltage()?))) {
        Some((line, range)) => {
            let held = ranges.voltage.as_ref().map_or(range, |(own, _)| within(range, *own));
            (held, Said::how(line.source("voltage_v"), line.how()))
        }
        None => voltage(facts, ranges, wire, current_a, place),
    };
    let volume = fed(run, ranges, wire, current_a).map(|(feed, _)| feed.scaled(wire.metal_mm3_m));
    let volume = if facts.process.uses_flux { melted_mm3_min(facts, current_a, "") } else { volume };
    let published = wire.point.map(|point| (point.travel_mm_min, point.origin.source_of("travel_mm_min")));
    let (travel_mm_min, travel_value) =
        match (published.or_else(|| ranges.travel.clone().filter(|_| lined.is_none())), volume) {
            (Some((travel, source)), _) => (travel, Said::table(source)),
            (None, Some(volume)) => (
                travel(run, volume),
                travel_said(run.row, "wire feed x section of the wire / cross-section of the run"),
            ),
            (None, None) => (travel_about(run), travel_said(run.row, "a trial piece decides")),
        };
    let travel_value = if run.hold.moves_travel(travel_mm_min) {
        travel_said(run.row, "moved to what such joints are welded at")
    } else {
        travel_value
    };
    let (travel_mm_min, voltage_v) = (run.hold.travel(travel_mm_min), run.hold.voltage(voltage_v));
    let planned = Arc { current_a, voltage_v, travel_mm_min };
    let (held, why) = cooling::held(facts, LOW_HYDROGEN, run, ranges.current.0, planned);
    let Arc { current_a, voltage_v, .. } = held;
    let travel_mm_min = next_to(held.travel_mm_min, planned.travel_mm_min, facts);
    let travel_mm_min = opened(travel_mm_min, rule(planning::RANGE_LEAST).0.high, 5.0);
    let travel_value = why.map_or(travel_value, |why| travel_said(run.row, why));
    let feed = fed(run, ranges, wire, current_a);
    let volume = feed.as_ref().map(|(feed, _)| feed.scaled(wire.metal_mm3_m));
    let laid_mm2 = volume.map(|volume| volume.middle() / travel_mm_min.middle());
    let feed_line = match feed {
        Some((range, source)) => {
            Entry::Key("wire_feed_speed", Value::new(span(range, "m/min"), Said::how(source, "rises with the current")))
        }
        None => Entry::Remark("wire_feed_speed: decide: so that the current is reached".to_owned()),
    };
    let lines = vec![
        Entry::Key("current", Value::new(span(current_a, "A"), how)),
        Entry::Key("voltage", Value::new(span(voltage_v, "V"), voltage_said)),
        feed_line,
        Entry::Key("travel_speed", Value::new(span(travel_mm_min, "mm/min"), travel_value)),
    ];
    Ok(RunSettings { current_a, voltage_v, travel_mm_min, laid_mm2, lines })
}

/// The current of a line, held within the wire, and within what is planned for the run where both leave room to weld; less
/// where the edge of a lap would not take it up.
fn of_line(facts: &Facts, plan: &Plan, run: &Run, ranges: &Ranges, wire: &Wire, line_a: Band) -> Band {
    let (least, _) = rule(planning::CURRENT_RANGE_LEAST);
    let held = within(line_a, ranges.whole_a);
    let planned = part(ranges.current.0, run.row.current_share);
    let both = if run.row.run == planning::Part::Fillet {
        // The row of a fillet rests on printed lines of its own.
        planned
    } else {
        let (wide, _) = rule(planning::OVERLAP_ROOM);
        let narrow = |both: &Band| facts.groove() && both.high < wide.high * both.low;
        let room = |both: &Band| both.high - both.low >= least.high && !narrow(both);
        held.overlap(planned).filter(room).unwrap_or(held)
    };
    let cooler = by_edge(facts, plan, run, ranges, wire, both).unwrap_or(both);
    rounded(cooler, 5.0)
}

/// A current under flux held to what AWS D1.1 takes for the runs that fill a groove, where the work is under that code.
fn prequalified(facts: &Facts, current_a: Band) -> Band {
    if !facts.under_aws_d1_1() || !facts.groove() || !facts.process.uses_flux {
        return current_a;
    }
    let rows = aws_d1_1::limits(aws_d1_1::quantity::CURRENT, facts.process.number, "").into_iter();
    let single = rows.filter(|row| row.weld == Some("groove fill") && row.electrodes.is_none_or(|own| own == "single"));
    match single.filter_map(|row| row.maximum).reduce(f64::min) {
        Some(most) if current_a.high > most => rounded(current_a.scaled(most / current_a.high), 5.0),
        _ => current_a,
    }
}

/// Wire feed in m/min of the line of a run, else beside its current.
fn fed(run: &Run, ranges: &Ranges, wire: &Wire, current_a: Band) -> Option<(Band, SourceRef)> {
    // A line for another wire says nothing of how fast this one is fed.
    let same = |line: &Line| line.row.wire().is_some_and(|own| (own.middle() / wire.diameter_mm).ln().abs() < 0.06);
    let of_line = run.line.filter(|line| wire.point.is_none() && same(line)).and_then(|line| {
        // The wire melts about as fast as the current rises.
        let ratio = current_a.middle() / line.current()?.middle();
        let feed = line.feed()?.scaled(ratio);
        let held = ranges.feed.as_ref().map_or(feed, |(own, _)| within(feed, *own));
        Some((rounded(held, 0.1), line.source("wire_feed_m_min")))
    });
    of_line.or_else(|| feed(ranges, current_a))
}

/// Wire feed in m/min beside a current, where the wire has a range of it.
fn feed(ranges: &Ranges, current_a: Band) -> Option<(Band, SourceRef)> {
    let (range, source) = ranges.feed.as_ref()?;
    Some((rounded(part(*range, share(current_a, ranges.whole_a)), 0.1), source.clone()))
}

/// The current of a run: its part of the range, on thin metal no more than the rule of thumb by thickness.
fn current(facts: &Facts, plan: &Plan, run: &Run, ranges: &Ranges, wire: &Wire) -> (Band, String) {
    let all = ranges.current.0;
    let planned = part(all, run.row.current_share);
    if let Some(thin) = by_thickness(facts, plan, run, all, planned) {
        return (rounded(thin, 5.0), "no more than gmaw-rules allows by thickness".to_owned());
    }
    if let Some(cooler) = by_edge(facts, plan, run, ranges, wire, planned) {
        return (rounded(cooler, 5.0), "no more than the edge of the lap takes up".to_owned());
    }
    let how = if ranges.how.is_empty() {
        format!("part of {} for this run and position", span(all, "A"))
    } else {
        ranges.how.clone()
    };
    (rounded(planned, 5.0), how)
}

/// Current by the thickness of the metal for an arc by short circuits, where that is less than planned.
fn by_thickness(facts: &Facts, plan: &Plan, run: &Run, all: Band, planned: Band) -> Option<Band> {
    if run.transfer != Some(Transfer::ShortCircuit) {
        return None;
    }
    let stainless = plan.like.is_some_and(|like| like.like == "stainless");
    let less = if stainless { gtaw_starting_points::STAINLESS_UNDER_STEEL.value.middle() / 100.0 } else { 0.0 };
    let (thumb, ratio) = (gmaw::AMPERES_PER_THICKNESS, 1.0 - less);
    let (about, _) = rule(planning::THICKNESS_CURRENT_ABOUT);
    let target = facts.thickness_mm / THOUSANDTH_MM * thumb.value.high * ratio;
    if target * about.high >= planned.high {
        return None;
    }
    Some(widened(within(about.scaled(target), all), all))
}

/// Less current than planned, where the wire that it melts is more than the single fillet at the edge of a lap holds at the
/// fastest usual travel.
fn by_edge(facts: &Facts, plan: &Plan, run: &Run, ranges: &Ranges, wire: &Wire, planned: Band) -> Option<Band> {
    let (feed, _) = ranges.feed.as_ref()?;
    if facts.joint != JointType::Lap || plan.runs.len() > 1 {
        return None;
    }
    // The face of the lap takes up more than the edge.
    let (wide, _) = rule(planning::LAP_FACE_LEG);
    let (thin, _) = rule(planning::LAP_FACE_LEG_THIN);
    let edge = facts.thickness_mm;
    let holds = edge * thin.high.max(wide.high * edge) / 2.0;
    let (over, _) = rule(planning::LAP_OVERFILL);
    let area = if run.line.is_some() { run.area_mm2.max(over.high * holds) } else { run.area_mm2 };
    let most = area * run.travel_mm_min().high / wire.metal_mm3_m;
    let own = part(*feed, share(planned, ranges.whole_a));
    let step = (own.middle() - most) / (feed.high - feed.low) * (ranges.whole_a.high - ranges.whole_a.low);
    let all = ranges.current.0;
    (step > 0.0).then(|| widened(within(Band::new(planned.low - step, planned.high - step), all), all))
}

/// A range wide enough to weld by, inside another.
fn widened(range: Band, all: Band) -> Band {
    let (least, _) = rule(planning::CURRENT_RANGE_LEAST);
    if range.high - range.low < least.high { within(Band::new(range.low, range.low + least.high), all) } else { range }
}

/// Voltage beside a current and its place in the range of the wire.
fn voltage(facts: &Facts, ranges: &Ranges, wire: &Wire, current_a: Band, place: Band) -> (Band, Said) {
    let usual = facts.process.voltage_usual_v;
    if let Some(point) = wire.point {
        return (point.voltage_v, Said::table(point.origin.source_of("voltage_v")));
    }
    if let Some((range, source)) = &ranges.voltage {
        let at = part(*range, place);
        let about = within(Band::new(at.low.floor(), at.high.ceil()), *range);
        return (rounded(within(about, usual), 0.5), Said::how(source.clone(), "rises with the current"));
    }
    match planning::voltage(facts.process.number) {
        Some(row) => {
            let over = row.over(current_a);
            (within(Band::new(over.low.floor(), over.high.ceil()), usual), Said::table(row.origin.source_ref()))
        }
        None => (usual, Said::table(facts.process.origin.source_of("voltage_usual_v"))),
    }
}
