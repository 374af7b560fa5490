//! Paths through the graph that no other one beats in both loss and work.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

use pathfinding::directed::astar::astar;

use super::cost::{Cost, First};
use super::graph::{Graph, Place, Step};
use crate::error::{BadGeometry, Of};

/// Most labels of one search.
const LABELS_MOST: usize = 10_000_000;

/// Places from the collar to the outdoors.
pub(super) type Path = Vec<u32>;

/// A path to a place: the last step of it.
struct Label {
    place: u32,
    before: u32,
    cost: Cost,
}

/// The first label has none before it.
const NONE: u32 = u32::MAX;

/// All paths to any exit that are not dominated, least loss first; of several with the same loss and work one.
///
/// A best-first search over two costs: labels are taken in order of what they can at best come to, by loss first and by work
/// among equals. So each next label at a place has no less loss than those before it, and is worth keeping only if it has
/// less work than the last one kept: one number at each place decides. Source: Hernández Ulloa, Yeoh, Baier, Zhang, Suazo,
/// Koenig, A Simple and Fast Bi-Objective Search Algorithm, ICAPS 2020, pp. 143-151.
///
/// What is no better than one of those already `known` is left out.
pub(super) fn front(graph: &mut Graph<'_>, known: &[Cost]) -> Result<Vec<Path>, BadGeometry> {
    front_by(graph, known, least_of_all)
}

/// As [`front`], led by a given bound.
fn front_by(
    graph: &mut Graph<'_>,
    known: &[Cost],
    bound_of: fn(&Graph<'_>, u32, &[usize]) -> Cost,
) -> Result<Vec<Path>, BadGeometry> {
    // Where ways are known already, what can't better them ends the search soon enough.
    let exits: Vec<usize> = (0..graph.free.ways.exits.len())
        .filter(|exit| !known.is_empty() || graph.is_open(*exit))
        .collect();
    if exits.is_empty() {
        return Ok(Vec::new());
    }
    let mut bounds: Vec<Option<Cost>> = Vec::new();
    let mut bound = |graph: &Graph<'_>, place: u32| -> Cost {
        let k = place as usize;
        if bounds.len() <= k {
            bounds.resize(k + 1, None);
        }
        *bounds[k].get_or_insert_with(|| bound_of(graph, place, &exits))
    };
    let mut labels = vec![Label { place: 0, before: NONE, cost: Cost::default() }];
    let mut open = BinaryHeap::from([Reverse((bound(graph, 0), 0_u32))]);
    let mut least_work: Vec<u64> = vec![u64::MAX];
    let (mut least_out, mut found) = (u64::MAX, Vec::new());
    let mut steps: Vec<Step> = Vec::new();
    // The work with which one that is known beats what has so much loss.
    let beaten = |cost: Cost| {
        let better = known.iter().filter(|k| k.loss <= cost.loss);
        better.map(|k| k.work).min().unwrap_or(u64::MAX)
    };
    while let Some(Reverse((at_best, number))) = open.pop() {
        let Label { place, cost, .. } = labels[number as usize];
        if cost.work >= least_work[place as usize] || at_best.work >= least_out.min(beaten(at_best))
        {
            continue;
        }
        least_work[place as usize] = cost.work;
        if let Place::Out { .. } = graph.places[place as usize] {
            least_out = cost.work;
            found.push(number);
            continue;
        }
        steps.clear();
        match graph.steps(place) {
            Ok(made) => steps.extend_from_slice(made),
            Err(error) if found.is_empty() => return Err(error),
            // What was found so far is of the front, as it was taken in order.
            Err(_) => break,
        }
        least_work.resize(graph.places.len(), u64::MAX);
        for step in &steps {
            let cost = cost.plus(step.cost);
            let at_best = cost.plus(bound(graph, step.to));
            let most = least_out.min(beaten(at_best));
            if cost.work >= least_work[step.to as usize] || at_best.work >= most {
                continue;
            }
            if labels.len() >= LABELS_MOST {
                return Err(Of("the floor").bad(
                    "number of ways to compare",
                    labels.len() as f64,
                    "in all",
                    "a search through so many takes too long",
                    "leave out spaces, obstacles or exits far from the way",
                ));
            }
            let next = labels.len() as u32;
            labels.push(Label { place: step.to, before: number, cost });
            open.push(Reverse((at_best, next)));
        }
    }
    Ok(found.into_iter().map(|last| path(&labels, last)).collect())
}

