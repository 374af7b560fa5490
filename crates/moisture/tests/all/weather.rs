//! Weather files as they come, with all that is odd about them; years made of twelve months. Files and statistics of real stations are
//! compared in `reference/test_weather.py`.

use std::fmt::Write as _;

use dewpath_checkvalues::{absolute, check};
use dewpath_moisture::weather::climates::{CLIMATES, Climate};
use dewpath_moisture::weather::monthly::{Month, MonthHumidity, weather};
use dewpath_moisture::weather::{
    Below0, HOURS, Hour, Layout, Measure, Origin, Quirk, ReadOptions, Site, Weather, WeatherError,
    plain, read, statistics, temperature_quantile, tmy3,
};
use proptest::prelude::*;

const TWO_DAYS: &str = include_str!("data/two_invented_days.csv");
const MONTH_DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// A year in the TMY3 layout: the two invented days by turns, each month from another year.
fn tmy3_year() -> String {
    let mut lines = TWO_DAYS.lines();
    let mut text = format!("{}\n{}\n", lines.next().unwrap(), lines.next().unwrap());
    let rows: Vec<&str> = lines.map(|line| line.split_once(',').unwrap().1).collect();
    let mut number = 0;
    for (month, days) in MONTH_DAYS.into_iter().enumerate() {
        for day in 1..=days {
            let year = 1990 + (month * 5) % 12;
            for row in &rows[24 * (number % 2)..24 * (number % 2) + 24] {
                writeln!(text, "{:02}/{day:02}/{year},{row}", month + 1).unwrap();
            }
            number += 1;
        }
    }
    text
}

/// A plain table of hours with the values of a function of the hour, in a year of this many days.
fn plain_year(head: &str, days: usize, row: impl Fn(usize) -> String) -> String {
    let mut text = format!("{head}\n");
    let leap = days == 366;
    let year = if leap { 2024 } else { 2023 };
    let mut hour = 0;
    for (month, mut days) in MONTH_DAYS.into_iter().enumerate() {
        if leap && month == 1 {
            days += 1;
        }
        for day in 1..=days {
            for of_day in 0..24 {
                writeln!(text, "{year}-{:02}-{day:02}T{of_day:02}:00,{}", month + 1, row(hour))
                    .unwrap();
                hour += 1;
            }
        }
    }
    text
}

const HEAD: &str = "time,temperature_c,humidity_percent,pressure_pa,wind_m_s,wind_direction_deg";

fn mild(hour: usize) -> String {
    format!("{:.1},60,{},3.0,{}", 10.0 + (hour % 24) as f64 / 10.0, 100_000 + hour % 7, hour % 360)
}

/// The text with one line (numbered from 1) changed or, with `None`, taken out.
fn with_line(text: &str, number: usize, line: Option<&str>) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    match line {
        Some(line) => lines[number - 1] = line,
        None => {
            lines.remove(number - 1);
        }
    }
    lines.join("\n") + "\n"
}

fn read_plain(text: &str) -> Result<Weather, WeatherError> {
    plain::read(text.as_bytes(), &ReadOptions::default())
}

fn is_sound(year: &Weather) {
    assert_eq!(year.hours.len(), HOURS);
    for hour in &year.hours {
        let values = [hour.t_c, hour.rh, hour.w, hour.p_pa, hour.wind_m_s.unwrap_or(0.0)];
        assert!(values.into_iter().all(f64::is_finite), "{hour:?}");
        assert!((0.0..=1.0).contains(&hour.rh) && hour.w >= 0.0 && hour.p_pa > 0.0, "{hour:?}");
    }
}

