//! Loss of a fitting over flow, with its slope.

use super::reynolds::{HELD_BELOW_REYNOLDS, ReynoldsCurve, reynolds_factor};

/// Flow below which a square law goes over into a laminar-like one, m3/s: it keeps a slope at rest.
pub const LAMINAR_FLOW_M3_S: f64 = 1e-5;

/// k·Q|Q| with its slope; below [`LAMINAR_FLOW_M3_S`] an odd cubic with the same value and slope there.
pub(crate) fn square_loss(k: f64, q: f64) -> (f64, f64) {
    let q_abs = q.abs();
    if q_abs >= LAMINAR_FLOW_M3_S {
        return (k * q * q_abs, 2.0 * k * q_abs);
    }
    let straight = 0.5 * k * LAMINAR_FLOW_M3_S;
    let bent = 0.5 * k / LAMINAR_FLOW_M3_S;
    (q * (straight + bent * q * q), straight + 3.0 * bent * q * q)
}

/// A fitting as a network edge: ΔP = C·ρV|V|/2, C constant or corrected for the Reynolds number.
///
/// Odd in flow, continuous with its slope, strictly increasing while C is above zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LossKernel {
    /// C·ρ/(2A²), forward and backward.
    forward: f64,
    backward: f64,
    correction: Option<Correction>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Correction {
    re_per_q: f64,
    curve: ReynoldsCurve,
}

impl LossKernel {
    /// A constant coefficient on the velocity in `area_m2`, air of `rho` kg/m3 (both above zero).
    pub fn new(coefficient: f64, area_m2: f64, rho: f64) -> Self {
        let k = coefficient * rho / (2.0 * area_m2 * area_m2);
        Self { forward: k, backward: k, correction: None }
    }

    /// One coefficient each way: a transition, an entry or an exit that air may pass backwards.
    pub fn two_way(forward: f64, backward: f64, area_m2: f64, rho: f64) -> Self {
        let per_velocity = rho / (2.0 * area_m2 * area_m2);
        Self {
            forward: forward * per_velocity,
            backward: backward * per_velocity,
            correction: None,
        }
    }

    /// A coefficient that grows at low Reynolds number along `curve`; `d_h_m` in m, `mu` in Pa s.
    pub fn corrected(
        coefficient: f64,
        curve: ReynoldsCurve,
        d_h_m: f64,
        area_m2: f64,
        rho: f64,
        mu: f64,
    ) -> Self {
        let correction = Some(Correction { re_per_q: rho * d_h_m / (mu * area_m2), curve });
        Self { correction, ..Self::new(coefficient, area_m2, rho) }
    }

    /// Pressure lost (Pa) at a flow (m3/s, either sign) and its slope (Pa s/m3).
    pub fn loss(&self, q_m3_s: f64) -> (f64, f64) {
        let k = if q_m3_s < 0.0 { self.backward } else { self.forward };
        let (dp, slope) = square_loss(k, q_m3_s);
        let Some(Correction { re_per_q, curve }) = self.correction else {
            return (dp, slope);
        };
        let (factor, by_re) = reynolds_factor(curve, re_per_q * q_m3_s.abs());
        (dp * factor, slope * factor + dp.abs() * by_re * re_per_q)
    }

    /// Whether the Reynolds factor at this flow (m3/s) is a held value without a source: Re below
    /// [`HELD_BELOW_REYNOLDS`]. Never for a constant coefficient.
    pub fn is_held(&self, q_m3_s: f64) -> bool {
        self.correction.is_some_and(|it| it.re_per_q * q_m3_s.abs() < HELD_BELOW_REYNOLDS)
    }
}
