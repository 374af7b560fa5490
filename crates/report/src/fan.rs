//! What a fan does where it hangs, and what others would do in its place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::Check;
use crate::finding::{Source, Verdict};
use crate::patch::PatchText;
use dewpath_message::{Message, Triple};

/// What a fan does on its system.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FanResult {
    /// Fan id.
    pub id: String,
    /// Model, if from a library.
    pub model: Option<String>,
    /// Where curve and system meet.
    pub operating_point: Option<OperatingPoint>,
    /// Further crossings at the likely values, when the curve has a stall hump.
    pub other_crossings: Vec<Crossing>,
    /// Loudness at the operating point, with a one-sided band away from its rating.
    pub loudness_sone: Option<Triple>,
    /// Where the loudness comes from: the label, or a band without a source away from its rating.
    pub loudness_source: Option<Source>,
    /// Electric power.
    pub power_w: Option<Triple>,
    /// How the curve was come by.
    pub curve: CurveOrigin,
}

/// Flow and pressure of a fan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OperatingPoint {
    /// Flow through the fan.
    pub airflow_l_s: Triple,
    /// Static pressure the fan makes.
    pub pressure_pa: Triple,
}

/// A crossing of fan curve and system curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Crossing {
    /// Flow.
    pub airflow_l_s: f64,
    /// Pressure.
    pub pressure_pa: f64,
    /// Whether the fan stays there after a small push.
    pub stable: bool,
}

/// How a fan curve was come by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CurveOrigin {
    /// Points of a data sheet.
    Points,
    /// Two or more rated points, the rest a band.
    TwoRatings,
    /// One rated point with its pressure, the rest a band.
    OneRating,
    /// Only the number on the box.
    BoxNumber,
    /// Nothing is known.
    None,
}

/// A change to the job that would be worth taking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Candidate {
    /// Rank, 1 is best.
    pub rank: u32,
    /// Fan of the job that would be replaced.
    pub fan: String,
    /// Library model.
    pub model: String,
    /// Name for people.
    pub name: String,
    /// Air delivered to each served room, by room id.
    pub delivered: Vec<CandidateRoom>,
    /// Chance that every served room gets enough.
    pub chance_enough: Option<f64>,
    /// Loudness on this run.
    pub loudness_sone: Option<Triple>,
    /// Electric power.
    pub power_w: Option<f64>,
    /// Findings that go with it: outlet and duct, opening, listing, house pressure.
    pub notes: Vec<CandidateNote>,
    /// The change.
    pub patch: PatchText,
}

/// Air a candidate would deliver to a room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CandidateRoom {
    /// Room id.
    pub room: String,
    /// Flow at the grille.
    pub airflow_l_s: Triple,
}

/// A note on a candidate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CandidateNote {
    /// What was checked.
    pub id: Check,
    /// Verdict.
    pub verdict: Verdict,
    /// In a sentence.
    pub message: Message,
}
