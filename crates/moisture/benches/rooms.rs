//! Wall-clock benches of rooms through time.
//!
//! Run with `cargo bench -p dewpath-moisture --bench rooms`. Targets on one core: a design shower 0.18 ms, 256 of them
//! 50 ms, a year of one zone with one surface 3 ms, of two zones with four surfaces and the wall of a duct
//! 30 ms.

#![allow(missing_docs, reason = "criterion's macros make undocumented items")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};

mod support;

fn benches(criterion: &mut Criterion) {
    let room = support::design_shower(0.5);
    criterion.bench_function("design shower", |bencher| {
        bencher.iter(|| support::shower(black_box(&room)));
    });
    let draws: Vec<_> =
        (0..256).map(|draw| support::design_shower(f64::from(draw) / 255.0)).collect();
    let mut group = criterion.benchmark_group("long ones");
    // Fewer samples, or a loaded machine waits for minutes.
    group.sample_size(20);
    group.bench_function("256 design showers", |bencher| {
        bencher.iter(|| {
            let times = black_box(&draws).iter().map(support::shower);
            times.filter_map(|shower| shower.mirror_time_s).sum::<f64>()
        });
    });
    for case in support::years() {
        group.bench_function(format!("year, {}", case.name), |bencher| {
            bencher.iter(|| support::year(black_box(&case)));
        });
    }
    let [_, dwelling] = support::years();
    group.bench_function("year, dwelling and duct", |bencher| {
        bencher.iter(|| support::year_with_duct(black_box(&dwelling)));
    });
    group.finish();
}

criterion_group!(rooms, benches);
criterion_main!(rooms);
