//! Condensation from a steady stream, and frost, against numbers from outside the project.
//!
//! Sources: the same film equations integrated by scipy `solve_ivp` (LSODA, rtol 1e-9) with psychrolib 2.5.0 for
//! properties; geometry.

use dewpath_air::moist_air::MoistAir;
use dewpath_moisture::duct::steady::{Passage, Stretch, march};
use dewpath_moisture::duct::{FROST_DENSITY_KG_M3, free_area_share};
use dewpath_units::{Airflow, Humidity, Length, Pressure, Temperature, ThermalResistance};
use proptest::prelude::*;

fn air(t_c: f64, percent: f64) -> MoistAir {
    MoistAir::from_relative_humidity(
        Temperature::from_c(t_c),
        Humidity::from_percent(percent),
        Pressure::from_pa(101_325.0),
    )
    .unwrap()
}

fn four_inch(length_m: f64, film: f64, outward: f64, around_c: f64) -> Stretch {
    Stretch {
        length: Length::from_m(length_m),
        diameter: Length::from_mm(101.6),
        film_inside_w_m2_k: film,
        outward: ThermalResistance::from_rsi(outward),
        surroundings: Temperature::from_c(around_c),
    }
}

struct Case {
    id: &'static str,
    around_c: f64,
    l_s: f64,
    length_m: f64,
    film: f64,
    outward: f64,
    g_h: f64,
    t_out: f64,
    w_out: f64,
    wall_in: f64,
    wall_out: f64,
}

/// COND-01..COND-05: 24 °C and 80 % into a 101.6 mm duct; scipy `solve_ivp` on the same model, 0.5 %.
#[rustfmt::skip]
const CASES: [Case; 5] = [
    Case { id: "COND-01", around_c: -10.0, l_s: 25.0, length_m: 8.0, film: 14.4705, outward: 1.02295, g_h: 5.717579923, t_out: 21.5720, w_out: 0.014958, wall_in: 21.848, wall_out: 20.068 },
    Case { id: "COND-02", around_c: -10.0, l_s: 25.0, length_m: 8.0, film: 14.4705, outward: 0.63919, g_h: 42.43511382, t_out: 21.0006, w_out: 0.014606, wall_in: 20.683, wall_out: 19.298 },
    Case { id: "COND-03", around_c: -10.0, l_s: 25.0, length_m: 8.0, film: 14.4705, outward: 0.11111, g_h: 441.4782127, t_out: 16.1613, w_out: 0.010783, wall_in: 16.418, wall_out: 10.710 },
    Case { id: "COND-04", around_c: 5.0, l_s: 37.8, length_m: 5.0, film: 20.4905, outward: 0.11111, g_h: 116.0258079, t_out: 21.3603, w_out: 0.014277, wall_in: 19.550, wall_out: 18.332 },
    Case { id: "COND-05", around_c: -25.0, l_s: 10.0, length_m: 10.0, film: 6.6751, outward: 1.02295, g_h: 95.89450829, t_out: 18.4152, w_out: 0.012716, wall_in: 19.512, wall_out: 16.003 },
];

fn run(case: &Case, cells: usize) -> Passage {
    let stretch = four_inch(case.length_m, case.film, case.outward, case.around_c);
    march(&air(24.0, 80.0), Airflow::from_l_s(case.l_s), &[stretch], cells).unwrap()
}

#[test]
fn water_from_a_steady_stream() {
    for case in &CASES {
        let end = run(case, 200);
        let g_h = end.condensate_kg_s * 3.6e6;
        assert!((g_h / case.g_h - 1.0).abs() < 0.005, "{}: {g_h} g/h", case.id);
        assert!((end.t_c - case.t_out).abs() < 0.01, "{}: {} °C", case.id, end.t_c);
        assert!((end.w - case.w_out).abs() < 2e-6, "{}: {}", case.id, end.w);
        assert!(
            (end.wall_first_c - case.wall_in).abs() < 0.02,
            "{}: {}",
            case.id,
            end.wall_first_c
        );
        assert!((end.wall_last_c - case.wall_out).abs() < 0.02, "{}: {}", case.id, end.wall_last_c);
    }
}

