//! Rooms and dwelling through the year of the job's weather, at the likely values; and what a control can reach in
//! each month of it.

mod duct;
mod follow;
mod habits;
mod judge;
mod tell;

use dewpath_moisture::duct::legs::Pace;
use dewpath_moisture::room::{Boundary, Care, DAYS, House, Model};
use dewpath_moisture::weather::{Hour, Weather};
use dewpath_report::{
    Assumption, DwellingResult, DwellingYear, Finding, Report, RoomYear, YearCourse,
};

use super::control::lowest_humidity;
use super::duct::ducts;
use super::duct::follow::Scene;
use super::model::{Built, build, infiltration_m3_s, storeys_of};
use super::plan::{Plan, RoomPlan};
use super::weather::{means, month_hours};
use crate::checks::Look;
use crate::given;
use crate::inputs::Draw;
use follow::{Along, Followed, Wanted, follow};

/// Weather classes for the air balance: so many kelvin and metres a second wide. Temperature and humidity of the air
/// stay hourly; only how much of it leaks is taken from the middle of the class.
const CLASS_K: f64 = 4.0;
const CLASS_M_S: f64 = 2.0;
const CLASSES_K: usize = 20;
const CLASSES_WIND: usize = 8;
/// Wind where the weather has none, m/s. Judgement.
const WIND_M_S: f64 = 3.0;
/// Set-point of the cooling where nobody says, °C. Common practice, no source.
pub(crate) const COOLING_C: f64 = 24.5;
/// Warmth that people, sun and appliances add to a house that nobody heats or cools, K. Judgement.
const GAINS_K: f64 = 2.0;
/// Air changes an hour through windows while a house is neither heated nor cooled. Judgement: 0.5 to 2 with a window or two ajar.
pub(crate) const AIRING_PER_H: f64 = 1.0;
/// Warmer than the set-point of the heating by this, K: the heating rests. Judgement.
const RESTS_K: f64 = 0.5;
/// Air through the coil of an air conditioner, m³/s for each m³ of dwelling: 400 cfm a ton, a ton on 500 ft² of 8 ft. Common
/// practice, no source.
const COIL_PER_S: f64 = 0.19 / 113.0;
/// Outdoor temperature above the set-point at which a cooling system runs all the time, and below it at which it
/// first runs, K. Judgement.
const ALWAYS_K: f64 = 9.0;
const NEVER_K: f64 = -3.0;

/// Steps of the year, shorter soon after a shower than the coarsest: sums and the times of the mirror stay within 0.5 %, and
/// mould within 0.02, of one-second steps (tested below).
fn care() -> Care {
    Care { soon: 0.06, ..Care::year() }
}

/// What the stage found.
#[derive(Default)]
pub(crate) struct Stage {
    /// Findings.
    pub findings: Vec<Finding>,
    rooms: Vec<(usize, RoomYear)>,
    /// Net water of each month in a run, g, and what does not add up.
    runs: Vec<(usize, Vec<f64>, f64)>,
    dwelling: Option<DwellingYear>,
    /// Hash of the weather.
    weather: Option<String>,
    assumptions: Vec<Assumption>,
}

impl Stage {
    /// Puts its results into the report.
    pub(crate) fn put_into(self, report: &mut Report) {
        for (room, year) in self.rooms {
            report.rooms[room].year = Some(year);
        }
        for (run, months_g, residual) in self.runs {
            // The design day has told the rest of it, of the same pieces in the same surroundings.
            if let Some(water) = report.runs.get_mut(run).and_then(|run| run.condensate.as_mut()) {
                water.months_g = months_g;
                water.water_residual_ratio = water.water_residual_ratio.max(residual);
            }
        }
        if self.dwelling.is_some() {
            let dwelling = report.dwelling.get_or_insert_with(|| DwellingResult {
                pressure: Vec::new(),
                transfer: Vec::new(),
                ventilation: None,
                year: None,
            });
            dwelling.year = self.dwelling;
        }
        report.world.weather = self.weather;
        for assumption in self.assumptions {
            if !report.assumptions.iter().any(|known| known.at == assumption.at) {
                report.assumptions.push(assumption);
            }
        }
    }
}

