//! What is written of the weather, the house, the use of a room, its surfaces, the dials of a control and
//! of ducts that get wet: good values are read as they are meant, bad ones are told with a way out.
//!
//! Factors: NIST SP 811 (2008), appendix B.8: a difference of 1 °F = 5/9 K; 1 US gallon per minute =
//! 6.309 020 E-05 m3/s; 1 lb = 4.535 924 E-01 kg.
#![expect(clippy::panic, reason = "helpers of tests stand outside of test functions")]

use std::sync::LazyLock;

use dewpath_job::model::{
    Climate, ClockTime, DoorHabit, FanHabit, Finish, Glazing, Jacket, Job, PartKind, RunShape,
    Season, SensorPlace, SlopeTo, SurfaceKind, Surroundings, Terrain, VentilationKind, WetSide,
};
use dewpath_job::patch::{Patch, Set, apply};
use dewpath_job::{Read, diff, read};
use dewpath_message::Speak as _;
use dewpath_units::{Choice, Origin, Quantity, Stated, Uncertain, YesNo};
use dewpath_words::Speaker;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

fn text(more: &str) -> String {
    format!("format = 1\nshow = \"us\"\n{more}")
}

fn good(more: &str) -> Read {
    read("house.toml", &text(more)).unwrap_or_else(|told| panic!("{told}"))
}

/// A job that is read without a single complaint beside those of a job that is not whole yet.
fn clean(more: &str) -> Job {
    let read = good(more);
    let complaints: Vec<String> = read
        .warnings
        .list
        .iter()
        .map(|told| ENGLISH.say(&told.message))
        .filter(|message| !message.starts_with("no r") && !message.starts_with("no t"))
        .collect();
    assert!(complaints.is_empty(), "{complaints:#?}");
    read.job
}

/// Everything that is told of a text, errors or warnings.
fn told(more: &str) -> String {
    match read("house.toml", &text(more)) {
        Ok(read) => read.warnings.render(&*ENGLISH, 100, false),
        Err(told) => format!("refused\n{}", told.render(&*ENGLISH, 100, false)),
    }
}

fn refused(more: &str, parts: &[&str]) {
    let told = told(more);
    assert!(told.starts_with("refused"), "`{more}` is read:\n{told}");
    for part in parts {
        assert!(told.contains(part), "`{part}` is missing for `{more}`:\n{told}");
    }
}

fn doubted(more: &str, parts: &[&str]) {
    let told = told(more);
    assert!(!told.starts_with("refused"), "`{more}`:\n{told}");
    for part in parts {
        assert!(told.contains(part), "`{part}` is missing for `{more}`:\n{told}");
    }
}

fn si<Q: Quantity>(given: &Option<Stated<Uncertain<Q>>>) -> f64 {
    match given.as_ref().map(|stated| stated.value) {
        Some(Uncertain::Exact(value)) => value.si(),
        other => panic!("not one exact value: {other:?}"),
    }
}

fn is<C: Copy + PartialEq + std::fmt::Debug>(given: &Option<Stated<Choice<C>>>, wanted: C) {
    assert_eq!(given.as_ref().map(|stated| &stated.value), Some(&Choice::Known(wanted)));
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-6 * b.abs().max(1e-9), "{a} is not {b}");
}

fn twelve(value: &str) -> String {
    format!("[{}]", vec![format!("\"{value}\""); 12].join(", "))
}

