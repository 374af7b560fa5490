//! From the plan of a room to one draw of it: masses, surfaces, flows, the shower, the control.

use dewpath_air::atmosphere;
use dewpath_air::leakage::Envelope;
use dewpath_air::moist_air::{DRY_AIR_GAS_CONSTANT, FREEZING_K, heat_capacity_j_kg_k};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::{Draw, Inputs};
use dewpath_case::system::instance::leak_flow_50;
use dewpath_job::model::{
    Control as Kind, DoorHabit, FanHabit, Finish, Room, SensorPlace, SurfaceKind,
};
use dewpath_moisture::buffer::{BufferChain, Coating, Material};
use dewpath_moisture::film;
use dewpath_moisture::room::{
    Back, Boundary, Control, Event, FlowTable, Flows, Happening, House, HumidityControl, Judge,
    Level, Model, ShowerSource, Sorption, Surface, Thermal,
};
use dewpath_moisture::saturation::{MASS_RATIO, Saturation};
use dewpath_moisture::source::{self, Shower};
use dewpath_units::{Leakage50, Length, MassFlow, Temperature, WaterFlow, sort};

use super::fresh_air::{DESIGN_WIND_M_S, WholeHouse, infiltration_m3_s, storeys, ventilation};
use super::plan::{Plan, RoomPlan, SurfacePlan};

/// Heat transfer between a surface and the room by convection and radiation, W/(m² K): 1/0.13, ISO 6946
/// (from memory).
const TO_ROOM_W_M2K: f64 = 7.7;
/// Convection alone on walls and glass, W/(m² K). Judgement within 1.5 to 4 for still air; the plume of a shower stirs.
const CONVECTION_W_M2K: f64 = 4.0;
/// Resistance from a surface's outer face to outdoors and to an inner space, m²K/W (ISO 6946, from memory).
const OUTDOOR_FILM_RSI: f64 = 0.04;
const INDOOR_FILM_RSI: f64 = 0.13;
/// Exponent of leaks of a dwelling. Source: 0.65, the usual exponent where it is not measured (from memory).
const LEAK_EXPONENT: f64 = 0.65;
/// Water that the rest of a dwelling takes up, over what its air holds, and how fast. Judgement: published
/// "effective moisture capacitance" multipliers lie between 5 and 25.
const HOUSE_SORPTION: f64 = 12.0;
const HOUSE_SORPTION_PER_H: f64 = 1.0;
/// Vapour and heat of one person washing, kg/s and W. Source: IEA SHC solar housing handbook, 60 to 120 g/h for light
/// work; 70 W (common practice, no source).
pub(crate) const PERSON_KG_S: f64 = 0.09 / 3600.0;
pub(crate) const PERSON_W: f64 = 70.0;
/// Air at the coil of an air conditioner leaves at about 12 °C, saturated. Common practice, no source.
const COIL_W: f64 = 0.0088;
/// Water a household dehumidifier takes out, kg/s: 10 kg a day at room conditions. Judgement.
const DEHUMIDIFIER_KG_S: f64 = 10.0 / 86_400.0;

/// One draw of a room.
pub(crate) struct Built {
    /// What is followed.
    pub model: Model,
    /// What switches the fan.
    pub control: Control,
    /// Happenings of the design day; the first shower begins at [`FIRST_SHOWER_S`].
    pub events: Vec<Event>,
    /// When the first shower begins and the last ends, s.
    pub first_on_s: u32,
    /// End of the last shower, s.
    pub last_off_s: u32,
    /// The design day.
    pub boundary: Boundary,
    /// Humidity ratio the room starts from, kg/kg.
    pub start_w: f64,
    /// What counts as clear.
    pub judge: Judge,
    /// Dry air in a cubic metre, kg.
    pub dry_density: f64,
    /// Leakage of the dwelling.
    pub envelope: Option<Envelope>,
    /// Volume of the dwelling, m³.
    pub house_m3: f64,
    /// Exhaust at full flow, kg/s of dry air.
    pub full_kg_s: f64,
    /// What moves between the zones.
    pub air: Air,
}

