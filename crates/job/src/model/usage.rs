//! How a room is used in a day.

use dewpath_units::{Duration, Mass, MassFlow, Temperature, WaterFlow};

use crate::category::category;
use crate::keys::Keys;
use crate::value::{ClockTime, Given, GivenChoice, GivenCount};

/// How the room is used in a day. Ask who showers, how long, and what they do with door and fan: habits decide as
/// much as ducts.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "use", written = "[room.use]")]
pub struct Usage {
    /// Showers in a day.
    #[key(example = 2, possible(100), usual(12))]
    pub showers: GivenCount,
    /// Length of each shower.
    #[key(example = "8 min", possible(0.0, 14400.0), usual(120.0, 2400.0))]
    pub minutes: Given<Duration>,
    /// Water of the shower head.
    #[key(example = "2 gpm", possible(0.000_005, 0.002), usual(0.000_05, 0.000_35))]
    pub water: Given<WaterFlow>,
    /// Temperature of that water.
    #[key(example = "105 F", possible(273.15, 363.15), usual(305.15, 321.15))]
    pub water_temperature: Given<Temperature>,
    /// Vapour given off while the shower runs, where it was measured or somebody states it; else it follows from
    /// the water.
    #[key(example = "2.5 kg/h", possible(0.0, 0.02), usual(0.000_05, 0.002))]
    pub vapour: Given<MassFlow>,
    /// Baths in a day.
    #[key(example = 0, possible(100), usual(6))]
    pub baths: GivenCount,
    /// People in the room at once.
    #[key(example = 1, possible(100), usual(4))]
    pub people: GivenCount,
    /// Pause between one shower and the next, where `at` is left out.
    #[key(example = "10 min", possible(0.0, 86400.0), usual(0.0, 43200.0))]
    pub gap: Given<Duration>,
    /// When showers begin, one time for each (24 hours, or with am and pm).
    #[key(example = ["06:45", "07:05"])]
    pub at: Vec<ClockTime>,
    /// What happens with the door.
    #[key(example = "opened after")]
    pub door: GivenChoice<DoorHabit>,
    /// How long after the shower the door opens, where it is opened after it.
    #[key(example = "10 min", possible(0.0, 86400.0), usual(60.0, 3600.0))]
    pub door_after: Given<Duration>,
    /// Dry mass of laundry that is hung up to dry in the room in a day.
    #[key(example = "4 kg", possible(0.0, 200.0), usual(0.0, 15.0))]
    pub drying: Given<Mass>,
    /// When the fan is switched on, by habit.
    #[key(example = "during the shower")]
    pub fan: GivenChoice<FanHabit>,
    /// How long it is left on after the shower, by habit.
    #[key(example = "20 min", possible(0.0, 86400.0), usual(0.0, 14400.0))]
    pub leave_on: Given<Duration>,
}

category! {
    /// What happens with the door of a room that is showered in.
    pub enum DoorHabit {
        /// Shut during and after the shower.
        Shut = "shut",
        /// Shut during the shower, opened after it.
        OpenAfter = "opened after",
        /// Open all the time.
        Open = "open",
    }
}

category! {
    /// When somebody switches a fan on.
    pub enum FanHabit {
        /// While the shower runs.
        WithShower = "during the shower",
        /// As long as the light is on.
        WithLight = "with the light",
        /// Never.
        Forgotten = "never" | "forgotten",
        /// While the shower runs, and for some time after it.
        After = "during and after" | "and after",
    }
}