#[test]
fn the_weather_of_a_year_by_file_by_climate_or_by_months() {
    let job = clean(
        "[site]\nweather = \"weather/town.csv\"\nclimate = \"mixed humid\"\nterrain = \"suburb\"\n",
    );
    assert_eq!(job.site.weather.as_deref(), Some("weather/town.csv"));
    is(&job.site.climate, Climate::MixedHumid);
    is(&job.site.terrain, Terrain::Suburb);
    assert!(job.site.months.is_none());

    let months = format!(
        "[site.months]\ntemperature = [\"-4 C\", {}]\nhumidity = {}\nswing = {}\nwind = {}\n",
        ["\"50 F\""; 11].join(", "),
        twelve("70 %"),
        twelve("18 F"),
        twelve("10 mph")
    );
    let job = clean(&months);
    let months = job.site.months.unwrap();
    near(months.temperature[0].c(), -4.0);
    near(months.temperature[11].c(), 10.0);
    near(months.humidity.unwrap()[5].ratio(), 0.7);
    // A difference of 18 °F are 10 K: it has no zero at 32 °F.
    near(months.swing.unwrap()[6].k(), 18.0 * 5.0 / 9.0);
    near(months.wind.unwrap()[0].m_s(), 4.4704);
    assert!(months.dew_point.is_none());
}

#[test]
fn a_year_has_twelve_months_of_one_kind() {
    let eleven = format!("[{}]", ["\"50 F\""; 11].join(", "));
    refused(
        &format!("[site]\nmonths = {{ temperature = {eleven} }}\n"),
        &["`site.months.temperature` holds 11 values; a year has 12 months", "from January"],
    );
    let thirteen = format!("[{}]", ["\"50 F\""; 13].join(", "));
    refused(&format!("[site.months]\ntemperature = {thirteen}\n"), &["holds 13 values"]);
    refused("[site.months]\ntemperature = \"50 F\"\n", &["a list of twelve values"]);
    refused("[site.months]\ntemperature = [50, 51]\n", &["a temperature in quotes"]);
    refused(
        &format!("[site.months]\nwind = {}\n", twelve("9 mph")),
        &["lacks `temperature`", "for example: temperature = [\"25 F\""],
    );
    let good = twelve("50 F");
    refused(
        &format!("[site.months]\ntemperature = {good}\nswing = {}\n", twelve("18 cfm")),
        &["`18 cfm` is an airflow, but a temperature difference is expected here"],
    );
    refused(
        &format!("[site.months]\ntemperature = {good}\nhumidity = {}\n", twelve("120 %")),
        &["a relative humidity cannot be above 100 %"],
    );
    refused(
        &format!("[site.months]\ntemperature = {good}\nswing = {}\n", twelve("-5 K")),
        &["cannot be this small", "possible: 0 °F"],
    );
    doubted(
        &format!("[site.months]\ntemperature = {}\n", twelve("120 F")),
        &["unusually large: is that meant?"],
    );
    refused(
        &format!("[site.months]\ntemperature = {good}\ndew_point = {}\n", twelve("60 F")),
        &["the dew point of month 1 lies above the air temperature", "air cannot hold that"],
    );
    doubted(
        &format!(
            "[site.months]\ntemperature = {good}\ndew_point = {}\nhumidity = {}\n",
            twelve("40 F"),
            twelve("70 %")
        ),
        &["written twice", "this one is used"],
    );
    doubted(
        &format!("[site]\nweather = \"a.csv\"\n[site.months]\ntemperature = {good}\n"),
        &["monthly means are written beside a weather file"],
    );
    refused("[site]\nweather = \" \"\n", &["`site.weather` names no file"]);
    refused("[site]\nclimate = \"mixd humid\"\n", &["did you mean `mixed humid`?"]);
    refused("[site]\nterain = \"open\"\n", &["did you mean `terrain`?"]);
}

