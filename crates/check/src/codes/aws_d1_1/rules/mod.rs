//! AWS D1.1: checks that hold under this code alone, one file each; `prequalified` is what those of Table 5.1 share.

pub(crate) mod electrode_exposure_too_long;
mod prequalified;
pub(crate) mod prequalified_current_too_high;
pub(crate) mod prequalified_detail_contradicted;
pub(crate) mod prequalified_detail_unknown;
pub(crate) mod prequalified_electrode_too_large;
pub(crate) mod prequalified_filler_not_matching;
pub(crate) mod prequalified_fillet_pass_too_large;
pub(crate) mod prequalified_groove_unlisted;
pub(crate) mod prequalified_metal_unlisted;
pub(crate) mod prequalified_run_too_thick;
