//! Settings to begin with: the line of `settings-by-thickness` that lies nearest to a run.

use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{self, Part};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::settings_by_thickness::{self as settings, Row};
use seamwright_handbook::{Band, Rule, SourceRef, covered_electrodes, find, metal_families, metal_heat};
use seamwright_model::procedure::JointType;

use crate::facts::Facts;
use crate::figures::rule;

/// How a weld lies, as the lines tell positions apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lies {
    Flat,
    Horizontal,
    Up,
    Down,
    Overhead,
}

/// What a line is looked for.
pub(crate) struct Wanted<'w> {
    pub(crate) transfer: Option<Transfer>,
    pub(crate) part: Part,
    /// Whether the edges of the butt are square.
    pub(crate) square: bool,
    /// Class of the filler.
    pub(crate) class: &'w str,
}

/// A line of the table, and whether it is for the position itself.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Line {
    pub(crate) row: &'static Row,
    pub(crate) of_position: bool,
    /// Current over that of the line, where it is of another metal.
    ratio: f64,
}

impl Line {
    /// Where the line is written, with its thickness.
    pub(crate) fn source(&self, field: &str) -> SourceRef {
        self.row.origin.source_of(field)
    }

    /// The line in words.
    pub(crate) fn how(&self) -> String {
        let joint = self.row.joint.unwrap_or("any joint").replace('-', " ");
        let size = match (self.row.thickness(), self.row.pipe_od_mm) {
            (Some(range), _) => format!("{} mm", figure(range.middle())),
            (None, Some(pipe)) => format!("pipe of {} mm", figure(pipe)),
            (None, None) => String::new(),
        };
        let position = self.row.position.map(|own| format!(", {own}")).unwrap_or_default();
        let ratio = if self.ratio < 1.0 { format!(", times {}", figure(self.ratio)) } else { String::new() };
        format!("line of {joint} {size}{position}{ratio}")
    }

    /// Current in amperes, no wider than a run is set within.
    pub(crate) fn current(&self) -> Option<Band> {
        let scaled = self.row.current_a.map(|range| range.scaled(self.ratio));
        scaled.map(|range| narrowed(range, planning::LINE_CURRENT_WIDTH))
    }

    /// Whether the line is for welding upwards.
    pub(crate) fn upward(&self) -> bool {
        row_lies(self.row) == Lies::Up
    }

    /// Travel speed in millimetres per minute, as the line has it.
    pub(crate) fn travel(&self) -> Option<Band> {
        // A root in pipe is a hand's speed: its lines are of one maker's slow torch.
        let slow = self.row.joint == Some("pipe-root") && self.row.tungsten_mm.is_some();
        self.row.travel().filter(|_| !slow)
    }

    /// Wire feed in m/min beside the current of [`Self::current`].
    pub(crate) fn feed(&self) -> Option<Band> {
        Some(crate::figures::part(self.row.wire_feed()?, self.share()?))
    }

    /// Voltage beside the current of [`Self::current`].
    pub(crate) fn voltage(&self) -> Option<Band> {
        let range = self.row.voltage_v?;
        if range.high - range.low < 1.0 {
            return Some(Band::new(range.middle() - 0.5, range.middle() + 0.5));
        }
        Some(crate::figures::rounded(crate::figures::part(range, self.share()?), 0.5))
    }

    /// The part of the line's current that is taken.
    fn share(&self) -> Option<Band> {
        let all = self.row.current_a?;
        let all = all.scaled(self.ratio);
        if all.high > all.low { Some(crate::figures::share(self.current()?, all)) } else { Some(Band::new(0.0, 1.0)) }
    }
}

/// A range about the middle of another, its high end over its low end no more than a planning rule has it; one figure is
/// opened to that.
pub(crate) fn narrowed(range: Band, width: &Rule) -> Band {
    let (most, _) = rule(width);
    let open = range.high <= range.low * 1.02;
    if open || range.high > most.high * range.low {
        let low = 2.0 * range.middle() / (1.0 + most.high);
        Band::new(low, low * most.high)
    } else {
        range
    }
}

