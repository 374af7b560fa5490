//! What stays the same while a room is followed: air, surfaces, sorption, flows, sources.

use dewpath_air::domain::{Domain, OutOfDomain};
use dewpath_air::moist_air::heat_capacity_j_kg_k;

/// Surfaces of a room at most.
pub const SURFACES: usize = 7;
/// Layers of sorbing material at most, in the room and in the dwelling together.
pub const LAYERS: usize = 3;

/// Heat that water gives off where it condenses and takes up where it evaporates, J/kg: at 20 °C, and
/// kept constant so that the energy balance closes.
pub const LATENT_J_KG: f64 = 2.4536e6;
/// Heat capacity of moist air per kilogram of dry air, J/(kg K), at 8 g/kg.
pub const AIR_J_KG_K: f64 = heat_capacity_j_kg_k(0.008);

/// Where the far side of a surface is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// In the heated dwelling.
    House,
    /// Outdoors.
    Outdoors,
    /// Cold water (a cistern).
    Water,
}

/// A surface that can be colder than the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Area, m².
    pub area_m2: f64,
    /// Heat that the layer next to the room stores, J/K.
    pub heat_j_k: f64,
    /// Heat flow from the room by convection and radiation, W/K.
    pub air_w_k: f64,
    /// Vapour that flows to it for each kg/kg by which the air is above its saturation, kg/s: area times
    /// the transfer coefficient of [`crate::film`].
    pub vapour_kg_s: f64,
    /// Heat flow to the far side, W/K.
    pub back_w_k: f64,
    /// What is on the far side.
    pub back: Back,
    /// Electric heat in it while the shower or the fan runs, W.
    pub heated_w: f64,
    /// Water it can hold; more runs off, kg/m².
    pub holds_kg_m2: f64,
    /// Water it carries after a shower besides what condenses, kg: spray on tiles, a wet towel.
    pub wetted_kg: f64,
    /// Share of the way from outdoors to the room at which it stands, where temperatures are held.
    pub factor: f64,
}

/// A chain of sorbing layers behind the air of a zone, in potentials of humidity ratio.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sorption {
    /// Water each layer takes up, kg per kg/kg; 0 for a layer that is not there.
    pub holds_kg: [f64; LAYERS],
    /// Exchange of each layer with the one before it (the first with the air), kg/s per kg/kg.
    pub exchange_kg_s: [f64; LAYERS],
}

impl Sorption {
    /// Layers that are there.
    pub fn layers(&self) -> usize {
        self.holds_kg.iter().take_while(|k| **k > 0.0).count()
    }
}

/// Dry air that moves between the zones, kg/s. Each zone takes in what it gives out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Flows {
    /// From the dwelling into the room.
    pub house_to_room: f64,
    /// From outdoors into the room.
    pub outdoors_to_room: f64,
    /// From the room into the dwelling.
    pub room_to_house: f64,
    /// From the room outdoors through its shell.
    pub room_to_outdoors: f64,
    /// Through the fan or its idle duct.
    pub exhaust: f64,
    /// From outdoors into the dwelling.
    pub outdoors_to_house: f64,
    /// From the dwelling outdoors, past the room.
    pub house_to_outdoors: f64,
}

impl Flows {
    /// The same with the part between dwelling and outdoors that balances both zones.
    #[must_use]
    pub fn balanced(mut self) -> Self {
        let room = self.house_to_room + self.outdoors_to_room
            - self.room_to_house
            - self.exhaust
            - self.room_to_outdoors;
        if room >= 0.0 {
            self.room_to_house += room;
        } else {
            self.house_to_room -= room;
        }
        let house = self.outdoors_to_house + self.room_to_house
            - self.house_to_outdoors
            - self.house_to_room;
        if house >= 0.0 {
            self.house_to_outdoors += house;
        } else {
            self.outdoors_to_house -= house;
        }
        self
    }

    fn all(&self) -> [f64; 7] {
        [
            self.house_to_room,
            self.outdoors_to_room,
            self.room_to_house,
            self.room_to_outdoors,
            self.exhaust,
            self.outdoors_to_house,
            self.house_to_outdoors,
        ]
    }
}

/// How hard the fan runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// At rest.
    Off = 0,
    /// The trickle between uses of a fan that never stops.
    Low = 1,
    /// At its operating point.
    Full = 2,
}

