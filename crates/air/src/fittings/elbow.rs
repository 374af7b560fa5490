//! Elbows by the way they are made.

use dewpath_units::{Angle, Length};

use super::coefficient::{Coefficient, degrees, interpolate, same};
use super::reynolds::ReynoldsCurve;
use crate::domain::{Domain, OutOfDomain, positive};
use crate::law::Law;

/// How an elbow is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ElbowMake {
    /// Pressed from sheet, smooth, centre-line radius 1.5 diameters (CD3-1, CD3-3).
    Stamped,
    /// Pleated, radius 1.5 diameters (CD3-5, CD3-7).
    Pleated,
    /// Adjustable elbow of swivelling gores: no table of its own, between five gores and pleated.
    Adjustable,
    /// Three gores with a centre-line radius over diameter (CD3-12; at 1.5 also CD3-13 and CD3-14).
    ThreeGores {
        /// Centre-line radius over diameter.
        r_over_d: f64,
    },
    /// Five gores, radius 1.5 diameters (CD3-9).
    FiveGores,
    /// Seven gores, radius 2.5 diameters (CD3-10).
    SevenGores,
    /// Smooth round bend of any radius, such as moulded pipe.
    Smooth {
        /// Centre-line radius over diameter.
        r_over_d: f64,
    },
    /// Mitred without vanes.
    Mitred,
    /// Mitred, with single-thickness turning vanes.
    MitredWithVanes,
    /// Rectangular smooth-radius elbow without vanes (CR3-1).
    Rectangular {
        /// Centre-line radius over width, the width lying in the plane of the turn.
        r_over_w: f64,
        /// Height, across the plane of the turn, over width.
        h_over_w: f64,
    },
}

const HANDBOOK: &str = "ASHRAE Fundamentals 2009 (SI), ch. 21, fitting tables";
const ADJUSTABLE: &str =
    "judgement: five gores (CD3-9) to pleated (CD3-5), ASHRAE Fundamentals 2009 (SI), ch. 21";
const SMOOTH: &str = "SMACNA, HVAC Systems Duct Design, smooth round elbow by r/D, from memory";
const MITRE: &str = "Rennels & Hudson, Pipe Flow (2012), mitre bend";
const VANES: &str = "ASHRAE Fundamentals, single-thickness vanes 0.11 to 0.33, from memory";
const RECTANGULAR: &str = "ASHRAE Fundamentals 2005 (SI), p. 35.52, CR3-1: r/W 1.5 at H/W 0.25, 1 and 4 as printed, other cells from memory";

const STAMPED_D: [f64; 8] = [75.0, 100.0, 125.0, 150.0, 180.0, 200.0, 230.0, 250.0];
const STAMPED_90: [f64; 8] = [0.30, 0.21, 0.16, 0.14, 0.12, 0.11, 0.11, 0.11];
const STAMPED_45: [f64; 8] = [0.18, 0.13, 0.10, 0.08, 0.07, 0.07, 0.07, 0.07];
const PLEATED_D: [f64; 7] = [100.0, 150.0, 200.0, 250.0, 300.0, 350.0, 400.0];
const PLEATED_90: [f64; 7] = [0.57, 0.43, 0.34, 0.28, 0.26, 0.25, 0.25];
const PLEATED_45: [f64; 7] = [0.34, 0.26, 0.21, 0.17, 0.16, 0.15, 0.15];
const FIVE_D: [f64; 11] =
    [75.0, 150.0, 230.0, 300.0, 380.0, 450.0, 530.0, 600.0, 690.0, 750.0, 1500.0];
