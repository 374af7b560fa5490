//! Air that leaves through the seams of a duct before it gets outdoors.
//!
//! Q = C_L·A·ΔP^0.65 with the duct's surface A. European classes give C_L in m3/(s m2 Pa^0.65), US leakage classes
//! the flow in cfm per 100 ft2 at 1 in. of water.

use dewpath_units::{Airflow, Area, Pressure};

use crate::domain::{Domain, OutOfDomain, not_negative};
use crate::law::Law;

/// Exponent of pressure.
pub const EXPONENT: f64 = 0.65;

/// C_L of one US leakage class unit, m3/(s m2 Pa^0.65): 1 cfm per 100 ft2 at 1 in. of water, by units alone.
const US_CLASS_UNIT: f64 = 1.406_803_2e-6;

/// How tight a duct is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tightness {
    /// European class A: 0.027 L/(s m2) at 1 Pa. EN 12237:2003, from memory.
    ClassA,
    /// European class B: 0.009. EN 12237:2003, from memory.
    ClassB,
    /// European class C: 0.003. EN 12237:2003, from memory.
    ClassC,
    /// European class D: 0.001. EN 12237:2003, from memory.
    ClassD,
    /// US leakage class, cfm per 100 ft2 at 1 in. of water: 48 for unsealed rectangular, 30 for unsealed round duct,
    /// 3 for sealed round. SMACNA, HVAC Air Duct Leakage Test Manual, from memory.
    UsClass(f64),
}

impl Tightness {
    /// C_L, m3/(s m2 Pa^0.65).
    pub fn coefficient(self) -> f64 {
        match self {
            Self::ClassA => 2.7e-5,
            Self::ClassB => 9e-6,
            Self::ClassC => 3e-6,
            Self::ClassD => 1e-6,
            Self::UsClass(class) => class * US_CLASS_UNIT,
        }
    }
}

const SURFACE: Domain = not_negative("duct surface", "m2", "a surface cannot be negative");
const CLASS: Domain = not_negative("duct leakage class", "", "a leak cannot be negative");
const START: Domain = not_negative(
    "pressure in the duct",
    "Pa",
    "give the pressure outward; a duct under suction leaks inward: give its size",
);

/// [`leakage`] of joints that share one pressure, as a working shows it.
pub const JOINTS: Law = Law::memory(
    "q = C_L sum(perimeter L) dp^0.65",
    "SMACNA, HVAC Air Duct Leakage Test Manual",
    "classes 3 and 30",
);

/// Flow through the seams of a duct whose inside pressure falls in a straight line from `start` to `end`.
///
/// C_L·A·mean(p^0.65), mean = (p₁^1.65 − p₂^1.65)/(1.65 (p₁ − p₂)): closed form of the integral along the run.
/// Source: the leakage law of EN 12237 and of the SMACNA manual (classes from memory); valid to 1000 Pa.
///
/// # Errors
/// A negative surface, class or pressure.
///
/// ```
/// # use dewpath_air::duct_leakage::{Tightness, leakage};
/// # use dewpath_units::{Area, Pressure};
/// // 6 m of 100 mm duct, class A, 40 Pa at the fan, 10 Pa at the cap
/// let lost = leakage(Tightness::ClassA, Area::from_m2(1.885), Pressure::from_pa(40.0), Pressure::from_pa(10.0))?;
/// assert!((lost.l_s() - 0.4064).abs() < 0.0001);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn leakage(
    tightness: Tightness,
    surface: Area,
    start: Pressure,
    end: Pressure,
) -> Result<Airflow, OutOfDomain> {
    let area = SURFACE.check(surface.m2())?;
    let coefficient = CLASS.check(tightness.coefficient())?;
    let p1 = START.check(start.pa())?;
    let p2 = START.check(end.pa())?;
    Ok(Airflow::from_m3_s(coefficient * area * mean_power(p1, p2)))
}

/// [`fraction_lost`], as a working shows it.
pub const SHARE: Law = Law::memory(
    "share = C_L A mean(p^0.65) / q",
    "SMACNA, HVAC Air Duct Leakage Test Manual",
    "classes 30 and 3, round duct",
);

/// The part of `flow` that a run loses: [`leakage`] over flow, at most 1; `None` when there is no flow.
///
/// # Errors
/// As [`leakage`].
pub fn fraction_lost(
    tightness: Tightness,
    surface: Area,
    start: Pressure,
    end: Pressure,
    flow: Airflow,
) -> Result<Option<f64>, OutOfDomain> {
    let lost = leakage(tightness, surface, start, end)?.m3_s();
    let q = flow.m3_s();
    Ok((q > 0.0).then(|| (lost / q).min(1.0)))
}

/// Mean of p^0.65 while p goes in a straight line from `p1` to `p2`.
fn mean_power(p1: f64, p2: f64) -> f64 {
    let rise = EXPONENT + 1.0;
    // Nearly level: the quotient below would lose its digits.
    if (p1 - p2).abs() <= 1e-6 * p1.max(p2) {
        return libm::pow(0.5 * (p1 + p2), EXPONENT);
    }
    (libm::pow(p1, rise) - libm::pow(p2, rise)) / (rise * (p1 - p2))
}
