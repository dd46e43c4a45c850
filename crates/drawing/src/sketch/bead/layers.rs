//! Layers are cut from what a side fills, and beads from a layer.

use std::ops::Range;

use super::run::Run;
use crate::point::Point;
use crate::sketch::section::Region;

pub(super) fn range(bottom: &[f64], top: &[f64]) -> (f64, f64) {
    (bottom.iter().copied().fold(f64::INFINITY, f64::min), top.iter().copied().fold(f64::NEG_INFINITY, f64::max))
}

/// Area between two curves over the same x.
pub(super) fn between(xs: &[f64], low: &[f64], high: &[f64]) -> f64 {
    under(xs, low.iter().zip(high).map(|(l, h)| h - l))
}

/// Area under a curve of heights over x.
pub(super) fn under(xs: &[f64], heights: impl Iterator<Item = f64>) -> f64 {
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

/// The edges of a polygon, the last of which closes it.
pub(super) fn edges(polygon: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    let next = polygon.iter().skip(1).chain(polygon.first());
    polygon.iter().copied().zip(next.copied())
}

/// Area of a polygon.
pub(super) fn area(polygon: &[Point]) -> f64 {
    (edges(polygon).map(|(a, b)| cross(a, b)).sum::<f64>() / 2.0).abs()
}

/// The scallops of the cap follow its cuts, and the cuts follow the areas: a few rounds settle both.
const ROUNDS: u32 = 3;

/// Cuts a region into the cells of its beads, layer by layer; also gives the face as it came out.
pub(super) fn lay(region: &Region, layers: &[Vec<Run>]) -> (Vec<Vec<Point>>, Vec<f64>) {
    let shares: Vec<Vec<f64>> = layers.iter().map(|layer| layer.iter().map(|run| run.share).collect()).collect();
    let total: f64 = shares.iter().flatten().sum::<f64>().max(1e-9);
    let (first, last) = (region.xs.first().copied().unwrap_or(0.0), region.xs.last().copied().unwrap_or(1.0));
    let mut cap_cuts: Vec<f64> = shares.last().map(|cap| fractions(cap)).unwrap_or_default();
    let mut result = (Vec::new(), Vec::new());
    for round in 1..=ROUNDS {
        let top = region.top(&cap_cuts);
        let scale = between(&region.xs, &region.bottom, &top) / total;
        let mut low = region.bottom.clone();
        let mut cells = Vec::new();
        for (index, layer) in shares.iter().enumerate() {
            let cap = index + 1 == shares.len();
            let strip = if cap {
                Strip { xs: &region.xs, low: low.clone(), high: top.clone() }
            } else {
                raise(region, &low, &top, layer, scale)
            };
            // Only the last round keeps its cells, and only the cap's cuts count for the next.
            if cap || round == ROUNDS {
                let cuts = strip.cuts(layer);
                cells.extend(strip.cells(&cuts));
                if cap {
                    cap_cuts = cuts.iter().map(|cut| (cut.at - first) / (last - first).max(1e-9)).collect();
                }
            }
            low = strip.high;
        }
        result = (cells, top);
    }
    result
}

/// Where a growing function crosses zero between two ends: by false position, with the end that stays pulled in (Illinois).
///
/// Areas grow nearly in a straight line with what is looked for, so a handful of tries is enough.
fn crossing(from: f64, to: f64, over: impl Fn(f64) -> f64) -> f64 {
    const TRIES: u32 = 60;
    let near = (to - from).abs() * 1e-10;
    let (mut low, mut high) = ((from, over(from)), (to, over(to)));
    if low.1 >= 0.0 {
        return from;
    }
    if high.1 <= 0.0 {
        return to;
    }
    let (mut at, mut last) = (from, 0);
    for _ in 0..TRIES {
        at = ((low.0 * high.1 - high.0 * low.1) / (high.1 - low.1)).max(low.0).min(high.0);
        let value = over(at);
        let side = if value < 0.0 { -1 } else { 1 };
        if side < 0 {
            low = (at, value);
            high.1 *= if last == side { 0.5 } else { 1.0 };
        } else {
            high = (at, value);
            low.1 *= if last == side { 0.5 } else { 1.0 };
        }
        if high.0 - low.0 <= near || value.abs() <= 1e-12 * (high.1 - low.1).abs() {
            break;
        }
        last = side;
    }
    at
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
    // The curve at one x, where the dome has that height over its level.
    let curve = |level: f64, dome: f64, low: f64, top: f64| (level + dome).min(top).max(low);
    let (bottom, highest) = range(low, top);
    let find = |domes: &[f64]| -> Vec<f64> {
        let columns = || domes.iter().zip(low.iter().zip(top));
        let level = crossing(bottom - (highest - bottom), highest, |level| {
            under(&region.xs, columns().map(|(&dome, (&l, &t))| curve(level, dome, l, t) - l)) - wanted
        });
        columns().map(|(&dome, (&l, &t))| curve(level, dome, l, t)).collect()
    };
    let mut strip = Strip { xs: &region.xs, low: low.to_vec(), high: find(&vec![0.0; region.xs.len()]) };
    for _ in 0..2 {
        let Some((from, to)) = strip.reach() else { break };
        let width = (to - from).max(1e-9);
        let mut edges: Vec<f64> = strip.cuts(shares).iter().map(|cut| cut.at).collect();
        edges.push(to);
        edges.insert(0, from);
        let height = wanted / width;
        let dome = |x: f64| {
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
        let domes: Vec<f64> = region.xs.iter().map(|&x| dome(x)).collect();
        strip.high = find(&domes);
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
        let mut heights = self.low.iter().zip(&self.high).map(|(low, high)| high - low);
        let first = heights.clone().position(|height| height > FLAT)?;
        let last = heights.rposition(|height| height > FLAT)?;
        let from = self.xs.get(first.saturating_sub(1)).copied()?;
        let to = self.xs.get(last + 1).or(self.xs.get(last)).copied()?;
        Some((from, to))
    }

    /// The lower and the upper curve at any x.
    fn at(&self, x: f64) -> [f64; 2] {
        let next = self.xs.partition_point(|&known| known <= x).clamp(1, self.xs.len().saturating_sub(1).max(1));
        let known = |index: usize| self.xs.get(index).copied().unwrap_or(x);
        let (x0, x1) = (known(next - 1), known(next));
        let share = ((x - x0) / (x1 - x0)).clamp(0.0, 1.0);
        [&self.low, &self.high].map(|curve| {
            let known = |index: usize| curve.get(index).copied().unwrap_or(0.0);
            let (y0, y1) = (known(next - 1), known(next));
            if (x1 - x0).abs() < 1e-12 { y1 } else { y0 + (y1 - y0) * share }
        })
    }

    /// A shoulder from its foot up.
    fn shoulder(&self, cut: Cut) -> impl DoubleEndedIterator<Item = Point> {
        (0..=8).map(move |step| {
            let v = f64::from(step) / 8.0;
            let x = cut.at + cut.foot * (1.0 - v * v);
            let [low, high] = self.at(x);
            (x, low + (high - low) * v)
        })
    }

    /// The columns between two x, without them.
    fn between(&self, from: f64, to: f64) -> Range<usize> {
        let first = self.xs.partition_point(|&x| x <= from);
        first..self.xs.partition_point(|&x| x < to).max(first)
    }

    /// A curve between two x, without them.
    fn inside<'s>(&'s self, curve: &'s [f64], from: f64, to: f64) -> impl DoubleEndedIterator<Item = Point> + 's {
        points(self.xs, curve, self.between(from, to))
    }

    /// The points of a curve at an end of the layer.
    ///
    /// The ends of the layer are whole columns; an upright wall there has two points over one x.
    fn end<'s>(&'s self, curve: &'s [f64], end: f64) -> impl DoubleEndedIterator<Item = Point> + 's {
        let first = self.xs.partition_point(|&x| x - end <= -1e-12);
        let after = self.xs.partition_point(|&x| x - end < 1e-12).max(first);
        let thick = |index: usize| self.low.get(index).zip(self.high.get(index)).is_some_and(|(l, h)| h - l > FLAT);
        let any = (first..after).any(thick);
        (first..after).filter(move |&index| thick(index) || !any).flat_map(move |at| points(self.xs, curve, at..at + 1))
    }

    /// The bead between two shoulders; without one it reaches the end of the layer, from where to where that has height.
    fn cell(&self, (from, to): (f64, f64), left: Option<Cut>, right: Option<Cut>) -> Vec<Point> {
        let mut polygon = Vec::with_capacity(2 * self.xs.len() + 18);
        let (low_from, high_from) = left.map_or((from, from), |cut| (cut.at + cut.foot, cut.at));
        let (low_to, high_to) = right.map_or((to, to), |cut| (cut.at + cut.foot, cut.at));
        if let Some(cut) = left {
            polygon.extend(self.shoulder(cut).rev());
        } else {
            polygon.extend(self.end(&self.low, from));
        }
        polygon.extend(self.inside(&self.low, low_from, low_to));
        if let Some(cut) = right {
            polygon.extend(self.shoulder(cut));
        } else {
            polygon.extend(self.end(&self.low, to));
            polygon.extend(self.end(&self.high, to).rev());
        }
        polygon.extend(self.inside(&self.high, high_from, high_to).rev());
        if left.is_none() {
            polygon.extend(self.end(&self.high, from).rev());
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
        let before = Before::new(self, from);
        let mut sum = 0.0;
        let mut cuts: Vec<Cut> = Vec::new();
        for share in shares.iter().take(shares.len().saturating_sub(1)) {
            sum += share / total * whole;
            let at = crossing(cuts.last().map_or(from, |cut| cut.at), to, |at| {
                before.area(Cut { at, foot: foot.min(to - at) }) - sum
            });
            cuts.push(Cut { at, foot: foot.min(to - at) });
        }
        cuts
    }

    fn cells(&self, cuts: &[Cut]) -> Vec<Vec<Point>> {
        let Some(reach) = self.reach() else { return vec![Vec::new(); cuts.len() + 1] };
        let lefts = std::iter::once(None).chain(cuts.iter().copied().map(Some));
        let rights = cuts.iter().copied().map(Some).chain(std::iter::once(None));
        lefts.zip(rights).map(|(left, right)| self.cell(reach, left, right)).collect()
    }
}

/// The part of a layer that lies before a cut, whose area is asked for at many cuts.
struct Before<'s> {
    strip: &'s Strip<'s>,
    from: f64,
    /// The points at the end of the layer.
    low_end: Vec<Point>,
    high_end: Vec<Point>,
    low: Sums,
    high: Sums,
}

impl<'s> Before<'s> {
    fn new(strip: &'s Strip<'s>, from: f64) -> Self {
        Self {
            strip,
            from,
            low_end: strip.end(&strip.low, from).collect(),
            high_end: strip.end(&strip.high, from).collect(),
            low: Sums::of(strip.xs, &strip.low),
            high: Sums::of(strip.xs, &strip.high),
        }
    }

    /// Area of the [`Strip::cell`] before a cut.
    fn area(&self, cut: Cut) -> f64 {
        let Self { strip, from, .. } = *self;
        let mut sum = 0.0;
        let mut ends: Option<(Point, Point)> = None;
        // Goes on to a point, along a curve to another with the sum that the way there has.
        let mut on = |to: Point, along: f64, last: Point| {
            sum += ends.map_or(0.0, |(_, at)| cross(at, to)) + along;
            ends = Some((ends.map_or(to, |(first, _)| first), last));
        };
        let ends_of = |curve: &[f64], columns: &Range<usize>| {
            let mut points = points(strip.xs, curve, columns.clone());
            let first = points.next()?;
            Some((first, points.next_back().unwrap_or(first)))
        };
        self.low_end.iter().for_each(|&at| on(at, 0.0, at));
        let columns = strip.between(from, cut.at + cut.foot);
        if let Some((first, last)) = ends_of(&strip.low, &columns) {
            on(first, self.low.along(&columns), last);
        }
        strip.shoulder(cut).for_each(|at| on(at, 0.0, at));
        let columns = strip.between(from, cut.at);
        if let Some((first, last)) = ends_of(&strip.high, &columns) {
            on(last, -self.high.along(&columns), first);
        }
        self.high_end.iter().rev().for_each(|&at| on(at, 0.0, at));
        sum += ends.map_or(0.0, |(first, last)| cross(last, first));
        (sum / 2.0).abs()
    }
}

/// Sums of the cross products of a curve's points up to each of them.
struct Sums(Vec<f64>);

impl Sums {
    fn of(xs: &[f64], curve: &[f64]) -> Self {
        let mut sum = 0.0;
        let mut last: Option<Point> = None;
        let sums = points(xs, curve, 0..xs.len()).map(|at| {
            sum += last.map_or(0.0, |last| cross(last, at));
            last = Some(at);
            sum
        });
        Self(sums.collect())
    }

    /// The sum from the first of some points to the last of them.
    fn along(&self, columns: &Range<usize>) -> f64 {
        let of = |index: usize| self.0.get(index).copied().unwrap_or(0.0);
        of(columns.end.saturating_sub(1)) - of(columns.start)
    }
}

fn cross(a: Point, b: Point) -> f64 {
    a.0 * b.1 - b.0 * a.1
}

/// Some points of a curve.
fn points<'s>(xs: &'s [f64], curve: &'s [f64], which: Range<usize>) -> impl DoubleEndedIterator<Item = Point> + 's {
    let of = |values: &'s [f64]| values.get(which.clone()).unwrap_or_default().iter().copied();
    of(xs).zip(of(curve))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_area_before_a_cut_is_that_of_the_bead_there() {
        // A wall that stands upright on the left, and a layer without height on the right.
        let xs = [0.0, 0.0, 1.0, 2.5, 3.0, 4.0, 6.0];
        let strip = Strip {
            xs: &xs,
            low: vec![3.0, 0.5, 0.2, 0.0, 0.1, 0.6, 2.0],
            high: vec![3.0, 3.0, 3.2, 3.3, 3.1, 2.9, 2.0],
        };
        let (from, to) = strip.reach().unwrap();
        let before = Before::new(&strip, from);
        for at in [0.0, 0.3, 1.0, 1.7, 2.5, 3.9, 5.0, 6.0] {
            let cut = Cut { at, foot: 0.4_f64.min(to - at) };
            let bead = area(&strip.cell((from, to), None, Some(cut)));
            assert!((before.area(cut) - bead).abs() < 1e-9, "{at}: {} for {bead}", before.area(cut));
        }
    }
}
