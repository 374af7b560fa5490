//! Sources of moisture: showers, baths, people, laundry, cooking and what stays wet afterwards.
//!
//! Published figures scatter by a third to a half, so each comes as a [`Band`]. Measurements published in 2016
//! lie below the older tables for laundry, plants and people: take these as rather high.
//!
//! Sources: IEA Solar Heating and Cooling Programme, solar housing handbook, table 10.1.1 (rates); US
//! cooperative extension table of 1988, as in ASTM MNL 18 (Christian 1994) (masses per event); ASHRAE 160
//! (dwellings, from memory).
//!
//! ```
//! use dewpath_air::moist_air::MoistAir;
//! use dewpath_moisture::source::Shower;
//! use dewpath_units::{Humidity, Pressure, Temperature, WaterFlow};
//! let room = MoistAir::from_relative_humidity(
//!     Temperature::from_c(24.0),
//!     Humidity::from_percent(60.0),
//!     Pressure::from_pa(101_325.0),
//! )?;
//! let shower = Shower::new(WaterFlow::from_l_min(9.0), Temperature::from_c(40.0))?;
//! assert!((shower.vapour(&room).kg_h() - 2.5).abs() < 1e-3);
//! let cooling = shower.heat(&room).map(|heat| heat.water_cooling.k()); // from head to drain
//! assert!(cooling.is_some_and(|k| k > 2.0 && k < 4.0));
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_air::domain::{Domain, OutOfDomain, not_negative};
use dewpath_air::flex::Band;
use dewpath_air::moist_air::{MoistAir, evaporation_heat_at_c, heat_capacity_j_kg_k};
use dewpath_units::{
    Area, Mass, MassFlow, Power, Ratio, Temperature, TemperatureDifference, Velocity, WaterFlow,
};

use crate::film::LEWIS_FACTOR;
use crate::saturation::Saturation;

/// Vapour of a running shower, kg/h, at [`REFERENCE_FLOW`], [`REFERENCE_WATER`] and a room of 24 °C, 60 % at
/// sea level: 1.5 to 3.5, likely 2.5.
///
/// Source: 2.5 kg/h, IEA solar housing handbook, table 10.1.1, ±40 % (2.6 kg/h in IEA Annex 14, from memory;
/// 0.24 kg in 5 minutes or 2.8 kg/h in the table of 1988). The water flow, temperature and room it belongs to
/// are not published; those here are a judgement.
pub const SHOWER_KG_H: Band = band(1.5, 2.5, 3.5);

/// Water flow that [`SHOWER_KG_H`] is taken to belong to.
pub const REFERENCE_FLOW: WaterFlow = WaterFlow::from_l_min(9.0);

/// Water temperature that [`SHOWER_KG_H`] is taken to belong to.
pub const REFERENCE_WATER: Temperature = Temperature::from_c(40.0);

const REFERENCE_ROOM_C: f64 = 24.0;
const REFERENCE_ROOM_HUMIDITY: f64 = 0.60;

/// Vapour of one 5-minute shower without towels and spilt water: half a US pint.
///
/// Source: table of 1988, ±50 %.
pub const FIVE_MINUTE_SHOWER: Mass = Mass::from_kg(0.236588);

/// Vapour of one tub bath without towels, kg: 0.1 to 0.12 US pint.
///
/// Source: table of 1988, ±50 %. It disagrees with [`BATH_KG_H`]: twenty minutes of that are 0.23 kg.
pub const BATH_KG: Band = band(0.0473176, 0.05204936, 0.05678112);

/// Vapour of a tub bath while it is full, kg/h.
///
/// Source: IEA solar housing handbook, table 10.1.1, ±40 %.
pub const BATH_KG_H: Band = band(0.42, 0.7, 0.98);

/// Water that stays on tray, walls and screen after a shower, kg/m².
///
/// Source: common practice, no source.
pub const WET_FILM_KG_M2: Band = band(0.05, 0.10, 0.15);

/// Area that stays wet after a shower, m².
///
/// Source: common practice, no source.
pub const WET_AREA_M2: Band = band(2.0, 4.0, 6.0);

/// Water in the towels of one shower, kg. Together with the wet surfaces often as much as the shower itself.
///
/// Source: common practice, no source.
pub const TOWEL_WATER_KG: Band = band(0.2, 0.3, 0.4);

/// Water of a mopped floor, kg/m² (from memory).
pub const MOPPING_KG_M2: Band = band(0.10, 0.15, 0.20);

const fn band(low: f64, likely: f64, high: f64) -> Band {
    Band { low, likely, high, extrapolated: false }
}

