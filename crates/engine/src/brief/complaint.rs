//! What was complained of, beside what was worked out of it. Drips have their causes ranked and are told by them.

use dewpath_case::Case;
use dewpath_job::category::Category as _;
use dewpath_job::model::{Symptom, SymptomKind, Work};
use dewpath_message::Said;
use dewpath_message::slot::{Name, Word};
use dewpath_report::say::{
    BriefComplaint, BriefComplaintKey, BriefPoint, BriefWord, DwellingHumidNeverStops,
};
use dewpath_report::{Answered, Check, Message, Outcome, Question};

use super::point::Point;

/// What is told of the complaints of a job.
#[derive(Default)]
pub(super) struct Complaints<'a> {
    pub told: Vec<Message>,
    /// Whether one of them says the opposite of an answer.
    pub against: bool,
    /// Whether one is of a control that never stops, of which too little is known to say why.
    pub dial: bool,
    /// What was worked out to cause one of them.
    pub cause: Option<&'a Point<'a>>,
}

/// The complaints, each with the answer that it bears on: one whose cause was worked out leads with it; one that was worked out to be good is
/// no longer sure.
pub(super) fn complaints<'a>(
    case: &Case<'_>,
    points: &'a [Point<'a>],
    answers: &mut [Answered],
) -> Complaints<'a> {
    let mut complaints = Complaints::default();
    for symptom in &case.job.symptoms {
        let Some(question) = question(symptom.kind) else { continue };
        let Some(answer) = answers.iter_mut().find(|answer| answer.question == question) else {
            continue;
        };
        let cause = cause(symptom.kind, points);
        // Where a fan is swapped, what was complained of is the old one.
        let is_old = case.job.work == Work::Swap;
        let is_against = cause.is_none() && !is_old && is_good(case, answer);
        if is_against {
            answer.outcome = Outcome::Unknown;
            answer.word = BriefWord::Unknown.into();
        }
        complaints.against |= is_against;
        let is_open = cause.is_none() && symptom.kind == SymptomKind::NeverStops;
        complaints.dial |= is_open;
        complaints.told.push(match () {
            () if is_old => said(symptom, BriefComplaintKey::Old),
            () if is_open => said(symptom, BriefComplaintKey::NeverStops),
            () => told(symptom, is_against),
        });
        if let Some(cause) = cause {
            complaints.told.push(cause.finding.message.clone());
            lead(answer, cause);
        }
        complaints.cause = complaints.cause.or(cause);
    }
    complaints
}

/// Key of what the year tells of a control that keeps its fan on.
const NEVER_STOPS: &str = <DwellingHumidNeverStops as Said>::DECLARED[0].key;

/// What keeps the fan on that never stops: the year tells more than what the control can reach, that more than one day.
fn cause<'a>(kind: SymptomKind, points: &'a [Point<'a>]) -> Option<&'a Point<'a>> {
    let keeps_on = |point: &&Point<'_>, check: Check| {
        let is_meant = check != Check::DwellingHumid || point.finding.message.key == NEVER_STOPS;
        point.finding.id == check && point.outcome == Outcome::Caution && is_meant
    };
    let checks = [Check::DwellingHumid, Check::RoomControlReachable, Check::RoomControlNeverStops];
    let of = |check| points.iter().find(|point| keeps_on(point, check));
    (kind == SymptomKind::NeverStops).then(|| checks.into_iter().find_map(of)).flatten()
}

/// Names a cause before everything else that an answer names.
fn lead(answer: &mut Answered, cause: &Point<'_>) {
    let said = BriefPoint { check: Word::new(cause.finding.id.title()) }.into();
    answer.says.retain(|known| *known != said);
    answer.says.insert(0, said);
}

/// The question that a complaint bears on; none for drips and for what nothing is worked out of.
const fn question(kind: SymptomKind) -> Option<Question> {
    match kind {
        SymptomKind::Fog => Some(Question::Mirror),
        SymptomKind::NoPull => Some(Question::Air),
        SymptomKind::Mould | SymptomKind::NeverStops | SymptomKind::NeverStarts => {
            Some(Question::Dry)
        }
        SymptomKind::Drip
        | SymptomKind::Stain
        | SymptomKind::Frost
        | SymptomKind::Noise
        | SymptomKind::Smell
        | SymptomKind::ColdAir => None,
    }
}

/// Whether an answer is worked out to be good. A measured flow is no model: it stands.
fn is_good(case: &Case<'_>, answer: &Answered) -> bool {
    let measured = answer.question == Question::Air
        && answer.decided_by.iter().all(|point| point.id != Check::AirflowDelivered)
        && dewpath_judge::checks::evidence::is_measured(case);
    answer.outcome < Outcome::Unknown && answer.outcome != Outcome::NotAsked && !measured
}

fn told(symptom: &Symptom, is_against: bool) -> Message {
    let key = match (is_against, symptom.kind) {
        (true, SymptomKind::Fog) => BriefComplaintKey::Fog,
        (true, _) => BriefComplaintKey::Against,
        (false, _) => BriefComplaintKey::Told,
    };
    said(symptom, key)
}

fn said(symptom: &Symptom, key: BriefComplaintKey) -> Message {
    let kind = Word::new(symptom.kind.word());
    let when = symptom.when.as_ref().filter(|when| !when.is_empty());
    BriefComplaint { key, kind, when: when.map(Name::new) }.into()
}
