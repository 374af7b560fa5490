//! Wall-clock bench of the whole program: `dewpath check JOB` as a process, from its start to the printed answer.
//!
//! Run with `cargo bench -p dewpath-cli --bench check`. Target: 50 ms.

#![allow(missing_docs, reason = "criterion's macros make undocumented items")]
#![allow(clippy::expect_used, reason = "a bench that fails here should stop")]

use std::process::{Command, Output};

use criterion::{Criterion, criterion_group, criterion_main};

fn check(job: &str, draws: Option<&str>) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_dewpath"));
    command.arg("check").arg(format!("{}/../../jobs/{job}.toml", env!("CARGO_MANIFEST_DIR")));
    if let Some(draws) = draws {
        command.args(["--draws", draws]);
    }
    command.output().expect("the program starts")
}

fn benches(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("check as a process");
    group.sample_size(30);
    let help = || Command::new(env!("CARGO_BIN_EXE_dewpath")).arg("--version").output();
    group.bench_function("start alone", |bencher| bencher.iter(help));
    for job in ["hall-bath", "two-baths-inline"] {
        // Exit code 2 is bad input: a figure of that would be of no use.
        let first = check(job, None);
        assert_ne!(first.status.code(), Some(2), "{}", String::from_utf8_lossy(&first.stderr));
        group.bench_function(job, |bencher| bencher.iter(|| check(job, None)));
        group.bench_function(format!("{job}, nominal"), |bencher| {
            bencher.iter(|| check(job, Some("0")));
        });
    }
    group.finish();
}

criterion_group!(process, benches);
criterion_main!(process);
