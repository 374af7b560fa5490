//! Twelve monthly figures turned into hours.
//!
//! 1. A course through the year is drawn through the middle of each month by straight lines, whose corners are placed so that the
//!    mean over each month's hours is the month's figure (twelve linear equations; the aim of Rymes & Myers 2001, Solar Energy 71(4),
//!    reached here by solving instead of iterating).
//! 2. On the temperature's course lies a daily cosine, warmest from 14:00 to 15:00 and coldest from 02:00 to 03:00, that swings by
//!    the month's mean daily range. Real days are coldest near sunrise (departure; it moves the cold by a few hours).
//! 3. Vapour pressure follows its own course and is the same all day, but for hours in which the air would be more than saturated;
//!    what is lost there is made up in the other hours of the month, so that the month's mean is kept where that is possible.
//! 4. Wind speed is that of the month all through it.
//!
//! No spells of cold or damp weather are laid over it: twelve means say nothing about them, and made-up ones would look like
//! knowledge. Cold nights, peaks of humidity and gusts are therefore missing ([`Quirk::NoSpells`]); judge the worst day by a design figure
//! instead. The same figures always give the same hours.
//!
//! ```
//! use dewpath_moisture::weather::monthly::{Month, MonthHumidity, weather};
//! use dewpath_moisture::weather::{Below0, Site};
//!
//! let month = |mean_c| Month {
//!     mean_c,
//!     swing_k: 8.0,
//!     humidity: MonthHumidity::Relative(0.75),
//!     wind_m_s: Some(3.0),
//! };
//! let means = [-2.0, 0.0, 4.0, 9.0, 14.0, 17.0, 19.0, 18.5, 15.0, 10.0, 4.0, -0.5];
//! let year = weather(&means.map(month), Site::default(), 98_000.0, Below0::OverWater)?;
//! let january: f64 = year.hours[..744].iter().map(|hour| hour.t_c).sum::<f64>() / 744.0;
//! assert!((january + 2.0).abs() < 1e-9);
//! # Ok::<(), dewpath_moisture::weather::WeatherError>(())
//! ```

use std::f64::consts::PI;

use dewpath_air::domain::{Domain, not_negative};
use dewpath_air::moist_air::saturation_pressure;
use dewpath_units::{Pressure, Temperature};

use super::assemble::reference_pa;
use super::calendar::{MONTH_DAYS, month_of_hour};
use super::error::WeatherError;
use super::hours::{Below0, HOURS, Hour, Origin, Quirk, Site, Weather};

/// What is known of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// Mean temperature, °C.
    pub mean_c: f64,
    /// Mean of the daily ranges (highest less lowest), K.
    pub swing_k: f64,
    /// Its humidity.
    pub humidity: MonthHumidity,
    /// Mean wind speed, m/s, if known.
    pub wind_m_s: Option<f64>,
}

/// How a month's humidity is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MonthHumidity {
    /// Mean relative humidity, 0 to 1.
    Relative(f64),
    /// Mean dew point, °C. Its saturation pressure is taken as the mean vapour pressure, which is up to a few percent low.
    DewPoint(f64),
    /// Mean vapour pressure, Pa.
    VapourPressure(f64),
}

const MEAN_TEMPERATURE: Domain = Domain {
    quantity: "monthly mean temperature",
    unit: "°C",
    low: -60.0,
    high: 45.0,
    reason: "monthly means on Earth lie between",
};

const SWING: Domain = Domain {
    quantity: "daily range of temperature",
    unit: "K",
    low: 0.0,
    high: 30.0,
    reason: "mean daily ranges on Earth lie between",
};

const RELATIVE: Domain = Domain {
    quantity: "monthly mean relative humidity",
    unit: "(of 1)",
    low: 0.01,
    high: 1.0,
    reason: "a share of saturation is needed",
};

const DEW_POINT: Domain = Domain {
    quantity: "monthly mean dew point",
    unit: "°C",
    low: -60.0,
    high: 35.0,
    reason: "monthly means on Earth lie between",
};

const VAPOUR: Domain = Domain {
    quantity: "monthly mean vapour pressure",
    unit: "Pa",
    low: 0.1,
    high: 6000.0,
    reason: "monthly means on Earth lie between",
};

/// Rounds in which a month's vapour is made up for hours of saturation.
const ROUNDS: usize = 200;

