//! One step: how long it may be, how air, surfaces and water move in it, and whether it was too long.
//!
//! Temperatures move first, as if nothing condensed. From how saturation at the faces moves with them follows the vapour
//! that the wet surfaces supply; the air's humidity is solved exactly with their transfer in it, and what each took is its
//! transfer times the difference summed over the step. Its heat is put in half before and half after the step of the
//! temperatures, which stays linear: no second solution is needed for it. Fog and coil are rates, constant over the step,
//! that end in saturated air and dry in proportion to the mean.

use super::control::Control;
use super::linear::{LENGTHS, ROWS, STATES, add};
use super::model::{AIR_J_KG_K, House, LATENT_J_KG, Level, SURFACES, ShowerSource, Thermal};
use super::rates::{EXHAUSTED, HOUSE, HOUSE_W, NET_HEAT, OUT, ROOM_C, ROOM_W, SUPPLY};
use super::sensor::{Course, mean_decay, share_until_switch, until_look, wants};
use super::simulate::{Simulation, Step, Watch, mean_c};
use super::state::State;

/// Rate at which the coil dries the dwelling times step, at most.
const COIL_SHARE: f64 = 0.5;
/// Transfer of the wet surfaces that are not taken along in the maps, over the air of the room, times step, at most.
const APART_SHARE: f64 = 0.3;
/// A step is not taken again for less water than this share of the vapour in the room: by so much a surface may be wet too
/// late, or evaporate what it does not have, before that is put right.
const AMISS_SHARE: f64 = 0.002;
/// Where this many times as much is amiss the step goes down to a second, and then the surface is followed alone.
const GROSSLY_AMISS: f64 = 50.0;
/// Steps shorter than this are never asked for by a crossing alone, s.
const FINE_S: u32 = 5;
/// Nor are shorter ones because something has just happened, s.
const FIRST_S: u32 = 20;

/// Which surfaces are wet at the start of a step, and what that means for it.
#[derive(Debug, Clone, Copy)]
struct Look {
    /// Surfaces, as bits.
    wet: u8,
    /// Those among them that are taken along in the maps.
    set: usize,
    /// Surfaces that dry up faster than steps can follow: each gives off alone what it has.
    alone: u8,
    /// How fast latent heat turns a difference of humidity on a surface, 1/s.
    by_heat: f64,
    /// Transfer of the wet surfaces that are not taken along, kg/s.
    apart_kg_s: f64,
    /// When the first of them would be dry, s.
    dry_in_s: f64,
}

impl Look {
    fn is_wet(&self, surface: usize) -> bool {
        self.wet & (1 << surface) != 0
    }
}

/// How the wet surfaces and the air act on each other over a step: surface j takes `kappa[j]·(I - h·faces[j])`, with I the
/// air's humidity ratio summed over the step, and `back[j]` of each kg it takes comes into the air's supply again, kg/s.
struct Exchange {
    kappa: [f64; SURFACES],
    faces: [f64; SURFACES],
    back: [f64; SURFACES],
}

/// What moved in a step.
pub(super) struct Moved {
    /// Integrals of the humidity system at the places from [`STATES`] on.
    vapour: [f64; ROWS],
    /// Integrals of the heat system there.
    heat: [f64; ROWS],
    /// Water that each surface took from the air, kg, without fog.
    onto_kg: [f64; SURFACES],
    /// Fog that settled, kg.
    fog_kg: f64,
    dried_kg: f64,
    run_off_kg: f64,
    /// A shorter length to try instead, s.
    instead_s: Option<u32>,
    /// A surface that dries up too fast for any length.
    too_fast: Option<usize>,
}

impl Moved {
    /// Asks for a step of at most `until_s` instead.
    fn ask_for(&mut self, until_s: f64) {
        let until_s = seconds_of(until_s).max(FINE_S);
        self.instead_s = Some(self.instead_s.map_or(until_s, |other| other.min(until_s)));
    }
}

