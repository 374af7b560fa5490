//! Typical-year files of the public TMY3 layout.
//!
//! Line 1: station number, name, state, time zone (h), latitude, longitude (degrees), altitude (m). Line 2: column names.
//! Then 8760 rows, stamped with the end of their hour (01:00 to 24:00), months taken from different years; each quantity is followed by columns
//! that tell its source and uncertainty, so columns are found by name. Missing values are −9900.
//!
//! Source: S. Wilcox & W. Marion, Users Manual for TMY3 Data Sets, NREL/TP-581-43156, 2008 (layout also as in the files themselves).

use super::assemble::Assembly;
use super::calendar::{Stamp, whole};
use super::cell::{Column, shortened};
use super::error::{SiteFigure, TimeForm, WeatherError};
use super::hours::{LARGEST_FILE, Layout, Measure, ReadOptions, Site, Weather};

/// Names of the columns that are read, with their factor to the unit of [`Measure`].
const COLUMNS: [(&str, Measure, f64); 6] = [
    ("Dry-bulb (C)", Measure::Temperature, 1.0),
    ("Dew-point (C)", Measure::DewPoint, 1.0),
    ("RHum (%)", Measure::Humidity, 0.01),
    ("Pressure (mbar)", Measure::Pressure, 100.0),
    ("Wspd (m/s)", Measure::WindSpeed, 1.0),
    ("Wdir (degrees)", Measure::WindDirection, 1.0),
];

const DATE: &str = "Date (MM/DD/YYYY)";
const TIME: &str = "Time (HH:MM)";

/// Reads a file of the TMY3 layout. Any bytes are read without a panic; names in another encoding than UTF-8 lose letters.
///
/// # Errors
/// [`WeatherError`] with the line and, where it is one field, the column.
pub fn read(bytes: &[u8], options: &ReadOptions) -> Result<Weather, WeatherError> {
    let text = text_of(bytes)?;
    let mut rows = rows_of(&text);
    let (line, station) = rows.next().ok_or(WeatherError::Empty)??;
    let site = site(&station, line)?;
    let names = rows.next().ok_or(WeatherError::NoColumns { line: line + 1, wanted: DATE })?;
    let (line, names) = names?;
    let date = find(&names, DATE, line)?;
    let time = find(&names, TIME, line)?;
    let mut columns = Vec::new();
    for (name, measure, factor) in COLUMNS {
        let index = match find(&names, name, line) {
            Ok(index) => index,
            // What may be missing: pressure follows from altitude, humidity from the dew point or the other way round.
            Err(_) if measure != Measure::Temperature => continue,
            Err(missing) => return Err(missing),
        };
        columns.push(Column { measure, index, name: name.into(), factor, offset: 0.0 });
    }
    let has = |measure| columns.iter().any(|column| column.measure == measure);
    if !has(Measure::Humidity) && !has(Measure::DewPoint) {
        find(&names, "RHum (%)", line)?;
    }
    let mut year = Assembly::new(&columns, options);
    for row in rows {
        let (line, row) = row?;
        let needed = date.max(time) + 1;
        if row.len() < needed {
            return Err(WeatherError::ShortRow { line, fields: row.len(), needed });
        }
        year.dated_row(stamp(&row[date], &row[time], line)?, true, &row, line)?;
    }
    year.finish(site, Layout::Tmy3, true, Vec::new())
}

/// Whether the first line is that of a TMY3 station: seven fields, the first a number.
pub(super) fn looks_like(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let first = bytes.split(|b| *b == b'\n').next().unwrap_or_default();
    let first = String::from_utf8_lossy(&first[..first.len().min(1000)]);
    let row = rows_of(&first).next();
    row.is_some_and(|row| {
        row.is_ok_and(|(_, row)| {
            row.len() == 7
                && whole(row[0].trim(), 6).is_some()
                && row[3].trim().parse::<f64>().is_ok()
        })
    })
}

