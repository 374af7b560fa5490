//! The one error of a physical relation that is asked outside the range where it holds.

/// A value for which a physical relation has no answer.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{quantity} of {value} {unit} is outside {low} to {high} {unit}: {reason}")]
pub struct OutOfDomain {
    /// What the value is, such as "air temperature".
    pub quantity: &'static str,
    /// The value that was given.
    pub value: f64,
    /// Unit of the value and of both limits.
    pub unit: &'static str,
    /// Least value that can be handled.
    pub low: f64,
    /// Greatest value that can be handled.
    pub high: f64,
    /// Why there is a limit, or what to do instead.
    pub reason: &'static str,
}

/// A named quantity with the closed range where it can be handled.
#[derive(Debug, Clone, Copy)]
pub struct Domain {
    /// What the value is, such as "air temperature".
    pub quantity: &'static str,
    /// Unit of the value and of both limits.
    pub unit: &'static str,
    /// Least value that can be handled.
    pub low: f64,
    /// Greatest value that can be handled.
    pub high: f64,
    /// Why there is a limit, or what to do instead.
    pub reason: &'static str,
}

impl Domain {
    /// The value itself if it lies in the range; NaN never does.
    ///
    /// # Errors
    /// When the value lies outside the range or is not a number.
    pub fn check(&self, value: f64) -> Result<f64, OutOfDomain> {
        let Self { quantity, unit, low, high, reason } = *self;
        if value >= low && value <= high {
            Ok(value)
        } else {
            Err(OutOfDomain { quantity, value, unit, low, high, reason })
        }
    }
}

/// A quantity that must be greater than zero and finite.
pub const fn positive(quantity: &'static str, unit: &'static str, reason: &'static str) -> Domain {
    Domain { quantity, unit, low: f64::MIN_POSITIVE, high: f64::MAX, reason }
}

/// A quantity that may have either sign but must be finite.
pub const fn finite(quantity: &'static str, unit: &'static str) -> Domain {
    Domain { quantity, unit, low: f64::MIN, high: f64::MAX, reason: "a finite number is needed" }
}

/// A quantity that may be zero but not negative, and must be finite.
pub const fn not_negative(
    quantity: &'static str,
    unit: &'static str,
    reason: &'static str,
) -> Domain {
    Domain { quantity, unit, low: 0.0, high: f64::MAX, reason }
}
