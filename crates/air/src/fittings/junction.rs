//! Tees and wyes: losses that depend on how the flow splits.
//!
//! Coefficients are on the velocity of the leg with the whole flow (the common leg, of the run's size), from that
//! leg to the own leg; a negative one is real (the faster stream drags the slower along).
//!
//! Published forms jump at set flow and area ratios. Each jump is replaced by a smooth step of ±0.05 in flow ratio
//! or ±0.02 in area ratio around it (above it for the diverging branch of two thirds of the run's diameter); outside
//! those the published value stands to the last digit.

use dewpath_units::{Angle, Area};

use super::coefficient::{degrees, interpolate, same};
use crate::domain::{Domain, OutOfDomain, positive};
use crate::law::Law;

/// Which leg of the junction the loss is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leg {
    /// The side branch.
    Branch,
    /// The straight way.
    Run,
}

/// Which way the air goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    /// Branch and run come together.
    Converging,
    /// The common leg parts into branch and run.
    Diverging,
}

/// [`JunctionLaw`], as a working shows it.
pub const JUNCTION: Law = Law::confirmed(
    "dp = K(q / q_common, A / A_common) rho v_common^2/2",
    "Crane TP-410 (2009), converging and diverging tees and wyes",
    "",
);

/// One leg's coefficient over its share of the flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JunctionLaw {
    leg: Leg,
    split: Split,
    /// Branch area over run area.
    area_ratio: f64,
    /// Momentum factor F of the converging forms.
    momentum: f64,
    cosine: f64,
    angle_deg: f64,
}

const FLOW_STEP: f64 = 0.05;
const AREA_STEP: f64 = 0.02;
/// A branch of two thirds of the run's diameter, the largest that the source treats as small. 100 mm on 150 mm is just
/// that and common, so the smooth step lies wholly above it.
const SMALL_BRANCH: f64 = 4.0 / 9.0;
const MOMENTUM_ANGLES: [f64; 4] = [30.0, 45.0, 60.0, 90.0];
const MOMENTUM: [f64; 4] = [1.74, 1.41, 1.0, 0.0];

const BRANCH_AREA: Domain = positive("branch area", "m2", "a branch has a size");
const RUN_AREA: Domain = positive("area of the straight way", "m2", "a duct has a size");
const ANGLE: Domain = Domain {
    quantity: "branch angle",
    unit: "deg",
    low: 15.0,
    high: 90.0,
    reason: "the published forms are for branches of 30 to 90 degrees leaning with the flow (held from 15)",
};

/// A value with its derivative by flow ratio.
type Slope = (f64, f64);

/// 0 below `at` − `half`, 1 above `at` + `half`, a cubic between.
fn step(x: f64, at: f64, half: f64) -> Slope {
    let s = ((x - at + half) / (2.0 * half)).clamp(0.0, 1.0);
    (s * s * (3.0 - 2.0 * s), 6.0 * s * (1.0 - s) / (2.0 * half))
}

/// From `before` to `after` by the step `w`.
fn blend(before: Slope, after: Slope, w: Slope) -> Slope {
    let gap = after.0 - before.0;
    (before.0 + w.0 * gap, before.1 + w.0 * (after.1 - before.1) + w.1 * gap)
}

fn product(a: Slope, b: Slope) -> Slope {
    (a.0 * b.0, a.1 * b.0 + a.0 * b.1)
}

impl JunctionLaw {
    /// For one leg of a junction with these areas and this angle between branch and run (90° is a tee).
    ///
    /// # Errors
    /// No area, or an angle outside 15 to 90°.
    pub fn new(
        leg: Leg,
        split: Split,
        branch: Area,
        run: Area,
        angle: Angle,
    ) -> Result<Self, OutOfDomain> {
        let area_ratio = BRANCH_AREA.check(branch.m2())? / RUN_AREA.check(run.m2())?;
        let angle_deg = ANGLE.check(degrees(angle))?;
        Ok(Self {
            leg,
            split,
            area_ratio,
            momentum: interpolate(&MOMENTUM_ANGLES, &MOMENTUM, angle_deg).0,
            cosine: if same(angle_deg, 90.0) { 0.0 } else { libm::cos(angle.rad()) },
            angle_deg,
        })
    }

