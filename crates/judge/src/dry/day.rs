//! The design day of a room, draw by draw: how humid it gets, when it is dry again, what the fan carries off.

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_moisture::room::{Care, Level, Shower, Simulation, Step, follow_shower};

use super::duct::course::{Course, Recorder};
use super::model::{Built, build};
use super::plan::{Plan, RoomPlan};

/// Draws of the design day at most; more change the percentiles by less than the inputs are known.
pub const DRAWS: usize = 256;

/// Seconds of a day.
const DAY_S: u64 = 86_400;

/// One draw of a design day.
#[derive(Debug, Clone)]
pub(crate) struct Day {
    /// Which draw it is.
    pub draw: Draw,
    /// The shower, or the last of several.
    pub shower: Shower,
    /// For each shower the share of its time in which the fan ran at full flow.
    pub fan_share: Vec<f64>,
    /// Outdoors, °C.
    pub outdoor_c: f64,
    /// Volume of the room over the volume flow of the fan, s; infinite without.
    pub volume_time_s: f64,
    /// What is drawn off through the day; none where it was not asked for.
    pub course: Option<Course>,
    /// Absolute pressure, Pa.
    pub pressure_pa: f64,
    /// Dwelling, °C.
    pub house_c: f64,
    /// Outdoors, kg/kg.
    pub outdoor_w: f64,
}

/// Follows one draw through its design day; to midnight where the course of its exhaust is asked for. None where the
/// room or its air is not known, or nothing real follows from what is written.
pub(crate) fn day(
    plan: &Plan,
    room: &RoomPlan,
    case: &Case<'_>,
    draw: Draw,
    with_course: bool,
) -> Option<Day> {
    let built = build(plan, room, case, draw)?;
    let mut sim = start(&built)?;
    let mut watch = Watcher { recorder: with_course.then(Recorder::default), ..Watcher::default() };
    sim.run(built.first_on_s.saturating_sub(QUIET_BEFORE_S), &mut |s: &Step<'_>| watch.step(s));
    let first = built.first_on_s.min(QUIET_BEFORE_S);
    let last = built.last_off_s - built.first_on_s + first;
    let shower =
        follow_shower(&mut sim, &built.judge, first, last, &mut |s: &Step<'_>| watch.step(s))
            .ok()?;
    if with_course {
        let left = DAY_S.saturating_sub(sim.state().time_s());
        sim.run(left as u32, &mut |s: &Step<'_>| watch.step(s));
    }
    Some(Day {
        draw,
        shower,
        fan_share: watch.shares(),
        outdoor_c: built.boundary.outdoor_c,
        volume_time_s: built.model.dry_air_kg / built.full_kg_s,
        course: watch.recorder.map(Recorder::finish),
        pressure_pa: built.model.pressure_pa,
        house_c: built.boundary.house_c,
        outdoor_w: built.boundary.outdoor_w,
    })
}

/// The course of humidity is judged from so long before the first shower, s.
const QUIET_BEFORE_S: u32 = 300;

/// The room at midnight before the design day, at rest.
fn start(built: &Built) -> Option<Simulation<'_>> {
    // Short steps in quiet too: the moment when a room is back is looked for.
    let care = Care { longest_s: 600, ..Care::default() };
    let mut sim =
        Simulation::new(&built.model, built.control, &built.events, built.boundary, care).ok()?;
    sim.start_at(built.start_w, built.boundary.house_w);
    Some(sim)
}

#[derive(Default)]
struct Watcher {
    /// Time of each shower, and how long the fan ran in it, s.
    showers: Vec<[f64; 2]>,
    in_shower: bool,
    recorder: Option<Recorder>,
}

impl Watcher {
    fn step(&mut self, step: &Step<'_>) {
        if let Some(recorder) = &mut self.recorder {
            recorder.step(step);
        }
        if step.before.shower() {
            if !self.in_shower {
                self.showers.push([0.0; 2]);
            }
            if let Some([time, ran]) = self.showers.last_mut() {
                *time += step.length_s;
                *ran += if step.before.level() == Level::Full { step.length_s } else { 0.0 };
            }
        }
        self.in_shower = step.before.shower();
    }

    fn shares(&self) -> Vec<f64> {
        self.showers.iter().map(|[time, ran]| if *time > 0.0 { ran / time } else { 0.0 }).collect()
    }
}
