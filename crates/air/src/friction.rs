//! Pressure lost by friction in a straight duct.
//!
//! Darcy–Weisbach with the Colebrook–White friction factor, solved to the last digits and not fitted: explicit
//! stand-ins err by 1 to 20 % in the range of small rough ducts at low speed, and a solved one costs one
//! logarithm.
//!
//! | Reynolds number | friction factor |
//! | --- | --- |
//! | up to 2300 | 64/Re |
//! | 2300 to 4000 | cubic in ln Re that meets both sides in value and slope |
//! | from 4000 | Colebrook–White |
//!
//! The cubic has no source: between laminar and turbulent flow there is no single true value. It is there so that
//! the loss is continuous with its slope and strictly increasing in flow, which makes an operating point unique.

use core::f64::consts::{LN_10, PI};

use dewpath_units::{Airflow, Area, Density, Length, Pressure};

use crate::domain::{Domain, OutOfDomain, not_negative, positive};
use crate::law::Law;

/// Reynolds number up to which flow is taken as laminar.
pub const LAMINAR_REYNOLDS: f64 = 2300.0;
/// Reynolds number from which flow is taken as turbulent.
pub const TURBULENT_REYNOLDS: f64 = 4000.0;

/// ln(4000/2300), the width of the transition.
const TRANSITION_WIDTH: f64 = 0.5533852381847866;
const LN_LAMINAR: f64 = 7.7406644019172415;
const LAMINAR_F: f64 = 64.0 / LAMINAR_REYNOLDS;
const TWO_OVER_LN_10: f64 = 2.0 / LN_10;
const LOG10_2: f64 = core::f64::consts::LOG10_2;

/// A friction factor with its slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionFactor {
    /// Darcy friction factor (four times the Fanning one).
    pub factor: f64,
    /// Derivative by ln Re.
    pub slope_by_ln_re: f64,
}

/// log2 to about 0.01, from the bits: only a start value for [`colebrook`].
fn rough_log2(v: f64) -> f64 {
    let bits = v.to_bits();
    let exponent = ((bits >> 52) & 0x7ff) as i32 - 1023;
    let m = f64::from_bits((bits & 0x000f_ffff_ffff_ffff) | 0x3ff0_0000_0000_0000);
    f64::from(exponent) + (2.0 - m / 3.0) * m - 5.0 / 3.0
}

/// Darcy friction factor of turbulent flow by Colebrook–White.
///
/// 1/√f = −2 log10(ε/(3.7 D) + 2.51/(Re √f)), with `re` from 4000 to 1e8 and `relative_roughness` ε/D from 0 to 0.1.
///
/// Solved for x = 1/√f, in which the equation is nearly straight: from a start by bit tricks one Halley and one Newton
/// step reach 1e-14, always the same number of operations. Slope by ln Re, from the same equation:
/// −2 f w/(1+w), w = (2/ln 10)·(2.51/Re)/(ε/(3.7 D) + 2.51 x/Re).
///
/// Source: Colebrook, J. Inst. Civ. Eng. 11 (1939) 133. Accuracy: the equation itself is known to about ±10 % of
/// measured friction in commercial ducts; the solution agrees with exact ones (checks FRI-01 to FRI-10) to 1e-9.
pub fn colebrook(re: f64, relative_roughness: f64) -> FrictionFactor {
    let a = relative_roughness / 3.7;
    let b = 2.51 / re;
    let start = -2.0 * LOG10_2 * rough_log2(a + 4.8 * b);
    let x0 = -2.0 * LOG10_2 * rough_log2(a + b * start);

    // Halley on g(x) = x + 2 log10(a + b x), from an error below 0.06 to one below 1e-7.
    let inner0 = a + b * x0;
    let ln_inner0 = libm::log(inner0);
    let share = b / inner0;
    let g = x0 + TWO_OVER_LN_10 * ln_inner0;
    let g1 = 1.0 + TWO_OVER_LN_10 * share;
    let g2 = -TWO_OVER_LN_10 * share * share;
    let x1 = x0 - g * g1 / (g1 * g1 - 0.5 * g * g2);

    // Newton from there to the last digit. ln(inner1/inner0) = 2 artanh z is a short series, for z is below 0.01.
    let inner1 = a + b * x1;
    let z = (b * x1 - b * x0) / (inner1 + inner0);
    let z2 = z * z;
    let ln_inner1 = ln_inner0 + 2.0 * z * (1.0 + z2 * (1.0 / 3.0 + z2 * (0.2 + z2 / 7.0)));
    let turn = TWO_OVER_LN_10 * b;
    let x = x1 - (x1 + TWO_OVER_LN_10 * ln_inner1) * inner1 / (inner1 + turn);

    let factor = 1.0 / (x * x);
    FrictionFactor { factor, slope_by_ln_re: -2.0 * factor * turn / (a + b * x + turn) }
}

