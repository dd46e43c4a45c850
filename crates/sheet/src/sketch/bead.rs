//! The runs inside the joint: each bead with its share of the area, layer on layer, fused to the walls.
//!
//! What one side of the joint fills has one bottom and one top over every x (`section.rs`). Layers are cut from it by
//! curves that are raised until the area under them is that of their beads, and a layer of several beads is cut by
//! rounded shoulders. So beads never overlap, leave no gap to each other or to the wall, and sum to the area of the
//! joint, whatever the sizes.

use super::canvas::{Block, Canvas, Point, add, cap_middle, dot, fit, middle, sane, sub, times};
use super::drawing::{Anchor, Drawing, Fill, Stroke, weight};
use super::groove::{JointSketch, Layer, RunBead, backing, metal, what};
use super::section::{Geometry, Region, Sizes};
use super::text::{ASCENT, DESCENT, POINT, Rect};

/// Width of a bead over its height that a layer's beads come near to.
const STOUT: f64 = 2.2;
/// Smallest type of a number inside a bead, in parts of the text size.
const SMALLEST: f64 = 0.72;

/// A bead in the joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// Number in the order of welding.
    pub label: String,
    /// Where it lies.
    pub layer: Layer,
    /// Welded from the other side.
    pub second_side: bool,
    /// Outline as drawn, mm of the joint, y downwards.
    pub polygon: Vec<(f64, f64)>,
    /// Area, mm².
    pub area: f64,
}

/// The beads of a joint in the order of its runs; a joint without runs is filled by one bead for each side.
pub fn beads(sketch: &JointSketch) -> Vec<Bead> {
    laid(sketch).0
}

/// Outline of the weld metal of each side, mm of the joint, y downwards: groove, cap and root, or fillet.
pub fn weld_outlines(sketch: &JointSketch) -> Vec<Vec<(f64, f64)>> {
    laid(sketch).1
}

/// Area of the weld metal, mm², with cap and root.
pub fn joint_area(sketch: &JointSketch) -> f64 {
    weld_outlines(sketch).iter().map(|outline| area(outline)).sum()
}

fn laid(sketch: &JointSketch) -> (Vec<Bead>, Vec<Vec<Point>>) {
    let sizes = Sizes::of(sketch);
    let geometry = Geometry::new(&sizes, 1.0, 0.5);
    let sides = share_out(sketch, &geometry.regions);
    let mut placed: Vec<(usize, Bead)> = Vec::new();
    let mut outlines = Vec::new();
    for (region, (second_side, runs)) in geometry.regions.iter().zip(sides) {
        let layers = stack(region, &runs);
        let (cells, top) = lay(region, &layers);
        for (run, polygon) in layers.iter().flatten().zip(cells) {
            let polygon: Vec<Point> =
                polygon.into_iter().map(|at| geometry.on_paper(region.in_joint(at), 1.0)).collect();
            let bead = Bead { label: run.label.clone(), layer: run.layer, second_side, area: area(&polygon), polygon };
            placed.push((run.order, bead));
        }
        let outline = region.outline_under(&top);
        outlines.push(outline.into_iter().map(|at| geometry.on_paper(at, 1.0)).collect());
    }
    placed.sort_by_key(|(order, _)| *order);
    (placed.into_iter().map(|(_, bead)| bead).collect(), outlines)
}

/// A run that has been given to a side.
#[derive(Debug, Clone)]
struct Run {
    order: usize,
    label: String,
    layer: Layer,
    share: f64,
}

