//! What the checks of low-hydrogen electrodes share: those of a procedure under the code.

use seamwright_handbook::aws_d1_1::{self, ExposureRow};
use seamwright_model::procedure::{Filler, Procedure};

use super::prequalified::under_code;

/// The low-hydrogen electrodes of a procedure under AWS D1.1, by their names, each with its row; none under another code.
pub(super) fn electrodes(procedure: &Procedure) -> impl Iterator<Item = (&str, &Filler, &'static ExposureRow)> {
    let fillers = procedure.fillers.iter().filter(|_| under_code(procedure));
    fillers.filter_map(|(name, filler)| Some((name, filler, aws_d1_1::exposure(&filler.designation)?)))
}

/// A butt of A36 under AWS D1.1 with this electrode and what is said of it under a key.
macro_rules! electrode {
    ($class:literal, $key:literal, $text:literal) => {
        $crate::rule::Case {
            base: "butt-3-8-in-a36-111-3g",
            edits: &[("/fillers/electrode/designation", $class), (concat!("/fillers/electrode/", $key), $text)],
        }
    };
}
pub(super) use electrode;
