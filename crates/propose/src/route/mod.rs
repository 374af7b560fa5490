//! Stage `route`: which ways lead outdoors without breaking a member, what each costs in air and in work.
//!
//! The search is that of `dewpath-layout`. Each way that it keeps is written into the job as a run of straight pieces and
//! fittings and judged with the whole network; nothing is adopted here.

mod bores;
mod ducts;
mod findings;
mod follow;
mod laying;
mod materials;
mod result;
mod search;
mod task;
mod working;
mod written;

use dewpath_case::Case;
use dewpath_job::model::Job;
use dewpath_layout::route::{Route, ranked};
use dewpath_message::slot::{Name, Reference};
use dewpath_report::say::{
    RouteNoteNotSearchedThrough, RouteOutBadGeometry, RouteOutMissing, RouteOutNoRequirement,
    RouteOutNoneAdmitted,
};
use dewpath_report::{Finding, Message, RouteResult, Verdict};
use dewpath_units::sort;

use crate::floor::{Floor, Gate};
use crate::place::Start;
pub(crate) use bores::{bore, hole_rule};
use findings::unknown;
pub(crate) use follow::{Wanted, to};
use result::result;
use search::{KEPT, LEFT, breach_at, is_admitted, required_m3_s, routes};
use task::Task;

/// What the stage found.
#[derive(Debug, Default)]
pub struct Stage {
    /// Ways, best first.
    pub routes: Vec<RouteResult>,
    /// Findings.
    pub findings: Vec<Finding>,
}

/// Searches the ways outdoors for every fan of which the place is known.
pub fn route(case: &Case<'_>, floor: &mut Floor, starts: &[Start]) -> Stage {
    let mut stage = Stage::default();
    if case.job.ways_out.is_empty() {
        return stage;
    }
    let gates = floor.ways_out.clone();
    for start in starts {
        search(case, floor, &gates, start, &mut stage);
    }
    stage
}

fn search(
    case: &Case<'_>,
    floor: &mut Floor,
    gates: &[(usize, Gate)],
    start: &Start,
    stage: &mut Stage,
) {
    let job = case.job;
    let fan = &job.fans[start.fan];
    let Some(run) = job.runs.iter().position(|run| run.from == fan.id) else { return };
    let Some(flow_m3_s) = required_m3_s(case, start.fan) else {
        stage.findings.push(unknown(&fan.id, Message::from(RouteOutNoRequirement {})));
        return;
    };
    let jacket_m = crate::place::insulation_m(job, fan);
    let mut task = Task { case, start, run, flow_m3_s, jacket_m, left: 1.0 };
    let admitted: Vec<(usize, Gate)> = gates
        .iter()
        .copied()
        .filter(|(way, _)| is_admitted(&job.ways_out[*way], &mut stage.findings, &fan.id))
        .collect();
    if admitted.is_empty() {
        let first = floor.missing.iter().find(|path| path.starts_with("way_out."));
        let message = match first {
            Some(path) => Message::from(RouteOutMissing { at: Reference::new(path) }),
            None => Message::from(RouteOutNoneAdmitted {}),
        };
        stage.findings.push(unknown(&fan.id, message));
        return;
    }
    if let Some(apart) = findings::apart(&task, floor, &admitted) {
        stage.findings.push(apart);
        return;
    }
    let mut choices = Vec::new();
    let mut found: Vec<Route> = Vec::new();
    let mut is_whole = true;
    for left in LEFT {
        choices = ducts::choices(case, &job.runs[run], flow_m3_s, left * jacket_m);
        for choice in &choices {
            match routes(&task, floor, &admitted, choice) {
                Ok(more) => {
                    found.extend(more.routes);
                    is_whole &= more.is_whole;
                }
                Err(wrong) => {
                    let message = Message::from(RouteOutBadGeometry { told: Name::new(wrong) });
                    stage.findings.push(unknown(&fan.id, message));
                    return;
                }
            }
        }
        task.left = left;
        if !found.is_empty() || jacket_m <= 0.0 {
            break;
        }
    }
    let by_name = |name: &str| choices.iter().find(|c| c.duct.id == name);
    let best = ranked(found, KEPT);
    let mut results: Vec<(RouteResult, Job)> = best
        .iter()
        .filter_map(|route| Some((route, by_name(&route.duct)?)))
        .filter_map(|(route, choice)| result(&task, floor, &admitted, route, choice))
        .collect();
    if results.is_empty() {
        stage.findings.push(findings::no_way(&task, floor, &admitted, choices.first(), is_whole));
        return;
    }
    // What breaks a distance at its end comes behind what breaks nothing.
    let breach = |route: &RouteResult| {
        let end = route.line_m.last().copied();
        end.map_or(Verdict::Holds, |end| breach_at(&task, &admitted, &route.way_out, end))
    };
    sort::by(&mut results, |(a, _), (b, _)| {
        let worst = |route: &RouteResult| route.verdict.max(breach(route));
        worst(a).cmp(&worst(b)).then_with(|| order(a, b))
    });
    let water = results.first().and_then(|(_, job)| written::net_winter_g(&task, job));
    let mut results: Vec<RouteResult> = results.into_iter().map(|(result, _)| result).collect();
    if !is_whole {
        let note = Message::from(RouteNoteNotSearchedThrough {});
        for result in &mut results {
            result.notes.push(note.clone());
        }
    }
    for (rank, result) in results.iter_mut().enumerate() {
        result.rank = rank as u32 + 1;
        result.net_winter_g = water.filter(|_| rank == 0);
    }
    stage.findings.push(findings::out(&fan.id, &results));
    stage.findings.extend(laying::findings(&results[0]));
    stage.routes.append(&mut results);
}

/// Enough air first, then little work, then little loss.
fn order(a: &RouteResult, b: &RouteResult) -> std::cmp::Ordering {
    (a.verdict.cmp(&b.verdict))
        .then(a.labour_h.total_cmp(&b.labour_h))
        .then(a.loss_pa.total_cmp(&b.loss_pa))
        .then_with(|| a.way_out.cmp(&b.way_out))
}
