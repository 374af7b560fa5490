//! What leaks through the envelope of a dwelling and under a bathroom door, and the pressure an exhaust fan
//! makes with it.
//!
//! Pressures are *inside minus outside*; flows out of the dwelling are positive.
//!
//! ```
//! use dewpath_air::leakage::{Envelope, DEFAULT_EXPONENT};
//! use dewpath_units::{Airflow, Leakage50};
//!
//! let house = Envelope::from_leakage50(Leakage50::from_m3_s(0.5), DEFAULT_EXPONENT)?;
//! let suction = house.pressure(Airflow::from_l_s(-50.0)); // 50 L/s must come in
//! assert!((suction.pa() + 1.447).abs() < 0.001);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_units::{
    AirChange50, Airflow, Area, Density, Leakage50, Length, Pressure, Temperature, Velocity, Volume,
};

use crate::domain::{Domain, OutOfDomain, finite, not_negative, positive};
use crate::law::Law;
use crate::wind::GRAVITY_M_S2;

/// Usual flow exponent of an envelope whose exponent was not measured (0.60 to 0.67 in most houses).
///
/// Source: ASHRAE Fundamentals 2017, ch. 16 (from memory).
pub const DEFAULT_EXPONENT: f64 = 0.65;

/// Discharge coefficient of a sharp-edged gap: 0.6 (0.60 to 0.65 is printed for sharp edges).
///
/// Source: sharp-edged orifice, general fluid mechanics.
pub const SHARP_EDGE: f64 = 0.6;

const EXPONENT: Domain = Domain {
    quantity: "flow exponent",
    unit: "(of 1)",
    low: 0.5,
    high: 1.0,
    reason: "a leak lies between an orifice (0.5) and a fine crack (1)",
};

const SHARE: Domain = Domain {
    quantity: "discharge coefficient",
    unit: "(of 1)",
    low: 0.05,
    high: 1.0,
    reason: "an opening passes at most the ideal flow",
};

/// [`Envelope`] with the exponent that is taken where none is measured, as a working shows it.
pub const POWER_LAW: Law = Law::confirmed(
    "dp = (q / C)^(1/0.65), C = q50 / 50^0.65, q50 = n50 V",
    "ISO 9972",
    "power law; exponent 0.65 where it is not measured",
);

/// Leakage of an envelope: Q = C·Δp^n, with C in m³/(s·Paⁿ).
///
/// Source: ASHRAE Fundamentals 2017, ch. 16; ISO 9972.
/// Valid: measured between 10 and 60 Pa; carried down to a few pascals it is good to 10–20 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Envelope {
    coefficient: f64,
    exponent: f64,
}

impl Envelope {
    /// From C in m³/(s·Paⁿ) and n.
    ///
    /// # Errors
    /// [`OutOfDomain`] for C not above zero or n outside 0.5 to 1.
    pub fn new(coefficient: f64, exponent: f64) -> Result<Self, OutOfDomain> {
        let coefficient = positive(
            "leakage coefficient",
            "m³/(s·Paⁿ)",
            "an envelope that does not leak has no power law",
        )
        .check(coefficient)?;
        Ok(Self { coefficient, exponent: EXPONENT.check(exponent)? })
    }

