//! The one error of geometry that can't be worked with.

use std::fmt;

/// Longest dimension that is believed, m: beyond it a number was typed in another unit.
pub const LONGEST_M: f64 = 1000.0;

/// A dimension or a shape that can't be worked with: what it is, where it stands, its value, and the way out.
#[derive(Debug, Clone, PartialEq)]
pub struct BadGeometry {
    /// What is wrong, such as "spacing".
    pub what: &'static str,
    /// Whose it is: the name of a zone, a member, a room, a housing.
    pub place: String,
    /// The value that was given.
    pub value: f64,
    /// Unit of the value.
    pub unit: &'static str,
    /// Why it can't be worked with.
    pub reason: &'static str,
    /// How to go on.
    pub way_out: &'static str,
}

impl fmt::Display for BadGeometry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, place, value, unit, reason, way_out } = self;
        if value.is_finite() {
            write!(f, "{what} of {place} is {value} {unit}: {reason}; {way_out}")
        } else {
            write!(f, "{what} of {place} is no number: {reason}; {way_out}")
        }
    }
}

impl std::error::Error for BadGeometry {}

/// Checks of single lengths, each naming whose length it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Of<'a>(pub(crate) &'a str);

impl Of<'_> {
    /// The error itself.
    pub(crate) fn bad(
        self,
        what: &'static str,
        value: f64,
        unit: &'static str,
        reason: &'static str,
        way_out: &'static str,
    ) -> BadGeometry {
        BadGeometry { what, place: self.0.to_owned(), value, unit, reason, way_out }
    }

    /// A length from `least` to [`LONGEST_M`].
    pub(crate) fn length(
        self,
        what: &'static str,
        value: f64,
        least: f64,
    ) -> Result<f64, BadGeometry> {
        if !value.is_finite() {
            Err(self.bad(what, value, "m", "a length is needed", "measure it"))
        } else if value < least {
            Err(self.bad(what, value, "m", "that is too small to be real", "measure it again"))
        } else if value > LONGEST_M {
            Err(self.bad(what, value, "m", "no dwelling is that large", "check its unit"))
        } else {
            Ok(value)
        }
    }

    /// A place along one direction of the frame.
    pub(crate) fn position(self, what: &'static str, value: f64) -> Result<f64, BadGeometry> {
        if value.abs() <= LONGEST_M {
            Ok(value)
        } else {
            Err(self.bad(
                what,
                value,
                "m",
                "it lies beyond any dwelling",
                "check its unit and where the frame begins",
            ))
        }
    }
}
