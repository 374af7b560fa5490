//! A followed year as the report tells it.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_message::slot::{Count, LengthM, Name, Reference, TemperatureC, TimeH, Word};
use dewpath_moisture::weather::{Layout, Measure, Origin, Quirk, Statistics, Weather, statistics};
use dewpath_report::say::{
    Judgement, WeatherFrom, WeatherFromKey, WeatherNote, WeatherNoteAboveSaturation,
    WeatherNoteAltitude, WeatherNoteDewPoint, WeatherNoteFilled, WeatherNoteMissing,
    WeatherNoteOverWater, WeatherNoteRejected, WeatherNoteRepeated, WeatherNoteSplices,
    WeatherNoteTooDamp, WeatherNoteUnread, WeatherNoteWithinHour, What,
};
use dewpath_report::{
    Assumption, DwellingYear, Figure, Message, Money, RoomMonth, RoomYear, Source, Triple,
};

use super::conditions::{AIRING_PER_H, COOLING_C};
use super::duct::RunYear;
use super::follow::{Followed, Watched};
use crate::dry::months::hours_of;
use crate::dry::plan::RoomPlan;

pub(super) const J_PER_KWH: f64 = 3.6e6;

/// A room's year.
pub(super) fn room(case: &Case<'_>, of: &Followed) -> RoomYear {
    let worst = worst(of);
    let months: Vec<RoomMonth> = (0..12).map(|month| room_month(of, month)).collect();
    let showers: u32 = of.year.months.iter().map(|m| m.showers).sum();
    let soon: u32 = of.year.months.iter().map(|m| m.clear_soon).sum();
    RoomYear {
        hours_above_80_h: months.iter().map(|m| m.hours_above_80_h).sum(),
        mould_peak_ratio: worst.as_ref().map_or(Triple::exact(0.0), |w| w.peak),
        mould_surface: worst.map_or_else(String::new, |w| w.watched.id.clone()),
        running_humidity_ratio: of.growth.iter().map(|g| g.running_peak).fold(0.0, f64::max),
        fan_h: months.iter().map(|m| m.fan_h).sum(),
        energy_kwh: energy_kwh(of),
        air_heat_kwh: heat_kwh(of) + cold_kwh(of),
        cost: cost(case, of),
        clear_in_half_an_hour_ratio: (showers > 0).then(|| f64::from(soon) / f64::from(showers)),
        water_residual_ratio: of.year.water_residual,
        energy_residual_ratio: of.year.energy_residual,
        months,
    }
}

fn room_month(of: &Followed, month: usize) -> RoomMonth {
    let m = &of.year.months[month];
    RoomMonth {
        month: month as u32 + 1,
        outdoor_c: m.outdoor_c,
        humidity_ratio: m.humidity,
        dwelling_humidity_ratio: m.house_humidity,
        hours_above_80_h: m.wet_s / 3600.0,
        fan_h: m.fan_s / 3600.0,
        energy_kwh: of.fan_w.map(|_| m.electric_j / J_PER_KWH),
        air_heat_kwh: (of.heat_j[month] + of.cold_j[month]) / J_PER_KWH,
        mould_ratio: of.mould[month],
        mirror_time_s: (m.showers > 0).then(|| m.mirror_s / f64::from(m.showers)),
        carried_off_kg: m.exhausted_kg,
    }
}

/// Water left in a run, month by month, g.
pub(super) fn months_g(of: &RunYear) -> Vec<f64> {
    of.months_kg.iter().map(|kg| 1000.0 * kg).collect()
}

/// The surface on which most mould is to be feared.
pub(super) struct Worst<'a> {
    pub watched: &'a Watched,
    /// Highest index with the class one step more resistant, its own, one step more sensitive.
    pub peak: Triple,
    /// Highest 30-day mean of humidity at it.
    pub running: f64,
}

/// Worst by its own class, then by the more sensitive one, then by its humidity.
pub(super) fn worst(of: &Followed) -> Option<Worst<'_>> {
    let all = of.watched.iter().zip(&of.growth).map(|(watched, growth)| {
        let [own, sensitive, resistant] = growth.peaks();
        let peak = Triple { low: resistant.min(own), likely: own, high: sensitive.max(own) };
        Worst { watched, peak, running: growth.running_peak }
    });
    all.max_by(|a, b| {
        let by = |of: fn(&Worst<'_>) -> f64| of(a).total_cmp(&of(b));
        by(|w| w.peak.likely).then(by(|w| w.peak.high)).then(by(|w| w.running))
    })
}

