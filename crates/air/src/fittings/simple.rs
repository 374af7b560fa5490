//! Entries, exits, changes of size, dampers, screens, grilles and the fan's outlet.

use core::f64::consts::PI;

use dewpath_units::{Angle, Area, Length, Ratio};

use super::coefficient::{Coefficient, degrees, interpolate};
use super::kernel::LossKernel;
use crate::domain::{Domain, OutOfDomain, not_negative, positive};
use crate::law::Law;

const BELL: &str = "ASHRAE Fundamentals, bellmouth entry by r/D, from memory";
const FLUSH: &str = "handbook 0.50; 0.57 in Rennels & Hudson, Pipe Flow (2012)";
const RE_ENTRANT: &str = "handbook value 1.0 for a thin wall, from memory";
const EXIT: &str = "closed form: the velocity pressure is lost";
const BORDA: &str = "Borda-Carnot, closed form";
const RENNELS: &str = "Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1";
const BUTTERFLY: &str = "round butterfly blade by angle, handbook table from memory";
const GRILLE_SOURCE: &str = "judgement, on the velocity through the free area";
const SYSTEM: &str =
    "judgement after AMCA 201: 0.5 to 1 velocity pressure below 2 to 3 diameters straight";

const BELL_R: [f64; 7] = [0.0, 0.02, 0.04, 0.06, 0.10, 0.15, 0.20];
const BELL_C: [f64; 7] = [0.50, 0.36, 0.26, 0.20, 0.12, 0.06, 0.03];
const BLADE_DEG: [f64; 7] = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0];
const BLADE_C: [f64; 7] = [0.2, 0.5, 1.5, 4.5, 11.0, 29.0, 108.0];

const FROM_AREA: Domain = positive("area before the change of size", "m2", "a duct has a size");
const TO_AREA: Domain = positive("area after the change of size", "m2", "a duct has a size");
const CONE: Domain = Domain {
    quantity: "included angle of the transition",
    unit: "deg",
    low: 1.0,
    high: 180.0,
    reason: "180 degrees is an abrupt change; nearly straight walls are a piece of duct",
};
const FRICTION: Domain = not_negative("friction factor", "", "a friction factor is above zero");
const BLADE: Domain = Domain {
    quantity: "blade angle from open",
    unit: "deg",
    low: 0.0,
    high: 60.0,
    reason: "the table ends at 60 degrees; take a blade nearer to shut as a closed run",
};
const FREE: Domain = Domain {
    quantity: "open area over whole area",
    unit: "",
    low: 0.01,
    high: 1.0,
    reason: "1 is fully open; a screen that is shut passes no air",
};
const LINT: Domain = Domain {
    quantity: "part of the openings blocked",
    unit: "",
    low: 0.0,
    high: 0.98,
    reason: "0 is clean; fully blocked passes no air",
};
const RADIUS: Domain = not_negative("entry radius over diameter", "", "a radius is not negative");
const DIAMETER: Domain = positive("duct diameter", "m", "a duct has a size");
const STRAIGHT: Domain =
    not_negative("straight length after the fan", "m", "a length is not negative");

/// How air gets into a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Entry {
    /// Sharp edge flush with a wall.
    Flush,
    /// Thin pipe standing out from a wall, or free.
    ReEntrant,
    /// Rounded, with a radius over diameter.
    Bellmouth {
        /// Radius over diameter.
        r_over_d: f64,
    },
}

/// Loss coefficient of an entry, on the duct's velocity.
///
/// Flush 0.5 (to 0.57), re-entrant 1.0; bellmouth at r/D 0.02, 0.04, 0.06, 0.10, 0.15, 0.20 and more: 0.36, 0.26, 0.20,
/// 0.12, 0.06, 0.03 (from memory; Idelchik gives 0.113 at 0.10, check FIT-26).
///
/// # Errors
/// A negative radius.
pub fn entry(kind: Entry) -> Result<Coefficient, OutOfDomain> {
    Ok(match kind {
        Entry::Flush => Coefficient::band(0.5, 0.5, 0.57, FLUSH),
        Entry::ReEntrant => Coefficient::one(1.0, RE_ENTRANT),
        Entry::Bellmouth { r_over_d } => {
            let (value, _) = interpolate(&BELL_R, &BELL_C, RADIUS.check(r_over_d)?);
            Coefficient::one(value, BELL)
        }
    })
}

/// Loss coefficient of a plain exit to open air: 1, the velocity pressure. Don't add it to a terminal, which holds it.
pub const fn exit() -> Coefficient {
    Coefficient::one(1.0, EXIT)
}

/// [`Transition`], as a working shows it.
pub const TRANSITION: Law = Law::confirmed(
    "dp = C(A1/A2, angle) rho v^2/2 on the smaller side",
    "Rennels & Hudson, Pipe Flow (2012); Borda-Carnot",
    "",
);

