//! A duct along with its room through seasons: coarse legs against short ones, balances, and what must be more or less.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use std::f64::consts::TAU;

use crate::common::{bathroom, humidistat, one_shower, winter};
use dewpath_moisture::duct::legs::{Leg, Legs, Pace};
use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Piece, STEEL_J_M2_K, Slope};
use dewpath_moisture::room::{Boundary, Care, Control, Simulation, Step};
use dewpath_moisture::saturation::Saturation;
use dewpath_units::{Length, Pressure, ThermalResistance};

const DAYS: usize = 20;

/// Some weeks around a mean temperature, hour by hour.
fn hours(mean_c: f64) -> Vec<Boundary> {
    (0..24 * DAYS)
        .map(|hour| {
            let day = (TAU * (hour as f64 - 9.0) / 24.0).sin();
            let slow = (TAU * hour as f64 / 110.0).sin();
            let outdoor_c = mean_c + 4.0 * day + 4.0 * slow;
            let saturated = Saturation::shared().humidity_ratio(outdoor_c, 101_325.0);
            let house_c = 20.0_f64.max(mean_c);
            Boundary { outdoor_c, outdoor_w: 0.75 * saturated, house_c, ..winter() }
        })
        .collect()
}

/// Seven metres of steel of 125 mm in eight cells.
fn duct(rsi: f64, slope: Slope) -> DuctLine {
    let piece = Piece {
        length: Length::from_m(7.0),
        diameter: Length::from_mm(125.0),
        roughness: Length::from_mm(0.09),
        wall_j_m2_k: STEEL_J_M2_K,
        outward: ThermalResistance::from_rsi(rsi + 0.1),
        outside_film: ThermalResistance::from_rsi(0.1),
        slope,
        cells: 8,
    };
    let around = Around { t_c: 15.0, w: 0.002 };
    DuctLine::new(&[piece], &[around], Pressure::from_pa(101_325.0)).expect("a real duct")
}

/// Where the air around the duct stands between dwelling (0) and outdoors (1).
const ATTIC: f64 = 0.95;

struct Left {
    net_kg: f64,
    condensed_kg: f64,
    legs: usize,
    seconds: f64,
    residual: f64,
}

fn follow(line: &mut DuctLine, share: f64, mean_c: f64, control: Control, pace: Pace) -> Left {
    let (hours, model, events) = (hours(mean_c), bathroom(), one_shower(10));
    let mut sim =
        Simulation::new(&model, control, &events, hours[0], Care::year()).expect("a real room");
    let mut legs = Legs::new(pace);
    let mut count = 0;
    let start = line.snapshot();
    let mut pass = |leg: &Leg| {
        count += 1;
        let t_c = leg.house_c + share * (leg.outdoor_c - leg.house_c);
        line.set_around(0, Around { t_c, w: 0.002 }).expect("real air");
        let inlet = Inlet { dry_air_kg_s: leg.flow_kg_s, t_c: leg.t_c, w: leg.w };
        line.step(leg.seconds, inlet).expect("a real step");
    };
    for hour in &hours {
        sim.set_boundary(*hour);
        sim.run(3600, &mut |step: &Step<'_>| legs.step(step, &mut pass));
    }
    legs.close(&mut pass);
    let story = line.story_since(&start);
    let residual = line.residual();
    Left {
        net_kg: story.water_more_kg
            + story.frost_more_kg
            + story.drained_out_kg
            + story.drained_back_kg,
        condensed_kg: story.condensed_kg,
        legs: count,
        seconds: story.seconds,
        residual: residual.water.abs().max(residual.vapour.abs()).max(residual.heat.abs()),
    }
}

fn timer() -> Control {
    Control::Switch { run_on_s: 900 }
}

/// The legs of a year leave what short steps leave, within 1 % (and a twentieth of a gram a day where hardly any is left), with every
/// control and in every season; and balances close.
#[test]
fn legs_of_a_year_against_short_steps() {
    for (name, control) in
        [("timer", timer()), ("humidity", humidistat()), ("always", Control::Always)]
    {
        for mean_c in [-12.0, -3.0, 5.0, 16.0] {
            for rsi in [0.0, 1.0] {
                let run =
                    |pace| follow(&mut duct(rsi, Slope::DrainsBack), ATTIC, mean_c, control, pace);
                let (found, fine) = (run(Pace::year()), run(Pace::reference()));
                let slack = 0.01 * fine.net_kg.abs() + 0.00005 * DAYS as f64;
                assert!(
                    (found.net_kg - fine.net_kg).abs() <= slack,
                    "{name} {mean_c} {rsi}: {} left, by short steps {}",
                    found.net_kg,
                    fine.net_kg
                );
                // What settles and dries within the hour hangs more on the cold start: a quarter of a gram a day more.
                let slack = 0.01 * fine.condensed_kg + 0.00025 * DAYS as f64;
                assert!(
                    (found.condensed_kg - fine.condensed_kg).abs() <= slack,
                    "{name} {mean_c} {rsi}: {} settled, by short steps {}",
                    found.condensed_kg,
                    fine.condensed_kg
                );
                assert!(found.legs * 5 < fine.legs);
                assert!((found.seconds - 86_400.0 * DAYS as f64).abs() < 1e-3);
                assert!(found.residual < 1e-9 && fine.residual < 1e-9, "{}", found.residual);
            }
        }
    }
}

/// What drew off the vapour of the room passes the duct: nothing is lost between the two.
#[test]
fn the_vapour_of_the_room_enters_the_duct() {
    let (hours, model, events) = (hours(0.0), bathroom(), one_shower(10));
    let mut sim =
        Simulation::new(&model, humidistat(), &events, hours[0], Care::year()).expect("a room");
    let (mut legs, mut drawn, mut entered) = (Legs::new(Pace::year()), 0.0, 0.0);
    for hour in &hours {
        sim.set_boundary(*hour);
        sim.run(3600, &mut |step: &Step<'_>| {
            drawn += step.exhaust_vapour_kg;
            legs.step(step, |leg| entered += leg.seconds * leg.flow_kg_s * leg.w);
        });
    }
    legs.close(|leg| entered += leg.seconds * leg.flow_kg_s * leg.w);
    assert!(drawn > 0.1 && (entered - drawn).abs() < 1e-9 * drawn, "{entered} of {drawn}");
}

/// Colder weather leaves more, more insulation less, and a duct in a heated place nothing.
#[test]
fn cold_leaves_more_and_insulation_less() {
    let left = |rsi: f64, share: f64, mean_c: f64| {
        follow(&mut duct(rsi, Slope::Level), share, mean_c, timer(), Pace::year()).net_kg
    };
    let by_cold = [-12.0, -3.0, 5.0, 16.0].map(|mean_c| left(0.3, ATTIC, mean_c));
    assert!(by_cold.windows(2).all(|pair| pair[0] >= pair[1] - 1e-6), "{by_cold:?}");
    assert!(by_cold[0] > by_cold[3] + 0.01, "{by_cold:?}");
    let by_insulation = [0.0, 0.7, 1.41].map(|rsi| left(rsi, ATTIC, -5.0));
    assert!(by_insulation.windows(2).all(|pair| pair[0] >= pair[1] - 1e-6), "{by_insulation:?}");
    assert!(by_insulation[0] > by_insulation[2] + 0.001, "{by_insulation:?}");
    let heated = left(0.3, 0.0, -5.0);
    assert!(heated.abs() < 1e-6, "{heated}");
}