#[test]
fn a_tmy3_file_is_read_by_the_names_of_its_columns() {
    let text = tmy3_year();
    let year = tmy3::read(text.as_bytes(), &ReadOptions::default()).unwrap();
    is_sound(&year);
    assert_eq!(read(text.as_bytes(), &ReadOptions::default()).unwrap(), year);
    assert_eq!(year.origin, Origin::File(Layout::Tmy3));
    assert_eq!(year.site.name.as_deref(), Some("990001 INVENTED RIDGE, NORTH, ZZ"));
    assert_eq!(year.site.altitude_m, Some(1200.0));
    assert_eq!((year.site.latitude_deg, year.site.longitude_deg), (Some(46.25), Some(-112.5)));
    assert_eq!(year.site.time_zone_h, Some(-7.0));
    // The row stamped 01:00 is the first hour, 15:00 of the second day the hour from 14:00 to 15:00.
    let rows: Vec<&str> = TWO_DAYS.lines().skip(2).collect();
    let field = |row: usize, index: usize| -> f64 {
        rows[row].split(',').nth(index).unwrap().parse().unwrap()
    };
    for row in [0, 23, 24 + 14, 47] {
        let hour = year.hours[row];
        absolute("temperature", hour.t_c, field(row, 5), 1e-12);
        absolute("pressure", hour.p_pa, 100.0 * field(row, 14), 1e-9);
        absolute("wind", hour.wind_m_s.unwrap(), field(row, 20), 1e-12);
        absolute("direction", hour.wind_deg.unwrap(), field(row, 17), 1e-12);
    }
    // Above freezing the humidity stands as it was given.
    let warm = (0..48).find(|row| field(*row, 5) > 1.0).unwrap();
    absolute("humidity", year.hours[warm].rh, field(warm, 11) / 100.0, 1e-12);
    for note in [
        Quirk::HourEnding,
        Quirk::MonthSplices { jumps: 11, first_year: 1990, last_year: 2001 },
        Quirk::StationWind { height_m: 10.0 },
    ] {
        assert!(year.notes.contains(&note), "{:?}", year.notes);
    }
    assert!(
        year.notes
            .iter()
            .any(|note| matches!(note, Quirk::OverWater { hours, .. } if *hours > 1000))
    );
}

/// World Meteorological Organization, Guide No. 8, annex 4.B: saturation 6.112·e^(17.62·t/(243.12 + t)) hPa over water and
/// 6.112·e^(22.46·t/(272.62 + t)) hPa over ice. At −10 °C, 80 % over water is 88 % over ice.
#[test]
fn humidity_below_freezing_is_that_over_water() {
    let hour = |below_0| Hour::new(-10.0, 0.8, below_0, 100_000.0, None, None).unwrap();
    let water = 611.2 * libm::exp(17.62 * -10.0 / (243.12 - 10.0));
    let ice = 611.2 * libm::exp(22.46 * -10.0 / (272.62 - 10.0));
    absolute("rh", hour(Below0::OverWater).rh, 0.8 * water / ice, 0.002);
    absolute("rh", hour(Below0::OverIce).rh, 0.8, 1e-12);
    let vapour = 0.8 * water;
    absolute("w", hour(Below0::OverWater).w, 0.621945 * vapour / (100_000.0 - vapour), 5e-6);
    // More than ice allows: saturated, not more. At −60 °C too, where there is no water.
    let full = Hour::new(-10.0, 1.0, Below0::OverWater, 100_000.0, None, None).unwrap();
    absolute("saturated", full.rh, 1.0, 1e-12);
    assert!(Hour::new(-60.0, 1.0, Below0::OverWater, 100_000.0, None, None).unwrap().w > 0.0);
    let text = plain_year(HEAD, 365, |_| String::from("-10,100,100000,3,0"));
    let year = read_plain(&text).unwrap();
    assert!(
        year.notes.contains(&Quirk::OverWater { hours: 8760, clipped: 8760 }),
        "{:?}",
        year.notes
    );
    assert!(year.notes.contains(&Quirk::ConstantPressure { p_pa: 100_000.0 }));
}

