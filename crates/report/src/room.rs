//! What a room must get, what it gets, and how it fares through a shower and through a year.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::finding::{Source, Step};
use dewpath_message::{Message, Triple};

/// A rate of air a room must get, by one method of one book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Requirement {
    /// Room id; empty for the whole dwelling.
    pub room: String,
    /// The method, by key.
    pub method: String,
    /// Required flow; none when the book does not say or an input is missing.
    pub airflow_l_s: Option<Triple>,
    /// Whether this is the one that governs the room.
    pub governs: bool,
    /// Whether the book calls for it or only advises it.
    pub guidance: bool,
    /// Source.
    pub source: Source,
    /// How it was worked out.
    pub working: Vec<Step>,
    /// What is missing, when there is no figure.
    pub missing: Option<Message>,
}

/// What a room gets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomResult {
    /// Room id.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// Floor area.
    pub floor_m2: Option<Triple>,
    /// Volume.
    pub room_m3: Option<Triple>,
    /// Air that leaves the room for outdoors.
    pub delivered: Option<Delivered>,
    /// Pressure of the room against outdoors.
    pub pressure_pa: Option<Triple>,
    /// The room through a design shower; none when the air or the size of the room is not known.
    pub clearing: Option<Clearing>,
    /// The room through a year, where it was asked for and the weather is known.
    pub year: Option<RoomYear>,
    /// What its humidity control can do, where it has one.
    pub control: Option<ControlResult>,
}

/// A room through a design shower, and through showers back to back where the job has more than one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Clearing {
    /// Highest relative humidity.
    pub peak_humidity_ratio: Triple,
    /// From the end of the last shower until the mirror is clear; 0 when it never fogs.
    pub mirror_time_s: Triple,
    /// From the end of the last shower until the room is back within its band of the humidity before.
    pub back_to_normal_time_s: Triple,
    /// Longest time that was followed after the shower: a time as long as this means "not within it".
    pub followed_s: f64,
    /// Chance that the mirror clears within the time followed.
    pub mirror_clears_ratio: f64,
    /// Chance that the room is back within the time followed.
    pub back_to_normal_ratio: f64,
    /// Water still on mirror, window, walls and fixtures at the end of the time followed.
    pub left_on_surfaces_g: Triple,
    /// Vapour the fan carried off.
    pub carried_off_g: Triple,
    /// Time the fan ran.
    pub fan_h: Triple,
    /// Electricity of the fan and of a heated mirror.
    pub energy_kwh: Triple,
    /// Heat in the air that was drawn off and must be made up.
    pub air_heat_kwh: Triple,
    /// Minutes after the end of the last of several showers back to back; none for one shower.
    pub back_to_back_mirror_time_s: Option<Triple>,
    /// Residual of the water balance over what was put through; the worst of all draws.
    pub water_residual_ratio: f64,
    /// Residual of the energy balance over what was put through; the worst of all draws.
    pub energy_residual_ratio: f64,
}

/// An amount of money, in the currency the job names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Money {
    /// Amount.
    pub amount: f64,
    /// Currency as the job writes it; none where it names none.
    pub currency: Option<String>,
}

/// A room through a year at the likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomYear {
    /// Month by month, January first.
    pub months: Vec<RoomMonth>,
    /// Hours in which the room stood above 80 % relative humidity.
    pub hours_above_80_h: f64,
    /// Highest mould index of the year on the worst surface (0 to 6), with the sensitivity class one step
    /// more resistant and one step more sensitive as low and high.
    pub mould_peak_ratio: Triple,
    /// Surface on which it is highest.
    pub mould_surface: String,
    /// Highest 30-day running mean of surface humidity.
    pub running_humidity_ratio: f64,
    /// Time the fan ran.
    pub fan_h: f64,
    /// Electricity of fan and heated mirror; none where the power of a fan is not known.
    pub energy_kwh: Option<f64>,
    /// Heat (and cold) in the air that was drawn off and had to be made up.
    pub air_heat_kwh: f64,
    /// What both cost at the job's prices; none where a price of something that is used is not written.
    pub cost: Option<Money>,
    /// Showers after which the mirror was clear within half an hour, over all showers; none without a mirror.
    pub clear_in_half_an_hour_ratio: Option<f64>,
    /// Residual of the water balance over what was put through.
    pub water_residual_ratio: f64,
    /// Residual of the energy balance over what was put through.
    pub energy_residual_ratio: f64,
}

/// One month of a room's year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomMonth {
    /// 1 is January.
    pub month: u32,
    /// Mean outdoor temperature.
    pub outdoor_c: f64,
    /// Mean relative humidity of the room.
    pub humidity_ratio: f64,
    /// Mean relative humidity of the rest of the dwelling.
    pub dwelling_humidity_ratio: f64,
    /// Hours above 80 % in the room.
    pub hours_above_80_h: f64,
    /// Time the fan ran.
    pub fan_h: f64,
    /// Electricity of fan and heated mirror; none where the power of a fan is not known.
    pub energy_kwh: Option<f64>,
    /// Heat (and cold) in the air drawn off.
    pub air_heat_kwh: f64,
    /// Mould index of the worst surface at the end of the month.
    pub mould_ratio: f64,
    /// Mean time until the mirror is clear.
    pub mirror_time_s: Option<f64>,
    /// Vapour the fan carried off.
    pub carried_off_kg: f64,
}

/// What a humidity control can do in this dwelling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ControlResult {
    /// Set-point that was judged.
    pub set_point_ratio: Option<f64>,
    /// Whether the set-point can be reached between showers, month by month, January first; empty
    /// without weather.
    pub reachable: Vec<bool>,
    /// Lowest relative humidity that the room comes down to with the fan on, month by month.
    pub lowest_humidity_ratio: Vec<f64>,
    /// Set-point that would do all year, if any.
    pub would_do_ratio: Option<f64>,
    /// Time from the start of the shower until the control starts the fan; none if it never does.
    pub starts_after_s: Option<f64>,
    /// Time the fan goes on after the shower; none if it does not stop within the time followed.
    pub stops_after_s: Option<f64>,
}

/// Air that leaves a room.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Delivered {
    /// Actual flow at the grille.
    pub airflow_l_s: Triple,
    /// Mass flow of moist air.
    pub mass_kg_s: Triple,
    /// Chance that the flow is at least what governs; none when nothing is required.
    pub chance_enough: Option<f64>,
    /// Air changes of the room.
    pub changes_per_h: Option<Triple>,
    /// First-order time for three volumes of the room to pass, in hours.
    pub clearing_h: Option<Triple>,
}
