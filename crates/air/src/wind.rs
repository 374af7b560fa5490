//! Wind at a house and the pressures that wind and buoyancy put on a terminal.
//!
//! ```
//! use dewpath_air::wind::{velocity_pressure, wall_pressure_coefficient};
//! use dewpath_units::{Angle, Density, Velocity};
//!
//! let gust = velocity_pressure(Density::from_kg_m3(1.2), Velocity::from_m_s(10.0));
//! let cp = wall_pressure_coefficient(Angle::from_deg(0.0), 1.0)?;
//! // A wall cap facing a 10 m/s wind is pushed back with the pressure of a whole bath fan.
//! assert!((gust.pa() * cp - 36.2).abs() < 0.1);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_units::{Angle, Density, Length, Pressure, Velocity};

use crate::domain::{Domain, OutOfDomain, finite, not_negative};

/// Standard acceleration of gravity, m/s² (ISO 80000-3).
pub const GRAVITY_M_S2: f64 = 9.80665;

/// Ground cover upwind, which shapes how wind speed grows with height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Terrain {
    /// Flat, unobstructed, wind over at least 500 m of water.
    FlatWater,
    /// Open country with scattered obstacles lower than 10 m; what airport stations stand in.
    Open,
    /// Suburbs, woods, closely spaced houses.
    Suburban,
    /// Centre of a large city.
    Urban,
}

impl Terrain {
    /// Exponent a and boundary-layer thickness δ in m.
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 24, table 1 (from memory).
    pub fn profile(self) -> (f64, f64) {
        match self {
            Self::FlatWater => (0.10, 210.0),
            Self::Open => (0.14, 270.0),
            Self::Suburban => (0.22, 370.0),
            Self::Urban => (0.33, 460.0),
        }
    }
}

/// Wind speed at a height above ground near the house, from the speed at a weather station.
///
/// U = U_met·(δ_met/H_met)^a_met·(H/δ)^a.
///
/// Source: ASHRAE Fundamentals 2017, ch. 24, eq. 4 (constants from memory). Hourly means over flat ground;
/// close to other buildings the real speed differs widely.
/// Valid: heights of 0.5 m up to the boundary layer of the terrain.
///
/// # Errors
/// [`OutOfDomain`] for a negative speed or a height outside the boundary layer.
pub fn site_wind_speed(
    station_speed: Velocity,
    station_terrain: Terrain,
    station_height: Length,
    terrain: Terrain,
    height: Length,
) -> Result<Velocity, OutOfDomain> {
    let speed = not_negative("wind speed", "m/s", "give the speed and the direction apart")
        .check(station_speed.m_s())?;
    let (a_met, d_met) = station_terrain.profile();
    let (a, d) = terrain.profile();
    let h_met = profile_height(d_met).check(station_height.m())?;
    let h = profile_height(d).check(height.m())?;
    Ok(Velocity::from_m_s(speed * libm::pow(d_met / h_met, a_met) * libm::pow(h / d, a)))
}

const fn profile_height(thickness_m: f64) -> Domain {
    Domain {
        quantity: "height above ground",
        unit: "m",
        low: 0.5,
        high: thickness_m,
        reason: "the power-law wind profile holds inside the boundary layer",
    }
}

/// Velocity pressure of wind or of air in a duct: ρ·U²/2.
///
/// Source: Bernoulli's equation. Valid: any speed far below that of sound.
pub fn velocity_pressure(density: Density, speed: Velocity) -> Pressure {
    Pressure::from_pa(0.5 * density.kg_m3() * speed.m_s() * speed.m_s())
}

/// Mean wind pressure coefficient of a wall of a low house, from the angle between the wind and the outward
/// normal of the wall (0° blows straight at it) and the side ratio: length of this wall over length of the
/// adjacent wall.
///
/// Cp = 0.6·ln\[1.248 − 0.703·sin(α/2) − 1.175·sin²α + 0.131·sin³(2αG) + 0.769·cos(α/2) + 0.07·G²·sin²(α/2) +
/// 0.717·cos²(α/2)], G = ln(side ratio).
///
/// Source: Swami & Chandra 1987, FSEC-CR-163-86 (low-rise buildings, surface average). Printed sources
/// disagree on the sign of the 0.131 term (only side ratios other than 1 feel it); + is used because a long
/// wall along the wind must see less suction than a short one. The sign is unconfirmed.
/// Valid: side ratio 0.25 to 4, isolated house up to three storeys; a neighbour of the same height brings the
/// coefficient to −0.2 … +0.2.
///
/// # Errors
/// [`OutOfDomain`] for a side ratio outside the range or an angle that is not a number.
pub fn wall_pressure_coefficient(wind_angle: Angle, side_ratio: f64) -> Result<f64, OutOfDomain> {
    let alpha = half_turn(finite("wind angle", "rad").check(wind_angle.rad())?);
    let g = libm::log(SIDE_RATIO.check(side_ratio)?);
    let (sin_half, cos_half) = (libm::sin(alpha / 2.0), libm::cos(alpha / 2.0));
    let sin = libm::sin(alpha);
    let swirl = libm::sin(2.0 * alpha * g);
    let inside = 1.248 - 0.703 * sin_half - 1.175 * sin * sin
        + 0.131 * swirl * swirl * swirl
        + 0.769 * cos_half
        + 0.07 * g * g * sin_half * sin_half
        + 0.717 * cos_half * cos_half;
    Ok(0.6 * libm::log(inside))
}