#[test]
fn missing_values_are_filled_by_straight_lines_and_told() {
    for code in ["", "NA", "NaN", "-9900", "9999", "999999", "-9999.0", "?"] {
        let text = plain_year(HEAD, 365, |hour| match hour {
            // Three hours of −9, −8, … would have been 13, 14, 15.
            100..=102 => format!("{code},60,100000,3,0"),
            _ => format!("{},60,{},3,0", (hour as f64 - 87.0).clamp(0.0, 20.0), 100_000 + hour % 7),
        });
        let year = read_plain(&text).unwrap();
        for (hour, want) in [(99, 12.0), (100, 13.0), (101, 14.0), (102, 15.0), (103, 16.0)] {
            absolute(code, year.hours[hour].t_c, want, 1e-12);
        }
        let filled = Quirk::Filled { measure: Measure::Temperature, hours: 3, longest_h: 3 };
        assert!(year.notes.contains(&filled), "{code}: {:?}", year.notes);
    }
}

#[test]
fn a_gap_across_new_year_is_filled_too() {
    let text = plain_year(HEAD, 365, |hour| match hour {
        0 | 1 | 8759 => String::from(",60,100000,3,0"),
        2 => String::from("8,60,100000,3,0"),
        8758 => String::from("4,60,100000,3,0"),
        _ => mild(hour),
    });
    let year = read_plain(&text).unwrap();
    for (hour, want) in [(8759, 5.0), (0, 6.0), (1, 7.0)] {
        absolute("filled", year.hours[hour].t_c, want, 1e-12);
    }
}

#[test]
fn a_long_gap_is_refused_with_its_lines() {
    let text = plain_year(HEAD, 365, |hour| {
        if (100..107).contains(&hour) { String::from("10,,100000,3,0") } else { mild(hour) }
    });
    // The names are line 1, hour 0 is line 2.
    let wanted = WeatherError::Gap {
        measure: Measure::Humidity,
        hours: 7,
        limit_h: 6,
        after_line: 101,
        before_line: 109,
    };
    assert_eq!(read_plain(&text), Err(wanted.clone()));
    assert!(wanted.to_string().contains("lines 101 and 109"), "{wanted}");
    let patient = ReadOptions { longest_gap_h: 7, ..ReadOptions::default() };
    assert!(plain::read(text.as_bytes(), &patient).is_ok());
}

/// A popular hourly record holds a wind of 468.66 m/s.
#[test]
fn a_wind_that_no_station_measures_is_rejected() {
    let text = plain_year("time,temperature_f,dew_point_f,pressure_mbar,wind_mph", 365, |hour| {
        let wind = if hour == 1000 { check("WX-10").value() } else { 10.0 };
        format!("50,41,{},{wind}", 1010 + hour % 5)
    });
    let year = read_plain(&text).unwrap();
    let told = year.notes.iter().find_map(|note| match note {
        Quirk::Rejected {
            measure: Measure::WindSpeed,
            hours,
            first_line,
            first_value,
            high,
            ..
        } => Some((*hours, *first_line, *first_value, *high)),
        _ => None,
    });
    let (hours, line, value, high) = told.unwrap();
    assert_eq!((hours, line), (1, 1002));
    absolute("rejected", value, 468.66, 0.01);
    absolute("limit", high, 75.0, 0.0);
    absolute("filled", year.hours[1000].wind_m_s.unwrap(), 4.4704, 1e-12);
    // 50 and 41 °F are 10 and 5 °C; ASHRAE Fundamentals 2017, ch. 1, table 2: 872.6 Pa of 1228.0 Pa.
    absolute("temperature", year.hours[0].t_c, 10.0, 1e-12);
    absolute("humidity", year.hours[0].rh, 872.6 / 1228.0, 2e-4);
    assert!(year.notes.contains(&Quirk::FromDewPoint { hours: 8760 }));
}

