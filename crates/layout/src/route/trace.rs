//! From places of the graph to a route.

use dewpath_units::sort;

use super::free::ACROSS;
use super::graph::{Graph, Place};
use super::turn::tangent_m;
use super::ways::{Bend, BendAt, Crossing, Exit, Leg, Route};
use crate::geometry::{Block, Point, TOUCH_M};

/// A corner, its fitting.
type Turn<'a> = (Point, &'a Bend);

/// The route along a path; none where it would run into itself.
pub(super) fn route(graph: &Graph<'_>, path: &[u32], is_dominated: bool) -> Option<Route> {
    let (turns, end, exit) = corners(graph, path)?;
    let exit: &Exit = &graph.free.ways.exits[exit];
    let from = graph.free.ways.from;
    let legs = legs(graph, from, &turns, end);
    if meets_itself(graph, &legs) {
        return None;
    }
    let duct = graph.duct;
    let crossings = crossings(graph, path, &legs);
    let straight: f64 = legs.iter().map(|leg| apart(leg.straight[0], leg.straight[1])).sum();
    let straight = straight + exit.depth_m;
    let arcs: f64 = turns.iter().map(|(_, b)| b.radius_m * b.turn_deg.to_radians()).sum();
    let sum = |of: fn(&Bend) -> f64| turns.iter().map(|(_, b)| of(b)).sum::<f64>();
    let mut through: Vec<String> = Vec::new();
    for id in legs.iter().flat_map(|leg| &leg.through) {
        if through.last() != Some(id) {
            through.push(id.clone());
        }
    }
    Some(Route {
        duct: duct.id.clone(),
        exit: exit.id.clone(),
        kind: exit.kind,
        through,
        length_m: straight + arcs,
        pressure_pa: straight * duct.straight_pa_per_m + sum(|b| b.pressure_pa) + exit.pressure_pa,
        labour_h: straight * duct.straight_h_per_m
            + sum(|b| b.labour_h)
            + crossings.len() as f64 * duct.bore_h
            + exit.labour_h,
        bends: turns
            .iter()
            .map(|(corner, bend)| BendAt {
                bend: bend.id.clone(),
                corner: *corner,
                turn_deg: bend.turn_deg,
                radius_m: bend.radius_m,
            })
            .collect(),
        crossings,
        legs,
        is_dominated,
    })
}

/// Corners with their fittings, the end, and the exit.
fn corners<'a>(graph: &Graph<'a>, path: &[u32]) -> Option<(Vec<Turn<'a>>, Point, usize)> {
    let (mut turns, mut end, mut out) = (Vec::new(), graph.free.ways.from, None);
    let mut last_ready = end;
    for number in path {
        match graph.places[*number as usize] {
            Place::Ready { tube, at, .. } => {
                last_ready = graph.free.tubes[tube as usize].point(at);
            }
            Place::Turned { tube, at, bend: Some(bend), .. } => {
                let bend = &graph.duct.bends[usize::from(bend)];
                let corner = graph.free.tubes[tube as usize].point(at);
                if apart(last_ready, corner) > TOUCH_M {
                    turns.push((last_ready, bend));
                }
                turns.push((corner, bend));
                end = corner;
            }
            Place::Turned { .. } => {}
            Place::Out { exit } => {
                let exit_at: &Exit = &graph.free.ways.exits[exit];
                let axis = exit_at.outward.axis.index();
                end[axis] = exit_at.window.min[axis];
                out = Some(exit);
            }
        }
    }
    out.map(|exit| (turns, end, exit))
}

fn legs(graph: &Graph<'_>, from: Point, turns: &[Turn<'_>], end: Point) -> Vec<Leg> {
    let ends = std::iter::once((from, 0.0)).chain(turns.iter().map(|(p, b)| (*p, tangent_m(b))));
    let starts: Vec<(Point, f64)> = ends.chain(std::iter::once((end, 0.0))).collect();
    starts
        .windows(2)
        .map(|pair| {
            let ((a, used), (b, needed)) = (pair[0], pair[1]);
            Leg {
                from: a,
                to: b,
                straight: [towards(a, b, used), towards(b, a, needed)],
                through: through(graph, a, b),
            }
        })
        .collect()
}

