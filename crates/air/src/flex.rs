//! Flexible duct as it is really pulled: compression, sag, bends and crushing.
//!
//! Flexible duct is measured well for 150 to 250 mm only. Everything here is a band, and says when it is asked
//! outside what was tested.

use core::f64::consts::FRAC_PI_2;

use dewpath_units::{Angle, Length, Ratio};

use crate::domain::{Domain, OutOfDomain, positive};
use crate::law::Law;

/// Roughness of fully extended flexible duct, mm (ASHRAE Fundamentals 2021, ch. 21: 0.09 to 0.9).
pub const EXTENDED_ROUGHNESS_MM: f64 = 0.9;

/// Half width of the band of the compression factor: measured values spread by tens of percent. Judgement.
pub const COMPRESSION_BAND: (f64, f64) = (0.6, 1.4);

/// Diameters the compression factor was measured for, mm.
pub const TESTED_DIAMETERS_MM: (f64, f64) = (150.0, 250.0);

/// Greatest compression measured, as a part of the extended length.
const TESTED_COMPRESSION: f64 = 0.45;

/// How a flexible duct was put in, when its extended length isn't known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pull {
    /// Pulled tight and supported.
    Tight,
    /// The usual care.
    Normal,
    /// Slack, more duct than the way needs.
    Slack,
}

impl Pull {
    /// Compression, the part by which the run is shorter than the extended duct: 4, 15 and 30 %. Judgement; trade
    /// articles by test authors put a released duct near 15 % and common practice near 30 %.
    pub fn compression(self) -> Ratio {
        Ratio::from_ratio(match self {
            Self::Tight => 0.04,
            Self::Normal => 0.15,
            Self::Slack => 0.30,
        })
    }
}

/// Three figures and whether they lie outside what was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Least.
    pub low: f64,
    /// Likely.
    pub likely: f64,
    /// Greatest.
    pub high: f64,
    /// Outside the measured range: show it.
    pub extrapolated: bool,
}

impl Band {
    /// Value at a place in the band: `u` 0 low, 0.5 likely, 1 high, straight between; outside 0..1 the end.
    pub fn at(&self, u: f64) -> f64 {
        let u = u.clamp(0.0, 1.0);
        if u < 0.5 {
            self.low + (self.likely - self.low) * 2.0 * u
        } else {
            self.likely + (self.high - self.likely) * (2.0 * u - 1.0)
        }
    }
}

const DIAMETER: Domain = positive("diameter of the flexible duct", "m", "a duct has a size");
const COMPRESSION: Domain = Domain {
    quantity: "compression of the flexible duct",
    unit: "",
    low: 0.0,
    high: 0.9,
    reason: "it is the part of the extended length that is lost: 0 when pulled tight, 0.3 when slack",
};
const SPAN: Domain = positive("span between supports", "m", "supports stand apart");
const SAG: Domain = Domain {
    quantity: "sag over the span between supports",
    unit: "",
    low: 0.0,
    high: 0.5,
    reason: "deeper than half its span a duct hangs as a loop: give it as bends",
};
const FREE_HEIGHT: Domain = Domain {
    quantity: "free height over diameter",
    unit: "",
    low: 0.02,
    high: 1.0,
    reason: "1 is a round duct; one that is shut passes no air",
};
const BEND: Domain = Domain {
    quantity: "bend angle",
    unit: "rad",
    low: 0.0,
    high: core::f64::consts::PI,
    reason: "give a longer turn as several bends",
};

/// Straight duct times the [`compression_factor`], as a working shows it.
pub const FLEXIBLE_DUCT: Law = Law::memory(
    "dp = f(Re, eps/D) L/D rho v^2/2 m (1 + 58 r exp(-0.00496 D_mm))",
    "Darcy-Weisbach, Colebrook-White; Abushakra, Walker & Sherman 2004",
    "compression factor",
);

