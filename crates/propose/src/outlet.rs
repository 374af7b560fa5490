//! The terminal of a way out under a hand that moves it. It stands apart from the report, which judges what is written.

use std::collections::BTreeMap;

use dewpath_case::{Basis, Case, World};
use dewpath_job::edit::Edit;
use dewpath_job::model::Job;
use dewpath_layout::clearance::nearest_clear;
use dewpath_layout::geometry::Block;
use dewpath_report::{ClearanceResult, Outlet};

use crate::clearance::{Spot, clearance, duct_through, finding, half_m, is_short, limits, outside};
use crate::edit;
use crate::floor::window;

/// The spot in the window of a way out, x and y in metres, nearest to a hand at which its terminal keeps its distances; without a
/// hand, from where the job has it, or the middle of the window. `level_m` is the height of its middle where it is known, such as
/// that of the end of a way. None where window, duct or way out are not known.
pub fn near_outlet(
    job: &Job,
    world: &World,
    way_out: &str,
    hand: Option<[f64; 2]>,
    level_m: Option<f64>,
) -> Option<Outlet> {
    let way = job.ways_out.iter().position(|known| known.id == way_out)?;
    let basis = Basis::of(job, world, 0);
    let case = basis.case(job, world, None);
    nearest(&case, way, hand, level_m)
}

/// The spot in the window of a way out nearest to a hand at which its terminal keeps every distance; see
/// [`dewpath_report::Outlet`].
fn nearest(
    case: &Case<'_>,
    index: usize,
    hand: Option<[f64; 2]>,
    level_m: Option<f64>,
) -> Option<Outlet> {
    let way = case.job.ways_out.get(index)?;
    let open = outside(way)?;
    let half = half_m(duct_through(case, way)?);
    let settled = window(way, open).middle();
    // Where its height is not known it may be anywhere in the window.
    let level = level_m.filter(|level| level.is_finite());
    let high = if level.is_some() { half } else { half.max(0.5 * (open.max[2] - open.min[2])) };
    let half = [half, half, high];
    let [x, y] =
        hand.filter(|at| at.iter().all(|v| v.is_finite())).unwrap_or([settled[0], settled[1]]);
    let wish = [x, y, level.unwrap_or(settled[2])];
    let wish =
        [0, 1, 2].map(|i| if i < 2 { wish[i].max(open.min[i]).min(open.max[i]) } else { wish[i] });
    let clear = nearest_clear(&way.id, &open, half, wish, &limits(case, way)).ok()?;
    let judged = |at: [f64; 3]| -> Vec<ClearanceResult> {
        let terminal = Block {
            min: [0, 1, 2].map(|i| at[i] - half[i]),
            max: [0, 1, 2].map(|i| at[i] + half[i]),
        };
        way.near.iter().filter_map(|near| clearance(case, way, &terminal, near)).collect()
    };
    let short = judged(wish);
    let short = short.iter().filter(|result| is_short(result.verdict));
    let at_m = clear.unwrap_or(wish);
    Some(Outlet {
        way_out: way.id.clone(),
        is_clear: clear.is_some(),
        at_m,
        hand_m: wish,
        window_m: [open.min, open.max],
        clearances: judged(at_m),
        short: short.map(|result| finding(way, result, Spot::Known, true)).collect(),
        patch: edit::told(moved(case.job, index, [at_m[0], at_m[1]]).patch),
    })
}

/// The terminal of a way out moved to a spot in its window; the spot is said even where the job has it already.
fn moved(job: &Job, way: usize, spot: [f64; 2]) -> Edit {
    let mut open = job.clone();
    open.ways_out[way].terminal_at = None;
    Edit::of(&open, &BTreeMap::new(), |job| {
        job.ways_out[way].terminal_at = Some(edit::known(spot.map(edit::mark)));
    })
}
