//! Losses of everything that is not straight duct: elbows, entries and exits, changes of size, junctions, dampers,
//! screens, grilles and the fan's outlet.
//!
//! Every coefficient is the loss of **total** pressure over the velocity pressure of the stated section, with its
//! source and band beside it ([`Coefficient`]). [`LossKernel`] is the same thing as a network edge, with a slope.

mod coefficient;
mod elbow;
mod junction;
pub(crate) mod kernel;
mod reynolds;
mod simple;

pub use coefficient::Coefficient;
pub use elbow::{ELBOW, ElbowMake, angle_factor};
pub use junction::{JUNCTION, JunctionLaw, Leg, Split};
pub use kernel::{LAMINAR_FLOW_M3_S, LossKernel};
pub use reynolds::{HELD_BELOW_REYNOLDS, ReynoldsCurve, reynolds_factor};
pub use simple::{
    BACKDRAFT, BALANCING, Entry, GRILLE, SYSTEM_EFFECT, TRANSITION, Transition, backdraft_damper,
    butterfly, entry, exit, grille, screen, system_effect,
};
