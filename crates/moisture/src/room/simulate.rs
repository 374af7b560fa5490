//! Following a room through time, step by step.

use super::control::{Control, Event, Happening, HumidityControl};
use super::linear::{INPUTS, LENGTHS, Rates, STATES, Steps};
use super::model::{
    AIR_J_KG_K, Back, Flows, House, LATENT_J_KG, LAYERS, Level, Model, ModelError, SURFACES,
    ShowerSource, Sorption, Thermal,
};
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

/// The room at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "door, shower, switch and control are each on or off"
)]
pub struct State {
    /// Humidity ratios: room air, its sorbing layers, house air, its layers, kg/kg.
    humidity: [f64; STATES],
    /// Temperatures: room air, surfaces, °C.
    warmth: [f64; STATES],
    /// Water on each surface, kg.
    water: [f64; SURFACES],
    /// Reading of the sensor, 0 to 1.
    reading: f64,
    /// Relative humidity at the sensor, 0 to 1.
    seen: f64,
    /// Slow mean of the reading.
    baseline: f64,
    /// How hard the fan runs.
    level: Level,
    /// Whether the door is open.
    door_open: bool,
    /// Whether the shower runs.
    shower: bool,
    /// Whether the switch is on.
    switch: bool,
    /// Whether the humidity control calls.
    calls: bool,
    /// Whether it has run its longest time and waits until the reading has come down.
    tired: bool,
    /// Seconds since the start.
    time_s: u64,
    /// When the run-on ends, s.
    until_s: u64,
    /// When the fan started, s.
    started_s: u64,
    /// When something last happened, s.
    event_s: u64,
}

impl State {
    /// Humidity ratio of the room, kg/kg.
    pub fn room_w(&self) -> f64 {
        self.humidity[0]
    }

    /// Temperature of the room, °C.
    pub fn room_c(&self) -> f64 {
        self.warmth[0]
    }

    /// Temperature of a surface, °C.
    pub fn surface_c(&self, surface: usize) -> f64 {
        self.warmth[surface + 1]
    }

    /// Water on a surface, kg.
    pub fn water_kg(&self, surface: usize) -> f64 {
        self.water[surface]
    }

    /// Reading of the humidity sensor, 0 to 1.
    pub fn reading(&self) -> f64 {
        self.reading
    }

    /// How hard the fan runs.
    pub fn level(&self) -> Level {
        self.level
    }

    /// Whether the shower runs.
    pub fn shower(&self) -> bool {
        self.shower
    }

    /// Whether the door is open.
    pub fn door_open(&self) -> bool {
        self.door_open
    }

    /// Seconds since the start.
    pub fn time_s(&self) -> u64 {
        self.time_s
    }
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
    /// Conditions of the step.
    pub boundary: &'a Boundary,
}

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

#[derive(Debug, Clone)]
struct Maps {
    humidity: Steps,
    warmth: Steps,
    flows: Flows,
}

// Inputs of the humidity system.
const OUTDOORS: usize = 0;
const HOUSE: usize = 1;
const ONE: usize = 2;
// Inputs of the heat system; outdoors and house as above.
const WATER: usize = 2;
const ONE_HEAT: usize = 3;
// Integrals of the humidity system.
const OUT: usize = 0;
const EXHAUSTED: usize = 1;
const ROOM_W: usize = 2;
const HOUSE_W: usize = 3;
// Integrals of the heat system.
const NET_HEAT: usize = 0;
const ROOM_C: usize = 1;

/// How coarse steps may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Care {
    /// Rate of wet exchange times step, soon after something happened.
    pub soon: f64,
    /// The same later.
    pub later: f64,
    /// Until when "soon" is, s.
    pub soon_s: u64,
    /// Longest step while a surface is wet, s.
    pub longest_wet_s: u32,
    /// Longest step at all, s.
    pub longest_s: u32,
}

impl Default for Care {
    /// Steps that stay within 1 % of an exact integration in peaks and times (tested against scipy in
    /// `reference/test_room.py`).
    fn default() -> Self {
        Self { soon: 0.09, later: 0.12, soon_s: 3600, longest_wet_s: 120, longest_s: 3600 }
    }
}

