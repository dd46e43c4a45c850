//! The version that a sheet names.
//!
//! It depends on no other crate and is built again whenever one of those changes that a sheet comes from; `tree.rs`, which
//! the build runs, says which files count.

/// The version of the program, and a digest of everything that the bytes of a sheet come from: `0.1.0+3f2a9c01d4e5`.
///
/// Two builds with the same version make the same bytes of the same documents; another version says nothing of them.
pub const VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), "+", env!("SHEET_DIGEST"));
