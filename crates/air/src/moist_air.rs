//! Moist air as a mixture of two ideal gases: saturation, humidity, energy, volume and transport.
//!
//! Amounts are per kilogram of *dry air* unless a name says otherwise, so that they can be balanced while
//! vapour comes and goes. Leaving real-gas effects out makes the humidity ratio 0.35–0.5 % low, enthalpy
//! 0.2 %, volume 0.04 % and wet bulb 0.007 K (compared here with the real-gas formulation of ASHRAE
//! research project RP-1485, tolerance 0.6 %).
//!
//! ```
//! use dewpath_air::moist_air::MoistAir;
//! use dewpath_units::{Humidity, Pressure, Temperature};
//!
//! let air = MoistAir::from_relative_humidity(
//!     Temperature::from_c(24.0),
//!     Humidity::from_percent(80.0),
//!     Pressure::from_pa(101_325.0),
//! )?;
//! assert!((air.humidity_ratio() - 0.01501).abs() < 0.00001); // kg vapour per kg dry air
//! assert!((air.dew_point()?.c() - 20.34).abs() < 0.01);
//! assert!((air.density().kg_m3() - 1.177).abs() < 0.001);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_units::{Density, Humidity, Pressure, Temperature};

use crate::domain::{Domain, OutOfDomain};
use crate::law::Law;

/// Temperature of the triple point of water, K: ice and water are told apart here.
const TRIPLE_POINT_K: f64 = 273.16;

/// 0 °C in K: a wet-bulb wick is taken as frozen below it.
pub const FREEZING_K: f64 = 273.15;

/// Ratio of the molar masses of water and dry air (ASHRAE Fundamentals 2017, ch. 1).
pub const MASS_RATIO: f64 = 0.621945;

/// Its inverse as printed in the volume equation (ASHRAE Fundamentals 2017, ch. 1, eq. 26).
const MOLE_RATIO: f64 = 1.607858;

/// Gas constant of dry air, J/(kg·K) (ASHRAE Fundamentals 2017, ch. 1, eq. 1).
pub const DRY_AIR_GAS_CONSTANT: f64 = 287.042;

/// Heat capacity of dry air, J/(kg·K) (ASHRAE Fundamentals 2017, ch. 1, slope of eq. 30).
pub const DRY_AIR_HEAT_J_KG_K: f64 = 1006.0;

/// Heat capacity of water vapour, J/(kg·K) (the same).
pub const VAPOUR_HEAT_J_KG_K: f64 = 1860.0;

/// Heat of evaporation of water at 0 °C, J/kg (ASHRAE Fundamentals 2017, ch. 1, eq. 30).
pub const EVAPORATION_HEAT_J_KG: f64 = 2_501_000.0;

/// Heat of sublimation of ice near 0 °C, J/kg (ASHRAE Fundamentals 2017, ch. 1; 2834 kJ/kg, from memory).
pub const SUBLIMATION_HEAT_J_KG: f64 = 2_834_000.0;

const SATURATION_TEMPERATURE: Domain = Domain {
    quantity: "temperature",
    unit: "°C",
    low: -100.0,
    high: 200.0,
    reason: "the saturation equations were fitted from -100 to 200 °C",
};

const SUPERCOOLED_TEMPERATURE: Domain = Domain {
    quantity: "temperature",
    unit: "°C",
    low: -50.0,
    high: 200.0,
    reason: "liquid water is not met below about -50 °C",
};

const AIR_TEMPERATURE: Domain = Domain {
    quantity: "air temperature",
    unit: "°C",
    low: -100.0,
    high: 100.0,
    reason: "air in and around a dwelling lies between -100 and 100 °C",
};

const AIR_PRESSURE: Domain = Domain {
    quantity: "air pressure",
    unit: "Pa",
    low: 20_000.0,
    high: 200_000.0,
    reason: "absolute pressure is meant, not the pressure difference across a duct",
};

const RELATIVE_HUMIDITY: Domain = Domain {
    quantity: "relative humidity",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "air holds between no vapour and its saturation",
};

