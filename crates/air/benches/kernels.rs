//! Wall-clock benches of the kernels everything else repeats thousands of times.
//!
//! Run with `cargo bench -p dewpath-air --bench kernels`. Targets on one core: one operating point 3 us, the
//! three-grille network 15 us.

#![allow(missing_docs, reason = "criterion's macros make undocumented items")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use dewpath_air::curve::SampledCurve;
use dewpath_air::moist_air::saturation_pressure;
use dewpath_air::network::Solver;
use dewpath_units::Temperature;

mod support;

fn kernels(criterion: &mut Criterion) {
    let duct = support::duct(3.0, 9e-5);
    criterion.bench_function("friction of one piece", |bencher| {
        bencher.iter(|| duct.loss(black_box(0.031)));
    });
    let fan = support::fan();
    criterion.bench_function("fan curve value and slope", |bencher| {
        bencher.iter(|| fan.rise(black_box(0.034)));
    });
    criterion.bench_function("saturation pressure", |bencher| {
        bencher.iter(|| saturation_pressure(black_box(Temperature::from_c(24.0))));
    });
    let system = |q: f64| {
        let (loss, slope) = duct.loss(q);
        (4.0 * loss, 4.0 * slope)
    };
    if let Ok(table) = SampledCurve::new(0.0, 0.08, 48, system) {
        criterion.bench_function("fan on a tabulated system", |bencher| {
            bencher.iter(|| fan.operating_point_near(|q| table.value_slope(q), black_box(0.035)));
        });
    }
    for (name, network) in [
        ("operating point, five pieces and four fittings", support::single_run()),
        ("network of three grilles", support::three_grilles()),
    ] {
        let mut solver = Solver::new();
        criterion.bench_function(name, |bencher| {
            bencher.iter(|| solver.solve(black_box(&network), None).map(|found| found.iterations));
        });
        let near: Vec<f64> = solver.solve(&network, None).map_or_else(
            |_| Vec::new(),
            |found| found.flows_m3_s.iter().map(|q| 1.1 * q).collect(),
        );
        criterion.bench_function(&format!("{name}, from a near start"), |bencher| {
            bencher.iter(|| {
                solver.solve(black_box(&network), Some(&near)).map(|found| found.iterations)
            });
        });
    }
}

criterion_group!(benches, kernels);
criterion_main!(benches);
