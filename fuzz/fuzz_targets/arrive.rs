//! Bytes as a sheet that somebody sent.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| seamwright_tests::arrives(bytes));
