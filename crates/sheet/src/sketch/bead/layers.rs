//! Layers are cut from what a side fills, and beads from a layer.

use super::stack::Run;
use crate::sketch::canvas::Point;
use crate::sketch::section::Region;

pub(super) fn range(bottom: &[f64], top: &[f64]) -> (f64, f64) {
    (bottom.iter().copied().fold(f64::INFINITY, f64::min), top.iter().copied().fold(f64::NEG_INFINITY, f64::max))
}

/// Area between two curves over the same x.
pub(super) fn between(xs: &[f64], low: &[f64], high: &[f64]) -> f64 {
    let heights = low.iter().zip(high).map(|(l, h)| h - l);
    let mut last: Option<(f64, f64)> = None;
    let mut sum = 0.0;
    for (&x, height) in xs.iter().zip(heights) {
        if let Some((x0, height0)) = last {
            sum += (x - x0) * (height + height0) / 2.0;
        }
        last = Some((x, height));
    }
    sum
}

/// Area of a polygon.
pub(super) fn area(polygon: &[Point]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    (polygon.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0).abs()
}

/// Cuts a region into the cells of its beads, layer by layer; also gives the face as it came out.
pub(super) fn lay(region: &Region, layers: &[Vec<Run>]) -> (Vec<Vec<Point>>, Vec<f64>) {
    let shares: Vec<Vec<f64>> = layers.iter().map(|layer| layer.iter().map(|run| run.share).collect()).collect();
    let total: f64 = shares.iter().flatten().sum::<f64>().max(1e-9);
    let (first, last) = (region.xs.first().copied().unwrap_or(0.0), region.xs.last().copied().unwrap_or(1.0));
    let mut cap_cuts: Vec<f64> = shares.last().map(|cap| fractions(cap)).unwrap_or_default();
    let mut result = (Vec::new(), Vec::new());
    // The scallops of the cap follow its cuts, and the cuts follow the areas: a few rounds settle both.
    for _ in 0..3 {
        let top = region.top(&cap_cuts);
        let scale = between(&region.xs, &region.bottom, &top) / total;
        let mut low = region.bottom.clone();
        let mut cells = Vec::new();
        for (index, layer) in shares.iter().enumerate() {
            let strip = if index + 1 == shares.len() {
                Strip { xs: &region.xs, low: low.clone(), high: top.clone() }
            } else {
                raise(region, &low, &top, layer, scale)
            };
            let cuts = strip.cuts(layer);
            cells.extend(strip.cells(&cuts));
            if index + 1 == shares.len() {
                cap_cuts = cuts.iter().map(|cut| (cut.at - first) / (last - first).max(1e-9)).collect();
            }
            low = strip.high;
        }
        result = (cells, top);
    }
    result
}

/// Where equal strips of a width would be cut by their shares.
fn fractions(shares: &[f64]) -> Vec<f64> {
    let total: f64 = shares.iter().sum::<f64>().max(1e-9);
    let mut sum = 0.0;
    shares
        .iter()
        .take(shares.len().saturating_sub(1))
        .map(|share| {
            sum += share;
            sum / total
        })
        .collect()
}

/// Raises a domed curve over the last layer until its area is that of the beads.
fn raise<'r>(region: &'r Region, low: &[f64], top: &[f64], shares: &[f64], scale: f64) -> Strip<'r> {
    let wanted = shares.iter().sum::<f64>() * scale;
    let under = |level: f64, dome: &dyn Fn(f64) -> f64| -> Vec<f64> {
        region.xs.iter().zip(low.iter().zip(top)).map(|(&x, (&l, &t))| (level + dome(x)).min(t).max(l)).collect()
    };
    let find = |dome: &dyn Fn(f64) -> f64| {
        let (bottom, highest) = range(low, top);
        let (mut from, mut to) = (bottom - (highest - bottom), highest);
        for _ in 0..40 {
            let level = f64::midpoint(from, to);
            if between(&region.xs, low, &under(level, dome)) < wanted {
                from = level;
            } else {
                to = level;
            }
        }
        f64::midpoint(from, to)
    };
    let mut strip = Strip { xs: &region.xs, low: low.to_vec(), high: under(find(&|_| 0.0), &|_| 0.0) };
    for _ in 0..2 {
        let Some((from, to)) = strip.reach() else { break };
        let width = (to - from).max(1e-9);
        let mut edges: Vec<f64> = strip.cuts(shares).iter().map(|cut| cut.at).collect();
        edges.push(to);
        edges.insert(0, from);
        let height = wanted / width;
        let dome = move |x: f64| {
            let mut left = from;
            for &right in &edges {
                if x <= right && right > left {
                    let f = ((x - left) / (right - left)).clamp(0.0, 1.0);
                    return ((right - left) * 0.13).min(height * 0.4) * 4.0 * f * (1.0 - f);
                }
                left = right;
            }
            0.0
        };
        let level = find(&dome);
        strip.high = under(level, &dome);
    }
    strip
}

/// A layer: the room between two curves over the same x.
struct Strip<'r> {
    xs: &'r [f64],
    low: Vec<f64>,
    high: Vec<f64>,
}

/// A rounded shoulder between two beads: where it meets the upper curve, and how much farther out its foot is.
#[derive(Debug, Clone, Copy)]
struct Cut {
    at: f64,
    foot: f64,
}

/// Less is no height, mm.
const FLAT: f64 = 1e-7;

