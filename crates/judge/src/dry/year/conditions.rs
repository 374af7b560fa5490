//! What surrounds a room in every hour of the year: outdoors, the dwelling, its leaks, its cooling.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_moisture::room::{Boundary, House, Model};
use dewpath_moisture::weather::{Hour, Weather};

use super::super::fresh_air::{infiltration_m3_s, storeys};
use super::super::model::{Air, Built};
use super::super::plan::Plan;

/// Weather classes for the air balance: so many kelvin and metres a second wide. Temperature and humidity of the air
/// stay hourly; only how much of it leaks is taken from the middle of the class.
const CLASS_K: f64 = 4.0;
const CLASS_M_S: f64 = 2.0;
const CLASSES_K: usize = 20;
const CLASSES_WIND: usize = 8;
/// Wind where the weather has none, m/s. Judgement.
const WIND_M_S: f64 = 3.0;
/// Set-point of the cooling where nobody says, °C. Common practice, no source.
pub(super) const COOLING_C: f64 = 24.5;
/// Warmth that people, sun and appliances add to a house that nobody heats or cools, K. Judgement.
const GAINS_K: f64 = 2.0;
/// Air changes an hour through windows while a house is neither heated nor cooled. Judgement: 0.5 to 2 with a window or two ajar.
pub(super) const AIRING_PER_H: f64 = 1.0;
/// Warmer than the set-point of the heating by this, K: the heating rests. Judgement.
const RESTS_K: f64 = 0.5;
/// Air through the coil of an air conditioner, m³/s for each m³ of dwelling: 400 cfm a ton, a ton on 500 ft² of 8 ft. Common
/// practice, no source.
const COIL_PER_S: f64 = 0.19 / 113.0;
/// Outdoor temperature above the set-point at which a cooling system runs all the time, and below it at which it
/// first runs, K. Judgement.
const ALWAYS_K: f64 = 9.0;
const NEVER_K: f64 = -3.0;

/// A room with flows for every weather class, and the conditions of every hour.
pub(super) struct Conditions {
    pub model: Model,
    pub hours: Vec<Boundary>,
    /// Natural infiltration of each class, m³/s; windows are not in it.
    pub leaks_m3_s: Vec<f64>,
}

/// Classes of weather with windows shut; as many with windows open follow them.
const CLASSES: usize = CLASSES_K * CLASSES_WIND;

pub(super) fn with_weather(
    plan: &Plan,
    built: &Built,
    case: &Case<'_>,
    weather: &Weather,
) -> Conditions {
    let hours: Vec<Boundary> = conditions(built, case, weather);
    let storeys = storeys(case.job);
    let leak = |class: usize| {
        let difference = (class % CLASSES_K) as f64 * CLASS_K + 0.5 * CLASS_K;
        let wind = (class / CLASSES_K) as f64 * CLASS_M_S + 0.5 * CLASS_M_S;
        infiltration_m3_s(built.envelope.as_ref(), storeys, difference, wind)
    };
    let leaks: Vec<f64> = (0..2 * CLASSES).map(|class| leak(class % CLASSES)).collect();
    let windows = AIRING_PER_H * built.house_m3 / 3600.0;
    let flows = leaks
        .iter()
        .enumerate()
        .map(|(class, leak)| {
            let infiltration_m3_s = if class < CLASSES { *leak } else { leak + windows };
            Air { infiltration_m3_s, ..built.air }.table()
        })
        .collect();
    let mut model = Model { flows, ..built.model.clone() };
    if let House::Zone { vapour_kg_s, .. } = &mut model.house {
        // Through the year the household gives off what it gives off; the humidity follows.
        let daily_kg = plan.inputs.value(plan.dwelling.moisture, Draw::Likely);
        *vapour_kg_s = daily_kg / 86_400.0;
    }
    Conditions { model, hours, leaks_m3_s: leaks }
}

/// Conditions of every hour: outdoors, dwelling, weather class, cooling.
fn conditions(built: &Built, case: &Case<'_>, weather: &Weather) -> Vec<Boundary> {
    let dwelling = &case.job.dwelling;
    let heated_c = given::likely(&dwelling.heating)
        .map_or(built.boundary.house_c, dewpath_units::Temperature::c);
    let cooled =
        given::yes(&dwelling.air_conditioning) == Some(true) || given::is_known(&dwelling.cooling);
    let cooling_c = given::likely(&dwelling.cooling)
        .map_or(COOLING_C, dewpath_units::Temperature::c)
        .max(heated_c);
    let mut day = weather.hours.iter().rev().take(24).map(|h| h.t_c).sum::<f64>() / 24.0;
    let one = |hour: &Hour| {
        // A house follows the mean of the last day or so.
        day += (hour.t_c - day) / 24.0;
        let free = (day + GAINS_K).max(heated_c);
        let house_c = if cooled { free.min(cooling_c) } else { free };
        let share = ((hour.t_c - cooling_c - NEVER_K) / (ALWAYS_K - NEVER_K)).clamp(0.0, 1.0);
        let cooled_kg_s =
            if cooled { share * COIL_PER_S * built.house_m3 * built.dry_density } else { 0.0 };
        // Heating and cooling rest: people air.
        let airs = free > heated_c + RESTS_K && !(cooled && free >= cooling_c);
        let difference = ((house_c - hour.t_c).abs() / CLASS_K) as usize;
        let wind = (hour.wind_m_s.unwrap_or(WIND_M_S) / CLASS_M_S).max(0.0) as usize;
        Boundary {
            outdoor_c: hour.t_c,
            outdoor_w: hour.w,
            house_c,
            class: wind.min(CLASSES_WIND - 1) * CLASSES_K
                + difference.min(CLASSES_K - 1)
                + if airs { CLASSES } else { 0 },
            cooled_kg_s,
            ..built.boundary
        }
    };
    weather.hours.iter().map(one).collect()
}
