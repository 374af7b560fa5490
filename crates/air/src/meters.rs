//! Measuring airflow on site, each way with the uncertainty that must be reported with it.
//!
//! Uncertainties are expanded ones (coverage factor 2, about 95 %), combined in quadrature from standard
//! uncertainties (Guide to the Expression of Uncertainty in Measurement, JCGM 100:2008).
//!
//! ```
//! use dewpath_air::meters::{box_orifice, PressureReading};
//! use dewpath_units::{Density, Length, Pressure};
//!
//! let reading = PressureReading {
//!     pressure: Pressure::from_pa(10.0),
//!     standard_uncertainty: Pressure::from_pa(0.25),
//! };
//! let flow = box_orifice(Length::from_mm(60.0), reading, 0.61, Density::from_kg_m3(1.2))?;
//! assert!((flow.airflow.l_s() - 7.04).abs() < 0.01);
//! assert!((flow.expanded_uncertainty.l_s() - 0.38).abs() < 0.01);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use std::f64::consts::FRAC_PI_4;

use dewpath_units::{
    Airflow, Area, Density, Duration, Humidity, Length, Pressure, Temperature, Velocity, Volume,
};

use crate::domain::{Domain, OutOfDomain, finite, not_negative, positive};
use crate::moist_air::saturation_pressure;

/// A measured airflow with its expanded uncertainty (about 95 %).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredAirflow {
    /// Best estimate.
    pub airflow: Airflow,
    /// Half width of the interval that holds the true value with about 95 % confidence.
    pub expanded_uncertainty: Airflow,
}

impl MeasuredAirflow {
    /// From an airflow and its relative standard uncertainty.
    fn from_relative(airflow: Airflow, standard: f64) -> Self {
        Self { airflow, expanded_uncertainty: airflow * (COVERAGE * standard) }
    }
}

/// Coverage factor of the expanded uncertainties here.
pub const COVERAGE: f64 = 2.0;

/// Square root of the sum of squares: how independent uncertainties combine.
///
/// Source: JCGM 100:2008, clause 5.1.2.
pub fn in_quadrature(parts: &[f64]) -> f64 {
    parts.iter().map(|u| u * u).sum::<f64>().sqrt()
}

/// A pressure difference as read, with the standard uncertainty of the manometer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressureReading {
    /// The reading.
    pub pressure: Pressure,
    /// One standard uncertainty. A manometer that is good to ±0.5 Pa (95 %) has 0.25 Pa.
    pub standard_uncertainty: Pressure,
}

impl PressureReading {
    /// Pressure in Pa above zero and relative standard uncertainty of its square root.
    fn root_uncertainty(&self) -> Result<(f64, f64), OutOfDomain> {
        let p = positive("pressure reading", "Pa", "no pressure difference, no flow to read")
            .check(self.pressure.pa())?;
        let u = not_negative("uncertainty of the pressure", "Pa", "an uncertainty has a size")
            .check(self.standard_uncertainty.pa())?;
        Ok((p, 0.5 * u / p))
    }
}

/// Kind of flow hood held over a grille.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hood {
    /// With a fan of its own that brings the pressure in the hood back to that of the room.
    Powered,
    /// Without a fan.
    Passive,
}

impl Hood {
    /// Relative error met in the field, least and greatest among the meters tested.
    ///
    /// Source: Stratton, Walker & Wray 2012, Lawrence Berkeley National Laboratory: about 6 % for powered, 11 to
    /// 25 % for passive hoods. Taken here as standard uncertainty (the abstract does not say which).
    pub fn field_error(self) -> [f64; 2] {
        match self {
            Self::Powered => [0.06, 0.06],
            Self::Passive => [0.11, 0.25],
        }
    }

    /// Relative standard uncertainty of a reading: the greater [`Self::field_error`].
    pub fn relative_uncertainty(self) -> f64 {
        self.field_error()[1]
    }

    /// A reading of this hood with its uncertainty.
    ///
    /// A passive hood also holds the fan back; see [`back_pressure_shift`].
    ///
    /// # Errors
    /// [`OutOfDomain`] for a reading below zero.
    pub fn measured(self, reading: Airflow) -> Result<MeasuredAirflow, OutOfDomain> {
        FLOW.check(reading.m3_s())?;
        Ok(MeasuredAirflow::from_relative(reading, self.relative_uncertainty()))
    }
}

