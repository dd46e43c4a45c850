//! The numbers of the beads: inside them, or beside the joint with a line to each.

use super::layers::edges;
use super::run::Bead;
use crate::block::Block;
use crate::canvas::Canvas;
use crate::drawing::{Anchor, Fill, Stroke, weight};
use crate::face::{ASCENT, DESCENT};
use crate::point::{Point, middle, square_away, sub, times};
use crate::text::{POINT, Rect, cap_middle, lesser};

/// Smallest type of a number inside a bead, in parts of the text size.
const SMALLEST: f64 = 0.72;

/// How much of the height of a drawing its numbers may take beside the joint: where they take all, the metal shrinks to nothing.
const COLUMN: f64 = 0.65;

/// A bead, and where in it its number would stand.
pub(super) struct Spot<'b> {
    pub(super) bead: &'b Bead,
    /// A point well inside.
    core: Point,
    /// What its outline covers; none without an outline.
    pub(super) bounds: Option<Rect>,
}

impl<'b> Spot<'b> {
    pub(super) fn of(bead: &'b Bead) -> Self {
        let corners = bead.polygon.iter().map(|at| Rect { left: at.0, top: at.1, right: at.0, bottom: at.1 });
        let bounds = corners.reduce(|a, b| a.union(&b));
        Self { bead, core: core(bead, bounds), bounds }
    }
}

/// Numbers the beads: inside where all have room for it, else beside the joint with a line to each, or to as many of them as
/// stand in a room of that height.
pub(super) fn number(canvas: &mut Canvas, beads: &[Spot], scale: f64, size: f64, height: f64) {
    for part in [1.0, 0.86, SMALLEST] {
        let size = size * part;
        let seats: Option<Vec<Point>> = beads.iter().map(|spot| seat(spot, scale, size)).collect();
        if let Some(seats) = seats {
            for (Spot { bead, .. }, seat) in beads.iter().zip(seats) {
                if !bead.label.is_empty() {
                    // The box of the text has its middle at the seat.
                    let baseline = seat.1 + (ASCENT - DESCENT) / 2.0 * size * POINT;
                    canvas.text((seat.0, baseline), &bead.label, size, Anchor::Middle);
                }
            }
            return;
        }
    }
    let size = lesser(size, 0.86);
    let line = Block::new("0", size, false, 10.0).height() * 1.06;
    let bounds = canvas.bounds();
    let mut columns: [Vec<(Point, &str)>; 2] = [Vec::new(), Vec::new()];
    let named: Vec<&Spot> = beads.iter().filter(|spot| !spot.bead.label.is_empty()).collect();
    let mut spots: Vec<(Point, &str)> =
        told(&named, height * COLUMN / line).map(|spot| (times(spot.core, scale), spot.bead.label.as_str())).collect();
    spots.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let half = spots.len() / 2;
    for (index, spot) in spots.into_iter().enumerate() {
        columns[usize::from(index >= half)].push(spot);
    }
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
        // Whichever line goes to which row, they reach as far.
        if !canvas.measures() {
            untangle(&mut column, &seat);
        }
        let anchor = if side == 0 { Anchor::End } else { Anchor::Start };
        for (row, (spot, label)) in column.into_iter().enumerate() {
            let (x, y) = seat(row);
            canvas.line(spot, (x, y), Stroke::solid(weight::FINE));
            canvas.circle(spot, 0.35, Fill::Black, None);
            canvas.text((x + out * 0.9, y + cap_middle(size)), label, size, anchor);
        }
    }
}

/// The beads whose numbers stand beside the joint: all, or as on a rule the first and every second, fifth or tenth, where two
/// columns of so many rows have no room for all.
fn told<'s, 'b>(beads: &[&'s Spot<'b>], rows: f64) -> impl Iterator<Item = &'s Spot<'b>> {
    let count = beads.len();
    #[expect(clippy::cast_precision_loss, reason = "a count of beads is far below 2^52")]
    let fits = |every: &usize| ((count / every + 1) as f64 / 2.0).ceil() <= rows;
    let every =
        if fits(&count.max(1)) { [1, 2, 5, 10, 20, 50, 100].into_iter().find(fits).unwrap_or(count) } else { 1 };
    beads.iter().enumerate().filter(move |(at, _)| *at == 0 || (at + 1) % every == 0).map(|(_, spot)| *spot)
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
fn core(bead: &Bead, bounds: Option<Rect>) -> Point {
    let count = bead.polygon.len().max(1);
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    let centre = bead.polygon.iter().fold((0.0, 0.0), |sum, at| (sum.0 + at.0, sum.1 + at.1 / count as f64));
    #[expect(clippy::cast_precision_loss, reason = "a count of points is far below 2^52")]
    let centre = (centre.0 / count as f64, centre.1);
    let mut best = centre;
    let mut clear = clearance(&bead.polygon, centre, 0.0).filter(|_| inside(&bead.polygon, centre)).unwrap_or(0.0);
    for at in bounds.into_iter().flat_map(|bounds| grid(bounds, 12)) {
        // Nearly all of them lie nearer to the outline than the best so far, which the first edges show.
        if let Some(more) = clearance(&bead.polygon, at, clear * 1.15)
            && inside(&bead.polygon, at)
        {
            (best, clear) = (at, more);
        }
    }
    best
}

/// Points across a rectangle, `steps` to a side, without those on its edges.
fn grid(bounds: Rect, steps: u32) -> impl Iterator<Item = Point> {
    let at = move |from: f64, room: f64, part: u32| from + room * f64::from(part) / f64::from(steps);
    (1..steps).flat_map(move |row| {
        (1..steps).map(move |column| (at(bounds.left, bounds.width(), column), at(bounds.top, bounds.height(), row)))
    })
}

/// Where a label fits inside a bead, on paper.
fn seat(spot: &Spot, scale: f64, size: f64) -> Option<Point> {
    let Spot { bead, core, bounds } = *spot;
    if bead.label.is_empty() {
        return Some((0.0, 0.0));
    }
    let block = Block::new(&bead.label, size, false, 1000.0);
    let (width, height) = (block.width() + 0.6, block.height());
    let bounds = bounds?;
    if bounds.width() * scale < width || bounds.height() * scale < height {
        return None;
    }
    let fits = |at: Point| {
        let (x, y) = (at.0 * scale, at.1 * scale);
        let rect =
            Rect { left: x - width / 2.0, top: y - height / 2.0, right: x + width / 2.0, bottom: y + height / 2.0 };
        let on_paper = |at: Point| (at.0 * scale, at.1 * scale);
        inside(&bead.polygon, at) && !edges(&bead.polygon).any(|(a, b)| rect.is_crossed_by(on_paper(a), on_paper(b)))
    };
    if fits(core) {
        return Some(times(core, scale));
    }
    grid(bounds, 7).find(|&at| fits(at)).map(|at| (at.0 * scale, at.1 * scale))
}

/// Distance of a point from the outline, where it is more than `least`.
fn clearance(polygon: &[Point], at: Point, least: f64) -> Option<f64> {
    let mut nearest = f64::INFINITY;
    for (a, b) in edges(polygon) {
        nearest = nearest.min(square_away(at, a, b));
        if nearest <= least * least {
            return None;
        }
    }
    Some(nearest.sqrt())
}

/// Whether a point lies in a polygon: a ray from it crosses the outline an odd number of times.
pub(super) fn inside(polygon: &[Point], at: Point) -> bool {
    let crossings = edges(polygon)
        .filter(|(a, b)| (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0))
        .count();
    crossings % 2 == 1
}
