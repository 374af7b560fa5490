//! Paths through the graph that no other one beats in both loss and work.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

use pathfinding::directed::astar::astar;

use super::graph::{Cost, Graph, Place, Step};
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
        *bounds[k].get_or_insert_with(|| least_of_all(graph, place, &exits))
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

/// The path to one exit with the least loss, and the least work among equals; none where there is none.
pub(super) fn least_loss(graph: &mut Graph<'_>, exit: usize) -> Result<Option<Path>, BadGeometry> {
    if !graph.is_open(exit) {
        return Ok(None);
    }
    let failed = RefCell::new(None);
    let graph = RefCell::new(graph);
    let steps = |place: &u32| -> Vec<(u32, u128)> {
        match graph.borrow_mut().steps(*place) {
            Ok(steps) => steps.iter().map(|s| (s.to, s.cost.packed())).collect(),
            Err(error) => {
                failed.borrow_mut().get_or_insert(error);
                Vec::new()
            }
        }
    };
    let found = astar(
        &0_u32,
        steps,
        |place| graph.borrow().bound(*place, exit).packed(),
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
