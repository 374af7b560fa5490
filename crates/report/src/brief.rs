//! The brief.
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
    /// Does the fan pull on what burns?
    House,
    /// Is what the book asks there?
    Rules,
    /// Does everything fit where it goes?
    Place,
}
