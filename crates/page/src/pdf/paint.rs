//! Marks become the operators of a page (ISO 32000-1, annex A), written straight as the bytes of its content stream: a
//! sheet has some ten thousand of them. Numbers are whole hundredths of a point, and a state that is already set is not
//! set again, which keeps the pages small.

use std::rc::Rc;

use seamwright_drawing::Segment;
use seamwright_drawing::face::{Face, as_set};

use super::embed::Fonts;
use super::fonts::resource;
use super::piece::{Mark, ShapeFill, ShapeStroke};
use super::tag::{Node, Role, Structure};

/// Name of the logo among the resources of a page.
pub(super) const LOGO: &str = "Logo";

/// Hundredths of a point.
#[expect(clippy::cast_possible_truncation, reason = "a place on a page is far below 2^63 hundredths of a point")]
pub(super) fn hundredths(value: f64) -> i64 {
    (value * 100.0).round() as i64
}

/// Paints pages of one height.
pub(super) struct Painter<'f> {
    /// Height of the page, pt.
    height: f64,
    fonts: &'f Fonts,
    out: Vec<u8>,
    fill: Option<i64>,
    stroke: Option<ShapeStroke>,
    font: Option<(Face, i64)>,
    /// Where the text cursor stands, in hundredths of a point, while a text section is open.
    cursor: Option<(i64, i64)>,
    /// Whether marked content is open.
    open: bool,
    /// The part of the document whose content is open.
    part: Option<Rc<Node>>,
}

impl<'f> Painter<'f> {
    pub(super) fn new(height: f64, fonts: &'f Fonts) -> Self {
        let out = Vec::with_capacity(32 * 1024);
        Self { height, fonts, out, fill: None, stroke: None, font: None, cursor: None, open: false, part: None }
    }

    /// The operators of a page.
    pub(super) fn page(mut self, marks: &[Mark], structure: &mut Structure) -> Vec<u8> {
        structure.turn();
        for (index, mark) in marks.iter().enumerate() {
            if !matches!(mark, Mark::Tag(_)) {
                self.begin();
            }
            match mark {
                Mark::Tag(None) => self.close(),
                Mark::Tag(Some(node)) => self.part(node, marks.get(index + 1..).unwrap_or_default(), structure),
                Mark::Text { x, y, size, face, grey, text, .. } => {
                    let space = self
                        .part
                        .as_ref()
                        .is_some_and(|part| goes_on(mark, part, marks.get(index + 1..).unwrap_or_default()));
                    self.text(*x, *y, *size, *face, *grey, text, space);
                }
                Mark::Block { x, y, width, height, grey } => {
                    self.end_text();
                    self.fill(*grey);
                    self.rectangle(*x, self.height - y - height, *width, *height);
                    self.operator("f");
                }
                Mark::Frame { x, y, width, height, line } => {
                    self.end_text();
                    self.stroke(ShapeStroke { width: *line, dash: None, grey: 0.0 });
                    let lower = self.height - y - height;
                    self.rectangle(x + line / 2.0, lower + line / 2.0, width - line, height - line);
                    self.operator("S");
                }
                Mark::Logo { x, y, width, height } => self.logo(*x, *y, *width, *height),
                Mark::Code { x, y, side, runs, .. } => self.code(*x, *y, *side, runs),
                Mark::Shape { segments, fill, stroke } => self.shape(segments, *fill, *stroke),
            }
        }
        self.close();
        self.out
    }

    /// Opens decoration, where nothing is open.
    fn begin(&mut self) {
        if !self.open {
            self.open = true;
            self.operator("/Artifact BMC");
        }
    }

    fn close(&mut self) {
        self.end_text();
        self.part = None;
        if std::mem::take(&mut self.open) {
            self.operator("EMC");
        }
    }

