//! A job as a case: everything that is known before anything is judged.
//!
//! `inputs` holds every value with its draws, `defaults` every default with its source, `system` the ventilation system as a
//! graph. [`require`] says how much air each room must be rid of, [`flow`] how much moves, draw by draw, [`reading`] what was
//! measured of that, which weighs the draws, and `weather` makes the hours of the job's weather.
//!
//! **Must never know**: a verdict, a proposal, the order of the stages; files, clocks, threads, screens, languages.
//!
//! Begin at [`Basis`]: what is asked and put together of a job. With its flows it makes the [`Case`] that judges and proposals
//! are handed.

mod basis;
pub mod defaults;
pub mod draws;
pub mod flow;
pub mod given;
pub mod inputs;
pub mod reading;
pub mod require;
pub mod sample;
pub mod section;
pub mod source;
pub mod system;
pub mod weather;
mod weighted;
mod world;

pub use basis::{Basis, Case, WeatherOnce};
pub use world::World;