#[test]
fn a_house_with_its_set_points_ventilation_and_prices() {
    let job = clean(
        "[dwelling]\nstoreys = 2\noccupants = \"3..4\"\nheating = \"70 F\"\nair_conditioning = true\ncooling = \"76 F\"\n\
         dehumidifier = \"55 %\"\nmoisture = \"22 lb\"\n\
         ventilation = { kind = \"balanced\", airflow = \"90 cfm\", recovery = 0.7, moisture_recovery = \"45 %\", hours_per_day = \"20 h\" }\n\
         prices = { electricity = 0.18, heat = 0.09, cooling = 0.06, currency = \"$\" }\n\
         appliance = { id = \"heater\", kind = \"water heater\", draft = \"natural\", limit = \"3 Pa\", place = \"laundry\" }\n\
         [[room]]\nid = \"laundry\"\nkind = \"laundry\"\n",
    );
    let house = &job.dwelling;
    assert_eq!(house.storeys.as_ref().unwrap().value, Uncertain::Exact(2));
    assert_eq!(house.occupants.as_ref().unwrap().value, Uncertain::Range { low: 3, high: 4 });
    near(si(&house.heating), 294.261_111);
    near(si(&house.cooling), 297.594_444);
    assert_eq!(house.air_conditioning.as_ref().unwrap().value, YesNo::Yes);
    near(si(&house.dehumidifier), 0.55);
    near(si(&house.moisture), 22.0 * 0.453_592_4);
    is(&house.ventilation.kind, VentilationKind::Balanced);
    near(si(&house.ventilation.moisture_recovery), 0.45);
    near(si(&house.ventilation.hours_per_day), 72_000.0);
    assert_eq!(house.prices.electricity, Some(0.18));
    assert_eq!(house.prices.cooling, Some(0.06));
    assert_eq!(house.prices.currency.as_deref(), Some("$"));
    near(si(&house.appliances[0].limit), 3.0);
    assert_eq!(house.appliances[0].place.as_deref(), Some("laundry"));

    let nothing = clean("[dwelling]\nkind = \"house\"\n").dwelling;
    assert!(nothing.prices.electricity.is_none() && nothing.ventilation.kind.is_none());
    assert!(nothing.air_conditioning.is_none(), "not said is not no");
}

#[test]
fn a_house_that_cannot_be() {
    refused("[dwelling]\nprices = { electricity = -0.1 }\n", &["lies between 0 and 10000"]);
    refused("[dwelling]\nprices = { electricty = 0.1 }\n", &["did you mean `electricity`?"]);
    refused(
        "[dwelling]\nprices = { electricity = \"$0.18\" }\n",
        &["is a plain number, not a text", "for example: electricity = 0.18"],
    );
    refused(
        "[dwelling]\nheating = \"700 F\"\n",
        &["cannot be this large", "possible: 32 °F to 113 °F"],
    );
    refused("[dwelling]\nheating = 70\n", &["a temperature: `70` needs a unit"]);
    refused("[dwelling]\nventilation = { hours_per_day = \"25 h\" }\n", &["cannot be this large"]);
    refused("[dwelling]\nventilation = { recovery = 1.2 }\n", &["cannot be this large"]);
    refused("[dwelling]\nmoisture = \"10 kg/h\"\n", &["is a mass flow, but a mass is expected"]);
    refused(
        "[dwelling]\nappliance = { limit = \"-3 Pa\" }\n",
        &["`dwelling.appliance.appliance.limit` cannot be this small", "possible: 0 inWC"],
    );
    refused(
        "[dwelling]\nappliance = { place = \"celler\" }\n[[room]]\nid = \"cellar\"\nkind = \"laundry\"\n",
        &["no room has the id `celler`", "did you mean `cellar`?"],
    );
    doubted("[dwelling]\nmoisture = \"90 kg\"\n", &["unusually large"]);
    doubted(
        "[dwelling]\nheating = \"76 F\"\ncooling = \"70 F\"\n",
        &["heated to more than it is cooled to"],
    );
    doubted(
        "[dwelling]\nair_conditioning = false\ncooling = \"76 F\"\n",
        &["`air_conditioning` says that there is none"],
    );
    doubted(
        "[dwelling]\nventilation = { kind = \"exhaust\", recovery = 0.7 }\n",
        &["only ventilation with air both ways"],
    );
    doubted(
        "[dwelling]\nventilation = { kind = \"none\", airflow = \"50 cfm\" }\n",
        &["a house without ventilation"],
    );
}

const ROOM: &str = "[room]\nkind = \"bathroom\"\n";

