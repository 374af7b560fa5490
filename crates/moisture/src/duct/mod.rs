//! A duct through time: condensation, drying, frost.
//!
//! | module | question |
//! | --- | --- |
//! | [`steady`] | how much water a wall takes from a steady stream of moist air |
//! | [`mod@line`] | what a duct does from minute to minute: warms up, condenses, dries, freezes, drains |
//! | [`legs`] | what a room gives off into its duct through a year, in few pieces |
//! | [`pocket`] | how much water a sag holds, and whether it closes the duct |
//! | [`choice`] | the least insulation that keeps the water of a day under a limit |
//! | [`causes`] | where a drip comes from: look-alikes told apart |
//!
//! Air in the duct is taken as quasi-steady: it passes in seconds, the wall changes in minutes. Vapour moves to and
//! from a wet wall by the Lewis relation, and the heat it carries warms or cools the wall; leaving that out would
//! make the wall too cold and the water too much.

pub mod causes;
pub mod choice;
pub mod legs;
pub mod line;
pub mod pocket;
pub mod steady;

use core::f64::consts::PI;

use dewpath_air::domain::Domain;
use dewpath_air::moist_air;

/// Heat of evaporation that the balances of a duct are made with, J/kg: that of 0 °C (ASHRAE Fundamentals 2017, ch. 1,
/// eq. 30), at all temperatures, so that they close; 2 % above that of 20 °C.
pub const EVAPORATION_HEAT_J_KG: f64 = moist_air::EVAPORATION_HEAT_J_KG;

/// Heat of fusion, J/kg (ASHRAE Fundamentals 2017, ch. 1, from memory).
pub const FUSION_HEAT_J_KG: f64 = 333_600.0;

/// Le^⅔ of water vapour in air, with Le = α/D_v about 0.87 (0.85 to 0.90 by the diffusivity that is used).
pub const LEWIS_TWO_THIRDS: f64 = 0.91134;

/// Water a wall carries before it runs, kg/m²: 0.05 to 0.1 (judgement, no source).
pub const RUNNING_FILM_KG_M2: f64 = 0.07;

/// Density of frost, kg/m³: 200 to 500 (from memory).
pub const FROST_DENSITY_KG_M3: f64 = 300.0;

pub(crate) const AIR_C: Domain = Domain {
    quantity: "air temperature",
    unit: "°C",
    low: -60.0,
    high: 100.0,
    reason: "air in and around a duct lies between -60 and 100 °C",
};

pub(crate) const HUMIDITY_RATIO: Domain = Domain {
    quantity: "humidity ratio",
    unit: "kg/kg dry air",
    low: 0.0,
    high: 1.0,
    reason: "air of a room holds between no vapour and some tens of grams",
};

pub(crate) const PRESSURE_PA: Domain = Domain {
    quantity: "air pressure",
    unit: "Pa",
    low: 20_000.0,
    high: 200_000.0,
    reason: "absolute pressure is meant, not the pressure difference across a duct",
};

pub(crate) const DIAMETER_M: Domain = Domain {
    quantity: "diameter",
    unit: "m",
    low: 0.01,
    high: 3.0,
    reason: "ducts of a dwelling are between a centimetre and three metres wide",
};

pub(crate) const LENGTH_M: Domain = Domain {
    quantity: "length",
    unit: "m",
    low: 1e-3,
    high: 1e3,
    reason: "a piece of duct is between a millimetre and a kilometre long",
};

pub(crate) const RESISTANCE: Domain = Domain {
    quantity: "resistance from wall to surroundings",
    unit: "m2 K/W",
    low: 1e-4,
    high: 1e3,
    reason: "the film outside alone has about 0.1",
};

/// Share of a round duct that is left free when `frost_kg` of frost lies on a length of it.
///
/// 1 − m/(ρ·L·π·D²/4), at least 0. Screens and flaps at the end block long before the duct does.
///
/// # Examples
/// ```
/// use dewpath_moisture::duct::{FROST_DENSITY_KG_M3, free_area_share};
/// let free = free_area_share(1.0, FROST_DENSITY_KG_M3, 1.0, 0.1016);
/// assert!((free - 0.588848908).abs() < 1e-9);
/// ```
pub fn free_area_share(frost_kg: f64, density_kg_m3: f64, length_m: f64, diameter_m: f64) -> f64 {
    let duct = density_kg_m3 * length_m * PI * diameter_m * diameter_m / 4.0;
    let taken = frost_kg / duct;
    // What is not a number, or has no duct around it, leaves nothing free.
    if taken >= 0.0 { (1.0 - taken).max(0.0) } else { 0.0 }
}
