//! The room at a moment.

use super::linear::STATES;
use super::model::{Level, SURFACES};

/// The room at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "door, shower, switch and control are each on or off"
)]
pub struct State {
    /// Humidity ratios: room air, its sorbing layers, house air, its layers, kg/kg.
    pub(super) humidity: [f64; STATES],
    /// Temperatures: room air, surfaces, °C.
    pub(super) warmth: [f64; STATES],
    /// Water on each surface, kg.
    pub(super) water: [f64; SURFACES],
    /// Reading of the sensor, 0 to 1.
    pub(super) reading: f64,
    /// Relative humidity at the sensor, 0 to 1.
    pub(super) seen: f64,
    /// Slow mean of the reading.
    pub(super) baseline: f64,
    /// How hard the fan runs.
    pub(super) level: Level,
    /// Whether the door is open.
    pub(super) door_open: bool,
    /// Whether the shower runs.
    pub(super) shower: bool,
    /// Whether the switch is on.
    pub(super) switch: bool,
    /// Whether the humidity control calls.
    pub(super) calls: bool,
    /// Whether it has run its longest time and waits until the reading has come down.
    pub(super) tired: bool,
    /// Seconds since the start.
    pub(super) time_s: u64,
    /// When the run-on ends, s.
    pub(super) until_s: u64,
    /// When the fan started, s.
    pub(super) started_s: u64,
    /// When something last happened, s.
    pub(super) event_s: u64,
}

impl State {
    /// Humidity ratio of the room, kg/kg.
    pub fn room_w(&self) -> f64 {
        self.humidity[0]
    }

    /// Temperature of the room, °C.
    pub fn room_c(&self) -> f64 {
        self.warmth[0]
    }

    /// Temperature of a surface, °C.
    pub fn surface_c(&self, surface: usize) -> f64 {
        self.warmth[surface + 1]
    }

    /// Water on a surface, kg.
    pub fn water_kg(&self, surface: usize) -> f64 {
        self.water[surface]
    }

    /// Reading of the humidity sensor, 0 to 1.
    pub fn reading(&self) -> f64 {
        self.reading
    }

    /// How hard the fan runs.
    pub fn level(&self) -> Level {
        self.level
    }

    /// Whether the shower runs.
    pub fn shower(&self) -> bool {
        self.shower
    }

    /// Whether the door is open.
    pub fn door_open(&self) -> bool {
        self.door_open
    }

    /// Seconds since the start.
    pub fn time_s(&self) -> u64 {
        self.time_s
    }
}