/// Follows every room that is showered in through the year of the job's weather. `told` hears how much of it is over, above 0 to 1.
pub(crate) fn year(look: &Look<'_>, told: &dyn Fn(f64)) -> Stage {
    let mut stage = Stage::default();
    // Weather that cannot be used is told by the design day.
    let weather = look.weather().ok().flatten();
    let Some(mut plan) = Plan::of(look.job, weather, 0) else { return stage };
    let Some(weather) = weather else {
        stage.findings.extend(plan.rooms.iter().map(|room| judge::no_weather(look, room)));
        return stage;
    };
    stage.weather = Some(super::weather::hash(weather));
    let ducts = ducts(look, &mut plan);
    let plan = plan;
    let mut dampest: Option<(&RoomPlan, Followed)> = None;
    let all = (plan.rooms.len() * DAYS.len()) as f64;
    for (place, room) in plan.rooms.iter().enumerate() {
        let months = |over: usize| told((place * DAYS.len() + over) as f64 / all);
        let wanted = Wanted { hours: false, months: &months };
        let scene = ducts.path_of(place).map(|path| Scene { look, plan: &plan, path });
        let along = scene.map(|scene| Along { scene, pace: Pace::year() });
        let Some(followed) = follow(&plan, room, look, weather, wanted, care(), along) else {
            stage.findings.push(judge::not_followed(look, room));
            continue;
        };
        stage.findings.extend(judge::room(look, &plan, room, &followed));
        stage.assumptions.extend(tell::assumptions(look, room, &followed));
        for run in &followed.runs {
            stage.findings.extend(judge::run(look, run));
            stage.runs.push((run.run, tell::months_g(run), run.residual));
        }
        stage.rooms.push((room.room, tell::room(look, &followed)));
        if dampest.as_ref().is_none_or(|(_, before)| before.year.damp_s < followed.year.damp_s) {
            dampest = Some((room, followed));
        }
    }
    // Each room was followed with the dwelling around it; what is told is the dampest of them.
    if let Some((room, followed)) = dampest {
        stage.findings.push(judge::dwelling(look, &plan, room, &followed));
        stage.dwelling = Some(tell::dwelling(weather, &followed));
        stage.assumptions.extend(tell::cooling(look));
        stage.assumptions.push(tell::airing());
    }
    stage
}

/// The hours of each room, for a face that writes them out.
pub(crate) fn courses(look: &Look<'_>) -> Vec<YearCourse> {
    let weather = look.weather().ok().flatten();
    let plan = Plan::of(look.job, weather, 0);
    let (Some(weather), Some(plan)) = (weather, plan) else { return Vec::new() };
    let course = |room: &RoomPlan| {
        let wanted = Wanted { hours: true, ..Wanted::END };
        let followed = follow(&plan, room, look, weather, wanted, care(), None)?;
        Some(YearCourse { room: look.job.rooms[room.room].id.clone(), hours: followed.hours })
    };
    plan.rooms.iter().filter_map(course).collect()
}

/// A room with flows for every weather class, and the conditions of every hour.
struct Conditions {
    model: Model,
    hours: Vec<Boundary>,
    /// Natural infiltration of each class, m³/s; windows are not in it.
    leaks_m3_s: Vec<f64>,
}

/// Classes of weather with windows shut; as many with windows open follow them.
const CLASSES: usize = CLASSES_K * CLASSES_WIND;