impl Strip<'_> {
    /// From where to where the layer has height.
    fn reach(&self) -> Option<(f64, f64)> {
        let thick: Vec<bool> = self.low.iter().zip(&self.high).map(|(low, high)| high - low > FLAT).collect();
        let first = thick.iter().position(|&thick| thick)?;
        let last = thick.iter().rposition(|&thick| thick)?;
        let from = self.xs.get(first.saturating_sub(1)).copied()?;
        let to = self.xs.get(last + 1).or(self.xs.get(last)).copied()?;
        Some((from, to))
    }

    /// A curve at any x.
    fn at(&self, curve: &[f64], x: f64) -> f64 {
        let next = self.xs.partition_point(|&known| known <= x).clamp(1, self.xs.len().saturating_sub(1).max(1));
        let known = |index: usize| (self.xs.get(index).copied().unwrap_or(x), curve.get(index).copied().unwrap_or(0.0));
        let ((x0, y0), (x1, y1)) = (known(next - 1), known(next));
        if (x1 - x0).abs() < 1e-12 { y1 } else { y0 + (y1 - y0) * ((x - x0) / (x1 - x0)).clamp(0.0, 1.0) }
    }

    /// A shoulder from its foot up.
    fn shoulder(&self, cut: Cut) -> Vec<Point> {
        (0..=8)
            .map(|step| {
                let v = f64::from(step) / 8.0;
                let x = cut.at + cut.foot * (1.0 - v * v);
                let (low, high) = (self.at(&self.low, x), self.at(&self.high, x));
                (x, low + (high - low) * v)
            })
            .collect()
    }

    /// The bead between two shoulders; without one it reaches the end of the layer.
    fn cell(&self, left: Option<Cut>, right: Option<Cut>) -> Vec<Point> {
        let Some((from, to)) = self.reach() else { return Vec::new() };
        let mut polygon = Vec::new();
        let inside = |from: f64, to: f64, curve: &[f64]| -> Vec<Point> {
            self.xs.iter().zip(curve).filter(|(x, _)| **x > from && **x < to).map(|(&x, &y)| (x, y)).collect()
        };
        // The ends of the layer are whole columns; an upright wall there has two points over one x.
        let reach = |end: f64, curve: &[f64]| -> Vec<Point> {
            let thick = self.low.iter().zip(&self.high).map(|(low, high)| high - low > FLAT);
            let columns: Vec<(Point, bool)> = self
                .xs
                .iter()
                .zip(curve)
                .map(|(&x, &y)| (x, y))
                .zip(thick)
                .filter(|((x, _), _)| (*x - end).abs() < 1e-12)
                .collect();
            let any = columns.iter().any(|(_, thick)| *thick);
            columns.into_iter().filter(|(_, thick)| *thick || !any).map(|(point, _)| point).collect()
        };
        let (low_from, high_from) = left.map_or((from, from), |cut| (cut.at + cut.foot, cut.at));
        let (low_to, high_to) = right.map_or((to, to), |cut| (cut.at + cut.foot, cut.at));
        if let Some(cut) = left {
            polygon.extend(self.shoulder(cut).into_iter().rev());
        } else {
            polygon.extend(reach(from, &self.low));
        }
        polygon.extend(inside(low_from, low_to, &self.low));
        if let Some(cut) = right {
            polygon.extend(self.shoulder(cut));
        } else {
            polygon.extend(reach(to, &self.low));
            polygon.extend(reach(to, &self.high).into_iter().rev());
        }
        polygon.extend(inside(high_from, high_to, &self.high).into_iter().rev());
        if left.is_none() {
            polygon.extend(reach(from, &self.high).into_iter().rev());
        }
        polygon.dedup_by(|a, b| (a.0 - b.0).abs() + (a.1 - b.1).abs() < 1e-9);
        polygon
    }

    /// Where the layer is cut so that each bead has its share.
    fn cuts(&self, shares: &[f64]) -> Vec<Cut> {
        let Some((from, to)) = self.reach() else { return Vec::new() };
        let width = to - from;
        let whole = between(self.xs, &self.low, &self.high);
        let total: f64 = shares.iter().sum::<f64>().max(1e-9);
        #[expect(clippy::cast_precision_loss, reason = "a count of runs is far below 2^52")]
        let count = shares.len() as f64;
        let least = shares.iter().copied().fold(f64::INFINITY, f64::min) / total;
        let foot = (0.4 * whole / width.max(1e-9)).min(0.3 * width / count).min(0.5 * width * least);
        let mut sum = 0.0;
        let mut cuts: Vec<Cut> = Vec::new();
        for share in shares.iter().take(shares.len().saturating_sub(1)) {
            sum += share / total * whole;
            let (mut low, mut high) = (cuts.last().map_or(from, |cut| cut.at), to);
            for _ in 0..26 {
                let at = f64::midpoint(low, high);
                if area(&self.cell(None, Some(Cut { at, foot: foot.min(to - at) }))) < sum {
                    low = at;
                } else {
                    high = at;
                }
            }
            let at = f64::midpoint(low, high);
            cuts.push(Cut { at, foot: foot.min(to - at) });
        }
        cuts
    }

    fn cells(&self, cuts: &[Cut]) -> Vec<Vec<Point>> {
        let lefts = std::iter::once(None).chain(cuts.iter().copied().map(Some));
        let rights = cuts.iter().copied().map(Some).chain(std::iter::once(None));
        lefts.zip(rights).map(|(left, right)| self.cell(left, right)).collect()
    }
}
