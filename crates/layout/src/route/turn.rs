//! How much of its legs a fitting takes up.

use super::ways::Bend;

/// Straight length of a leg that a fitting takes up at either of its ends.
pub(super) fn tangent_m(bend: &Bend) -> f64 {
    bend.radius_m * libm::tan(0.5 * bend.turn_deg.to_radians())
}

/// Whether a fitting turns by 45 degrees.
pub(super) fn is_half(bend: &Bend) -> bool {
    bend.turn_deg < 60.0
}

/// Least length along either axis of a slanted leg between two fittings.
pub(super) fn least_slant(bend: &Bend, straight: f64) -> f64 {
    (2.0 * tangent_m(bend) + straight) * 0.5_f64.sqrt()
}
