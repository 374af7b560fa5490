//! Heat through the wall of a duct: films inside and outside, insulation around a cylinder, thickness that is needed.
//!
//! A duct loses heat through resistances in a row: the film of moving air inside, the wall and its insulation, the
//! film outside with its radiation. All of them are brought to one area, that of the inner wall, because the label of
//! an insulated duct speaks of a *flat* layer: wrapped around a small duct the same layer holds back less heat.
//!
//! ```
//! use dewpath_moisture::heat::{Insulation, thickness_against_inner_dew};
//! use dewpath_units::{Length, Temperature, ThermalResistance};
//!
//! // A 4 in duct in a wrap labelled R-6 (h·ft²·°F/Btu): flat 1.06 m²·K/W, around the duct a quarter less.
//! let four_inch = Length::from_inches(4.0);
//! let wrap = Insulation::from_label(ThermalResistance::from_r_ip(6.0))?;
//! let around = wrap.on_inner_area(four_inch)?.rsi();
//! assert!((0.78..0.82).contains(&around));
//!
//! // How thick must it be for air of 24 °C with a dew point of 15.8 °C, in an attic at −10 °C?
//! let t = thickness_against_inner_dew(
//!     four_inch,
//!     0.036,
//!     Temperature::from_c(24.0),
//!     Temperature::from_c(15.76294308),
//!     Temperature::from_c(-10.0),
//!     8.0,
//!     9.0,
//! )?;
//! assert!((t.expect("12 mm will do").mm() - 12.09).abs() < 0.01);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use core::f64::consts::PI;

use dewpath_air::domain::{Domain, OutOfDomain, not_negative, positive};
use dewpath_air::friction::friction_factor;
use dewpath_air::law::Law;
use dewpath_air::moist_air::{
    DRY_AIR_GAS_CONSTANT, DRY_AIR_HEAT_J_KG_K, FREEZING_K, MoistAir, conductivity_at_c,
    viscosity_at_k,
};
use dewpath_air::wind::GRAVITY_M_S2;
use dewpath_units::{Length, Pressure, Ratio, Temperature, ThermalResistance, Velocity};

/// Stefan–Boltzmann constant, W/(m²·K⁴) (CODATA 2018).
pub const STEFAN_BOLTZMANN: f64 = 5.670374419e-8;

/// Conductivity that the label of a duct's insulation is turned into a thickness with, W/(m·K): glass fibre at 24 °C
/// (from memory; a blanket lies between 0.033 and 0.040).
pub const LABEL_CONDUCTIVITY_W_M_K: f64 = 0.036;

/// Emissivity of a plain or painted jacket, bare plastic or dusty metal (from memory).
pub const PLAIN_EMISSIVITY: f64 = 0.9;

/// Emissivity of a clean foil jacket: 0.05 to 0.1 (from memory). Dust brings it near [`PLAIN_EMISSIVITY`].
pub const FOIL_EMISSIVITY: f64 = 0.07;

/// Reynolds number up to which the flow inside is taken as laminar.
const LAMINAR: f64 = 2300.0;

/// Reynolds number from which the turbulent equation is used as it stands.
const TURBULENT: f64 = 4000.0;

/// Thickness beyond which insulation is no longer a way out.
const THICKEST_M: f64 = 0.5;

const REYNOLDS: Domain = Domain {
    quantity: "Reynolds number",
    unit: "-",
    low: 0.0,
    high: 5e6,
    reason: "the equations for a duct were fitted up to 5 million",
};

const TURBULENT_REYNOLDS: Domain = Domain {
    quantity: "Reynolds number",
    unit: "-",
    low: 1000.0,
    high: 5e6,
    reason: "the turbulent equation has no meaning below 1000; use the one for all flows",
};

const GAS_PRANDTL: Domain = Domain {
    quantity: "Prandtl number",
    unit: "-",
    low: 0.5,
    high: 1.5,
    reason: "the blend between laminar and turbulent flow is made for gases",
};

const PRANDTL: Domain = Domain {
    quantity: "Prandtl number",
    unit: "-",
    low: 0.5,
    high: 2000.0,
    reason: "the equations were fitted from 0.5 to 2000",
};

const FRICTION: Domain = Domain {
    quantity: "Darcy friction factor",
    unit: "-",
    low: 1e-3,
    high: 1.0,
    reason: "ducts have friction factors from about 0.01 to 0.1",
};

const RAYLEIGH: Domain = Domain {
    quantity: "Rayleigh number",
    unit: "-",
    low: 0.0,
    high: 1e12,
    reason: "the equations for free convection were fitted up to 1e12",
};

const TEMPERATURE: Domain = Domain {
    quantity: "temperature",
    unit: "°C",
    low: -100.0,
    high: 200.0,
    reason: "ducts of a dwelling and what surrounds them lie between -100 and 200 °C",
};

const DIAMETER: Domain = Domain {
    quantity: "diameter",
    unit: "m",
    low: 0.01,
    high: 3.0,
    reason: "ducts of a dwelling are between a centimetre and three metres wide",
};

const THICKNESS: Domain = Domain {
    quantity: "thickness of insulation",
    unit: "m",
    low: 0.0,
    high: 10.0,
    reason: "a layer has no negative thickness, and none is thicker than ten metres",
};