/// Twice the cells leave a quarter of the error: second order in the size of a cell.
#[test]
fn second_order_in_cells() {
    let case = &CASES[2];
    let exact = run(case, 20_000).condensate_kg_s;
    let error = |cells| (run(case, cells).condensate_kg_s - exact).abs();
    let ratio = error(10) / error(20);
    assert!((3.5..4.5).contains(&ratio), "{ratio}");
    assert!(error(20) < 1e-3 * exact);
}

/// COND-11, geometry: 1 kg of frost of 300 kg/m³ takes 0.411151092 of 1 m of a 101.6 mm duct.
#[test]
fn frost_takes_its_share_of_the_duct() {
    let free = free_area_share(1.0, FROST_DENSITY_KG_M3, 1.0, 0.1016);
    assert!((1.0 - free - 0.411151092).abs() < 1e-9);
    assert!((free_area_share(10.0, FROST_DENSITY_KG_M3, 1.0, 0.1016) - 0.0).abs() < 1e-15);
    assert!((free_area_share(f64::NAN, FROST_DENSITY_KG_M3, 1.0, 0.1016) - 0.0).abs() < 1e-15);
}

#[test]
fn still_or_impossible_air_is_refused_by_name() {
    let stretch = four_inch(8.0, 14.0, 0.1, -10.0);
    let error = march(&air(24.0, 80.0), Airflow::from_l_s(0.0), &[stretch], 10).unwrap_err();
    assert_eq!(error.quantity, "airflow");
    let naught = Stretch { outward: ThermalResistance::from_rsi(f64::NAN), ..stretch };
    let error = march(&air(24.0, 80.0), Airflow::from_l_s(25.0), &[naught], 10).unwrap_err();
    assert_eq!(error.quantity, "resistance from wall to surroundings");
}

proptest! {
    #[test]
    fn more_insulation_never_more_water(
        t in 18.0..30.0_f64, percent in 30.0..100.0_f64, around in -40.0..15.0_f64, l_s in 1.0..80.0_f64,
        length in 0.5..20.0_f64, film in 1.0..40.0_f64, outward in 0.05..3.0_f64, more in 0.0..2.0_f64,
    ) {
        let water = |outward| {
            let stretch = four_inch(length, film, outward, around);
            march(&air(t, percent), Airflow::from_l_s(l_s), &[stretch], 40).unwrap().condensate_kg_s
        };
        prop_assert!(water(outward + more) <= water(outward) * (1.0 + 1e-9) + 1e-18);
    }

    #[test]
    fn heat_and_water_balance(
        t in -20.0..40.0_f64, percent in 0.0..100.0_f64, around in -40.0..40.0_f64, l_s in 0.1..80.0_f64,
        film in 1.0..40.0_f64, outward in 0.05..3.0_f64,
    ) {
        let stretch = four_inch(6.0, film, outward, around);
        let inlet = air(t, percent);
        let end = march(&inlet, Airflow::from_l_s(l_s), &[stretch, stretch], 40).unwrap();
        let taken = end.dry_air_kg_s * (inlet.humidity_ratio() - end.w);
        prop_assert!((taken - end.condensate_kg_s).abs() <= 1e-15);
        prop_assert!(end.condensate_kg_s >= 0.0);
        // Never beyond the warmer nor the colder of air and surroundings.
        prop_assert!(end.t_c >= t.min(around) - 1e-9 && end.t_c <= t.max(around) + 1e-9);
        prop_assert!(end.wall_coldest_c >= t.min(around) - 1e-9);
    }

    #[test]
    fn anything_gives_numbers_or_an_error(
        l_s in any::<f64>(), length in any::<f64>(), film in any::<f64>(), outward in any::<f64>(),
        around in any::<f64>(),
    ) {
        let stretch = four_inch(length, film, outward, around);
        if let Ok(end) = march(&air(24.0, 100.0), Airflow::from_l_s(l_s), &[stretch], 3) {
            prop_assert!(end.t_c.is_finite() && end.w.is_finite() && end.condensate_kg_s.is_finite());
        }
    }
}
