//! Twelve jobs of good practice and twelve classic mistakes, with what each should get: written before any answer was seen.
//!
//! What is not met yet stands in `practice/misses.txt`; the list may only shrink.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use serde::Deserialize;
use serde_json::Value;

use crate::common::{dewpath, run};

#[derive(Deserialize)]
struct Expected {
    /// Of a good job.
    exit: Option<i32>,
    cautions_at_most: Option<usize>,
    /// Points of a good job that rest on a value nobody read yet: each is unknown, and says that it is to be looked up.
    #[serde(default)]
    from_memory: Vec<String>,
    /// Of a mistake.
    question: Option<String>,
    #[serde(default)]
    question_or: Vec<String>,
}

/// How a mistake is named in the program's terms.
#[derive(Deserialize)]
struct Named {
    point: Vec<String>,
    /// Why none of them fails; then one is at least not said to hold.
    open: Option<String>,
    r#do: Vec<String>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/practice")
}

fn read<T: serde::de::DeserializeOwned>(name: &str) -> BTreeMap<String, T> {
    let text = std::fs::read_to_string(folder().join(name)).unwrap();
    toml::from_str(&text).unwrap_or_else(|wrong| panic!("{name}: {wrong}"))
}

struct Checked {
    code: i32,
    report: Value,
}

fn checked(name: &str) -> Checked {
    let job = folder().join(format!("{name}.toml"));
    let ran = run(dewpath().arg("check").arg(job).args(["--json", "--draws", "256"]));
    assert_ne!(ran.code, 2, "{name}: {}", ran.err);
    Checked { code: ran.code, report: serde_json::from_str(&ran.out).unwrap() }
}

/// Ids of the findings of a verdict.
fn points<'a>(report: &'a Value, verdict: &str) -> Vec<&'a str> {
    let findings = report["findings"].as_array().unwrap().iter();
    findings.filter(|f| f["verdict"] == verdict).map(|f| f["id"].as_str().unwrap()).collect()
}

/// What a good job gets that it should not.
fn misses_of_good(wanted: &Expected, Checked { code, report }: &Checked) -> Vec<String> {
    let mut misses = Vec::new();
    if Some(*code) != wanted.exit {
        misses.push(format!("exit {code}"));
    }
    let mut tell =
        |word: &str| misses.extend(points(report, word).iter().map(|id| format!("{word} {id}")));
    tell("fails");
    let rests = |id: &str| wanted.from_memory.iter().any(|known| known == id);
    let unknown = points(report, "unknown");
    misses.extend(unknown.iter().filter(|id| !rests(id)).map(|id| format!("unknown {id}")));
    let is_from_memory = |id: &String| {
        let of = |f: &&Value| f["id"] == **id && f["verdict"] == "unknown";
        let found = report["findings"].as_array().unwrap().iter().find(of);
        found.is_some_and(|f| f["source"]["standing"] == "from_memory")
    };
    let strangers = wanted.from_memory.iter().filter(|id| !is_from_memory(id));
    misses.extend(strangers.map(|id| format!("{id} does not rest on memory")));
    let mut tell =
        |word: &str| misses.extend(points(report, word).iter().map(|id| format!("{word} {id}")));
    if points(report, "caution").len() > wanted.cautions_at_most.unwrap_or(0) {
        tell("caution");
    }
    misses
}

/// What the answer to a mistake lacks.
fn misses_of_bad(
    wanted: &Expected,
    named: &Named,
    Checked { report, .. }: &Checked,
) -> Vec<String> {
    let mut misses = Vec::new();
    let answers = report["brief"]["answers"].as_array().unwrap();
    let is_broken = |question: &str| {
        let question = question.to_lowercase();
        let told: &[&str] =
            if named.open.is_some() { &["fails", "unknown", "caution"] } else { &["fails"] };
        let is_told = |a: &Value| told.iter().any(|outcome| a["outcome"] == **outcome);
        answers.iter().any(|a| a["question"] == *question && is_told(a))
    };
    let questions = wanted.question.iter().chain(&wanted.question_or);
    if !questions.clone().any(|question| is_broken(question)) {
        misses.push("the question is not broken".to_owned());
    }
    let fails = points(report, "fails");
    let open = [points(report, "unknown"), points(report, "caution")].concat();
    let is_told = |id: &String| {
        fails.contains(&id.as_str()) || (named.open.is_some() && open.contains(&id.as_str()))
    };
    if !named.point.iter().any(is_told) {
        misses.push("the point does not fail".to_owned());
    }
    misses.extend(
        fails
            .iter()
            .filter(|id| !named.point.iter().any(|known| known == *id))
            .map(|id| format!("fails {id}")),
    );
    let first = report["brief"]["do"][0]["what"]["key"].as_str().unwrap_or("nothing");
    if !named.r#do.iter().any(|key| key == first) {
        misses.push(format!("does first {first}"));
    }
    misses
}

#[test]
fn jobs_of_practice_get_what_they_should() {
    let expected: BTreeMap<String, Expected> = read("expected.toml");
    let named: BTreeMap<String, Named> = read("points.toml");
    let mut found = BTreeSet::new();
    for (name, wanted) in &expected {
        let checked = checked(name);
        let misses = match named.get(name) {
            Some(named) => misses_of_bad(wanted, named, &checked),
            None => misses_of_good(wanted, &checked),
        };
        found.extend(misses.into_iter().map(|miss| format!("{name}: {miss}")));
    }
    let text = std::fs::read_to_string(folder().join("misses.txt")).unwrap_or_default();
    let listed: BTreeSet<String> = text
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(str::to_owned)
        .collect();
    let new: Vec<_> = found.difference(&listed).collect();
    let met: Vec<_> = listed.difference(&found).collect();
    assert!(new.is_empty() && met.is_empty(), "new: {new:#?}\nmet by now, take them out: {met:#?}");
}

/// Every mistake has its name, and every job its expectation.
#[test]
fn nothing_of_practice_is_left_out() {
    let jobs: BTreeSet<String> = std::fs::read_dir(folder())
        .unwrap()
        .filter_map(|entry| {
            let name = entry.unwrap().file_name().into_string().unwrap();
            let name = name.strip_suffix(".toml")?;
            (name.starts_with("good-") || name.starts_with("bad-")).then(|| name.to_owned())
        })
        .collect();
    let expected: BTreeMap<String, Expected> = read("expected.toml");
    let named: BTreeMap<String, Named> = read("points.toml");
    assert_eq!(jobs, expected.keys().cloned().collect());
    let bad: BTreeSet<&String> = jobs.iter().filter(|name| name.starts_with("bad-")).collect();
    assert_eq!(bad, named.keys().collect());
}