/// Whether any way leads out at all, each place looked at once: the search for the best takes several looks.
pub(super) fn leads_out(graph: &mut Graph<'_>) -> Result<bool, BadGeometry> {
    let exits: Vec<usize> =
        (0..graph.free.ways.exits.len()).filter(|exit| graph.is_open(*exit)).collect();
    if exits.is_empty() {
        return Ok(false);
    }
    let mut open = BinaryHeap::from([Reverse((Cost::default(), 0_u32))]);
    let mut seen = vec![true];
    let mut steps: Vec<Step> = Vec::new();
    while let Some(Reverse((_, place))) = open.pop() {
        if let Place::Out { .. } = graph.places[place as usize] {
            return Ok(true);
        }
        steps.clear();
        steps.extend_from_slice(graph.steps(place)?);
        seen.resize(graph.places.len(), false);
        for step in &steps {
            if !std::mem::replace(&mut seen[step.to as usize], true) {
                open.push(Reverse((least_of_all(graph, step.to, &exits), step.to)));
            }
        }
    }
    Ok(false)
}

/// The path to one exit with the least loss or the least work, and the least of the other among equals; none where there is none.
pub(super) fn least(
    graph: &mut Graph<'_>,
    exit: usize,
    first: First,
) -> Result<Option<Path>, BadGeometry> {
    if !graph.is_open(exit) {
        return Ok(None);
    }
    let failed = RefCell::new(None);
    let graph = RefCell::new(graph);
    let steps = |place: &u32| -> Vec<(u32, u128)> {
        match graph.borrow_mut().steps(*place) {
            Ok(steps) => steps.iter().map(|s| (s.to, s.cost.packed(first))).collect(),
            Err(error) => {
                failed.borrow_mut().get_or_insert(error);
                Vec::new()
            }
        }
    };
    let found = astar(
        &0_u32,
        steps,
        |place| graph.borrow().bound(*place, exit).packed(first),
        |place| graph.borrow().out(exit) == Some(*place),
    );
    match failed.into_inner() {
        Some(error) => Err(error),
        None => Ok(found.map(|(path, _)| path)),
    }
}

/// The least bound over these exits, of loss and of work each by itself.
fn least_of_all(graph: &Graph<'_>, place: u32, exits: &[usize]) -> Cost {
    if matches!(graph.places[place as usize], Place::Out { .. }) {
        return Cost::default();
    }
    let bounds = exits.iter().map(|exit| graph.bound(place, *exit));
    let least = bounds.reduce(|a, b| Cost { loss: a.loss.min(b.loss), work: a.work.min(b.work) });
    least.unwrap_or_default()
}