const FLOW: Domain = not_negative("airflow", "m³/s", "give its size");
const DENSITY: Domain = positive("density", "kg/m³", "air weighs something");

/// Flow that a hood takes from a fan by its own resistance, to first order: Δp_hood over the difference of the
/// two slopes dp/dQ (system rising, fan falling) at the operating point. Add it to the reading.
///
/// Source: linearised operating point. Valid: shifts of a few percent; with the fan curve at hand solve for the
/// operating point instead.
///
/// # Errors
/// [`OutOfDomain`] for a hood pressure below zero or a system slope that is not above the fan slope (an
/// unstable point).
pub fn back_pressure_shift(
    hood_pressure: Pressure,
    system_slope_pa_s_m3: f64,
    fan_slope_pa_s_m3: f64,
) -> Result<Airflow, OutOfDomain> {
    let p = not_negative("pressure across the hood", "Pa", "give its size")
        .check(hood_pressure.pa())?;
    let slope =
        positive("system slope less fan slope", "Pa·s/m³", "the operating point is not stable")
            .check(system_slope_pa_s_m3 - fan_slope_pa_s_m3)?;
    Ok(Airflow::from_m3_s(p / slope))
}

/// Discharge coefficient of a thin sharp-edged plate in a wide box wall, and its standard uncertainty.
///
/// Source: 0.60 to 0.62 above a Reynolds number of 1e4 (sharp-edged orifice, general fluid mechanics).
pub const BOX_DISCHARGE: (f64, f64) = (0.61, 0.01);

/// Airflow through a round hole in a thin plate of a box held over the grille: Cd·π/4·d²·√(2Δp/ρ).
///
/// The uncertainty combines the reading, the discharge coefficient (± 0.01), the diameter (± 0.5 mm) and the
/// density (1 %), each as a standard uncertainty.
///
/// Source: free-inlet orifice. Valid: Reynolds number of the hole above 1e4, box at least three hole diameters
/// wide (common practice). At 2 to 8 Pa the manometer rules the uncertainty.
///
/// # Errors
/// [`OutOfDomain`] for a diameter, pressure or density not above zero or a discharge coefficient outside 0.3
/// to 1.
pub fn box_orifice(
    diameter: Length,
    reading: PressureReading,
    discharge: f64,
    density: Density,
) -> Result<MeasuredAirflow, OutOfDomain> {
    let d = positive("hole diameter", "m", "a hole has a size").check(diameter.m())?;
    let cd = DISCHARGE.check(discharge)?;
    let rho = DENSITY.check(density.kg_m3())?;
    let (p, by_reading) = reading.root_uncertainty()?;
    let airflow = Airflow::from_m3_s(cd * FRAC_PI_4 * d * d * (2.0 * p / rho).sqrt());
    let parts = [by_reading, BOX_DISCHARGE.1 / cd, 2.0 * 0.0005 / d, 0.5 * 0.01];
    Ok(MeasuredAirflow::from_relative(airflow, in_quadrature(&parts)))
}

const DISCHARGE: Domain = Domain {
    quantity: "discharge coefficient",
    unit: "(of 1)",
    low: 0.3,
    high: 1.0,
    reason: "a sharp plate has 0.6, a rounded hole at most 1",
};

/// The same in the form used in the field in North America: Q = 1.07·A·√Δp, cfm from square inches and pascals.
///
/// Source: common practice, no source; it stands for Cd = 0.606 at 1.2 kg/m³.
///
/// # Errors
/// [`OutOfDomain`] for an area below zero or a pressure below zero.
pub fn box_orifice_rule(opening: Area, pressure: Pressure) -> Result<Airflow, OutOfDomain> {
    let area = not_negative("opening", "m²", "a hole has a size").check(opening.m2())?;
    let p = not_negative("pressure reading", "Pa", "give its size").check(pressure.pa())?;
    Ok(Airflow::from_cfm(1.07 * Area::from_m2(area).in2() * p.sqrt()))
}

