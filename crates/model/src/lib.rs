//! The documents as types, quantities, and loading with places.

pub mod finding;
pub mod quantity;
