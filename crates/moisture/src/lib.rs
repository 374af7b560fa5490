//! A room, a duct and a dwelling through time: humidity, condensation and drying on surfaces, frost,
//! mould; what a humidity logger's record tells; hourly weather.
//!
//! **Must never know**: jobs, rule books, reports, files on disk, clocks, languages.
//!
//! Humidity is carried as mass of vapour per mass of dry air, so that a balance closes whatever the
//! temperature. Public functions take the quantities of `dewpath-units`; the kernels inside the
//! steps of the simulation take plain `f64` in SI units, named with their unit.

pub mod buffer;
pub mod decay;
pub mod duct;
pub mod film;
pub mod heat;
pub mod mould;
pub mod room;
pub mod saturation;
pub mod source;
pub mod surface;
pub mod weather;
