//! Moist air and the standard atmosphere against numbers from outside the project.
//!
//! Sources: psychrolib 2.5.0 (ASHRAE Fundamentals 2017, ch. 1, ideal-gas equations), iapws 1.5.5 (IAPWS-IF97 and
//! R14-08), CoolProp 8.0.0 moist air (real gas, ASHRAE RP-1485), fluids 1.3.1 (US Standard Atmosphere 1976), ASHRAE
//! Fundamentals ch. 1 example 1 and table 2 (from memory), WMO Guide No. 8 (Magnus form, from memory).
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

use dewpath_air::atmosphere::{
    SEA_LEVEL_PRESSURE, dry_air_density, standard_density, standard_pressure, standard_temperature,
};
use dewpath_air::moist_air::{
    MoistAir, dew_point, evaporation_heat_j_kg, saturation_pressure, saturation_pressure_over_water,
};
use dewpath_checkvalues::{Check, absolute, check, checks, relative};
use dewpath_units::{Humidity, Length, Pressure, Temperature};
use proptest::prelude::*;

fn celsius(t: f64) -> Temperature {
    Temperature::from_c(t)
}

fn air(t: f64, rh: f64, p: f64) -> MoistAir {
    MoistAir::from_relative_humidity(celsius(t), Humidity::from_ratio(rh), Pressure::from_pa(p))
        .unwrap()
}

/// The air that a check was computed for.
fn air_of(check: &Check) -> MoistAir {
    air(check.input("T_C"), check.input("RH"), check.input("P_Pa"))
}

/// psychrolib 2.5.0, `GetSatVapPres`: the same equations; iapws 1.5.5 (sublimation pressure R14-08, IAPWS-IF97).
#[test]
fn saturation_pressure_agrees_with_psychrolib_and_iapws() {
    for check in checks("PSY-01", "PSY-18") {
        check.holds(saturation_pressure(celsius(check.input("T_C"))).unwrap().pa());
    }
}

/// psychrolib 2.5.0: five properties of each state, one state after the other.
#[test]
fn properties_agree_with_psychrolib() {
    for check in checks("PSY-19", "PSY-53").chunks(5) {
        let state = air_of(&check[0]);
        check[0].holds(state.humidity_ratio());
        check[1].holds(state.wet_bulb().c());
        check[2].holds(state.dew_point().unwrap().c());
        check[3].holds(state.enthalpy_j_kg());
        check[4].holds(state.density().kg_m3());
    }
}

/// CoolProp 8.0.0, `HAPropsSI('W', …)`: the ideal mixture lies below the real gas.
#[test]
fn humidity_ratio_is_near_the_real_gas() {
    for check in checks("PSY-54", "PSY-57") {
        let got = air_of(&check).humidity_ratio();
        check.holds(got);
        assert!(got < check.value(), "{}: the bias has a sign", check.id);
    }
}

/// CoolProp 8.0.0, `HAPropsSI('M', …)` and `HAPropsSI('K', …)` of one state after the other.
#[test]
fn transport_properties_are_near_the_reference() {
    for check in checks("PSY-58", "PSY-65").chunks(2) {
        let state = air_of(&check[0]);
        check[0].holds(state.viscosity_pa_s());
        check[1].holds(state.conductivity_w_m_k());
    }
}

/// psychrolib 2.5.0: the other ways to say how humid air is.
#[test]
fn other_ways_in_agree_with_psychrolib() {
    for check in checks("PSY-66", "PSY-67") {
        check.holds(wet_bulb_of(&check).relative_humidity().ratio());
    }
    let check_dew = check("PSY-68");
    let (dry, dew) = (celsius(check_dew.input("T_C")), celsius(check_dew.input("Td_C")));
    let damp = MoistAir::from_dew_point(dry, dew, SEA_LEVEL_PRESSURE).unwrap();
    check_dew.holds(damp.relative_humidity().ratio());
    let check_high = check("PSY-69");
    let (dry, pressure) =
        (celsius(check_high.input("T_C")), Pressure::from_pa(check_high.input("P_Pa")));
    let high = MoistAir::from_humidity_ratio(dry, check_high.input("W"), pressure).unwrap();
    check_high.holds(high.dew_point().unwrap().c());
}

fn wet_bulb_of(check: &Check) -> MoistAir {
    let (dry, wet) = (celsius(check.input("T_C")), celsius(check.input("Twb_C")));
    MoistAir::from_wet_bulb(dry, wet, Pressure::from_pa(check.input("P_Pa"))).unwrap()
}

