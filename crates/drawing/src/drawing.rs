//! The one drawing model: filled and stroked paths and text, in millimetres on paper, y downwards.
//!
//! Sketches build a [`Drawing`]; `svg.rs` writes it as SVG, and a PDF has it as page operators. Curves are cubic
//! Béziers, so that both back ends draw the very same line. Black on white: a fill is white, a grey tint or a
//! hatch, and no colour carries meaning.

use serde::Serialize;

/// A drawing in millimetres on paper, x to the right, y downwards, origin at the top left.
#[derive(Debug, Clone, Serialize)]
pub struct Drawing {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Painted in order.
    pub items: Vec<Item>,
}

/// Something painted.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "item", rename_all = "kebab-case")]
pub enum Item {
    /// A path.
    Path {
        /// The outline.
        segments: Vec<Segment>,
        /// How it is filled.
        fill: Fill,
        /// How it is stroked.
        stroke: Option<Stroke>,
    },
    /// A line of text.
    Text(Label),
}

/// One step of a path; points are (x, y) in mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "to", content = "at", rename_all = "kebab-case")]
pub enum Segment {
    /// Start a new contour.
    Move((f64, f64)),
    /// A straight line.
    Line((f64, f64)),
    /// A cubic Bézier: two control points and the end.
    Curve((f64, f64), (f64, f64), (f64, f64)),
    /// Close the contour.
    Close,
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fill {
    /// Not at all.
    None,
    /// White, which hides what lies under it.
    White,
    /// Grey: 0 is black, 1 is white.
    Grey(f64),
    /// Black.
    Black,
    /// Sloping hatch lines on white: metal in section. Spacing in mm.
    Hatch(f64),
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Stroke {
    /// Width, mm.
    pub width: f64,
    /// Dash and gap, mm; solid where absent.
    pub dash: Option<(f64, f64)>,
    /// Grey: 0 is black, 1 is white.
    pub grey: f64,
}

/// A line of text in a drawing.
#[derive(Debug, Clone, Serialize)]
pub struct Label {
    /// Where the anchor stands: baseline, mm.
    pub at: (f64, f64),
    /// The words.
    pub text: String,
    /// Size in points.
    pub size: f64,
    /// Which end of the text stands at `at`.
    pub anchor: Anchor,
    /// Bold type.
    pub bold: bool,
    /// A white ground under the text, so that lines do not run through it.
    pub ground: bool,
}

/// Which part of a text its place names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

/// The line weights of every sketch, mm.
pub mod weight {
    /// Outlines of metal and apparatus.
    pub const HEAVY: f64 = 0.5;
    /// Beads, symbols.
    pub const MEDIUM: f64 = 0.35;
    /// Dimension lines, leaders.
    pub const FINE: f64 = 0.2;
}

/// Plain lines of the usual weights.
pub(crate) mod line {
    use super::{Stroke, weight};

    /// Outlines.
    pub(crate) const HEAVY: Stroke = Stroke::solid(weight::HEAVY);
    /// What stands behind.
    pub(crate) const MEDIUM: Stroke = Stroke::solid(weight::MEDIUM);
    /// Dimensions and leaders.
    pub(crate) const FINE: Stroke = Stroke::solid(weight::FINE);
}

impl Stroke {
    /// A solid black line of the given width, mm.
    pub const fn solid(width: f64) -> Self {
        Self { width, dash: None, grey: 0.0 }
    }

    /// A dashed black line of the given width, mm.
    pub const fn dashed(width: f64) -> Self {
        Self { width, dash: Some((1.6, 1.0)), grey: 0.0 }
    }
}

impl Drawing {
    /// An empty drawing.
    pub const fn new(width: f64, height: f64) -> Self {
        Self { width, height, items: Vec::new() }
    }

    /// Adds a straight line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
        self.items.push(Item::Path {
            segments: vec![Segment::Move(from), Segment::Line(to)],
            fill: Fill::None,
            stroke: Some(stroke),
        });
    }

    /// Adds a closed polygon.
    pub fn polygon(&mut self, points: &[(f64, f64)], fill: Fill, stroke: Option<Stroke>) {
        let mut segments = Vec::with_capacity(points.len() + 1);
        for (index, &point) in points.iter().enumerate() {
            segments.push(if index == 0 { Segment::Move(point) } else { Segment::Line(point) });
        }
        segments.push(Segment::Close);
        self.items.push(Item::Path { segments, fill, stroke });
    }

    /// Adds a path.
    pub fn path(&mut self, segments: Vec<Segment>, fill: Fill, stroke: Option<Stroke>) {
        self.items.push(Item::Path { segments, fill, stroke });
    }

    /// Adds a line of text.
    pub fn text(&mut self, at: (f64, f64), text: impl Into<String>, size: f64, anchor: Anchor) {
        self.items.push(Item::Text(Label { at, text: text.into(), size, anchor, bold: false, ground: false }));
    }
}
