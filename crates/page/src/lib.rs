//! Sheets as blocks with their drawings, as HTML and PDF; what a sheet is of is not known here.
//!
//! - [`block`]: a sheet as blocks; [`words`]: its words and languages; [`kind`], [`options`]: what may be chosen
//! - [`html`], [`pdf`]: the back ends; [`house`], [`logo`]: a shop's name block
//! - [`attached`], [`made_with`]: what a sheet carries; [`received`]: a sheet read again; [`lately`]: what was made lately

pub mod attached;
pub mod block;
pub mod house;
pub mod html;
pub mod kind;
mod language;
pub mod lately;
pub mod logo;
pub mod made_with;
pub mod options;
mod paper;
pub mod pdf;
pub mod qr;
pub mod received;
mod refused;
pub mod words;

pub use kind::Kind;
pub use options::SheetOptions;
