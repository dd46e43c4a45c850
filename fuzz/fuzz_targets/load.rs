//! Bytes as a document: loaded, or refused at a place in them.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    seamwright_tests::loads(bytes);
});