/// Factor on the loss of extended flexible duct, per installed length, when it is compressed lengthwise.
///
/// 1 + 0.58 r exp(−0.00496 D), r in percent of the extended length, D in mm.
///
/// Source: ASHRAE Fundamentals ch. 21 (2009 on), from Abushakra, Walker & Sherman, HVAC&R Research 10 (2004) no. 3;
/// the formula is from memory, that moderate compression costs four times and more close to ten is as published.
/// Band × 0.6 to × 1.4 (the factor itself, never below 1). Tested 150 to 250 mm and to about 45 %: outside,
/// `extrapolated` is set. **100 and 125 mm are outside.**
///
/// # Errors
/// No size, or a compression that cannot be.
///
/// ```
/// # use dewpath_air::flex::{Pull, compression_factor};
/// # use dewpath_units::Length;
/// let factor = compression_factor(Pull::Normal.compression(), Length::from_inches(4.0))?;
/// assert!((factor.likely - 6.256).abs() < 1e-3 && factor.extrapolated);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn compression_factor(compression: Ratio, diameter: Length) -> Result<Band, OutOfDomain> {
    let part = COMPRESSION.check(compression.ratio())?;
    let d_mm = 1000.0 * DIAMETER.check(diameter.m())?;
    let likely = 1.0 + 0.58 * 100.0 * part * libm::exp(-0.00496 * d_mm);
    let (low, high) = COMPRESSION_BAND;
    let (least, greatest) = TESTED_DIAMETERS_MM;
    Ok(Band {
        low: (low * likely).max(1.0),
        likely,
        high: high * likely,
        extrapolated: d_mm < least || d_mm > greatest || part > TESTED_COMPRESSION,
    })
}

/// What sag between supports adds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sag {
    /// Length along the duct over the straight distance.
    pub length_factor: f64,
    /// Loss coefficient of the turns in one span.
    pub coefficient_per_span: Band,
}

/// Extra length and turns of a duct that hangs by `sag` (lowest point below the supports) over a `span`.
///
/// The axis is taken as a parabola: length 1 + 8/3 (s/L)² times the span, slope at the supports 4 s/L, and the
/// air turns by twice that angle at the bottom and as much again at the support.
/// Source: closed form of the shape; the loss per turn is [`bend`], judgement. Valid for a sag to half the span
/// (the length is then 7 % over the true arc).
///
/// # Errors
/// No span, or a sag deeper than half of it.
pub fn sag(span: Length, sag: Length) -> Result<Sag, OutOfDomain> {
    let ratio = SAG.check(sag.m() / SPAN.check(span.m())?)?;
    let turn = 2.0 * libm::atan(4.0 * ratio);
    let one = bend(Angle::from_rad(turn))?;
    Ok(Sag {
        length_factor: 1.0 + 8.0 / 3.0 * ratio * ratio,
        coefficient_per_span: Band {
            low: 2.0 * one.low,
            likely: 2.0 * one.likely,
            high: 2.0 * one.high,
            extrapolated: one.extrapolated,
        },
    })
}

/// Loss coefficient of a supported bend in flexible duct, beside the friction of its length.
///
/// 0.3 to 0.6 for 90° (the class of pleated elbows), in proportion to the angle. Judgement: there is no reliable
/// table for 100 to 150 mm, so `extrapolated` is always set.
///
/// # Errors
/// An angle below zero or above 180°.
pub fn bend(angle: Angle) -> Result<Band, OutOfDomain> {
    let share = BEND.check(angle.rad())? / FRAC_PI_2;
    Ok(Band { low: 0.3 * share, likely: 0.45 * share, high: 0.6 * share, extrapolated: true })
}

/// Free area of a duct pressed flat, over its round area: x(2 − x) for a free height of x diameters.
///
/// Closed form: a flat oval with the perimeter of the round duct.
///
/// # Errors
/// A height that isn't between shut and round.
pub fn flattened_area(free_height: Ratio) -> Result<Ratio, OutOfDomain> {
    let x = FREE_HEIGHT.check(free_height.ratio())?;
    Ok(Ratio::from_ratio(x * (2.0 - x)))
}

/// [`crushed`], as a working shows it.
pub const CRUSHED: Law = Law::confirmed(
    "dp = (0.5 (1 - s) + (1 - s)^2) / s^2 rho v^2/2",
    "contraction and Borda-Carnot expansion",
    "",
);

/// Loss coefficient of a short crushed place, on the velocity of the round duct.
///
/// Narrowing 0.5 (1 − σ) and widening (1 − σ)², both on the narrow velocity, with σ the free area ratio
/// [`flattened_area`]: C = [0.5 (1 − σ) + (1 − σ)²]/σ².
/// Source: Borda–Carnot and the usual sharp narrowing (Idelchik, Handbook of Hydraulic Resistance). A rounded kink
/// loses less at its entry: the band goes down to the widening alone.
///
/// # Errors
/// A height that isn't between shut and round.
pub fn crushed(free_height: Ratio) -> Result<Band, OutOfDomain> {
    let sigma = flattened_area(free_height)?.ratio();
    let lost = 1.0 - sigma;
    let square = 1.0 / (sigma * sigma);
    let high = (0.5 * lost + lost * lost) * square;
    let low = lost * lost * square;
    Ok(Band { low, likely: 0.5 * (low + high), high, extrapolated: false })
}