/// The places of a label, first to last.
fn path(labels: &[Label], last: u32) -> Path {
    let before = |number: &u32| {
        let before = labels[*number as usize].before;
        (before != NONE).then_some(before)
    };
    let mut path: Path = std::iter::successors(Some(last), before)
        .map(|number| labels[number as usize].place)
        .collect();
    path.reverse();
    path
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test")]

    use super::*;
    use crate::bore::Opening;
    use crate::framing::{Bay, Member};
    use crate::geometry::{Axis, Block};
    use crate::place::Obstacle;
    use crate::route::stops::Density;
    use crate::route::{Bend, Bore, Duct, Exit, ExitKind, Heading, Space, SpaceKind, Ways, trace};

    fn duct(number: usize) -> Duct {
        let bend = |id: &str, turn_deg, radius_m, pressure_pa, labour_h| Bend {
            id: id.to_owned(),
            turn_deg,
            radius_m,
            pressure_pa,
            labour_h,
        };
        let all = [
            bend("tight", 90.0, 0.1, 3.0, 0.2),
            bend("half", 45.0, 0.1, 0.8, 0.3),
            bend("wide", 90.0, 0.15, 2.0, 0.4),
            bend("short half", 45.0, 0.08, 0.05, 0.0),
        ];
        let kept = [&all[..2], &all[..1], &all[1..3], &all[..]][number % 4];
        Duct {
            id: "duct".to_owned(),
            bare_m: 0.1,
            outside_m: 0.1,
            height_m: (number % 5 == 4).then_some(0.08),
            hole_m: 0.11,
            straight_pa_per_m: 1.2,
            straight_h_per_m: 0.2,
            bends: kept.to_vec(),
            first_straight_m: 0.1,
            min_straight_m: 0.05,
            last_straight_m: 0.1,
            bore_h: 0.5,
        }
    }

    /// The bound only leads: without it the search finds the same losses and amounts of work.
    #[test]
    fn a_search_without_a_bound_finds_the_same() {
        let block = |min, max| Block { min, max };
        let bays = [Bay {
            id: "bay".to_owned(),
            zone: 0,
            along: Axis::X,
            space: block([0.0, 0.3, 0.0], [1.2, 0.6, 0.25]),
        }];
        let spaces = [Space {
            id: "attic".to_owned(),
            kind: SpaceKind::Attic,
            clear: block([0.0, 0.0, 0.25], [1.2, 0.9, 0.8]),
        }];
        let exit = |id: &str, min, max, axis, ahead, pressure_pa| Exit {
            id: id.to_owned(),
            kind: ExitKind::Gable,
            window: block(min, max),
            outward: Heading { axis, ahead },
            depth_m: 0.1,
            pressure_pa,
            labour_h: 1.0,
        };
        let exits = [
            exit("gable", [0.9, 0.0, 0.5], [1.1, 0.0, 0.6], Axis::Y, false, 4.0),
            exit("roof", [0.7, 0.7, 0.8], [0.9, 0.8, 0.8], Axis::Z, true, 4.5),
        ];
        let never = |_: &Member, _: f64, _: f64, _: Opening| Bore::Forbidden(String::new());
        let (mut several, mut askew) = (0, 0);
        for number in 0..10_usize {
            let k = number as f64;
            let spread = |by: f64| (k * by).fract();
            let at = [0.4 + 0.6 * spread(0.754_877_666), 0.5 * spread(0.569_840_291), 0.2];
            let obstacles = [Obstacle {
                id: "obstacle".to_owned(),
                solid: block(at, [at[0] + 0.3, at[1] + 0.2, 0.4 + 0.4 * spread(0.618_033_989)]),
            }];
            let ways = Ways {
                from: [0.1 + 0.3 * spread(0.414_213_562), 0.45, 0.125],
                towards: Heading { axis: Axis::X, ahead: true },
                bays: &bays,
                members: &[],
                spaces: &spaces,
                obstacles: &obstacles,
                exits: &exits,
            };
            let duct = duct(number);
            let costs = |bound: fn(&Graph<'_>, u32, &[usize]) -> Cost| -> Vec<(u64, u64)> {
                let mut graph = Graph::new(&ways, &duct, &never, Density::Held);
                graph.limit(2_000_000);
                let paths = front_by(&mut graph, &[], bound).expect("a small floor");
                let routes = paths.iter().filter_map(|path| trace::route(&graph, path, false));
                // In millionths, as sums are rounded at every step.
                let count = |v: f64| libm::round(1e6 * v) as u64;
                routes.map(|r| (count(r.pressure_pa), count(r.labour_h))).collect()
            };
            let led = costs(least_of_all);
            assert_eq!(led, costs(|_, _, _| Cost::default()), "floor {number}");
            several += usize::from(led.len() > 1);
            askew += usize::from(duct.bends.iter().any(|bend| bend.turn_deg < 60.0));
        }
        assert!(several > 3 && askew > 5, "{several} {askew}");
    }
}