/// Share of the wanted mean below which a month counts as reached.
const REACHED: f64 = 1e-3;

/// A year of hours from twelve months, January first. The pressure is the same in all hours.
///
/// `below_0` tells what relative humidities and dew points below freezing refer to.
/// Monthly means of temperature come out exact; of humidity within 0.1 %, or a [`Quirk::MonthTooDamp`] tells what was reached.
///
/// # Errors
/// [`WeatherError::OutOfDomain`] for a figure that no place on Earth has.
pub fn weather(
    months: &[Month; 12],
    site: Site,
    p_pa: f64,
    below_0: Below0,
) -> Result<Weather, WeatherError> {
    let temperature = temperatures(months)?;
    let mut notes = vec![Quirk::ConstantPressure { p_pa }, Quirk::NoSpells];
    let saturated = temperature
        .iter()
        .map(|t_c| saturation_pressure(Temperature::from_c(*t_c)).map(Pressure::pa))
        .collect::<Result<Vec<_>, _>>()?;
    let vapour = vapours(months, &temperature, &saturated, below_0, &mut notes)?;
    for month in months {
        let speed = not_negative("monthly mean wind speed", "m/s", "a speed is needed");
        speed.check(month.wind_m_s.unwrap_or(0.0))?;
    }
    if months.iter().any(|month| month.wind_m_s.is_none()) {
        notes.push(Quirk::NoWind);
    } else {
        notes.push(Quirk::StationWind { height_m: 10.0 });
    }
    let hour = |hour: usize| {
        let rh = (vapour[hour] / saturated[hour]).min(1.0);
        let wind = months[month_of_hour(hour)].wind_m_s;
        Hour::new(temperature[hour], rh, Below0::OverIce, p_pa, wind, None)
    };
    let hours = (0..HOURS).map(hour).collect::<Result<Vec<_>, _>>()?;
    Ok(Weather { hours, site, origin: Origin::Monthly, notes })
}

fn temperatures(months: &[Month; 12]) -> Result<Vec<f64>, WeatherError> {
    let (mut means, mut swings) = ([0.0; 12], [0.0; 12]);
    for (index, month) in months.iter().enumerate() {
        means[index] = MEAN_TEMPERATURE.check(month.mean_c)?;
        swings[index] = SWING.check(month.swing_k)?;
    }
    let (mean, swing) = (course(&means), course(&swings));
    let of = |(hour, (mean, swing)): (usize, (&f64, &f64))| {
        // Warmest in the middle of the hour that ends at 15:00.
        let turn = 2.0 * PI * ((hour % 24) as f64 - 14.0) / 24.0;
        mean + swing.max(0.0) / 2.0 * libm::cos(turn)
    };
    let warm: Vec<f64> = mean.iter().zip(&swing).enumerate().map(of).collect();
    // The swing changes along a day: what that leaves in the month's mean is taken out again.
    let reached = monthly_means(&warm);
    Ok((0..HOURS)
        .map(|hour| {
            let month = month_of_hour(hour);
            warm[hour] + means[month] - reached[month]
        })
        .collect())
}

