//! A finding with the question it belongs to, and what a brief is made from.

use dewpath_case::Case;
use dewpath_job::model::{Room, SurfaceKind, SymptomKind};
use dewpath_propose::mirror::Sooner;
use dewpath_report::say::FrameBoreIfKey;
use dewpath_report::{
    Candidate, Check, Finding, LookNext, Outcome, Question, RouteResult, Verdict,
};

/// What the other stages found.
pub(crate) struct Found<'a> {
    pub findings: &'a [Finding],
    pub look_next: &'a [LookNext],
    pub candidates: &'a [Candidate],
    pub routes: &'a [RouteResult],
    pub sooner: &'a [Sooner],
}

/// A finding with the question it belongs to.
pub(super) struct Point<'a> {
    pub finding: &'a Finding,
    /// The question.
    pub question: Question,
    /// How it counts.
    pub outcome: Outcome,
}

impl<'a> Point<'a> {
    pub(super) fn of(case: &Case<'_>, finding: &'a Finding, books: &[&str]) -> Self {
        let question = finding.id.question(books.contains(&finding.source.book.text.as_str()));
        Self { finding, question, outcome: outcome(case, finding, question) }
    }

    /// By its name alone.
    pub(super) fn named(&self) -> dewpath_report::Point {
        dewpath_report::Point { id: self.finding.id, subject: self.finding.subject.clone() }
    }
}

/// How a finding counts: one that is passed over with a reason does not, unless it is about what burns in the house.
fn outcome(case: &Case<'_>, finding: &Finding, question: Question) -> Outcome {
    let is_passed_over = finding.overridden.is_some() && question != Question::House;
    let is_idle = nothing_asked(finding) || is_no_mirror(case, finding) || is_supposed(finding);
    if is_passed_over || is_idle {
        return Outcome::NotAsked;
    }
    finding.verdict.into()
}

/// A mirror that can't be followed for want of the room's size, and that nobody wrote or complained of.
fn is_no_mirror(case: &Case<'_>, finding: &Finding) -> bool {
    let of_mirror = |room: &Room| {
        room.id == finding.subject
            && room.surfaces.iter().any(|surface| surface.kind == SurfaceKind::Mirror)
    };
    finding.id == Check::RoomClearingMirror
        && finding.figure.is_none()
        && !case.job.rooms.iter().any(of_mirror)
        && !case.job.symptoms.iter().any(|symptom| symptom.kind == SymptomKind::Fog)
}

/// Air that was worked out and that no book and nobody asks for.
fn nothing_asked(finding: &Finding) -> bool {
    finding.id == Check::AirflowDelivered
        && finding.verdict == Verdict::Unknown
        && finding.figure.is_some()
        && finding.limit.is_none()
}

/// A hole that would be needed if the duct had to cross; nobody said that it has to.
fn is_supposed(finding: &Finding) -> bool {
    const SUPPOSED: [FrameBoreIfKey; 7] = [
        FrameBoreIfKey::Allowed,
        FrameBoreIfKey::None,
        FrameBoreIfKey::Smaller,
        FrameBoreIfKey::Memory,
        FrameBoreIfKey::Designer,
        FrameBoreIfKey::NoRule,
        FrameBoreIfKey::Chart,
    ];
    SUPPOSED.iter().any(|key| finding.message.key == key.key())
}
