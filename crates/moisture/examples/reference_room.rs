//! Prints invented bathrooms and what becomes of them in some hours or days as CSV, for comparison with a stepwise
//! integration of the same equations (`reference/test_room.py`).
//!
//! One value a row: the case, what it is, its place in a list (0 where there is none), when, the value. Inputs begin
//! with what they belong to (`model.`, `boundary.`, …); what came out begins with `trace.` or `account.`.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::error::Error;
use std::f64::consts::TAU;

use dewpath_moisture::room::{
    Back, Boundary, Care, Control, Event, FlowTable, Flows, Happening, House, HumidityControl,
    LAYERS, Level, Model, ShowerSource, Simulation, Sorption, State, Step, Surface, Thermal,
};

/// Vapour transfer over convective heat transfer, by Lewis: 1/(c_p·Le^⅔), kg·K/J.
const LEWIS: f64 = 1.0 / (1006.0 * 0.911);

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

/// A surface by its area, m², the heat it stores, J/(m²·K), and what passes to its far side, W/(m²·K).
fn surface(area_m2: f64, stores: f64, passes: f64, back: Back, factor: f64) -> Surface {
    Surface {
        area_m2,
        heat_j_k: stores * area_m2,
        air_w_k: 8.0 * area_m2,
        vapour_kg_s: 4.0 * LEWIS * area_m2,
        back_w_k: passes * area_m2,
        back,
        heated_w: 0.0,
        holds_kg_m2: 0.1,
        wetted_kg: 0.0,
        factor,
    }
}

/// Air drawn off, air that swaps with the dwelling, and leaks through the shell, kg/s; in the dwelling `fresh` from outdoors.
fn flows(exhaust: f64, swap: f64, leak: f64, fresh: f64) -> Flows {
    Flows {
        house_to_room: 0.85 * exhaust + swap,
        outdoors_to_room: 0.15 * exhaust + leak,
        room_to_house: swap,
        room_to_outdoors: leak,
        exhaust,
        outdoors_to_house: fresh + 0.85 * exhaust,
        house_to_outdoors: fresh,
    }
    .balanced()
}

fn table(full: f64, fresh: f64) -> FlowTable {
    [0.0006, 0.3 * full, full]
        .map(|exhaust| [flows(exhaust, 0.002, 0.0008, fresh), flows(exhaust, 0.06, 0.0008, fresh)])
}

/// A bathroom of 14 m³ with a mirror, a window and a tiled corner, in a dwelling of 250 m³.
fn bathroom() -> Model {
    let mut tiles = surface(5.0, 1.8e4, 1.8, Back::House, 0.95);
    tiles.wetted_kg = 0.35;
    let mut mirror = surface(0.9, 1.1e4, 2.5, Back::House, 0.97);
    mirror.holds_kg_m2 = 0.08;
    Model {
        pressure_pa: 99_800.0,
        dry_air_kg: 16.5,
        thermal: Thermal::Balance,
        surfaces: vec![
            surface(26.0, 9.0e3, 1.4, Back::House, 0.96),
            mirror,
            surface(0.7, 1.3e4, 2.6, Back::Outdoors, 0.6),
            tiles,
        ],
        sorption: Sorption { holds_kg: [15.0, 45.0, 120.0], exchange_kg_s: [0.018, 0.007, 0.0015] },
        mixing: 1.2,
        vapour_kg_s: 4e-6,
        heat_w: 60.0,
        shower: ShowerSource { vapour_kg_s: 1.0e-3, less_kg_s: 0.02, heat_w: 450.0 },
        house: House::Zone {
            dry_air_kg: 295.0,
            sorption: Sorption { holds_kg: [700.0, 0.0, 0.0], exchange_kg_s: [0.12, 0.0, 0.0] },
            vapour_kg_s: 9e-5,
            coil_w: 0.0085,
            dried_to_w: f64::INFINITY,
            dries_kg_s: 0.0,
        },
        flows: vec![table(0.022, 0.02), table(0.019, 0.03)],
        fan_w: [0.0, 4.0, 18.0],
        between_uses: Level::Off,
    }
}

/// Showers of so many minutes at these minutes of the day, with door and switch around them.
fn showers(at: &[(u32, u32)]) -> Vec<Event> {
    at.iter()
        .flat_map(|&(minute, minutes)| {
            let (start, end) = (60 * minute, 60 * (minute + minutes));
            [
                Event { at_s: start - 60, what: Happening::DoorShut },
                Event { at_s: start - 60, what: Happening::SwitchOn },
                Event { at_s: start, what: Happening::ShowerOn },
                Event { at_s: end, what: Happening::ShowerOff },
                Event { at_s: end + 480, what: Happening::SwitchOff },
                Event { at_s: end + 900, what: Happening::DoorOpen },
            ]
        })
        .collect()
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

/// Prints one value.
struct Printer<'a>(&'a str);

