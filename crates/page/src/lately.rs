//! Parts of sheets that were made lately. A sheet beside a form is made again at each key, and its drawings seldom change
//! with it; the documents of one shop use nearly the same letters. Who makes sheets keeps one value of these and passes it on.

use std::any::TypeId;
use std::collections::{HashMap, VecDeque};
use std::fmt::{Debug, Write as _};
use std::sync::{Arc, Mutex, PoisonError};

use seamwright_drawing::{Drawing, Drawn};

use crate::pdf::Faces;

/// Most drawings of one kind that are kept: the oldest goes first.
const MOST: usize = 16;

/// What was made lately, from any thread; a clone is the same store.
#[derive(Debug, Clone, Default)]
pub struct Lately(Arc<Parts>);

#[derive(Debug, Default)]
struct Parts {
    /// Drawings by what draws them, each with all that it is made of.
    drawings: Mutex<HashMap<TypeId, VecDeque<(String, Drawn)>>>,
    faces: Faces,
}

impl Lately {
    /// The drawing of a sketch: made where no equal sketch was drawn lately. `draw` is a function by its name.
    pub fn drawing<S: Debug, F: Fn(&S) -> Drawing + 'static>(&self, draw: F, sketch: &S) -> Drawn {
        const { assert!(size_of::<F>() == 0, "what else it is made of would be forgotten") };
        // Written out, sketches are equal only where they are so to the last bit.
        let mut key = String::new();
        let _ = write!(key, "{sketch:?}");
        let all = || self.0.drawings.lock().unwrap_or_else(PoisonError::into_inner);
        let own = TypeId::of::<F>();
        if let Some((_, drawing)) = all().get(&own).and_then(|all| all.iter().find(|(own, _)| *own == key)) {
            return drawing.clone();
        }
        let drawing = Drawn::from(draw(sketch));
        let mut all = all();
        let all = all.entry(own).or_default();
        if all.len() >= MOST {
            all.pop_front();
        }
        all.push_back((key, drawing.clone()));
        drawing
    }

    /// Faces as they stand in files.
    pub(crate) fn faces(&self) -> &Faces {
        &self.0.faces
    }
}
