//! A drawing in the making: shapes and labels that know of each other, cut to size at the end.
//!
//! Shapes are put down first and labels find a free place among them, so that no line runs through a text. The paper
//! has no edge until [`Canvas::finish`] cuts it, so that nothing can leave it.

use crate::block::Block;
use crate::drawing::{Anchor, Drawing, Fill, Item, Label, Segment, Stroke};
use crate::face::ASCENT;
use crate::path::{arc, flatten, open};
use crate::point::{Point, add, sub, times, unit};
use crate::text::{LEADING, POINT, Rect, cap_middle, ink, text_box};

/// White left around the ink, mm.
pub(crate) const MARGIN: f64 = 0.6;
/// Least distance between a text and any line, mm.
const CLEAR: f64 = 0.35;
/// Length of an arrow head, mm.
const ARROW: f64 = 2.0;

/// A drawing in the making.
#[derive(Debug, Clone, Default)]
pub(crate) struct Canvas {
    items: Vec<Item>,
    labels: Vec<Label>,
    lines: Vec<(Point, Point)>,
    texts: Vec<Rect>,
    reserved: Vec<Rect>,
    bounds: Option<Rect>,
    /// Nothing is kept of what is drawn but how far it reaches.
    measures: bool,
}

impl Canvas {
    /// A canvas that keeps nothing of what is drawn on it but its [`Canvas::bounds`].
    pub(crate) fn measure() -> Self {
        Self { measures: true, ..Self::default() }
    }

    /// Whether only the bounds are asked for, so that what moves none of them need not be drawn.
    pub(crate) fn measures(&self) -> bool {
        self.measures
    }

    fn reach(&mut self, rect: Rect) {
        self.bounds = Some(self.bounds.map_or(rect, |bounds| bounds.union(&rect)));
    }

    /// Keeps texts out of a rectangle.
    pub(crate) fn reserve(&mut self, rect: Rect) {
        self.reserved.push(rect);
    }

    /// What the ink covers so far.
    pub(crate) fn bounds(&self) -> Rect {
        self.bounds.unwrap_or(Rect { left: 0.0, top: 0.0, right: 1.0, bottom: 1.0 })
    }

    /// Adds a path; its stroke keeps labels away, and so does a black area.
    pub(crate) fn path(&mut self, segments: Vec<Segment>, fill: Fill, stroke: Option<Stroke>) {
        let half = stroke.map_or(0.0, |stroke| stroke.width / 2.0);
        for (from, to) in flatten(&segments) {
            let rect = Rect {
                left: from.0.min(to.0),
                top: from.1.min(to.1),
                right: from.0.max(to.0),
                bottom: from.1.max(to.1),
            };
            self.reach(rect.grown(half));
            if !self.measures && (stroke.is_some() || fill == Fill::Black) {
                self.lines.push((from, to));
            }
        }
        if !self.measures {
            self.items.push(Item::Path { segments, fill, stroke });
        }
    }

