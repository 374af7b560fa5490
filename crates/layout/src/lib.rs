//! Geometry of the job: where a housing fits between members, which ways lead outdoors without breaking a member,
//! what may be bored, and the holes through wall and roof.
//!
//! A library of its own: it knows no job, no rule book and no report. Lengths are metres in one right-handed frame, x and
//! y in plan, z up, everything of a dwelling in the same frame.

pub mod bore;
pub mod clearance;
pub mod error;
pub mod framing;
pub mod geometry;
pub mod notch;
pub mod penetration;
pub mod place;
pub mod room;
pub mod route;