/// Airflow of a meter that reads by pressure and was calibrated at another density: reading·√(ρ_cal/ρ).
///
/// Source: orifice equation. Valid: orifice boxes, Pitot tubes, venturis; not for vanes or thermal probes.
///
/// # Errors
/// [`OutOfDomain`] for a density not above zero.
pub fn at_real_density(
    reading: Airflow,
    calibration: Density,
    real: Density,
) -> Result<Airflow, OutOfDomain> {
    let ratio = DENSITY.check(calibration.kg_m3())? / DENSITY.check(real.kg_m3())?;
    Ok(reading * ratio.sqrt())
}

/// Air speed from a Pitot-static tube: √(2Δp/ρ), with its expanded uncertainty.
///
/// Source: Bernoulli's equation; ISO 3966. Valid: above about 3 m/s; below, the pressure (2.4 Pa at 2 m/s)
/// drowns in the uncertainty of the manometer, and the uncertainty returned says so.
///
/// # Errors
/// [`OutOfDomain`] for a pressure or density not above zero.
pub fn pitot_speed(
    reading: PressureReading,
    density: Density,
) -> Result<(Velocity, Velocity), OutOfDomain> {
    let rho = DENSITY.check(density.kg_m3())?;
    let (p, by_reading) = reading.root_uncertainty()?;
    let speed = Velocity::from_m_s((2.0 * p / rho).sqrt());
    // 1 % for the tube and its alignment (ISO 3966, order of size, from memory), 1 % for the density.
    let relative = in_quadrature(&[by_reading, 0.01, 0.5 * 0.01]);
    Ok((speed, speed * (COVERAGE * relative)))
}

/// Rule that places the points of a traverse across a duct.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TraverseRule {
    /// Round duct, log-linear, points per diameter: 6, 8 or 10.
    LogLinear,
    /// Round duct, log-Tchebycheff, points per diameter: 6 or 8.
    LogTchebycheff,
    /// Rectangular duct, log-Tchebycheff, points per side: 5, 6 or 7.
    Rectangular,
}

/// Distances of the traverse points from the wall as shares of the diameter (or side). All points weigh the
/// same: the mean of the speeds is the mean speed.
///
/// Source: ISO 5802:2001, tables 2 and 3; ISO 3966 (10 points, rectangular).
/// Valid: 7.5 diameters of straight duct before and 3 after the points. On a 1/7-power profile the six-point
/// rules read 0.3 to 0.4 % low.
///
/// # Errors
/// [`OutOfDomain`] for a number of points that is not tabulated.
///
/// # Examples
/// ```
/// use dewpath_air::meters::{traverse_positions, TraverseRule};
/// let points = traverse_positions(TraverseRule::LogLinear, 6)?;
/// assert_eq!(points[0], 0.032);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn traverse_positions(
    rule: TraverseRule,
    points: usize,
) -> Result<&'static [f64], OutOfDomain> {
    let (tables, reason): (&[&'static [f64]], _) = match rule {
        TraverseRule::LogLinear => (&LOG_LINEAR, "log-linear points are tabulated for 6, 8 and 10"),
        TraverseRule::LogTchebycheff => {
            (&LOG_TCHEBYCHEFF, "log-Tchebycheff points of round ducts are tabulated for 6 and 8")
        }
        TraverseRule::Rectangular => {
            (&RECTANGULAR, "points of rectangular ducts are tabulated for 5, 6 and 7 a side")
        }
    };
    tables.iter().find(|table| table.len() == points).copied().ok_or(OutOfDomain {
        quantity: "number of traverse points",
        value: points as f64,
        unit: "points",
        low: tables.first().map_or(0.0, |table| table.len() as f64),
        high: tables.last().map_or(0.0, |table| table.len() as f64),
        reason,
    })
}

const LOG_LINEAR: [&[f64]; 3] = [
    &[0.032, 0.135, 0.321, 0.679, 0.865, 0.968],
    &[0.021, 0.117, 0.184, 0.345, 0.655, 0.816, 0.883, 0.979],
    &[0.019, 0.077, 0.153, 0.217, 0.361, 0.639, 0.783, 0.847, 0.923, 0.981],
];

