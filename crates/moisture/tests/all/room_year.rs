//! The coarse steps of a year against one-second steps of the same equations: two months of winter, two of summer.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use std::f64::consts::TAU;

use crate::common::{bathroom, flows, humidistat, one_shower, winter};
use dewpath_moisture::mould::{DeclineClass, SensitivityClass, Substrate};
use dewpath_moisture::room::{
    Boundary, Care, Control, Model, Month, Simulation, Step, Year, YearPlan, follow_year,
};
use dewpath_moisture::saturation::Saturation;

/// January and February.
const HOURS: usize = 24 * 59;
const MIRROR: usize = 1;

fn hours(mean_c: f64, house_c: f64, cooled_kg_s: f64) -> Vec<Boundary> {
    (0..HOURS)
        .map(|hour| {
            let day = (TAU * (hour as f64 - 9.0) / 24.0).sin();
            let slow = (TAU * hour as f64 / 110.0).sin();
            let outdoor_c = mean_c + 4.0 * day + 4.0 * slow;
            let saturated = Saturation::shared().humidity_ratio(outdoor_c, 101_325.0);
            let cools = cooled_kg_s > 0.0 && outdoor_c > 24.0;
            Boundary {
                outdoor_c,
                outdoor_w: (0.8 - 0.12 * day) * saturated,
                house_c,
                class: hour / 6 % 2,
                cooled_kg_s: if cools { cooled_kg_s } else { 0.0 },
                ..winter()
            }
        })
        .collect()
}

fn follow(model: &Model, control: Control, hours: &[Boundary], care: Care) -> (Year, usize) {
    let events = one_shower(10);
    let class = Substrate::Class(SensitivityClass::Sensitive, DeclineClass::RelativelyLow);
    let watched = [0, 1, 2, 3].map(|surface| (surface, class));
    let plan = YearPlan { hours, mirror: Some(MIRROR), clear_kg_m2: 0.002, watched: &watched };
    let mut sim = Simulation::new(model, control, &events, hours[0], care).expect("a real room");
    let mut steps = 0;
    let year = follow_year(&mut sim, &plan, &mut |_: &Step<'_>| steps += 1);
    (year, steps)
}

/// What is summed up of a month.
type Of = fn(&Month) -> f64;

/// Within half a percent and an absolute allowance.
fn agree(model: &Model, control: Control, hours: &[Boundary], fan_slack: f64) {
    let (fine, seconds) = follow(model, control, hours, Care::reference());
    let (ours, steps) = follow(model, control, hours, Care::year());
    assert_eq!(seconds, 3600 * HOURS);
    assert!(300 * steps < seconds, "{steps} steps");
    let sum = |year: &Year, of: Of| year.months.iter().map(of).sum::<f64>();
    let sums: [(&str, Of, f64); 7] = [
        ("humidity", |m| m.humidity, 0.0),
        ("house humidity", |m| m.house_humidity, 0.0),
        ("exhausted", |m| m.exhausted_kg, 0.0),
        ("fan", |m| m.fan_s, fan_slack),
        ("heat", |m| m.heat_j, 0.0),
        ("cold", |m| m.cold_j, 1e-6),
        // A room that is hardly ever wet may be so for some minutes more or less.
        ("wet", |m| m.wet_s, 600.0),
    ];
    for (what, of, allowed) in sums {
        let (a, b) = (sum(&ours, of), sum(&fine, of));
        assert!((a - b).abs() <= (0.005 * b.abs()).max(allowed), "{what}: {a} against {b}");
    }
    let near = |a: f64, b: f64| (a - b).abs() <= 0.005 * b.abs() + 1e-9;
    assert!(near(ours.dried_kg, fine.dried_kg), "{} against {}", ours.dried_kg, fine.dried_kg);
    for (a, b) in ours.mould_peak.iter().zip(&fine.mould_peak) {
        assert!((a - b).abs() < 0.02, "mould {a} against {b}");
    }
    for (a, b) in ours.running_humidity.iter().zip(&fine.running_humidity) {
        assert!((a - b).abs() < 0.005, "running humidity {a} against {b}");
    }
    for year in [&ours, &fine] {
        assert!(year.water_residual < 1e-9 && year.energy_residual < 1e-9);
    }
}

fn room() -> Model {
    Model { flows: vec![flows(0.030, 0.25), flows(0.028, 0.40)], ..bathroom() }
}

#[test]
fn winter_with_a_timer() {
    agree(&room(), Control::Switch { run_on_s: 1200 }, &hours(-4.0, 19.0, 0.0), 0.0);
}

#[test]
fn winter_without_a_fan_grows_mould() {
    let model = Model { vapour_kg_s: 6e-5, ..room() };
    let weather = hours(2.0, 18.0, 0.0);
    agree(&model, Control::Never, &weather, 0.0);
    let (year, _) = follow(&model, Control::Never, &weather, Care::year());
    assert!(year.mould_peak.iter().any(|index| *index > 0.2), "{:?}", year.mould_peak);
}

#[test]
fn summer_with_a_humidity_control_and_cooling() {
    // The control looks every half minute, and each of its some hundred runs may end a look later.
    agree(&room(), humidistat(), &hours(24.0, 24.0, 0.12), 3600.0);
}
