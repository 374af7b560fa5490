//! Coordinates at which a corner may lie.

use super::bores::End;
use super::region::{Region, in_order};
use super::turn::{is_half, least_slant, tangent_m};
use super::ways::{Bend, Duct, Ways};
use crate::geometry::{Block, TOUCH_M};

/// Coordinates along x, y and z in order.
pub(super) type Stops = [Vec<f64>; 3];

/// Index of up.
const UP: usize = 2;

/// What coordinates follow from, for a region at a time, as most regions of a large floor are never asked for.
pub(super) struct Sources {
    lengths: Lengths,
    common: Stops,
    ends: Vec<End>,
    density: Density,
}

impl Sources {
    pub(super) fn new(
        ways: &Ways<'_>,
        duct: &Duct,
        regions: &[Region<'_>],
        halves: [f64; 2],
        ends: Vec<End>,
        density: Density,
    ) -> Self {
        let lengths = Lengths::of(duct, halves, density);
        let mut common = common(ways, duct, &lengths);
        let levels = regions.iter().filter(|r| r.is_bay).map(|r| r.clear.middle()[UP]);
        for level in in_order(levels.chain(std::iter::once(ways.from[UP])).collect()) {
            common[UP].extend(lengths.legs.iter().flat_map(|by| [level - by, level + by]));
        }
        Self { lengths, common, ends, density }
    }

    /// The coordinates that matter in a region. A way that no other beats is tight: each of its legs is either as short as its
    /// fittings allow or held by something, the collar, an exit, a face or the end of where bores are allowed. So there are
    /// coordinates at which a duct is held, and those that lie a shortest leg away from them.
    pub(super) fn of(&self, ways: &Ways<'_>, regions: &[Region<'_>], region: &Region<'_>) -> Stops {
        let mut held = held(ways, regions, region, &self.lengths);
        let beside = region.clear.grown(MEMBER_MOST_M);
        for end in self.ends.iter().filter(|end| region.is_bay && beside.has(end.on)) {
            held[end.axis].push(end.at);
        }
        std::array::from_fn(|i| {
            let range = [region.clear.min[i], region.clear.max[i]];
            let held: Vec<f64> = self.common[i].iter().chain(&held[i]).copied().collect();
            let mut all = match self.density {
                Density::Held => held,
                Density::Beside => with_legs(held, range, &self.lengths.legs),
            };
            if region.is_bay {
                let middle = region.clear.middle()[i];
                all.extend(self.lengths.slants.iter().flat_map(|by| [middle - by, middle + by]));
            }
            all.retain(|at| within(range, *at));
            in_order(all)
        })
    }
}

fn within([low, high]: [f64; 2], at: f64) -> bool {
    (low..=high).contains(&at)
}

/// Coordinates and those that lie shortest legs away from them, as far as they matter in a range.
fn with_legs(held: Vec<f64>, [low, high]: [f64; 2], legs: &[f64]) -> Vec<f64> {
    let reach = LEGS_MOST as f64 * legs.last().copied().unwrap_or(0.0);
    let near = held.into_iter().filter(|at| within([low - reach, high + reach], *at));
    let mut all = in_order(near.collect());
    for _ in 0..LEGS_MOST {
        let beside: Vec<f64> =
            all.iter().flat_map(|at| legs.iter().flat_map(move |by| [at - by, at + by])).collect();
        all.extend(beside);
        all = in_order(all);
    }
    all
}

/// How many coordinates are looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Density {
    /// Those at which a duct is held by its side.
    Held,
    /// Those too at which it is held by the begin of a fitting, and those a shortest leg away from either.
    Beside,
}

/// Shortest legs in a row, away from what holds a duct, that coordinates are looked for.
const LEGS_MOST: usize = 1;

/// A bay is beside a member whose middle is no further off: half of the thickest.
const MEMBER_MOST_M: f64 = 0.1;

