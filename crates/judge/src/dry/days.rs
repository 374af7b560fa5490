//! All draws of a room's design day.

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;

use super::day::{self, Day};
use super::plan::{Plan, RoomPlan};

/// All draws of a room's design day.
pub(super) struct Days {
    /// At the likely values.
    pub(super) likely: Day,
    /// Draw by draw; those that could not be followed are left out.
    pub(super) draws: Vec<Day>,
}

impl Days {
    /// `whole` tells of which draws the course of the exhaust is wanted to midnight.
    pub(super) fn follow(
        plan: &Plan,
        room: &RoomPlan,
        case: &Case<'_>,
        whole: impl Fn(Draw) -> bool,
    ) -> Option<Self> {
        let one = |draw: Draw| day::day(plan, room, case, draw, whole(draw));
        let likely = one(Draw::Likely)?;
        let count = plan.inputs.draws() as usize;
        let draws = (0..count).filter_map(|i| one(Draw::At(i))).collect();
        Some(Self { likely, draws })
    }

    /// The likely day of a room whose door goes the other way; none where both ways are left open, or it stands open anyway.
    pub(super) fn behind_other_door(plan: &Plan, room: &RoomPlan, case: &Case<'_>) -> Option<Day> {
        let other = RoomPlan { door: room.other_door.clone()?, ..room.clone() };
        day::day(plan, &other, case, Draw::Likely, false)
    }

    pub(super) fn sample(&self, of: impl Fn(&Day) -> f64) -> Sample {
        Sample { likely: of(&self.likely), draws: self.draws.iter().map(&of).collect() }
    }

    /// Share of the draws in which something is so; without draws it is or it is not.
    pub(super) fn chance(&self, so: impl Fn(&Day) -> bool) -> f64 {
        if self.draws.is_empty() {
            return f64::from(u8::from(so(&self.likely)));
        }
        self.draws.iter().filter(|day| so(day)).count() as f64 / self.draws.len() as f64
    }

    pub(super) fn worst(&self, of: impl Fn(&Day) -> f64) -> f64 {
        self.draws.iter().map(&of).fold(of(&self.likely), f64::max)
    }
}

/// Followed times longer than this are "not within it".
pub(super) fn time(of: Option<f64>, day: &Day) -> f64 {
    of.unwrap_or(day.shower.followed_s)
}