    /// From the flow at 50 Pa: C = Q50/50ⁿ.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn from_leakage50(leakage: Leakage50, exponent: f64) -> Result<Self, OutOfDomain> {
        Self::new(leakage.m3_s() / libm::pow(50.0, exponent), exponent)
    }

    /// From the air changes per hour at 50 Pa of a volume.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn from_air_change50(
        rate: AirChange50,
        volume: Volume,
        exponent: f64,
    ) -> Result<Self, OutOfDomain> {
        Self::from_leakage50(rate.leakage(volume), exponent)
    }

    /// From the effective leakage area at 4 Pa with a discharge coefficient of 1.
    ///
    /// # Errors
    /// As [`Self::new`]; also for a density not above zero.
    pub fn from_effective_leakage_area(
        area: Area,
        exponent: f64,
        density: Density,
    ) -> Result<Self, OutOfDomain> {
        Self::new(area.m2() / area_per_coefficient(4.0, 1.0, exponent, density)?, exponent)
    }

    /// From the equivalent leakage area at 10 Pa with a discharge coefficient of 0.611.
    ///
    /// # Errors
    /// As [`Self::new`]; also for a density not above zero.
    pub fn from_equivalent_leakage_area(
        area: Area,
        exponent: f64,
        density: Density,
    ) -> Result<Self, OutOfDomain> {
        Self::new(area.m2() / area_per_coefficient(10.0, 0.611, exponent, density)?, exponent)
    }

    /// Least-squares line through ln Q over ln Δp of a fan-pressurisation test.
    ///
    /// Source: the unweighted fit of ISO 9972 / ASTM E779. Pairs of pressure and flow, all above zero.
    ///
    /// # Errors
    /// [`OutOfDomain`] for fewer than two pairs, a pressure or flow not above zero, pressures all alike, or a
    /// fitted exponent outside 0.5 to 1 (a window was open, or the readings are mixed up).
    pub fn fit(readings: &[(Pressure, Airflow)]) -> Result<Self, OutOfDomain> {
        let count = readings.len() as f64;
        Domain {
            quantity: "number of test readings",
            unit: "pairs",
            low: 2.0,
            high: f64::MAX,
            reason: "a line needs two points; five or more are usual",
        }
        .check(count)?;
        let mut logs = Vec::with_capacity(readings.len());
        for (pressure, flow) in readings {
            let p = positive("test pressure", "Pa", "give the size of the pressure difference")
                .check(pressure.pa())?;
            let q =
                positive("test flow", "m³/s", "give the size of the flow").check(flow.m3_s())?;
            logs.push((libm::log(p), libm::log(q)));
        }
        let mean_x = logs.iter().map(|(x, _)| x).sum::<f64>() / count;
        let mean_y = logs.iter().map(|(_, y)| y).sum::<f64>() / count;
        let spread: f64 = logs.iter().map(|(x, _)| (x - mean_x) * (x - mean_x)).sum();
        positive("spread of the test pressures", "(ln Pa)²", "the pressures are all alike")
            .check(if spread > 1e-12 { spread } else { 0.0 })?;
        let slope = logs.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum::<f64>() / spread;
        Self::new(libm::exp(mean_y - slope * mean_x), slope)
    }

    /// C in m³/(s·Paⁿ).
    pub fn coefficient(&self) -> f64 {
        self.coefficient
    }

    /// n.
    pub fn exponent(&self) -> f64 {
        self.exponent
    }

    /// Flow out of the dwelling at a pressure inside above outside; negative is flow in.
    pub fn flow(&self, pressure: Pressure) -> Airflow {
        let p = pressure.pa();
        let size = self.coefficient * libm::pow(p.abs(), self.exponent);
        Airflow::from_m3_s(if p < 0.0 { -size } else { size })
    }

    /// Pressure inside above outside that drives a flow out: (Q/C)^(1/n); negative for flow in.
    ///
    /// With an exhaust fan alone (no wind, no stack) all of its flow must come in, so give the flow negative.
    /// Where stack or wind act too, use [`balance`]: pressures must not be added.
    pub fn pressure(&self, flow: Airflow) -> Pressure {
        let q = flow.m3_s();
        let size = libm::pow(q.abs() / self.coefficient, 1.0 / self.exponent);
        Pressure::from_pa(if q < 0.0 { -size } else { size })
    }

    /// Flow at 50 Pa.
    pub fn leakage50(&self) -> Leakage50 {
        Leakage50::from_m3_s(self.flow(Pressure::from_pa(50.0)).m3_s())
    }

    /// Air changes per hour at 50 Pa of a dwelling of this volume.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a volume not above zero.
    pub fn air_change50(&self, volume: Volume) -> Result<AirChange50, OutOfDomain> {
        positive("volume of the dwelling", "m³", "air changes are counted per volume")
            .check(volume.m3())?;
        Ok(self.leakage50().air_change(volume))
    }

    /// Effective leakage area at 4 Pa, discharge coefficient 1: C·4^(n−½)·√(ρ/2).
    ///
    /// Source: ASHRAE Fundamentals 2017, ch. 16 (definition by Lawrence Berkeley Laboratory).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a density not above zero.
    pub fn effective_leakage_area(&self, density: Density) -> Result<Area, OutOfDomain> {
        let per = area_per_coefficient(4.0, 1.0, self.exponent, density)?;
        Ok(Area::from_m2(self.coefficient * per))
    }

    /// Equivalent leakage area at 10 Pa, discharge coefficient 0.611: C·10^(n−½)·√(ρ/2)/0.611.
    ///
    /// Source: CAN/CGSB-149.10 (definition).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a density not above zero.
    pub fn equivalent_leakage_area(&self, density: Density) -> Result<Area, OutOfDomain> {
        let per = area_per_coefficient(10.0, 0.611, self.exponent, density)?;
        Ok(Area::from_m2(self.coefficient * per))
    }

    /// The same envelope with air of another density and viscosity (Pa·s):
    /// C·(μ0/μ)^(2n−1)·(ρ0/ρ)^(1−n).
    ///
    /// Source: ISO 9972, ASTM E779 (from memory).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a density or viscosity not above zero.
    pub fn with_air(&self, from: (Density, f64), to: (Density, f64)) -> Result<Self, OutOfDomain> {
        let density = positive("density", "kg/m³", "air weighs something");
        let viscosity = positive("viscosity", "Pa·s", "about 1.8e-5 for air");
        let thickness = viscosity.check(from.1)? / viscosity.check(to.1)?;
        let weight = density.check(from.0.kg_m3())? / density.check(to.0.kg_m3())?;
        let n = self.exponent;
        Self::new(
            self.coefficient * libm::pow(thickness, 2.0 * n - 1.0) * libm::pow(weight, 1.0 - n),
            n,
        )
    }
}