/// The cubic between laminar flow and `turbulent`, the factor at Re 4000.
fn transition(re: f64, turbulent: FrictionFactor) -> FrictionFactor {
    let h = TRANSITION_WIDTH;
    let s = (libm::log(re) - LN_LAMINAR) / h;
    let rise = turbulent.factor - LAMINAR_F;
    let m0 = -LAMINAR_F * h;
    let m1 = turbulent.slope_by_ln_re * h;
    let c2 = 3.0 * rise - 2.0 * m0 - m1;
    let c3 = m0 + m1 - 2.0 * rise;
    FrictionFactor {
        factor: LAMINAR_F + s * (m0 + s * (c2 + s * c3)),
        slope_by_ln_re: (m0 + s * (2.0 * c2 + 3.0 * s * c3)) / h,
    }
}

/// Darcy friction factor at any Reynolds number above zero, with ε/D from 0 to 0.1: see the table of this module.
///
/// ```
/// # use dewpath_air::friction::friction_factor;
/// assert!((friction_factor(1500.0, 0.001).factor - 64.0 / 1500.0).abs() < 1e-15);
/// assert!((friction_factor(30_000.0, 0.009).factor - 0.03863073857).abs() < 1e-10);
/// ```
pub fn friction_factor(re: f64, relative_roughness: f64) -> FrictionFactor {
    if re <= LAMINAR_REYNOLDS {
        let factor = 64.0 / re;
        FrictionFactor { factor, slope_by_ln_re: -factor }
    } else if re < TURBULENT_REYNOLDS {
        transition(re, colebrook(TURBULENT_REYNOLDS, relative_roughness))
    } else {
        colebrook(re, relative_roughness)
    }
}

/// [`DuctKernel`], as a working shows it.
pub const STRAIGHT_DUCT: Law = Law::confirmed(
    "dp = f(Re, eps/D) L/D rho v^2/2, 1/sqrt(f) = -2 log10(eps/3.7D + 2.51/(Re sqrt(f)))",
    "Darcy-Weisbach, Colebrook-White",
    "roughness: ASHRAE Fundamentals 2021, ch. 21",
);

/// A straight duct as a network edge: everything that doesn't depend on flow, worked out once.
///
/// Loss f·(L/D_h)·ρV²/2 times `multiplier` (the compression factor of flexible duct, else 1), odd in flow,
/// continuous with its slope and strictly increasing. The laminar constant is that of a round duct for every
/// shape; rectangular ones have 57 to 96, which matters below Re 2300 only.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DuctKernel {
    re_per_q: f64,
    relative_roughness: f64,
    /// multiplier·(L/D_h)·ρ/(2A²).
    square: f64,
    /// Loss over flow while laminar.
    laminar: f64,
}