/// Gives the runs to the sides: as they say, or, where a joint has two sides and no run names the second, each side
/// the same number in the order of welding.
fn share_out(sketch: &JointSketch, regions: &[Region]) -> Vec<(bool, Vec<Run>)> {
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
fn stack(region: &Region, runs: &[Run]) -> Vec<Vec<Run>> {
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
    for (index, run) in runs.iter().enumerate() {
        sum += run.share * area_of_share;
        let level = level(region, top, filled + sum * 0.5);
        let width = extent(region, top, level).map_or(0.0, |(from, to)| to - from).max(1e-9);
        #[expect(clippy::cast_precision_loss, reason = "a count of runs is far below 2^52")]
        let count = (index + 1) as f64;
        let stout = width * width / (count * sum.max(1e-9));
        let miss = (stout / STOUT).ln().abs();
        if miss < best.1 {
            best = (index + 1, miss);
        }
    }
    // What would be left over for a layer of its own, wide and thin, lies in this one.
    let left = runs.len().saturating_sub(best.0);
    if left * 2 < best.0 { runs.len() } else { best.0 }
}

/// The level under which so much area lies.
fn level(region: &Region, top: &[f64], wanted: f64) -> f64 {
    let (mut low, mut high) = range(&region.bottom, top);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        let upper: Vec<f64> = top.iter().zip(&region.bottom).map(|(&t, &b)| middle.min(t).max(b)).collect();
        if between(&region.xs, &region.bottom, &upper) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

fn range(bottom: &[f64], top: &[f64]) -> (f64, f64) {
    (bottom.iter().copied().fold(f64::INFINITY, f64::min), top.iter().copied().fold(f64::NEG_INFINITY, f64::max))
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

/// Area between two curves over the same x.
fn between(xs: &[f64], low: &[f64], high: &[f64]) -> f64 {
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
fn area(polygon: &[Point]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    (polygon.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0).abs()
}

/// Cuts a region into the cells of its beads, layer by layer; also gives the face as it came out.
fn lay(region: &Region, layers: &[Vec<Run>]) -> (Vec<Vec<Point>>, Vec<f64>) {
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

/// The runs in the joint, numbered in order, at most as large as the sketch allows.
pub fn runs(sketch: &JointSketch) -> Drawing {
    let sizes = Sizes::of(sketch);
    let beads = beads(sketch);
    let cored: Vec<(&Bead, Point)> = beads.iter().map(|bead| (bead, core(bead))).collect();
    let room = (sketch.max_width, sketch.max_height);
    let canvas = fit(room, 0.02, 14.0, |scale| {
        let geometry = Geometry::new(&sizes, 7.0 / scale, 0.35);
        let mut canvas = Canvas::default();
        backing(&mut canvas, &sizes, &geometry, scale);
        metal(&mut canvas, &geometry, scale, false);
        for bead in &beads {
            let fill = match bead.layer {
                Layer::Root | Layer::Backing => Fill::Grey(0.84),
                Layer::Hot => Fill::Grey(0.9),
                Layer::Fill | Layer::Single => Fill::Grey(0.94),
                Layer::Cap => Fill::Grey(0.98),
            };
            let outline: Vec<Point> = bead.polygon.iter().map(|at| (at.0 * scale, at.1 * scale)).collect();
            canvas.polygon(&outline, fill, Some(Stroke::solid(weight::MEDIUM)));
        }
        number(&mut canvas, &cored, scale, sane(sketch.text_size, 4.0, 40.0, 8.0));
        canvas
    });
    canvas.finish(alt(sketch, &beads), sketch.max_width, sketch.max_height)
}

/// Numbers the beads: inside where all have room for it, else beside the joint with a line to each.
fn number(canvas: &mut Canvas, beads: &[(&Bead, Point)], scale: f64, size: f64) {
    for part in [1.0, 0.86, SMALLEST] {
        let size = size * part;
        let seats: Vec<Option<Point>> = beads.iter().map(|(bead, core)| seat(bead, *core, scale, size)).collect();
        if seats.iter().all(Option::is_some) {
            for ((bead, _), seat) in beads.iter().zip(seats.into_iter().flatten()) {
                if !bead.label.is_empty() {
                    // The box of the text has its middle at the seat.
                    let baseline = seat.1 + (ASCENT - DESCENT) / 2.0 * size * POINT;
                    canvas.text((seat.0, baseline), &bead.label, size, Anchor::Middle);
                }
            }
            return;
        }
    }
    let size = size * 0.86;
    let bounds = canvas.bounds();
    let mut columns: [Vec<(Point, &str)>; 2] = [Vec::new(), Vec::new()];
    let mut spots: Vec<(Point, &str)> = beads
        .iter()
        .filter(|(bead, _)| !bead.label.is_empty())
        .map(|(bead, core)| (times(*core, scale), bead.label.as_str()))
        .collect();
    spots.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let half = spots.len() / 2;
    for (index, spot) in spots.into_iter().enumerate() {
        columns[usize::from(index >= half)].push(spot);
    }
    let line = Block::new("0", size, false, 10.0).height() * 1.06;
    for (side, mut column) in columns.into_iter().enumerate() {
        column.sort_by(|a, b| a.0.1.total_cmp(&b.0.1));
        #[expect(clippy::cast_precision_loss, reason = "a count of beads is far below 2^52")]
        let height = column.len() as f64 * line;
        let centre =
            middle(column.first().map_or((0.0, 0.0), |spot| spot.0), column.last().map_or((0.0, 0.0), |spot| spot.0));
        let top = centre.1 - height / 2.0 + line / 2.0;
        let (x, out) = if side == 0 { (bounds.left - 3.0, -1.0) } else { (bounds.right + 3.0, 1.0) };
        #[expect(clippy::cast_precision_loss, reason = "a count of beads is far below 2^52")]
        let seat = |row: usize| (x, top + row as f64 * line);
        untangle(&mut column, &seat);
        let anchor = if side == 0 { Anchor::End } else { Anchor::Start };
        for (row, (spot, label)) in column.into_iter().enumerate() {
            let (x, y) = seat(row);
            canvas.line(spot, (x, y), Stroke::solid(weight::FINE));
            canvas.circle(spot, 0.35, Fill::Black, None);
            canvas.text((x + out * 0.9, y + cap_middle(size)), label, size, anchor);
        }
    }
}

/// Orders the rows so that the lines from them to their spots are shortest together: such lines do not cross.
fn untangle(column: &mut [(Point, &str)], seat: &impl Fn(usize) -> Point) {
    let length = |spot: Point, row: usize| {
        let way = sub(seat(row), spot);
        way.0.hypot(way.1)
    };
    for _ in 0..8 {
        let mut changed = false;
        for low in 0..column.len() {
            for high in low + 1..column.len() {
                let (Some(&(a, _)), Some(&(b, _))) = (column.get(low), column.get(high)) else { continue };
                if length(a, high) + length(b, low) < length(a, low) + length(b, high) - 1e-9 {
                    column.swap(low, high);
                    changed = true;
                }
            }
        }
        if !changed {
            break;
        }
    }
}

/// A point well inside a bead: the middle of its area, or else the inside point that is farthest from its outline.
fn core(bead: &Bead) -> Point {
    let count = bead.polygon.len().max(1);
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    let centre = bead.polygon.iter().fold((0.0, 0.0), |sum, at| (sum.0 + at.0, sum.1 + at.1 / count as f64));
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    let centre = (centre.0 / count as f64, centre.1);
    let mut best = (centre, if inside(&bead.polygon, centre) { clearance(&bead.polygon, centre) } else { -1.0 });
    for at in grid(bead, 12) {
        if inside(&bead.polygon, at) {
            let clear = clearance(&bead.polygon, at);
            if clear > best.1 * 1.15 {
                best = (at, clear);
            }
        }
    }
    best.0
}

fn grid(bead: &Bead, steps: u32) -> Vec<Point> {
    let Some(bounds) = bounds(&bead.polygon) else { return Vec::new() };
    let mut points = Vec::new();
    for row in 1..steps {
        for column in 1..steps {
            points.push((
                bounds.left + bounds.width() * f64::from(column) / f64::from(steps),
                bounds.top + bounds.height() * f64::from(row) / f64::from(steps),
            ));
        }
    }
    points
}

fn bounds(polygon: &[Point]) -> Option<Rect> {
    polygon.iter().map(|at| Rect { left: at.0, top: at.1, right: at.0, bottom: at.1 }).reduce(|a, b| a.union(&b))
}

/// Where a label fits inside a bead, on paper.
fn seat(bead: &Bead, core: Point, scale: f64, size: f64) -> Option<Point> {
    if bead.label.is_empty() {
        return Some((0.0, 0.0));
    }
    let block = Block::new(&bead.label, size, false, 1000.0);
    let (width, height) = (block.width() + 0.6, block.height());
    let bounds = bounds(&bead.polygon)?;
    if bounds.width() * scale < width || bounds.height() * scale < height {
        return None;
    }
    let fits = |at: Point| {
        let (x, y) = (at.0 * scale, at.1 * scale);
        let rect =
            Rect { left: x - width / 2.0, top: y - height / 2.0, right: x + width / 2.0, bottom: y + height / 2.0 };
        let on_paper = |at: &Point| (at.0 * scale, at.1 * scale);
        let next = bead.polygon.iter().cycle().skip(1);
        inside(&bead.polygon, at)
            && !bead.polygon.iter().zip(next).any(|(a, b)| rect.is_crossed_by(on_paper(a), on_paper(b)))
    };
    if fits(core) {
        return Some(times(core, scale));
    }
    grid(bead, 7).into_iter().find(|&at| fits(at)).map(|at| (at.0 * scale, at.1 * scale))
}

/// Distance of a point from the outline.
fn clearance(polygon: &[Point], at: Point) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    polygon
        .iter()
        .zip(next)
        .map(|(&a, &b)| {
            let span = sub(b, a);
            let along = (dot(sub(at, a), span) / dot(span, span).max(1e-18)).clamp(0.0, 1.0);
            let away = sub(at, add(a, times(span, along)));
            away.0.hypot(away.1)
        })
        .fold(f64::INFINITY, f64::min)
}

/// Whether a point lies in a polygon: a ray from it crosses the outline an odd number of times.
fn inside(polygon: &[Point], at: Point) -> bool {
    let next = polygon.iter().cycle().skip(1);
    let crossings = polygon
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0))
        .count();
    crossings % 2 == 1
}

fn alt(sketch: &JointSketch, beads: &[Bead]) -> String {
    let count = beads.iter().filter(|bead| !bead.label.is_empty()).count();
    let name = |layer: Layer| match layer {
        Layer::Root => "root",
        Layer::Hot => "hot pass",
        Layer::Fill => "fill",
        Layer::Cap => "cap",
        Layer::Backing => "backing run",
        Layer::Single => "single run",
    };
    let mut parts: Vec<String> = Vec::new();
    let mut last: Option<(Layer, bool)> = None;
    for bead in beads.iter().filter(|bead| !bead.label.is_empty()) {
        if last == Some((bead.layer, bead.second_side)) {
            if let Some(part) = parts.last_mut() {
                part.push_str(", ");
                part.push_str(&bead.label);
            }
        } else {
            let side = if bead.second_side { " from the other side" } else { "" };
            parts.push(format!("{}{side}: {}", name(bead.layer), bead.label));
        }
        last = Some((bead.layer, bead.second_side));
    }
    let runs = if count == 1 { "run".to_owned() } else { format!("{count} runs") };
    let list = if parts.is_empty() { String::new() } else { format!(" In order: {}.", parts.join("; ")) };
    format!("Section to scale of a {} with its {runs}, fused to the walls and to each other.{list}", what(sketch))
}