/// When the first shower of the design day begins, s after midnight.
pub(crate) const FIRST_SHOWER_S: u32 = 7 * 3600;

/// Builds one draw of a room; none where its size or its air is not known.
pub(crate) fn build(plan: &Plan, room: &RoomPlan, case: &Case<'_>, draw: Draw) -> Option<Built> {
    let inputs = &plan.inputs;
    let value = |id| inputs.value(id, draw);
    let of_air = |id| case.inputs.value(id, draw);
    let dwelling = &plan.dwelling;
    let room_m3 = volume_m3(room, case, inputs, draw)?;
    let exhaust_m3_s = exhaust(room, case, draw)?;
    if !(room_m3 > 0.5 && exhaust_m3_s.is_finite()) {
        return None;
    }
    let pressure_pa =
        atmosphere::standard_pressure(Length::from_m(of_air(case.system.air.altitude))).ok()?.pa();
    let house_c = of_air(case.system.air.indoor) - 273.15;
    let room_c = room.room_k.map_or(house_c, |id| value(id) - 273.15);
    let outdoor_c = value(dwelling.outdoor) - 273.15;
    let table = Saturation::shared();
    let at = |t_c: f64, rh: f64| humidity_ratio(table, t_c, rh, pressure_pa);
    let outdoor_w = at(outdoor_c, value(dwelling.outdoor_rh));
    let house_w = at(house_c, value(dwelling.humidity)).max(0.2 * outdoor_w);
    let dry_density = pressure_pa
        / (DRY_AIR_GAS_CONSTANT * (house_c + FREEZING_K) * (1.0 + house_w / MASS_RATIO));
    let house_m3 = value(dwelling.volume).max(2.0 * room_m3);
    let envelope = leak_flow_50(&dwelling.leak, inputs, draw)
        .and_then(|q50| Envelope::from_leakage50(Leakage50::from_m3_s(q50), LEAK_EXPONENT).ok());
    let storeys = storeys(case.job);
    let infiltration =
        infiltration_m3_s(envelope.as_ref(), storeys, (house_c - outdoor_c).abs(), DESIGN_WIND_M_S);
    let shell_share =
        shell_share(case, room.room, draw, envelope.as_ref(), room_m3 / house_m3, exhaust_m3_s);
    let air = Air {
        dry_density,
        exhaust_m3_s,
        low_share: room.control.low_flow.map_or(0.0, |id| value(id).clamp(0.0, 1.0)),
        shell_share,
        idle_door_m3_s: value(dwelling.idle_door),
        open_door_m3_s: value(dwelling.open_door),
        idle_duct_m3_s: if room.fans.is_empty() { 0.0 } else { value(dwelling.idle_duct) },
        infiltration_m3_s: infiltration,
        ventilation: ventilation(case.job),
    };
    let flows = air.table();
    let surfaces: Vec<Surface> =
        room.surfaces.iter().map(|s| surface(s, room, room_m3, inputs, draw)).collect();
    let lining_m2 = surfaces.first().map_or(0.0, |s| s.area_m2);
    let sorption = room_sorption(room, lining_m2, room_c, pressure_pa, inputs, draw);
    let shower = shower_source(room, pressure_pa, room_c, inputs, draw);
    // The dwelling gives off what its air change carries away, so that it stands at its own humidity.
    let leaving = air.fresh_kg_s();
    let house_vapour = (leaving * (house_w - outdoor_w)).max(0.0);
    let house_kg = (house_m3 - room_m3) * dry_density;
    let house = House::Zone {
        dry_air_kg: house_kg,
        sorption: Sorption {
            holds_kg: [HOUSE_SORPTION * house_kg, 0.0, 0.0],
            exchange_kg_s: [house_kg * HOUSE_SORPTION_PER_H / 3600.0, 0.0, 0.0],
        },
        vapour_kg_s: house_vapour,
        coil_w: COIL_W,
        dried_to_w: given::likely(&case.job.dwelling.dehumidifier)
            .map_or(f64::INFINITY, |rh| at(house_c, rh.ratio())),
        dries_kg_s: DEHUMIDIFIER_KG_S,
    };
    // What holds the room at its own temperature against the air that comes in.
    let heat_w =
        standing_heat(&surfaces, room_c, house_c, outdoor_c, value(dwelling.cold_water) - 273.15);
    let low = air.low_share > 0.0;
    let (events, first_on_s, last_off_s) = design_day(room, inputs, draw);
    let power_w = room.control.power_w.unwrap_or(0.0);
    Some(Built {
        model: Model {
            pressure_pa,
            dry_air_kg: room_m3 * dry_density,
            thermal: Thermal::Balance,
            surfaces,
            sorption,
            mixing: value(room.mixing),
            vapour_kg_s: 0.0,
            heat_w,
            tempered: tempered(room_c, house_c),
            shower,
            house,
            flows: vec![flows],
            fan_w: [0.0, power_w * air.low_share * air.low_share, power_w],
            between_uses: if low { Level::Low } else { Level::Off },
        },
        control: control(room, inputs, draw),
        events,
        first_on_s,
        last_off_s,
        boundary: Boundary {
            outdoor_c,
            outdoor_w,
            house_c,
            house_w,
            water_c: value(dwelling.cold_water) - 273.15,
            class: 0,
            cooled_kg_s: 0.0,
        },
        start_w: house_w,
        judge: Judge {
            mirror: room.surfaces.iter().position(|s| s.kind == Some(SurfaceKind::Mirror)),
            clear_kg_m2: film::CLEAR_FILM_KG_M2.at(value(room.clear_band)),
            ..Judge::default()
        },
        dry_density,
        envelope,
        house_m3,
        full_kg_s: exhaust_m3_s * dry_density,
        air,
    })
}

