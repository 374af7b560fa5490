//! Field measurement against ISO tables, fluids 1.3.1 and closed forms.

use std::f64::consts::FRAC_PI_4;

use dewpath_air::meters::{
    DuctOrifice, Hood, PressureReading, TraverseRule, at_real_density, back_pressure_shift, bag,
    box_orifice, box_orifice_rule, grille_sweep, humidity_at_sensor, in_quadrature, lagged_reading,
    pitot_speed, traverse_airflow, traverse_positions,
};
use dewpath_checkvalues::{absolute, check, checks, relative};
use dewpath_units::{
    Airflow, Area, Density, Duration, Humidity, Length, Pressure, Temperature, Velocity, Volume,
};

use proptest::prelude::*;

fn read(pa: f64, uncertainty: f64) -> PressureReading {
    PressureReading {
        pressure: Pressure::from_pa(pa),
        standard_uncertainty: Pressure::from_pa(uncertainty),
    }
}

const AIR: Density = Density::from_kg_m3(1.2);

/// Bernoulli. At 2 m/s (2.4 Pa) a manometer good to ±0.5 Pa leaves 10 %; at 1 m/s 42 %.
#[test]
fn pitot_tube() {
    let one = check("MEAS-01");
    let (reading, air) = (read(one.input("dp"), 0.25), Density::from_kg_m3(one.input("rho")));
    one.holds(pitot_speed(reading, air).unwrap().0.m_s());
    let (speed, uncertainty) = pitot_speed(read(2.4, 0.25), AIR).unwrap();
    relative("2 m/s", speed.m_s(), 2.0, 1e-12);
    absolute("share", uncertainty / speed, 0.107, 0.001);
    assert!(pitot_speed(read(0.0, 0.25), AIR).is_err());
    assert!(pitot_speed(read(f64::NAN, 0.25), AIR).is_err());
}

/// ISO 5802:2001 tables 2 and 3; ISO 3966 values in instrument traverse tables. Exact.
#[test]
fn traverse_tables() {
    for (check, rule) in [
        (check("MEAS-02"), TraverseRule::LogLinear),
        (check("MEAS-03"), TraverseRule::LogTchebycheff),
        (check("MEAS-04"), TraverseRule::LogLinear),
        (check("MEAS-05"), TraverseRule::LogTchebycheff),
        (check("MEAS-06"), TraverseRule::LogLinear),
    ] {
        check.all_hold(traverse_positions(rule, check.input("points") as usize).unwrap());
    }
    let sides = [5, 6, 7]
        .map(|points| traverse_positions(TraverseRule::Rectangular, points).unwrap().to_vec());
    check("MEAS-07").all_hold(&sides.concat());
    let error = traverse_positions(TraverseRule::LogTchebycheff, 10).unwrap_err();
    assert!(error.to_string().contains("6 and 8"), "{error}");
}

#[test]
fn traverse_tables_are_symmetric_and_rising() {
    for (rule, counts) in [
        (TraverseRule::LogLinear, &[6, 8, 10][..]),
        (TraverseRule::LogTchebycheff, &[6, 8]),
        (TraverseRule::Rectangular, &[5, 6, 7]),
    ] {
        for &count in counts {
            let y = traverse_positions(rule, count).unwrap();
            assert!(y.windows(2).all(|pair| pair[0] < pair[1]));
            for (left, right) in y.iter().zip(y.iter().rev()) {
                absolute("mirror", left + right, 1.0, 1e-12);
            }
        }
    }
}

/// Power-law profiles have the mean 2n²/((n + 1)(2n + 1)) in closed form; the rules come within 0.5 %.
#[test]
fn traverse_rules_on_power_law_profiles() {
    for check in [check("MEAS-08"), check("MEAS-09")] {
        let n = check.input("n");
        check.part(0).holds(2.0 * n * n / ((n + 1.0) * (2.0 * n + 1.0)));
        for (part, rule) in [(1, TraverseRule::LogLinear), (2, TraverseRule::LogTchebycheff)] {
            let speeds: Vec<Velocity> = traverse_positions(rule, 6)
                .unwrap()
                .iter()
                .map(|&y| Velocity::from_m_s(libm::pow(2.0 * y.min(1.0 - y), 1.0 / n)))
                .collect();
            let flow = traverse_airflow(&speeds, Area::from_m2(1.0), 0.03).unwrap();
            check.part(part).holds(flow.airflow.m3_s());
            // A settled profile adds nothing to the probe, the area and the rule.
            let settled = 2.0 * in_quadrature(&[0.03, 0.01, 0.005]);
            let share = flow.expanded_uncertainty / flow.airflow;
            absolute("settled", share, settled, 0.003);
        }
    }
}

