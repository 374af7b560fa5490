//! A way outdoors written into the job as a run, and judged with everything that the job says.

use dewpath_case::system::rooms_of_fan;
use dewpath_case::{Basis, Case};
use dewpath_job::model::{
    Above, DuctGiven, ElbowMake, Job, Part, PartKind, RunShape, Section, SlopeTo, Surroundings,
    TerminalKind,
};
use dewpath_judge::checks::air::passes;
use dewpath_judge::dry;
use dewpath_judge::look_next::share;
use dewpath_judge::verdict::settled;
use dewpath_layout::route::{ExitKind, Leg, Route, SpaceKind};
use dewpath_report::{Delivered, PatchText, SetText, Triple, Verdict};
use dewpath_units::{Angle, Choice as OneOf, Length, Origin, Stated, Style, Uncertain};

use super::ducts::{Choice, first_duct};
use super::task::{Task, apart, below, cap_word, run_of};
use crate::floor::{Floor, Gate};
use crate::place::mm;

/// Draws by which each way is judged.
const DRAWS: u32 = 256;

/// A way written into the job, and the patch that does the same to its text.
pub(super) struct Written {
    pub job: Job,
    pub patch: PatchText,
}

fn stated<T>(value: T) -> Stated<T> {
    Stated { value, origin: Origin::Assumed, date: None, photo: None, note: None }
}

fn exact(metres: f64) -> Stated<Uncertain<Length>> {
    stated(Uncertain::Exact(Length::from_m(metres)))
}

fn known<C>(value: C) -> Stated<OneOf<C>> {
    stated(OneOf::Known(value))
}

/// Writes a way into the job.
pub(super) fn written(
    task: &Task<'_>,
    floor: &Floor,
    way: usize,
    gate: &Gate,
    route: &Route,
    choice: &Choice,
) -> Written {
    let old = run_of(task);
    let mut job = task.case.job.clone();
    let (parts, texts) = parts(task, floor, gate, route, choice);
    let run = &mut job.runs[task.run];
    run.shape = RunShape::Parts(parts);
    let at = |key: &str| format!("run.{}.{key}", old.id);
    let mut set: Vec<SetText> = texts
        .into_iter()
        .map(|(id, value)| SetText { at: at(&format!("part.{id}")), value })
        .collect();
    let mut remove = written_before(old);
    let way = &task.case.job.ways_out[way];
    let terminal = way.terminal.clone().unwrap_or_else(|| old.to.clone());
    if terminal != old.to {
        set.push(SetText { at: at("to"), value: terminal.clone() });
        remove.retain(|path| *path != at("to"));
    }
    run.to.clone_from(&terminal);
    if let Some(end) = job.terminals.iter_mut().find(|end| end.id == terminal) {
        let fits = dewpath_case::given::member(&end.kind) == Some(cap(gate.kind));
        if !fits && end.model.is_none() {
            end.kind = Some(known(cap(gate.kind)));
            let at = format!("terminal.{terminal}.kind");
            set.push(SetText { at, value: cap_word(gate.kind).to_owned() });
        }
    }
    Written { job, patch: PatchText { set, remove } }
}

const fn cap(kind: ExitKind) -> TerminalKind {
    match kind {
        ExitKind::Roof => TerminalKind::RoofCap,
        ExitKind::Soffit => TerminalKind::SoffitCap,
        ExitKind::Gable => TerminalKind::GableCap,
        ExitKind::Wall | ExitKind::Rim => TerminalKind::WallCap,
    }
}

/// Paths of what the run says of its old way.
fn written_before(run: &dewpath_job::model::Run) -> Vec<String> {
    let at = |key: &str| format!("run.{}.{key}", run.id);
    match &run.shape {
        RunShape::Parts(parts) => {
            parts.iter().map(|part| at(&format!("part.{}", part.id))).collect()
        }
        RunShape::Sum(sum) => [
            ("length", sum.length.is_some()),
            ("elbows", sum.elbows.is_some()),
            ("elbow_make", sum.elbow_make.is_some()),
        ]
        .into_iter()
        .filter(|(_, written)| *written)
        .map(|(key, _)| at(key))
        .collect(),
    }
}

