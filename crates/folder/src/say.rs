//! What is said when a job cannot be opened.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, Reference, Word};

messages! {
    struct NotHere { file: Name } = "folder.not-here"

    struct NotRight { file: Name, why: Reference } = "folder.not-right"

    struct Books { books: Reference } = "folder.books"

    enum Hint {
        AddFile = "folder.hint.add-file",
        WeatherLayouts = "folder.hint.weather-layouts",
        Amendments = "folder.hint.amendments",
    }

    enum Weather {
        Empty = "folder.weather.empty",
        NoPressure = "folder.weather.no-pressure",
    }

    struct TooLarge { bytes: Count, limit: Count } = "folder.weather.too-large"

    struct Unreadable { line: Count, said: Reference } = "folder.weather.unreadable"

    struct MissingColumn { line: Count, wanted: Reference, found: Name } = "folder.weather.missing-column"

    struct MissingOneOf {
        line: Count,
        first: Option<Reference>,
        second: Option<Reference>,
        last: Reference,
        found: Name,
    } = "folder.weather.missing-one-of"

    struct NoColumns { line: Count, wanted: Reference } = "folder.weather.no-columns"

    struct RepeatedTime { line: Count, first: Name, second: Name } = "folder.weather.repeated-time"

    struct RepeatedColumn { line: Count, first: Name, second: Name, measure: Word } =
        "folder.weather.repeated-column"

    struct BadSite { line: Count, text: Name, figure: Word } = "folder.weather.bad-site"

    struct ShortRow { line: Count, fields: Count, needed: Count } = "folder.weather.short-row"

    struct BadNumber { line: Count, column: Name, text: Name } = "folder.weather.bad-number"

    struct BadTime { line: Count, text: Name, wanted: Word } = "folder.weather.bad-time"

    struct NotHourly { line: Count, minute: Count, first_minute: Count } = "folder.weather.not-hourly"

    struct OfLine { line: Count } = OfLineKey {
        ClockChanged = "folder.weather.clock-changed",
        TooManyRows = "folder.weather.too-many-rows",
    }

    struct TooFewRows { rows: Count, last_line: Count } = "folder.weather.too-few-rows"

    struct Gap { measure: Word, hours: Count, after_line: Count, before_line: Count, limit: Count } =
        "folder.weather.gap"

    struct OutOfDomain { said: Reference } = "folder.weather.out-of-domain"

    enum Measured {
        Temperature = "folder.weather.temperature",
        Humidity = "folder.weather.humidity",
        DewPoint = "folder.weather.dew-point",
        Pressure = "folder.weather.pressure",
        WindSpeed = "folder.weather.wind-speed",
        WindDirection = "folder.weather.wind-direction",
    }

    enum Site {
        TimeZone = "folder.weather.time-zone",
        Latitude = "folder.weather.latitude",
        Longitude = "folder.weather.longitude",
        Altitude = "folder.weather.altitude",
    }

    enum Time {
        DateAndTime = "folder.weather.date-and-time",
        DateAndEnd = "folder.weather.date-and-end",
        HourOfYear = "folder.weather.hour-of-year",
        WithinYear = "folder.weather.within-year",
    }
}
