//! Shape-preserving cubic curves through measured points.
//!
//! Fan data come as a handful of points. A polynomial through all of them wiggles and shows stalls that
//! the fan doesn't have, so the points are joined by cubic pieces whose end slopes are limited: between two
//! points the curve never leaves their range, and one bad point spoils only its neighbours.
//!
//! Method: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal.
//! 17 (1980) 238-246; the slopes at inner points are the weighted harmonic mean of F. N. Fritsch and
//! J. Butland, "A method for constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat.
//! Comput. 5 (1984) 300-304; end slopes are the limited three-point formula that general-purpose numerical
//! libraries use, so that values agree with them to rounding.

use dewpath_units::sort;
use thiserror::Error;

/// Why points do not make a curve.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum CurveError {
    /// A curve needs two points at least.
    #[error("a curve needs at least two points, here there are {count}; add a second rated point")]
    TooFewPoints {
        /// How many points were given.
        count: usize,
    },
    /// A coordinate is infinite or not a number.
    #[error("point {index} (counted from 0) isn't a finite number; give a plain flow and pressure")]
    NotFinite {
        /// Position in the list as given.
        index: usize,
    },
    /// Two points share the same flow.
    #[error(
        "two points share the flow {at} m3/s, so the curve has two pressures there; remove one of them"
    )]
    SameAbscissa {
        /// The flow that occurs twice, m3/s.
        at: f64,
    },
    /// A flow below zero, which a rating never has.
    #[error("point {index} has a negative flow of {value} m3/s; ratings start at zero flow")]
    NegativeFlow {
        /// Position in the list as given.
        index: usize,
        /// The flow, m3/s.
        value: f64,
    },
    /// No point moves air against a pressure.
    #[error("no point has a flow and a pressure above zero; give a point the fan really delivers")]
    NoDuty,
    /// A size that must be positive isn't.
    #[error("{what} must be a finite number above zero, not {value}")]
    NotPositive {
        /// What the number is.
        what: &'static str,
        /// The number as given, SI.
        value: f64,
    },
    /// Two rated points that rise together.
    #[error(
        "the flow at {high_pa} Pa isn't less than the flow at {low_pa} Pa; swap the points or check the label"
    )]
    NotFalling {
        /// The lower pressure, Pa.
        low_pa: f64,
        /// The higher pressure, Pa.
        high_pa: f64,
    },
}

/// A piecewise cubic through points that keeps the rise and fall of the data.
///
/// Inside the data the curve has a continuous slope; outside it goes on straight with the end slope.
///
/// # Examples
/// ```
/// use dewpath_air::curve::MonotoneCubic;
/// let line = MonotoneCubic::new(&[(0.0, 120.0), (0.02, 80.0), (0.04, 0.0)])?;
/// assert_eq!(line.value_slope(0.02).0, 80.0);
/// # Ok::<(), dewpath_air::curve::CurveError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct MonotoneCubic {
    knots: Vec<f64>,
    /// Value, slope, second and third coefficient about the left knot of each piece.
    pieces: Vec<[f64; 4]>,
    last: f64,
    slope_last: f64,
}

impl MonotoneCubic {
    /// Joins points `(x, y)`; their order does not matter.
    ///
    /// # Errors
    /// [`CurveError::TooFewPoints`], [`CurveError::NotFinite`] or [`CurveError::SameAbscissa`].
    pub fn new(points: &[(f64, f64)]) -> Result<Self, CurveError> {
        if points.len() < 2 {
            return Err(CurveError::TooFewPoints { count: points.len() });
        }
        if let Some(index) = points.iter().position(|(x, y)| !(x.is_finite() && y.is_finite())) {
            return Err(CurveError::NotFinite { index });
        }
        let mut sorted = points.to_vec();
        sort::by(&mut sorted, |a, b| a.0.total_cmp(&b.0));
        if let Some(pair) = sorted.windows(2).find(|pair| pair[0].0 >= pair[1].0) {
            return Err(CurveError::SameAbscissa { at: pair[0].0 });
        }
        let slopes = knot_slopes(&sorted);
        let pieces = sorted
            .windows(2)
            .zip(slopes.windows(2))
            .map(|(pair, slope)| piece(pair[0], pair[1], slope[0], slope[1]))
            .collect();
        let last = sorted.len() - 1;
        Ok(Self {
            last: sorted[last].1,
            slope_last: slopes[last],
            pieces,
            knots: sorted.iter().map(|point| point.0).collect(),
        })
    }

    /// Value and slope at `x`; straight on outside the data.
    #[inline]
    pub fn value_slope(&self, x: f64) -> (f64, f64) {
        let (first_x, last_x) = self.span();
        if x >= last_x {
            return (self.last + self.slope_last * (x - last_x), self.slope_last);
        }
        if x <= first_x {
            let [value, slope, ..] = self.pieces[0];
            return (value + slope * (x - first_x), slope);
        }
        // A handful of knots: counting them is faster than a branching search.
        let inner = &self.knots[1..self.knots.len() - 1];
        let index = inner.iter().map(|&knot| usize::from(knot <= x)).sum::<usize>();
        let [value, slope, second, third] = self.pieces[index];
        let t = x - self.knots[index];
        (
            value + t * (slope + t * (second + t * third)),
            slope + t * (2.0 * second + 3.0 * t * third),
        )
    }

    /// The first and last abscissa.
    #[inline]
    pub fn span(&self) -> (f64, f64) {
        (self.knots[0], self.knots[self.knots.len() - 1])
    }

