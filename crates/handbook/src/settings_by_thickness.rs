//! Settings by thickness, joint and position, as makers and books print them, and the hull that a run is held against.
//!
//! To draft from them: [`near`] gives the rows for a process, a family of metal, a thickness, a joint and a position, the
//! nearest thickness first, published rows before others; [`hull`] gives the range that all rows of the joint span, which
//! the checks widen and hold a run against.

use crate::band::Band;
use crate::find;
use crate::gmaw_parameters::Transfer;
use crate::gtaw_starting_points::Joint;
use crate::measure::MM_IN;
use crate::metal_families;
use crate::positions;
use crate::processes;
use crate::rule::Rule;
use crate::table::{Origin, named, table};
use seamwright_model::finding::Basis;

table!("settings-by-thickness", Row);
table!(HULL, cells, "settings-hull", Cell);
table!(RULES, rules, "settings-rules", Rule);
named!("settings-rules");

/// One line of a source, in one position.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Mode of transfer.
    pub transfer: Option<Transfer>,
    /// Class of the filler.
    pub class: Option<&'static str>,
    /// Families of metal.
    pub metals: &'static [&'static str],
    /// Thickness in millimetres, where the source prints millimetres.
    pub thickness_mm: Option<Band>,
    /// Thickness in inches, where the source prints inches.
    pub thickness_in: Option<Band>,
    /// Outside diameter of the pipe in millimetres.
    pub pipe_od_mm: Option<f64>,
    /// Joint in the words of the table: `square-butt`, `v-butt`, `double-v-butt`, `bevel-butt`, `tee`, `lap`, `corner`,
    /// `pipe-root`.
    pub joint: Option<&'static str>,
    /// Position of ISO 6947, or `vertical` where the source does not say which way.
    pub position: Option<&'static str>,
    /// Backing.
    pub backing: Option<&'static str>,
    /// `both` where the butt is welded from both sides.
    pub sides: Option<&'static str>,
    /// `front` or `back`, where the source prints them apart.
    pub side: Option<&'static str>,
    /// Number of the run or layer.
    pub run: Option<u32>,
    /// Root gap in millimetres.
    pub gap_mm: Option<Band>,
    /// Root face in millimetres.
    pub root_face_mm: Option<Band>,
    /// `DCEN`, `DCEP` or `AC`.
    pub polarity: Option<&'static str>,
    /// Current in amperes.
    pub current_a: Option<Band>,
    /// Arc voltage in volts.
    pub voltage_v: Option<Band>,
    /// Diameter of wire or covered electrode in millimetres.
    pub wire_mm: Option<Band>,
    /// Diameter of wire or covered electrode in inches.
    pub wire_in: Option<Band>,
    /// Wire feed speed in metres per minute.
    pub wire_feed_m_min: Option<Band>,
    /// Wire feed speed in inches per minute.
    pub wire_feed_in_min: Option<Band>,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Option<Band>,
    /// Travel speed in inches per minute.
    pub travel_in_min: Option<Band>,
    /// Diameter of the tungsten in millimetres.
    pub tungsten_mm: Option<Band>,
    /// Diameter of the tungsten in inches.
    pub tungsten_in: Option<Band>,
    /// Diameter of the rod in millimetres.
    pub filler_mm: Option<Band>,
    /// Diameter of the rod in inches.
    pub filler_in: Option<Band>,
    /// Shielding gas in words.
    pub gas: Option<&'static str>,
    /// Gas flow in litres per minute.
    pub flow_l_min: Option<Band>,
    /// Number of runs or layers.
    pub runs: Option<Band>,
    /// Leg of the fillet in millimetres.
    pub leg_mm: Option<Band>,
    /// Leg of the fillet in inches.
    pub leg_in: Option<Band>,
    /// Preheat in degrees Celsius.
    pub preheat_c: Option<Band>,
    /// Preheat in degrees Fahrenheit.
    pub preheat_f: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What the rows of a joint and a band of thickness span.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// ISO 4063 number.
    pub process: &'static str,
    /// Family of metal.
    pub metal: &'static str,
    /// Kind of joint.
    pub joint: Joint,
    /// Thickness from, in millimetres.
    pub from_mm: f64,
    /// Thickness below, in millimetres.
    pub to_mm: f64,
    /// Current in amperes.
    pub current_a: Option<Band>,
    /// Arc voltage in volts.
    pub voltage_v: Option<Band>,
    /// Travel speed in millimetres per minute, neither vertical up nor vertical down.
    pub travel_mm_min: Option<Band>,
    /// The same for runs over the root, where that is another span: without roots, short circuits and overhead.
    pub travel_fill_mm_min: Option<Band>,
    /// Travel speed in millimetres per minute, vertical up.
    pub travel_up_mm_min: Option<Band>,
    /// Travel speed in millimetres per minute, vertical down.
    pub travel_down_mm_min: Option<Band>,
    /// How many rows.
    pub rows: u32,
    /// How many of them are published.
    pub published: u32,
    /// How many publishers those have.
    pub publishers: Option<u32>,
    /// Where the cell comes from.
    pub origin: Origin,
}

