//! Built-in climates: "like …", always an assumption.
//!
//! Each is twelve monthly figures of one open typical-year file, named by number, from which hours are made again as
//! [`monthly`](super::monthly) does. `reference/derive_climates.py` writes the figures, `reference/test_weather.py` compares them with the files. Nobody's
//! house stands at these stations: a file of the place itself is better.

mod table;

use super::error::WeatherError;
use super::hours::{Below0, Origin, Site, Weather};
use super::monthly::{Month, MonthHumidity, weather};

pub use table::CLIMATES;

/// A climate by its monthly figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climate {
    /// Words that name it.
    pub id: &'static str,
    /// The file that the figures are from.
    pub source: &'static str,
    /// Degrees north of its station.
    pub latitude_deg: f64,
    /// Degrees east.
    pub longitude_deg: f64,
    /// Height above sea level, m.
    pub altitude_m: f64,
    /// Hours that local standard time is ahead of universal time.
    pub time_zone_h: f64,
    /// Mean pressure, Pa.
    pub p_pa: f64,
    /// Temperature that 1 % of the file's hours are below, °C: the made hours do not get as cold.
    pub cold_c: f64,
    /// Temperature that 1 % of the file's hours are above, °C.
    pub hot_c: f64,
    /// January to December: mean temperature, °C; mean daily range, K; mean vapour pressure, Pa; mean wind speed, m/s.
    pub months: [[f64; 4]; 12],
}

impl Climate {
    /// The built-in climate of this id.
    pub fn named(id: &str) -> Option<&'static Self> {
        CLIMATES.iter().find(|climate| climate.id == id)
    }

    /// Its figures, as they are typed for any place.
    pub fn monthly(&self) -> [Month; 12] {
        self.months.map(|[mean_c, swing_k, vapour_pa, wind_m_s]| Month {
            mean_c,
            swing_k,
            humidity: MonthHumidity::VapourPressure(vapour_pa),
            wind_m_s: Some(wind_m_s),
        })
    }

    /// Its year of hours.
    ///
    /// # Errors
    /// None with the figures that are built in; see [`weather`].
    pub fn weather(&self) -> Result<Weather, WeatherError> {
        let site = Site {
            name: None,
            latitude_deg: Some(self.latitude_deg),
            longitude_deg: Some(self.longitude_deg),
            altitude_m: Some(self.altitude_m),
            time_zone_h: Some(self.time_zone_h),
        };
        let year = weather(&self.monthly(), site, self.p_pa, Below0::OverIce)?;
        Ok(Weather { origin: Origin::Climate(self.id), ..year })
    }
}
