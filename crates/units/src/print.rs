//! From a number in the stored unit to what a person reads, rounded to what the trade uses.

use crate::factor;
use crate::fraction;
use crate::gauge;
use crate::kind::Kind;
use crate::style::{Style, System};
use crate::unit::{self, Scale, Unit};

/// Decimals from 100 up, from 10 up and from 1 up; below 1 three significant figures are kept.
#[derive(Clone, Copy)]
struct Decimals(usize, usize, usize);

const INTEGER: Decimals = Decimals(0, 0, 0);
const COARSE: Decimals = Decimals(0, 0, 1);
const MIDDLE: Decimals = Decimals(0, 1, 2);
const FINE: Decimals = Decimals(1, 2, 3);

pub(crate) fn value(stored: f64, kind: Kind, style: &Style) -> String {
    match kind {
        Kind::Length => length(stored, style),
        Kind::Temperature => thermometer(stored, style.system),
        Kind::ThermalResistance => resistance(stored, style.system),
        Kind::Conductor => conductor(stored, style.system),
        Kind::Ratio => figure(stored, FINE),
        Kind::Loudness if figure(stored, MIDDLE) == "1" => "1 sone".to_owned(),
        _ => plain(stored, kind, style.system),
    }
}

/// A number of degrees prints without the shift of the scale; everything else as a value.
pub(crate) fn difference(stored: f64, kind: Kind, style: &Style) -> String {
    if kind != Kind::Temperature {
        return value(stored, kind, style);
    }
    match style.system {
        System::Us => format!("{} °F", one_decimal(stored / factor::FAHRENHEIT_DEGREE)),
        System::Metric => format!("{} °C", one_decimal(stored)),
    }
}

fn length(metres: f64, style: &Style) -> String {
    match style.system {
        System::Us => fraction::inches(metres, style).unwrap_or_else(|| {
            let inches = metres / factor::INCH;
            if inches.abs() < 1.0 {
                format!("{} in", figure(inches, FINE))
            } else {
                format!("{} ft", figure(metres / factor::FOOT, MIDDLE))
            }
        }),
        System::Metric if metres.abs() < 0.9995 => {
            format!("{} mm", figure(metres / factor::MILLIMETRE, COARSE))
        }
        System::Metric => format!("{} m", whole_millimetres(metres)),
    }
}

/// Metres to the nearest millimetre; halves go up, which printing binary metres would not keep.
fn whole_millimetres(metres: f64) -> String {
    let millimetres = (metres * 1e3).round();
    trim(format!("{:.3}", millimetres / 1e3))
}

fn thermometer(kelvins: f64, system: System) -> String {
    let celsius = kelvins - factor::CELSIUS_ZERO;
    match system {
        System::Us => {
            format!("{} °F", one_decimal(celsius / factor::FAHRENHEIT_DEGREE + 32.0))
        }
        System::Metric => format!("{} °C", one_decimal(celsius)),
    }
}

fn resistance(rsi: f64, system: System) -> String {
    match system {
        System::Us => format!("R-{}", figure(rsi / factor::R_IP, Decimals(0, 1, 1))),
        System::Metric => format!("RSI {}", figure(rsi, Decimals(1, 1, 2))),
    }
}

fn conductor(mm2: f64, system: System) -> String {
    let gauge = match system {
        System::Us => gauge::nearest(mm2),
        System::Metric => None,
    };
    match gauge {
        Some(gauge @ ..=0) => format!("{}/0 AWG", 1 - gauge),
        Some(gauge) => format!("{gauge} AWG"),
        None => format!("{} mm2", figure(mm2, MIDDLE)),
    }
}

fn plain(stored: f64, kind: Kind, system: System) -> String {
    let (symbol, decimals) = printed_unit(stored.abs(), kind, system);
    match unit::symbol(kind, symbol) {
        Some(Unit { scale: Scale::By(factor), .. }) => {
            let number = figure(stored / factor, decimals);
            let gap = if symbol == "°" { "" } else { " " };
            format!("{number}{gap}{symbol}")
        }
        _ => figure(stored, FINE),
    }
}

