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

/// The checks that look at one condition and one choice at a time, by subject and by code.
const EACH: [&[&Rule]; 11] = [
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

/// Those, by name.
pub(crate) const OF_EACH: &[&Rule] = &by_name::<{ count(&EACH) }>(&EACH);

/// Those and the checks that look at all conditions together.
const ALL: [&[&Rule]; 2] = [OF_EACH, document::OF_CONDITIONS];

/// Every check, by name.
pub const RULES: &[&Rule] = &by_name::<{ count(&ALL) }>(&ALL);

/// How many checks stand in lists.
const fn count(lists: &[&[&Rule]]) -> usize {
    let (mut count, mut list) = (0, 0);
    while list < lists.len() {
        count += lists[list].len();
        list += 1;
    }
    count
}

/// The checks of all lists, each set in at its place by name.
const fn by_name<const COUNT: usize>(lists: &[&[&'static Rule]]) -> [&'static Rule; COUNT] {
    let mut all = [lists[0][0]; COUNT];
    let (mut count, mut list) = (0, 0);
    while list < lists.len() {
        let mut next = 0;
        while next < lists[list].len() {
            let mut place = count;
            while place > 0 && before(lists[list][next].name, all[place - 1].name) {
                all[place] = all[place - 1];
                place -= 1;
            }
            all[place] = lists[list][next];
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
