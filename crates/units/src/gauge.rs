//! American wire gauge.

use std::ops::RangeInclusive;

/// From 4/0, written -3, to 40.
const GAUGES: RangeInclusive<i32> = -3..=40;

/// Cross-section of the solid round wire of a gauge, mm²; `None` where there is no such gauge.
pub(crate) fn section_mm2(gauge: i32) -> Option<f64> {
    GAUGES.contains(&gauge).then(|| {
        let diameter_mm = 0.127 * libm::pow(92.0, (36.0 - f64::from(gauge)) / 39.0);
        std::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm
    })
}

/// The gauge whose cross-section is within 0.2 % of this one.
pub(crate) fn nearest(mm2: f64) -> Option<i32> {
    GAUGES
        .into_iter()
        .find(|&gauge| section_mm2(gauge).is_some_and(|size| (mm2 / size - 1.0).abs() < 0.002))
}
