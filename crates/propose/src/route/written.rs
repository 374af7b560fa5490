//! A way outdoors written into the job as a run, and judged with everything that the job says.

use dewpath_case::system::rooms_of_fan;
use dewpath_case::{Basis, Case, given};
use dewpath_job::diff;
use dewpath_job::edit::Edit;
use dewpath_job::model::{
    Above, DuctGiven, ElbowMake, Job, Part, PartKind, Run, RunShape, Section, SlopeTo,
    Surroundings, TerminalKind, WayOut,
};
use dewpath_judge::checks::air::passes;
use dewpath_judge::dry;
use dewpath_judge::look_next::share;
use dewpath_judge::verdict::settled;
use dewpath_layout::route::{ExitKind, Leg, Route, SpaceKind};
use dewpath_report::{Delivered, Triple, Verdict};
use dewpath_units::{Angle, Length};

use super::ducts::{Choice, first_duct};
use super::task::{Task, apart, below, run_of};
use crate::edit::{exact, known, length};
use crate::floor::{Floor, Gate};

/// Draws by which each way is judged.
const DRAWS: u32 = 256;

/// Writes a way into the job: as the run, with the terminal that it leads to.
pub(super) fn written(
    task: &Task<'_>,
    floor: &Floor,
    way: &WayOut,
    gate: &Gate,
    route: &Route,
    choice: &Choice,
) -> Edit {
    let Case { job, world, .. } = *task.case;
    // A hand that drags a housing has a way written at every step.
    let text = floor.written.get_or_init(|| diff::values("", &world.job_text).unwrap_or_default());
    let show = job.show;
    Edit::of(job, text, |job| {
        let run = &mut job.runs[task.run];
        run.shape = RunShape::Parts(parts(task, floor, gate, route, choice));
        // What was seen and found of the old way is not known of the new one; how far that rises is.
        run.seen = None;
        run.rise = run.rise.take().map(|_| exact(length(rise(route), show)));
        let of_run = format!("run.{}.", run.id);
        job.built.retain(|built| !built.at.starts_with(&of_run));
        if let Some(terminal) = &way.terminal {
            run.to.clone_from(terminal);
        }
        let cap = cap(gate.kind);
        let end = job.terminals.iter_mut().find(|end| end.id == run.to);
        if let Some(end) =
            end.filter(|end| end.model.is_none() && given::member(&end.kind) != Some(cap))
        {
            end.kind = Some(known(cap));
        }
    })
}

/// From the outlet of the housing to the end, m.
fn rise(route: &Route) -> f64 {
    let ends = route.legs.first().zip(route.legs.last());
    ends.map_or(0.0, |(first, last)| last.to[2] - first.from[2])
}

/// What such a way out ends in.
pub(super) const fn cap(kind: ExitKind) -> TerminalKind {
    match kind {
        ExitKind::Roof => TerminalKind::RoofCap,
        ExitKind::Soffit => TerminalKind::SoffitCap,
        ExitKind::Gable => TerminalKind::GableCap,
        ExitKind::Wall | ExitKind::Rim => TerminalKind::WallCap,
    }
}

/// Parts in the order of the air, with ids that the run did not have before.
fn parts(task: &Task<'_>, floor: &Floor, gate: &Gate, route: &Route, choice: &Choice) -> Vec<Part> {
    let run = run_of(task);
    let show = task.case.job.show;
    // A size is that of a product, whatever the units of the job.
    let size = Some(known(Section::Round(Length::from_m(choice.inside_m))));
    let mut kinds = Vec::new();
    let last = route.legs.len().saturating_sub(1);
    let from_last_rise = route.legs.iter().rposition(rises).map_or(0, |rise| rise + 1);
    for (number, leg) in route.legs.iter().enumerate() {
        let through_wall = if number == last { gate.depth_m } else { 0.0 };
        let straight = apart(leg.straight[0], leg.straight[1]) + through_wall;
        let duct = DuctGiven {
            kind: Some(known(choice.kind)),
            size: size.clone(),
            place: Some(known(surroundings(task, floor, leg))),
            slope: Some(known(slope(leg, number < from_last_rise))),
            ..DuctGiven::default()
        };
        kinds.push(PartKind::Piece {
            duct: as_before(duct, run),
            length: Some(exact(length(straight, show))),
        });
        if let Some(bend) = route.bends.get(number) {
            kinds.push(PartKind::Elbow {
                make: Some(known(make(&bend.bend))),
                angle: Some(exact(Angle::from_deg(bend.turn_deg))),
                radius: None,
                size: size.clone(),
            });
        }
    }
    let is_new = |id: &String| match &run.shape {
        RunShape::Parts(parts) => parts.iter().all(|part| part.id != *id),
        RunShape::Sum(_) => true,
    };
    let ids = (1_u32..).map(|number| format!("way-{number}")).filter(is_new);
    ids.zip(kinds).map(|(id, kind)| Part { id, kind }).collect()
}