const FIVE_90: [f64; 11] = [0.51, 0.28, 0.21, 0.18, 0.16, 0.15, 0.14, 0.13, 0.12, 0.12, 0.12];
const SEVEN_D: [f64; 8] = [75.0, 150.0, 230.0, 300.0, 380.0, 450.0, 690.0, 1500.0];
const SEVEN_90: [f64; 8] = [0.16, 0.12, 0.10, 0.08, 0.07, 0.06, 0.05, 0.03];
const THREE_R: [f64; 4] = [0.75, 1.0, 1.5, 2.0];
const THREE_90: [f64; 4] = [0.54, 0.42, 0.34, 0.33];
const THREE_D: [f64; 2] = [75.0, 150.0];
const THREE_60: [f64; 2] = [0.40, 0.21];
const THREE_45: [f64; 2] = [0.31, 0.17];
const SMOOTH_R: [f64; 6] = [0.5, 0.75, 1.0, 1.5, 2.0, 2.5];
const SMOOTH_90: [f64; 6] = [0.71, 0.33, 0.22, 0.15, 0.13, 0.12];
const ANGLES: [f64; 11] = [0.0, 20.0, 30.0, 45.0, 60.0, 75.0, 90.0, 110.0, 130.0, 150.0, 180.0];
const ANGLE_K: [f64; 11] = [0.0, 0.31, 0.45, 0.60, 0.78, 0.90, 1.0, 1.13, 1.20, 1.28, 1.40];
const RECT_H: [f64; 11] = [0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0];
const RECT_R: [f64; 5] = [0.5, 0.75, 1.0, 1.5, 2.0];
const RECT_90: [[f64; 11]; 5] = [
    [1.53, 1.38, 1.29, 1.18, 1.06, 1.00, 1.00, 1.06, 1.12, 1.16, 1.18],
    [0.57, 0.52, 0.48, 0.44, 0.40, 0.39, 0.39, 0.40, 0.42, 0.43, 0.44],
    [0.27, 0.25, 0.23, 0.21, 0.19, 0.18, 0.18, 0.19, 0.20, 0.21, 0.21],
    [0.22, 0.20, 0.19, 0.17, 0.15, 0.14, 0.14, 0.15, 0.16, 0.17, 0.17],
    [0.20, 0.18, 0.16, 0.15, 0.14, 0.13, 0.13, 0.14, 0.14, 0.15, 0.15],
];

const DIAMETER: Domain = positive("elbow diameter", "m", "an elbow has a size");
const ANGLE: Domain = Domain {
    quantity: "elbow angle",
    unit: "deg",
    low: 0.0,
    high: 180.0,
    reason: "an elbow turns the air by 0 to 180 degrees; write a longer turn as two elbows",
};
const RADIUS: Domain = positive("elbow radius over diameter", "", "a radius is above zero");
const ASPECT: Domain = positive("elbow height over width", "", "an elbow has a size");

/// Factor on a 90° elbow's coefficient for another angle (degrees), straight lines between the nodes.
///
/// | 20° | 30° | 45° | 60° | 75° | 90° | 110° | 130° | 150° | 180° |
/// | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
/// | 0.31 | 0.45 | 0.60 | 0.78 | 0.90 | 1 | 1.13 | 1.20 | 1.28 | 1.40 |
///
/// Source: ASHRAE Fundamentals 2005 (SI), p. 35.52.
pub fn angle_factor(angle_deg: f64) -> f64 {
    interpolate(&ANGLES, &ANGLE_K, angle_deg).0
}

/// Coefficient of a 90° turn, or of the angle itself where there is a column for it (then `at_angle` is true).
#[derive(Clone, Copy)]
struct Found {
    coefficient: Coefficient,
    at_angle: bool,
}

/// A column over diameter, with the angle it is for.
fn column(x: &[f64], y: &[f64], at: f64, at_angle: bool, source: &'static str) -> Found {
    let (value, extrapolated) = interpolate(x, y, at);
    Found { coefficient: Coefficient { extrapolated, ..Coefficient::one(value, source) }, at_angle }
}

/// [`ElbowMake::coefficient`] of so many elbows, as a working shows it.
pub const ELBOW: Law = Law::confirmed(
    "dp = n C(make, D, angle, Re) rho v^2/2",
    "ASHRAE Fundamentals 2009 (SI), ch. 21, fitting tables",
    "Reynolds correction of SMACNA from memory",
);

impl ElbowMake {
    /// Loss coefficient of an elbow of this make, diameter (the width, if rectangular) and angle.
    ///
    /// The make's own table at its own angle (90°, for some also 45° and 60°), straight lines between diameters,
    /// else the 90° value times [`angle_factor`]. Smooth makes grow at low Reynolds number
    /// ([`super::reynolds_factor`]); pleated and gored ones are left as printed, for their loss is of separation at
    /// edges, and their band reaches up to the smooth makes' factor at Re 3·10⁴ (1.64). Mitred:
    /// 0.42 sin(θ/2) + 2.56 sin³(θ/2).
    ///
    /// Accuracy: pipe correlations (Rennels, Ito, Miller) for smooth bends of 100 mm at Re 2 to 4·10⁴ differ from
    /// this by up to 25 % (checks FIT-12 to FIT-23), and by as much among themselves.
    ///
    /// # Errors
    /// A size, radius or angle that cannot be.
    ///
    /// ```
    /// # use dewpath_air::fittings::ElbowMake;
    /// # use dewpath_units::{Angle, Length};
    /// let elbow = ElbowMake::Stamped.coefficient(Length::from_mm(100.0), Angle::from_deg(90.0))?;
    /// assert_eq!(elbow.likely, 0.21);
    /// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
    /// ```
    pub fn coefficient(self, diameter: Length, angle: Angle) -> Result<Coefficient, OutOfDomain> {
        let d_mm = 1000.0 * DIAMETER.check(diameter.m())?;
        let angle_deg = ANGLE.check(degrees(angle))?;
        self.check_radius()?;
        if self == Self::Mitred {
            let half = libm::sin(0.5 * angle.rad());
            return Ok(Coefficient::one(0.42 * half + 2.56 * half * half * half, MITRE));
        }
        let Found { coefficient, at_angle } = self.found(d_mm, angle_deg);
        let turned =
            if at_angle { coefficient } else { coefficient.times(angle_factor(angle_deg)) };
        Ok(Coefficient { reynolds: self.reynolds(), ..turned })
    }