const CONDUCTIVITY: Domain = Domain {
    quantity: "conductivity of insulation",
    unit: "W/(m K)",
    low: 1e-3,
    high: 10.0,
    reason: "insulation conducts about 0.02 to 0.1 W/(m K)",
};

const FILM: Domain = Domain {
    quantity: "heat transfer coefficient",
    unit: "W/(m2 K)",
    low: 1e-3,
    high: 1e5,
    reason: "films of air give and take about 1 to 100 W/(m2 K)",
};

const EMISSIVITY: Domain = Domain {
    quantity: "emissivity",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "no surface radiates more than a black one",
};

const SHARE: Domain = Domain {
    quantity: "share",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "a share lies between nothing and all",
};

fn celsius(t: Temperature) -> Result<f64, OutOfDomain> {
    TEMPERATURE.check(t.c())
}

/// Whether the air in the duct is warmed or cooled by its wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// The wall is colder than the air.
    Cooling,
    /// The wall is warmer than the air.
    Heating,
}

/// Nusselt number of developed turbulent flow by Dittus–Boelter: 0.023·Re^0.8·Pr^n, n 0.3 cooling, 0.4 heating.
///
/// Source: Dittus & Boelter 1930 in the form of Incropera, Fundamentals of Heat and Mass Transfer, ch. 8 (from
/// memory). Valid: Re from 10 000, Pr 0.7 to 160, smooth wall; ±25 %. A check on [`nusselt_gnielinski`].
///
/// # Errors
/// [`OutOfDomain`] below Re 10 000, above 5e6, or for Pr outside 0.5 to 2000.
pub fn nusselt_dittus_boelter(
    reynolds: f64,
    prandtl: f64,
    direction: Direction,
) -> Result<f64, OutOfDomain> {
    let range = Domain {
        low: 1e4,
        reason: "the equation holds for full turbulence, from 10 000",
        ..REYNOLDS
    };
    let re = range.check(reynolds)?;
    let pr = PRANDTL.check(prandtl)?;
    let n = match direction {
        Direction::Cooling => 0.3,
        Direction::Heating => 0.4,
    };
    Ok(0.023 * libm::pow(re, 0.8) * libm::pow(pr, n))
}

/// Nusselt number of developed turbulent flow by Gnielinski:
/// (f/8)(Re − 1000)·Pr / (1 + 12.7·√(f/8)·(Pr^⅔ − 1)).
///
/// `friction` is the Darcy factor. Source: Gnielinski, Int. Chem. Eng. 16 (1976) 359. Valid: Re 3000 to 5e6, Pr 0.5
/// to 2000; ±10 % for smooth walls. With the friction of a rough wall it is an upper estimate, for roughness adds
/// more to friction than to heat transfer.
///
/// # Errors
/// [`OutOfDomain`] for Re below 1000 or above 5e6, Pr outside 0.5 to 2000, friction outside 0.001 to 1.
///
/// # Examples
/// ```
/// let nu = dewpath_moisture::heat::nusselt_gnielinski(20_000.0, 0.71, 0.0277505123)?;
/// assert!((nu - 55.227).abs() < 0.001);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn nusselt_gnielinski(reynolds: f64, prandtl: f64, friction: f64) -> Result<f64, OutOfDomain> {
    let re = TURBULENT_REYNOLDS.check(reynolds)?;
    let pr = PRANDTL.check(prandtl)?;
    Ok(gnielinski(re, pr, FRICTION.check(friction)?))
}

fn gnielinski(re: f64, pr: f64, f: f64) -> f64 {
    let eighth = f / 8.0;
    let two_thirds = libm::cbrt(pr * pr);
    eighth * (re - 1000.0) * pr / (1.0 + 12.7 * eighth.sqrt() * (two_thirds - 1.0))
}

/// How much a short duct gains over a developed one in turbulent flow: 1 + (D/L)^⅔, with D/L at most 1.
///
/// Source: Hausen's factor as used with the equation of [`nusselt_gnielinski`] (Gnielinski 1976, from memory).
///
/// # Errors
/// [`OutOfDomain`] for a diameter outside 0.01 to 3 m or a length that is not above zero.
pub fn entrance_factor(diameter: Length, length: Length) -> Result<f64, OutOfDomain> {
    let d = DIAMETER.check(diameter.m())?;
    let l = positive("length", "m", "a duct without length has no wall").check(length.m())?;
    Ok(entrance(d / l))
}

fn entrance(diameter_over_length: f64) -> f64 {
    let x = diameter_over_length.min(1.0);
    1.0 + libm::cbrt(x * x)
}

/// Hausen's mean Nusselt number of laminar flow with a wall of one temperature.
fn laminar(re: f64, pr: f64, diameter_over_length: f64) -> f64 {
    let graetz = diameter_over_length.min(1.0) * re * pr;
    3.66 + 0.0668 * graetz / (1.0 + 0.04 * libm::cbrt(graetz * graetz))
}