/// Volume of a room; where only its floor is known, with a height as rooms have it, which stands among the assumptions.
fn volume_m3(room: &RoomPlan, case: &Case<'_>, inputs: &Inputs, draw: Draw) -> Option<f64> {
    if let Some(volume) = &case.required.rooms[room.room].volume {
        return Some(volume.at(draw));
    }
    let of_job = &case.job.rooms[room.room];
    let sides = || Some(given::likely(&of_job.length)?.m() * given::likely(&of_job.width)?.m());
    let floor_m2 = given::likely(&of_job.floor_area).map(dewpath_units::Area::m2).or_else(sides)?;
    Some(floor_m2 * inputs.value(room.height, draw))
}

/// Air that leaves through the fans of a room at full flow, m³/s; none where a fan hangs there and its flow is not known.
fn exhaust(room: &RoomPlan, case: &Case<'_>, draw: Draw) -> Option<f64> {
    if room.fans.is_empty() {
        return Some(0.0);
    }
    let sample = case.flows?.rooms[room.room].as_ref()?;
    Some(sample.at(draw).max(0.0))
}

pub(crate) fn humidity_ratio(table: &Saturation, t_c: f64, rh: f64, pressure_pa: f64) -> f64 {
    let p = (rh.clamp(0.0, 1.0) * table.pressure_pa(t_c)).min(0.9 * pressure_pa);
    MASS_RATIO * p / (pressure_pa - p)
}

/// Share of the room's make-up air that leaks in through its own part of the shell, at the pressure that the
/// network of the fans finds in the room; none in a room without an outside wall.
fn shell_share(
    case: &Case<'_>,
    room: usize,
    draw: Draw,
    envelope: Option<&Envelope>,
    volume_share: f64,
    exhaust_m3_s: f64,
) -> f64 {
    if has_outside_wall(&case.job.rooms[room]) == Some(false) {
        return 0.0;
    }
    let drop = case
        .flows
        .and_then(|flows| flows.room_pressure[room].as_ref())
        .map_or(0.0, |p| (-p.at(draw)).max(0.0));
    let Some(envelope) = envelope.filter(|_| exhaust_m3_s > 1e-6 && drop.is_finite()) else {
        return 0.0;
    };
    let through_all = envelope.flow(dewpath_units::Pressure::from_pa(drop)).m3_s();
    (through_all * volume_share / exhaust_m3_s).clamp(0.0, 0.5)
}

