//! Prints the figures of hourly weather as JSON, for `reference/test_weather.py`.
//!
//! - `weather_statistics FILE [water|ice] [LONGEST_GAP_H]` reads a year; humidity below freezing is over water unless `ice` is given.
//! - `weather_statistics like CLIMATE` makes the hours of a built-in climate.
//! - `weather_statistics rows FILE` takes rows that need not be a year: °C, % (over ice below freezing), Pa, m/s.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::error::Error;

use dewpath_moisture::weather::climates::Climate;
use dewpath_moisture::weather::{
    Below0, Hour, Quirk, ReadOptions, Weather, read, statistics, temperature_quantile,
};

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["like", id] => {
            let year = Climate::named(id).ok_or("no built-in climate of this name")?.weather()?;
            print(&year.hours, &year.notes)
        }
        ["rows", path] => print(&rows(path)?, &[]),
        [path, rest @ ..] => {
            let year = from_file(path, rest)?;
            print(&year.hours, &year.notes)
        }
        [] => Err("name a file, or `like` and a climate".into()),
    }
}

fn rows(path: &str) -> Result<Vec<Hour>, Box<dyn Error>> {
    let mut hours = Vec::new();
    for row in csv::Reader::from_path(path)?.into_deserialize() {
        let (t_c, percent, p_pa, wind): (f64, f64, f64, f64) = row?;
        hours.push(Hour::new(t_c, percent / 100.0, Below0::OverIce, p_pa, Some(wind), None)?);
    }
    Ok(hours)
}

fn from_file(path: &str, words: &[&str]) -> Result<Weather, Box<dyn Error>> {
    let mut options = ReadOptions::default();
    for word in words {
        match *word {
            "water" => options.below_0 = Below0::OverWater,
            "ice" => options.below_0 = Below0::OverIce,
            hours => options.longest_gap_h = hours.parse()?,
        }
    }
    Ok(read(&std::fs::read(path)?, &options)?)
}

fn print(hours: &[Hour], notes: &[Quirk]) -> Result<(), Box<dyn Error>> {
    let figures = statistics(hours).ok_or("no hours")?;
    let cold = temperature_quantile(hours, 0.01).ok_or("no hours")?;
    let wind = figures.wind_mean_m_s.map_or(String::from("null"), |wind| format!("{wind:?}"));
    // Notes are words and figures; a quotation mark within would end the text early.
    let notes: Vec<String> =
        notes.iter().map(|note| format!("\"{}\"", format!("{note:?}").replace('"', "'"))).collect();
    println!(
        "{{\"rows\": {}, \"t_mean_c\": {:?}, \"t_min_c\": {:?}, \"t_max_c\": {:?}, \"below_0_h\": {}, \"hdd18_k_d\": {:?}, \
         \"rh_mean\": {:?}, \"p_mean_pa\": {:?}, \"w_mean\": {:?}, \"wind_mean_m_s\": {wind}, \"cold_c\": {cold:?}, \"notes\": [{}]}}",
        figures.hours,
        figures.t_mean_c,
        figures.t_min_c,
        figures.t_max_c,
        figures.below_0_h,
        figures.degree_days_18_k_d,
        figures.rh_mean,
        figures.p_mean_pa,
        figures.w_mean,
        notes.join(", ")
    );
    Ok(())
}
