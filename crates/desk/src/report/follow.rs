//! What follows from a document and what stands beside it.

use seamwright_check::kit::Kit;

use super::machine::Machine;

/// What follows from a document and what stands beside it.
#[derive(Default)]
pub struct Follow {
    /// The best machine for each process of a procedure.
    pub machines: Vec<Machine>,
    /// The kit of a lesson.
    pub kit: Option<Kit>,
}