impl Simulation<'_> {
    /// Takes one step of at most `left_s`, or shorter where something would have happened in it.
    pub(super) fn step_within(&mut self, left_s: u32, watch: &mut impl Watch) {
        let mut look = self.look();
        let mut length = self.length_for(&look, left_s);
        let before = self.state;
        loop {
            let mut moved = self.advance(&look, length);
            if let Some(j) = moved.too_fast {
                self.state = before;
                look.wet &= !(1 << j);
                look.alone |= 1 << j;
                look.set &= !self.faces.bit[j];
                continue;
            }
            self.read_sensor(length, &moved);
            if let Some(instead_s) =
                moved.instead_s.take().or_else(|| self.before_switch(length, &before))
            {
                self.state = before;
                length = longest_within(instead_s).min(length.saturating_sub(1));
                continue;
            }
            self.settle_account(length, &moved);
            self.show(length, &before, &moved, watch);
            break;
        }
        self.decide();
    }

    fn show(&self, length: usize, before: &State, moved: &Moved, watch: &mut impl Watch) {
        let seconds = f64::from(LENGTHS[length]);
        let zone = self.model.house != House::Held;
        watch.step(&Step {
            length_s: seconds,
            before,
            after: &self.state,
            exhaust_kg_s: self.flows().exhaust,
            exhaust_vapour_kg: moved.vapour[STATES + EXHAUSTED],
            mean_room_c: moved.heat[STATES + ROOM_C] / seconds,
            mean_room_w: moved.vapour[STATES + ROOM_W] / seconds,
            house_w: self.house_w(),
            mean_house_w: if zone {
                moved.vapour[STATES + HOUSE_W] / seconds
            } else {
                self.boundary.house_w
            },
            boundary: &self.boundary,
            model: self.model,
            heats: self.heats(),
            onto_kg: &moved.onto_kg,
        });
    }

    fn look(&mut self) -> Look {
        let p = self.model.pressure_pa;
        let s = &self.state;
        let w = s.humidity[0];
        let mut look = Look {
            wet: 0,
            set: 0,
            alone: 0,
            by_heat: 0.0,
            apart_kg_s: 0.0,
            dry_in_s: f64::INFINITY,
        };
        for j in 0..self.faces.count {
            let t = s.warmth[j + 1];
            let face = &mut self.saturated[j + 1];
            let water = s.water[j];
            if water > 0.0 || s.shower {
                face.look(self.table, t, p);
            }
            if water > 0.0 || face.is_exceeded(self.table, w, t, p) {
                let k = self.faces.transfer_kg_s[j];
                look.wet |= 1 << j;
                look.set |= self.faces.bit[j];
                look.apart_kg_s += if self.faces.bit[j] == 0 { k } else { 0.0 };
                let gives = k * (face.w - w);
                if gives > 0.0 {
                    look.dry_in_s = look.dry_in_s.min(water / gives);
                }
            } else if !s.shower {
                continue;
            }
            // A surface that is still dry may get wet at any moment of a shower.
            let rate = self.faces.transfer_kg_s[j] * face.slope * self.faces.warms_k_kg[j];
            look.by_heat = look.by_heat.max(rate);
        }
        look
    }

    /// Place of the longest step that is fine and fits into what is left.
    fn length_for(&self, look: &Look, left_s: u32) -> usize {
        let s = &self.state;
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
            most = most.min(seconds_of(COIL_SHARE * dry_air_kg / self.boundary.cooled_kg_s));
        }
        let since_s = s.time_s - s.event_s;
        if self.care.since_event.is_finite() {
            most = most.min(seconds_of(self.care.since_event * since_s as f64).max(FIRST_S));
        }
        if look.by_heat > 0.0 {
            let soon = since_s < self.care.soon_s;
            let share = if soon { self.care.soon } else { self.care.later };
            most = most.min(self.care.longest_wet_s).min(seconds_of(share / look.by_heat));
        }
        if look.apart_kg_s > 0.0 {
            most = most.min(seconds_of(APART_SHARE * self.model.dry_air_kg / look.apart_kg_s));
        }
        most = most.min(seconds_of(look.dry_in_s).max(FINE_S));
        longest_within(most)
    }

    /// Moves the state by one step.
    fn advance(&mut self, look: &Look, length: usize) -> Moved {
        let (humidity_map, warmth_map) = self.maps_for(look.set, length);
        let seconds = f64::from(LENGTHS[length]);
        let half = 0.5 * seconds;
        let mut moved = Moved {
            vapour: [0.0; ROWS],
            heat: [0.0; ROWS],
            onto_kg: [0.0; SURFACES],
            fog_kg: 0.0,
            dried_kg: self.dehumidify(half),
            run_off_kg: 0.0,
            instead_s: None,
            too_fast: None,
        };
        for j in (0..self.faces.count).filter(|j| look.alone & (1 << j) != 0) {
            let t = self.state.warmth[j + 1];
            self.saturated[j + 1].look(self.table, t, self.model.pressure_pa);
            self.exchange_alone(j, seconds, &mut moved);
        }
        moved.heat = self.warm(warmth_map, seconds);
        let exchange = self.exchange(look, warmth_map, &moved.heat, seconds);
        moved.vapour = self.move_vapour(look, humidity_map, &exchange);
        self.cool(humidity_map, seconds, &mut moved);
        let given = moved.vapour;
        let supply = *self.pool.map(humidity_map).of_input(SUPPLY);
        self.take_on(look, &exchange, &supply, seconds, 0.0, &mut moved);
        let fog_kg = self.fog(warmth_map, &supply, seconds, &moved);
        if fog_kg > 0.0 {
            moved.vapour = given;
            self.take_on(look, &exchange, &supply, seconds, fog_kg, &mut moved);
        }
        self.put_water(look, warmth_map, fog_kg, seconds, &mut moved);
        let before_w = self.state.humidity[0];
        let before_c = self.state.warmth;
        self.state.humidity.copy_from_slice(&moved.vapour[..STATES]);
        if self.is_balance {
            self.state.warmth.copy_from_slice(&moved.heat[..STATES]);
        }
        self.begin_to_be_wet(look, before_w, &before_c, seconds, &mut moved);
        self.settle_fog(&mut moved);
        moved.dried_kg += self.dehumidify(half);
        self.run_off(&mut moved);
        self.state.time_s += u64::from(LENGTHS[length]);
        moved
    }

    /// Temperatures after the step as if nothing condensed, and their integrals.
    fn warm(&self, map: usize, seconds: f64) -> [f64; ROWS] {
        if let Thermal::Held(t) = self.model.thermal {
            let mut heat = [0.0; ROWS];
            heat[STATES + ROOM_C] = t * seconds;
            return heat;
        }
        let b = &self.boundary;
        let states = self.faces.count + 1;
        let u = [b.outdoor_c, b.house_c, b.water_c, 1.0];
        self.pool.map(map).apply(states, &self.state.warmth, 4, &u)
    }

    /// The wet surfaces over a step in which temperatures move as in `heat` but for the latent heat.
    fn exchange(&mut self, look: &Look, map: usize, heat: &[f64; ROWS], seconds: f64) -> Exchange {
        let mut e =
            Exchange { kappa: [0.0; SURFACES], faces: [0.0; SURFACES], back: [0.0; SURFACES] };
        let p = self.model.pressure_pa;
        let heats = self.heats();
        for j in (0..self.faces.count).filter(|j| look.is_wet(*j)) {
            let face = &mut self.saturated[j + 1];
            // A step that is taken again has looked elsewhere meanwhile.
            face.look(self.table, self.state.warmth[j + 1], p);
            let k = self.faces.transfer_kg_s[j];
            // By how much the mean at its face rises for each kg it takes.
            let mut rises = 0.0;
            e.faces[j] = face.w;
            if self.is_balance {
                let own = self.pool.map(map).of_state(j + 1)[j + 1];
                rises = 0.25 * face.slope * (1.0 + own) * self.faces.warms_k_kg[j];
                // Half way between both ends, and by how much the mean temperature is off the middle.
                let (from, to) = (self.state.warmth[j + 1], heat[j + 1]);
                let mean_c = mean_c(
                    &self.model.surfaces[j],
                    &self.boundary,
                    [heat[STATES + ROOM_C], if heats { seconds } else { 0.0 }, 0.0],
                    [from, to],
                    seconds,
                );
                let middle = f64::midpoint(face.w, self.table.humidity_ratio(to, p));
                e.faces[j] = middle + face.slope * (mean_c - f64::midpoint(from, to));
            }
            e.kappa[j] = k / (1.0 + seconds * k * rises);
            let taken_along = self.faces.bit[j] != 0;
            e.back[j] = if taken_along { k * rises } else { -1.0 / seconds };
        }
        e
    }

    /// Humidity after the step with the supply of the faces that are taken along, and the integrals.
    fn move_vapour(&self, look: &Look, map: usize, e: &Exchange) -> [f64; ROWS] {
        let mut supply = 0.0;
        for j in (0..self.faces.count).filter(|j| look.is_wet(*j) && self.faces.bit[*j] != 0) {
            supply += self.faces.transfer_kg_s[j] * e.faces[j];
        }
        let b = &self.boundary;
        let house = if self.model.house == House::Held { b.house_w } else { 0.0 };
        let u = [b.outdoor_w, house, 1.0, supply];
        self.pool.map(map).apply(self.humidity_states, &self.state.humidity, 4, &u)
    }

    /// What the coil of the air conditioner takes out: its air times the mean difference over the step.
    fn cool(&self, map: usize, seconds: f64, moved: &mut Moved) {
        let House::Zone { coil_w, .. } = self.model.house else { return };
        let air_kg_s = self.boundary.cooled_kg_s;
        let over = moved.vapour[STATES + HOUSE_W] / seconds - coil_w;
        if air_kg_s <= 0.0 || over <= 0.0 {
            return;
        }
        let into_house = self.pool.map(map).of_input(HOUSE);
        let each = into_house[STATES + HOUSE_W] / seconds;
        let rate = air_kg_s * over / (1.0 + air_kg_s * each);
        add(&mut moved.vapour, into_house, -rate);
        moved.dried_kg += rate * seconds;
    }

    /// What the wet surfaces take while `fog_kg` settle, and what that makes of the air.
    fn take_on(
        &self,
        look: &Look,
        e: &Exchange,
        supply: &[f64; ROWS],
        seconds: f64,
        fog_kg: f64,
        moved: &mut Moved,
    ) {
        if look.wet == 0 && fog_kg <= 0.0 {
            return;
        }
        let each = supply[STATES + ROOM_W];
        let (mut by_air, mut by_faces) = (0.0, 0.0);
        for j in 0..self.faces.count {
            let back = e.back[j] * e.kappa[j];
            by_air += back;
            by_faces += back * e.faces[j];
        }
        let alone = moved.vapour[STATES + ROOM_W] - each * fog_kg / seconds;
        let air = (alone - each * seconds * by_faces) / (1.0 - each * by_air);
        let mut more = -fog_kg / seconds;
        for j in 0..self.faces.count {
            if !look.is_wet(j) {
                continue;
            }
            let onto = e.kappa[j] * (air - seconds * e.faces[j]);
            moved.onto_kg[j] = onto;
            more += e.back[j] * onto;
        }
        add(&mut moved.vapour, supply, more);
    }

    /// Fog that has to settle so that the air is saturated at the end of the step and not more.
    fn fog(&mut self, map: usize, supply: &[f64; ROWS], seconds: f64, moved: &Moved) -> f64 {
        if self.faces.count == 0 {
            return 0.0;
        }
        let p = self.model.pressure_pa;
        let w = moved.vapour[0];
        let (mut t, mut warms) = (self.state.warmth[0], 0.0);
        if self.is_balance {
            let map = self.pool.map(map);
            t = moved.heat[0];
            for j in 0..self.faces.count {
                t += 0.5 * self.faces.warms_k_kg[j] * moved.onto_kg[j] * map.of_state(j + 1)[0];
            }
            warms = 0.5 * (1.0 + map.of_state(0)[0]) * self.fog_warms_k_kg;
        }
        let face = &mut self.saturated[0];
        if !face.is_exceeded(self.table, w, t, p) {
            return 0.0;
        }
        (w - face.w) / (supply[0] / seconds + face.slope * warms)
    }

    /// Puts what was taken onto the surfaces, no more out of any than was there, and its heat into the temperatures.
    fn put_water(&mut self, look: &Look, map: usize, fog_kg: f64, seconds: f64, moved: &mut Moved) {
        let amiss_kg = AMISS_SHARE * self.model.dry_air_kg * self.state.humidity[0];
        for j in (0..self.faces.count).filter(|j| look.is_wet(*j)) {
            let water = &mut self.state.water[j];
            let missing = -(*water + moved.onto_kg[j]);
            if missing > 0.0 {
                if missing > amiss_kg && seconds > f64::from(FINE_S) {
                    moved.ask_for(seconds * *water / (*water + missing));
                } else if missing > GROSSLY_AMISS * amiss_kg {
                    if seconds > 1.0 {
                        moved.instead_s = Some(1);
                    } else {
                        moved.too_fast = Some(j);
                    }
                }
                moved.onto_kg[j] = -*water;
                moved.vapour[0] -= missing / self.model.dry_air_kg;
                *water = 0.0;
            } else {
                *water += moved.onto_kg[j];
            }
        }
        if fog_kg > 0.0 {
            self.state.water[0] += fog_kg;
            moved.fog_kg = fog_kg;
        }
        if self.is_balance && (look.wet != 0 || fog_kg > 0.0) {
            let map = self.pool.map(map);
            let mut heat_in = |state: usize, kelvin: f64| {
                add(&mut moved.heat, map.of_state(state), 0.5 * kelvin);
                moved.heat[state] += 0.5 * kelvin;
            };
            for j in (0..self.faces.count).filter(|j| look.is_wet(*j)) {
                heat_in(j + 1, self.faces.warms_k_kg[j] * moved.onto_kg[j]);
            }
            if fog_kg > 0.0 {
                heat_in(0, self.fog_warms_k_kg * fog_kg);
            }
        }
    }

    /// Surfaces that were dry and have come below the dew point in the step take what they had time for, each alone: the
    /// difference decays and never changes sign.
    fn begin_to_be_wet(
        &mut self,
        look: &Look,
        before_w: f64,
        before_c: &[f64; STATES],
        seconds: f64,
        moved: &mut Moved,
    ) {
        let p = self.model.pressure_pa;
        let amiss_kg = AMISS_SHARE * self.model.dry_air_kg * before_w;
        for j in (0..self.faces.count).filter(|j| !look.is_wet(*j)) {
            let s = &mut self.state;
            let face = &mut self.saturated[j + 1];
            let t = s.warmth[j + 1];
            let below = (face.near(before_c[j + 1]) - before_w).max(0.0);
            if !face.is_exceeded(self.table, s.humidity[0], t, p) {
                continue;
            }
            let difference = s.humidity[0] - face.w;
            let share = below / (below + difference);
            let onto = self.exchange_alone(j, 0.5 * seconds * (1.0 - share), moved);
            if onto > amiss_kg && seconds > f64::from(FINE_S) {
                moved.ask_for(seconds * share);
            }
        }
    }

    /// Exchange of a surface with the air for `seconds`, alone; gives what it took, kg. Saturation at its temperature has been
    /// looked up.
    fn exchange_alone(&mut self, j: usize, seconds: f64, moved: &mut Moved) -> f64 {
        let s = &mut self.state;
        let face = &self.saturated[j + 1];
        let k = self.faces.transfer_kg_s[j];
        let warms = self.faces.warms_k_kg[j];
        let rate = k * (1.0 / self.model.dry_air_kg + face.slope * warms);
        let difference = s.humidity[0] - face.w;
        let onto = (difference * k * seconds * mean_decay(rate * seconds)).max(-s.water[j]);
        s.humidity[0] -= onto / self.model.dry_air_kg;
        s.water[j] += onto;
        moved.onto_kg[j] += onto;
        if self.is_balance {
            s.warmth[j + 1] += warms * onto;
        }
        onto
    }

    /// What the dehumidifier takes out of the dwelling in `seconds`, kg.
    fn dehumidify(&mut self, seconds: f64) -> f64 {
        let House::Zone { dry_air_kg, dried_to_w, dries_kg_s, .. } = self.model.house else {
            return 0.0;
        };
        let place = self.house_place();
        let w = &mut self.state.humidity[place];
        if *w <= dried_to_w {
            return 0.0;
        }
        let taken = (*w - dried_to_w).min(dries_kg_s * seconds / dry_air_kg);
        *w -= taken;
        taken * dry_air_kg
    }

    /// More vapour than the air can hold settles on the first surface and warms the air: what is left of it after a step.
    fn settle_fog(&mut self, moved: &mut Moved) {
        if self.faces.count == 0 {
            return;
        }
        let p = self.model.pressure_pa;
        let s = &mut self.state;
        let face = &mut self.saturated[0];
        if !face.is_exceeded(self.table, s.humidity[0], s.warmth[0], p) {
            return;
        }
        let warms = self.fog_warms_k_kg * self.model.dry_air_kg;
        let settled = (s.humidity[0] - face.w) / (1.0 + face.slope * warms);
        s.humidity[0] -= settled;
        s.water[0] += settled * self.model.dry_air_kg;
        s.warmth[0] += settled * warms;
        moved.fog_kg += settled * self.model.dry_air_kg;
    }

    /// Drops that a surface cannot hold run down the drain.
    fn run_off(&mut self, moved: &mut Moved) {
        let most = self.faces.most_kg.iter().take(self.faces.count);
        for (water, most) in self.state.water.iter_mut().zip(most) {
            let over = *water - most;
            if over > 0.0 {
                *water -= over;
                moved.run_off_kg += over;
            }
        }
    }

    /// The sensor follows the humidity, its slow mean follows the reading.
    #[inline]
    fn read_sensor(&mut self, length: usize, moved: &Moved) {
        let Control::Humidity(h) = &self.control else { return };
        let seconds = f64::from(LENGTHS[length]);
        let share = 1.0 / seconds;
        let mean = |integral: f64| integral * share;
        let (w, t) = if h.elsewhere {
            let zone = self.model.house != House::Held;
            let house_w =
                if zone { mean(moved.vapour[STATES + HOUSE_W]) } else { self.boundary.house_w };
            (house_w, self.boundary.house_c)
        } else {
            (mean(moved.vapour[STATES + ROOM_W]), mean(moved.heat[STATES + ROOM_C]))
        };
        let p = self.model.pressure_pa;
        let on_the_way = self.table.relative_humidity(w, t + h.warmer_k, p).min(1.0);
        let now = self.seen_humidity();
        let on = usize::from(self.state.level == Level::Full);
        let s = &mut self.state;
        let input = Course { from: s.seen, to: now, mean: on_the_way };
        let reading = self.lags[on][length].follow(s.reading, input);
        // A parabola through a kink may bend beyond what any air has.
        s.reading = reading.to.clamp(0.0, 1.0);
        s.seen = now;
        if h.rise.is_some() {
            s.baseline = self.lags[2][length].follow(s.baseline, reading).to.clamp(0.0, 1.0);
        }
    }

    /// A shorter length where the control would have switched within this one, s.
    fn before_switch(&self, length: usize, before: &State) -> Option<u32> {
        let Control::Humidity(h) = &self.control else { return None };
        if wants(h, before) == wants(h, &self.state) {
            return None;
        }
        let seconds = LENGTHS[length];
        let look = until_look(h, before.time_s);
        if seconds <= look.max(FINE_S) {
            return None;
        }
        // Up to the last look before the crossing.
        let crossing = seconds_of(f64::from(seconds) * share_until_switch(h, before, &self.state));
        let looks = crossing.saturating_sub(look) / h.sampling_s.max(1);
        Some((look + looks * h.sampling_s.max(1)).max(FINE_S))
    }

    fn settle_account(&mut self, length: usize, moved: &Moved) {
        let seconds = f64::from(LENGTHS[length]);
        let m = self.model;
        let b = &self.boundary;
        let f = *self.flows();
        let shower = if self.state.shower { m.shower } else { ShowerSource::default() };
        let heats = self.heats();
        let (vapour, heat) = (&moved.vapour[STATES..], &moved.heat[STATES..]);
        let from_house = match m.house {
            House::Held => f.house_to_room * b.house_w,
            House::Zone { vapour_kg_s, .. } => vapour_kg_s + f.outdoors_to_house * b.outdoor_w,
        };
        let a = &mut self.account;
        a.water_in_kg += seconds
            * (m.vapour_kg_s + shower.vapour_kg_s + f.outdoors_to_room * b.outdoor_w + from_house)
            - shower.less_kg_s * vapour[ROOM_W];
        a.water_out_kg += vapour[OUT];
        a.exhausted_kg += vapour[EXHAUSTED];
        a.dried_kg += moved.dried_kg;
        a.run_off_kg += moved.run_off_kg;
        if self.is_balance {
            a.latent_j += LATENT_J_KG * (moved.onto_kg.iter().sum::<f64>() + moved.fog_kg);
            a.heat_net_j += heat[NET_HEAT];
        }
        a.heat_gross_j += heat[NET_HEAT].abs()
            + seconds * (m.heat_w + shower.heat_w)
            + AIR_J_KG_K * (f.house_to_room + f.outdoors_to_room) * seconds;
        let on = self.state.level != Level::Off;
        a.fan_s += if on { seconds } else { 0.0 };
        let heated = if heats { self.heated_w } else { 0.0 };
        a.electric_j += seconds * (m.fan_w[self.state.level as usize] + heated);
    }
}

/// Whole seconds of a time that may be endless; one at least.
fn seconds_of(time: f64) -> u32 {
    // A conversion of what is too large or no number ends at the ends of the type.
    (time as u32).max(1)
}

/// Place of the longest step of at most so many seconds.
pub(super) fn longest_within(seconds: u32) -> usize {
    LENGTHS.iter().rposition(|length| *length <= seconds).unwrap_or(0)
}