#[test]
fn units_are_those_of_the_column_names() {
    // 29.921 in of mercury, 1013.25 hPa and 101.325 kPa are one atmosphere; 36 km/h, 19.4384 kn are 10 m/s.
    for (name, value) in [
        ("pressure_pa", "101325"),
        ("pressure_hpa", "1013.25"),
        ("pressure_mbar", "1013.25"),
        ("pressure_kpa", "101.325"),
        ("pressure_inhg", "29.9213"),
    ] {
        let head = format!("time,temperature_c,humidity_percent,{name}");
        let year = read_plain(&plain_year(&head, 365, |_| format!("5,50,{value}"))).unwrap();
        absolute(name, year.hours[5].p_pa, 101_325.0, 1.0);
        assert!(year.notes.contains(&Quirk::NoWind) && year.hours[5].wind_m_s.is_none());
    }
    for (name, value) in [
        ("wind_m_s", "10"),
        ("wind_km_h", "36"),
        ("wind_knots", "19.43844"),
        ("wind_mph", "22.36936"),
    ] {
        let head = format!("time,temperature_c,humidity_percent,pressure_pa,{name}");
        let year = read_plain(&plain_year(&head, 365, |_| format!("5,50,100000,{value}"))).unwrap();
        absolute(name, year.hours[5].wind_m_s.unwrap(), 10.0, 1e-5);
    }
}

#[test]
fn pressure_follows_from_altitude_only_when_it_is_known() {
    let rows = plain_year("time,temperature_c,humidity_percent", 365, |_| String::from("5,50"));
    assert_eq!(read_plain(&rows), Err(WeatherError::NoPressure));
    // US Standard Atmosphere 1976: 79 495 Pa at 2000 m.
    let told = format!("# name = Ridge\n# altitude_m = 2000\n{rows}");
    let year = read_plain(&told).unwrap();
    absolute("pressure", year.hours[0].p_pa, 79_495.0, 25.0);
    assert_eq!(year.site.name.as_deref(), Some("Ridge"));
    let options = ReadOptions { altitude_m: Some(2000.0), ..ReadOptions::default() };
    let year = plain::read(rows.as_bytes(), &options).unwrap();
    absolute("pressure", year.hours[0].p_pa, 79_495.0, 25.0);
    assert!(year.notes.iter().any(|note| matches!(note, Quirk::PressureFromAltitude { .. })));
    let bad = read_plain(&format!("# altitude_m = high up\n{rows}"));
    assert!(matches!(bad, Err(WeatherError::BadSite { line: 1, .. })), "{bad:?}");
}

#[test]
fn a_leap_year_loses_its_day() {
    let leap = read_plain(&plain_year(HEAD, 366, mild)).unwrap();
    assert!(leap.notes.contains(&Quirk::LeapDayDropped));
    // 1 March, 00:00 is hour 1416 of the year and row 1440 of the file.
    absolute("pressure", leap.hours[1416].p_pa, f64::from(100_000 + 1440 % 7), 1e-9);
    absolute("pressure", leap.hours[1415].p_pa, f64::from(100_000 + 1415 % 7), 1e-9);
    // The same by numbers of hours, from 0 and from 1.
    for first in [0, 1] {
        let head = HEAD.replace("time", "hour");
        let mut text = format!("{head}\n");
        for hour in 0..8784 {
            writeln!(text, "{},{}", hour + first, mild(hour)).unwrap();
        }
        let numbered = read_plain(&text).unwrap();
        assert_eq!(numbered.hours, leap.hours);
    }
}

#[test]
fn hours_may_begin_or_end_at_their_stamp_and_come_in_any_order() {
    let begin = read_plain(&plain_year(HEAD, 365, mild)).unwrap();
    let ending =
        plain_year(&HEAD.replace("time", "time_ending"), 365, |hour| mild((hour + 8759) % 8760));
    let end = read_plain(&ending).unwrap();
    assert_eq!(begin.hours, end.hours);
    assert!(end.notes.contains(&Quirk::HourEnding));
    let text = plain_year(HEAD, 365, mild);
    let (head, rows) = text.split_once('\n').unwrap();
    let turned: Vec<&str> = rows.lines().rev().collect();
    let turned = read_plain(&format!("{head}\n{}\n", turned.join("\n"))).unwrap();
    assert_eq!(begin.hours, turned.hours);
    // A constant half hour and an offset change nothing but the notes and the place.
    let half = plain_year(HEAD, 365, mild).replace(":00,", ":30:00+01:00,");
    let half = read_plain(&half).unwrap();
    assert_eq!(begin.hours, half.hours);
    assert!(half.notes.contains(&Quirk::WithinHour { minute: 30 }));
    assert_eq!(half.site.time_zone_h, Some(1.0));
}

