//! Renews what tests hold results against.

use anyhow::Result;

use crate::tools::{cargo, done};

/// Each package and its test that writes what it expects when `BLESS` is set.
const TESTS: [(&str, &str); 4] = [
    ("seamwright-check", "coverage"),
    ("seamwright-tests", "golden"),
    ("seamwright-desk", "reference"),
    ("seamwright-desk", "pictures"),
];

/// Runs the tests of [`TESTS`] so that they write what they find.
pub(crate) fn run() -> Result<()> {
    for (package, test) in TESTS {
        done(cargo().env("BLESS", "1").args(["test", "--quiet", "--package", package, "--test", test]))?;
    }
    println!("renewed; `git diff` shows what changed");
    Ok(())
}