/// Lowest temperature a wet bulb can have for any air that can be described here, K.
const COLDEST_WET_BULB_K: f64 = 143.15;

/// The temperature in K if it lies in the range, which is given in °C because that is what people type. Compared
/// to a billionth of a degree, since a typed temperature comes back from kelvins with a rounding.
fn kelvins(range: &Domain, temperature: Temperature) -> Result<f64, OutOfDomain> {
    range.check(libm::round(temperature.c() * 1e9) / 1e9)?;
    Ok(temperature.k())
}

/// ln of the saturation pressure over ice, Pa.
fn ln_ice(t: f64) -> f64 {
    -5.6745359e3 / t
        + 6.3925247
        + t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 + t * -9.484024e-13)))
        + 4.1635019 * libm::log(t)
}

/// ln of the saturation pressure over liquid water, Pa.
fn ln_water(t: f64) -> f64 {
    -5.8002206e3 / t
        + 1.3914993
        + t * (-4.8640239e-2 + t * (4.1764768e-5 + t * -1.4452093e-8))
        + 6.5459673 * libm::log(t)
}

/// Slope of [`ln_ice`], 1/K.
fn ln_ice_slope(t: f64) -> f64 {
    5.6745359e3 / (t * t) - 9.677843e-3
        + t * (2.0 * 6.2215701e-7 + t * (3.0 * 2.0747825e-9 + t * 4.0 * -9.484024e-13))
        + 4.1635019 / t
}

/// Slope of [`ln_water`], 1/K.
fn ln_water_slope(t: f64) -> f64 {
    5.8002206e3 / (t * t) - 4.8640239e-2
        + t * (2.0 * 4.1764768e-5 + t * 3.0 * -1.4452093e-8)
        + 6.5459673 / t
}

/// Saturation pressure over ice at `t_k` K and its slope, Pa and Pa/K: what tables are made of. The caller keeps `t_k` within
/// the range of [`saturation_pressure`].
pub fn saturation_over_ice(t_k: f64) -> (f64, f64) {
    let pressure = libm::exp(ln_ice(t_k));
    (pressure, pressure * ln_ice_slope(t_k))
}

/// The same over liquid water.
pub fn saturation_over_water(t_k: f64) -> (f64, f64) {
    let pressure = libm::exp(ln_water(t_k));
    (pressure, pressure * ln_water_slope(t_k))
}

/// Heat capacity of moist air with `ratio` kg vapour per kg dry air, J/(K·kg dry air): 1006 + 1860·W.
///
/// Source: slope of the enthalpy equation with temperature, ASHRAE Fundamentals 2017, ch. 1, eq. 30.
#[inline]
pub const fn heat_capacity_j_kg_k(ratio: f64) -> f64 {
    DRY_AIR_HEAT_J_KG_K + VAPOUR_HEAT_J_KG_K * ratio
}

/// [`evaporation_heat_j_kg`] at `t_c` °C, which the caller has checked.
#[inline]
pub const fn evaporation_heat_at_c(t_c: f64) -> f64 {
    EVAPORATION_HEAT_J_KG - 2_360.0 * t_c
}

/// Saturation pressure in Pa at `t` K, over ice up to the triple point and over water above it.
pub(crate) fn saturation_pa(t: f64) -> f64 {
    libm::exp(if t <= TRIPLE_POINT_K { ln_ice(t) } else { ln_water(t) })
}

/// Slope of [`saturation_pa`], Pa/K.
fn saturation_slope(t: f64) -> f64 {
    saturation_pa(t) * if t <= TRIPLE_POINT_K { ln_ice_slope(t) } else { ln_water_slope(t) }
}

/// kg vapour per kg dry air at vapour pressure `vapour` and total pressure `total`, Pa.
fn ratio_from_vapour(vapour: f64, total: f64) -> f64 {
    MASS_RATIO * vapour / (total - vapour)
}

