//! Wall-clock benches of `evaluate`, from a job already read to its report.
//!
//! Run with `cargo bench -p dewpath-engine --bench evaluate`. Targets on one core: nominal 1 ms, 1,024 draws 15 ms,
//! 4,096 draws 60 ms, select over 500 fans with 256 draws 60 ms.

#![allow(missing_docs, reason = "criterion's macros make undocumented items")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use dewpath_engine::{SELECT_DRAWS, evaluate};

mod support;

use support::{Case, MANY_FANS};

fn benches(criterion: &mut Criterion) {
    // The dearest single step of a duct's loss: how far a solve is from what it cannot go below.
    criterion.bench_function("one logarithm", |bencher| {
        bencher.iter(|| libm::log(black_box(0.0123)));
    });
    let jobs = [
        ("hall-bath", support::hall_bath as fn() -> Case),
        ("two-baths-inline", support::two_baths_inline),
    ];
    for (name, job) in jobs {
        let mut group = criterion.benchmark_group(name);
        // Long ones: fewer samples, or a loaded machine waits for minutes.
        group.sample_size(20);
        let mut measure = |what: &str, case: &Case, draws: u32| {
            group.bench_function(what, |bencher| {
                bencher.iter(|| evaluate(black_box(&case.job), black_box(&case.world), draws));
            });
        };
        let case = job();
        measure("nominal", &case, 0);
        measure("1024 draws", &case, 1024);
        measure("4096 draws", &case, 4096);
        // What choosing costs is the difference of the last two of these.
        measure("1024 draws, no library", &job().without_library(), 1024);
        measure("256 draws, no library", &job().without_library(), SELECT_DRAWS);
        let many = format!("256 draws, {MANY_FANS} fans");
        measure(&many, &checked(job().with_many_fans()), SELECT_DRAWS);
        group.finish();
    }
}

/// Placement, search and up to five ways judged at 256 draws: what they cost is the job with its ways out less the same without.
fn ways(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("ways outdoors, hall-bath");
    group.sample_size(20);
    let with = support::hall_bath().without_library();
    let mut without = support::hall_bath().without_library();
    without.job.ways_out.clear();
    without.job.framing.clear();
    for (what, case) in [("with geometry", with), ("without", without)] {
        group.bench_function(what, |bencher| {
            bencher.iter(|| evaluate(black_box(&case.job), black_box(&case.world), SELECT_DRAWS));
        });
    }
    group.finish();
}

/// Stops if the fans of the library are not all judged: the figure would then be of less work than it says.
fn checked(case: Case) -> Case {
    let report = evaluate(&case.job, &case.world, 16);
    assert_eq!(report.candidates.len(), MANY_FANS, "every fan is a candidate");
    case
}

criterion_group!(evaluation, benches, ways);
criterion_main!(evaluation);
