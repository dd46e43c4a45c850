//! Drawings that were made lately. A sheet beside a form is made again at each key, and its drawings seldom change with it.

use std::collections::VecDeque;
use std::fmt::{Debug, Write as _};
use std::sync::{Mutex, PoisonError};

use super::drawing::Drawing;

/// Most drawings of one kind that are kept: the oldest goes first.
const MOST: usize = 16;

/// Drawings of one kind, by all that they are made of.
pub(super) struct Lately(Mutex<VecDeque<(String, Drawing)>>);

impl Lately {
    /// None yet.
    pub(super) const fn new() -> Self {
        Self(Mutex::new(VecDeque::new()))
    }

    /// The drawing of a sketch: made where no equal sketch was drawn lately.
    pub(super) fn of<S: Debug>(&self, sketch: &S, draw: impl FnOnce(&S) -> Drawing) -> Drawing {
        // Written out, sketches are equal only where they are so to the last bit.
        let mut key = String::new();
        let _ = write!(key, "{sketch:?}");
        let all = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, drawing)) = all().iter().find(|(own, _)| *own == key) {
            return drawing.clone();
        }
        let drawing = draw(sketch);
        let mut all = all();
        if all.len() >= MOST {
            all.pop_front();
        }
        all.push_back((key, drawing.clone()));
        drawing
    }
}