impl Care {
    /// Coarser steps for a year, whose sums stay within 0.5 % (tested in the same place).
    pub fn year() -> Self {
        Self { soon: 0.12, later: 0.4, soon_s: 1800, longest_wet_s: 300, longest_s: 3600 }
    }

    /// One-second steps: the reference that coarser steps are measured against.
    pub fn reference() -> Self {
        Self { soon: 0.0, later: 0.0, soon_s: 0, longest_wet_s: 1, longest_s: 1 }
    }
}

/// A room that is being followed.
#[derive(Debug, Clone)]
pub struct Simulation<'m> {
    model: &'m Model,
    control: Control,
    /// Happenings of a day, in order.
    events: &'m [Event],
    next_event: usize,
    care: Care,
    saturation: &'static Saturation,
    boundary: Boundary,
    /// Place of each regime's maps; [`NOT_MADE`] until it is needed.
    places: Vec<u32>,
    maps: Vec<Maps>,
    state: State,
    account: Account,
    /// Water and vapour at the start, kg.
    stored_kg: f64,
    /// Heat at the start, J.
    stored_j: f64,
    /// Lags of the sensor with the fan off and on, and of its slow mean, over each length of step.
    lags: [[Lag; LENGTHS.len()]; 3],
}

const NOT_MADE: u32 = u32::MAX;
const LEVELS: usize = 3;

/// Rate at which the coil dries the dwelling times step, at most.
const COIL_SHARE: f64 = 0.1;

