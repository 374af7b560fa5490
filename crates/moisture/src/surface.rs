//! Temperatures and humidities of inside surfaces, and how cold one may be before mould must be feared.
//!
//! A surface between a room at θ_i and outdoors at θ_e has the temperature factor
//! f = (θ_si − θ_e)/(θ_i − θ_e): 1 as warm as the room, 0 as cold as outdoors. Source: ISO 13788:2012.
//!
//! ```
//! use dewpath_moisture::surface::{least_factor, least_surface_temperature};
//! use dewpath_units::{Humidity, Temperature};
//! // 20 °C and 50 % indoors: mould is feared below 12.6 °C, at −5 °C outdoors a factor of 0.70.
//! let room = (Temperature::from_c(20.0), Humidity::from_percent(50.0));
//! let limit = Humidity::from_percent(80.0);
//! let coldest = least_surface_temperature(room.0, room.1, limit)?;
//! assert!((coldest.c() - 12.6).abs() < 0.05);
//! let factor = least_factor(room.0, room.1, limit, Temperature::from_c(-5.0))?;
//! assert!((factor.ratio() - 0.705).abs() < 0.002);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_air::domain::{Domain, OutOfDomain};
use dewpath_air::flex::Band;
use dewpath_air::moist_air::{dew_point, saturation_pressure};
use dewpath_units::{Humidity, Pressure, Ratio, Temperature, ThermalResistance};

/// Humidity at a surface, as a monthly mean, above which ISO 13788:2012 fears mould.
pub const MOULD_LIMIT: Humidity = Humidity::from_ratio(0.8);

/// What a surface is, for the resistance between it and the room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurfaceKind {
    /// Wall, ceiling, floor.
    Opaque,
    /// Glass and window frames.
    Glazing,
    /// Wall behind a cabinet or other furniture.
    BehindFurniture,
}

impl SurfaceKind {
    /// Resistance R_si between room and surface used to judge mould, m²·K/W: 0.25, for glass and frames 0.13,
    /// behind furniture 0.5 to 1.0.
    ///
    /// Source: ISO 13788:2012 (from memory); the likely value behind furniture is the middle (judgement).
    pub const fn resistance_rsi(self) -> Band {
        match self {
            Self::Opaque => band(0.25, 0.25, 0.25),
            Self::Glazing => band(0.13, 0.13, 0.13),
            Self::BehindFurniture => band(0.5, 0.75, 1.0),
        }
    }

    /// The likely [`Self::resistance_rsi`].
    pub const fn resistance(self) -> ThermalResistance {
        ThermalResistance::from_rsi(self.resistance_rsi().likely)
    }
}

/// A cold place of a bathroom whose construction is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ColdPlace {
    /// The middle of an insulated outside wall or ceiling.
    InsulatedWall,
    /// At a stud, or in a corner of outside walls.
    StudOrCorner,
    /// Glass, one pane.
    SingleGlazing,
    /// Glass, two panes without coating.
    DoubleGlazing,
    /// A metal window frame without thermal break.
    MetalFrame,
}

impl ColdPlace {
    /// Temperature factor to be expected when nothing more is known.
    ///
    /// Source: examples at 21 °C inside and −10 °C outside (from memory). Measure or compute where it matters.
    pub const fn factor(self) -> Band {
        match self {
            Self::InsulatedWall => band(0.93, 0.95, 0.98),
            Self::StudOrCorner => band(0.80, 0.84, 0.88),
            Self::SingleGlazing => band(0.25, 0.30, 0.35),
            Self::DoubleGlazing => band(0.50, 0.55, 0.60),
            Self::MetalFrame => band(0.35, 0.42, 0.50),
        }
    }
}

const fn band(low: f64, likely: f64, high: f64) -> Band {
    Band { low, likely, high, extrapolated: false }
}

const ANY_TEMPERATURE: Domain = Domain {
    quantity: "temperature",
    unit: "°C",
    low: -100.0,
    high: 100.0,
    reason: "air in and around a dwelling lies between -100 and 100 °C",
};

const ISO_TEMPERATURE: Domain = Domain {
    quantity: "temperature",
    unit: "°C",
    low: -60.0,
    high: 100.0,
    reason: "the short equation of ISO 13788 is used from -60 to 100 °C",
};

const SHARE: Domain = Domain {
    quantity: "relative humidity",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "air holds between no vapour and its saturation",
};

const LIMIT: Domain = Domain {
    quantity: "limit of the humidity at the surface",
    unit: "(of 1)",
    low: 0.01,
    high: 1.0,
    reason: "a surface is judged by a humidity up to saturation",
};

const FACTOR: Domain = Domain {
    quantity: "temperature factor",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "a surface lies between the temperatures outdoors and of the room",
};

const TRANSMITTANCE_SHARE: Domain = Domain {
    quantity: "transmittance times surface resistance",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "the resistance at the surface is a part of the whole resistance",
};

/// A temperature in °C, to a billionth: what was typed comes back from kelvins with a rounding.
fn celsius(range: &Domain, temperature: Temperature) -> Result<f64, OutOfDomain> {
    range.check(libm::round(temperature.c() * 1e9) / 1e9)
}

