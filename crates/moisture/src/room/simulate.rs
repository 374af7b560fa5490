//! Following a room through time, step by step.

use super::control::{Control, Event, Happening};
use super::face::{Face, Faces};
use super::linear::{LENGTHS, Pool, STATES, Steps};
use super::model::{
    AIR_J_KG_K, Back, Flows, House, LATENT_J_KG, LAYERS, Level, Model, ModelError, SURFACES,
    Surface, Thermal,
};
use super::rates::{heat_rates, humidity_rates};
use super::sensor::{Lag, lags, until_look, wants};
use super::state::State;
use crate::saturation::Saturation;

/// Outdoor and house conditions, constant until they are set again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boundary {
    /// Outdoor temperature, °C.
    pub outdoor_c: f64,
    /// Outdoor humidity ratio, kg/kg.
    pub outdoor_w: f64,
    /// Temperature of the dwelling, °C.
    pub house_c: f64,
    /// Humidity ratio of the dwelling where it is held, kg/kg.
    pub house_w: f64,
    /// Cold water, °C.
    pub water_c: f64,
    /// Weather class: which flows move.
    pub class: usize,
    /// Air through the coil of the air conditioner, kg/s.
    pub cooled_kg_s: f64,
}

/// A step that was taken.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// Length, s.
    pub length_s: f64,
    /// The room before.
    pub before: &'a State,
    /// The room after.
    pub after: &'a State,
    /// Dry air drawn off through the duct, kg/s.
    pub exhaust_kg_s: f64,
    /// Vapour drawn off with it in the step, kg.
    pub exhaust_vapour_kg: f64,
    /// Mean temperature of the room over the step, °C.
    pub mean_room_c: f64,
    /// Mean humidity ratio of the room over the step, kg/kg.
    pub mean_room_w: f64,
    /// Humidity ratio of the dwelling after the step, kg/kg.
    pub house_w: f64,
    /// Mean humidity ratio of the dwelling over the step, kg/kg.
    pub mean_house_w: f64,
    /// Conditions of the step.
    pub boundary: &'a Boundary,
    pub(super) model: &'a Model,
    pub(super) heats: bool,
    pub(super) onto_kg: &'a [f64; SURFACES],
}

impl Step<'_> {
    /// Seconds after its start at which the humidity ratio of the room comes down to a limit, along the parabola of its
    /// ends and its mean; none where it does not start above and end at or below.
    pub fn room_w_falls_to(&self, limit: f64) -> Option<f64> {
        let (from, to) = (self.before.room_w(), self.after.room_w());
        let bulge = 6.0 * (self.mean_room_w - f64::midpoint(from, to));
        falls(from, to, limit, |s| from + (to - from) * s + bulge * s * (1.0 - s))
            .map(|share| share * self.length_s)
    }

    /// Seconds after its start at which the water on a surface comes down to a limit, kg, along the cubic of what is on it
    /// and of how fast that changes at both ends; none where it does not start above and end at or below.
    pub fn water_falls_to(&self, surface: usize, limit_kg: f64) -> Option<f64> {
        let (from, to) = (self.before.water_kg(surface), self.after.water_kg(surface));
        let transfer_kg_s = self.model.surfaces.get(surface)?.vapour_kg_s;
        let change = |state: &State| {
            let p = self.model.pressure_pa;
            let face = Saturation::shared().humidity_ratio(state.surface_c(surface), p);
            self.length_s * transfer_kg_s * (state.room_w() - face)
        };
        let (first, last) = (change(self.before), change(self.after));
        let cubic = |s: f64| {
            let (rest, straight) = (1.0 - s, to - from);
            from + straight * s + s * rest * ((first - straight) * rest - (last - straight) * s)
        };
        falls(from, to, limit_kg, cubic).map(|share| share * self.length_s)
    }

    /// Mean temperature of a surface over the step, °C: what its heat balance leaves, exact like the balance.
    pub fn mean_surface_c(&self, surface: usize) -> f64 {
        let ends = [self.before, self.after].map(|state| state.surface_c(surface));
        let Some(s) = self.model.surfaces.get(surface) else {
            return f64::midpoint(ends[0], ends[1]);
        };
        if matches!(self.model.thermal, Thermal::Held(_)) {
            return ends[1];
        }
        let room = self.length_s * self.mean_room_c;
        let heated_s = if self.heats { self.length_s } else { 0.0 };
        mean_c(s, self.boundary, [room, heated_s, self.onto_kg[surface]], ends, self.length_s)
    }
}

