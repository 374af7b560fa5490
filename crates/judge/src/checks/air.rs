//! Does each room get enough air, by what the run really lets through?

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::require;
use dewpath_case::sample::Sample;
use dewpath_case::system::spec::Owner;
use dewpath_message::slot::{AirflowLS, ChanceRatio, Name, PressurePa, TimeH, Word};
use dewpath_report::say::{
    AirflowDelivered, AirflowDeliveredIdle, AirflowDeliveredKey, AirflowDeliveredNothingRequired,
    AirflowNone, AirflowNoneKey, Judgement, Todo, TodoLargestLoss,
};
use dewpath_report::{Check, Finding, LookNext, Message, Source, Standing, Step, Triple, Verdict};
use dewpath_units::sort;

use crate::look_next::share;
use crate::verdict::by_chance_at;
use crate::verdict::confirm_source;

/// Findings on delivered air, with what to look at next for those that are open.
pub fn delivered(case: &Case<'_>) -> (Vec<Finding>, Vec<LookNext>) {
    let mut findings = Vec::new();
    let mut looks = Vec::new();
    for (index, room) in case.job.rooms.iter().enumerate() {
        let need = &case.required.rooms[index];
        let flow = case.flows.and_then(|flows| flows.rooms[index].as_ref());
        let name = require::name(room);
        let (finding, passes) = match (flow, &need.flow) {
            (Some(_), _) if stands_still(case, index) => (idle(case, index, &name), Vec::new()),
            (Some(flow), Some(required)) => measured(case, index).map_or_else(
                || {
                    let passes = passes(flow, required);
                    (judge(case, index, &name, flow, required, &passes), passes)
                },
                |finding| (finding, Vec::new()),
            ),
            (Some(flow), None) => {
                let finding = super::evidence::measured_alone(case, index);
                (finding.unwrap_or_else(|| no_requirement(case, index, &name, flow)), Vec::new())
            }
            (None, _) => (no_flow(case, index, &name), Vec::new()),
        };
        if finding.verdict == Verdict::Unknown && !passes.is_empty() {
            let open = crate::look_next::Open {
                finding: finding.id,
                subject: &finding.subject,
                passes: &passes,
            };
            let settings = &case.job.settings;
            let mut ranked = crate::look_next::rank(&open, case.inputs, settings);
            if let (Some(flow), Some(required)) = (flow, &need.flow) {
                let over = flow.with(required, |has, needs| has / needs).draws;
                ranked.push(crate::look_next::measure_flow(&open, &room.id, &over, settings));
            }
            sort::by(&mut ranked, |a, b| {
                (b.settles_ratio / b.effort_h).total_cmp(&(a.settles_ratio / a.effort_h))
            });
            looks.extend(ranked);
        }
        findings.push(finding);
    }
    (findings, looks)
}

/// The air of a room as it was measured, with what to do where it is short.
fn measured(case: &Case<'_>, index: usize) -> Option<Finding> {
    let mut finding = super::evidence::measured(case, index)?;
    if finding.verdict == Verdict::Fails {
        finding.todo.extend(todo(case, index, Verdict::Fails));
        finding.todo.push(Todo::MeasureAgain.into());
    }
    Some(finding)
}

/// Whether the only fans of a room are said to stand still in the reference case.
fn stands_still(case: &Case<'_>, index: usize) -> bool {
    let mut fans = (0..case.job.fans.len())
        .filter(|&fan| dewpath_case::system::rooms_of_fan(case.job, fan).contains(&index))
        .map(|fan| given::yes(&case.job.fans[fan].running) == Some(false))
        .peekable();
    fans.peek().is_some() && fans.all(|idle| idle)
}

/// A room whose fan stands still: what it would get is asked by letting it run.
fn idle(case: &Case<'_>, index: usize, name: &str) -> Finding {
    Finding::new(
        Check::AirflowDelivered,
        &case.job.rooms[index].id,
        Verdict::Unknown,
        AirflowDeliveredIdle { room: Name::new(name) },
        case.required.rooms[index].source.clone(),
    )
    .todo(Todo::LetRun)
}

/// Whether the room gets enough, draw by draw; the likely values alone when there are no draws.
pub fn passes(flow: &Sample, required: &Sample) -> Vec<bool> {
    let both = flow.with(required, |has, needs| has - needs);
    // A hair of rounding is not a shortfall.
    let enough = |over: f64| over >= -1e-9;
    if both.draws.is_empty() {
        vec![enough(both.likely)]
    } else {
        both.draws.iter().map(|&over| enough(over)).collect()
    }
}