/// Opening in m² that C = 1 stands for at a reference pressure.
fn area_per_coefficient(
    reference_pa: f64,
    discharge: f64,
    exponent: f64,
    density: Density,
) -> Result<f64, OutOfDomain> {
    let rho = positive("density", "kg/m³", "air weighs something").check(density.kg_m3())?;
    let n = EXPONENT.check(exponent)?;
    Ok(libm::pow(reference_pa, n - 0.5) * (rho / 2.0).sqrt() / discharge)
}

/// A leak at a height, with the wind pressure outside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leak {
    /// How it leaks.
    pub envelope: Envelope,
    /// Height above the floor where the pressure is asked for.
    pub height: Length,
    /// Pressure that wind adds outside this leak, above still air.
    pub wind: Pressure,
}

/// The balance of all leaks in wind and stack, as a working shows it.
pub const BALANCE: Law = Law::confirmed(
    "sum over leaks of C_i sgn(d_i) |d_i|^0.65 = q_out, d_i = C_p,i rho_o U^2/2 - (rho_o - rho_i) g z_i - p",
    "ASHRAE Fundamentals 2017, ch. 16",
    "flow balance, solved by Newton's method (Todini & Pilati 1988)",
);

/// Pressure inside above outside at floor level, where leaks, stack, wind and exhaust are in balance.
///
/// Σ C_i·sgn(Δp_i)·|Δp_i|^n_i + Q_exhaust = 0 with Δp_i = p + (ρ_out − ρ_in)·g·z_i − p_wind,i; air that comes in
/// and goes out is counted in volume. Flows are added, not pressures: with stack acting, a fan lowers the
/// pressure by more than it would alone.
///
/// Source: flow balance of a single zone, ASHRAE Fundamentals 2017, ch. 16. Solved by Newton kept inside a
/// bracket, to 1e-12 Pa.
///
/// # Errors
/// [`OutOfDomain`] for no leaks at all or inputs that are not finite.
pub fn balance(
    leaks: &[Leak],
    inside: Density,
    outside: Density,
    exhaust: Airflow,
) -> Result<Pressure, OutOfDomain> {
    Domain {
        quantity: "number of leaks",
        unit: "leaks",
        low: 1.0,
        high: f64::MAX,
        reason: "without a leak no air can replace what the fan takes",
    }
    .check(leaks.len() as f64)?;
    let weight = (outside.kg_m3() - inside.kg_m3()) * GRAVITY_M_S2;
    let fan = finite("exhaust flow", "m³/s").check(exhaust.m3_s())?;
    let mut offsets = Vec::with_capacity(leaks.len());
    for leak in leaks {
        let offset =
            finite("pressure at a leak", "Pa").check(weight * leak.height.m() - leak.wind.pa())?;
        offsets.push(offset);
    }
    let net = |p: f64| {
        leaks.iter().zip(&offsets).fold((fan, 0.0), |(flow, slope), (leak, offset)| {
            let (q, dq) = signed_power(leak.envelope, p + offset);
            (flow + q, slope + dq)
        })
    };
    // Each leak alone would pass the fan's flow within these pressures.
    let alone = leaks
        .iter()
        .map(|leak| libm::pow(fan.abs() / leak.envelope.coefficient, 1.0 / leak.envelope.exponent))
        .fold(0.0, f64::max);
    let reach = offsets.iter().fold(0.0, |most: f64, x| most.max(x.abs()));
    let limit = finite("pressure in the dwelling", "Pa").check(alone + reach + 1.0)?;
    Ok(Pressure::from_pa(root(net, -limit, limit)))
}