/// ASHRAE Fundamentals ch. 1, example 1 (chart reading, from memory).
#[test]
fn handbook_example_of_a_chart_reading() {
    let state = wet_bulb_of(&check("PSY-70"));
    check("PSY-70").holds(state.humidity_ratio());
    check("PSY-71").holds(state.relative_humidity().ratio());
    check("PSY-72").holds(state.enthalpy_j_kg());
    // The same example also gives the dew point 7 °C and the volume 0.896 m3/kg.
    absolute("dew point", state.dew_point().unwrap().c(), 7.0, 0.5);
    absolute("volume", state.specific_volume_m3_kg(), 0.896, 0.001);
}

/// ASHRAE Fundamentals ch. 1, table 2 (from memory; real gas).
#[test]
fn saturation_table_of_the_handbook() {
    for check in checks("PSY-73", "PSY-78") {
        check.holds(air(check.input("T_C"), 1.0, check.input("P_Pa")).humidity_ratio());
    }
}

/// psychrolib 2.5.0, `GetStandardAtmPressure`.
#[test]
fn standard_pressure_agrees_with_psychrolib() {
    for check in checks("ATM-79", "ATM-83") {
        check.holds(standard_pressure(Length::from_m(check.input("z_m"))).unwrap().pa());
    }
}

/// fluids 1.3.1, `ATMOSPHERE_1976(z).rho` (geometric altitude).
#[test]
fn standard_density_agrees_with_the_1976_atmosphere() {
    for check in checks("ATM-84", "ATM-87") {
        check.holds(standard_density(Length::from_m(check.input("z_m"))).unwrap().kg_m3());
    }
}

/// WMO Guide No. 8, annex 4.B: over supercooled water e = 6.112·exp(17.62·t/(243.12 + t)) hPa, −45 to 60 °C, 0.6 %.
#[test]
fn supercooled_water_agrees_with_the_magnus_form() {
    for step in 0..=42 {
        let t = -45.0 + 2.5 * f64::from(step);
        let magnus = 611.2 * (17.62 * t / (243.12 + t)).exp();
        let got = saturation_pressure_over_water(celsius(t)).unwrap().pa();
        relative(&format!("Magnus at {t}"), got, magnus, 0.6e-2);
    }
}

/// Saturation at −10 °C: 286.3 Pa over water, 259.9 Pa over ice (WMO tables, from memory).
#[test]
fn station_humidity_below_freezing_is_capped_at_ice_saturation() {
    let over_water = |t: f64, rh: f64| {
        MoistAir::from_humidity_over_water(celsius(t), Humidity::from_ratio(rh), SEA_LEVEL_PRESSURE)
            .unwrap()
            .relative_humidity()
            .ratio()
    };
    absolute("capped", over_water(-10.0, 1.0), 1.0, 1e-12);
    relative("converted", over_water(-10.0, 0.5), 0.5 * 286.3 / 259.9, 0.2e-2);
    absolute("above freezing", over_water(20.0, 0.5), 0.5, 1e-12);
}

/// Steam tables: 2500.9 kJ/kg at 0.01 °C, 2453.5 at 20 °C, 2406.0 at 40 °C (from memory).
#[test]
fn evaporation_heat_is_near_the_steam_tables() {
    for (t, want) in [(0.01, 2_500_900.0), (20.0, 2_453_500.0), (40.0, 2_406_000.0)] {
        relative("h_fg", evaporation_heat_j_kg(celsius(t)).unwrap(), want, 0.2e-2);
    }
}

/// Schirmer at 20 °C: 2.62e-5 m2/s (from memory), and the inverse of pressure.
#[test]
fn diffusivity_at_room_temperature() {
    let normal = air(20.0, 0.5, 101_325.0).vapour_diffusivity_m2_s();
    relative("Schirmer", normal, 2.62e-5, 0.5e-2);
    relative(
        "half the pressure",
        air(20.0, 0.5, 50_662.5).vapour_diffusivity_m2_s(),
        2.0 * normal,
        1e-12,
    );
}

