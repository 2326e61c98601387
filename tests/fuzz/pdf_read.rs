//! Any bytes come in as a PDF: they give a document or an error, and neither a panic nor endless work.
//!
//! Panics on a page are caught by the room, but the fuzzer's own hook sees them first and stops.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(document) = ligule::pdf::read(bytes.to_vec(), &|_, _| {}) {
        let setting = ligule::layout::set(&document, &|_| false);
        assert_eq!(setting.pages.len(), document.pages.len());
    }
});
