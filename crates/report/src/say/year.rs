//! What is said of rooms and dwelling through a year.

use dewpath_message::messages;
use dewpath_message::slot::{
    Count, EnergyKwh, HumidityRatio, LengthM, MassKg, MouldRatio, Name, Reference, ShareRatio,
    TemperatureC, TimeH, Word,
};

messages! {
    enum RoomYearMissing {
        NoWeather = "room.year.no-weather",
        NotFollowed = "room.year.not-followed",
    }

    struct RoomYearWetHours { time: TimeH, limit: TimeH } = RoomYearWetHoursKey {
        Holds = "room.year.wet-hours.holds",
        Found = "room.year.wet-hours.found",
    }

    struct RoomYearMirror { share: ShareRatio } = RoomYearMirrorKey {
        Holds = "room.year.mirror.holds",
        Found = "room.year.mirror.found",
    }

    struct RoomYearMirrorNone {} = "room.year.mirror.none"

    struct RoomYearEnergy {
        time: TimeH,
        heat: EnergyKwh,
        electricity: Option<EnergyKwh>,
    } = RoomYearEnergyKey {
        Plain = "room.year.energy",
        NoWatts = "room.year.energy.no-watts",
    }

    struct RoomMould { index: MouldRatio, own: MouldRatio, surface: Name } = RoomMouldKey {
        Found = "room.mould.found",
        Band = "room.mould.band",
        Holds = "room.mould.holds",
    }

    struct RoomHumidityRunningMean {
        humidity: HumidityRatio,
        limit: HumidityRatio,
        surface: Name,
    } = RoomHumidityRunningMeanKey {
        Holds = "room.humidity.running-mean.holds",
        Found = "room.humidity.running-mean.found",
    }

    struct DwellingHumidNeverStops {
        room: Name,
        fan: TimeH,
        months: Count,
        first: Option<Word>,
        last: Option<Word>,
        set_point: HumidityRatio,
        mean: HumidityRatio,
        made_up: EnergyKwh,
        electricity: Option<EnergyKwh>,
    } = "dwelling.humid.never-stops"

    struct DwellingHumid { time: TimeH, mean: HumidityRatio, limit: TimeH } = DwellingHumidKey {
        Holds = "dwelling.humid.holds",
        Found = "dwelling.humid.found",
    }

    struct DwellingHumidity {
        humidity: HumidityRatio,
        needed: MassKg,
        people: MassKg,
    } = "dwelling.humidity"

    struct WeatherFrom {
        climate: Option<Name>,
        place: Option<Name>,
        mean: Option<TemperatureC>,
        low: Option<TemperatureC>,
        high: Option<TemperatureC>,
    } = WeatherFromKey {
        TypicalYear = "weather.from.typical-year",
        Table = "weather.from.table",
        Months = "weather.from.months",
        Climate = "weather.from.climate",
    }

    enum WeatherNote {
        HourEnding = "weather.note.hour-ending",
        LeapDay = "weather.note.leap-day",
        ConstantPressure = "weather.note.constant-pressure",
        NoWind = "weather.note.no-wind",
        StationWind = "weather.note.station-wind",
        NoSpells = "weather.note.no-spells",
    }

    struct WeatherNoteWithinHour { time: TimeH } = "weather.note.within-hour"

    struct WeatherNoteSplices {
        count: Count,
        first: Reference,
        last: Reference,
    } = "weather.note.splices"

    struct WeatherNoteRepeated { count: Count, line: Reference } = "weather.note.repeated"

    struct WeatherNoteMissing { count: Count } = "weather.note.missing"

    struct WeatherNoteFilled {
        measure: Word,
        count: Count,
        longest: Count,
    } = "weather.note.filled"

    struct WeatherNoteRejected {
        measure: Word,
        count: Count,
        line: Reference,
    } = "weather.note.rejected"

    struct WeatherNoteDewPoint { count: Count } = "weather.note.dew-point"

    struct WeatherNoteAboveSaturation { count: Count } = "weather.note.above-saturation"

    struct WeatherNoteOverWater { count: Count, clipped: Count } = "weather.note.over-water"

    struct WeatherNoteAltitude { altitude: LengthM } = "weather.note.altitude"

    struct WeatherNoteUnread { columns: Name } = "weather.note.unread"

    struct WeatherNoteTooDamp { month: Reference } = "weather.note.too-damp"
}