#[test]
fn out_of_range_is_an_error_that_names_the_quantity() {
    let p = SEA_LEVEL_PRESSURE;
    let half = Humidity::from_ratio(0.5);
    let hot = MoistAir::from_relative_humidity(celsius(150.0), half, p).unwrap_err();
    assert_eq!(
        hot.to_string(),
        "air temperature of 150 °C is outside -100 to 100 °C: \
         air in and around a dwelling lies between -100 and 100 °C"
    );
    assert!(
        saturation_pressure(celsius(-100.0)).is_ok() && saturation_pressure(celsius(200.0)).is_ok()
    );
    let duct =
        MoistAir::from_relative_humidity(celsius(20.0), half, Pressure::from_pa(62.0)).unwrap_err();
    assert!(duct.to_string().contains("absolute pressure is meant"), "{duct}");
    let percent =
        MoistAir::from_relative_humidity(celsius(20.0), Humidity::from_ratio(50.0), p).unwrap_err();
    assert_eq!(percent.quantity, "relative humidity");
    let fog = MoistAir::from_humidity_ratio(celsius(20.0), 0.02, p).unwrap_err();
    relative("saturation in the error", fog.high, 0.0146962, 1e-4);
    let boiling = Pressure::from_pa(50_000.0);
    assert!(
        MoistAir::from_relative_humidity(celsius(90.0), Humidity::from_ratio(1.0), boiling)
            .is_err()
    );
    assert!(MoistAir::from_wet_bulb(celsius(20.0), celsius(21.0), p).is_err());
    assert!(MoistAir::from_wet_bulb(celsius(20.0), celsius(1.0), p).is_err());
    assert!(MoistAir::from_dew_point(celsius(20.0), celsius(20.1), p).is_err());
    assert!(MoistAir::from_relative_humidity(celsius(f64::NAN), half, p).is_err());
    assert!(air(20.0, 0.0, 101_325.0).dew_point().is_err(), "dry air has no dew point");
    assert!(dew_point(Pressure::from_pa(-1.0)).is_err());
    assert!(standard_pressure(Length::from_m(11_001.0)).is_err());
    assert!(standard_temperature(Length::from_m(-5001.0)).is_err());
    assert!(dry_air_density(celsius(20.0), Pressure::from_pa(0.0)).is_err());
}

proptest! {
    /// Every way of saying how humid air is leads back to the same state. (The saturation curves over ice and over
    /// water end 0.01 Pa apart at the triple point, which the dew point cannot tell: 2e-5.)
    #[test]
    fn ways_in_lead_back(t in -40.0..60.0_f64, rh in 0.02..1.0_f64, p in 60_000.0..108_000.0_f64) {
        let state = air(t, rh, p);
        let (dry, pressure) = (celsius(t), Pressure::from_pa(p));
        prop_assert!((state.relative_humidity().ratio() - rh).abs() < 1e-12);
        let dew = state.dew_point().unwrap().lesser(dry);
        let by_dew = MoistAir::from_dew_point(dry, dew, pressure).unwrap();
        prop_assert!((by_dew.humidity_ratio() / state.humidity_ratio() - 1.0).abs() < 2e-5);
        let by_wet = MoistAir::from_wet_bulb(dry, state.wet_bulb().lesser(dry), pressure).unwrap();
        prop_assert!((by_wet.humidity_ratio() - state.humidity_ratio()).abs() < 1e-9);
        let by_ratio = MoistAir::from_humidity_ratio(dry, state.humidity_ratio(), pressure).unwrap();
        prop_assert!((by_ratio.density() / state.density() - 1.0).abs() < 1e-14);
    }

    /// Dew or frost point <= wet bulb <= dry bulb; a liquid wick just above 0 °C may read a little below the
    /// frost point's equivalent, hence 0.01 K.
    #[test]
    fn temperatures_are_in_order(t in -40.0..60.0_f64, rh in 0.02..1.0_f64) {
        let state = air(t, rh, 101_325.0);
        let (dew, wet) = (state.dew_point().unwrap().k(), state.wet_bulb().k());
        prop_assert!(dew <= wet + 0.01 && wet <= state.temperature().k() + 1e-9, "{dew} {wet}");
    }

    /// Damp air is lighter than dry air of the same temperature and pressure.
    #[test]
    fn vapour_makes_air_lighter(t in 0.0..50.0_f64, rh in 0.1..1.0_f64) {
        prop_assert!(air(t, rh, 101_325.0).density() < air(t, 0.0, 101_325.0).density());
    }

    /// No input makes the functions panic.
    #[test]
    fn nothing_panics(
        t in prop_oneof![any::<f64>(), 150.0..500.0_f64],
        x in prop_oneof![any::<f64>(), 0.0..1.0_f64, 150.0..500.0_f64],
        p in prop_oneof![any::<f64>(), 0.0..250_000.0_f64],
    ) {
        let (t, p, humidity) = (Temperature::from_k(t), Pressure::from_pa(p), Humidity::from_ratio(x));
        let _ = (saturation_pressure(t), dew_point(p));
        for state in [
            MoistAir::from_relative_humidity(t, humidity, p),
            MoistAir::from_humidity_ratio(t, x, p),
            MoistAir::from_wet_bulb(t, Temperature::from_k(x), p),
            MoistAir::from_dew_point(t, Temperature::from_k(x), p),
            MoistAir::from_humidity_over_water(t, humidity, p),
        ].into_iter().flatten() {
            prop_assert!(state.wet_bulb().k().is_finite());
            prop_assert!(state.density().kg_m3() > 0.0);
        }
    }
}
