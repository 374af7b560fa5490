//! The courses behind the figures of rooms through time, for faces that draw them or write them out. They stand apart
//! from the report, which would grow by 8760 rows a room.

use serde::Serialize;

/// The rooms of a job through time, at the likely values.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Courses {
    /// The design shower of each room that could be followed.
    pub showers: Vec<ShowerCourse>,
    /// The year of each room that could be followed, where it was asked for.
    pub years: Vec<YearCourse>,
}

/// A room through its design shower.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShowerCourse {
    /// Room id.
    pub room: String,
    /// The moments, in order; closer where much happens.
    pub points: Vec<ShowerPoint>,
}

/// A room at a moment of its design shower.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ShowerPoint {
    /// Time from the start of the first shower; negative before it.
    pub time_s: f64,
    /// Temperature of the room.
    pub room_c: f64,
    /// Relative humidity of the room, 0 to 1.
    pub humidity_ratio: f64,
    /// Humidity ratio of the room, grams of vapour in a kilogram of dry air.
    pub vapour_g_kg: f64,
    /// Film on the mirror, grams on a square metre; none without a mirror.
    pub mirror_g_m2: Option<f64>,
    /// How hard the fan runs.
    pub fan: FanLevel,
    /// Whether the shower runs.
    pub shower: bool,
    /// Whether the door is open.
    pub door_open: bool,
}

/// How hard a fan runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FanLevel {
    /// At rest.
    Off,
    /// Its flow between uses.
    Low,
    /// Its full flow.
    Full,
}

/// A room through a year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct YearCourse {
    /// Room id.
    pub room: String,
    /// 8760 hours from 1 January, 00:00, in local standard time.
    pub hours: Vec<YearHour>,
}

/// One hour of a room's year. Temperatures and humidities are means of the hour.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct YearHour {
    /// Outdoor temperature.
    pub outdoor_c: f64,
    /// Outdoor relative humidity, 0 to 1.
    pub outdoor_humidity_ratio: f64,
    /// Temperature of the rest of the dwelling.
    pub dwelling_c: f64,
    /// Relative humidity of the rest of the dwelling, 0 to 1.
    pub dwelling_humidity_ratio: f64,
    /// Temperature of the room.
    pub room_c: f64,
    /// Relative humidity of the room, 0 to 1.
    pub humidity_ratio: f64,
    /// Temperature of the coldest of the surfaces on which mould is followed, at the end of the hour.
    pub coldest_surface_c: f64,
    /// Most film on the mirror in the hour, grams on a square metre; 0 without a mirror.
    pub mirror_most_g_m2: f64,
    /// Time the fan ran in the hour, s.
    pub fan_s: f64,
}
