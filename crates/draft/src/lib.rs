//! A starting procedure from a few facts: process, metal, thickness, joint, position.
//!
//! [`Facts::read`] reads what is known, [`draft`] writes a procedure as YAML in which the comment of each line names the
//! handbook table that the value comes from and its basis, or says what the writer must decide; [`draft_in_shop`] does so
//! with what a shop has. No limit stands here: what a draft chooses by stands in the tables of `handbook::planning`.
//!
//! - `facts.rs`: the facts, read in `facts/read.rs`; `refused.rs`: why there is no draft; `no_draft.rs`: refusals of facts that were read;
//!   `alternatives.rs`: what gives one instead
//! - `draft.rs`: a page written, held against the checks and moved until it passes
//! - `answers.rs`: the facts as questions; `sizes.rs`, `trade.rs`: gauges, schedules and words of the trade; `units.rs`: a page in inches
//! - `begin.rs`: the line of published settings that a run begins with; `lesson.rs`, `documents.rs`, `record.rs`: drafts of lessons, shops and test records
//! - `plan.rs`: filler, gas, mode of transfer; `joint.rs`: edges and cross-section; `layers.rs`: runs
//! - `tungsten.rs`, `covered.rs`, `wire.rs`: the settings of each kind of process
//! - `preheat.rs`: preheat and interpass temperature of the metal; `heat.rs`: the temperatures of the page; `cooling.rs`: settings held to the heat that a metal needs
//! - `hold.rs`: settings moved to where the checks hold them
//! - `bench.rs`: a machine of a shop and its shelf; `machine.rs`: settings held to it; `shop.rs`: drafts with what a shop has
//! - `rate.rs`: weld metal in a minute; `figures.rs`: figures of rules, rounded
//! - `page.rs`: lines of YAML with their comments; `write.rs`: the sections in their order
//!
//! ```
//! use seamwright_draft::{Facts, Typed, draft};
//!
//! let [process, metal, thickness, joint, position] = ["135", "S235JR", "4 mm", "tee", "PB"].map(str::to_owned);
//! let typed = Typed { process, metal, thickness, joint, position, ..Typed::default() };
//! let page = draft(&Facts::read(&typed)?)?;
//! assert!(page.contains("document: procedure"));
//! # Ok::<(), seamwright_draft::Refused>(())
//! ```
//!
//! To draft for another process: its rows in the tables, and the file of settings that it belongs to, chosen in `draft.rs`.

mod alternatives;
mod answers;
mod begin;
mod bench;
mod cooling;
mod covered;
mod documents;
mod draft;
mod facts;
mod figures;
mod heat;
mod hold;
mod joint;
mod layers;
mod lesson;
mod machine;
mod no_draft;
mod page;
mod plan;
mod preheat;
mod rate;
mod record;
mod refused;
mod settings;
mod shop;
mod sizes;
mod trade;
mod tungsten;
mod units;
mod wire;
mod write;

pub use answers::Question;
pub use documents::{ShopAnswers, shop_file};
pub use draft::draft;
pub use facts::{Choices, Facts, Typed};
pub use lesson::lesson;
pub use record::record;
pub use refused::Refused;
pub use shop::draft_in_shop;
pub use sizes::thickness;
