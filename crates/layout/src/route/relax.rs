//! When there is no way: which constraint to relax first.

use std::collections::BTreeSet;

use dewpath_units::sort;

use super::stops::Density;
use super::ways::{Duct, Exit, MayBore, Route, Space, Ways};
use super::{check, graph, pareto, search};
use crate::error::{BadGeometry, Of};
use crate::geometry::Block;
use crate::place::Obstacle;

/// Why nothing leads outdoors as things stand.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Blocked {
    /// Bays and spaces that the duct does reach.
    pub reached: Vec<String>,
    /// Why bores on its way were forbidden, each reason once.
    pub forbidden: Vec<String>,
}

/// Something that could be changed, and the work that this takes besides the route.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer<T> {
    /// What it would be.
    pub what: T,
    /// Work on the change itself, h; none where nobody knows.
    pub labour_h: Option<f64>,
}

/// What the caller is ready to change.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Offers {
    /// Smaller round ducts, with their losses.
    pub smaller: Vec<Offer<Duct>>,
    /// Oval ducts of less height, with their losses.
    pub ovals: Vec<Offer<Duct>>,
    /// Lowered soffits and other spaces that could be made.
    pub spaces: Vec<Offer<Space>>,
    /// Exits that were not admitted.
    pub exits: Vec<Offer<Exit>>,
    /// Obstacles that could be moved, by number in [`Ways::obstacles`].
    pub obstacles: Vec<Offer<usize>>,
}

/// A constraint that was relaxed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Relaxed {
    /// A smaller duct, by name.
    SmallerDuct(String),
    /// An oval duct, by name.
    OvalDuct(String),
    /// A space that is made, by name.
    Space(String),
    /// Another exit, by name.
    Exit(String),
    /// An obstacle that is moved, by name.
    Obstacle(String),
}

/// What opens a way, and the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The one constraint that was relaxed.
    pub relaxed: Relaxed,
    /// Work on the change and on the route, h; none where that on the change is not known.
    pub labour_h: Option<f64>,
    /// The way with the least work that it opens.
    pub route: Route,
}

/// That there is no way, why, and what would open one.
#[derive(Debug, Clone, PartialEq)]
pub struct NoRoute {
    /// Why.
    pub blocked: Blocked,
    /// What opens a way, the least work first; those whose work nobody knows come last, the least loss first.
    pub openings: Vec<Opening>,
}

