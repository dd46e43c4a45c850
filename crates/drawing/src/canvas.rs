//! A drawing in the making: shapes and labels that know of each other, cut to size at the end.
//!
//! Shapes are put down first and labels find a free place among them, so that no line runs through a text. The paper
//! has no edge until [`Canvas::finish`] cuts it, so that nothing can leave it. [`fit`] finds the largest scale at which
//! a sketch fits its room.

use crate::drawing::{Anchor, Drawing, Fill, Item, Label, Segment, Stroke};
use crate::face::{ASCENT, DESCENT};
use crate::text::{LEADING, POINT, Rect, ink, text_box, width, wrap};

/// A point or a direction, mm.
pub(crate) type Point = (f64, f64);

/// White left around the ink, mm.
const MARGIN: f64 = 0.6;
/// Least distance between a text and any line, mm.
const CLEAR: f64 = 0.35;
/// Length of an arrow head, mm.
const ARROW: f64 = 2.0;

/// Sum of two vectors.
pub(crate) fn add(a: Point, b: Point) -> Point {
    (a.0 + b.0, a.1 + b.1)
}

/// Difference of two vectors.
pub(crate) fn sub(a: Point, b: Point) -> Point {
    (a.0 - b.0, a.1 - b.1)
}

/// A vector made `by` times as long.
pub(crate) fn times(a: Point, by: f64) -> Point {
    (a.0 * by, a.1 * by)
}

/// Product of two vectors.
pub(crate) fn dot(a: Point, b: Point) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

/// Half way between two points.
pub(crate) fn middle(a: Point, b: Point) -> Point {
    times(add(a, b), 0.5)
}

/// A vector of length one; to the right where the vector has no length.
pub(crate) fn unit(a: Point) -> Point {
    let length = a.0.hypot(a.1);
    if length > 1e-12 { (a.0 / length, a.1 / length) } else { (1.0, 0.0) }
}

/// The direction at `degrees` from the right, counter-clockwise as seen on paper.
pub(crate) fn heading(degrees: f64) -> Point {
    let radians = degrees.to_radians();
    (radians.cos(), -radians.sin())
}

/// A number that can be drawn: within the limits, and `otherwise` where it is none.
pub(crate) fn sane(value: f64, low: f64, high: f64, otherwise: f64) -> f64 {
    if value.is_finite() { value.clamp(low, high) } else { otherwise }
}

/// A drawing in the making.
#[derive(Debug, Clone, Default)]
pub(crate) struct Canvas {
    items: Vec<Item>,
    labels: Vec<Label>,
    lines: Vec<(Point, Point)>,
    texts: Vec<Rect>,
    reserved: Vec<Rect>,
    bounds: Option<Rect>,
}

impl Canvas {
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
            if stroke.is_some() || fill == Fill::Black {
                self.lines.push((from, to));
            }
        }
        self.items.push(Item::Path { segments, fill, stroke });
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
        self.texts.push(rect);
        self.labels.push(label);
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

/// How far under the middle of a line of capitals and figures its baseline lies, mm.
pub(crate) fn cap_middle(size: f64) -> f64 {
    0.365 * size * POINT
}

/// Lines of text as one block.
#[derive(Debug, Clone)]
pub(crate) struct Block {
    pub(crate) lines: Vec<String>,
    pub(crate) size: f64,
    pub(crate) bold: bool,
}

impl Block {
    /// Breaks a text into lines of at most `room` mm.
    pub(crate) fn new(text: &str, size: f64, bold: bool, room: f64) -> Self {
        Self { lines: wrap(text, size, bold, room), size, bold }
    }

    /// Width of the widest line, mm.
    pub(crate) fn width(&self) -> f64 {
        self.lines.iter().map(|line| width(line, self.size, self.bold)).fold(0.0, f64::max)
    }

    /// Height of all lines, mm.
    pub(crate) fn height(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a count of lines is far below 2^52")]
        let gaps = self.lines.len().saturating_sub(1) as f64;
        (ASCENT + DESCENT + gaps * LEADING) * self.size * POINT
    }

    /// The rectangle with its top left corner at a point.
    pub(crate) fn at(&self, left: f64, top: f64) -> Rect {
        Rect { left, top, right: left + self.width(), bottom: top + self.height() }
    }

