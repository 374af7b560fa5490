//! Water that condenses on a surface and evaporates from it.
//!
//! Vapour and heat cross the same thin layer of air at a surface, so that the one follows from the other (Lewis
//! relation): h_m = h_c/(cp_m·Le^(2/3)) kg/(m²·s), and the flux onto the surface is h_m·(W_air − W_s(T)). Only
//! the *convective* part of a surface coefficient belongs here: radiation carries no vapour.
//!
//! Source: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, heat and mass transfer analogy; ASHRAE
//! Fundamentals, ch. 6 (both from memory). Valid: thin vapour (W up to about 0.05), surfaces not steaming.
//!
//! ```
//! use dewpath_moisture::film::VapourTransfer;
//! use dewpath_moisture::saturation::Saturation;
//! use dewpath_units::Pressure;
//! let p = Pressure::from_pa(101_325.0);
//! let w_air = 0.01598; // kg/kg: 24 °C, 85 %
//! let mirror = VapourTransfer::new(4.0, w_air, p)?;
//! let flux = mirror.flux_kg_m2_s(w_air, Saturation::shared().humidity_ratio(15.0, p.pa()));
//! assert!((flux * 3.6e6 - 81.3).abs() < 0.5); // g/(m²·h)
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_air::domain::{Domain, OutOfDomain, not_negative};
use dewpath_air::flex::Band;
use dewpath_air::moist_air::heat_capacity_j_kg_k;
use dewpath_units::{Length, Pressure, TemperatureDifference};

use crate::saturation::MASS_RATIO;

/// Lewis number α/D of vapour in air, as taken here; published 0.85 to 0.90.
///
/// Source: ratio of published transport properties (from memory).
pub const LEWIS_NUMBER: f64 = 0.87;

/// Le^(2/3) of [`LEWIS_NUMBER`]; 0.90 to 0.93 over its published range.
pub const LEWIS_FACTOR: f64 = 0.9113380468927672;

/// Film at which drops on a wall or mirror begin to run down, kg/m²: 0.05 to 0.15.
///
/// Source: judgement; film of a wetted vertical surface, common practice, no source.
pub const RUNNING_FILM_KG_M2: Band = band(0.05, 0.10, 0.15);

/// Share of a surface that drops of a breath figure cover once neighbours merge.
///
/// Source: Beysens & Knobler 1986, Physical Review Letters 57:1433 (from memory: 0.55, by drops that stand
/// upright).
pub const DROP_COVER: f64 = 0.55;

/// Film at which a place of a mirror fogs, and below which it is clear again, kg/m²: 0.1 to 0.5, likely 0.2 g/m².
///
/// Fog is seen because drops scatter light, and they do once they are about as large as its wavelength, long before they run.
/// The band is [`drop_film_kg_m2`] of drops of 0.27, 0.55 and 1.36 µm radius. A mirror at 20 °C in air of 22 °C and 50 % loses this in
/// less than half a minute: the choice decides whether a little film counts as fog, and moves the time of clearing little.
///
/// Source: judgement. No measurement of the film at which a mirror counts as clear was found; the mass of drops
/// of a given size follows from the cover of a breath figure ([`DROP_COVER`]) and geometry.
pub const CLEAR_FILM_KG_M2: Band = band(0.000_1, 0.000_2, 0.000_5);

/// Share of a mirror that must be clear for it to count as clear.
///
/// Source: judgement; half is enough to see a face.
pub const CLEAR_SHARE: f64 = 0.5;

/// Density of water, kg/m³, as a round number.
pub(crate) const WATER_KG_M3: f64 = 1000.0;

const fn band(low: f64, likely: f64, high: f64) -> Band {
    Band { low, likely, high, extrapolated: false }
}

const DROP_RADIUS: Domain = Domain {
    quantity: "radius of a drop",
    unit: "mm",
    low: 0.0,
    high: 3.0,
    reason: "larger drops do not stay on a wall",
};

/// Mass per area of drops that stand as half spheres on [`DROP_COVER`] of a surface: ρ·0.55·(2/3)·r.
///
/// Source: geometry.
///
/// # Errors
/// [`OutOfDomain`] for a radius outside 0 to 3 mm.
pub fn drop_film_kg_m2(radius: Length) -> Result<f64, OutOfDomain> {
    let r_mm = DROP_RADIUS.check(radius.m() * 1e3)?;
    Ok(WATER_KG_M3 * DROP_COVER * (2.0 / 3.0) * r_mm * 1e-3)
}

const DIFFERENCE: Domain = Domain {
    quantity: "temperature difference at the surface",
    unit: "K",
    low: -100.0,
    high: 100.0,
    reason: "room surfaces lie within 100 K of the air",
};

/// Least convective coefficient that is taken for a room, W/(m²·K): air is never wholly still.
const LEAST_CONVECTION: f64 = 1.5;

