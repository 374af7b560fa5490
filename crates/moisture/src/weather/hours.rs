//! A year of hours: what is carried, where it comes from, what was odd about it.

use dewpath_air::domain::OutOfDomain;
use dewpath_air::moist_air::MoistAir;
use dewpath_units::{Humidity, Pressure, Temperature};

/// Hours of a year of 365 days.
pub const HOURS: usize = 8760;

/// Largest file that is read, bytes: a year of hours with every column of the public layouts has about 2 million.
pub const LARGEST_FILE: usize = 32 * 1024 * 1024;

/// A year of hours, where it holds, where it comes from and what was odd about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weather {
    /// [`HOURS`] hours from 1 January, 00:00, local standard time.
    pub hours: Vec<Hour>,
    /// The place.
    pub site: Site,
    /// Where the hours come from.
    pub origin: Origin,
    /// What was odd, and what was done about it.
    pub notes: Vec<Quirk>,
}

/// Outdoor air in one hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// Dry-bulb temperature, °C.
    pub t_c: f64,
    /// Relative humidity, 0 to 1: over ice below 0.01 °C whatever the source gave, in keeping with `w`.
    pub rh: f64,
    /// Humidity ratio, kg vapour per kg dry air.
    pub w: f64,
    /// Absolute pressure, Pa.
    pub p_pa: f64,
    /// Wind speed where it was measured (see [`Quirk::StationWind`]), m/s; `None` if the source has no wind.
    pub wind_m_s: Option<f64>,
    /// Direction the wind comes from, degrees clockwise from north; `None` where it is not given.
    pub wind_deg: Option<f64>,
}

impl Hour {
    /// From relative humidity (0 to 1) over the phase that the source means.
    ///
    /// # Errors
    /// [`OutOfDomain`] for temperature outside −100 to 100 °C, pressure outside 20 to 200 kPa, humidity outside 0 to 1.
    pub fn new(
        t_c: f64,
        humidity: f64,
        over: Below0,
        p_pa: f64,
        wind_m_s: Option<f64>,
        wind_deg: Option<f64>,
    ) -> Result<Self, OutOfDomain> {
        let (t, p) = (Temperature::from_c(t_c), Pressure::from_pa(p_pa));
        let humidity = Humidity::from_ratio(humidity);
        // Water is not met as a liquid below −50 °C, where air holds next to no vapour anyway.
        let air = if over == Below0::OverWater && t_c >= COLDEST_LIQUID_C {
            MoistAir::from_humidity_over_water(t, humidity, p)?
        } else {
            MoistAir::from_relative_humidity(t, humidity, p)?
        };
        let rh = air.relative_humidity().ratio();
        Ok(Self { t_c, rh, w: air.humidity_ratio(), p_pa, wind_m_s, wind_deg })
    }
}

/// Below this a liquid is not met, °C.
pub(super) const COLDEST_LIQUID_C: f64 = -50.0;

/// What relative humidities and dew points below freezing refer to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Below0 {
    /// Liquid water, as weather stations report (WMO Guide No. 8).
    #[default]
    OverWater,
    /// Ice, as building standards and some processed files do.
    OverIce,
}

/// The place of a record; what the source does not tell is `None`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Site {
    /// Its name, as the source writes it.
    pub name: Option<String>,
    /// Degrees north.
    pub latitude_deg: Option<f64>,
    /// Degrees east.
    pub longitude_deg: Option<f64>,
    /// Height above sea level, m.
    pub altitude_m: Option<f64>,
    /// Hours that local standard time is ahead of universal time.
    pub time_zone_h: Option<f64>,
}

/// Where a year of hours comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Read from an hourly file.
    File(Layout),
    /// Made from twelve monthly figures that someone gave.
    Monthly,
    /// Made from the twelve monthly figures of the built-in climate of this id: "like …", an assumption.
    Climate(&'static str),
}

/// How an hourly file is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// The public TMY3 layout ([`super::tmy3`]).
    Tmy3,
    /// A plain table ([`super::plain`]).
    Plain,
}

