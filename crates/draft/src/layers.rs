//! Runs and layers from the cross-section of the weld, by the greatest run of the process.

use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::planning::{self, Part, RunRow};

use crate::facts::{Facts, Refused};
use crate::joint::Shape;
use crate::plan::nothing;

/// A run, or several that are alike.
pub(crate) struct Run {
    /// `1` or `2-4`.
    pub(crate) numbers: String,
    pub(crate) layer: &'static str,
    /// `first` or `second` side of a joint that is welded from both.
    pub(crate) side: Option<&'static str>,
    pub(crate) part: Part,
    /// Cross-section of one run, mm².
    pub(crate) area_mm2: f64,
    pub(crate) transfer: Option<Transfer>,
    pub(crate) row: &'static RunRow,
}

/// Modes of transfer of the root run and of those over it.
#[derive(Clone, Copy)]
pub(crate) struct Modes {
    pub(crate) root: Option<Transfer>,
    pub(crate) fill: Option<Transfer>,
}

/// The runs of a weld; `run_size` is their size over the usual one.
pub(crate) fn runs(
    facts: &Facts,
    shape: &Shape,
    area_mm2: f64,
    modes: Modes,
    run_size: f64,
) -> Result<Vec<Run>, Refused> {
    let (process, attitude) = (facts.process.number.as_str(), facts.attitude());
    let known = |row: Option<&'static RunRow>| {
        row.ok_or_else(|| {
            nothing(format!("run-planning has no run of process {process} in {}", facts.position.code), facts)
        })
    };
    let first = if facts.groove() {
        planning::run(facts.metal, process, modes.root, Part::Root, attitude)
    } else {
        planning::fillet_run(facts.metal, process, modes.root, facts.thickness_mm, attitude)
    };
    let root = Layer { part: Part::Root, transfer: modes.root, row: known(first)? };
    let fill = || {
        let row = known(planning::run(facts.metal, process, modes.fill, Part::Fill, attitude))?;
        Ok(Layer { part: Part::Fill, transfer: modes.fill, row })
    };
    let mut runs = Vec::new();
    if shape.both_sides() {
        // Each side is half the weld; the second one begins in the gouged root.
        let fill = fill()?;
        add(&mut runs, Some("first"), Some(&root), &fill, area_mm2 / 2.0, run_size);
        add(&mut runs, Some("second"), None, &fill, area_mm2 / 2.0, run_size);
    } else if area_mm2 <= run_size * root.row.area_mm2 {
        runs.push(root.run((1, 1), "single", None, area_mm2));
    } else {
        add(&mut runs, None, Some(&root), &fill()?, area_mm2, run_size);
    }
    Ok(runs)
}

/// What the runs of a layer have in common.
struct Layer {
    part: Part,
    transfer: Option<Transfer>,
    row: &'static RunRow,
}

impl Layer {
    fn run(&self, (first, last): (u32, u32), layer: &'static str, side: Option<&'static str>, area_mm2: f64) -> Run {
        let numbers = if first == last { first.to_string() } else { format!("{first}-{last}") };
        Run { numbers, layer, side, part: self.part, area_mm2, transfer: self.transfer, row: self.row }
    }
}

/// Adds the runs of one side: a root run where there is one, then as many as its cross-section asks for.
///
/// All share it in the proportion of their greatest sizes.
fn add(
    runs: &mut Vec<Run>,
    side: Option<&'static str>,
    root: Option<&Layer>,
    fill: &Layer,
    area_mm2: f64,
    run_size: f64,
) {
    let of_root = root.map_or(0.0, |root| run_size * root.row.area_mm2);
    let of_fill = run_size * fill.row.area_mm2;
    let count = ((area_mm2 - of_root) / of_fill).ceil().max(1.0);
    let scale = (area_mm2 / (of_root + count * of_fill)).min(1.0);
    let mut next = 1 + runs.iter().map(Run::last).max().unwrap_or(0);
    if let Some(root) = root {
        runs.push(root.run((next, next), "root", side, scale * of_root));
        next += 1;
    }
    // cannot be lost: a count of runs of welds up to the greatest thickness is small
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let last = next + count as u32 - 1;
    if last > next {
        runs.push(fill.run((next, last - 1), "fill", side, scale * of_fill));
    }
    runs.push(fill.run((last, last), "cap", side, scale * of_fill));
}

impl Run {
    /// Number of its last run.
    fn last(&self) -> u32 {
        let last = self.numbers.rsplit('-').next().unwrap_or_default();
        // cannot fail: numbers are written here
        last.parse().unwrap_or(0)
    }
}