/// Flow and its slope of a leak at a pressure of either sign.
fn signed_power(envelope: Envelope, p: f64) -> (f64, f64) {
    let Envelope { coefficient, exponent } = envelope;
    let size = coefficient * libm::pow(p.abs(), exponent);
    let slope = if p == 0.0 { f64::INFINITY } else { exponent * size / p.abs() };
    (if p < 0.0 { -size } else { size }, slope)
}

/// Root of an increasing function (value and slope) that changes sign in a bracket.
fn root(f: impl Fn(f64) -> (f64, f64), mut low: f64, mut high: f64) -> f64 {
    let mut x = f64::midpoint(low, high);
    for _ in 0..200 {
        let (value, slope) = f(x);
        if value == 0.0 {
            return x;
        }
        if value > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let newton = x - value / slope;
        let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
        let moved = (next - x).abs();
        x = next;
        if moved <= 1e-13 * (1.0 + x.abs()) {
            break;
        }
    }
    x
}

/// Shelter of a house against wind, for [`basic_infiltration`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shelter {
    /// Class 1: no obstacles.
    None,
    /// Class 2: an isolated farmhouse.
    Light,
    /// Class 3: houses across the street.
    Moderate,
    /// Class 4: suburb, neighbours more than a house height away.
    Heavy,
    /// Class 5: neighbours within a house height.
    VeryHeavy,
}

/// Storeys of a house, for [`basic_infiltration`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Storeys {
    /// One storey.
    One,
    /// Two storeys.
    Two,
}

/// Natural infiltration of a house: Q = A_L·√(C_s·ΔT + C_w·U²), Q in L/s, A_L in cm², U in m/s.
///
/// `difference` is the temperature difference (kelvins) between inside and outside; `wind` the speed at the
/// weather station.
///
/// Source: the basic model of ASHRAE Fundamentals 2017, ch. 16 (coefficients from memory). Hourly averages,
/// within a factor of about 1.3 on a given house (from memory). Three-storey houses are not carried.
///
/// # Errors
/// [`OutOfDomain`] for an area, temperature difference or wind speed below zero.
pub fn basic_infiltration(
    leakage_area: Area,
    storeys: Storeys,
    shelter: Shelter,
    difference: Temperature,
    wind: Velocity,
) -> Result<Airflow, OutOfDomain> {
    let (stack, by_shelter) = match storeys {
        Storeys::One => (0.000145, [0.000319, 0.000246, 0.000174, 0.000104, 0.000032]),
        Storeys::Two => (0.000290, [0.000420, 0.000325, 0.000231, 0.000137, 0.000042]),
    };
    let push = match shelter {
        Shelter::None => by_shelter[0],
        Shelter::Light => by_shelter[1],
        Shelter::Moderate => by_shelter[2],
        Shelter::Heavy => by_shelter[3],
        Shelter::VeryHeavy => by_shelter[4],
    };
    let area =
        not_negative("leakage area", "m²", "an opening has a size").check(leakage_area.m2())?;
    let warmth =
        not_negative("temperature difference", "K", "give its size, whichever side is warmer")
            .check(difference.k())?;
    let speed = not_negative("wind speed", "m/s", "give its size").check(wind.m_s())?;
    let per_cm2 = (stack * warmth + push * speed * speed).sqrt();
    Ok(Airflow::from_l_s(area * 1e4 * per_cm2))
}

