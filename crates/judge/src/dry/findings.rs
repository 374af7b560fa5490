//! What the design day says: findings with their figures, workings and what to do.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::model::DoorHabit;
use dewpath_message::slot::{Count, EnergyKwh, HumidityRatio, Reference, TimeH};
use dewpath_moisture::room::ROOM;
use dewpath_report::say::{
    EngineResidual, Equation, Judgement, RoomClearing, RoomClearingKey, RoomClearingNotFollowed,
    RoomControl, RoomControlKey, RoomControlReachable, RoomControlReachableKey, RoomDryAgain,
    RoomDryAgainKey, RoomWeatherUnusable, SourceText, Todo, What,
};
use dewpath_report::{
    Check, ControlResult, Figure, Finding, Message, Provenance, Source, Step, Triple, Verdict,
    WorkingInput,
};

use super::control::{Held, set_to};
use super::day::Day;
use super::days::{Days, time};
use super::months::{hours_of, stretch};
use super::plan::{Plan, RoomPlan};
use crate::law;
use crate::verdict::by_chance;

/// A mirror should be clear within this after the shower, s. Judgement: while somebody dries and dresses.
const MIRROR_S: f64 = 1800.0;
/// A room should be back within this, s. Judgement: its air within two hours, while towels and tiles take longer; mould asks
/// for far more, and is followed through the year.
const BACK_S: f64 = 7200.0;
/// A control should have started the fan within this, s. Judgement: the room is full of vapour after five minutes.
const LATE_S: f64 = 240.0;
/// A control that has not stopped the fan within this after a shower counts as never stopping, s. Judgement.
const NEVER_STOPS_S: f64 = 4.0 * 3600.0;
/// A fan that runs less than this share of a shower has missed it. Judgement.
const MISSED: f64 = 0.5;

fn hours(t: Triple) -> TimeH {
    TimeH(t.map(|s| s / 3600.0))
}

fn by_simulation() -> Source {
    law::source(&ROOM)
}

/// The weather cannot be had.
pub(super) fn weather(why: &str) -> Finding {
    Finding::new(
        Check::WeatherUnusable,
        "site",
        Verdict::Unknown,
        RoomWeatherUnusable { why: Reference::new(why) },
        Source::judgement(Judgement::WeatherOfAYear),
    )
}

/// Size or air of a room are not known.
pub(super) fn not_followed(case: &Case<'_>, room: &RoomPlan) -> Finding {
    let id = &case.job.rooms[room.room].id;
    Finding::new(
        Check::RoomClearingMirror,
        id,
        Verdict::Unknown,
        RoomClearingNotFollowed {},
        by_simulation(),
    )
    .todo(missing_of(case, room.room))
}

/// What keeps a room from being followed.
fn missing_of(case: &Case<'_>, room: usize) -> Todo {
    let of_job = &case.job.rooms[room];
    let has_floor = given::is_known(&of_job.floor_area)
        || (given::is_known(&of_job.length) && given::is_known(&of_job.width));
    let has_size = has_floor || case.required.rooms[room].volume.is_some();
    let has_air = case.flows.is_some_and(|flows| flows.rooms[room].is_some());
    match (has_size, has_air) {
        (false, true) => Todo::SizeOfRoom,
        _ => Todo::SizeAndFan,
    }
}

/// How the first-order rule of thumb and the balance come to a time.
fn working(days: &Days, result: Figure) -> Vec<Step> {
    let input = WorkingInput::new;
    let volumes = days.sample(|d| d.volume_time_s.min(1e6)).triple();
    let first_order = Step {
        equation: "3 V / Q".into(),
        inputs: vec![input("V/Q", What::OneVolume, hours(volumes).into(), Provenance::Computed)],
        result: Some(hours(volumes.map(|s| 3.0 * s)).into()),
        source: Source::confirmed(SourceText::FirstOrderDecay, SourceText::ThreeVolumes),
    };
    let balance = Step {
        equation: ROOM.equation.into(),
        inputs: vec![
            input(
                "W_0",
                What::HumidityBefore,
                Figure::HumidityRatio(days.sample(|d| d.shower.humidity_before).triple()),
                Provenance::Computed,
            ),
            input(
                "T_out",
                What::Outdoor,
                Figure::TemperatureC(days.sample(|d| d.outdoor_c).triple()),
                Provenance::Computed,
            ),
            input(
                "out",
                What::CarriedOff,
                Figure::MassG(days.sample(|d| 1000.0 * d.shower.exhausted_kg).triple()),
                Provenance::Computed,
            ),
        ],
        result: Some(result),
        source: by_simulation(),
    };
    vec![first_order, balance]
}

