//! A well-mixed room worked by hand and by a general-purpose integrator, against the relations this crate
//! offers.
//!
//! Sources: closed forms of the first-order balance; scipy `solve_ivp` RK45, rtol 1e-10, for condensing walls
//! and buffering. The room: 15 m³ of 1.2 kg/m³, 25 L/s, a shower of 2 kg/h for 8 minutes, make-up air of 0.0075
//! kg/kg.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_checkvalues::{check, checks, relative};
use dewpath_moisture::buffer::{BufferLayer, Material};
use dewpath_moisture::film::mass_coefficient_kg_m2_s;
use dewpath_moisture::saturation::Saturation;
use dewpath_units::{Airflow, Duration, Length, Temperature, Volume};

const AIR_KG: f64 = 15.0 * 1.2;
const FLOW_KG_S: f64 = 0.025 * 1.2;
const SHOWER_KG_S: f64 = 2.0 / 3600.0;
const MAKE_UP: f64 = 0.0075;

/// Classical Runge–Kutta of fourth order.
fn integrate<const N: usize>(
    mut y: [f64; N],
    seconds: u32,
    step: f64,
    slope: impl Fn(&[f64; N]) -> [f64; N],
) -> [f64; N] {
    let moved = |y: &[f64; N], k: &[f64; N], h: f64| std::array::from_fn(|i| y[i] + h * k[i]);
    let steps = (f64::from(seconds) / step).round() as u32;
    for _ in 0..steps {
        let k1 = slope(&y);
        let k2 = slope(&moved(&y, &k1, step / 2.0));
        let k3 = slope(&moved(&y, &k2, step / 2.0));
        let k4 = slope(&moved(&y, &k3, step));
        y = std::array::from_fn(|i| {
            y[i] + step / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i])
        });
    }
    y
}

/// Well-mixed balance: W_m + G/(ρQ)·(1 − e^(−t/τ)), τ = V/Q.
#[test]
fn a_shower_in_a_plain_room() {
    let steady = MAKE_UP + SHOWER_KG_S / FLOW_KG_S;
    check("ROOM-01").holds(steady);
    // "Real rooms condense": the steady state lies above saturation at 24 °C.
    assert!(steady > Saturation::shared().humidity_ratio(24.0, 101_325.0));
    let slope = |y: &[f64; 1]| [(SHOWER_KG_S + FLOW_KG_S * (MAKE_UP - y[0])) / AIR_KG];
    for check in checks("ROOM-02", "ROOM-04") {
        let seconds = (60.0 * check.input("t_min")) as u32;
        check.holds(integrate([MAKE_UP], seconds, 1.0, slope)[0]);
    }
}

/// τ·ln((0.0160 − W_m)/(0.0110 − W_m)).
#[test]
fn time_to_fall_back() {
    for (check, litres) in [(check("ROOM-05"), 25.0), (check("ROOM-06"), 37.8)] {
        let passes = Volume::from_m3(15.0) / Airflow::from_l_s(litres);
        check.holds(passes.min() * ((0.0160 - MAKE_UP) / (0.0110 - MAKE_UP)).ln());
    }
    let passes = Volume::from_m3(15.0) / Airflow::from_l_s(25.0);
    check("ROOM-07").all_hold(&[passes.s(), Duration::from_h(1.0) / passes]);
}

/// ρ·Q·cp·ΔT of 25 L/s from −10 to 21 °C, cp 1006 J/(kg·K).
#[test]
fn make_up_air_is_heated() {
    check("ROOM-12").holds(FLOW_KG_S * 1006.0 * 31.0);
}

/// scipy: 8 m² of wall at 17 °C take vapour (h_c 4, cp 1030) and give none back; W at 8 and 60 min, condensate
/// in kg.
#[test]
fn a_cold_wall_takes_its_share() {
    let area_h_m = 8.0 * mass_coefficient_kg_m2_s(4.0, 1030.0);
    let reference = check("ROOM-08");
    relative("coefficient", area_h_m, reference.input("hmA"), 1e-9);
    let at_wall = Saturation::shared().humidity_ratio(17.0, 101_325.0);
    relative("wall", at_wall, reference.input("Wsat17"), 1e-8);
    let slope = |shower: f64| {
        move |y: &[f64; 2]| {
            let onto_wall = area_h_m * (y[0] - at_wall).max(0.0);
            [(shower + FLOW_KG_S * (MAKE_UP - y[0]) - onto_wall) / AIR_KG, onto_wall]
        }
    };
    let after_shower = integrate([MAKE_UP, 0.0], 480, 0.1, slope(SHOWER_KG_S));
    let after_hour = integrate(after_shower, 52 * 60, 0.1, slope(0.0));
    reference.all_hold(&[after_shower[0], after_hour[0], after_hour[1]]);
}

/// scipy: 25 m² of gypsum-like wall at 20 °C as one layer of the depth of a day. The register takes the ratio
/// of molar masses as 0.622.
#[test]
fn a_buffering_wall_slows_the_decay() {
    let room = Temperature::from_c(20.0);
    let p_ws = Saturation::shared().pressure_pa(20.0);
    let thick = Material { thickness: Length::from_m(1.0), ..Material::gypsum_board() };
    let layer = BufferLayer::new(&thick, room, Duration::from_h(24.0)).unwrap();
    let reference = check("ROOM-09");
    relative("capacity", 25.0 * layer.capacity_kg_m2, reference.input("Cb"), 1e-8);
    relative("resistance", layer.resistance_m2_s_pa_kg, reference.input("Rp"), 1e-8);
    let film = mass_coefficient_kg_m2_s(4.0, 1030.0) * 0.622 / 101_325.0;
    relative("film", film, reference.input("hm_pressure"), 1e-7);
    let conductance = 25.0 / (1.0 / film + layer.resistance_m2_s_pa_kg);
    let vapour = |w: f64| w * 101_325.0 / (0.622 + w);
    let start = vapour(MAKE_UP) / p_ws;
    relative("start", start, reference.input("phi0"), 1e-7);
    let slope = |shower: f64| {
        move |y: &[f64; 2]| {
            let into_wall = conductance * (vapour(y[0]) - y[1] * p_ws);
            let room = (shower + FLOW_KG_S * (MAKE_UP - y[0]) - into_wall) / AIR_KG;
            [room, into_wall / (25.0 * layer.capacity_kg_m2)]
        }
    };
    let after_shower = integrate([MAKE_UP, start], 480, 0.5, slope(SHOWER_KG_S));
    let after_hour = integrate(after_shower, 52 * 60, 0.5, slope(0.0));
    let later = integrate(after_hour, 60 * 60, 0.5, slope(0.0));
    reference.all_hold(&[after_shower[0], later[0], later[1]]);
    // What a careless reading of the decay makes of the 6 air changes per hour.
    let fell = (after_shower[0] - MAKE_UP) / (after_hour[0] - MAKE_UP);
    check("ROOM-10").holds(fell.ln() / (52.0 / 60.0));
}