/// Vapour pressure in Pa of `ratio` kg vapour per kg dry air at total pressure `total`, Pa.
fn vapour_from_ratio(ratio: f64, total: f64) -> f64 {
    total * ratio / (MASS_RATIO + ratio)
}

/// Temperature in K at which `vapour` Pa is the saturation pressure; the caller keeps `vapour` within the
/// range of the saturation equations.
fn saturation_temperature(vapour: f64) -> f64 {
    let goal = libm::log(vapour);
    let over_water = goal >= ln_water(TRIPLE_POINT_K);
    // Magnus form as a first guess: within a kelvin over the range that matters.
    let x = goal - libm::log(611.2);
    let (a, b) = if over_water { (17.62, 243.12) } else { (22.46, 272.62) };
    let mut t = (FREEZING_K + b * x / (a - x)).clamp(150.0, 480.0);
    for _ in 0..30 {
        let (value, slope) = if over_water {
            (ln_water(t), ln_water_slope(t))
        } else {
            (ln_ice(t), ln_ice_slope(t))
        };
        let step = (goal - value) / slope;
        t += step;
        if step.abs() < 1e-10 {
            break;
        }
    }
    // Between the two curves' ends at the triple point (0.01 Pa apart) the answer is the point itself.
    if over_water { t.max(TRIPLE_POINT_K) } else { t.min(TRIPLE_POINT_K) }
}

/// Constants of the wet-bulb equation for a liquid or a frozen wick, kJ/kg and kJ/(kg·K).
struct Wick {
    latent: f64,
    latent_slope: f64,
    condensed: f64,
}

const WET: Wick = Wick { latent: 2501.0, latent_slope: 2.326, condensed: 4.186 };
const FROZEN: Wick = Wick { latent: 2830.0, latent_slope: 0.24, condensed: 2.1 };

/// The wet-bulb equation cleared of its fraction: zero where `wet` K is the wet bulb of air at `dry` K that
/// holds `ratio` kg/kg; with its slope. Infinite where water would boil.
fn wet_bulb_residual(wick: &Wick, wet: f64, dry: f64, ratio: f64, total: f64) -> (f64, f64) {
    let saturated = saturation_pa(wet);
    if saturated >= total {
        return (f64::INFINITY, f64::INFINITY);
    }
    let (wet_c, dry_c) = (wet - FREEZING_K, dry - FREEZING_K);
    let most = ratio_from_vapour(saturated, total);
    let most_slope =
        MASS_RATIO * total * saturation_slope(wet) / ((total - saturated) * (total - saturated));
    let latent = wick.latent - wick.latent_slope * wet_c;
    let value = latent * most
        - 1.006 * (dry_c - wet_c)
        - ratio * (wick.latent + 1.86 * dry_c - wick.condensed * wet_c);
    let slope = latent * most_slope - wick.latent_slope * most + 1.006 + ratio * wick.condensed;
    (value, slope)
}

/// Humidity ratio of air at `dry` K whose wet bulb is `wet` K; negative when no air can have both.
fn ratio_from_wet_bulb(dry: f64, wet: f64, total: f64) -> f64 {
    let wick = if wet >= FREEZING_K { &WET } else { &FROZEN };
    let (wet_c, dry_c) = (wet - FREEZING_K, dry - FREEZING_K);
    let most = ratio_from_vapour(saturation_pa(wet), total);
    ((wick.latent - wick.latent_slope * wet_c) * most - 1.006 * (dry_c - wet_c))
        / (wick.latent + 1.86 * dry_c - wick.condensed * wet_c)
}

/// Wet bulb in K by Newton, kept inside a shrinking bracket.
fn wet_bulb(dry: f64, ratio: f64, total: f64) -> f64 {
    let thaws = dry > FREEZING_K && wet_bulb_residual(&WET, FREEZING_K, dry, ratio, total).0 <= 0.0;
    let (wick, mut low, mut high) = if thaws {
        (&WET, FREEZING_K, dry)
    } else {
        (&FROZEN, COLDEST_WET_BULB_K, dry.min(FREEZING_K))
    };
    let mut wet = high;
    for _ in 0..100 {
        let (value, slope) = wet_bulb_residual(wick, wet, dry, ratio, total);
        if value > 0.0 {
            high = wet;
        } else {
            low = wet;
        }
        let newton = wet - value / slope;
        let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
        let moved = (next - wet).abs();
        wet = next;
        if moved < 1e-11 * wet {
            break;
        }
    }
    wet
}