/// Mean temperature of a surface over a step of `seconds`, as its heat balance leaves it. `sums` are the temperature of the
/// room over time, the time for which it is heated, and the water that condensed; `ends` its temperatures.
pub(super) fn mean_c(
    s: &Surface,
    b: &Boundary,
    sums: [f64; 3],
    ends: [f64; 2],
    seconds: f64,
) -> f64 {
    let passes = (s.air_w_k + s.back_w_k) * seconds;
    // Where almost nothing passes the ends are all but equal, and the balance tells nothing.
    if passes < 1e-4 * s.heat_j_k {
        return f64::midpoint(ends[0], ends[1]);
    }
    let far_c = match s.back {
        Back::House => b.house_c,
        Back::Outdoors => b.outdoor_c,
        Back::Water => b.water_c,
    };
    let [room, heated_s, condensed_kg] = sums;
    let heat_j = s.air_w_k * room
        + s.back_w_k * far_c * seconds
        + s.heated_w * heated_s
        + LATENT_J_KG * condensed_kg;
    (heat_j - s.heat_j_k * (ends[1] - ends[0])) / passes
}

/// Share of a step at which a course that starts above a limit and ends at or below it crosses it.
fn falls(from: f64, to: f64, limit: f64, course: impl Fn(f64) -> f64) -> Option<f64> {
    if from <= limit || to > limit {
        return None;
    }
    let (mut above, mut below) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(above, below);
        if course(middle) > limit { above = middle } else { below = middle }
    }
    Some(below)
}

/// A crossing is found to this power of a half of a step: a fraction of a millisecond in an hour.
const HALVINGS: u32 = 24;

/// Whoever watches the steps.
pub trait Watch {
    /// Is told of each step, in order.
    fn step(&mut self, step: &Step<'_>);
}

impl<F: FnMut(&Step<'_>)> Watch for F {
    fn step(&mut self, step: &Step<'_>) {
        self(step);
    }
}

/// What went in, out and into store, for the residuals.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Account {
    /// Vapour and water that came in: sources, outdoor air, the house where it is held, kg.
    pub water_in_kg: f64,
    /// Vapour and water that went out, kg.
    pub water_out_kg: f64,
    /// Water that ran off surfaces, kg.
    pub run_off_kg: f64,
    /// Vapour drawn off through the duct, kg.
    pub exhausted_kg: f64,
    /// Water taken out by air conditioner and dehumidifier, kg.
    pub dried_kg: f64,
    /// Heat that came in over the boundary and from sources, J.
    pub heat_net_j: f64,
    /// Heat put through, J.
    pub heat_gross_j: f64,
    /// Heat that condensing water gave off less what evaporation took, J.
    pub latent_j: f64,
    /// Time the fan ran, s.
    pub fan_s: f64,
    /// Electricity, J.
    pub electric_j: f64,
}

/// Which linear system holds: weather class, level, door, shower.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Regime(usize);

/// How coarse steps may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Care {
    /// Longest step while a surface is wet, over the time in which latent heat turns the difference of humidity at the
    /// surface that is fastest in it; soon after something happened.
    pub soon: f64,
    /// The same later.
    pub later: f64,
    /// Until when "soon" is, s.
    pub soon_s: u64,
    /// Longest step while a surface is wet and temperatures follow their balance, s.
    pub longest_wet_s: u32,
    /// Longest step over the time since something happened, so that what is read out between the ends of steps is as
    /// near as what is followed; endless where only sums count.
    pub since_event: f64,
    /// Longest step at all, s.
    pub longest_s: u32,
}

impl Default for Care {
    /// Steps that stay within 1 % of an exact integration in peaks and times (tested against scipy in
    /// `reference/test_room.py`).
    fn default() -> Self {
        Self {
            soon: 0.06,
            later: 0.08,
            soon_s: 3600,
            longest_wet_s: 120,
            since_event: 0.25,
            longest_s: 3600,
        }
    }
}

impl Care {
    /// Coarser steps for a year, whose sums stay within 0.5 % (tested in the same place).
    pub fn year() -> Self {
        Self {
            soon: 0.12,
            later: 0.2,
            soon_s: 1800,
            longest_wet_s: 300,
            since_event: f64::INFINITY,
            longest_s: 3600,
        }
    }

