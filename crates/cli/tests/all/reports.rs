//! What the program answers about the example jobs and a few jobs of unusual shape, kept as samples: the table of verdicts and
//! the report as a person reads it; of one job, everything that programs read.
//!
//! `cargo insta review` shows what changed.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::common::{dewpath, example, run};

/// A job that stands for itself, beside these tests.
fn unusual(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/all/jobs/{name}.toml"))
}

/// What `check` prints about a job.
fn checked(job: &Path, option: &str) -> String {
    let ran = run(dewpath().arg("check").arg(job).args([option, "--draws", "256"]));
    assert_ne!(ran.code, 2, "{}: {}", job.display(), ran.err);
    ran.out
}

/// Findings in a table: verdict, id, subject, chance.
fn table(report: &Value) -> String {
    let word = |value: &Value| value.as_str().unwrap().to_owned();
    let mut rows = vec![format!("answer: {}", word(&report["answer"]["verdict"]))];
    for finding in report["findings"].as_array().unwrap() {
        let [verdict, id, subject] = ["verdict", "id", "subject"].map(|key| word(&finding[key]));
        let chance = finding["chance"].as_f64().map_or(String::new(), |c| format!("{c:.2}"));
        rows.push(format!("{verdict:8} {id:34} {subject:16} {chance}").trim_end().to_owned());
    }
    rows.join("\n")
}

/// Numbers of six digits, so that a sample only changes when an answer does; counts and whole numbers as they are.
fn rounded(value: Value) -> Value {
    match value {
        Value::Number(number) => match number.as_f64() {
            Some(x) if !number.is_i64() && !number.is_u64() => {
                // Zero of either sign is one zero, and what is next to nothing is noise of the last digit.
                let x = if x.abs() < 1e-9 { 0.0 } else { x };
                format!("{x:.5e}").parse::<f64>().unwrap().into()
            }
            _ => Value::Number(number),
        },
        Value::Array(list) => list.into_iter().map(rounded).collect(),
        Value::Object(map) => map.into_iter().map(|(key, value)| (key, rounded(value))).collect(),
        other => other,
    }
}

fn keep(name: &str, job: &Path) -> Value {
    let report = serde_json::from_str(&checked(job, "--json")).unwrap();
    insta::assert_snapshot!(format!("{name}_verdicts"), table(&report));
    insta::assert_snapshot!(name, checked(job, "--all"));
    report
}

#[test]
fn hall_bath() {
    let mut report = keep("hall_bath", &example("hall-bath"));
    // Hashes and versions change with every edit of a comment.
    for key in ["engine", "world"] {
        report.as_object_mut().unwrap().remove(key);
    }
    // The first three candidates tell as much as all of them.
    report["candidates"].as_array_mut().unwrap().truncate(3);
    insta::assert_json_snapshot!("hall_bath_for_programs", rounded(report));
}

#[test]
fn basement_shower() {
    keep("basement_shower", &example("basement-shower"));
}

#[test]
fn two_baths_inline() {
    keep("two_baths_inline", &example("two-baths-inline"));
}

#[test]
fn swap_hidden_duct() {
    keep("swap_hidden_duct", &example("swap-hidden-duct"));
}

#[test]
fn shared_riser_flat() {
    keep("shared_riser_flat", &example("shared-riser-flat"));
}

#[test]
fn call_back() {
    keep("call_back", &example("call-back"));
}

#[test]
fn everything_known() {
    keep("everything_known", &unusual("everything-known"));
}

#[test]
fn nothing_known() {
    keep("nothing_known", &unusual("nothing-known"));
}

#[test]
fn second_fan_idle_on_the_same_duct() {
    keep("second_fan_idle", &unusual("second-fan-idle"));
}
