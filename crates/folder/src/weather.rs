//! What is told of weather that cannot be used.
//!
//! An error of `moisture` has the words of a developer, who may use that crate without this program; people are told the
//! message of its kind in their language.

use dewpath_message::slot::{Count, Name, Reference, Word};
use dewpath_message::{Message, Triple};
use dewpath_moisture::weather::{Measure, SiteFigure, TimeForm, WeatherError};

use crate::say;

/// What is told of an error.
pub(crate) fn said(error: &WeatherError) -> Message {
    match error {
        WeatherError::Empty => say::Weather::Empty.into(),
        WeatherError::TooLarge { bytes, limit } => {
            say::TooLarge { bytes: count(*bytes as u64), limit: count(*limit as u64) }.into()
        }
        WeatherError::Unreadable { line, reason } => {
            say::Unreadable { line: count(*line), said: Reference::new(reason) }.into()
        }
        WeatherError::MissingColumn { line, wanted, found } => say::MissingColumn {
            line: count(*line),
            wanted: Reference::new(*wanted),
            found: Name::new(found),
        }
        .into(),
        WeatherError::MissingOneOf { line, wanted, found } => one_of(*line, wanted, found),
        WeatherError::NoColumns { line, wanted } => {
            say::NoColumns { line: count(*line), wanted: Reference::new(*wanted) }.into()
        }
        WeatherError::RepeatedTime { line, first, second } => say::RepeatedTime {
            line: count(*line),
            first: Name::new(first),
            second: Name::new(second),
        }
        .into(),
        WeatherError::RepeatedColumn { line, first, second, measure } => say::RepeatedColumn {
            line: count(*line),
            first: Name::new(first),
            second: Name::new(second),
            measure: measured(*measure),
        }
        .into(),
        WeatherError::BadSite { line, text, figure } => {
            say::BadSite { line: count(*line), text: Name::new(text), figure: site(*figure) }.into()
        }
        WeatherError::ShortRow { line, fields, needed } => say::ShortRow {
            line: count(*line),
            fields: count(*fields as u64),
            needed: count(*needed as u64),
        }
        .into(),
        WeatherError::BadNumber { line, column, text } => {
            say::BadNumber { line: count(*line), column: Name::new(column), text: Name::new(text) }
                .into()
        }
        WeatherError::BadTime { line, text, wanted } => {
            say::BadTime { line: count(*line), text: Name::new(text), wanted: time(*wanted) }.into()
        }
        WeatherError::NotHourly { line, minute, first_minute } => say::NotHourly {
            line: count(*line),
            minute: count((*minute).into()),
            first_minute: count((*first_minute).into()),
        }
        .into(),
        WeatherError::ClockChanged { line } => {
            say::OfLine { key: say::OfLineKey::ClockChanged, line: count(*line) }.into()
        }
        WeatherError::TooManyRows { line } => {
            say::OfLine { key: say::OfLineKey::TooManyRows, line: count(*line) }.into()
        }
        WeatherError::TooFewRows { rows, last_line } => {
            say::TooFewRows { rows: count(*rows as u64), last_line: count(*last_line) }.into()
        }
        WeatherError::Gap { measure, hours, limit_h, after_line, before_line } => say::Gap {
            measure: measured(*measure),
            hours: count(*hours as u64),
            after_line: count(*after_line),
            before_line: count(*before_line),
            limit: count(*limit_h as u64),
        }
        .into(),
        WeatherError::NoPressure => say::Weather::NoPressure.into(),
        WeatherError::OutOfDomain(error) => {
            say::OutOfDomain { said: Reference::new(error.to_string()) }.into()
        }
    }
}

/// Which of two or three columns would do.
fn one_of(line: u64, wanted: &[&str], found: &str) -> Message {
    let mut names = wanted.iter().rev().copied().map(Reference::new);
    let last = names.next().unwrap_or_else(|| Reference::new(""));
    let (second, first) = (names.next(), names.next());
    say::MissingOneOf { line: count(line), first, second, last, found: Name::new(found) }.into()
}

fn count(number: u64) -> Count {
    Count(Triple::exact(number as f64))
}

fn measured(measure: Measure) -> Word {
    let said = match measure {
        Measure::Temperature => say::Measured::Temperature,
        Measure::Humidity => say::Measured::Humidity,
        Measure::DewPoint => say::Measured::DewPoint,
        Measure::Pressure => say::Measured::Pressure,
        Measure::WindSpeed => say::Measured::WindSpeed,
        Measure::WindDirection => say::Measured::WindDirection,
    };
    Word::new(said.key())
}