    /// One-second steps: the reference that coarser steps are measured against.
    pub fn reference() -> Self {
        Self {
            soon: 0.0,
            later: 0.0,
            soon_s: 0,
            longest_wet_s: 1,
            since_event: f64::INFINITY,
            longest_s: 1,
        }
    }
}

/// A room that is being followed.
#[derive(Debug, Clone)]
pub struct Simulation<'m> {
    pub(super) model: &'m Model,
    pub(super) control: Control,
    /// Happenings of a day, in order.
    events: &'m [Event],
    next_event: usize,
    pub(super) care: Care,
    pub(super) table: &'static Saturation,
    pub(super) boundary: Boundary,
    /// Whether temperatures follow their balance.
    pub(super) is_balance: bool,
    /// Electric heat in all surfaces, W.
    pub(super) heated_w: f64,
    /// Rise of the air's temperature for each kg of fog, K/kg; none where temperatures are held.
    pub(super) fog_warms_k_kg: f64,
    pub(super) humidity_states: usize,
    pub(super) faces: Faces,
    /// Saturation as last looked up at the air and at each surface.
    pub(super) saturated: [Face; SURFACES + 1],
    /// Place of the humidity system of each regime and set of wet surfaces; [`NOT_MADE`] until it is needed.
    humidity_places: Vec<u32>,
    /// Place of the heat system of each regime.
    warmth_places: Vec<u32>,
    systems: Vec<Steps>,
    pub(super) pool: Pool,
    pub(super) state: State,
    pub(super) account: Account,
    /// Water and vapour at the start, kg.
    stored_kg: f64,
    /// Heat at the start, J.
    stored_j: f64,
    /// Lags of the sensor with the fan off and on, and of its slow mean, over each length of step.
    pub(super) lags: [[Lag; LENGTHS.len()]; 3],
}

const NOT_MADE: u32 = u32::MAX;
const LEVELS: usize = 3;

impl<'m> Simulation<'m> {
    /// A room at rest with its boundary: everything in it stands at the conditions of the dwelling.
    ///
    /// `events` are the happenings of every day, in order of time.
    ///
    /// # Errors
    /// When the model cannot be followed.
    pub fn new(
        model: &'m Model,
        control: Control,
        events: &'m [Event],
        boundary: Boundary,
        care: Care,
    ) -> Result<Self, ModelError> {
        model.check()?;
        let regimes = model.flows.len() * LEVELS * 4;
        let faces = Faces::new(model);
        let is_balance = model.thermal == Thermal::Balance;
        let air_j_k = model.dry_air_kg * AIR_J_KG_K;
        let most = (regimes * (faces.sets + 1)).min(MAPS_AT_ONCE);
        let mut sim = Self {
            model,
            control,
            events,
            next_event: 0,
            care,
            table: Saturation::shared(),
            boundary: possible(boundary, model.flows.len()),
            is_balance,
            heated_w: model.surfaces.iter().map(|s| s.heated_w).sum(),
            fog_warms_k_kg: if is_balance { LATENT_J_KG / air_j_k } else { 0.0 },
            humidity_states: humidity_rates(model, &Flows::default(), false, 0.0).states(),
            humidity_places: vec![NOT_MADE; regimes * faces.sets],
            warmth_places: vec![NOT_MADE; if is_balance { regimes } else { 0 }],
            systems: Vec::with_capacity(most),
            pool: Pool::new(most * LENGTHS.len()),
            faces,
            saturated: [Face::UNKNOWN; SURFACES + 1],
            state: State {
                humidity: [0.0; STATES],
                warmth: [0.0; STATES],
                water: [0.0; SURFACES],
                reading: 0.0,
                seen: 0.0,
                baseline: 0.0,
                level: Level::Off,
                door_open: true,
                shower: false,
                switch: false,
                calls: false,
                tired: false,
                time_s: 0,
                until_s: 0,
                started_s: 0,
                event_s: 0,
            },
            account: Account::default(),
            stored_kg: 0.0,
            stored_j: 0.0,
            lags: lags(&control),
        };
        let start_w = sim.boundary.house_w;
        sim.state.humidity = [start_w; STATES];
        let room_c = match model.thermal {
            Thermal::Balance => sim.boundary.house_c,
            Thermal::Held(t) => t,
        };
        sim.state.warmth = [room_c; STATES];
        sim.hold_surfaces();
        sim.state.seen = sim.seen_humidity();
        sim.state.reading = sim.state.seen;
        sim.state.baseline = sim.state.reading;
        sim.switch_fan();
        sim.begin_account();
        Ok(sim)
    }

