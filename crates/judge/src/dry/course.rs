//! The design shower of each room, moment by moment, at the likely values.

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_moisture::room::{Care, Level, Simulation, Step, follow_shower};
use dewpath_moisture::saturation::Saturation;
use dewpath_report::{FanLevel, ShowerCourse, ShowerPoint};

use super::model::{Built, build};
use super::plan::{Plan, RoomPlan};

/// How long before the first shower the course begins, s.
const BEFORE_S: u32 = 300;
/// Moments lie no further apart than this, s.
const LONGEST_S: u32 = 60;

/// The design shower of every room that can be followed.
pub fn courses(case: &Case<'_>) -> Vec<ShowerCourse> {
    let weather = case.weather().ok().flatten();
    let Some(plan) = Plan::of(case.job, weather, case.inputs.beside(0)) else { return Vec::new() };
    let course = |room: &RoomPlan| {
        let built = build(&plan, room, case, Draw::Likely)?;
        let id = case.job.rooms[room.room].id.clone();
        Some(ShowerCourse { room: id, points: points(&built)? })
    };
    plan.rooms.iter().filter_map(course).collect()
}

fn points(built: &Built) -> Option<Vec<ShowerPoint>> {
    let care = Care { longest_s: LONGEST_S, longest_wet_s: LONGEST_S, ..Care::default() };
    let mut sim =
        Simulation::new(&built.model, built.control, &built.events, built.boundary, care).ok()?;
    sim.start_at(built.start_w, built.boundary.house_w);
    let before = built.first_on_s.min(BEFORE_S);
    sim.run(built.first_on_s - before, &mut |_: &Step<'_>| {});
    let mut points = Vec::new();
    let mut watch = |step: &Step<'_>| {
        if points.is_empty() {
            points.push(point(built, step, Moment::Before));
        }
        points.push(point(built, step, Moment::After));
    };
    let last = built.last_off_s - built.first_on_s + before;
    follow_shower(&mut sim, &built.judge, before, last, &mut watch).ok()?;
    Some(points)
}

#[derive(Clone, Copy, PartialEq)]
enum Moment {
    Before,
    After,
}

fn point(built: &Built, step: &Step<'_>, moment: Moment) -> ShowerPoint {
    let state = if moment == Moment::Before { step.before } else { step.after };
    let area = |m: usize| built.model.surfaces.get(m).map(|s| (m, s.area_m2));
    let humidity = Saturation::shared().relative_humidity(
        state.room_w(),
        state.room_c(),
        built.model.pressure_pa,
    );
    ShowerPoint {
        time_s: state.time_s() as f64 - f64::from(built.first_on_s),
        room_c: state.room_c(),
        humidity_ratio: humidity.clamp(0.0, 1.0),
        vapour_g_kg: 1000.0 * state.room_w(),
        mirror_g_m2: built.judge.mirror.and_then(area).map(|(m, a)| 1000.0 * state.water_kg(m) / a),
        fan: match step.before.level() {
            Level::Off => FanLevel::Off,
            Level::Low => FanLevel::Low,
            Level::Full => FanLevel::Full,
        },
        shower: step.before.shower(),
        door_open: step.before.door_open(),
    }
}
