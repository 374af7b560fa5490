//! Figures: three numbers with their kind and unit.

/// Low, likely and high: 5th percentile, median and 95th percentile of the draws.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize, schemars::JsonSchema))]
pub struct Triple {
    /// 5th percentile.
    pub low: f64,
    /// Median.
    pub likely: f64,
    /// 95th percentile.
    pub high: f64,
}

impl Triple {
    /// The same value three times.
    pub fn exact(value: f64) -> Self {
        Self { low: value, likely: value, high: value }
    }

    /// Percentiles of a set of draws; `None` when there are none.
    ///
    /// The percentile is the order statistic nearest below the rank, so that a result is always a
    /// value that was really drawn.
    pub fn of_draws(draws: &[f64]) -> Option<Self> {
        let mut sorted = draws.to_vec();
        let last = sorted.len().checked_sub(1)?;
        let mut rank = |share: f64| {
            let k = (share * last as f64).round() as usize;
            *sorted.select_nth_unstable_by(k, f64::total_cmp).1
        };
        Some(Self { low: rank(0.05), likely: rank(0.5), high: rank(0.95) })
    }

    /// The triple with each value mapped; the map must be increasing.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.low), likely: f(self.likely), high: f(self.high) }
    }

    /// Whether low and high are the same value.
    pub fn is_exact(self) -> bool {
        self.low.total_cmp(&self.high).is_eq()
    }
}

/// Declares the kinds of figures: each is one of [`Figure`], and a type of its own for a slot that holds no other.
macro_rules! figures {
    ($($(#[doc = $about:literal])+ $kind:ident)+) => {
        /// A figure with its kind and unit.
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        #[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize, schemars::JsonSchema))]
        #[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
        pub enum Figure {
            $($(#[doc = $about])+ $kind(Triple),)+
        }

        impl Figure {
            /// The three numbers.
            pub fn triple(self) -> Triple {
                match self {
                    $(Self::$kind(t))|+ => t,
                }
            }
        }

        /// Kinds of figures, each a type, for the slots of messages.
        pub(crate) mod kinds {
            use crate::{Figure, Slot, SlotKind, Triple, Value};

            $(
                $(#[doc = $about])+
                #[derive(Debug, Clone, Copy, PartialEq)]
                pub struct $kind(pub Triple);

                impl From<$kind> for Figure {
                    fn from($kind(triple): $kind) -> Self {
                        Self::$kind(triple)
                    }
                }

                impl Slot for $kind {
                    const KIND: SlotKind = SlotKind::Figure;

                    fn value(self) -> Option<Value> {
                        Some(Value::Figure(self.into()))
                    }
                }
            )+
        }
    };
}

figures! {
    /// Air flow, litres per second.
    AirflowLS
    /// Pressure, pascals.
    PressurePa
    /// Length, metres.
    LengthM
    /// Diameter or other small length, millimetres.
    DiameterMm
    /// Gap, thickness or other small length, millimetres.
    GapMm
    /// Area, square metres.
    AreaM2
    /// Volume, cubic metres.
    VolumeM3
    /// Velocity, metres per second.
    VelocityMS
    /// Temperature, degrees Celsius.
    TemperatureC
    /// Angle, degrees.
    AngleDeg
    /// A plain number: a coefficient, a radius over a diameter.
    FactorRatio
    /// Share, 0 to 1.
    ShareRatio
    /// Chance, 0 to 1.
    ChanceRatio
    /// Number of things.
    Count
    /// Loudness, sone.
    LoudnessSone
    /// Power, watts.
    PowerW
    /// Thermal resistance, m²K/W.
    InsulationRsi
    /// Air changes per hour.
    AirChangesPerH
    /// Time, hours.
    TimeH
    /// Flow of water, litres per second.
    WaterLS
    /// Relative humidity, 0 to 1.
    HumidityRatio
    /// Mass, grams.
    MassG
    /// Mass, kilograms.
    MassKg
    /// Mass flow, kilograms per second.
    MassKgS
    /// Energy, kilowatt hours.
    EnergyKwh
    /// Mould index, 0 to 6.
    MouldRatio
    /// Temperature difference, kelvin.
    DifferenceK
}
