//! Why a weather file cannot be used, where, and how to go on.

use std::fmt;

use dewpath_air::domain::OutOfDomain;

use super::hours::Measure;

/// Why a weather file cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WeatherError {
    /// Nothing but blank lines.
    #[error("the weather file is empty")]
    Empty,
    /// Larger than any year of hours.
    #[error("the weather file has {bytes} bytes, {limit} are read: give one year of hourly rows")]
    TooLarge {
        /// Its size.
        bytes: usize,
        /// The largest size that is read.
        limit: usize,
    },
    /// The table cannot be taken apart.
    #[error("line {line}: {reason}; write one row a line, fields parted by commas")]
    Unreadable {
        /// Line, from 1.
        line: u64,
        /// What the reader of tables says.
        reason: String,
    },
    /// A column that is needed is not there.
    #[error("line {line}: no column {wanted}; there are: {found}")]
    MissingColumn {
        /// Line of the column names.
        line: u64,
        /// Its name.
        wanted: &'static str,
        /// What is there.
        found: String,
    },
    /// None of several columns is there, of which one is needed.
    #[error("line {line}: no column {}; there are: {found}", alternatives(wanted))]
    MissingOneOf {
        /// Line of the column names.
        line: u64,
        /// Their names.
        wanted: &'static [&'static str],
        /// What is there.
        found: String,
    },
    /// The line of the column names is not there.
    #[error("line {line}: no column {wanted}; there are: nothing")]
    NoColumns {
        /// Where it should be.
        line: u64,
        /// The first column that is needed.
        wanted: &'static str,
    },
    /// Two columns tell the hour.
    #[error("line {line}: columns `{first}` and `{second}` both give the time: keep one")]
    RepeatedTime {
        /// Line of the column names.
        line: u64,
        /// A column.
        first: String,
        /// The other.
        second: String,
    },
    /// Two columns say the same.
    #[error("line {line}: columns `{first}` and `{second}` both give the {measure}: keep one")]
    RepeatedColumn {
        /// Line of the column names.
        line: u64,
        /// A column.
        first: String,
        /// The other.
        second: String,
        /// What both give.
        measure: Measure,
    },
    /// A figure about the place makes no sense.
    #[error("line {line}: `{text}` is no {figure}")]
    BadSite {
        /// Line, from 1.
        line: u64,
        /// What stands there.
        text: String,
        /// What should.
        figure: SiteFigure,
    },
    /// A row has too few fields.
    #[error("line {line} has {fields} fields, {needed} are needed: it may be cut off")]
    ShortRow {
        /// Line, from 1.
        line: u64,
        /// Fields that are there.
        fields: usize,
        /// Fields that are needed.
        needed: usize,
    },
    /// A field is no number.
    #[error(
        "line {line}, column `{column}`: `{text}` is no number; leave the field empty where nothing was measured"
    )]
    BadNumber {
        /// Line, from 1.
        line: u64,
        /// Name of the column.
        column: String,
        /// What stands there.
        text: String,
    },
    /// A time cannot be read.
    #[error("line {line}: `{text}` is no time; {wanted}")]
    BadTime {
        /// Line, from 1.
        line: u64,
        /// What stands there.
        text: String,
        /// What is expected.
        wanted: TimeForm,
    },
    /// Rows do not follow hour by hour.
    #[error(
        "line {line}: {minute} minutes past the hour, {first_minute} in the rows before; give one row an hour (average shorter steps)"
    )]
    NotHourly {
        /// Line, from 1.
        line: u64,
        /// Minute of the row.
        minute: u32,
        /// Minute of the first row.
        first_minute: u32,
    },
    /// The clock was changed within the record.
    #[error(
        "line {line}: the offset from universal time changes; write all times in local standard time"
    )]
    ClockChanged {
        /// Line, from 1.
        line: u64,
    },
    /// More rows than a year has hours.
    #[error("line {line}: more rows than a year has hours; give one year")]
    TooManyRows {
        /// Line of the first row that is too many.
        line: u64,
    },
    /// Far fewer rows than a year has hours.
    #[error("{rows} hourly rows up to line {last_line}; a year of 8760 (or 8784) is needed")]
    TooFewRows {
        /// Rows that are there.
        rows: usize,
        /// Last line.
        last_line: u64,
    },
    /// A gap that is too long to be filled.
    #[error(
        "no usable {measure} for {hours} hours between lines {after_line} and {before_line}; gaps up to {limit_h} hours are filled: \
         give those hours, allow longer gaps, or look whether the column's unit is right"
    )]
    Gap {
        /// Of what.
        measure: Measure,
        /// Length, hours.
        hours: usize,
        /// Longest that is filled, hours.
        limit_h: usize,
        /// Last line with a value before the gap (0 if none in the file).
        after_line: u64,
        /// First line with a value after the gap (0 if none in the file).
        before_line: u64,
    },
    /// Neither pressure nor altitude is known.
    #[error(
        "neither pressure nor altitude is known: give a column `pressure_pa` or the site's altitude"
    )]
    NoPressure,
    /// A value no air has.
    #[error(transparent)]
    OutOfDomain(#[from] OutOfDomain),
}

/// A figure about the place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SiteFigure {
    /// Time zone, hours.
    TimeZone,
    /// Latitude, degrees.
    Latitude,
    /// Longitude, degrees.
    Longitude,
    /// Altitude, metres.
    Altitude,
}

/// How a row tells its hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeForm {
    /// Date and time of ISO 8601.
    DateAndTime,
    /// Date, and the end of the hour.
    DateAndEnd,
    /// The number of the hour in the year.
    HourOfYear,
    /// The same, no more than a year has.
    WithinYear,
}

/// Names in quotes, as `a`, `b` or `c`.
fn alternatives(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match &quoted[..] {
        [some @ .., last] if !some.is_empty() => format!("{} or {last}", some.join(", ")),
        _ => quoted.concat(),
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Temperature => "temperature",
            Self::Humidity => "humidity",
            Self::DewPoint => "dew point",
            Self::Pressure => "pressure",
            Self::WindSpeed => "wind speed",
            Self::WindDirection => "wind direction",
        })
    }
}

impl fmt::Display for SiteFigure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::TimeZone => "time zone in hours",
            Self::Latitude => "latitude in degrees",
            Self::Longitude => "longitude in degrees",
            Self::Altitude => "altitude in metres",
        })
    }
}

impl fmt::Display for TimeForm {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::DateAndTime => "a date and time such as 2021-01-31T13:00 is expected",
            Self::DateAndEnd => {
                "a date MM/DD/YYYY and the end of an hour, 01:00 to 24:00, are expected"
            }
            Self::HourOfYear => "the number of an hour of the year is expected",
            Self::WithinYear => "a year has 8760 hours, or 8784",
        })
    }
}
