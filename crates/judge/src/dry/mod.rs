//! Stage `dry`: the room through a design shower, and what its control does about it.
//!
//! The room, the dwelling and every surface are followed by `dewpath-moisture`; this module asks the job what it
//! needs (`plan`), builds one room a draw (`model`), follows it through its day (`day`) and judges what came out
//! (`findings`); what it draws off goes on through its ducts (`duct`).

mod control;
pub mod course;
mod day;
mod days;
mod duct;
mod findings;
mod fresh_air;
mod household;
mod model;
mod months;
mod plan;
mod winter;
pub mod year;

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_moisture::weather::Weather;
use dewpath_report::{Assumption, Clearing, ControlResult, Finding, LookNext, Report, Triple};

use control::{Held, would_do};
pub use day::DRAWS;

use day::Day;
use days::{Days, time};
use plan::{Plan, RoomPlan};

/// What the stage found.
#[derive(Default)]
pub struct Stage {
    /// Findings.
    pub findings: Vec<Finding>,
    /// What parts the causes of a drip.
    pub look_next: Vec<LookNext>,
    rooms: Vec<(usize, Clearing, Option<ControlResult>)>,
    assumptions: Vec<Assumption>,
    water: duct::Water,
}

impl Stage {
    /// Water of a winter day that does not get out of a run; none where it is not known.
    pub fn stays_g(&self, run: usize) -> Option<Triple> {
        self.water.stays_g(run)
    }

    fn add_water(&mut self, mut water: duct::Water) {
        self.findings.append(&mut water.findings);
        self.look_next.append(&mut water.look_next);
        self.water = water;
    }

    /// Puts its results into the report.
    pub fn put_into(self, report: &mut Report) {
        for (room, clearing, control) in self.rooms {
            report.rooms[room].clearing = Some(clearing);
            report.rooms[room].control = control;
        }
        self.water.put_into(report);
        for assumption in self.assumptions {
            if !report.assumptions.iter().any(|known| known.at == assumption.at) {
                report.assumptions.push(assumption);
            }
        }
    }
}

/// Follows every room that is showered in.
pub fn dry(case: &Case<'_>) -> Stage {
    let mut stage = Stage::default();
    let weather = case.weather().unwrap_or_else(|why| {
        stage.findings.push(findings::weather(why));
        None
    });
    let draws = case.inputs.draws().min(DRAWS as u32);
    let Some(mut plan) = Plan::of(case.job, weather, case.inputs.beside(draws)) else {
        stage.add_water(duct::water(case, None, &[], weather));
        return stage;
    };
    let ducts = duct::ducts(case, &mut plan);
    let mut followed = Vec::new();
    for (index, room) in plan.rooms.iter().enumerate() {
        let days = Days::follow(&plan, room, case, |draw| ducts.wants(index, draw));
        match &days {
            Some(days) => one_room(&plan, room, case, days, weather, &mut stage),
            None => stage.findings.push(findings::not_followed(case, room)),
        }
        followed.push(days);
    }
    let built = |draw| plan.rooms.iter().find_map(|room| model::build(&plan, room, case, draw));
    stage.findings.extend(household::beyond_household(case, &plan, built));
    stage.add_water(duct::water(case, Some((&plan, &ducts)), &followed, weather));
    if !stage.rooms.is_empty() {
        stage.assumptions.clone_from(&plan.inputs.assumptions);
    }
    stage
}

/// A room through its design day at the likely values: its shower, and what that leaves in the ducts behind it.
pub struct LikelyDay {
    /// The shower.
    pub clearing: Clearing,
    /// Findings of water in its ducts and at the housings, without what it would take to keep them dry.
    pub water: Vec<Finding>,
}

/// Follows one room at the likely values; none where nobody showers in it, or too little is known.
pub fn likely_day(case: &Case<'_>, room: usize) -> Option<LikelyDay> {
    // Weather that can't be used is told by the report.
    let weather = case.weather().ok().flatten();
    let mut plan = Plan::of(case.job, weather, case.inputs.beside(0))?;
    let index = plan.rooms.iter().position(|known| known.room == room)?;
    let ducts = duct::ducts(case, &mut plan);
    let wants = |draw| ducts.wants(index, draw);
    let days = Days::follow(&plan, &plan.rooms[index], case, wants)?;
    let water = duct::likely_water(case, &plan, ducts.path_of(index), &days, weather);
    Some(LikelyDay { clearing: clearing(&days), water })
}

fn one_room(
    plan: &Plan,
    room: &RoomPlan,
    case: &Case<'_>,
    days: &Days,
    weather: Option<&Weather>,
    stage: &mut Stage,
) {
    let held = weather
        .and_then(|weather| year::held_by_month(plan, room, case, weather))
        .unwrap_or_default();
    let control =
        room.control.on_at.or(room.control.rise).map(|_| control_result(plan, room, days, &held));
    let other_door = Days::behind_other_door(plan, room, case);
    stage.findings.extend(findings::clearing(case, plan, room, days, other_door.as_ref()));
    if let Some(control) = &control {
        stage.findings.extend(findings::control(case, room, days, control, &held));
    }
    stage.rooms.push((room.room, clearing(days), control));
}

fn clearing(days: &Days) -> Clearing {
    let triple = |of: fn(&Day) -> f64| days.sample(of).triple();
    let mirror = triple(|d| time(d.shower.mirror_time_s, d));
    Clearing {
        peak_humidity_ratio: triple(|d| d.shower.peak_humidity.min(1.0)),
        mirror_time_s: mirror,
        back_to_normal_time_s: triple(|d| time(d.shower.back_time_s, d)),
        followed_s: dewpath_moisture::room::Judge::default().follow_s.into(),
        mirror_clears_ratio: days.chance(|d| d.shower.mirror_time_s.is_some()),
        back_to_normal_ratio: days.chance(|d| d.shower.back_time_s.is_some()),
        left_on_surfaces_g: triple(|d| 1000.0 * d.shower.left_kg),
        carried_off_g: triple(|d| 1000.0 * d.shower.exhausted_kg),
        fan_h: triple(|d| d.shower.fan_s / 3600.0),
        energy_kwh: triple(|d| d.shower.electric_j / 3.6e6),
        air_heat_kwh: triple(|d| d.shower.air_heat_j / 3.6e6),
        back_to_back_mirror_time_s: (days.likely.fan_share.len() > 1).then_some(mirror),
        water_residual_ratio: days.worst(|d| d.shower.water_residual),
        energy_residual_ratio: days.worst(|d| d.shower.energy_residual),
    }
}

fn control_result(plan: &Plan, room: &RoomPlan, days: &Days, held: &[Held]) -> ControlResult {
    let set_point = room.control.on_at.map(|id| plan.inputs.value(id, Draw::Likely));
    let band = plan.inputs.value(room.control.band, Draw::Likely);
    let lowest: Vec<f64> = held.iter().map(|month| month.humidity).collect();
    let reachable = set_point
        .map_or_else(Vec::new, |at| lowest.iter().map(|humidity| *humidity <= at - band).collect());
    ControlResult {
        set_point_ratio: set_point,
        reachable,
        would_do_ratio: would_do(lowest.iter().copied(), band),
        lowest_humidity_ratio: lowest,
        starts_after_s: days.likely.shower.starts_after_s,
        stops_after_s: days.likely.shower.stops_after_s,
    }
}
