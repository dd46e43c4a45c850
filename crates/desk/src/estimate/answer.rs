//! What the procedures use.

use seamwright_estimate::Estimate;
use seamwright_model::shop::Shop;

use crate::report::Report;

/// What the procedures use.
pub struct EstimateAnswer {
    /// The procedures that have an estimate.
    pub done: Vec<Estimated>,
    /// The shop.
    pub shop: Option<Box<Shop>>,
    /// Why others have none, in their order.
    pub failed: Vec<Failed>,
}

/// One procedure with its estimate.
pub struct Estimated {
    /// File name.
    pub file: String,
    /// Number of the procedure.
    pub number: String,
    /// Title of the procedure.
    pub title: String,
    /// What it uses.
    pub estimate: Estimate,
}

/// A file without an estimate.
pub enum Failed {
    /// It cannot be read.
    Unread(Box<Report>),
    /// It has none, in words.
    Without(String),
}
