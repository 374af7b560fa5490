//! The end of the run outdoors: a cap with its flap, as pressure lost over flow.
//!
//! No public table gives loss coefficients of small residential caps, so every set here is a band from judgement,
//! set against one published thing: the duct-length table of the US residential code (IRC M1504.2) leaves, after
//! friction, a fixed part that is well described by about 3 Pa plus 0.8 (8 in.) to 2.2 (4 in.) velocity pressures. One measured
//! point (flow and pressure) replaces the band.
//!
//! A flap lifts at a pressure set by its weight and then stays nearly floating, so the forward loss is a constant
//! part, reached smoothly from zero, plus a part in velocity pressure, of which wide caps lose less ([`TerminalBand::of_width`]):
//!
//! ΔP = a·Q/√(Q² + Q₀²) + C·ρV²/2.
//!
//! It has a slope everywhere and is strictly increasing. Backwards, air passes the gaps of the closed flap only.
//!
//! The exit velocity is lost and counted here (C holds it: 1.0 of every set). Use static fan curves with it.

use dewpath_units::Length;

use crate::domain::{Domain, OutOfDomain, not_negative, positive};
use crate::fittings::kernel::square_loss;
use crate::law::Law;

/// Velocity in the duct by which a flap has left its seat, m/s. Judgement, no source.
const LIFT_VELOCITY_M_S: f64 = 0.3;
/// Free area of the gaps of a closed flap over the duct area. Judgement, no source.
const CLOSED_GAP_RATIO: f64 = 0.02;
/// Discharge coefficient of those gaps (sharp edge).
const GAP_DISCHARGE: f64 = 0.6;
/// Loss coefficient of air blown into an open end: sharp-edged to thin re-entrant entry, 0.5 to 1.
const OPEN_END_ENTRY: f64 = 0.5;

/// What ends the run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TerminalKind {
    /// Hooded cap in a wall with a gravity flap.
    WallCap,
    /// Cap on a roof with a gravity flap.
    RoofCap,
    /// Grille in a soffit with a flap.
    Soffit,
    /// Plain open end, no flap.
    Open,
    /// Not known, and the fan's casing with it: wide enough for all caps.
    Unknown,
}

/// Flap part and velocity part of a terminal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TerminalSet {
    /// Pressure that holds the flap open, Pa.
    pub flap_pa: f64,
    /// Loss coefficient on the duct's velocity pressure, exit included.
    pub coefficient: f64,
}

/// Three sets of a terminal: what it costs at best, likely and at worst.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TerminalBand {
    /// Whether there is a flap that closes backwards.
    pub flap: bool,
    /// Least loss.
    pub low: TerminalSet,
    /// Likely loss.
    pub likely: TerminalSet,
    /// Greatest loss.
    pub high: TerminalSet,
}

const fn set(flap_pa: f64, coefficient: f64) -> TerminalSet {
    TerminalSet { flap_pa, coefficient }
}

const fn band(low: TerminalSet, likely: TerminalSet, high: TerminalSet) -> TerminalBand {
    TerminalBand { flap: true, low, likely, high }
}

const FLOW: Domain =
    positive("measured flow", "m3/s", "a point at rest says nothing about the terminal");
const AREA: Domain = positive("duct area", "m2", "a duct has a size");
const DENSITY: Domain = positive("air density", "kg/m3", "air has a density");
const PRESSURE: Domain = not_negative("measured pressure", "Pa", "outward flow loses pressure");

impl TerminalKind {
    /// The band of this kind. Judgement throughout (see the module), except the open end: C = 1, closed form.
    pub const fn band(self) -> TerminalBand {
        match self {
            Self::WallCap => band(set(0.3, 1.0), set(3.0, 2.0), set(10.0, 4.0)),
            Self::RoofCap => band(set(0.5, 1.2), set(4.0, 2.5), set(12.0, 5.0)),
            Self::Soffit => band(set(0.3, 1.2), set(3.0, 2.5), set(10.0, 5.0)),
            Self::Open => {
                let one = set(0.0, 1.0);
                TerminalBand { flap: false, low: one, likely: one, high: one }
            }
            Self::Unknown => band(set(0.3, 1.0), set(3.0, 2.0), set(12.0, 5.0)),
        }
    }
}

/// How a cap of another width loses of its velocity pressure: diameter in inches, and the share of what one of 4 in. loses
/// at best and likely. Caps of 5 and 6 in. with a damper were tested at 0.9 to 1.4 (equivalent lengths in a public table for
/// range hoods), and the duct-length table leaves 2.2 at 4 in. and 0.8 at 8 in.; the steps between are judgement.
const OF_WIDTH: [(f64, f64, f64); 4] =
    [(4.0, 1.0, 1.0), (5.0, 0.95, 0.7), (6.0, 0.9, 0.575), (8.0, 0.8, 0.45)];

