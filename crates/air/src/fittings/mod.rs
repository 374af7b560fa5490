//! Losses of everything that is not straight duct.

mod kernel;
mod reynolds;

pub(crate) use kernel::square_loss;
pub use kernel::{LAMINAR_FLOW_M3_S, LossKernel};
pub use reynolds::{HELD_BELOW_REYNOLDS, ReynoldsCurve, reynolds_factor};