/// Steps shorter than this are never asked for by a crossing alone, s.
const FINE_S: u32 = 5;

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
        let saturation = Saturation::shared();
        let mut sim = Self {
            model,
            control,
            events,
            next_event: 0,
            care,
            saturation,
            boundary: possible(boundary, model.flows.len()),
            places: vec![NOT_MADE; regimes],
            maps: Vec::with_capacity(regimes.min(MAPS_AT_ONCE)),
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
        self.saturation.relative_humidity(
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
    fn house_place(&self) -> usize {
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
            let length = self.length_for(room_to_go.min(u64::from(u32::MAX)) as u32);
            self.step(length, watch);
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

    /// Place of the longest step that is fine and fits into what is left.
    fn length_for(&self, left_s: u32) -> usize {
        let s = &self.state;
        let wet = self.is_wet();
        let mut most = left_s.min(self.care.longest_s);
        if let Control::Humidity(h) = &self.control
            && wants(h, s) != (s.calls || s.tired)
        {
            // Something will be switched at the next look at the sensor.
            most = most.min(until_look(h, s.time_s));
        }
        if self.boundary.cooled_kg_s > 0.0
            && let House::Zone { dry_air_kg, .. } = self.model.house
        {
            let by_coil = COIL_SHARE * dry_air_kg / self.boundary.cooled_kg_s;
            most = most.min((by_coil as u32).max(1));
        }
        if wet {
            let soon = s.time_s - s.event_s < self.care.soon_s;
            let share = if soon { self.care.soon } else { self.care.later };
            let by_rate = share / self.wet_rate();
            most = most.min(self.care.longest_wet_s).min((by_rate as u32).max(1));
        }
        longest_within(most)
    }

    /// Whether water condenses or stands on any surface, or might in this regime.
    fn is_wet(&self) -> bool {
        let s = &self.state;
        if s.shower {
            return true;
        }
        let p = self.model.pressure_pa;
        (0..self.model.surfaces.len()).any(|j| {
            s.water[j] > 0.0 || s.humidity[0] > self.saturation.humidity_ratio(s.warmth[j + 1], p)
        })
    }

    /// How fast wet exchange works on the air and on the surfaces, 1/s.
    fn wet_rate(&self) -> f64 {
        let p = self.model.pressure_pa;
        let held = matches!(self.model.thermal, Thermal::Held(_));
        let mut on_air = 0.0;
        let mut on_surface: f64 = 0.0;
        for (j, surface) in self.model.surfaces.iter().enumerate() {
            let k = surface.vapour_kg_s;
            let (w, slope) = self.saturation.humidity_ratio_and_slope(self.state.warmth[j + 1], p);
            // A surface that is still dry may get wet at any moment of a shower.
            if !self.state.shower && self.state.water[j] <= 0.0 && self.state.humidity[0] <= w {
                continue;
            }
            on_air += k / self.model.dry_air_kg;
            if !held {
                on_surface = on_surface.max(k * slope * LATENT_J_KG / surface.heat_j_k);
            }
        }
        (on_air + on_surface).max(1e-9)
    }

    fn regime(&self) -> Regime {
        let s = &self.state;
        let doors_and_shower = 2 * usize::from(s.door_open) + usize::from(s.shower);
        Regime((self.boundary.class * LEVELS + s.level as usize) * 4 + doors_and_shower)
    }

    /// Takes one step of length number `length`, or a shorter one where something would have happened
    /// in it.
    fn step(&mut self, length: usize, watch: &mut impl Watch) {
        let place = self.maps_of(self.regime());
        let before = self.state;
        let account = self.account;
        let mut length = length;
        loop {
            let sums = self.advance(place, length);
            let shorter = self.shorter(length, &before);
            if let Some(shorter) = shorter {
                self.state = before;
                self.account = account;
                length = shorter;
                continue;
            }
            let seconds = f64::from(LENGTHS[length]);
            self.settle_account(place, length, &sums);
            let flows = &self.maps[place].flows;
            watch.step(&Step {
                length_s: seconds,
                before: &before,
                after: &self.state,
                exhaust_kg_s: flows.exhaust,
                exhaust_vapour_kg: sums.vapour[EXHAUSTED],
                mean_room_c: sums.heat[ROOM_C] / seconds,
                mean_room_w: sums.vapour[ROOM_W] / seconds,
                house_w: self.house_w(),
                boundary: &self.boundary,
            });
            break;
        }
        self.decide();
    }

    /// Moves the state by one step: half of the wet exchange, the exact linear step, the other half in
    /// the opposite order, so that the split is exact to second order.
    fn advance(&mut self, place: usize, length: usize) -> Sums {
        let maps = &mut self.maps[place];
        maps.humidity.prepare(length);
        maps.warmth.prepare(length);
        let seconds = f64::from(LENGTHS[length]);
        let n = self.model.surfaces.len();
        let half = 0.5 * seconds;
        let before_w = self.state.humidity[0];
        for j in 0..n {
            self.exchange(j, half);
        }
        let condensed_w = (before_w - self.state.humidity[0]).max(0.0);
        self.dry_house(half);
        let b = &self.boundary;
        let maps = &self.maps[place];
        let (humidity, vapour) =
            maps.humidity.apply(length, &self.state.humidity, &[b.outdoor_w, b.house_w, 1.0, 0.0]);
        self.state.humidity = humidity;
        let heat = if let Thermal::Held(t) = self.model.thermal {
            [0.0, t * seconds, 0.0, 0.0]
        } else {
            let u = [b.outdoor_c, b.house_c, b.water_c, 1.0];
            let (warmth, heat) = maps.warmth.apply(length, &self.state.warmth, &u);
            self.state.warmth = warmth;
            heat
        };
        self.dry_house(half);
        // Fog leaves the air as it forms, not after surfaces have condensed from more than saturated air: what is left
        // over saturation now is what they took in the first half and will take in the second.
        self.settle_fog(condensed_w);
        for j in (0..n).rev() {
            self.exchange(j, half);
        }
        self.settle_fog(0.0);
        self.run_off();
        self.read_sensor(length);
        self.state.time_s += u64::from(LENGTHS[length]);
        Sums { vapour, heat }
    }

    /// Condensation on or evaporation from a surface over `seconds`, alone: the difference between air
    /// and surface decays exponentially, so it never changes sign and nothing chatters.
    fn exchange(&mut self, j: usize, seconds: f64) {
        let p = self.model.pressure_pa;
        let surface = &self.model.surfaces[j];
        let s = &mut self.state;
        let (saturated, slope) = self.saturation.humidity_ratio_and_slope(s.warmth[j + 1], p);
        let difference = s.humidity[0] - saturated;
        if difference <= 0.0 && s.water[j] <= 0.0 {
            return;
        }
        let k = surface.vapour_kg_s;
        let held = matches!(self.model.thermal, Thermal::Held(_));
        let on_surface = if held { 0.0 } else { slope * LATENT_J_KG / surface.heat_j_k };
        let rate = k * (1.0 / self.model.dry_air_kg + on_surface);
        let moved = (difference * k * seconds * mean_decay(rate * seconds)).max(-s.water[j]);
        s.humidity[0] -= moved / self.model.dry_air_kg;
        s.water[j] += moved;
        if !held {
            s.warmth[j + 1] += LATENT_J_KG * moved / surface.heat_j_k;
            self.account.latent_j += LATENT_J_KG * moved;
        }
    }

    /// What the air conditioner and the dehumidifier take out of the dwelling in `seconds`.
    fn dry_house(&mut self, seconds: f64) {
        let House::Zone { dry_air_kg, coil_w, dried_to_w, dries_kg_s, .. } = self.model.house
        else {
            return;
        };
        let place = self.house_place();
        let w = &mut self.state.humidity[place];
        let mut taken = 0.0;
        if self.boundary.cooled_kg_s > 0.0 && *w > coil_w {
            let x = self.boundary.cooled_kg_s * seconds / dry_air_kg;
            taken += (*w - coil_w) * x * mean_decay(x);
        }
        if *w > dried_to_w {
            taken += (*w - dried_to_w).min(dries_kg_s * seconds / dry_air_kg);
        }
        *w -= taken;
        self.account.dried_kg += taken * dry_air_kg;
    }

    /// More vapour than the air can hold, and `spare_w` beyond, settles on the first surface and warms the air.
    fn settle_fog(&mut self, spare_w: f64) {
        let p = self.model.pressure_pa;
        let s = &mut self.state;
        let (saturated, slope) = self.saturation.humidity_ratio_and_slope(s.warmth[0], p);
        let excess = s.humidity[0] - saturated - spare_w;
        if excess <= 0.0 || self.model.surfaces.is_empty() {
            return;
        }
        let held = matches!(self.model.thermal, Thermal::Held(_));
        let settled = if held { excess } else { excess / (1.0 + slope * LATENT_J_KG / AIR_J_KG_K) };
        s.humidity[0] -= settled;
        s.water[0] += settled * self.model.dry_air_kg;
        if !held {
            s.warmth[0] += settled * LATENT_J_KG / AIR_J_KG_K;
            self.account.latent_j += settled * self.model.dry_air_kg * LATENT_J_KG;
        }
    }

    /// Drops that a surface cannot hold run down the drain.
    fn run_off(&mut self) {
        for (water, surface) in self.state.water.iter_mut().zip(&self.model.surfaces) {
            let most = surface.holds_kg_m2 * surface.area_m2;
            let over = *water - most.max(surface.wetted_kg);
            if over > 0.0 {
                *water -= over;
                self.account.run_off_kg += over;
            }
        }
    }

    /// Relative humidity at the sensor.
    fn seen_humidity(&self) -> f64 {
        let p = self.model.pressure_pa;
        let Control::Humidity(h) = &self.control else { return self.room_humidity() };
        let (w, t) = if h.elsewhere {
            (self.house_w(), self.boundary.house_c)
        } else {
            (self.state.room_w(), self.state.room_c())
        };
        self.saturation.relative_humidity(w, t + h.warmer_k, p).min(1.0)
    }

    /// The sensor follows the humidity, taken as a straight line over the step, with its lag; its slow
    /// mean follows the reading.
    fn read_sensor(&mut self, length: usize) {
        if !matches!(self.control, Control::Humidity(_)) {
            return;
        }
        let now = self.seen_humidity();
        let on = usize::from(self.state.level == Level::Full);
        let s = &mut self.state;
        let before = s.reading;
        s.reading = self.lags[on][length].follow(s.reading, s.seen, now);
        s.seen = now;
        s.baseline = self.lags[2][length].follow(s.baseline, before, s.reading);
    }

    /// A shorter step where the control would have switched within this one.
    fn shorter(&self, length: usize, before: &State) -> Option<usize> {
        // A surface that was dry and is wet now: find out when that began.
        let begins = |j: usize| before.water[j] <= 0.0 && self.state.water[j] > 0.0;
        if LENGTHS[length] > self.care.longest_wet_s && (0..self.model.surfaces.len()).any(begins) {
            return Some(longest_within(self.care.longest_wet_s));
        }
        let Control::Humidity(h) = &self.control else { return None };
        let fine = h.sampling_s.max(FINE_S).min(self.care.longest_s.max(1));
        if LENGTHS[length] <= fine {
            return None;
        }
        let would = wants(h, &self.state);
        (would != wants(h, before)).then(|| length - 1)
    }

    /// The control looks at its sensor.
    fn decide(&mut self) {
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

    fn settle_account(&mut self, place: usize, length: usize, sums: &Sums) {
        let seconds = f64::from(LENGTHS[length]);
        let m = self.model;
        let b = &self.boundary;
        let f = &self.maps[place].flows;
        let shower = if self.state.shower { m.shower } else { ShowerSource::default() };
        let heats = self.heats();
        let a = &mut self.account;
        let from_house = match m.house {
            House::Held => f.house_to_room * b.house_w,
            House::Zone { vapour_kg_s, .. } => vapour_kg_s + f.outdoors_to_house * b.outdoor_w,
        };
        a.water_in_kg += seconds
            * (m.vapour_kg_s + shower.vapour_kg_s + f.outdoors_to_room * b.outdoor_w + from_house)
            - shower.less_kg_s * sums.vapour[ROOM_W];
        a.water_out_kg += sums.vapour[OUT];
        a.exhausted_kg += sums.vapour[EXHAUSTED];
        a.heat_net_j += sums.heat[NET_HEAT];
        a.heat_gross_j += sums.heat[NET_HEAT].abs()
            + seconds * (m.heat_w + shower.heat_w)
            + AIR_J_KG_K * (f.house_to_room + f.outdoors_to_room) * seconds;
        let on = self.state.level != Level::Off;
        a.fan_s += if on { seconds } else { 0.0 };
        let heated: f64 = if heats { m.surfaces.iter().map(|s| s.heated_w).sum() } else { 0.0 };
        a.electric_j += seconds * (m.fan_w[self.state.level as usize] + heated);
    }

    /// Whether a heated mirror is on: with the shower, and as long as the fan runs after it.
    fn heats(&self) -> bool {
        self.state.shower || self.state.level == Level::Full
    }

    /// Place of the maps of a regime; they are made when they are first needed.
    fn maps_of(&mut self, regime: Regime) -> usize {
        let place = self.places[regime.0];
        if place != NOT_MADE {
            return place as usize;
        }
        if self.maps.len() == self.maps.capacity().max(MAPS_AT_ONCE) {
            // Never more than was set aside at the start: the oldest ones are made again when needed.
            self.maps.clear();
            self.places.fill(NOT_MADE);
        }
        let flows = self.model.flows[self.boundary.class][self.state.level as usize]
            [usize::from(self.state.door_open)];
        self.maps.push(Maps {
            humidity: Steps::new(humidity_rates(self.model, &flows, self.state.shower)),
            warmth: Steps::new(heat_rates(self.model, &flows, self.state.shower, self.heats())),
            flows,
        });
        let place = self.maps.len() - 1;
        self.places[regime.0] = place as u32;
        place
    }
}

/// Maps of this many regimes are kept at once; a year visits fewer.
const MAPS_AT_ONCE: usize = 400;
/// A day, s.
const DAY_S: u64 = 86_400;

/// Integrals over a step.
struct Sums {
    vapour: [f64; INPUTS],
    heat: [f64; INPUTS],
}

/// Whether a humidity control wants the fan.
fn wants(h: &HumidityControl, s: &State) -> bool {
    let over = s.reading - s.baseline;
    if s.calls {
        let by_rise = h.rise.is_some_and(|rise| over > 0.5 * rise);
        s.reading > h.off_at || by_rise
    } else {
        s.reading > h.on_at || h.rise.is_some_and(|rise| over > rise)
    }
}

/// Seconds until the control next looks at its sensor; a whole period at the moment of a look.
fn until_look(h: &HumidityControl, time_s: u64) -> u32 {
    let period = u64::from(h.sampling_s.max(1));
    (period - time_s % period) as u32
}

/// `(1 - e⁻ˣ)/x`, to rounding.
fn mean_decay(x: f64) -> f64 {
    if x < 0.02 {
        1.0 - x * (0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x / 120.0)))
    } else {
        -libm::expm1(-x) / x
    }
}

/// Place of the longest step of at most so many seconds.
fn longest_within(seconds: u32) -> usize {
    LENGTHS.iter().rposition(|length| *length <= seconds).unwrap_or(0)
}

/// A first-order lag over a step of known length: what is left of the difference at its start, and the
/// share that it stays behind an input that moves along a straight line.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Lag {
    left: f64,
    behind: f64,
}

