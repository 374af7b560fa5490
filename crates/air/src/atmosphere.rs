//! Pressure, temperature and density of the standard atmosphere.
//!
//! A fan moves the same volume at any altitude but makes less pressure in thin air. Use the pressure of the
//! altitude with the *real* temperature of the air; the standard temperature is for comparison only.
//!
//! ```
//! use dewpath_air::atmosphere::{dry_air_density, standard_pressure};
//! use dewpath_units::{Length, Temperature};
//!
//! let p = standard_pressure(Length::from_feet(5280.0))?;
//! assert!((p.pa() - 83_427.5).abs() < 1.0);
//! let rho = dry_air_density(Temperature::from_c(20.0), p)?;
//! assert!((rho.kg_m3() - 0.9914).abs() < 0.0005);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_units::{Density, Length, Pressure, Temperature};

use crate::domain::{Domain, OutOfDomain, positive};
use crate::moist_air::DRY_AIR_GAS_CONSTANT;

/// Pressure of the standard atmosphere at sea level.
pub const SEA_LEVEL_PRESSURE: Pressure = Pressure::from_pa(101_325.0);

/// Density at which fans are rated in North America (0.075 lb/ft³; AMCA 210): 1.2 kg/m³ elsewhere is the same
/// within 0.1 %.
pub const FAN_RATING_DENSITY: Density = Density::from_lb_ft3(0.075);

const ALTITUDE: Domain = Domain {
    quantity: "altitude",
    unit: "m",
    low: -5000.0,
    high: 11_000.0,
    reason: "the equation of the standard atmosphere holds in the troposphere only",
};

/// Pressure at an altitude above sea level: 101 325·(1 − 2.25577e-5·z)^5.2559, z in m.
///
/// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 3. z is a geopotential height; taking a map altitude for it
/// is off by 0.02 % at 3 km.
/// Valid: −5000 to 11 000 m.
///
/// # Errors
/// [`OutOfDomain`] outside that range.
pub fn standard_pressure(altitude: Length) -> Result<Pressure, OutOfDomain> {
    let z = ALTITUDE.check(altitude.m())?;
    Ok(Pressure::from_pa(SEA_LEVEL_PRESSURE.pa() * libm::pow(1.0 - 2.25577e-5 * z, 5.2559)))
}

/// Temperature at an altitude above sea level: 15 − 0.0065·z °C, z in m.
///
/// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 4. Valid: −5000 to 11 000 m.
///
/// # Errors
/// [`OutOfDomain`] outside that range.
pub fn standard_temperature(altitude: Length) -> Result<Temperature, OutOfDomain> {
    ALTITUDE.check(altitude.m()).map(|z| Temperature::from_c(15.0 - 0.0065 * z))
}

/// Density of dry air at standard pressure and standard temperature of an altitude.
///
/// Source: the two equations above and the gas law. Valid: −5000 to 11 000 m; within 0.05 % of the US Standard
/// Atmosphere 1976 up to 3 km.
///
/// # Errors
/// [`OutOfDomain`] outside that range.
pub fn standard_density(altitude: Length) -> Result<Density, OutOfDomain> {
    dry_air_density(standard_temperature(altitude)?, standard_pressure(altitude)?)
}

/// Density of dry air: p/(287.042·T). For air that holds vapour use
/// [`MoistAir::density`](crate::moist_air::MoistAir::density).
///
/// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 1 (gas constant).
///
/// # Errors
/// [`OutOfDomain`] unless temperature and pressure are above zero.
pub fn dry_air_density(
    temperature: Temperature,
    pressure: Pressure,
) -> Result<Density, OutOfDomain> {
    let t =
        positive("temperature", "K", "an absolute temperature is needed").check(temperature.k())?;
    let p = positive("pressure", "Pa", "an absolute pressure is needed").check(pressure.pa())?;
    Ok(Density::from_kg_m3(p / (DRY_AIR_GAS_CONSTANT * t)))
}
