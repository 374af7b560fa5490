//! The least insulation that keeps the water of a day under a limit.

use dewpath_air::domain::{OutOfDomain, not_negative};

/// The first of several resistances (m²·K/W, or labels, in any order) that leaves no more than `limit_kg_day` of water
/// in a duct, by its place in the list; `None` when none of them does. Then run-on, slope or a trap must help.
///
/// `net_kg_day` follows the duct through the days that count with one of the resistances and tells the net daily
/// water: what is left at the end less what was there at the start, over the days. Candidates are asked from the
/// least up, and no more of them than needed.
///
/// # Errors
/// [`OutOfDomain`] for a limit or candidate that is negative or not a number, and what `net_kg_day` returns.
///
/// # Examples
/// ```
/// use dewpath_moisture::duct::choice::least_insulation;
/// let labels = [1.41, 0.74, 1.06];
/// let found = least_insulation(&labels, 0.010, |r| Ok(0.010 * 1.0 / r))?;
/// assert_eq!(found, Some(2));
/// assert_eq!(least_insulation(&labels, 0.001, |r| Ok(0.010 * 1.0 / r))?, None);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn least_insulation(
    candidates: &[f64],
    limit_kg_day: f64,
    mut net_kg_day: impl FnMut(f64) -> Result<f64, OutOfDomain>,
) -> Result<Option<usize>, OutOfDomain> {
    let limit =
        not_negative("daily water", "kg/day", "a limit is at least nothing").check(limit_kg_day)?;
    let range = not_negative("resistance", "m2 K/W", "insulation holds heat back");
    let mut order = candidates
        .iter()
        .enumerate()
        .map(|(place, &r)| range.check(r).map(|r| (place, r)))
        .collect::<Result<Vec<_>, _>>()?;
    order.sort_by(|a, b| a.1.total_cmp(&b.1));
    for (place, resistance) in order {
        if net_kg_day(resistance)? <= limit {
            return Ok(Some(place));
        }
    }
    Ok(None)
}