fn printed_unit(size: f64, kind: Kind, system: System) -> (&'static str, Decimals) {
    use Kind::{
        AirChange50, Airflow, Angle, Area, Density, Duration, Humidity, Leakage50, Loudness, Mass,
        MassFlow, Power, Pressure, SoundLevel, TemperatureDifference, Velocity, Volume, WaterFlow,
    };
    use System::{Metric, Us};
    match (kind, system) {
        (Area, Us) if size < factor::SQUARE_FOOT => ("in2", MIDDLE),
        (Area, Us) => ("ft2", MIDDLE),
        (Area, Metric) if size < 0.1 => ("cm2", MIDDLE),
        (Area, Metric) => ("m2", FINE),
        (Volume, Us) if size < factor::CUBIC_FOOT => ("in3", MIDDLE),
        (Volume, Us) => ("ft3", MIDDLE),
        (Volume, Metric) if size < 0.1 => ("L", MIDDLE),
        (Volume, Metric) => ("m3", FINE),
        (Airflow, Us) => ("cfm", COARSE),
        (Airflow, Metric) => ("L/s", MIDDLE),
        (Pressure, Us) => ("inWC", FINE),
        (Pressure, Metric) => ("Pa", COARSE),
        (Velocity, Us) => ("fpm", INTEGER),
        (Velocity, Metric) => ("m/s", MIDDLE),
        (Humidity, _) => ("%", INTEGER),
        (Angle, _) => ("°", MIDDLE),
        (Duration, _) if size < 120.0 => ("s", COARSE),
        (Duration, _) if size < 7200.0 => ("min", COARSE),
        (Duration, _) => ("h", MIDDLE),
        (Density, Us) => ("lb/ft3", FINE),
        (Density, Metric) => ("kg/m3", FINE),
        (Power, _) => ("W", MIDDLE),
        (Leakage50, Us) => ("cfm50", COARSE),
        (Leakage50, Metric) => ("m3/h50", COARSE),
        (AirChange50, _) => ("ACH50", MIDDLE),
        (Loudness, _) => ("sones", MIDDLE),
        (SoundLevel, _) => ("dB", COARSE),
        (Mass, Us) => ("lb", MIDDLE),
        (Mass, Metric) if size < 1.0 => ("g", MIDDLE),
        (Mass, Metric) => ("kg", FINE),
        (MassFlow, Us) => ("lb/h", MIDDLE),
        (MassFlow, Metric) => ("g/s", MIDDLE),
        (WaterFlow, Us) => ("gpm", MIDDLE),
        (WaterFlow, Metric) => ("L/min", MIDDLE),
        (TemperatureDifference, Us) => ("°F", MIDDLE),
        (TemperatureDifference, Metric) => ("K", MIDDLE),
        _ => ("", FINE),
    }
}

/// A number with the decimals that its size deserves and no zeros behind them.
fn figure(number: f64, decimals: Decimals) -> String {
    let size = number.abs();
    let places = match size {
        _ if size >= 100.0 => decimals.0,
        _ if size >= 10.0 => decimals.1,
        _ if size >= 1.0 => decimals.2,
        _ => places_below_one(size),
    };
    trim(format!("{number:.places$}"))
}

/// Decimals that keep three significant figures of a number below 1 (twelve at most).
fn places_below_one(size: f64) -> usize {
    let mut places = 3;
    let mut lead = size * 10.0;
    while lead < 1.0 && places < 12 {
        lead *= 10.0;
        places += 1;
    }
    places
}

fn one_decimal(number: f64) -> String {
    trim(format!("{number:.1}"))
}

/// Takes trailing zeros of decimals and the sign of a zero away.
fn trim(text: String) -> String {
    if !text.contains('.') {
        return if text == "-0" { "0".to_owned() } else { text };
    }
    let trimmed = text.trim_end_matches('0').trim_end_matches('.');
    if trimmed == "-0" { "0".to_owned() } else { trimmed.to_owned() }
}