/// Whether a wall of a room is outside; none where nobody drew its walls or said what is in them.
fn has_outside_wall(room: &Room) -> Option<bool> {
    let outside = |kind| matches!(kind, SurfaceKind::OutsideWall | SurfaceKind::Window);
    if given::yes(&room.window.present) == Some(true)
        || room.surfaces.iter().any(|s| outside(s.kind))
    {
        return Some(true);
    }
    let walls: Vec<Option<bool>> =
        room.plan.walls.iter().map(|wall| given::yes(&wall.outside)).collect();
    if walls.contains(&Some(true)) {
        return Some(true);
    }
    let all_inside = walls.len() >= 3 && walls.iter().all(|wall| *wall == Some(false));
    all_inside.then_some(false)
}

/// Everything that moves between the zones in one draw.
#[derive(Clone, Copy)]
pub(crate) struct Air {
    pub dry_density: f64,
    pub exhaust_m3_s: f64,
    pub low_share: f64,
    pub shell_share: f64,
    pub idle_door_m3_s: f64,
    pub open_door_m3_s: f64,
    pub idle_duct_m3_s: f64,
    pub infiltration_m3_s: f64,
    pub ventilation: WholeHouse,
}

impl Air {
    /// Flows by level of the fan and door.
    pub(crate) fn table(&self) -> FlowTable {
        let of = |exhaust: f64| {
            [self.flows(exhaust, self.idle_door_m3_s), self.flows(exhaust, self.open_door_m3_s)]
        };
        [
            of(self.idle_duct_m3_s),
            of((self.low_share * self.exhaust_m3_s).max(self.idle_duct_m3_s)),
            of(self.exhaust_m3_s.max(self.idle_duct_m3_s)),
        ]
    }

    fn flows(&self, exhaust: f64, swap: f64) -> Flows {
        let kg = |q: f64| q * self.dry_density;
        let shell = self.shell_share * exhaust;
        // A fan that draws hard through a shut door lets nothing back; a wide door always lets both ways.
        let back = if swap < 0.02 { (swap - 0.5 * exhaust).max(0.0) } else { swap };
        // The exhaust of fans adds to infiltration in quadrature (ASHRAE Fundamentals, from memory).
        let drawn = exhaust - shell + self.ventilation.exhaust_only_m3_s;
        let natural = self.infiltration_m3_s;
        let together = libm::sqrt(natural * natural + drawn * drawn);
        let fresh = together.max(drawn) + self.ventilation.fresh_m3_s;
        Flows {
            house_to_room: kg(exhaust - shell + back),
            outdoors_to_room: kg(shell),
            room_to_house: kg(back),
            room_to_outdoors: 0.0,
            exhaust: kg(exhaust),
            outdoors_to_house: kg(fresh),
            house_to_outdoors: kg(fresh - (exhaust - shell)),
        }
        .balanced()
    }

    /// Fresh dry air of the dwelling with the fan at rest, kg/s.
    fn fresh_kg_s(&self) -> f64 {
        self.flows(self.idle_duct_m3_s, self.idle_door_m3_s).outdoors_to_house
    }
}

fn surface(
    plan: &SurfacePlan,
    room: &RoomPlan,
    room_m3: f64,
    inputs: &Inputs,
    draw: Draw,
) -> Surface {
    let value = |id| inputs.value(id, draw);
    let area = plan.area.map_or_else(
        || room.lining.map_or_else(|| lining_m2(room, room_m3, inputs, draw), &value),
        &value,
    );
    let area = area.max(0.01);
    let outdoors = plan.outdoors.value(inputs, draw);
    let behind =
        value(plan.resistance).max(0.0) + if outdoors { OUTDOOR_FILM_RSI } else { INDOOR_FILM_RSI };
    let cistern = plan.kind == Some(SurfaceKind::Cistern);
    let (stores_j_m2k, holds, wetted) = of_kind(plan.kind, area, inputs, room, draw);
    let back = if cistern {
        Back::Water
    } else if outdoors {
        Back::Outdoors
    } else {
        Back::House
    };
    let capacity = heat_capacity_j_kg_k(0.008);
    Surface {
        area_m2: area,
        heat_j_k: area * stores_j_m2k,
        air_w_k: area * TO_ROOM_W_M2K,
        vapour_kg_s: area * film::mass_coefficient_kg_m2_s(CONVECTION_W_M2K, capacity),
        back_w_k: area / behind,
        back,
        heated_w: plan.heated.map_or(0.0, value),
        holds_kg_m2: holds,
        wetted_kg: wetted,
        factor: 0.0,
    }
}

