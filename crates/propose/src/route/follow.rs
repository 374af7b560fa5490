//! The one way outdoors that a hand looks at while it moves a housing.

use dewpath_case::Case;
use dewpath_job::model::Job;
use dewpath_layout::route::{Over, Route, least_work};
use dewpath_report::RouteResult;

use super::ducts;
use super::ducts::Choice;
use super::result::result;
use super::search::{LEFT, exits, is_admitted, required_m3_s, with_ways};
use super::task::Task;
use crate::floor::{Floor, Gate};
use crate::place::Start;

/// What a way is held to; anything where nothing is named.
#[derive(Debug, Clone, Default)]
pub(crate) struct Wanted {
    /// Way out, by its id.
    pub way_out: Option<String>,
    /// Duct, by its id.
    pub duct: Option<String>,
}

/// The way with the least work from a place of the housing, with the job that takes it; none where there is none, or too little is
/// known. The search of the report looks at more places for ways with less loss or work still.
pub(crate) fn to(
    case: &Case<'_>,
    floor: &Floor,
    start: &Start,
    wanted: &Wanted,
    over: Over,
) -> Option<(RouteResult, Job)> {
    let job = case.job;
    let fan = &job.fans[start.fan];
    let run = job.runs.iter().position(|run| run.from == fan.id)?;
    let flow_m3_s = required_m3_s(case, start.fan)?;
    let jacket_m = crate::place::insulation_m(job, fan);
    let is_wanted = |is: &str, named: &Option<String>| named.as_ref().is_none_or(|name| name == is);
    let gates: Vec<(usize, Gate)> = floor
        .ways_out
        .iter()
        .copied()
        .filter(|(way, _)| is_wanted(&job.ways_out[*way].id, &wanted.way_out))
        // What is said of those that are not admitted stands in the report.
        .filter(|(way, _)| is_admitted(&job.ways_out[*way], &mut Vec::new(), &fan.id))
        .collect();
    let mut task = Task { case, start, run, flow_m3_s, jacket_m, left: 1.0 };
    for left in LEFT {
        task.left = left;
        let choices = ducts::choices(case, &job.runs[run], flow_m3_s, left * jacket_m);
        let found = choices.iter().filter(|choice| is_wanted(&choice.duct.id, &wanted.duct));
        let found =
            found.filter_map(|choice| Some((first(&task, floor, &gates, choice, over)?, choice)));
        // As in the report: the size that is written goes before less work.
        let best = found.min_by(|(a, of_a), (b, of_b)| {
            (of_b.is_written.cmp(&of_a.is_written)).then(a.labour_h.total_cmp(&b.labour_h))
        });
        if let Some((route, choice)) = best {
            let way = result(&task, floor, &gates, &route, choice)?;
            return Some((way.result, way.job));
        }
        if jacket_m <= 0.0 {
            break;
        }
    }
    None
}

/// The way with the least work by one duct.
fn first(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: &Choice,
    over: Over,
) -> Option<Route> {
    let exits = exits(task, gates, choice);
    with_ways(task, floor, &exits, |ways, may_bore| {
        least_work(ways, &choice.duct, may_bore, over).ok().flatten()
    })
}
