//! Whole reports of the example jobs and of a few jobs of unusual shape, kept as samples.
//!
//! Numbers are rounded to six digits, so that a sample only changes when an answer does. `cargo insta review` shows what
//! changed.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]

use std::path::PathBuf;

use crate::common::{self, CURVE, SETTLED, judge, room};
use dewpath_job::model::Library;
use dewpath_report::Report;
use serde_json::Value;

/// Six digits; counts and whole numbers as they are.
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

fn as_sample(report: &Report) -> Value {
    rounded(serde_json::to_value(report).unwrap())
}

/// Findings in a table: verdict, id, subject, chance.
fn table(report: &Report) -> String {
    let mut rows = vec![format!("answer: {:?}", report.answer.verdict)];
    for finding in &report.findings {
        let chance = finding.chance.map_or(String::new(), |c| format!("{c:.2}"));
        rows.push(
            format!(
                "{:8} {:34} {:16} {chance}",
                format!("{:?}", finding.verdict),
                finding.id,
                finding.subject
            )
            .trim_end()
            .to_owned(),
        );
    }
    rows.join("\n")
}

fn example(name: &str) -> Report {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../jobs");
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap();
    let read = dewpath_job::read_as_built(name, &text).unwrap();
    let libraries = read.job.libraries.iter().map(|file| {
        let text = std::fs::read_to_string(folder.join(file)).unwrap();
        dewpath_job::library::read(file, &text).unwrap()
    });
    let library = Library::joined(libraries);
    let job = read.resolve(&library).unwrap();
    judge(&job, library, &text, 256)
}

fn keep(name: &str, mut report: Report) {
    insta::assert_snapshot!(format!("{name}_verdicts"), table(&report));
    // The first three candidates tell as much as all of them.
    report.candidates.truncate(3);
    let mut sample = as_sample(&report);
    // Hashes and versions change with every edit of a comment.
    for key in ["engine", "world"] {
        sample.as_object_mut().unwrap().remove(key);
    }
    insta::assert_json_snapshot!(name, sample);
}

#[test]
fn hall_bath() {
    keep("hall_bath", example("hall-bath"));
}

#[test]
fn basement_shower() {
    keep("basement_shower", example("basement-shower"));
}

#[test]
fn two_baths_inline() {
    keep("two_baths_inline", example("two-baths-inline"));
}

#[test]
fn swap_hidden_duct() {
    keep("swap_hidden_duct", example("swap-hidden-duct"));
}

#[test]
fn shared_riser_flat() {
    keep("shared_riser_flat", example("shared-riser-flat"));
}

#[test]
fn call_back() {
    keep("call_back", example("call-back"));
}

#[test]
fn everything_known() {
    let room = room("bath");
    let text = format!(
        "{SETTLED}{room}[fan]\ndamper = true\n{CURVE}\n[run]\nduct = \"smooth metal\"\nsize = \"100 mm\"\n\
         roughness = \"0.09 mm\"\nlength = \"4 m\"\nelbows = 0\n[terminal]\nkind = \"open end\"\n"
    );
    keep("everything_known", common::report(&text, 256));
}

#[test]
fn nothing_known() {
    keep(
        "nothing_known",
        common::report(
            "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n[fan]\n[run]\n[terminal]\n",
            256,
        ),
    );
}

#[test]
fn second_fan_idle_on_the_same_duct() {
    let rooms = room("a") + &room("b");
    let text = format!(
        "{SETTLED}{rooms}[[fan]]\nid = \"fa\"\nroom = \"a\"\n{CURVE}\n[[fan]]\nid = \"fb\"\nroom = \"b\"\nrunning = false\n\
         damper = \"unknown\"\n{CURVE}\n[[junction]]\nid = \"join\"\n[[run]]\nid = \"ra\"\nfrom = \"fa\"\nto = \"join\"\n\
         duct = \"flex\"\nsize = \"4 in\"\nlength = \"6 ft\"\n[[run]]\nid = \"rb\"\nfrom = \"fb\"\nto = \"join\"\n\
         duct = \"flex\"\nsize = \"4 in\"\nlength = \"8..12 ft\"\n[[run]]\nid = \"out\"\nfrom = \"join\"\nto = \"end\"\n\
         duct = \"smooth metal\"\nsize = \"4 in\"\nlength = \"10 ft\"\nelbows = 2\n[[terminal]]\nid = \"end\"\nkind = \"roof cap\"\n"
    );
    keep("second_fan_idle", common::report(&text, 256));
}