/// Best and likely share at a width in inches, straight between; outside the table its ends.
fn shares(inches: f64) -> (f64, f64) {
    let (first, last) = (OF_WIDTH[0], OF_WIDTH[OF_WIDTH.len() - 1]);
    if inches <= first.0 {
        return (first.1, first.2);
    }
    let above = OF_WIDTH.windows(2).find(|pair| inches <= pair[1].0);
    above.map_or((last.1, last.2), |pair| {
        let t = (inches - pair[0].0) / (pair[1].0 - pair[0].0);
        let mix = |a: f64, b: f64| a + (b - a) * t;
        (mix(pair[0].1, pair[1].1), mix(pair[0].2, pair[1].2))
    })
}

impl TerminalBand {
    /// The band of a cap on a duct of this diameter: wider than 4 in. it loses less at best and likely, at worst as much. An
    /// open end loses its velocity pressure at any width.
    #[must_use]
    pub fn of_width(mut self, diameter: Length) -> Self {
        if self.flap {
            let (best, likely) = shares(diameter.inches());
            self.low.coefficient *= best;
            self.likely.coefficient *= likely;
        }
        self
    }

    /// The set at a place in the band: `u` 0 is low, 0.5 likely, 1 high, straight between. Outside 0..1 the end.
    pub fn at(&self, u: f64) -> TerminalSet {
        let mix = |a: TerminalSet, b: TerminalSet, t: f64| TerminalSet {
            flap_pa: a.flap_pa + (b.flap_pa - a.flap_pa) * t,
            coefficient: a.coefficient + (b.coefficient - a.coefficient) * t,
        };
        let u = u.clamp(0.0, 1.0);
        if u < 0.5 {
            mix(self.low, self.likely, 2.0 * u)
        } else {
            mix(self.likely, self.high, 2.0 * u - 1.0)
        }
    }

    /// Replaces the band by sets that all pass through one measured point (flow in m3/s, pressure lost in Pa), in a
    /// duct of `area_m2` with air of `rho` kg/m3.
    ///
    /// Each set is scaled as a whole; they keep their own split between flap and velocity part, which one point
    /// cannot tell apart, so they spread again away from the point.
    ///
    /// # Errors
    /// Names what cannot be: no flow, negative pressure, no area, no density.
    pub fn through(
        &self,
        q_m3_s: f64,
        dp_pa: f64,
        area_m2: f64,
        rho: f64,
    ) -> Result<Self, OutOfDomain> {
        FLOW.check(q_m3_s)?;
        PRESSURE.check(dp_pa)?;
        AREA.check(area_m2)?;
        DENSITY.check(rho)?;
        let scaled = |s: TerminalSet| {
            let now = TerminalKernel::new(s, self.flap, area_m2, rho).loss(q_m3_s).0;
            let factor = dp_pa / now;
            TerminalSet { flap_pa: s.flap_pa * factor, coefficient: s.coefficient * factor }
        };
        Ok(Self {
            flap: self.flap,
            low: scaled(self.low),
            likely: scaled(self.likely),
            high: scaled(self.high),
        })
    }
}

/// [`TerminalKernel`] with the screen and what wind and stack press, as a working shows it.
pub const TERMINAL: Law = Law::judgement(
    "dp = a q/sqrt(q^2 + q0^2) + (C + C_screen) rho v^2/2 + p_outside",
    "no public table for small caps: a band that holds the fixed part of the published duct-length table",
);

/// A terminal as a network edge; flow is positive outward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TerminalKernel {
    flap_pa: f64,
    lift_q: f64,
    forward: f64,
    backward: f64,
}

impl TerminalKernel {
    /// From a set, whether a flap closes backwards, duct area (m2) and density (kg/m3), both above zero.
    pub fn new(set: TerminalSet, flap: bool, area_m2: f64, rho: f64) -> Self {
        let per_velocity = rho / (2.0 * area_m2 * area_m2);
        let gap = GAP_DISCHARGE * CLOSED_GAP_RATIO;
        Self {
            flap_pa: set.flap_pa,
            lift_q: LIFT_VELOCITY_M_S * area_m2,
            forward: set.coefficient * per_velocity,
            backward: per_velocity * if flap { 1.0 / (gap * gap) } else { OPEN_END_ENTRY },
        }
    }

    /// Pressure lost (Pa) at a flow (m3/s, outward positive) and its slope (Pa s/m3).
    pub fn loss(&self, q_m3_s: f64) -> (f64, f64) {
        let q = q_m3_s;
        if q < 0.0 {
            let (dp, slope) = square_loss(self.backward, q);
            let seat = self.flap_pa / self.lift_q;
            return (dp + seat * q, slope + seat);
        }
        let (dp, slope) = square_loss(self.forward, q);
        let root = (q * q + self.lift_q * self.lift_q).sqrt();
        let lift = self.lift_q / root;
        (dp + self.flap_pa * q / root, slope + self.flap_pa * lift * lift / root)
    }
}