/// Heat that a surface stores next to the room, J/(m² K), water it holds, kg/m², and water after a shower, kg.
fn of_kind(
    kind: Option<SurfaceKind>,
    area: f64,
    inputs: &Inputs,
    room: &RoomPlan,
    draw: Draw,
) -> (f64, f64, f64) {
    let running = film::RUNNING_FILM_KG_M2.likely;
    match kind {
        // 12.7 mm of board, 640 kg/m³, 1090 J/(kg K).
        None | Some(SurfaceKind::Ceiling | SurfaceKind::OutsideWall) => (8.9e3, running, 0.0),
        // 5 mm of glass, 2500 kg/m³, 840 J/(kg K).
        Some(SurfaceKind::Mirror) => (1.05e4, running, 0.0),
        Some(SurfaceKind::Window) => (1.0e4, running, 0.0),
        // 8 mm of tile on board: 2300 kg/m³, 840 J/(kg K).
        Some(SurfaceKind::Tile) => {
            let wet = source::WET_AREA_M2.likely.min(area);
            let textiles = inputs.value(room.textiles, draw);
            // A towel takes up about a third of its dry mass; what is on the tiles beside it.
            let towels = source::TOWEL_WATER_KG.likely.min(0.33 * textiles);
            let wetted = source::WET_FILM_KG_M2.likely * wet + towels;
            (2.4e4, running.max(wetted / area), wetted)
        }
        Some(SurfaceKind::Cistern) => (1.5e4, running, 0.0),
        Some(SurfaceKind::Floor) => (2.4e4, running, 0.0),
    }
}

/// Walls and ceiling of a room that is about half as long again as wide, less what is tiled.
fn lining_m2(room: &RoomPlan, room_m3: f64, inputs: &Inputs, draw: Draw) -> f64 {
    let height = inputs.value(room.height, draw).max(1.5);
    let floor = room_m3 / height;
    let width = libm::sqrt(floor / 1.5);
    let walls = 5.0 * width * height;
    let others: f64 =
        room.surfaces.iter().filter_map(|s| s.area).map(|id| inputs.value(id, draw)).sum();
    (walls + floor - others).max(0.3 * (walls + floor))
}

fn room_sorption(
    room: &RoomPlan,
    lining_m2: f64,
    room_c: f64,
    pressure_pa: f64,
    inputs: &Inputs,
    draw: Draw,
) -> Sorption {
    let coating = match room.finish.value(inputs, draw) {
        Finish::BareGypsum => Coating::Bare,
        Finish::Latex | Finish::Plaster | Finish::Wood => Coating::Latex,
        Finish::Gloss => Coating::Gloss,
        Finish::Tile => Coating::Tile,
    };
    let t = Temperature::from_c(room_c.clamp(1.0, 40.0));
    let Ok(chain) = BufferChain::new(&Material::gypsum_board(), coating, t) else {
        return Sorption::default();
    };
    if chain.conductance[0] <= 0.0 {
        return Sorption::default();
    }
    let saturated_pa = Saturation::shared().pressure_pa(t.c());
    let saturated_w = Saturation::shared().humidity_ratio(t.c(), pressure_pa);
    // From relative humidity and vapour pressure to humidity ratio, near the middle of the range.
    let pa_per_w = saturated_pa / saturated_w;
    let capacity = heat_capacity_j_kg_k(0.008);
    let beta_p = film::mass_coefficient_kg_m2_s(CONVECTION_W_M2K, capacity) / pa_per_w;
    let mut exchange = chain.conductance;
    exchange[0] = chain.from_air_kg_m2_s_pa(beta_p);
    Sorption {
        holds_kg: chain.capacity_kg_rh.map(|k| k * lining_m2 / saturated_w),
        exchange_kg_s: exchange.map(|g| g * lining_m2 * pa_per_w),
    }
}

