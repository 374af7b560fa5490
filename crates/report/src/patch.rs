//! A change to a job, as a report proposes it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A change to a job file: values by path.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PatchText {
    /// Values to set, in order.
    pub set: Vec<SetText>,
    /// Values to take out, by path: what the job says of the fan that goes.
    pub remove: Vec<String>,
}

/// One value to set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct SetText {
    /// Path, for example `fan.fan.model`.
    pub at: String,
    /// Value as it is written in the file.
    pub value: String,
}
