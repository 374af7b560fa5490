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
mod error;
mod event;
mod fit;
mod line;
mod squares;
mod student;
mod trace;

use dewpath_air::domain::{OutOfDomain, positive};
use dewpath_units::{Airflow, Volume};

pub use curve::{FastAndSlow, exponential, exponential_above_unknown, fast_and_slow};
pub use error::DecayError;
pub use event::{EventRule, shower_peaks};
pub use fit::Fit;
pub use line::{log_linear, log_linear_weighted};
pub use trace::{Background, Point, Reading, Trace};

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