/// Electricity of fans and heated mirror; none where the power of a fan is not known.
pub(super) fn energy_kwh(of: &Followed) -> Option<f64> {
    of.fan_w?;
    Some(of.year.months.iter().map(|m| m.electric_j).sum::<f64>() / J_PER_KWH)
}

/// Heat that heating made up, kWh.
pub(super) fn heat_kwh(of: &Followed) -> f64 {
    of.heat_j.iter().sum::<f64>() / J_PER_KWH
}

/// Heat and vapour that cooling took out, kWh.
pub(super) fn cold_kwh(of: &Followed) -> f64 {
    of.cold_j.iter().sum::<f64>() / J_PER_KWH
}

/// What electricity, heat and cold cost; none where a price of something that is used is not written.
pub(super) fn cost(case: &Case<'_>, of: &Followed) -> Option<Money> {
    let prices = &case.job.dwelling.prices;
    let part = |kwh: f64, price: Option<f64>| match price {
        Some(price) => Some(kwh * price),
        None => (kwh <= 0.0).then_some(0.0),
    };
    prices.electricity.or(prices.heat).or(prices.cooling)?;
    let amount = part(energy_kwh(of)?, prices.electricity)?
        + part(heat_kwh(of), prices.heat)?
        + part(cold_kwh(of), prices.cooling)?;
    Some(Money { amount, currency: prices.currency.clone() })
}

/// The dwelling's year.
pub(super) fn dwelling(weather: &Weather, of: &Followed) -> DwellingYear {
    DwellingYear {
        weather: source(weather),
        weather_notes: weather.notes.iter().map(note).collect(),
        humidity_ratio: of.year.months.iter().map(|m| m.house_humidity).collect(),
        hours_above_60_h: of.year.damp_s / 3600.0,
        infiltration_l_s: 1000.0 * of.infiltration_m3_s,
        dried_kg: of.year.dried_kg,
        water_residual_ratio: of.year.water_residual,
    }
}

/// Mean humidity of the dwelling over the year.
pub(super) fn mean_house_humidity(of: &Followed) -> f64 {
    let hours: f64 = (0..12).map(hours_of).sum();
    let sum: f64 =
        of.year.months.iter().enumerate().map(|(i, m)| hours_of(i) * m.house_humidity).sum();
    sum / hours.max(1.0)
}

/// What the year takes for given that nobody wrote.
pub(super) fn assumptions(case: &Case<'_>, room: &RoomPlan, of: &Followed) -> Vec<Assumption> {
    let id = &case.job.rooms[room.room].id;
    let mut list = Vec::new();
    let mut note = |at: String, what: What, word: &str, why: Judgement| {
        list.push(Assumption {
            at,
            what: Message::from(what),
            figure: None,
            words: vec![word.to_owned()],
            said_unknown: false,
            source: Source::judgement(why),
        });
    };
    if !of.habits.times_written && of.habits.count > 0 {
        let why = Judgement::MorningShowers;
        note(format!("room.{id}.use.at"), What::ShowerTimes, "from-seven", why);
    }
    if of.habits.baths > 0 {
        let why = Judgement::BathAsShower;
        note(format!("room.{id}.use.baths"), What::Baths, "from-seven-in-the-evening", why);
    }
    if of.habits.left_out > 0 {
        let why = Judgement::ShowersLeftOut;
        note(format!("room.{id}.use.showers"), What::Showers, "as-many-as-fit", why);
    }
    list
}

/// The set-point of the cooling, where the house is cooled and nobody says to what.
pub(super) fn cooling(case: &Case<'_>) -> Option<Assumption> {
    let dwelling = &case.job.dwelling;
    let assumed =
        given::yes(&dwelling.air_conditioning) == Some(true) && !given::is_known(&dwelling.cooling);
    assumed.then(|| Assumption {
        at: "dwelling.cooling".to_owned(),
        what: Message::from(What::Cooling),
        figure: Some(Figure::TemperatureC(Triple::exact(COOLING_C))),
        words: Vec::new(),
        said_unknown: dwelling.cooling.is_some(),
        source: Source::practice(),
    })
}

/// Windows that are opened while nothing heats or cools.
pub(super) fn airing() -> Assumption {
    Assumption {
        at: "dwelling.airing".to_owned(),
        what: Message::from(What::Airing),
        figure: Some(Figure::AirChangesPerH(Triple::exact(AIRING_PER_H))),
        words: Vec::new(),
        said_unknown: false,
        source: Source::judgement(Judgement::WindowsAjar),
    }
}

