//! The table of saturation against the equations it is made from, psychrolib's numbers and itself.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_air::moist_air::{MoistAir, saturation_pressure};
use dewpath_checkvalues::{check, checks, relative};
use dewpath_moisture::saturation::{
    HIGH_C, LOW_C, MASS_RATIO, RELATIVE_ERROR, Saturation, TRIPLE_POINT_C, vapour_pressure_pa,
};
use dewpath_units::{Humidity, Pressure, Temperature};
use proptest::prelude::*;

const SEA_LEVEL_PA: f64 = 101_325.0;

fn equation_pa(t_c: f64) -> f64 {
    saturation_pressure(Temperature::from_c(t_c)).map_or(f64::NAN, Pressure::pa)
}

/// The stated bound, over a grid that is dense beside the nodes of the table and shares none of them.
#[test]
fn the_table_stays_within_its_bound() {
    let table = Saturation::new();
    let points = 250_000;
    let mut worst: f64 = 0.0;
    for i in 0..=points {
        let t = -60.0 + 160.0 * f64::from(i) / f64::from(points);
        if (t - TRIPLE_POINT_C).abs() < 1e-9 {
            continue; // either equation may speak there
        }
        worst = worst.max((table.pressure_pa(t) / equation_pa(t) - 1.0).abs());
    }
    assert!(worst <= RELATIVE_ERROR, "{worst}");
    assert!(worst > RELATIVE_ERROR / 10.0, "the bound says nothing: {worst}");
}

/// psychrolib 2.5.0 `GetSatVapPres` (ASHRAE Fundamentals 2017, ch. 1).
#[test]
fn pressure_equals_psychrolib() {
    for check in checks("PSY-01", "PSY-13") {
        check.holds(Saturation::shared().pressure_pa(check.input("T_C")));
    }
}

/// psychrolib 2.5.0.
#[test]
fn humidity_ratio_and_dew_point_agree_with_psychrolib() {
    let table = Saturation::shared();
    let vapour_pa = 0.5 * table.pressure_pa(20.0);
    let w = MASS_RATIO * vapour_pa / (SEA_LEVEL_PA - vapour_pa);
    check("PSY-19").holds(w);
    check("PSY-21").holds(table.dew_point_c(w, SEA_LEVEL_PA));
    relative("back", table.relative_humidity(w, 20.0, SEA_LEVEL_PA), 0.5, 1e-12);
    check("PSY-46").holds(table.dew_point_c(check("PSY-44").value(), SEA_LEVEL_PA));
}

/// The same state seen through the exact moist air of `dewpath-air`.
#[test]
fn it_agrees_with_exact_moist_air() {
    let table = Saturation::shared();
    for t in [-30.0, -0.5, 0.5, 15.0, 24.0, 40.0] {
        for p in [83_436.0, SEA_LEVEL_PA] {
            let state = MoistAir::from_relative_humidity(
                Temperature::from_c(t),
                Humidity::from_ratio(1.0),
                Pressure::from_pa(p),
            );
            let want = state.map_or(f64::NAN, |air| air.humidity_ratio());
            relative("humidity ratio", table.humidity_ratio(t, p), want, 1e-9);
        }
    }
}

/// Against a central difference of the exact equation; the two branches meet within 0.01 Pa.
#[test]
fn slopes_are_those_of_the_equation() {
    let table = Saturation::shared();
    let d = 1e-3;
    for t in [-55.03, -20.01, -1.07, 0.3, 5.55, 20.2, 37.77, 60.6, 95.9] {
        let want = (equation_pa(t + d) - equation_pa(t - d)) / (2.0 * d);
        relative("slope of pressure", table.pressure_and_slope(t).1, want, 2e-7);
        let (w, slope) = table.humidity_ratio_and_slope(t, 200_000.0);
        relative("humidity ratio", w, table.humidity_ratio(t, 200_000.0), 1e-14);
        let ratio = |t: f64| table.humidity_ratio(t, 200_000.0);
        relative("slope of ratio", slope, (ratio(t + d) - ratio(t - d)) / (2.0 * d), 2e-6);
    }
    let jump = table.pressure_pa(TRIPLE_POINT_C + 1e-12) - table.pressure_pa(TRIPLE_POINT_C - 1e-9);
    assert!(jump.abs() < 0.01, "{jump}");
}

#[test]
fn beyond_its_ends_the_table_holds_its_ends() {
    let table = Saturation::shared();
    let (low, high) = (table.pressure_pa(LOW_C), table.pressure_pa(HIGH_C));
    for (t, want) in [
        (f64::NAN, low),
        (f64::NEG_INFINITY, low),
        (-273.15, low),
        (f64::INFINITY, high),
        (400.0, high),
    ] {
        assert_eq!(table.pressure_pa(t).to_bits(), want.to_bits(), "{t}");
    }
    // Water boils: the ratio is held, and does not turn negative.
    assert!((table.humidity_ratio(99.0, 70_000.0) - 61.572555).abs() < 1e-6);
    assert_eq!(table.humidity_ratio_and_slope(99.0, 70_000.0).1.to_bits(), 0.0_f64.to_bits());
    assert_eq!(table.dew_point_c(0.0, SEA_LEVEL_PA).to_bits(), LOW_C.to_bits());
}

proptest! {
    /// The dew point is where the pressure is the vapour's.
    #[test]
    fn dew_point_is_the_inverse(t in -60.0..95.0_f64, p in 60_000.0..110_000.0_f64) {
        let table = Saturation::shared();
        prop_assume!(table.pressure_pa(t) < 0.9 * p);
        let w = table.humidity_ratio(t, p);
        let back = table.dew_point_c(w, p);
        // Between the ends of the two equations at the triple point the answer is the point.
        let tolerance = if (t - TRIPLE_POINT_C).abs() < 1e-3 { 1e-3 } else { 1e-9 };
        prop_assert!((back - t).abs() < tolerance, "{} gives {}", t, back);
    }

    #[test]
    fn nothing_panics_and_all_is_a_number(
        t in prop::num::f64::ANY, w in prop::num::f64::ANY, p in prop::num::f64::ANY,
    ) {
        let table = Saturation::shared();
        let (pressure, slope) = table.pressure_and_slope(t);
        let (ratio, ratio_slope) = table.humidity_ratio_and_slope(t, p);
        for value in [
            pressure, slope, ratio, ratio_slope,
            table.humidity_ratio(t, p), table.dew_point_c(w, p), table.relative_humidity(w, t, p),
            vapour_pressure_pa(w, p),
        ] {
            prop_assert!(value.is_finite() && (value >= 0.0 || value >= LOW_C), "{}", value);
        }
    }
}