#[test]
fn how_a_room_is_used_and_what_stands_in_it() {
    let job = clean(&format!(
        "{ROOM}temperature = \"72 F\"\nheater = \"1000 W\"\nmixing = \"0.8..1.2\"\nfinish = \"latex paint or plaster\"\n\
         finish_area = \"220 ft2\"\ntextiles = \"2 kg\"\n\
         [room.use]\nshowers = 3\nminutes = \"8 min\"\nwater = \"2 gpm\"\nwater_temperature = \"105 F\"\nvapour = \"2.5 kg/h\"\n\
         baths = 0\npeople = 2\nat = [\"06:45\", \"7:05 am\", \"10:30 PM\"]\ndoor = \"opened after\"\ndrying = \"4 kg\"\n\
         fan = \"during and after\"\nleave_on = \"20 min\"\n\
         [[room.surface]]\nid = \"mirror\"\nkind = \"mirror\"\narea = \"6 ft2\"\nheated = \"60 W\"\nother_side = \"heated\"\n\
         [[room.surface]]\nkind = \"window\"\nglazing = \"low-e double\"\nother_side = \"outdoors\"\n\
         [[room.surface]]\nkind = \"outside wall\"\ninsulation = {{ value = \"R-13\", origin = \"label\" }}\n"
    ));
    let room = &job.rooms[0];
    near(si(&room.heater), 1000.0);
    assert!(room.mixing.as_ref().unwrap().value.bounds().is_some());
    assert_eq!(
        room.finish.as_ref().unwrap().value,
        Choice::OneOf(vec![Finish::Latex, Finish::Plaster])
    );
    let usage = &room.usage;
    assert_eq!(usage.showers.as_ref().unwrap().value, Uncertain::Exact(3));
    near(si(&usage.water), 2.0 * 6.309_02e-5);
    near(si(&usage.vapour), 2.5 / 3600.0);
    is(&usage.door, DoorHabit::OpenAfter);
    is(&usage.fan, FanHabit::After);
    let at: Vec<String> = usage.at.iter().map(ToString::to_string).collect();
    assert_eq!(at, ["06:45", "07:05", "22:30"]);
    assert_eq!(usage.at[1].minutes(), 425);
    near(usage.at[1].after_midnight().h(), 425.0 / 60.0);
    let ids: Vec<&str> = room.surfaces.iter().map(|surface| surface.id.as_str()).collect();
    assert_eq!(ids, ["mirror", "surface-2", "surface-3"]);
    assert_eq!(room.surfaces[0].kind, SurfaceKind::Mirror);
    is(&room.surfaces[1].glazing, Glazing::LowE);
    is(&room.surfaces[1].other_side, Surroundings::Outdoors);
    assert_eq!(room.surfaces[2].insulation.as_ref().unwrap().origin, Origin::Label);

    let nothing = clean(ROOM);
    assert!(nothing.rooms[0].usage.at.is_empty() && nothing.rooms[0].surfaces.is_empty());
}

#[test]
fn times_of_day_in_every_way_of_writing() {
    let at = |written: &str| {
        let job = clean(&format!("{ROOM}use = {{ at = {written} }}\n"));
        job.rooms[0].usage.at[0]
    };
    for (written, minutes) in [
        ("\"06:45\"", 405),
        ("\"6:45\"", 405),
        ("[\"6:45 am\"]", 405),
        ("\"6:45pm\"", 1125),
        ("\"12:30 am\"", 30),
        ("\"12:30 pm\"", 750),
        ("06:45:00", 405),
        ("[06:45:00]", 405),
        ("\"00:00\"", 0),
        ("\"23:59\"", 1439),
    ] {
        assert_eq!(at(written).minutes(), minutes, "{written}");
    }
    for written in [
        "\"24:00\"",
        "\"6\"",
        "\"6:60\"",
        "\"13:00 pm\"",
        "\"0:30 am\"",
        "\"6:45:30\"",
        "\"-1:30\"",
        "\"6h45\"",
        "\"\"",
        "\"é:00\"",
        "2026-03-02",
        "\"06:45:00:00\"",
        "\"+6:45\"",
    ] {
        refused(
            &format!("{ROOM}use = {{ at = {written} }}\n"),
            &["is no time of day", "for example: \"06:45\""],
        );
    }
    refused(
        &format!("{ROOM}use = {{ at = 7 }}\n"),
        &["a time of day in quotes, not a bare number"],
    );
    assert_eq!(ClockTime::new(24, 0), None);
    assert_eq!(ClockTime::new(0, 60), None);
}