#[test]
fn missing_and_repeated_hours_are_told() {
    let text = plain_year(HEAD, 365, mild);
    let without = read_plain(&with_line(&text, 500, None)).unwrap();
    assert!(without.notes.contains(&Quirk::MissingHours { hours: 1 }));
    let (before, after) = (without.hours[497].t_c, without.hours[499].t_c);
    absolute("filled", without.hours[498].t_c, f64::midpoint(before, after), 1e-12);
    let line = text.lines().nth(300).unwrap();
    let twice = with_line(&text, 302, Some(&format!("{line}\n{}", text.lines().nth(301).unwrap())));
    let year = read_plain(&twice).unwrap();
    assert!(
        year.notes.contains(&Quirk::RepeatedHours { hours: 1, first_line: 302 }),
        "{:?}",
        year.notes
    );
    assert_eq!(year.hours, read_plain(&text).unwrap().hours);
}

#[test]
fn too_damp_readings_are_clipped_and_told() {
    let text = plain_year(HEAD, 365, |hour| match hour {
        7 => String::from("5,104,100000,3,0"),
        8 => String::from("5,130,100000,3,0"),
        _ => mild(hour),
    });
    let year = read_plain(&text).unwrap();
    absolute("clipped", year.hours[7].rh, 1.0, 1e-12);
    // 130 % is no reading: between its neighbours, 104 and 60 %.
    absolute("filled", year.hours[8].rh, 0.82, 1e-9);
    assert!(year.notes.contains(&Quirk::AboveSaturation { hours: 1 }));
}

