//! Hourly weather of a typical year: read from files, or made from twelve monthly figures.
//!
//! Every hour of [`Weather`] is that of a year of 365 days in local standard time: hour 0 is 1 January, 00:00 to 01:00. Humidity is carried as mass of vapour per mass of dry air. What was odd
//! about a source, and what was done about it, stands beside the hours as [`Quirk`]s, so that it can be shown.
//!
//! | from | function |
//! | --- | --- |
//! | a typical-year file of the public TMY3 layout | [`tmy3::read`] |
//! | an hourly table with declared columns | [`plain::read`] |
//! | either, told apart by their first line | [`read`] |
//! | twelve monthly figures | [`monthly::weather`] |
//! | a climate like one that is built in | [`climates::CLIMATES`] |

mod assemble;
mod calendar;
mod cell;
pub mod climates;
mod error;
mod hours;
pub mod monthly;
pub mod plain;
mod statistics;
pub mod tmy3;

pub use error::{SiteFigure, TimeForm, WeatherError};
pub use hours::{
    Below0, HOURS, Hour, LARGEST_FILE, Layout, Measure, Origin, Quirk, ReadOptions, Site, Weather,
};
pub use statistics::{Statistics, statistics, temperature_quantile};

/// Reads an hourly file of either layout: TMY3 if its first line is that of a station, a plain table otherwise.
///
/// # Errors
/// As [`tmy3::read`] and [`plain::read`].
pub fn read(bytes: &[u8], options: &ReadOptions) -> Result<Weather, WeatherError> {
    if tmy3::looks_like(bytes) { tmy3::read(bytes, options) } else { plain::read(bytes, options) }
}
