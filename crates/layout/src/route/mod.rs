//! Which ways lead outdoors: a search from the outlet of a housing to every admissible exit.
//!
//! A duct is a line of straight legs between corners, each corner a real fitting. The line may lie wherever the outside of
//! the duct, with its insulation, stays inside bays and other open spaces and clear of members and obstacles. A leg crosses
//! a member only squarely and only where a bore is allowed; which bore is allowed is asked of the caller.
//!
//! Corners lie at critical coordinates, not on a raster. A way that no other beats is tight: each of its legs is as short as
//! its fittings allow, or held by something. So there are two kinds of coordinates:
//!
//! - *held* ones: centre lines of bays and spaces, their faces and those of obstacles moved off by half the duct, windows of
//!   exits, the outlet, the ends of the stretches of a member in which bores are allowed;
//! - those *beside* them: faces moved off by what a fitting takes up of a leg, and the shortest leg between two fittings of 90
//!   degrees away from any coordinate.
//!
//! What is exact: over all these coordinates and fittings of 90 degrees the search finds every pair of loss and work that no
//! other way beats, and for every other exit that can be reached over held coordinates the way with the least loss there.
//! On small random floors trying every corner of a lattice finds the same. What is not:
//!
//! - a way that is only open, or better, where two or more shortest legs in a row lie off what holds the duct, or where an arc
//!   just touches an edge, may be missed by centimetres of duct;
//! - fittings of 45 degrees are used in pairs: their slanted leg, in a plane of two axes, leads to one of the next three
//!   coordinates of the space that it begins in or of the next one, and in a wide space also to the window of an exit;
//! - stretches in which bores are allowed are looked for at 48 stations of a member: a shorter one may be missed;
//! - a way that would run into itself is left out after the search, so that one it beats is not found instead;
//! - what the second kind of coordinates betters is looked for over 20,000 places of the duct, 30,000 where the first kind
//!   has no way, and another exit over 30,000. Beyond, what was found so far stands.
//!
//! Every way that is told is legal, wherever it was found.
//!
//! ```
//! use dewpath_layout::framing::{MemberKind, Zone};
//! use dewpath_layout::geometry::{Axis, Block};
//! use dewpath_layout::route::{Bore, Duct, Exit, ExitKind, Heading, Ways, search};
//!
//! let zone = Zone {
//!     id: "joists".to_owned(),
//!     kind: MemberKind::Sawn,
//!     along: Axis::X,
//!     space: Block { min: [0.0, 0.0, 2.44], max: [4.0, 3.0, 2.675] },
//!     width_m: 0.038,
//!     spacing_m: 0.406,
//!     first_m: 0.019,
//! };
//! let (bays, members) = (zone.bays(0)?, zone.members()?);
//! let exits = [Exit {
//!     id: "east rim".to_owned(),
//!     kind: ExitKind::Rim,
//!     window: Block { min: [4.0, 0.1, 2.5], max: [4.0, 2.9, 2.62] },
//!     outward: Heading { axis: Axis::X, ahead: true },
//!     depth_m: 0.15,
//!     pressure_pa: 5.0,
//!     labour_h: 1.5,
//! }];
//! let ways = Ways {
//!     from: [1.0, 0.241, 2.56],
//!     towards: Heading { axis: Axis::X, ahead: true },
//!     bays: &bays,
//!     members: &members,
//!     spaces: &[],
//!     obstacles: &[],
//!     exits: &exits,
//! };
//! let duct = Duct {
//!     id: "4 in".to_owned(),
//!     bare_m: 0.102,
//!     outside_m: 0.102,
//!     height_m: None,
//!     hole_m: 0.108,
//!     straight_pa_per_m: 1.2,
//!     straight_h_per_m: 0.15,
//!     bends: vec![],
//!     first_straight_m: 0.3,
//!     min_straight_m: 0.0,
//!     last_straight_m: 0.0,
//!     bore_h: 0.5,
//! };
//! let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden("no bore was asked for".to_owned());
//! let routes = search(&ways, &duct, &never, 5)?;
//! assert_eq!(routes[0].exit, "east rim");
//! assert!((routes[0].length_m - 3.15).abs() < 1e-9);
//! # Ok::<(), dewpath_layout::error::BadGeometry>(())
//! ```

use dewpath_units::sort;

use crate::error::BadGeometry;

mod bores;
mod bound;
mod check;
mod cost;
mod fall;
mod free;
mod graph;
mod pareto;
mod region;
mod relax;
mod stops;
mod trace;
mod turn;
mod ways;

