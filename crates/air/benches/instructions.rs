//! Instruction counts of the same kernels: repeatable on any machine, so that a slower kernel is seen in a loaded build.
//!
//! Run with `cargo bench -p dewpath-air --bench instructions`; needs valgrind and the runner of the same version as
//! the `gungraun` dependency (`cargo install gungraun-runner`).

#![allow(missing_docs, unused_qualifications, reason = "the macros write such items")]
#![allow(clippy::exit, reason = "the macro ends the program")]
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use dewpath_air::fan::FanCurve;
use dewpath_air::friction::DuctKernel;
use dewpath_air::moist_air::saturation_pressure;
use dewpath_air::network::{Network, Solver};
use dewpath_units::{Pressure, Temperature};
use gungraun::{library_benchmark, library_benchmark_group, main};

mod support;

#[library_benchmark]
#[bench::smooth(support::duct(3.0, 9e-5))]
#[bench::rough(support::duct(3.0, 3e-3))]
fn friction(duct: DuctKernel) -> (f64, f64) {
    black_box(duct).loss(black_box(0.031))
}

#[library_benchmark]
#[bench::seven_points(support::fan())]
fn fan_rise(fan: FanCurve) -> (FanCurve, (f64, f64)) {
    let rise = black_box(&fan).rise(black_box(0.034));
    (fan, rise)
}

#[library_benchmark]
#[bench::over_water(Temperature::from_c(24.0))]
#[bench::over_ice(Temperature::from_c(-12.0))]
fn saturation(temperature: Temperature) -> Option<Pressure> {
    saturation_pressure(black_box(temperature)).ok()
}

/// A solver whose memory is already there, as in the second and every later draw.
fn warmed(network: Network) -> (Network, Solver) {
    let mut solver = Solver::new();
    solver.solve(&network, None).expect("the network has an answer");
    (network, solver)
}

#[library_benchmark]
#[bench::single_run(warmed(support::single_run()))]
#[bench::three_grilles(warmed(support::three_grilles()))]
fn solve((network, mut solver): (Network, Solver)) -> (Network, Solver) {
    let found = black_box(&mut solver).solve(black_box(&network), None);
    black_box(found.is_ok());
    // Handed back, so that giving the memory free isn't counted.
    (network, solver)
}

library_benchmark_group!(name = kernels, benchmarks = [friction, fan_rise, saturation, solve]);
main!(library_benchmark_groups = kernels);
