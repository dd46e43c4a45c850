//! A PDF that arrives: the sources in it as other readers would find them, and where it differs from the sheet that its
//! source gives.
//!
//! - `carried`: the sources in it; `differs`: the first difference, by what the others find
//! - `pages`: its pages and what they draw, `letters`: in words; `entries`: all else that is seen of a page, and what opening
//!   it does; `said`: its words beside the pages
//! - `printed`: an entry written out, so that it can be compared; `signature`: what signing adds

mod carried;
mod differs;
mod entries;
mod letters;
mod pages;
mod printed;
mod said;
mod signature;

pub use carried::read;
pub use differs::difference;

/// Most bytes of the contents of a page.
const CONTENTS: usize = 8 * 1024 * 1024;

/// What stands for a stream that is packed otherwise than sheets are: what it says cannot be told, and it is none of ours.
const OTHERWISE: &[u8] = b"packed otherwise";
