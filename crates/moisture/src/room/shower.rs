//! A design shower: how humid it gets, when the mirror is clear, when the room is back.

use super::control::Control;
use super::model::{AIR_J_KG_K, Level, ModelError};
use super::simulate::{Simulation, Step, Watch};
use super::state::State;
use crate::saturation::Saturation;

/// What counts as clear and as back to normal, and how long the room is followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judge {
    /// Surface that is the mirror, if there is one.
    pub mirror: Option<usize>,
    /// A mirror with no more than this on it is clear, kg/m². The film is one figure for the whole mirror and
    /// stands for the median of its area: half of it has less.
    pub clear_kg_m2: f64,
    /// The room is back when its vapour is within this of what it was before, as a share of saturation at
    /// the temperature it had then.
    pub back_within: f64,
    /// It is back as well once it is no more humid than this at that temperature, as a share of saturation: in a dry winter house ten
    /// points more are still dry.
    pub dry_below: f64,
    /// How long the room is followed after the last shower at most, s.
    pub follow_s: u32,
}

impl Default for Judge {
    /// A mirror at 0.2 g/m² (judgement, see [`crate::film`]), a room within 10 points of relative humidity or below 60 % (judgement: the slow tail of towels and tiles is left out), six hours.
    fn default() -> Self {
        Self {
            mirror: None,
            clear_kg_m2: crate::film::CLEAR_FILM_KG_M2.likely,
            back_within: 0.10,
            dry_below: 0.60,
            follow_s: 6 * 3600,
        }
    }
}

/// The room through one design shower or several back to back.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shower {
    /// Relative humidity before, 0 to 1.
    pub humidity_before: f64,
    /// Highest relative humidity.
    pub peak_humidity: f64,
    /// Highest humidity ratio, kg/kg.
    pub peak_w: f64,
    /// Most water on the mirror, kg/m².
    pub mirror_most_kg_m2: f64,
    /// From the end of the last shower until the mirror is clear, s; 0 when it never fogged, none when it is
    /// not clear within the time followed.
    pub mirror_time_s: Option<f64>,
    /// From the end of the last shower until the room is back, s; none when it is not within the time followed.
    pub back_time_s: Option<f64>,
    /// Water on all surfaces at the end, kg.
    pub left_kg: f64,
    /// Vapour that the fan carried off, kg.
    pub exhausted_kg: f64,
    /// Time the fan ran, s.
    pub fan_s: f64,
    /// From the start of the first shower until the fan ran, s; none when it never did.
    pub starts_after_s: Option<f64>,
    /// From the end of the last shower until the fan first stopped, s; none when it ran to the end.
    pub stops_after_s: Option<f64>,
    /// Electricity, J.
    pub electric_j: f64,
    /// Heat in the air drawn off, against outdoors, J.
    pub air_heat_j: f64,
    /// How long it was followed after the last shower, s.
    pub followed_s: f64,
    /// Residual of the water balance over what was put through.
    pub water_residual: f64,
    /// Residual of the energy balance over what was put through.
    pub energy_residual: f64,
}

/// Looks between which it is asked whether everything is settled, s.
const LOOK_S: u32 = 300;

/// Follows `sim`, whose happenings hold one shower or more, from now until mirror and room are as they were
/// and a humidity control has let go of the fan, or the time to follow is over. `last_off_s` is when the last shower ends, in seconds from now, and `first_on_s` when the
/// first begins; before it the room should have had time to settle.
///
/// # Errors
/// Never at present: kept so that a later limit of the model can be told.
pub fn follow_shower(
    sim: &mut Simulation<'_>,
    judge: &Judge,
    first_on_s: u32,
    last_off_s: u32,
    watch: &mut impl Watch,
) -> Result<Shower, ModelError> {
    sim.begin_account();
    let start_s = sim.state().time_s();
    let mut eye = Eye::new(sim, judge, start_s, first_on_s, last_off_s);
    let mut both = |step: &Step<'_>| {
        eye.step(step);
        watch.step(step);
    };
    sim.run(last_off_s, &mut both);
    let mut followed = 0;
    while followed < judge.follow_s {
        let next = LOOK_S.min(judge.follow_s - followed);
        sim.run(next, &mut |step: &Step<'_>| {
            eye.step(step);
            watch.step(step);
        });
        followed += next;
        if eye.settled() && !(eye.stops_at.is_none() && is_held_by_control(sim)) {
            break;
        }
    }
    Ok(eye.result(sim, f64::from(followed)))
}

/// Whether a humidity control still holds the fan on: when it stops is an answer too.
fn is_held_by_control(sim: &Simulation<'_>) -> bool {
    matches!(sim.control, Control::Humidity(_)) && sim.state().level() == Level::Full
}

