//! How each question came out.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{DuctGiven, Fan, PartKind, Run, RunShape};
use dewpath_judge::dry;
use dewpath_message::slot::{AirflowLS, ChanceRatio, Count, Name, Word};
use dewpath_message::{Said as _, Value};
use dewpath_report::say::{
    AirflowDeliveredMeasured, BriefAsked, BriefChance, BriefExpected, BriefFigure, BriefFigureKey,
    BriefPoint, BriefPoints, BriefPointsKey, BriefSilent, BriefWord, HousePressureKey,
    HouseSpillageKey,
};
use dewpath_report::{
    Answered, Check, Figure, Finding, Message, Outcome, Question, RoomAnswer, Triple,
};
use dewpath_units::sort;

use super::point::Point;

/// The message of air that was measured.
pub(super) const AIR_AS_READ: &str = AirflowDeliveredMeasured::DECLARED[0].key;

/// Points that are named in an answer; the rest is counted.
const NAMED: usize = 2;

/// Every question, in order.
pub(super) fn answers(case: &Case<'_>, points: &[Point<'_>]) -> Vec<Answered> {
    Question::ALL.iter().map(|&question| answer(case, question, points)).collect()
}

fn answer(case: &Case<'_>, question: Question, points: &[Point<'_>]) -> Answered {
    let own: Vec<&Point<'_>> = points.iter().filter(|point| point.question == question).collect();
    let figures = figures(question, &own);
    let main = figures.first().copied();
    let outcome = own.iter().map(|point| point.outcome).max().unwrap_or(Outcome::NotAsked);
    let outcome = if outcome == Outcome::Holds && main.is_some_and(is_narrow) {
        Outcome::Caution
    } else {
        outcome
    };
    let decides = |point: &&&Point<'_>| outcome >= Outcome::Caution && point.outcome == outcome;
    let deciding: Vec<&Point<'_>> = own.iter().filter(decides).copied().collect();
    let of_one_room = figures.len() < 2;
    let mut says: Vec<Message> =
        main.and_then(|point| against(case, question, point, of_one_room)).into_iter().collect();
    says.extend(main.and_then(|point| expected(point.finding)));
    says.extend(main.is_none().then(|| asked(case, question)).flatten());
    let lacks_size = outcome == Outcome::Unknown
        && main.is_none()
        && deciding.iter().any(|point| has_no_size(case, &point.finding.subject));
    if question == Question::Mirror && lacks_size {
        says.push(BriefSilent::NoSize.into());
    } else {
        says.extend(named(&deciding, main));
    }
    let is_loose = |fan: &Fan| !case.job.runs.iter().any(|run| run.from == fan.id);
    if outcome == Outcome::NotAsked {
        says.extend(silent(case, question));
    } else if question == Question::Air && case.job.fans.iter().any(is_loose) {
        says.push(BriefSilent::NoRun.into());
    }
    if own.iter().any(|point| may_turn(case, outcome, point)) {
        says.push(BriefChance::Close.into());
    }
    let overridden = own.iter().filter(|point| point.finding.overridden.is_some()).count();
    if overridden > 0 {
        says.push(counted(BriefPointsKey::Overridden, overridden));
    }
    let finding = main.map(|point| point.finding);
    Answered {
        question,
        outcome,
        word: tested(question, outcome, &own)
            .unwrap_or_else(|| word(question, outcome, main, deciding.len())),
        says,
        figure: finding.and_then(|finding| finding.figure),
        required: finding.and_then(|finding| finding.limit),
        chance: finding.and_then(|finding| finding.chance),
        room: finding.map_or_else(String::new, |finding| finding.subject.clone()),
        decided_by: deciding.iter().map(|point| point.named()).collect(),
        rooms: if of_one_room || question == Question::House {
            Vec::new()
        } else {
            rooms(case, question, &figures)
        },
        overridden_count: u32::try_from(overridden).unwrap_or(u32::MAX),
    }
}

/// The check whose figure a question asks for.
const fn asked_for(question: Question) -> Option<Check> {
    match question {
        Question::Air => Some(Check::AirflowDelivered),
        Question::Mirror => Some(Check::RoomClearingMirror),
        Question::House => Some(Check::HousePressure),
        Question::Dry | Question::Rules | Question::Place => None,
    }
}

/// Whether nobody wrote how large a room is.
fn has_no_size(case: &Case<'_>, room: &str) -> bool {
    let mut rooms = case.job.rooms.iter().zip(&case.required.rooms);
    rooms.any(|(known, need)| known.id == room && need.volume.is_none())
}

/// What the job leads one to expect of air that was measured.
fn expected(finding: &Finding) -> Option<Message> {
    let is_as_read = finding.message.key == AIR_AS_READ;
    match finding.message.values.get("expected").filter(|_| is_as_read)? {
        Value::Figure(Figure::AirflowLS(flow)) => {
            Some(BriefExpected { expected: AirflowLS(*flow) }.into())
        }
        _ => None,
    }
}