/// [`MoistAir::viscosity_pa_s`] at `t_k` K.
#[inline]
pub fn viscosity_at_k(t_k: f64) -> f64 {
    let x = t_k / FREEZING_K;
    1.716e-5 * x * x.sqrt() * (383.55 / (t_k + 110.4))
}

/// [`MoistAir::conductivity_w_m_k`] at `t_c` °C.
#[inline]
pub const fn conductivity_at_c(t_c: f64) -> f64 {
    0.02436 + 7.5e-5 * t_c
}

/// Saturation pressure of water vapour: over ice below the triple point (0.01 °C), over water above.
///
/// over ice ln p = C1/T + C2 + C3·T + C4·T² + C5·T³ + C6·T⁴ + C7·ln T,
/// over water ln p = C8/T + C9 + C10·T + C11·T² + C12·T³ + C13·ln T (T in K, p in Pa).
///
/// Source: Hyland & Wexler 1983, ASHRAE Transactions 89(2A); ASHRAE Fundamentals 2017, ch. 1, eqs. 5–6.
/// Valid: −100 to 200 °C; within 0.05 % of IAPWS from −20 to 60 °C.
///
/// # Errors
/// [`OutOfDomain`] outside −100 to 200 °C.
///
/// # Examples
/// ```
/// use dewpath_air::moist_air::saturation_pressure;
/// use dewpath_units::Temperature;
/// let p = saturation_pressure(Temperature::from_c(20.0))?;
/// assert!((p.pa() - 2338.80).abs() < 0.01);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn saturation_pressure(temperature: Temperature) -> Result<Pressure, OutOfDomain> {
    kelvins(&SATURATION_TEMPERATURE, temperature).map(|t| Pressure::from_pa(saturation_pa(t)))
}

/// Saturation pressure over liquid water, also below freezing (supercooled).
///
/// Humidity sensors and weather stations report relative humidity over *water* at all temperatures
/// (World Meteorological Organization, Guide No. 8); building standards use ice. At −10 °C the two differ
/// by a tenth.
///
/// Source: as [`saturation_pressure`], the equation over water carried on below 0 °C.
/// Departs from the source: used below its fitted range (0 to 200 °C).
/// Valid: −50 to 200 °C; within 0.6 % of the Magnus form of WMO Guide No. 8 down to −45 °C.
///
/// # Errors
/// [`OutOfDomain`] outside −50 to 200 °C.
pub fn saturation_pressure_over_water(temperature: Temperature) -> Result<Pressure, OutOfDomain> {
    kelvins(&SUPERCOOLED_TEMPERATURE, temperature)
        .map(|t| Pressure::from_pa(libm::exp(ln_water(t))))
}

/// Temperature at which this vapour pressure is saturated: the dew point, or the frost point below 0.01 °C.
///
/// Newton on ln p with the slope of the saturation equations; 1e-10 K.
/// Source and range: as [`saturation_pressure`].
///
/// # Errors
/// [`OutOfDomain`] for a vapour pressure below 0.0014 Pa (frost point below −100 °C; perfectly dry air has
/// none) or above that of 200 °C.
pub fn dew_point(vapour_pressure: Pressure) -> Result<Temperature, OutOfDomain> {
    let range = Domain {
        quantity: "vapour pressure",
        unit: "Pa",
        low: saturation_pa(SATURATION_TEMPERATURE.low + FREEZING_K),
        high: saturation_pa(SATURATION_TEMPERATURE.high + FREEZING_K),
        reason: "the dew point would lie outside -100 to 200 °C; dry air has none",
    };
    range.check(vapour_pressure.pa()).map(|p| Temperature::from_k(saturation_temperature(p)))
}

