//! Quantities as people in the building trade write them: feet and inches, cfm, inches of water,
//! R-values, ranges and unknowns, beside metres, litres per second and pascals.
//!
//! Every quantity is a thin type over one `f64` in SI units, read from and printed to text. A length that
//! is cut with a saw is a [`ShopLength`], exact to the nanometre. A value that nobody has measured is an
//! [`Uncertain`] range, estimate or unknown, and stays one. This crate knows nothing of rooms, fans or
//! files.
//!
//! Start at [`Quantity::parse`] and [`Quantity::print`]; [`Kind`] lists what can be measured.
//!
//! ```
//! use dewpath_units::{Airflow, Length, Quantity, Style, Uncertain, Velocity};
//!
//! let run = Length::parse("9' 4 1/2\"")?;
//! assert!((run.m() - 2.8575).abs() < 1e-12);
//! assert_eq!(run.print(&Style::US), "9 ft 4-1/2 in");
//!
//! let bore = Length::parse("4 in")?;
//! let flow: Airflow = Velocity::from_fpm(900.0) * (bore * bore * std::f64::consts::FRAC_PI_4);
//! assert_eq!(flow.print(&Style::US), "79 cfm");
//! assert_eq!(flow.print(&Style::METRIC), "37.1 L/s");
//!
//! let hidden: Uncertain<Length> = "8..10 ft".parse()?;
//! assert_eq!(hidden.bounds(), Some((Length::from_feet(8.0), Length::from_feet(10.0))));
//!
//! let error = Length::parse("80 cfm").unwrap_err();
//! assert_eq!(error.message, "`80 cfm` is an airflow, but a length is expected here");
//! # Ok::<(), dewpath_units::ParseError>(())
//! ```
//!
//! What is read: numbers with decimals (`112.5`), fractions (`3/8`, `4-1/2`, `4 1/2`, `4½`), US thousands
//! (`1,250`) and exponents; a decimal comma is refused, since `1,250` could be either. Units in upper or
//! lower case, with or without full stops, with any kind of quotes and primes. Negative lengths, humidities
//! above 100 %, NaN, infinities and numbers beyond 10¹⁵ are errors. No text makes this crate panic.
#![allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "a style is passed by reference so that it may grow without breaking its users"
)]

mod chance;
mod choice;
mod error;
mod exact;
mod factor;
mod fraction;
mod gauge;
mod kind;
mod number;
mod print;
mod quantity;
mod read;
mod shop;
pub mod sort;
mod stated;
mod style;
mod uncertain;
mod unit;

pub use choice::{Category, Choice, YesNo};
pub use error::{ErrorKind, ParseError};
pub use fraction::NM_PER_INCH;
pub use kind::Kind;
pub use quantity::{
    AirChange50, Airflow, Angle, Area, Conductor, Density, Duration, Humidity, Leakage50, Length,
    Loudness, Mass, MassFlow, Power, Pressure, Quantity, Ratio, SoundLevel, Temperature,
    TemperatureDifference, ThermalResistance, Velocity, Volume, WaterFlow,
};
pub use shop::ShopLength;
pub use stated::{Origin, Stated};
pub use style::{Fraction, Style, System};
pub use uncertain::{DEFAULT_SPREAD, Uncertain};