/// A change of size, conical or (at 180°) abrupt, referred to the velocity in the **smaller** section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Transition {
    small_m2: f64,
    /// Small over large diameter.
    beta: f64,
    widens: bool,
    angle: f64,
    friction: f64,
}

impl Transition {
    /// From one area to another with an included angle of 1 to 180°; `friction_factor` (Darcy) of the walls, about 0.02.
    ///
    /// # Errors
    /// No area, an angle outside the range, a negative friction factor.
    pub fn new(
        from: Area,
        to: Area,
        included: Angle,
        friction_factor: f64,
    ) -> Result<Self, OutOfDomain> {
        let one = FROM_AREA.check(from.m2())?;
        let other = TO_AREA.check(to.m2())?;
        let angle_deg = CONE.check(degrees(included))?;
        Ok(Self {
            small_m2: one.min(other),
            beta: (one.min(other) / one.max(other)).sqrt(),
            widens: other > one,
            angle: angle_deg * PI / 180.0,
            friction: FRICTION.check(friction_factor)?,
        })
    }

    /// An abrupt change, 180°.
    ///
    /// # Errors
    /// No area.
    pub fn abrupt(from: Area, to: Area) -> Result<Self, OutOfDomain> {
        Self::new(from, to, Angle::from_rad(PI), 0.0)
    }

    /// Coefficient in the direction it was given.
    pub fn coefficient(&self) -> Coefficient {
        if self.widens { self.widening() } else { self.narrowing() }
    }

    /// The area its coefficient refers to.
    pub fn area(&self) -> Area {
        Area::from_m2(self.small_m2)
    }

    /// The network edge: widening one way is narrowing the other. `rho` in kg/m3.
    pub fn kernel(&self, rho: f64) -> LossKernel {
        let (wide, narrow) = (self.widening().likely, self.narrowing().likely);
        let (forward, backward) = if self.widens { (wide, narrow) } else { (narrow, wide) };
        LossKernel::two_way(forward, backward, self.small_m2, rho)
    }

    /// Widening: abrupt (1 − β²)²; conical by the ranges of the source, the friction part on top up to 60°.
    ///
    /// Up to 20°: 8.30 tan(θ/2)^1.75 (1 − β²)² + f (1 − β⁴)/(8 sin(θ/2)); to 60° and to 180° the source's further
    /// ranges. Checked: FIT-28, FIT-30 to FIT-32.
    fn widening(&self) -> Coefficient {
        let beta2 = self.beta * self.beta;
        let lost = (1.0 - beta2) * (1.0 - beta2);
        if self.angle >= PI {
            return Coefficient::one(lost, BORDA);
        }
        let angle_deg = degrees(Angle::from_rad(self.angle));
        let narrow = 3.28 * (0.0625 - beta2 * beta2);
        let is_large = self.beta < 0.5;
        let factor = if angle_deg <= 20.0 {
            8.30 * libm::pow(libm::tan(0.5 * self.angle), 1.75)
        } else if angle_deg <= 60.0 {
            let wave =
                1.366 * libm::sin(2.0 * PI * (angle_deg - 15.0) / 180.0).max(0.0).sqrt() - 0.170;
            if is_large { wave - narrow * (0.025 * (angle_deg - 20.0)).sqrt() } else { wave }
        } else {
            let fall = ((angle_deg - 60.0) / 120.0).sqrt();
            if is_large {
                let beta6 = beta2 * beta2 * beta2;
                1.205 - narrow - 12.8 * beta6 * fall
            } else {
                1.205 - 0.20 * fall
            }
        };
        let friction = if angle_deg <= 60.0 { self.wall_friction() } else { 0.0 };
        Coefficient::one(factor * lost + friction, RENNELS)
    }

    /// Narrowing: 0.0696 sin(θ/2) (1 − β⁵) λ² + (λ − 1)² with λ = 1 + 0.622 (θ/180°)^0.8 (1 − 0.215 β² − 0.785 β⁵),
    /// and the friction part. The low end of an abrupt one is the usual 0.5 (1 − β²). Checked: FIT-29.
    fn narrowing(&self) -> Coefficient {
        let beta2 = self.beta * self.beta;
        let beta5 = beta2 * beta2 * self.beta;
        let share = libm::pow(self.angle / PI, 0.8);
        let jet = 1.0 + 0.622 * share * (1.0 - 0.215 * beta2 - 0.785 * beta5);
        let sine = libm::sin(0.5 * self.angle);
        let is_abrupt = self.angle >= PI;
        let likely = 0.0696 * sine * (1.0 - beta5) * jet * jet
            + (jet - 1.0) * (jet - 1.0)
            + if is_abrupt { 0.0 } else { self.wall_friction() };
        let low = if is_abrupt { likely.min(0.5 * (1.0 - beta2)) } else { likely };
        Coefficient::band(low, likely, likely, RENNELS)
    }

