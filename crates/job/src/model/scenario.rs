//! Weather and use other than the reference case.

use dewpath_units::{Temperature, Velocity};

use crate::category::category;
use crate::keys::Keys;
use crate::value::{Given, GivenChoice};

/// Weather and use other than the reference case (calm, doors shut, fans on).
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "scenario", written = "[[scenario]]")]
pub struct Scenario {
    /// Stable id; may be left out when there is only one scenario.
    #[key(id, example = "gale")]
    pub id: String,
    /// Wind speed at the terminal.
    #[key(example = "25 mph", possible(0.0, 90.0), usual(0.0, 35.0))]
    pub wind: Given<Velocity>,
    /// Which way the terminal faces.
    #[key(example = "windward")]
    pub facing: GivenChoice<Facing>,
    /// Outdoor temperature.
    #[key(example = "10 F", possible(203.15, 333.15), usual(228.15, 323.15))]
    pub outdoor: Given<Temperature>,
    /// Doors of the served rooms.
    #[key(example = "shut")]
    pub doors: GivenChoice<DoorState>,
    /// Ids of fans that are off.
    #[key(example = ["fan"], refers = "fan")]
    pub off: Vec<String>,
}

category! {
    /// How a terminal faces the wind.
    pub enum Facing {
        /// Into the wind.
        Windward = "windward",
        /// Away from it.
        Leeward = "leeward",
        /// Along it.
        Side = "side",
        /// On a roof.
        Roof = "roof",
    }
}

category! {
    /// Door open or shut.
    pub enum DoorState {
        /// Shut.
        Shut = "shut",
        /// Open.
        Open = "open",
    }
}