/// Mean Nusselt number inside a duct at any flow, from none to fully turbulent.
///
/// | Re | Nu |
/// | --- | --- |
/// | up to 2300 | 3.66 + 0.0668·Gz/(1 + 0.04·Gz^⅔), Gz = Re·Pr·D/L (Hausen) |
/// | 2300 to 4000 | straight between both ends in Re |
/// | from 4000 | [`nusselt_gnielinski`] with the friction of the wall, times [`entrance_factor`] |
///
/// Continuous and never falling in Re. Source of the straight part: Gnielinski, Int. J. Heat Mass Transfer 63 (2013)
/// 134 (from memory); of Hausen's equation: Incropera ch. 8 (from memory). `relative_roughness` is ε/D (0 to 0.1),
/// `diameter_over_length` D/L (counted up to 1; 0 for a long duct).
///
/// # Errors
/// [`OutOfDomain`] for Re outside 0 to 5e6, Pr outside 0.5 to 1.5 (gases), roughness outside 0 to 0.1, D/L negative.
pub fn nusselt_inside(
    reynolds: f64,
    prandtl: f64,
    relative_roughness: f64,
    diameter_over_length: f64,
) -> Result<f64, OutOfDomain> {
    let re = REYNOLDS.check(reynolds)?;
    let pr = GAS_PRANDTL.check(prandtl)?;
    let roughness = Domain {
        quantity: "relative roughness",
        unit: "-",
        low: 0.0,
        high: 0.1,
        reason: "roughness is at most a tenth of the diameter",
    }
    .check(relative_roughness)?;
    let stubby = not_negative("diameter over length", "-", "both are lengths")
        .check(diameter_over_length)?;
    Ok(nusselt_any_flow(re, pr, roughness, stubby))
}

pub(crate) fn nusselt_any_flow(re: f64, pr: f64, roughness: f64, stubby: f64) -> f64 {
    let turbulent =
        |re| gnielinski(re, pr, friction_factor(re, roughness).factor) * entrance(stubby);
    if re <= LAMINAR {
        return laminar(re, pr, stubby);
    }
    if re >= TURBULENT {
        return turbulent(re);
    }
    let share = (re - LAMINAR) / (TURBULENT - LAMINAR);
    (1.0 - share) * laminar(LAMINAR, pr, stubby) + share * turbulent(TURBULENT)
}

/// Heat transfer coefficient inside a duct, W/(m²·K), from air, speed and size by [`nusselt_inside`].
///
/// # Errors
/// [`OutOfDomain`] for a diameter outside 0.01 to 3 m, a length that is not above zero, a negative speed, or as
/// [`nusselt_inside`].
///
/// # Examples
/// ```
/// use dewpath_air::moist_air::MoistAir;
/// use dewpath_units::{Humidity, Length, Pressure, Temperature, Velocity};
/// let air = MoistAir::from_relative_humidity(
///     Temperature::from_c(24.0), Humidity::from_percent(80.0), Pressure::from_pa(101_325.0))?;
/// let h = dewpath_moisture::heat::film_inside_w_m2_k(
///     &air, Velocity::from_m_s(3.084), Length::from_inches(4.0), Length::from_mm(0.09),
///     Length::from_m(8.0))?;
/// assert!((14.0..16.0).contains(&h)); // 25 L/s in a 4 in duct
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn film_inside_w_m2_k(
    air: &MoistAir,
    speed: Velocity,
    diameter: Length,
    roughness: Length,
    length: Length,
) -> Result<f64, OutOfDomain> {
    let d = DIAMETER.check(diameter.m())?;
    let l = positive("length", "m", "a duct without length has no wall").check(length.m())?;
    let v = not_negative("air speed", "m/s", "give the size of the speed, not its direction")
        .check(speed.m_s())?;
    let (mu, k) = (air.viscosity_pa_s(), air.conductivity_w_m_k());
    let heat_capacity = air.heat_capacity_j_kg_k() / (1.0 + air.humidity_ratio());
    let re = air.density().kg_m3() * v * d / mu;
    let nu = nusselt_inside(re, mu * heat_capacity / k, roughness.m() / d, d / l)?;
    Ok(nu * k / d)
}

/// Mean Nusselt number of free convection around a horizontal cylinder:
/// {0.60 + 0.387·Ra^⅙ / \[1 + (0.559/Pr)^(9/16)]^(8/27)}².
///
/// Source: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049. Valid: Ra up to 1e12.
///
/// # Errors
/// [`OutOfDomain`] for Ra outside 0 to 1e12 or Pr outside 0.5 to 2000.
pub fn nusselt_horizontal_cylinder(rayleigh: f64, prandtl: f64) -> Result<f64, OutOfDomain> {
    let ra = RAYLEIGH.check(rayleigh)?;
    Ok(churchill_chu(ra, PRANDTL.check(prandtl)?, 0.60, 0.559))
}

/// Mean Nusselt number of free convection along a vertical plate such as a wall or a mirror:
/// {0.825 + 0.387·Ra^⅙ / \[1 + (0.492/Pr)^(9/16)]^(8/27)}², lengths by the height of the plate.
///
/// Source: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323. Valid: Ra up to 1e12.
///
/// # Errors
/// [`OutOfDomain`] for Ra outside 0 to 1e12 or Pr outside 0.5 to 2000.
pub fn nusselt_vertical_plate(rayleigh: f64, prandtl: f64) -> Result<f64, OutOfDomain> {
    let ra = RAYLEIGH.check(rayleigh)?;
    Ok(churchill_chu(ra, PRANDTL.check(prandtl)?, 0.825, 0.492))
}

