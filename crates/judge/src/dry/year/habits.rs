//! What happens in a room every day of the year: showers, baths, laundry, people.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::model::Room;
use dewpath_moisture::room::Event;
use dewpath_moisture::source::{BATH_KG_H, Laundry};
use dewpath_units::{Mass, sort};

use crate::dry::model::{FIRST_SHOWER_S, PERSON_KG_S, PERSON_W, events};
use crate::dry::plan::{Plan, RoomPlan};

/// A bath stays full for so long, s. Judgement: twenty minutes.
const BATH_S: f64 = 1200.0;
/// Baths begin in the evening, s after midnight. Judgement.
const FIRST_BATH_S: u32 = 19 * 3600;
/// Dry mass that the published rate of drying laundry belongs to, kg.
const LAUNDRY_KG: f64 = 4.5;
/// Water that laundry holds after the spin cycle, over its dry mass. Common practice, no source.
const SPUN_WATER: f64 = 0.5;
/// Nothing begins later than this, s after midnight: what happens after a shower still belongs to its day.
const DAY_END_S: u32 = 86_340;
/// Between one shower and the next at least, s.
const PAUSE_S: u32 = 60;

/// The days of a room.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Habits {
    /// Beginning and length of each shower, s; a bath stands among them as a shower that gives off as much.
    pub showers: Vec<(u32, u32)>,
    /// Showers and baths that a day has no room for.
    pub left_out: usize,
    /// Showers of a day, baths apart.
    pub count: usize,
    /// Baths of a day.
    pub baths: usize,
    /// Whether the times of the showers are written.
    pub times_written: bool,
    /// Vapour of drying laundry, kg/s, day and night.
    pub drying_kg_s: f64,
    /// Vapour and heat of further people in the room while somebody showers, kg/s and W.
    pub people: (f64, f64),
    /// The happenings of a day.
    pub events: Vec<Event>,
}

/// The days of a room at the likely values; `vapour_kg_s` is what its shower gives off.
pub(super) fn habits(plan: &Plan, room: &RoomPlan, case: &Case<'_>, vapour_kg_s: f64) -> Habits {
    let of_job = &case.job.rooms[room.room];
    let value = |id| plan.inputs.value(id, Draw::Likely);
    let length = (value(room.length).round() as u32).clamp(1, 7200);
    let gap = (value(room.gap).round() as u32).clamp(10, 43_200);
    let times = &of_job.usage.at;
    let written = middle(of_job.usage.showers.as_ref().and_then(|s| s.value.bounds()));
    let count = match written {
        Some(count) => count,
        None if !times.is_empty() => times.len(),
        None => value(room.showers).round() as usize,
    };
    let baths = middle(given::count_bounds(&of_job.usage.baths)).unwrap_or(0);
    let mut wanted: Vec<(u32, u32)> =
        times.iter().take(count).map(|at| (60 * u32::from(at.minutes()), length)).collect();
    while wanted.len() < count {
        let start = wanted.last().map_or(FIRST_SHOWER_S, |last| last.0 + length + gap);
        wanted.push((start, length));
    }
    let bath = bath_as_shower_s(vapour_kg_s);
    wanted.extend((0..baths).map(|i| (FIRST_BATH_S.saturating_add(i as u32 * 1800), bath)));
    let (showers, left_out) = one_after_the_other(wanted);
    Habits {
        events: events(room, &plan.inputs, Draw::Likely, &showers),
        showers,
        left_out,
        count,
        baths,
        times_written: !times.is_empty(),
        drying_kg_s: drying(of_job),
        people: further_people(of_job),
    }
}

fn middle(bounds: Option<(u32, u32)>) -> Option<usize> {
    bounds.map(|(low, high)| f64::midpoint(low.into(), high.into()).round() as usize)
}

/// How long a shower runs that gives off as much as a bath, s.
fn bath_as_shower_s(vapour_kg_s: f64) -> u32 {
    let bath_kg = BATH_KG_H.likely * BATH_S / 3600.0;
    if vapour_kg_s <= 0.0 {
        return BATH_S as u32;
    }
    (bath_kg / vapour_kg_s).round().clamp(30.0, BATH_S) as u32
}

/// Nobody showers while another does: who comes too early waits; what does not fit into the day is left out.
fn one_after_the_other(mut wanted: Vec<(u32, u32)>) -> (Vec<(u32, u32)>, usize) {
    sort::by_key(&mut wanted, |shower| shower.0);
    let asked = wanted.len();
    let mut done: Vec<(u32, u32)> = Vec::with_capacity(asked);
    for (start, length) in wanted {
        let free = done.last().map_or(0, |(start, length)| start + length + PAUSE_S);
        let start = start.max(free);
        if start + length <= DAY_END_S {
            done.push((start, length));
        }
    }
    let left_out = asked - done.len();
    (done, left_out)
}

/// Vapour of laundry, kg/s: at the published rate while it dries, and never more in a day than it holds.
fn drying(room: &Room) -> f64 {
    let Some(dry) = given::likely(&room.usage.drying).map(Mass::kg) else { return 0.0 };
    let rate = Laundry::Spun.vapour_kg_h().likely / 3600.0 * dry / LAUNDRY_KG;
    rate.min(SPUN_WATER * dry / 86_400.0).max(0.0)
}

/// What more people than one give off while somebody showers.
fn further_people(room: &Room) -> (f64, f64) {
    let more = middle(given::count_bounds(&room.usage.people)).unwrap_or(1).saturating_sub(1);
    (more as f64 * PERSON_KG_S, more as f64 * PERSON_W)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_showers_while_another_does() {
        let (done, left_out) =
            one_after_the_other(vec![(25_000, 600), (24_000, 600), (25_100, 600)]);
        assert_eq!(done, [(24_000, 600), (25_000, 600), (25_660, 600)]);
        assert_eq!(left_out, 0);
    }

    #[test]
    fn a_day_ends() {
        let (done, left_out) = one_after_the_other(vec![(86_000, 600), (40_000, 7200)]);
        assert_eq!((done.len(), left_out), (1, 1));
    }

    /// 0.7 kg/h for twenty minutes are 0.233 kg; a shower of 2.5 kg/h gives that off in 336 s.
    #[test]
    fn a_bath_is_a_short_shower() {
        assert_eq!(bath_as_shower_s(2.5 / 3600.0), 336);
        assert_eq!(bath_as_shower_s(0.0), 1200);
    }
}
