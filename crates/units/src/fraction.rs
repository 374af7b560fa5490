//! Inches with fractions, as on a tape.

use crate::factor;
use crate::style::Style;

/// Nanometres in a metre.
pub(crate) const NM_PER_M: f64 = 1e9;

/// Nanometres in an inch, exactly.
pub const NM_PER_INCH: i64 = 25_400_000;

/// Inches with a fraction for a physical length; `None` where a fraction would hide the length
/// (below half a step) or is beside the point (beyond 100 km).
pub(crate) fn inches(metres: f64, style: &Style) -> Option<String> {
    let half_step = factor::INCH / f64::from(style.fraction.parts()) / 2.0;
    let is_hidden = metres != 0.0 && metres.abs() < half_step;
    if !metres.is_finite() || metres.abs() > 1e5 || is_hidden {
        return None;
    }
    Some(fraction_inches((metres * NM_PER_M).round() as i128, style))
}

/// Feet, inches and a fraction of an inch, rounded to the style's.
pub(crate) fn fraction_inches(nanometres: i128, style: &Style) -> String {
    let parts = i128::from(style.fraction.parts());
    let steps = rounded_div(nanometres * parts, NM_PER_INCH.into());
    let sign = if steps < 0 { "-" } else { "" };
    let size = steps.abs();
    let (whole, part) = (size / parts, size % parts);
    let (feet, inches) = if style.feet_inches { (whole / 12, whole % 12) } else { (0, whole) };
    let inch_text = inch_words(inches, part, parts);
    match (feet, inch_text) {
        (0, None) => "0 in".to_owned(),
        (0, Some(inches)) => format!("{sign}{inches}"),
        (feet, None) => format!("{sign}{feet} ft"),
        (feet, Some(inches)) => format!("{sign}{feet} ft {inches}"),
    }
}

/// `4-1/2 in`, `3/8 in`, `4 in`, or nothing for no inches.
fn inch_words(whole: i128, mut part: i128, mut parts: i128) -> Option<String> {
    while part != 0 && part % 2 == 0 {
        part /= 2;
        parts /= 2;
    }
    match (whole, part) {
        (0, 0) => None,
        (whole, 0) => Some(format!("{whole} in")),
        (0, part) => Some(format!("{part}/{parts} in")),
        (whole, part) => Some(format!("{whole}-{part}/{parts} in")),
    }
}

/// Nearest whole quotient, halves away from zero, as a carpenter rounds.
pub(crate) fn rounded_div(numerator: i128, denominator: i128) -> i128 {
    let half = denominator / 2;
    if numerator >= 0 { (numerator + half) / denominator } else { (numerator - half) / denominator }
}
