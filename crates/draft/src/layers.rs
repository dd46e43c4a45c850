//! Runs and layers from the cross-section of the weld, by the greatest run of the process.

use seamwright_handbook::Band;
use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::planning::{self, Part, RunRow};

use crate::begin::{self, Line, Wanted};
use crate::facts::Facts;
use crate::figures::rule;
use crate::hold::Hold;
use crate::joint::Shape;
use crate::no_draft::nothing;
use crate::refused::Refused;

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
    /// The line of settings that it begins with.
    pub(crate) line: Option<Line>,
    /// What the checks hold its settings within.
    pub(crate) hold: Hold,
}

impl Run {
    /// Usual travel speed in mm/min: that of its line, else of its plan.
    pub(crate) fn travel_mm_min(&self) -> Band {
        self.line.and_then(|line| line.travel()).unwrap_or(self.row.travel_mm_min)
    }

    /// The travel speed that metal is laid at, mm/min: a bead of solid or metal cored wire that is woven upwards stays under the
    /// middle of its line.
    pub(crate) fn usual_travel(&self) -> Band {
        let usual = self.travel_mm_min();
        // A run that is larger than that of its line is laid slower.
        let slower = Band::new(usual.low.min(self.row.travel_mm_min.low), usual.high);
        let usual = usual.overlap(self.row.travel_mm_min).unwrap_or(slower);
        let woven = self.transfer.is_some() && self.line.is_some_and(|line| line.upward());
        if woven { Band::new(usual.low, usual.middle()) } else { usual }
    }

    /// The widest travel speed of line and plan, mm/min.
    pub(crate) fn widest_travel(&self) -> Band {
        self.travel_mm_min().hull(self.row.travel_mm_min)
    }
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
    (area_mm2, over): (f64, Option<(usize, f64)>),
    modes: Modes,
    classes: [&str; 2],
    run_size: f64,
) -> Result<Vec<Run>, Refused> {
    let (process, attitude) = (facts.process.number, facts.attitude());
    let known = |row: Option<&'static RunRow>| {
        row.ok_or_else(|| {
            nothing(
                format!("the handbook has no run of process {process} in {} (run-planning)", facts.position.code),
                facts,
            )
        })
    };
    let first = if facts.groove() {
        planning::run(facts.metal, process, modes.root, Part::Root, attitude)
    } else {
        planning::fillet_run(facts.metal, process, modes.root, facts.thickness_mm, attitude)
    };
    let square = shape.square();
    let line = |transfer, part, class| begin::line(facts, &Wanted { transfer, part, square, class });
    // On a strip or a tile nothing falls through: the root is welded like the rest.
    let of_root = line(modes.root, if shape.held() { Part::Fill } else { Part::Root }, classes[0]);
    let row = known(first)?;
    let root = Layer {
        part: Part::Root,
        transfer: modes.root,
        row,
        area_mm2: greatest(facts, shape, row, of_root, classes[0]),
        line: of_root,
    };
    let fill = || {
        let row = known(planning::run(facts.metal, process, modes.fill, Part::Fill, attitude))?;
        let line = line(modes.fill, Part::Fill, classes[1]);
        Ok(Layer {
            part: Part::Fill,
            transfer: modes.fill,
            row,
            area_mm2: greatest(facts, shape, row, line, classes[1]),
            line,
        })
    };
    let mut runs = Vec::new();
    if let Some((before, root_mm2)) = over {
        // The root is another process's: its runs are the first.
        add(&mut runs, None, None, &fill()?, (area_mm2 - root_mm2).max(0.2 * area_mm2), run_size);
        for run in &mut runs {
            run.renumber(before);
        }
    } else if shape.both_sides() {
        // Each side is half the weld; the second one begins in the gouged root.
        if area_mm2 / 2.0 <= run_size * root.area_mm2 {
            runs.push(root.run((1, 1), "root", Some("first"), area_mm2 / 2.0));
            runs.push(root.run((2, 2), "cap", Some("second"), area_mm2 / 2.0));
            return Ok(runs);
        }
        let fill = fill()?;
        add(&mut runs, Some("first"), Some(&root), &fill, area_mm2 / 2.0, run_size);
        add(&mut runs, Some("second"), None, &fill, area_mm2 / 2.0, run_size);
    } else if alone(facts, shape) && area_mm2 <= run_size * root.area_mm2 {
        let least = over_the_edges(facts, square).max(least_fillet(facts));
        runs.push(root.run((1, 1), "single", None, area_mm2.max(least)));
    } else {
        add(&mut runs, None, Some(&root), &fill()?, area_mm2, run_size);
    }
    Ok(runs)
}

