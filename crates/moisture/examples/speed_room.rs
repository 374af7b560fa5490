//! Our side of the year in `reference/speed/compare.py`: a room through the 8760 hours of a weather file, timed.
//!
//! `speed_room one-zone|dwelling WEATHER_FILE [ROUNDS]` prints what is followed, hour by hour, as rows (see `support`), then
//! `result.…` with the sums of the year and the best time of the rounds. Reading the file is not timed.
//!
//! - `one-zone`: air held at 21 °C, one cold wall, one sorbing layer, a humidity control, two showers a day.
//! - `dwelling`: the bathroom of `support` with four surfaces, and its dwelling as a second zone.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::error::Error;
use std::hint::black_box;
use std::time::Instant;

use dewpath_moisture::room::{Account, Care, Simulation, Step};
use dewpath_moisture::weather::{ReadOptions, read};
use support::{COLUMNS, Case, Outdoors, Printer, START_W, dwelling, one_zone};

mod support;

const HOUR_S: u32 = 3600;
fn year(case: &Case) -> Result<Account, Box<dyn Error>> {
    let first = *case.hours.first().ok_or("the weather has no hours")?;
    let care = Care::year();
    let mut sim = Simulation::new(&case.model, case.control, &case.events, first, care)?;
    sim.start_at(START_W, START_W);
    for hour in &case.hours {
        sim.set_boundary(*hour);
        sim.run(HOUR_S, &mut |_: &Step<'_>| {});
    }
    Ok(*sim.account())
}

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [name, path, rest @ ..] = words.as_slice() else {
        return Err("name `one-zone` or `dwelling`, and a weather file".into());
    };
    let rounds: u32 = rest.first().map_or(Ok(10), |text| text.parse())?;
    let weather = read(&std::fs::read(path)?, &ReadOptions::default())?;
    let hours: Vec<Outdoors> = weather
        .hours
        .iter()
        .map(|hour| Outdoors { t_c: hour.t_c, w: hour.w, wind_m_s: hour.wind_m_s.unwrap_or(0.0) })
        .collect();
    let case = match name.as_str() {
        "one-zone" => one_zone(&hours),
        "dwelling" => dwelling(&hours),
        _ => return Err(format!("no problem `{name}`; there are `one-zone` and `dwelling`").into()),
    };
    let mut best = f64::INFINITY;
    let mut account = year(&case)?;
    for _ in 0..rounds {
        let start = Instant::now();
        account = black_box(year(black_box(&case))?);
        best = best.min(start.elapsed().as_secs_f64());
    }
    println!("{COLUMNS}");
    let out = Printer(case.name);
    out.model(&case.model);
    out.control(&case.control);
    out.events(&case.events);
    out.single("start.w", START_W);
    for (hour, boundary) in (0..).zip(&case.hours) {
        out.boundary(u64::from(HOUR_S) * hour, boundary);
    }
    out.single("result.seconds", best);
    out.single("result.exhausted_kg", account.exhausted_kg);
    out.single("result.dried_kg", account.dried_kg);
    out.single("result.fan_s", account.fan_s);
    Ok(())
}