/// A measured quantity of a weather record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// Dry-bulb temperature, °C.
    Temperature,
    /// Relative humidity, 0 to 1.
    Humidity,
    /// Dew point, °C.
    DewPoint,
    /// Pressure, Pa.
    Pressure,
    /// Wind speed, m/s.
    WindSpeed,
    /// Direction the wind comes from, degrees.
    WindDirection,
}

/// How to read a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadOptions {
    /// Longest gap that is filled by a straight line, hours (6: common practice, no source).
    pub longest_gap_h: usize,
    /// What humidities below freezing refer to.
    pub below_0: Below0,
    /// Height above sea level, m, for a file that tells neither pressure nor altitude.
    pub altitude_m: Option<f64>,
}

impl Default for ReadOptions {
    fn default() -> Self {
        Self { longest_gap_h: 6, below_0: Below0::OverWater, altitude_m: None }
    }
}

/// Something odd about a source, and what was done about it.
#[derive(Debug, Clone, PartialEq)]
pub enum Quirk {
    /// Stamps are the ends of hours (01:00 to 24:00): each was put into the hour that it ends.
    HourEnding,
    /// Stamps lie this many minutes after the full hour: each was put into its hour.
    WithinHour {
        /// Minutes.
        minute: u32,
    },
    /// The year is put together from months of different years: the weather jumps where they meet. Nothing was smoothed.
    MonthSplices {
        /// Places where time does not run on.
        jumps: usize,
        /// Earliest year.
        first_year: i32,
        /// Latest year.
        last_year: i32,
    },
    /// 29 February was left out.
    LeapDayDropped,
    /// Hours that come twice: the first of each was kept.
    RepeatedHours {
        /// How many.
        hours: usize,
        /// Line of the first repeat.
        first_line: u64,
    },
    /// Hours without a row.
    MissingHours {
        /// How many.
        hours: usize,
    },
    /// Values that were missing or rejected were filled by a straight line between their neighbours.
    Filled {
        /// Of what.
        measure: Measure,
        /// How many hours.
        hours: usize,
        /// Longest gap, hours.
        longest_h: usize,
    },
    /// Values that no station measures were rejected.
    Rejected {
        /// Of what.
        measure: Measure,
        /// How many.
        hours: usize,
        /// Line of the first.
        first_line: u64,
        /// Its value, in the unit of [`Measure`].
        first_value: f64,
        /// Least value that is believed.
        low: f64,
        /// Greatest value that is believed.
        high: f64,
    },
    /// Humidity was given as dew point in these hours and turned into relative humidity.
    FromDewPoint {
        /// How many.
        hours: usize,
    },
    /// Readings of more than 100 % (up to 110 %) were taken as 100 %.
    AboveSaturation {
        /// How many.
        hours: usize,
    },
    /// Humidities below freezing refer to liquid water and were converted to ice.
    OverWater {
        /// Hours below freezing.
        hours: usize,
        /// Of these, hours that would be more than saturated over ice, and were taken as saturated.
        clipped: usize,
    },
    /// Pressure is the same in every hour: filled in, not measured.
    ConstantPressure {
        /// Pa.
        p_pa: f64,
    },
    /// The source has no pressure: that of the standard atmosphere at this altitude was used.
    PressureFromAltitude {
        /// m.
        altitude_m: f64,
        /// Pa.
        p_pa: f64,
    },
    /// The source has no wind speed.
    NoWind,
    /// Wind was measured at a station in open terrain, by convention 10 m above ground (WMO Guide No. 8): it must be brought to the
    /// height and shelter of the house.
    StationWind {
        /// m.
        height_m: f64,
    },
    /// Columns that no meaning is known for were not read.
    UnreadColumns {
        /// Their names.
        names: Vec<String>,
    },
    /// Hours were made from monthly means: neither spells of cold, heat or damp nor gusts are in them.
    NoSpells,
    /// A month's mean humidity cannot be had with its temperatures: air would be more than saturated.
    MonthTooDamp {
        /// 1 to 12.
        month: usize,
        /// Mean that was asked for, in the unit it was given in (0 to 1, or Pa).
        wanted: f64,
        /// Mean that was reached.
        reached: f64,
    },
}
