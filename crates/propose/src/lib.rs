//! Proposals for a case: where the housing goes, how its duct leads outdoors, what is cut for it, which fan would do instead, what
//! clears the mirror sooner.
//!
//! Each is a candidate with a patch to the job, judged with the judges of `dewpath-judge`; nothing is adopted here.
//! [`drag`] and [`outlet`] answer, step by step, for a housing or a terminal that is moved by hand.
//!
//! **Must never know**: the order of the stages; files, clocks, threads, screens, languages. It calls judges, and is called by
//! none.
//!
//! Begin at [`place::place`], [`route::route`], [`cuts::cuts`], [`select::select`] and [`mirror::sooner`].

mod clearance;
pub mod cuts;
pub mod drag;
mod edit;
pub mod floor;
pub mod mirror;
pub mod outlet;
pub mod place;
pub mod route;
pub mod select;