/// What is asked of the air of the first room of which that is known, where nobody knows yet what comes.
fn asked(case: &Case<'_>, question: Question) -> Option<Message> {
    let known = case.required.rooms.iter().find_map(|room| room.flow.as_ref());
    let flow = known.filter(|_| question == Question::Air && !case.job.fans.is_empty())?;
    Some(BriefAsked { required: AirflowLS(flow.litres()) }.into())
}

/// Points that carry the figure of a question, the worst first.
fn figures<'a>(question: Question, own: &[&'a Point<'a>]) -> Vec<&'a Point<'a>> {
    let of = asked_for(question);
    let carries =
        |point: &&&Point<'_>| Some(point.finding.id) == of && point.finding.figure.is_some();
    let mut found: Vec<&Point<'_>> = own.iter().filter(carries).copied().collect();
    let chance = |point: &Point<'_>| point.finding.chance.unwrap_or(1.0);
    sort::by(&mut found, |a, b| b.outcome.cmp(&a.outcome).then(chance(a).total_cmp(&chance(b))));
    found
}

/// Enough, but not over the whole of its range.
fn is_narrow(point: &Point<'_>) -> bool {
    let Finding { id, figure, limit, .. } = point.finding;
    match (figure, limit) {
        (Some(figure), Some(limit)) if *id == Check::AirflowDelivered => {
            figure.triple().low < limit.triple().likely
        }
        _ => false,
    }
}

/// Whether other draws may turn a point and the answer with it: its chance lies within two standard errors of a limit.
fn may_turn(case: &Case<'_>, answer: Outcome, point: &Point<'_>) -> bool {
    let bears =
        point.outcome == answer || (point.outcome == Outcome::Holds && answer < Outcome::Unknown);
    let by_draws = match point.question {
        // Readings are judged as read.
        Question::Air => {
            point.finding.id != Check::FlowVerification && point.finding.message.key != AIR_AS_READ
        }
        _ => true,
    };
    let draws = match point.question {
        Question::Mirror | Question::Dry => case.inputs.draws().min(dry::DRAWS as u32),
        _ => case.inputs.draws(),
    };
    let is_near = |limit: f64| {
        let error = (limit * (1.0 - limit) / f64::from(draws.max(1))).sqrt();
        point.finding.chance.is_some_and(|chance| (chance - limit).abs() < 2.0 * error)
    };
    let settings = &case.job.settings;
    bears && by_draws && [settings.holds_at, settings.fails_at].into_iter().any(is_near)
}

/// The figure against what is required of it; a chance only where it is not sure.
fn against(
    case: &Case<'_>,
    question: Question,
    point: &Point<'_>,
    of_one_room: bool,
) -> Option<Message> {
    let finding = point.finding;
    let key = if question == Question::Air { BriefFigureKey::Air } else { BriefFigureKey::Limit };
    // A reading is judged as read, though its spread may leave it open.
    let settings = &case.job.settings;
    let is_close = finding.chance.is_some_and(|c| c > settings.fails_at && c < settings.holds_at);
    let is_open = point.outcome == Outcome::Unknown || is_close;
    let message = BriefFigure {
        key,
        figure: finding.figure?,
        required: finding.limit,
        chance: finding.chance.filter(|_| is_open).map(|chance| ChanceRatio(Triple::exact(chance))),
        room: (!of_one_room).then(|| Name::new(&finding.subject)),
    };
    Some(message.into())
}

fn rooms(case: &Case<'_>, question: Question, figures: &[&Point<'_>]) -> Vec<RoomAnswer> {
    let room = |point: &&Point<'_>| {
        Some(RoomAnswer {
            room: point.finding.subject.clone(),
            outcome: point.outcome,
            says: against(case, question, point, true)?,
        })
    };
    figures.iter().filter_map(room).collect()
}

/// The points that decide, by name, each check once; the figure above them is not said again.
fn named(deciding: &[&Point<'_>], main: Option<&Point<'_>>) -> Vec<Message> {
    let is_main = |point: &Point<'_>| main.is_some_and(|main| main.finding.id == point.finding.id);
    let mut told: Vec<Check> = Vec::new();
    let mut says = Vec::new();
    // A reading is told by the air that it found.
    let is_reading = |point: &Point<'_>| {
        point.finding.id == Check::FlowVerification && point.finding.figure.is_some()
    };
    for point in deciding.iter().filter(|point| !is_main(point) && !is_reading(point)) {
        if told.contains(&point.finding.id) {
            continue;
        }
        told.push(point.finding.id);
        if told.len() <= NAMED {
            says.push(BriefPoint { check: Word::new(point.finding.id.title()) }.into());
        }
    }
    let more = told.len().saturating_sub(NAMED);
    if more > 0 {
        says.push(counted(BriefPointsKey::More, more));
    }
    says
}

fn counted(key: BriefPointsKey, count: usize) -> Message {
    BriefPoints { key, count: Count(Triple::exact(count as f64)) }.into()
}