use stops::Density;

pub use fall::{Fall, LowPoint, falls, low_points, supports};
pub use relax::{Blocked, NoRoute, Offer, Offers, Opening, Relaxed, why_none};
pub use ways::{
    Bend, BendAt, Bore, Crossing, Duct, Exit, ExitKind, Heading, Leg, MayBore, Route, Space,
    SpaceKind, Ways,
};

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Ways outdoors, as [`search`] gives them.
    pub routes: Vec<Route>,
    /// Whether every place was looked at. Where not, a better way, or any way at all, may be left unseen.
    pub is_whole: bool,
}

/// Most places of a search over the coordinates at which a duct is held, beside those that single ways led to.
const HELD_MOST: usize = 8_000;

/// Most places of a search over all coordinates for ways that are better than those already known.
const BETTER_MOST: usize = 20_000;

/// Most places of such a search where none is known yet.
const FIRST_MOST: usize = 30_000;

/// The ways outdoors with one duct, up to `keep` of them: first those that no other one beats in both loss and work, then
/// for each exit that these leave out the one with the least loss. In each part the least loss comes first. Empty where
/// there is no way; [`why_none`] then says what would open one.
///
/// Two routes through the same spaces to the same exit count as one; the one with less loss is kept. A way that would run
/// into itself is left out.
///
/// # Errors
/// When something has no size, no place or no name of its own, a fitting turns by another angle than 45 or 90 degrees, a loss
/// or an amount of work is below nothing, or the floor is too large to be searched.
pub fn search(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    keep: usize,
) -> Result<Vec<Route>, BadGeometry> {
    search_through(ways, duct, may_bore, keep).map(|found| found.routes)
}

/// As [`search`], with whether every place was looked at.
///
/// # Errors
/// As [`search`].
pub fn search_through(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    keep: usize,
) -> Result<Found, BadGeometry> {
    check::ways(ways)?;
    check::duct(duct)?;
    let mut graph = graph::Graph::new(ways, duct, may_bore, Density::Held);
    let firsts = firsts(&mut graph);
    let Found { mut routes, is_whole } = front_of(&mut graph, ways, may_bore, firsts.clone())?;
    for exit in ways.exits {
        if routes.iter().all(|route| route.exit != exit.id) {
            let of_it = firsts.iter().filter(|route| route.exit == exit.id);
            routes.extend(of_it.min_by(|a, b| by_amounts(a, b)).cloned());
        }
    }
    Ok(Found { routes: ranked(routes, keep), is_whole })
}

/// To each exit the way with the least loss and the one with the least work, over the coordinates at which a duct is held.
fn firsts(graph: &mut graph::Graph<'_>) -> Vec<Route> {
    let mut found = Vec::new();
    for exit in 0..graph.free.ways.exits.len() {
        for first in [cost::First::Loss, cost::First::Work] {
            // Each has its share of places, or one that lies far off would leave nothing to those behind it.
            graph.limit(graph.places.len() + FIRST_MOST);
            let path = pareto::least(graph, exit, first).ok().flatten();
            let Some(path) = path else { break };
            found.extend(trace::route(graph, &path, false));
        }
    }
    found
}

/// At which coordinates a duct may turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Those at which a duct is held: centre lines and faces of bays, spaces and obstacles, windows of exits.
    Held,
    /// All at which some duct may have to turn.
    All,
}

/// The way outdoors with the least work over such coordinates, in a fraction of the time of [`search`]: for a hand that moves the
/// housing and looks on. None where there is none over those coordinates; [`search`], which weighs loss too, looks at both.
///
/// # Errors
/// As [`search`].
pub fn least_work(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    over: Over,
) -> Result<Option<Route>, BadGeometry> {
    check::ways(ways)?;
    check::duct(duct)?;
    let density = match over {
        Over::Held => Density::Held,
        Over::All => Density::Beside,
    };
    let mut graph = graph::Graph::new(ways, duct, may_bore, density);
    let mut found: Vec<Route> = Vec::new();
    for exit in 0..ways.exits.len() {
        // The least work of all may run into itself or lie too far off; the least loss seldom does too.
        for first in [cost::First::Work, cost::First::Loss] {
            graph.limit(graph.places.len() + FIRST_MOST);
            let path = pareto::least(&mut graph, exit, first).ok().flatten();
            if let Some(route) = path.and_then(|path| trace::route(&graph, &path, false)) {
                found.push(route);
                break;
            }
        }
    }
    Ok(found.into_iter().min_by(|a, b| amounts(a).1.cmp(&amounts(b).1).then(by_amounts(a, b))))
}