/// Vapour pressure of each hour, at most saturated, Pa.
fn vapours(
    months: &[Month; 12],
    temperature: &[f64],
    saturated: &[f64],
    below_0: Below0,
    notes: &mut Vec<Quirk>,
) -> Result<Vec<f64>, WeatherError> {
    let reference =
        temperature.iter().map(|t| reference_pa(*t, below_0)).collect::<Result<Vec<_>, _>>()?;
    let dry = monthly_means(&reference.iter().map(|p| 1.0 / p).collect::<Vec<_>>());
    let wettest = monthly_means(saturated);
    // What is asked for, in its own measure, and the vapour pressure to begin with.
    let (mut wanted, mut aim) = ([0.0; 12], [0.0; 12]);
    for (index, month) in months.iter().enumerate() {
        (wanted[index], aim[index]) = match month.humidity {
            MonthHumidity::Relative(rh) => {
                let rh = RELATIVE.check(rh)?;
                (rh, rh / dry[index])
            }
            MonthHumidity::DewPoint(dew) => {
                let vapour = reference_pa(DEW_POINT.check(dew)?, below_0)?;
                (vapour, vapour)
            }
            MonthHumidity::VapourPressure(vapour) => {
                let vapour = VAPOUR.check(vapour)?;
                (vapour, vapour)
            }
        };
    }
    let is_relative = |month: usize| matches!(months[month].humidity, MonthHumidity::Relative(_));
    let mut vapour = Vec::new();
    let mut reached = [0.0; 12];
    for _ in 0..ROUNDS {
        let capped = |(p, most): (&f64, &f64)| p.max(0.0).min(*most);
        vapour = course(&aim).iter().zip(saturated).map(capped).collect::<Vec<f64>>();
        let shares: Vec<f64> = vapour.iter().zip(&reference).map(|(p, most)| p / most).collect();
        let (pressures, shares) = (monthly_means(&vapour), monthly_means(&shares));
        let mut worst: f64 = 0.0;
        for month in 0..12 {
            reached[month] = if is_relative(month) { shares[month] } else { pressures[month] };
            let factor = (wanted[month] / reached[month].max(f64::MIN_POSITIVE)).clamp(0.5, 2.0);
            // Twice what saturated air holds all month is as damp as a month can be.
            aim[month] = (aim[month] * factor).min(2.0 * wettest[month]);
            worst = worst.max((factor - 1.0).abs());
        }
        if worst < 1e-9 {
            break;
        }
    }
    for (index, (wanted, reached)) in wanted.into_iter().zip(reached).enumerate() {
        if (wanted - reached).abs() > REACHED * wanted {
            notes.push(Quirk::MonthTooDamp { month: index + 1, wanted, reached });
        }
    }
    Ok(vapour)
}

/// Mean of each month.
fn monthly_means(hours: &[f64]) -> [f64; 12] {
    let mut means = [0.0; 12];
    let mut start = 0;
    for (mean, days) in means.iter_mut().zip(MONTH_DAYS) {
        let month = &hours[start..start + days * 24];
        *mean = month.iter().sum::<f64>() / month.len() as f64;
        start += days * 24;
    }
    means
}

/// Hour of the year at the middle of each month.
fn middles() -> [f64; 12] {
    let mut middles = [0.0; 12];
    let mut start = 0;
    for (middle, days) in middles.iter_mut().zip(MONTH_DAYS) {
        *middle = (start + days * 12) as f64;
        start += days * 24;
    }
    middles
}

/// The corner before the middle of an hour, and how far it is on the way to the next corner.
fn between(hour: usize, middles: &[f64; 12]) -> (usize, f64) {
    let time = hour as f64 + 0.5;
    let year = HOURS as f64;
    let before = middles.iter().rposition(|middle| *middle <= time).unwrap_or(11);
    let after = (before + 1) % 12;
    let length = (middles[after] - middles[before] + year) % year;
    (before, ((time - middles[before] + year) % year) / length)
}

/// Straight lines between corners in the middle of the months, with these means of the months.
fn course(means: &[f64; 12]) -> Vec<f64> {
    let middles = middles();
    let shares: Vec<(usize, f64)> = (0..HOURS).map(|hour| between(hour, &middles)).collect();
    let mut weights = [[0.0; 12]; 12];
    for (hour, (before, share)) in shares.iter().enumerate() {
        let month = month_of_hour(hour);
        let one = 1.0 / (MONTH_DAYS[month] * 24) as f64;
        weights[month][*before] += one * (1.0 - share);
        weights[month][(before + 1) % 12] += one * share;
    }
    let corners = solve(weights, *means);
    shares
        .iter()
        .map(|(before, share)| {
            corners[*before] + share * (corners[(before + 1) % 12] - corners[*before])
        })
        .collect()
}

/// Solves twelve equations by elimination. The diagonal is about three quarters and outweighs the rest, so that rows need no
/// exchange.
fn solve(mut matrix: [[f64; 12]; 12], mut right: [f64; 12]) -> [f64; 12] {
    for pivot in 0..12 {
        for row in pivot + 1..12 {
            let (above, below) = matrix.split_at_mut(row);
            let (from, to) = (&above[pivot], &mut below[0]);
            let factor = to[pivot] / from[pivot];
            for (value, taken) in to.iter_mut().zip(from).skip(pivot) {
                *value -= factor * taken;
            }
            right[row] -= factor * right[pivot];
        }
    }
    for row in (0..12).rev() {
        let known: f64 = (row + 1..12).map(|column| matrix[row][column] * right[column]).sum();
        right[row] = (right[row] - known) / matrix[row][row];
    }
    right
}