/// Parts in the order of the air, with their text.
fn parts(
    task: &Task<'_>,
    floor: &Floor,
    gate: &Gate,
    route: &Route,
    choice: &Choice,
) -> (Vec<Part>, Vec<(String, String)>) {
    let size = Section::Round(Length::from_m(choice.inside_m));
    let base = first_duct(run_of(task)).cloned().unwrap_or_default();
    let (mut parts, mut texts) = (Vec::new(), Vec::new());
    let mut push = |kind: PartKind, text: String| {
        let id = format!("way-{}", parts.len() + 1);
        parts.push(Part { id: id.clone(), kind });
        texts.push((id, text));
    };
    let last = route.legs.len().saturating_sub(1);
    let from_last_rise = route.legs.iter().rposition(rises).map_or(0, |rise| rise + 1);
    for (number, leg) in route.legs.iter().enumerate() {
        let through_wall = if number == last { gate.depth_m } else { 0.0 };
        let straight = apart(leg.straight[0], leg.straight[1]) + through_wall;
        let place = surroundings(task, floor, leg);
        let slope = slope(leg, number < from_last_rise);
        let jacket = base.insulation.as_ref();
        let jacket = jacket.map_or_else(String::new, |stated| {
            format!(", insulation = \"{}\"", stated.value.print(&Style::METRIC))
        });
        let duct = DuctGiven {
            kind: Some(known(choice.kind)),
            model: None,
            size: Some(known(size)),
            pulled: None,
            compression: None,
            roughness: None,
            place: Some(known(place)),
            slope: Some(known(slope)),
            ..base.clone()
        };
        let text = format!(
            "{{ piece = {{ length = \"{}\", duct = \"{}\", size = \"{}\", place = \"{}\", slope = \"{}\"{jacket} }} }}",
            mm(straight),
            word(choice.kind),
            mm(choice.inside_m),
            word(place),
            word(slope),
        );
        push(PartKind::Piece { duct, length: Some(exact(straight)) }, text);
        if let Some(bend) = route.bends.get(number) {
            let make = if bend.bend.starts_with("stamped") {
                ElbowMake::Stamped
            } else {
                ElbowMake::Adjustable
            };
            let angle = Some(stated(Uncertain::Exact(Angle::from_deg(bend.turn_deg))));
            let text = format!(
                "{{ elbow = {{ make = \"{}\", angle = \"{} deg\", size = \"{}\" }} }}",
                word(make),
                bend.turn_deg,
                mm(choice.inside_m)
            );
            push(
                PartKind::Elbow {
                    make: Some(known(make)),
                    angle,
                    radius: None,
                    size: Some(known(size)),
                },
                text,
            );
        }
    }
    (parts, texts)
}

fn word<C: dewpath_job::category::Category>(member: C) -> &'static str {
    member.word()
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
    let basis = Basis::of(job, task.case.world, draws);
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
            chance_enough: (draws > 0).then_some(chance),
            changes_per_h: changes.map(|volume| flow.with(volume, |q, v| 3600.0 * q / v).triple()),
            clearing_h: changes
                .map(|volume| flow.with(volume, |q, v| 3.0 * v / q / 3600.0).triple()),
        });
    }
    (first, worst)
}

/// Water that a winter day leaves in the duct of a way; none where it can't be said.
pub(super) fn net_winter_g(task: &Task<'_>, job: &Job) -> Option<Triple> {
    let draws = task.case.inputs.draws().min(DRAWS);
    let basis = Basis::of(job, task.case.world, draws);
    let flows = basis.flows(job).ok()?;
    // The site is the same, and so is its weather.
    let case =
        Case { weather: task.case.weather, ..basis.case(job, task.case.world, Some(&flows)) };
    dry::dry(&case).net_winter_g(task.run)
}
