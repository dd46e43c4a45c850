//! Codes: what a test record qualifies, what a change of a variable means, and whether a procedure lies within.
//!
//! - [`qualify`]: from a test record the qualified range of every variable that its code names, as data ([`Qualified`]).
//! - [`combine`]: the ranges of several records as the code lets them stand together.
//! - [`compare`]: a procedure held against ranges; findings name the variable's number in the code.
//! - [`classify`]: whether a change of a key is essential, supplementary or nonessential.
//! - [`welders`]: what a welder's test covers, until when, and who of a shop may weld a procedure; [`in_shop`] are its checks.
//!
//! A code is a folder here that implements [`Code`] over the handbook's tables, and its line in [`CODES`]. Most of these
//! figures are remembered: each range carries its basis, and what is from memory says "verify against your edition".

pub(crate) mod api_1104;
mod asks;
mod asme_ix;
pub(crate) mod aws_d1_1;
mod aws_d1_2;
pub(crate) mod aws_d1_3;
mod aws_d1_6;
mod changed;
mod code;
mod combine;
pub mod compare;
pub mod in_shop;
mod iso_15614;
mod iso_15614_1;
mod iso_15614_2;
mod iso_9606;
mod iso_9606_1;
mod iso_9606_2;
mod list;
mod qualify;
mod range;
pub mod summary;
pub mod welders;
mod words;

pub use asks::{Item, iso_15609_1};
pub use changed::{Changed, Classified, Heats, Pair};
pub use code::{Code, FilletGap, LeastLeg, Preheat, Refusal, Weld};
pub use combine::{SetAside, combine, supporting};
pub use list::{CODES, classify, governing, named, of, title};
pub(crate) use qualify::thickness_contradiction;
pub use qualify::{Qualification, qualify};
pub use range::{Bounds, Effect, Qualified};