fn churchill_chu(ra: f64, pr: f64, still: f64, prandtl_scale: f64) -> f64 {
    let damping = libm::pow(1.0 + libm::pow(prandtl_scale / pr, 9.0 / 16.0), 8.0 / 27.0);
    let root = still + 0.387 * libm::pow(ra, 1.0 / 6.0) / damping;
    root * root
}

/// Mean Nusselt number of a cylinder in cross flow:
/// 0.3 + 0.62·Re^½·Pr^⅓ / \[1 + (0.4/Pr)^⅔]^¼ · \[1 + (Re/282 000)^⅝]^⅘.
///
/// Source: Churchill & Bernstein, J. Heat Transfer 99 (1977) 300. Valid: Re·Pr above 0.2 (below it the value 0.3 of
/// still air is approached), Re up to 1e7.
///
/// # Errors
/// [`OutOfDomain`] for Re outside 0 to 5e6 or Pr outside 0.5 to 2000.
pub fn nusselt_cross_flow(reynolds: f64, prandtl: f64) -> Result<f64, OutOfDomain> {
    let re = REYNOLDS.check(reynolds)?;
    let pr = PRANDTL.check(prandtl)?;
    let scale = libm::pow(1.0 + libm::cbrt(0.4 / pr) * libm::cbrt(0.4 / pr), 0.25);
    let turbulence = libm::pow(1.0 + libm::pow(re / 282_000.0, 0.625), 0.8);
    Ok(0.3 + 0.62 * re.sqrt() * libm::cbrt(pr) / scale * turbulence)
}

/// Radiation between a small surface and its surroundings as a coefficient, W/(m²·K):
/// ε·σ·(T1 + T2)(T1² + T2²).
///
/// Source: Stefan–Boltzmann law, exact for both temperatures.
///
/// # Errors
/// [`OutOfDomain`] for an emissivity outside 0 to 1 or a temperature outside −100 to 200 °C.
pub fn radiation_w_m2_k(
    emissivity: Ratio,
    surface: Temperature,
    surroundings: Temperature,
) -> Result<f64, OutOfDomain> {
    let eps = EMISSIVITY.check(emissivity.ratio())?;
    celsius(surface)?;
    celsius(surroundings)?;
    let (a, b) = (surface.k(), surroundings.k());
    Ok(eps * STEFAN_BOLTZMANN * (a + b) * (a * a + b * b))
}

/// What surrounds a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Temperature of the air and, for want of more, of all surfaces that the duct sees.
    pub temperature: Temperature,
    /// Speed of the air across the duct; zero in a still attic or joist bay.
    pub air_speed: Velocity,
    /// Emissivity of the outer surface: [`PLAIN_EMISSIVITY`] or [`FOIL_EMISSIVITY`].
    pub emissivity: Ratio,
    /// Absolute air pressure.
    pub pressure: Pressure,
}

/// Heat transfer coefficient of the outer surface of a horizontal duct, W/(m²·K): free convection, cross flow and
/// radiation together.
///
/// Free and forced convection are joined as Nu = (Nu_free⁴ + Nu_forced⁴)^¼ (cross flow over a cylinder; Incropera ch. 9, from
/// memory). Typical: 8 to 10 on a plain jacket with some draught, 4 to 5 under clean foil in still air; still air with
/// little difference in temperature gives less than either.
///
/// # Errors
/// [`OutOfDomain`] for temperatures outside −100 to 200 °C, pressure outside 20 to 200 kPa, a negative speed, an
/// emissivity outside 0 to 1 or a diameter outside 0.01 to 3 m.
///
/// # Examples
/// ```
/// use dewpath_moisture::heat::{PLAIN_EMISSIVITY, Surroundings, film_outside_w_m2_k};
/// use dewpath_units::{Length, Pressure, Ratio, Temperature, Velocity};
/// let attic = Surroundings {
///     temperature: Temperature::from_c(-10.0),
///     air_speed: Velocity::from_m_s(0.0),
///     emissivity: Ratio::from_ratio(PLAIN_EMISSIVITY),
///     pressure: Pressure::from_pa(101_325.0),
/// };
/// let h = film_outside_w_m2_k(Temperature::from_c(5.0), &attic, Length::from_inches(4.0))?;
/// assert!((8.0..9.0).contains(&h));
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn film_outside_w_m2_k(
    surface: Temperature,
    surroundings: &Surroundings,
    outer_diameter: Length,
) -> Result<f64, OutOfDomain> {
    let Surroundings { temperature, air_speed, emissivity, pressure } = *surroundings;
    let d = DIAMETER.check(outer_diameter.m())?;
    let p = Domain {
        quantity: "air pressure",
        unit: "Pa",
        low: 20_000.0,
        high: 200_000.0,
        reason: "absolute pressure is meant",
    }
    .check(pressure.pa())?;
    let (surface_c, around_c) = (celsius(surface)?, celsius(temperature)?);
    let v = not_negative("air speed", "m/s", "give the size of the speed, not its direction")
        .check(air_speed.m_s())?;
    let air = DryAir::at(0.5 * (surface_c + around_c), p);
    let ra = air.rayleigh((surface_c - around_c).abs(), d);
    let free = churchill_chu(RAYLEIGH.check(ra)?, air.prandtl(), 0.60, 0.559);
    let convection = if v > 0.0 {
        let forced = nusselt_cross_flow(v * d / air.kinematic_viscosity, air.prandtl())?;
        let (free2, forced2) = (free * free, forced * forced);
        (free2 * free2 + forced2 * forced2).sqrt().sqrt()
    } else {
        free
    };
    let radiation = radiation_w_m2_k(emissivity, surface, temperature)?;
    Ok(convection * air.conductivity / d + radiation)
}