/// Whether one run may be the whole weld: a bevelled groove takes a root and a cap, but for the deep arc under flux.
fn alone(facts: &Facts, shape: &Shape) -> bool {
    !facts.groove() || shape.square() || facts.process.uses_flux
}

/// Cross-section in mm² of the one run of square edges that melts wire or electrode: it covers the gap at cap and root; nothing
/// of other joints, and of a rod that a hand feeds.
fn over_the_edges(facts: &Facts, square: bool) -> f64 {
    if !square || facts.process.uses_tungsten {
        return 0.0;
    }
    let (wide, _) = rule(planning::SQUARE_BEAD_WIDTH);
    let (least, _) = rule(planning::SQUARE_BEAD_WIDTH_LEAST);
    let (high, _) = rule(planning::SQUARE_BEAD_HEIGHT);
    let (gap, _) = rule(planning::SQUARE_GAP);
    let (cap, root) = (rule(planning::CAP_HEIGHT).0.high, rule(planning::ROOT_HEIGHT).0.high);
    let own = facts.thickness_mm;
    let width = (wide.high * own).max(least.high);
    let bow = |most: f64| 2.0 / 3.0 * width * most.min(high.high * own);
    gap.middle() * own * own + bow(cap) + bow(root)
}

/// Cross-section in mm² under which a covered electrode makes no fillet in one run.
fn least_fillet(facts: &Facts) -> f64 {
    let free = facts.process.covered_electrode() && !facts.groove() && facts.leg.is_none();
    if free { rule(planning::ELECTRODE_FILLET_LEAST).0.high } else { 0.0 }
}

/// What the runs of a layer have in common.
struct Layer {
    part: Part,
    transfer: Option<Transfer>,
    row: &'static RunRow,
    /// Greatest cross-section of one run, mm².
    area_mm2: f64,
    line: Option<Line>,
}

/// The greatest run: what the line of settings lays down, a fillet, and a groove under flux on a strip, at its slowest and other
/// grooves at its middle speed; else what run-planning has.
fn greatest(facts: &Facts, shape: &Shape, row: &RunRow, line: Option<Line>, class: &str) -> f64 {
    let laid = line.and_then(|line| {
        let travel = line.travel()?;
        let volume = crate::rate::laid_mm3_min(facts, &line, class)?;
        let slow = !facts.groove() || (facts.process.uses_flux && shape.held());
        let speed = if slow { travel.low * 1.05 } else { travel.middle() };
        Some(volume.middle() / speed)
    });
    // A small fillet is one run, whatever the speed of its line.
    let least = if facts.groove() { 0.4 } else { 0.7 };
    laid.map_or(row.area_mm2, |laid| laid.clamp(least * row.area_mm2, 1.6 * row.area_mm2))
}

impl Layer {
    fn run(&self, (first, last): (u32, u32), layer: &'static str, side: Option<&'static str>, area_mm2: f64) -> Run {
        let numbers = if first == last { first.to_string() } else { format!("{first}-{last}") };
        Run {
            numbers,
            layer,
            side,
            part: self.part,
            area_mm2,
            transfer: self.transfer,
            row: self.row,
            line: self.line,
            hold: Hold::default(),
        }
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
    let of_root = root.map_or(0.0, |root| run_size * root.area_mm2);
    let of_fill = run_size * fill.area_mm2;
    let count = ((area_mm2 - of_root) / of_fill).ceil().max(1.0);
    let scale = (area_mm2 / (of_root + count * of_fill)).min(1.0);
    let mut next = 1 + runs.iter().map(Run::last).max().unwrap_or(0);
    if let Some(root) = root {
        runs.push(root.run((next, next), "root", side, scale * of_root));
        next += 1;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, from 1 to the runs of a joint")]
    let last = next + count as u32 - 1;
    if last > next {
        runs.push(fill.run((next, last - 1), "fill", side, scale * of_fill));
    }
    runs.push(fill.run((last, last), "cap", side, scale * of_fill));
}

impl Run {
    /// Moves its numbers on.
    fn renumber(&mut self, by: usize) {
        let moved =
            self.numbers.split('-').filter_map(|own| own.parse::<usize>().ok()).map(|own| (own + by).to_string());
        self.numbers = moved.collect::<Vec<_>>().join("-");
    }

    /// How many runs it is.
    pub(crate) fn count(&self) -> u32 {
        let first = self.numbers.split('-').next().and_then(|own| own.parse().ok()).unwrap_or(0);
        self.last() + 1 - first.min(self.last())
    }

    /// Number of its last run.
    fn last(&self) -> u32 {
        let last = self.numbers.rsplit('-').next().unwrap_or_default();
        // cannot fail: numbers are written here
        last.parse().unwrap_or(0)
    }
}
