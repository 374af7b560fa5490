//! Hourly weather as a plain table: a line of column names that carry their units, then a row an hour.
//!
//! ```text
//! # name = Ridge above the valley
//! # altitude_m = 640
//! time,temperature_c,humidity_percent,pressure_hpa,wind_m_s
//! 2021-01-01T00:00,-3.1,88,941.2,2.5
//! ```
//!
//! | column | one of |
//! | --- | --- |
//! | time, needed | `time` (ISO 8601, beginning of the hour), `time_ending` (its end), `hour` (0 to 8759, or 1 to 8760) |
//! | temperature, needed | `temperature_c`, `temperature_f` |
//! | humidity, one needed | `humidity_percent`; `dew_point_c`, `dew_point_f` |
//! | pressure (or the site's altitude) | `pressure_pa`, `pressure_hpa`, `pressure_mbar`, `pressure_kpa`, `pressure_inhg` |
//! | wind | `wind_m_s`, `wind_km_h`, `wind_mph`, `wind_knots`; `wind_direction_deg` |
//!
//! Times are in local standard time; an offset (`Z`, `+01:00`) may stand behind them if it is the same throughout. A year of
//! 8760 or 8784 rows is needed, in any order and starting anywhere. Lines before the names may tell `name`, `latitude`,
//! `longitude`, `altitude_m` and `time_zone_h` after a `#`; other remarks are passed over.

use super::assemble::Assembly;
use super::calendar::{Place, Stamp, whole};
use super::cell::{Column, shortened};
use super::error::{SiteFigure, TimeForm, WeatherError};
use super::hours::{HOURS, Layout, Measure, Quirk, ReadOptions, Site, Weather};
use super::tmy3::{figure, listed, rows_of, text_of};

/// A column name, what it measures, and value = factor·number + offset.
type Known = (&'static str, Measure, f64, f64);

/// Units: exact by definition (NIST SP 811) but for the inch of mercury, which is the conventional one at 0 °C.
const COLUMNS: [Known; 15] = [
    ("temperature_c", Measure::Temperature, 1.0, 0.0),
    ("temperature_f", Measure::Temperature, 5.0 / 9.0, -160.0 / 9.0),
    ("humidity_percent", Measure::Humidity, 0.01, 0.0),
    ("dew_point_c", Measure::DewPoint, 1.0, 0.0),
    ("dew_point_f", Measure::DewPoint, 5.0 / 9.0, -160.0 / 9.0),
    ("pressure_pa", Measure::Pressure, 1.0, 0.0),
    ("pressure_hpa", Measure::Pressure, 100.0, 0.0),
    ("pressure_mbar", Measure::Pressure, 100.0, 0.0),
    ("pressure_kpa", Measure::Pressure, 1000.0, 0.0),
    ("pressure_inhg", Measure::Pressure, 3386.389, 0.0),
    ("wind_m_s", Measure::WindSpeed, 1.0, 0.0),
    ("wind_km_h", Measure::WindSpeed, 1.0 / 3.6, 0.0),
    ("wind_mph", Measure::WindSpeed, 0.44704, 0.0),
    ("wind_knots", Measure::WindSpeed, 1852.0 / 3600.0, 0.0),
    ("wind_direction_deg", Measure::WindDirection, 1.0, 0.0),
];

/// How rows tell their hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Clock {
    Begins,
    Ends,
    Index,
}