const SIDE_RATIO: Domain = Domain {
    quantity: "side ratio of the house",
    unit: "(of 1)",
    low: 0.25,
    high: 4.0,
    reason: "the wall pressure equation was fitted to houses up to four times as long as wide",
};

/// An angle in radians folded into 0 to π: wind from the left and from the right press alike.
fn half_turn(angle: f64) -> f64 {
    use std::f64::consts::{PI, TAU};
    let turn = libm::fabs(libm::fmod(angle, TAU));
    if turn > PI { TAU - turn } else { turn }
}

/// How a roof stands in the wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Exposure {
    /// Open ground or higher than what is around it.
    Exposed,
    /// Surrounded by buildings of the same height.
    Sheltered,
}

/// A value with the range it can take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoefficientBand {
    /// Least.
    pub low: f64,
    /// Most likely.
    pub likely: f64,
    /// Greatest.
    pub high: f64,
}

/// Wind pressure coefficient of a roof, from its pitch (0° is flat) and the angle between the wind and the line
/// of greatest slope (0° blows across the ridge, 90° along it).
///
/// | pitch | exposed | sheltered |
/// |---|---|---|
/// | up to 10° | −0.6 (−0.8 … −0.5) | −0.5 (−0.5 … −0.3) |
/// | up to 30° | −0.4, −0.5, −0.6 at 0°, 45°, 90° (−0.7 … −0.3) | −0.4 (−0.5 … −0.3) |
/// | up to 60° | −0.2 (−0.7 … +0.3) | −0.2 (−0.5 … +0.2) |
///
/// Source: values at exposed roofs up to 30° and the sheltered flat roof: table of the Air Infiltration and
/// Ventilation Centre type in a public-domain wind data file. Sheltered roofs up to 30°: published range, its
/// middle as likely. Steep roofs: range from memory, its middle as likely, no source; which side of the ridge
/// the terminal is on decides.
///
/// # Errors
/// [`OutOfDomain`] for a pitch outside 0 to 60° or an angle that is not a number.
pub fn roof_pressure_coefficient(
    pitch: Angle,
    wind_angle: Angle,
    exposure: Exposure,
) -> Result<CoefficientBand, OutOfDomain> {
    let slope = Domain {
        quantity: "roof pitch",
        unit: "deg",
        low: 0.0,
        high: 60.0,
        reason: "no published pressure coefficient is carried for steeper roofs; take them as walls",
    }
    // A pitch typed as exactly 60 degrees comes back a rounding away.
    .check(snap(pitch.deg()))?;
    let half = half_turn(finite("wind angle", "rad").check(wind_angle.rad())?);
    let across = half.min(std::f64::consts::PI - half) / std::f64::consts::FRAC_PI_2;
    let band = |low, likely, high| CoefficientBand { low, likely, high };
    Ok(match exposure {
        Exposure::Exposed if slope <= 10.0 => band(-0.8, -0.6, -0.5),
        Exposure::Exposed if slope <= 30.0 => band(-0.7, -0.4 - 0.2 * across, -0.3),
        Exposure::Exposed => band(-0.7, -0.2, 0.3),
        Exposure::Sheltered if slope <= 10.0 => band(-0.5, -0.5, -0.3),
        Exposure::Sheltered if slope <= 30.0 => band(-0.5, -0.4, -0.3),
        Exposure::Sheltered => band(-0.5, -0.2, 0.2),
    })
}

fn snap(degrees: f64) -> f64 {
    let whole = libm::round(degrees);
    if (degrees - whole).abs() < 1e-9 { whole } else { degrees }
}

/// What the wind adds to the pressure a fan must work against: (Cp_terminal − Cp_inside)·ρ·U²/2.
///
/// The pressure inside floats near the leakage-weighted mean of all walls, about −0.1 to −0.2 (from memory).
/// Source: definition of the pressure coefficient. Positive pushes back into the duct.
pub fn terminal_wind_pressure(
    terminal_coefficient: f64,
    inside_coefficient: f64,
    density: Density,
    speed: Velocity,
) -> Pressure {
    velocity_pressure(density, speed) * (terminal_coefficient - inside_coefficient)
}

/// Buoyancy of a column of air: (ρ_outside − ρ_inside)·g·h.
///
/// For a house, `height` is counted from the neutral level and the result is the pressure of the house above
/// outdoors at that height; for a rising duct it is what helps the fan (warm air in the duct) or opposes it.
///
/// Source: hydrostatics, g = 9.80665 m/s². Valid: heights of buildings.
pub fn stack_pressure(inside: Density, outside: Density, height: Length) -> Pressure {
    Pressure::from_pa((outside.kg_m3() - inside.kg_m3()) * GRAVITY_M_S2 * height.m())
}
