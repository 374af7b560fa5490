//! What to do next: at most three things, each of which stops a danger, mends, changes or settles something.
//!
//! Stops come first; of a drip that was complained of then what parts its causes and what is looked at for the likeliest; then
//! what is broken, then what is open by what it settles a minute, weighted by its question. Where a change of the job makes short
//! air enough, one is always among the three.

use dewpath_case::system::rooms_of_fan;
use dewpath_case::{Case, given};
use dewpath_job::model::Terminal;
use dewpath_message::slot::{Count, Name, Word};
use dewpath_report::say::{
    BriefFan, BriefLook, BriefLookOutlet, BriefWay, HouseSpillageKey, Todo, What,
};
use dewpath_report::{
    Answered, Candidate, CandidateRoom, Check, Figure, Finding, LookNext, Message, Outcome,
    Point as NamedPoint, Question, RouteResult, Task, TaskKind, Triple, Verdict,
};
use dewpath_units::sort;

use super::answers::{AIR_AS_READ, is_nowhere};
use super::point::{Found, Point};

/// Things to do that are told.
const MOST: usize = 3;
/// Least share of the draws in which a look must settle something to be worth the way.
const WORTH_IT: f64 = 0.05;
/// Minutes for one look round an outlet, whatever is looked at there. Judgement.
const OUTLET_MIN: f64 = 10.0;
/// Minutes to measure a flow at the grille, and to ask a question. Judgement.
const MEASURE_MIN: f64 = 20.0;
const ASK_MIN: f64 = 1.0;
/// Minutes for a test of spillage at the worst case. Judgement.
const SPILLAGE_MIN: f64 = 60.0;

