//! What layout makes: marks at their places, gathered into pieces that are put on pages.
//!
//! A piece is the least that moves as one: a row of a table, a line of running text, a row of drawings. Places are in
//! points, x from the left edge of the page, y downwards; inside a piece from its top, on a page from the page's top.

use std::rc::Rc;

use seamwright_drawing::Segment;
use seamwright_drawing::face::{ASCENT, DESCENT, Face};

use super::measure::Line;
use super::style::LEADING;
use super::tag::Node;

/// Something to paint.
#[derive(Debug, Clone)]
pub(super) enum Mark {
    /// A run of text; `y` is its baseline.
    Text { x: f64, y: f64, width: f64, size: f64, face: Face, grey: f64, text: String, drawn: bool },
    /// A filled rectangle: rules and bars.
    Block { x: f64, y: f64, width: f64, height: f64, grey: f64 },
    /// An outlined rectangle; the line runs inside it.
    Frame { x: f64, y: f64, width: f64, height: f64, line: f64 },
    /// The shop's logo.
    Logo { x: f64, y: f64, width: f64, height: f64 },
    /// The dark modules of a QR code: `side` is that of one module, `runs` have column, row and length in modules.
    Code { x: f64, y: f64, side: f64, rows: usize, runs: Rc<[[usize; 3]]> },
    /// What follows belongs to this part of the document; nothing for decoration.
    Tag(Option<Rc<Node>>),
    /// A path of a drawing.
    Shape { segments: Vec<Segment>, fill: ShapeFill, stroke: Option<ShapeStroke> },
}

/// How a shape is filled, lengths in pt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum ShapeFill {
    None,
    Grey(f64),
    /// Red, green and blue.
    Colour([u8; 3]),
    Hatch(f64),
}

/// How a shape is stroked, lengths in pt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ShapeStroke {
    pub width: f64,
    pub dash: Option<(f64, f64)>,
    pub grey: f64,
}

/// How firmly a piece holds on to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) enum Keep {
    /// A page may end after it.
    #[default]
    No,
    /// No page ends after it unless the pieces held together are longer than a page.
    Wish,
    /// No page ends after it: headings, table headers.
    Must,
}

/// An entry of the outline.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub title: String,
    pub y: f64,
}

/// The part of a table that is repeated at the top of each page it reaches.
#[derive(Debug, Clone, Default)]
pub(super) struct Header {
    pub height: f64,
    pub marks: Vec<Mark>,
}

/// A piece of the sheet.
#[derive(Debug, Clone, Default)]
pub(super) struct Piece {
    /// Space before it, which falls away at the top of a page.
    pub gap: f64,
    pub height: f64,
    pub marks: Vec<Mark>,
    pub keep: Keep,
    /// Repeated before this piece where it starts a page.
    pub header: Option<Rc<Header>>,
    pub entries: Vec<Entry>,
    /// Starts a new page.
    pub new_page: bool,
    /// Goes after all others, on the last page.
    pub last: bool,
}

impl Mark {
    /// Top and bottom.
    pub(super) fn extent(&self) -> (f64, f64) {
        match self {
            Self::Text { y, size, .. } => (y - ASCENT * size, y + DESCENT * size),
            Self::Block { y, height, .. } | Self::Frame { y, height, .. } | Self::Logo { y, height, .. } => {
                (*y, y + height)
            }
            Self::Tag(_) => (0.0, 0.0),
            #[expect(clippy::cast_precision_loss, reason = "a count of modules is far below 2^52")]
            Self::Code { y, side, rows, .. } => (*y, y + side * *rows as f64),
            Self::Shape { segments, .. } => {
                let mut extent = (f64::INFINITY, f64::NEG_INFINITY);
                let mut reach = |y: f64| extent = (extent.0.min(y), extent.1.max(y));
                for segment in segments {
                    match segment {
                        Segment::Move(a) | Segment::Line(a) => reach(a.1),
                        Segment::Curve(a, b, c) => [a, b, c].into_iter().for_each(|point| reach(point.1)),
                        Segment::Close => {}
                    }
                }
                if extent.0 > extent.1 { (0.0, 0.0) } else { extent }
            }
        }
    }

    /// Left, top, right and bottom.
    pub(super) fn area(&self) -> [f64; 4] {
        let (top, bottom) = self.extent();
        let (left, right) = match self {
            Self::Text { x, width, .. }
            | Self::Block { x, width, .. }
            | Self::Frame { x, width, .. }
            | Self::Logo { x, width, .. } => (*x, x + width),
            #[expect(clippy::cast_precision_loss, reason = "a count of modules is far below 2^52")]
            Self::Code { x, side, rows, .. } => (*x, x + side * *rows as f64),
            Self::Tag(_) => (f64::MAX, f64::MIN),
            Self::Shape { segments, .. } => {
                let points = segments.iter().flat_map(|segment| match segment {
                    Segment::Move(a) | Segment::Line(a) => vec![a.0],
                    Segment::Curve(a, b, c) => vec![a.0, b.0, c.0],
                    Segment::Close => Vec::new(),
                });
                points.fold((f64::MAX, f64::MIN), |(left, right), x| (left.min(x), right.max(x)))
            }
        };
        [left, top, right, bottom]
    }

    /// The mark moved down by `dy`.
    pub(super) fn moved(mut self, dy: f64) -> Self {
        self.shift(dy);
        self
    }

