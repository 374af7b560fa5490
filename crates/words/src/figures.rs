//! Figures in the reader's unit system.

use dewpath_engine::report::{Figure, Triple};
use dewpath_units::System;

use crate::Speaker;

/// How a kind of figure is shown: factor, offset, unit and digits.
struct Shown {
    factor: f64,
    offset: f64,
    unit: &'static str,
    digits: Digits,
}

/// How many digits make sense.
enum Digits {
    /// So many decimals.
    Decimals(usize),
    /// So many significant digits.
    Significant(i32),
    /// Feet, inches and sixteenths.
    Tape,
}

const FT: f64 = 0.3048;
const INCH_MM: f64 = 25.4;

impl Speaker {
    /// A figure: `78 cfm`, or `70 cfm (64 to 81)` where it has a spread.
    pub fn figure(&self, figure: Figure) -> String {
        let shown = self.shown(figure);
        let t = figure.triple();
        let (low, likely, high) =
            (number(t.low, &shown), number(t.likely, &shown), number(t.high, &shown));
        if low == high {
            return join(&likely, shown.unit);
        }
        format!("{} ({low} to {high})", join(&likely, shown.unit))
    }

    /// The likely value alone.
    pub fn likely(&self, figure: Figure) -> String {
        let shown = self.shown(figure);
        join(&number(figure.triple().likely, &shown), shown.unit)
    }

    /// The range alone: `64 to 81 cfm`, or one value where there is no spread.
    pub fn range(&self, figure: Figure) -> String {
        let shown = self.shown(figure);
        let Triple { low, high, .. } = figure.triple();
        let (low, high) = (number(low, &shown), number(high, &shown));
        if low == high {
            join(&low, shown.unit)
        } else {
            join(&format!("{low} to {high}"), shown.unit)
        }
    }

    fn shown(&self, figure: Figure) -> Shown {
        let us = self.system == System::Us;
        let (factor, offset, unit, digits) = match figure {
            Figure::AirflowLS(_) if us => (1.0 / 0.471_947_443_2, 0.0, "cfm", Digits::Decimals(0)),
            Figure::AirflowLS(_) => (1.0, 0.0, "L/s", Digits::Decimals(1)),
            Figure::PressurePa(_) if us => (1.0 / 249.0889, 0.0, "in. w.c.", Digits::Decimals(3)),
            Figure::PressurePa(_) => (1.0, 0.0, "Pa", Digits::Decimals(1)),
            Figure::LengthM(_) if us => (1.0, 0.0, "", Digits::Tape),
            Figure::LengthM(_) => (1.0, 0.0, "m", Digits::Decimals(2)),
            Figure::DiameterMm(_) | Figure::GapMm(_) if us => {
                (1.0 / INCH_MM, 0.0, "in.", Digits::Tape)
            }
            Figure::DiameterMm(_) | Figure::GapMm(_) => (1.0, 0.0, "mm", Digits::Decimals(0)),
            Figure::AreaM2(_) if us => (1.0 / (FT * FT), 0.0, "ft²", Digits::Significant(3)),
            Figure::AreaM2(_) => (1.0, 0.0, "m²", Digits::Significant(3)),
            Figure::VolumeM3(_) if us => (1.0 / (FT * FT * FT), 0.0, "ft³", Digits::Significant(3)),
            Figure::VolumeM3(_) => (1.0, 0.0, "m³", Digits::Significant(3)),
            Figure::VelocityMS(_) if us => (60.0 / FT, 0.0, "ft/min", Digits::Significant(2)),
            Figure::VelocityMS(_) => (1.0, 0.0, "m/s", Digits::Decimals(1)),
            Figure::TemperatureC(_) if us => (1.8, 32.0, "°F", Digits::Decimals(0)),
            Figure::TemperatureC(_) => (1.0, 0.0, "°C", Digits::Decimals(0)),
            Figure::AngleDeg(_) => (1.0, 0.0, "°", Digits::Decimals(0)),
            Figure::FactorRatio(_) => (1.0, 0.0, "", Digits::Decimals(2)),
            Figure::ShareRatio(_) | Figure::ChanceRatio(_) => {
                (100.0, 0.0, "%", Digits::Decimals(0))
            }
            Figure::Count(_) => (1.0, 0.0, "", Digits::Decimals(0)),
            Figure::LoudnessSone(_) => (1.0, 0.0, "sone", Digits::Decimals(1)),
            Figure::PowerW(_) => (1.0, 0.0, "W", Digits::Significant(2)),
            Figure::InsulationRsi(_) if us => (5.678_263, 0.0, "R", Digits::Decimals(1)),
            Figure::InsulationRsi(_) => (1.0, 0.0, "RSI", Digits::Decimals(2)),
            Figure::AirChangesPerH(_) => (1.0, 0.0, "air changes an hour", Digits::Decimals(1)),
            Figure::TimeH(_) => (60.0, 0.0, "min", Digits::Significant(2)),
        };
        Shown { factor, offset, unit, digits }
    }
}

