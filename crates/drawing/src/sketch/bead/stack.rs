//! Which runs lie on which, and how many side by side.

use super::layers::{between, range, under};
use super::run::Run;
use crate::sketch::joint_sketch::{JointSketch, Layer, RunBead};
use crate::sketch::section::Region;

/// Width of a bead over its height that a layer's beads come near to.
const STOUT: f64 = 2.2;

/// Gives the runs to the sides: as they say, or, where a joint has two sides and no run names the second, each side
/// the same number in the order of welding.
pub(super) fn share_out(sketch: &JointSketch, regions: &[Region]) -> Vec<(bool, Vec<Run>)> {
    let share = |run: &RunBead| {
        let usual = match run.layer {
            Layer::Root | Layer::Backing => 0.6,
            Layer::Hot => 0.8,
            Layer::Fill | Layer::Cap | Layer::Single => 1.0,
        };
        // Far more than any run: keeps every bead large enough to be seen.
        run.share.filter(|share| share.is_finite() && *share > 0.0).unwrap_or(usual)
    };
    let mut sides = vec![Vec::new(); regions.len()];
    let two = regions.len() > 1;
    let named = sketch.runs.iter().any(|run| run.second_side);
    let half = sketch.runs.len().div_ceil(2);
    for (order, run) in sketch.runs.iter().enumerate() {
        let side = usize::from(two && if named { run.second_side } else { order >= half });
        if let Some(runs) = sides.get_mut(side) {
            runs.push(Run { order, label: run.label.clone(), layer: run.layer, share: share(run) });
        }
    }
    let count = sketch.runs.len();
    sides
        .into_iter()
        .enumerate()
        .map(|(side, mut runs)| {
            if runs.is_empty() {
                runs.push(Run { order: count + side, label: String::new(), layer: Layer::Single, share: 1.0 });
            }
            (side > 0, runs)
        })
        .collect()
}

/// Sorts the runs of a side into layers from the root up.
pub(super) fn stack(region: &Region, runs: &[Run]) -> Vec<Vec<Run>> {
    let top = region.top(&[]);
    let whole = between(&region.xs, &region.bottom, &top);
    let total: f64 = runs.iter().map(|run| run.share).sum();
    let mut layers: Vec<Vec<Run>> = Vec::new();
    let mut rest = runs;
    let mut filled = 0.0;
    while let Some(first) = rest.first() {
        let alike = rest.iter().take_while(|run| run.layer == first.layer).count();
        let count = match first.layer {
            Layer::Root | Layer::Hot | Layer::Single | Layer::Backing if !region.is_wedge() || layers.is_empty() => 1,
            Layer::Cap if !region.is_wedge() => alike,
            _ if region.is_wedge() && layers.is_empty() => 1,
            _ => {
                let alike = if region.is_wedge() { rest.len() } else { alike };
                abreast(region, &top, filled, rest.get(..alike).unwrap_or(rest), whole / total.max(1e-9))
            }
        };
        let count = count.clamp(1, rest.len());
        let (layer, more) = rest.split_at(count);
        filled += layer.iter().map(|run| run.share).sum::<f64>() / total.max(1e-9) * whole;
        layers.push(layer.to_vec());
        rest = more;
    }
    layers
}

/// How many of the runs lie side by side on what is filled so far, so that each is as stout as a bead is.
fn abreast(region: &Region, top: &[f64], filled: f64, runs: &[Run], area_of_share: f64) -> usize {
    let mut best = (1, f64::INFINITY);
    let mut sum = 0.0;
    let widest = region.xs.last().zip(region.xs.first()).map_or(0.0, |(last, first)| last - first).max(1e-9);
    for (index, run) in runs.iter().enumerate() {
        sum += run.share * area_of_share;
        #[expect(clippy::cast_precision_loss, reason = "a count of runs is far below 2^52")]
        let count = (index + 1) as f64;
        let miss = |width: f64| (width * width / (count * sum.max(1e-9)) / STOUT).ln();
        // Too many even where the joint is widest: more of them are no better.
        if -miss(widest) > best.1 {
            break;
        }
        let level = level(region, top, filled + sum * 0.5);
        let miss = miss(extent(region, top, level).map_or(0.0, |(from, to)| to - from).max(1e-9)).abs();
        if miss < best.1 {
            best = (index + 1, miss);
        }
    }
    // What would be left over for a layer of its own, wide and thin, lies in this one.
    let left = runs.len().saturating_sub(best.0);
    if left * 2 < best.0 { runs.len() } else { best.0 }
}

/// The level under which so much area lies.
pub(super) fn level(region: &Region, top: &[f64], wanted: f64) -> f64 {
    let (mut low, mut high) = range(&region.bottom, top);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        let heights = top.iter().zip(&region.bottom).map(|(&t, &b)| middle.min(t).max(b) - b);
        if under(&region.xs, heights) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// From where to where a level is inside a region.
fn extent(region: &Region, top: &[f64], level: f64) -> Option<(f64, f64)> {
    let mut inside = region
        .xs
        .iter()
        .zip(region.bottom.iter().zip(top))
        .filter(|(_, (bottom, top))| **bottom <= level && level <= **top)
        .map(|(x, _)| *x);
    let first = inside.next()?;
    Some((first, inside.next_back().unwrap_or(first)))
}
