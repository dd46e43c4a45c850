//! How a procedure is begun where nothing but the metal, the process and the joint is known: which thickness a process
//! welds, how edges are prepared, which electrode is taken, which part of a range a run uses, how many runs there are.
//!
//! To add a process or a metal, add its rows: a row without metal, transfer, run or attitude holds for all of them, and the
//! first row that holds counts.

use crate::band::Band;
use crate::base_metals::BaseMetal;
use crate::find;
use crate::gmaw_parameters::Transfer;
use crate::metal_families;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(THICKNESS, thicknesses, "process-thickness", ThicknessRow);
table!(MADE, made_rows, "metal-thickness", MadeRow);
table!(FILLERS, fillers, "filler-thickness", FillerRow);
table!(SIZES, sizes, "electrode-size", SizeRow);
table!(GROOVES, grooves, "groove-planning", GrooveRow);
table!(RUNS, run_rows, "run-planning", RunRow);
table!(FAMILIES, families, "starting-families", FamilyRow);
table!(VOLTAGE, voltages, "load-voltage", VoltageRow);
table!(INTERPASS, interpasses, "interpass-practice", InterpassRow);
table!(CLEANING, cleanings, "cleaning-practice", CleaningRow);
table!(RULES, rules, "planning-rules", Rule);
named!("planning-rules");

/// Which run of a weld.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Part {
    /// The root run, or the only one.
    Root,
    /// The only run of a fillet, or its first: it has no open root.
    Fillet,
    /// Every run after it.
    Fill,
}

/// How the weld lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Attitude {
    /// Flat or horizontal.
    Flat,
    /// Vertical or overhead, in part or whole.
    Other,
}

/// Thickness that a process welds.
#[derive(Debug, Clone, PartialEq)]
pub struct ThicknessRow {
    /// ISO 4063 number.
    pub process: &'static str,
    /// Alloy or family; every metal where absent.
    pub metal: Option<&'static str>,
    /// How the weld lies, where the row holds for that alone.
    pub attitude: Option<Attitude>,
    /// Thickness in millimetres.
    pub thickness_mm: Band,
    /// Processes for thinner metal.
    #[cfg_attr(false, optional)]
    pub thinner: &'static [&'static str],
    /// Processes for thicker metal.
    #[cfg_attr(false, optional)]
    pub thicker: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// Thickness in which a metal is made.
#[derive(Debug, Clone, PartialEq)]
pub struct MadeRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// Thickness in millimetres.
    pub thickness_mm: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Thickness that a class of filler is taken for.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerRow {
    /// AWS classification.
    #[cfg_attr(false, key = "class")]
    pub classification: &'static str,
    /// Thickness in millimetres.
    pub thickness_mm: Band,
    /// Thickness in millimetres up to which it goes before the other classes of its process for plain steel.
    pub first_to_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Size of an electrode or wire.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeRow {
    /// ISO 4063 number.
    pub process: &'static str,
    /// Mode of transfer.
    pub transfer: Option<Transfer>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Which run.
    pub run: Option<Part>,
    /// How the weld lies.
    pub attitude: Option<Attitude>,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Preparation of a butt joint.
#[derive(Debug, Clone, PartialEq)]
pub struct GrooveRow {
    /// ISO 4063 number.
    pub process: &'static str,
    /// Alloy or family; every metal where absent.
    pub metal: Option<&'static str>,
    /// Greatest thickness with square edges, in millimetres.
    pub square_up_to_mm: f64,
    /// Included angle of the V, in degrees.
    pub angle_deg: f64,
    /// Root gap of the V, in millimetres.
    pub gap_mm: Band,
    /// Root face of the V, in millimetres.
    pub root_face_mm: Band,
    /// Root gap of a double V, in millimetres; nothing where the process does not weld one.
    pub double_gap_mm: Option<Band>,
    /// Root face of a double V, in millimetres.
    pub double_root_face_mm: Option<Band>,
    /// Backing of the V: `ceramic` or `strip`.
    pub backing: Option<&'static str>,
    /// Whether it is for welding downwards, as line pipe is.
    #[cfg_attr(false, optional)]
    pub downward: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a run begins with.
#[derive(Debug, Clone, PartialEq)]
pub struct RunRow {
    /// ISO 4063 number.
    pub process: &'static str,
    /// Alloy or family; every metal where absent.
    pub metal: Option<&'static str>,
    /// Mode of transfer.
    pub transfer: Option<Transfer>,
    /// Which run.
    pub run: Part,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// How the weld lies.
    pub attitude: Attitude,
    /// Part of the range of current: 0 its low end, 1 its high end.
    pub current_share: Band,
    /// Greatest cross-section of one run, in square millimetres.
    pub area_mm2: f64,
    /// Travel speed in millimetres per minute.
    pub travel_mm_min: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Cleaning before welding.
#[derive(Debug, Clone, PartialEq)]
pub struct CleaningRow {
    /// Family of metal.
    pub metal: &'static str,
    /// What is done.
    pub cleaning: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A metal that begins with the settings of another.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// ISO 4063 number.
    pub process: &'static str,
    /// Family, or class of cored wire, of the table of settings.
    #[cfg_attr(false, key = "as")]
    pub like: &'static str,
    /// Current over that of the table.
    pub current_ratio: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Voltage by current.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltageRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Voltage at no current, in volts.
    pub base_v: f64,
    /// Rise in volts for each ampere.
    pub v_per_a: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

impl VoltageRow {
    /// Voltage in volts over a range of current in amperes.
    pub fn over(&self, current_a: Band) -> Band {
        let at = |amperes: f64| self.base_v + self.v_per_a * amperes;
        Band::new(at(current_a.low), at(current_a.high))
    }
}

/// Interpass temperature in practice.
#[derive(Debug, Clone, PartialEq)]
pub struct InterpassRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// Highest interpass temperature in degrees Celsius.
    pub interpass_max_c: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

fn holds<T: PartialEq + Copy>(stated: Option<T>, wanted: T) -> bool {
    stated.is_none_or(|stated| stated == wanted)
}

/// The thickness that a process welds of a metal: the row of its alloy, of its family, or the one of every metal.
pub fn thickness(metal: &BaseMetal, process: &str) -> Option<&'static ThicknessRow> {
    let of = |kind| thickness_of(process, kind, None);
    metal.kinds().into_iter().find_map(|kind| of(Some(kind))).or_else(|| of(None))
}

/// The thickness that a process welds of a metal as it lies, where that is less than of any weld.
pub fn thickness_lying(metal: &BaseMetal, process: &str, attitude: Attitude) -> Option<&'static ThicknessRow> {
    metal.kinds().into_iter().find_map(|kind| thickness_of(process, Some(kind), Some(attitude)))
}

fn thickness_of(process: &str, metal: Option<&str>, attitude: Option<Attitude>) -> Option<&'static ThicknessRow> {
    let own = |row: &&ThicknessRow| (row.process, row.metal, row.attitude) == (process, metal, attitude);
    thicknesses().iter().find(own)
}

/// The thickness in which a metal is made, by its alloy or its family; nothing where it is made in any.
pub fn made(metal: &BaseMetal) -> Option<&'static MadeRow> {
    metal.kinds().into_iter().find_map(|kind| made_rows().iter().find(|row| row.metal == kind))
}

/// Processes that have rows, in the order of the table.
pub fn processes() -> Vec<&'static str> {
    let mut numbers: Vec<&str> = thicknesses().iter().map(|row| row.process).collect();
    numbers.dedup();
    numbers
}

