//! Places and boxes on the paper.

/// A place on the paper: millimetres to the right and downwards.
pub type Spot = [f64; 2];

/// A box on the paper with sides along the edges of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Least x and y.
    pub min: Spot,
    /// Greatest x and y.
    pub max: Spot,
}

impl Rect {
    /// From a corner, a width and a height.
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self { min: [x, y], max: [x + width, y + height] }
    }

    /// The least box round some places; none where there are none.
    pub fn round(spots: impl IntoIterator<Item = Spot>) -> Option<Self> {
        spots.into_iter().fold(None, |found: Option<Self>, [x, y]| {
            Some(found.map_or(Self { min: [x, y], max: [x, y] }, |r| Self {
                min: [r.min[0].min(x), r.min[1].min(y)],
                max: [r.max[0].max(x), r.max[1].max(y)],
            }))
        })
    }

    /// Width.
    pub fn width(&self) -> f64 {
        self.max[0] - self.min[0]
    }

    /// Height.
    pub fn height(&self) -> f64 {
        self.max[1] - self.min[1]
    }

    /// Middle.
    pub fn middle(&self) -> Spot {
        [0.5 * (self.min[0] + self.max[0]), 0.5 * (self.min[1] + self.max[1])]
    }

    /// Corners, in order round the box.
    pub fn corners(&self) -> [Spot; 4] {
        let ([x0, y0], [x1, y1]) = (self.min, self.max);
        [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]
    }

    /// Grown by so much on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self {
            min: [self.min[0] - by, self.min[1] - by],
            max: [self.max[0] + by, self.max[1] + by],
        }
    }

    /// Whether the insides of both meet.
    pub fn overlaps(&self, other: &Self) -> bool {
        (0..2).all(|i| self.min[i] < other.max[i] && other.min[i] < self.max[i])
    }

    /// Whether the other lies inside.
    pub fn holds(&self, other: &Self) -> bool {
        (0..2).all(|i| self.min[i] <= other.min[i] && other.max[i] <= self.max[i])
    }
}