    /// Opens the content of a part, up to the next tag.
    fn part(&mut self, node: &Rc<Node>, rest: &[Mark], structure: &mut Structure) {
        self.close();
        self.open = true;
        if let Some(decoration) = node.role.decoration() {
            self.operator(decoration);
            return;
        }
        self.part = Some(Rc::clone(node));
        let (at, number) = structure.content(node);
        self.operator(&format!("/{} <</MCID {number}>>BDC", node.role.name()));
        if node.role == Role::Figure {
            let own = rest.iter().take_while(|mark| !matches!(mark, Mark::Tag(_))).map(Mark::area);
            let around = own.fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |all, [left, top, right, bottom]| {
                [all[0].min(left), all[1].min(top), all[2].max(right), all[3].max(bottom)]
            });
            let [left, top, right, bottom] = around;
            if left <= right {
                #[expect(clippy::cast_possible_truncation, reason = "a place on a page, in hundredths of a point")]
                let rounded = |value: f64| ((value * 100.0).round() / 100.0) as f32;
                structure.place(at, [left, self.height - bottom, right, self.height - top].map(rounded));
            }
        }
    }

    fn operator(&mut self, name: &str) {
        self.out.extend_from_slice(name.as_bytes());
        self.out.push(b'\n');
    }

    /// A number in hundredths, as `12.5`, with a space after it.
    fn whole(&mut self, hundredths: i64) {
        if hundredths < 0 {
            self.out.push(b'-');
        }
        let size = hundredths.unsigned_abs();
        self.out.extend_from_slice(itoa::Buffer::new().format(size / 100).as_bytes());
        let (tenths, rest) = ((size / 10 % 10) as u8, (size % 10) as u8);
        match (tenths, rest) {
            (0, 0) => {}
            (tenths, 0) => self.out.extend([b'.', b'0' + tenths]),
            (tenths, rest) => self.out.extend([b'.', b'0' + tenths, b'0' + rest]),
        }
        self.out.push(b' ');
    }

    fn number(&mut self, value: f64) {
        self.whole(hundredths(value));
    }

    fn point(&mut self, (x, y): (f64, f64)) {
        self.number(x);
        self.number(self.height - y);
    }

    /// A rectangle by its lower left corner.
    fn rectangle(&mut self, x: f64, lower: f64, width: f64, height: f64) {
        for value in [x, lower, width, height] {
            self.number(value);
        }
        self.operator("re");
    }

    /// Puts what follows, up to a `Q`, into a place of its own.
    fn placed(&mut self, matrix: [f64; 6]) {
        self.operator("q");
        for value in matrix {
            self.number(value);
        }
        self.operator("cm");
    }

    fn end_text(&mut self) {
        if self.cursor.take().is_some() {
            self.operator("ET");
        }
    }

    fn fill(&mut self, grey: f64) {
        let grey = hundredths(grey);
        if self.fill != Some(grey) {
            self.fill = Some(grey);
            self.whole(grey);
            self.operator("g");
        }
    }

    fn stroke(&mut self, stroke: ShapeStroke) {
        let before = self.stroke.replace(stroke);
        if before.is_none() {
            // Round joints and butt ends: leaders and beads meet without notches.
            self.operator("1 j 0 J");
        }
        if before.is_none_or(|before| hundredths(before.width) != hundredths(stroke.width)) {
            self.number(stroke.width);
            self.operator("w");
        }
        if before.is_none_or(|before| hundredths(before.grey) != hundredths(stroke.grey)) {
            self.number(stroke.grey);
            self.operator("G");
        }
        if before.map_or(stroke.dash.is_some(), |before| before.dash != stroke.dash) {
            self.out.push(b'[');
            if let Some((dash, gap)) = stroke.dash {
                self.number(dash);
                self.number(gap);
            }
            self.operator("] 0 d");
        }
    }

    #[expect(clippy::too_many_arguments, reason = "all that a text mark has")]
    fn text(&mut self, x: f64, y: f64, size: f64, face: Face, grey: f64, text: &str, space: bool) {
        self.fill(grey);
        let (x, y) = (hundredths(x), hundredths(self.height - y));
        let from = self.cursor.unwrap_or_else(|| {
            self.operator("BT");
            (0, 0)
        });
        let font = (face, hundredths(size));
        if self.font != Some(font) {
            self.font = Some(font);
            self.out.push(b'/');
            self.out.extend_from_slice(resource(face).as_bytes());
            self.out.push(b' ');
            self.number(size);
            self.operator("Tf");
        }
        // The cursor moves relative to the line before.
        self.whole(x - from.0);
        self.whole(y - from.1);
        self.operator("Td");
        self.out.push(b'(');
        for character in text.chars().chain(space.then_some(' ')) {
            for byte in self.fonts.glyph(face, as_set(character)).to_be_bytes() {
                // These end or steer a string, and a reader takes a carriage return for a line feed (7.3.4.2).
                match byte {
                    b'(' | b')' | b'\\' => self.out.extend([b'\\', byte]),
                    b'\r' => self.out.extend(*b"\\r"),
                    _ => self.out.push(byte),
                }
            }
        }
        self.operator(")Tj");
        self.cursor = Some((x, y));
    }

    fn shape(&mut self, segments: &[Segment], fill: ShapeFill, stroke: Option<ShapeStroke>) {
        self.end_text();
        let contours = contours(segments);
        if contours.is_empty() {
            return;
        }
        match (fill, stroke) {
            (ShapeFill::Grey(grey), Some(stroke)) if matches!(contours.as_slice(), [one] if one.closed) => {
                self.fill(grey);
                self.stroke(stroke);
                self.path(&contours);
                self.operator("B");
                return;
            }
            (ShapeFill::Grey(grey), _) => {
                self.fill(grey);
                self.path(&contours);
                self.operator("f");
            }
            (ShapeFill::Colour(parts), _) => {
                self.fill = None;
                for part in parts {
                    self.number(f64::from(part) / 255.0);
                }
                self.operator("rg");
                self.path(&contours);
                self.operator("f");
            }
            (ShapeFill::Hatch(spacing), _) => {
                self.fill(1.0);
                self.path(&contours);
                self.operator("f");
                self.hatch(&contours, spacing);
            }
            (ShapeFill::None, _) => {}
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
            self.path(&contours);
            self.operator("S");
        }
    }

    /// One path with a rectangle for each run of dark modules, in units of a module from the upper left corner.
    fn code(&mut self, x: f64, y: f64, side: f64, runs: &[[usize; 3]]) {
        self.end_text();
        self.fill(0.0);
        self.placed([side, 0.0, 0.0, -side, x, self.height - y]);
        for [column, row, length] in runs {
            self.operator(&format!("{column} {row} {length} 1 re"));
        }
        self.operator("f");
        self.operator("Q");
    }

    /// Places the logo, which fills a square of one by one point.
    fn logo(&mut self, x: f64, y: f64, width: f64, height: f64) {
        self.end_text();
        self.placed([width, 0.0, 0.0, height, x, self.height - y - height]);
        self.out.push(b'/');
        self.out.extend_from_slice(LOGO.as_bytes());
        self.operator(" Do");
        self.operator("Q");
    }

    fn path(&mut self, contours: &[Contour<'_>]) {
        for contour in contours {
            if let Some([left, top, right, bottom]) = contour.rectangle() {
                // From the rounded edges, so that no seam shows between neighbours.
                let (left, lower) = (hundredths(left), hundredths(self.height - bottom));
                let (right, upper) = (hundredths(right), hundredths(self.height - top));
                for value in [left, lower, right - left, upper - lower] {
                    self.whole(value);
                }
                self.operator("re");
                continue;
            }
            self.point(contour.start);
            self.operator("m");
            for segment in contour.rest {
                match *segment {
                    Segment::Move(_) | Segment::Close => {}
                    Segment::Line(at) => {
                        self.point(at);
                        self.operator("l");
                    }
                    Segment::Curve(a, b, c) => {
                        self.point(a);
                        self.point(b);
                        self.point(c);
                        self.operator("c");
                    }
                }
            }
            if contour.closed {
                self.operator("h");
            }
        }
    }

    /// Lines sloping up to the right, clipped to the shape.
    fn hatch(&mut self, contours: &[Contour<'_>], spacing: f64) {
        let mut bounds = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        for (x, y) in contours.iter().flat_map(Contour::points) {
            bounds = (bounds.0.min(x), bounds.1.min(y), bounds.2.max(x), bounds.3.max(y));
        }
        let (left, top, right, bottom) = bounds;
        if !(left < right && top < bottom) {
            return;
        }
        self.operator("q");
        self.path(contours);
        self.operator("W n");
        let before = self.stroke;
        self.stroke(ShapeStroke { width: 0.4, dash: None, grey: 0.55 });
        // A line x + y = c meets the box for c between its two corners; c is a multiple of the step, so that the
        // hatch of two neighbours lines up.
        let step = (spacing * std::f64::consts::SQRT_2).max(1.0);
        let mut sum = ((left + top) / step).ceil() * step;
        while sum < right + bottom {
            let (from, to) = (left.max(sum - bottom), right.min(sum - top));
            self.point((from, sum - from));
            self.operator("m");
            self.point((to, sum - to));
            self.operator("l");
            sum += step;
        }
        self.operator("S");
        self.operator("Q");
        self.stroke = before;
    }
}

/// Whether more text of a part follows apart from this one, so that a voice needs a space between them.
fn goes_on(text: &Mark, part: &Rc<Node>, rest: &[Mark]) -> bool {
    let Mark::Text { x, y, width, size, text, .. } = text else { return false };
    for mark in rest {
        match mark {
            Mark::Tag(Some(other)) if !Rc::ptr_eq(part, other) => return false,
            Mark::Text { x: next, y: line, text: after, .. } => {
                let apart = (y - line).abs() > size * 0.05 || (next - (x + width)).abs() > size * 0.05;
                return apart && !text.ends_with(char::is_whitespace) && !after.starts_with(char::is_whitespace);
            }
            _ => {}
        }
    }
    false
}

/// A part of a path from one start.
struct Contour<'s> {
    start: (f64, f64),
    rest: &'s [Segment],
    closed: bool,
}