/// Heat of evaporation of water, J/kg: 2 501 000 − 2 360·t, t in °C.
///
/// Source: linear form, common practice (from memory). Valid: 0 to 60 °C, within 0.2 % of steam tables.
///
/// # Errors
/// [`OutOfDomain`] outside −50 to 200 °C (below freezing the water is supercooled).
pub fn evaporation_heat_j_kg(temperature: Temperature) -> Result<f64, OutOfDomain> {
    kelvins(&SUPERCOOLED_TEMPERATURE, temperature).map(|t| evaporation_heat_at_c(t - FREEZING_K))
}

/// [`MoistAir::density`] from altitude, temperature and humidity, as a working shows it.
pub const DENSITY: Law = Law::confirmed(
    "rho = (1 + W) / v(t, RH, p(z))  [kg/m3]",
    "ASHRAE Fundamentals 2017, ch. 1",
    "Hyland-Wexler saturation, standard atmosphere eq. 3",
);

/// The state of moist air: temperature, total pressure and the vapour it holds.
///
/// Air temperature −100 to 100 °C, absolute pressure 20 to 200 kPa, from no vapour to saturation. Properties
/// are compared with psychrolib 2.5.0 and CoolProp 8.0.0 between −40 and 60 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistAir {
    temperature_k: f64,
    pressure_pa: f64,
    humidity_ratio: f64,
}

impl MoistAir {
    /// From dry-bulb temperature, relative humidity (over ice below 0.01 °C) and absolute pressure.
    ///
    /// # Errors
    /// [`OutOfDomain`] naming the input outside the range of [`MoistAir`], or a vapour pressure at or above
    /// the total pressure (the water would boil).
    pub fn from_relative_humidity(
        temperature: Temperature,
        humidity: Humidity,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        let t = kelvins(&AIR_TEMPERATURE, temperature)?;
        let p = AIR_PRESSURE.check(pressure.pa())?;
        let phi = RELATIVE_HUMIDITY.check(humidity.ratio())?;
        Self::from_vapour(t, phi * saturation_pa(t), p)
    }

    /// From dry-bulb temperature, humidity ratio (kg vapour per kg dry air) and absolute pressure.
    ///
    /// # Errors
    /// [`OutOfDomain`] naming the input outside the range of [`MoistAir`]; a humidity ratio above saturation
    /// is fog and must be condensed first (the error carries the ratio at saturation).
    pub fn from_humidity_ratio(
        temperature: Temperature,
        humidity_ratio: f64,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        let t = kelvins(&AIR_TEMPERATURE, temperature)?;
        let p = AIR_PRESSURE.check(pressure.pa())?;
        let saturated = saturation_pa(t);
        let most = if saturated < p { ratio_from_vapour(saturated, p) } else { f64::MAX };
        let range = Domain {
            quantity: "humidity ratio",
            unit: "kg/kg dry air",
            low: 0.0,
            // A state that was computed as saturated may lie a rounding above it.
            high: most * (1.0 + 1e-9),
            reason: "more vapour than saturation is fog: let the excess condense first",
        };
        let humidity_ratio = range.check(humidity_ratio)?.min(most);
        Ok(Self { temperature_k: t, pressure_pa: p, humidity_ratio })
    }