    /// The rectangle that lies beyond a point in a direction.
    pub(crate) fn beyond(&self, from: Point, along: Point) -> Rect {
        const GAP: f64 = 0.9;
        let (half_width, half_height) = (self.width() / 2.0, self.height() / 2.0);
        let centre = (from.0 + along.0 * (half_width + GAP), from.1 + along.1 * (half_height + GAP));
        self.at(centre.0 - half_width, centre.1 - half_height)
    }
}

/// Farthest that a point which is left out lies beside the line, mm: less than a printer shows.
const HAIR: f64 = 0.008;

/// Distance of a point from the stretch between two others, squared.
pub(crate) fn square_away(at: Point, from: Point, to: Point) -> f64 {
    let span = sub(to, from);
    let along = (dot(sub(at, from), span) / dot(span, span).max(1e-18)).clamp(0.0, 1.0);
    let away = sub(at, add(from, times(span, along)));
    dot(away, away)
}

/// The points without those that lie on the line between their neighbours.
fn slim(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
    let mut skipped: Vec<Point> = Vec::new();
    for &point in points {
        let Some(&from) = kept.last() else {
            kept.push(point);
            continue;
        };
        if skipped.iter().any(|&at| square_away(at, from, point) > HAIR * HAIR) {
            kept.extend(skipped.last());
            skipped.clear();
        }
        skipped.push(point);
    }
    kept.extend(skipped.last());
    kept
}

fn open(points: &[Point]) -> Vec<Segment> {
    slim(points)
        .into_iter()
        .enumerate()
        .map(|(index, point)| if index == 0 { Segment::Move(point) } else { Segment::Line(point) })
        .collect()
}

/// An arc as Béziers, from one heading to another, degrees counter-clockwise from the right as seen on paper.
pub(crate) fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Segment> {
    let sweep = to - from;
    // No piece spans more than an eighth of a circle; 16 pieces at most for any sweep within a full turn or two.
    let pieces = (sweep.abs() / 45.0).ceil().clamp(1.0, 16.0);
    let step = sweep / pieces;
    let pull = 4.0 / 3.0 * (step.to_radians() / 4.0).tan() * radius;
    let at = |degrees: f64| add(centre, times(heading(degrees), radius));
    let tangent = |degrees: f64| heading(degrees + 90.0);
    let mut segments = vec![Segment::Move(at(from))];
    let mut angle = from;
    let mut left = pieces;
    while left > 0.5 {
        let next = angle + step;
        segments.push(Segment::Curve(
            add(at(angle), times(tangent(angle), pull)),
            sub(at(next), times(tangent(next), pull)),
            at(next),
        ));
        angle = next;
        left -= 1.0;
    }
    segments
}

/// The straight pieces of a path; a curve becomes sixteen.
pub(crate) fn flatten(segments: &[Segment]) -> Vec<(Point, Point)> {
    let mut lines = Vec::new();
    let (mut start, mut at) = ((0.0, 0.0), (0.0, 0.0));
    for segment in segments {
        match *segment {
            Segment::Move(to) => (start, at) = (to, to),
            Segment::Line(to) => {
                lines.push((at, to));
                at = to;
            }
            Segment::Curve(a, b, to) => {
                let from = at;
                for step in 1..=16 {
                    let t = f64::from(step) / 16.0;
                    let s = 1.0 - t;
                    let mix = |p: f64, q: f64, r: f64, e: f64| {
                        s * s * s * p + 3.0 * s * s * t * q + 3.0 * s * t * t * r + t * t * t * e
                    };
                    let next = (mix(from.0, a.0, b.0, to.0), mix(from.1, a.1, b.1, to.1));
                    lines.push((at, next));
                    at = next;
                }
            }
            Segment::Close => {
                lines.push((at, start));
                at = start;
            }
        }
    }
    lines
}

/// Width or height that a drawing may have, mm: what was asked for, within reason.
pub(crate) fn room_of(asked: f64) -> f64 {
    sane(asked, 5.0, 1000.0, 80.0)
}

/// Whether the ink fits the room.
pub(crate) fn is_within(canvas: &Canvas, room: (f64, f64)) -> bool {
    let bounds = canvas.bounds().grown(MARGIN);
    bounds.width() <= room_of(room.0) && bounds.height() <= room_of(room.1)
}

