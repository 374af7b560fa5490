//! What was complained of, beside what was worked out of it. Drips have their causes ranked and are told by them.

use dewpath_case::Case;
use dewpath_job::category::Category as _;
use dewpath_job::model::{Symptom, SymptomKind};
use dewpath_message::slot::{Name, Word};
use dewpath_report::say::{BriefComplaint, BriefComplaintKey, BriefWord};
use dewpath_report::{Answered, Check, Message, Outcome, Question};

/// What is told of the complaints of a job.
#[derive(Default)]
pub(super) struct Complaints {
    pub told: Vec<Message>,
    /// Whether one of them says the opposite of an answer.
    pub against: bool,
}

/// The complaints, each with the answer that it bears on: one that was worked out to be good is no longer sure.
pub(super) fn complaints(case: &Case<'_>, answers: &mut [Answered]) -> Complaints {
    let mut complaints = Complaints::default();
    for symptom in &case.job.symptoms {
        let Some(question) = question(symptom.kind) else { continue };
        let Some(answer) = answers.iter_mut().find(|answer| answer.question == question) else {
            continue;
        };
        let is_against = is_good(case, answer);
        if is_against {
            answer.outcome = Outcome::Unknown;
            answer.word = BriefWord::Unknown.into();
        }
        complaints.against |= is_against;
        complaints.told.push(told(symptom, is_against));
    }
    complaints
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
    let kind = Word::new(symptom.kind.word());
    let when = symptom.when.as_ref().filter(|when| !when.is_empty());
    BriefComplaint { key, kind, when: when.map(Name::new) }.into()
}
