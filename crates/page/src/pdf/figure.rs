//! Drawings on the page: how they share a row, and their items as marks.

use seamwright_drawing::face::{ASCENT, DESCENT, Face};
use seamwright_drawing::{Anchor, Drawing, Fill, Item, Segment};

use crate::block::Figure;

use super::piece::{Mark, ShapeFill, ShapeStroke};
use super::style::{LEAST_TYPE, MM, Style};

/// Room between two figures.
pub(super) const GUTTER: f64 = 20.0;

/// Below this scale the figures of a row are spread over more rows: their text would be too small to read.
fn least_scale(figures: &[Figure], style: &Style) -> f64 {
    let labels = figures.iter().flat_map(|figure| &figure.drawing.items).filter_map(|item| match item {
        Item::Text(label) => Some(label.size),
        Item::Path { .. } => None,
    });
    let smallest = labels.fold(f64::INFINITY, f64::min);
    let readable = if smallest.is_finite() { (LEAST_TYPE / smallest).min(1.0) } else { 0.0 };
    readable.max(0.72_f64.min(style.drawing)) * MM
}

/// Figures side by side.
pub(super) struct FigureRow<'a> {
    pub figures: &'a [Figure],
    /// Width of each figure's part of the row, pt.
    pub widths: Vec<f64>,
    /// Points on paper for a millimetre of the drawings.
    pub scale: f64,
}

/// The scale of a row relative to that of the smallest: type of one size reads better than drawings of one width.
const EVEN: f64 = 1.15;

/// Shares figures among rows of `width` pt: no more rows than can be read, and all of them about as large.
pub(super) fn rows<'a>(figures: &'a [Figure], style: &Style, width: f64) -> Vec<FigureRow<'a>> {
    let least = least_scale(figures, style);
    let mut rest = figures;
    let mut count = 0;
    while !rest.is_empty() {
        let fits = |taken: &usize| *taken == 1 || rest.get(..*taken).is_some_and(|row| scale(row, width) >= least);
        let taken = (1..=rest.len()).rev().find(fits).unwrap_or(1);
        rest = rest.get(taken..).unwrap_or_default();
        count += 1;
    }
    let mut rows = Vec::with_capacity(count);
    let mut rest = figures;
    for length in even(figures, count, width) {
        let (row, more) = rest.split_at(length.min(rest.len()));
        rows.push(share(row, style, width));
        rest = more;
    }
    let smallest = rows.iter().map(|row| row.scale).fold(f64::INFINITY, f64::min);
    for row in &mut rows {
        // As large as its type asks, where its part of the width has room for it.
        let asked = scale(row.figures, width).min(least_scale(row.figures, style));
        row.scale = row.scale.min(smallest * EVEN).max(asked);
    }
    rows
}

/// How many figures stand in each of `count` rows, so that the smallest scale is as large as it can be.
fn even(figures: &[Figure], count: usize, width: f64) -> Vec<usize> {
    // For the figures from each one on: the smallest scale of their best split so far, and its rows.
    let none = |from: usize| (if from == figures.len() { f64::INFINITY } else { 0.0 }, Vec::new());
    let mut best: Vec<(f64, Vec<usize>)> = (0..=figures.len()).map(none).collect();
    for _ in 0..count {
        let split = |from: usize| {
            let first = |to: usize| {
                let (smallest, rows) = best.get(to)?;
                let smallest = scale(figures.get(from..to)?, width).min(*smallest);
                Some((smallest, [&[to - from], rows.as_slice()].concat()))
            };
            (from + 1..=figures.len()).filter_map(first).max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or_default()
        };
        best = (0..=figures.len()).map(split).collect();
    }
    best.into_iter().next().map(|(_, rows)| rows).unwrap_or_default()
}

fn room(count: usize, width: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of drawings is far below 2^52")]
    let gutters = count.saturating_sub(1) as f64 * GUTTER;
    (width - gutters).max(1.0)
}

/// Width of a figure before scaling, mm: a slim drawing still leaves room for its title.
fn wanted(figure: &Figure) -> f64 {
    const LEAST: f64 = 34.0;
    figure.drawing.width.max(if figure.title.is_empty() { 0.0 } else { LEAST })
}

/// The greatest scale at which the figures stand side by side.
fn scale(figures: &[Figure], width: f64) -> f64 {
    let natural: f64 = figures.iter().map(wanted).sum();
    room(figures.len(), width) / natural.max(1.0)
}