fn inches(range: Option<Band>) -> Option<Band> {
    range.map(|range| range.scaled(MM_IN))
}

impl Row {
    /// Thickness in millimetres; that of a source in inches times 25.4.
    pub fn thickness(&self) -> Option<Band> {
        self.thickness_mm.or_else(|| inches(self.thickness_in))
    }

    /// Diameter of wire or covered electrode in millimetres; inches times 25.4.
    pub fn wire(&self) -> Option<Band> {
        self.wire_mm.or_else(|| inches(self.wire_in))
    }

    /// Travel speed in millimetres per minute; inches times 25.4.
    pub fn travel(&self) -> Option<Band> {
        self.travel_mm_min.or_else(|| inches(self.travel_in_min))
    }

    /// Wire feed speed in metres per minute; inches times 0.0254.
    pub fn wire_feed(&self) -> Option<Band> {
        self.wire_feed_m_min.or_else(|| {
            let feed = inches(self.wire_feed_in_min)?;
            Some(Band::new(feed.low / 1e3, feed.high / 1e3))
        })
    }

    /// Leg of the fillet in millimetres; inches times 25.4.
    pub fn leg(&self) -> Option<Band> {
        self.leg_mm.or_else(|| inches(self.leg_in))
    }

    /// The kind of joint.
    pub fn kind(&self) -> Option<Joint> {
        Some(match self.joint? {
            "tee" => Joint::Tee,
            "lap" => Joint::Lap,
            "corner" => Joint::Corner,
            _ => Joint::Butt,
        })
    }

    /// Whether the row holds in a position of ISO 6947 or AWS; one that names no position holds in every one.
    pub fn holds_in(&self, position: &str) -> bool {
        match self.position {
            None => true,
            Some("vertical") => positions::get(position).is_some_and(|row| row.vertical),
            Some(own) => positions::same(own, position),
        }
    }
}

/// The family under which the tables of settings have a metal: steels weld like carbon steel, every stainless steel like the
/// austenitic ones, nickel alloys like nickel-chromium.
pub fn family(family: &str) -> Option<&'static str> {
    let own = ["aluminium", "copper", "titanium", "magnesium"];
    let is = |wanted: &str| metal_families::is_in(family, wanted);
    if is("stainless") {
        Some("austenitic-stainless")
    } else if is("steel") {
        Some("carbon-steel")
    } else if is("nickel") {
        Some("nickel-chromium")
    } else {
        own.into_iter().find(|own| is(own))
    }
}

/// How far a row's thickness may lie from the wanted one: a quarter of it.
const QUARTER: f64 = 0.25;

/// The rows for a process (ISO 4063), a family of metal, a thickness in millimetres, a joint and a position.
///
/// The nearest thickness comes first, and among equals a published row before a remembered one and that before practice.
/// Without a position those of every position are given; rows that name no position are given for each.
pub fn near(process: &str, metal: &str, thickness_mm: f64, joint: Joint, position: Option<&str>) -> Vec<&'static Row> {
    let Some(metal) = family(metal) else { return Vec::new() };
    let off = |row: &Row| {
        let range = row.thickness()?;
        let off = (range.low - thickness_mm).max(thickness_mm - range.high).max(0.0);
        (off <= QUARTER * thickness_mm).then_some(off)
    };
    let rank = |row: &Row| match row.origin.basis {
        Basis::Published => 0,
        Basis::FromMemory => 1,
        _ => 2,
    };
    let mut found: Vec<(f64, &Row)> = rows()
        .iter()
        .filter(|row| row.processes.contains(&process))
        .filter(|row| row.metals.iter().any(|own| find::same(own, metal)))
        .filter(|row| row.kind() == Some(joint))
        .filter(|row| position.is_none_or(|position| row.holds_in(position)))
        .filter_map(|row| Some((off(row)?, row)))
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then(rank(a.1).cmp(&rank(b.1))));
    found.into_iter().map(|(_, row)| row).collect()
}

