//! The search for ways outdoors.

#![allow(
    clippy::disallowed_methods,
    unreachable_pub,
    reason = "the check is to share nothing with what it checks"
)]

mod ceilings;
mod errors;
mod examples;
mod exhaustive;
mod legality;
mod verifier;
