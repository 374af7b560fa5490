//! What the record of a humidity logger tells: how fast a room loses its moisture after a shower.
//!
//! All fits work on the humidity ratio W (kg vapour per kg dry air), not on relative humidity, which also falls while
//! the room warms up again. In a well-mixed room of effective volume V that loses air at the rate Q,
//! W − W_m falls as e^(−n·t) with **n = Q/V**. Only this ratio can be read from a record: the flow follows once the
//! volume is measured ([`airflow`]). Wet surfaces and hygroscopic walls disturb it: they speed the decay up right after a
//! shower and slow it down later, so that n is an *effective* rate that is not ventilation alone.
//!
//! | question | function |
//! | --- | --- |
//! | where are the showers in a long record? | [`shower_peaks`] |
//! | the rate, with the background measured beside it | [`log_linear`], [`log_linear_weighted`], [`exponential`] |
//! | the rate, with the background unknown | [`exponential_above_unknown`] |
//! | is there a slow tail of drying walls? | [`fast_and_slow`] |
//! | the sensor is slow | [`Trace::without_lag`], or leave out three lags with [`Trace::part`] |
//!
//! ```
//! use dewpath_moisture::decay::{Background, Point, Trace, exponential};
//!
//! // A reading each minute of air that falls from 15 to 8 g/kg at 6 per hour.
//! let points = (0..30).map(|minute| {
//!     let time_s = 60.0 * f64::from(minute);
//!     Point { time_s, humidity_ratio: 0.008 + 0.007 * libm::exp(-6.0 * time_s / 3600.0) }
//! });
//! let fit = exponential(&Trace::new(points.collect())?, Background::Constant(0.008))?;
//! assert!((fit.rate_per_h - 6.0).abs() < 1e-6);
//! # Ok::<(), dewpath_moisture::decay::DecayError>(())
//! ```

mod curve;
mod event;
mod line;
mod squares;
mod student;
mod trace;

use dewpath_air::domain::{OutOfDomain, positive};
use dewpath_units::{Airflow, Volume};

pub use curve::{FastAndSlow, exponential, exponential_above_unknown, fast_and_slow};
pub use event::{EventRule, shower_peaks};
pub use line::{log_linear, log_linear_weighted};
pub use trace::{Background, Point, Reading, Trace};

/// Why a record tells no rate.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum DecayError {
    /// Too few points are left to fit.
    #[error(
        "{found} usable points, {needed} are needed: log at shorter intervals, or take a longer part of the record"
    )]
    TooFewPoints {
        /// Points that can be used.
        found: usize,
        /// Points that the fit needs.
        needed: usize,
    },
    /// A time or a humidity is not a number, or a humidity is negative.
    #[error("point {index} of the record is not a usable number: leave it out")]
    NotANumber {
        /// Number of the point, from 0.
        index: usize,
    },
    /// A point is not later than the one before.
    #[error(
        "point {index} of the record is not later than the one before: sort by time and drop repeats"
    )]
    TimeNotRising {
        /// Number of the point, from 0.
        index: usize,
    },
    /// Two series that belong together are not of one length.
    #[error(
        "{readings} readings but {others} values beside them: they must belong together one by one"
    )]
    LengthsDiffer {
        /// Length of the record.
        readings: usize,
        /// Length of the series beside it.
        others: usize,
    },
    /// No curve of the kind asked for fits better than its neighbours, or its parts cannot be told apart.
    #[error(
        "the record does not determine {what}: take a longer part of it, or measure the background beside it"
    )]
    Undetermined {
        /// What cannot be told.
        what: &'static str,
    },
    /// A value is outside the range where it means anything.
    #[error(transparent)]
    OutOfDomain(#[from] OutOfDomain),
}

/// A rate of decay and how well it is known.
///
/// The half-widths are 95 % two-sided (Student's t): what scatter alone explains. Wrong backgrounds, sensor lag, imperfect
/// mixing and drying walls come on top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// n = Q/V, 1/h; negative where the humidity rises.
    pub rate_per_h: f64,
    /// 95 % half-width of the rate, 1/h, widened for residuals that follow each other.
    pub half_width_per_h: f64,
    /// The same if every residual were independent of its neighbours, 1/h.
    pub half_width_independent_per_h: f64,
    /// Lag-one autocorrelation of the residuals.
    pub autocorrelation_ratio: f64,
    /// Excess over the background at the first point, kg/kg.
    pub excess: f64,
    /// Humidity ratio that the record falls to, kg/kg: the mean of what was given, or what was fitted.
    pub background: f64,
    /// Share of the variance explained, in the variable that was fitted (ln of the excess, or W).
    pub r_squared_ratio: f64,
    /// Points that were used.
    pub points: usize,
}

/// Flow of air that takes moisture away at this rate out of this volume: Q = n·V.
///
/// `effective_volume` is the measured volume of air that takes part, including a shower cabin that is open to the room.
///
/// # Errors
/// [`OutOfDomain`] for a rate or a volume that is not positive: a record that does not fall tells no flow.
pub fn airflow(rate_per_h: f64, effective_volume: Volume) -> Result<Airflow, OutOfDomain> {
    let n = positive("rate of decay", "1/h", "only a record that falls tells a flow")
        .check(rate_per_h)?;
    let volume = positive("effective volume", "m³", "the room has a volume of air")
        .check(effective_volume.m3())?;
    Ok(Airflow::from_m3_s(n / 3600.0 * volume))
}

/// Residuals that follow each other hold less than their number: half-widths grow by √((1 + r₁)/(1 − r₁)).
///
/// Source: effective sample size of a first-order autoregressive series (von Storch & Zwiers 1999, Statistical Analysis in
/// Climate Research, sect. 6.6; from memory). Departs from it: residuals that alternate (r₁ < 0) do not narrow the answer, and r₁
/// is held at 0.95 at most.
fn inflation(autocorrelation: f64) -> f64 {
    let r = autocorrelation.clamp(0.0, 0.95);
    ((1.0 + r) / (1.0 - r)).sqrt()
}

/// Lag-one autocorrelation of residuals; 0 for a fit without residuals.
fn autocorrelation(residuals: &[f64]) -> f64 {
    let mean = residuals.iter().sum::<f64>() / residuals.len() as f64;
    let spread: f64 = residuals.iter().map(|r| (r - mean) * (r - mean)).sum();
    let follow: f64 = residuals.windows(2).map(|pair| (pair[0] - mean) * (pair[1] - mean)).sum();
    if spread > 0.0 { follow / spread } else { 0.0 }
}
