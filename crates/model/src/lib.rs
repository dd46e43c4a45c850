//! The documents as types, quantities, and loading with places. Knows no limit and no rule.
//!
//! - [`quantity`]: one type per physical quantity; text with a unit in, exact numbers inside.
//! - [`procedure`]: the welding procedure in the order of ISO 15609-1.
//! - [`test_record`], [`shop`], [`lesson`]: the other kinds of document; [`price`] is what a shop pays.
//! - [`load`](mod@load): text to a [`Loaded`] document, or every error of the file with its place.
//! - [`edit`](mod@edit): changes a value in the author's text, comments and order kept.
//! - [`trade`]: words of the trade that are taken for words of the format.
//! - [`variants`]: a procedure that leaves a choice as the procedures of which each holds for one.
//! - [`finding`]: what a check reports.

pub mod allowance;
pub mod capital;
pub mod document;
pub mod edit;
pub mod finding;
mod format;
pub mod issue;
pub mod job;
pub mod lesson;
pub mod load;
pub mod price;
pub mod procedure;
pub mod quantity;
pub mod shop;
pub mod source;
pub mod stated;
pub mod test_record;
pub mod trade;
pub mod variants;
mod words;

pub use document::Document;
pub use load::{Fault, Loaded, Reading, load, read};
