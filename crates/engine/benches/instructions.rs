//! Instruction counts of whole evaluations: repeatable on any machine, so that slower code is seen in a loaded build.
//!
//! Run with `cargo bench -p dewpath-engine --bench instructions`; needs valgrind and the runner of the same version as
//! the `gungraun` dependency (`cargo install gungraun-runner`). `cargo xtask test instructions` holds the counts
//! against a committed list.

#![allow(missing_docs, unused_qualifications, reason = "the macros write such items")]
#![allow(clippy::exit, reason = "the macro ends the program")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use dewpath_engine::evaluate;
use dewpath_report::Report;
use gungraun::{library_benchmark, library_benchmark_group, main};

mod support;

use support::Case;

// Case and report are handed back, so that giving their memory free is not counted.

#[library_benchmark]
#[bench::hall_bath(support::hall_bath().without_library())]
#[bench::two_baths_inline(support::two_baths_inline().without_library())]
fn nominal(case: Case) -> (Report, Case) {
    (evaluate(black_box(&case.job), black_box(&case.world), 0), case)
}

#[library_benchmark]
#[bench::hall_bath(support::hall_bath().without_library())]
#[bench::two_baths_inline(support::two_baths_inline().without_library())]
fn draws_64(case: Case) -> (Report, Case) {
    (evaluate(black_box(&case.job), black_box(&case.world), 64), case)
}

#[library_benchmark]
#[bench::hall_bath(support::hall_bath())]
fn draws_64_with_library(case: Case) -> (Report, Case) {
    (evaluate(black_box(&case.job), black_box(&case.world), 64), case)
}

library_benchmark_group!(
    name = evaluation,
    benchmarks = [nominal, draws_64, draws_64_with_library]
);
main!(library_benchmark_groups = evaluation);