/// The parts of a path that have more than a start.
fn contours(segments: &[Segment]) -> Vec<Contour<'_>> {
    let starts = |_: &Segment, next: &Segment| !matches!(next, Segment::Move(_));
    let parts = segments.chunk_by(starts).filter_map(|part| match part {
        [Segment::Move(start), rest @ ..] => {
            let closed = rest.iter().any(|segment| matches!(segment, Segment::Close));
            let goes_on = rest.iter().any(|segment| !matches!(segment, Segment::Close));
            goes_on.then_some(Contour { start: *start, rest, closed })
        }
        _ => None,
    });
    parts.collect()
}

impl Contour<'_> {
    /// Every point that it names, those that pull a curve among them.
    fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        let rest = self.rest.iter().flat_map(|segment| match *segment {
            Segment::Move(a) | Segment::Line(a) => [Some(a), None, None],
            Segment::Curve(a, b, c) => [Some(a), Some(b), Some(c)],
            Segment::Close => [None; 3],
        });
        std::iter::once(self.start).chain(rest.flatten())
    }

    /// Left, top, right and bottom, where it is an upright rectangle: shorter to write than its corners.
    fn rectangle(&self) -> Option<[f64; 4]> {
        let [Segment::Line(a), Segment::Line(b), Segment::Line(c), Segment::Close] = *self.rest else { return None };
        let level = |p: (f64, f64), q: (f64, f64)| hundredths(p.1) == hundredths(q.1);
        let plumb = |p: (f64, f64), q: (f64, f64)| hundredths(p.0) == hundredths(q.0);
        let upright = level(self.start, a) && plumb(a, b) && level(b, c) && plumb(c, self.start);
        upright.then(|| {
            let (left, right) = (self.start.0.min(b.0), self.start.0.max(b.0));
            let (top, bottom) = (self.start.1.min(b.1), self.start.1.max(b.1));
            [left, top, right, bottom]
        })
    }
}