    fn check_radius(self) -> Result<(), OutOfDomain> {
        match self {
            Self::ThreeGores { r_over_d } | Self::Smooth { r_over_d } => {
                RADIUS.check(r_over_d)?;
            }
            Self::Rectangular { r_over_w, h_over_w } => {
                RADIUS.check(r_over_w)?;
                ASPECT.check(h_over_w)?;
            }
            _ => {}
        }
        Ok(())
    }

    fn reynolds(self) -> Option<ReynoldsCurve> {
        match self {
            Self::Stamped => Some(ReynoldsCurve::for_radius(1.5)),
            Self::Smooth { r_over_d: r } | Self::Rectangular { r_over_w: r, .. } => {
                Some(ReynoldsCurve::for_radius(r))
            }
            _ => None,
        }
    }

    fn found(self, d_mm: f64, angle_deg: f64) -> Found {
        let is_45 = same(angle_deg, 45.0);
        match self {
            Self::Stamped => {
                let y = if is_45 { &STAMPED_45 } else { &STAMPED_90 };
                column(&STAMPED_D, y, d_mm, is_45, HANDBOOK)
            }
            Self::Pleated => {
                let y = if is_45 { &PLEATED_45 } else { &PLEATED_90 };
                upward(column(&PLEATED_D, y, d_mm, is_45, HANDBOOK))
            }
            Self::Adjustable => adjustable(d_mm),
            Self::ThreeGores { r_over_d } => upward(three_gores(r_over_d, d_mm, angle_deg)),
            Self::FiveGores => upward(column(&FIVE_D, &FIVE_90, d_mm, false, HANDBOOK)),
            Self::SevenGores => upward(column(&SEVEN_D, &SEVEN_90, d_mm, false, HANDBOOK)),
            Self::Smooth { r_over_d } => column(&SMOOTH_R, &SMOOTH_90, r_over_d, false, SMOOTH),
            Self::Mitred => column(&[90.0], &[1.2], 90.0, false, MITRE),
            Self::MitredWithVanes => {
                Found { coefficient: Coefficient::band(0.11, 0.25, 0.33, VANES), at_angle: false }
            }
            Self::Rectangular { r_over_w, h_over_w } => rectangular(r_over_w, h_over_w),
        }
    }
}

/// Lets the band reach up to the smooth makes' factor at Re 3·10⁴.
fn upward(found: Found) -> Found {
    let high = found.coefficient.high * 1.64;
    Found { coefficient: Coefficient { high, ..found.coefficient }, ..found }
}

fn adjustable(d_mm: f64) -> Found {
    let (five, _) = interpolate(&FIVE_D, &FIVE_90, d_mm);
    let (pleated, _) = interpolate(&PLEATED_D, &PLEATED_90, d_mm);
    let (low, high) = (five.min(pleated), five.max(pleated));
    let band = Coefficient::band(low, 0.5 * (low + high), 1.3 * high, ADJUSTABLE);
    let extrapolated = !(75.0..=400.0).contains(&d_mm);
    Found { coefficient: Coefficient { extrapolated, ..band }, at_angle: false }
}

fn three_gores(r_over_d: f64, d_mm: f64, angle_deg: f64) -> Found {
    let own_column = if !same(r_over_d, 1.5) {
        None
    } else if same(angle_deg, 60.0) {
        Some(&THREE_60)
    } else if same(angle_deg, 45.0) {
        Some(&THREE_45)
    } else {
        None
    };
    match own_column {
        Some(y) => column(&THREE_D, y, d_mm, true, HANDBOOK),
        None => column(&THREE_R, &THREE_90, r_over_d, false, HANDBOOK),
    }
}

fn rectangular(r_over_w: f64, h_over_w: f64) -> Found {
    let by_radius = RECT_90.map(|row| interpolate(&RECT_H, &row, h_over_w).0);
    let (value, outside_r) = interpolate(&RECT_R, &by_radius, r_over_w);
    let extrapolated = outside_r || !(0.25..=8.0).contains(&h_over_w);
    let coefficient = Coefficient { extrapolated, ..Coefficient::one(value, RECTANGULAR) };
    Found { coefficient, at_angle: false }
}
