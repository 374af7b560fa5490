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
//! solved exactly at any length of step (`linear`). A wet surface that takes up much of the air is part of that system: as
//! long as it is wet, what it takes from the air is linear too, and what stands at its face is an input that moves with
//! its temperature. Its latent heat goes half before and half after the step of the temperatures (`advance`). So a dry
//! room is exact whatever the step, a wet one at held temperatures as well, and a wet one with latent heat is exact to
//! second order. A step in which a surface runs dry, begins to be wet or the control switches is taken again, shorter,
//! until too little is amiss to matter; what is amiss then is put right, so that no surface carries less than nothing and
//! the balances close. Nothing chatters: wet and dry differ only in a term that is zero where they meet. Steps are
//! seconds long near a happening and up to an hour in quiet.

mod advance;
mod control;
mod face;
mod linear;
mod model;
mod rates;
mod sensor;
mod shower;
mod simulate;
mod state;
mod year;

use dewpath_air::law::Law;

pub use control::{Control, Event, Happening, HumidityControl};
pub use model::{
    AIR_J_KG_K, Back, FlowTable, Flows, House, LATENT_J_KG, LAYERS, Level, Model, ModelError,
    SURFACES, ShowerSource, Sorption, Surface, Thermal,
};
pub use shower::{Judge, Shower, follow_shower};
pub use simulate::{Account, Boundary, Care, Simulation, Step, Watch};
pub use state::State;
pub use year::{DAYS, HOURS, Month, SETTLE_DAYS, Year, YearPlan, follow_year};

/// Vapour in a room, as a working shows it.
pub const ROOM: Law = Law::confirmed(
    "m dW/dt = sum f (W_in - W) + G - sum k (W - W_s(T_j)) - g (W - w_1)",
    "balance of water and energy of the room",
    "docs/physics.md, a room through time",
);

/// The same, through a year.
pub const ROOM_YEAR: Law = Law::confirmed(
    "m dW/dt = sum f (W_in - W) + G - sum k (W - W_s(T_j)) - g (W - w_1), 8760 hours",
    "balance of water and energy of room and dwelling, hour by hour",
    "docs/physics.md, a room through a year",
);

/// Vapour in the dwelling around it through a year, as a working shows it.
pub const DWELLING_YEAR: Law = Law::confirmed(
    "m dW/dt = sum f (W_in - W) + G - coil - dehumidifier, 8760 hours",
    ROOM_YEAR.book,
    ROOM_YEAR.section,
);
