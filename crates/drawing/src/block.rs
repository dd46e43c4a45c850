//! Lines of text as one block, which is set as a whole.

use crate::face::{ASCENT, DESCENT};
use crate::point::Point;
use crate::text::{LEADING, POINT, Rect, width, wrap};

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