fn share<'a>(figures: &'a [Figure], style: &Style, width: f64) -> FigureRow<'a> {
    let room = room(figures.len(), width);
    let natural: f64 = figures.iter().map(wanted).sum();
    let widths = figures.iter().map(|figure| room * wanted(figure) / natural.max(1e-6)).collect();
    FigureRow { figures, widths, scale: scale(figures, width).min(style.drawing * MM) }
}

/// Whether every number of a drawing can be drawn.
pub(super) fn is_sound(drawing: &Drawing) -> bool {
    let fine = |value: f64| value.is_finite() && value.abs() < 1e5;
    let point = |at: &(f64, f64)| fine(at.0) && fine(at.1);
    let size = |value: f64| fine(value) && value > 0.0;
    size(drawing.width)
        && size(drawing.height)
        && drawing.items.iter().all(|item| match item {
            Item::Text(label) => point(&label.at) && size(label.size),
            Item::Path { segments, fill, stroke } => {
                let spaced = match fill {
                    Fill::Hatch(spacing) => fine(*spacing) && *spacing >= 0.1,
                    Fill::Grey(grey) => fine(*grey),
                    Fill::None | Fill::White | Fill::Black => true,
                };
                let drawn = stroke.is_none_or(|stroke| {
                    fine(stroke.width)
                        && fine(stroke.grey)
                        && stroke.dash.is_none_or(|(dash, gap)| dash >= 0.0 && gap >= 0.0 && size(dash + gap))
                });
                spaced
                    && drawn
                    && segments.iter().all(|segment| match segment {
                        Segment::Move(a) | Segment::Line(a) => point(a),
                        Segment::Curve(a, b, c) => point(a) && point(b) && point(c),
                        Segment::Close => true,
                    })
            }
        })
}

/// Adds the marks of a drawing whose top left corner stands at (x, y), `scale` points for a millimetre.
pub(super) fn paint(drawing: &Drawing, x: f64, y: f64, scale: f64, marks: &mut Vec<Mark>) {
    let at = |point: (f64, f64)| (x + point.0 * scale, y + point.1 * scale);
    // Type and hatch keep their proportion to the drawing.
    let zoom = scale / MM;
    for item in &drawing.items {
        match item {
            Item::Path { segments, fill, stroke } => {
                let segments = segments
                    .iter()
                    .map(|segment| match *segment {
                        Segment::Move(a) => Segment::Move(at(a)),
                        Segment::Line(a) => Segment::Line(at(a)),
                        Segment::Curve(a, b, c) => Segment::Curve(at(a), at(b), at(c)),
                        Segment::Close => Segment::Close,
                    })
                    .collect();
                let fill = match *fill {
                    Fill::None => ShapeFill::None,
                    Fill::White => ShapeFill::Grey(1.0),
                    Fill::Black => ShapeFill::Grey(0.0),
                    Fill::Grey(grey) => ShapeFill::Grey(grey.clamp(0.0, 1.0)),
                    Fill::Hatch(spacing) => ShapeFill::Hatch(spacing * scale),
                };
                let stroke = stroke.map(|stroke| ShapeStroke {
                    // A line never gets thinner than a printer draws well.
                    width: (stroke.width * MM * zoom.sqrt()).max(0.35),
                    dash: stroke.dash.map(|(dash, gap)| (dash * scale, gap * scale)),
                    grey: stroke.grey.clamp(0.0, 1.0),
                });
                marks.push(Mark::Shape { segments, fill, stroke });
            }
            Item::Text(label) => {
                let face = if label.bold { Face::Bold } else { Face::Regular };
                let size = (label.size * zoom).max(LEAST_TYPE);
                let width = face.width(&label.text) * size;
                let (anchor, baseline) = at(label.at);
                let left = match label.anchor {
                    Anchor::Start => anchor,
                    Anchor::Middle => anchor - width / 2.0,
                    Anchor::End => anchor - width,
                };
                if label.ground {
                    let edge = size * 0.15;
                    marks.push(Mark::Block {
                        x: left - edge,
                        y: baseline - ASCENT * size - edge * 0.5,
                        width: width + 2.0 * edge,
                        height: (ASCENT + DESCENT) * size + edge,
                        grey: 1.0,
                    });
                }
                marks.push(Mark::Text {
                    x: left,
                    y: baseline,
                    width,
                    size,
                    face,
                    grey: 0.0,
                    text: label.text.clone(),
                    drawn: true,
                });
            }
        }
    }
}