impl DuctKernel {
    /// From hydraulic diameter and area (m, m2), length (m), roughness (m), multiplier, density (kg/m3) and dynamic
    /// viscosity (Pa s), all above zero; length, roughness and multiplier may be zero.
    ///
    /// Not checked here, for it is called in every draw; [`Duct::kernel`] checks.
    pub fn new(
        d_h_m: f64,
        area_m2: f64,
        length_m: f64,
        eps_m: f64,
        multiplier: f64,
        rho: f64,
        mu: f64,
    ) -> Self {
        let re_per_q = rho * d_h_m / (mu * area_m2);
        let square = multiplier * (length_m / d_h_m) * rho / (2.0 * area_m2 * area_m2);
        Self {
            re_per_q,
            relative_roughness: eps_m / d_h_m,
            square,
            laminar: square * 64.0 / re_per_q,
        }
    }

    /// Pressure lost (Pa) at a flow (m3/s, either sign) and its slope (Pa s/m3).
    pub fn loss(&self, q_m3_s: f64) -> (f64, f64) {
        let q = q_m3_s.abs();
        let re = self.re_per_q * q;
        if re <= LAMINAR_REYNOLDS {
            return (self.laminar * q_m3_s, self.laminar);
        }
        let f = friction_factor(re, self.relative_roughness);
        let square_q = self.square * q;
        (square_q * f.factor * q_m3_s, square_q * (2.0 * f.factor + f.slope_by_ln_re))
    }

    /// Reynolds number at a flow (m3/s).
    pub fn reynolds(&self, q_m3_s: f64) -> f64 {
        self.re_per_q * q_m3_s.abs()
    }
}

/// A straight piece of duct in typed quantities.
///
/// ```
/// # use dewpath_air::friction::Duct;
/// # use dewpath_units::{Airflow, Length};
/// // 25 ft of 4 in. smooth pipe at 50 cfm
/// let duct = Duct::round(Length::from_inches(4.0), Length::from_feet(25.0), Length::from_mm(0.09));
/// let loss = duct.kernel(1.2, 1.82e-5)?.loss(Airflow::from_cfm(50.0).m3_s()).0;
/// assert!((loss - 10.626).abs() < 0.01);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duct {
    /// Hydraulic diameter, 4 × area / wetted perimeter.
    pub hydraulic_diameter: Length,
    /// Free area.
    pub area: Area,
    /// Length along the axis.
    pub length: Length,
    /// Roughness of the wall.
    pub roughness: Length,
    /// Factor on the loss: 1, or the compression factor of flexible duct.
    pub multiplier: f64,
}

const DIAMETER: Domain = positive("hydraulic diameter", "m", "a duct has a size");
const AREA: Domain = positive("duct area", "m2", "a duct has a size");
const LENGTH: Domain = not_negative("duct length", "m", "a length cannot be negative");
const MULTIPLIER: Domain = not_negative("loss multiplier", "", "a factor cannot be negative");
const DENSITY: Domain = positive("air density", "kg/m3", "air has a density");
const VISCOSITY: Domain = positive("air viscosity", "Pa s", "air has a viscosity");
const RELATIVE_ROUGHNESS: Domain = Domain {
    quantity: "roughness over hydraulic diameter",
    unit: "",
    low: 0.0,
    high: 0.1,
    reason: "beyond a tenth of the diameter the wall is an obstacle and not a roughness: give the smaller free size instead",
};

impl Duct {
    /// A round duct of this inside diameter, not compressed.
    pub fn round(diameter: Length, length: Length, roughness: Length) -> Self {
        let d = diameter.m();
        Self {
            hydraulic_diameter: diameter,
            area: Area::from_m2(PI / 4.0 * d * d),
            length,
            roughness,
            multiplier: 1.0,
        }
    }

    /// The kernel for air of this density (kg/m3) and dynamic viscosity (Pa s).
    ///
    /// # Errors
    /// Names the size that cannot be (not a number, zero, negative, or a roughness over a tenth of the diameter).
    pub fn kernel(&self, rho: f64, mu: f64) -> Result<DuctKernel, OutOfDomain> {
        let d = DIAMETER.check(self.hydraulic_diameter.m())?;
        RELATIVE_ROUGHNESS.check(self.roughness.m() / d)?;
        Ok(DuctKernel::new(
            d,
            AREA.check(self.area.m2())?,
            LENGTH.check(self.length.m())?,
            self.roughness.m(),
            MULTIPLIER.check(self.multiplier)?,
            DENSITY.check(rho)?,
            VISCOSITY.check(mu)?,
        ))
    }

