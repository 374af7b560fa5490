//! Instruction counts of the same rooms: repeatable on any machine, so that slower code is seen in a loaded build.
//!
//! Run with `cargo bench -p dewpath-moisture --bench instructions`; needs valgrind and the runner of the same version as
//! the `gungraun` dependency (`cargo install gungraun-runner`).

#![allow(missing_docs, unused_qualifications, reason = "the macros write such items")]
#![allow(clippy::exit, reason = "the macro ends the program")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use dewpath_moisture::room::Shower;
use dewpath_moisture::saturation::Saturation;
use gungraun::{library_benchmark, library_benchmark_group, main};

mod support;

/// A room with the table of saturation made before, as in the second and every later draw.
fn ready(day: support::Day) -> support::Day {
    black_box(Saturation::shared().pressure_pa(20.0));
    day
}

#[library_benchmark]
#[bench::bathroom(ready(support::design_shower(0.5)))]
fn design_shower(day: support::Day) -> (support::Day, Shower) {
    let shower = support::shower(black_box(&day));
    // Handed back, so that giving the memory free isn't counted.
    (day, shower)
}

library_benchmark_group!(name = rooms, benchmarks = [design_shower]);
main!(library_benchmark_groups = rooms);
