//! The search for ways outdoors.

mod ceilings;
mod errors;
mod examples;
mod exhaustive;
mod legality;
mod verifier;