/// The ways outdoors that no other one beats in both loss and work, with each loss and work once, the least loss first: those
/// from which [`search`] keeps the distinct ones.
///
/// # Errors
/// As [`search`].
pub fn front(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
) -> Result<Vec<Route>, BadGeometry> {
    check::ways(ways)?;
    check::duct(duct)?;
    let mut graph = graph::Graph::new(ways, duct, may_bore, Density::Held);
    let firsts = firsts(&mut graph);
    front_of(&mut graph, ways, may_bore, firsts).map(|found| found.routes)
}

/// First over the coordinates at which a duct is held, then over all of them for what beats the ways that were found. Those
/// that are known already leave less to look for.
fn front_of(
    held: &mut graph::Graph<'_>,
    ways: &Ways<'_>,
    may_bore: &MayBore<'_>,
    mut routes: Vec<Route>,
) -> Result<Found, BadGeometry> {
    let traced = |graph: &graph::Graph<'_>, paths: Vec<pareto::Path>| -> Vec<Route> {
        paths.iter().filter_map(|path| trace::route(graph, path, false)).collect()
    };
    let costs = |routes: &[Route]| -> Vec<cost::Cost> {
        routes.iter().map(|r| cost::Cost::up(r.pressure_pa, r.labour_h)).collect()
    };
    // Where single searches found nothing this one looks on, as far as it may.
    held.limit(match routes.len() {
        0 => graph::PLACES_MOST,
        _ => held.places.len() + HELD_MOST,
    });
    match pareto::front(held, &costs(&routes)) {
        Ok(paths) => routes.extend(traced(held, paths)),
        // What is known stands, and that not all was seen is said.
        Err(_) if !routes.is_empty() => {}
        Err(error) => return Err(error),
    }
    let known = costs(&routes);
    let mut all = graph::Graph::new(ways, held.duct, may_bore, Density::Beside);
    all.limit(if routes.is_empty() { FIRST_MOST } else { BETTER_MOST });
    // Where there are too many places, what was found over held coordinates stands, and that not all was seen is said.
    let is_cut = held.was_cut;
    let better = match routes.is_empty().then(|| pareto::leads_out(&mut all)) {
        // What was not looked through in the coarse is not in the fine either.
        None if is_cut => Ok(Vec::new()),
        Some(Ok(false)) => Ok(Vec::new()),
        Some(Err(error)) => Err(error),
        Some(Ok(true)) | None => pareto::front(&mut all, &known),
    };
    let is_whole = better.is_ok() && !held.was_cut && !all.was_cut;
    routes.extend(better.map_or_else(|_| Vec::new(), |paths| traced(&all, paths)));
    // Sums along a path are rounded up at every step, so two that are the same may differ there.
    sort::by(&mut routes, by_amounts);
    let mut least = i64::MAX;
    routes.retain(|route| {
        let (_, work) = amounts(route);
        let is_better = work < least;
        least = least.min(work);
        is_better
    });
    Ok(Found { routes, is_whole })
}

/// Loss and work in millionths of a pascal and an hour: what differs by less is the same.
fn amounts(route: &Route) -> (i64, i64) {
    let count = |v: f64| libm::round(1e6 * v) as i64;
    (count(route.pressure_pa), count(route.labour_h))
}

fn by_amounts(a: &Route, b: &Route) -> std::cmp::Ordering {
    amounts(a).cmp(&amounts(b))
}

/// Routes of several searches in one list: marked anew for which are dominated, without those that are not distinct (another duct
/// by the same spaces is the same way), the ones that are not dominated first, then by loss, work, exit and duct.
pub fn ranked(mut routes: Vec<Route>, keep: usize) -> Vec<Route> {
    sort::by(&mut routes, |a, b| {
        by_amounts(a, b).then_with(|| a.exit.cmp(&b.exit)).then_with(|| a.duct.cmp(&b.duct))
    });
    let mut kept: Vec<Route> = Vec::new();
    for mut route in routes {
        if kept.iter().any(|known| known.is_same_way(&route)) {
            continue;
        }
        route.is_dominated = kept.iter().any(|k| amounts(k).1 <= amounts(&route).1);
        kept.push(route);
    }
    sort::by_key(&mut kept, |route| route.is_dominated);
    kept.truncate(keep);
    kept
}
