//! AWS D1.3: checks that hold under this code alone, one file each.

pub(crate) mod arc_spot_outside_code;