/// Reads a plain table. Any bytes are read without a panic.
///
/// # Errors
/// [`WeatherError`] with the line and, where it is one field, the column.
pub fn read(bytes: &[u8], options: &ReadOptions) -> Result<Weather, WeatherError> {
    let text = text_of(bytes)?;
    let mut site = site(&text)?;
    let mut rows = rows_of(&text);
    let (line, names) = rows.next().ok_or(WeatherError::Empty)??;
    let (time, clock) = clock(&names, line)?;
    let (columns, unread) = columns(&names, line)?;
    let notes =
        if unread.is_empty() { Vec::new() } else { vec![Quirk::UnreadColumns { names: unread }] };
    let mut year = Assembly::new(&columns, options);
    if clock == Clock::Index {
        let rows = rows.collect::<Result<Vec<_>, _>>()?;
        numbered(&mut year, &rows, time)?;
        return year.finish(site, Layout::Plain, false, notes);
    }
    let ends = clock == Clock::Ends;
    let mut offset: Option<Option<i32>> = None;
    for row in rows {
        let (line, row) = row?;
        let text = row.get(time).unwrap_or_default();
        let (stamp, minutes) = iso_8601(text).ok_or_else(|| WeatherError::BadTime {
            line,
            text: shortened(text),
            wanted: TimeForm::DateAndTime,
        })?;
        if *offset.get_or_insert(minutes) != minutes {
            return Err(WeatherError::ClockChanged { line });
        }
        year.dated_row(stamp, ends, &row, line)?;
    }
    let told = offset.flatten().map(|minutes| f64::from(minutes) / 60.0);
    site.time_zone_h = site.time_zone_h.or(told);
    year.finish(site, Layout::Plain, ends, notes)
}

/// Rows that tell the number of their hour, from 0 or from 1, in a year of 365 or 366 days.
fn numbered(
    year: &mut Assembly<'_>,
    rows: &[(u64, csv::StringRecord)],
    column: usize,
) -> Result<(), WeatherError> {
    let number = |(line, row): &(u64, csv::StringRecord)| {
        let text = row.get(column).unwrap_or_default();
        whole(text, 4).map(|number| number as usize).ok_or_else(|| WeatherError::BadTime {
            line: *line,
            text: shortened(text),
            wanted: TimeForm::HourOfYear,
        })
    };
    let numbers = rows.iter().map(number).collect::<Result<Vec<_>, _>>()?;
    let first = numbers.iter().copied().min().unwrap_or(0).min(1);
    let last = numbers.iter().copied().max().unwrap_or(0);
    let is_leap = last >= HOURS + first;
    for ((line, row), number) in rows.iter().zip(numbers) {
        let hour = number - first;
        if hour >= HOURS + if is_leap { 24 } else { 0 } {
            return Err(WeatherError::BadTime {
                line: *line,
                text: number.to_string(),
                wanted: TimeForm::WithinYear,
            });
        }
        let (leap_start, leap_end) = (59 * 24, 60 * 24);
        let place = if is_leap && (leap_start..leap_end).contains(&hour) {
            Place::LeapDay
        } else {
            Place::Hour(if is_leap && hour >= leap_end { hour - 24 } else { hour })
        };
        year.row(place, row, *line)?;
    }
    Ok(())
}

fn clock(names: &csv::StringRecord, line: u64) -> Result<(usize, Clock), WeatherError> {
    let known = [("time", Clock::Begins), ("time_ending", Clock::Ends), ("hour", Clock::Index)];
    let mut found: Option<(usize, Clock)> = None;
    for (index, name) in names.iter().enumerate() {
        let Some((_, clock)) = known.iter().find(|(known, _)| name.eq_ignore_ascii_case(known))
        else {
            continue;
        };
        if let Some((first, _)) = found {
            return Err(WeatherError::RepeatedTime {
                line,
                first: shortened(&names[first]),
                second: shortened(name),
            });
        }
        found = Some((index, *clock));
    }
    found.ok_or_else(|| WeatherError::MissingOneOf {
        line,
        wanted: &["time", "time_ending", "hour"],
        found: listed(names),
    })
}

