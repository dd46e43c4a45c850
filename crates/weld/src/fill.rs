//! Whether the runs fill the joint: the area that they lay down beside the cross-section of the weld.

use seamwright_calc::Spread;
use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, deposition, setting_limits};
use seamwright_model::finding::SourceRef;
use seamwright_model::procedure::{Preparation, Side, keys};
use seamwright_model::stated::Stated;

use crate::consumption;
use crate::deposit::{self, By};
use crate::section;
use crate::view::{RunView, View};

/// How far past the most that a joint holds there is no excuse.
const FAR: f64 = 2.0;

/// The runs of a procedure beside its joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Area that all runs lay down, mm².
    pub laid_mm2: Spread,
    /// Cross-section of the weld, mm².
    pub joint_mm2: Spread,
    /// What one run makes on the thinnest sheet, mm²: a smaller weld is not welded.
    pub one_run_mm2: f64,
    /// Share of the joint that the runs may lay, %.
    pub limit_pct: Band,
    /// Whether the rate of every run follows from its wire feed, or from its electrode, diameter and current; else it is a wide
    /// range of the process.
    pub known: bool,
    /// Area that the runs lay down whose wire or electrode feeds itself, mm²: nothing where all rods are fed by hand, as little
    /// as the joint asks.
    pub fed_mm2: Spread,
    /// As [`Fill::known`], of the runs of [`Fill::fed_mm2`] alone.
    pub fed_known: bool,
    /// Whether the edges are square: the bead is wider than the gap, and how much wider is not stated.
    pub square: bool,
    /// Where the limit is written.
    pub source: SourceRef,
}

/// How surely it follows that the runs do not make the weld.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Certainty {
    /// With every setting that is stated.
    Certain,
    /// With the middle of the settings, and not with all.
    Likely,
    /// By nothing but a wide range of rates.
    Possible,
}

impl Fill {
    /// How surely the runs lay too little to fill the joint: nothing where they fill it.
    ///
    /// The smallest joint that the document covers counts. When even the most that the runs can lay is too little, mass is missing.
    /// Where the rate is known, the middle of the settings must reach the share as well.
    pub fn short(&self) -> Option<Certainty> {
        let least = self.joint_mm2.low * self.limit_pct.low / 100.0;
        match (self.known, self.laid_mm2.middle < least, self.laid_mm2.high < least) {
            (_, _, true) => Some(Certainty::Certain),
            (true, true, false) => Some(Certainty::Likely),
            _ => None,
        }
    }

    /// As [`Fill::short`], for more metal than the largest joint holds.
    pub fn over(&self) -> Option<Certainty> {
        if self.square {
            return None;
        }
        let most = self.joint_mm2.high.max(self.one_run_mm2) * self.limit_pct.high / 100.0;
        // A leg is often made larger than stated, and a core lays less than its wire: certain is what lies farther out.
        match (self.fed_known, self.fed_mm2.middle > most, self.fed_mm2.low > FAR * most) {
            (true, _, true) => Some(Certainty::Certain),
            (true, true, false) => Some(Certainty::Likely),
            (false, _, true) => Some(Certainty::Possible),
            _ => None,
        }
    }

    /// The areas in words: what the runs lay, and what the joint holds.
    pub fn words(&self) -> (String, String) {
        (area(self.laid_mm2), area(self.joint_mm2))
    }
}

fn joint_is_square(view: &View<'_>) -> bool {
    let joint = view.procedure.joint.as_ref();
    joint.and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value) == Some(&Preparation::Square)
}

fn area(spread: Spread) -> String {
    let figure = |value: f64| figure((value * 10.0).round() / 10.0);
    if (spread.high - spread.low).abs() < 0.05 {
        format!("{} mm2", figure(spread.middle))
    } else {
        format!("{}-{} mm2", figure(spread.low), figure(spread.high))
    }
}

/// The runs beside the joint; nothing where the area of one of them, or of the weld, does not follow from the document.
///
/// Runs that stand in several rows for several positions count once. The runs of a fillet's second side fill a second fillet.
pub fn of(view: &View<'_>) -> Option<Fill> {
    beside(view, section::of(view, None).ok()?.area_mm2)
}

/// As [`of`], beside a cross-section (mm²) of one side that is known.
pub fn beside(view: &View<'_>, joint_mm2: Spread) -> Option<Fill> {
    let rule = deposition::FILL;
    let one_side = view.weld().is_some_and(|weld| !weld.has_groove());
    let (mut laid, mut fed) = (Spread::NOTHING, Spread::NOTHING);
    let (mut known, mut fed_known) = (true, true);
    let whole_mm2 = joint_mm2.middle * section::fillets(view);
    for (run, count) in consumption::taken(view, Some(whole_mm2)) {
        let count = f64::from(count);
        if one_side && run.run.side == Some(Side::Second) {
            continue;
        }
        // A run that is welded without filler lays nothing down.
        if run.process.is_some_and(|process| !process.consumable_electrode) && run.setting(&keys::FILLER).is_none() {
            continue;
        }
        let deposit = deposit::of(view, run)?;
        let area = deposit.area_mm2?;
        let own_known = matches!(deposit.by, By::WireFeed | By::Current | By::Size);
        known &= own_known;
        laid = laid + area.times(count);
        if run.process.is_none_or(|process| process.consumable_electrode) {
            fed_known &= own_known;
            fed = fed + area.times(count);
        }
    }
    let process = view.runs.first().map_or("", RunView::number);
    let leg_mm = setting_limits::get(setting_limits::LEG_OF_ONE_RUN, process)
        .filter(|_| one_side)
        .map_or(0.0, |row| row.usual.high);
    (laid.high > 0.0).then(|| Fill {
        laid_mm2: laid,
        joint_mm2,
        one_run_mm2: leg_mm * leg_mm / 2.0,
        limit_pct: rule.value,
        known,
        fed_mm2: fed,
        fed_known,
        square: joint_is_square(view),
        source: rule.origin.source_ref(),
    })
}