/// Heat capacity of water, J/(kg·K), at 40 °C (steam tables, from memory).
const WATER_HEAT_J_KG_K: f64 = 4179.0;

/// Density of water at 40 °C, kg/m³ (steam tables, from memory).
const WATER_KG_M3: f64 = 992.2;

const SHOWER_FLOW: Domain = Domain {
    quantity: "water flow of a shower",
    unit: "L/min",
    low: 0.0,
    high: 100.0,
    reason: "a shower head passes 4 to 20 L/min, several of them at most 100",
};

const WATER_TEMPERATURE: Domain = Domain {
    quantity: "water temperature",
    unit: "°C",
    low: 1.0,
    high: 65.0,
    reason: "people wash between about 30 and 43 °C; hotter water scalds",
};

const STATED_RATE: Domain = Domain {
    quantity: "vapour of a shower",
    unit: "kg/h",
    low: 0.0,
    high: 50.0,
    reason: "a shower gives off about 1 to 4 kg/h",
};

/// Vapour and heat of a running shower.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shower {
    /// kg/s of vapour for each pascal between the water and the room.
    per_pa: f64,
    /// Saturation pressure at the water's temperature, Pa.
    water_pa: f64,
    stated_kg_s: Option<f64>,
    water: Option<Water>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Water {
    kg_s: f64,
    t_c: f64,
}

/// Where the heat of a running shower goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShowerHeat {
    /// Heat that the room's air gains by convection from drops and wet surfaces; below zero with cold water.
    pub sensible: Power,
    /// Heat that turns water into vapour. It comes from the water, not from the air of the room.
    pub latent: Power,
    /// By how much the water cools from head to drain for the two; what walls and tray take comes on top.
    pub water_cooling: TemperatureDifference,
}

impl Shower {
    /// A shower of this water: G = G_ref·(ṁ/ṁ_ref)·(p_ws(T_water) − p_w)/(the same at the reference), with the
    /// likely rate of [`SHOWER_KG_H`]. It falls as the room fills with vapour, and with cooler or less water.
    ///
    /// Source: published rate; the scaling is a model of this project (evaporation in proportion to drops and
    /// driving pressure), not measured.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a flow outside 0 to 100 L/min or water outside 1 to 65 °C.
    pub fn new(flow: WaterFlow, water: Temperature) -> Result<Self, OutOfDomain> {
        Self::at_place_in_band(flow, water, 0.5)
    }

    /// As [`Self::new`] with the rate at place `u` of the band [`SHOWER_KG_H`]: 0 low, 0.5 likely, 1 high.
    ///
    /// # Errors
    /// As [`Self::new`]; `u` must lie between 0 and 1.
    pub fn at_place_in_band(
        flow: WaterFlow,
        water: Temperature,
        u: f64,
    ) -> Result<Self, OutOfDomain> {
        let water = checked_water(flow, water)?;
        let rate_kg_s = SHOWER_KG_H.at(PLACE.check(u)?) / 3600.0;
        let saturation = Saturation::shared();
        let room_pa = REFERENCE_ROOM_HUMIDITY * saturation.pressure_pa(REFERENCE_ROOM_C);
        let driving_pa = saturation.pressure_pa(REFERENCE_WATER.c()) - room_pa;
        let reference_kg_s = WATER_KG_M3 * REFERENCE_FLOW.m3_s();
        Ok(Self {
            per_pa: rate_kg_s * (water.kg_s / reference_kg_s) / driving_pa,
            water_pa: saturation.pressure_pa(water.t_c),
            stated_kg_s: None,
            water: Some(water),
        })
    }

    /// A shower whose rate is stated; it gives off that whatever the room holds. Without flow and temperature
    /// of the water its heat is not known.
    ///
    /// # Errors
    /// [`OutOfDomain`] for a rate outside 0 to 50 kg/h or water as in [`Self::new`].
    pub fn stated(
        rate: MassFlow,
        water: Option<(WaterFlow, Temperature)>,
    ) -> Result<Self, OutOfDomain> {
        STATED_RATE.check(rate.kg_h())?;
        let water = water.map(|(flow, t)| checked_water(flow, t)).transpose()?;
        let water_pa = water.map_or(0.0, |water| Saturation::shared().pressure_pa(water.t_c));
        Ok(Self { per_pa: 0.0, water_pa, stated_kg_s: Some(rate.kg_s()), water })
    }

    /// Vapour, kg/s, into a room whose vapour pressure is `vapour_pa`: the kernel of [`Self::vapour`],
    /// without its limit.
    #[inline]
    pub fn vapour_kg_s(&self, vapour_pa: f64) -> f64 {
        // `max` last: what is not a number gives none.
        self.stated_kg_s.unwrap_or((self.per_pa * (self.water_pa - vapour_pa)).max(0.0))
    }