fn lies(facts: &Facts) -> Lies {
    let position = facts.position;
    if facts.downward() {
        Lies::Down
    } else if position.vertical {
        Lies::Up
    } else if position.overhead {
        Lies::Overhead
    } else if facts.groove() && facts.horizontal() {
        Lies::Horizontal
    } else {
        Lies::Flat
    }
}

fn row_lies(row: &Row) -> Lies {
    match row.position {
        Some("vertical" | "PF" | "PH") => Lies::Up,
        Some("PG" | "PJ") => Lies::Down,
        Some("PE" | "PD") => Lies::Overhead,
        Some("PC") => Lies::Horizontal,
        _ => Lies::Flat,
    }
}

/// How far a line for another way of lying serves, or nothing where it does not.
fn off_position(own: Lies, row: Lies) -> Option<f64> {
    match (own, row) {
        (own, row) if own == row => Some(0.0),
        (Lies::Horizontal, Lies::Flat) | (Lies::Overhead, Lies::Up) => Some(0.5),
        _ => None,
    }
}

/// How far a line for another joint serves, or nothing where it does not.
fn off_joint(facts: &Facts, wanted: &Wanted<'_>, row: &Row) -> Option<f64> {
    let name = row.joint?;
    let root = wanted.part == Part::Root;
    match facts.joint {
        JointType::Butt => match name {
            "square-butt" if wanted.square => Some(0.0),
            "pipe-root" if facts.diameter.is_some() && !wanted.square => root.then_some(-0.4),
            "v-butt" if !wanted.square => Some(0.0),
            "double-v-butt" if !wanted.square => Some(0.1),
            _ => None,
        },
        JointType::Tee => (name == "tee").then_some(0.0),
        JointType::Lap => match name {
            "lap" => Some(0.0),
            "tee" => Some(0.25),
            _ => None,
        },
        JointType::Corner | JointType::Edge | JointType::Cavity => match name {
            "corner" => Some(0.0),
            "tee" => Some(0.2),
            _ => None,
        },
    }
}

/// Whether a line is for the run: lines say in a word which run they are for.
fn off_part(wanted: &Wanted<'_>, row: &Row) -> Option<f64> {
    if wanted.square || !row.joint.is_some_and(|joint| joint.ends_with("v-butt")) {
        return Some(0.0);
    }
    let note = row.origin.note.unwrap_or_default();
    let of_root = note.starts_with("root") || row.run == Some(1);
    let of_fill = note.starts_with("fill") || row.run.is_some_and(|run| run > 1);
    match wanted.part {
        Part::Fill if of_root => None,
        Part::Root if of_fill => None,
        Part::Root if !of_root => Some(0.6),
        _ => Some(0.0),
    }
}

/// Thickness counts less in the runs of a groove, and where a weld of several runs is thicker than every line.
fn off_thickness(facts: &Facts, wanted: &Wanted<'_>, row: &Row) -> Option<f64> {
    let pipe = row.pipe_od_mm.zip(facts.diameter_mm).map(|(own, stated)| 0.2 * (own / stated).ln().abs());
    let Some(range) = row.thickness() else { return pipe };
    let own = facts.thickness_mm;
    let off = if range.contains(own) { 0.0 } else { (own / range.low).ln().abs().min((own / range.high).ln().abs()) };
    let runs = facts.groove() && !wanted.square;
    let farthest = if runs || own > 8.0 { 1.4 } else { 0.3 };
    (off <= farthest).then_some(if runs { 0.5 * off } else { off })
}

/// Whether the class of a line is that of the filler, or one that melts like it.
fn off_class(wanted: &Wanted<'_>, row: &Row) -> Option<f64> {
    let (Some(class), false) = (row.class, wanted.class.is_empty()) else { return Some(0.1) };
    let own = wanted.class;
    if find::same(class, own) || own.starts_with(class) {
        return Some(0.0);
    }
    let kinds = covered_electrodes::melts_like(class).zip(covered_electrodes::melts_like(own));
    kinds
        .is_none_or(|(line, own)| line == own)
        .then_some(0.2)
        // Self-shielded wires of one kind melt unlike those of another.
        .filter(|_| {
            [["T-8", "T8-"], ["T-11", "T11-"]].iter().all(|kind| {
                let is = |name: &str| kind.iter().any(|part| name.contains(part));
                !is(own) || is(class)
            })
        })
}