#[test]
fn habits_and_surfaces_that_do_not_go_together() {
    let uses = |table: &str| format!("{ROOM}use = {{ {table} }}\n");
    doubted(
        &uses("showers = 3, at = [\"06:45\"]"),
        &["showers in room `room`: 3 in a day, but 1 of the times at which they begin"],
    );
    doubted(&uses("at = [\"06:45\", \"6:45 am\"]"), &["two showers begin at 06:45"]);
    doubted(
        &uses("at = [\"06:45\", \"07:45\"], gap = \"10 min\""),
        &["beside the times at which they begin", "not used"],
    );
    doubted(&uses("fan = \"never\", leave_on = \"20 min\""), &["never switched on"]);
    doubted(
        &format!(
            "{ROOM}fixtures = {{ showers = 0, tubs = 0, jetted_tubs = 0 }}\nuse = {{ showers = 1 }}\n"
        ),
        &["has neither shower nor tub"],
    );
    doubted(&uses("minutes = \"90 min\""), &["unusually large"]);
    refused(&uses("minutes = 8"), &["a duration: `8` needs a unit"]);
    refused(&uses("water = \"80 cfm\""), &["`80 cfm` is an airflow, but a water flow is expected"]);
    refused(&uses("water = \"90 gpm\""), &["cannot be this large", "gpm"]);
    refused(&uses("door = \"ajar\""), &["write `shut`, `opened after`, `open` or `unknown`"]);
    refused(&uses("shower = 2"), &["did you mean `showers`?"]);
    refused(&format!("{ROOM}mixing = 4\n"), &["cannot be this large", "possible: 0.3 to 3"]);
    doubted(&format!("{ROOM}mixing = 2\n"), &["usual: 0.8 to 1.5"]);
    refused(&format!("{ROOM}finish = \"tiles\"\n"), &["did you mean `tile`?"]);

    refused(
        &format!("{ROOM}surface = {{ area = \"6 ft2\" }}\n"),
        &["lacks `kind`", "`mirror`, `window`, `outside wall`"],
    );
    refused(
        &format!(
            "{ROOM}surface = [{{ id = \"a\", kind = \"tile\" }}, {{ id = \"a\", kind = \"floor\" }}]\n"
        ),
        &["the id `a` is used twice"],
    );
    doubted(
        &format!("{ROOM}surface = {{ kind = \"mirror\", glazing = \"single\" }}\n"),
        &["is no window, but has glazing"],
    );
    doubted(
        &format!("{ROOM}surface = {{ kind = \"cistern\", heated = \"60 W\" }}\n"),
        &["heated from behind", "the room's `heater`"],
    );
}

const FAN: &str = "[room]\nkind = \"bathroom\"\n[fan]\nrated = \"80 cfm\"\n";