/// Total air exchange of a house whose natural infiltration meets an unbalanced fan: √(Qn² + Qf²).
///
/// Source: quadrature, ASHRAE Fundamentals 2017, ch. 16; Palmiter & Bond 1991.
pub fn exchange_by_quadrature(natural: Airflow, fan: Airflow) -> Airflow {
    Airflow::from_m3_s(libm::hypot(natural.m3_s(), fan.m3_s()))
}

/// The same by the half-fan rule: max(Qf, Qn + Qf/2).
///
/// Source: Palmiter & Bond 1991.
pub fn exchange_by_half_fan(natural: Airflow, fan: Airflow) -> Airflow {
    fan.greater(natural + fan / 2.0)
}

/// [`infiltration_credit`] under the most that a rule allows, as a working shows it.
pub const CREDIT: Law = Law::memory(
    "q_i = min(c_max q_tot, phi Q_n), phi = Q_n / (Q_n + q_tot)",
    "ASHRAE 62.2-2016; ASHRAE Fundamentals 2017, ch. 16, basic model",
    "at the weather assumed here, not a year's",
);

/// Part of the natural infiltration that counts beside an unbalanced fan: Qn·φ with φ = Qn/(Qn + Qf); zero
/// when both are.
///
/// Source: ASHRAE 62.2-2016 (from memory); Hurel, Sherman & Walker 2016.
pub fn infiltration_credit(natural: Airflow, fan: Airflow) -> Airflow {
    let total = natural + fan;
    if total.m3_s() > 0.0 { natural * (natural / total) } else { Airflow::ZERO }
}

/// [`Gap::pressure`] of a door with its undercut, joints and transfer opening, as a working shows it.
pub const DOOR: Law = Law::confirmed(
    "dp = rho/2 (q / (C_d (w h + A_j + A_t)))^2",
    "sharp-edged opening, ISO 5167 form",
    "",
);

/// [`Gap::flow`], as a working shows it.
pub const ORIFICE: Law =
    Law::confirmed("Q = C A sqrt(2 p / rho)", "sharp-edged orifice, handbook range", "C = 0.6");

/// A gap such as a door undercut, seen as a sharp-edged orifice: Q = Cd·A·√(2Δp/ρ).
///
/// Source: orifice equation. Valid: gaps a few millimetres and more; carpet takes away area and is the
/// caller's matter. The rest of a door's crack (0.002 to 0.004 m²; judgement) lies parallel to the undercut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    area_m2: f64,
    discharge: f64,
}

impl Gap {
    /// From its area and discharge coefficient ([`SHARP_EDGE`] if nothing better is known).
    ///
    /// # Errors
    /// [`OutOfDomain`] for an area below zero or a discharge coefficient outside 0.05 to 1.
    pub fn new(area: Area, discharge: f64) -> Result<Self, OutOfDomain> {
        let area_m2 = not_negative("gap area", "m²", "an opening has a size").check(area.m2())?;
        Ok(Self { area_m2, discharge: SHARE.check(discharge)? })
    }

    /// Free area.
    pub fn area(&self) -> Area {
        Area::from_m2(self.area_m2)
    }

    /// Flow at a pressure difference, with its sign; not finite for a density that is not above zero.
    pub fn flow(&self, pressure: Pressure, density: Density) -> Airflow {
        let p = pressure.pa();
        let size = self.discharge * self.area_m2 * (2.0 * p.abs() / density.kg_m3()).sqrt();
        Airflow::from_m3_s(if p < 0.0 { -size } else { size })
    }

    /// Pressure difference that drives a flow, with its sign: ρ/2·(Q/(Cd·A))².
    ///
    /// # Errors
    /// [`OutOfDomain`] for a gap without area: nothing flows through it.
    pub fn pressure(&self, flow: Airflow, density: Density) -> Result<Pressure, OutOfDomain> {
        let area = positive("gap area", "m²", "a closed gap passes nothing at any pressure")
            .check(self.area_m2)?;
        let speed = flow.m3_s() / (self.discharge * area);
        Ok(Pressure::from_pa(0.5 * density.kg_m3() * speed * speed.abs()))
    }