/// Dry air with what convection asks of it.
struct DryAir {
    conductivity: f64,
    kinematic_viscosity: f64,
    diffusivity: f64,
    expansion: f64,
}

impl DryAir {
    fn at(t_c: f64, p_pa: f64) -> Self {
        let t = t_c + FREEZING_K;
        let conductivity = conductivity_at_c(t_c);
        let density = p_pa / (DRY_AIR_GAS_CONSTANT * t);
        Self {
            conductivity,
            kinematic_viscosity: viscosity_at_k(t) / density,
            diffusivity: conductivity / (density * DRY_AIR_HEAT_J_KG_K),
            expansion: 1.0 / t,
        }
    }

    fn prandtl(&self) -> f64 {
        self.kinematic_viscosity / self.diffusivity
    }

    fn rayleigh(&self, difference_k: f64, size_m: f64) -> f64 {
        GRAVITY_M_S2 * self.expansion * difference_k * size_m * size_m * size_m
            / (self.kinematic_viscosity * self.diffusivity)
    }
}

/// A layer of insulation around a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insulation {
    thickness_m: f64,
    conductivity_w_m_k: f64,
}

impl Insulation {
    /// A layer of a thickness, of a material of a conductivity (W/(m·K)).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a thickness outside 0 to 10 m or a conductivity outside 0.001 to 10 W/(m·K).
    pub fn new(thickness: Length, conductivity_w_m_k: f64) -> Result<Self, OutOfDomain> {
        Ok(Self {
            thickness_m: THICKNESS.check(thickness.m())?,
            conductivity_w_m_k: CONDUCTIVITY.check(conductivity_w_m_k)?,
        })
    }

    /// No layer.
    pub const fn none() -> Self {
        Self { thickness_m: 0.0, conductivity_w_m_k: LABEL_CONDUCTIVITY_W_M_K }
    }

    /// The layer that a label's flat R-value stands for, of the conductivity [`LABEL_CONDUCTIVITY_W_M_K`].
    ///
    /// # Errors
    /// [`OutOfDomain`] for an R-value that is negative or above 277 m²·K/W.
    pub fn from_label(resistance: ThermalResistance) -> Result<Self, OutOfDomain> {
        let r = not_negative("R-value of the label", "m2 K/W", "insulation holds heat back")
            .check(resistance.rsi())?;
        Self::new(Length::from_m(r * LABEL_CONDUCTIVITY_W_M_K), LABEL_CONDUCTIVITY_W_M_K)
    }

    /// Thickness of the layer.
    pub const fn thickness(&self) -> Length {
        Length::from_m(self.thickness_m)
    }

    /// Conductivity, W/(m·K).
    pub const fn conductivity_w_m_k(&self) -> f64 {
        self.conductivity_w_m_k
    }

    /// Diameter over the layer around a duct.
    pub fn outer_diameter(&self, inner: Length) -> Length {
        Length::from_m(inner.m() + 2.0 * self.thickness_m)
    }

    /// Resistance of one metre of duct, m·K/W: ln(D2/D1)/(2π·k).
    ///
    /// Source: radial conduction, ISO 12241 and ASTM C680.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m.
    pub fn per_metre_m_k_w(&self, inner_diameter: Length) -> Result<f64, OutOfDomain> {
        let d = DIAMETER.check(inner_diameter.m())?;
        Ok(libm::log1p(2.0 * self.thickness_m / d) / (2.0 * PI * self.conductivity_w_m_k))
    }

    /// The same, per area of the inner wall: D1·ln(D2/D1)/(2·k). Less than the flat value.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m.
    pub fn on_inner_area(&self, inner_diameter: Length) -> Result<ThermalResistance, OutOfDomain> {
        let per_metre = self.per_metre_m_k_w(inner_diameter)?;
        Ok(ThermalResistance::from_rsi(per_metre * PI * inner_diameter.m()))
    }

    /// The same layer pressed to a share of its thickness. Its conductivity is left as it is: pressing glass
    /// fibre moves it by less than a tenth.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a share outside 0 to 1.
    pub fn pressed_to(&self, share: Ratio) -> Result<Self, OutOfDomain> {
        Ok(Self { thickness_m: self.thickness_m * SHARE.check(share.ratio())?, ..*self })
    }
}

/// Where insulation is squeezed: over joists, under straps, between tight members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Squeeze {
    /// Share of the duct's length that is squeezed.
    pub share_of_length: Ratio,
    /// Share of the thickness that is left there.
    pub thickness_left: Ratio,
}

