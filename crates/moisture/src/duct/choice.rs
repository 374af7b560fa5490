//! The least insulation that keeps the water of a day under a limit.

use dewpath_air::domain::{OutOfDomain, not_negative};
use dewpath_units::{ThermalResistance, sort};

/// The least of several resistances, in any order, that leaves no more than `limit_kg_day` of water in a duct, by its
/// place in the list; `None` when none of them does. Then run-on, slope or a trap must help.
///
/// `net_kg_day` follows the duct through the days that count with one of the resistances and tells the net daily
/// water, such as [`super::line::Story::net_kg_day`] (with what ran back to the fan added, if that counts as
/// well). Candidates are asked from the least up, and no more of them than needed.
///
/// # Errors
/// [`OutOfDomain`] for a limit or candidate that is negative or not a number, and what `net_kg_day` returns.
///
/// # Examples
/// ```
/// use dewpath_air::domain::OutOfDomain;
/// use dewpath_moisture::duct::choice::least_insulation;
/// use dewpath_units::{ThermalResistance, sort};
///
/// let labels = [8.0, 4.2, 6.0].map(ThermalResistance::from_r_ip);
/// let water = |r: ThermalResistance| Ok::<_, OutOfDomain>(0.010 / r.rsi());
/// assert_eq!(least_insulation(&labels, 0.010, water)?, Some(2));
/// assert_eq!(least_insulation(&labels, 0.001, water)?, None);
/// # Ok::<(), OutOfDomain>(())
/// ```
pub fn least_insulation<E: From<OutOfDomain>>(
    candidates: &[ThermalResistance],
    limit_kg_day: f64,
    mut net_kg_day: impl FnMut(ThermalResistance) -> Result<f64, E>,
) -> Result<Option<usize>, E> {
    let limit =
        not_negative("daily water", "kg/day", "a limit is at least nothing").check(limit_kg_day)?;
    let range = not_negative("resistance", "m2 K/W", "insulation holds heat back");
    for candidate in candidates {
        range.check(candidate.rsi())?;
    }
    let mut order: Vec<_> = candidates.iter().copied().enumerate().collect();
    sort::by(&mut order, |a, b| a.1.rsi().total_cmp(&b.1.rsi()));
    for (place, resistance) in order {
        if net_kg_day(resistance)? <= limit {
            return Ok(Some(place));
        }
    }
    Ok(None)
}
