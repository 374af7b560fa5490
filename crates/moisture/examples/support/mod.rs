//! Invented bathrooms, and their values as rows of CSV, shared by the example programs that are compared with others.
//!
//! One value a row: the case, what it is, its place in a list (0 where there is none), when, the value. Inputs begin
//! with what they belong to (`model.`, `boundary.`, …); what came out begins with `trace.`, `account.` or `result.`.
#![allow(clippy::print_stdout, reason = "printing is what these programs are for")]
#![allow(dead_code, unreachable_pub, reason = "each program uses a part")]

use dewpath_moisture::room::{
    Back, Boundary, Control, Event, FlowTable, Flows, Happening, House, HumidityControl, LAYERS,
    Level, Model, ShowerSource, Sorption, State, Surface, Thermal,
};

/// Heads the columns of all rows.
pub const COLUMNS: &str = "case,what,place,time_s,value";

/// Vapour transfer over convective heat transfer, by Lewis: 1/(c_p·Le^⅔), kg·K/J.
pub const LEWIS: f64 = 1.0 / (1006.0 * 0.911);

/// A surface by its area, m², the heat it stores, J/(m²·K), and what passes to its far side, W/(m²·K).
pub fn surface(area_m2: f64, stores: f64, passes: f64, back: Back, factor: f64) -> Surface {
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
pub fn flows(exhaust: f64, swap: f64, leak: f64, fresh: f64) -> Flows {
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

pub fn table(full: f64, fresh: f64) -> FlowTable {
    [0.0006, 0.3 * full, full]
        .map(|exhaust| [flows(exhaust, 0.002, 0.0008, fresh), flows(exhaust, 0.06, 0.0008, fresh)])
}

/// A bathroom of 14 m³ with a mirror, a window and a tiled corner, in a dwelling of 250 m³.
pub fn bathroom() -> Model {
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
        tempered: 0.6,
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
pub fn showers(at: &[(u32, u32)]) -> Vec<Event> {
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

/// Humidity ratio that rooms and dwellings start with.
pub const START_W: f64 = 0.007;

/// An hour outdoors.
#[derive(Clone, Copy)]
pub struct Outdoors {
    pub t_c: f64,
    pub w: f64,
    pub wind_m_s: f64,
}

/// A year of weather that goes up and down with the year, the day and over some days.
pub fn waves(hours: usize) -> Vec<Outdoors> {
    let wave = |hour: usize, period: f64, phase: f64| {
        libm::sin(std::f64::consts::TAU * (hour as f64 - phase) / period)
    };
    (0..hours)
        .map(|hour| {
            let year = wave(hour, 8760.0, 2700.0);
            let t_c =
                11.0 + 12.0 * year + 4.0 * wave(hour, 24.0, 9.0) + 4.0 * wave(hour, 90.0, 0.0);
            let saturated =
                dewpath_moisture::saturation::Saturation::shared().humidity_ratio(t_c, 101_325.0);
            let share = 0.75 - 0.12 * wave(hour, 24.0, 9.0) + 0.1 * wave(hour, 130.0, 0.0);
            Outdoors { t_c, w: share * saturated, wind_m_s: 4.0 + 3.0 * wave(hour, 37.0, 0.0) }
        })
        .collect()
}

/// A room, what happens in it, and the conditions of every hour.
pub struct Case {
    pub name: &'static str,
    pub model: Model,
    pub control: Control,
    pub events: Vec<Event>,
    pub hours: Vec<Boundary>,
}

pub fn humidity_control(on_at: f64, off_at: f64, sampling_s: u32) -> Control {
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
pub fn one_zone(hours: &[Outdoors]) -> Case {
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
        tempered: 0.0,
        shower: ShowerSource { vapour_kg_s: 2.0 / 3600.0, less_kg_s: 0.0, heat_w: 0.0 },
        house: House::Held,
        flows: vec![flows],
        fan_w: [0.0, 0.0, 20.0],
        between_uses: Level::Off,
    };
    let boundary = |hour: &Outdoors| Boundary {
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
pub fn dwelling(hours: &[Outdoors]) -> Case {
    let boundary = |hour: &Outdoors| Boundary {
        outdoor_c: hour.t_c,
        outdoor_w: hour.w,
        house_c: if hour.t_c > 24.0 { 24.0 } else { 20.5 },
        house_w: 0.007,
        water_c: 12.0,
        class: usize::from(hour.wind_m_s > 5.0),
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

/// Prints one value.
pub struct Printer<'a>(pub &'a str);

impl Printer<'_> {
    pub fn value(&self, what: &str, place: usize, time_s: u64, value: f64) {
        println!("{},{what},{place},{time_s},{value:e}", self.0);
    }

    pub fn single(&self, what: &str, value: f64) {
        self.value(what, 0, 0, value);
    }

    pub fn list(&self, what: &str, values: impl IntoIterator<Item = f64>) {
        for (place, value) in values.into_iter().enumerate() {
            self.value(what, place, 0, value);
        }
    }

    pub fn chain(&self, owner: &str, sorption: &Sorption) {
        let layers = sorption.layers().min(LAYERS);
        self.single(&format!("{owner}.layers"), layers as f64);
        self.list(&format!("{owner}.holds_kg"), sorption.holds_kg);
        self.list(&format!("{owner}.exchange_kg_s"), sorption.exchange_kg_s);
    }

    pub fn model(&self, model: &Model) {
        self.single("model.pressure_pa", model.pressure_pa);
        self.single("model.dry_air_kg", model.dry_air_kg);
        if let Thermal::Held(t) = model.thermal {
            self.single("model.held_c", t);
        }
        self.single("model.mixing", model.mixing);
        self.single("model.vapour_kg_s", model.vapour_kg_s);
        self.single("model.heat_w", model.heat_w);
        self.single("model.tempered", model.tempered);
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

    pub fn control(&self, control: &Control) {
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

    pub fn events(&self, events: &[Event]) {
        for (place, event) in events.iter().enumerate() {
            self.value(happening(event.what), place, u64::from(event.at_s), 1.0);
        }
    }

    pub fn boundary(&self, time_s: u64, b: &Boundary) {
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

    pub fn state(&self, surfaces: usize, state: &State, house_w: f64) {
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

pub fn happening(what: Happening) -> &'static str {
    match what {
        Happening::ShowerOn => "event.shower_on",
        Happening::ShowerOff => "event.shower_off",
        Happening::DoorShut => "event.door_shut",
        Happening::DoorOpen => "event.door_open",
        Happening::SwitchOn => "event.switch_on",
        Happening::SwitchOff => "event.switch_off",
    }
}
