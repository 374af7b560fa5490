//! The dwelling around the rooms: pressures, ways in for the air, ventilation.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::finding::Source;
use dewpath_message::{Message, Triple};

/// The dwelling around the rooms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DwellingResult {
    /// Pressure at each appliance with every exhaust on, worst case.
    pub pressure: Vec<PressureResult>,
    /// Way in for the air of each room.
    pub transfer: Vec<TransferResult>,
    /// Ventilation of the whole dwelling; none when nothing is known of it.
    pub ventilation: Option<WholeVentilation>,
    /// The rest of the dwelling through a year, where it was asked for and the weather is known.
    pub year: Option<DwellingYear>,
}

/// The rest of the dwelling through a year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DwellingYear {
    /// Where the weather comes from.
    pub weather: Message,
    /// What was noticed and put right in the weather file.
    pub weather_notes: Vec<Message>,
    /// Mean relative humidity, January first.
    pub humidity_ratio: Vec<f64>,
    /// Hours above 60 %.
    pub hours_above_60_h: f64,
    /// Mean infiltration.
    pub infiltration_l_s: f64,
    /// Water taken out by the air conditioner and the dehumidifier.
    pub dried_kg: f64,
    /// Residual of its water balance over what was put through.
    pub water_residual_ratio: f64,
}

/// Pressure at an appliance with every exhaust on, in the worst case.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PressureResult {
    /// Appliance id; `dwelling` when the job has none.
    pub appliance: String,
    /// Indoors minus outdoors at the appliance; negative when the house is drawn down. Stack and wind of
    /// the worst case are in it.
    pub indoor_minus_outdoor_pa: Triple,
    /// What the exhausts change in that: with all of them on less with all of them off, in the same
    /// weather. This is what stands against the limit.
    pub by_exhausts_pa: Triple,
    /// The same with calm air.
    pub calm_pa: Triple,
    /// The same without any exhaust: stack alone.
    pub exhausts_off_pa: Triple,
    /// Limit, as a pressure below outdoors (negative); none when no book says.
    pub limit_pa: Option<f64>,
    /// Source of the limit.
    pub source: Option<Source>,
    /// Air that all exhausts take out.
    pub exhaust_l_s: Triple,
    /// Case that is worst, by key.
    pub worst: String,
}

/// Way in for the air of a room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TransferResult {
    /// Room id.
    pub room: String,
    /// Gap under the door that would do.
    pub gap_m: Triple,
    /// What to saw off the leaf; none when the present gap is not known.
    pub saw_cut_m: Option<Triple>,
    /// Free area of a transfer grille that would do in place of the gap.
    pub grille_m2: Triple,
    /// Pressure allowed between room and dwelling.
    pub allowed_pa: f64,
    /// Flow it is sized for.
    pub airflow_l_s: Triple,
}

/// Ventilation of the whole dwelling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WholeVentilation {
    /// Continuous rate asked for, the most where bedrooms or floor area are a range; none when the book does not say.
    pub required_l_s: Option<f64>,
    /// Credit for infiltration.
    pub infiltration_credit_l_s: Option<f64>,
    /// Continuous rate that what is written gives, intermittent running counted by its share of time.
    pub provided_l_s: Option<Triple>,
    /// Hours a day the job's fans would have to run at their delivered flow to give it.
    pub hours_a_day_h: Option<Triple>,
    /// Continuous flow that would give it.
    pub continuous_l_s: Option<f64>,
}
