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
use dewpath_layout::route::{Route, ranked};
use dewpath_message::slot::{AirflowLS, Name, Reference};
use dewpath_report::say::{
    RouteNoteNotSearchedThrough, RouteNoteOtherIsBetter, RouteNoteOtherSize, RouteOutBadGeometry,
    RouteOutMissing, RouteOutNoRequirement, RouteOutNoneAdmitted,
};
use dewpath_report::{Finding, Message, RouteResult, Triple, Verdict};
use dewpath_units::sort;

use crate::floor::{Floor, Gate};
use crate::place::Start;
pub(crate) use bores::{bore, hole_rule};
use findings::unknown;
pub(crate) use follow::{Wanted, to};
use result::{Way, result};
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
    let built = |route: &Route| result(&task, floor, &admitted, route, by_name(&route.duct)?);
    let of_way =
        |way: &Route| best_size(found.iter().filter(|r| r.is_same_way(way)).filter_map(built));
    let mut ways: Vec<Way> = ranked(found.clone(), KEPT).iter().filter_map(of_way).collect();
    if ways.is_empty() {
        stage.findings.push(findings::no_way(&task, floor, &admitted, choices.first(), is_whole));
        return;
    }
    // What breaks a distance at its end comes behind what breaks nothing.
    let breach = |route: &RouteResult| {
        let end = route.line_m.last().copied();
        end.map_or(Verdict::Holds, |end| breach_at(&task, &admitted, &route.way_out, end))
    };
    sort::by(&mut ways, |a, b| {
        let worst = |way: &Way| way.result.verdict.max(breach(&way.result));
        worst(a).cmp(&worst(b)).then_with(|| order(a, b))
    });
    let water = ways.first().and_then(|way| written::stays_g(&task, &way.job));
    let mut results: Vec<RouteResult> = ways.into_iter().map(|way| way.result).collect();
    note_dominated(&mut results);
    if !is_whole {
        let note = Message::from(RouteNoteNotSearchedThrough {});
        for result in &mut results {
            result.notes.push(note.clone());
        }
    }
    for (rank, result) in results.iter_mut().enumerate() {
        result.rank = rank as u32 + 1;
        result.stays_g = water.filter(|_| rank == 0);
    }
    stage.findings.push(findings::out(&task, &fan.id, &results));
    stage.findings.extend(laying::findings(&results[0]));
    stage.routes.append(&mut results);
}

/// Enough air first, then the duct that is written, then little work, then little loss.
fn order(a: &Way, b: &Way) -> std::cmp::Ordering {
    let (of_a, of_b) = (&a.result, &b.result);
    (of_a.verdict.cmp(&of_b.verdict))
        .then(b.is_written.cmp(&a.is_written))
        .then(of_a.labour_h.total_cmp(&of_b.labour_h))
        .then(of_a.loss_pa.total_cmp(&of_b.loss_pa))
        .then_with(|| of_a.way_out.cmp(&of_b.way_out))
}

/// More air by another size is worth a note from here, L/s: about 1 cfm. Judgement.
const MORE_AIR_L_S: f64 = 0.5;

/// One way in all its ducts, as the best of them. Where another size gives more air, a note says which and how much.
fn best_size(ways: impl Iterator<Item = Way>) -> Option<Way> {
    let mut ways: Vec<Way> = ways.collect();
    sort::by(&mut ways, order);
    let mut ways = ways.into_iter();
    let mut best = ways.next()?;
    let air = |result: &RouteResult| result.delivered.map(|air| air.airflow_l_s.likely);
    let others = ways.filter(|way| (way.result.size_m - best.result.size_m).abs() > 1e-4);
    let more = others.filter_map(|way| {
        let more = air(&way.result)? - air(&best.result)?;
        (more >= MORE_AIR_L_S).then_some((way.result.duct, more))
    });
    if let Some((duct, more)) = more.max_by(|(_, a), (_, b)| a.total_cmp(b)) {
        let more = AirflowLS(Triple::exact(more));
        best.result.notes.push(RouteNoteOtherSize { duct: Reference::new(duct), more }.into());
    }
    Some(best)
}

/// What differs by less is the same: a millionth of a pascal or an hour.
const SAME: f64 = 1e-6;

/// Notes on ways that another one betters in loss or work, and is no worse in the other.
fn note_dominated(results: &mut [RouteResult]) {
    let costs: Vec<[f64; 2]> = results.iter().map(|way| [way.loss_pa, way.labour_h]).collect();
    for (result, own) in results.iter_mut().zip(&costs) {
        let is_better = |other: &[f64; 2]| {
            let less = [0, 1].map(|i| own[i] - other[i]);
            less.iter().all(|less| *less >= -SAME) && less.iter().any(|less| *less > SAME)
        };
        if costs.iter().any(is_better) {
            result.notes.insert(0, RouteNoteOtherIsBetter {}.into());
        }
    }
}