    /// The straight line a + b·p_w of [`Self::vapour_kg_s`], as (a in kg/s, b in kg/(s·Pa)), while the room
    /// holds less than the water's saturation pressure.
    pub fn line(&self) -> (f64, f64) {
        match self.stated_kg_s {
            Some(rate) => (rate, 0.0),
            None => (self.per_pa * self.water_pa, -self.per_pa),
        }
    }

    /// Vapour given off into a room, at most [`Self::greatest_vapour`].
    pub fn vapour(&self, room: &MoistAir) -> MassFlow {
        let rate = MassFlow::from_kg_s(self.vapour_kg_s(room.vapour_pressure().pa()));
        self.greatest_vapour(room).map_or(rate, |most| rate.lesser(most))
    }

    /// The most that water of this flow can give off: ṁ·c·(T_water − T_wet bulb)/h_fg, all its heat down to the
    /// wet bulb of the room. `None` when the water is not known.
    ///
    /// Source: energy balance.
    pub fn greatest_vapour(&self, room: &MoistAir) -> Option<MassFlow> {
        let water = self.water?;
        let cooling = (water.t_c - room.wet_bulb().c()).max(0.0);
        let rate = water.kg_s * WATER_HEAT_J_KG_K * cooling / evaporation_heat_at_c(water.t_c);
        Some(MassFlow::from_kg_s(rate))
    }

    /// Heat that goes with the vapour into a room. The air gains G·cp·Le^(2/3)·(T_water − T)/(W_s − W) by
    /// convection, as heat and vapour leave drops and wet surfaces together (Lewis relation, see
    /// [`crate::film`]).
    ///
    /// `None` when flow and temperature of the water are not known.
    ///
    /// Check: 9.5 L/min cooling by about 4 K loses 2.65 kW, half of it latent (energy balance, common
    /// practice).
    pub fn heat(&self, room: &MoistAir) -> Option<ShowerHeat> {
        let water = self.water?;
        let rate = self.vapour(room).kg_s();
        let latent = rate * evaporation_heat_at_c(water.t_c);
        let sensible = rate * sensible_j_kg(water, room);
        let carried = water.kg_s * WATER_HEAT_J_KG_K;
        let cooling = if carried > 0.0 { (latent + sensible) / carried } else { 0.0 };
        Some(ShowerHeat {
            sensible: Power::from_w(sensible),
            latent: Power::from_w(latent),
            water_cooling: TemperatureDifference::from_k(cooling),
        })
    }
}

/// Heat by convection with each kg of vapour, J/kg; none where nothing drives the vapour.
fn sensible_j_kg(water: Water, room: &MoistAir) -> f64 {
    let w = room.humidity_ratio();
    let at_water = Saturation::shared().humidity_ratio(water.t_c, room.pressure().pa());
    let driving = at_water - w;
    if driving < LEAST_DRIVING {
        return 0.0;
    }
    let t = room.temperature().c();
    heat_capacity_j_kg_k(w) * LEWIS_FACTOR * (water.t_c - t) / driving
}

/// Difference of humidity ratio below which the ratio of heat to vapour has no meaning.
const LEAST_DRIVING: f64 = 1e-4;

/// Place in a published band.
pub(crate) const PLACE: Domain = Domain {
    quantity: "place in a band",
    unit: "(of 1)",
    low: 0.0,
    high: 1.0,
    reason: "0 is low, 0.5 likely, 1 high",
};

fn checked_water(flow: WaterFlow, water: Temperature) -> Result<Water, OutOfDomain> {
    SHOWER_FLOW.check(flow.l_min())?;
    let t_c = WATER_TEMPERATURE.check(water.c())?;
    Ok(Water { kg_s: WATER_KG_M3 * flow.m3_s(), t_c })
}

/// How hard a person works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// Sitting, sleeping.
    Rest,
    /// Washing, dressing, light housework.
    Light,
    /// Hard physical work.
    Heavy,
}

impl Effort {
    /// Vapour of one person, kg/h.
    ///
    /// Source: IEA solar housing handbook, table 10.1.1: 40–60, 60–120 and 120–200 g/h, likely the middle.
    pub const fn vapour_kg_h(self) -> Band {
        match self {
            Self::Rest => band(0.04, 0.05, 0.06),
            Self::Light => band(0.06, 0.09, 0.12),
            Self::Heavy => band(0.12, 0.16, 0.20),
        }
    }
}