    /// Pressure lost at a flow, in air of this density and dynamic viscosity (Pa s).
    ///
    /// # Errors
    /// As [`Duct::kernel`].
    pub fn loss(&self, flow: Airflow, density: Density, mu: f64) -> Result<Pressure, OutOfDomain> {
        Ok(Pressure::from_pa(self.kernel(density.kg_m3(), mu)?.loss(flow.m3_s()).0))
    }
}

/// Roughness of one duct material.
///
/// Millimetres only: handbook editions moved their category names ("average", "medium smooth") between values, so
/// a name is no key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roughness {
    /// What it is made of, and how.
    pub material: &'static str,
    /// Least usual value, mm.
    pub low_mm: f64,
    /// Value to use when nothing else is known, mm.
    pub likely_mm: f64,
    /// Greatest usual value, mm.
    pub high_mm: f64,
    /// Where the values are from.
    pub source: &'static str,
}

const HANDBOOK: &str = "ASHRAE Fundamentals 2021, ch. 21, duct roughness table";

/// Roughness per material.
///
/// A likely value inside the printed range is the printed one of the material's row where there is one, else
/// the geometric middle.
pub const ROUGHNESS: &[Roughness] = &[
    Roughness {
        material: "drawn tubing",
        low_mm: 0.0005,
        likely_mm: 0.0005,
        high_mm: 0.0015,
        source: "ASHRAE Fundamentals 2021, ch. 21 (0.0005); upper value from memory (pipe handbooks)",
    },
    Roughness {
        material: "PVC pipe",
        low_mm: 0.009,
        likely_mm: 0.02,
        high_mm: 0.046,
        source: HANDBOOK,
    },
    Roughness {
        material: "commercial steel pipe",
        low_mm: 0.046,
        likely_mm: 0.046,
        high_mm: 0.046,
        source: HANDBOOK,
    },
    Roughness {
        material: "aluminium, round, crimped slip joints",
        low_mm: 0.037,
        likely_mm: 0.046,
        high_mm: 0.061,
        source: HANDBOOK,
    },
    Roughness {
        material: "galvanised steel, round, longitudinal seam",
        low_mm: 0.05,
        likely_mm: 0.09,
        high_mm: 0.1,
        source: HANDBOOK,
    },
    Roughness {
        material: "galvanised steel, round, spiral seam",
        low_mm: 0.06,
        likely_mm: 0.09,
        high_mm: 0.12,
        source: HANDBOOK,
    },
    Roughness {
        material: "galvanised steel, rectangular",
        low_mm: 0.08,
        likely_mm: 0.09,
        high_mm: 0.15,
        source: HANDBOOK,
    },
    Roughness {
        material: "galvanised steel, as in old friction charts",
        low_mm: 0.15,
        likely_mm: 0.15,
        high_mm: 0.15,
        source: HANDBOOK,
    },
    Roughness {
        material: "fibrous liner",
        low_mm: 0.9,
        likely_mm: 1.6,
        high_mm: 3.0,
        source: HANDBOOK,
    },
    Roughness {
        material: "flexible duct, fully extended",
        low_mm: 0.09,
        likely_mm: 0.9,
        high_mm: 0.9,
        source: HANDBOOK,
    },
    Roughness {
        material: "concrete",
        low_mm: 1.3,
        likely_mm: 3.0,
        high_mm: 3.0,
        source: "from memory (ASHRAE Fundamentals, ch. 21)",
    },
];

/// The row of a material by its exact name in [`ROUGHNESS`]; never a nearest guess.
pub fn roughness_of(material: &str) -> Option<&'static Roughness> {
    ROUGHNESS.iter().find(|row| row.material == material)
}