fn celsius(t_c: f64) -> TemperatureC {
    TemperatureC(Triple::exact(t_c))
}

fn count(n: usize) -> Count {
    Count(Triple::exact(n as f64))
}

/// Where the hours come from.
pub(super) fn source(weather: &Weather) -> Message {
    let (key, climate) = match weather.origin {
        Origin::File(Layout::Tmy3) => (WeatherFromKey::TypicalYear, None),
        Origin::File(Layout::Plain) => (WeatherFromKey::Table, None),
        Origin::Monthly => (WeatherFromKey::Months, None),
        Origin::Climate(id) => (WeatherFromKey::Climate, Some(Name::new(id))),
    };
    let place = weather.site.name.as_ref().map(|name| Name::new(name.trim()));
    let year = statistics(&weather.hours);
    let of = |of: fn(&Statistics) -> f64| year.as_ref().map(|year| celsius(of(year)));
    let [mean, low, high] = [of(|s| s.t_mean_c), of(|s| s.t_min_c), of(|s| s.t_max_c)];
    WeatherFrom { key, climate, place, mean, low, high }.into()
}

fn measure(measure: Measure) -> &'static str {
    match measure {
        Measure::Temperature => "measure.temperature",
        Measure::Humidity => "measure.humidity",
        Measure::DewPoint => "measure.dew-point",
        Measure::Pressure => "measure.pressure",
        Measure::WindSpeed => "measure.wind-speed",
        Measure::WindDirection => "measure.wind-direction",
    }
}

/// What was odd about the weather, and what was done about it.
fn note(quirk: &Quirk) -> Message {
    match quirk {
        Quirk::HourEnding => Message::from(WeatherNote::HourEnding),
        Quirk::WithinHour { minute } => Message::from(WeatherNoteWithinHour {
            time: TimeH(Triple::exact(f64::from(*minute) / 60.0)),
        }),
        Quirk::MonthSplices { jumps, first_year, last_year } => Message::from(WeatherNoteSplices {
            count: count(*jumps),
            first: Reference::new(first_year.to_string()),
            last: Reference::new(last_year.to_string()),
        }),
        Quirk::LeapDayDropped => Message::from(WeatherNote::LeapDay),
        Quirk::RepeatedHours { hours, first_line } => Message::from(WeatherNoteRepeated {
            count: count(*hours),
            line: Reference::new(first_line.to_string()),
        }),
        Quirk::MissingHours { hours } => Message::from(WeatherNoteMissing { count: count(*hours) }),
        Quirk::Filled { measure: of, hours, longest_h } => Message::from(WeatherNoteFilled {
            measure: Word::new(measure(*of)),
            count: count(*hours),
            longest: count(*longest_h),
        }),
        Quirk::Rejected { measure: of, hours, first_line, .. } => {
            Message::from(WeatherNoteRejected {
                measure: Word::new(measure(*of)),
                count: count(*hours),
                line: Reference::new(first_line.to_string()),
            })
        }
        Quirk::FromDewPoint { hours } => {
            Message::from(WeatherNoteDewPoint { count: count(*hours) })
        }
        Quirk::AboveSaturation { hours } => {
            Message::from(WeatherNoteAboveSaturation { count: count(*hours) })
        }
        Quirk::OverWater { hours, clipped } => {
            Message::from(WeatherNoteOverWater { count: count(*hours), clipped: count(*clipped) })
        }
        Quirk::ConstantPressure { .. } => Message::from(WeatherNote::ConstantPressure),
        Quirk::PressureFromAltitude { altitude_m, .. } => {
            Message::from(WeatherNoteAltitude { altitude: LengthM(Triple::exact(*altitude_m)) })
        }
        Quirk::NoWind => Message::from(WeatherNote::NoWind),
        Quirk::StationWind { .. } => Message::from(WeatherNote::StationWind),
        Quirk::UnreadColumns { names } => {
            Message::from(WeatherNoteUnread { columns: Name::new(names.join(", ")) })
        }
        Quirk::NoSpells => Message::from(WeatherNote::NoSpells),
        Quirk::MonthTooDamp { month, .. } => {
            Message::from(WeatherNoteTooDamp { month: Reference::new(month.to_string()) })
        }
    }
}