/// The process whose cells hold for one: its own where it has some of a kind, else those of its like.
fn settings_of(process: &str, of_kind: impl Fn(&Cell) -> bool) -> &str {
    let own = cells().iter().any(|cell| cell.process == process && of_kind(cell));
    if own { process } else { processes::settings_like(process) }
}

/// The cell for a process (ISO 4063), a family of metal, a joint and a thickness in millimetres.
///
/// A metal cored wire without a cell of its own is held against those of solid wire.
pub fn hull(process: &str, metal: &str, joint: Joint, thickness_mm: f64) -> Option<&'static Cell> {
    let metal = family(metal)?;
    let process = settings_of(process, |cell| cell.metal == metal && cell.joint == joint);
    cells().iter().find(|cell| {
        cell.process == process
            && cell.metal == metal
            && cell.joint == joint
            && cell.from_mm <= thickness_mm
            && thickness_mm < cell.to_mm
    })
}

/// What the cells of a joint over a stretch of thickness span together.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Current in amperes.
    pub current_a: Option<Band>,
    /// Travel speed in mm/min, neither vertical up nor vertical down.
    pub travel: Option<Band>,
    /// The same for runs over the root.
    pub fill: Option<Band>,
    /// Travel speed in mm/min, vertical up.
    pub up: Option<Band>,
    /// Travel speed in mm/min, vertical down.
    pub down: Option<Band>,
    /// Published rows in all.
    pub published: u32,
    /// The most publishers of one cell.
    pub publishers: u32,
    /// Thickness in millimetres from which the first of the cells holds.
    pub from_mm: f64,
    /// Whether the joint is thinner than every cell: what it spans is then a limit upwards only.
    pub thinner: bool,
    /// Whether the joint is thicker than every cell: what it spans is then a limit downwards only.
    pub thicker: bool,
    /// Where the first of the cells comes from.
    pub origin: &'static Origin,
}

/// The kinds of joint whose settings stand in where a joint has none of its own.
const fn like(joint: Joint) -> &'static [Joint] {
    match joint {
        Joint::Butt => &[Joint::Butt],
        Joint::Lap => &[Joint::Lap, Joint::Tee],
        Joint::Tee => &[Joint::Tee, Joint::Lap],
        Joint::Corner => &[Joint::Corner, Joint::Tee],
    }
}

