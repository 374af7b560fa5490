//! What the search found, in a finding: a way, or why there is none and what would open one.

use dewpath_case::system::rooms_of_fan;
use dewpath_case::{Case, given};
use dewpath_job::model::{DuctGiven, DuctKind, Given, PartKind, Run, RunShape, Section};
use dewpath_layout::geometry::Block;
use dewpath_layout::route::{Offer, Offers, Opening as Opens, Relaxed, Space, SpaceKind, why_none};
use dewpath_message::slot::{AirflowLS, Count, LengthM, Name, PressurePa, Reference, TimeH, Word};
use dewpath_report::say::{
    RouteOpens, RouteOpensKey, RouteOut, RouteOutApart, RouteOutKey, RouteOutNoDuct, RouteOutNone,
    RouteOutNotSearchedThrough, Todo, TodoBoreRefused, TodoDuctReaches, TodoMeasureBetween,
    TodoNotSearched,
};
use dewpath_report::{Check, Finding, Message, RouteResult, Source, Triple, Verdict};
use dewpath_units::Length;

use super::ducts::{self, Choice};
use super::search::{exits, with_ways};
use super::task::{Task, length, run_of};
use crate::floor::{Apart, Floor, Gate};

/// Height of a lowered soffit that could be built below the ceiling, m. Judgement.
const SOFFIT_M: f64 = 0.25;
/// Work to build it, h. Judgement.
const SOFFIT_H: f64 = 8.0;

pub(super) fn source() -> Source {
    Source::judgement("search over the geometry that is written, members bored only where allowed")
}

pub(super) fn unknown(fan: &str, message: Message) -> Finding {
    Finding::new(Check::RouteOut, fan, Verdict::Unknown, message, source())
}

pub(super) fn out(task: &Task<'_>, fan: &str, results: &[RouteResult]) -> Finding {
    let first = &results[0];
    let run = AsWritten::of(run_of(task)).filter(|run| run.differs(first));
    let air = run.as_ref().and_then(|_| air_as_written(task));
    let show = task.case.job.show;
    let named = |size_m| Reference::new(ducts::size_name(Length::from_m(size_m), show));
    let key = match first.verdict {
        Verdict::Holds => RouteOutKey::Holds,
        Verdict::Fails => RouteOutKey::Short,
        Verdict::Unknown | Verdict::Caution => RouteOutKey::Unsure,
    };
    let hours = TimeH(Triple::exact(first.labour_h));
    let loss = PressurePa(Triple::exact(first.loss_pa));
    let elbows = Count(Triple::exact(first.elbows.len() as f64));
    let message = RouteOut {
        key,
        ways: Count(Triple::exact(results.len() as f64)),
        way: Reference::new(&first.way_out),
        duct: Reference::new(&first.duct),
        length: length(first.length_m),
        elbows,
        hours,
        loss,
        size: run.as_ref().map(|_| named(first.size_m)),
        air: first.delivered.filter(|_| air.is_some()).map(|air| AirflowLS(air.airflow_l_s)),
        run_length: run.as_ref().map(|run| LengthM(run.length_m)),
        run_size: run.as_ref().map(|run| named(run.size_m)),
        run_elbows: run.as_ref().map(|run| Count(run.elbows)),
        run_air: air,
    };
    // A way that is short of air is no broken rule of the job as written: the run it has is judged elsewhere.
    let verdict = if first.verdict == Verdict::Fails { Verdict::Caution } else { first.verdict };
    let mut made = Finding::new(Check::RouteOut, fan, verdict, message, source()).figure(loss);
    made.working.clone_from(&first.working);
    made
}

/// What is joined to no way out in what is written is told without a search: no size of duct, no hole and no soffit below the ceiling
/// changes it.
pub(super) fn apart(task: &Task<'_>, floor: &Floor, gates: &[(usize, Gate)]) -> Option<Finding> {
    let job = task.case.job;
    let window = |(way, gate): &(usize, Gate)| (job.ways_out[*way].id.as_str(), gate.window);
    let windows: Vec<(&str, Block)> = gates.iter().map(window).collect();
    let soffit = lowered_soffit(floor).map(|soffit| soffit.clear);
    let Apart { from, to, gap_m } = floor.apart(task.start.outlet, &windows, soffit)?;
    let (from, to) = (Reference::new(from), Reference::new(to));
    let measure = TodoMeasureBetween { from: from.clone(), to: to.clone() };
    let message = Message::from(RouteOutApart { from, to, gap: length(gap_m) });
    let fan = &job.fans[task.start.fan].id;
    Some(unknown(fan, message).todo(measure).todo(Todo::OtherWayOut))
}

