//! What switches the fan.

/// What switches the fan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Control {
    /// Nobody: the fan stays off.
    Never,
    /// The fan always runs at its full flow.
    Always,
    /// A switch, as the schedule says, with a run-on after it (0 for a plain switch).
    Switch {
        /// Run-on after the switch is turned off, s.
        run_on_s: u32,
    },
    /// A humidity control.
    Humidity(HumidityControl),
}

/// A humidity control as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HumidityControl {
    /// Relative humidity at which the fan starts, 0 to 1; infinite when only the rise counts.
    pub on_at: f64,
    /// Relative humidity at which it stops.
    pub off_at: f64,
    /// Rise above the slow mean of the reading that starts the fan too; it stops at half of it.
    pub rise: Option<f64>,
    /// Time constant of that slow mean, s.
    pub baseline_s: f64,
    /// Time between two looks at the sensor, s.
    pub sampling_s: u32,
    /// Time constant of the sensor with the fan on, s.
    pub lag_on_s: f64,
    /// Time constant of the sensor with the fan off, s.
    pub lag_off_s: f64,
    /// By how much the sensor is warmer than the room's air, K.
    pub warmer_k: f64,
    /// Whether the sensor sits in another room.
    pub elsewhere: bool,
    /// Time the fan goes on after the reading has come down, s.
    pub run_on_s: u32,
    /// Longest time it runs in one go; none where it has no such limit, s.
    pub max_run_s: Option<u32>,
    /// Whether the wall switch works beside it.
    pub with_switch: bool,
}

/// What happens at a time of day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Happening {
    /// The shower is turned on.
    ShowerOn,
    /// The shower is turned off.
    ShowerOff,
    /// The door is shut.
    DoorShut,
    /// The door is opened.
    DoorOpen,
    /// The fan's switch (or the light, or the occupancy sensor) goes on.
    SwitchOn,
    /// It goes off.
    SwitchOff,
}

/// A happening of every day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Event {
    /// Time of day, s after midnight.
    pub at_s: u32,
    /// What happens.
    pub what: Happening,
}