/// Builds a sketch at the largest scale between `low` and `high` (paper mm for a mm of the thing) that fits the room;
/// gives the scale, too.
///
/// Scales are tried on a ladder of [`STEPS`] equal ratios. A sketch grows nearly in a straight line with its scale, so two
/// tries tell where the last one that fits must be; where lettering makes a bend in the line, it is a few tries more.
pub(crate) fn fit(room: (f64, f64), low: f64, high: f64, build: impl Fn(f64) -> Canvas) -> (f64, Canvas) {
    let room = (room_of(room.0), room_of(room.1));
    let low = low.min(high);
    let tried = |step: u32| {
        let canvas = build(scale_at(step, low, high));
        let bounds = canvas.bounds().grown(MARGIN);
        Tried { step, size: (bounds.width(), bounds.height()), canvas }
    };
    let fits = |own: &Tried| own.size.0 <= room.0 && own.size.1 <= room.1;
    let mut above = tried(STEPS);
    if fits(&above) {
        return (high, above.canvas);
    }
    let largest = above.size;
    let mut best = tried(0);
    let mut guesses = 0;
    while above.step - best.step > 1 {
        let (from, to) = (scale_at(best.step, low, high), scale_at(above.step, low, high));
        let meets = |small: f64, large: f64, room: f64| {
            if large > small { from + (to - from) * (room - small) / (large - small) } else { to }
        };
        let at = meets(best.size.0, above.size.0, room.0).min(meets(best.size.1, above.size.1, room.1));
        let step = if guesses < GUESSES { step_of(at, low, high) } else { u32::midpoint(best.step, above.step) };
        guesses += 1;
        let next = tried(step.clamp(best.step + 1, above.step - 1));
        if fits(&next) {
            best = next;
        } else {
            above = next;
        }
    }
    // Texts give way in jumps, so it may fit again above that; never where the picture alone would fill the room.
    let reach = step_of(high * (room.0 / largest.0).min(room.1 / largest.1), low, high);
    let again = (best.step + 1..=reach).rev().step_by(STRIDE).map(tried).find(fits);
    let best = again.unwrap_or(best);
    (scale_at(best.step, low, high), best.canvas)
}

/// Steps of the ladder that are passed over in the search from above.
const STRIDE: usize = 12;
/// How many ratios lie between the smallest and the largest scale of [`fit`].
const STEPS: u32 = 1 << HALVINGS;
/// How often the ratio of both is halved until it is that of one step.
const HALVINGS: u32 = 9;
/// How often [`fit`] guesses before it halves what is left.
const GUESSES: u32 = 4;

/// A sketch at a step of the ladder, and its width and height with the margin.
struct Tried {
    step: u32,
    size: (f64, f64),
    canvas: Canvas,
}

/// The scale of a step of the ladder; square roots are the same on every machine, powers need not be.
fn scale_at(step: u32, low: f64, high: f64) -> f64 {
    if step == STEPS {
        return high;
    }
    let (mut scale, mut root) = (low, high / low);
    for halving in (0..HALVINGS).rev() {
        root = root.sqrt();
        if step >> halving & 1 == 1 {
            scale *= root;
        }
    }
    scale
}

/// The step of the ladder at or below a scale.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and the number of steps")]
fn step_of(scale: f64, low: f64, high: f64) -> u32 {
    let part = (scale.max(low) / low).ln() / (high / low).ln();
    (part * f64::from(STEPS)).clamp(0.0, f64::from(STEPS)).floor() as u32
}

/// As [`fit`], but where the texts are too large for the picture at that scale, the picture is made larger until they
/// stand clear; [`Canvas::finish`] then scales the whole down.
pub(crate) fn fit_clear(room: (f64, f64), low: f64, high: f64, build: impl Fn(f64) -> Canvas) -> Canvas {
    let (low, high) = (low.min(high), high);
    let (_, fitted) = fit(room, low, high, &build);
    if fitted.clashes() == 0 {
        return fitted;
    }
    let mut best = (fitted.clashes(), fitted);
    let mut scale = low;
    while scale < high * 3.0 {
        scale *= 1.25;
        let canvas = build(scale);
        let clashes = canvas.clashes();
        let larger = canvas.bounds().width() >= best.1.bounds().width();
        if clashes < best.0 && larger {
            best = (clashes, canvas);
        }
        if best.0 == 0 {
            break;
        }
    }
    best.1
}