const LOG_TCHEBYCHEFF: [&[f64]; 2] = [
    &[0.032, 0.137, 0.312, 0.688, 0.863, 0.968],
    &[0.024, 0.100, 0.194, 0.334, 0.666, 0.806, 0.900, 0.976],
];

const RECTANGULAR: [&[f64]; 3] = [
    &[0.074, 0.288, 0.500, 0.712, 0.926],
    &[0.061, 0.235, 0.437, 0.563, 0.765, 0.939],
    &[0.053, 0.203, 0.366, 0.500, 0.634, 0.797, 0.947],
];

/// Relative scatter (sample standard deviation over mean) of the speeds that a 1/6-power profile has at the six
/// log-linear points: a settled flow scatters this much, only what goes beyond it is disturbance.
const SETTLED_SCATTER: f64 = 0.17;

/// Airflow from the speeds at the points of a traverse.
///
/// The uncertainty combines that of the probe (relative standard, as its data sheet gives it; it shifts all
/// points alike), the scatter between the points beyond that of a settled profile over the root of their number,
/// 1 % for the area and 0.5 % for the rule. In a skewed flow the scatter rules.
///
/// Source: ISO 3966 (order of size of the parts, from memory).
///
/// # Errors
/// [`OutOfDomain`] for fewer than four points, a speed not finite, a mean that is not above zero, or an area not
/// above zero.
pub fn traverse_airflow(
    speeds: &[Velocity],
    area: Area,
    probe_uncertainty: f64,
) -> Result<MeasuredAirflow, OutOfDomain> {
    let count = speeds.len() as f64;
    Domain {
        quantity: "number of traverse points",
        unit: "points",
        low: 4.0,
        high: f64::MAX,
        reason: "fewer points say nothing of the profile",
    }
    .check(count)?;
    let probe = not_negative("uncertainty of the probe", "(of 1)", "an uncertainty has a size")
        .check(probe_uncertainty)?;
    let a = positive("duct area", "m²", "a duct has a size").check(area.m2())?;
    let mut sum = 0.0;
    for speed in speeds {
        sum += finite("air speed", "m/s").check(speed.m_s())?;
    }
    let mean = positive("mean air speed", "m/s", "the air does not flow past the probe")
        .check(sum / count)?;
    let squares: f64 = speeds.iter().map(|v| (v.m_s() - mean) * (v.m_s() - mean)).sum();
    let scatter = (squares / (count - 1.0)).sqrt() / mean;
    let beyond = (scatter * scatter - SETTLED_SCATTER * SETTLED_SCATTER).max(0.0).sqrt();
    let disturbed = beyond / count.sqrt();
    let parts = [probe, disturbed, 0.01, 0.005];
    Ok(MeasuredAirflow::from_relative(Airflow::from_m3_s(mean * a), in_quadrature(&parts)))
}

/// Relative standard uncertainty of an orifice box or a traverse of which only the flow was written down. Common practice, no source;
/// [`box_orifice`] and [`traverse_airflow`] work it out from what was read.
pub const BOX_OR_TRAVERSE: f64 = 0.08;

/// Relative standard uncertainty of a probe swept over a grille: the factor between such a reading and the true flow is unknown by
/// 20 to 30 % (common practice, no source), and 30 % is taken as the expanded uncertainty.
pub const GRILLE_SWEEP: f64 = 0.15;

/// Relative standard uncertainty of a bag: 20 % expanded. Common practice, no source.
pub const BAG: f64 = 0.10;

/// Airflow from a probe swept over the face of a grille: mean speed · free area, with [`GRILLE_SWEEP`].
///
/// # Errors
/// [`OutOfDomain`] for a speed below zero or an area not above zero.
pub fn grille_sweep(mean_speed: Velocity, free_area: Area) -> Result<MeasuredAirflow, OutOfDomain> {
    not_negative("air speed", "m/s", "give its size").check(mean_speed.m_s())?;
    positive("free area", "m²", "a grille lets air through").check(free_area.m2())?;
    Ok(MeasuredAirflow::from_relative(mean_speed * free_area, GRILLE_SWEEP))
}