/// How wet laundry is hung up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Laundry {
    /// From the spin cycle.
    Spun,
    /// Dripping.
    Dripping,
}

impl Laundry {
    /// Vapour of 4.5 kg (dry) of laundry while it dries indoors, kg/h: 50–200 g/h spun, 100–500 g/h dripping.
    ///
    /// Source: IEA solar housing handbook, table 10.1.1; likely the middle.
    pub const fn vapour_kg_h(self) -> Band {
        match self {
            Self::Spun => band(0.05, 0.125, 0.2),
            Self::Dripping => band(0.1, 0.3, 0.5),
        }
    }
}

/// Vapour of a family of four by breathing and through the skin, at home: 0.44 US pint an hour.
///
/// Source: table of 1988, ±30 %.
pub const FAMILY_OF_FOUR: MassFlow = MassFlow::from_kg_h(0.20819744);

/// A meal that is cooked for four.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meal {
    /// Breakfast.
    Breakfast,
    /// Lunch.
    Lunch,
    /// Dinner.
    Dinner,
}

impl Meal {
    /// Vapour of the food alone: 0.35, 0.53 and 1.22 US pints.
    ///
    /// Source: table of 1988 (from memory), ±50 %.
    pub const fn vapour(self) -> Mass {
        let pints = match self {
            Self::Breakfast => 0.35,
            Self::Lunch => 0.53,
            Self::Dinner => 1.22,
        };
        Mass::from_kg(pints * PINT_KG)
    }

    /// Vapour of the flame on top, when the stove burns gas without a hood in use: 0.56, 0.68 and 1.58 US
    /// pints.
    ///
    /// Source: as [`Self::vapour`].
    pub const fn vapour_of_gas(self) -> Mass {
        let pints = match self {
            Self::Breakfast => 0.56,
            Self::Lunch => 0.68,
            Self::Dinner => 1.58,
        };
        Mass::from_kg(pints * PINT_KG)
    }
}

/// Water in a US pint, kg.
const PINT_KG: f64 = 0.473176;

/// Vapour that all of a dwelling gives off in a day, for design: 8, 12, 14 and 15 kg with one to four bedrooms,
/// 1 kg more for each further one. A dwelling without a separate bedroom counts as one.
///
/// Source: ASHRAE 160, residential design moisture generation (from memory).
pub fn dwelling_per_day(bedrooms: u32) -> Mass {
    let kg = match bedrooms {
        0 | 1 => 8.0,
        2 => 12.0,
        3 => 14.0,
        more => 15.0 + f64::from(more - 4),
    };
    Mass::from_kg(kg)
}

const WATER_AREA: Domain = not_negative("water surface", "m²", "it is an area");

const AIR_SPEED: Domain = Domain {
    quantity: "air speed over water",
    unit: "m/s",
    low: 0.0,
    high: 3.0,
    reason: "room air moves at up to 3 m/s",
};

const ACTIVITY: Domain = Domain {
    quantity: "activity factor",
    unit: "(of 1)",
    low: 0.0,
    high: 2.0,
    reason: "0.5 for still water in a dwelling, 1 for water that is used",
};

/// Activity factor of still water in a dwelling (ASHRAE Applications, natatoriums, from memory).
pub const STILL_WATER: Ratio = Ratio::from_ratio(0.5);

/// Vapour from open water such as a full tub: A·(0.089 + 0.0782·V)·(p_ws(T) − p_w)/h_fg with p in Pa and h_fg
/// in J/kg, times the activity; below zero where vapour condenses on cold water.
///
/// Source: ASHRAE Applications, natatoriums (Carrier's equation, from memory). Valid: indoor pools; a tub is a
/// small one.
///
/// # Errors
/// [`OutOfDomain`] for a negative area, water outside 1 to 65 °C, air faster than 3 m/s, or an activity outside
/// 0 to 2.
pub fn open_water(
    area: Area,
    water: Temperature,
    room: &MoistAir,
    air_speed: Velocity,
    activity: Ratio,
) -> Result<MassFlow, OutOfDomain> {
    let a = WATER_AREA.check(area.m2())?;
    let t_c = WATER_TEMPERATURE.check(water.c())?;
    let v = AIR_SPEED.check(air_speed.m_s())?;
    let factor = ACTIVITY.check(activity.ratio())?;
    let driving = Saturation::shared().pressure_pa(t_c) - room.vapour_pressure().pa();
    let rate = a * (0.089 + 0.0782 * v) * driving / evaporation_heat_at_c(t_c) * factor;
    Ok(MassFlow::from_kg_s(rate))
}
