//! Rooms and dwelling through the year: what the report tells, against sums done by hand and against other years.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use dewpath_case::World;
use dewpath_engine::{courses, evaluate, evaluate_through_year};
use dewpath_job::model::{Job, Library};
use dewpath_message::Value;
use dewpath_report::{Figure, Message, Report, RoomMonth, RoomYear, TaskKind, Verdict};

/// Hours of each month.
const MONTH_H: [f64; 12] =
    [744.0, 672.0, 744.0, 720.0, 744.0, 720.0, 744.0, 744.0, 720.0, 744.0, 720.0, 744.0];

/// Twelve months of a cold place, of which every hour calls for heat.
const COLD: &str = r#"months = { temperature = ["-8 C", "-6 C", "-1 C", "4 C", "7 C", "9 C", "10 C", "9 C", "6 C", "2 C", "-2 C", "-6 C"], dew_point = ["-11 C", "-10 C", "-6 C", "-2 C", "1 C", "4 C", "5 C", "5 C", "2 C", "-2 C", "-6 C", "-9 C"], swing = ["6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C", "6 C"] }"#;

/// A house with one bath; `site`, `usage` and `fan` are what differs.
fn bath(site: &str, dwelling: &str, usage: &str, fan: &str) -> String {
    format!(
        r#"
format = 1
name = "one bath"
show = "metric"
rule_book = "us-irc-2021"
[site]
altitude = "0 m"
indoor = "21 C"
{site}
[dwelling]
kind = "house"
floor_area = "130 m2"
volume = "320 m3"
air_changes = "6 ACH50"
storeys = 1
heating = "21 C"
moisture = "6 kg"
ventilation = {{ kind = "none" }}
{dwelling}
[room]
id = "bath"
kind = "bathroom"
length = "2.5 m"
width = "2 m"
height = "2.4 m"
door = {{ width = "700 mm", gap = "19 mm" }}
fixtures = {{ showers = 1, toilets = 1 }}
finish = "latex paint"
use = {{ minutes = "10 min"{usage} }}
[[room.surface]]
id = "corner"
kind = "outside wall"
area = "5 m2"
insulation = "1.0 RSI"
other_side = "outdoors"
[fan]
id = "fan"
rated = "25 L/s at 62 Pa"
holds_flow = "25 L/s"
curve = ["100 L/s at 0 Pa", "75 L/s at 600 Pa", "0 L/s at 1000 Pa"]
{fan}
[run]
duct = "smooth metal"
size = "150 mm"
length = "2 m"
elbows = 0
[terminal]
kind = "wall cap"
"#
    )
}

fn read(text: &str) -> (Job, World) {
    let read =
        dewpath_job::read("job.toml", text).unwrap_or_else(|wrong| panic!("{text}\n{wrong}"));
    let job = read.resolve(&Library::default()).unwrap();
    let book = |id: &String| dewpath_rulebook::load(id).unwrap();
    let world = World {
        rule_book: job.rule_book.as_ref().map(book),
        job_text: text.to_owned(),
        ..World::default()
    };
    (job, world)
}

fn report(text: &str) -> Report {
    let (job, world) = read(text);
    evaluate_through_year(&job, &world, 0)
}

fn year(report: &Report) -> &RoomYear {
    report.rooms[0].year.as_ref().expect("the room is followed")
}

fn verdict(report: &Report, id: &str) -> Option<Verdict> {
    report.findings.iter().find(|finding| finding.id == id).map(|finding| finding.verdict)
}

fn near(what: &str, found: f64, wanted: f64, share: f64) {
    assert!((found - wanted).abs() <= share * wanted.abs(), "{what}: {found}, not {wanted}");
}

/// What is not a finite number would be written as nothing at all.
fn numbers(value: &serde_json::Value) {
    match value {
        serde_json::Value::Object(map) => map.iter().for_each(|(key, inner)| {
            let may = ["cost", "energy_kwh", "currency", "mirror_time_s"];
            assert!(may.contains(&key.as_str()) || !inner.is_null(), "{key} is nothing");
            numbers(inner);
        }),
        serde_json::Value::Array(list) => list.iter().for_each(numbers),
        _ => {}
    }
}

