//! A stretch of a humidity record, checked.

use dewpath_air::domain::{OutOfDomain, not_negative};
use dewpath_air::moist_air::MoistAir;
use dewpath_units::{Duration, Humidity, Pressure, Temperature};

use super::error::DecayError;

/// What a logger writes down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Time since any fixed moment.
    pub time: Duration,
    /// Air temperature at the sensor.
    pub temperature: Temperature,
    /// Relative humidity, over liquid water below freezing too, as sensors report it.
    pub humidity: Humidity,
    /// Absolute pressure; that of the site's altitude will do (1 % of pressure is 1 % of W).
    pub pressure: Pressure,
}

impl Reading {
    /// The humidity ratio at its time.
    ///
    /// # Errors
    /// [`OutOfDomain`] as [`MoistAir::from_humidity_over_water`].
    pub fn point(&self) -> Result<Point, OutOfDomain> {
        let air =
            MoistAir::from_humidity_over_water(self.temperature, self.humidity, self.pressure)?;
        Ok(Point { time_s: self.time.s(), humidity_ratio: air.humidity_ratio() })
    }
}

/// Humidity ratio at a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Time since any fixed moment, s.
    pub time_s: f64,
    /// kg vapour per kg dry air.
    pub humidity_ratio: f64,
}

/// What the room's humidity falls to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Background<'a> {
    /// One humidity ratio for all points, kg/kg.
    Constant(f64),
    /// A humidity ratio measured beside each point, kg/kg: that of the air which comes in.
    Measured(&'a [f64]),
}

/// Points in order of time, each a usable number.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    points: Vec<Point>,
}

impl Trace {
    /// Checks a record.
    ///
    /// # Errors
    /// [`DecayError::NotANumber`] for a time or humidity that is not finite or a humidity below zero,
    /// [`DecayError::TimeNotRising`] for a point that is not later than the one before.
    pub fn new(points: Vec<Point>) -> Result<Self, DecayError> {
        for (index, point) in points.iter().enumerate() {
            let number = point.time_s.is_finite()
                && point.humidity_ratio.is_finite()
                && point.humidity_ratio >= 0.0;
            if !number {
                return Err(DecayError::NotANumber { index });
            }
            if index > 0 && point.time_s <= points[index - 1].time_s {
                return Err(DecayError::TimeNotRising { index });
            }
        }
        Ok(Self { points })
    }

    /// From what a logger writes down.
    ///
    /// # Errors
    /// As [`Self::new`], and [`DecayError::OutOfDomain`] for a reading that no air has.
    pub fn from_readings(readings: &[Reading]) -> Result<Self, DecayError> {
        let points: Result<Vec<_>, _> = readings.iter().map(Reading::point).collect();
        Self::new(points?)
    }

    /// The points, in order of time.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The points from number `from` on that are no later than `longest` after it; empty when there is no such point.
    #[must_use]
    pub fn part(&self, from: usize, longest: Duration) -> Self {
        let rest = self.points.get(from..).unwrap_or_default();
        let end = rest.first().map_or(0.0, |first| first.time_s + longest.s());
        // Times that were minutes come back with a rounding.
        let kept = rest.iter().take_while(|point| point.time_s <= end + 1e-6);
        Self { points: kept.copied().collect() }
    }

    /// The record a quick sensor would have made: W + τ·dW/dt, for a sensor with the first-order lag τ.
    ///
    /// The slope is that of a parabola through each point and its two neighbours. Noise grows by about τ/Δt, Δt the
    /// interval of the record: with a lag of many intervals, leave out the first three lags instead. A lag of the humidity
    /// sensor alone is treated as a lag of W, which holds while the temperature moves little.
    ///
    /// Source: inversion of τ·dy/dt = x − y. Departs from it: no.
    ///
    /// # Errors
    /// [`DecayError::TooFewPoints`] below three points; [`DecayError::OutOfDomain`] for a lag below zero.
    pub fn without_lag(&self, lag: Duration) -> Result<Self, DecayError> {
        let lag_s =
            not_negative("sensor lag", "s", "a sensor does not run ahead").check(lag.s())?;
        let count = self.points.len();
        if count < 3 {
            return Err(DecayError::TooFewPoints { found: count, needed: 3 });
        }
        let points = (0..count).map(|index| {
            let middle = index.clamp(1, count - 2);
            let slope =
                parabola_slope(&self.points[middle - 1..=middle + 1], self.points[index].time_s);
            let Point { time_s, humidity_ratio } = self.points[index];
            Point { time_s, humidity_ratio: (humidity_ratio + lag_s * slope).max(0.0) }
        });
        Self::new(points.collect())
    }

    /// Hours since the first point, and the excess over the background, point by point.
    pub(super) fn excess(&self, background: Background<'_>) -> Result<Vec<Excess>, DecayError> {
        let count = self.points.len();
        if let Background::Measured(series) = background
            && series.len() != count
        {
            return Err(DecayError::LengthsDiffer { readings: count, others: series.len() });
        }
        let start_s = self.points.first().map_or(0.0, |first| first.time_s);
        let one = |(index, point): (usize, &Point)| {
            let below = match background {
                Background::Constant(value) => value,
                Background::Measured(series) => series[index],
            };
            if !below.is_finite() {
                return Err(DecayError::NotANumber { index });
            }
            Ok(Excess {
                time_h: (point.time_s - start_s) / 3600.0,
                above: point.humidity_ratio - below,
                background: below,
            })
        };
        self.points.iter().enumerate().map(one).collect()
    }
}

/// A point of the curve that is fitted.
#[derive(Debug, Clone, Copy)]
pub(super) struct Excess {
    pub(super) time_h: f64,
    pub(super) above: f64,
    pub(super) background: f64,
}

/// Mean background of the points that were used.
pub(super) fn mean_background(points: &[Excess]) -> f64 {
    points.iter().map(|point| point.background).sum::<f64>() / points.len() as f64
}

/// Slope at `time_s` of the parabola through three points (Lagrange).
fn parabola_slope(three: &[Point], time_s: f64) -> f64 {
    let [a, b, c] = [three[0], three[1], three[2]];
    let part = |this: Point, one: Point, other: Point| {
        this.humidity_ratio * (2.0 * time_s - one.time_s - other.time_s)
            / ((this.time_s - one.time_s) * (this.time_s - other.time_s))
    };
    part(a, b, c) + part(b, a, c) + part(c, a, b)
}
