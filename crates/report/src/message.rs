//! Sentences by key with typed values, and the figures in them.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Low, likely and high: 5th percentile, median and 95th percentile of the draws.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
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

/// A figure with its kind and unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Figure {
    /// Air flow, litres per second.
    AirflowLS(Triple),
    /// Pressure, pascals.
    PressurePa(Triple),
    /// Length, metres.
    LengthM(Triple),
    /// Diameter or other small length, millimetres.
    DiameterMm(Triple),
    /// Gap, thickness or other small length, millimetres.
    GapMm(Triple),
    /// Area, square metres.
    AreaM2(Triple),
    /// Volume, cubic metres.
    VolumeM3(Triple),
    /// Velocity, metres per second.
    VelocityMS(Triple),
    /// Temperature, degrees Celsius.
    TemperatureC(Triple),
    /// Angle, degrees.
    AngleDeg(Triple),
    /// A plain number: a coefficient, a radius over a diameter.
    FactorRatio(Triple),
    /// Share, 0 to 1.
    ShareRatio(Triple),
    /// Chance, 0 to 1.
    ChanceRatio(Triple),
    /// Number of things.
    Count(Triple),
    /// Loudness, sone.
    LoudnessSone(Triple),
    /// Power, watts.
    PowerW(Triple),
    /// Thermal resistance, m²K/W.
    InsulationRsi(Triple),
    /// Air changes per hour.
    AirChangesPerH(Triple),
    /// Time, hours.
    TimeH(Triple),
    /// Flow of water, litres per second.
    WaterLS(Triple),
    /// Relative humidity, 0 to 1.
    HumidityRatio(Triple),
    /// Mass, grams.
    MassG(Triple),
    /// Mass, kilograms.
    MassKg(Triple),
    /// Mass flow, kilograms per second.
    MassKgS(Triple),
    /// Energy, kilowatt hours.
    EnergyKwh(Triple),
    /// Mould index, 0 to 6.
    MouldRatio(Triple),
    /// Temperature difference, kelvin.
    DifferenceK(Triple),
}

impl Figure {
    /// The three numbers.
    pub fn triple(self) -> Triple {
        match self {
            Self::AirflowLS(t)
            | Self::PressurePa(t)
            | Self::LengthM(t)
            | Self::DiameterMm(t)
            | Self::GapMm(t)
            | Self::AreaM2(t)
            | Self::VolumeM3(t)
            | Self::VelocityMS(t)
            | Self::TemperatureC(t)
            | Self::AngleDeg(t)
            | Self::FactorRatio(t)
            | Self::ShareRatio(t)
            | Self::ChanceRatio(t)
            | Self::Count(t)
            | Self::LoudnessSone(t)
            | Self::PowerW(t)
            | Self::InsulationRsi(t)
            | Self::AirChangesPerH(t)
            | Self::TimeH(t)
            | Self::WaterLS(t)
            | Self::HumidityRatio(t)
            | Self::MassG(t)
            | Self::MassKg(t)
            | Self::MassKgS(t)
            | Self::EnergyKwh(t)
            | Self::MouldRatio(t)
            | Self::DifferenceK(t) => t,
        }
    }
}

/// A value inside a message.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// A figure, printed in the unit system of the reader.
    Figure(Figure),
    /// An id or name as the user wrote it.
    Name(String),
    /// A word of ours, by key; translated.
    Word(String),
    /// A reference such as a section number; never translated.
    Reference(String),
}

/// A sentence by key, with its values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Message {
    /// Key of the sentence.
    pub key: String,
    /// Values by the name they have in the sentence.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub values: BTreeMap<String, Value>,
    /// The sentence in the language and units asked for; empty until it is put into words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

impl Message {
    /// A message without values.
    pub fn new(key: &str) -> Self {
        Self { key: key.to_owned(), values: BTreeMap::new(), text: String::new() }
    }

    /// The same with a figure.
    #[must_use]
    pub fn figure(mut self, name: &str, figure: Figure) -> Self {
        self.values.insert(name.to_owned(), Value::Figure(figure));
        self
    }

    /// The same with a name as the user wrote it.
    #[must_use]
    pub fn name(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Name(value.into()));
        self
    }

    /// The same with a word of ours.
    #[must_use]
    pub fn word(mut self, name: &str, key: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Word(key.into()));
        self
    }

    /// The same with a reference.
    #[must_use]
    pub fn reference(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Reference(value.into()));
        self
    }
}