    /// Starts the balances afresh from here.
    pub fn begin_account(&mut self) {
        self.account = Account::default();
        self.stored_kg = self.water_stored_kg();
        self.stored_j = self.heat_stored_j();
    }

    /// What is followed.
    pub fn model(&self) -> &'m Model {
        self.model
    }

    /// The room now.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// What went in and out since the account was begun.
    pub fn account(&self) -> &Account {
        &self.account
    }

    /// Relative humidity of the room, 0 to 1 (above 1 never: fog has settled).
    pub fn room_humidity(&self) -> f64 {
        self.table.relative_humidity(
            self.state.room_w(),
            self.state.room_c(),
            self.model.pressure_pa,
        )
    }

    /// Humidity ratio of the dwelling, kg/kg.
    pub fn house_w(&self) -> f64 {
        match self.model.house {
            House::Held => self.boundary.house_w,
            House::Zone { .. } => self.state.humidity[self.house_place()],
        }
    }

    /// New conditions from here on.
    pub fn set_boundary(&mut self, boundary: Boundary) {
        self.boundary = possible(boundary, self.model.flows.len());
        self.hold_surfaces();
    }

    /// Sets the humidity that the room, the dwelling and all their layers start from, kg/kg.
    pub fn start_at(&mut self, room_w: f64, house_w: f64) {
        let house = self.house_place();
        let (room, rest) = self.state.humidity.split_at_mut(house);
        room.fill(room_w.max(0.0));
        rest.fill(house_w.max(0.0));
        self.state.seen = self.seen_humidity();
        self.state.reading = self.state.seen;
        self.state.baseline = self.state.reading;
        self.begin_account();
    }

    /// Residual of the water balance over what was put through.
    pub fn water_residual(&self) -> f64 {
        let a = &self.account;
        let left = self.stored_kg + a.water_in_kg
            - a.water_out_kg
            - a.run_off_kg
            - a.dried_kg
            - self.water_stored_kg();
        left.abs() / (a.water_in_kg.abs() + a.water_out_kg.abs() + self.stored_kg.abs()).max(1e-12)
    }

    /// Residual of the energy balance over what was put through.
    pub fn energy_residual(&self) -> f64 {
        if matches!(self.model.thermal, Thermal::Held(_)) {
            return 0.0;
        }
        let a = &self.account;
        let left = self.stored_j + a.heat_net_j + a.latent_j - self.heat_stored_j();
        left.abs() / a.heat_gross_j.max(1.0)
    }

    fn water_stored_kg(&self) -> f64 {
        let s = &self.state;
        let films: f64 = s.water.iter().sum();
        let layers = |from: usize, holds: &[f64; LAYERS]| -> f64 {
            holds.iter().zip(&s.humidity[from..]).map(|(k, w)| k * w).sum()
        };
        let house = match &self.model.house {
            House::Held => 0.0,
            House::Zone { dry_air_kg, sorption, .. } => {
                let place = self.house_place();
                let n = sorption.layers();
                let mut holds = sorption.holds_kg;
                holds[n..].fill(0.0);
                dry_air_kg * s.humidity[place]
                    + holds[..n]
                        .iter()
                        .zip(&s.humidity[place + 1..])
                        .map(|(k, w)| k * w)
                        .sum::<f64>()
            }
        };
        self.model.dry_air_kg * s.humidity[0]
            + layers(1, &self.model.sorption.holds_kg)
            + house
            + films
    }

    fn heat_stored_j(&self) -> f64 {
        let s = &self.state;
        let surfaces: f64 =
            self.model.surfaces.iter().zip(&s.warmth[1..]).map(|(x, t)| x.heat_j_k * t).sum();
        self.model.dry_air_kg * AIR_J_KG_K * s.warmth[0] + surfaces
    }

    /// Place of the house air among the humidity states.
    pub(super) fn house_place(&self) -> usize {
        1 + self.model.sorption.layers()
    }

    /// Surfaces that stand at a share between outdoors and room.
    fn hold_surfaces(&mut self) {
        if let Thermal::Held(room_c) = self.model.thermal {
            for (t, surface) in self.state.warmth[1..].iter_mut().zip(&self.model.surfaces) {
                *t = surface.factor * room_c + (1.0 - surface.factor) * self.boundary.outdoor_c;
            }
        }
    }

    /// Follows the room for some seconds.
    pub fn run(&mut self, seconds: u32, watch: &mut impl Watch) {
        let end = self.state.time_s + u64::from(seconds);
        while self.state.time_s < end {
            self.happen();
            let room_to_go = (end - self.state.time_s).min(self.until_next_happening());
            self.step_within(room_to_go.min(u64::from(u32::MAX)) as u32, watch);
        }
        self.happen();
    }

    /// Lets everything happen that is due now.
    fn happen(&mut self) {
        let day_s = self.day_s();
        // The list starts again at midnight.
        let over = self.next_event == self.events.len();
        if over && self.events.last().is_some_and(|last| day_s == 0 || day_s < last.at_s) {
            self.next_event = 0;
        }
        while let Some(event) = self.events.get(self.next_event).filter(|e| e.at_s <= day_s) {
            self.next_event += 1;
            if event.at_s == day_s {
                self.let_happen(event.what);
            }
        }
        self.switch_fan();
    }

    fn day_s(&self) -> u32 {
        (self.state.time_s % DAY_S) as u32
    }

    fn let_happen(&mut self, what: Happening) {
        let s = &mut self.state;
        match what {
            Happening::ShowerOn => s.shower = true,
            Happening::ShowerOff => s.shower = false,
            Happening::DoorShut => s.door_open = false,
            Happening::DoorOpen => s.door_open = true,
            Happening::SwitchOn => s.switch = true,
            Happening::SwitchOff => {
                s.switch = false;
                if let Control::Switch { run_on_s } = self.control {
                    s.until_s = s.time_s + u64::from(run_on_s);
                }
            }
        }
        s.event_s = s.time_s;
        if what == Happening::ShowerOff {
            self.wet_surfaces();
        }
    }

    /// Spray on tiles and the wet towel are there once the shower is over.
    fn wet_surfaces(&mut self) {
        for (water, surface) in self.state.water.iter_mut().zip(&self.model.surfaces) {
            let more = (surface.wetted_kg - *water).max(0.0);
            *water += more;
            self.account.water_in_kg += more;
        }
    }

    /// Puts the fan where its control wants it.
    fn switch_fan(&mut self) {
        let s = &self.state;
        let on = match &self.control {
            Control::Never => false,
            Control::Always => true,
            Control::Switch { .. } => s.switch || s.time_s < s.until_s,
            Control::Humidity(h) => s.calls || s.time_s < s.until_s || (h.with_switch && s.switch),
        };
        let level = if on { Level::Full } else { self.model.between_uses };
        if level != s.level {
            let s = &mut self.state;
            if level == Level::Full {
                s.started_s = s.time_s;
            }
            s.level = level;
            s.event_s = s.time_s;
        }
    }

    /// Seconds until something is due.
    fn until_next_happening(&self) -> u64 {
        let s = &self.state;
        let day_s = self.day_s();
        let event = match self.events.get(self.next_event) {
            Some(event) => u64::from(event.at_s.saturating_sub(day_s).max(1)),
            None => DAY_S - u64::from(day_s),
        };
        let run_on = if s.until_s > s.time_s { s.until_s - s.time_s } else { u64::MAX };
        let longest = match &self.control {
            Control::Humidity(h) if s.calls => h.max_run_s.map_or(u64::MAX, |max| {
                let over = (s.started_s + u64::from(max)).saturating_sub(s.time_s);
                // The look at which it is noticed.
                if over == 0 { u64::from(until_look(h, s.time_s)) } else { over }
            }),
            _ => u64::MAX,
        };
        event.min(run_on).min(longest)
    }

    fn regime(&self) -> Regime {
        let s = &self.state;
        let doors_and_shower = 2 * usize::from(s.door_open) + usize::from(s.shower);
        Regime((self.boundary.class * LEVELS + s.level as usize) * 4 + doors_and_shower)
    }

    /// Relative humidity at the sensor.
    pub(super) fn seen_humidity(&self) -> f64 {
        let p = self.model.pressure_pa;
        let Control::Humidity(h) = &self.control else { return self.room_humidity() };
        let (w, t) = if h.elsewhere {
            (self.house_w(), self.boundary.house_c)
        } else {
            (self.state.room_w(), self.state.room_c())
        };
        self.table.relative_humidity(w, t + h.warmer_k, p).min(1.0)
    }

    /// The control looks at its sensor.
    pub(super) fn decide(&mut self) {
        let Control::Humidity(h) = &self.control else { return };
        let h = *h;
        let s = &mut self.state;
        if until_look(&h, s.time_s) != h.sampling_s.max(1) {
            return;
        }
        let wants = wants(&h, s);
        let too_long =
            h.max_run_s.is_some_and(|max| s.calls && s.time_s >= s.started_s + u64::from(max));
        if !wants {
            s.tired = false;
        }
        if s.calls && (too_long || !wants) {
            s.calls = false;
            s.tired = too_long;
            if !too_long {
                s.until_s = s.time_s + u64::from(h.run_on_s);
            }
        } else if !s.calls && wants && !s.tired {
            s.calls = true;
        }
    }

    /// Whether a heated mirror is on: with the shower, and as long as the fan runs after it.
    pub(super) fn heats(&self) -> bool {
        self.state.shower || self.state.level == Level::Full
    }

    /// Flows that move now.
    pub(super) fn flows(&self) -> &'m Flows {
        let door = usize::from(self.state.door_open);
        &self.model.flows[self.boundary.class][self.state.level as usize][door]
    }

    /// Places of the maps of humidity and warmth for a set of wet surfaces and a length; they are made when they are first
    /// needed.
    pub(super) fn maps_for(&mut self, set: usize, length: usize) -> (usize, usize) {
        let regime = self.regime().0;
        let place = regime * self.faces.sets + set;
        if self.humidity_places[place] == NOT_MADE
            || (self.is_balance && self.warmth_places[regime] == NOT_MADE)
            || !self.pool.has_room()
        {
            self.make_systems(regime, place, set);
        }
        let system = &mut self.systems[self.humidity_places[place] as usize];
        let humidity = system.place(length, &mut self.pool);
        if !self.is_balance {
            return (humidity, humidity);
        }
        let system = &mut self.systems[self.warmth_places[regime] as usize];
        (humidity, system.place(length, &mut self.pool))
    }

    #[cold]
    fn make_systems(&mut self, regime: usize, place: usize, set: usize) {
        let fits = self.systems.capacity() - self.systems.len() >= 2;
        if !fits || !self.pool.has_room() {
            // Never more than was set aside at the start: the old ones are made again when needed.
            self.systems.clear();
            self.pool.clear();
            self.humidity_places.fill(NOT_MADE);
            self.warmth_places.fill(NOT_MADE);
        }
        let (flows, shower) = (self.flows(), self.state.shower);
        if self.humidity_places[place] == NOT_MADE {
            self.humidity_places[place] = self.systems.len() as u32;
            let wet_kg_s = self.faces.transfer_of(set);
            self.systems.push(Steps::new(humidity_rates(self.model, flows, shower, wet_kg_s)));
        }
        if self.is_balance && self.warmth_places[regime] == NOT_MADE {
            self.warmth_places[regime] = self.systems.len() as u32;
            self.systems.push(Steps::new(heat_rates(self.model, flows, shower, self.heats())));
        }
    }
}

/// Systems kept at once; a month visits fewer.
const MAPS_AT_ONCE: usize = 400;
/// A day, s.
const DAY_S: u64 = 86_400;

/// Conditions without what no weather has: not a number becomes mild and dry, a class beyond the table its last.
fn possible(b: Boundary, classes: usize) -> Boundary {
    let or = |value: f64, mild: f64| if value.is_finite() { value } else { mild };
    Boundary {
        outdoor_c: or(b.outdoor_c, 15.0).clamp(-60.0, 60.0),
        outdoor_w: or(b.outdoor_w, 0.005).clamp(0.0, 0.1),
        house_c: or(b.house_c, 20.0).clamp(-40.0, 60.0),
        house_w: or(b.house_w, 0.007).clamp(0.0, 0.1),
        water_c: or(b.water_c, 12.0).clamp(-1.0, 90.0),
        class: b.class.min(classes.saturating_sub(1)),
        cooled_kg_s: or(b.cooled_kg_s, 0.0).max(0.0),
    }
}