/// Everything a year tells is a number in its range, and the whole is the sum of its months.
fn sound(report: &Report) {
    let y = year(report);
    assert_eq!(y.months.len(), 12);
    let sum = |of: fn(&RoomMonth) -> f64| y.months.iter().map(of).sum::<f64>();
    near("wet hours", sum(|m| m.hours_above_80_h), y.hours_above_80_h, 1e-9);
    near("fan", sum(|m| m.fan_h), y.fan_h, 1e-9);
    near("heat", sum(|m| m.air_heat_kwh), y.air_heat_kwh, 1e-9);
    for (place, m) in y.months.iter().enumerate() {
        assert_eq!(m.month as usize, place + 1);
        for share in [m.humidity_ratio, m.dwelling_humidity_ratio] {
            assert!((0.0..=1.0).contains(&share), "{m:?}");
        }
        assert!((0.0..=6.0).contains(&m.mould_ratio), "{m:?}");
        assert!(m.hours_above_80_h >= 0.0 && m.hours_above_80_h <= MONTH_H[place] + 1e-6, "{m:?}");
        assert!(m.fan_h >= 0.0 && m.fan_h <= MONTH_H[place] + 1e-6, "{m:?}");
        assert!(m.air_heat_kwh >= 0.0 && m.carried_off_kg >= 0.0, "{m:?}");
    }
    let peak = y.mould_peak_ratio;
    assert!(0.0 <= peak.low && peak.low <= peak.likely && peak.likely <= peak.high, "{peak:?}");
    assert!(peak.high <= 6.0);
    assert!(y.months.iter().all(|m| m.mould_ratio <= peak.likely + 1e-9), "{peak:?}");
    assert!((0.0..=1.0).contains(&y.running_humidity_ratio));
    assert!(y.water_residual_ratio < 1e-9 && y.energy_residual_ratio < 1e-9);
    let dwelling = report.dwelling.as_ref().unwrap().year.as_ref().unwrap();
    assert!(dwelling.water_residual_ratio < 1e-9);
    assert!(dwelling.hours_above_60_h <= 8760.0 && dwelling.infiltration_l_s >= 0.0);
    assert_eq!(report.world.weather.as_ref().unwrap().len(), 64);
    assert!(verdict(report, "engine.residual").is_none());
    let text = serde_json::to_value((y, dwelling)).unwrap();
    numbers(&text);
}

/// By hand: one shower of 10 minutes, the fan with it and 20 minutes after: half an hour a day.
#[test]
fn hours_electricity_and_cost_of_a_switch_by_hand() {
    let prices = r#"prices = { electricity = 0.30, heat = 0.10, currency = "crowns" }"#;
    let usage = r#", showers = 1, fan = "during and after", leave_on = "20 min""#;
    let report = report(&bath(COLD, prices, usage, "power = \"18 W\""));
    sound(&report);
    let y = year(&report);
    near("fan", y.fan_h, 365.0 * 0.5, 1e-9);
    let kwh = y.energy_kwh.unwrap();
    near("electricity", kwh, 0.018 * 365.0 * 0.5, 1e-9);
    let cost = y.cost.as_ref().unwrap();
    near("cost", cost.amount, 0.30 * kwh + 0.10 * y.air_heat_kwh, 1e-9);
    assert_eq!(cost.currency.as_deref(), Some("crowns"));
}

/// A price that is missing for what is used leaves the cost out; so do watts that are missing.
#[test]
fn what_is_not_known_is_not_counted_as_nothing() {
    let usage = ", showers = 1";
    let no_heat_price = "prices = { electricity = 0.30 }";
    assert!(year(&report(&bath(COLD, no_heat_price, usage, "power = \"18 W\""))).cost.is_none());
    let prices = "prices = { electricity = 0.30, heat = 0.10 }";
    let without_watts = report(&bath(COLD, prices, usage, ""));
    sound(&without_watts);
    assert!(year(&without_watts).energy_kwh.is_none() && year(&without_watts).cost.is_none());
    let found = without_watts.findings.iter().find(|f| f.id == "room.year.energy").unwrap();
    assert_eq!(found.message.key, "room.year.energy.no-watts");
}

