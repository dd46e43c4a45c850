//! The kinds of sheet: a document as blocks. What becomes of these is in `page`.

pub mod kinds;