impl Squeeze {
    /// Nothing is squeezed.
    pub const NONE: Self =
        Self { share_of_length: Ratio::from_ratio(0.0), thickness_left: Ratio::from_ratio(1.0) };
}

/// Loose insulation over a duct that lies in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burial {
    /// Depth of the fill over the top of the duct's jacket. Zero or less: the duct sticks out, and none is counted.
    pub cover: Length,
    /// Conductivity of the fill, W/(m·K): about 0.040 cellulose, 0.050 blown glass fibre (from memory).
    pub conductivity_w_m_k: f64,
}

impl Burial {
    /// Thickness of a round jacket of fill that holds back as much heat as the fill over the duct does:
    /// t = z + √(z² − r²) − r, with z the depth of the axis and r the outer radius.
    ///
    /// Source: conduction shape factor of a cylinder under a surface of one temperature, 2π/arcosh(z/r) (Incropera
    /// table 4.1, from memory), set equal to that of a layer around a cylinder. The warm ceiling under the duct is
    /// left out, which is on the cautious side in winter.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m, or a cover beyond ±10 m.
    ///
    /// # Examples
    /// ```
    /// use dewpath_moisture::heat::Burial;
    /// use dewpath_units::Length;
    /// let fill = Burial { cover: Length::from_mm(50.0), conductivity_w_m_k: 0.045 };
    /// let t = fill.round_thickness(Length::from_mm(150.0))?; // z 125, r 75: √(125² − 75²) = 100
    /// assert!((t.mm() - 150.0).abs() < 1e-9);
    /// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
    /// ```
    pub fn round_thickness(&self, outer_diameter: Length) -> Result<Length, OutOfDomain> {
        let r = 0.5 * DIAMETER.check(outer_diameter.m())?;
        let cover = Domain { quantity: "cover of loose fill", low: -10.0, ..THICKNESS }
            .check(self.cover.m())?;
        if cover <= 0.0 {
            return Ok(Length::from_m(0.0));
        }
        let z = r + cover;
        Ok(Length::from_m(z + (z * z - r * r).sqrt() - r))
    }
}

/// [`Wall`] of a duct in surroundings between in- and outdoors, as a working shows it.
pub const LAYERS: Law = Law::confirmed(
    "R = D ln(D2/D) / (2 k) + D / (D2 h_out), T_around = T_in - b (T_in - T_out)",
    "ISO 12241 and ASTM C680, layers around a cylinder",
    "",
);

/// The wall of a duct from its inner surface to the surroundings, per area of the inner wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Insulation and fill.
    pub layers: ThermalResistance,
    /// Film on the outside.
    pub film: ThermalResistance,
}

impl Wall {
    /// A wall of insulation, squeezed in places, under loose fill perhaps, with an outside film in W/(m²·K).
    ///
    /// Squeezed and free lengths conduct side by side; the sheet itself is left out (0.55 mm of steel has
    /// 1e-5 m²·K/W). Where the duct is buried the film lies on the fill, at the diameter of its round equivalent.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m, shares outside 0 to 1, a film outside 0.001 to 1e5 W/(m²·K)
    /// or a fill outside the ranges of [`Burial`].
    ///
    /// # Examples
    /// ```
    /// use dewpath_moisture::heat::{Insulation, Squeeze, Wall};
    /// use dewpath_units::{Length, Ratio, ThermalResistance};
    /// let wrap = Insulation::new(Length::from_mm(50.0), 0.036)?;
    /// let d = Length::from_mm(101.6);
    /// let free = Wall::new(d, &wrap, Squeeze::NONE, None, 9.0)?;
    /// assert!((free.outward().rsi() - 1.02295).abs() < 1e-5);
    /// let over_joists =
    ///     Squeeze { share_of_length: Ratio::from_percent(10.0), thickness_left: Ratio::from_percent(30.0) };
    /// assert!(Wall::new(d, &wrap, over_joists, None, 9.0)?.outward().rsi() < 0.95);
    /// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
    /// ```
    pub fn new(
        inner_diameter: Length,
        insulation: &Insulation,
        squeeze: Squeeze,
        burial: Option<Burial>,
        film_outside_w_m2_k: f64,
    ) -> Result<Self, OutOfDomain> {
        let share = SHARE.check(squeeze.share_of_length.ratio())?;
        let free = Self::of_one_thickness(inner_diameter, insulation, burial, film_outside_w_m2_k)?;
        let pressed = Self::of_one_thickness(
            inner_diameter,
            &insulation.pressed_to(squeeze.thickness_left)?,
            burial,
            film_outside_w_m2_k,
        )?;
        let both = 1.0 / ((1.0 - share) / free.outward().rsi() + share / pressed.outward().rsi());
        let film = 1.0 / ((1.0 - share) / free.film.rsi() + share / pressed.film.rsi());
        Ok(Self {
            layers: ThermalResistance::from_rsi((both - film).max(0.0)),
            film: ThermalResistance::from_rsi(film),
        })
    }

