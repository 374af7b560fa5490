//! Rooms and dwelling through the year of the job's weather, at the likely values; and what a control can reach in
//! each month of it.

mod conditions;
mod duct;
mod findings;
mod follow;
mod habits;
mod results;

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_case::weather::{means, month_hours};
use dewpath_moisture::duct::legs::Pace;
use dewpath_moisture::room::{Boundary, Care, DAYS, Step};
use dewpath_moisture::saturation::Saturation;
use dewpath_moisture::weather::Weather;
use dewpath_report::{
    Assumption, DwellingResult, DwellingYear, Finding, Report, RoomYear, YearCourse,
};

use super::control::{Held, held_on, would_do};
use super::duct::ducts;
use super::duct::follow::Scene;
use super::model::build;
use super::plan::{Plan, RoomPlan};
use conditions::{Conditions, with_weather};
use follow::{Along, Followed, Wanted, follow, heated_c, made_up};

/// Steps of the year, shorter soon after a shower than the coarsest: sums and the times of the mirror stay within 0.5 %, and
/// mould within 0.02, of one-second steps (tested below).
fn care() -> Care {
    Care { soon: 0.06, ..Care::year() }
}

/// What the stage found.
#[derive(Default)]
pub struct Stage {
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
    pub fn put_into(self, report: &mut Report) {
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

/// Follows every room that is showered in through the year of the job's weather. `progress` hears how much of it is over, above 0 to 1.
pub fn year(case: &Case<'_>, progress: &dyn Fn(f64)) -> Stage {
    let mut stage = Stage::default();
    // Weather that cannot be used is told by the design day.
    let weather = case.weather().ok().flatten();
    let Some(mut plan) = Plan::of(case.job, weather, case.inputs.beside(0)) else { return stage };
    let Some(weather) = weather else {
        stage.findings.extend(plan.rooms.iter().map(|room| findings::no_weather(case, room)));
        return stage;
    };
    stage.weather = Some(dewpath_case::weather::hash(weather));
    let ducts = ducts(case, &mut plan);
    let plan = plan;
    let mut dampest: Option<(&RoomPlan, Followed)> = None;
    let all = (plan.rooms.len() * DAYS.len()) as f64;
    for (index, room) in plan.rooms.iter().enumerate() {
        let months = |over: usize| progress((index * DAYS.len() + over) as f64 / all);
        let wanted = Wanted { hours: false, months: &months };
        let scene = ducts.path_of(index).map(|path| Scene { case, plan: &plan, path });
        let along = scene.map(|scene| Along { scene, pace: Pace::year() });
        let Some(followed) = follow(&plan, room, case, weather, wanted, care(), along) else {
            stage.findings.push(findings::not_followed(case, room));
            continue;
        };
        stage.findings.extend(findings::room(case, &plan, room, &followed));
        stage.assumptions.extend(results::assumptions(case, room, &followed));
        for run in &followed.runs {
            stage.findings.extend(findings::run(case, run));
            stage.runs.push((run.run, results::months_g(run), run.residual));
        }
        stage.rooms.push((room.room, results::room(case, &followed)));
        if dampest.as_ref().is_none_or(|(_, before)| before.year.damp_s < followed.year.damp_s) {
            dampest = Some((room, followed));
        }
    }
    // Each room was followed with the dwelling around it; what is told is the dampest of them.
    if let Some((room, followed)) = dampest {
        let set_to = || {
            let held = held_by_month(&plan, room, case, weather)?;
            let band = plan.inputs.value(room.control.band, Draw::Likely);
            would_do(held.iter().map(|month| month.humidity), band)
        };
        stage.findings.push(findings::dwelling(case, &plan, room, &followed, set_to));
        stage.dwelling = Some(results::dwelling(weather, &followed));
        stage.assumptions.extend(results::cooling(case));
        stage.assumptions.push(results::airing());
    }
    stage
}

/// The hours of each room, for a face that writes them out.
pub fn courses(case: &Case<'_>) -> Vec<YearCourse> {
    let weather = case.weather().ok().flatten();
    let plan = Plan::of(case.job, weather, case.inputs.beside(0));
    let (Some(weather), Some(plan)) = (weather, plan) else { return Vec::new() };
    let course = |room: &RoomPlan| {
        let wanted = Wanted { hours: true, ..Wanted::END };
        let followed = follow(&plan, room, case, weather, wanted, care(), None)?;
        Some(YearCourse { room: case.job.rooms[room.room].id.clone(), hours: followed.hours })
    };
    plan.rooms.iter().filter_map(course).collect()
}

/// Month by month, the room with its fan held on; none where it cannot be said, or no control looks at humidity.
pub(crate) fn held_by_month(
    plan: &Plan,
    room: &RoomPlan,
    case: &Case<'_>,
    weather: &Weather,
) -> Option<Vec<Held>> {
    let on_at = plan.inputs.value(room.control.on_at?, Draw::Likely);
    let mut built = build(plan, room, case, Draw::Likely)?;
    let Conditions { model, hours, .. } = with_weather(plan, &built, case, weather);
    built.model = model;
    let heated_c = heated_c(case, &built);
    let pressure_pa = built.model.pressure_pa;
    let made_up_j = |step: &Step<'_>| {
        let made_up = made_up(step, heated_c);
        made_up.heat_j + made_up.cold_j
    };
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
            // No damper than the control lets it get before it starts the fan: a house that is cooled is drier than outdoors.
            let set_w = on_at * Saturation::shared().humidity_ratio(house_c, pressure_pa);
            held_on(&built, &boundary, boundary.house_w.min(set_w), made_up_j)
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use dewpath_moisture::weather::climates::Climate;

    use super::follow::Growth;
    use super::*;

    use dewpath_case::World;

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
        let basis = dewpath_case::Basis::of(&job, &world, 0);
        let flows = basis.flows(&job).ok();
        let case = basis.case(&job, &world, flows.as_ref());
        let mut weather = Climate::named("mixed humid").unwrap().weather().unwrap();
        weather.hours.rotate_left(270 * 24);
        weather.hours.truncate(days * 24);
        let mut plan = Plan::of(&job, Some(&weather), basis.inputs.beside(0)).unwrap();
        let ducts = ducts(&case, &mut plan);
        let scene = Scene { case: &case, plan: &plan, path: ducts.path_of(0).unwrap() };
        let along = Some(Along { scene, pace });
        follow(&plan, &plan.rooms[0], &case, &weather, Wanted::END, care, along).unwrap()
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