/// Airflow from the time a bag of known volume takes to fill or to empty, with the uncertainty of [`BAG`].
///
/// # Errors
/// [`OutOfDomain`] for a volume or a time not above zero.
pub fn bag(volume: Volume, time: Duration) -> Result<MeasuredAirflow, OutOfDomain> {
    let v = positive("bag volume", "m³", "a bag has a size").check(volume.m3())?;
    let t = positive("filling time", "s", "give the time until the bag is full").check(time.s())?;
    Ok(MeasuredAirflow::from_relative(Airflow::from_m3_s(v / t), BAG))
}

/// A round, sharp-edged orifice plate inside a duct, with corner taps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DuctOrifice {
    duct_m: f64,
    hole_m: f64,
}

impl DuctOrifice {
    /// From the inner diameter of the duct and the diameter of the hole.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a duct below 50 mm or above 1 m, or a hole outside 0.1 to 0.75 of it
    /// (limits of ISO 5167-2).
    pub fn new(duct: Length, hole: Length) -> Result<Self, OutOfDomain> {
        let duct_m = Domain {
            quantity: "duct diameter",
            unit: "m",
            low: 0.05,
            high: 1.0,
            reason: "ISO 5167-2 covers 50 to 1000 mm",
        }
        .check(duct.m())?;
        let hole_m = Domain {
            quantity: "hole diameter",
            unit: "m",
            low: 0.1 * duct_m,
            high: 0.75 * duct_m,
            reason: "ISO 5167-2 covers holes of 0.1 to 0.75 of the duct",
        }
        .check(hole.m())?;
        Ok(Self { duct_m, hole_m })
    }

    /// Hole over duct diameter, β.
    pub fn diameter_ratio(&self) -> f64 {
        self.hole_m / self.duct_m
    }

    /// Discharge coefficient at a Reynolds number of the duct (Reader-Harris/Gallagher, corner taps).
    ///
    /// C = 0.5961 + 0.0261β² − 0.216β⁸ + 0.000521(10⁶β/Re)^0.7 + (0.0188 + 0.0063A)β^3.5(10⁶/Re)^0.3
    /// \[+ 0.011(0.75 − β)(2.8 − D/25.4 mm) if D < 71.12 mm], A = (19 000β/Re)^0.8.
    ///
    /// Source: ISO 5167-2:2003, 5.3.2.1, whose tap terms vanish with corner taps.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a Reynolds number outside 1e3 to 1e8.
    pub fn discharge(&self, reynolds: f64) -> Result<f64, OutOfDomain> {
        PLATE_REYNOLDS.check(reynolds).map(|re| self.reader_harris_gallagher(re))
    }

    fn reader_harris_gallagher(&self, re: f64) -> f64 {
        let beta = self.diameter_ratio();
        let beta2 = beta * beta;
        let beta8 = beta2 * beta2 * beta2 * beta2;
        let a = libm::pow(19_000.0 * beta / re, 0.8);
        let small = if self.duct_m < 0.07112 {
            0.011 * (0.75 - beta) * (2.8 - self.duct_m / 0.0254)
        } else {
            0.0
        };
        0.5961 + 0.0261 * beta2 - 0.216 * beta8
            + 0.000521 * libm::pow(1e6 * beta / re, 0.7)
            + (0.0188 + 0.0063 * a) * libm::pow(beta, 3.5) * libm::pow(1e6 / re, 0.3)
            + small
    }