impl Lag {
    fn new(tau_s: f64, length_s: u32) -> Self {
        if tau_s > 0.0 {
            let x = f64::from(length_s) / tau_s;
            Self { left: libm::exp(-x), behind: mean_decay(x) }
        } else {
            Self::default()
        }
    }

    /// The lagging value after an input has moved from `from` to `to`.
    fn follow(self, value: f64, from: f64, to: f64) -> f64 {
        to - (to - from) * self.behind + (value - from) * self.left
    }
}

/// Lags of the sensor with the fan off and on, and of its slow mean, over each length of step.
fn lags(control: &Control) -> [[Lag; LENGTHS.len()]; 3] {
    let Control::Humidity(h) = control else { return [[Lag::default(); LENGTHS.len()]; 3] };
    [h.lag_off_s, h.lag_on_s, h.baseline_s].map(|tau| LENGTHS.map(|length| Lag::new(tau, length)))
}

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

/// The humidity balance of room and dwelling as rates.
fn humidity_rates(model: &Model, f: &Flows, shower: bool) -> Rates {
    let layers = model.sorption.layers();
    let house = 1 + layers;
    let (states, zone) = match &model.house {
        House::Held => (house, None),
        House::Zone { dry_air_kg, sorption, vapour_kg_s, .. } => {
            let fits = sorption.layers().min(STATES - house - 1);
            (house + 1 + fits, Some((*dry_air_kg, *sorption, *vapour_kg_s, fits)))
        }
    };
    let mut rates = Rates::new(states, 3);
    let m = model.dry_air_kg;
    // Room air: what comes in ...
    let coming_in = f.house_to_room + f.outdoors_to_room;
    if zone.is_some() {
        rates.state(0, house, f.house_to_room / m);
    } else {
        rates.input(0, HOUSE, f.house_to_room / m);
    }
    rates.input(0, OUTDOORS, f.outdoors_to_room / m);
    // ... what goes out at the room's own humidity ...
    rates.state(0, 0, -(f.room_to_house + f.room_to_outdoors) / m);
    rates.integral_of_state(OUT, 0, f.room_to_outdoors);
    // ... and what the fan draws off, richer or leaner than the room where the air is not well mixed.
    let (from_room, from_in) = if coming_in > 0.0 {
        (model.mixing * f.exhaust, (1.0 - model.mixing) * f.exhaust / coming_in)
    } else {
        (f.exhaust, 0.0)
    };
    rates.state(0, 0, -from_room / m);
    for integral in [OUT, EXHAUSTED] {
        rates.integral_of_state(integral, 0, from_room);
    }
    let leaner = [(HOUSE, f.house_to_room * from_in), (OUTDOORS, f.outdoors_to_room * from_in)];
    for (input, flow) in leaner {
        if input == HOUSE && zone.is_some() {
            rates.state(0, house, -flow / m);
            rates.integral_of_state(OUT, house, flow);
            rates.integral_of_state(EXHAUSTED, house, flow);
        } else {
            rates.input(0, input, -flow / m);
            rates.integral_of_input(OUT, input, flow);
            rates.integral_of_input(EXHAUSTED, input, flow);
        }
    }
    // Into a dwelling that is held the air is lost.
    if zone.is_none() {
        rates.integral_of_state(OUT, 0, f.room_to_house);
    }
    let source = if shower { model.shower } else { ShowerSource::default() };
    rates.input(0, ONE, (model.vapour_kg_s + source.vapour_kg_s) / m);
    rates.state(0, 0, -source.less_kg_s / m);
    rates.integral_of_state(ROOM_W, 0, 1.0);
    chain(&mut rates, 0, m, 1, &model.sorption, layers);
    if let Some((mass, sorption, vapour_kg_s, fits)) = zone {
        rates.state(house, 0, f.room_to_house / mass);
        rates.input(house, OUTDOORS, f.outdoors_to_house / mass);
        rates.state(house, house, -(f.house_to_room + f.house_to_outdoors) / mass);
        rates.integral_of_state(OUT, house, f.house_to_outdoors);
        rates.input(house, ONE, vapour_kg_s / mass);
        rates.integral_of_state(HOUSE_W, house, 1.0);
        chain(&mut rates, house, mass, house + 1, &sorption, fits);
    }
    rates
}

