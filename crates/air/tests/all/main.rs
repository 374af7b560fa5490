//! Air, ducts and fans, tested from outside against published and computed numbers.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must fail")]

mod duct_table;
mod explicit;
mod fan;
mod fittings;
mod friction;
mod leakage;
mod loudness;
mod meters;
mod moist_air;
mod network;
mod wind;