/// Why nothing is asked.
fn silent(case: &Case<'_>, question: Question) -> Option<Message> {
    let says = match question {
        Question::House if case.job.dwelling.appliances.is_empty() => {
            if given::yes(&case.job.dwelling.burns_fuel) == Some(false) {
                BriefSilent::NoFlue
            } else {
                BriefSilent::FuelUnknown
            }
        }
        Question::Rules if case.world.rule_book.is_none() => BriefSilent::NoBook,
        Question::Rules => BriefSilent::NothingMore,
        Question::Air | Question::Dry | Question::Place if case.job.runs.is_empty() => {
            BriefSilent::NoRun
        }
        Question::Dry if case.job.runs.iter().any(is_nowhere) => BriefSilent::NoPlace,
        Question::Mirror | Question::Dry
            if case.required.rooms.iter().any(|room| room.volume.is_none()) =>
        {
            BriefSilent::NoSize
        }
        Question::Place if case.job.framing.is_empty() => BriefSilent::NoPlan,
        _ => return None,
    };
    Some(says.into())
}

/// Whether nobody wrote what surrounds some piece of a run.
pub(super) fn is_nowhere(run: &Run) -> bool {
    let is_unknown = |duct: &DuctGiven| given::options(&duct.place).is_empty();
    match &run.shape {
        RunShape::Sum(sum) => is_unknown(&sum.duct),
        RunShape::Parts(parts) => parts
            .iter()
            .any(|part| matches!(&part.kind, PartKind::Piece { duct, .. } if is_unknown(duct))),
    }
}

/// What a test of spillage says, where it settles the question; it has no figure.
fn tested(question: Question, outcome: Outcome, own: &[&Point<'_>]) -> Option<Message> {
    let is_said =
        |key: HouseSpillageKey| own.iter().any(|point| point.finding.message.key == key.key());
    match (question, outcome) {
        (Question::House, Outcome::Fails) if is_said(HouseSpillageKey::Spills) => {
            Some(BriefWord::HouseSpills.into())
        }
        (Question::House, Outcome::Holds) if is_said(HouseSpillageKey::None) => {
            Some(BriefWord::HouseTested.into())
        }
        _ => None,
    }
}

/// An outcome in two or three words.
fn word(question: Question, outcome: Outcome, main: Option<&Point<'_>>, count: usize) -> Message {
    let counts = |key| counted(key, count);
    // What is drawn down too far but gives no flue gas back is near no limit: it is beyond it.
    let is_beyond =
        main.is_some_and(|main| main.finding.message.key == HousePressureKey::Beyond.key());
    match (question, outcome) {
        (Question::Rules, Outcome::Fails) => counts(BriefPointsKey::Broken),
        (Question::Rules | Question::Place, Outcome::Unknown) => counts(BriefPointsKey::Open),
        (Question::Rules, Outcome::Caution) => counts(BriefPointsKey::ToWatch),
        (Question::Air, Outcome::Caution) if main.is_some_and(is_narrow) => {
            BriefWord::AirJust.into()
        }
        (Question::Air, Outcome::Holds) => BriefWord::AirHolds.into(),
        // What comes is enough; something beside it is to be watched.
        (Question::Air, Outcome::Caution)
            if main.is_some_and(|main| main.outcome == Outcome::Holds) =>
        {
            BriefWord::AirHolds.into()
        }
        // Not the figure is broken, but something on the way.
        (Question::Air, Outcome::Fails)
            if main.is_some_and(|main| main.outcome != Outcome::Fails) =>
        {
            BriefWord::AirMend.into()
        }
        (Question::Air, Outcome::Fails) => BriefWord::AirFails.into(),
        (Question::Mirror, Outcome::Holds) => BriefWord::MirrorHolds.into(),
        (Question::Mirror, Outcome::Caution) => BriefWord::MirrorSlow.into(),
        (Question::Mirror, Outcome::Fails) => BriefWord::MirrorFails.into(),
        (Question::Dry, Outcome::Holds) => BriefWord::DryHolds.into(),
        (Question::Dry, Outcome::Fails) => BriefWord::DryFails.into(),
        (Question::House, Outcome::Holds) => BriefWord::HouseHolds.into(),
        (Question::House, Outcome::Caution) if !is_beyond => BriefWord::HouseNear.into(),
        (Question::House, Outcome::Fails) => BriefWord::HouseFails.into(),
        (Question::Rules, Outcome::Holds) => BriefWord::RulesHold.into(),
        (Question::Place, Outcome::Holds) => BriefWord::PlaceHolds.into(),
        (Question::Place, Outcome::Fails) => BriefWord::PlaceFails.into(),
        (_, Outcome::Caution) => BriefWord::Watch.into(),
        (_, Outcome::Unknown) => BriefWord::Unknown.into(),
        (_, Outcome::NotAsked) => BriefWord::NotAsked.into(),
    }
}