/// What to do, most useful first.
pub(super) fn tasks(
    case: &Case<'_>,
    found: &Found<'_>,
    points: &[Point<'_>],
    answers: &[Answered],
) -> Vec<Task> {
    let mut list: Vec<Task> = stop(case, points).into_iter().collect();
    list.extend(drip(found, points));
    list.extend(mends(case, points, answers));
    put_in(&mut list, change(case, found, answers).or_else(|| clear_sooner(found)));
    list.extend(measure_again(points));
    list.extend(name_book(case, points));
    list.extend(ask_fuel(case));
    list.extend(looks(found, points));
    list.extend(unasked(case, answers));
    let mut told: Vec<Message> = Vec::new();
    list.retain(|task| {
        let is_new = !told.contains(&task.what);
        told.push(task.what.clone());
        is_new
    });
    list.truncate(MOST);
    list
}

/// What was measured and is short is measured again, once what mends it is done.
fn measure_again(points: &[Point<'_>]) -> Option<Task> {
    let again = Message::from(Todo::MeasureAgain);
    let is_short =
        |point: &&Point<'_>| point.outcome == Outcome::Fails && point.finding.todo.contains(&again);
    let short = points.iter().find(is_short)?;
    Some(Task {
        kind: TaskKind::Look,
        what: again,
        effort_h: Some(MEASURE_MIN / 60.0),
        question: Question::Air,
        settles_ratio: None,
        points: vec![short.named()],
        at: Vec::new(),
        patch: None,
    })
}

/// Where somebody complains of what was worked out to be good, the flow is measured before anything but a stop.
pub(super) fn measure_first(list: &mut Vec<Task>) {
    let task = Task {
        kind: TaskKind::Look,
        what: Todo::MeasureFlow.into(),
        effort_h: Some(MEASURE_MIN / 60.0),
        question: Question::Air,
        settles_ratio: None,
        points: Vec::new(),
        at: Vec::new(),
        patch: None,
    };
    put_first(list, task);
}

/// Where a control never stops and nobody knows why, its dial is read before anything but a stop.
pub(super) fn read_dial_first(list: &mut Vec<Task>) {
    put_first(list, look(Todo::ReadTheDial, Question::Dry, Vec::new()));
}

/// One look of a minute or so.
fn look(what: Todo, question: Question, at: Vec<String>) -> Task {
    Task {
        kind: TaskKind::Look,
        what: what.into(),
        effort_h: Some(ASK_MIN / 60.0),
        question,
        settles_ratio: None,
        points: Vec::new(),
        at,
        patch: None,
    }
}

/// What keeps a question from being asked at all and takes one look: where the ducts run, how large the room is.
fn unasked(case: &Case<'_>, answers: &[Answered]) -> Vec<Task> {
    let is_unasked = |question: Question| {
        let of = |answer: &&Answered| answer.question == question;
        answers.iter().find(of).is_some_and(|answer| answer.outcome == Outcome::NotAsked)
    };
    let nowhere = case.job.runs.iter().find(|run| is_nowhere(run));
    let place = nowhere.filter(|_| is_unasked(Question::Dry)).map(|run| {
        look(Todo::WherePiecesRun, Question::Dry, vec![format!("run.{}.place", run.id)])
    });
    let has_no_size = case.required.rooms.iter().any(|room| room.volume.is_none());
    // A complaint of a mirror that can't be followed leaves it open without a figure.
    let has_no_figure = |answer: &Answered| {
        answer.question == Question::Mirror
            && answer.outcome == Outcome::Unknown
            && answer.figure.is_none()
    };
    let waits = is_unasked(Question::Mirror) || answers.iter().any(has_no_figure);
    let size = (has_no_size && waits).then(|| look(Todo::SizeOfRoom, Question::Mirror, Vec::new()));
    place.into_iter().chain(size).collect()
}

/// Where the cause of a complaint is known, what ends it is done before anything but a stop.
pub(super) fn mend_first(list: &mut Vec<Task>, cause: &Point<'_>) {
    let Some(what) = first_todo(cause.finding) else { return };
    let mut mend = Vec::new();
    add_mend(&mut mend, what, cause, Vec::new());
    for task in mend {
        put_first(list, task);
    }
}

/// Puts a task behind the stops and before all others.
fn put_first(list: &mut Vec<Task>, first: Task) {
    list.retain(|task| task.what != first.what);
    let stops = list.iter().filter(|task| task.kind == TaskKind::Stop).count();
    list.insert(stops, first);
    list.truncate(MOST);
}

/// The book, where nothing is asked of the air for want of one: most answers wait for that line.
fn name_book(case: &Case<'_>, points: &[Point<'_>]) -> Option<Task> {
    let is_idle = |point: &Point<'_>| {
        point.finding.id == Check::AirflowDelivered && point.outcome == Outcome::NotAsked
    };
    (case.world.rule_book.is_none() && points.iter().any(is_idle)).then(|| Task {
        kind: TaskKind::Look,
        what: Todo::NameBook.into(),
        effort_h: Some(ASK_MIN / 60.0),
        question: Question::Rules,
        settles_ratio: None,
        points: Vec::new(),
        at: vec!["rule_book".to_owned()],
        patch: None,
    })
}

/// Whether anything burns fuel, where nobody said so and the fans may pull on a flue.
fn ask_fuel(case: &Case<'_>) -> Option<Task> {
    dewpath_judge::house::may_pull_on_a_flue(case).then(|| Task {
        kind: TaskKind::Look,
        what: Todo::AskFuel.into(),
        effort_h: Some(ASK_MIN / 60.0),
        question: Question::House,
        settles_ratio: None,
        points: Vec::new(),
        at: vec!["dwelling.burns_fuel".to_owned()],
        patch: None,
    })
}

/// A change stands behind what is stopped and mended, and is never crowded out.
fn put_in(list: &mut Vec<Task>, change: Option<Task>) {
    let Some(change) = change else { return };
    list.insert(list.len().min(MOST - 1), change);
}