/// Saturation pressure by the short equation: 610.5·exp(17.269·θ/(237.3 + θ)) from 0 °C up,
/// 610.5·exp(21.875·θ/(265.5 + θ)) below.
///
/// Source: ISO 13788:2012, annex E. Departs from [`saturation_pressure`], which all else here uses, by 0.1–0.2
/// %; for comparison with calculations made by the standard.
///
/// # Errors
/// [`OutOfDomain`] outside −60 to 100 °C.
pub fn iso_saturation_pressure(temperature: Temperature) -> Result<Pressure, OutOfDomain> {
    let t = celsius(&ISO_TEMPERATURE, temperature)?;
    let (a, b) = if t >= 0.0 { (17.269, 237.3) } else { (21.875, 265.5) };
    Ok(Pressure::from_pa(610.5 * libm::exp(a * t / (b + t))))
}

/// Temperature factor of a surface, (θ_si − θ_e)/(θ_i − θ_e).
///
/// # Errors
/// [`OutOfDomain`] when the room is less than 0.1 K from the temperature outdoors (the factor is then lost in
/// the error of any reading) or the surface lies outside the two.
pub fn factor(
    surface: Temperature,
    room: Temperature,
    outdoors: Temperature,
) -> Result<Ratio, OutOfDomain> {
    let inside = celsius(&ANY_TEMPERATURE, room)?;
    let outside = celsius(&ANY_TEMPERATURE, outdoors)?;
    let surface = celsius(&ANY_TEMPERATURE, surface)?;
    let span = inside - outside;
    APART.check(span.abs())?;
    FACTOR.check((surface - outside) / span).map(Ratio::from_ratio)
}

const APART: Domain = Domain {
    quantity: "difference between room and outdoor temperature",
    unit: "K",
    low: 0.1,
    high: 200.0,
    reason: "a temperature factor is lost in the error of any reading below 0.1 K",
};

/// Temperature of a surface with temperature factor `factor`: θ_e + f·(θ_i − θ_e).
///
/// # Errors
/// [`OutOfDomain`] for a factor outside 0 to 1 or temperatures outside −100 to 100 °C.
pub fn surface_temperature(
    factor: Ratio,
    room: Temperature,
    outdoors: Temperature,
) -> Result<Temperature, OutOfDomain> {
    let f = FACTOR.check(factor.ratio())?;
    let (inside, outside) =
        (celsius(&ANY_TEMPERATURE, room)?, celsius(&ANY_TEMPERATURE, outdoors)?);
    Ok(Temperature::from_c(outside + f * (inside - outside)))
}

/// Temperature factor of a plane part: 1 − U·R_si.
///
/// Source: ISO 13788:2012, plane (one-dimensional) parts; not for corners and studs.
///
/// # Errors
/// [`OutOfDomain`] when U·R_si is not between 0 and 1.
pub fn plane_factor(
    transmittance_w_m2_k: f64,
    resistance: ThermalResistance,
) -> Result<Ratio, OutOfDomain> {
    let share = TRANSMITTANCE_SHARE.check(transmittance_w_m2_k * resistance.rsi())?;
    Ok(Ratio::from_ratio(1.0 - share))
}

/// Relative humidity of room air where it touches a surface, as a ratio: φ·p_ws(θ_i)/p_ws(θ_si). Above 1 water
/// condenses.
///
/// # Errors
/// [`OutOfDomain`] for a humidity outside 0 to 1 or temperatures outside −100 to 100 °C.
pub fn surface_humidity(
    room: Temperature,
    humidity: Humidity,
    surface: Temperature,
) -> Result<Ratio, OutOfDomain> {
    let phi = SHARE.check(humidity.ratio())?;
    celsius(&ANY_TEMPERATURE, room)?;
    celsius(&ANY_TEMPERATURE, surface)?;
    let (p_room, p_surface) = (saturation_pressure(room)?, saturation_pressure(surface)?);
    Ok(Ratio::from_ratio(phi * p_room.pa() / p_surface.pa()))
}

/// Lowest temperature a surface may have so that the air at it stays at or below `limit`: the temperature
/// whose saturation pressure is φ·p_ws(θ_i)/limit.
///
/// With [`MOULD_LIMIT`] the criterion of ISO 13788:2012, meant for monthly means; with a limit of 1 the dew
/// point.
///
/// # Errors
/// [`OutOfDomain`] for a humidity outside 0 to 1, a limit outside 0.01 to 1, or air so dry that no surface can
/// be too cold.
pub fn least_surface_temperature(
    room: Temperature,
    humidity: Humidity,
    limit: Humidity,
) -> Result<Temperature, OutOfDomain> {
    let phi = SHARE.check(humidity.ratio())?;
    let limit = LIMIT.check(limit.ratio())?;
    celsius(&ANY_TEMPERATURE, room)?;
    dew_point(Pressure::from_pa(phi * saturation_pressure(room)?.pa() / limit))
}

/// Least temperature factor at which the air at a surface stays at or below `limit`; 1 or more when
/// even a surface as warm as the room is not enough, below 0 when any is.
///
/// # Errors
/// As [`least_surface_temperature`]; also when it is not at least 0.1 K colder outdoors than in the room.
pub fn least_factor(
    room: Temperature,
    humidity: Humidity,
    limit: Humidity,
    outdoors: Temperature,
) -> Result<Ratio, OutOfDomain> {
    let needed = least_surface_temperature(room, humidity, limit)?.c();
    let outside = celsius(&ANY_TEMPERATURE, outdoors)?;
    let span = COLDER.check(room.c() - outside)?;
    Ok(Ratio::from_ratio((needed - outside) / span))
}

const COLDER: Domain = Domain {
    quantity: "room less outdoor temperature",
    unit: "K",
    low: 0.1,
    high: 200.0,
    reason: "a least temperature factor needs outdoors to be colder than the room",
};