    fn wall_friction(&self) -> f64 {
        let beta2 = self.beta * self.beta;
        self.friction * (1.0 - beta2 * beta2) / (8.0 * libm::sin(0.5 * self.angle))
    }
}

/// [`butterfly`], as a working shows it.
pub const BALANCING: Law =
    Law::memory("dp = C(angle) rho v^2/2", "round butterfly blade, handbook table", "");

/// Loss coefficient of a butterfly damper, by blade angle from open.
///
/// | 0° | 10° | 20° | 30° | 40° | 50° | 60° |
/// | --- | --- | --- | --- | --- | --- | --- |
/// | 0.2 | 0.5 | 1.5 | 4.5 | 11 | 29 | 108 |
///
/// From memory; between the nodes the logarithm goes in a straight line.
///
/// # Errors
/// An angle outside 0 to 60°.
pub fn butterfly(angle: Angle) -> Result<Coefficient, OutOfDomain> {
    let blade_deg = BLADE.check(degrees(angle))?;
    let logs = BLADE_C.map(libm::log);
    let value = libm::exp(interpolate(&BLADE_DEG, &logs, blade_deg).0);
    Ok(Coefficient::one(value, BUTTERFLY))
}

/// Loss coefficient of an insect screen on the velocity of the whole area, with `open` its clean open-area ratio and
/// `blocked` the part of the openings that lint has shut.
///
/// 1.3 (1 − σ) + (1/σ − 1)², σ = open (1 − blocked).
/// Source: Idelchik, Handbook of Hydraulic Resistance, wire screens, from memory; for wire Reynolds numbers above
/// some hundred, below that it is more. That lint acts like less open area is judgement.
///
/// # Errors
/// A ratio that cannot be.
pub fn screen(open: Ratio, blocked: Ratio) -> Result<Coefficient, OutOfDomain> {
    let sigma = FREE.check(open.ratio())? * (1.0 - LINT.check(blocked.ratio())?);
    let excess = 1.0 / sigma - 1.0;
    let value = 1.3 * (1.0 - sigma) + excess * excess;
    Ok(Coefficient::one(value, "Idelchik, Handbook of Hydraulic Resistance, from memory"))
}

/// [`grille`], as a working shows it.
pub const GRILLE: Law = Law::judgement(
    "dp = C rho/2 (q / A)^2, C = 2 to 4",
    "handbook range for small exhaust grilles",
);

/// Loss coefficient of a grille on the velocity through its **free** area: 2 to 4, judgement.
///
/// Give the kernel the free area (face times free-area ratio), not the duct's.
pub const fn grille() -> Coefficient {
    Coefficient::band(2.0, 3.0, 4.0, GRILLE_SOURCE)
}

/// [`system_effect`], as a working shows it.
pub const SYSTEM_EFFECT: Law =
    Law::memory("dp = k rho v^2/2", "AMCA 201", "outlet system effect, as a band for small fans");

/// What a first elbow or branch close behind the fan costs beyond its own coefficient, on the outlet velocity.
///
/// 0.5 to 1 velocity pressure with less than 2 diameters of straight duct, nothing from 3, a straight line between.
/// Judgement after AMCA 201, which treats larger fans. `None` straight length (not known) spans 0 to 1.
///
/// # Errors
/// No diameter, or a negative length.
pub fn system_effect(
    straight: Option<Length>,
    diameter: Length,
) -> Result<Coefficient, OutOfDomain> {
    let d = DIAMETER.check(diameter.m())?;
    let Some(straight) = straight else {
        return Ok(Coefficient::band(0.0, 0.5, 1.0, SYSTEM));
    };
    let diameters = STRAIGHT.check(straight.m())? / d;
    let share = (3.0 - diameters).clamp(0.0, 1.0);
    Ok(Coefficient::band(0.5, 0.75, 1.0, SYSTEM).times(share))
}

/// [`backdraft_damper`], as a working shows it.
pub const BACKDRAFT: Law =
    Law::judgement("dp = a q/sqrt(q^2 + q0^2) + C rho v^2/2", "light to heavy flaps");

/// What passes a gravity backdraft damper in the run (not the terminal's own flap), as flap and velocity part.
///
/// Use it with [`crate::terminal::TerminalKernel::new`] and `flap = true`. Judgement: flap 1 to 6 Pa, velocity part
/// 0.2 (the blade out of the way) to 1.
pub const fn backdraft_damper() -> crate::terminal::TerminalBand {
    use crate::terminal::{TerminalBand, TerminalSet};
    TerminalBand {
        flap: true,
        low: TerminalSet { flap_pa: 1.0, coefficient: 0.2 },
        likely: TerminalSet { flap_pa: 3.0, coefficient: 0.5 },
        high: TerminalSet { flap_pa: 6.0, coefficient: 1.0 },
    }
}