    /// The same with the outside film that its own surface temperature brings about, for air inside of a
    /// temperature and a film of `film_inside_w_m2_k`: [`film_outside_w_m2_k`] in turns until it holds.
    ///
    /// # Errors
    /// As [`Self::new`] and [`film_outside_w_m2_k`].
    ///
    /// # Examples
    /// ```
    /// use dewpath_moisture::heat::{Insulation, PLAIN_EMISSIVITY, Squeeze, Surroundings, Wall};
    /// use dewpath_units::{Length, Pressure, Ratio, Temperature, ThermalResistance, Velocity};
    /// let attic = Surroundings {
    ///     temperature: Temperature::from_c(-10.0),
    ///     air_speed: Velocity::from_m_s(0.0),
    ///     emissivity: Ratio::from_ratio(PLAIN_EMISSIVITY),
    ///     pressure: Pressure::from_pa(101_325.0),
    /// };
    /// let wrap = Insulation::from_label(ThermalResistance::from_r_ip(6.0))?;
    /// let (d, warm) = (Length::from_inches(4.0), Temperature::from_c(22.0));
    /// let wall = Wall::settled(d, &wrap, Squeeze::NONE, None, warm, 14.0, &attic)?;
    /// assert!((0.85..1.0).contains(&wall.outward().rsi()));
    /// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
    /// ```
    pub fn settled(
        inner_diameter: Length,
        insulation: &Insulation,
        squeeze: Squeeze,
        burial: Option<Burial>,
        air: Temperature,
        film_inside_w_m2_k: f64,
        surroundings: &Surroundings,
    ) -> Result<Self, OutOfDomain> {
        let mut outer = insulation.outer_diameter(inner_diameter);
        if let Some(fill) = burial {
            outer = Length::from_m(outer.m() + 2.0 * fill.round_thickness(outer)?.m());
        }
        // The film grows with the fourth root of a difference in temperature: each turn brings the answer several
        // times closer.
        let mut film = film_outside_w_m2_k(air, surroundings, outer)?;
        let mut wall = Self::new(inner_diameter, insulation, squeeze, burial, film)?;
        for _ in 0..60 {
            let around = surroundings.temperature;
            let surface = wall.outer_temperature(air, around, film_inside_w_m2_k)?;
            let next = film_outside_w_m2_k(surface, surroundings, outer)?;
            let moved = (next - film).abs();
            film = next;
            wall = Self::new(inner_diameter, insulation, squeeze, burial, film)?;
            if moved < 1e-10 * film {
                break;
            }
        }
        Ok(wall)
    }

    fn of_one_thickness(
        inner_diameter: Length,
        insulation: &Insulation,
        burial: Option<Burial>,
        film_outside_w_m2_k: f64,
    ) -> Result<Self, OutOfDomain> {
        let h = FILM.check(film_outside_w_m2_k)?;
        let d = inner_diameter.m();
        let mut layers = insulation.on_inner_area(inner_diameter)?.rsi();
        let mut outer = insulation.outer_diameter(inner_diameter).m();
        if let Some(fill) = burial {
            let t = fill.round_thickness(Length::from_m(outer))?;
            let around = Insulation::new(t, fill.conductivity_w_m_k)?;
            layers += around.per_metre_m_k_w(Length::from_m(outer))? * PI * d;
            outer += 2.0 * t.m();
        }
        Ok(Self {
            layers: ThermalResistance::from_rsi(layers),
            film: ThermalResistance::from_rsi(d / (outer * h)),
        })
    }

    /// Resistance from the inner wall to the surroundings.
    pub fn outward(&self) -> ThermalResistance {
        ThermalResistance::from_rsi(self.layers.rsi() + self.film.rsi())
    }

    /// Heat that a metre of duct loses per kelvin between its air and the surroundings, W/(m·K), for a film inside in
    /// W/(m²·K).
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m or a film outside 0.001 to 1e5 W/(m²·K).
    pub fn linear_transmittance_w_m_k(
        &self,
        inner_diameter: Length,
        film_inside_w_m2_k: f64,
    ) -> Result<f64, OutOfDomain> {
        let d = DIAMETER.check(inner_diameter.m())?;
        let h = FILM.check(film_inside_w_m2_k)?;
        Ok(PI * d / (1.0 / h + self.outward().rsi()))
    }

    /// Temperature of the inner wall of a duct without condensation.
    ///
    /// # Errors
    /// [`OutOfDomain`] for temperatures outside −100 to 200 °C or a film outside 0.001 to 1e5 W/(m²·K).
    pub fn inner_temperature(
        &self,
        air: Temperature,
        surroundings: Temperature,
        film_inside_w_m2_k: f64,
    ) -> Result<Temperature, OutOfDomain> {
        let h = FILM.check(film_inside_w_m2_k)?;
        let (air, around) = (celsius(air)?, celsius(surroundings)?);
        let share = 1.0 / (1.0 + h * self.outward().rsi());
        Ok(Temperature::from_c(air - (air - around) * share))
    }

    /// Temperature of the outer surface, where a cold duct sweats when it lies below the dew point around.
    ///
    /// # Errors
    /// As [`Self::inner_temperature`].
    pub fn outer_temperature(
        &self,
        air: Temperature,
        surroundings: Temperature,
        film_inside_w_m2_k: f64,
    ) -> Result<Temperature, OutOfDomain> {
        let h = FILM.check(film_inside_w_m2_k)?;
        let (air, around) = (celsius(air)?, celsius(surroundings)?);
        let share = self.film.rsi() / (1.0 / h + self.outward().rsi());
        Ok(Temperature::from_c(around + (air - around) * share))
    }
}