fn with_weather(plan: &Plan, built: &Built, look: &Look<'_>, weather: &Weather) -> Conditions {
    let hours: Vec<Boundary> = conditions(built, look, weather);
    let storeys = storeys_of(look);
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
            super::model::Air { infiltration_m3_s, ..built.air }.table()
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
fn conditions(built: &Built, look: &Look<'_>, weather: &Weather) -> Vec<Boundary> {
    let dwelling = &look.job.dwelling;
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

/// Month by month, the relative humidity that the fan held on brings the room down to; none where it cannot be said.
pub(crate) fn lowest_by_month(
    plan: &Plan,
    room: &RoomPlan,
    look: &Look<'_>,
    weather: &Weather,
) -> Option<Vec<f64>> {
    let mut built = build(plan, room, look, Draw::Likely)?;
    let Conditions { model, hours, .. } = with_weather(plan, &built, look, weather);
    built.model = model;
    let mut start = 0;
    (0..12)
        .map(|month| {
            let in_month = month_hours(weather, month);
            let (t_k, _, w) = means(in_month)?;
            let of_month = hours.get(start..start + in_month.len())?;
            start += in_month.len();
            let n = of_month.len() as f64;
            let house_c = of_month.iter().map(|b| b.house_c).sum::<f64>() / n;
            let cooled = of_month.iter().map(|b| b.cooled_kg_s).sum::<f64>() / n;
            let middle = of_month.get(of_month.len() / 2)?;
            let boundary = Boundary {
                outdoor_c: t_k - 273.15,
                outdoor_w: w,
                house_c,
                cooled_kg_s: cooled,
                house_w: w + 0.001,
                ..*middle
            };
            lowest_humidity(&built, &boundary)
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use dewpath_moisture::weather::climates::Climate;

    use super::follow::Growth;
    use super::*;

    use crate::World;

    /// A bath with a cold corner; `fan` is how its fan is switched.
    fn bath(fan: &str) -> String {
        format!(
            r#"
format = 1
[site]
altitude = "100 m"
indoor = "21 C"
[dwelling]
volume = "320 m3"
air_changes = "5 ACH50"
storeys = 1
heating = "21 C"
moisture = "7 kg"
[room]
id = "bath"
kind = "bathroom"
length = "2.5 m"
width = "2 m"
height = "2.4 m"
use = {{ showers = 2, minutes = "10 min", at = ["06:40", "21:10"], door = "opened after", leave_on = "15 min" }}
[[room.surface]]
id = "corner"
kind = "outside wall"
area = "5 m2"
insulation = "0.7 RSI"
other_side = "outdoors"
[fan]
id = "fan"
rated = "30 L/s at 62 Pa"
holds_flow = "30 L/s"
power = "20 W"
curve = ["100 L/s at 0 Pa", "75 L/s at 600 Pa", "0 L/s at 1000 Pa"]
{fan}
[run]
duct = "smooth metal"
size = "150 mm"
length = "2 m"
elbows = 0
place = "attic"
insulation = "R-2"
slope = "to the fan"
[terminal]
kind = "wall cap"
"#
        )
    }

    /// Follows the bath through some days of autumn.
    fn follow_autumn(text: &str, days: usize, care: Care, pace: Pace) -> Followed {
        let read = dewpath_job::read("job.toml", text).unwrap();
        let job = read.resolve(&dewpath_job::model::Library::default()).unwrap();
        let world = World::default();
        let basis = crate::checks::Basis::of(&job, &world, 0);
        let flows = basis.flows(&job).ok();
        let look = basis.look(&job, &world, flows.as_ref());
        let mut weather = Climate::named("mixed humid").unwrap().weather().unwrap();
        weather.hours.rotate_left(270 * 24);
        weather.hours.truncate(days * 24);
        let mut plan = Plan::of(&job, Some(&weather), 0).unwrap();
        let ducts = ducts(&look, &mut plan);
        let scene = Scene { look: &look, plan: &plan, path: ducts.path_of(0).unwrap() };
        let along = Some(Along { scene, pace });
        follow(&plan, &plan.rooms[0], &look, &weather, Wanted::END, care, along).unwrap()
    }

    fn within(what: &str, found: f64, wanted: f64, share: f64) {
        let off = (found - wanted).abs();
        assert!(
            off <= share * wanted.abs() + 1e-9,
            "{what}: {found}, with one-second steps {wanted}"
        );
    }

    /// The steps of the year against one-second steps of the same equations: sums within 0.5 %, mould within 0.02, water of a
    /// duct within 2 %.
    fn compare(fan: &str, grows: bool) {
        let text = bath(fan);
        let found = follow_autumn(&text, 40, care(), Pace::year());
        let wanted = follow_autumn(&text, 40, Care::reference(), Pace::reference());
        let sum = |of: &Followed, part: fn(&dewpath_moisture::room::Month) -> f64| {
            of.year.months.iter().map(part).sum::<f64>()
        };
        for (what, part) in [
            ("wet", (|m| m.wet_s) as fn(&dewpath_moisture::room::Month) -> f64),
            ("fan", |m| m.fan_s),
            ("electricity", |m| m.electric_j),
            ("carried off", |m| m.exhausted_kg),
            ("mirror", |m| m.mirror_s),
        ] {
            within(what, sum(&found, part), sum(&wanted, part), 0.005);
        }
        within("heat", found.heat_j.iter().sum(), wanted.heat_j.iter().sum(), 0.005);
        for month in 0..2 {
            let (a, b) = (&found.year.months[month], &wanted.year.months[month]);
            within("room", a.humidity, b.humidity, 0.005);
            within("dwelling", a.house_humidity, b.house_humidity, 0.005);
        }
        let peaks = |of: &Followed| of.growth.iter().flat_map(Growth::peaks).collect::<Vec<_>>();
        let (of_found, of_wanted) = (peaks(&found), peaks(&wanted));
        assert_eq!(of_wanted.iter().any(|index| *index > 0.05), grows);
        for (a, b) in of_found.iter().zip(&of_wanted) {
            assert!((a - b).abs() < 0.02, "mould {a}, with one-second steps {b}");
        }
        for (a, b) in found.mould.iter().zip(&wanted.mould) {
            assert!(
                (a - b).abs() < 0.02,
                "mould at the end of a month {a}, with one-second steps {b}"
            );
        }
        assert!(found.year.water_residual < 1e-9 && found.year.energy_residual < 1e-9);
        let (duct, by_seconds) = (&found.runs[0], &wanted.runs[0]);
        within("settled", duct.condensed_kg, by_seconds.condensed_kg, 0.02);
        // A gram in a month in which hardly any is left.
        for (a, b) in duct.months_kg.iter().zip(by_seconds.months_kg) {
            assert!((a - b).abs() <= 0.02 * b.abs() + 0.001, "{a} kg in a month, not {b}");
        }
        assert!(by_seconds.condensed_kg > 0.05, "{by_seconds:?}");
        assert!(duct.residual < 1e-9 && by_seconds.residual < 1e-9, "{duct:?}");
    }

    #[test]
    fn steps_of_the_year_against_seconds_with_a_switch() {
        compare("", true);
    }

    #[test]
    fn steps_of_the_year_against_seconds_with_a_humidity_control() {
        compare(
            "control = \"humidity control\"\nsettings = { on_at = \"70 %\", band = \"5 %\", sampling = \"60 s\", lag = \"90 s\", sensor = \"wall\", run_on = \"5 min\" }",
            false,
        );
    }
}