/// The sentence of a verdict: that it holds, is not known, or was found wanting.
fn by_verdict<K: Copy>(verdict: Verdict, [holds, unknown, found]: [K; 3]) -> K {
    match verdict {
        Verdict::Holds => holds,
        Verdict::Unknown => unknown,
        Verdict::Caution | Verdict::Fails => found,
    }
}

/// A time of a room as a finding.
struct Timed<'a> {
    case: &'a Case<'a>,
    days: &'a Days,
    check: Check,
    of: fn(&Day) -> Option<f64>,
    limit_s: f64,
    why: Judgement,
}

impl Timed<'_> {
    fn finding(&self, id: &str, say: impl Fn(Verdict, TimeH, TimeH) -> Message) -> Finding {
        let Self { case, days, check, of, limit_s, why } = self;
        let figure = hours(days.sample(|day| time(of(day), day)).triple());
        let limit = hours(Triple::exact(*limit_s));
        let chance = days.chance(|day| of(day).is_some_and(|t| t <= *limit_s));
        let source = Source::judgement(*why);
        let verdict = by_chance(chance, Verdict::Caution, &source, &case.job.settings);
        let message = say(verdict, figure, limit);
        let mut made = Finding::new(*check, id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(case.inputs.tells_chance().then_some(chance));
        made.working = working(days, figure.into());
        if verdict == Verdict::Caution { made.todo(Todo::MoreAirOrLonger) } else { made }
    }
}

/// Mirror and room; the room behind a door that goes the other way is told in the same sentence.
pub(super) fn clearing(
    case: &Case<'_>,
    plan: &Plan,
    room: &RoomPlan,
    days: &Days,
    other_door: Option<&Day>,
) -> Vec<Finding> {
    let id = &case.job.rooms[room.room].id;
    let mirror = Timed {
        case,
        days,
        check: Check::RoomClearingMirror,
        of: |day| day.shower.mirror_time_s,
        limit_s: MIRROR_S,
        why: Judgement::ClearWhenDressed,
    };
    let keys = [RoomClearingKey::Holds, RoomClearingKey::Unknown, RoomClearingKey::Late];
    let mirror = mirror.finding(id, |verdict, time, limit| {
        RoomClearing { key: by_verdict(verdict, keys), time, limit }.into()
    });
    let back = Timed {
        case,
        days,
        check: Check::RoomClearingBackToNormal,
        of: |day| day.shower.back_time_s,
        limit_s: BACK_S,
        why: Judgement::DryBeforeNext,
    };
    let keys = [RoomDryAgainKey::Holds, RoomDryAgainKey::Unknown, RoomDryAgainKey::Late];
    let is_shut = room.door.value(&plan.inputs, Draw::Likely) == DoorHabit::Shut;
    let other = other_door.map(|day| hours(Triple::exact(time(day.shower.back_time_s, day))));
    let back = back.finding(id, |verdict, time, limit| {
        let (opened, shut) = if is_shut { (other, None) } else { (None, other) };
        RoomDryAgain { key: by_verdict(verdict, keys), time, limit, opened, shut }.into()
    });
    let mut list = vec![mirror, back];
    list.extend(residual(id, days));
    list
}

/// Water or energy that went astray: a fault of the program, said openly.
fn residual(id: &str, days: &Days) -> Option<Finding> {
    let worst = days.worst(|d| d.shower.water_residual.max(d.shower.energy_residual));
    (worst.is_nan() || worst > 1e-9).then(|| {
        Finding::new(
            Check::EngineResidual,
            id,
            Verdict::Unknown,
            EngineResidual {},
            Source::judgement(Judgement::BalancesClose),
        )
        .figure(Figure::ShareRatio(Triple::exact(if worst.is_finite() {
            worst
        } else {
            1.0
        })))
    })
}

