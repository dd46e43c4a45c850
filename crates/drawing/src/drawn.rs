//! A drawing that is kept: whoever asks for it again gets the same, and what was written of it.

use std::ops::Deref;
use std::sync::{Arc, OnceLock};

use serde::{Serialize, Serializer};

use crate::drawing::Drawing;
use crate::svg::{self, Unsound};

/// A drawing that is drawn once; a clone is the same drawing.
#[derive(Debug, Clone)]
pub struct Drawn(Arc<Kept>);

#[derive(Debug)]
struct Kept {
    drawing: Drawing,
    svg: OnceLock<Written>,
}

/// An SVG element with what it was asked for with.
#[derive(Debug)]
struct Written {
    with: [String; 3],
    svg: String,
}

impl Drawn {
    /// As [`svg::svg`] writes it: the first that was asked for is kept, since a sheet beside a form asks for it at each key.
    pub fn svg(&self, prefix: &str, title: &str, alt: &str) -> Result<String, Unsound> {
        let with = [prefix, title, alt];
        if let Some(written) = self.0.svg.get().filter(|written| written.with == with) {
            return Ok(written.svg.clone());
        }
        let svg = svg::svg(self, prefix, title, alt)?;
        let _ = self.0.svg.set(Written { with: with.map(str::to_owned), svg: svg.clone() });
        Ok(svg)
    }
}

impl From<Drawing> for Drawn {
    fn from(drawing: Drawing) -> Self {
        Self(Arc::new(Kept { drawing, svg: OnceLock::new() }))
    }
}

impl Deref for Drawn {
    type Target = Drawing;

    fn deref(&self) -> &Drawing {
        &self.0.drawing
    }
}

impl Serialize for Drawn {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.drawing.serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Stroke;

    #[test]
    fn what_is_kept_is_what_would_be_written() {
        let mut drawing = Drawing { width: 10.0, height: 10.0, items: Vec::new() };
        drawing.line((1.0, 1.0), (9.0, 9.0), Stroke::solid(0.2));
        let drawn = Drawn::from(drawing.clone());
        for with in
            [["d1", "Joint", "a line"], ["d1", "Joint", "a line"], ["d2", "Joint", "a line"], ["d1", "Runs", "x"]]
        {
            let [prefix, title, alt] = with;
            assert_eq!(drawn.svg(prefix, title, alt), svg::svg(&drawing, prefix, title, alt), "{with:?}");
        }
    }
}