    /// Adds a straight line.
    pub(crate) fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        self.path(vec![Segment::Move(from), Segment::Line(to)], Fill::None, Some(stroke));
    }

    /// Adds lines through the points.
    pub(crate) fn polyline(&mut self, points: &[Point], stroke: Stroke) {
        self.path(open(points), Fill::None, Some(stroke));
    }

    /// Adds a closed polygon.
    pub(crate) fn polygon(&mut self, points: &[Point], fill: Fill, stroke: Option<Stroke>) {
        let mut segments = open(points);
        segments.push(Segment::Close);
        self.path(segments, fill, stroke);
    }

    /// Adds a rectangle.
    pub(crate) fn rect(&mut self, rect: Rect, fill: Fill, stroke: Option<Stroke>) {
        let Rect { left, top, right, bottom } = rect;
        self.polygon(&[(left, top), (right, top), (right, bottom), (left, bottom)], fill, stroke);
    }

    /// Adds a rectangle with round corners.
    pub(crate) fn rounded(&mut self, rect: Rect, radius: f64, fill: Fill, stroke: Option<Stroke>) {
        let Rect { left, top, right, bottom } = rect;
        let radius = radius.min(rect.width() / 2.0).min(rect.height() / 2.0).max(0.0);
        // 0.5523: the cubic Bézier that comes nearest to a quarter circle.
        let pull = radius * (1.0 - 0.5523);
        self.path(
            vec![
                Segment::Move((left + radius, top)),
                Segment::Line((right - radius, top)),
                Segment::Curve((right - pull, top), (right, top + pull), (right, top + radius)),
                Segment::Line((right, bottom - radius)),
                Segment::Curve((right, bottom - pull), (right - pull, bottom), (right - radius, bottom)),
                Segment::Line((left + radius, bottom)),
                Segment::Curve((left + pull, bottom), (left, bottom - pull), (left, bottom - radius)),
                Segment::Line((left, top + radius)),
                Segment::Curve((left, top + pull), (left + pull, top), (left + radius, top)),
                Segment::Close,
            ],
            fill,
            stroke,
        );
    }

    /// Adds a circle.
    pub(crate) fn circle(&mut self, centre: Point, radius: f64, fill: Fill, stroke: Option<Stroke>) {
        let mut segments = arc(centre, radius, 0.0, 360.0);
        segments.push(Segment::Close);
        self.path(segments, fill, stroke);
    }

    /// Adds an arc from one heading to another, degrees counter-clockwise from the right.
    pub(crate) fn arc(&mut self, centre: Point, radius: f64, from: f64, to: f64, stroke: Stroke) {
        self.path(arc(centre, radius, from, to), Fill::None, Some(stroke));
    }

    /// Adds an arrow head with its tip at `tip`, pointing along `along`.
    pub(crate) fn arrow_head(&mut self, tip: Point, along: Point) {
        self.arrow_head_of(tip, along, ARROW);
    }

    /// Adds an arrow head of the given length, mm.
    pub(crate) fn arrow_head_of(&mut self, tip: Point, along: Point, length: f64) {
        let along = unit(along);
        let back = sub(tip, times(along, length));
        let side = times((-along.1, along.0), length * 0.19);
        self.polygon(&[tip, add(back, side), sub(back, side)], Fill::Black, None);
    }

    /// Adds a line with an arrow head at its end.
    pub(crate) fn arrow(&mut self, from: Point, to: Point, stroke: Stroke, head: f64) {
        let along = unit(sub(to, from));
        self.line(from, sub(to, times(along, head * 0.8)), stroke);
        self.arrow_head_of(to, along, head);
    }

    /// Adds a label just where it is told.
    pub(crate) fn label(&mut self, label: Label) {
        let rect = text_box(&label);
        self.reach(rect);
        if !self.measures {
            self.texts.push(rect);
            self.labels.push(label);
        }
    }

    /// Adds a line of plain text just where it is told.
    pub(crate) fn text(&mut self, at: Point, text: &str, size: f64, anchor: Anchor) {
        self.label(Label { at, text: text.to_owned(), size, anchor, bold: false, ground: false });
    }

    /// Adds a line of text with its middle at a point.
    pub(crate) fn text_centred(&mut self, at: Point, text: &str, size: f64, bold: bool) {
        let baseline = at.1 + cap_middle(size);
        self.label(Label {
            at: (at.0, baseline),
            text: text.to_owned(),
            size,
            anchor: Anchor::Middle,
            bold,
            ground: false,
        });
    }

    /// Whether a text may stand in a rectangle: no line through it, no other text.
    pub(crate) fn is_free(&self, rect: &Rect) -> bool {
        let rect = rect.grown(CLEAR);
        !self.texts.iter().chain(&self.reserved).any(|text| text.overlaps(&rect))
            && !self.lines.iter().any(|(from, to)| rect.is_crossed_by(*from, *to))
    }

    /// Whether no other text stands in a rectangle.
    pub(crate) fn is_clear_of_texts(&self, rect: &Rect) -> bool {
        let rect = rect.grown(CLEAR);
        !self.texts.iter().chain(&self.reserved).any(|text| text.overlaps(&rect))
    }

    /// Whether a line may run between two points without touching a text.
    pub(crate) fn line_is_free(&self, from: Point, to: Point) -> bool {
        !self.texts.iter().any(|text| text.grown(CLEAR).is_crossed_by(from, to))
    }

    /// How many times a line runs through the letters of a text or two texts overlap.
    pub(crate) fn clashes(&self) -> usize {
        let mut count = 0;
        for (index, (label, text)) in self.labels.iter().zip(&self.texts).enumerate() {
            let ink = ink(label);
            if !label.ground {
                count += self.lines.iter().filter(|(from, to)| ink.is_crossed_by(*from, *to)).count();
            }
            count += self.texts.iter().skip(index + 1).filter(|other| text.overlaps(other)).count();
        }
        count
    }

    /// Breaks the lines that still run through a text: they get a white ground under it.
    pub(crate) fn break_lines(&mut self) {
        for (label, text) in self.labels.iter_mut().zip(&self.texts) {
            label.ground |= self.lines.iter().any(|(from, to)| text.is_crossed_by(*from, *to));
        }
    }

    /// Sets a text beyond a point, as far along a direction as it takes to stand free, in lines of at most `room` mm;
    /// returns how far it was pushed.
    pub(crate) fn text_beyond(&mut self, from: Point, along: Point, text: &str, size: f64, room: f64) -> f64 {
        self.text_beside(from, along, 0.0, text, size, room)
    }

    /// As [`Canvas::text_beyond`]; the text may also slide up to `slide` mm to either side.
    pub(crate) fn text_beside(
        &mut self,
        from: Point,
        along: Point,
        slide: f64,
        text: &str,
        size: f64,
        room: f64,
    ) -> f64 {
        let block = Block::new(text, size, false, room);
        let (push, rect) =
            self.free_place(&block, from, along, slide).unwrap_or_else(|| (0.0, block.beyond(from, unit(along))));
        self.set(&block, rect, anchor_towards(along), false);
        push
    }

    /// Where a block stands free beyond a point, and how far it has to be pushed for it; none where another text is
    /// in the way.
    pub(crate) fn free_place(&self, block: &Block, from: Point, along: Point, slide: f64) -> Option<(f64, Rect)> {
        let along = unit(along);
        let side = (-along.1, along.0);
        for step in 0..160 {
            let push = f64::from(step) * 0.5;
            let pushed = add(from, times(along, push));
            if step > 0 && !self.line_is_free(from, pushed) {
                return None;
            }
            for share in [0.0, 0.5, -0.5, 1.0, -1.0] {
                let rect = block.beyond(add(pushed, times(side, share * slide)), along);
                if self.is_free(&rect) {
                    return Some((push, rect));
                }
                if slide <= 0.0 {
                    break;
                }
            }
        }
        None
    }

    /// Sets the lines of a block in its rectangle.
    pub(crate) fn set(&mut self, block: &Block, rect: Rect, anchor: Anchor, ground: bool) {
        let em = block.size * POINT;
        let x = match anchor {
            Anchor::Start => rect.left,
            Anchor::Middle => f64::midpoint(rect.left, rect.right),
            Anchor::End => rect.right,
        };
        let mut baseline = rect.top + ASCENT * em;
        for line in &block.lines {
            self.label(Label {
                at: (x, baseline),
                text: line.clone(),
                size: block.size,
                anchor,
                bold: block.bold,
                ground,
            });
            baseline += LEADING * em;
        }
    }

    /// Cuts the paper to the ink; scales the whole down, type and all, only where it is still wider or higher than
    /// the room.
    pub(crate) fn finish(self, max_width: f64, max_height: f64) -> Drawing {
        let bounds = self.bounds().grown(MARGIN);
        let scale = (room_of(max_width) / bounds.width()).min(room_of(max_height) / bounds.height()).min(1.0);
        let place = |at: Point| ((at.0 - bounds.left) * scale, (at.1 - bounds.top) * scale);
        let mut drawing = Drawing::new(bounds.width() * scale, bounds.height() * scale);
        drawing.items = self
            .items
            .into_iter()
            .map(|item| match item {
                Item::Path { segments, fill, stroke } => Item::Path {
                    segments: segments
                        .into_iter()
                        .map(|segment| match segment {
                            Segment::Move(a) => Segment::Move(place(a)),
                            Segment::Line(a) => Segment::Line(place(a)),
                            Segment::Curve(a, b, c) => Segment::Curve(place(a), place(b), place(c)),
                            Segment::Close => Segment::Close,
                        })
                        .collect(),
                    fill,
                    stroke,
                },
                Item::Text(label) => Item::Text(label),
            })
            .chain(
                self.labels
                    .into_iter()
                    .map(|label| Item::Text(Label { at: place(label.at), size: label.size * scale, ..label })),
            )
            .collect();
        drawing
    }
}

/// Text to the left of its point ends there, text to the right begins there, so that lines keep an even edge.
pub(crate) fn anchor_towards(along: Point) -> Anchor {
    let along = unit(along);
    if along.0 < -0.5 {
        Anchor::End
    } else if along.0 > 0.5 {
        Anchor::Start
    } else {
        Anchor::Middle
    }
}

/// A number that can be drawn: within the limits, and `otherwise` where it is none.
pub(crate) fn sane(value: f64, low: f64, high: f64, otherwise: f64) -> f64 {
    if value.is_finite() { value.clamp(low, high) } else { otherwise }
}

/// Width or height that a drawing may have, mm: what was asked for, within reason.
pub(crate) fn room_of(asked: f64) -> f64 {
    sane(asked, 5.0, 1000.0, 80.0)
}