/// Whether the gas of a line serves: lines in pure carbon dioxide run hotter than mixtures.
fn off_gas(facts: &Facts, row: &Row) -> Option<f64> {
    let mixed = row.gas.is_none_or(|gas| gas.contains("Ar"));
    // Mixtures with much helium are dear and rare: not to begin with.
    let helium = row.gas.is_some_and(|gas| gas.contains("He"));
    (!facts.mag() || mixed).then_some(if helium { 0.6 } else { 0.0 })
}

/// A line for the size of wire or electrode that the thickness usually takes goes before one for another.
fn off_wire(facts: &Facts, wanted: &Wanted<'_>, row: &Row) -> f64 {
    let attitude = facts.attitude();
    let part = if facts.groove() { wanted.part } else { Part::Fill };
    let number = facts.process.number;
    let usual = planning::size(number, wanted.transfer, facts.thickness_mm, part, attitude);
    match (usual, row.wire()) {
        (Some(usual), Some(wire)) => 1.2 * (wire.low / usual.diameter_mm).ln().abs(),
        _ => 0.0,
    }
}

/// The line nearest to a run; nothing where none is near.
pub(crate) fn line(facts: &Facts, wanted: &Wanted<'_>) -> Option<Line> {
    // Copper-nickel and bronze lead heat away like steel, not like copper: copper's lines are too hot for them.
    let sluggish = metal_families::is_in(facts.metal.family, "copper") && facts.metal.family != "copper";
    let family = if sluggish { "carbon-steel" } else { settings::family(facts.metal.family)? };
    // The edge of a thin lap takes less than lines of other joints give, and metal that must cool in time has its own rules.
    let thin_lap = facts.joint == JointType::Lap && facts.thickness_mm < rule(planning::LAP_LINE_FROM).0.high;
    // A core that resists more melts at less current than lines for steel have.
    let resists = facts.process.covered_electrode() && covered_electrodes::resists(wanted.class);
    let timed = facts.process.uses_wire_feed && metal_heat::cooling_time(facts.metal).is_some();
    if thin_lap || timed || resists {
        return None;
    }
    // A tungsten arc melts stainless steel with a little less than carbon steel, whose roots of pipe have lines of their own.
    let pipe = facts.diameter.is_some() && facts.groove() && !wanted.square;
    let tungsten = facts.process.uses_tungsten
        && (matches!(family, "austenitic-stainless" | "nickel-chromium") || (pipe && family == "titanium"));
    // Cored wire of stainless steel runs with less current still.
    let cored = facts.process.shielded_wire(Wire::FluxCored) && family == "austenitic-stainless";
    let other = tungsten || cored;
    let (less, _) = rule(if cored { planning::STAINLESS_CORED_OVER_STEEL } else { planning::STAINLESS_OVER_STEEL });
    let of_steel = || other.then(|| of_family(facts, wanted, "carbon-steel", less.high)).flatten();
    let first = if pipe { of_steel() } else { None };
    let own = first.or_else(|| of_family(facts, wanted, family, 1.0));
    // A line of steel with an electrode thicker than the part is none for copper alloys.
    let thick = |line: &Line| line.row.wire().is_some_and(|wire| wire.low > facts.thickness_mm);
    let own = own.filter(|line| !(sluggish && facts.process.covered_electrode() && thick(line)));
    match (own, of_steel()) {
        // Stainless steel is never given more than carbon steel.
        (Some(own), Some(steel)) if family == "austenitic-stainless" => {
            let less = |line: &Line| line.current().map_or(0.0, |range| range.middle());
            let thick = |line: &Line| line.row.thickness().map_or(0.0, |range| range.middle());
            // A tungsten arc is turned down out of position whichever line it begins with.
            let one_run = facts.process.uses_tungsten && (!facts.groove() || wanted.square);
            let over = thick(&steel) > rule(planning::LINE_THICKER_THAN_SHEET).0.high * facts.thickness_mm;
            let alike = if one_run { !over } else { steel.of_position == own.of_position };
            let alike = alike && thick(&steel) >= thick(&own);
            Some(if alike && less(&steel) < less(&own) { steel } else { own })
        }
        (own, steel) => own.or(steel),
    }
}

