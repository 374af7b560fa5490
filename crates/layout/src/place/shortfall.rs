//! Why a housing fits nowhere: what is short, and by how much.
//!
//! Each limit is let go alone, and the search is made again. Where one is enough, the least by which it must be eased is
//! found by halving; where none is, the smallest set in a fixed order that is.

use std::collections::BTreeMap;
use std::fmt;

use dewpath_units::sort;

use super::site::{Bound, Housing, Site};
use crate::error::LONGEST_M;

/// How close the shortage is found, m.
const CLOSE_M: f64 = 1e-5;

/// What can be eased.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// Body and flange narrower across the bay.
    Width,
    /// Body and flange shorter along the bay.
    Length,
    /// Body less deep.
    Height,
    /// First straight length, then the collar, shorter.
    Straight,
    /// Walls of the room pass over the edge of the flange.
    Outline,
    /// An obstacle smaller on every side.
    Obstacle(usize),
    /// A wet zone smaller on every side.
    Wet(usize),
    /// A member smaller on every side.
    Member(usize),
}

/// What is eased, and by how much, m.
#[derive(Debug, Clone, Default)]
pub(super) struct Relaxed(BTreeMap<Kind, f64>);

impl Relaxed {
    pub(super) fn by(&self, kind: Kind) -> f64 {
        self.0.get(&kind).copied().unwrap_or(0.0)
    }

    pub(super) fn drops(&self, kind: Kind) -> bool {
        self.by(kind) >= LONGEST_M
    }

    fn with(&self, kind: Kind, by: f64) -> Self {
        let mut more = self.clone();
        more.0.insert(kind, by);
        more
    }

    fn without(&self, kind: Kind) -> Self {
        let mut less = self.clone();
        less.0.remove(&kind);
        less
    }
}

/// Something that is short.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// What it is.
    pub bound: Bound,
    /// By how much, m, to a fifth of a millimetre: the housing must be so much narrower, shorter or less deep, the first
    /// straight length so much shorter, an obstacle or a wet zone end so much earlier. None where it must go as a whole.
    pub short_m: Option<f64>,
    /// Whether easing this alone makes room; otherwise all that are named must be eased together.
    pub enough_alone: bool,
}

/// It fits nowhere; the tightest limit first.
#[derive(Debug, Clone, PartialEq)]
pub struct NoPlace {
    /// Whose housing.
    pub housing: String,
    /// What is short.
    pub shortfalls: Vec<Shortfall>,
}

impl fmt::Display for NoPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the housing of {} fits nowhere", self.housing)?;
        match self.shortfalls.first() {
            Some(Shortfall { bound, short_m: Some(by), .. }) => {
                write!(f, ": {bound:?} is short by {by} m")
            }
            Some(Shortfall { bound, short_m: None, .. }) => write!(f, ": {bound:?} is in the way"),
            None => Ok(()),
        }
    }
}

/// What is short for a housing that fits nowhere; `fits` makes the search again with limits eased.
pub(super) fn explain(
    housing: &Housing,
    site: &Site<'_>,
    fits: &dyn Fn(&Relaxed) -> bool,
) -> NoPlace {
    let id = housing.id.clone();
    let kinds = kinds(housing, site);
    let none = Relaxed::default();
    let shortfall = |kind: Kind, others: &Relaxed, enough_alone: bool| Shortfall {
        bound: bound(site, kind),
        short_m: least(&|by| fits(&others.with(kind, by)), most(housing, site, kind)),
        enough_alone,
    };
    let mut shortfalls: Vec<Shortfall> = kinds
        .iter()
        .filter(|kind| fits(&none.with(**kind, LONGEST_M)))
        .map(|kind| shortfall(*kind, &none, true))
        .collect();
    if shortfalls.is_empty() {
        let all = kinds.iter().fold(none, |all, kind| all.with(*kind, LONGEST_M));
        if !fits(&all) {
            let no_framing =
                Shortfall { bound: Bound::NoFraming, short_m: None, enough_alone: false };
            return NoPlace { housing: id, shortfalls: vec![no_framing] };
        }
        let needed = kinds.iter().rev().fold(all, |needed, kind| {
            let less = needed.without(*kind);
            if fits(&less) { less } else { needed }
        });
        shortfalls =
            needed.0.keys().map(|kind| shortfall(*kind, &needed.without(*kind), false)).collect();
    }
    // What must go as a whole comes last.
    let weight = |s: &Shortfall| s.short_m.unwrap_or(f64::INFINITY);
    sort::by(&mut shortfalls, |a, b| {
        weight(a).total_cmp(&weight(b)).then_with(|| a.bound.cmp(&b.bound))
    });
    NoPlace { housing: id, shortfalls }
}

/// What can be eased here.
fn kinds(housing: &Housing, site: &Site<'_>) -> Vec<Kind> {
    let mut kinds = vec![Kind::Width, Kind::Length, Kind::Height, Kind::Straight];
    if site.plan.is_some() {
        kinds.push(Kind::Outline);
    }
    kinds.extend((0..site.obstacles.len()).map(Kind::Obstacle));
    if !housing.listed_wet {
        kinds.extend((0..site.wet.len()).map(Kind::Wet));
    }
    let crosses =
        |k: &usize| site.bays.iter().any(|bay| bay.space.overlaps(&site.members[*k].solid));
    kinds.extend((0..site.members.len()).filter(crosses).map(Kind::Member));
    kinds
}

/// Name of what is eased.
fn bound(site: &Site<'_>, kind: Kind) -> Bound {
    match kind {
        Kind::Width => Bound::BayWidth,
        Kind::Length => Bound::BayLength,
        Kind::Height => Bound::BayHeight,
        Kind::Straight => Bound::FirstStraight(None),
        Kind::Outline => Bound::Outline,
        Kind::Obstacle(k) => Bound::Obstacle(site.obstacles[k].id.clone()),
        Kind::Wet(k) => Bound::WetZone(site.wet[k].id.clone()),
        Kind::Member(k) => Bound::Member(site.members[k].id.clone()),
    }
}

/// The most by which it can be eased before it is gone, m.
fn most(housing: &Housing, site: &Site<'_>, kind: Kind) -> f64 {
    let [x, y, z] = housing.body_m;
    let plan_size = |block: &crate::geometry::Block| {
        0.5 * (block.max[0] - block.min[0]).min(block.max[1] - block.min[1])
    };
    match kind {
        Kind::Width | Kind::Length | Kind::Outline => {
            x + y + 2.0 * housing.flange_m.max(site.play_m)
        }
        Kind::Height => z,
        Kind::Straight => housing.outlet.collar_m + housing.outlet.straight_m,
        Kind::Obstacle(k) => plan_size(&site.obstacles[k].solid),
        Kind::Wet(k) => plan_size(&site.wet[k].solid),
        Kind::Member(k) => plan_size(&site.members[k].solid),
    }
}

/// The least amount that is enough; none where the most is not.
fn least(enough: &dyn Fn(f64) -> bool, most: f64) -> Option<f64> {
    if !enough(most) {
        return None;
    }
    let (mut little, mut much) = (0.0, most);
    while much - little > CLOSE_M {
        let half = 0.5 * (little + much);
        if enough(half) {
            much = half;
        } else {
            little = half;
        }
    }
    Some(much)
}
