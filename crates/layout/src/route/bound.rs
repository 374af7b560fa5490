//! What a way still costs at least: the bound that leads the search.
//!
//! A way without slanted legs costs at least the sum of the distances along the axes and the turns that its directions need. One
//! with slanted legs goes along axes and along lines at 45 degrees between two of them, and has two fittings of 45 degrees
//! more. The lesser of both is a bound that never grows by more than a step costs, as the search needs it.

use std::sync::OnceLock;

use super::cost::Cost;
use super::turn::{is_half, tangent_m};
use super::ways::{Bend, Duct, Exit, Heading};
use crate::geometry::{Point, TOUCH_M};

/// Headings along the axes, in both senses.
const HEADINGS: usize = 6;

/// Signs of what is still to go along three axes: 3 to the power of 3.
const SIGNS: usize = 27;

/// No way turns so often.
const NEVER: u8 = u8::MAX;

/// Least costs of one duct, without what depends on the place.
pub(super) struct Least {
    loss: Rate,
    work: Rate,
}

/// One kind of cost.
struct Rate {
    /// Along the axes alone: a metre, and a turn beyond the length that its fitting covers.
    square_per_m: f64,
    square_turn: f64,
    /// With slanted legs.
    slanted: Option<Slanted>,
}

/// Cost of a way that has slanted legs.
struct Slanted {
    per_m: f64,
    /// A turn, of which a pair of fittings of 45 degrees makes one or two.
    turn: f64,
    /// A pair of fittings of 45 degrees.
    pair: f64,
}

impl Least {
    pub(super) fn of(duct: &Duct) -> Self {
        Self {
            loss: Rate::of(duct, duct.straight_pa_per_m, |b| b.pressure_pa),
            work: Rate::of(duct, duct.straight_h_per_m, |b| b.labour_h),
        }
    }

    /// A cost below which no way from a point, reached along an axis, to an exit can be.
    pub(super) fn bound(&self, duct: &Duct, exit: &Exit, at: Point, heading: Heading) -> Cost {
        let gaps: [f64; 3] = std::array::from_fn(|i| {
            let (below, above) = (exit.window.min[i] - at[i], at[i] - exit.window.max[i]);
            // A hair less, for coordinates that fall together within a micrometre.
            let hair = 2.0 * TOUCH_M;
            if below > hair {
                below - hair
            } else if above > hair {
                hair - above
            } else {
                0.0
            }
        });
        let turns = turns(heading, exit.outward, gaps);
        let of = |rate: &Rate, per_m: f64| rate.least(gaps, turns) + exit.depth_m * per_m;
        Cost::down(
            of(&self.loss, duct.straight_pa_per_m) + exit.pressure_pa,
            of(&self.work, duct.straight_h_per_m) + exit.labour_h,
        )
    }
}

impl Rate {
    /// Where a fitting costs less than a straight piece over the distance that it covers, the distance counts at the lower
    /// rate of that fitting.
    fn of(duct: &Duct, straight: f64, cost: fn(&Bend) -> f64) -> Self {
        let (halves, squares): (Vec<&Bend>, Vec<&Bend>) =
            duct.bends.iter().partition(|bend| is_half(bend));
        // What a fitting covers of a distance: a turn both its tangents along the axes, a slanted leg between them when lines
        // at 45 degrees count too; a half turn both its tangents.
        let along = |bend: &Bend| 2.0 * tangent_m(bend);
        let askew = |bend: &Bend| std::f64::consts::SQRT_2 * tangent_m(bend);
        let least = |all: &[&Bend], of: &dyn Fn(&Bend) -> f64| {
            all.iter().map(|bend| of(bend)).fold(f64::INFINITY, f64::min)
        };
        let square_per_m = straight.min(least(&squares, &|b| cost(b) / along(b)));
        let beyond = |per_m: f64, covers: f64, bend: &Bend| (cost(bend) - per_m * covers).max(0.0);
        let square_turn = least(&squares, &|b| beyond(square_per_m, along(b), b));
        let slanted = (!halves.is_empty()).then(|| {
            let per_m = square_per_m
                .min(least(&squares, &|b| cost(b) / askew(b)))
                .min(least(&halves, &|b| cost(b) / along(b)));
            let pair = 2.0 * least(&halves, &|b| beyond(per_m, along(b), b));
            let turn = least(&squares, &|b| beyond(per_m, askew(b), b));
            Slanted { per_m, turn: turn.min(square_turn).min(0.5 * pair), pair }
        });
        Self { square_per_m, square_turn, slanted }
    }

    fn least(&self, gaps: [f64; 3], turns: u8) -> f64 {
        let along_axes: f64 = gaps.iter().map(|gap| gap.abs()).sum();
        let turns = f64::from(turns);
        let turned = if turns > 0.0 { turns * self.square_turn } else { 0.0 };
        let square = along_axes * self.square_per_m + turned;
        let slanted = self
            .slanted
            .as_ref()
            .map(|slanted| askew_m(gaps) * slanted.per_m + slanted.pair.max(turns * slanted.turn));
        let least = slanted.map_or(square, |slanted| slanted.min(square));
        // Where nothing turns there is no way; that is for the search to find.
        if least.is_finite() { least } else { along_axes * self.square_per_m }
    }
}