#[test]
fn skewed_traverse_is_less_certain() {
    let speeds = [1.0, 1.5, 3.0, 5.0, 5.5, 4.0].map(Velocity::from_m_s);
    let flow = traverse_airflow(&speeds, Area::from_m2(0.008), 0.03).unwrap();
    assert!(flow.expanded_uncertainty / flow.airflow > 0.3);
    assert!(traverse_airflow(&speeds[..3], Area::from_m2(0.008), 0.03).is_err());
    assert!(traverse_airflow(&[Velocity::ZERO; 6], Area::from_m2(0.008), 0.03).is_err());
}

/// fluids 1.3.1, `differential_pressure_meter_solver` and `C_Reader_Harris_Gallagher` (corner taps), 1e-6.
#[test]
fn orifice_in_a_duct() {
    let plate = DuctOrifice::new(Length::from_mm(101.6), Length::from_mm(63.5)).unwrap();
    let flow = plate.airflow(read(25.0, 0.25), Pressure::from_pa(101_325.0), AIR, 1.82e-5).unwrap();
    check("MEAS-10").holds(flow.airflow.m3_s());
    let reynolds = 1.2 * flow.airflow.m3_s() / (FRAC_PI_4 * 0.1016 * 1.82e-5);
    check("MEAS-11").holds(plate.discharge(reynolds).unwrap());
    // The same call at 20 kPa, where expansion counts, and for a duct of 60 mm with a hole of 24 mm at 100 Pa.
    let strong = plate.airflow(read(20_000.0, 0.25), Pressure::from_pa(101_325.0), AIR, 1.82e-5);
    relative("20 kPa", strong.unwrap().airflow.m3_s(), 0.35874008416103015, 1e-6);
    let small = DuctOrifice::new(Length::from_mm(60.0), Length::from_mm(24.0)).unwrap();
    let flow = small.airflow(read(100.0, 0.25), Pressure::from_pa(101_325.0), AIR, 1.82e-5);
    relative("60 mm", flow.unwrap().airflow.m3_s(), 0.0036569352417465837, 1e-6);
    let faint = plate.airflow(read(1e-3, 0.25), Pressure::from_pa(101_325.0), AIR, 1.82e-5);
    assert_eq!(faint.unwrap_err().quantity, "Reynolds number of the duct");
    assert!(DuctOrifice::new(Length::from_mm(40.0), Length::from_mm(20.0)).is_err());
    assert!(DuctOrifice::new(Length::from_mm(100.0), Length::from_mm(90.0)).is_err());
    assert!(
        plate.airflow(read(40_000.0, 1.0), Pressure::from_pa(101_325.0), AIR, 1.82e-5).is_err()
    );
}

/// Thin-plate orifice between two still volumes, closed form.
#[test]
fn orifice_in_a_box_wall() {
    for check in checks("MEAS-12", "MEAS-14") {
        let (diameter, reading) = (Length::from_m(check.input("d")), read(check.input("dP"), 0.25));
        let flow = box_orifice(diameter, reading, check.input("Cd"), AIR).unwrap();
        check.holds(flow.airflow.m3_s());
    }
    // 60 mm at 10 Pa, by hand: reading 1.25 %, coefficient 1.64 %, diameter 1.67 %, density 0.5 %; twice the root.
    let flow = box_orifice(Length::from_mm(60.0), read(10.0, 0.25), 0.61, AIR).unwrap();
    absolute("60 mm", flow.expanded_uncertainty / flow.airflow, 0.0540, 0.0001);
    // At 2 Pa a manometer good to ±0.5 Pa alone gives ±12 % (from the derivative, by hand: 0.5·0.5/2).
    let weak = box_orifice(Length::from_m(0.1), read(2.0, 0.25), 0.61, AIR).unwrap();
    absolute("2 Pa", weak.expanded_uncertainty / weak.airflow, 0.131, 0.002);
    assert!(box_orifice(Length::ZERO, read(2.0, 0.25), 0.61, AIR).is_err());
}

/// 1.07·A·√Δp in cfm, in², Pa is the same equation: 1.07 cfm = 0.505 L/s; within 1 % of Cd 0.61 at 1.2 kg/m³.
#[test]
fn orifice_rule_of_the_field() {
    let rule = box_orifice_rule(Area::from_in2(10.0), Pressure::from_pa(4.0)).unwrap();
    relative("by hand", rule.cfm(), 21.4, 1e-12);
    let area = Area::from_in2(10.0).m2();
    let diameter = Length::from_m((area / FRAC_PI_4).sqrt());
    let flow = box_orifice(diameter, read(4.0, 0.25), 0.61, AIR).unwrap();
    relative("equation", rule.m3_s(), flow.airflow.m3_s(), 0.01);
}

