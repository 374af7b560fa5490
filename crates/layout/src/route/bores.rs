//! Where along the members bores begin and cease to be allowed.
//!
//! Only the caller knows the rules, so they are asked: at even stations along a member first, then between two neighbours
//! with different answers until the end of what is allowed is known to a micrometre. A stretch between two stations is not
//! found.

use super::region::in_order;
use super::ways::{Bore, MayBore, Ways};
use crate::bore::Opening;
use crate::framing::Member;
use crate::geometry::{Point, TOUCH_M};

/// Stations along a member.
const STATIONS: usize = 48;

/// Halvings between two stations: 10 m by 2 to the power of 24 is less than a micrometre.
const HALVINGS: usize = 24;

/// Index of up.
const UP: usize = 2;

/// An end of what is allowed: the axis along the member, the coordinate along it, a point of the member there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct End {
    pub(super) axis: usize,
    pub(super) at: f64,
    pub(super) on: Point,
}

/// The ends of all stretches in which a hole is allowed, at the heights at which a duct is led: in the middle of bays and at
/// the collar.
pub(super) fn ends(ways: &Ways<'_>, hole: Opening, may_bore: &MayBore<'_>) -> Vec<End> {
    let mut levels: Vec<f64> = ways.bays.iter().map(|bay| bay.space.middle()[UP]).collect();
    levels.push(ways.from[UP]);
    let levels = in_order(levels);
    let mut ends = Vec::new();
    for member in ways.members {
        for level in &levels {
            if *level > member.solid.min[UP] && *level < member.solid.max[UP] {
                of_member(member, *level, hole, may_bore, &mut ends);
            }
        }
    }
    ends
}

fn of_member(
    member: &Member,
    level: f64,
    hole: Opening,
    may_bore: &MayBore<'_>,
    ends: &mut Vec<End>,
) {
    let axis = member.along.index();
    let (low, high) = (member.solid.min[axis], member.solid.max[axis]);
    if axis == UP || high - low <= TOUCH_M {
        return;
    }
    let height = level - member.solid.min[UP];
    let is_allowed = |at: f64| may_bore(member, at - member.span[0], height, hole) == Bore::Allowed;
    let station = |k: usize| low + (high - low) * k as f64 / STATIONS as f64;
    let answers: Vec<bool> = (0..=STATIONS).map(|k| is_allowed(station(k))).collect();
    for k in (0..STATIONS).filter(|k| answers[*k] != answers[k + 1]) {
        let (mut yes, mut no) = (station(k), station(k + 1));
        if answers[k + 1] {
            (yes, no) = (no, yes);
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (yes + no);
            if is_allowed(middle) {
                yes = middle;
            } else {
                no = middle;
            }
        }
        let mut on = member.solid.middle();
        on[axis] = yes;
        ends.push(End { axis, at: yes, on });
    }
}
