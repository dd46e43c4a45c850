//! The checks of a procedure, one file each, by subject. To add one: copy a neighbour, and add its module and its line in the
//! `mod.rs` of its subject.
//!
//! What checks of several subjects share stands in `bounds` (a value beside its limits), `contents` (what ISO 15609-1 asks for)
//! and `positions`; what those of one subject share, in its folder. The checks that hold under one code alone stand with it.

use crate::codes::{aws_d1_1, aws_d1_3};
use crate::rule::Rule;

pub(crate) mod arc;
pub(crate) mod bounds;
mod contents;
pub mod document;
pub(crate) mod electrode;
pub(crate) mod gas;
pub mod heat;
pub mod joint;
pub mod metal;
pub(crate) mod positions;
pub(crate) mod tungsten;
pub(crate) mod wire;

/// The lists of the subjects and of the codes.
const LISTS: &[&[&Rule]] = &[
    arc::RULES,
    document::RULES,
    electrode::RULES,
    gas::RULES,
    heat::RULES,
    joint::RULES,
    metal::RULES,
    tungsten::RULES,
    wire::RULES,
    aws_d1_1::rules::RULES,
    aws_d1_3::rules::RULES,
];

/// Every check, by name.
pub const RULES: &[&Rule] = &by_name();

/// How many checks there are.
const COUNT: usize = {
    let (mut count, mut list) = (0, 0);
    while list < LISTS.len() {
        count += LISTS[list].len();
        list += 1;
    }
    count
};

/// The checks of all lists, each set in at its place by name.
const fn by_name() -> [&'static Rule; COUNT] {
    let mut all = [LISTS[0][0]; COUNT];
    let (mut count, mut list) = (0, 0);
    while list < LISTS.len() {
        let mut next = 0;
        while next < LISTS[list].len() {
            let mut place = count;
            while place > 0 && before(LISTS[list][next].name, all[place - 1].name) {
                all[place] = all[place - 1];
                place -= 1;
            }
            all[place] = LISTS[list][next];
            count += 1;
            next += 1;
        }
        list += 1;
    }
    all
}

/// Whether a name comes before another one.
const fn before(name: &str, other: &str) -> bool {
    let (name, other) = (name.as_bytes(), other.as_bytes());
    let mut at = 0;
    while at < name.len() && at < other.len() {
        if name[at] != other[at] {
            return name[at] < other[at];
        }
        at += 1;
    }
    name.len() < other.len()
}