struct Eye {
    judge: Judge,
    mirror_area: f64,
    pressure_pa: f64,
    humidity_before: f64,
    back_w: f64,
    first_on_s: f64,
    last_off_s: f64,
    start_s: f64,
    peak_humidity: f64,
    peak_w: f64,
    mirror_most: f64,
    clear_at: Option<f64>,
    back_at: Option<f64>,
    starts_at: Option<f64>,
    stops_at: Option<f64>,
    was_on: bool,
    air_heat_j: f64,
    surfaces: usize,
}

impl Eye {
    fn new(
        sim: &Simulation<'_>,
        judge: &Judge,
        start_s: u64,
        first_on_s: u32,
        last_off_s: u32,
    ) -> Self {
        let model = sim.model();
        let state = sim.state();
        let saturated = Saturation::shared().humidity_ratio(state.room_c(), model.pressure_pa);
        let mirror_area =
            judge.mirror.and_then(|m| model.surfaces.get(m)).map_or(0.0, |s| s.area_m2);
        Self {
            judge: *judge,
            mirror_area,
            pressure_pa: model.pressure_pa,
            humidity_before: sim.room_humidity(),
            back_w: (state.room_w() + judge.back_within * saturated)
                .max(judge.dry_below * saturated),
            first_on_s: f64::from(first_on_s),
            last_off_s: f64::from(last_off_s),
            start_s: start_s as f64,
            peak_humidity: 0.0,
            peak_w: 0.0,
            mirror_most: 0.0,
            clear_at: Some(0.0),
            back_at: Some(0.0),
            starts_at: None,
            stops_at: None,
            was_on: false,
            air_heat_j: 0.0,
            surfaces: model.surfaces.len(),
        }
    }

    fn step(&mut self, step: &Step<'_>) {
        let (before, after) = (step.before, step.after);
        let end = after.time_s() as f64 - self.start_s;
        let began = end - step.length_s;
        let humidity = Saturation::shared().relative_humidity(
            after.room_w(),
            after.room_c(),
            self.pressure_pa,
        );
        self.peak_humidity = self.peak_humidity.max(humidity);
        self.peak_w = self.peak_w.max(after.room_w());
        if let Some(m) = self.judge.mirror.filter(|_| self.mirror_area > 0.0) {
            let film = after.water_kg(m) / self.mirror_area;
            self.mirror_most = self.mirror_most.max(film);
            let limit = self.judge.clear_kg_m2;
            if film > limit {
                self.clear_at = None;
            } else if self.clear_at.is_none() {
                let fell = step.water_falls_to(m, limit * self.mirror_area);
                self.clear_at = Some(fell.map_or(end, |after_s| began + after_s));
            }
        }
        let w = after.room_w();
        if w > self.back_w || end <= self.last_off_s {
            self.back_at = if w > self.back_w { None } else { Some(end) };
        } else if self.back_at.is_none() {
            let fell = step.room_w_falls_to(self.back_w);
            self.back_at = Some(fell.map_or(end, |after_s| began + after_s));
        }
        let on = |s: &State| s.level() == Level::Full;
        // The fan is switched between steps.
        if on(before) {
            if end > self.first_on_s {
                self.starts_at.get_or_insert(began.max(self.first_on_s));
            }
            // The first stop after the last shower is the one that counts: what the wet room starts later is a new run.
            self.stops_at = self.stops_at.filter(|at| *at > self.last_off_s);
            self.was_on = true;
        } else if self.was_on {
            self.stops_at.get_or_insert(began);
            self.was_on = false;
        }
        let b = step.boundary;
        self.air_heat_j +=
            step.exhaust_kg_s * step.length_s * AIR_J_KG_K * (b.house_c - b.outdoor_c).max(0.0);
    }

    fn settled(&self) -> bool {
        self.clear_at.is_some() && self.back_at.is_some()
    }

    fn result(&self, sim: &Simulation<'_>, followed_s: f64) -> Shower {
        let account = sim.account();
        let since_off = |at: f64| (at - self.last_off_s).max(0.0);
        let stopped_last = self.was_on && sim.state().level() != Level::Full;
        let end = sim.state().time_s() as f64 - self.start_s;
        let stops_at = self.stops_at.or_else(|| stopped_last.then_some(end));
        Shower {
            humidity_before: self.humidity_before,
            peak_humidity: self.peak_humidity,
            peak_w: self.peak_w,
            mirror_most_kg_m2: self.mirror_most,
            mirror_time_s: self.clear_at.map(since_off),
            back_time_s: self.back_at.map(since_off),
            left_kg: (0..self.surfaces).map(|j| sim.state().water_kg(j)).sum(),
            exhausted_kg: account.exhausted_kg,
            fan_s: account.fan_s,
            starts_after_s: self.starts_at.map(|at| at - self.first_on_s),
            stops_after_s: stops_at.map(since_off),
            electric_j: account.electric_j,
            air_heat_j: self.air_heat_j,
            followed_s,
            water_residual: sim.water_residual(),
            energy_residual: sim.energy_residual(),
        }
    }
}