/// The thickness that a class of filler is taken for; nothing where it serves any.
pub fn filler_thickness(class: &str) -> Option<&'static FillerRow> {
    find::by_name(fillers(), class, |row| [row.classification])
}

/// Size of electrode or wire for a process, mode of transfer, thickness in millimetres, run and attitude.
pub fn size(
    process: &str,
    transfer: Option<Transfer>,
    thickness_mm: f64,
    part: Part,
    attitude: Attitude,
) -> Option<&'static SizeRow> {
    sizes().iter().find(|row| {
        row.process == process
            && (row.transfer.is_none() || row.transfer == transfer)
            && row.up_to_mm.is_none_or(|up_to| thickness_mm <= up_to)
            && holds(row.run, part)
            && holds(row.attitude, attitude)
    })
}

/// Every size of electrode or wire that a process takes, mm, the largest first.
pub fn sizes_of(process: &str) -> Vec<f64> {
    let mut all: Vec<f64> = sizes().iter().filter(|row| row.process == process).map(|row| row.diameter_mm).collect();
    all.sort_by(|one, other| other.total_cmp(one));
    all.dedup();
    all
}

/// Preparation of a butt joint of a metal for a process, on the backing that is wanted (`strip`, `ceramic`, `none`); where none is
/// wanted the first row of the process; downwards a row for that goes before.
pub fn groove(metal: &BaseMetal, process: &str, backing: Option<&str>, downward: bool) -> Option<&'static GrooveRow> {
    let kinds = metal.kinds();
    let of_metal = |row: &&GrooveRow| row.metal.is_none_or(|kind| kinds.contains(&kind));
    let held = |row: &&GrooveRow| match backing {
        None => true,
        Some("none" | "gouge") => row.backing.is_none(),
        Some(wanted) => row.backing == Some(wanted),
    };
    let of = |down: bool| grooves().iter().filter(move |row| row.process == process && row.downward == down);
    let downwards = of(true).filter(of_metal).find(held).filter(|_| downward);
    downwards.or_else(|| of(false).filter(of_metal).find(held))
}

/// What a run of a process begins with; nothing where the mode of transfer is not used in the attitude.
pub fn run(
    metal: &BaseMetal,
    process: &str,
    transfer: Option<Transfer>,
    part: Part,
    attitude: Attitude,
) -> Option<&'static RunRow> {
    runs(metal, process, transfer, part, attitude).next()
}