/// The columns that are read, and the names of those that are not.
fn columns(
    names: &csv::StringRecord,
    line: u64,
) -> Result<(Vec<Column>, Vec<String>), WeatherError> {
    let mut columns: Vec<Column> = Vec::new();
    let mut unread = Vec::new();
    for (index, name) in names.iter().enumerate() {
        let known = COLUMNS.iter().find(|(known, ..)| name.eq_ignore_ascii_case(known));
        let Some(&(_, measure, factor, offset)) = known else {
            let is_time =
                ["time", "time_ending", "hour"].iter().any(|t| name.eq_ignore_ascii_case(t));
            if !is_time {
                unread.push(shortened(name));
            }
            continue;
        };
        if let Some(first) = columns.iter().find(|column| column.measure == measure) {
            return Err(WeatherError::RepeatedColumn {
                line,
                first: first.name.clone(),
                second: shortened(name),
                measure,
            });
        }
        columns.push(Column { measure, index, name: name.to_owned(), factor, offset });
    }
    let has = |measure| columns.iter().any(|column| column.measure == measure);
    let missing = |wanted| WeatherError::MissingOneOf { line, wanted, found: listed(names) };
    if !has(Measure::Temperature) {
        return Err(missing(&["temperature_c", "temperature_f"]));
    }
    if !has(Measure::Humidity) && !has(Measure::DewPoint) {
        return Err(missing(&["humidity_percent", "dew_point_c", "dew_point_f"]));
    }
    Ok((columns, unread))
}

/// What the remarks before the column names tell about the place.
fn site(text: &str) -> Result<Site, WeatherError> {
    let mut site = Site::default();
    for (line, remark) in (1..).zip(text.lines()) {
        let remark = remark.trim();
        if remark.is_empty() {
            continue;
        }
        let Some(remark) = remark.strip_prefix('#') else { break };
        let Some((key, value)) = remark.split_once('=').or_else(|| remark.split_once(':')) else {
            continue;
        };
        let value = value.trim();
        let figure = |which, low, high| figure(value, line, which, low, high).map(Some);
        match key.trim().to_ascii_lowercase().as_str() {
            "name" => site.name = Some(value.to_owned()),
            "latitude" => site.latitude_deg = figure(SiteFigure::Latitude, -90.0, 90.0)?,
            "longitude" => site.longitude_deg = figure(SiteFigure::Longitude, -180.0, 180.0)?,
            "altitude_m" => site.altitude_m = figure(SiteFigure::Altitude, -500.0, 6000.0)?,
            "time_zone_h" => site.time_zone_h = figure(SiteFigure::TimeZone, -14.0, 14.0)?,
            _ => {}
        }
    }
    Ok(site)
}

/// `YYYY-MM-DD`, `T` or a blank, `HH:MM`, perhaps `:SS` and fractions, perhaps an offset, which is given in minutes.
fn iso_8601(text: &str) -> Option<(Stamp, Option<i32>)> {
    let text = text.trim();
    let (date, time) = text.split_once(['T', 't', ' '])?;
    let mut date = date.split('-');
    let (year, month, day) = (date.next()?, date.next()?, date.next()?);
    if date.next().is_some() || year.len() != 4 {
        return None;
    }
    let (time, offset) = split_offset(time.trim())?;
    let mut time = time.split(':');
    let (hour, minute) = (whole(time.next()?, 2)?, whole(time.next()?, 2)?);
    if let Some(seconds) = time.next() {
        let (second, fraction) = seconds.split_once('.').unwrap_or((seconds, "0"));
        whole(second, 2).filter(|second| *second < 60)?;
        whole(fraction, 9)?;
    }
    if time.next().is_some() {
        return None;
    }
    let stamp = Stamp {
        year: whole(year, 4)?.cast_signed(),
        month: whole(month, 2)?,
        day: whole(day, 2)?,
        hour,
        minute,
    };
    Some((stamp.checked()?, offset))
}

/// The time without its offset from universal time, and the offset in minutes.
fn split_offset(time: &str) -> Option<(&str, Option<i32>)> {
    if let Some(time) = time.strip_suffix(['Z', 'z']) {
        return Some((time, Some(0)));
    }
    let Some(at) = time.find(['+', '-']) else { return Some((time, None)) };
    let (time, offset) = time.split_at(at);
    let digits: String = offset.chars().skip(1).filter(|c| *c != ':').collect();
    let number = whole(&digits, 4)?;
    let (hours, minutes) = match digits.len() {
        2 => (number, 0),
        4 => (number / 100, number % 100),
        _ => return None,
    };
    let minutes = (hours * 60 + minutes).cast_signed();
    Some((time, Some(if offset.starts_with('-') { -minutes } else { minutes })))
}
