//! Cross-sections: area, hydraulic diameter and the round duct of equal friction.
//!
//! Two diameters stand for a duct that is not round, and they must not be mixed: the hydraulic diameter goes with
//! the true area and velocity; the equal-friction diameter goes with the flow alone, as if the duct were round.
//! Friction here is worked out with the hydraulic diameter.

use core::f64::consts::PI;

use dewpath_units::{Area, Length};

use crate::domain::{Domain, OutOfDomain, positive};
use crate::friction::Duct;

/// Inside cross-section of a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Round.
    Round {
        /// Inside diameter.
        diameter: Length,
    },
    /// Rectangular; which side is which doesn't matter.
    Rectangular {
        /// One side.
        width: Length,
        /// The other side.
        height: Length,
    },
    /// Two half circles joined by straight sides.
    FlatOval {
        /// Greatest width.
        major: Length,
        /// Height, also the diameter of the half circles.
        minor: Length,
    },
}

const SIZE: Domain = positive("inside size of the duct", "m", "a duct has a size");

/// Sizes of a cross-section, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Section {
    area_m2: f64,
    perimeter_m: f64,
}

impl Shape {
    fn section(self) -> Section {
        match self {
            Self::Round { diameter } => {
                let d = diameter.m();
                Section { area_m2: PI / 4.0 * d * d, perimeter_m: PI * d }
            }
            Self::Rectangular { width, height } => {
                let (a, b) = (width.m(), height.m());
                Section { area_m2: a * b, perimeter_m: 2.0 * (a + b) }
            }
            Self::FlatOval { major, minor } => {
                let (a, b) = (major.m().max(minor.m()), major.m().min(minor.m()));
                Section {
                    area_m2: PI / 4.0 * b * b + b * (a - b),
                    perimeter_m: PI * b + 2.0 * (a - b),
                }
            }
        }
    }

    /// The shape itself if both sizes are above zero and finite.
    ///
    /// # Errors
    /// Names the size that cannot be.
    pub fn checked(self) -> Result<Self, OutOfDomain> {
        let (one, other) = match self {
            Self::Round { diameter } => (diameter, diameter),
            Self::Rectangular { width, height } => (width, height),
            Self::FlatOval { major, minor } => (major, minor),
        };
        SIZE.check(one.m())?;
        SIZE.check(other.m())?;
        Ok(self)
    }

    /// Free area: πd²/4; ab; πb²/4 + b(a − b). Closed forms.
    pub fn area(self) -> Area {
        Area::from_m2(self.section().area_m2)
    }

    /// Wetted perimeter: πd; 2(a + b); πb + 2(a − b). Closed forms.
    pub fn perimeter(self) -> Length {
        Length::from_m(self.section().perimeter_m)
    }

    /// Hydraulic diameter 4A/P, to be used with the true velocity.
    ///
    /// ```
    /// # use dewpath_air::shape::Shape;
    /// # use dewpath_units::Length;
    /// let stack = Shape::Rectangular { width: Length::from_mm(254.0), height: Length::from_mm(83.0) };
    /// assert!((stack.hydraulic_diameter().mm() - 125.1157).abs() < 1e-3);
    /// ```
    pub fn hydraulic_diameter(self) -> Length {
        let Section { area_m2, perimeter_m } = self.section();
        Length::from_m(4.0 * area_m2 / perimeter_m)
    }

    /// Diameter of the round duct that loses the same pressure per length at the same **flow** (not velocity).
    ///
    /// Rectangular: 1.30 (ab)^0.625/(a + b)^0.25; flat oval: 1.55 A^0.625/P^0.25.
    /// Source: Huebscher 1948 (rectangular), Heyt & Diaz 1975 (oval), both in ASHRAE Fundamentals, ch. 21; the
    /// second paper's name is from memory. Valid for aspect ratios to about 8; agrees with the hydraulic diameter
    /// way within a few percent.
    pub fn equal_friction_diameter(self) -> Length {
        let Section { area_m2, perimeter_m } = self.section();
        match self {
            Self::Round { diameter } => diameter,
            Self::Rectangular { .. } => Length::from_m(
                1.30 * libm::pow(area_m2, 0.625) / libm::pow(0.5 * perimeter_m, 0.25),
            ),
            Self::FlatOval { .. } => {
                Length::from_m(1.55 * libm::pow(area_m2, 0.625) / libm::pow(perimeter_m, 0.25))
            }
        }
    }

    /// A straight duct of this cross-section, not compressed.
    pub fn duct(self, length: Length, roughness: Length) -> Duct {
        Duct {
            hydraulic_diameter: self.hydraulic_diameter(),
            area: self.area(),
            length,
            roughness,
            multiplier: 1.0,
        }
    }
}