fn runs(
    metal: &BaseMetal,
    process: &str,
    transfer: Option<Transfer>,
    part: Part,
    attitude: Attitude,
) -> impl Iterator<Item = &'static RunRow> {
    let kinds = metal.kinds();
    run_rows().iter().filter(move |row| {
        row.process == process
            && row.metal.is_none_or(|kind| kinds.contains(&kind))
            && (row.transfer.is_none() || row.transfer == transfer)
            && row.run == part
            && row.attitude == attitude
    })
}

/// What the first run of a fillet begins with: its own row above the thickness of that, else the row of a root run.
pub fn fillet_run(
    metal: &BaseMetal,
    process: &str,
    transfer: Option<Transfer>,
    thickness_mm: f64,
    attitude: Attitude,
) -> Option<&'static RunRow> {
    runs(metal, process, transfer, Part::Fillet, attitude)
        .find(|row| row.over_mm.is_none_or(|over| thickness_mm > over))
        .or_else(|| run(metal, process, transfer, Part::Root, attitude))
}

/// How a family of metal is cleaned before welding.
pub fn cleaning(family: &str) -> Option<&'static CleaningRow> {
    metal_families::first(cleanings(), family, |row| row.metal)
}

/// Whose settings a metal begins with.
pub fn starting_family(metal: &BaseMetal, process: &str) -> Option<&'static FamilyRow> {
    metal.kinds().into_iter().find_map(|kind| families().iter().find(|row| row.metal == kind && row.process == process))
}

/// Voltage by current of a process.
pub fn voltage(process: &str) -> Option<&'static VoltageRow> {
    voltages().iter().find(|row| row.processes.contains(&process))
}

/// Interpass temperature of a metal in practice, by its alloy or its family.
pub fn interpass(metal: &BaseMetal) -> Option<&'static InterpassRow> {
    metal.kinds().into_iter().find_map(|kind| interpasses().iter().find(|row| row.metal == kind))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process_suitability::{self, Suits};
    use crate::{base_metals, fcaw_parameters, gmaw_parameters, gtaw_starting_points, joint_preparations};

    #[test]
    fn every_metal_and_process_that_suit_have_settings_to_begin_with() {
        for metal in base_metals::rows() {
            for process in ["131", "135", "136", "114", "141"] {
                if process_suitability::get(metal, process).is_none_or(|row| row.suits == Suits::Unsuited) {
                    continue;
                }
                let name = &metal.specification;
                let row = starting_family(metal, process).unwrap_or_else(|| panic!("{name} {process}"));
                let known = match process {
                    "141" => gtaw_starting_points::families().contains(&row.like),
                    "131" | "135" => gmaw_parameters::rows().iter().any(|own| own.wire == row.like),
                    _ => fcaw_parameters::rows().iter().any(|own| own.classification == row.like),
                };
                assert!(known, "{name} {process} {}", row.like);
                assert!(thickness(metal, process).is_some(), "{name} {process}");
            }
        }
    }

    #[test]
    fn every_process_has_its_groove_and_its_runs() {
        for process in processes() {
            let metal = base_metals::find(if process == "131" { "5083" } else { "S355J2" }).unwrap();
            let groove = groove(metal, process, None, false).unwrap();
            let hull = joint_preparations::rows().iter().filter(|row| row.kind.starts_with('V'));
            let gap = hull.filter_map(|row| row.gap_mm).reduce(Band::hull).unwrap();
            assert!(gap.covers(groove.gap_mm), "{process}");
            let double = joint_preparations::rows().iter().filter(|row| row.kind.starts_with("double V"));
            let gap = double.filter_map(|row| row.gap_mm).reduce(Band::hull).unwrap();
            assert!(groove.double_gap_mm.is_none_or(|own| gap.covers(own)), "{process}");
            assert_eq!(groove.double_gap_mm.is_some(), groove.double_root_face_mm.is_some(), "{process}");
            for part in [Part::Root, Part::Fill] {
                for attitude in [Attitude::Flat, Attitude::Other] {
                    // Flux and pool run out of any other position; metal cored wire is sprayed flat and pulsed elsewhere.
                    if process == "121" && attitude == Attitude::Other {
                        continue;
                    }
                    let sprayed = process == "138" && attitude == Attitude::Flat;
                    let pulsed = process == "138" && part == Part::Fill;
                    let mode = match (sprayed, pulsed) {
                        (true, _) => Transfer::Spray,
                        (false, true) => Transfer::Pulsed,
                        (false, false) => Transfer::ShortCircuit,
                    };
                    let row = run(metal, process, Some(mode), part, attitude).unwrap();
                    assert!(row.area_mm2 > 0.0 && Band::new(0.0, 1.0).covers(row.current_share), "{process}");
                }
            }
        }
    }

    // IEC 60974-1: 200 A with a covered electrode is 28 V, with a tungsten electrode 18 V, with wire 24 V (from memory).
    #[test]
    fn load_voltages_at_two_hundred_amperes() {
        for (process, volts) in [("111", 28.0), ("141", 18.0), ("135", 24.0)] {
            let range = voltage(process).unwrap().over(Band::at(200.0));
            assert!((range.low - volts).abs() < 1e-9, "{process}");
        }
    }
}
