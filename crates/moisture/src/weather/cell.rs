//! One field of a table: a number, nothing, or a number that no station measures.

use super::error::WeatherError;
use super::hours::Measure;

/// Numbers that stand for "not measured" in public weather files.
const CODES: [f64; 4] = [-9900.0, -9999.0, 9999.0, 999999.0];

/// What stands in a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell {
    Value(f64),
    Missing,
    Rejected(f64),
}

/// A column that is read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column {
    pub(super) measure: Measure,
    pub(super) index: usize,
    pub(super) name: String,
    /// Value in the unit of [`Measure`] = factor·number + offset.
    pub(super) factor: f64,
    pub(super) offset: f64,
}

/// Values that are believed, in the unit of [`Measure`].
///
/// Temperature and pressure: the records of the World Meteorological Organization (−89.2 and 56.7 °C, 108.4 kPa, from memory)
/// with a margin, and the highest dwellings. Dew point likewise. Humidity: sensors read up to a tenth too much. Wind: more than
/// 75 m/s is a broken record, not a gale over an hour (judgement, no source).
pub(super) fn believed(measure: Measure) -> (f64, f64) {
    match measure {
        Measure::Temperature => (-90.0, 60.0),
        Measure::Humidity => (0.0, 1.1),
        Measure::DewPoint => (-95.0, 40.0),
        Measure::Pressure => (45_000.0, 110_000.0),
        Measure::WindSpeed => (0.0, 75.0),
        Measure::WindDirection => (0.0, 360.0),
    }
}

impl Column {
    /// Reads a field.
    pub(super) fn read(&self, text: &str, line: u64) -> Result<Cell, WeatherError> {
        let text = text.trim();
        if is_nothing(text) {
            return Ok(Cell::Missing);
        }
        let bad =
            || WeatherError::BadNumber { line, column: self.name.clone(), text: shortened(text) };
        let number: f64 = text.parse().map_err(|_| bad())?;
        if !number.is_finite() {
            return Err(bad());
        }
        if self.is_code(number) {
            return Ok(Cell::Missing);
        }
        let value = self.factor * number + self.offset;
        let (low, high) = believed(self.measure);
        Ok(if value >= low && value <= high { Cell::Value(value) } else { Cell::Rejected(value) })
    }

    /// 999 stands for "not measured" too where no such value is met.
    fn is_code(&self, number: f64) -> bool {
        let measure = self.measure;
        let short =
            matches!(measure, Measure::Humidity | Measure::WindSpeed | Measure::WindDirection);
        let is = |code: f64| (number - code).abs() < 1e-9;
        CODES.into_iter().any(is) || (short && is(999.0))
    }
}

fn is_nothing(text: &str) -> bool {
    let words = ["na", "n/a", "nan", "null", "none", "-", "--", "?", "m"];
    text.is_empty() || words.iter().any(|word| text.eq_ignore_ascii_case(word))
}

/// At most forty characters of a text, for a message.
pub(super) fn shortened(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