fn shower_source(
    room: &RoomPlan,
    pressure_pa: f64,
    room_c: f64,
    inputs: &Inputs,
    draw: Draw,
) -> ShowerSource {
    let value = |id| inputs.value(id, draw);
    let water = WaterFlow::from_m3_s(value(room.water).max(0.0));
    let water_k = Temperature::from_k(value(room.water_k));
    let shower = match room.vapour {
        Some(id) => Shower::stated(MassFlow::from_kg_s(value(id).max(0.0)), Some((water, water_k))),
        None => Shower::at_place_in_band(water, water_k, value(room.source_band)),
    };
    let Ok(shower) = shower else { return ShowerSource::default() };
    // The source falls with the vapour pressure of the room; over the range of a room that is a line in humidity ratio.
    let (most, per_pa) = shower.line();
    let pa_per_w = pressure_pa / MASS_RATIO;
    let air = dewpath_air::moist_air::MoistAir::from_relative_humidity(
        Temperature::from_c(room_c.clamp(0.0, 40.0)),
        dewpath_units::Humidity::from_ratio(0.6),
        dewpath_units::Pressure::from_pa(pressure_pa),
    );
    let warmth = air.ok().and_then(|air| shower.heat(&air)).map_or(0.0, |heat| heat.sensible.w());
    ShowerSource {
        vapour_kg_s: most + PERSON_KG_S,
        less_kg_s: -per_pa * pa_per_w,
        heat_w: warmth.max(0.0) + PERSON_W + room.heater.map_or(0.0, value),
    }
}

/// Heat that keeps the room at its own temperature when nothing happens, W.
pub(crate) fn standing_heat(
    surfaces: &[Surface],
    room_c: f64,
    house_c: f64,
    outdoor_c: f64,
    water_c: f64,
) -> f64 {
    let through: f64 = surfaces
        .iter()
        .map(|s| {
            let far = match s.back {
                Back::House => house_c,
                Back::Outdoors => outdoor_c,
                Back::Water => water_c,
            };
            let u = s.air_w_k * s.back_w_k / (s.air_w_k + s.back_w_k);
            u * (room_c - far)
        })
        .sum();
    // Nothing cools a room that stands at the temperature of its dwelling. One that is said to be cooler loses heat by what
    // nobody wrote, and goes on losing it while air of the dwelling comes in.
    if (room_c - house_c).abs() < 0.01 { through.max(0.0) } else { through }
}

/// Share of what outdoor air lacks in warmth that the heating makes up: a room that stands at the temperature of its dwelling is
/// heated, one that is said to be cooler is not.
fn tempered(room_c: f64, house_c: f64) -> f64 {
    if room_c < house_c - 1.0 { 0.0 } else { 1.0 }
}

/// Happenings of the design day: showers one after the other, the door, the switch.
fn design_day(room: &RoomPlan, inputs: &Inputs, draw: Draw) -> (Vec<Event>, u32, u32) {
    let value = |id| inputs.value(id, draw);
    let count = (value(room.showers).round() as u32).clamp(1, 8);
    let length = (value(room.length).round() as u32).clamp(1, 7200);
    let gap = (value(room.gap).round() as u32).clamp(10, 7200);
    let showers: Vec<(u32, u32)> =
        (0..count).map(|i| (FIRST_SHOWER_S + i * (length + gap), length)).collect();
    let last_off_s = FIRST_SHOWER_S + count * length + (count - 1) * gap;
    let events = events(room, inputs, draw, &showers);
    (events, FIRST_SHOWER_S, last_off_s)
}