/// Of the drip that was told first: the look that parts its causes, then what is done first for the likeliest.
fn drip(found: &Found<'_>, points: &[Point<'_>]) -> Vec<Task> {
    let Some(point) = points.iter().find(|point| point.finding.id == Check::DripCause) else {
        return Vec::new();
    };
    let is_its = |look: &&LookNext| {
        look.finding == Check::DripCause && look.subject == point.finding.subject
    };
    let look = found.look_next.iter().find(is_its);
    let is_look = |todo: &&Message| look.is_some_and(|look| says(todo, look));
    let mut todos = point.finding.todo.iter();
    let said = todos.clone().find(is_look);
    let parts = look.map(|look| Task {
        what: said.cloned().unwrap_or_else(|| find_out(look)),
        ..look_for(look, point)
    });
    let is_mend = |todo: &Message| !LOOKS.iter().any(|like| todo.key.starts_with(like));
    let first = todos.find(|todo| !is_look(todo)).map(|todo| Task {
        kind: if is_mend(todo) { TaskKind::Mend } else { TaskKind::Look },
        what: todo.clone(),
        effort_h: None,
        question: point.question,
        settles_ratio: None,
        points: vec![point.named()],
        at: Vec::new(),
        patch: None,
    });
    parts.into_iter().chain(first).collect()
}

/// How the keys of what is only looked at or told begin.
const LOOKS: [&str; 2] = ["todo.look", "todo.tell"];

/// Whether something to do is the look of a drip in words of its own.
fn says(todo: &Message, look: &LookNext) -> bool {
    let is = |of: Todo| todo.key == of.key();
    let asks = |of: What| look.what.key == of.key();
    is(Todo::TellTheDrip)
        || (is(Todo::AskThaw) && asks(What::DripThaw))
        || (is(Todo::AskRain) && asks(What::DripRain))
        || ((is(Todo::LookFlapAndWrap) || is(Todo::LookFlapAndSeal)) && asks(What::FlapLeak))
}

/// Fans that may pull on what burns: tested before anything else is done.
fn stop(case: &Case<'_>, points: &[Point<'_>]) -> Option<Task> {
    let is_sure = |point: &Point<'_>| {
        point.finding.chance.is_some_and(|chance| chance >= case.job.settings.holds_at)
    };
    let spills = |point: &&Point<'_>| point.finding.message.key == HouseSpillageKey::Spills.key();
    // A vent that is fan-driven or closed to the room asks for no test.
    let asks = |point: &&Point<'_>| point.finding.todo.contains(&Todo::WorstCaseTest.into());
    let pulls = |point: &&Point<'_>| {
        let is_open = point.finding.id == Check::HousePressure && point.outcome >= Outcome::Unknown;
        is_open && !is_sure(point) && (asks(point) || spills(point))
    };
    let is_tested = points.iter().filter(pulls).any(|point| spills(&point));
    let is_meant = |point: &&Point<'_>| pulls(point) && (!is_tested || spills(point));
    let points: Vec<_> = points.iter().filter(is_meant).map(Point::named).collect();
    let what = if is_tested { Todo::FlueGasInRoom } else { Todo::WorstCaseTest };
    (!points.is_empty()).then(|| Task {
        kind: TaskKind::Stop,
        what: what.into(),
        effort_h: (!is_tested).then_some(SPILLAGE_MIN / 60.0),
        question: Question::House,
        settles_ratio: None,
        points,
        at: Vec::new(),
        patch: None,
    })
}