/// A point so far from one towards another.
fn towards(a: Point, b: Point, by: f64) -> Point {
    let length = apart(a, b);
    if length <= TOUCH_M {
        return a;
    }
    std::array::from_fn(|i| a[i] + (b[i] - a[i]) * by / length)
}

pub(super) fn apart(a: Point, b: Point) -> f64 {
    (0..3).map(|i| (a[i] - b[i]) * (a[i] - b[i])).sum::<f64>().sqrt()
}

/// Names of regions that a straight line passes, in order of entry.
fn through(graph: &Graph<'_>, a: Point, b: Point) -> Vec<String> {
    let length = apart(a, b);
    let mut passed: Vec<(f64, &str)> = Vec::new();
    for region in &graph.free.regions {
        let (mut enters, mut leaves) = (0.0_f64, length);
        for i in 0..3 {
            let step = (b[i] - a[i]) / length.max(TOUCH_M);
            let (low, high) = (region.clear.min[i] - a[i], region.clear.max[i] - a[i]);
            if step.abs() < 1e-9 {
                if low > TOUCH_M || high < -TOUCH_M {
                    leaves = -1.0;
                }
            } else {
                let (first, last) = (low / step, high / step);
                enters = enters.max(first.min(last));
                leaves = leaves.min(first.max(last));
            }
        }
        if leaves - enters > TOUCH_M {
            passed.push((enters, region.id));
        }
    }
    sort::by(&mut passed, |x, y| x.0.total_cmp(&y.0));
    passed.into_iter().map(|(_, id)| id.to_owned()).collect()
}

/// Bores in order.
fn crossings(graph: &Graph<'_>, path: &[u32], legs: &[Leg]) -> Vec<Crossing> {
    let mut found = Vec::new();
    for leg in legs {
        let [a, b] = leg.straight;
        let Some(axis) = only_axis(a, b) else { continue };
        // The tube of this leg is one of those that the path passes.
        let tube = path.iter().find_map(|number| match graph.places[*number as usize] {
            Place::Turned { tube, .. } | Place::Ready { tube, .. } => {
                let t = &graph.free.tubes[tube as usize];
                let on = ACROSS[axis].iter().all(|i| (t.line[*i] - a[*i]).abs() <= TOUCH_M);
                let holds = t.span(0.5 * (a[axis] + b[axis])).is_some();
                (t.axis == axis && on && holds).then_some(t)
            }
            Place::Out { .. } => None,
        });
        let Some(tube) = tube else { continue };
        let first = found.len();
        found.extend(tube.bored(a[axis], b[axis]).map(|cross| {
            let member = &graph.free.ways.members[cross.member];
            let at = tube.point(0.5 * (cross.from + cross.to));
            Crossing {
                member: member.id.clone(),
                at,
                along_m: at[member.along.index()] - member.span[0],
                height_m: at[2] - member.solid.min[2],
                opening: graph.duct.opening(),
            }
        }));
        if a[axis] > b[axis] {
            found[first..].reverse();
        }
    }
    found
}

/// The axis along which a line runs; none for a slanted one or a point.
pub(super) fn only_axis(a: Point, b: Point) -> Option<usize> {
    let mut moved = (0..3).filter(|i| (a[*i] - b[*i]).abs() > TOUCH_M);
    let axis = moved.next();
    if moved.next().is_some() { None } else { axis }
}

/// Whether two straight parts that don't follow each other, both along an axis, share room.
fn meets_itself(graph: &Graph<'_>, legs: &[Leg]) -> bool {
    let blocks: Vec<Option<Block>> = legs
        .iter()
        .map(|leg| {
            let [a, b] = leg.straight;
            let axis = only_axis(a, b)?;
            let half = |i: usize| if i == axis { 0.0 } else { graph.free.half(axis, i) };
            Some(Block {
                min: std::array::from_fn(|i| a[i].min(b[i]) - half(i)),
                max: std::array::from_fn(|i| a[i].max(b[i]) + half(i)),
            })
        })
        .collect();
    let pairs = (0..blocks.len()).flat_map(|k| (k + 2..blocks.len()).map(move |j| (k, j)));
    pairs.into_iter().any(|(k, j)| match (&blocks[k], &blocks[j]) {
        (Some(a), Some(b)) => a.overlaps(b),
        _ => false,
    })
}