    /// The abscissas of the points, rising.
    pub fn knots(&self) -> &[f64] {
        &self.knots
    }

    /// Whether the data never rise from left to right.
    pub fn never_rises(&self) -> bool {
        let ends = self.pieces.iter().skip(1).map(|piece| piece[0]).chain([self.last]);
        self.pieces.iter().zip(ends).all(|(piece, next)| next <= piece[0])
    }
}

/// A smooth function tabulated with its slope at evenly spaced places: a system curve that many fans are tried on.
///
/// Between two places it is the cubic with both values and slopes (Hermite), outside the table straight. The error
/// falls with the fourth power of the spacing.
#[derive(Clone, Debug, PartialEq)]
pub struct SampledCurve {
    low: f64,
    high: f64,
    per_width: f64,
    width: f64,
    pieces: Vec<[f64; 4]>,
    last: (f64, f64),
}

impl SampledCurve {
    /// Tabulates `function`, which gives value and slope, from `low` to `high` in so many pieces.
    ///
    /// # Errors
    /// [`CurveError::TooFewPoints`] for no piece, [`CurveError::NotPositive`] for an empty range,
    /// [`CurveError::NotFinite`] where the function isn't finite.
    pub fn new(
        low: f64,
        high: f64,
        pieces: usize,
        function: impl Fn(f64) -> (f64, f64),
    ) -> Result<Self, CurveError> {
        let width = (high - low) / pieces as f64;
        if pieces == 0 {
            return Err(CurveError::TooFewPoints { count: 1 });
        }
        if !(width.is_finite() && width > 0.0) {
            return Err(CurveError::NotPositive {
                what: "the range of a table",
                value: high - low,
            });
        }
        let places: Vec<f64> = (0..=pieces).map(|k| low + width * k as f64).collect();
        let samples: Vec<(f64, f64)> = places.iter().map(|&x| function(x)).collect();
        let is_finite = |sample: &(f64, f64)| sample.0.is_finite() && sample.1.is_finite();
        if let Some(index) = samples.iter().position(|sample| !is_finite(sample)) {
            return Err(CurveError::NotFinite { index });
        }
        let cubic = |k: usize| {
            let (a, b) = (samples[k], samples[k + 1]);
            piece((places[k], a.0), (places[k + 1], b.0), a.1, b.1)
        };
        Ok(Self {
            low,
            high,
            per_width: 1.0 / width,
            width,
            pieces: (0..pieces).map(cubic).collect(),
            last: samples[pieces],
        })
    }

    /// Value and slope at `x`; straight on outside the table.
    #[inline]
    pub fn value_slope(&self, x: f64) -> (f64, f64) {
        if x >= self.high {
            return (self.last.0 + self.last.1 * (x - self.high), self.last.1);
        }
        let place = (x - self.low) * self.per_width;
        if place <= 0.0 {
            let [value, slope, ..] = self.pieces[0];
            return (value + slope * (x - self.low), slope);
        }
        // Below zero and beyond the end are dealt with; what isn't a number becomes the first piece.
        let index = (place as usize).min(self.pieces.len() - 1);
        let [value, slope, second, third] = self.pieces[index];
        let t = x - self.low - self.width * index as f64;
        (
            value + t * (slope + t * (second + t * third)),
            slope + t * (2.0 * second + 3.0 * t * third),
        )
    }
}

/// One cubic in powers of the distance from the left point.
fn piece(left: (f64, f64), right: (f64, f64), slope_left: f64, slope_right: f64) -> [f64; 4] {
    let h = right.0 - left.0;
    let secant = (right.1 - left.1) / h;
    [
        left.1,
        slope_left,
        (3.0 * secant - 2.0 * slope_left - slope_right) / h,
        (slope_left + slope_right - 2.0 * secant) / (h * h),
    ]
}

/// Limited slopes at every point: weighted harmonic mean inside, three-point formula at the ends.
fn knot_slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let widths: Vec<f64> = points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
    let secants: Vec<f64> =
        points.windows(2).zip(&widths).map(|(pair, h)| (pair[1].1 - pair[0].1) / h).collect();
    let count = secants.len();
    if count == 1 {
        return vec![secants[0]; 2];
    }
    let mut slopes = Vec::with_capacity(count + 1);
    slopes.push(end_slope(widths[0], widths[1], secants[0], secants[1]));
    for k in 1..count {
        let (before, after) = (secants[k - 1], secants[k]);
        let slope = if before * after <= 0.0 {
            0.0
        } else {
            let weight_before = 2.0 * widths[k] + widths[k - 1];
            let weight_after = widths[k] + 2.0 * widths[k - 1];
            (weight_before + weight_after) / (weight_before / before + weight_after / after)
        };
        slopes.push(slope);
    }
    slopes.push(end_slope(
        widths[count - 1],
        widths[count - 2],
        secants[count - 1],
        secants[count - 2],
    ));
    slopes
}

/// Slope at an end from the two nearest secants, kept from turning the curve round.
fn end_slope(near: f64, far: f64, secant_near: f64, secant_far: f64) -> f64 {
    let slope = ((2.0 * near + far) * secant_near - near * secant_far) / (near + far);
    if slope * secant_near <= 0.0 {
        0.0
    } else if secant_near * secant_far <= 0.0 && slope.abs() > 3.0 * secant_near.abs() {
        3.0 * secant_near
    } else {
        slope
    }
}
