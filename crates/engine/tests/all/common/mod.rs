//! Jobs as text, and what the engine says of them.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::panic,
    reason = "shared by several files of tests"
)]

use dewpath_case::World;
use dewpath_engine::evaluate;
use dewpath_job::model::{Job, Library};
use dewpath_report::{Report, Triple, Verdict};

/// What is read from a text.
pub(crate) fn job(text: &str) -> Job {
    read(text, &Library::default())
}

fn read(text: &str, library: &Library) -> Job {
    let read =
        dewpath_job::read("job.toml", text).unwrap_or_else(|wrong| panic!("{text}\n{wrong}"));
    read.resolve(library).unwrap_or_else(|wrong| panic!("{text}\n{wrong}"))
}

/// The report on a text, with the rule book that it names and no library.
pub(crate) fn report(text: &str, draws: u32) -> Report {
    report_with(text, Library::default(), draws)
}

/// The same with a library.
pub(crate) fn report_with(text: &str, library: Library, draws: u32) -> Report {
    let job = read(text, &library);
    judge(&job, library, text, draws)
}

/// The report on a job that was read already.
pub(crate) fn judge(job: &Job, library: Library, text: &str, draws: u32) -> Report {
    let book = |id: &String| dewpath_rulebook::load(id).unwrap();
    let world = World {
        rule_book: job.rule_book.as_ref().map(book),
        also_show: job.also_show.iter().map(book).collect(),
        products: library,
        job_text: text.to_owned(),
        weather: None,
        products_text: String::new(),
    };
    evaluate(job, &world, draws)
}

/// Delivered flow of a room, L/s.
pub(crate) fn delivered(report: &Report, room: &str) -> Triple {
    let room = report.rooms.iter().find(|r| r.id == room).unwrap();
    room.delivered
        .unwrap_or_else(|| panic!("nothing is delivered: {:#?}", report.findings))
        .airflow_l_s
}

/// Likely delivered flow of a room, L/s.
pub(crate) fn likely(report: &Report, room: &str) -> f64 {
    delivered(report, room).likely
}

/// Likely flow of a run, L/s.
pub(crate) fn run_flow(report: &Report, run: &str) -> f64 {
    let run = report.runs.iter().find(|r| r.id == run).unwrap();
    run.airflow_l_s.unwrap_or_else(|| panic!("no flow: {:#?}", report.findings)).likely
}

/// Likely flow (L/s) and pressure (Pa) of a fan.
pub(crate) fn fan_point(report: &Report, fan: &str) -> (f64, f64) {
    let fan = report.fans.iter().find(|f| f.id == fan).unwrap();
    let point = fan.operating_point.unwrap();
    (point.airflow_l_s.likely, point.pressure_pa.likely)
}

/// Verdicts of a finding, by subject.
pub(crate) fn verdicts(report: &Report, id: &str) -> Vec<(String, Verdict)> {
    let found = report.findings.iter().filter(|f| f.id == id);
    found.map(|f| (f.subject.clone(), f.verdict)).collect()
}

/// Verdict of a finding that there is one of.
pub(crate) fn verdict(report: &Report, id: &str) -> Verdict {
    match verdicts(report, id).as_slice() {
        [(_, verdict)] => *verdict,
        other => panic!("`{id}`: {other:?}"),
    }
}

/// Whether two numbers agree to a share of the second.
#[track_caller]
pub(crate) fn near(a: f64, b: f64, share: f64) {
    assert!((a - b).abs() <= share * b.abs(), "{a} against {b}: {}", a / b - 1.0);
}

/// Every number of a report is finite and every triple in order; panics on what is not.
#[track_caller]
pub(crate) fn sound(report: &Report, text: &str) {
    fn walk(value: &serde_json::Value, at: &str, text: &str) {
        match value {
            serde_json::Value::Object(map) => {
                if let (Some(low), Some(likely), Some(high)) =
                    (map.get("low"), map.get("likely"), map.get("high"))
                {
                    let number = |v: &serde_json::Value| {
                        v.as_f64()
                            .unwrap_or_else(|| panic!("{at}: {value} is not three numbers\n{text}"))
                    };
                    let (low, likely, high) = (number(low), number(likely), number(high));
                    assert!(low <= likely && likely <= high, "{at}: {value}\n{text}");
                }
                for (key, inner) in map {
                    walk(inner, &format!("{at}.{key}"), text);
                }
            }
            serde_json::Value::Array(list) => {
                for (index, inner) in list.iter().enumerate() {
                    walk(inner, &format!("{at}.{index}"), text);
                }
            }
            _ => {}
        }
    }
    let value = serde_json::to_value(report).unwrap();
    walk(&value, "report", text);
    for room in &report.rooms {
        if let Some(chance) = room.delivered.and_then(|d| d.chance_enough) {
            assert!((0.0..=1.0).contains(&chance), "{chance}\n{text}");
        }
    }
}

/// Air, dwelling and door that are known beyond doubt.
pub(crate) const SETTLED: &str = r#"
format = 1
show = "metric"
rule_book = "us-irc-2021"
site = { altitude = "100 m", indoor = "21 C", humidity = "50 %" }
dwelling = { leakage = "2000 cfm50", volume = "300 m3" }
"#;

/// A room with its door.
pub(crate) fn room(id: &str) -> String {
    format!(
        r#"
[[room]]
id = "{id}"
kind = "bathroom"
length = "3 m"
width = "2 m"
height = "2.4 m"
fixtures = {{ toilets = 1, showers = 1, tubs = 0 }}
window = {{ present = false }}
door = {{ width = "700 mm", gap = "12 mm", joints = "30 cm2", coefficient = 0.62 }}
"#
    )
}

/// A curve of an ordinary bath fan.
pub(crate) const CURVE: &str =
    r#"curve = ["50 L/s at 0 Pa", "42 L/s at 25 Pa", "30 L/s at 62 Pa", "0 L/s at 110 Pa"]"#;