/// Sorbing layers behind the air of a zone.
fn chain(rates: &mut Rates, air: usize, mass: f64, first: usize, s: &Sorption, layers: usize) {
    let mut before = (air, mass);
    for layer in 0..layers {
        let here = (first + layer, s.holds_kg[layer]);
        let g = s.exchange_kg_s[layer];
        for ((a, mass), (b, _)) in [(before, here), (here, before)] {
            rates.state(a, a, -g / mass);
            rates.state(a, b, g / mass);
        }
        before = here;
    }
}

/// The heat balance of the room's air and surfaces as rates.
fn heat_rates(model: &Model, f: &Flows, shower: bool, heats: bool) -> Rates {
    let n = model.surfaces.len();
    let mut rates = Rates::new(n + 1, 4);
    let air = model.dry_air_kg * AIR_J_KG_K;
    for (input, flow) in [(HOUSE, f.house_to_room), (OUTDOORS, f.outdoors_to_room)] {
        let g = flow * AIR_J_KG_K;
        rates.input(0, input, g / air);
        rates.state(0, 0, -g / air);
        rates.integral_of_input(NET_HEAT, input, g);
        rates.integral_of_state(NET_HEAT, 0, -g);
    }
    let heat = model.heat_w + if shower { model.shower.heat_w } else { 0.0 };
    rates.input(0, ONE_HEAT, heat / air);
    rates.integral_of_input(NET_HEAT, ONE_HEAT, heat);
    rates.integral_of_state(ROOM_C, 0, 1.0);
    for (j, s) in model.surfaces.iter().enumerate() {
        let place = j + 1;
        rates.state(0, 0, -s.air_w_k / air);
        rates.state(0, place, s.air_w_k / air);
        rates.state(place, 0, s.air_w_k / s.heat_j_k);
        rates.state(place, place, -(s.air_w_k + s.back_w_k) / s.heat_j_k);
        let back = match s.back {
            Back::House => HOUSE,
            Back::Outdoors => OUTDOORS,
            Back::Water => WATER,
        };
        rates.input(place, back, s.back_w_k / s.heat_j_k);
        rates.integral_of_input(NET_HEAT, back, s.back_w_k);
        rates.integral_of_state(NET_HEAT, place, -s.back_w_k);
        if heats {
            rates.input(place, ONE_HEAT, s.heated_w / s.heat_j_k);
            rates.integral_of_input(NET_HEAT, ONE_HEAT, s.heated_w);
        }
    }
    rates
}