    /// From dry-bulb and thermodynamic wet-bulb temperature and absolute pressure; a wick below 0 °C is
    /// frozen.
    ///
    /// W = \[(2501 − 2.326·t*)·Ws* − 1.006·(t − t*)] / (2501 + 1.86·t − 4.186·t*), t* ≥ 0 °C;
    /// W = \[(2830 − 0.24·t*)·Ws* − 1.006·(t − t*)] / (2830 + 1.86·t − 2.1·t*), t* < 0 °C.
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 1, eqs. 33 and 35.
    ///
    /// # Errors
    /// [`OutOfDomain`] for an input outside the range of [`MoistAir`], a wet bulb above the dry bulb, or one
    /// so low that the air would hold less than no vapour.
    pub fn from_wet_bulb(
        temperature: Temperature,
        wet_bulb: Temperature,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        let t = kelvins(&AIR_TEMPERATURE, temperature)?;
        let p = AIR_PRESSURE.check(pressure.pa())?;
        let lowest = self::wet_bulb(t, 0.0, p);
        let range = Domain {
            quantity: "wet-bulb temperature",
            unit: "°C",
            low: lowest - FREEZING_K - 1e-9,
            high: t - FREEZING_K + 1e-9,
            reason: "the wet bulb lies between that of dry air and the dry bulb",
        };
        let wet = kelvins(&range, wet_bulb)?.min(t);
        let ratio = ratio_from_wet_bulb(t, wet, p);
        Self::from_humidity_ratio(temperature, ratio.max(0.0), pressure)
    }

    /// From dry-bulb temperature, dew point (frost point below 0.01 °C) and absolute pressure.
    ///
    /// # Errors
    /// [`OutOfDomain`] for an input outside the range of [`MoistAir`] or a dew point above the dry bulb.
    pub fn from_dew_point(
        temperature: Temperature,
        dew_point: Temperature,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        let t = kelvins(&AIR_TEMPERATURE, temperature)?;
        let p = AIR_PRESSURE.check(pressure.pa())?;
        let range = Domain {
            quantity: "dew point",
            unit: "°C",
            low: SATURATION_TEMPERATURE.low,
            high: t - FREEZING_K + 1e-9,
            reason: "the dew point lies between -100 °C and the dry bulb",
        };
        let dew = kelvins(&range, dew_point)?.min(t);
        Self::from_vapour(t, saturation_pa(dew), p)
    }

    /// From what a weather station or a humidity sensor reports: relative humidity over *liquid water* at
    /// all temperatures (WMO Guide No. 8). Below freezing such a reading can exceed saturation over ice; the
    /// excess is taken to have frozen out already, so that the state is at most saturated.
    ///
    /// # Errors
    /// [`OutOfDomain`] as [`Self::from_relative_humidity`]; also below −50 °C.
    pub fn from_humidity_over_water(
        temperature: Temperature,
        humidity: Humidity,
        pressure: Pressure,
    ) -> Result<Self, OutOfDomain> {
        kelvins(&SUPERCOOLED_TEMPERATURE, temperature)?;
        let t = kelvins(&AIR_TEMPERATURE, temperature)?;
        let p = AIR_PRESSURE.check(pressure.pa())?;
        let phi = RELATIVE_HUMIDITY.check(humidity.ratio())?;
        Self::from_vapour(t, (phi * libm::exp(ln_water(t))).min(saturation_pa(t)), p)
    }

    fn from_vapour(t: f64, vapour: f64, p: f64) -> Result<Self, OutOfDomain> {
        let range = Domain {
            quantity: "vapour pressure",
            unit: "Pa",
            low: 0.0,
            high: 0.99 * p,
            reason: "the water would boil at this pressure",
        };
        let humidity_ratio = ratio_from_vapour(range.check(vapour)?, p);
        Ok(Self { temperature_k: t, pressure_pa: p, humidity_ratio })
    }

    /// Dry-bulb temperature.
    pub fn temperature(&self) -> Temperature {
        Temperature::from_k(self.temperature_k)
    }

    /// Absolute (total) pressure.
    pub fn pressure(&self) -> Pressure {
        Pressure::from_pa(self.pressure_pa)
    }

    /// kg vapour per kg dry air: W = 0.621945·p_w/(p − p_w).
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 20.
    pub fn humidity_ratio(&self) -> f64 {
        self.humidity_ratio
    }

    /// Partial pressure of the vapour.
    pub fn vapour_pressure(&self) -> Pressure {
        Pressure::from_pa(vapour_from_ratio(self.humidity_ratio, self.pressure_pa))
    }