/// Happenings for showers in order, each with its beginning, s after midnight, and its length, s.
pub(crate) fn events(
    room: &RoomPlan,
    inputs: &Inputs,
    draw: Draw,
    showers: &[(u32, u32)],
) -> Vec<Event> {
    let mut list = Vec::new();
    let door = room.door.value(inputs, draw);
    let opens = inputs.value(room.door_after, draw).round().clamp(10.0, 7200.0) as u32;
    let after = leaves_on_s(room, inputs, draw);
    let mut put = |at_s: u32, what| list.push(Event { at_s: at_s.min(86_399), what });
    for (index, &(start, length_s)) in showers.iter().enumerate() {
        let end = start + length_s;
        let next = showers.get(index + 1).map_or(u32::MAX, |next| next.0);
        put(start, Happening::ShowerOn);
        put(end, Happening::ShowerOff);
        if door != DoorHabit::Open {
            put(start.saturating_sub(60), Happening::DoorShut);
        }
        match door {
            DoorHabit::OpenAfter if end + opens < next => put(end + opens, Happening::DoorOpen),
            DoorHabit::Shut if next == u32::MAX || next > end + 4 * 3600 => {
                put(end + 3 * 3600, Happening::DoorOpen);
            }
            DoorHabit::OpenAfter | DoorHabit::Shut | DoorHabit::Open => {}
        }
        if let Some(after) = after {
            put(start, Happening::SwitchOn);
            // Whoever comes next finds it on.
            if end + after < next {
                put(end + after, Happening::SwitchOff);
            }
        }
    }
    sort::by_key(&mut list, |event| event.at_s);
    list
}

/// How long the switch stays on after a shower, s; none when nobody touches it.
fn leaves_on_s(room: &RoomPlan, inputs: &Inputs, draw: Draw) -> Option<u32> {
    let c = &room.control;
    let leave_on = inputs.value(c.leave_on, draw).round().clamp(0.0, 36_000.0) as u32;
    match c.habit.value(inputs, draw) {
        FanHabit::Forgotten => None,
        FanHabit::WithShower => Some(0),
        // Light stays on while somebody dries off: five minutes. Judgement.
        FanHabit::WithLight => Some(300),
        FanHabit::After => Some(match c.kind.value(inputs, draw) {
            Kind::Timer | Kind::Occupancy => leave_on.min(300),
            _ => leave_on,
        }),
    }
}

/// Time constant of the slow mean that a rise is measured from, s. Judgement: about twenty minutes.
const BASELINE_S: f64 = 1200.0;

pub(crate) fn control(room: &RoomPlan, inputs: &Inputs, draw: Draw) -> Control {
    if room.fans.is_empty() {
        return Control::Never;
    }
    let c = &room.control;
    let value = |id| inputs.value(id, draw);
    let seconds = |id| value(id).round().clamp(0.0, 86_400.0) as u32;
    match c.kind.value(inputs, draw) {
        Kind::Switch | Kind::LightSwitch | Kind::Timer => {
            Control::Switch { run_on_s: seconds(c.run_on) }
        }
        Kind::Occupancy => Control::Switch { run_on_s: seconds(c.off_delay) },
        Kind::Continuous if c.low_flow.is_some() => {
            Control::Switch { run_on_s: seconds(c.run_on).max(600) }
        }
        Kind::Continuous => Control::Always,
        Kind::Humidity | Kind::Contaminant => {
            let lag = value(c.lag).clamp(0.0, 7200.0);
            let sensor = c.sensor.value(inputs, draw);
            let on_at = c.on_at.map_or(f64::INFINITY, value);
            let (lag_on, lag_off) = match sensor {
                // The stream of the fan brings air quickly; at rest the sensor sits in old air.
                SensorPlace::Fan | SensorPlace::Duct => (0.5 * lag, 2.0 * lag),
                _ => (lag, lag),
            };
            Control::Humidity(HumidityControl {
                on_at,
                off_at: on_at - value(c.band),
                rise: c.rise.map(value),
                baseline_s: BASELINE_S,
                sampling_s: seconds(c.sampling).max(1),
                lag_on_s: lag_on,
                lag_off_s: lag_off,
                warmer_k: 0.0,
                elsewhere: sensor == SensorPlace::OtherRoom,
                run_on_s: seconds(c.run_on),
                max_run_s: c.max_run.map(seconds),
                with_switch: false,
            })
        }
    }
}
