//! A room and the dwelling around it through time.
//!
//! # What is followed
//!
//! Two zones of well-mixed air (the room, and the rest of the dwelling), the temperature of each
//! surface of the room and the water on it, and the water that gypsum, paint and textiles take up. In
//! dry-air mass, with `W` the humidity ratio of the air, `T` its temperature, `f` the flows between
//! zones and outdoors, `m` the dry air of a zone:
//!
//! ```text
//! m dW/dt    = Σ f_in W_in - Σ f_out W - f_x W_x + G - G' W - g (W - w_1) - Σ k_j (W - W_s(T_j))±
//! W_x        = W_in + ε (W - W_in)                       what the fan draws off; ε = 1 is well mixed
//! K_i dw_i/dt = g_i (w_(i-1) - w_i) - g_(i+1) (w_i - w_(i+1))                       sorbing layers
//! m c dT/dt  = Σ f_in c (T_in - T) + Q + Σ H_j (T_j - T)
//! C_j dT_j/dt = H_j (T - T_j) + U_j (T_far - T_j) + q_j + r k_j (W - W_s(T_j))±
//! dx_j/dt    = k_j (W - W_s(T_j))±                             positive always, negative while x_j > 0
//! ```
//!
//! The dwelling has the first two equations; its temperature is given. Latent heat `r` of what evaporates
//! is taken from the surface it leaves; the vapour of a shower brings its heat from the hot water. Air that
//! holds more than saturation gives the excess to the first surface as fog, with its heat to the air. Water above
//! what a surface can hold runs off. Sources: the balances are those of ASHRAE Fundamentals and
//! ISO 13788 practice; layers are the effective penetration depths of Kerestecioglu 1990 and Cunningham 1992.
//!
//! # How it is stepped
//!
//! Everything but the terms marked ± is linear while fan, door and shower stay as they are, and is
//! solved exactly at any length of step (`linear`). The terms ± act pairwise between the air and one surface; each
//! alone decays exponentially, and is applied for half a step before and half a step after, in opposite
//! order. So a dry room is exact whatever the step, a wet one is exact to second order, and nothing can
//! overshoot, change sign or chatter. Steps are seconds long near a happening and up to an hour in quiet.

mod advance;
mod control;
mod face;
mod linear;
mod model;
mod rates;
mod sensor;
mod shower;
mod simulate;
mod year;

pub use control::{Control, Event, Happening, HumidityControl};
pub use model::{
    AIR_J_KG_K, Back, FlowTable, Flows, House, LATENT_J_KG, LAYERS, Level, Model, ModelError,
    SURFACES, ShowerSource, Sorption, Surface, Thermal,
};
pub use shower::{Judge, Shower, follow_shower};
pub use simulate::{Account, Boundary, Care, Simulation, State, Step, Watch};
pub use year::{DAYS, HOURS, Month, SETTLE_DAYS, Year, YearPlan, follow_year};