/// Lengths that differ by less are the same way for a hand that cuts it, m and share: 1 ft, a tenth. Judgement.
const SAME_LENGTH_M: f64 = 0.3048;
const SAME_LENGTH_RATIO: f64 = 0.1;

/// A run as the job writes it, where that can be laid beside a way: length, one size and the number of elbows.
struct AsWritten {
    length_m: Triple,
    size_m: f64,
    elbows: Triple,
}

impl AsWritten {
    /// None where one of the three is not written.
    fn of(run: &Run) -> Option<Self> {
        let (ducts, lengths, elbows): (Vec<&DuctGiven>, Vec<&Given<Length>>, _) = match &run.shape {
            RunShape::Sum(sum) => {
                let (low, high) = given::count_bounds(&sum.elbows)?;
                let [low, high] = [low, high].map(f64::from);
                let elbows = Triple { low, likely: 0.5 * (low + high), high };
                (vec![&sum.duct], vec![&sum.length], elbows)
            }
            RunShape::Parts(parts) => {
                let pieces = parts.iter().filter_map(|part| match &part.kind {
                    PartKind::Piece { duct, length } => Some((duct, length)),
                    _ => None,
                });
                let (ducts, lengths) = pieces.unzip();
                let is_elbow = |kind: &PartKind| matches!(kind, PartKind::Elbow { .. });
                let elbows = parts.iter().filter(|part| is_elbow(&part.kind)).count();
                (ducts, lengths, Triple::exact(elbows as f64))
            }
        };
        let mut sizes = ducts.iter().map(|duct| match given::member(&duct.size) {
            Some(Section::Round(size)) => Some(size.m()),
            _ => None,
        });
        let size_m = sizes.next()??;
        sizes.all(|size| size.is_some_and(|size| is_size(size, size_m))).then_some(())?;
        let mut length_m = Triple::exact(0.0);
        for length in lengths {
            let (low, high) = given::bounds(length)?;
            length_m.low += low.m();
            length_m.likely += given::likely(length)?.m();
            length_m.high += high.m();
        }
        Some(Self { length_m, size_m, elbows })
    }

    /// Whether a way is another run than this one: by its size, its elbows, or more of its length than a hand is off by.
    fn differs(&self, way: &RouteResult) -> bool {
        let length = self.length_m.likely;
        let same = SAME_LENGTH_M.max(SAME_LENGTH_RATIO * length);
        let elbows = way.elbows.len() as f64;
        !is_size(self.size_m, way.size_m)
            || !(self.elbows.low..=self.elbows.high).contains(&elbows)
            || (way.length_m - length).abs() > same
    }
}

fn is_size(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-4
}

/// What the first room of the fan gets by the run as it is written.
fn air_as_written(task: &Task<'_>) -> Option<AirflowLS> {
    let Case { job, flows, .. } = *task.case;
    let room = *rooms_of_fan(job, task.start.fan).first()?;
    Some(AirflowLS(flows?.rooms.get(room)?.as_ref()?.litres()))
}

/// Nothing leads outdoors: what would open a way, found by searching again with it.
pub(super) fn no_way(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: Option<&Choice>,
    is_whole: bool,
) -> Finding {
    let fan = &task.case.job.fans[task.start.fan].id;
    let none = || Finding::new(Check::RouteOut, fan, Verdict::Fails, RouteOutNone {}, source());
    // That no way was found proves nothing where not every place was looked at.
    let unsure = |why: Option<&String>, reached: Option<&String>| {
        let (why, reached) = (why.map(Word::new), reached.map(Reference::new));
        unknown(fan, Message::from(RouteOutNotSearchedThrough { why, reached }))
    };
    let Some(choice) = choice else {
        return unknown(fan, Message::from(RouteOutNoDuct {}));
    };
    let offers = offers(task, floor, choice);
    let exits = exits(task, gates, choice);
    let told = with_ways(task, floor, &exits, |ways, may_bore| {
        why_none(ways, &choice.duct, may_bore, &offers)
    });
    let told = match told {
        Ok(Some(told)) => told,
        _ if !is_whole => {
            return unsure(None, None).todo(Todo::LessFloor).todo(Todo::OtherWayOut);
        }
        Ok(None) => return none(),
        // That there is no way was found before; only what would open one was not.
        Err(wrong) => {
            return none()
                .todo(TodoNotSearched { told: Name::new(wrong.to_string()) })
                .todo(Todo::OtherWayOut);
        }
    };
    // What merely stands in the way of a leg that does not cross squarely is no refusal of a bore.
    let is_refusal = |reason: &&String| reason.starts_with("bore-");
    let refused: Vec<&String> = told.blocked.forbidden.iter().filter(is_refusal).take(2).collect();
    let reached = told.blocked.reached.last();
    let mut made = if is_whole { none() } else { unsure(refused.first().copied(), reached) };
    for opening in told.openings.iter().take(3) {
        made = made.todo(opens(opening));
    }
    for reason in refused {
        made = made.todo(TodoBoreRefused { why: Word::new(reason.as_str()) });
    }
    if let Some(reached) = reached {
        made = made.todo(TodoDuctReaches { reached: Reference::new(reached) });
    }
    // What nobody wrote can't be searched: other walls and the roof come last.
    made.todo(Todo::OtherWayOut)
}

