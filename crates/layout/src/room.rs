//! The plan of a room: its outline, its walls, what lies inside.
//!
//! An outline is a simple polygon; rectangles and right angles are the common case, any other is taken as it is. Lengths
//! taken from finished walls and lengths taken from bare framing differ by the boards: [`Plan::moved`] turns one into the
//! other.

use crate::error::{BadGeometry, Of};
use crate::geometry::TOUCH_M;

/// A point in plan: x, y.
pub type Spot = [f64; 2];

/// Most corners of a room.
pub const CORNERS_MOST: usize = 200;

/// Outline of a room without crossings. Corners keep the order and the numbers in which they were written.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    corners: Vec<Spot>,
    /// 1 where the corners run against the clock, seen from above, -1 where they run with it.
    sense: f64,
    name: String,
}

/// A wall of a room: from one corner to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Name, such as "north wall".
    pub id: String,
    /// Number of its first corner, from 1.
    pub corner: usize,
    /// Whether the outdoors is behind it; none where that is not known.
    pub outside: Option<bool>,
}

/// A straight piece of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// From.
    pub from: Spot,
    /// To.
    pub to: Spot,
    /// Direction out of the room, of length 1.
    pub outward: Spot,
}

/// A rectangle in plan with sides along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Least x, y.
    pub min: Spot,
    /// Greatest x, y.
    pub max: Spot,
}

impl Rectangle {
    /// Of given half sizes round a middle.
    pub fn round(middle: Spot, half: [f64; 2]) -> Self {
        Self {
            min: std::array::from_fn(|i| middle[i] - half[i]),
            max: std::array::from_fn(|i| middle[i] + half[i]),
        }
    }

    /// Grown by so much on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self { min: self.min.map(|v| v - by), max: self.max.map(|v| v + by) }
    }

    /// Whether the insides meet; sides that touch do not.
    pub fn overlaps(&self, other: &Self) -> bool {
        (0..2).all(|i| self.min[i] < other.max[i] - TOUCH_M && other.min[i] < self.max[i] - TOUCH_M)
    }
}

impl Edge {
    /// Length, m.
    pub fn length_m(&self) -> f64 {
        libm::hypot(self.to[0] - self.from[0], self.to[1] - self.from[1])
    }

    /// The place on the edge that is nearest to a point.
    pub fn nearest(&self, point: Spot) -> Spot {
        nearest_on(self.from, self.to, point)
    }
}

/// The place on a straight piece that is nearest to a point.
pub(crate) fn nearest_on(from: Spot, to: Spot, point: Spot) -> Spot {
    let along = [to[0] - from[0], to[1] - from[1]];
    let length2 = along[0] * along[0] + along[1] * along[1];
    if length2 <= 0.0 {
        return from;
    }
    let t = ((point[0] - from[0]) * along[0] + (point[1] - from[1]) * along[1]) / length2;
    let t = t.clamp(0.0, 1.0);
    [from[0] + t * along[0], from[1] + t * along[1]]
}

/// Twice the area of the triangle a, b, c: above zero where it runs against the clock.
pub(crate) fn turn(a: Spot, b: Spot, c: Spot) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Distance between two points in plan.
pub(crate) fn apart(a: Spot, b: Spot) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// Whether two straight pieces cross, or come nearer than they may without touching.
fn meet(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    let opposite = |p: f64, q: f64| (p > 0.0 && q < 0.0) || (p < 0.0 && q > 0.0);
    let crosses = opposite(turn(a.0, a.1, b.0), turn(a.0, a.1, b.1))
        && opposite(turn(b.0, b.1, a.0), turn(b.0, b.1, a.1));
    let touches = |(from, to): (Spot, Spot), p: Spot| apart(nearest_on(from, to, p), p) <= TOUCH_M;
    crosses || touches(a, b.0) || touches(a, b.1) || touches(b, a.0) || touches(b, a.1)
}

impl Plan {
    /// An outline of corners in order; the first one may be repeated at the end.
    ///
    /// # Errors
    /// When there are fewer than three corners or more than [`CORNERS_MOST`], one lies beyond any dwelling, a wall has no
    /// length, a wall folds back on its neighbour, or two walls cross or touch.
    pub fn new(name: &str, corners: &[Spot]) -> Result<Self, BadGeometry> {
        let of = Of(name);
        let mut corners = corners.to_vec();
        if corners.len() > 3 && corners.first() == corners.last() {
            corners.pop();
        }
        let count = corners.len();
        if !(3..=CORNERS_MOST).contains(&count) {
            return Err(of.bad(
                "number of corners",
                count as f64,
                "corners",
                "an outline has three or more, and no room has hundreds",
                "write each corner once, going round the room",
            ));
        }
        for value in corners.iter().flatten() {
            of.position("corner", *value)?;
        }
        check_edges(of, &corners)?;
        let area = signed_area(&corners);
        Ok(Self { corners, sense: area.signum(), name: name.to_owned() })
    }