/// What is broken, by what mends it; then what is to be watched where it keeps a question from its answer.
fn mends(case: &Case<'_>, points: &[Point<'_>], answers: &[Answered]) -> Vec<Task> {
    let mut list: Vec<Task> = Vec::new();
    let is_broken =
        |point: &&Point<'_>| point.outcome == Outcome::Fails && point.question != Question::House;
    for point in points.iter().filter(is_broken) {
        let cause = cause(case, points, point);
        let is_outside = |cause: &Point<'_>| {
            [Check::TerminalFlap, Check::TerminalScreen].contains(&cause.finding.id)
        };
        if is_outlet_unseen(case, point) && !cause.is_some_and(is_outside) {
            add_mend(&mut list, &Todo::OutletFirst.into(), point, Vec::new());
        }
        let Some(what) = first_todo(cause.unwrap_or(point).finding) else { continue };
        let also = cause.map(Point::named).into_iter().collect();
        add_mend(&mut list, what, point, also);
    }
    let is_open = |question: Question| {
        let of = |answer: &Answered| answer.question == question;
        answers.iter().any(|answer| of(answer) && answer.outcome == Outcome::Unknown)
    };
    // Where nothing is broken or open, what is to be watched is what is left to do.
    let is_all_that_is_left = answers.iter().all(|answer| answer.outcome < Outcome::Unknown);
    let is_watched = |point: &&Point<'_>| {
        let counts = is_all_that_is_left || is_open(point.question);
        point.outcome == Outcome::Caution && is_mendable(point) && counts
    };
    for point in points.iter().filter(is_watched) {
        if let Some(what) = first_todo(point.finding) {
            add_mend(&mut list, what, point, Vec::new());
        }
    }
    list
}

fn add_mend(list: &mut Vec<Task>, what: &Message, point: &Point<'_>, also: Vec<NamedPoint>) {
    let points = [vec![point.named()], also].concat();
    match list.iter_mut().find(|task| task.what == *what) {
        Some(task) => task.points.extend(points),
        None => list.push(Task {
            kind: TaskKind::Mend,
            what: what.clone(),
            effort_h: None,
            question: point.question,
            settles_ratio: None,
            points,
            at: Vec::new(),
            patch: None,
        }),
    }
}

/// What makes the air of a room short, the cheapest to mend first.
const CAUSES: [Check; 6] = [
    Check::TerminalFlap,
    Check::TerminalScreen,
    Check::DuctCrushed,
    Check::DuctSizeOutlet,
    Check::DuctFlex,
    Check::ReplacementAir,
];

/// Whether a point that is only to be watched can be mended on site.
fn is_mendable(point: &Point<'_>) -> bool {
    CAUSES.contains(&point.finding.id) || point.finding.id == Check::DuctDrain
}

/// Whether air that was measured short leaves by an outlet whose flap nobody saw: the cheapest look of all.
fn is_outlet_unseen(case: &Case<'_>, short: &Point<'_>) -> bool {
    let on_the_way = on_the_way(case, &short.finding.subject);
    let is_its = |terminal: &&Terminal| on_the_way.contains(&terminal.id.as_str());
    let is_unseen = |terminal: &Terminal| given::yes(&terminal.flap_opens).is_none();
    short.finding.message.key == AIR_AS_READ
        && case.job.terminals.iter().filter(is_its).any(is_unseen)
}

/// What is known to make the air of a room short.
fn cause<'a>(case: &Case<'_>, points: &'a [Point<'a>], short: &Point<'_>) -> Option<&'a Point<'a>> {
    if short.finding.id != Check::AirflowDelivered {
        return None;
    }
    let on_the_way = on_the_way(case, &short.finding.subject);
    CAUSES.iter().find_map(|&check| {
        points.iter().find(|point| {
            point.finding.id == check
                && point.outcome >= Outcome::Caution
                && point.outcome != Outcome::Unknown
                && on_the_way.contains(&point.finding.subject.as_str())
        })
    })
}

/// A room, and the runs and terminals that its air passes.
fn on_the_way<'a>(case: &'a Case<'_>, room: &'a str) -> Vec<&'a str> {
    let job = case.job;
    let index = job.rooms.iter().position(|known| known.id == room);
    let serves = |fan: &usize| index.is_some_and(|index| rooms_of_fan(job, *fan).contains(&index));
    let runs = job.runs.iter().filter(|run| case.fans_of(run).iter().any(serves));
    let passed = runs.flat_map(|run| [run.id.as_str(), run.to.as_str()]);
    passed.chain([room]).collect()
}

/// What a finding says first, leaving out what only leads to another list.
fn first_todo(finding: &Finding) -> Option<&Message> {
    let leads_on = [Todo::LookNext.key(), Todo::LargerFanLast.key()];
    finding.todo.iter().find(|todo| !leads_on.contains(&todo.key.as_str()))
}

