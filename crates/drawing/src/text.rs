//! How much room a text takes: widths from the font that every sheet is set in.

use crate::drawing::{Anchor, Label};
use crate::face::{ASCENT, DESCENT, text_width};
use crate::no_break::held;

/// Millimetres in a point.
pub(crate) const POINT: f64 = 25.4 / 72.0;

/// The least type of print and a little that a drawing may shrink, pt.
pub const LEGIBLE: f64 = 6.9;

/// The size of a lesser label beside letters of `size`: a share of it, but no smaller than can be read where those can.
pub(crate) fn lesser(size: f64, share: f64) -> f64 {
    (size * share).max(size.min(LEGIBLE))
}

/// From one baseline to the next, in em.
pub(crate) const LEADING: f64 = 1.18;

/// How far under the middle of a line of capitals and figures its baseline lies, mm.
pub(crate) fn cap_middle(size: f64) -> f64 {
    0.365 * size * POINT
}

/// Width of a text of `size` points, mm.
pub(crate) fn width(text: &str, size: f64, bold: bool) -> f64 {
    text_width(text, bold) * size * POINT
}

/// The lines of a text that is broken at spaces to be no wider than `room` mm where its words allow it; a no-break
/// space holds its words together, and a number keeps its unit.
pub(crate) fn wrap(text: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in held(text).split([' ', '\t', '\n', '\r']).filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if width(line, size, bold) + width(" ", size, bold) + width(word, size, bold) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.into_iter().map(|line| line.replace('\u{a0}', " ")).collect()
}

/// A rectangle on paper, mm, y downwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
}

impl Rect {
    /// Width, mm.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height, mm.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// The rectangle that holds both.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Larger by `by` mm on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// The same at another scale, from the origin.
    pub(crate) fn scaled(&self, by: f64) -> Self {
        Self { left: self.left * by, top: self.top * by, right: self.right * by, bottom: self.bottom * by }
    }

    /// Whether it leaves another nowhere.
    pub(crate) fn is_in(&self, other: &Self) -> bool {
        self.union(other) == *other
    }

    /// Whether the two share any area.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    /// Whether the straight line between two points enters the rectangle.
    pub fn is_crossed_by(&self, from: (f64, f64), to: (f64, f64)) -> bool {
        // A label is tried in many places against every line of a drawing, of which few come near.
        let apart = from.0.max(to.0) <= self.left
            || from.0.min(to.0) >= self.right
            || from.1.max(to.1) <= self.top
            || from.1.min(to.1) >= self.bottom;
        if apart {
            return false;
        }
        let mut enter = 0.0_f64;
        let mut leave = 1.0_f64;
        for (start, step, low, high) in
            [(from.0, to.0 - from.0, self.left, self.right), (from.1, to.1 - from.1, self.top, self.bottom)]
        {
            if step.abs() < 1e-12 {
                if start <= low || start >= high {
                    return false;
                }
            } else {
                let (a, b) = ((low - start) / step, (high - start) / step);
                enter = enter.max(a.min(b));
                leave = leave.min(a.max(b));
            }
        }
        enter < leave
    }
}

/// The rectangle that a label takes on paper, mm.
pub fn text_box(label: &Label) -> Rect {
    let width = width(&label.text, label.size, label.bold);
    let left = match label.anchor {
        Anchor::Start => label.at.0,
        Anchor::Middle => label.at.0 - width / 2.0,
        Anchor::End => label.at.0 - width,
    };
    let em = label.size * POINT;
    Rect { left, top: label.at.1 - ASCENT * em, right: left + width, bottom: label.at.1 + DESCENT * em }
}

/// The part of a label's rectangle that letters cover, mm: no more than the baseline where none reaches lower.
pub(crate) fn ink(label: &Label) -> Rect {
    let mut ink = text_box(label).grown(-0.1);
    if !label.text.chars().any(|c| "gjpqyQ,;()/[]{}|°".contains(c)) {
        ink.bottom -= DESCENT * label.size * POINT;
    }
    ink
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The upright face sets a digit 1303 of 2048 units wide, and the condensed one is nine tenths of it (from memory).
    #[test]
    fn digits_have_the_width_of_the_font() {
        let em = width("0000000000", 72.0, false) / 25.4;
        assert!((em / 10.0 - 0.5727).abs() < 0.001, "{em}");
        assert!(width("0", 10.0, true) > width("0", 10.0, false));
    }

    #[test]
    fn wrapping_keeps_every_word_and_the_room() {
        let lines = wrap("straight to the torch valve, opened by hand", 8.0, false, 20.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|line| width(line, 8.0, false) <= 20.0));
        assert_eq!(lines.join(" "), "straight to the torch valve, opened by hand");
        assert_eq!(wrap("60.3 mm (2 3/8 in)", 8.0, false, 14.0), ["60.3 mm", "(2 3/8 in)"]);
    }

    #[test]
    fn a_line_beside_a_box_does_not_cross_it() {
        let at = Rect { left: 0.0, top: 0.0, right: 2.0, bottom: 1.0 };
        assert!(at.is_crossed_by((-1.0, 0.5), (3.0, 0.5)));
        assert!(at.is_crossed_by((1.0, 0.5), (1.1, 0.6)));
        assert!(!at.is_crossed_by((-1.0, 1.5), (3.0, 1.5)));
        assert!(!at.is_crossed_by((2.0, -1.0), (2.0, 3.0)));
    }
}