/// Temperature of air that cooled or warmed along a duct, without condensation:
/// Ta + (Ti − Ta)·exp(−U'·L/(ṁ·cp)).
///
/// `transmittance_w_m_k` is U' of [`Wall::linear_transmittance_w_m_k`], `capacity_flow_w_k` ṁ·cp in W/K. Source: ISO 12241, axial
/// temperature drop.
///
/// # Errors
/// [`OutOfDomain`] for temperatures outside −100 to 200 °C, a length or transmittance below zero, or a flow that is not above
/// zero.
pub fn temperature_after(
    inlet: Temperature,
    surroundings: Temperature,
    length: Length,
    transmittance_w_m_k: f64,
    capacity_flow_w_k: f64,
) -> Result<Temperature, OutOfDomain> {
    let (inlet, around) = (celsius(inlet)?, celsius(surroundings)?);
    let l = not_negative("length", "m", "a duct has no negative length").check(length.m())?;
    let u = not_negative("transmittance", "W/(m K)", "heat flows from warm to cold")
        .check(transmittance_w_m_k)?;
    let flow = positive("capacity flow", "W/K", "air at rest takes its surroundings' temperature")
        .check(capacity_flow_w_k)?;
    let passed = libm::exp(-(u * l / flow));
    Ok(Temperature::from_c(around + (inlet - around) * passed))
}

/// Least thickness of insulation that keeps the inner wall of a duct at its air's dew point or above; `None` when no
/// thickness up to half a metre does, as with saturated air.
///
/// Series resistances with films of `film_inside_w_m2_k` and `film_outside_w_m2_k`; the root by bisection. A steady
/// figure: a wall that starts cold still condenses until it has warmed up.
///
/// # Errors
/// [`OutOfDomain`] for temperatures outside −100 to 200 °C, a diameter outside 0.01 to 3 m, a conductivity outside 0.001
/// to 10 W/(m·K) or films outside 0.001 to 1e5 W/(m²·K).
#[allow(clippy::too_many_arguments, reason = "seven quantities of one equation")]
pub fn thickness_against_inner_dew(
    inner_diameter: Length,
    conductivity_w_m_k: f64,
    air: Temperature,
    dew_point: Temperature,
    surroundings: Temperature,
    film_inside_w_m2_k: f64,
    film_outside_w_m2_k: f64,
) -> Result<Option<Length>, OutOfDomain> {
    celsius(dew_point)?;
    // Checks the other inputs too.
    least_thickness(inner_diameter, conductivity_w_m_k, film_outside_w_m2_k, |wall| {
        let inner = wall.inner_temperature(air, surroundings, film_inside_w_m2_k)?;
        Ok(inner.k() - dew_point.k())
    })
}

/// [`thickness_against_sweating`], as a working shows it.
pub const SWEATING: Law = Law::confirmed(
    "least thickness with T_outside = T_dew, R = t / k",
    "ISO 12241",
    "insulation against surface condensation",
);

/// Least thickness of insulation that keeps the outer surface of a cold duct at the dew point of its surroundings or
/// above; `None` when no thickness up to half a metre does.
///
/// A foil jacket has the lower `film_outside_w_m2_k` and so needs more. Else as [`thickness_against_inner_dew`].
///
/// # Errors
/// As [`thickness_against_inner_dew`].
#[allow(clippy::too_many_arguments, reason = "seven quantities of one equation")]
pub fn thickness_against_sweating(
    inner_diameter: Length,
    conductivity_w_m_k: f64,
    air: Temperature,
    surroundings: Temperature,
    dew_point_around: Temperature,
    film_inside_w_m2_k: f64,
    film_outside_w_m2_k: f64,
) -> Result<Option<Length>, OutOfDomain> {
    celsius(dew_point_around)?;
    least_thickness(inner_diameter, conductivity_w_m_k, film_outside_w_m2_k, |wall| {
        let outer = wall.outer_temperature(air, surroundings, film_inside_w_m2_k)?;
        Ok(outer.k() - dew_point_around.k())
    })
}

/// The least thickness at which `margin_k` is not negative, to the last digits.
fn least_thickness(
    inner_diameter: Length,
    conductivity_w_m_k: f64,
    film_outside_w_m2_k: f64,
    margin_k: impl Fn(&Wall) -> Result<f64, OutOfDomain>,
) -> Result<Option<Length>, OutOfDomain> {
    let margin = |t: f64| {
        let layer = Insulation::new(Length::from_m(t), conductivity_w_m_k)?;
        margin_k(&Wall::new(inner_diameter, &layer, Squeeze::NONE, None, film_outside_w_m2_k)?)
    };
    if margin(0.0)? >= 0.0 {
        return Ok(Some(Length::from_m(0.0)));
    }
    if margin(THICKEST_M)? < 0.0 {
        return Ok(None);
    }
    // One crossing only: thin layers on a very thin duct can make it worse first, but never cross twice.
    let (mut low, mut high) = (0.0, THICKEST_M);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if margin(middle)? < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Some(Length::from_m(high)))
}