    /// Airflow (at the density before the plate) from the pressure across it, absolute pressure before it,
    /// density and viscosity (Pa·s).
    ///
    /// Q = C/√(1 − β⁴)·ε·π/4·d²·√(2Δp/ρ), ε = 1 − (0.351 + 0.256β⁴ + 0.93β⁸)(1 − (p2/p1)^(1/κ)), κ = 1.4; C and the
    /// Reynolds number are found together.
    ///
    /// The uncertainty combines the reading, the coefficient and the density (1 %). The coefficient counts with
    /// 0.5 % (standard) inside the limits of the standard, and with 2.5 % (judgement) below a Reynolds number of
    /// 5000 (β ≤ 0.56) or 16 000β², where the standard claims nothing.
    ///
    /// Source: ISO 5167-2:2003, 5.3.2. Valid: smooth straight duct as that standard asks for.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a pressure, density or viscosity not above zero, or a pressure difference above a
    /// quarter of the absolute pressure or a Reynolds number below 1e3 (outside the equation).
    pub fn airflow(
        &self,
        reading: PressureReading,
        upstream: Pressure,
        density: Density,
        viscosity_pa_s: f64,
    ) -> Result<MeasuredAirflow, OutOfDomain> {
        let (dp, by_reading) = reading.root_uncertainty()?;
        let p1 = positive("absolute pressure", "Pa", "an absolute pressure is needed")
            .check(upstream.pa())?;
        Domain {
            quantity: "pressure reading",
            unit: "Pa",
            low: 0.0,
            high: 0.25 * p1,
            reason: "ISO 5167-2 allows at most a quarter of the absolute pressure",
        }
        .check(dp)?;
        let rho = DENSITY.check(density.kg_m3())?;
        let mu = positive("viscosity", "Pa·s", "about 1.8e-5 for air").check(viscosity_pa_s)?;
        let beta = self.diameter_ratio();
        let beta4 = beta * beta * beta * beta;
        let epsilon = 1.0
            - (0.351 + 0.256 * beta4 + 0.93 * beta4 * beta4)
                * (1.0 - libm::pow((p1 - dp) / p1, 1.0 / 1.4));
        let ideal = epsilon / (1.0 - beta4).sqrt()
            * FRAC_PI_4
            * self.hole_m
            * self.hole_m
            * (2.0 * dp / rho).sqrt();
        let reynolds = |q: f64| rho * q / (FRAC_PI_4 * self.duct_m * mu);
        // Above the least Reynolds number C changes so slowly with flow that substitution gains a digit a step.
        let mut q = 0.61 * ideal;
        let mut settled = false;
        for _ in 0..60 {
            let next = self.reader_harris_gallagher(reynolds(q)) * ideal;
            settled = (next - q).abs() <= 1e-14 * q;
            q = next;
            if settled {
                break;
            }
        }
        // Where substitution does not settle the Reynolds number is far below the range.
        PLATE_REYNOLDS.check(if settled { reynolds(q) } else { 0.0 })?;
        let least = if beta <= 0.56 { 5000.0 } else { 16_000.0 * beta * beta };
        let by_coefficient = if reynolds(q) >= least { 0.005 } else { 0.025 };
        let parts = [by_reading, by_coefficient, 0.5 * 0.01];
        Ok(MeasuredAirflow::from_relative(Airflow::from_m3_s(q), in_quadrature(&parts)))
    }
}

const PLATE_REYNOLDS: Domain = Domain {
    quantity: "Reynolds number of the duct",
    unit: "(of 1)",
    low: 1e3,
    high: 1e8,
    reason: "the equation of the orifice plate says nothing there; use a smaller duct or another meter",
};

/// What a humidity sensor shows that is warmer (or colder) than the air: φ·p_ws(T)/p_ws(T + ΔT).
///
/// The result is over 1 when the sensor is cold enough to be wetted; a real one stops at 1.
///
/// Source: equality of vapour pressure. Rule of instrument manuals: 3 points per kelvin at 50 %, 6 near
/// saturation.
///
/// # Errors
/// [`OutOfDomain`] for temperatures outside −100 to 200 °C.
pub fn humidity_at_sensor(
    humidity: Humidity,
    air: Temperature,
    sensor: Temperature,
) -> Result<f64, OutOfDomain> {
    Ok(humidity.ratio() * (saturation_pressure(air)? / saturation_pressure(sensor)?))
}

/// Reading of a first-order sensor some time after the true value stepped: final + (start − final)·e^(−t/τ).
///
/// Source: first-order response. Plain capacitive humidity sensors have τ of 30 to 60 s in moving air, minutes
/// inside a wall plate.
///
/// # Errors
/// [`OutOfDomain`] for a time below zero or a time constant not above zero.
pub fn lagged_reading(
    start: f64,
    end: f64,
    elapsed: Duration,
    time_constant: Duration,
) -> Result<f64, OutOfDomain> {
    let t = not_negative("time since the step", "s", "the step comes first").check(elapsed.s())?;
    let tau = positive("time constant", "s", "a sensor takes its time").check(time_constant.s())?;
    Ok(end + (start - end) * libm::exp(-t / tau))
}