fn of_family(facts: &Facts, wanted: &Wanted<'_>, family: &str, ratio: f64) -> Option<Line> {
    let process = facts.process.number;
    let own = lies(facts);
    // The size that was taken for the fill of a small pipe is not that of its root.
    let of_fill = facts.sized.is_some()
        && facts.groove()
        && wanted.part == Part::Root
        && facts.process.covered_electrode()
        && facts.diameter.is_some();
    let hand = rule(planning::LINE_OF_MACHINE_SPEED).0.high;
    let chosen_mm = facts.size_mm().filter(|_| !of_fill);
    let by_hand = rule(planning::LINE_OF_MACHINE_CURRENT).0.high;
    let steel = metal_families::is_in(facts.metal.family, "steel");
    let of_machine = |row: &Row| {
        let strong = row.current_a.is_some_and(|range| range.low > by_hand);
        facts.process.uses_tungsten && steel && strong
    };
    let score = |row: &'static Row| {
        let position = off_position(own, row_lies(row));
        // A tungsten arc is turned down a little where the pool would run.
        let position =
            position.or_else(|| (facts.process.uses_tungsten && row_lies(row) == Lies::Flat).then_some(0.5))?;
        let complete = if row.voltage_v.is_some() { 0.0 } else { 0.1 };
        // Lines of a tungsten arc at a speed that no hand keeps are of machines.
        let machine = facts.process.uses_tungsten && row.travel().is_some_and(|travel| travel.low > hand);
        let complete = complete + if machine { 0.4 } else { 0.0 };
        let complete = complete + if row.travel().is_some() { 0.0 } else { 0.3 };
        Some(
            position
                + complete
                + off_joint(facts, wanted, row)?
                + off_part(wanted, row)?
                + off_thickness(facts, wanted, row)?
                + off_class(wanted, row)?
                + off_gas(facts, row)?
                + off_wire(facts, wanted, row),
        )
    };
    let mut found: Vec<(f64, &'static Row)> = settings::rows()
        .iter()
        .filter(|row| row.processes.contains(&process))
        .filter(|row| row.metals.iter().any(|metal| find::same(metal, family)))
        .filter(|row| row.current_a.is_some_and(|range| range.low > 0.0))
        .filter(|row| !of_machine(row))
        .filter(|row| match (chosen_mm, row.wire()) {
            (Some(chosen), Some(wire)) if !facts.process.uses_tungsten => (wire.middle() / chosen).ln().abs() < 0.08,
            _ => true,
        })
        .filter(|row| match (wanted.transfer, row.transfer) {
            (Some(wanted), Some(own)) => wanted == own,
            (Some(_), None) => false,
            (None, _) => true,
        })
        .filter_map(|row| Some((score(row)?, row)))
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (_, row) = *found.first()?;
    let of_position = off_position(own, row_lies(row)).is_some();
    // A sheet that is thinner than that of its line burns through at the same current, a thicker one does not melt.
    let one_run = facts.process.uses_tungsten && (!facts.groove() || wanted.square);
    let (least, _) = rule(planning::THINNER_THAN_LINE);
    let share = row.thickness().filter(|_| one_run).map_or(1.0, |range| {
        let own = facts.thickness_mm;
        // Light metal leads the heat away the faster the thicker it is; 5 mm is 3/16 in.
        let light = family == "aluminium";
        let alike = settings::TYPICAL_SILENT.value.high;
        let more = if light { (own / range.high / alike).clamp(1.0, 1.0 / least.high) } else { 1.0 };
        (own / range.low).clamp(if light { least.high.sqrt() } else { least.high }, 1.0) * more
    });
    // A line for the runs over it is too hot for an open root.
    let open = wanted.part == Part::Root && facts.process.covered_electrode() && facts.groove() && !wanted.square;
    let thick = row.wire().is_some_and(|wire| wire.middle() >= rule(planning::OPEN_ROOT_THICK_ELECTRODE).0.high);
    let open = open && thick && off_part(wanted, row).is_some_and(|off| off > 0.0) && !facts.both_sides();
    let root = if open { rule(planning::OPEN_ROOT_UNDER_FILL).0.high } else { 1.0 };
    Some(Line { row, of_position, ratio: ratio * share * root })
}
