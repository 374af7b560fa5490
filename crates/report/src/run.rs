//! What a run loses, and the water in it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use dewpath_message::{Message, Triple};

/// What a run does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunResult {
    /// Run id.
    pub id: String,
    /// Flow in the run.
    pub airflow_l_s: Option<Triple>,
    /// Losses, part by part in the direction of flow.
    pub losses: Vec<Loss>,
    /// Sum of the losses.
    pub total_pa: Option<Triple>,
    /// Straight length.
    pub straight_m: Option<Triple>,
    /// Water in the run; none when the air, the duct or its surroundings are not known.
    pub condensate: Option<Condensate>,
    /// Insulation the run would need; none when the water in it is not known.
    pub insulation: Option<InsulationNeed>,
}

/// Loss of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Loss {
    /// Part id; `terminal`, `outlet` and the like for what is not a part.
    pub part: String,
    /// What it is, by key.
    pub what: String,
    /// Pressure lost.
    pub pressure_pa: Triple,
    /// Mean velocity in it.
    pub velocity_m_s: Option<Triple>,
}

/// Water in a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Condensate {
    /// Condensed inside in one design shower on a winter day, run-on included.
    pub per_shower_g: Triple,
    /// Left in the duct or run out of it over a winter day, after re-evaporation, once such days are alike; with what
    /// rises into the duct while the fan rests.
    pub net_winter_g: Triple,
    /// Frost at the end of the first such day.
    pub frost_g: Triple,
    /// Of the net water what does not get out: it stands in the duct or runs back to the fan.
    pub stays_g: Triple,
    /// Of the net water what runs back to the fan, once the walls carry what they can.
    pub back_to_fan_g: Triple,
    /// Of the net water what runs out at the terminal, once the walls carry what they can.
    pub out_at_terminal_g: Triple,
    /// Coldest inner surface while air of the shower passes, the cold start included; of the day where none does.
    pub coldest_inside_c: Triple,
    /// Residual of the balances of water, vapour and heat over what was put through; the worst of all draws.
    pub water_residual_ratio: f64,
    /// The winter day it was worked out for.
    pub outdoor_c: f64,
    /// Piece by piece, in the direction of flow.
    pub pieces: Vec<PieceWater>,
    /// Month by month over the year, where it was asked for: net grams, January first.
    pub months_g: Vec<f64>,
}

/// Water in one piece of a run, at the likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PieceWater {
    /// Part id.
    pub part: String,
    /// What surrounds it, by key.
    pub surroundings: String,
    /// Temperature of the surroundings on that day.
    pub surroundings_c: f64,
    /// Resistance from its inner wall to the surroundings, referred to the inner area.
    pub resistance_rsi: f64,
    /// Coldest inner surface.
    pub coldest_inside_c: f64,
    /// Condensed in one shower.
    pub condensed_g: f64,
    /// Coldest outer surface in summer and the dew point of the surroundings, where the duct can be cold.
    pub outside_summer_c: Option<f64>,
    /// Dew point of the surroundings in summer.
    pub dew_point_summer_c: Option<f64>,
}

/// Insulation that a run would need.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InsulationNeed {
    /// Least insulation that keeps the net daily water of the fan's use under the limit, 0 where the duct may be bare; none
    /// when none suffices. What rises into the duct at rest is not counted: no insulation helps against it.
    pub needed_rsi: Option<f64>,
    /// Product of the library with at least that, by its id.
    pub product: Option<String>,
    /// Limit of net daily water.
    pub limit_g: f64,
    /// What helps where no insulation suffices: run-on, slope or trap.
    pub instead: Vec<Message>,
}
