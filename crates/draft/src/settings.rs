//! The settings of a process and of its runs, whatever the kind of process.

use seamwright_calc::heat_input;
use seamwright_handbook::planning::{self, RunRow};
use seamwright_handbook::{
    Band, SourceRef, densities, process_suitability, setting_limits, technique, thermal_efficiency, torch_directions,
};

use crate::begin::narrowed;
use crate::cooling::Arc;
use crate::facts::Facts;
use crate::figures::{rounded, rule, span, stepped, within};
use crate::page::{Said, Value};
use crate::plan::Run;

/// Lines below a section.
pub(crate) enum Entry {
    /// A key with its value.
    Key(&'static str, Value),
    /// A key with a plain number.
    Figure(&'static str, Value),
    /// A key with entries below it.
    Block(&'static str, Vec<Entry>),
    /// A line that says what to decide.
    Remark(String),
}

/// The settings of a run.
pub(crate) struct RunSettings {
    pub(crate) current_a: Band,
    pub(crate) voltage_v: Band,
    pub(crate) travel_mm_min: Band,
    /// Cross-section that the run lays down, mm², where its wire says.
    pub(crate) laid_mm2: Option<f64>,
    pub(crate) lines: Vec<Entry>,
}

impl RunSettings {
    /// What makes the heat of the run.
    pub(crate) fn arc(&self) -> Arc {
        Arc { current_a: self.current_a, voltage_v: self.voltage_v, travel_mm_min: self.travel_mm_min }
    }
}

/// All settings.
pub(crate) struct Settings {
    /// Lines of the filler below its designation.
    pub(crate) filler: Vec<Entry>,
    /// Lines of the process.
    pub(crate) process: Vec<Entry>,
    /// One for each run of the plan.
    pub(crate) runs: Vec<RunSettings>,
    /// Whether covering or flux is of the low-hydrogen kind.
    pub(crate) low_hydrogen: bool,
}

/// A value of a table's range.
pub(crate) fn ranged(range: Band, unit: &str, source: SourceRef) -> Value {
    Value::new(span(range, unit), Said::table(source))
}

/// Mechanization and polarity.
pub(crate) fn first_lines(facts: &Facts, polarity: Value) -> Vec<Entry> {
    let mut lines = Vec::new();
    if let Some(usual) = facts.process.mechanization.first() {
        let said = Said::how(facts.process.origin.source_of("mechanization"), "the usual one of the process");
        lines.push(Entry::Key("mechanization", Value::new(*usual, said)));
    }
    lines.push(Entry::Key("polarity", polarity));
    lines.push(Entry::Key("filler", Value::new(facts.filler_name(), Said::Follows("declared above".into()))));
    lines
}

/// Bead, direction and angles.
pub(crate) fn technique_lines(facts: &Facts, more: Vec<Entry>) -> Entry {
    // An upward bead is woven at its slow speed; a tungsten arc and metal that stands little heat take stringers.
    let upward = facts.position.vertical && !facts.downward() && !facts.process.uses_tungsten;
    let tender = seamwright_handbook::metal_heat::heat_input(facts.metal, facts.thickness_mm).is_some()
        || (facts.process.uses_wire_feed && facts.process.inert_gas_alone());
    let bead = if upward && !tender {
        Value::new("weave", Said::Decide("weave or stringer; upward beads are woven at their slow speed".into()))
    } else {
        Value::new("stringer", Said::Decide("stringer or weave; stringers keep the heat input low".into()))
    };
    let mut lines = vec![Entry::Key("bead", bead)];
    let direction = match torch_directions::get(facts.process.number) {
        Some(row) => {
            // Upwards the arc holds slag and pool back: the electrode points ahead.
            let dragged = row.usual == "drag" && (!facts.position.vertical || facts.downward());
            let (word, how) = if dragged {
                ("drag", "the arc points back at the pool")
            } else {
                ("push", "the arc points where it travels")
            };
            Value::new(word, Said::how(row.origin.source_ref(), how))
        }
        None => Value::new("push", Said::Decide("push for a flat bead, drag for depth".into())),
    };
    lines.push(Entry::Key("direction", direction));
    if let Some(row) = setting_limits::get(setting_limits::TRAVEL_ANGLE, facts.process.number) {
        lines.push(Entry::Key("travel_angle", ranged(row.usual, "deg", row.origin.source_ref())));
    }
    let work = if facts.groove() {
        Value::new("90 deg", Said::Follows("a groove between plates in one plane".into()))
    } else {
        let (angle, source) = rule(technique::FILLET_WORK_ANGLE);
        ranged(angle, "deg", source)
    };
    lines.push(Entry::Key("work_angle", work));
    lines.extend(more);
    Entry::Block("technique", lines)
}

/// Travel speed in mm/min at which a run gets its cross-section from weld metal in mm³/min, held within the usual speed.
pub(crate) fn travel(run: &Run, volume_mm3_min: Band) -> Band {
    let speed = Band::new(volume_mm3_min.low / run.area_mm2, volume_mm3_min.high / run.area_mm2);
    let usual = run.usual_travel();
    let held = within(speed, usual);
    // One speed is no range to weld by.
    let open = if held.high - held.low < 0.2 * held.high {
        within(Band::new(0.9 * held.low, 1.1 * held.high), usual)
    } else {
        held
    };
    stepped(narrowed(open, planning::LINE_SPEED_WIDTH))
}

/// A range about the middle of another, no wider than a procedure states it.
pub(crate) fn no_wider(range: Band, quantity: &str, facts: &Facts) -> Band {
    let usual = setting_limits::get(quantity, facts.process.number).and_then(|row| row.limits().usual);
    let Some(ratio) = usual.map(|usual| usual.high).filter(|ratio| range.high > ratio * range.low) else {
        return range;
    };
    let low = 2.0 * range.middle() / (1.0 + ratio);
    Band::new(low, low * ratio)
}

/// The part of a range of travel speed next to a wanted one, no wider than a procedure states it.
pub(crate) fn next_to(range: Band, wanted: Band, facts: &Facts) -> Band {
    let usual =
        setting_limits::get(setting_limits::WIDTH_OF_SPEED, facts.process.number).and_then(|row| row.limits().usual);
    let Some(ratio) = usual.map(|usual| usual.high).filter(|ratio| range.high > ratio * range.low) else {
        return range;
    };
    let low = (2.0 * wanted.middle() / (1.0 + ratio)).clamp(range.low, range.high / ratio);
    rounded(Band::new(low, low * ratio), 5.0)
}

/// How the travel speed was found.
pub(crate) fn travel_said(run: &RunRow, how: &str) -> Said {
    Said::how(run.origin.source_ref(), how.to_owned())
}

/// A speed about the middle of what is usual, where nothing says more: a trial piece decides.
pub(crate) fn travel_about(run: &Run) -> Band {
    let middle = run.travel_mm_min().middle();
    rounded(Band::new(0.75 * middle, 1.25 * middle), 10.0)
}

/// Gas behind the torch, where the hot metal must be kept from air.
pub(crate) fn trailing_gas(facts: &Facts) -> Option<Entry> {
    let family = process_suitability::family(facts.metal.family)?;
    if family.trailing_gas != process_suitability::Need::Needed {
        return None;
    }
    let (flow, source) = rule(planning::TRAILING_FLOW);
    let symbol = facts.suits.gases.first().copied()?;
    Some(Entry::Block(
        "trailing_gas",
        vec![
            Entry::Key("designation", Value::new(symbol, Said::table(family.origin.source_of("trailing_gas")))),
            Entry::Key("flow", ranged(flow, "L/min", source)),
        ],
    ))
}

/// Travel speed of a run from a deposition rate in kg/h; the usual speed where the density is not known.
pub(crate) fn travel_by_rate(facts: &Facts, run: &Run, rate_kg_h: Band) -> Band {
    let Some(metal) = densities::metal(facts.metal.family) else { return travel_about(run) };
    let volume = |rate: f64| rate * 1e9 / metal.density_kg_m3.middle() / 60.0;
    travel(run, Band::new(volume(rate_kg_h.low), volume(rate_kg_h.high)))
}

/// Heat input with k at the middle of the settings, kJ/mm.
pub(crate) fn heat(facts: &Facts, run: &RunSettings) -> Option<f64> {
    let k = thermal_efficiency::get(facts.process.number)?;
    let energy =
        heat_input::arc_energy_kj_mm(run.voltage_v.middle(), run.current_a.middle(), run.travel_mm_min.middle() / 60.0)
            .ok()?;
    heat_input::heat_input_kj_mm(energy, k.k).ok()
}
