//! The terminal of a way out under a hand that moves it. It stands apart from the report, which judges what is written.

use schemars::JsonSchema;
use serde::Serialize;

use crate::building::ClearanceResult;
use crate::finding::Finding;
use crate::patch::PatchText;

/// Where the terminal of a way out would lie, nearest to a hand.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Outlet {
    /// Way out, by its id.
    pub way_out: String,
    /// Whether there is a spot at which it keeps every distance that a book asks for.
    pub is_clear: bool,
    /// Middle of the terminal at that spot; under the hand where there is none.
    pub at_m: [f64; 3],
    /// Middle of the terminal under the hand, brought into the window.
    pub hand_m: [f64; 3],
    /// Least and greatest corner of the window in which it may lie.
    pub window_m: [[f64; 3]; 2],
    /// Distances at the spot.
    pub clearances: Vec<ClearanceResult>,
    /// What would be too near under the hand.
    pub short: Vec<Finding>,
    /// What the job becomes when the spot is taken.
    pub patch: PatchText,
}