fn judge(
    case: &Case<'_>,
    index: usize,
    name: &str,
    flow: &Sample,
    required: &Sample,
    passes: &[bool],
) -> Finding {
    let room = &case.job.rooms[index];
    let need = &case.required.rooms[index];
    let chance = share(passes);
    let at = |strict: f64| {
        if strict > 1.0 {
            share(&self::passes(flow, &required.map(|q| strict * q)))
        } else {
            chance
        }
    };
    let verdict = by_chance_at(at, Verdict::Fails, &need.source, &case.job.settings);
    let figure = AirflowLS(flow.litres());
    let limit = AirflowLS(required.litres());
    let key = match verdict {
        Verdict::Holds => AirflowDeliveredKey::Holds,
        Verdict::Fails | Verdict::Caution => AirflowDeliveredKey::Fails,
        Verdict::Unknown if need.source.standing == Standing::FromMemory => {
            AirflowDeliveredKey::Memory
        }
        Verdict::Unknown => AirflowDeliveredKey::Unknown,
    };
    let told = case.inputs.tells_chance().then_some(chance);
    let message = AirflowDelivered {
        key,
        room: Name::new(name),
        flow: figure,
        required: limit,
        chance: told.map(|chance| ChanceRatio(Triple::exact(chance))),
        clearing: clearing(need.volume.as_ref(), flow).map(TimeH),
    };
    let mut finding =
        Finding::new(Check::AirflowDelivered, &room.id, verdict, message, need.source.clone())
            .figure(figure)
            .limit(limit);
    finding.chance = told;
    finding.working.clone_from(&need.working);
    finding.working.extend(balance(case, index));
    finding.todo = todo(case, index, verdict);
    finding.todo.extend(confirm_source(&need.source, verdict));
    finding
}

/// The time three volumes of the room take to pass, where its volume is known.
fn clearing(volume: Option<&Sample>, flow: &Sample) -> Option<Triple> {
    let volume = volume.filter(|_| flow.triple().low > 0.0)?;
    Some(flow.with(volume, |q, v| 3.0 * v / q / 3600.0).triple())
}

fn todo(case: &Case<'_>, index: usize, verdict: Verdict) -> Vec<Message> {
    let room = &case.job.rooms[index];
    let measured = case.job.readings.iter().any(|reading| reading.at == room.id);
    match verdict {
        Verdict::Fails => {
            let mut list = vec![Message::from(Todo::OutletFirst)];
            list.extend(largest_loss(case, index));
            list.push(Message::from(Todo::LargerFanLast));
            list
        }
        Verdict::Unknown if !measured => {
            vec![Message::from(Todo::LookNext), Message::from(Todo::MeasureFlow)]
        }
        Verdict::Unknown => vec![Message::from(Todo::LookNext)],
        Verdict::Holds | Verdict::Caution => Vec::new(),
    }
}

/// The part of the way that costs most, besides the fan itself.
fn largest_loss(case: &Case<'_>, index: usize) -> Option<Message> {
    let flows = case.flows?;
    let edge = edge_of(case, index)?;
    let (item, loss) = case.system.edges[edge]
        .items
        .iter()
        .zip(&flows.items[edge])
        .filter(|(item, _)| !matches!(item.owner, Owner::Fan { .. }))
        .max_by(|a, b| a.1.likely.total_cmp(&b.1.likely))?;
    let (part, what) = dewpath_case::system::loss_name(case.job, &item.owner, &item.spec);
    let place = match &item.owner {
        Owner::Part { run, .. } => format!("{}/{part}", case.job.runs[*run].id),
        _ => part,
    };
    Some(Message::from(TodoLargestLoss {
        part: Name::new(place),
        what: Word::new(what.key()),
        loss: PressurePa(loss.triple()),
    }))
}

fn edge_of(case: &Case<'_>, room: usize) -> Option<usize> {
    let id = &case.job.rooms[room].id;
    let by_fan = case
        .job
        .fans
        .iter()
        .position(|fan| fan.room.as_ref() == Some(id))
        .and_then(|fan| case.system.find(|o| *o == Owner::Fan { fan }));
    let by_grille = case
        .job
        .grilles
        .iter()
        .position(|grille| grille.room == *id)
        .and_then(|grille| case.system.find(|o| *o == Owner::Grille { grille }));
    by_fan.or(by_grille).map(|(edge, _)| edge)
}

/// The steps behind the flow of a room.
fn balance(case: &Case<'_>, room: usize) -> Vec<Step> {
    let way = case.flows.and_then(|flows| {
        let edge = edge_of(case, room)?;
        let flow = flows.rooms[room].as_ref()?;
        let mut steps = crate::working::way(case, flows, edge, flow);
        if let Some(volume) = &case.required.rooms[room].volume {
            let from = require::size_from(&case.job.rooms[room].volume);
            steps.extend(crate::working::changes(volume, from, flow));
        }
        Some(steps)
    });
    way.unwrap_or_default()
}

fn no_requirement(case: &Case<'_>, index: usize, name: &str, flow: &Sample) -> Finding {
    let figure = AirflowLS(flow.litres());
    let message = AirflowDeliveredNothingRequired { room: Name::new(name), flow: figure };
    let source = Source::judgement(Judgement::NoRequirement);
    let mut finding = Finding::new(
        Check::AirflowDelivered,
        &case.job.rooms[index].id,
        Verdict::Unknown,
        message,
        source,
    )
    .figure(figure)
    .todo(Todo::NameBook);
    finding.working.extend(balance(case, index));
    finding
}

fn no_flow(case: &Case<'_>, index: usize, name: &str) -> Finding {
    let room = &case.job.rooms[index];
    let served = case.job.fans.iter().any(|fan| fan.room.as_ref() == Some(&room.id))
        || case.job.grilles.iter().any(|grille| grille.room == room.id);
    let (key, todo, verdict) = if served {
        (AirflowNoneKey::NoFanData, Todo::ReadLabel, Verdict::Unknown)
    } else {
        (AirflowNoneKey::NoExhaust, Todo::AddFan, Verdict::Unknown)
    };
    Finding::new(
        Check::AirflowDelivered,
        &room.id,
        verdict,
        AirflowNone { key, room: Name::new(name) },
        case.required.rooms[index].source.clone(),
    )
    .todo(todo)
}