#[test]
fn what_is_wrong_is_told_with_its_place() {
    let text = plain_year(HEAD, 365, mild);
    let told = |text: &str| read_plain(text).unwrap_err();
    assert_eq!(told(""), WeatherError::Empty);
    assert_eq!(told("\n\n"), WeatherError::Empty);
    assert!(matches!(told(HEAD), WeatherError::Empty));
    let few = told(&text.lines().take(48).collect::<Vec<_>>().join("\n"));
    assert_eq!(few, WeatherError::TooFewRows { rows: 47, last_line: 48 });
    let bad = told(&with_line(&text, 12, Some("2023-01-01T10:00,warm,60,100000,3,0")));
    let wanted =
        WeatherError::BadNumber { line: 12, column: "temperature_c".into(), text: "warm".into() };
    assert_eq!(bad, wanted);
    assert!(bad.to_string().contains("line 12, column `temperature_c`: `warm`"), "{bad}");
    // Lines are counted as an editor counts them, remarks and blank lines too.
    let remarks = format!(
        "# name = Ridge\n\n# a remark\n{}",
        with_line(&text, 12, Some("2023-01-01T10:00,warm,60"))
    );
    assert!(
        matches!(told(&remarks), WeatherError::BadNumber { line: 15, .. }),
        "{}",
        told(&remarks)
    );
    let blank = text.replacen("\n2023-01-01T10", "\n\n\n# here\n2023-01-01T10", 1);
    let blank = blank.replacen("T10:00,11.0", "T10:00,warm", 1);
    assert!(matches!(told(&blank), WeatherError::BadNumber { line: 15, .. }), "{}", told(&blank));
    let bad = told(&with_line(&text, 12, Some("2023-02-30T10:00,5,60,100000,3,0")));
    assert!(matches!(bad, WeatherError::BadTime { line: 12, .. }), "{bad}");
    let bad = told(&with_line(&text, 12, Some("2023-01-01T10:15,5,60,100000,3,0")));
    assert_eq!(bad, WeatherError::NotHourly { line: 12, minute: 15, first_minute: 0 });
    let bad = told(&with_line(&text, 12, Some("2023-01-01T10:00,5,60")));
    assert_eq!(bad, WeatherError::ShortRow { line: 12, fields: 3, needed: 4 });
    let bad = told(&with_line(&text, 12, Some("2023-01-01T10:00Z,5,60,100000,3,0")));
    assert_eq!(bad, WeatherError::ClockChanged { line: 12 });
    let bad = told(&with_line(&text, 1, Some("time,temp,humidity_percent,pressure_pa,wind_m_s,x")));
    assert!(
        bad.to_string().contains("`temperature_c`") && bad.to_string().contains("temp,"),
        "{bad}"
    );
    let bad =
        told(&with_line(&text, 1, Some("time,temperature_c,temperature_f,humidity_percent,x,y")));
    assert!(matches!(bad, WeatherError::RepeatedColumn { line: 1, .. }), "{bad}");
    let bad =
        told(&with_line(&text, 1, Some("when,temperature_c,humidity_percent,pressure_pa,x,y")));
    assert!(matches!(bad, WeatherError::MissingOneOf { line: 1, .. }), "{bad}");
    let twice = format!("{text}{}", text.lines().skip(1).collect::<Vec<_>>().join("\n"));
    assert!(matches!(told(&twice), WeatherError::TooManyRows { line: 8810 }), "{}", told(&twice));
    let odd = HEAD.replace("wind_m_s", "wind");
    let year = read_plain(&with_line(&text, 1, Some(&odd))).unwrap();
    assert!(year.notes.contains(&Quirk::UnreadColumns { names: vec!["wind".into()] }));
    // Every temperature in the wrong unit (kelvins): the gap names the column's unit.
    let kelvins = plain_year(HEAD, 365, |_| String::from("283,60,100000,3,0"));
    assert!(told(&kelvins).to_string().contains("unit is right"));
    let large = vec![b' '; dewpath_moisture::weather::LARGEST_FILE + 1];
    let bad = plain::read(&large, &ReadOptions::default());
    assert!(matches!(bad, Err(WeatherError::TooLarge { .. })));
}

#[test]
fn tmy3_errors_tell_their_place() {
    let text = tmy3_year();
    let told = |text: &str| tmy3::read(text.as_bytes(), &ReadOptions::default()).unwrap_err();
    let station = |line: &str| told(&with_line(&text, 1, Some(line)));
    assert!(matches!(station("1,A,B"), WeatherError::ShortRow { line: 1, .. }));
    assert!(matches!(station("1,A,B,-7,north,0,0"), WeatherError::BadSite { line: 1, .. }));
    let unnamed = told(&text.replace("Dry-bulb (C)", "Dry bulb"));
    assert!(unnamed.to_string().contains("Dry-bulb (C)"), "{unnamed}");
    let bad = told(&with_line(&text, 3, Some("13/01/1990,01:00,0,E,9,5")));
    assert!(matches!(bad, WeatherError::BadTime { line: 3, .. }), "{bad}");
    assert!(matches!(told(TWO_DAYS), WeatherError::TooFewRows { rows: 48, last_line: 50 }));
    assert_eq!(told(""), WeatherError::Empty);
}

/// Mean of a month's hours.
fn month_mean(year: &Weather, month: usize, value: impl Fn(&Hour) -> f64) -> f64 {
    let start: usize = MONTH_DAYS[..month].iter().sum::<usize>() * 24;
    let hours = &year.hours[start..start + MONTH_DAYS[month] * 24];
    hours.iter().map(value).sum::<f64>() / hours.len() as f64
}

fn vapour_pa(hour: &Hour) -> f64 {
    hour.p_pa * hour.w / (0.621945 + hour.w)
}

