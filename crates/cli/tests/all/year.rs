//! The year on the command line: the table, the files, the exit codes, and weather that cannot be used.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::fmt::Write as _;
use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

struct Ran {
    code: i32,
    out: String,
    err: String,
}

fn dewpath(arguments: &[&str]) -> Ran {
    let mut command = Command::cargo_bin("dewpath").unwrap();
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    let output = command.env("COLUMNS", "80").args(arguments).output().unwrap();
    Ran {
        code: output.status.code().expect("ended by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A house with one bath, in the units and weather that are asked for.
fn job(show: &str, site: &str) -> String {
    format!(
        r#"
format = 1
name = "Bath by the yard"
show = "{show}"
[site]
indoor = "70 F"
{site}
[dwelling]
volume = "11000 ft3"
air_changes = "6 ACH50"
heating = "70 F"
prices = {{ electricity = 0.2, heat = 0.1, cooling = 0.1, currency = "crowns" }}
[[room]]
id = "yard-bath"
kind = "bathroom"
length = "9 ft"
width = "5 ft"
height = "8 ft"
door = {{ gap = "1 in", width = "30 in" }}
use = {{ showers = 2, minutes = "10 min", fan = "and after", leave_on = "20 min" }}
[fan]
rated = "80 cfm at 0.25 inWC"
power = "20 W"
[run]
duct = "smooth metal"
size = "4 in"
length = "6 ft"
elbows = 1
[terminal]
kind = "wall cap"
"#
    )
}

const CLIMATE: &str = "climate = \"mixed humid\"";

struct Place {
    folder: TempDir,
}

impl Place {
    fn with(job: &str) -> Self {
        let folder = TempDir::new().unwrap();
        std::fs::write(folder.path().join("job.toml"), job).unwrap();
        Self { folder }
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).display().to_string()
    }

    fn job(&self) -> String {
        self.path("job.toml")
    }
}

#[test]
fn the_table_has_twelve_months_and_fits_eighty_columns() {
    for (show, degree) in [("us", "°F"), ("metric", "°C")] {
        let place = Place::with(&job(show, CLIMATE));
        let ran = dewpath(&["year", &place.job(), "--draws", "0"]);
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
        assert!(ran.out.contains(degree) && ran.out.contains("mixed humid"), "{}", ran.out);
        let rows: Vec<&str> = ran
            .out
            .lines()
            .map(str::trim)
            .filter(|line| {
                ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
                    .iter()
                    .any(|month| line.starts_with(month))
            })
            .collect();
        assert_eq!(rows.len(), 12, "{}", ran.out);
        assert!(rows.iter().all(|row| row.split_whitespace().count() == 11), "{rows:?}");
        assert!(ran.out.contains("room.mould/yard-bath"), "{}", ran.out);
        let words: Vec<&str> = ran.out.split_whitespace().collect();
        assert!(words.join(" ").contains("not a promise"), "{}", ran.out);
        assert!(ran.out.contains("crowns"), "{}", ran.out);
    }
}

/// `check --year` has what `check` has, and the year; the JSON of both commands is the same report.
#[test]
fn check_can_follow_the_year_too() {
    let place = Place::with(&job("us", CLIMATE));
    let day = dewpath(&["check", &place.job(), "--draws", "0", "--json"]);
    let year = dewpath(&["check", &place.job(), "--draws", "0", "--json", "--year"]);
    let alone = dewpath(&["year", &place.job(), "--draws", "0", "--json"]);
    assert_eq!(year.out, alone.out);
    let read = |text: &str| serde_json::from_str::<Value>(text).unwrap();
    let (day, year) = (read(&day.out), read(&year.out));
    assert!(day["rooms"][0]["year"].is_null() && day["world"]["weather"].is_null());
    assert_eq!(year["rooms"][0]["year"]["months"].as_array().unwrap().len(), 12);
    assert_eq!(year["world"]["weather"].as_str().unwrap().len(), 64);
    assert!(!year["dwelling"]["year"]["weather"]["text"].as_str().unwrap().is_empty());
    let text = dewpath(&["check", &place.job(), "--draws", "0", "--year"]);
    assert!(text.out.contains("Through the year") && text.out.contains("Findings"), "{}", text.out);
    assert_eq!(text.out.matches("room.mould/yard-bath").count(), 1, "said once: {}", text.out);
}

#[test]
fn the_working_of_a_years_figure_is_shown() {
    let place = Place::with(&job("us", CLIMATE));
    for (asked, shown) in [
        ("room.mould", "dM/dt"),
        ("rooms.yard-bath.year.mould_peak_ratio", "dM/dt"),
        ("rooms.yard-bath.year.fan_h", "E = P t_fan"),
        ("rooms.yard-bath.year.cost", "cost = E p_E"),
        ("rooms.yard-bath.year.hours_above_80_h", "8760"),
        ("dwelling.year.humidity_ratio", "coil"),
    ] {
        let ran = dewpath(&["why", &place.job(), asked, "--draws", "0"]);
        assert_eq!(ran.code, 0, "{asked}: {}", ran.err);
        assert!(ran.out.contains(shown), "{asked}: {}", ran.out);
    }
    let ran = dewpath(&["why", &place.job(), "rooms.attic-bath.year.fan_h", "--draws", "0"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("room.year.energy/yard-bath"), "{}", ran.err);
}

/// A run whose surroundings are written has its water told month by month; every row fits, and `why` shows how.
#[test]
fn the_water_of_a_duct_is_told_by_month() {
    for (show, unit) in [("us", "oz"), ("metric", "g")] {
        let known = job(show, CLIMATE).replace(
            "elbows = 1",
            "elbows = 1\nplace = \"attic\"\ninsulation = \"R-0\"\nslope = \"to the fan\"",
        );
        let place = Place::with(&known);
        let ran = dewpath(&["year", &place.job(), "--draws", "0"]);
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
        let (_, table) = ran.out.split_once("Water left in the ducts").expect("a table");
        let cells: Vec<Vec<&str>> =
            table.lines().skip(1).take(15).map(|l| l.split_whitespace().collect()).collect();
        assert_eq!(cells[1], [unit], "{table}");
        let value = |row: &Vec<&str>| row[1].parse::<f64>().unwrap();
        assert!(cells[2][0] == "Jan" && cells[13][0] == "Dec" && cells[14][0] == "year");
        let sum: f64 = cells[2..14].iter().map(value).sum();
        assert!((sum - value(&cells[14])).abs() <= 6.5, "rounded to whole: {table}");
        assert!(value(&cells[2]) > value(&cells[8]), "January over July: {table}");
        assert!(ran.out.contains("duct.year/run"), "{}", ran.out);
        let why = dewpath(&["why", &place.job(), "duct.year", "--draws", "0"]);
        assert!(why.out.contains("net = settled - dried"), "{}{}", why.out, why.err);
        let same = dewpath(&["why", &place.job(), "runs.run.condensate.months_g", "--draws", "0"]);
        assert_eq!(same.out, why.out, "{}", same.err);
    }
    let place = Place::with(&job("us", CLIMATE));
    let unknown = dewpath(&["year", &place.job(), "--draws", "0"]);
    assert!(!unknown.out.contains("Water left in the ducts"), "{}", unknown.out);
}

fn lines(path: &str) -> Vec<String> {
    std::fs::read_to_string(path).unwrap().lines().map(str::to_owned).collect()
}

#[test]
fn courses_are_written_as_tables_with_units_in_their_head() {
    let place = Place::with(&job("us", CLIMATE));
    let out = place.path("courses");
    let ran = dewpath(&["year", &place.job(), "--draws", "0", "--csv", &out]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.err.contains("yard-bath-year.csv") && ran.err.contains("yard-bath-shower.csv"));
    for (name, least, unit) in [
        ("yard-bath-shower.csv", 60, "mirror_film_g_per_m2"),
        ("yard-bath-year.csv", 8761, "outdoor_c"),
    ] {
        let rows = lines(&Path::new(&out).join(name).display().to_string());
        assert!(rows.len() >= least, "{name} has {} rows", rows.len());
        assert!(rows[0].split(',').any(|head| head == unit), "{}", rows[0]);
        let fields = rows[0].split(',').count();
        assert!(rows.iter().all(|row| row.split(',').count() == fields && !row.contains("NaN")));
    }
    // Every hour of the year is one row, and the fan's seconds are those of the report.
    let rows = lines(&Path::new(&out).join("yard-bath-year.csv").display().to_string());
    assert_eq!(rows.len(), 8761);
    let fan_s: f64 =
        rows[1..].iter().map(|row| row.rsplit(',').next().unwrap().parse::<f64>().unwrap()).sum();
    let report = dewpath(&["year", &place.job(), "--draws", "0", "--json"]);
    let report: Value = serde_json::from_str(&report.out).unwrap();
    let fan_h = report["rooms"][0]["year"]["fan_h"].as_f64().unwrap();
    assert!((fan_s / 3600.0 - fan_h).abs() < 0.01 * fan_h, "{fan_s} s and {fan_h} h");
    // Without `--year`, `check` writes the design shower alone.
    let day = place.path("day");
    assert!(
        dewpath(&["check", &place.job(), "--draws", "0", "--csv", &day]).err.contains("shower.csv")
    );
    assert_eq!(std::fs::read_dir(&day).unwrap().count(), 1);
}

/// What an earlier run wrote is replaced; what somebody else wrote is left alone, and nothing else is written then.
#[test]
fn a_file_of_somebody_else_is_never_replaced() {
    let place = Place::with(&job("us", CLIMATE));
    let out = place.path("courses");
    let arguments = ["year", &place.job(), "--draws", "0", "--csv", &out];
    assert_eq!(dewpath(&arguments).code, 0);
    assert_eq!(dewpath(&arguments).code, 0, "what we wrote may be replaced");
    let theirs = Path::new(&out).join("yard-bath-year.csv");
    std::fs::write(&theirs, "day,what\n1,painted the ceiling\n").unwrap();
    std::fs::remove_file(Path::new(&out).join("yard-bath-shower.csv")).unwrap();
    let ran = dewpath(&arguments);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("yard-bath-year.csv") && ran.err.contains("help"), "{}", ran.err);
    assert!(std::fs::read_to_string(&theirs).unwrap().contains("ceiling"));
    assert!(!Path::new(&out).join("yard-bath-shower.csv").exists());
}

#[test]
fn without_weather_or_shower_it_says_what_is_missing() {
    let place = Place::with(&job("us", ""));
    let ran = dewpath(&["year", &place.job(), "--draws", "0"]);
    assert_eq!(ran.code, 3, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("site.weather") && ran.out.contains("site.months"), "{}", ran.out);
    let dry = job("us", CLIMATE).replace("showers = 2,", "showers = 0,");
    let ran = dewpath(&["year", &Place::with(&dry).job(), "--draws", "0"]);
    assert_eq!(ran.code, 3, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("showered or bathed in"), "{}", ran.out);
}

/// Hours of an invented place in a plain table.
fn table(hours: usize) -> String {
    let mut text = "time,temperature_c,humidity_percent,wind_m_s,pressure_pa\n".to_owned();
    let days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut hour = 0;
    for (month, days) in days.iter().enumerate() {
        for day in 1..=*days {
            for h in 0..24 {
                if hour >= hours {
                    return text;
                }
                hour += 1;
                let warm = 12.0 * f64::from(u8::try_from(month).unwrap()) - 66.0;
                let t = 18.0 - warm * warm / 200.0 + f64::from(h) / 6.0;
                writeln!(text, "2021-{:02}-{day:02}T{h:02}:00,{t:.1},80,3,99000", month + 1)
                    .unwrap();
            }
        }
    }
    text
}

fn with_file(text: &str) -> Ran {
    let place = Place::with(&job("us", "weather = \"hours.csv\""));
    std::fs::write(place.folder.path().join("hours.csv"), text).unwrap();
    dewpath(&["year", &place.job(), "--draws", "0"])
}

#[test]
fn a_table_of_hours_is_followed() {
    let ran = with_file(&table(8760));
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("Hourly table"), "{}", ran.out);
}

/// A typical year of an invented place in the TMY3 layout, with months of different years, a gap and a value that no station
/// measures.
fn typical_year() -> String {
    let mut text = "123456,\"Ridge above the valley\",XX,-6.0,41.000,-91.000,220\n\
        Date (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C),RHum (%),Pressure (mbar),Wspd (m/s)\n"
        .to_owned();
    let days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for (month, days) in days.iter().enumerate() {
        let season = f64::from(u32::try_from(month.abs_diff(6)).unwrap());
        for day in 1..=*days {
            for hour in 1..=24 {
                let t = 24.0 - 5.0 * season + 4.0 * f64::from(u8::from((9..19).contains(&hour)));
                let t = if (month, day, hour) == (3, 4, 5) { 99.0 } else { t };
                let wind = if (month, day) == (8, 9) && hour < 4 { -9900.0 } else { 3.5 };
                let year = 1991 + month;
                let date = format!("{:02}/{day:02}/{year}", month + 1);
                writeln!(text, "{date},{hour:02}:00,{t:.1},78,990,{wind}").unwrap();
            }
        }
    }
    text
}

/// What is odd about a file is told in whole sentences.
#[test]
fn a_typical_year_file_is_followed_and_its_oddities_are_told() {
    let ran = with_file(&typical_year());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let text = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in [
        "TMY3 layout, 123456 Ridge above the valley",
        "ends of hours",
        "months of 1991 to 2002",
        "Temperature: 1 values that no station measures were left out",
        "Wind speed: 3 hours without a value were filled",
    ] {
        assert!(text.contains(told), "`{told}` is not in {text}");
    }
    assert!(!text.contains(['{', '?']), "{text}");
}

/// Every complaint about a weather file names the file, what is wrong and a way out; nothing is judged.
#[test]
fn bad_weather_files_are_told() {
    let whole = table(8760);
    let without_column = whole.replace("temperature_c", "greeting");
    let gap: String = whole
        .lines()
        .enumerate()
        .filter(|(place, _)| !(500..560).contains(place))
        .fold(String::new(), |all, (_, line)| all + line + "\n");
    for (about, text, word) in [
        ("empty", String::new(), "empty"),
        ("short", table(900), "900"),
        ("no temperature", without_column, "temperature"),
        ("a gap of days", gap, "60"),
        ("no numbers", whole.replace(",80,", ",damp,"), "damp"),
        ("not a table", "\u{1}\u{2}\u{3}\n".repeat(20), "column"),
    ] {
        let ran = with_file(&text);
        assert_eq!(ran.code, 2, "{about}: {}{}", ran.out, ran.err);
        assert!(ran.out.is_empty(), "{about}: {}", ran.out);
        assert!(ran.err.contains("hours.csv") && ran.err.contains("help"), "{about}: {}", ran.err);
        assert!(ran.err.contains(word), "{about}: `{word}` is not in {}", ran.err);
        assert!(!ran.err.contains("panicked"), "{about}: {}", ran.err);
    }
    let place = Place::with(&job("us", "weather = \"nowhere.csv\""));
    let ran = dewpath(&["year", &place.job()]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("nowhere.csv"), "{}", ran.err);
}