/// √(ρ_cal/ρ), closed form.
#[test]
fn calibrated_in_other_air() {
    let real = at_real_density(
        Airflow::from_l_s(30.0),
        Density::from_kg_m3(1.204),
        Density::from_kg_m3(1.0),
    );
    check("MEAS-15").holds(real.unwrap().l_s());
}

/// Stratton, Walker & Wray 2012 (LBNL): powered about 6 %, passive 11 to 25 % of the reading.
#[test]
fn hoods_carry_the_error_met_in_the_field() {
    let (powered, passive) = (Hood::Powered.field_error(), Hood::Passive.field_error());
    check("MEAS-16").all_hold(&[powered[1], passive[0], passive[1]].map(|error| 100.0 * error));
    let reading = Hood::Powered.measured(Airflow::from_l_s(30.0)).unwrap();
    absolute("expanded", reading.expanded_uncertainty.l_s(), 3.6, 1e-12);
    assert!(Hood::Powered.measured(Airflow::from_l_s(-1.0)).is_err());
}

/// A straight fan line 60 − 1000·Q and a straight system 500·Q meet at 40 L/s; 3 Pa more resistance leave 38 L/s.
#[test]
fn hood_holds_the_fan_back() {
    let shift = back_pressure_shift(Pressure::from_pa(3.0), 500.0, -1000.0).unwrap();
    relative("by hand", shift.l_s(), 2.0, 1e-12);
    assert!(back_pressure_shift(Pressure::from_pa(3.0), 500.0, 600.0).is_err());
}

#[test]
fn bag_and_sweep() {
    let flow = bag(Volume::from_l(60.0), Duration::from_s(2.0)).unwrap();
    relative("bag", flow.airflow.l_s(), 30.0, 1e-12);
    relative("bag", flow.expanded_uncertainty.l_s(), 6.0, 1e-12);
    assert!(bag(Volume::from_l(60.0), Duration::ZERO).is_err());
    let sweep = grille_sweep(Velocity::from_m_s(2.0), Area::from_m2(0.015)).unwrap();
    relative("sweep", sweep.airflow.l_s(), 30.0, 1e-12);
    relative("sweep", sweep.expanded_uncertainty.l_s(), 9.0, 1e-12);
}

/// Equality of vapour pressure; manuals say 3 points per kelvin at 50 %. First-order response, closed form.
#[test]
fn humidity_sensors_are_warm_and_slow() {
    let seen = humidity_at_sensor(
        Humidity::from_percent(50.0),
        Temperature::from_c(20.0),
        Temperature::from_c(21.0),
    );
    check("MEAS-19").holds(seen.unwrap());
    let slow = check("MEAS-20");
    let [after, lag] = ["t", "tau"].map(|name| Duration::from_s(slow.input(name)));
    slow.holds(lagged_reading(50.0, 90.0, after, lag).unwrap());
    assert!(lagged_reading(50.0, 90.0, Duration::from_s(60.0), Duration::ZERO).is_err());
}

proptest! {
    /// More pressure is more flow, and every flow has an uncertainty above zero.
    #[test]
    fn orifices_rise(p in 5.0..200.0_f64, more in 1.01..3.0_f64, share in 0.4..0.75_f64) {
        let plate = DuctOrifice::new(Length::from_mm(100.0), Length::from_mm(100.0 * share)).unwrap();
        let at = |p| plate.airflow(read(p, 0.25), Pressure::from_pa(101_325.0), AIR, 1.8e-5).unwrap();
        prop_assert!(at(more * p).airflow > at(p).airflow);
        prop_assert!(at(p).expanded_uncertainty > Airflow::ZERO);
        let hole = |p| box_orifice(Length::from_mm(60.0), read(p, 0.25), 0.61, AIR).unwrap();
        prop_assert!(hole(more * p).airflow > hole(p).airflow);
    }

    /// No input makes the functions panic.
    #[test]
    fn nothing_panics(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), n in any::<usize>()) {
        let (reading, rho) = (read(a, b), Density::from_kg_m3(c));
        let _ = (pitot_speed(reading, rho), box_orifice(Length::from_m(b), reading, c, rho));
        let _ = traverse_airflow(&[Velocity::from_m_s(a); 5], Area::from_m2(b), c);
        let _ = traverse_positions(TraverseRule::LogLinear, n);
        let _ = humidity_at_sensor(Humidity::from_ratio(a), Temperature::from_k(b), Temperature::from_k(c));
        let _ = lagged_reading(a, b, Duration::from_s(c), Duration::from_s(a));
        let plate = DuctOrifice::new(Length::from_mm(100.0), Length::from_mm(60.0)).unwrap();
        let _ = plate.airflow(read(a.abs(), b.abs()), Pressure::from_pa(c.abs()), AIR, b.abs());
        let _ = plate.discharge(a);
    }
}
