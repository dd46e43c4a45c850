//! Bytes as a document, all the way to one of its sheets in both formats and back.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| seamwright_tests::document_as_one_sheet(bytes));