    /// Mean speed in the gap.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a gap without area.
    pub fn speed(&self, flow: Airflow) -> Result<Velocity, OutOfDomain> {
        let area = positive("gap area", "m²", "a closed gap passes nothing").check(self.area_m2)?;
        Ok(Velocity::from_m_s(flow.m3_s() / area))
    }
}

/// [`undercut_height`] less what the joints of the door pass, as a working shows it.
pub const UNDERCUT: Law = Law::confirmed(
    "h = q / (C_d sqrt(2 dp / rho) w) - A_j / w",
    "sharp-edged opening, ISO 5167 form; transfer air at 2.5 to 3 Pa",
    "building-science practice",
);

/// Height an undercut must have for a flow at a pressure: Q/(Cd·w·√(2Δp/ρ)).
///
/// Source: orifice equation, solved for the height.
///
/// # Errors
/// [`OutOfDomain`] for a width, pressure or density not above zero, a flow below zero, or a discharge
/// coefficient outside 0.05 to 1.
///
/// # Examples
/// ```
/// use dewpath_air::leakage::{undercut_height, SHARP_EDGE};
/// use dewpath_units::{Airflow, Density, Length, Pressure};
/// // 80 cfm through a 30 in door at no more than 3 Pa: about 1-1/2 in.
/// let height = undercut_height(
///     Airflow::from_cfm(80.0),
///     Length::from_inches(30.0),
///     Pressure::from_pa(3.0),
///     SHARP_EDGE,
///     Density::from_kg_m3(1.2),
/// )?;
/// assert!((height.inches() - 1.45).abs() < 0.01);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn undercut_height(
    flow: Airflow,
    door_width: Length,
    pressure: Pressure,
    discharge: f64,
    density: Density,
) -> Result<Length, OutOfDomain> {
    let q = not_negative("airflow", "m³/s", "give its size").check(flow.m3_s())?;
    let width = positive("door width", "m", "a door has a width").check(door_width.m())?;
    let p = positive("pressure across the door", "Pa", "air needs a pressure to flow")
        .check(pressure.pa())?;
    let rho = positive("density", "kg/m³", "air weighs something").check(density.kg_m3())?;
    let cd = SHARE.check(discharge)?;
    Ok(Length::from_m(q / (cd * width * (2.0 * p / rho).sqrt())))
}

/// Where the air comes from that a fan takes out of a closed room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MakeUp {
    /// Pressure of the room below the house and outdoors (both taken at the same pressure).
    pub suction: Pressure,
    /// Through the door gap, from the house.
    pub from_house: Airflow,
    /// Through the room's own leaks, from outdoors.
    pub from_outdoors: Airflow,
}

/// Suction of a room that draws its make-up air through a door gap and its own outside leaks side by side.
///
/// Q = Cd·A·√(2p/ρ) + C·pⁿ, solved for p.
///
/// Source: orifice and power law in parallel. Valid: house and outdoors at the same pressure.
///
/// # Errors
/// [`OutOfDomain`] for a flow below zero, one that no pressure can drive, or a density not above zero.
pub fn make_up(
    exhaust: Airflow,
    door: Gap,
    leaks: Envelope,
    density: Density,
) -> Result<MakeUp, OutOfDomain> {
    let q = not_negative("exhaust flow", "m³/s", "give its size").check(exhaust.m3_s())?;
    positive("density", "kg/m³", "air weighs something").check(density.kg_m3())?;
    let most = finite("suction of the room", "Pa").check(leaks.pressure(exhaust).pa())?;
    let net = |p: f64| {
        let gap = door.flow(Pressure::from_pa(p), density).m3_s();
        let (leak, leak_slope) = signed_power(leaks, p);
        let gap_slope = if p > 0.0 { 0.5 * gap / p } else { f64::INFINITY };
        (gap + leak - q, gap_slope + leak_slope)
    };
    let suction = Pressure::from_pa(root(net, 0.0, most));
    Ok(MakeUp {
        suction,
        from_house: door.flow(suction, density),
        from_outdoors: leaks.flow(suction),
    })
}