fn join(number: &str, unit: &str) -> String {
    match unit {
        "" | "in." if number.ends_with('"') || unit.is_empty() => number.to_owned(),
        "R" | "RSI" => format!("{unit}-{number}"),
        "%" => format!("{number} %"),
        _ => format!("{number} {unit}"),
    }
}

fn number(si: f64, shown: &Shown) -> String {
    let value = si * shown.factor + shown.offset;
    match shown.digits {
        Digits::Decimals(decimals) => decimal(value, decimals),
        Digits::Significant(digits) => significant(value, digits),
        Digits::Tape if shown.unit == "in." => inches(value),
        Digits::Tape => feet_and_inches(value),
    }
}

fn decimal(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    // "-0" and "-0.0" read like a mistake.
    if text.trim_start_matches(['-', '0', '.']).is_empty() { text.replace('-', "") } else { text }
}

fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return decimal(value, 0);
    }
    let magnitude = libm::floor(libm::log10(value.abs())) as i32;
    let decimals = (digits - 1 - magnitude).max(0) as usize;
    let step = libm::pow(10.0, f64::from((magnitude + 1 - digits).max(0)));
    decimal((value / step).round() * step, decimals)
}

/// Inches with a reduced fraction to the nearest sixteenth: `3-1/8`.
fn inches(value: f64) -> String {
    let sixteenths = (value * 16.0).round() as i64;
    let (whole, part) = (sixteenths.div_euclid(16), sixteenths.rem_euclid(16));
    if part == 0 {
        return whole.to_string();
    }
    let shared = 1i64 << part.trailing_zeros().min(4);
    let fraction = format!("{}/{}", part / shared, 16 / shared);
    if whole == 0 { fraction } else { format!("{whole}-{fraction}") }
}

/// Feet and inches to the nearest sixteenth, from metres.
fn feet_and_inches(metres: f64) -> String {
    let sixteenths = (metres / FT * 12.0 * 16.0).round() as i64;
    let (feet, rest) = (sixteenths.div_euclid(192), sixteenths.rem_euclid(192));
    let small = inches(rest as f64 / 16.0);
    match (feet, rest) {
        (0, _) => format!("{small} in."),
        (_, 0) => format!("{feet} ft"),
        _ => format!("{feet} ft {small} in."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(value: f64) -> Triple {
        Triple::exact(value)
    }

    #[test]
    fn us_figures_read_as_on_a_label_or_a_tape() {
        let us = Speaker::us();
        assert_eq!(us.figure(Figure::AirflowLS(exact(37.755_8))), "80 cfm");
        assert_eq!(us.figure(Figure::PressurePa(exact(62.27))), "0.250 in. w.c.");
        assert_eq!(us.figure(Figure::LengthM(exact(2.8575))), "9 ft 4-1/2 in.");
        assert_eq!(us.figure(Figure::DiameterMm(exact(101.6))), "4 in.");
        assert_eq!(us.figure(Figure::ShareRatio(exact(0.5))), "50 %");
    }

    #[test]
    fn spreads_show_likely_then_range() {
        let flow = Figure::AirflowLS(Triple { low: 20.0, likely: 25.0, high: 30.0 });
        assert_eq!(Speaker::metric().figure(flow), "25.0 L/s (20.0 to 30.0)");
        assert_eq!(Speaker::metric().range(flow), "20.0 to 30.0 L/s");
    }

    #[test]
    fn a_small_negative_is_not_minus_nothing() {
        assert_eq!(Speaker::metric().figure(Figure::PressurePa(exact(-0.001))), "0.0 Pa");
    }
}
