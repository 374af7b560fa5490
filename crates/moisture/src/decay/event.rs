//! Showers in a long record.

use dewpath_air::domain::{OutOfDomain, not_negative, positive};
use dewpath_units::{Duration, Humidity};

use super::error::DecayError;

/// What counts as a shower in a record of relative humidity.
///
/// The default asks for a rise of more than 12 % within 20 minutes, at the highest reading within an hour on both sides, more than
/// five hours after the shower before (common practice, no source). Relative humidity also jumps when the temperature falls:
/// an airing in winter or a cold room is told apart by looking at the humidity ratio of the same points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EventRule {
    /// Least rise.
    pub rise: Humidity,
    /// Time within which it rises.
    pub within: Duration,
    /// Time before and after, within which no reading is higher.
    pub around: Duration,
    /// Time since the event before that must have passed.
    pub apart: Duration,
}

impl Default for EventRule {
    fn default() -> Self {
        Self {
            rise: Humidity::from_percent(12.0),
            within: Duration::from_min(20.0),
            around: Duration::from_min(60.0),
            apart: Duration::from_min(300.0),
        }
    }
}

impl EventRule {
    fn check(&self) -> Result<(), OutOfDomain> {
        positive("rise", "(of 1)", "an event is a rise").check(self.rise.ratio())?;
        positive("time of rise", "s", "a rise takes time").check(self.within.s())?;
        not_negative("time around a peak", "s", "a time is needed").check(self.around.s())?;
        not_negative("time between events", "s", "a time is needed").check(self.apart.s())?;
        Ok(())
    }
}

/// Times that were minutes come back with a rounding, s.
const ROUNDING_S: f64 = 1e-6;

/// Numbers of the readings at which showers peak, in order. `times` rise; `humidity` is of the same length.
///
/// # Errors
/// [`DecayError::LengthsDiffer`], [`DecayError::NotANumber`], [`DecayError::TimeNotRising`];
/// [`DecayError::OutOfDomain`] for a rule that asks for no rise or a negative time.
pub fn shower_peaks(
    times: &[Duration],
    humidity: &[Humidity],
    rule: &EventRule,
) -> Result<Vec<usize>, DecayError> {
    rule.check()?;
    if times.len() != humidity.len() {
        return Err(DecayError::LengthsDiffer { readings: times.len(), others: humidity.len() });
    }
    for (index, (time, reading)) in times.iter().zip(humidity).enumerate() {
        if !time.s().is_finite() || !reading.ratio().is_finite() {
            return Err(DecayError::NotANumber { index });
        }
        if index > 0 && time.s() <= times[index - 1].s() {
            return Err(DecayError::TimeNotRising { index });
        }
    }
    let mut peaks: Vec<usize> = Vec::new();
    // The last reading that is at least `within` before the one looked at.
    let mut before = 0;
    for index in 0..times.len() {
        let wanted = times[index].s() - rule.within.s() + ROUNDING_S;
        while before + 1 < index && times[before + 1].s() <= wanted {
            before += 1;
        }
        let is_there = times[before].s() <= wanted;
        // Across a hole in the record the time of the rise is not known.
        let is_near = times[index].s() - times[before].s() <= 2.0 * rule.within.s() + ROUNDING_S;
        let rises = is_there
            && is_near
            && humidity[index].ratio() - humidity[before].ratio() > rule.rise.ratio();
        let is_apart = peaks
            .last()
            .is_none_or(|last| times[index].s() - times[*last].s() > rule.apart.s() + ROUNDING_S);
        if rises && is_apart && is_highest(times, humidity, index, rule.around.s() + ROUNDING_S) {
            peaks.push(index);
        }
    }
    Ok(peaks)
}

fn is_highest(times: &[Duration], humidity: &[Humidity], index: usize, around_s: f64) -> bool {
    let (time, peak) = (times[index].s(), humidity[index].ratio());
    let lower = |other: &usize| humidity[*other].ratio() <= peak;
    let earlier = (0..index).rev().take_while(|other| time - times[*other].s() <= around_s);
    let later = (index + 1..times.len()).take_while(|other| times[*other].s() - time <= around_s);
    earlier.chain(later).all(|other| lower(&other))
}
