//! Losses of everything that is not straight duct: elbows, entries and exits, changes of size, junctions, dampers,
//! screens, grilles and the fan's outlet.
//!
//! Every coefficient is the loss of **total** pressure over the velocity pressure of the stated section, with its
//! source and band beside it ([`Coefficient`]). [`LossKernel`] is the same thing as a network edge, with a slope.

mod coefficient;
mod elbow;
mod junction;
mod kernel;
mod reynolds;
mod simple;

pub use coefficient::Coefficient;
pub use elbow::{ElbowMake, angle_factor};
pub use junction::{JunctionLaw, Leg, Split};
pub(crate) use kernel::square_loss;
pub use kernel::{LAMINAR_FLOW_M3_S, LossKernel};
pub use reynolds::{HELD_BELOW_REYNOLDS, ReynoldsCurve, reynolds_factor};
pub use simple::{
    Entry, Transition, backdraft_damper, butterfly, entry, exit, grille, screen, system_effect,
};