/// A new duct with what its fitter does again as on the old one (insulation, jacket, supports, cover; of the same kind also the
/// wall), without what was found of that: how it was pulled, and where its insulation was squeezed.
fn as_before(mut new: DuctGiven, run: &Run) -> DuctGiven {
    if let Some(old) = first_duct(run) {
        new.complete_from(&DuctGiven {
            pulled: None,
            compression: None,
            compressed: None,
            ..old.clone()
        });
    }
    new
}

/// How an elbow of the search is made.
pub(super) fn make(bend: &str) -> ElbowMake {
    if bend.starts_with("stamped") { ElbowMake::Stamped } else { ElbowMake::Adjustable }
}

/// A leg that rises or falls by less is level, m.
pub(super) const LEVEL_M: f64 = 1e-3;

fn rises(leg: &Leg) -> bool {
    leg.to[2] - leg.from[2] > LEVEL_M
}

/// What rises runs back. Level pieces are laid to fall outdoors, unless the duct rises behind them: those stay level.
fn slope(leg: &Leg, is_before_rise: bool) -> SlopeTo {
    if rises(leg) {
        SlopeTo::Back
    } else if is_before_rise && leg.from[2] - leg.to[2] <= LEVEL_M {
        SlopeTo::Level
    } else {
        SlopeTo::Out
    }
}

fn surroundings(task: &Task<'_>, floor: &Floor, leg: &Leg) -> Surroundings {
    let spaces: Vec<&str> = leg.through.iter().map(String::as_str).collect();
    let of = |name: &str| match floor.spaces.iter().find(|space| space.id == name) {
        Some(space) => match space.kind {
            SpaceKind::Attic => Surroundings::Attic,
            SpaceKind::Crawl => Surroundings::CrawlSpace,
            SpaceKind::Chase | SpaceKind::LoweredSoffit | SpaceKind::Opening => {
                Surroundings::Heated
            }
        },
        None => match below(task.case.job, floor, name) {
            Some(Above::Attic | Above::FlatRoof) => Surroundings::Buried,
            Some(Above::Heated | Above::Dwelling) | None => Surroundings::JoistBay,
        },
    };
    // The coldest of what it passes.
    let rank = |s: &Surroundings| match s {
        Surroundings::Attic => 0,
        Surroundings::CrawlSpace => 1,
        Surroundings::Buried => 2,
        Surroundings::JoistBay => 3,
        _ => 4,
    };
    spaces.into_iter().map(of).min_by_key(rank).unwrap_or(Surroundings::JoistBay)
}

/// Air that the rooms of the fan get by this way, and whether it is enough.
pub(super) fn judged(task: &Task<'_>, job: &Job) -> (Option<Delivered>, Verdict) {
    let draws = task.case.inputs.draws().min(DRAWS);
    let basis = Basis::beside(task.case, job, draws);
    let Ok(flows) = basis.flows(job) else { return (None, Verdict::Unknown) };
    let required = &basis.required;
    let rooms = rooms_of_fan(job, task.start.fan);
    let mut worst = Verdict::Holds;
    let mut first = None;
    for &room in &rooms {
        let (Some(flow), Some(need)) =
            (flows.rooms[room].as_ref(), required.rooms[room].flow.as_ref())
        else {
            return (None, Verdict::Unknown);
        };
        let chance = if draws == 0 {
            f64::from(u8::from(flow.likely >= need.likely))
        } else {
            share(&passes(flow, need))
        };
        let verdict = match settled(chance, &job.settings) {
            Some(true) => Verdict::Holds,
            Some(false) => Verdict::Fails,
            None => Verdict::Unknown,
        };
        worst = worst.max(verdict);
        let changes = required.rooms[room].volume.as_ref();
        first.get_or_insert_with(|| Delivered {
            airflow_l_s: flow.litres(),
            mass_kg_s: flow.with(&flows.density, |q, rho| q * rho).triple(),
            chance_enough: task.case.inputs.tells_chance().then_some(chance),
            changes_per_h: changes.map(|volume| flow.with(volume, |q, v| 3600.0 * q / v).triple()),
            clearing_h: changes
                .map(|volume| flow.with(volume, |q, v| 3.0 * v / q / 3600.0).triple()),
        });
    }
    (first, worst)
}

/// Water of a winter day that does not get out of the duct of a way; none where it can't be said.
pub(super) fn stays_g(task: &Task<'_>, job: &Job) -> Option<Triple> {
    let draws = task.case.inputs.draws().min(DRAWS);
    let basis = Basis::beside(task.case, job, draws);
    let flows = basis.flows(job).ok()?;
    // The site is the same, and so is its weather.
    let case =
        Case { weather: task.case.weather, ..basis.case(job, task.case.world, Some(&flows)) };
    dry::dry(&case).stays_g(task.run)
}
