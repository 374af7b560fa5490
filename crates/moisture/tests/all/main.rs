//! Rooms and ducts through time, tested from outside against published and computed numbers.

#![allow(clippy::expect_used, clippy::unwrap_used, reason = "a test that cannot go on must fail")]

mod buffer;
mod common;
mod decay;
mod decay_record;
mod duct_causes;
mod duct_line;
mod duct_reference;
mod duct_steady;
mod duct_year;
mod film;
mod heat;
mod mould;
mod room_any;
mod room_closed_forms;
mod room_steps;
mod room_year;
mod saturation;
mod source;
mod surface;
mod weather;
