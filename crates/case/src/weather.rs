//! The weather a job is followed through: a file, a climate it is like, or twelve monthly figures.

use dewpath_job::category::Category;
use dewpath_job::model::{Job, Months};
use dewpath_moisture::weather::climates::Climate;
use dewpath_moisture::weather::monthly::{self, Month, MonthHumidity};
use dewpath_moisture::weather::{Below0, HOURS, Hour, Site, Weather};
use dewpath_units::Length;

use crate::given;
use crate::world::World;

/// Daily range where nobody says, K; and mean relative humidity. Judgement, listed with the weather.
const SWING_K: f64 = 8.0;
const HUMIDITY: f64 = 0.75;
/// Days in each month.
pub const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// The weather of a job; none where nobody says.
///
/// # Errors
/// Why it cannot be had.
pub fn resolve(job: &Job, world: &World) -> Result<Option<Weather>, String> {
    if let Some(weather) = &world.weather {
        return Ok(Some(weather.clone()));
    }
    if let Some(months) = &job.site.months {
        return from_months(months, job).map(Some);
    }
    let Some(word) = given::member(&job.site.climate) else { return Ok(None) };
    let weather = Climate::named(word.word()).map(Climate::weather).transpose();
    weather.map_err(|error| error.to_string())
}

fn from_months(months: &Months, job: &Job) -> Result<Weather, String> {
    let altitude = given::likely(&job.site.altitude).map_or(0.0, Length::m);
    let pressure = dewpath_air::atmosphere::standard_pressure(Length::from_m(altitude))
        .map_err(|error| error.to_string())?;
    let month = |i: usize| Month {
        mean_c: months.temperature[i].c(),
        swing_k: months.swing.map_or(SWING_K, |swing| swing[i].k()),
        humidity: match (months.dew_point, months.humidity) {
            (Some(dew), _) => MonthHumidity::DewPoint(dew[i].c()),
            (None, Some(rh)) => MonthHumidity::Relative(rh[i].ratio()),
            (None, None) => MonthHumidity::Relative(HUMIDITY),
        },
        wind_m_s: months.wind.map(|wind| wind[i].m_s()),
    };
    let site = Site { altitude_m: Some(altitude), ..Site::default() };
    monthly::weather(&std::array::from_fn(month), site, pressure.pa(), Below0::OverWater)
        .map_err(|error| error.to_string())
}

/// BLAKE3 of the hours, so that a report tells which weather it was made with, wherever that came from.
pub fn hash(weather: &Weather) -> String {
    let mut hasher = blake3::Hasher::new();
    for hour in &weather.hours {
        for value in [hour.t_c, hour.w, hour.p_pa, hour.wind_m_s.unwrap_or(-1.0)] {
            hasher.update(&value.to_le_bytes());
        }
    }
    hasher.finalize().to_hex().to_string()
}

/// Hours of a month, January 0.
pub fn month_hours(weather: &Weather, month: usize) -> &[Hour] {
    let start: usize = DAYS[..month].iter().sum::<usize>() * 24;
    let end = start + DAYS[month] * 24;
    weather.hours.get(start..end.min(HOURS)).unwrap_or(&[])
}

/// Mean temperature (K), relative humidity and humidity ratio of some hours.
pub fn means(hours: &[Hour]) -> Option<(f64, f64, f64)> {
    if hours.is_empty() {
        return None;
    }
    let n = hours.len() as f64;
    let sum = |f: fn(&Hour) -> f64| hours.iter().map(f).sum::<f64>() / n;
    Some((sum(|h| h.t_c) + 273.15, sum(|h| h.rh), sum(|h| h.w)))
}

/// Mean temperature, K, and relative humidity of the coldest month.
pub fn coldest_month(weather: &Weather) -> Option<(f64, f64)> {
    (0..12)
        .filter_map(|month| means(month_hours(weather, month)))
        .map(|(t, rh, _)| (t, rh))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use dewpath_job::model::Climate as Word;

    use super::*;

    #[test]
    fn every_climate_of_a_job_has_weather() {
        for word in Word::ALL {
            let text =
                format!("format = 1\nname = \"x\"\nsite = {{ climate = \"{}\" }}\n", word.word());
            let job = dewpath_job::read("x.toml", &text).unwrap().job;
            assert!(resolve(&job, &World::default()).unwrap().is_some(), "{text}");
        }
    }
}
