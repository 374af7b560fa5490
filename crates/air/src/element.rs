//! What stands between two nodes of a duct network, each as pressure lost over flow.
//!
//! Sign: flow is positive from the first to the second node of an edge; `loss` is the total pressure lost in
//! that direction, so a fan or a source has a negative loss. Every element gives its slope with its loss, is
//! defined for every flow in both directions, and is continuous.
//!
//! Square and power laws have no slope at zero flow, which no Newton step survives. Below
//! [`LAMINAR_FLOW_M3_S`] they go over into an odd cubic with the same value and slope there: above it the law is
//! exact, below it (a hundredth of a litre per second, far below any air change that matters) it ends in a
//! straight line, as real laminar flow does.

use crate::fan::FanCurve;
use crate::fittings::{JunctionLaw, LossKernel};
use crate::friction::DuctKernel;
use crate::law::Law;
use crate::network::id::EdgeId;
use crate::terminal::TerminalKernel;

/// Flow below which square and power laws go over into a laminar-like one, m3/s.
pub const LAMINAR_FLOW_M3_S: f64 = 1e-5;

/// One thing the air passes.
///
/// `Clone` is cheap for all of them.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Element {
    /// A straight piece of duct with friction.
    Duct(DuctKernel),
    /// A fitting with a loss coefficient.
    Loss(LossKernel),
    /// The end outdoors with its flap; flow is positive outward.
    Terminal(TerminalKernel),
    /// Loss k Q|Q|, k in Pa s2/m6: an opening, a door gap, a grille, a fitting of constant coefficient.
    Quadratic {
        /// Pressure over flow squared, Pa s2/m6.
        k: f64,
    },
    /// Loss of a crack or any law Q = C dP^n.
    PowerLaw(PowerLaw),
    /// A pressure that doesn't depend on flow, Pa, positive when it drives along the edge: wind, stack.
    Source {
        /// Pressure added in the direction of the edge, Pa.
        pa: f64,
    },
    /// A damper that lets air pass one way.
    Damper(BackdraftDamper),
    /// A running fan blowing along the edge.
    Fan(FanCurve),
    /// A running fan blowing against the edge's direction.
    FanReversed(FanCurve),
    /// A tee or wye whose loss depends on how the flow splits.
    Junction(JunctionLoss),
}

/// A loss that goes with the square of the flow through one known point, as a working shows it.
pub const POINT: Law =
    Law::confirmed("dp = p0 (q / q0)^2", "measured or maker's point of the job", "");

impl Element {
    /// A sharp opening: dP = rho/2 (Q/(Cd A))^2, with its area (m2), discharge coefficient and air density (kg/m3).
    ///
    /// Source: ISO 5167-1 in the simple form used for building openings; Cd about 0.6 for a sharp edge.
    pub fn orifice(area_m2: f64, discharge: f64, density_kg_m3: f64) -> Self {
        let effective = area_m2 * discharge;
        Self::Quadratic { k: 0.5 * density_kg_m3 / (effective * effective) }
    }

    /// A loss coefficient on the velocity in an area (m2): dP = C rho/2 (Q/A)^2.
    pub fn coefficient(c: f64, area_m2: f64, density_kg_m3: f64) -> Self {
        Self::Quadratic { k: 0.5 * c * density_kg_m3 / (area_m2 * area_m2) }
    }

    /// A fan at rest: air may pass it either way against its resistance (Pa s2/m6).
    ///
    /// For want of a measured value see [`FanCurve::idle_resistance`].
    pub fn idle_fan(resistance: f64) -> Self {
        Self::Quadratic { k: resistance }
    }

    /// Pressure lost (Pa) at a flow (m3/s) and its slope (Pa s/m3).
    ///
    /// A junction needs the flow of another edge as well and answers zero here: see [`JunctionLoss::loss`].
    #[inline]
    pub fn loss(&self, q: f64) -> (f64, f64) {
        match self {
            Self::Duct(duct) => duct.loss(q),
            Self::Loss(fitting) => fitting.loss(q),
            Self::Terminal(terminal) => terminal.loss(q),
            Self::Quadratic { k } => quadratic(*k, q),
            Self::PowerLaw(law) => law.loss(q),
            Self::Source { pa } => (-pa, 0.0),
            Self::Damper(damper) => damper.loss(q),
            Self::Fan(fan) => {
                let (rise, slope) = fan.rise(q);
                (-rise, -slope)
            }
            Self::FanReversed(fan) => {
                let (rise, slope) = fan.rise(-q);
                (rise, -slope)
            }
            Self::Junction(_) => (0.0, 0.0),
        }
    }
}