    /// A rectangle from its least corner and its sizes along x and y.
    ///
    /// # Errors
    /// As [`Plan::new`].
    pub fn rectangle(name: &str, at: Spot, size: [f64; 2]) -> Result<Self, BadGeometry> {
        let of = Of(name);
        let [dx, dy] = [of.length("length", size[0], 0.01)?, of.length("width", size[1], 0.01)?];
        let [x, y] = at;
        Self::new(name, &[[x, y], [x + dx, y], [x + dx, y + dy], [x, y + dy]])
    }

    /// Corners, as they were written.
    pub fn corners(&self) -> &[Spot] {
        &self.corners
    }

    /// Name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Walls in order: the first one from the first corner to the second.
    pub fn edges(&self) -> Vec<Edge> {
        let next = self.corners.iter().cycle().skip(1);
        let edge = |(from, to): (&Spot, &Spot)| {
            let length = apart(*from, *to);
            let [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
            Edge { from: *from, to: *to, outward: [self.sense * dy, -self.sense * dx] }
        };
        self.corners.iter().zip(next).map(edge).collect()
    }

    /// The straight piece of a named wall.
    ///
    /// # Errors
    /// When the outline has no such corner.
    pub fn wall(&self, wall: &Wall) -> Result<Edge, BadGeometry> {
        let edge = wall.corner.checked_sub(1).and_then(|k| self.edges().get(k).copied());
        edge.ok_or_else(|| {
            Of(&wall.id).bad(
                "first corner",
                wall.corner as f64,
                "in order",
                "the room has no such corner",
                "count its corners from 1 in the order in which they are written",
            )
        })
    }

    /// Area, m2.
    pub fn area_m2(&self) -> f64 {
        signed_area(&self.corners).abs()
    }

    /// Length round, m.
    pub fn perimeter_m(&self) -> f64 {
        self.edges().iter().map(Edge::length_m).sum()
    }

    /// Centre of area; it may lie outside of a room that is not convex.
    pub fn centroid(&self) -> Spot {
        // Relative to the first corner, so that a room far from where the frame begins loses no digits.
        let [x0, y0] = self.corners[0];
        let (mut sum, mut area) = ([0.0; 2], 0.0);
        for edge in self.edges() {
            let (a, b) =
                ([edge.from[0] - x0, edge.from[1] - y0], [edge.to[0] - x0, edge.to[1] - y0]);
            let cross = a[0] * b[1] - b[0] * a[1];
            area += cross;
            sum = [sum[0] + (a[0] + b[0]) * cross, sum[1] + (a[1] + b[1]) * cross];
        }
        [x0 + sum[0] / (3.0 * area), y0 + sum[1] / (3.0 * area)]
    }

    /// Least and greatest x and y.
    pub fn bounds(&self) -> Rectangle {
        let first = self.corners[0];
        self.corners.iter().fold(Rectangle { min: first, max: first }, |all, corner| Rectangle {
            min: std::array::from_fn(|i| all.min[i].min(corner[i])),
            max: std::array::from_fn(|i| all.max[i].max(corner[i])),
        })
    }

    /// Whether a point lies inside or on a wall.
    pub fn contains(&self, point: Spot) -> bool {
        self.distance_m(point) <= TOUCH_M || self.inside(point)
    }

    /// Distance to the nearest wall, m.
    pub fn distance_m(&self, point: Spot) -> f64 {
        self.edges().iter().map(|e| apart(e.nearest(point), point)).fold(f64::INFINITY, f64::min)
    }

    /// Whether a rectangle lies inside; it may touch the walls.
    pub fn contains_rectangle(&self, rectangle: &Rectangle) -> bool {
        let middle = std::array::from_fn(|i| 0.5 * (rectangle.min[i] + rectangle.max[i]));
        // No wall passes through its inside, so all of it lies on the side on which its middle lies.
        self.contains(middle)
            && !self
                .edges()
                .iter()
                .any(|e| passes_through(e.from, e.to, &rectangle.grown(-TOUCH_M)))
    }

    /// The outline with each wall moved outwards by so much, inwards where it is below zero: bare framing from finished
    /// walls by the thickness of their boards, and back.
    ///
    /// # Errors
    /// When a length is not given for each wall, or the walls so moved cross or vanish.
    pub fn moved(&self, outwards_m: &[f64]) -> Result<Self, BadGeometry> {
        let of = Of(&self.name);
        let edges = self.edges();
        if outwards_m.len() != edges.len() {
            return Err(of.bad(
                "number of wall thicknesses",
                outwards_m.len() as f64,
                "thicknesses",
                "one is needed for each wall",
                "write one for each corner",
            ));
        }
        for by in outwards_m {
            of.position("thickness of a wall", *by)?;
        }
        let lines: Vec<(Spot, Spot)> =
            edges.iter().zip(outwards_m).map(|(edge, by)| shifted(edge, *by)).collect();
        let count = lines.len();
        let corners: Vec<Spot> =
            (0..count).map(|k| corner_of(lines[(k + count - 1) % count], lines[k])).collect();
        let plan = Self::new(&self.name, &corners)?;
        let turned = plan.edges().iter().zip(&edges).any(|(new, old)| {
            new.outward[0] * old.outward[0] + new.outward[1] * old.outward[1] < 0.5
        });
        if turned {
            return Err(of.bad(
                "thickness of walls",
                outwards_m.iter().fold(0.0, |most: f64, by| most.max(by.abs())),
                "m",
                "the room vanishes behind its boards",
                "check the thickness and the corners",
            ));
        }
        Ok(plan)
    }

    /// Inside by the even-odd rule: a ray along x meets the outline an odd number of times.
    fn inside(&self, [x, y]: Spot) -> bool {
        let crossings = self.edges().into_iter().filter(|e| {
            let (a, b) = if e.from[1] <= e.to[1] { (e.from, e.to) } else { (e.to, e.from) };
            a[1] <= y && y < b[1] && turn(a, b, [x, y]) > 0.0
        });
        crossings.count() % 2 == 1
    }
}

/// Area by the corners, above zero where they run against the clock.
fn signed_area(corners: &[Spot]) -> f64 {
    let first = corners[0];
    let triangle = |pair: &[Spot]| 0.5 * turn(first, pair[0], pair[1]);
    corners.windows(2).map(triangle).sum()
}

/// Whether every wall has a length and no two meet but at their common corner.
fn check_edges(of: Of<'_>, corners: &[Spot]) -> Result<(), BadGeometry> {
    let count = corners.len();
    let edge = |k: usize| (corners[k % count], corners[(k + 1) % count]);
    for k in 0..count {
        let (from, to) = edge(k);
        let length = apart(from, to);
        if length <= 10.0 * TOUCH_M {
            return Err(of.bad(
                "length of a wall",
                length,
                "m",
                "two corners fall together",
                "write each corner once",
            ));
        }
    }
    for k in 0..count {
        let (from, to) = edge(k);
        let beyond = edge(k + 1).1;
        let folds =
            (to[0] - from[0]) * (beyond[0] - to[0]) + (to[1] - from[1]) * (beyond[1] - to[1]) < 0.0
                && (apart(nearest_on(from, to, beyond), beyond) <= TOUCH_M
                    || apart(nearest_on(to, beyond, from), from) <= TOUCH_M);
        if folds {
            return Err(of.bad(
                "wall",
                (k + 2) as f64,
                "in order",
                "it runs back over the one before",
                "check the order of the corners",
            ));
        }
        let apart_by_more = |j: &usize| (j + 1) % count != k && (k + 1) % count != *j;
        if let Some(j) = (k + 1..count).filter(apart_by_more).find(|j| meet(edge(k), edge(*j))) {
            return Err(of.bad(
                "wall",
                (j + 1) as f64,
                "in order",
                "it crosses or touches another wall of the same outline",
                "write the corners in the order in which one walks round the room",
            ));
        }
    }
    Ok(())
}

/// The line of a wall, moved outwards.
fn shifted(edge: &Edge, by: f64) -> (Spot, Spot) {
    let moved = |p: Spot| std::array::from_fn(|i| p[i] + by * edge.outward[i]);
    (moved(edge.from), moved(edge.to))
}

/// Where the lines of two neighbouring walls meet; between their ends where they run on in one line.
fn corner_of(before: (Spot, Spot), after: (Spot, Spot)) -> Spot {
    let d = [before.1[0] - before.0[0], before.1[1] - before.0[1]];
    let e = [after.1[0] - after.0[0], after.1[1] - after.0[1]];
    let cross = d[0] * e[1] - d[1] * e[0];
    if cross.abs() <= 1e-9 * libm::hypot(d[0], d[1]) * libm::hypot(e[0], e[1]) {
        return std::array::from_fn(|i| 0.5 * (before.1[i] + after.0[i]));
    }
    let t = ((after.0[0] - before.0[0]) * e[1] - (after.0[1] - before.0[1]) * e[0]) / cross;
    [before.0[0] + t * d[0], before.0[1] + t * d[1]]
}

/// Whether a straight piece passes through the inside of a rectangle.
pub(crate) fn passes_through(from: Spot, to: Spot, rectangle: &Rectangle) -> bool {
    // The part of the piece, from 0 to 1, that lies strictly between both pairs of sides.
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for i in 0..2 {
        let (start, step) = (from[i], to[i] - from[i]);
        let (low, high) = (rectangle.min[i] - start, rectangle.max[i] - start);
        if step.abs() < 1e-12 {
            if low >= 0.0 || high <= 0.0 {
                return false;
            }
            continue;
        }
        let (a, b) = if step > 0.0 { (low / step, high / step) } else { (high / step, low / step) };
        enters = enters.max(a);
        leaves = leaves.min(b);
    }
    enters < leaves
}
