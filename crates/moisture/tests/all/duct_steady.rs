//! Condensation from a steady stream, and frost, against numbers from outside the project.
//!
//! Sources: the same film equations integrated by scipy `solve_ivp` (LSODA, rtol 1e-9) with psychrolib 2.5.0 for
//! properties; geometry.

use dewpath_air::moist_air::MoistAir;
use dewpath_checkvalues::{Check, absolute, check, checks};
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

/// What the reference also gives where the air leaves, and at the first and the last wall.
struct End {
    t_out: f64,
    w_out: f64,
    wall_in: f64,
    wall_out: f64,
}

/// Of the first of the checks to the last.
#[rustfmt::skip]
const ENDS: [End; 5] = [
    End { t_out: 21.5720, w_out: 0.014958, wall_in: 21.848, wall_out: 20.068 },
    End { t_out: 21.0006, w_out: 0.014606, wall_in: 20.683, wall_out: 19.298 },
    End { t_out: 16.1613, w_out: 0.010783, wall_in: 16.418, wall_out: 10.710 },
    End { t_out: 21.3603, w_out: 0.014277, wall_in: 19.550, wall_out: 18.332 },
    End { t_out: 18.4152, w_out: 0.012716, wall_in: 19.512, wall_out: 16.003 },
];

/// 24 °C and 80 % into a 101.6 mm duct.
fn run(check: &Check, cells: usize) -> Passage {
    let [length, film, outward, around] =
        ["L", "hi", "Rext_inner_area", "Tamb"].map(|name| check.input(name));
    let stretch = four_inch(length, film, outward, around);
    let flow = Airflow::from_m3_s(check.input("Q"));
    march(&air(24.0, 80.0), flow, &[stretch], cells).unwrap()
}

/// scipy `solve_ivp` on the same model.
#[test]
fn water_from_a_steady_stream() {
    for (check, want) in checks("COND-01", "COND-05").iter().zip(&ENDS) {
        let end = run(check, 200);
        check.holds(end.condensate_kg_s * 3.6e6);
        absolute(&check.id, end.t_c, want.t_out, 0.01);
        absolute(&check.id, end.w, want.w_out, 2e-6);
        absolute(&check.id, end.wall_first_c, want.wall_in, 0.02);
        absolute(&check.id, end.wall_last_c, want.wall_out, 0.02);
    }
}

/// Twice the cells leave a quarter of the error: second order in the size of a cell.
#[test]
fn second_order_in_cells() {
    let bare = check("COND-03");
    let exact = run(&bare, 20_000).condensate_kg_s;
    let error = |cells| (run(&bare, cells).condensate_kg_s - exact).abs();
    let ratio = error(10) / error(20);
    assert!((3.5..4.5).contains(&ratio), "{ratio}");
    assert!(error(20) < 1e-3 * exact);
}

/// Geometry: 1 kg of frost of 300 kg/m³ in 1 m of a 101.6 mm duct.
#[test]
fn frost_takes_its_share_of_the_duct() {
    let free = free_area_share(1.0, FROST_DENSITY_KG_M3, 1.0, 0.1016);
    check("COND-11").holds(1.0 - free);
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