/// By degree hours: a fan that never rests draws 25 L/s of room air at 21 °C (dry air at 1.2 kg/m³ less its vapour, within 2 %)
/// and every hour of this place calls for heat. Monthly means of temperature are kept exactly by the hours.
#[test]
fn heat_of_a_fan_that_never_rests_by_degree_hours() {
    let text = bath(COLD, "", ", showers = 1", "control = \"continuous\"\npower = \"8 W\"");
    let report = report(&text);
    sound(&report);
    let y = year(&report);
    near("fan", y.fan_h, 8760.0, 1e-9);
    near("electricity", y.energy_kwh.unwrap(), 0.008 * 8760.0, 1e-9);
    let outdoor = [-8.0, -6.0, -1.0, 4.0, 7.0, 9.0, 10.0, 9.0, 6.0, 2.0, -2.0, -6.0];
    // 101325 / (287.05 * 294.15) = 1.2000 kg/m³ of dry air without vapour; 1006 + 1860 * 0.008 J/(kg K).
    let flow = report.rooms[0].delivered.unwrap().airflow_l_s.likely / 1000.0;
    for (month, (m, t)) in y.months.iter().zip(outdoor).enumerate() {
        near("outdoors", m.outdoor_c, t, 1e-9);
        let kwh = flow * 1.2 * 1020.9 * (21.0 - t) * MONTH_H[month] / 1000.0;
        near("heat", m.air_heat_kwh, kwh, 0.02);
    }
}

/// By the balance of the dwelling: 6 kg a day into the air that leaks in raises its humidity ratio by G / m. Weather that
/// never changes, and a fan that never runs (a shower of one minute gives off next to nothing).
#[test]
fn the_dwelling_stands_where_its_balance_says() {
    let same = |value: &str| vec![format!("\"{value}\""); 12].join(", ");
    let site = format!(
        "months = {{ temperature = [{}], dew_point = [{}], swing = [{}], wind = [{}] }}",
        same("5 C"),
        same("1 C"),
        same("0 C"),
        same("3 m/s")
    );
    let usage = r#", showers = 1, vapour = "0.1 kg/h", fan = "never""#;
    let text = bath(&site, "", usage, "").replace("minutes = \"10 min\"", "minutes = \"1 min\"");
    let report = report(&text);
    sound(&report);
    let dwelling = report.dwelling.as_ref().unwrap().year.as_ref().unwrap();
    // Magnus over water (WMO Guide No. 8): 611.2 exp(17.62 t / (243.12 + t)) Pa.
    let saturation = |t: f64| 611.2 * libm::exp(17.62 * t / (243.12 + t));
    let ratio = |p: f64| 0.62195 * p / (101_325.0 - p);
    let leak_kg_s = dwelling.infiltration_l_s / 1000.0 * 1.19;
    // Each shower leaves 0.10 kg/m² on 4 m² and 0.3 kg in towels (common practice, no source), which dry into the dwelling.
    let w = ratio(saturation(1.0)) + 6.7 / 86_400.0 / leak_kg_s;
    let pressure = 101_325.0 * w / (0.62195 + w);
    for humidity in &dwelling.humidity_ratio {
        near("humidity", *humidity, pressure / saturation(21.0), 0.03);
    }
    // By the basic model of ASHRAE Fundamentals (2009, ch. 16, eq. 48): A_L of 6 ACH50 at n = 0.65, Cs and Cw of one storey with
    // shelter of class 3 (from memory: 0.000145 and 0.000174 (L/s)²/(cm⁴ K) and (L/s)²/(cm⁴ (m/s)²)).
    let q4 = 6.0 * 320.0 / 3600.0 * libm::pow(4.0 / 50.0, 0.65);
    let area_cm2 = 1e4 * q4 * libm::sqrt(1.2 / (2.0 * 4.0));
    let q = area_cm2 * libm::sqrt(0.000_145 * 16.0 + 0.000_174 * 9.0);
    // Weather is put into classes of 4 K and 2 m/s.
    near("infiltration", dwelling.infiltration_l_s, q, 0.08);
}

