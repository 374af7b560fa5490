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
        /// What would do.
        wanted: &'static str,
        /// What is there.
        found: String,
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
        measure: &'static str,
    },
    /// A figure about the place makes no sense.
    #[error("line {line}: `{text}` is no {what}")]
    BadSite {
        /// Line, from 1.
        line: u64,
        /// What stands there.
        text: String,
        /// What should.
        what: &'static str,
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
        wanted: &'static str,
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

impl Measure {
    /// Its name in a message.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::Humidity => "humidity",
            Self::DewPoint => "dew point",
            Self::Pressure => "pressure",
            Self::WindSpeed => "wind speed",
            Self::WindDirection => "wind direction",
        }
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.name())
    }
}
