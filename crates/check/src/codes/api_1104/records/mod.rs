//! API 1104: checks of test records that hold under this code alone, one file each.

pub(crate) mod indication_above_range;
