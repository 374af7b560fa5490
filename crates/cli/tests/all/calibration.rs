//! How often each check says what, over all jobs of the project: a point that nearly everybody gets says nothing.
//!
//! `DEWPATH_WRITE=1` writes `docs/calibration.md` anew.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::common::{dewpath, jobs, run};

/// Verdicts in the order of the table.
const VERDICTS: [&str; 4] = ["holds", "caution", "unknown", "fails"];
/// A verdict that more of the jobs get than this is asked for its reason, where enough jobs were judged to tell.
const ALIKE: f64 = 0.6;
const ENOUGH_JOBS: usize = 10;

fn manifest() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every job of the project: examples, field cases, jobs of practice.
fn all_jobs() -> Vec<PathBuf> {
    let folders = [jobs(), jobs().join("cases"), manifest().join("tests/practice")];
    let mut found: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(folder).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .filter(|path| std::fs::read_to_string(path).unwrap().contains("format = 1"))
        .collect();
    found.sort();
    found
}

/// Jobs in which a check said each verdict; the worst counts where it speaks of several things.
type Counts = BTreeMap<String, [usize; 4]>;

fn counted(jobs: &[PathBuf]) -> (Counts, BTreeMap<String, usize>) {
    let (mut counts, mut outcomes) = (Counts::new(), BTreeMap::new());
    for job in jobs {
        let ran = run(dewpath().arg("check").arg(job).args(["--json", "--draws", "64"]));
        let report: Value = serde_json::from_str(&ran.out).unwrap_or_else(|wrong| {
            panic!("{}: {wrong}\n{}", job.display(), ran.err);
        });
        let verdict = report["brief"]["verdict"].as_str().unwrap().to_owned();
        *outcomes.entry(verdict).or_default() += 1;
        let mut worst: BTreeMap<&str, usize> = BTreeMap::new();
        for finding in report["findings"].as_array().unwrap() {
            let verdict = finding["verdict"].as_str().unwrap();
            let rank = VERDICTS.iter().position(|known| *known == verdict).unwrap();
            let known = worst.entry(finding["id"].as_str().unwrap()).or_default();
            *known = (*known).max(rank);
        }
        for (id, rank) in worst {
            counts.entry(id.to_owned()).or_default()[rank] += 1;
        }
    }
    (counts, outcomes)
}

/// The verdict that too many jobs get of a check.
fn alike(of: &[usize; 4]) -> Option<usize> {
    let judged: usize = of.iter().sum();
    let most = (0..4).max_by_key(|verdict| of[*verdict])?;
    (judged >= ENOUGH_JOBS && of[most] as f64 > ALIKE * judged as f64).then_some(most)
}

fn reasons() -> BTreeMap<String, String> {
    let text = std::fs::read_to_string(manifest().join("tests/calibration.toml")).unwrap();
    toml::from_str(&text).unwrap()
}

fn page(jobs: usize, counts: &Counts, outcomes: &BTreeMap<String, usize>) -> String {
    let reasons = reasons();
    let mut page = format!(
        "# Calibration\n\n\
         How often each check says what, over the {jobs} jobs of the project (examples, field cases, jobs of practice), 64 draws each. A \
         check counts once a job, by its worst verdict there. Generated: `DEWPATH_WRITE=1 cargo nextest run -p dewpath-cli calibration`.\n\n\
         As a whole:"
    );
    for (verdict, count) in outcomes {
        write!(page, " {verdict} {count}.").unwrap();
    }
    page.push_str(
        "\n\nA point that more than 60 % of the jobs get alike tells them little; why it is so stands beside it. Field cases are \
         jobs that went wrong or are told by half, so much of what is unknown there was never written.\n\n\
         | Check | Jobs | Holds | Caution | Unknown | Fails | Why alike |\n| --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for (id, of) in counts {
        let judged: usize = of.iter().sum();
        let why = alike(of).and_then(|_| reasons.get(id)).map_or("", String::as_str);
        let [holds, caution, unknown, fails] = of;
        writeln!(page, "| `{id}` | {judged} | {holds} | {caution} | {unknown} | {fails} | {why} |")
            .unwrap();
    }
    page
}

#[test]
fn what_nearly_everybody_gets_has_its_reason() {
    let jobs = all_jobs();
    let (counts, outcomes) = counted(&jobs);
    let fresh = page(jobs.len(), &counts, &outcomes);
    let path = manifest().join("../../docs/calibration.md");
    if std::env::var_os("DEWPATH_WRITE").is_some() {
        std::fs::write(&path, &fresh).unwrap();
    }
    let reasons = reasons();
    let is_alike = |id: &str| counts.get(id).is_some_and(|of| alike(of).is_some());
    let silent: Vec<String> = counts
        .iter()
        .filter(|(id, of)| alike(of).is_some() && !reasons.contains_key(*id))
        .map(|(id, of)| format!("{id}: {of:?}"))
        .collect();
    let idle: Vec<&String> = reasons.keys().filter(|id| !is_alike(id)).collect();
    assert!(
        silent.is_empty() && idle.is_empty(),
        "without a reason: {silent:#?}\nno longer alike: {idle:#?}"
    );
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(kept, fresh, "docs/calibration.md is not current: DEWPATH_WRITE=1 writes it anew");
}
