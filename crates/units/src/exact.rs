//! From a number in the stored unit to a text that reads as this very number.

use crate::factor;
use crate::kind::Kind;
use crate::print;
use crate::read;
use crate::style::{Style, System};
use crate::unit::{Scale, UNITS, Unit};

/// The first way of writing it that reads as the very same number, those of a system before others; where no digits of any unit
/// do, the number beside it.
pub(crate) fn value(stored: f64, kind: Kind, system: System) -> String {
    // No value is a zero below zero.
    let stored = stored + 0.0;
    // What can't be below zero where it is measured may be so along an axis: there the sign stands before it.
    if stored < 0.0 && kind.floor() == Some(0.0) {
        return format!("-{}", value(-stored, kind, system));
    }
    let is_same =
        |text: &String| read::value(text, kind).is_ok_and(|read| read.total_cmp(&stored).is_eq());
    let first = UNITS.iter().find(|unit| unit.kind == kind);
    let beside =
        || first.and_then(|unit| Some(in_unit(number(stored, unit)?, unit.symbol, unit.leads)));
    let found = spellings(stored, kind, system).find(is_same).or_else(beside);
    found.unwrap_or_else(|| stored.to_string())
}

/// An interval, such as the spread of an estimate: degrees are counted from one to the other.
pub(crate) fn difference(stored: f64, kind: Kind, system: System) -> String {
    if kind == Kind::Temperature {
        in_unit(stored, "K", false)
    } else {
        value(stored, kind, system)
    }
}

/// Ways of writing a number, those with few digits first.
fn spellings(stored: f64, kind: Kind, system: System) -> impl Iterator<Item = String> {
    let printed = match system {
        System::Us => [Style::US, Style::METRIC],
        System::Metric => [Style::METRIC, Style::US],
    };
    let printed = printed.into_iter().map(move |style| print::value(stored, kind, &style));
    let in_feet = (kind == Kind::Length && system == System::Us)
        .then(|| print::value(stored, kind, &Style::US));
    let shop = match kind {
        Kind::Ratio => Some(stored.to_string()),
        // A tape is read to the millimetre, and an inch is whole tenths of one.
        Kind::Length => Some(in_unit(rounded(stored / factor::MILLIMETRE), "mm", false)),
        Kind::Angle => Some(in_unit(rounded(stored / factor::DEGREE), "deg", false)),
        _ => None,
    };
    let units = UNITS.iter().filter(move |unit| unit.kind == kind);
    let digits = units.filter_map(move |unit| {
        let number = number(stored, unit)?;
        // A factor may round, so the last digit is tried one step beside.
        let tried = [rounded(number), number, number.next_up(), number.next_down()];
        Some(tried.map(|number| in_unit(number, unit.symbol, unit.leads)))
    });
    in_feet.into_iter().chain(shop).chain(printed).chain(digits.flatten())
}

/// How many of a unit; none where its steps are no numbers.
fn number(stored: f64, unit: &Unit) -> Option<f64> {
    match unit.scale {
        Scale::By(factor) => Some(stored / factor),
        Scale::Shifted { by, plus } => Some((stored - plus) / by),
        Scale::Gauge => None,
    }
}

/// A number without what only its last digits say, where a factor has rounded.
fn rounded(number: f64) -> f64 {
    format!("{number:.11e}").parse().unwrap_or(number)
}

fn in_unit(number: f64, symbol: &str, leads: bool) -> String {
    if leads { format!("{symbol} {number}") } else { format!("{number} {symbol}") }
}