/// Flows of one weather class: `[level][door]`, door 0 shut and 1 open.
pub type FlowTable = [[Flows; 2]; 3];

/// Vapour and heat that a shower gives off while it runs.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ShowerSource {
    /// Vapour into air without any, kg/s.
    pub vapour_kg_s: f64,
    /// Less of it for each kg/kg that the room's air already carries, kg/s.
    pub less_kg_s: f64,
    /// Warmth to the air, W. The latent heat comes with the water and is not drawn from the room.
    pub heat_w: f64,
}

/// The dwelling around the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum House {
    /// Its humidity is given from outside, hour by hour.
    Held,
    /// It is a zone of its own.
    Zone {
        /// Dry air in it, kg.
        dry_air_kg: f64,
        /// Its sorbing materials, as one layer or more.
        sorption: Sorption,
        /// Vapour given off in it (people, cooking, plants), kg/s.
        vapour_kg_s: f64,
        /// Humidity ratio at the coil of the air conditioner, kg/kg.
        coil_w: f64,
        /// Humidity ratio that a dehumidifier holds; infinite where there is none, kg/kg.
        dried_to_w: f64,
        /// Water the dehumidifier can take out, kg/s.
        dries_kg_s: f64,
    },
}

/// How temperatures are come by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Thermal {
    /// Air and surfaces follow their heat balance.
    Balance,
    /// The air stands at this temperature, °C, and each surface at its factor between outdoors and the room.
    Held(f64),
}

/// A room and the dwelling around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// Air pressure, Pa.
    pub pressure_pa: f64,
    /// Dry air in the room, kg.
    pub dry_air_kg: f64,
    /// Temperatures.
    pub thermal: Thermal,
    /// Surfaces, the lining of walls and ceiling first: fog settles on it.
    pub surfaces: Vec<Surface>,
    /// What sorbs in the room.
    pub sorption: Sorption,
    /// Humidity of the air that is drawn off over that of the room, against what comes in: 1 is well mixed.
    pub mixing: f64,
    /// Vapour given off in the room all the time, kg/s.
    pub vapour_kg_s: f64,
    /// Heat given off in the room all the time, W: what holds it warm when nobody showers; below zero what it loses that its
    /// surfaces do not show.
    pub heat_w: f64,
    /// Share of what outdoor air that leaks into the room lacks against the temperature of the dwelling that its heating
    /// makes up, 0 to 1.
    pub tempered: f64,
    /// The shower.
    pub shower: ShowerSource,
    /// The dwelling.
    pub house: House,
    /// Flows by weather class.
    pub flows: Vec<FlowTable>,
    /// Electric power of the fan at each level, W.
    pub fan_w: [f64; 3],
    /// What the fan does when nothing calls it: rest, or a trickle.
    pub between_uses: Level,
}

/// Why a room cannot be followed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ModelError {
    /// A value that no real room has.
    #[error("{what}: {error}")]
    Impossible {
        /// What the value belongs to.
        what: &'static str,
        /// What is wrong with it.
        error: OutOfDomain,
    },
    /// More of something than is provided for.
    #[error("{count} {what} were given; at most {most} can be followed")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many were given.
        count: usize,
        /// How many are possible.
        most: usize,
    },
    /// No flows at all.
    #[error("no air flows were given; give one table for each weather class")]
    NoFlows,
    /// A zone takes in more air than it gives out, or less.
    #[error(
        "the air flows of class {class} leave {over_kg_s} kg/s in the {zone}; balance them first"
    )]
    Unbalanced {
        /// Weather class.
        class: usize,
        /// Zone.
        zone: &'static str,
        /// What stays, kg/s.
        over_kg_s: f64,
    },
}

