//! Moist air, friction, fittings, fans, duct networks, envelope leakage, loudness and field meters.
//!
//! **Must never know**: jobs, rule books, reports, file formats.
//!
//! Public functions take the quantities of `dewpath-units`; kernels take plain `f64` in SI units, named with their unit.

pub mod atmosphere;
pub mod curve;
pub mod domain;
pub mod duct_leakage;
pub mod element;
pub mod fan;
pub mod fittings;
pub mod flex;
pub mod friction;
pub mod law;
pub mod leakage;
pub mod loudness;
pub mod meters;
pub mod moist_air;
pub mod network;
mod root;
pub mod shape;
pub mod terminal;
pub mod wind;
