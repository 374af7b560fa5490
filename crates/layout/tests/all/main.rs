//! Places, ways and cuts, tested from outside: by hand, and against searches that try everything.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that cannot go on must fail"
)]

mod bore;
mod penetration;
mod penetration_clearance;
mod place;
mod place_framing;
mod place_room;
mod place_wild;
mod route;
