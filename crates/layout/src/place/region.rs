//! The nearest free spot to a wish in a box from which convex shapes are taken away.
//!
//! The nearest spot is the wish itself, or the foot of the wish on one straight side of the box or of a shape, or a corner
//! where two sides meet: all of them are tried in order of distance, so that the answer is exact.

use dewpath_units::sort;

use crate::geometry::{TOUCH_M, nm};
use crate::room::{Rectangle, Spot, apart, nearest_on, turn};

/// A convex shape, corners against the clock, whose inside is not free; its sides are.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Taken {
    corners: Vec<Spot>,
}

/// Straight piece.
type Piece = (Spot, Spot);

impl Taken {
    /// Middles at which a rectangle of the half sizes, its own middle `offset` from there, overlaps another rectangle.
    pub(crate) fn by_rectangle(other: &Rectangle, offset: Spot, half: [f64; 2]) -> Self {
        let grown = Rectangle {
            min: std::array::from_fn(|i| other.min[i] - offset[i] - half[i]),
            max: std::array::from_fn(|i| other.max[i] - offset[i] + half[i]),
        };
        Self { corners: corners_of(&grown).to_vec() }
    }

    /// Middles at which such a rectangle has a straight piece in its inside.
    pub(crate) fn by_piece(from: Spot, to: Spot, offset: Spot, half: [f64; 2]) -> Self {
        let round = |p: Spot| {
            corners_of(&Rectangle::round(std::array::from_fn(|i| p[i] - offset[i]), half))
        };
        Self { corners: hull(round(from).into_iter().chain(round(to)).collect()) }
    }

    /// Whether a spot lies inside by more than a touch.
    fn holds(&self, spot: Spot) -> bool {
        self.sides().all(|(a, b)| turn(a, b, spot) > TOUCH_M * apart(a, b))
    }

    /// Whether any of it may lie in a box.
    pub(crate) fn reaches(&self, space: &Rectangle) -> bool {
        (0..2).all(|i| {
            let (low, high) = self
                .corners
                .iter()
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), c| (l.min(c[i]), h.max(c[i])));
            low < space.max[i] + TOUCH_M && high > space.min[i] - TOUCH_M
        })
    }

    fn sides(&self) -> impl Iterator<Item = Piece> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(a, b)| (*a, *b))
    }
}

/// Order of spots by how far they lie from a wish; of several at the same distance the one with the least x, then y, comes first.
/// In whole nanometres: sums that came about in another way, as in inches and in millimetres, settle a tie alike.
pub(crate) fn nearness(spot: Spot, wish: Spot) -> (i64, i64, i64) {
    (nm(apart(spot, wish)), nm(spot[0]), nm(spot[1]))
}

/// The spot of `space` outside of everything taken that comes first by its [`nearness`] to the wish, of those that are `allowed`.
pub(crate) fn nearest_free(
    space: &Rectangle,
    taken: &[Taken],
    wish: Spot,
    allowed: &dyn Fn(Spot) -> bool,
) -> Option<Spot> {
    let taken: Vec<&Taken> = taken.iter().filter(|t| t.reaches(space)).collect();
    let free = |spot: Spot| !taken.iter().any(|t| t.holds(spot)) && allowed(spot);
    let into_space =
        |spot: Spot| std::array::from_fn(|i| spot[i].clamp(space.min[i], space.max[i]));
    let first = into_space(wish);
    if free(first) {
        return Some(first);
    }
    let box_corners = corners_of(space);
    let mut pieces: Vec<Piece> =
        (0..4).map(|k| (box_corners[k], box_corners[(k + 1) % 4])).collect();
    pieces.extend(taken.iter().flat_map(|t| t.sides()));
    let within = |spot: &Spot| {
        (0..2).all(|i| spot[i] > space.min[i] - TOUCH_M && spot[i] < space.max[i] + TOUCH_M)
    };
    let mut spots: Vec<((i64, i64, i64), Spot)> = feet_and_corners(&pieces, wish)
        .into_iter()
        .filter(within)
        .map(into_space)
        .map(|spot| (nearness(spot, wish), spot))
        .collect();
    sort::by_key(&mut spots, |(nearness, _)| *nearness);
    spots.into_iter().map(|(_, spot)| spot).find(|spot| free(*spot))
}

/// Where the nearest spot can be: the foot of the wish on each piece, the ends of each, and where two of them meet.
fn feet_and_corners(pieces: &[Piece], wish: Spot) -> Vec<Spot> {
    let mut spots = Vec::new();
    for (k, piece) in pieces.iter().enumerate() {
        spots.extend([nearest_on(piece.0, piece.1, wish), piece.0, piece.1]);
        spots.extend(pieces[k + 1..].iter().filter_map(|other| crossing(*piece, *other)));
    }
    spots
}

/// Where two pieces meet; none where they run side by side.
fn crossing(a: Piece, b: Piece) -> Option<Spot> {
    let d = [a.1[0] - a.0[0], a.1[1] - a.0[1]];
    let e = [b.1[0] - b.0[0], b.1[1] - b.0[1]];
    let cross = d[0] * e[1] - d[1] * e[0];
    let lengths = libm::hypot(d[0], d[1]) * libm::hypot(e[0], e[1]);
    if cross.abs() <= 1e-12 * lengths {
        return None;
    }
    let f = [b.0[0] - a.0[0], b.0[1] - a.0[1]];
    let t = (f[0] * e[1] - f[1] * e[0]) / cross;
    let u = (f[0] * d[1] - f[1] * d[0]) / cross;
    let on = |share: f64| (-1e-9..=1.0 + 1e-9).contains(&share);
    (on(t) && on(u)).then(|| [a.0[0] + t * d[0], a.0[1] + t * d[1]])
}

/// Corners against the clock.
fn corners_of(r: &Rectangle) -> [Spot; 4] {
    [r.min, [r.max[0], r.min[1]], r.max, [r.min[0], r.max[1]]]
}

/// Smallest convex shape round points, by two chains over the points in order of x.
fn hull(mut points: Vec<Spot>) -> Vec<Spot> {
    sort::by(&mut points, |a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let chain = |points: &mut dyn Iterator<Item = &Spot>| {
        let mut chain: Vec<Spot> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..]
                && turn(a, b, *point) <= 0.0
            {
                chain.pop();
            }
            chain.push(*point);
        }
        chain.pop();
        chain
    };
    let mut lower = chain(&mut points.iter());
    lower.extend(chain(&mut points.iter().rev()));
    lower
}