    /// Moves the mark down by `dy`.
    pub(super) fn shift(&mut self, dy: f64) {
        match self {
            Self::Text { y, .. }
            | Self::Block { y, .. }
            | Self::Frame { y, .. }
            | Self::Logo { y, .. }
            | Self::Code { y, .. } => *y += dy,
            Self::Tag(_) => {}
            Self::Shape { segments, .. } => {
                for segment in segments {
                    match segment {
                        Segment::Move(a) | Segment::Line(a) => a.1 += dy,
                        Segment::Curve(a, b, c) => {
                            a.1 += dy;
                            b.1 += dy;
                            c.1 += dy;
                        }
                        Segment::Close => {}
                    }
                }
            }
        }
    }
}

impl Piece {
    /// Room of `height` with nothing in it yet.
    pub(super) fn of(height: f64) -> Self {
        Self { height, ..Self::default() }
    }

    /// Adds lines of text whose first one has its top at `top`; gives the bottom of the last.
    pub(super) fn lines(&mut self, lines: &[Line], place: Place, top: f64, size: f64, grey: f64) -> f64 {
        let mut y = top;
        for line in lines {
            let left = match place {
                Place::Left(x) => x,
                Place::Right(x) => x - line.width,
            };
            for run in &line.runs {
                self.marks.push(Mark::Text {
                    x: left + run.x,
                    y: y + baseline(size),
                    width: run.width,
                    size,
                    face: run.face,
                    grey,
                    text: run.text.clone(),
                    drawn: false,
                });
            }
            y += size * LEADING;
        }
        y
    }

    /// What is added next belongs to a part, up to [`Self::untag`].
    pub(super) fn tag(&mut self, node: &Rc<Node>) {
        self.marks.push(Mark::Tag(Some(Rc::clone(node))));
    }

    /// What is added next is decoration.
    pub(super) fn untag(&mut self) {
        self.marks.push(Mark::Tag(None));
    }

    /// Whether nothing is painted.
    pub(super) fn is_blank(&self) -> bool {
        self.marks.iter().all(|mark| matches!(mark, Mark::Tag(_)))
    }

    /// Adds a rule whose top is at `y`.
    pub(super) fn rule(&mut self, x: f64, y: f64, width: f64, thickness: f64, grey: f64) {
        self.marks.push(Mark::Block { x, y, width, height: thickness, grey });
    }

    /// Adds the marks of another piece, `dy` lower.
    pub(super) fn absorb(&mut self, other: Self, dy: f64) {
        self.marks.extend(other.marks.into_iter().map(|mark| mark.moved(dy)));
        self.entries.extend(other.entries.into_iter().map(|entry| Entry { y: entry.y + dy, ..entry }));
    }

    /// Cuts a piece that is taller than a page: what fits in `room`, and the rest, moved to its own top.
    ///
    /// Text and shapes go whole to one side; bars and frames are cut in two. Nothing on the first side means that
    /// no line fits.
    pub(super) fn cut(self, room: f64) -> (Self, Self) {
        let mut first = Self { height: 0.0, marks: Vec::new(), keep: Keep::No, entries: Vec::new(), ..self.clone() };
        let mut rest = Self {
            gap: 0.0,
            height: 0.0,
            marks: Vec::new(),
            keep: self.keep,
            new_page: false,
            last: self.last,
            entries: Vec::new(),
            header: self.header,
        };
        let whole = |mark: &Mark| !matches!(mark, Mark::Block { .. } | Mark::Frame { .. } | Mark::Tag(_));
        let mut edge: f64 = 0.0;
        let mut start = f64::INFINITY;
        for mark in self.marks.iter().filter(|mark| whole(mark)) {
            let (top, bottom) = mark.extent();
            if bottom <= room { edge = edge.max(bottom) } else { start = start.min(top) }
        }
        let start_found = start.is_finite();
        let start = if start_found { start } else { edge };
        for mark in self.marks {
            let (_, bottom) = mark.extent();
            match mark {
                Mark::Tag(tag) => {
                    first.marks.push(Mark::Tag(tag.clone()));
                    rest.marks.push(Mark::Tag(tag));
                }
                Mark::Text { .. } | Mark::Shape { .. } | Mark::Logo { .. } | Mark::Code { .. } => {
                    if bottom <= room {
                        first.marks.push(mark);
                    } else {
                        rest.marks.push(mark.moved(-start));
                    }
                }
                Mark::Block { x, y, width, height, grey } => {
                    if y < edge {
                        let height = height.min(edge - y);
                        first.marks.push(Mark::Block { x, y, width, height, grey });
                    }
                    if bottom > start {
                        let top = y.max(start);
                        rest.marks.push(Mark::Block { x, y: top - start, width, height: bottom - top, grey });
                    }
                }
                Mark::Frame { x, y, width, height, line } => {
                    if y < edge {
                        // Its line keeps its room below the last text; a bar ends with it.
                        let height = height.min(room - y);
                        first.marks.push(Mark::Frame { x, y, width, height, line });
                    }
                    if bottom > start {
                        let top = y.max(start);
                        rest.marks.push(Mark::Frame { x, y: top - start, width, height: bottom - top, line });
                    }
                }
            }
        }
        for entry in self.entries {
            if entry.y < edge {
                first.entries.push(entry);
            } else {
                rest.entries.push(Entry { y: entry.y - start, ..entry });
            }
        }
        // A rule or a bar alone is no reason for another page.
        if !start_found {
            rest.marks.clear();
        }
        first.height = room.min(self.height);
        rest.height = (self.height - start).max(0.0);
        (first, rest)
    }
}

/// Where lines stand.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    /// From this x.
    Left(f64),
    /// Up to this x.
    Right(f64),
}

/// From the top of a line to its baseline.
pub(super) fn baseline(size: f64) -> f64 {
    size * (ASCENT + (LEADING - ASCENT - DESCENT) / 2.0)
}

/// Height of so many lines.
pub(super) fn height(lines: &[Line], size: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of lines is far below 2^52")]
    let count = lines.len() as f64;
    count * size * LEADING
}