fn opens(opening: &Opens) -> Message {
    let (key, id) = match &opening.relaxed {
        Relaxed::SmallerDuct(id) => (RouteOpensKey::Smaller, id),
        Relaxed::OvalDuct(id) => (RouteOpensKey::Oval, id),
        Relaxed::Space(id) => (RouteOpensKey::Space, id),
        Relaxed::Exit(id) => (RouteOpensKey::Exit, id),
        Relaxed::Obstacle(id) => (RouteOpensKey::Obstacle, id),
    };
    let loss = PressurePa(Triple::exact(opening.route.pressure_pa));
    let way = Reference::new(&opening.route.exit);
    RouteOpens { key, id: Reference::new(id), way, loss }.into()
}

/// What could be changed: smaller and oval ducts, a soffit below the ceiling, obstacles out of the way.
fn offers(task: &Task<'_>, floor: &Floor, choice: &Choice) -> Offers {
    let show = task.case.job.show;
    let smaller = ducts::bath_sizes(show)
        .into_iter()
        .filter(|size| size.m() < choice.inside_m - 1e-3)
        .filter_map(|size| {
            let (name, jacket_m) = (ducts::size_name(size, show), task.left * task.jacket_m);
            ducts::choice(name, DuctKind::SmoothMetal, size.m(), task.flow_m3_s, jacket_m)
        })
        .map(|c| Offer { what: c.duct, labour_h: Some(0.0) })
        .collect();
    // An oval of the same circumference, three inches high inside.
    let high = 0.0762;
    let wide =
        choice.inside_m * std::f64::consts::FRAC_PI_2 + high * (1.0 - std::f64::consts::FRAC_PI_2);
    let ovals = (wide > high)
        .then(|| {
            let mut duct = choice.duct.clone();
            let around = duct.outside_m - choice.inside_m;
            let [long, short] =
                [wide, high].map(|side| ducts::size_name(Length::from_m(side), show));
            duct.id = format!("{long} x {short}");
            duct.height_m = Some(high + around);
            duct.outside_m = wide + around;
            duct.hole_m = duct.hole_m.max(duct.outside_m);
            Offer { what: duct, labour_h: Some(0.5) }
        })
        .into_iter()
        .collect();
    let spaces = lowered_soffit(floor).map(|what| Offer { what, labour_h: Some(SOFFIT_H) });
    Offers {
        smaller,
        ovals,
        spaces: spaces.into_iter().collect(),
        exits: Vec::new(),
        obstacles: (0..floor.obstacles.len()).map(|i| Offer { what: i, labour_h: None }).collect(),
    }
}

/// The whole underside of the ceiling, a soffit's height down.
fn lowered_soffit(floor: &Floor) -> Option<Space> {
    let first = floor.zones.first()?.1.space;
    let all = floor.zones.iter().fold(first, |all, (_, zone)| Block {
        min: std::array::from_fn(|i| all.min[i].min(zone.space.min[i])),
        max: std::array::from_fn(|i| all.max[i].max(zone.space.max[i])),
    });
    let clear = Block {
        min: [all.min[0], all.min[1], all.min[2] - SOFFIT_M],
        max: [all.max[0], all.max[1], all.min[2]],
    };
    Some(Space { id: "lowered soffit".to_owned(), kind: SpaceKind::LoweredSoffit, clear })
}