/// k Q|Q|, exact above the laminar flow.
#[inline]
fn quadratic(k: f64, q: f64) -> (f64, f64) {
    let size = q.abs();
    if size >= LAMINAR_FLOW_M3_S {
        return (k * q * size, 2.0 * k * size);
    }
    let share = q / LAMINAR_FLOW_M3_S;
    let linear = 0.5 * k * LAMINAR_FLOW_M3_S;
    (linear * q * (1.0 + share * share), linear * (1.0 + 3.0 * share * share))
}

/// The law Q = C dP^n of cracks and leaks, with C in m3/(s Pa^n) and 0.5 <= n <= 1.
///
/// Source: the crack-flow law of ISO 9972 (and ASTM E779) for the leakage of an envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerLaw {
    coefficient: f64,
    power: f64,
    /// Loss at the laminar flow.
    at_laminar: f64,
}

/// Why an element can't be made.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ElementError {
    /// A size that must be positive isn't.
    #[error("{what} must be a finite number above zero, not {value}")]
    NotPositive {
        /// What the number is.
        what: &'static str,
        /// The number as given, SI.
        value: f64,
    },
    /// A flow exponent outside what a crack can have.
    #[error("the flow exponent must lie between 0.5 (turbulent) and 1 (laminar), not {value}")]
    Exponent {
        /// The exponent as given.
        value: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, ElementError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(ElementError::NotPositive { what, value })
    }
}

impl PowerLaw {
    /// From the coefficient C (m3/(s Pa^n)) and the exponent n.
    ///
    /// # Errors
    /// A coefficient that isn't above zero, an exponent outside 0.5 to 1.
    pub fn new(coefficient: f64, exponent: f64) -> Result<Self, ElementError> {
        positive("the flow coefficient", coefficient)?;
        if !(0.5..=1.0).contains(&exponent) {
            return Err(ElementError::Exponent { value: exponent });
        }
        let power = 1.0 / exponent;
        let at_laminar = libm::pow(LAMINAR_FLOW_M3_S / coefficient, power);
        Ok(Self { coefficient, power, at_laminar })
    }

    /// From a loss written as r |Q|^m, r in Pa (s/m3)^m and 1 <= m <= 2.
    ///
    /// # Errors
    /// As [`PowerLaw::new`].
    pub fn from_resistance(r: f64, m: f64) -> Result<Self, ElementError> {
        positive("the resistance", r)?;
        positive("the power of the flow", m)?;
        Self::new(libm::pow(r, -1.0 / m), 1.0 / m)
    }

    /// Pressure lost (Pa) at a flow (m3/s) and its slope (Pa s/m3).
    #[inline]
    pub fn loss(&self, q: f64) -> (f64, f64) {
        let size = q.abs();
        if size >= LAMINAR_FLOW_M3_S {
            // 18 ns against 30 ns for `pow`, the last digit or two aside; leaks are in every draw.
            let dp = libm::exp(self.power * libm::log(size / self.coefficient));
            return (dp.copysign(q), self.power * dp / size);
        }
        let share = q / LAMINAR_FLOW_M3_S;
        let unit = 0.5 * self.at_laminar / LAMINAR_FLOW_M3_S;
        let cubic = (self.power - 1.0) * share * share;
        (unit * q * (3.0 - self.power + cubic), unit * (3.0 - self.power + 3.0 * cubic))
    }
}

/// A damper that opens with the flow and leaks a little against it, such as the flap of an idle fan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackdraftDamper {
    opening_pa: f64,
    open_k: f64,
    leak_k: f64,
}

