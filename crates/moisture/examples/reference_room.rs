//! Prints invented bathrooms and what becomes of them in some hours or days as CSV, for comparison with a stepwise
//! integration of the same equations (`reference/test_room.py`).
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::error::Error;
use std::f64::consts::TAU;

use dewpath_moisture::film::CLEAR_FILM_KG_M2;
use dewpath_moisture::room::{
    Boundary, Care, Control, Event, House, HumidityControl, Level, Model, Simulation, Step, Thermal,
};
use support::{COLUMNS, Printer, bathroom, showers};

mod support;

const HOUR_S: u32 = 3600;
/// Place of the mirror among the surfaces of [`bathroom`].
const MIRROR: usize = 1;

struct Case {
    name: &'static str,
    model: Model,
    control: Control,
    events: Vec<Event>,
    hours: Vec<Boundary>,
    start_w: f64,
}

/// Weather that goes up and down with the day and over some days, and changes its class of flows at noon.
fn weather(
    hours: usize,
    mean_c: f64,
    swing_k: f64,
    mean_w: f64,
    cooled_kg_s: f64,
) -> Vec<Boundary> {
    (0..hours)
        .map(|hour| {
            let day = TAU * (hour as f64 - 9.0) / 24.0;
            let slow = TAU * hour as f64 / 90.0;
            Boundary {
                outdoor_c: mean_c + swing_k * (libm::sin(day) + 0.5 * libm::sin(slow)),
                outdoor_w: mean_w * (1.0 + 0.12 * libm::sin(slow + 1.0)),
                house_c: 18.5 + 0.5 * libm::sin(day),
                house_w: 0.0065,
                water_c: 9.0,
                class: usize::from(hour % 24 >= 12),
                cooled_kg_s: if libm::sin(day) > 0.0 { cooled_kg_s } else { 0.0 },
            }
        })
        .collect()
}

fn humidity_control() -> Control {
    Control::Humidity(HumidityControl {
        on_at: 0.62,
        off_at: 0.54,
        rise: None,
        baseline_s: 1500.0,
        sampling_s: 30,
        lag_on_s: 45.0,
        lag_off_s: 240.0,
        warmer_k: 0.5,
        elsewhere: false,
        run_on_s: 300,
        max_run_s: None,
        with_switch: false,
    })
}

fn cases() -> Vec<Case> {
    let held_house = Model { house: House::Held, ..bathroom() };
    let mut heated_mirror = bathroom();
    heated_mirror.surfaces[MIRROR].heated_w = 70.0;
    vec![
        Case {
            name: "timer_in_winter",
            model: bathroom(),
            control: Control::Switch { run_on_s: 1200 },
            events: showers(&[(420, 12)]),
            hours: weather(24, -6.0, 4.0, 0.0018, 0.0),
            start_w: 0.007,
        },
        Case {
            name: "heated_mirror",
            model: heated_mirror,
            control: Control::Switch { run_on_s: 600 },
            events: showers(&[(420, 12)]),
            hours: weather(12, -6.0, 4.0, 0.0018, 0.0),
            start_w: 0.007,
        },
        Case {
            name: "no_fan",
            model: Model { between_uses: Level::Off, ..held_house.clone() },
            control: Control::Never,
            events: showers(&[(420, 10)]),
            hours: weather(24, 3.0, 4.0, 0.004, 0.0),
            start_w: 0.0075,
        },
        Case {
            name: "humidity_control_four_days",
            model: bathroom(),
            control: humidity_control(),
            events: showers(&[(405, 8), (1260, 11)]),
            hours: weather(96, 1.0, 5.0, 0.0035, 0.0),
            start_w: 0.007,
        },
        Case {
            name: "trickle_in_summer",
            model: Model { between_uses: Level::Low, ..bathroom() },
            control: Control::Switch { run_on_s: 900 },
            events: showers(&[(420, 8), (1250, 10)]),
            hours: weather(72, 26.0, 5.0, 0.014, 0.15),
            start_w: 0.0105,
        },
        Case {
            name: "temperatures_held",
            model: Model { thermal: Thermal::Held(19.0), ..held_house },
            control: Control::Switch { run_on_s: 600 },
            events: showers(&[(420, 8), (1290, 10)]),
            hours: weather(48, -2.0, 5.0, 0.003, 0.0),
            start_w: 0.0075,
        },
    ]
}

fn main() -> Result<(), Box<dyn Error>> {
    println!("{COLUMNS}");
    for case in cases() {
        let out = Printer(case.name);
        let clear_kg = CLEAR_FILM_KG_M2.likely * case.model.surfaces[MIRROR].area_m2;
        out.model(&case.model);
        out.control(&case.control);
        out.single("start.w", case.start_w);
        out.single("mirror.clear_kg", clear_kg);
        out.events(&case.events);
        let first = case.hours.first().ok_or("a case without weather")?;
        let surfaces = case.model.surfaces.len();
        let care = Care::default();
        let mut sim = Simulation::new(&case.model, case.control, &case.events, *first, care)?;
        sim.start_at(case.start_w, case.start_w);
        out.state(surfaces, sim.state(), sim.house_w());
        for hour in &case.hours {
            out.boundary(sim.state().time_s(), hour);
            sim.set_boundary(*hour);
            sim.run(HOUR_S, &mut |step: &Step<'_>| {
                let time_s = step.after.time_s();
                out.state(surfaces, step.after, step.house_w);
                out.value("trace.mean_room_w", 0, time_s, step.mean_room_w);
                for j in 0..surfaces {
                    out.value("trace.mean_surface_c", j, time_s, step.mean_surface_c(j));
                }
                if let Some(after_s) = step.water_falls_to(MIRROR, clear_kg) {
                    let began_s = time_s as f64 - step.length_s;
                    out.value("crossing.mirror_clear", 0, time_s, began_s + after_s);
                }
            });
        }
        let account = sim.account();
        out.single("account.exhausted_kg", account.exhausted_kg);
        out.single("account.run_off_kg", account.run_off_kg);
        out.single("account.dried_kg", account.dried_kg);
        out.single("account.fan_s", account.fan_s);
        out.single("account.water_residual", sim.water_residual());
        out.single("account.energy_residual", sim.energy_residual());
    }
    Ok(())
}
