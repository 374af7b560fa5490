//! An invented bathroom for tests of the simulation.

use dewpath_moisture::room::{
    Back, Boundary, Control, Event, FlowTable, Flows, Happening, House, HumidityControl, Level,
    Model, ShowerSource, Sorption, Surface, Thermal,
};

/// Vapour transfer coefficient over heat transfer coefficient: Lewis relation, 1/(c_p Le^(2/3)).
pub(crate) const LEWIS: f64 = 1.0 / (1006.0 * 0.911);

pub(crate) fn surface(area: f64, j_m2k: f64, back_w_m2k: f64, back: Back) -> Surface {
    Surface {
        area_m2: area,
        heat_j_k: area * j_m2k,
        air_w_k: area * 8.0,
        vapour_kg_s: area * 4.0 * LEWIS,
        back_w_k: area * back_w_m2k,
        back,
        heated_w: 0.0,
        holds_kg_m2: 0.1,
        wetted_kg: 0.0,
        factor: 0.9,
    }
}

/// A 15 m³ bathroom in a 300 m³ dwelling.
pub(crate) fn bathroom() -> Model {
    let mut tile = surface(6.0, 2.0e4, 2.0, Back::House);
    tile.wetted_kg = 0.4;
    Model {
        pressure_pa: 101_325.0,
        dry_air_kg: 15.0 * 1.19,
        thermal: Thermal::Balance,
        surfaces: vec![
            surface(25.0, 1.0e4, 1.5, Back::House),
            surface(0.8, 1.1e4, 1.0, Back::Outdoors),
            surface(0.6, 1.2e4, 2.8, Back::Outdoors),
            tile,
        ],
        sorption: Sorption { holds_kg: [20.0, 60.0, 150.0], exchange_kg_s: [0.02, 0.008, 0.002] },
        mixing: 1.0,
        vapour_kg_s: 5e-6,
        heat_w: 50.0,
        tempered: 0.0,
        shower: ShowerSource { vapour_kg_s: 8.5e-4, less_kg_s: 8.5e-4 / 0.0464, heat_w: 600.0 },
        house: House::Zone {
            dry_air_kg: 300.0 * 1.19,
            sorption: Sorption { holds_kg: [900.0, 0.0, 0.0], exchange_kg_s: [0.15, 0.0, 0.0] },
            vapour_kg_s: 8.0 / 86_400.0,
            coil_w: 0.009,
            dried_to_w: f64::INFINITY,
            dries_kg_s: 0.0,
        },
        flows: vec![flows(0.030, 0.25)],
        fan_w: [0.0, 5.0, 20.0],
        between_uses: Level::Off,
    }
}

/// Flows with a fan of so many kg/s and so many air changes of the dwelling.
pub(crate) fn flows(fan: f64, changes_per_h: f64) -> FlowTable {
    let leak = 300.0 * 1.19 * changes_per_h / 3600.0;
    let one = |exhaust: f64, open: bool| {
        let swap = if open { 0.08 } else { 0.003 };
        Flows {
            house_to_room: 0.9 * exhaust + swap,
            outdoors_to_room: 0.1 * exhaust + 0.001,
            room_to_house: swap,
            room_to_outdoors: 0.001,
            exhaust,
            outdoors_to_house: leak + 0.9 * exhaust,
            house_to_outdoors: leak,
        }
        .balanced()
    };
    [
        [one(0.0005, false), one(0.0005, true)],
        [one(0.3 * fan, false), one(0.3 * fan, true)],
        [one(fan, false), one(fan, true)],
    ]
}

pub(crate) fn winter() -> Boundary {
    Boundary {
        outdoor_c: -5.0,
        outdoor_w: 0.002,
        house_c: 20.0,
        house_w: 0.006,
        water_c: 8.0,
        class: 0,
        cooled_kg_s: 0.0,
    }
}

/// One shower of so many minutes at seven, the door shut until a quarter of an hour after it.
pub(crate) fn one_shower(minutes: u32) -> Vec<Event> {
    let start = 7 * 3600;
    let end = start + 60 * minutes;
    vec![
        Event { at_s: start, what: Happening::DoorShut },
        Event { at_s: start, what: Happening::SwitchOn },
        Event { at_s: start, what: Happening::ShowerOn },
        Event { at_s: end, what: Happening::ShowerOff },
        Event { at_s: end + 300, what: Happening::SwitchOff },
        Event { at_s: end + 900, what: Happening::DoorOpen },
    ]
}

pub(crate) fn humidistat() -> Control {
    Control::Humidity(HumidityControl {
        on_at: 0.60,
        off_at: 0.55,
        rise: None,
        baseline_s: 1200.0,
        sampling_s: 30,
        lag_on_s: 60.0,
        lag_off_s: 300.0,
        warmer_k: 0.0,
        elsewhere: false,
        run_on_s: 0,
        max_run_s: None,
        with_switch: false,
    })
}
