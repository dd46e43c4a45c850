//! A starting procedure from a few facts: process, metal, thickness, joint, position.
//!
//! [`Facts::read`] reads what is known, [`draft`] writes a procedure as YAML in which the comment of each line names the
//! handbook table that the value comes from and its basis, or says what the writer must decide. No limit stands here: what
//! a draft chooses by stands in the tables of `handbook::planning`.
//!
//! - `facts.rs`: the facts and why some are refused
//! - `plan.rs`: filler, preparation, cross-section, runs
//! - `tungsten.rs`, `covered.rs`, `wire.rs`: the settings of each kind of process
//! - `heat.rs`: heat input, preheat, interpass temperature
//! - `page.rs`: lines of YAML with their comments; `write.rs`: the sections in their order
//!
//! To draft for another process: its rows in the tables, and the file of settings that it belongs to in `settings.rs`.

mod covered;
mod facts;
mod figures;
mod heat;
mod page;
mod plan;
mod settings;
mod tungsten;
mod wire;
mod write;

pub use facts::{Facts, Refused, Typed};

/// Writes a starting procedure as commented YAML.
///
/// The same facts give the same text. Refused where the handbook has nothing to begin with.
pub fn draft(facts: &Facts) -> Result<String, Refused> {
    let mut plan = plan::Plan::new(facts)?;
    let settings = settings::choose(facts, &plan)?;
    plan.grow(facts, settings.runs.first().and_then(|run| run.laid_mm2));
    Ok(write::procedure(facts, &plan, &settings))
}