/// Lengths from which coordinates follow.
struct Lengths {
    /// Half the duct across and up.
    halves: [f64; 2],
    /// What fittings take up of a leg.
    tangents: Vec<f64>,
    /// How far beside a face the duct may be held, across and up: by its side, or by the begin of a fitting.
    beside: [Vec<f64>; 2],
    /// Shortest legs between two fittings of 90 degrees.
    legs: Vec<f64>,
    /// Shortest slanted legs along an axis.
    slants: Vec<f64>,
}

impl Lengths {
    fn of(duct: &Duct, halves: [f64; 2], density: Density) -> Self {
        let (slanted, square): (Vec<&Bend>, Vec<&Bend>) =
            duct.bends.iter().partition(|b| is_half(b));
        let square = in_order(square.into_iter().map(tangent_m).collect());
        let pairs =
            square.iter().flat_map(|a| square.iter().map(move |b| a + duct.min_straight_m + b));
        let legs = in_order(pairs.collect());
        let least = |b: &&Bend| least_slant(b, duct.min_straight_m);
        let slants = in_order(slanted.iter().map(least).collect());
        let tangents = in_order(duct.bends.iter().map(tangent_m).collect());
        let mut beside = halves.map(|half| vec![half]);
        if density == Density::Beside {
            for all in &mut beside {
                all.extend(&square);
            }
        }
        Self { halves, tangents, beside, legs, slants }
    }

    fn beside(&self, axis: usize) -> &[f64] {
        &self.beside[usize::from(axis == UP)]
    }
}

/// What holds a duct in every region: the collar and the exits.
fn common(ways: &Ways<'_>, duct: &Duct, lengths: &Lengths) -> Stops {
    let mut common: Stops = std::array::from_fn(|i| vec![ways.from[i]]);
    let out = ways.towards.axis.index();
    for tangent in &lengths.tangents {
        let after = ways.towards.sign() * (duct.first_straight_m + tangent);
        common[out].push(ways.from[out] + after);
    }
    for exit in ways.exits {
        let out = exit.outward.axis.index();
        for (i, stops) in common.iter_mut().enumerate() {
            let (least, most) = (exit.window.min[i], exit.window.max[i]);
            if i == out {
                let before = (lengths.tangents.iter())
                    .map(|t| exit.outward.sign() * (duct.last_straight_m + t));
                stops.extend(before.map(|by| least - by));
            } else {
                stops.extend([least, 0.5 * (least + most), most]);
            }
        }
    }
    common
}

/// What holds a duct in one region: centre lines and faces of it and of those that it touches, members and obstacles.
fn held(ways: &Ways<'_>, regions: &[Region<'_>], region: &Region<'_>, lengths: &Lengths) -> Stops {
    let mut held: Stops = std::array::from_fn(|_| Vec::new());
    let touches = |a: &Block, b: &Block| a.grown(2.0 * TOUCH_M).overlaps(b);
    for near in regions.iter().filter(|r| touches(&r.clear, &region.clear)) {
        let middle = near.clear.middle();
        for (i, stops) in held.iter_mut().enumerate() {
            stops.push(middle[i]);
            for by in lengths.beside(i) {
                let (min, max) = (near.clear.min[i], near.clear.max[i]);
                stops.extend([min - by, min + by, max - by, max + by]);
            }
        }
    }
    // A leg from here on meets what lies ahead or behind in two of three directions.
    let reach = lengths.beside[0].iter().fold(lengths.halves[1], |most, by| most.max(*by));
    for block in ways.obstacles.iter().map(|o| &o.solid) {
        let wide = block.grown(reach);
        let meets =
            |i: usize| wide.min[i] < region.clear.max[i] && region.clear.min[i] < wide.max[i];
        if (0..3).filter(|i| meets(*i)).count() >= 2 {
            for (i, stops) in held.iter_mut().enumerate() {
                for by in lengths.beside(i) {
                    stops.extend([block.min[i] - by, block.max[i] + by]);
                }
            }
        }
    }
    held
}
