//! What to do next: at most three things, each of which stops a danger, mends, changes or settles something.
//!
//! Stops come first, then what is broken, then what is open by what it settles a minute, weighted by its question. Where a
//! change of the job makes short air enough, one is always among the three.

use dewpath_case::Case;
use dewpath_message::slot::{Count, Name, Word};
use dewpath_report::say::{BriefFan, BriefLook, BriefLookOutlet, BriefWay, Todo};
use dewpath_report::{
    Answered, Candidate, Check, Figure, Finding, LookNext, Message, Outcome, Question, RouteResult,
    Task, TaskKind, Triple, Verdict,
};
use dewpath_units::sort;

use super::point::{Found, Point};

/// Things to do that are told.
const MOST: usize = 3;
/// Least share of the draws in which a look must settle something to be worth the way.
const WORTH_IT: f64 = 0.05;
/// Minutes for one look round an outlet, whatever is looked at there. Judgement.
const OUTLET_MIN: f64 = 10.0;
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
    list.extend(mends(points));
    let change = change(case, found, answers);
    list.extend(looks(found, points));
    put_in(&mut list, change);
    list.truncate(MOST);
    list
}

/// A change stands behind what is stopped and mended, and is never crowded out.
fn put_in(list: &mut Vec<Task>, change: Option<Task>) {
    let Some(change) = change else { return };
    let before = list.iter().filter(|task| task.kind < TaskKind::Change).count();
    list.insert(before.min(MOST - 1), change);
}

/// Fans that may pull on what burns: tested before anything else is done.
fn stop(case: &Case<'_>, points: &[Point<'_>]) -> Option<Task> {
    let is_sure = |point: &Point<'_>| {
        point.finding.chance.is_some_and(|chance| chance >= case.job.settings.holds_at)
    };
    let pulls = |point: &&Point<'_>| {
        let is_open = point.finding.id == Check::HousePressure && point.outcome >= Outcome::Unknown;
        is_open && !is_sure(point)
    };
    let points: Vec<_> = points.iter().filter(pulls).map(Point::named).collect();
    (!points.is_empty()).then(|| Task {
        kind: TaskKind::Stop,
        what: Todo::WorstCaseTest.into(),
        effort_h: Some(SPILLAGE_MIN / 60.0),
        question: Question::House,
        settles_ratio: None,
        points,
        at: Vec::new(),
        patch: None,
    })
}

/// What is broken, by what mends it.
fn mends(points: &[Point<'_>]) -> Vec<Task> {
    let mut list: Vec<Task> = Vec::new();
    let broken =
        |point: &&Point<'_>| point.outcome == Outcome::Fails && point.question != Question::House;
    for point in points.iter().filter(broken) {
        let Some(what) = first_todo(point.finding) else { continue };
        match list.iter_mut().find(|task| task.what == *what) {
            Some(task) => task.points.push(point.named()),
            None => list.push(Task {
                kind: TaskKind::Mend,
                what: what.clone(),
                effort_h: None,
                question: point.question,
                settles_ratio: None,
                points: vec![point.named()],
                at: Vec::new(),
                patch: None,
            }),
        }
    }
    list
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
            fan.chance_enough.is_some_and(|chance| chance >= case.job.settings.holds_at)
                && fan.notes.iter().all(|note| note.verdict < Verdict::Unknown)
        };
        let fan = found.candidates.iter().find(suffices)?;
        Some(task(with(fan)?, fan.patch.clone()))
    })
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
    let open: Vec<&Point<'_>> =
        points.iter().filter(|point| point.outcome == Outcome::Unknown).collect();
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
    list.extend(left.into_iter().filter_map(ask));
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

fn look_for(look: &LookNext, point: &Point<'_>) -> Task {
    Task {
        kind: TaskKind::Look,
        what: BriefLook { what: Word::new(&look.what.key) }.into(),
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

/// What a look settles a minute, weighted by its question. What can't be timed counts as a quarter of an hour.
fn score(task: &Task) -> f64 {
    let settled: f64 = task.settles_ratio.unwrap_or(1.0) * weight(task.question);
    let minutes = task.effort_h.map_or(15.0, |hours| hours * 60.0);
    settled / minutes.max(1.0)
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