fn site(figure: SiteFigure) -> Word {
    let said = match figure {
        SiteFigure::TimeZone => say::Site::TimeZone,
        SiteFigure::Latitude => say::Site::Latitude,
        SiteFigure::Longitude => say::Site::Longitude,
        SiteFigure::Altitude => say::Site::Altitude,
    };
    Word::new(said.key())
}

fn time(form: TimeForm) -> Word {
    let said = match form {
        TimeForm::DateAndTime => say::Time::DateAndTime,
        TimeForm::DateAndEnd => say::Time::DateAndEnd,
        TimeForm::HourOfYear => say::Time::HourOfYear,
        TimeForm::WithinYear => say::Time::WithinYear,
    };
    Word::new(said.key())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use std::collections::BTreeSet;
    use std::sync::Arc;

    use dewpath_message::{Speak, Value};
    use dewpath_units::Length;
    use dewpath_words::{Catalogue, Speaker};

    use super::*;

    const MEASURES: [Measure; 6] = [
        Measure::Temperature,
        Measure::Humidity,
        Measure::DewPoint,
        Measure::Pressure,
        Measure::WindSpeed,
        Measure::WindDirection,
    ];
    const FIGURES: [SiteFigure; 4] =
        [SiteFigure::TimeZone, SiteFigure::Latitude, SiteFigure::Longitude, SiteFigure::Altitude];
    const FORMS: [TimeForm; 4] =
        [TimeForm::DateAndTime, TimeForm::DateAndEnd, TimeForm::HourOfYear, TimeForm::WithinYear];

    /// Errors of every kind.
    fn errors() -> Vec<WeatherError> {
        let text = String::from;
        let space = Length::from_m(1e6);
        let beyond = dewpath_air::atmosphere::standard_pressure(space).unwrap_err();
        let mut all = vec![
            WeatherError::Empty,
            WeatherError::TooLarge { bytes: 123_456_789, limit: 30_000_000 },
            WeatherError::Unreadable { line: 7, reason: text("an odd byte") },
            WeatherError::MissingColumn { line: 2, wanted: "Date", found: text("a, b, …") },
            WeatherError::NoColumns { line: 2, wanted: "Date" },
            WeatherError::RepeatedTime { line: 1, first: text("time"), second: text("hour") },
            WeatherError::ShortRow { line: 12345, fields: 3, needed: 4 },
            WeatherError::BadNumber { line: 12, column: text("x"), text: text("warm") },
            WeatherError::NotHourly { line: 12, minute: 15, first_minute: 0 },
            WeatherError::ClockChanged { line: 12 },
            WeatherError::TooManyRows { line: 8810 },
            WeatherError::TooFewRows { rows: 48, last_line: 50 },
            WeatherError::NoPressure,
            WeatherError::OutOfDomain(beyond),
        ];
        let columns: [&[&str]; 3] =
            [&["hour"], &["time", "hour"], &["time", "time_ending", "hour"]];
        all.extend(columns.map(|wanted| WeatherError::MissingOneOf {
            line: 1,
            wanted,
            found: text("when"),
        }));
        for measure in MEASURES {
            let (first, second) = (text("a_c"), text("a_f"));
            all.push(WeatherError::RepeatedColumn { line: 1, first, second, measure });
            let (after_line, before_line) = (0, 8762);
            all.push(WeatherError::Gap { measure, hours: 30, limit_h: 6, after_line, before_line });
        }
        all.extend(FIGURES.map(|figure| WeatherError::BadSite {
            line: 1,
            text: text("x"),
            figure,
        }));
        all.extend(FORMS.map(|wanted| WeatherError::BadTime { line: 3, text: text(""), wanted }));
        all
    }

    #[test]
    fn english_says_what_a_developer_reads() {
        for error in errors() {
            assert_eq!(Speaker::metric().say(&said(&error)), error.to_string());
        }
    }

    #[test]
    fn every_message_of_weather_is_said_and_none_is_left_a_key_in_another_language() {
        let spanish = Speaker::new(Arc::new(Catalogue::built_in("es").unwrap()), "metric");
        let mut left: BTreeSet<String> =
            say::DECLARED.iter().copied().flatten().map(|message| message.key.to_owned()).collect();
        left.retain(|key| key.starts_with("folder.weather."));
        for error in errors() {
            let message = said(&error);
            let told = spanish.say(&message);
            assert!(!told.contains("folder."), "{told}");
            let words = message.values.values().filter_map(|value| match value {
                Value::Word(key) => Some(key),
                _ => None,
            });
            for key in words.chain([&message.key]) {
                left.remove(key);
            }
        }
        assert!(left.is_empty(), "nothing says {left:?}");
    }
}
