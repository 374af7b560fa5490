//! The ventilation system of a job as a graph: what is joined to what, and what is known of it.
//!
//! [`System::of`] reads the job once: every value that the air has to pass becomes an input, every
//! piece of the way an item on an edge. [`instance`] turns one draw of the inputs into a duct
//! network of the `air` crate. Edges point the way the air should go.

mod ask;
mod compile;
pub mod fan;
mod graph;
pub mod instance;
mod names;
pub mod parts;
mod reach;
mod runs;
pub mod spec;
mod things;

pub use graph::{AirInputs, System};
pub use names::loss_name;
pub use parts::roughness_m;
pub use reach::rooms_of_fan;
pub(crate) use reach::{fans_joined, fans_of_run};
pub use things::leak;