/// The text of a file that is not too large.
pub(super) fn text_of(bytes: &[u8]) -> Result<String, WeatherError> {
    if bytes.len() > LARGEST_FILE {
        return Err(WeatherError::TooLarge { bytes: bytes.len(), limit: LARGEST_FILE });
    }
    let text = String::from_utf8_lossy(bytes);
    Ok(text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned())
}

/// Rows with their line numbers; remarks and blank lines are left out.
pub(super) fn rows_of(
    text: &str,
) -> impl Iterator<Item = Result<(u64, csv::StringRecord), WeatherError>> + '_ {
    let reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    reader.into_records().map(|row| match row {
        Ok(row) => Ok((row.position().map_or(0, |start| line_of(text, start)), row)),
        Err(error) => Err(WeatherError::Unreadable {
            line: error.position().map_or(0, csv::Position::line),
            reason: error.to_string(),
        }),
    })
}

/// Line of a row: what is passed over before it counts too.
fn line_of(text: &str, start: &csv::Position) -> u64 {
    let bytes = text.as_bytes().get(start.byte() as usize..).unwrap_or_default();
    let passed_over = |line: &&[u8]| matches!(line, [] | [b'\r'] | [b'#', ..]);
    start.line() + bytes.split(|b| *b == b'\n').take_while(passed_over).count() as u64
}

fn find(names: &csv::StringRecord, wanted: &'static str, line: u64) -> Result<usize, WeatherError> {
    names
        .iter()
        .position(|name| name.eq_ignore_ascii_case(wanted))
        .ok_or_else(|| WeatherError::MissingColumn { line, wanted, found: listed(names) })
}

/// Names for a message, not too many.
pub(super) fn listed(names: &csv::StringRecord) -> String {
    let shown: Vec<String> = names.iter().take(12).map(shortened).collect();
    let more = if names.len() > shown.len() { ", …" } else { "" };
    shown.join(", ") + more
}

fn site(row: &csv::StringRecord, line: u64) -> Result<Site, WeatherError> {
    if row.len() < 7 {
        return Err(WeatherError::ShortRow { line, fields: row.len(), needed: 7 });
    }
    let number = |index: usize, which, low, high| figure(&row[index], line, which, low, high);
    let place = [&row[1], &row[2]];
    let name = place.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(", ");
    Ok(Site {
        name: Some(format!("{} {name}", &row[0]).trim().to_owned()),
        time_zone_h: Some(number(3, SiteFigure::TimeZone, -14.0, 14.0)?),
        latitude_deg: Some(number(4, SiteFigure::Latitude, -90.0, 90.0)?),
        longitude_deg: Some(number(5, SiteFigure::Longitude, -180.0, 180.0)?),
        altitude_m: Some(number(6, SiteFigure::Altitude, -500.0, 6000.0)?),
    })
}

/// A figure about the place.
pub(super) fn figure(
    text: &str,
    line: u64,
    figure: SiteFigure,
    low: f64,
    high: f64,
) -> Result<f64, WeatherError> {
    let value = text.trim().parse::<f64>().ok().filter(|value| *value >= low && *value <= high);
    value.ok_or_else(|| WeatherError::BadSite { line, text: shortened(text), figure })
}

/// `MM/DD/YYYY` and `HH:MM`.
fn stamp(date: &str, time: &str, line: u64) -> Result<Stamp, WeatherError> {
    let stamp = || {
        let mut date = date.split('/');
        let (month, day, year) = (date.next()?, date.next()?, date.next()?);
        let (hour, minute) = time.split_once(':')?;
        let year = whole(year, 4)?.cast_signed();
        let (month, day) = (whole(month, 2)?, whole(day, 2)?);
        let (hour, minute) = (whole(hour, 2)?, whole(minute, 2)?);
        let is_whole = date.next().is_none();
        Stamp { year, month, day, hour, minute }.checked().filter(|_| is_whole)
    };
    stamp().ok_or_else(|| WeatherError::BadTime {
        line,
        text: shortened(&format!("{date} {time}")),
        wanted: TimeForm::DateAndEnd,
    })
}
