//! The brief: each question answered from the findings that bear on it, and what to do next.
//!
//! Nothing is judged here. Every finding belongs to one question ([`Check::question`]); the worst of them is the answer.

mod answers;
mod complaint;
mod point;
mod tasks;

use dewpath_case::Case;
use dewpath_report::{Brief, Check, Message, Outcome, Verdict};
use dewpath_rulebook::Book;

pub(crate) use point::Found;
use point::Point;

/// The brief of everything that was found.
pub(crate) fn brief(case: &Case<'_>, found: &Found<'_>) -> Brief {
    let books = books(case);
    let points: Vec<Point<'_>> =
        found.findings.iter().map(|finding| Point::of(case, finding, &books)).collect();
    let mut answers = answers::answers(case, &points);
    let drips = found.findings.iter().filter(|finding| finding.id == Check::DripCause);
    let mut symptoms: Vec<Message> = drips.map(|finding| finding.message.clone()).collect();
    let complaints = complaint::complaints(case, &points, &mut answers);
    symptoms.extend(complaints.told);
    let mut tasks = tasks::tasks(case, found, &points, &answers);
    if let Some(cause) = complaints.cause {
        tasks::mend_first(&mut tasks, cause);
    }
    if complaints.dial {
        tasks::read_dial_first(&mut tasks);
    }
    // A flow that was measured is not asked for again.
    if complaints.against && !dewpath_judge::checks::evidence::is_measured(case) {
        tasks::measure_first(&mut tasks);
    }
    Brief {
        verdict: verdict(answers.iter().map(|answer| answer.outcome)),
        symptoms,
        tasks,
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