#[test]
fn the_dials_of_a_control() {
    let job = clean(&format!(
        "{FAN}control = \"humidity control\"\n[fan.settings]\non_at = \"60 %\"\nband = \"5 %\"\nrise = \"10 %\"\nsampling = \"30 s\"\n\
         lag = \"90 s\"\nsensor = \"in the fan\"\nrun_on = \"20 min\"\nmax_run = \"60..90 min\"\nlow_flow = 0.4\n"
    ));
    let settings = &job.fans[0].settings;
    near(si(&settings.on_at), 0.6);
    near(si(&settings.band), 0.05);
    near(si(&settings.rise), 0.1);
    near(si(&settings.lag), 90.0);
    near(si(&settings.run_on), 1200.0);
    near(si(&settings.low_flow), 0.4);
    is(&settings.sensor, SensorPlace::Fan);
    assert!(settings.off_delay.is_none());

    let set = |control: &str, table: &str| {
        format!("{FAN}control = \"{control}\"\nsettings = {{ {table} }}\n")
    };
    doubted(&set("timer", "on_at = \"60 %\""), &["feels no humidity, but is set to one"]);
    doubted(&set("timer", "off_delay = \"15 min\""), &["does not feel people"]);
    doubted(
        &set("humidity control", "on_at = \"60 %\", band = \"60 %\""),
        &["only switch off in air without any"],
    );
    doubted(
        &set("timer", "run_on = \"90 min\", max_run = \"60 min\""),
        &["longer than it may run in one go"],
    );
    doubted(&set("humidity control", "on_at = \"95 %\""), &["unusually large"]);
    refused(&set("humidity control", "on_at = \"60\""), &["this number has no unit"]);
    refused(&set("humidity control", "on_at = \"0 %\""), &["cannot be this small"]);
    refused(&set("timer", "run_on = \"20 ft\""), &["is a length, but a duration is expected"]);
    refused(&set("timer", "sensor = \"the wall\""), &["cannot be `the wall`"]);
    refused(&set("timer", "runon = \"20 min\""), &["did you mean `run_on`?"]);
    // The dials of the job and the verdict settings of the whole file do not mix.
    refused(&set("timer", "draws = 64"), &["`draws` is not a key of [fan.settings]"]);
}

#[test]
fn ducts_that_get_wet() {
    let job = clean(&format!(
        "{FAN}[run]\nduct = \"flex\"\nlength = \"12 ft\"\nplace = \"buried in insulation\"\ninsulation = \"R-8\"\n\
         slope = \"to outdoors\"\ncover = \"8 in\"\njacket = \"foil\"\ncompressed = 0.2\n\
         [terminal]\nkind = \"wall cap\"\nleak = \"1 in2\"\n"
    ));
    let RunShape::Sum(sum) = &job.runs[0].shape else { panic!("described by its sum") };
    is(&sum.duct.slope, SlopeTo::Out);
    near(si(&sum.duct.cover), 8.0 * 0.0254);
    is(&sum.duct.jacket, Jacket::Foil);
    near(si(&sum.duct.compressed), 0.2);
    near(si(&job.terminals[0].leak), 0.000_645_16);

    let job = clean(&format!(
        "{FAN}[run]\nduct = \"flex\"\nslope = \"low point between\"\njacket = \"plain\"\n\
         [[run.part]]\npiece = {{ length = \"6 ft\" }}\n[[run.part]]\ntrap = {{}}\n\
         [[run.part]]\npiece = {{ length = \"4 ft\", duct = \"smooth metal\", slope = \"to outdoors\" }}\n\
         [terminal]\nkind = \"wall cap\"\n"
    ));
    let RunShape::Parts(parts) = &job.runs[0].shape else { panic!("in parts") };
    let slopes: Vec<_> = parts
        .iter()
        .map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => duct.slope.as_ref().map(|s| s.value.clone()),
            PartKind::Trap => None,
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(
        slopes,
        [Some(Choice::Known(SlopeTo::Low)), None, Some(Choice::Known(SlopeTo::Out))]
    );

    let run = |lines: &str| {
        format!("{FAN}[run]\nlength = \"9 ft\"\n{lines}\n[terminal]\nkind = \"wall cap\"\n")
    };
    doubted(
        &run("place = \"attic\"\ncover = \"8 in\""),
        &["loose fill is written above a duct that is not buried"],
    );
    doubted(
        &run("rise = \"3 ft\"\nslope = \"to outdoors\""),
        &["ends higher than it begins, but falls to outdoors"],
    );
    refused(&run("slope = \"down\""), &["write `to outdoors`, `to the fan`, `level`"]);
    refused(&run("compressed = 1.5"), &["cannot be this large"]);
    refused(&run("cover = \"-8 in\""), &["a length cannot be negative"]);
    refused(&run("jacket = \"foyl\""), &["did you mean `foil`?"]);
    refused(
        &format!(
            "{FAN}[run]\n[[run.part]]\ntrap = {{ size = \"4 in\" }}\n[terminal]\nkind = \"wall cap\"\n"
        ),
        &["`size` is not a key of trap = {}", "it takes no keys: write trap = {}"],
    );
    refused(
        &format!(
            "{FAN}[run]\n[[run.part]]\ntrap = {{}}\nelbow = {{}}\n[terminal]\nkind = \"wall cap\"\n"
        ),
        &["is elbow and trap at once"],
    );
    doubted(&format!("{FAN}[terminal]\nleak = \"50 in2\"\n"), &["unusually large"]);
}