/// Convective coefficient of still room air at a wall or mirror, W/(m²·K): 1.31·|ΔT|^(1/3), at least 1.5.
///
/// Source: simplified equation for turbulent natural convection at a vertical plane, ASHRAE Fundamentals (from
/// memory); the least value is common practice, no source. A shower or a fan stirs the air: 4 to 8.
///
/// # Errors
/// [`OutOfDomain`] for a difference of more than 100 K.
pub fn still_air_convection_w_m2_k(difference: TemperatureDifference) -> Result<f64, OutOfDomain> {
    let apart = DIFFERENCE.check(difference.k())?.abs();
    Ok((1.31 * libm::cbrt(apart)).max(LEAST_CONVECTION))
}

/// h_m = h_c/(cp_m·Le^(2/3)), kg/(m²·s): the kernel of [`VapourTransfer`]. The caller keeps `heat_capacity`
/// above zero.
#[inline]
pub fn mass_coefficient_kg_m2_s(convection_w_m2_k: f64, heat_capacity_j_kg_k: f64) -> f64 {
    convection_w_m2_k / (heat_capacity_j_kg_k * LEWIS_FACTOR)
}

/// β_p = h_c·0.621945/(cp·p·Le^(2/3)), kg/(m²·s·Pa): the same as [`mass_coefficient_kg_m2_s`] for a difference
/// of vapour pressures, for thin vapour. `lewis_factor` 1 is the form of ISO 13788. The caller keeps heat
/// capacity, pressure and factor above zero.
#[inline]
pub fn pressure_coefficient_kg_m2_s_pa(
    convection_w_m2_k: f64,
    heat_capacity_j_kg_k: f64,
    pressure_pa: f64,
    lewis_factor: f64,
) -> f64 {
    convection_w_m2_k * MASS_RATIO / (heat_capacity_j_kg_k * pressure_pa * lewis_factor)
}

const CONVECTION: Domain =
    not_negative("convective coefficient", "W/(m²·K)", "it is the convective part only");

const HUMIDITY_RATIO: Domain = Domain {
    quantity: "humidity ratio",
    unit: "kg/kg dry air",
    low: 0.0,
    high: 0.2,
    reason: "the relation holds for thin vapour",
};

const AIR_PRESSURE: Domain = Domain {
    quantity: "air pressure",
    unit: "Pa",
    low: 20_000.0,
    high: 200_000.0,
    reason: "absolute pressure is meant",
};

/// How vapour crosses the air at one surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VapourTransfer {
    mass_kg_m2_s: f64,
    pressure_kg_m2_s_pa: f64,
}

impl VapourTransfer {
    /// For a convective coefficient and the humidity ratio `w_air` that sets the heat capacity of the air.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a negative coefficient, a humidity ratio outside 0 to 0.2, or an absolute
    /// pressure outside 20 to 200 kPa.
    pub fn new(
        convection_w_m2_k: f64,
        w_air: f64,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        let h_c = CONVECTION.check(convection_w_m2_k)?;
        let cp = heat_capacity_j_kg_k(HUMIDITY_RATIO.check(w_air)?);
        let p = AIR_PRESSURE.check(pressure.pa())?;
        Ok(Self {
            mass_kg_m2_s: mass_coefficient_kg_m2_s(h_c, cp),
            pressure_kg_m2_s_pa: pressure_coefficient_kg_m2_s_pa(h_c, cp, p, LEWIS_FACTOR),
        })
    }

    /// h_m, for differences of humidity ratio.
    pub const fn mass_kg_m2_s(&self) -> f64 {
        self.mass_kg_m2_s
    }

    /// β_p, for differences of vapour pressure.
    pub const fn pressure_kg_m2_s_pa(&self) -> f64 {
        self.pressure_kg_m2_s_pa
    }

    /// Flux of vapour onto a wet or cold surface, kg/(m²·s); below zero it evaporates. `w_surface` is the
    /// humidity ratio of saturated air at the surface's temperature.
    #[inline]
    pub fn flux_kg_m2_s(&self, w_air: f64, w_surface: f64) -> f64 {
        self.mass_kg_m2_s * (w_air - w_surface)
    }
}

/// What a film did in a step, kg/m².
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FilmStep {
    /// Film that is left.
    pub film: f64,
    /// Vapour that the surface took from the air; below zero what it gave back.
    pub from_air: f64,
    /// What ran down.
    pub ran_off: f64,
}

/// A film under a constant flux from the air for `seconds`: it grows or dries, never below nothing, and what is
/// above `running` runs off. Mass is kept: film before + from_air = film after + ran_off.
///
/// A film or running limit below zero or not a number counts as none; a flux that is not a number as no flux.
#[inline]
pub fn step_film(film_kg_m2: f64, flux_kg_m2_s: f64, seconds: f64, running_kg_m2: f64) -> FilmStep {
    let (film, running) = (film_kg_m2.max(0.0), running_kg_m2.max(0.0));
    let moved = flux_kg_m2_s * seconds;
    let from_air = if moved.is_finite() { moved.max(-film) } else { 0.0 };
    let wet = film + from_air;
    let film = wet.min(running);
    // Endless water on an endless film runs nowhere.
    let ran_off = if wet > film { wet - film } else { 0.0 };
    FilmStep { film, from_air, ran_off }
}
