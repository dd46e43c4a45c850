//! A document: its form, what is found in it, its sheet, saved and not saved.
//!
//! - `standing.rs`: what stands on its page; `typing.rs`: what is typed into it; `sheet.rs`: the sheet beside it;
//!   `saving.rs`: what is kept of it.

mod saving;
mod sheet;
mod standing;
mod typing;

pub use saving::{discard, save, version, versions};
pub use sheet::{frame, no_sheet, pdf, printed, sheet_of, sheet_page};
pub use standing::{page, standing, state};
pub use typing::{below, choices, edit};
