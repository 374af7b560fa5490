//! A loss coefficient with what is known about it.

use super::kernel::LossKernel;
use super::reynolds::ReynoldsCurve;

/// Loss coefficient C of ΔP = C·ρV²/2 (loss of total pressure), as a band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficient {
    /// Least; equal to `likely` where the source gives one value.
    pub low: f64,
    /// Likely.
    pub likely: f64,
    /// Greatest.
    pub high: f64,
    /// How it grows at low Reynolds number, if it does.
    pub reynolds: Option<ReynoldsCurve>,
    /// Asked outside the sizes or angles of its source; the nearest one is held.
    pub extrapolated: bool,
    /// Where it is from.
    pub source: &'static str,
}

impl Coefficient {
    /// One published value.
    pub(crate) const fn one(value: f64, source: &'static str) -> Self {
        Self { low: value, likely: value, high: value, reynolds: None, extrapolated: false, source }
    }

    /// Three values.
    pub(crate) const fn band(low: f64, likely: f64, high: f64, source: &'static str) -> Self {
        Self { low, likely, high, reynolds: None, extrapolated: false, source }
    }

    /// The value at a place in the band: `u` 0 low, 0.5 likely, 1 high, straight between; outside 0..1 the end.
    pub fn at(&self, u: f64) -> f64 {
        let u = u.clamp(0.0, 1.0);
        if u < 0.5 {
            self.low + (self.likely - self.low) * 2.0 * u
        } else {
            self.likely + (self.high - self.likely) * (2.0 * u - 1.0)
        }
    }

    /// All three times a factor.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        let Self { low, likely, high, .. } = self;
        Self { low: low * factor, likely: likely * factor, high: high * factor, ..self }
    }

    /// The network edge at a place `u` in the band: hydraulic diameter (m) and area (m2) of the section the
    /// coefficient refers to, density (kg/m3) and dynamic viscosity (Pa s), all above zero.
    pub fn kernel(&self, u: f64, d_h_m: f64, area_m2: f64, rho: f64, mu: f64) -> LossKernel {
        match self.reynolds {
            Some(curve) => LossKernel::corrected(self.at(u), curve, d_h_m, area_m2, rho, mu),
            None => LossKernel::new(self.at(u), area_m2, rho),
        }
    }
}

/// Straight-line interpolation in a table with rising `x`, the ends held; with whether `at` lies outside.
pub(crate) fn interpolate(x: &[f64], y: &[f64], at: f64) -> (f64, bool) {
    let Some(above) = x.iter().position(|&node| at <= node) else {
        return (y[y.len() - 1], true);
    };
    if above == 0 {
        return (y[0], at < x[0]);
    }
    let share = (at - x[above - 1]) / (x[above] - x[above - 1]);
    (y[above - 1] + share * (y[above] - y[above - 1]), false)
}

/// Whether two angles or ratios are the same one, unit conversion aside.
pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// An angle in degrees as it was written: a degree stored in radians and read back may miss the last digit.
pub(crate) fn degrees(angle: dewpath_units::Angle) -> f64 {
    libm::round(angle.deg() * 1e9) / 1e9
}
