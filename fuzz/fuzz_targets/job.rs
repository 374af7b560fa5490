//! Any bytes as a job file: refused with a place, or read and judged; never a panic.
#![no_main]

use dewpath_case::World;
use dewpath_engine::evaluate;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = dewpath_job::decode("fuzz.toml", bytes) else { return };
    match dewpath_job::read("fuzz.toml", text) {
        Ok(read) => {
            if let Ok(job) = read.resolve(&dewpath_job::model::Library::default()) {
                let _ = evaluate(&job, &World::default(), 4);
            }
        }
        Err(told) => {
            let _ = told.to_string();
        }
    }
});
