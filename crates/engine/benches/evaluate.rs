//! Wall-clock benches of `evaluate`, from a job already read to its report.
//!
//! Run with `cargo bench -p dewpath-engine --bench evaluate`. Targets on one core: nominal 1 ms, 1,024 draws 15 ms,
//! 4,096 draws 60 ms, select over 500 fans with 256 draws 60 ms.

#![allow(missing_docs, reason = "criterion's macros make undocumented items")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use dewpath_engine::evaluate;
use dewpath_propose::drag::Drag;
use dewpath_propose::select::SELECT_DRAWS;

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

/// Placement, search and up to five ways judged at 256 draws: what they cost is the job with its geometry less the same without.
/// Target: 150 ms for five ways on a floor of 40 ft x 30 ft with 30 members and 20 obstacles.
fn ways(criterion: &mut Criterion) {
    let jobs = [
        ("ways outdoors, hall-bath", support::hall_bath as fn() -> Case, 1),
        ("ways outdoors, wide attic", support::wide_attic, 5),
    ];
    for (name, job, ways) in jobs {
        let mut group = criterion.benchmark_group(name);
        group.sample_size(20);
        let (with, mut without) = (job(), job());
        without.job.ways_out.clear();
        without.job.framing.clear();
        let found = evaluate(&with.job, &with.world, 16).routes.len();
        assert_eq!(found, ways, "as many ways are judged as it says");
        for (what, case) in [("with geometry", with), ("without", without)] {
            group.bench_function(what, |bencher| {
                bencher
                    .iter(|| evaluate(black_box(&case.job), black_box(&case.world), SELECT_DRAWS));
            });
        }
        group.finish();
    }
}

/// A step of a hand that moves a housing: its place, the way outdoors from there and what that gives.
fn hand(criterion: &mut Criterion) {
    for (name, job) in
        [("hall-bath", support::hall_bath as fn() -> Case), ("wide attic", support::wide_attic)]
    {
        let Case { job, world } = job();
        let report = evaluate(&job, &world, 0);
        let first = report.routes.first().expect("a way outdoors");
        let place = report.placements.first().expect("a place");
        let hand = Drag::new(&job, &world, &first.fan, Some(&first.way_out), Some(&first.duct))
            .expect("a housing");
        // To and fro, so that no step is the one before.
        let mut side = 0.0;
        criterion.bench_function(&format!("a step of the hand, {name}"), |bencher| {
            bencher.iter(|| {
                side = 0.05 - side;
                let held = hand.at(&job, &world, [place.x_m + side, place.y_m + side]);
                held.expect("a place").way.expect("a way")
            });
        });
    }
}

/// Stops if the fans of the library are not all judged: the figure would then be of less work than it says.
fn checked(case: Case) -> Case {
    let report = evaluate(&case.job, &case.world, 16);
    assert_eq!(report.candidates.len(), MANY_FANS, "every fan is a candidate");
    case
}

criterion_group!(evaluation, benches, ways, hand);
criterion_main!(evaluation);