/// What the humidity control does.
pub(super) fn control(
    case: &Case<'_>,
    room: &RoomPlan,
    days: &Days,
    result: &ControlResult,
    held: &[Held],
) -> Vec<Finding> {
    let subject = room
        .fans
        .first()
        .map_or(case.job.rooms[room.room].id.as_str(), |&fan| case.job.fans[fan].id.as_str());
    let source = || Source::judgement(Judgement::StartsAndStops);
    let judge = |finding: Check, keys, good: f64, figure: Figure, todo: Message| {
        let verdict = by_chance(good, Verdict::Caution, &source(), &case.job.settings);
        let message = RoomControl { key: by_verdict(verdict, keys), figure };
        let mut made = Finding::new(finding, subject, verdict, message, source())
            .figure(figure)
            .chance(case.inputs.tells_chance().then_some(good));
        made.working = working(days, figure);
        if verdict == Verdict::Caution { made.todo(todo) } else { made }
    };
    let before = Figure::HumidityRatio(days.sample(|d| d.shower.humidity_before).triple());
    let starts = days.chance(|d| d.shower.starts_after_s.is_some());
    let started = |d: &Day| d.shower.starts_after_s.unwrap_or(d.shower.followed_s);
    let delay = hours(days.sample(started).triple()).into();
    let mut list = Vec::new();
    let keys = [
        RoomControlKey::NeverStartsHolds,
        RoomControlKey::NeverStartsUnknown,
        RoomControlKey::NeverStartsFound,
    ];
    let todo = Todo::LowerSetPoint.into();
    let never = judge(Check::RoomControlNeverStarts, keys, starts, before, todo);
    let starts_at_all = never.verdict != Verdict::Caution;
    list.push(never);
    if starts_at_all {
        let in_time = days.chance(|d| d.shower.starts_after_s.is_some_and(|t| t <= LATE_S));
        let keys =
            [RoomControlKey::LateHolds, RoomControlKey::LateUnknown, RoomControlKey::LateFound];
        list.push(judge(Check::RoomControlLate, keys, in_time, delay, Todo::FasterSensor.into()));
        let caught = days.chance(|d| d.fan_share.iter().skip(1).all(|share| *share >= MISSED));
        if days.likely.fan_share.len() > 1 {
            let share = |d: &Day| d.fan_share.iter().copied().fold(1.0, f64::min);
            let least = Figure::ShareRatio(days.sample(share).triple());
            let keys = [
                RoomControlKey::MissedShowerHolds,
                RoomControlKey::MissedShowerUnknown,
                RoomControlKey::MissedShowerFound,
            ];
            let todo = Todo::LongerRun.into();
            list.push(judge(Check::RoomControlMissedShower, keys, caught, least, todo));
        }
    }
    let stops = days.chance(|d| {
        d.shower.starts_after_s.is_none()
            || d.shower.stops_after_s.is_some_and(|t| t <= NEVER_STOPS_S)
    });
    let keys = [
        RoomControlKey::NeverStopsHolds,
        RoomControlKey::NeverStopsUnknown,
        RoomControlKey::NeverStopsFound,
    ];
    list.push(judge(Check::RoomControlNeverStops, keys, stops, before, raise(result)));
    list.extend(reachable(room, subject, result, held));
    list
}

/// What lets a control stop that keeps its fan on.
fn raise(result: &ControlResult) -> Message {
    match result.set_point_ratio {
        Some(at) if !result.reachable.is_empty() => {
            set_to(result.would_do_ratio, at, &out_of_reach(result))
        }
        _ => Todo::RaiseSetPoint.into(),
    }
}

/// Months in which the set-point is not reached.
fn out_of_reach(result: &ControlResult) -> Vec<bool> {
    result.reachable.iter().map(|reached| !reached).collect()
}

/// Whether the set-point can be reached, month by month.
fn reachable(
    room: &RoomPlan,
    subject: &str,
    result: &ControlResult,
    held: &[Held],
) -> Option<Finding> {
    let set_point = HumidityRatio(Triple::exact(result.set_point_ratio?));
    if result.reachable.is_empty() {
        return None;
    }
    let missed = out_of_reach(result);
    let months = missed.iter().filter(|missed| !**missed).count();
    let lowest = result.lowest_humidity_ratio.iter().copied().fold(0.0, f64::max);
    let figure = HumidityRatio(Triple::exact(lowest));
    let (verdict, key) = if months == 12 {
        (Verdict::Holds, RoomControlReachableKey::Holds)
    } else {
        (Verdict::Caution, RoomControlReachableKey::Found)
    };
    // What the fan takes in the months through which the control holds it on.
    let kwh = |power: &dyn Fn(usize) -> f64| {
        let in_month = |month: usize| 0.001 * power(month) * hours_of(month);
        let all = (0..missed.len()).filter(|month| missed[*month]);
        EnergyKwh(Triple::exact(all.map(in_month).sum()))
    };
    let (first, last) = stretch(&missed);
    let message = RoomControlReachable {
        key,
        months: Count(Triple::exact(months as f64)),
        first,
        last,
        lowest: figure,
        set_point,
        made_up: kwh(&|month| held[month].made_up_w),
        electricity: room.control.power_w.map(|power| kwh(&|_| power)),
    };
    let source = Source::judgement(Judgement::CanStop);
    let mut made = Finding::new(Check::RoomControlReachable, subject, verdict, message, source)
        .figure(figure)
        .limit(set_point);
    made.working.push(Step {
        equation: Equation::LowestHeldOn.into(),
        inputs: vec![WorkingInput::new(
            "set",
            What::SetPoint,
            set_point.into(),
            Provenance::Written,
        )],
        result: Some(figure.into()),
        source: by_simulation(),
    });
    if verdict == Verdict::Caution {
        made = made.todo(raise(result));
    }
    Some(made)
}
