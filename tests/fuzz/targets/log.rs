//! Any bytes, read as a log.
#![no_main]

#[allow(dead_code)]
#[path = "../../support/readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let _ = readers::log(bytes);
});
