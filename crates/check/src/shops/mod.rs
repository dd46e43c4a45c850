//! The checks of shops, and of procedures held against a shop, one file each, and the lists of them. To add one: copy a
//! neighbour, and add its module and its line.

use seamwright_model::shop::Shop;

use crate::rule::Rule;
use crate::subject::InShop;

mod rated_point_outside_current;

/// Every check of a shop, by name.
pub const RULES: &[&Rule<Shop>] = &[&rated_point_outside_current::RULE];

/// Every check of a procedure in a shop, by name.
pub const FITNESS: &[&Rule<InShop>] = &[];