    /// Coefficient and its derivative, by the share (0 to 1) of the whole flow that passes the **own** leg.
    ///
    /// With q the branch's share and b the branch's area over the run's:
    /// - converging, branch: C [1 + (q/b)² − 2 (1 − q)² − (F/b) q²], C = 1 for b ≤ 0.35, else 0.9 (1 − q) up to
    ///   q 0.4 and 0.55 beyond; F 1.74, 1.41, 1, 0 at 30, 45, 60, 90°;
    /// - converging, run: 1 − (1 − q)² − (F/b) q² below 75°, 1.55 q − q² from there;
    /// - diverging, branch: G [1 + H (q/b)² − J (q/b) cos θ], H 1 and J 2 below 60° or for b ≤ 4/9, else 0.3 and 0; G from
    ///   75°: 1 for b ≤ 2/3, else 1 + 0.3 q²; below: for b ≤ 0.35 1.1 − 0.7 q up to q 0.4 and 0.85 beyond, else 1 − 0.6 q up to
    ///   q 0.6 and 0.6 beyond;
    /// - diverging, run: M q², M = 0.4 for b ≤ 0.4, else 2 (2q − 1) up to q 0.5 and 0.3 (2q − 1) beyond.
    ///
    /// Source: Crane, Technical Paper 410 (2009), ch. 2, as given by the fluids library 1.3.1, with which it agrees to
    /// 1e-9 outside the smooth steps. Departs from it: the steps (see the module). Meant for liquids in steel pipe;
    /// handbook values for sheet-metal junctions differ by tens of percent.
    pub fn coefficient(&self, own_share: f64) -> Slope {
        let branch = self.leg == Leg::Branch;
        let q = if branch { own_share } else { 1.0 - own_share };
        let (k, by_q) = match (self.split, branch) {
            (Split::Converging, true) => self.converging_branch(q),
            (Split::Converging, false) => self.converging_run(q),
            (Split::Diverging, true) => self.diverging_branch(q),
            (Split::Diverging, false) => self.diverging_run(q),
        };
        (k, if branch { by_q } else { -by_q })
    }

    /// Step in area ratio; it doesn't depend on flow.
    fn area_step(&self, at: f64) -> Slope {
        (step(self.area_ratio, at, AREA_STEP).0, 0.0)
    }

    fn converging_branch(&self, q: f64) -> Slope {
        let b = self.area_ratio;
        let rest = 1.0 - q;
        let body = (
            1.0 + q * q / (b * b) - 2.0 * rest * rest - self.momentum / b * q * q,
            2.0 * q / (b * b) + 4.0 * rest - 2.0 * self.momentum / b * q,
        );
        let large = blend((0.9 * rest, -0.9), (0.55, 0.0), step(q, 0.4, FLOW_STEP));
        product(blend((1.0, 0.0), large, self.area_step(0.35)), body)
    }

    fn converging_run(&self, q: f64) -> Slope {
        if self.angle_deg >= 75.0 {
            return (1.55 * q - q * q, 1.55 - 2.0 * q);
        }
        let rest = 1.0 - q;
        let drag = self.momentum_of_run() / self.area_ratio;
        (1.0 - rest * rest - drag * q * q, 2.0 * rest - 2.0 * drag * q)
    }

    /// F of the run: the published nodes end at 60°, and 1 is held from there.
    fn momentum_of_run(&self) -> f64 {
        if self.angle_deg > 60.0 { 1.0 } else { self.momentum }
    }

    fn diverging_branch(&self, q: f64) -> Slope {
        let r = 1.0 / self.area_ratio;
        let small =
            if self.angle_deg < 60.0 { 0.0 } else { self.area_step(SMALL_BRANCH + AREA_STEP).0 };
        let (h, j) = (1.0 - 0.7 * small, 2.0 - 2.0 * small);
        let body = (
            1.0 + h * r * r * q * q - j * r * q * self.cosine,
            2.0 * h * r * r * q - j * r * self.cosine,
        );
        product(self.diverging_factor(q), body)
    }

    /// G of the diverging branch.
    fn diverging_factor(&self, q: f64) -> Slope {
        if self.angle_deg >= 75.0 {
            return blend((1.0, 0.0), (1.0 + 0.3 * q * q, 0.6 * q), self.area_step(2.0 / 3.0));
        }
        let small = blend((1.1 - 0.7 * q, -0.7), (0.85, 0.0), step(q, 0.4, FLOW_STEP));
        let large = blend((1.0 - 0.6 * q, -0.6), (0.6, 0.0), step(q, 0.6, FLOW_STEP));
        blend(small, large, self.area_step(0.35))
    }

    fn diverging_run(&self, q: f64) -> Slope {
        let split = 2.0 * q - 1.0;
        let large = blend((2.0 * split, 4.0), (0.3 * split, 0.6), step(q, 0.5, FLOW_STEP));
        product(blend((0.4, 0.0), large, self.area_step(0.4)), (q * q, 2.0 * q))
    }
}
