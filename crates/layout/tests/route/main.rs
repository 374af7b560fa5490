//! The search for ways outdoors.

mod errors;
mod examples;
mod verifier;