    /// Vapour pressure over saturation pressure (over ice below 0.01 °C).
    pub fn relative_humidity(&self) -> Humidity {
        let phi = self.vapour_pressure().pa() / saturation_pa(self.temperature_k);
        Humidity::from_ratio(phi.min(1.0))
    }

    /// Dew point, or frost point below 0.01 °C.
    ///
    /// # Errors
    /// [`OutOfDomain`] for air so dry that it has none above −100 °C.
    pub fn dew_point(&self) -> Result<Temperature, OutOfDomain> {
        dew_point(self.vapour_pressure())
    }

    /// Thermodynamic wet-bulb temperature (equations at [`Self::from_wet_bulb`]), 1e-8 K.
    ///
    /// Near 0 °C a liquid and a frozen wick can both be in balance with the same air; the liquid one is
    /// given then.
    pub fn wet_bulb(&self) -> Temperature {
        Temperature::from_k(wet_bulb(self.temperature_k, self.humidity_ratio, self.pressure_pa))
    }

    /// Enthalpy in J per kg dry air, zero for dry air at 0 °C: 1000·\[1.006·t + W·(2501 + 1.86·t)].
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 30.
    pub fn enthalpy_j_kg(&self) -> f64 {
        let t = self.temperature_k - FREEZING_K;
        1000.0 * (1.006 * t + self.humidity_ratio * (2501.0 + 1.86 * t))
    }

    /// Heat capacity in J/(K·kg dry air): 1006 + 1860·W.
    ///
    /// Source: slope of the enthalpy equation with temperature.
    pub fn heat_capacity_j_kg_k(&self) -> f64 {
        heat_capacity_j_kg_k(self.humidity_ratio)
    }

    /// Volume in m³ per kg dry air: 287.042·T·(1 + 1.607858·W)/p.
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 26.
    pub fn specific_volume_m3_kg(&self) -> f64 {
        DRY_AIR_GAS_CONSTANT * self.temperature_k * (1.0 + MOLE_RATIO * self.humidity_ratio)
            / self.pressure_pa
    }

    /// Density of the mixture, (1 + W)/v: what pressure losses depend on.
    pub fn density(&self) -> Density {
        Density::from_kg_m3((1.0 + self.humidity_ratio) / self.specific_volume_m3_kg())
    }

    /// kg dry air per m³ of mixture, 1/v: what balances of vapour and heat are made with.
    pub fn dry_air_density(&self) -> Density {
        Density::from_kg_m3(1.0 / self.specific_volume_m3_kg())
    }

    /// Dynamic viscosity in Pa·s: 1.716e-5·(T/273.15)^1.5·383.55/(T + 110.4).
    ///
    /// Source: Sutherland's law with the usual constants for dry air (from memory).
    /// Departs from the source: moisture, which lowers viscosity, is left out.
    /// Valid: −25 to 45 °C; against CoolProp 8.0.0 within 0.5 % up to W = 0.01 and 1.3 % up to W = 0.03, and 5 % high
    /// at W = 0.09.
    pub fn viscosity_pa_s(&self) -> f64 {
        viscosity_at_k(self.temperature_k)
    }

    /// Thermal conductivity in W/(m·K): 0.02436 + 7.5e-5·t.
    ///
    /// Source: straight line fitted here to CoolProp 8.0.0 moist air (the often printed 0.02414 lies 0.9 %
    /// below it). Valid: −25 to 45 °C, W up to 0.03, within 1 %.
    pub fn conductivity_w_m_k(&self) -> f64 {
        conductivity_at_c(self.temperature_k - FREEZING_K)
    }

    /// Diffusivity of water vapour in air, m²/s: 2.31e-5·(101 325/p)·(T/273.15)^1.81.
    ///
    /// Source: Schirmer 1938 (from memory). Published correlations differ by 8 %.
    /// Valid: −20 to 60 °C.
    pub fn vapour_diffusivity_m2_s(&self) -> f64 {
        2.31e-5 * (101_325.0 / self.pressure_pa) * libm::pow(self.temperature_k / FREEZING_K, 1.81)
    }
}
