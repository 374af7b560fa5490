//! The brief: each question answered from the findings that bear on it, and what to do next.
//!
//! Nothing is judged here. Every finding belongs to one question ([`Check::question`]); the worst of them is the answer.

mod answers;
mod point;
mod tasks;

use dewpath_case::Case;
use dewpath_report::{Brief, Check, Outcome, Verdict};
use dewpath_rulebook::Book;

pub(crate) use point::Found;
use point::Point;

/// The brief of everything that was found.
pub(crate) fn brief(case: &Case<'_>, found: &Found<'_>) -> Brief {
    let books = books(case);
    let points: Vec<Point<'_>> =
        found.findings.iter().map(|finding| Point::of(finding, &books)).collect();
    let answers = answers::answers(case, &points);
    let symptoms = found.findings.iter().filter(|finding| finding.id == Check::DripCause);
    Brief {
        verdict: verdict(answers.iter().map(|answer| answer.outcome)),
        symptoms: symptoms.map(|finding| finding.message.clone()).collect(),
        tasks: tasks::tasks(case, found, &points, &answers),
        answers,
    }
}

/// The worst of what is asked; where nothing is, nothing is known to hold.
fn verdict(outcomes: impl Iterator<Item = Outcome>) -> Verdict {
    match outcomes.max() {
        Some(Outcome::Fails) => Verdict::Fails,
        Some(Outcome::Holds | Outcome::Caution) => Verdict::Holds,
        Some(Outcome::Unknown | Outcome::NotAsked) | None => Verdict::Unknown,
    }
}

/// Titles of the books that speak in this job.
fn books<'a>(case: &'a Case<'_>) -> Vec<&'a str> {
    let world = case.world;
    world.rule_book.iter().chain(&world.also_show).map(Book::title).collect()
}