impl Printer<'_> {
    fn value(&self, what: &str, place: usize, time_s: u64, value: f64) {
        println!("{},{what},{place},{time_s},{value:e}", self.0);
    }

    fn single(&self, what: &str, value: f64) {
        self.value(what, 0, 0, value);
    }

    fn list(&self, what: &str, values: impl IntoIterator<Item = f64>) {
        for (place, value) in values.into_iter().enumerate() {
            self.value(what, place, 0, value);
        }
    }

    fn chain(&self, owner: &str, sorption: &Sorption) {
        let layers = sorption.layers().min(LAYERS);
        self.single(&format!("{owner}.layers"), layers as f64);
        self.list(&format!("{owner}.holds_kg"), sorption.holds_kg);
        self.list(&format!("{owner}.exchange_kg_s"), sorption.exchange_kg_s);
    }

    fn model(&self, model: &Model) {
        self.single("model.pressure_pa", model.pressure_pa);
        self.single("model.dry_air_kg", model.dry_air_kg);
        if let Thermal::Held(t) = model.thermal {
            self.single("model.held_c", t);
        }
        self.single("model.mixing", model.mixing);
        self.single("model.vapour_kg_s", model.vapour_kg_s);
        self.single("model.heat_w", model.heat_w);
        self.single("model.between_uses", f64::from(model.between_uses as u8));
        self.single("shower.vapour_kg_s", model.shower.vapour_kg_s);
        self.single("shower.less_kg_s", model.shower.less_kg_s);
        self.single("shower.heat_w", model.shower.heat_w);
        self.chain("sorption", &model.sorption);
        if let House::Zone { dry_air_kg, sorption, vapour_kg_s, coil_w, .. } = &model.house {
            self.single("house.dry_air_kg", *dry_air_kg);
            self.single("house.vapour_kg_s", *vapour_kg_s);
            self.single("house.coil_w", *coil_w);
            self.chain("house", sorption);
        }
        let surfaces = &model.surfaces;
        self.list("surface.area_m2", surfaces.iter().map(|s| s.area_m2));
        self.list("surface.heat_j_k", surfaces.iter().map(|s| s.heat_j_k));
        self.list("surface.air_w_k", surfaces.iter().map(|s| s.air_w_k));
        self.list("surface.vapour_kg_s", surfaces.iter().map(|s| s.vapour_kg_s));
        self.list("surface.back_w_k", surfaces.iter().map(|s| s.back_w_k));
        self.list("surface.back", surfaces.iter().map(|s| f64::from(s.back as u8)));
        self.list("surface.holds_kg", surfaces.iter().map(|s| s.holds_kg_m2 * s.area_m2));
        self.list("surface.wetted_kg", surfaces.iter().map(|s| s.wetted_kg));
        self.list("surface.heated_w", surfaces.iter().map(|s| s.heated_w));
        self.list("surface.factor", surfaces.iter().map(|s| s.factor));
        // Flows in the order class, level, door; seven of each.
        let all = model.flows.iter().flatten().flatten().flat_map(|f| {
            [
                f.house_to_room,
                f.outdoors_to_room,
                f.room_to_house,
                f.room_to_outdoors,
                f.exhaust,
                f.outdoors_to_house,
                f.house_to_outdoors,
            ]
        });
        self.list("flows", all);
    }

    fn control(&self, control: &Control) {
        match control {
            Control::Never => self.single("control.never", 1.0),
            Control::Always => self.single("control.always", 1.0),
            Control::Switch { run_on_s } => self.single("control.run_on_s", f64::from(*run_on_s)),
            Control::Humidity(h) => {
                self.single("control.on_at", h.on_at);
                self.single("control.off_at", h.off_at);
                self.single("control.sampling_s", f64::from(h.sampling_s));
                self.single("control.lag_on_s", h.lag_on_s);
                self.single("control.lag_off_s", h.lag_off_s);
                self.single("control.warmer_k", h.warmer_k);
                self.single("control.run_on_s", f64::from(h.run_on_s));
            }
        }
    }

    fn boundary(&self, time_s: u64, b: &Boundary) {
        let values = [
            ("outdoor_c", b.outdoor_c),
            ("outdoor_w", b.outdoor_w),
            ("house_c", b.house_c),
            ("house_w", b.house_w),
            ("water_c", b.water_c),
            ("class", b.class as f64),
            ("cooled_kg_s", b.cooled_kg_s),
        ];
        for (name, value) in values {
            self.value(&format!("boundary.{name}"), 0, time_s, value);
        }
    }

    fn state(&self, surfaces: usize, state: &State, house_w: f64) {
        let time_s = state.time_s();
        self.value("trace.room_w", 0, time_s, state.room_w());
        self.value("trace.house_w", 0, time_s, house_w);
        self.value("trace.room_c", 0, time_s, state.room_c());
        for place in 0..surfaces {
            self.value("trace.water_kg", place, time_s, state.water_kg(place));
            self.value("trace.surface_c", place, time_s, state.surface_c(place));
        }
    }
}

fn happening(what: Happening) -> &'static str {
    match what {
        Happening::ShowerOn => "event.shower_on",
        Happening::ShowerOff => "event.shower_off",
        Happening::DoorShut => "event.door_shut",
        Happening::DoorOpen => "event.door_open",
        Happening::SwitchOn => "event.switch_on",
        Happening::SwitchOff => "event.switch_off",
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    println!("case,what,place,time_s,value");
    for case in cases() {
        let out = Printer(case.name);
        out.model(&case.model);
        out.control(&case.control);
        out.single("start.w", case.start_w);
        for (place, event) in case.events.iter().enumerate() {
            out.value(happening(event.what), place, u64::from(event.at_s), 1.0);
        }
        let first = case.hours.first().ok_or("a case without weather")?;
        let surfaces = case.model.surfaces.len();
        let care = Care::default();
        let mut sim = Simulation::new(&case.model, case.control, &case.events, *first, care)?;
        sim.start_at(case.start_w, case.start_w);
        out.state(surfaces, sim.state(), sim.house_w());
        for hour in &case.hours {
            out.boundary(sim.state().time_s(), hour);
            sim.set_boundary(*hour);
            sim.run(HOUR_S, &mut |step: &Step<'_>| out.state(surfaces, step.after, step.house_w));
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
