//! A job worked out, as values.

use seamwright_estimate::Estimate;
use seamwright_model::finding::Severity;
use seamwright_sheet::kinds::JobSheets;

/// What stands against a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// JSON pointer of the joint, or of what it names.
    pub pointer: String,
    /// How grave it is.
    pub severity: Severity,
    /// What was found.
    pub message: String,
    /// Number of a procedure that covers the joint, where the one named does not or none is.
    pub covered_by: Option<String>,
}

/// A job worked out.
#[derive(Debug)]
pub struct Worked {
    /// What each joint uses and costs, where that can be told.
    pub estimates: Vec<Option<Estimate>>,
    /// What stands against it.
    pub against: Vec<Against>,
    /// What its papers print.
    pub papers: JobSheets,
}