/// Flow over which the flap's weight comes to bear, m3/s. Judgement, no source.
const FLAP_LIFT_FLOW_M3_S: f64 = 5e-4;

impl BackdraftDamper {
    /// A damper from the pressure that holds its flap open (Pa), its loss when open, k in Pa s2/m6, and the
    /// flow (m3/s) that leaks back through the closed flap at a pressure (Pa).
    ///
    /// Forwards dP = a Q/sqrt(Q^2 + q0^2) + k Q^2: the weight of the flap is a nearly constant loss. Backwards
    /// the leak is an opening, dP ~ Q^2. The slope jumps at zero flow, the loss doesn't.
    ///
    /// # Errors
    /// [`ElementError::NotPositive`] for a leak that isn't above zero (a perfectly tight flap has no answer for
    /// the pressure behind it), or a negative opening pressure or loss.
    pub fn new(
        opening_pa: f64,
        open_k: f64,
        leak_m3_s: f64,
        leak_at_pa: f64,
    ) -> Result<Self, ElementError> {
        positive("the leak of the closed damper", leak_m3_s)?;
        positive("the pressure at which the damper leaks", leak_at_pa)?;
        for (what, value) in [
            ("the opening pressure of the damper", opening_pa),
            ("the loss of the open damper", open_k),
        ] {
            if !(value.is_finite() && value >= 0.0) {
                return Err(ElementError::NotPositive { what, value });
            }
        }
        Ok(Self { opening_pa, open_k, leak_k: leak_at_pa / (leak_m3_s * leak_m3_s) })
    }

    /// Pressure lost (Pa) at a flow (m3/s) and its slope (Pa s/m3).
    #[inline]
    pub fn loss(&self, q: f64) -> (f64, f64) {
        if q < 0.0 {
            return quadratic(self.leak_k, q);
        }
        let (open, slope) = quadratic(self.open_k, q);
        let root = (q * q + FLAP_LIFT_FLOW_M3_S * FLAP_LIFT_FLOW_M3_S).sqrt();
        let lift = q / root;
        (self.opening_pa * lift + open, self.opening_pa * (1.0 - lift * lift) / root + slope)
    }
}

/// Loss of a tee or wye path as a coefficient on the velocity pressure of its common leg.
///
/// The edge it stands in is a branch or the straight path; `common` is the edge that carries the whole flow. With
/// x = own flow / common flow, dP = K(x) k |q_c| q_c where k = rho/(2 A_c^2). K may be negative: a fast stream
/// drags the other along.
///
/// Outside 0 <= x <= 1 one leg blows into the other past the common one; the published forms don't cover that. K is
/// held at its end, so that the loss stays continuous; a held negative K can leave the network without any balance,
/// which the solver then reports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JunctionLoss {
    /// The edge with the whole flow.
    pub common: EdgeId,
    /// Whether that edge runs along with this one (both towards the same end of the system) or against it.
    pub runs_along: bool,
    /// Velocity pressure of the common leg over its flow squared, rho/(2 A^2), Pa s2/m6.
    pub k_common: f64,
    /// The coefficient over the share of the flow while the flow goes along the edge.
    pub forward: SplitLaw,
    /// The same while it goes against the edge, where a converging tee diverges and the other way round.
    pub backward: SplitLaw,
}

/// A loss coefficient over the flow share x = q/q_common.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum SplitLaw {
    /// A published form for a tee or wye.
    Published(JunctionLaw),
    /// K = c0 + c1 x + c2 x^2 + c3 x^3.
    Polynomial([f64; 4]),
}

impl SplitLaw {
    /// Coefficient and its slope in x, for x from 0 to 1.
    #[inline]
    pub fn coefficient(&self, x: f64) -> (f64, f64) {
        match self {
            Self::Published(law) => law.coefficient(x),
            Self::Polynomial([c0, c1, c2, c3]) => {
                (c0 + x * (c1 + x * (c2 + x * c3)), c1 + x * (2.0 * c2 + 3.0 * x * c3))
            }
        }
    }
}

