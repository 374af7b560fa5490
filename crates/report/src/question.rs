//! The questions of a person.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A question that a job asks.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Question {
    /// Does enough air leave?
    Air,
    /// How soon is the mirror clear?
    Mirror,
    /// Do room, duct and house stay dry?
    Dry,
    /// Does it pull on what burns in the house?
    House,
    /// Is what the book asks there?
    Rules,
    /// Does everything fit where it goes?
    Place,
}

impl Question {
    /// Every question, in the order in which they are answered.
    pub const ALL: [Self; 6] =
        [Self::Air, Self::Mirror, Self::Dry, Self::House, Self::Rules, Self::Place];

    /// Key of its name for people.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Air => "question.air",
            Self::Mirror => "question.mirror",
            Self::Dry => "question.dry",
            Self::House => "question.house",
            Self::Rules => "question.rules",
            Self::Place => "question.place",
        }
    }
}
