//! The brief: each question answered from the findings that bear on it, and what to do next.
//!
//! Nothing is judged here. Every finding belongs to one question ([`Check::question`]); the worst of them is the answer.

mod answers;
mod tasks;

use dewpath_case::Case;
use dewpath_report::{
    Brief, Candidate, Check, Finding, LookNext, Outcome, Question, RouteResult, Verdict,
};

/// What the other stages found.
pub(crate) struct Found<'a> {
    pub findings: &'a [Finding],
    pub look_next: &'a [LookNext],
    pub candidates: &'a [Candidate],
    pub routes: &'a [RouteResult],
}

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
    world.rule_book.iter().chain(&world.also_show).map(|book| book.title()).collect()
}

/// A finding with the question it belongs to.
struct Point<'a> {
    finding: &'a Finding,
    question: Question,
    /// How it counts.
    outcome: Outcome,
}

impl<'a> Point<'a> {
    fn of(finding: &'a Finding, books: &[&str]) -> Self {
        let question = finding.id.question(books.contains(&finding.source.book.text.as_str()));
        Self { finding, question, outcome: outcome(finding, question) }
    }

    fn named(&self) -> dewpath_report::Point {
        dewpath_report::Point { id: self.finding.id, subject: self.finding.subject.clone() }
    }
}

/// How a finding counts: one that is passed over with a reason does not, unless it is about what burns in the house.
fn outcome(finding: &Finding, question: Question) -> Outcome {
    let is_passed_over = finding.overridden.is_some() && question != Question::House;
    if is_passed_over || nothing_asked(finding) {
        return Outcome::NotAsked;
    }
    finding.verdict.into()
}

/// Air that was worked out and that no book and nobody asks for.
fn nothing_asked(finding: &Finding) -> bool {
    finding.id == Check::AirflowDelivered
        && finding.verdict == Verdict::Unknown
        && finding.figure.is_some()
        && finding.limit.is_none()
}
