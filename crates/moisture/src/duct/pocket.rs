//! How much water a sag holds, and whether it closes the duct.

use core::f64::consts::PI;

use dewpath_air::domain::{OutOfDomain, not_negative};
use dewpath_units::Length;

use super::{DIAMETER_M, LENGTH_M};
use crate::film::WATER_KG_M3;

/// Slices that a sag is cut into.
const SLICES: usize = 200;

/// A low point of a duct, where water collects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pocket {
    /// Water it holds until the duct is closed, or until it runs over the lower end, kg.
    pub holds_kg: f64,
    /// Whether the water reaches the top of the duct before it runs over: a trap that stops the air.
    pub closes: bool,
}

impl Pocket {
    /// A sag of `depth` over a `span` between two supports, in a round duct.
    ///
    /// The bottom of the duct is taken as a parabola; the water stands level up to the ends or to the top of the
    /// duct at the lowest place, whichever comes first. So a sag deeper than the duct is wide closes it. Wrinkles
    /// of a flexible duct, which hold some more, are left out.
    ///
    /// Source: geometry of a circle's segment; common practice, no source, that a sag is counted this way.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a diameter outside 0.01 to 3 m, a span outside 1 mm to 1 km, a depth below zero.
    ///
    /// # Examples
    /// ```
    /// use dewpath_moisture::duct::pocket::Pocket;
    /// use dewpath_units::Length;
    /// let (four_inch, span) = (Length::from_inches(4.0), Length::from_m(1.2));
    /// let slight = Pocket::from_sag(four_inch, span, Length::from_mm(25.0))?;
    /// assert!(!slight.closes && slight.holds_kg > 0.8 && slight.holds_kg < 1.2);
    /// assert!(Pocket::from_sag(four_inch, span, Length::from_mm(150.0))?.closes);
    /// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
    /// ```
    pub fn from_sag(diameter: Length, span: Length, depth: Length) -> Result<Self, OutOfDomain> {
        let d = DIAMETER_M.check(diameter.m())?;
        let span = LENGTH_M.check(span.m())?;
        let depth =
            not_negative("depth of a sag", "m", "a hump holds no water").check(depth.m())?;
        let level = depth.min(d);
        let slice = span / SLICES as f64;
        let volume: f64 = (0..SLICES)
            .map(|i| {
                let x = 2.0 * (i as f64 + 0.5) / SLICES as f64 - 1.0;
                segment_area_m2(d, level - depth * x * x) * slice
            })
            .sum();
        Ok(Self { holds_kg: WATER_KG_M3 * volume, closes: depth >= d })
    }
}

/// Area of a circle below a level over its lowest point, m².
fn segment_area_m2(diameter: f64, level: f64) -> f64 {
    let r = 0.5 * diameter;
    if level <= 0.0 {
        return 0.0;
    }
    if level >= diameter {
        return PI * r * r;
    }
    let half_angle = libm::acos((r - level) / r);
    r * r * half_angle - (r - level) * (level * (diameter - level)).sqrt()
}
