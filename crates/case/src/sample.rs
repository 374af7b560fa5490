//! A value that follows from inputs: its likely value and one value a draw.

use dewpath_report::{Figure, Triple};

use crate::inputs::{Draw, Inputs};

/// Litres a second of a flow in m3/s.
pub fn litres(m3_s: f64) -> f64 {
    m3_s * 1000.0
}

/// A flow in m3/s, as a figure.
pub fn airflow(m3_s: Triple) -> Figure {
    Figure::AirflowLS(m3_s.map(litres))
}

/// A likely value with its draws; without draws it is the same in all of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// At the likely values of all inputs.
    pub likely: f64,
    /// Draw by draw; empty where it does not change.
    pub draws: Vec<f64>,
}

impl Sample {
    /// The same value in every draw.
    pub fn exact(value: f64) -> Self {
        Self { likely: value, draws: Vec::new() }
    }

    /// Evaluates a formula at the likely values and in every draw.
    pub fn of(inputs: &Inputs, mut formula: impl FnMut(Draw) -> f64) -> Self {
        let likely = formula(Draw::Likely);
        let draws: Vec<f64> = (0..inputs.draws() as usize).map(|i| formula(Draw::At(i))).collect();
        let same = draws.iter().all(|draw| draw.total_cmp(&likely).is_eq());
        Self { likely, draws: if same { Vec::new() } else { draws } }
    }

    /// The value in a draw.
    pub fn at(&self, draw: Draw) -> f64 {
        match draw {
            Draw::At(i) => self.draws.get(i).copied().unwrap_or(self.likely),
            Draw::Likely => self.likely,
        }
    }

    /// Low, likely and high, over the draws that have a value.
    pub fn triple(&self) -> Triple {
        if self.draws.iter().any(|draw| draw.is_nan()) {
            let finite: Vec<f64> = self.draws.iter().copied().filter(|d| d.is_finite()).collect();
            return Triple::of_draws(&finite).unwrap_or_else(|| Triple::exact(self.likely));
        }
        Triple::of_draws(&self.draws).unwrap_or_else(|| Triple::exact(self.likely))
    }

    /// Low, likely and high of a flow in m3/s, in L/s.
    pub fn litres(&self) -> Triple {
        self.map(litres).triple()
    }

    /// The same with each value changed.
    #[must_use]
    pub fn map(&self, f: impl Fn(f64) -> f64) -> Self {
        Self { likely: f(self.likely), draws: self.draws.iter().map(|&d| f(d)).collect() }
    }

    /// Two samples of the same inputs put together, draw by draw.
    #[must_use]
    pub fn with(&self, other: &Self, f: impl Fn(f64, f64) -> f64) -> Self {
        let count = self.draws.len().max(other.draws.len());
        Self {
            likely: f(self.likely, other.likely),
            draws: (0..count).map(|i| f(self.at(Draw::At(i)), other.at(Draw::At(i)))).collect(),
        }
    }
}
