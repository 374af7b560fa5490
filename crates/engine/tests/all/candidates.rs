//! A candidate keeps its promise: its patch applied to the job, the job judged again at the same draws, gives the air and
//! the chance that the candidate stated.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]

use std::path::PathBuf;

use crate::common::judge;
use dewpath_job::model::Library;
use dewpath_job::patch::{Patch, Set, apply};
use dewpath_report::{Candidate, Report};

/// As many as each fan of the library is judged with.
const DRAWS: u32 = dewpath_propose::select::SELECT_DRAWS;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../jobs")
}

fn judged(name: &str, text: &str) -> Report {
    let read = dewpath_job::read(name, text).unwrap_or_else(|wrong| panic!("{text}\n{wrong}"));
    let libraries = read.job.libraries.iter().map(|file| {
        let text = std::fs::read_to_string(folder().join(file)).unwrap();
        dewpath_job::library::read(file, &text).unwrap()
    });
    let library = Library::joined(libraries);
    let job = read.resolve(&library).unwrap();
    judge(&job, library, text, DRAWS)
}

fn patched(text: &str, candidate: &Candidate) -> String {
    let set =
        candidate.patch.set.iter().map(|set| Set { at: set.at.clone(), value: set.value.clone() });
    let patch = Patch { set: set.collect(), remove: candidate.patch.remove.clone() };
    apply(text, &patch).unwrap_or_else(|wrong| panic!("{}: {wrong}", candidate.model))
}

/// What does not agree between a candidate and the job that took it.
fn broken(candidate: &Candidate, report: &Report) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut all = Vec::new();
    for promised in &candidate.delivered {
        let room = report.rooms.iter().find(|room| room.id == promised.room).unwrap();
        let Some(delivered) = room.delivered else {
            wrong.push(format!("{}: nothing delivered to {}", candidate.model, promised.room));
            continue;
        };
        let (said, came) = (promised.airflow_l_s.likely, delivered.airflow_l_s.likely);
        if (said - came).abs() > 0.02 * came.abs() {
            wrong.push(format!(
                "{}, {}: {said:.2} L/s promised, {came:.2} came ({:+.1} %)",
                candidate.model,
                promised.room,
                100.0 * (said / came - 1.0)
            ));
        }
        all.extend(delivered.chance_enough);
    }
    // Enough in every room at once is at most as likely as in the worst room, and at least what is left when the
    // shortfalls never coincide.
    if let Some(chance) = candidate.chance_enough.filter(|_| !all.is_empty()) {
        let most = all.iter().copied().fold(1.0, f64::min);
        let least = (1.0 - all.iter().map(|c| 1.0 - c).sum::<f64>()).max(0.0);
        if chance < least - 0.08 || chance > most + 0.08 {
            wrong.push(format!(
                "{}: chance {chance:.3} promised, {least:.3} to {most:.3} came",
                candidate.model
            ));
        }
    }
    wrong
}

fn every_candidate_keeps_its_promise(name: &str) {
    let text = std::fs::read_to_string(folder().join(format!("{name}.toml"))).unwrap();
    let report = judged(name, &text);
    assert!(report.candidates.len() >= 4, "{name}: {} candidates", report.candidates.len());
    let wrong: Vec<String> = report
        .candidates
        .iter()
        .flat_map(|candidate| broken(candidate, &judged(name, &patched(&text, candidate))))
        .collect();
    assert!(wrong.is_empty(), "{name}, of {}: {wrong:#?}", report.candidates.len());
}

#[test]
fn hall_bath() {
    every_candidate_keeps_its_promise("hall-bath");
}

#[test]
fn two_baths_inline() {
    every_candidate_keeps_its_promise("two-baths-inline");
}

#[test]
fn swap_hidden_duct() {
    every_candidate_keeps_its_promise("swap-hidden-duct");
}

/// A fan that takes clearly more air out of the house than the one of the job is not taken without a look at the flues;
/// where an appliance is named, every candidate is judged at it.
#[test]
fn a_candidate_says_what_it_does_to_the_house() {
    for name in ["hall-bath", "two-baths-inline", "swap-hidden-duct"] {
        let text = std::fs::read_to_string(folder().join(format!("{name}.toml"))).unwrap();
        let report = judged(name, &text);
        let named = text.contains("appliance");
        let moved = |room: &str| {
            let room = report.rooms.iter().find(|r| r.id == room).unwrap();
            room.delivered.unwrap().airflow_l_s.likely
        };
        for candidate in &report.candidates {
            let promised: f64 = candidate.delivered.iter().map(|d| d.airflow_l_s.likely).sum();
            let now: f64 = candidate.delivered.iter().map(|d| moved(&d.room)).sum();
            let note = candidate.notes.iter().find(|note| note.id == "house.pressure");
            if named {
                let key = &note.unwrap().message.key;
                assert!(key.starts_with("house.pressure.candidate."), "{name}: {key}");
                continue;
            }
            if promised > 1.05 * now {
                let key = &note.unwrap().message.key;
                assert_eq!(key, "house.pressure.larger-fan", "{name}, {}", candidate.model);
            }
            if promised < 0.98 * now {
                assert!(note.is_none(), "{name}, {}: {promised:.1} over {now:.1}", candidate.model);
            }
        }
    }
}