#[test]
fn when_a_drip_comes() {
    let job = clean(
        "[[symptom]]\nkind = \"drip\"\nseason = \"winter\"\nrain = false\nfan_on = \"unknown\"\nwet = \"inside or outside\"\n[room]\nkind = \"bathroom\"\n",
    );
    let symptom = &job.symptoms[0];
    is(&symptom.season, Season::Winter);
    assert_eq!(symptom.rain.as_ref().unwrap().value, YesNo::No);
    assert_eq!(symptom.fan_on.as_ref().unwrap().value, YesNo::Unknown);
    assert_eq!(
        symptom.wet.as_ref().unwrap().value,
        Choice::OneOf(vec![WetSide::Inside, WetSide::Outside])
    );
    refused("[symptom]\nkind = \"drip\"\nseason = \"wintr\"\n", &["did you mean `winter`?"]);
    refused("[symptom]\nkind = \"drip\"\nrain = \"a bit\"\n", &["yes, no or unknown"]);
}

/// A library's terminal and duct lend what the job does not say.
#[test]
fn a_library_lends_its_leak_and_its_jacket() {
    let library = dewpath_job::library::read(
        "library.toml",
        "format = 1\n[[terminal]]\nid = \"tight-cap\"\nkind = \"wall cap\"\nleak = \"3 cm2\"\n\
         [[duct]]\nid = \"wrapped\"\nkind = \"flex\"\ninsulation = \"R-8\"\njacket = \"foil\"\n",
    )
    .unwrap();
    let job =
        good(&format!("{FAN}[run]\nduct_model = \"wrapped\"\n[terminal]\nmodel = \"tight-cap\"\n"))
            .resolve(&library)
            .unwrap();
    near(si(&job.terminals[0].leak), 0.0003);
    let RunShape::Sum(sum) = &job.runs[0].shape else { panic!("described by its sum") };
    is(&sum.duct.jacket, Jacket::Foil);
    let placed = "format = 1\n[[duct]]\nid = \"a\"\nslope = \"level\"\n";
    let told = dewpath_job::library::read("library.toml", placed).unwrap_err();
    assert!(
        told.render(&*ENGLISH, 100, false)
            .contains("`slope` is not a key of [[duct]] of a library")
    );
}