/// Searches again with each offer by itself and tells which ones open a way. None where there is a way without any.
///
/// # Errors
/// As [`search`], also for what is offered; and when an offer names an obstacle that is not there or has work below nothing.
pub fn why_none(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    offers: &Offers,
) -> Result<Option<NoRoute>, BadGeometry> {
    check::ways(ways)?;
    check::duct(duct)?;
    let mut graph = graph::Graph::new(ways, duct, may_bore, Density::Beside);
    graph.limit(super::FIRST_MOST);
    // A search that was cut short proves nothing.
    if pareto::leads_out(&mut graph).unwrap_or(true) {
        let mut held = graph::Graph::new(ways, duct, may_bore, Density::Held);
        if !super::front_of(&mut held, ways, may_bore, Vec::new())?.routes.is_empty() {
            return Ok(None);
        }
    }
    let blocked = Blocked {
        reached: reached(&graph),
        forbidden: graph.free.forbidden.iter().cloned().collect(),
    };
    let mut openings = Vec::new();
    let mut again = |relaxed: Relaxed, work: Option<f64>, ways: &Ways<'_>, duct: &Duct| {
        if work.is_some_and(|h| !(0.0..=1e6).contains(&h)) {
            return Err(Of(&duct.id).bad(
                "work on a change",
                work.unwrap_or(f64::NAN),
                "h",
                "it must lie between nothing and a million",
                "check the number, or leave it out",
            ));
        }
        let routes = search(ways, duct, may_bore, usize::MAX)?;
        let least = routes.into_iter().min_by(|a, b| a.labour_h.total_cmp(&b.labour_h));
        openings.extend(least.map(|route| Opening {
            relaxed,
            labour_h: work.map(|h| h + route.labour_h),
            route,
        }));
        Ok(())
    };
    for offer in &offers.smaller {
        let relaxed = Relaxed::SmallerDuct(offer.what.id.clone());
        again(relaxed, offer.labour_h, ways, &offer.what)?;
    }
    for offer in &offers.ovals {
        again(Relaxed::OvalDuct(offer.what.id.clone()), offer.labour_h, ways, &offer.what)?;
    }
    let in_the_way = in_the_way(&mut graph, ways, duct, may_bore);
    for offer in &offers.obstacles {
        let Some(moved) = ways.obstacles.get(offer.what) else {
            return Err(Of("the floor").bad(
                "obstacle to be moved",
                offer.what as f64,
                "in order",
                "there is none of that number",
                "count obstacles from 0 in the order in which they are given",
            ));
        };
        if !in_the_way.contains(&offer.what) {
            continue;
        }
        let rest: Vec<Obstacle> = (ways.obstacles.iter().enumerate())
            .filter(|(k, _)| *k != offer.what)
            .map(|(_, o)| o.clone())
            .collect();
        let relaxed = Relaxed::Obstacle(moved.id.clone());
        again(relaxed, offer.labour_h, &Ways { obstacles: &rest, ..*ways }, duct)?;
    }
    for offer in &offers.exits {
        let exits: Vec<Exit> = ways.exits.iter().chain([&offer.what]).cloned().collect();
        let relaxed = Relaxed::Exit(offer.what.id.clone());
        again(relaxed, offer.labour_h, &Ways { exits: &exits, ..*ways }, duct)?;
    }
    for offer in &offers.spaces {
        let spaces: Vec<Space> = ways.spaces.iter().chain([&offer.what]).cloned().collect();
        let relaxed = Relaxed::Space(offer.what.id.clone());
        again(relaxed, offer.labour_h, &Ways { spaces: &spaces, ..*ways }, duct)?;
    }
    sort::by(&mut openings, |a, b| {
        let known = |o: &Opening| o.labour_h.unwrap_or(f64::INFINITY);
        (known(a).total_cmp(&known(b))).then(a.route.pressure_pa.total_cmp(&b.route.pressure_pa))
    });
    Ok(Some(NoRoute { blocked, openings }))
}

/// Obstacles that may open a way when one of them is moved: those that were met, or stand at an exit. None where not even all of
/// them together open one, as most often.
fn in_the_way(
    graph: &mut graph::Graph<'_>,
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
) -> BTreeSet<usize> {
    let mut without = graph::Graph::new(ways, duct, may_bore, Density::Beside);
    without.let_obstacles_go();
    without.limit(super::FIRST_MOST);
    // One that was cut short says nothing, and what was met is enough to go by.
    if let Ok(false) = pareto::leads_out(&mut without) {
        return BTreeSet::new();
    }
    let reach = duct.outside_m + duct.last_straight_m;
    // Exits that nothing leads to were not looked at further.
    let shut: Vec<Block> = (0..ways.exits.len())
        .filter(|exit| !graph.is_open(*exit))
        .map(|exit| ways.exits[exit].window.grown(reach))
        .collect();
    let at_exit = |solid: &Block| shut.iter().any(|window| window.overlaps(solid));
    let near = ways.obstacles.iter().enumerate().filter(|(_, o)| at_exit(&o.solid));
    graph.met().into_iter().chain(near.map(|(k, _)| k)).collect()
}

/// Regions in which a place of the graph lies.
fn reached(graph: &graph::Graph<'_>) -> Vec<String> {
    let stands: Vec<_> =
        (0..graph.places.len()).filter_map(|k| graph.stand(graph.places[k])).collect();
    let regions = graph.free.regions.iter();
    regions
        .filter(|r| stands.iter().any(|(point, ..)| r.clear.has(*point)))
        .map(|r| r.id.to_owned())
        .collect()
}