#[test]
fn built_in_climates_keep_their_monthly_figures() {
    // Three sorts, and 32 stations of the United States.
    assert_eq!(CLIMATES.len(), 35);
    for climate in &CLIMATES {
        let year = climate.weather().unwrap();
        is_sound(&year);
        assert_eq!(year.origin, Origin::Climate(climate.id));
        for (month, [mean, swing, vapour, wind]) in climate.months.into_iter().enumerate() {
            absolute(climate.id, month_mean(&year, month, |hour| hour.t_c), mean, 1e-9);
            absolute(climate.id, month_mean(&year, month, vapour_pa), vapour, 1e-3 * vapour);
            absolute(
                climate.id,
                month_mean(&year, month, |hour| hour.wind_m_s.unwrap()),
                wind,
                1e-9,
            );
            // The coldest and warmest hour of its days are the swing apart in the mean, but for the course through the year.
            let first = MONTH_DAYS[..month].iter().sum::<usize>();
            let days = year.hours[24 * first..24 * (first + MONTH_DAYS[month])].chunks(24);
            let swings =
                days.map(|day| statistics(day).unwrap()).map(|day| day.t_max_c - day.t_min_c);
            let mean = swings.sum::<f64>() / MONTH_DAYS[month] as f64;
            absolute(climate.id, mean, swing, 0.15 * swing + 0.1);
            let middle = &year.hours[24 * (first + 14)..24 * (first + 15)];
            absolute(climate.id, middle[14].t_c, statistics(middle).unwrap().t_max_c, 0.05);
        }
        // Colder than anything that twelve means hold.
        assert!(
            temperature_quantile(&year.hours, 0.01).unwrap() > climate.cold_c,
            "{}",
            climate.id
        );
        assert!(Climate::named(climate.id) == Some(climate));
    }
    assert!(Climate::named("nowhere").is_none());
}

fn months(mean: [f64; 12], humidity: MonthHumidity) -> [Month; 12] {
    mean.map(|mean_c| Month { mean_c, swing_k: 9.0, humidity, wind_m_s: None })
}

const MEANS: [f64; 12] = [-6.0, -4.0, 1.0, 7.0, 13.0, 17.0, 19.0, 18.0, 13.0, 8.0, 2.0, -4.0];

#[test]
fn months_that_cannot_be_so_damp_are_told() {
    let all =
        |humidity| weather(&months(MEANS, humidity), Site::default(), 90_000.0, Below0::OverIce);
    let year = all(MonthHumidity::Relative(0.85)).unwrap();
    is_sound(&year);
    for month in 0..12 {
        absolute("relative humidity", month_mean(&year, month, |hour| hour.rh), 0.85, 1e-3);
    }
    assert!(year.notes.contains(&Quirk::NoWind) && year.notes.contains(&Quirk::NoSpells));
    // A dew point of 12 °C (1403 Pa; ASHRAE Fundamentals 2017, ch. 1, table 2) cannot be had in a winter month.
    let damp = all(MonthHumidity::DewPoint(12.0)).unwrap();
    is_sound(&damp);
    absolute("vapour in July", month_mean(&damp, 6, vapour_pa), 1403.0, 3.0);
    let too_damp: Vec<usize> = damp
        .notes
        .iter()
        .filter_map(
            |note| if let Quirk::MonthTooDamp { month, .. } = note { Some(*month) } else { None },
        )
        .collect();
    assert!(too_damp.contains(&1) && !too_damp.contains(&7), "{too_damp:?}");
    assert!(all(MonthHumidity::Relative(80.0)).is_err());
    assert!(all(MonthHumidity::VapourPressure(f64::NAN)).is_err());
}

#[test]
fn figures_of_no_hours_are_none() {
    assert_eq!(statistics(&[]), None);
    assert_eq!(temperature_quantile(&[], 0.5), None);
    let hour = Hour::new(5.0, 0.5, Below0::OverWater, 1e5, None, None).unwrap();
    assert_eq!(temperature_quantile(&[hour], 1.5), None);
    assert_eq!(temperature_quantile(&[hour], 1.0), Some(5.0));
    assert_eq!(statistics(&[hour]).unwrap().wind_mean_m_s, None);
    assert!(Hour::new(f64::NAN, 0.5, Below0::OverWater, 1e5, None, None).is_err());
}

