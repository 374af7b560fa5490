//! How a housing is fastened where it hangs, and what its cable crosses.
//!
//! Blocks are set across the bay at both ends of the housing, cut to the clear width; that two of them and a member carry a
//! housing of usual weight is common practice, no source.

use dewpath_units::sort;

use super::site::{Bound, Housing, Site};
use crate::framing::{Bay, Member};
use crate::geometry::{Axis, Block, TOUCH_M};
use crate::room::Spot;

/// A side of a bay beside a housing.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Member whose face it is; none where the bay ends without one.
    pub member: Option<String>,
    /// Gap between it and the body, m.
    pub gap_m: f64,
    /// Whether ears or screws reach over the gap, so that the body is fastened to it.
    pub fastened: bool,
}

/// A block across a bay.
#[derive(Debug, Clone, PartialEq)]
pub struct BlockCut {
    /// Members between which it stands, lesser side first; none for an edge without a member.
    pub between: [Option<String>; 2],
    /// Length to cut: the clear width of the bay, m.
    pub length_m: f64,
    /// Middle of its face towards the housing.
    pub at: Spot,
    /// What is in its way; none where it can be set.
    pub blocked_by: Option<Bound>,
}

/// Hanger bars across a bay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bars {
    /// Number.
    pub count: u32,
    /// Clear width that each spans, m.
    pub span_m: f64,
}

/// How a housing is fastened.
#[derive(Debug, Clone, PartialEq)]
pub struct Mount {
    /// The sides of the bay, lesser first.
    pub faces: [Face; 2],
    /// Blocks at both ends of the housing; empty where it is fastened on both sides.
    pub blocks: Vec<BlockCut>,
    /// Bars instead of blocks; none where it is fastened on both sides.
    pub bars: Option<Bars>,
}

impl Mount {
    /// Blocks that can be set.
    pub fn clear_blocks(&self) -> impl Iterator<Item = &BlockCut> {
        self.blocks.iter().filter(|block| block.blocked_by.is_none())
    }
}

/// Fastening of a body in its bay; `duct` is the room of collar and first straight length.
pub(super) fn of(
    housing: &Housing,
    site: &Site<'_>,
    bay: &Bay,
    body: &Block,
    duct: Option<&Block>,
) -> Mount {
    let (along, across) = (bay.along.index(), bay.along.across().index());
    let face = |edge: f64, gap: f64, side: fn(&Block, usize) -> f64| {
        let beside = |m: &&Member| {
            (side(&m.solid, across) - edge).abs() <= TOUCH_M
                && m.solid.min[along] < body.max[along]
                && m.solid.max[along] > body.min[along]
        };
        let member = site.members.iter().find(beside).map(|m| m.id.clone());
        let gap_m = gap.max(0.0);
        let fastened = member.is_some() && gap_m <= housing.reach_m + TOUCH_M;
        Face { member, gap_m, fastened }
    };
    let faces = [
        face(bay.space.min[across], body.min[across] - bay.space.min[across], |b, i| b.max[i]),
        face(bay.space.max[across], bay.space.max[across] - body.max[across], |b, i| b.min[i]),
    ];
    if faces.iter().all(|face| face.fastened) {
        return Mount { faces, blocks: Vec::new(), bars: None };
    }
    let clear_m = bay.space.size(bay.along.across());
    let ends =
        [(body.min[along], -site.stock.thickness_m), (body.max[along], site.stock.thickness_m)];
    let blocks = ends.map(|(end, thickness)| {
        let mut solid = bay.space;
        solid.min[along] = end.min(end + thickness);
        solid.max[along] = end.max(end + thickness);
        solid.max[2] = solid.max[2].min(solid.min[2] + site.stock.depth_m);
        let mut at = [0.0; 2];
        at[along] = end;
        at[across] = 0.5 * (bay.space.min[across] + bay.space.max[across]);
        BlockCut {
            between: [faces[0].member.clone(), faces[1].member.clone()],
            length_m: clear_m,
            at,
            blocked_by: blocked_by(site, bay, &solid, duct),
        }
    });
    Mount { faces, blocks: blocks.into(), bars: Some(Bars { count: 2, span_m: clear_m }) }
}

/// What is in the way of a block.
fn blocked_by(site: &Site<'_>, bay: &Bay, solid: &Block, duct: Option<&Block>) -> Option<Bound> {
    if duct.is_some_and(|duct| duct.overlaps(solid)) {
        return Some(Bound::FirstStraight(None));
    }
    if let Some(obstacle) = site.obstacles.iter().find(|o| o.solid.overlaps(solid)) {
        return Some(Bound::Obstacle(obstacle.id.clone()));
    }
    if let Some(member) = site.members.iter().find(|m| m.solid.overlaps(solid)) {
        return Some(Bound::Member(member.id.clone()));
    }
    (!bay.space.holds(solid)).then_some(Bound::BayLength)
}

/// Members that a cable crosses on its way in two straight lines along the axes, in order from where it comes. Of the two such
/// ways the one that crosses fewer; the one that goes along x first where both cross as many.
pub fn crossed_by_cable(members: &[Member], from: Spot, to: Spot) -> Vec<String> {
    let way = |corner: Spot, first: Axis| {
        let mut met = crossed(members, from, corner, first);
        met.extend(crossed(members, corner, to, first.across()));
        met
    };
    let (x_first, y_first) = (way([to[0], from[1]], Axis::X), way([from[0], to[1]], Axis::Y));
    if y_first.len() < x_first.len() { y_first } else { x_first }
}

/// Members crossed by a straight line along an axis, in order.
fn crossed(members: &[Member], from: Spot, to: Spot, way: Axis) -> Vec<String> {
    let i = way.index();
    let mut met: Vec<(f64, &Member)> = members
        .iter()
        .filter(|m| m.along == way.across())
        .map(|m| (0.5 * (m.solid.min[i] + m.solid.max[i]), m))
        .filter(|(at, m)| {
            let (low, high) = (from[i].min(to[i]), from[i].max(to[i]));
            let beside = from[1 - i] >= m.solid.min[1 - i] && from[1 - i] <= m.solid.max[1 - i];
            *at > low && *at < high && beside
        })
        .collect();
    let nearness = |at: f64| (at - from[i]).abs();
    sort::by(&mut met, |(a, _), (b, _)| nearness(*a).total_cmp(&nearness(*b)));
    met.into_iter().map(|(_, m)| m.id.clone()).collect()
}