impl JunctionLoss {
    /// Pressure lost at the own and the common flow (m3/s), with the slopes by own and by common flow.
    #[inline]
    pub fn loss(&self, own: f64, common: f64) -> (f64, f64, f64) {
        let sign = if self.runs_along { 1.0 } else { -1.0 };
        let whole = common * sign;
        let (dynamic, dynamic_slope) = quadratic(self.k_common, whole);
        let law = if whole < 0.0 { &self.backward } else { &self.forward };
        let ratio = if whole == 0.0 { 0.0 } else { own / whole };
        let share = ratio.clamp(0.0, 1.0);
        let (k, k_slope) = law.coefficient(share);
        let moves = ratio > 0.0 && ratio < 1.0;
        let by_own = if moves { k_slope * dynamic / whole } else { 0.0 };
        let by_common = k * dynamic_slope - by_own * share;
        (k * dynamic, by_own, by_common * sign)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn agrees_with_differences(loss: impl Fn(f64) -> (f64, f64), flows: &[f64]) {
        for &q in flows {
            let h = 1e-6 * q.abs().max(1e-7);
            let by_difference = (loss(q + h).0 - loss(q - h).0) / (2.0 * h);
            let slope = loss(q).1;
            assert!(
                (by_difference - slope).abs() <= 1e-5 * slope.abs().max(1e-9),
                "at {q}: {slope} against {by_difference}"
            );
        }
    }

    const FLOWS: [f64; 8] = [-0.05, -2e-3, -3e-6, -1e-7, 1e-7, 3e-6, 2e-3, 0.05];

    #[test]
    fn slopes_are_derivatives() {
        agrees_with_differences(|q| Element::Quadratic { k: 4e4 }.loss(q), &FLOWS);
        let crack = PowerLaw::new(0.002, 0.65).unwrap();
        agrees_with_differences(|q| crack.loss(q), &FLOWS);
        let damper = BackdraftDamper::new(4.0, 2e4, 5e-4, 10.0).unwrap();
        agrees_with_differences(|q| damper.loss(q), &FLOWS);
        let points = [(0.0, 120.0), (0.02, 90.0), (0.03, 60.0), (0.05, 0.0)];
        let fan = FanCurve::from_si_points(&points, 1.2).unwrap();
        let fans = [Element::Fan(fan.clone()), Element::FanReversed(fan)];
        for fan in fans {
            agrees_with_differences(|q| fan.loss(q), &[-0.06, -0.04, -2e-3, 2e-3, 0.04, 0.06]);
        }
    }

    #[test]
    fn laws_are_continuous_at_the_laminar_flow() {
        let crack = PowerLaw::new(0.002, 0.65).unwrap();
        let laws = [Element::Quadratic { k: 4e4 }, Element::PowerLaw(crack)];
        for law in laws {
            let below = law.loss(LAMINAR_FLOW_M3_S * (1.0 - 1e-12));
            let above = law.loss(LAMINAR_FLOW_M3_S);
            assert!((below.0 / above.0 - 1.0).abs() < 1e-10);
            assert!((below.1 / above.1 - 1.0).abs() < 1e-10);
        }
    }

    #[test]
    fn junction_slopes_are_derivatives() {
        let law = SplitLaw::Polynomial([0.04, 1.7, -1.1, 0.2]);
        let backward = SplitLaw::Polynomial([1.0, -0.7, 0.3, 0.0]);
        for runs_along in [true, false] {
            let common = EdgeId::from_index(0);
            let tee = JunctionLoss { common, runs_along, k_common: 9e3, forward: law, backward };
            for (own, whole) in [(0.01, 0.04), (0.03, 0.04), (-0.002, -0.05), (-0.01, 0.03)] {
                let common = if runs_along { whole } else { -whole };
                let h = 1e-8;
                let (_, by_own, by_common) = tee.loss(own, common);
                let own_difference =
                    (tee.loss(own + h, common).0 - tee.loss(own - h, common).0) / (2.0 * h);
                let common_difference =
                    (tee.loss(own, common + h).0 - tee.loss(own, common - h).0) / (2.0 * h);
                assert!((by_own - own_difference).abs() <= 1e-4 * by_own.abs());
                assert!((by_common - common_difference).abs() <= 1e-4 * by_common.abs());
            }
        }
    }
}
