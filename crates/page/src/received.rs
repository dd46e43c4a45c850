//! A sheet that arrives from anyone, read under bounds of memory and time: the sources in it, and where it differs from the
//! sheet that its source gives.
//!
//! Only a sheet that is equal byte for byte is proved; what stands here puts into words why another is not. Nothing here
//! follows a file's own structure without end: `objects` finds the objects of a PDF and `parser` reads one, `contents` and
//! `drawn` what its pages draw, `markup` is a page in one spelling, `pdf` and `page` say what was found.

mod arrival;
mod budget;
mod bytes;
mod contents;
mod drawn;
mod markup;
mod object;
mod objects;
mod page;
mod parser;
mod pdf;

pub use arrival::{Arrival, Candidate, Difference, Unreadable};
pub use page::{difference as page_difference, read as read_page};
pub use pdf::{difference as pdf_difference, read as read_pdf};
