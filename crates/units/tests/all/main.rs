//! Quantities as people write them, tested from outside.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot go on must fail")]

mod factors;
mod fuzz_parse;
mod reading;
mod round_trip;