#[test]
fn a_fan_that_never_runs_leaves_the_room_wetter() {
    let with = report(&bath(COLD, "", r#", showers = 2, leave_on = "20 min""#, ""));
    let without = report(&bath(COLD, "", r#", showers = 2, fan = "never""#, ""));
    sound(&with);
    sound(&without);
    let (with, without) = (year(&with), year(&without));
    assert!(without.fan_h.abs() < 1e-9 && with.fan_h > 100.0);
    assert!(without.hours_above_80_h > 1.1 * with.hours_above_80_h);
    assert!(without.mould_peak_ratio.high >= with.mould_peak_ratio.high);
    assert!(without.running_humidity_ratio > with.running_humidity_ratio);
    assert!(without.air_heat_kwh.abs() < 1e-9 && with.air_heat_kwh > 1.0);
}

/// More showers, or one with more company, wet the room for longer; a bath and laundry do too.
#[test]
fn use_matters() {
    let wet = |usage: &str| year(&report(&bath(COLD, "", usage, ""))).hours_above_80_h;
    let one = wet(", showers = 1");
    for more in [
        ", showers = 3",
        ", showers = 1, baths = 1",
        ", showers = 1, people = 3",
        r#", showers = 1, drying = "4 kg""#,
        r#", showers = 2, at = ["07:00", "21:00"]"#,
    ] {
        let now = wet(more);
        assert!(now > one, "{more}: {now} after {one}");
    }
}

/// Two showers together take less of the fan than two apart: the timer runs out once.
#[test]
fn times_of_showers_count() {
    let hours = |at: &str| {
        let usage =
            format!(", showers = 2, at = {at}, fan = \"during and after\", leave_on = \"20 min\"");
        year(&report(&bath(COLD, "", &usage, ""))).fan_h
    };
    // 07:00 to 07:45 by hand; apart twice half an hour.
    near("together", hours(r#"["07:00", "07:15"]"#), 365.0 * 0.75, 1e-9);
    near("apart", hours(r#"["07:00", "19:00"]"#), 365.0, 1e-9);
}

/// A dial that is set lower keeps the fan on for longer.
#[test]
fn a_lower_set_point_runs_longer() {
    let hours = |on_at: &str| {
        let fan = format!(
            "control = \"humidity control\"\nsettings = {{ on_at = \"{on_at}\", band = \"5 %\", sampling = \"60 s\", lag = \"60 s\", sensor = \"wall\", run_on = \"0 min\" }}"
        );
        let report = report(&bath(COLD, "", ", showers = 1", &fan));
        sound(&report);
        year(&report).fan_h
    };
    let (low, middle, high) = (hours("45 %"), hours("60 %"), hours("80 %"));
    assert!(low > middle && middle > high && high > 0.0, "{low}, {middle}, {high}");
}

/// A humid climate without cooling, a dial below what the outdoor air holds: the control hardly stops, and it is said. In
/// a dry winter climate it stops.
#[test]
fn a_control_that_never_stops_is_seen() {
    let fan = "control = \"humidity control\"\nsettings = { on_at = \"50 %\", band = \"5 %\", sampling = \"60 s\", lag = \"60 s\", sensor = \"wall\" }";
    let humid =
        report(&bath("climate = \"hot humid\"", "air_conditioning = false", ", showers = 1", fan));
    sound(&humid);
    let found = humid.findings.iter().find(|f| f.id == "dwelling.humid").unwrap();
    assert_eq!(
        (found.verdict, found.message.key.as_str()),
        (Verdict::Caution, "dwelling.humid.never-stops")
    );
    assert!(year(&humid).fan_h > 4380.0);
    let cold = report(
        &bath(COLD, "moisture = \"3 kg\"", ", showers = 1", fan)
            .replace("moisture = \"6 kg\"\n", ""),
    );
    assert_eq!(verdict(&cold, "dwelling.humid"), Some(Verdict::Holds));
    assert!(year(&cold).fan_h < 2000.0);
}

/// A cooled house on the coast, its bath on a humidity control that somebody says never stops; `on_at` is what it is set to, %.
fn on_a_dial(on_at: f64) -> String {
    let fan = format!(
        "control = \"humidity control\"\nsettings = {{ on_at = \"{on_at} %\", band = \"5 %\", run_on = \"20 min\" }}"
    );
    let dwelling = "air_conditioning = true\ncooling = \"23 C\"";
    bath("climate = \"hot humid\"", dwelling, ", showers = 2", &fan)
        + "[[symptom]]\nid = \"s\"\nkind = \"never stops\"\n"
}

fn humidity(message: &Message, slot: &str) -> f64 {
    match message.values.get(slot) {
        Some(Value::Figure(Figure::HumidityRatio(told))) => told.likely,
        other => panic!("{slot}: {other:?} in {message:?}"),
    }
}

/// Months in which the fan runs more than half of the time are named from the first to the last, though it stops in the others; set as
/// advised, it stops in all of them.
#[test]
fn months_in_which_a_control_keeps_on_are_named() {
    let of_year = report(&on_a_dial(60.0));
    sound(&of_year);
    let keeps_on = |report: &Report| {
        let months = year(report).months.iter().zip(MONTH_H);
        months.filter(|(month, hours)| month.fan_h > 0.5 * hours).count()
    };
    let months = keeps_on(&of_year);
    assert!((1..12).contains(&months), "{months}");
    let found = of_year.findings.iter().find(|f| f.id == "dwelling.humid").unwrap();
    assert_eq!(
        (found.verdict, found.message.key.as_str()),
        (Verdict::Caution, "dwelling.humid.never-stops")
    );
    let Some(Value::Figure(Figure::Count(told))) = found.message.values.get("months") else {
        panic!("{found:#?}")
    };
    near("months", told.likely, months as f64, 1e-9);
    assert!(found.message.values.contains_key("first"));
    near("set-point", humidity(&found.message, "set_point"), 0.6, 1e-9);
    let advised = found.todo.iter().find(|todo| todo.key == "todo.set-point").unwrap();
    let set_point = humidity(advised, "set_point");
    assert!(set_point > 0.6, "{set_point}");
    let as_advised = report(&on_a_dial(100.0 * set_point));
    assert_eq!(keeps_on(&as_advised), 0, "at {set_point}");
    let found = as_advised.findings.iter().find(|f| f.id == "dwelling.humid").unwrap();
    assert_ne!(found.message.key, "dwelling.humid.never-stops");
}

/// Somebody says that the control never stops: what it cannot reach stands beside the complaint, and setting it comes first.
#[test]
fn a_fan_that_never_stops_is_told_what_to_set() {
    let (job, world) = read(&on_a_dial(60.0));
    let by_day = evaluate(&job, &world, 64);
    let by_year = evaluate_through_year(&job, &world, 64);
    for (report, cause) in
        [(by_day, "room.control.reachable.found"), (by_year, "dwelling.humid.never-stops")]
    {
        let told: Vec<&str> = report.brief.symptoms.iter().map(|told| told.key.as_str()).collect();
        assert_eq!(told, ["brief.complaint.told", cause]);
        let first = &report.brief.tasks[0];
        assert_eq!((first.kind, first.what.key.as_str()), (TaskKind::Mend, "todo.set-point"));
        let told = &report.brief.symptoms[1];
        let Some(Value::Figure(Figure::EnergyKwh(cost))) = told.values.get("made_up") else {
            panic!("{told:?}")
        };
        assert!(cost.likely > 0.0, "{cause}: {cost:?}");
    }
}

/// Cooling and a dehumidifier take water out and bring the dwelling down.
#[test]
fn drying_the_dwelling_is_seen() {
    let humid = |dwelling: &str| {
        let report = report(&bath("climate = \"hot humid\"", dwelling, ", showers = 1", ""));
        sound(&report);
        report.dwelling.unwrap().year.unwrap()
    };
    let plain = humid("air_conditioning = false");
    let cooled = humid("air_conditioning = true\ncooling = \"24 C\"");
    let dried = humid("air_conditioning = false\ndehumidifier = \"55 %\"");
    assert!(plain.dried_kg.abs() < 1e-9);
    for (what, other) in [("cooled", cooled), ("dried", dried)] {
        assert!(other.dried_kg > 50.0, "{what}: {}", other.dried_kg);
        assert!(other.hours_above_60_h < plain.hours_above_60_h, "{what}");
    }
}

/// Without weather the year is unknown, and what is missing is said; the design day does not change.
#[test]
fn without_weather_the_year_is_unknown() {
    let text = bath("", "", ", showers = 1", "");
    let report = report(&text);
    assert!(report.rooms[0].year.is_none() && report.rooms[0].clearing.is_some());
    assert!(report.world.weather.is_none());
    let found = report.findings.iter().find(|f| f.id == "room.mould").unwrap();
    assert_eq!(found.verdict, Verdict::Unknown);
    assert_eq!(found.todo[0].key, "todo.name-weather");
    let sizeless =
        text.replace("length = \"2.5 m\"\n", "").replace("[site]", &format!("[site]\n{COLD}"));
    let found =
        self::report(&sizeless).findings.into_iter().find(|f| f.id == "room.mould").unwrap();
    assert_eq!(
        (found.verdict, found.message.key.as_str()),
        (Verdict::Unknown, "room.year.not-followed")
    );
}

/// The year is added; everything else is what it was.
#[test]
fn the_year_changes_nothing_else() {
    let (job, world) = read(&bath(COLD, "", ", showers = 1", ""));
    let day = evaluate(&job, &world, 16);
    let mut through = evaluate_through_year(&job, &world, 16);
    assert!(day.rooms[0].year.is_none() && through.rooms[0].year.is_some());
    through.rooms[0].year = None;
    through.world.weather = None;
    through.dwelling.as_mut().unwrap().year = None;
    assert!(day.findings.iter().all(|finding| through.findings.contains(finding)));
    assert_eq!(day.rooms, through.rooms);
    assert_eq!(day.dwelling, through.dwelling);
}

/// The same again is the same, bit by bit; another year has another hash.
#[test]
fn a_year_repeats() {
    let (cold, mild) = (
        bath(COLD, "", ", showers = 1", ""),
        bath("climate = \"cool coastal\"", "", ", showers = 1", ""),
    );
    let (first, again, other) = (report(&cold), report(&cold), report(&mild));
    assert_eq!(first, again);
    assert_ne!(first.world.weather, other.world.weather);
    assert_ne!(year(&first).months, year(&other).months);
    assert!(other.dwelling.unwrap().year.unwrap().weather.key == "weather.from.climate");
}

/// Weather and use at the edge of what there is: numbers, never "not a number".
#[test]
fn any_year_gives_numbers() {
    let all = |t: &str, rh: &str| {
        let twelve = |value: &str| vec![format!("\"{value}\""); 12].join(", ");
        format!("months = {{ temperature = [{}], humidity = [{}] }}", twelve(t), twelve(rh))
    };
    let usages =
        [", showers = 1", ", showers = 20, baths = 5", r#", showers = 1, vapour = "0 kg/h""#];
    for site in [all("-40 C", "80 %"), all("33 C", "100 %"), all("20 C", "100 %")] {
        for usage in usages {
            sound(&report(&bath(&site, "", usage, "")));
        }
        sound(&report(&bath(&site, "", ", showers = 1", "control = \"continuous\"")));
    }
    // A fan that moves nothing worth the name, and a room like a cupboard.
    let weak = bath(COLD, "", ", showers = 2", "").replace("25 L/s", "0.1 L/s").replace(
        "[\"100 L/s at 0 Pa\", \"75 L/s at 600 Pa\"",
        "[\"0.2 L/s at 0 Pa\", \"0.1 L/s at 600 Pa\"",
    );
    sound(&report(&weak));
    let small = bath(COLD, "", ", showers = 2", "")
        .replace("length = \"2.5 m\"", "length = \"0.8 m\"")
        .replace("width = \"2 m\"", "width = \"0.8 m\"");
    sound(&report(&small));
}

/// The hours that a face may draw are those behind the figures.
#[test]
fn the_courses_are_those_of_the_report() {
    let text = bath(COLD, "", r#", showers = 1, leave_on = "20 min""#, "");
    let (job, world) = read(&text);
    let report = report(&text);
    let courses = courses(&job, &world, true);
    let hours = &courses.years[0].hours;
    assert_eq!((courses.years[0].room.as_str(), hours.len()), ("bath", 8760));
    let fan_h: f64 = hours.iter().map(|h| h.fan_s).sum::<f64>() / 3600.0;
    near("fan", fan_h, year(&report).fan_h, 1e-9);
    let mut start = 0;
    for (m, h) in year(&report).months.iter().zip(MONTH_H) {
        let of_month = &hours[start..start + h as usize];
        start += h as usize;
        let mean =
            |of: fn(&dewpath_report::YearHour) -> f64| of_month.iter().map(of).sum::<f64>() / h;
        near("room", mean(|h| h.humidity_ratio), m.humidity_ratio, 1e-9);
        near("dwelling", mean(|h| h.dwelling_humidity_ratio), m.dwelling_humidity_ratio, 1e-9);
        near("outdoors", mean(|h| h.outdoor_c), m.outdoor_c, 1e-9);
    }
    // The design shower: it begins five minutes before, runs ten minutes, and peaks as the report tells.
    let points = &courses.showers[0].points;
    assert!((points[0].time_s + 300.0).abs() < 1e-9);
    assert!(
        points
            .windows(2)
            .all(|pair| pair[0].time_s < pair[1].time_s && pair[1].time_s - pair[0].time_s <= 60.0)
    );
    let on: Vec<f64> = points.iter().filter(|p| p.shower).map(|p| p.time_s).collect();
    near("shower ends", *on.last().unwrap(), 600.0, 1e-9);
    let peak = points.iter().map(|p| p.humidity_ratio).fold(0.0, f64::max);
    near("peak", peak, report.rooms[0].clearing.as_ref().unwrap().peak_humidity_ratio.likely, 0.01);
    assert!(courses_without_year(&job, &world));
}

/// A bath whose duct leads through a place, with or without insulation, to a cap on the roof.
fn ducted(site: &str, place: &str, insulation: &str, leave_on: &str) -> String {
    let duct = format!(
        "duct = \"smooth metal\"\nsize = \"125 mm\"\nlength = \"6 m\"\nplace = \"{place}\"\ninsulation = \"{insulation}\"\nslope = \"to the fan\""
    );
    let usage = format!(", showers = 2, leave_on = \"{leave_on}\"");
    bath(site, "", &usage, "")
        .replace("duct = \"smooth metal\"\nsize = \"150 mm\"\nlength = \"2 m\"", &duct)
        .replace("kind = \"wall cap\"", "kind = \"roof cap\"")
}

fn months_g(report: &Report) -> &[f64] {
    let water = report.runs[0].condensate.as_ref().expect("the run is followed");
    assert_eq!(water.months_g.len(), 12);
    assert!(water.months_g.iter().all(|g| g.is_finite()));
    assert!(water.water_residual_ratio < 1e-9, "{}", water.water_residual_ratio);
    &water.months_g
}

/// In a cold attic winter leaves more than summer, and every gram that is left is one of the year.
#[test]
fn a_duct_in_a_cold_attic_is_wettest_in_winter() {
    let report = report(&ducted(COLD, "attic", "R-4", "10 min"));
    sound(&report);
    let months = months_g(&report);
    let winter: f64 = [11, 0, 1].iter().map(|m: &usize| months[*m]).sum();
    let summer: f64 = [5, 6, 7].iter().map(|m: &usize| months[*m]).sum();
    assert!(winter > summer + 50.0, "{months:?}");
    let found = report.findings.iter().find(|f| f.id == "duct.year").unwrap();
    let worst = months.iter().copied().fold(f64::MIN, f64::max);
    near("worst month", found.figure.unwrap().triple().likely, worst, 1e-9);
    let year: f64 = months.iter().sum();
    near("the year", found.working[0].result.unwrap().triple().likely, year, 1e-9);
}

/// More insulation never leaves more in any season of the cold; a duct in a heated place is dry.
#[test]
fn insulation_through_the_year() {
    let years = ["R-0", "R-4", "R-8"]
        .map(|insulation| report(&ducted(COLD, "attic", insulation, "20 min")));
    let sums = years.each_ref().map(|report| months_g(report).iter().sum::<f64>());
    assert!(sums[0] > sums[1] && sums[1] >= sums[2], "{sums:?}");
    for pair in years.windows(2) {
        for month in [0, 1, 11] {
            assert!(months_g(&pair[0])[month] >= months_g(&pair[1])[month] - 0.1, "{sums:?}");
        }
    }
    let heated = report(&ducted(COLD, "heated", "R-0", "20 min"));
    assert!(months_g(&heated).iter().all(|g| g.abs() < 1.0), "{:?}", months_g(&heated));
    assert_eq!(verdict(&heated, "duct.year"), Some(Verdict::Holds));
}

/// What surrounds it is not written: its water stays unknown through the year as on the design day.
#[test]
fn a_duct_in_an_unknown_place_has_no_months() {
    let report = report(&bath(COLD, "", ", showers = 1", ""));
    assert!(report.runs[0].condensate.is_none());
    assert!(verdict(&report, "duct.year").is_none());
    let text = ducted(COLD, "attic", "R-4", "10 min");
    let (job, world) = read(&text);
    let day = evaluate(&job, &world, 0);
    assert!(day.runs[0].condensate.as_ref().unwrap().months_g.is_empty());
    assert!(verdict(&day, "duct.year").is_none());
}

fn courses_without_year(job: &Job, world: &World) -> bool {
    let courses = courses(job, world, false);
    courses.years.is_empty() && courses.showers.len() == 1
}