/// What the settings of a joint span over a stretch of thickness in millimetres: the cells that it touches, else the cells
/// on both sides of it, else the nearest one.
///
/// A joint without cells of its own takes those of its like: a lap those of a tee. A metal cored wire takes those of solid
/// wire.
pub fn span(process: &str, metal: &str, joint: Joint, thickness_mm: Band) -> Option<Span> {
    let metal = family(metal)?;
    let process = settings_of(process, |cell| cell.metal == metal && cell.joint == joint);
    let of = |kind: Joint| {
        let all = cells().iter().filter(move |cell| cell.process == process && cell.metal == metal);
        all.filter(move |cell| cell.joint == kind)
    };
    let touched = like(joint).iter().find_map(|kind| {
        let hit: Vec<&Cell> =
            of(*kind).filter(|cell| cell.from_mm <= thickness_mm.high && cell.to_mm > thickness_mm.low).collect();
        (!hit.is_empty()).then_some(hit)
    });
    let beside = || {
        like(joint).iter().find_map(|kind| {
            let below = of(*kind).rfind(|cell| cell.to_mm <= thickness_mm.low)?;
            let above = of(*kind).find(|cell| cell.from_mm > thickness_mm.high)?;
            Some(vec![below, above])
        })
    };
    let nearest = || {
        let thin = like(joint).iter().find_map(|kind| of(*kind).next()).filter(|c| thickness_mm.high < c.from_mm);
        let thick = like(joint).iter().find_map(|kind| of(*kind).next_back()).filter(|c| c.to_mm <= thickness_mm.low);
        thin.or(thick).map(|cell| vec![cell])
    };
    let hit = touched.or_else(beside).or_else(nearest)?;
    let first = hit.first()?;
    let hull = |get: fn(&Cell) -> Option<Band>| hit.iter().filter_map(|cell| get(cell)).reduce(Band::hull);
    Some(Span {
        current_a: hull(|cell| cell.current_a),
        travel: hull(|cell| cell.travel_mm_min),
        fill: hull(|cell| cell.travel_fill_mm_min.or(cell.travel_mm_min)),
        up: hull(|cell| cell.travel_up_mm_min),
        down: hull(|cell| cell.travel_down_mm_min),
        published: hit.iter().map(|cell| cell.published).sum(),
        publishers: hit.iter().filter_map(|cell| cell.publishers).max().unwrap_or(0),
        from_mm: first.from_mm,
        thinner: thickness_mm.high < first.from_mm,
        thicker: hit.last().is_some_and(|cell| cell.to_mm <= thickness_mm.low),
        origin: &first.origin,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Panasonic, TIG conditions for stainless steel, p. 54: 3 mm butt, flat, 120 to 140 A at 300 mm/min.
    #[test]
    fn three_millimetres_of_stainless_butt_finds_the_printed_line() {
        let found = near("141", "austenitic-stainless", 3.0, Joint::Butt, Some("PA"));
        assert!(found.iter().any(|row| row.current_a == Some(Band::new(120.0, 140.0))), "{found:?}");
        assert_eq!(found.first().map(|row| row.origin.basis), Some(Basis::Published));
        assert!(near("141", "wood", 3.0, Joint::Butt, None).is_empty());
    }

    #[test]
    fn inches_are_read_as_millimetres() {
        for row in rows().iter().filter(|row| row.thickness_mm.is_none()) {
            if let (Some(inch), Some(mm)) = (row.thickness_in, row.thickness()) {
                assert!((inch.low * 25.4 - mm.low).abs() < 1e-9);
            }
        }
        let quarter = near("121", "carbon-steel", 6.35, Joint::Butt, None);
        assert!(quarter.iter().any(|row| row.thickness_in == Some(Band::at(0.25))));
    }

    // The column is derived: what stands in it is what the rows over the root span.
    #[test]
    fn speeds_over_the_root_are_those_of_the_rows_over_the_root() {
        let mut found = 0;
        for cell in cells() {
            let Some(fill) = cell.travel_fill_mm_min else { continue };
            let over_the_root = rows().iter().filter(|row| {
                row.processes.contains(&cell.process)
                    && row.metals.contains(&cell.metal)
                    && row.kind() == Some(cell.joint)
                    && row.thickness().is_some_and(|own| cell.from_mm <= own.middle() && own.middle() < cell.to_mm)
                    && row.transfer != Some(Transfer::ShortCircuit)
                    && !row.origin.note.is_some_and(|note| note.contains("root"))
                    && !row.position.is_some_and(|own| matches!(own, "PE" | "PF" | "PG" | "vertical"))
            });
            assert_eq!(over_the_root.filter_map(Row::travel).reduce(Band::hull), Some(fill), "{cell:?}");
            assert_ne!(cell.travel_mm_min, Some(fill), "{cell:?}");
            found += 1;
        }
        assert!(found > 1);
    }

    // 2 mm of lap in carbon steel has no cell: those of 1.5 and 3 mm tees stand on both sides of it.
    #[test]
    fn a_joint_between_two_cells_takes_both() {
        let span = |low, high, joint| super::span("141", "carbon-steel", joint, Band::new(low, high)).unwrap();
        let lap = span(2.0, 2.0, Joint::Lap);
        assert!(lap.current_a.unwrap().contains(70.0) && !lap.thinner && !lap.thicker, "{lap:?}");
        assert!(span(0.2, 0.2, Joint::Butt).thinner);
        assert!(span(100.0, 100.0, Joint::Butt).thicker);
        assert!(super::span("141", "cast-iron", Joint::Butt, Band::at(3.0)).is_none());
    }

    // A limit that the settings it comes from leave would cry wolf.
    #[test]
    fn the_hull_holds_every_row() {
        let mut held = 0;
        for row in rows() {
            let (Some(joint), Some(thickness)) = (row.kind(), row.thickness()) else { continue };
            for process in row.processes {
                for metal in row.metals {
                    let Some(cell) = hull(process, metal, joint, thickness.middle()) else { continue };
                    if *cell.process != **process {
                        continue;
                    }
                    held += 1;
                    if let (Some(own), Some(all)) = (row.current_a, cell.current_a) {
                        assert!(all.covers(own), "{row:?} {cell:?}");
                    }
                    if let (Some(own), Some(all)) = (row.voltage_v, cell.voltage_v) {
                        assert!(all.covers(own), "{row:?} {cell:?}");
                    }
                }
            }
        }
        assert!(held > 300, "{held}");
    }
}
