//! Bytes as a document, loaded and checked.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Some(loaded) = seamwright_tests::loads(bytes) {
        seamwright_tests::checks(&loaded);
    }
});