/// The fan or the way out that makes short air enough and breaks nothing.
fn change(case: &Case<'_>, found: &Found<'_>, answers: &[Answered]) -> Option<Task> {
    let air = answers.iter().find(|answer| answer.question == Question::Air)?;
    let is_short = air.decided_by.iter().any(|point| point.id == Check::AirflowDelivered);
    if !is_short || air.outcome < Outcome::Unknown {
        return None;
    }
    let task = |what: Message, patch| Task {
        kind: TaskKind::Change,
        what,
        effort_h: None,
        question: Question::Air,
        settles_ratio: None,
        points: air.decided_by.clone(),
        at: Vec::new(),
        patch: Some(patch),
    };
    let by_way = found.routes.iter().find(|way| way.rank == 1 && way.verdict == Verdict::Holds);
    by_way.and_then(|way| Some(task(by(way)?, way.patch.clone()))).or_else(|| {
        let suffices = |fan: &&Candidate| {
            is_enough(case, fan) && fan.notes.iter().all(|note| note.verdict < Verdict::Unknown)
        };
        let fan = found.candidates.iter().find(suffices)?;
        Some(task(with(fan)?, fan.patch.clone()))
    })
}

/// What clears a mirror sooner that is slow, unsure or complained of.
fn clear_sooner(found: &Found<'_>) -> Option<Task> {
    let sooner = found.sooner.first()?;
    Some(Task {
        kind: TaskKind::Change,
        what: sooner.what.clone(),
        effort_h: None,
        question: Question::Mirror,
        settles_ratio: None,
        points: vec![NamedPoint { id: Check::RoomClearingMirror, subject: sooner.room.clone() }],
        at: Vec::new(),
        patch: Some(sooner.patch.clone()),
    })
}

/// Whether a candidate gives enough: by its chance, or by its least air where there are too few draws to tell one.
fn is_enough(case: &Case<'_>, fan: &Candidate) -> bool {
    let gets_enough = |room: &CandidateRoom| {
        let index = case.job.rooms.iter().position(|known| known.id == room.room);
        let need = index.and_then(|index| case.required.rooms[index].flow.as_ref());
        need.is_none_or(|need| room.airflow_l_s.low >= 1000.0 * need.likely - 1e-6)
    };
    match fan.chance_enough {
        Some(chance) => chance >= case.job.settings.holds_at,
        None => fan.delivered.iter().all(gets_enough),
    }
}

fn by(way: &RouteResult) -> Option<Message> {
    let flow = Figure::AirflowLS(way.delivered.as_ref()?.airflow_l_s);
    Some(BriefWay { way: Name::new(&way.way_out), flow }.into())
}

/// With a fan: the room that gets least of it.
fn with(fan: &Candidate) -> Option<Message> {
    let likely = |flow: &Triple| flow.likely;
    let flows = fan.delivered.iter().map(|room| room.airflow_l_s);
    let least = flows.min_by(|a, b| likely(a).total_cmp(&likely(b)))?;
    Some(BriefFan { fan: Name::new(&fan.name), flow: Figure::AirflowLS(least) }.into())
}

/// What would settle something that is open, by what it settles a minute.
fn looks(found: &Found<'_>, points: &[Point<'_>]) -> Vec<Task> {
    // What is open about a drip is told of its own.
    let is_open = |point: &&Point<'_>| {
        point.outcome == Outcome::Unknown && point.finding.id != Check::DripCause
    };
    let open: Vec<&Point<'_>> = points.iter().filter(is_open).collect();
    let of = |look: &LookNext| {
        open.iter()
            .find(|point| point.finding.id == look.finding && point.finding.subject == look.subject)
            .copied()
    };
    let worth = |look: &&LookNext| look.settles_ratio >= WORTH_IT && is_key(&look.at);
    let mut list: Vec<Task> = Vec::new();
    for look in found.look_next.iter().filter(worth) {
        let Some(point) = of(look) else { continue };
        let same = |task: &&mut Task| {
            task.at == [look.at.clone()] || (is_outside(look) && is_look_round(task, &look.subject))
        };
        match list.iter_mut().find(same) {
            Some(task) => add(task, look, point),
            None => list.push(look_for(look, point)),
        }
    }
    let left: Vec<&Point<'_>> = open.into_iter().filter(|point| !is_among(&list, point)).collect();
    for task in left.into_iter().filter_map(ask) {
        match list.iter_mut().find(|known| known.what == task.what) {
            Some(known) => known.points.extend(task.points),
            None => list.push(task),
        }
    }
    sort::by(&mut list, |a, b| score(b).total_cmp(&score(a)));
    list
}

