//! How quantities are printed.

/// Which units a person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum System {
    /// Feet and inches, cfm, inches of water, °F.
    #[default]
    Us,
    /// Metres and millimetres, L/s, pascals, °C.
    Metric,
}

/// The finest part of an inch that is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Fraction {
    /// 1/8 in.
    Eighth,
    /// 1/16 in.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
}

impl Fraction {
    /// How many of it make an inch.
    pub const fn parts(self) -> u32 {
        match self {
            Self::Eighth => 8,
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
        }
    }
}

/// How quantities are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Style {
    /// Units.
    pub system: System,
    /// Rounding of inches.
    pub fraction: Fraction,
    /// Whether lengths of a foot and more print as feet and inches (`9 ft 4-1/2 in`, not `112-1/2 in`).
    pub feet_inches: bool,
}

impl Style {
    /// US units, sixteenths, feet and inches.
    pub const US: Self =
        Self { system: System::Us, fraction: Fraction::Sixteenth, feet_inches: true };
    /// Metric units.
    pub const METRIC: Self = Self { system: System::Metric, ..Self::US };

    /// The same with another rounding of inches.
    #[must_use]
    pub const fn rounded_to(self, fraction: Fraction) -> Self {
        Self { fraction, ..self }
    }

    /// The same with inches alone, as a cut list has them.
    #[must_use]
    pub const fn inches_only(self) -> Self {
        Self { feet_inches: false, ..self }
    }
}

impl Default for Style {
    fn default() -> Self {
        Self::US
    }
}