/// Reads bytes in every way there is: an answer in numbers or an error that can be shown.
fn read_all(bytes: &[u8]) {
    let options = [
        ReadOptions::default(),
        ReadOptions { longest_gap_h: 9000, below_0: Below0::OverIce, altitude_m: Some(100.0) },
    ];
    for options in &options {
        for year in [read(bytes, options), tmy3::read(bytes, options), plain::read(bytes, options)]
        {
            match year {
                Ok(year) => is_sound(&year),
                Err(why) => assert!(!why.to_string().is_empty()),
            }
        }
    }
}

fn piece() -> impl Strategy<Value = String> {
    let words = vec![
        "time",
        "time_ending",
        "hour",
        "temperature_c",
        "temperature_f",
        "humidity_percent",
        "dew_point_c",
        "pressure_pa",
        "wind_mph",
        "wind_direction_deg",
        "2023-01-01T00:00",
        "2024-02-29 12:00Z",
        "2023-13-01T00:00",
        "2023-01-01T25:99+é1:00",
        "2023-01-01T00:00-99:99",
        "0",
        "8760",
        "8784",
        "-9900",
        "1e400",
        "nan",
        "inf",
        "-5.5",
        "\"",
        "é🚿",
        "# altitude_m = 1e9\n",
        "#\n",
        "01/01/1997",
        "24:00",
        "Date (MM/DD/YYYY)",
        "Time (HH:MM)",
        "Dry-bulb (C)",
        "RHum (%)",
        "703,A,B,-9,55,-160,7\n",
        "\u{feff}",
    ];
    (prop::sample::select(words), prop::sample::select(vec![",", ",", "\n", "\r\n", ""]))
        .prop_map(|(word, end)| format!("{word}{end}"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        read_all(&bytes);
    }

    #[test]
    fn any_pieces(pieces in prop::collection::vec(piece(), 0..60)) {
        read_all(pieces.concat().as_bytes());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// A year with a piece of it replaced.
    #[test]
    fn a_year_with_a_hole_in_it(
        is_tmy3 in any::<bool>(),
        from in 0usize..400_000,
        len in 0usize..60,
        new in prop::collection::vec(piece(), 0..6),
    ) {
        let mut bytes = if is_tmy3 { tmy3_year() } else { plain_year(HEAD, 365, mild) }.into_bytes();
        let from = from.min(bytes.len());
        let to = (from + len).min(bytes.len());
        bytes.splice(from..to, new.concat().into_bytes());
        read_all(&bytes);
    }

    /// Whatever the months: their mean temperatures are kept, and no hour is more than saturated.
    #[test]
    fn any_months(
        figures in prop::collection::vec((-40.0f64..35.0, 0.0f64..25.0, 0.01f64..1.0), 12),
        p_pa in 55_000.0f64..105_000.0,
        is_ice in any::<bool>(),
    ) {
        let mut given = months(MEANS, MonthHumidity::Relative(0.5));
        for (month, (mean_c, swing_k, rh)) in given.iter_mut().zip(&figures) {
            *month = Month {
                mean_c: *mean_c,
                swing_k: *swing_k,
                humidity: MonthHumidity::Relative(*rh),
                wind_m_s: Some(2.0),
            };
        }
        let below_0 = if is_ice { Below0::OverIce } else { Below0::OverWater };
        match weather(&given, Site::default(), p_pa, below_0) {
            Ok(year) => {
                is_sound(&year);
                for (month, (mean_c, ..)) in figures.iter().enumerate() {
                    let got = month_mean(&year, month, |hour| hour.t_c);
                    prop_assert!((got - mean_c).abs() < 0.05, "{got} {mean_c}");
                }
            }
            // Months that leap by tens of kelvins overshoot what air can be.
            Err(why) => prop_assert!(matches!(why, WeatherError::OutOfDomain(_)), "{why}"),
        }
    }
}