/// Shortest length along the axes and lines at 45 degrees between two of them.
fn askew_m(gaps: [f64; 3]) -> f64 {
    let sum: f64 = gaps.iter().map(|gap| gap.abs()).sum();
    let most = gaps.iter().fold(0.0_f64, |most, gap| most.max(gap.abs()));
    let rest = sum - most;
    if most >= rest {
        most + (std::f64::consts::SQRT_2 - 1.0) * rest
    } else {
        sum * std::f64::consts::FRAC_1_SQRT_2
    }
}

/// Fewest turns by which a way that begins in one direction ends in another and leads so far along each axis.
fn turns(from: Heading, to: Heading, gaps: [f64; 3]) -> u8 {
    static TABLE: OnceLock<Vec<u8>> = OnceLock::new();
    let table = TABLE.get_or_init(table);
    let signs = gaps.iter().fold(0, |code, gap| 3 * code + sign_code(*gap));
    let fewest = table[(number(from) * HEADINGS + number(to)) * SIGNS + signs];
    if fewest == NEVER { 0 } else { fewest }
}

fn sign_code(gap: f64) -> usize {
    if gap > 0.0 {
        1
    } else if gap < 0.0 {
        2
    } else {
        0
    }
}

const fn number(heading: Heading) -> usize {
    2 * heading.axis.index() + heading.ahead as usize
}

/// Fewest turns for each pair of directions and each choice of signs.
fn table() -> Vec<u8> {
    let mut all = Vec::with_capacity(HEADINGS * HEADINGS * SIGNS);
    for from in 0..HEADINGS {
        for to in 0..HEADINGS {
            for signs in 0..SIGNS {
                all.push(fewest(from, to, needed(signs)));
            }
        }
    }
    all
}

/// Directions that are needed for signs, one bit each.
fn needed(signs: usize) -> u8 {
    let codes = [signs / 9, signs / 3 % 3, signs % 3];
    codes.iter().enumerate().fold(0, |bits, (axis, code)| match code {
        1 => bits | 1 << (2 * axis + 1),
        2 => bits | 1 << (2 * axis),
        _ => bits,
    })
}

/// Fewest quarter turns from one direction to another through all that are needed, by breadth.
fn fewest(from: usize, to: usize, needed: u8) -> u8 {
    let mut seen = [[false; 64]; HEADINGS];
    let mut layer = vec![(from, needed & !(1 << from))];
    for turns in 0..=HEADINGS as u8 {
        if layer.contains(&(to, 0)) {
            return turns;
        }
        let mut next = Vec::new();
        for (heading, open) in layer {
            for after in (0..HEADINGS).filter(|after| after / 2 != heading / 2) {
                let state = (after, open & !(1 << after));
                if !std::mem::replace(&mut seen[state.0][usize::from(state.1)], true) {
                    next.push(state);
                }
            }
        }
        layer = next;
    }
    NEVER
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Axis;

    fn heading(axis: Axis, ahead: bool) -> Heading {
        Heading { axis, ahead }
    }

    /// Counted by hand on paper.
    #[test]
    fn turns_are_as_few_as_can_be() {
        let (x, back, y) =
            (heading(Axis::X, true), heading(Axis::X, false), heading(Axis::Y, true));
        for (from, to, gaps, fewest) in [
            (x, x, [1.0, 0.0, 0.0], 0),
            (x, x, [1.0, 1.0, 0.0], 2),
            (x, x, [1.0, 1.0, -1.0], 3),
            (x, x, [-1.0, 0.0, 0.0], 4),
            (x, y, [1.0, 1.0, 0.0], 1),
            (x, y, [1.0, 1.0, 1.0], 2),
            (x, y, [-1.0, 1.0, 0.0], 3),
            (x, y, [1.0, -1.0, 0.0], 3),
            (x, back, [1.0, 0.0, 0.0], 2),
            (x, back, [-1.0, 1.0, 1.0], 3),
        ] {
            assert_eq!(turns(from, to, gaps), fewest, "{from:?} {to:?} {gaps:?}");
        }
    }

    #[test]
    fn askew_is_shorter_than_along_the_axes_and_longer_than_straight() {
        assert!((askew_m([3.0, 0.0, 0.0]) - 3.0).abs() < 1e-12);
        assert!((askew_m([2.0, -1.0, 0.0]) - (1.0 + 2.0_f64.sqrt())).abs() < 1e-12);
        assert!((askew_m([1.0, 1.0, 1.0]) - 1.5 * 2.0_f64.sqrt()).abs() < 1e-12);
    }
}
