//! Text as every quantity.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| seamwright_tests::quantities(text));