/// Whether a person can write what was found there. Spreads of tests and coefficients are none of these.
fn is_key(at: &str) -> bool {
    const NOT_WRITTEN: [&str; 5] =
        ["_band", ".coefficient", ".joints", ".leakage_in_walls", "scenario.wind"];
    !NOT_WRITTEN.iter().any(|end| at.ends_with(end))
}

/// Whether it is seen from outdoors, at the terminal.
fn is_outside(look: &LookNext) -> bool {
    look.at.starts_with("terminal.") && look.at.split('.').nth(1) == Some(&look.subject)
}

/// Whether a task is the look round a terminal.
fn is_look_round(task: &Task, terminal: &str) -> bool {
    task.at.iter().all(|at| {
        at.strip_prefix("terminal.").is_some_and(|at| at.split('.').next() == Some(terminal))
    })
}

/// One more thing that the same look settles.
fn add(task: &mut Task, look: &LookNext, point: &Point<'_>) {
    let named = point.named();
    if !task.points.contains(&named) {
        task.points.push(named);
    }
    if task.at.contains(&look.at) {
        return;
    }
    task.at.push(look.at.clone());
    let count = Count(Triple::exact(task.at.len() as f64));
    task.what = BriefLookOutlet { terminal: Name::new(&look.subject), count }.into();
    task.effort_h = Some(OUTLET_MIN / 60.0);
}

fn find_out(look: &LookNext) -> Message {
    BriefLook { what: Word::new(&look.what.key) }.into()
}

fn look_for(look: &LookNext, point: &Point<'_>) -> Task {
    Task {
        kind: TaskKind::Look,
        what: find_out(look),
        effort_h: Some(look.effort_h),
        question: point.question,
        settles_ratio: Some(look.settles_ratio),
        points: vec![point.named()],
        at: vec![look.at.clone()],
        patch: None,
    }
}

fn is_among(list: &[Task], point: &Point<'_>) -> bool {
    list.iter().any(|task| task.points.contains(&point.named()))
}

/// What an open finding asks for that no look is listed for.
fn ask(point: &Point<'_>) -> Option<Task> {
    Some(Task {
        kind: TaskKind::Look,
        what: first_todo(point.finding)?.clone(),
        effort_h: None,
        question: point.question,
        settles_ratio: None,
        points: vec![point.named()],
        at: Vec::new(),
        patch: None,
    })
}

/// Minutes that any look costs beside its own: to go there, to ask, to write it down. Judgement.
const EACH_LOOK_MIN: f64 = 10.0;

/// What a look settles a minute, weighted by its question. What can't be timed counts as a quarter of an hour.
fn score(task: &Task) -> f64 {
    let settled: f64 = task.settles_ratio.unwrap_or(1.0) * weight(task.question);
    let minutes = task.effort_h.map_or(15.0, |hours| hours * 60.0);
    settled / (minutes + EACH_LOOK_MIN)
}

/// How much an answer matters beside the others. Judgement.
const fn weight(question: Question) -> f64 {
    match question {
        Question::House => 2.0,
        Question::Air => 1.0,
        Question::Dry => 0.8,
        Question::Rules => 0.6,
        Question::Mirror | Question::Place => 0.5,
    }
}
