//! Coordinates at which a corner may lie.

use super::free::{Region, is_half, least_slant, tangent_m};
use super::{Duct, Ways};
use crate::geometry::{Block, TOUCH_M};

/// Coordinates along x, y and z in order.
pub(super) type Stops = [Vec<f64>; 3];

/// Index of up.
const UP: usize = 2;

/// Coordinates in order, those that fall together once.
pub(super) fn in_order(mut all: Vec<f64>) -> Vec<f64> {
    all.sort_by(f64::total_cmp);
    all.dedup_by(|next, kept| *next - *kept <= TOUCH_M);
    all
}

/// For each region the coordinates that matter in it: its own centre line, those of regions that touch it, the outlet, the
/// windows of exits, faces of obstacles moved off by half the duct, and the nearest places at which one fitting can follow
/// the collar, the exit or another fitting across from bays.
pub(super) fn of(
    ways: &Ways<'_>,
    duct: &Duct,
    regions: &[Region<'_>],
    [wide, flat]: [f64; 2],
) -> Vec<Stops> {
    let half = |i: usize| if i == UP { flat } else { wide };
    let tangents: Vec<f64> = in_order(duct.bends.iter().map(tangent_m).collect());
    let square: Vec<f64> =
        in_order(duct.bends.iter().filter(|b| !is_half(b)).map(tangent_m).collect());
    let pairs = in_order(
        square
            .iter()
            .flat_map(|a| square.iter().map(move |b| a + duct.min_straight_m + b))
            .collect(),
    );
    let slants = in_order(
        (duct.bends.iter().filter(|b| is_half(b)))
            .map(|b| least_slant(b, duct.min_straight_m))
            .collect(),
    );
    let mut common: Stops = std::array::from_fn(|i| vec![ways.from[i]]);
    let out = ways.towards.axis.index();
    for tangent in &tangents {
        let after = ways.towards.sign() * (duct.first_straight_m + tangent);
        common[out].push(ways.from[out] + after);
    }
    for exit in ways.exits {
        let out = exit.outward.axis.index();
        for (i, stops) in common.iter_mut().enumerate() {
            let (least, most) = (exit.window.min[i], exit.window.max[i]);
            if i == out {
                let before =
                    tangents.iter().map(|t| exit.outward.sign() * (duct.last_straight_m + t));
                stops.extend(before.map(|by| least - by));
            } else {
                stops.extend([least, 0.5 * (least + most), most]);
            }
        }
    }
    let levels = regions.iter().filter(|r| r.is_bay).map(|r| r.clear.middle()[UP]);
    let levels = in_order(levels.chain(std::iter::once(ways.from[UP])).collect());
    for level in levels {
        common[UP].extend(pairs.iter().flat_map(|by| [level - by, level + by]));
    }
    let touches = |a: &Block, b: &Block| a.grown(2.0 * TOUCH_M).overlaps(b);
    regions
        .iter()
        .map(|region| {
            let mut stops = common.clone();
            let near = regions.iter().filter(|r| touches(&r.clear, &region.clear));
            for neighbour in near {
                let middle = neighbour.clear.middle();
                (0..3).for_each(|i| stops[i].push(middle[i]));
            }
            let members = ways.members.iter().map(|m| &m.solid).filter(|_| !region.is_bay);
            let blocks = ways.obstacles.iter().map(|o| &o.solid).chain(members);
            for block in blocks.filter(|b| b.grown(wide).overlaps(&region.clear)) {
                let inside = region.clear.overlaps(block);
                for i in (0..3).filter(|_| inside) {
                    stops[i].extend([block.min[i] - half(i), block.max[i] + half(i)]);
                }
            }
            if region.is_bay {
                let middle = region.clear.middle();
                for (i, stops) in stops.iter_mut().enumerate() {
                    stops.extend(slants.iter().flat_map(|by| [middle[i] - by, middle[i] + by]));
                }
            } else {
                for (i, stops) in stops.iter_mut().enumerate() {
                    stops.extend([region.clear.min[i] + half(i), region.clear.max[i] - half(i)]);
                }
            }
            let mut stops = stops.into_iter();
            std::array::from_fn(|i| {
                let inside = |at: &f64| (region.clear.min[i]..=region.clear.max[i]).contains(at);
                in_order(stops.next().into_iter().flatten().filter(inside).collect())
            })
        })
        .collect()
}
