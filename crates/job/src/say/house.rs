//! What does not go together of weather, house and habits.

use dewpath_message::messages;
use dewpath_message::slot::{Count, FactorRatio, Name, Reference};

messages! {
    enum Whole {
        OverrideWithoutReason = "job.house.override-without-reason",
        LimitsCrossed = "job.house.limits-crossed",
        NoTerminal = "job.house.no-terminal",
        NothingToCheck = "job.house.nothing-to-check",
        LeakageTwice = "job.house.leakage-twice",
        OpensBeyondGlazed = "job.house.opens-beyond-glazed",
    }

    enum House {
        WeatherEmpty = "job.house.weather-empty",
        MonthsBesideWeather = "job.house.months-beside-weather",
        MoistureTwice = "job.house.moisture-twice",
        HeatedAboveCooled = "job.house.heated-above-cooled",
        SetPointWithoutCooling = "job.house.set-point-without-cooling",
        AirflowWithoutVentilation = "job.house.airflow-without-ventilation",
        RecoveryOneWay = "job.house.recovery-one-way",
        PauseBesideTimes = "job.house.pause-beside-times",
        LeftOnNeverOn = "job.house.left-on-never-on",
        BandTooWide = "job.house.band-too-wide",
        RunOnBeyondMost = "job.house.run-on-beyond-most",
        CoverWithoutBuried = "job.house.cover-without-buried",
    }

    struct DewPointAboveAir { month: Count } = "job.house.dew-point-above-air"

    struct ShowersAndTimes { room: Name, showers: Count, times: Count } = "job.house.showers-and-times"

    struct ShowersTogether { time: Reference } = "job.house.showers-together"

    struct OffProduct { path: Name, times: FactorRatio } = OffProductKey {
        Area = "job.house.area",
        Volume = "job.house.volume",
    }
}
