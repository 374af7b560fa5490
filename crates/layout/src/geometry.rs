//! Points, boxes and directions in the frame of the dwelling, metres.

/// A point: x, y, z.
pub type Point = [f64; 3];

/// Shortest length that counts, m: a tenth of a millimetre. Faces nearer than this touch.
pub const TOUCH_M: f64 = 1e-4;

/// A length in whole nanometres, so that those which differ by the rounding of sums alone compare as the same.
pub fn nm(length_m: f64) -> i64 {
    libm::round(1e9 * length_m) as i64
}

/// A direction along an axis of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along x.
    X,
    /// Along y.
    Y,
    /// Up.
    Z,
}

impl Axis {
    /// Index into a point.
    pub const fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }

    /// The other direction in plan; up stays up.
    #[must_use]
    pub const fn across(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
            Self::Z => Self::Z,
        }
    }
}

/// A box with faces along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Least x, y, z.
    pub min: Point,
    /// Greatest x, y, z.
    pub max: Point,
}

impl Block {
    /// Whether every edge has a length and every corner a place.
    pub fn is_sound(&self) -> bool {
        (0..3).all(|i| {
            self.min[i].is_finite()
                && self.max[i].is_finite()
                && self.max[i] - self.min[i] > TOUCH_M
        })
    }

    /// Length along an axis.
    pub fn size(&self, axis: Axis) -> f64 {
        self.max[axis.index()] - self.min[axis.index()]
    }

    /// Middle.
    pub fn middle(&self) -> Point {
        std::array::from_fn(|i| 0.5 * (self.min[i] + self.max[i]))
    }

    /// Grown by so much on every side; shrunk where it is negative.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self {
            min: std::array::from_fn(|i| self.min[i] - by),
            max: std::array::from_fn(|i| self.max[i] + by),
        }
    }

    /// Whether the insides of two boxes meet; faces that touch do not.
    pub fn overlaps(&self, other: &Self) -> bool {
        (0..3).all(|i| self.min[i] < other.max[i] - TOUCH_M && other.min[i] < self.max[i] - TOUCH_M)
    }

    /// Whether the other box lies inside or touches from within.
    pub fn holds(&self, other: &Self) -> bool {
        (0..3)
            .all(|i| other.min[i] >= self.min[i] - TOUCH_M && other.max[i] <= self.max[i] + TOUCH_M)
    }

    /// Whether a point lies inside or on the surface.
    pub fn has(&self, point: Point) -> bool {
        (0..3).all(|i| point[i] >= self.min[i] - TOUCH_M && point[i] <= self.max[i] + TOUCH_M)
    }

    /// What both share; none where they share nothing.
    #[must_use]
    pub fn shared(&self, other: &Self) -> Option<Self> {
        let shared = Self {
            min: std::array::from_fn(|i| self.min[i].max(other.min[i])),
            max: std::array::from_fn(|i| self.max[i].min(other.max[i])),
        };
        shared.is_sound().then_some(shared)
    }
}
