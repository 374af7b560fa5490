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

use dewpath_moisture::room::{
    Account, Back, Boundary, Care, Control, Event, Flows, House, HumidityControl, Level, Model,
    ShowerSource, Simulation, Sorption, Step, Surface, Thermal,
};
use dewpath_moisture::weather::{Hour, ReadOptions, read};
use support::{COLUMNS, LEWIS, Printer, bathroom, showers};

mod support;

const HOUR_S: u32 = 3600;
const START_W: f64 = 0.007;

struct Case {
    name: &'static str,
    model: Model,
    control: Control,
    events: Vec<Event>,
    hours: Vec<Boundary>,
}

fn humidity_control(on_at: f64, off_at: f64, sampling_s: u32) -> Control {
    Control::Humidity(HumidityControl {
        on_at,
        off_at,
        rise: None,
        baseline_s: 1800.0,
        sampling_s,
        lag_on_s: 30.0,
        lag_off_s: 30.0,
        warmer_k: 0.0,
        elsewhere: false,
        run_on_s: 0,
        max_run_s: None,
        with_switch: false,
    })
}

/// The room of 15 m³: 23.6 L/s when the fan runs, 2 L/s when it rests, three tenths of it from outdoors.
fn one_zone(hours: &[Hour]) -> Case {
    let wall = Surface {
        area_m2: 12.0,
        heat_j_k: 1.2e5,
        air_w_k: 96.0,
        vapour_kg_s: 4.0 * LEWIS * 12.0,
        back_w_k: 5.0,
        back: Back::Outdoors,
        heated_w: 0.0,
        holds_kg_m2: 100.0,
        wetted_kg: 0.0,
        factor: 0.91,
    };
    let through = |flow: f64| Flows {
        house_to_room: 0.7 * flow,
        outdoors_to_room: 0.3 * flow,
        exhaust: flow,
        ..Flows::default()
    };
    let flows = [0.0024, 0.0024, 0.0281].map(|flow| [through(flow); 2]);
    let model = Model {
        pressure_pa: 101_325.0,
        dry_air_kg: 17.85,
        thermal: Thermal::Held(21.0),
        surfaces: vec![wall],
        sorption: Sorption { holds_kg: [65.0, 0.0, 0.0], exchange_kg_s: [0.0205, 0.0, 0.0] },
        mixing: 1.0,
        vapour_kg_s: 0.02 / 3600.0,
        heat_w: 0.0,
        shower: ShowerSource { vapour_kg_s: 2.0 / 3600.0, less_kg_s: 0.0, heat_w: 0.0 },
        house: House::Held,
        flows: vec![flows],
        fan_w: [0.0, 0.0, 20.0],
        between_uses: Level::Off,
    };
    let boundary = |hour: &Hour| Boundary {
        outdoor_c: hour.t_c,
        outdoor_w: hour.w,
        house_c: 21.0,
        house_w: hour.w + 0.0025,
        water_c: 12.0,
        class: 0,
        cooled_kg_s: 0.0,
    };
    Case {
        name: "one-zone",
        model,
        control: humidity_control(0.65, 0.55, 60),
        events: showers(&[(420, 8), (1290, 10)]),
        hours: hours.iter().map(boundary).collect(),
    }
}

/// Two zones and four surfaces; the dwelling is cooled in hours above 24 °C.
fn dwelling(hours: &[Hour]) -> Case {
    let boundary = |hour: &Hour| Boundary {
        outdoor_c: hour.t_c,
        outdoor_w: hour.w,
        house_c: if hour.t_c > 24.0 { 24.0 } else { 20.5 },
        house_w: 0.007,
        water_c: 12.0,
        class: usize::from(hour.wind_m_s.unwrap_or(0.0) > 5.0),
        cooled_kg_s: if hour.t_c > 24.0 { 0.1 } else { 0.0 },
    };
    Case {
        name: "dwelling",
        model: bathroom(),
        control: humidity_control(0.70, 0.62, 60),
        events: showers(&[(420, 8), (1290, 10)]),
        hours: hours.iter().map(boundary).collect(),
    }
}

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
    let case = match name.as_str() {
        "one-zone" => one_zone(&weather.hours),
        "dwelling" => dwelling(&weather.hours),
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