#[test]
fn new_keys_are_compared_and_changed_by_their_paths() {
    let before = text(&format!(
        "{ROOM}use = {{ showers = 2 }}\n[room.surface] # over the basin\nkind = \"mirror\"\narea = \"6 ft2\"\n[fan]\n[fan.settings]\nrun_on = \"20 min\"\n"
    ));
    let set = |at: &str, value: &str| Set { at: at.to_owned(), value: value.to_owned() };
    let patch = Patch {
        set: vec![
            set("room.room.use.showers", "3"),
            set("room.room.use.at", "[\"06:45\", \"07:00\", \"07:15\"]"),
            set("room.room.surface.surface-1.area", "8 ft2"),
            set("room.room.surface.pane", "{ kind = \"window\", glazing = \"double\" }"),
            set("fan.fan.settings.run_on", "40 min"),
            set("fan.fan.settings.sensor", "wall"),
            set("dwelling.prices.electricity", "0.2"),
            set("dwelling.ventilation.kind", "supply"),
            set("site.months.temperature", &twelve("50 F")),
        ],
        remove: Vec::new(),
    };
    let after = apply(&before, &patch).unwrap();
    assert!(after.contains("# over the basin"), "{after}");
    let job = read("house.toml", &after).unwrap_or_else(|told| panic!("{told}\n{after}")).job;
    assert_eq!(job.rooms[0].usage.at.len(), 3);
    let ids: Vec<&str> = job.rooms[0].surfaces.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids, ["surface-1", "pane"], "the lone mirror keeps the id it had");
    assert_eq!(job.dwelling.prices.electricity, Some(0.2));

    let changes = diff::changes(("a.toml", &before), ("b.toml", &after)).unwrap();
    let at: Vec<&str> = changes.iter().map(|change| change.at.as_str()).collect();
    assert_eq!(
        at,
        [
            "dwelling.prices.electricity",
            "dwelling.ventilation.kind",
            "fan.fan.settings.run_on",
            "fan.fan.settings.sensor",
            "room.room.surface.pane",
            "room.room.surface.pane.glazing",
            "room.room.surface.pane.kind",
            "room.room.surface.surface-1.area",
            "room.room.use.at",
            "room.room.use.showers",
            "site.months.temperature",
        ]
    );

    // A value found different when built reaches the new keys as well.
    let built = format!("{before}[[built]]\nat = \"fan.fan.settings.run_on\"\nvalue = \"5 min\"\n");
    let job = dewpath_job::read_as_built("house.toml", &built).unwrap().job;
    near(si(&job.fans[0].settings.run_on), 300.0);
}

/// What means one thing to some and another to others is asked about, and nothing is suggested that means something else.
#[test]
fn words_with_two_meanings_are_asked_about() {
    let ends = |word: &str| format!("[room]\n[fan]\n[run]\n[terminal]\nkind = \"{word}\"\n");
    refused(&ends("soffit vent"), &["may be `soffit cap` or `soffit void`: write which it is"]);
    refused(&ends("cowl"), &["may be `wall cap` or `roof cap`"]);
    refused(&ends("louvre"), &["may be `wall cap` or `gable cap`"]);
    let strange = told(&ends("gravity vent"));
    assert!(!strange.contains("did you mean"), "{strange}");
    let duct = "[room]\n[fan]\n[run]\nduct = \"aluminum flex\"\n";
    refused(duct, &["may be `flex` or `semi-rigid`"]);
    let vent = told("[room]\n[fan]\n[run]\nduct = \"b-vent\"\n");
    assert!(vent.starts_with("refused") && !vent.contains("did you mean"), "{vent}");
    refused("[room]\nfinish = \"wallpaper\"\n", &["may be `latex paint` or `gloss paint`"]);
}

#[test]
fn an_equivalent_length_has_a_key_of_its_own() {
    let run = |more: &str| format!("[room]\n[fan]\n[run]\n{more}\n");
    refused(
        &run("equivalent_length = \"75 ft\"\nlength = \"40 ft\"\nelbows = 2"),
        &["`run.run.length` stands beside", "`run.run.elbows` stands beside", "elbows counted in"],
    );
    refused(
        &run("length = \"75 ft equivalent\""),
        &["`run.run.length` holds an equivalent length", "equivalent_length = \"75 ft\""],
    );
}

#[test]
fn a_bag_alone_tells_the_flow() {
    let reading = |more: &str| format!("[room]\n[[reading]]\nat = \"room\"\n{more}\n");
    refused(&reading("bag = { volume = \"13 gal\" }"), &["`reading.reading.bag` lacks `time`"]);
    refused(
        &reading("airflow = \"42 cfm\"\nbag = { volume = \"13 gal\", time = \"4.2 s\" }"),
        &["`reading.reading.airflow` stands beside a bag", "volume over its time"],
    );
}
