//! The brief: the questions that a job asks, how each came out, and what to do.

use dewpath_message::{Figure, Message};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::Check;
use crate::finding::Verdict;
use crate::patch::PatchText;
use crate::question::Question;

/// How a question came out.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Nothing asks it: nothing is planned, or no book speaks of it. Counts for nothing.
    NotAsked,
    /// Everything that was checked holds.
    Holds,
    /// Nothing is broken; something is worth knowing.
    Caution,
    /// Not known.
    Unknown,
    /// Something is broken.
    Fails,
}

impl From<Verdict> for Outcome {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Holds => Self::Holds,
            Verdict::Caution => Self::Caution,
            Verdict::Unknown => Self::Unknown,
            Verdict::Fails => Self::Fails,
        }
    }
}

/// What a person reads first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Brief {
    /// The worst of the answers; unknown where nothing is asked.
    pub verdict: Verdict,
    /// On a call-back what most likely causes each symptom, before all else.
    pub symptoms: Vec<Message>,
    /// Each question, always all of them, in the order of [`Question::ALL`].
    pub answers: Vec<Answered>,
    /// What to do next, at most three, most useful first.
    #[serde(rename = "do")]
    pub tasks: Vec<Task>,
}

/// How one question came out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Answered {
    /// The question.
    pub question: Question,
    /// How it came out.
    pub outcome: Outcome,
    /// That in two or three words, for example "Enough".
    pub word: Message,
    /// What stands behind it: the figure against what is required, then the points that decide.
    pub says: Vec<Message>,
    /// The figure that the question asks for.
    pub figure: Option<Figure>,
    /// What is required of it.
    pub required: Option<Figure>,
    /// Chance that it is met, where that is not sure.
    pub chance: Option<f64>,
    /// Room of the figure, the worst where there are several; empty where it is of no room.
    pub room: String,
    /// Points that decide the outcome, most telling first.
    pub decided_by: Vec<Point>,
    /// Room by room, where there are several.
    pub rooms: Vec<RoomAnswer>,
    /// Points that were passed over with a reason.
    pub overridden_count: u32,
}

/// The figure of one of several rooms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomAnswer {
    /// Room id.
    pub room: String,
    /// How it came out.
    pub outcome: Outcome,
    /// The figure against what is required.
    pub says: Message,
}

/// A finding, named.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Point {
    /// What was checked.
    pub id: Check,
    /// Room, fan, run, part or terminal.
    pub subject: String,
}

/// Why something is to be done.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum TaskKind {
    /// Before anything else: somebody can be hurt.
    Stop,
    /// Something is broken.
    Mend,
    /// A change to the job that moves an answer, with its patch.
    Change,
    /// Something is not known, and a look or a measurement settles it.
    Look,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Task {
    /// Why.
    pub kind: TaskKind,
    /// What, verb first.
    pub what: Message,
    /// Time it takes, about (judgement); none where that can't be said.
    pub effort_h: Option<f64>,
    /// Question that it settles or mends.
    pub question: Question,
    /// Share of the draws in which it settles the question; none for what mends.
    pub settles_ratio: Option<f64>,
    /// Points that it settles or mends.
    pub points: Vec<Point>,
    /// Keys of the job to write what was found.
    pub at: Vec<String>,
    /// The change, where it is one.
    pub patch: Option<PatchText>,
}
