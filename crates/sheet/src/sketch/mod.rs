//! Sketches, all on the one drawing model of [`drawing`].

pub mod drawing;