const MASS: Domain = Domain {
    quantity: "dry air",
    unit: "kg",
    low: 0.01,
    high: 1e6,
    reason: "a zone holds some air",
};
const HEAT: Domain = Domain {
    quantity: "stored heat",
    unit: "J/K",
    low: 1.0,
    high: 1e12,
    reason: "a surface stores some heat",
};
const PRESSURE: Domain = Domain {
    quantity: "air pressure",
    unit: "Pa",
    low: 3e4,
    high: 1.2e5,
    reason: "where people live",
};
const RATE: Domain = Domain {
    quantity: "rate",
    unit: "SI units",
    low: 0.0,
    high: 1e9,
    reason: "it cannot be negative or endless",
};
const STANDING: Domain = Domain {
    quantity: "standing heat",
    unit: "W",
    low: -1e5,
    high: 1e9,
    reason: "a room is heated, or loses what its surfaces do not show",
};
const MIXING: Domain = Domain {
    quantity: "mixing factor",
    unit: "",
    low: 0.05,
    high: 20.0,
    reason: "1 is well mixed",
};
const HELD: Domain = Domain {
    quantity: "room temperature",
    unit: "°C",
    low: -40.0,
    high: 60.0,
    reason: "where people bathe",
};
/// Flows may be out of balance by rounding alone.
const BALANCE_KG_S: f64 = 1e-9;

impl Model {
    /// Whether the model can be followed.
    ///
    /// # Errors
    /// When a value is impossible, there is too much of something, or flows do not balance.
    pub fn check(&self) -> Result<(), ModelError> {
        let value = |what, domain: &Domain, value: f64| {
            domain.check(value).map(|_| ()).map_err(|error| ModelError::Impossible { what, error })
        };
        if self.surfaces.len() > SURFACES {
            return Err(ModelError::TooMany {
                what: "surfaces",
                count: self.surfaces.len(),
                most: SURFACES,
            });
        }
        value("outdoors", &PRESSURE, self.pressure_pa)?;
        value("the room", &MASS, self.dry_air_kg)?;
        value("the exhaust", &MIXING, self.mixing)?;
        value("the room", &STANDING, self.heat_w)?;
        if let Thermal::Held(t) = self.thermal {
            value("the room", &HELD, t)?;
        }
        let mut rates = vec![
            ("the room", self.vapour_kg_s),
            ("the shower", self.shower.vapour_kg_s),
            ("the shower", self.shower.less_kg_s),
            ("the shower", self.shower.heat_w),
        ];
        rates.extend(self.fan_w.map(|w| ("the fan", w)));
        for s in &self.surfaces {
            value("a surface", &HEAT, s.heat_j_k)?;
            let of_it = [
                s.area_m2,
                s.air_w_k,
                s.vapour_kg_s,
                s.back_w_k,
                s.heated_w,
                s.holds_kg_m2,
                s.wetted_kg,
                s.factor,
            ];
            rates.extend(of_it.map(|rate| ("a surface", rate)));
        }
        let mut sorption = |s: &Sorption| {
            rates.extend(s.holds_kg.map(|rate| ("a sorbing layer", rate)));
            rates.extend(s.exchange_kg_s.map(|rate| ("a sorbing layer", rate)));
        };
        sorption(&self.sorption);
        if let House::Zone {
            dry_air_kg,
            sorption: chain,
            vapour_kg_s,
            coil_w,
            dried_to_w,
            dries_kg_s,
        } = self.house
        {
            value("the dwelling", &MASS, dry_air_kg)?;
            sorption(&chain);
            rates.extend(
                [vapour_kg_s, coil_w, dried_to_w.min(1.0), dries_kg_s].map(|r| ("the dwelling", r)),
            );
        }
        rates.extend(
            self.flows.iter().flatten().flatten().flat_map(|f| f.all().map(|q| ("an air flow", q))),
        );
        for (what, rate) in rates {
            value(what, &RATE, rate)?;
        }
        self.check_balance()
    }

    fn check_balance(&self) -> Result<(), ModelError> {
        if self.flows.is_empty() {
            return Err(ModelError::NoFlows);
        }
        for (class, flows) in self.flows.iter().enumerate() {
            for f in flows.iter().flatten() {
                let room = f.house_to_room + f.outdoors_to_room
                    - (f.room_to_house + f.room_to_outdoors + f.exhaust);
                let house =
                    f.room_to_house + f.outdoors_to_house - (f.house_to_room + f.house_to_outdoors);
                let house = if self.house == House::Held { 0.0 } else { house };
                for (zone, over_kg_s) in [("room", room), ("dwelling", house)] {
                    if over_kg_s.is_nan() || over_kg_s.abs() > BALANCE_KG_S {
                        return Err(ModelError::Unbalanced { class, zone, over_kg_s });
                    }
                }
            }
        }
        Ok(())
    }
}
