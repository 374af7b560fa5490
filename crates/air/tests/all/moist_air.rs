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
use dewpath_units::{Humidity, Length, Pressure, Temperature};
use proptest::prelude::*;

fn absolute(id: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{id}: got {got}, want {want} ± {tolerance}");
}

fn relative(id: &str, got: f64, want: f64, tolerance: f64) {
    absolute(id, got, want, tolerance * want.abs());
}

fn celsius(t: f64) -> Temperature {
    Temperature::from_c(t)
}

fn air(t: f64, rh: f64, p: f64) -> MoistAir {
    MoistAir::from_relative_humidity(celsius(t), Humidity::from_ratio(rh), Pressure::from_pa(p))
        .unwrap()
}

/// psychrolib 2.5.0, `GetSatVapPres`: the same equations, so 1e-9.
#[test]
fn saturation_pressure_equals_psychrolib() {
    for (id, t, want) in [
        ("PSY-01", -40.0, 12.8452493),
        ("PSY-02", -20.0, 103.2603786),
        ("PSY-03", -10.0, 259.902865),
        ("PSY-04", -5.0, 401.7641225),
        ("PSY-05", 0.0, 611.1535709),
        ("PSY-06", 5.0, 872.4866543),
        ("PSY-07", 10.0, 1227.995275),
        ("PSY-08", 15.0, 1705.447794),
        ("PSY-09", 20.0, 2338.8037),
        ("PSY-10", 25.0, 3169.21647),
        ("PSY-11", 30.0, 4246.030244),
        ("PSY-12", 40.0, 7383.460009),
        ("PSY-13", 60.0, 19943.76062),
    ] {
        relative(id, saturation_pressure(celsius(t)).unwrap().pa(), want, 1e-9);
    }
}

/// iapws 1.5.5 (sublimation pressure R14-08, IAPWS-IF97).
#[test]
fn saturation_pressure_agrees_with_iapws() {
    for (id, t, want) in [
        ("PSY-14", -20.0, 103.239029),
        ("PSY-15", -10.0, 259.8738108),
        ("PSY-16", 10.0, 1228.183869),
        ("PSY-17", 20.0, 2339.214767),
        ("PSY-18", 40.0, 7384.427487),
    ] {
        relative(id, saturation_pressure(celsius(t)).unwrap().pa(), want, 0.05e-2);
    }
}

/// psychrolib 2.5.0: humidity ratio 0.05 %, wet bulb and dew point 0.002 K, enthalpy 5 J/kg, density 0.01 %.
/// One line a state: ids, °C, relative humidity, Pa, then the five values.
#[test]
fn properties_agree_with_psychrolib() {
    type Line = ([&'static str; 5], [f64; 3], [f64; 5]);
    let lines: [Line; 7] = [
        (
            ["PSY-19", "PSY-20", "PSY-21", "PSY-22", "PSY-23"],
            [20.0, 0.5, 101325.0],
            [0.007261737207, 13.78336966, 9.272392288, 38551.74138, 1.198897967],
        ),
        (
            ["PSY-24", "PSY-25", "PSY-26", "PSY-27", "PSY-28"],
            [24.0, 0.8, 101325.0],
            [0.01501227457, 21.43933493, 20.33718034, 62359.84665, 1.177357653],
        ),
        (
            ["PSY-29", "PSY-30", "PSY-31", "PSY-32", "PSY-33"],
            [30.0, 0.9, 101325.0],
            [0.02437569705, 28.58613126, 28.17714625, 92503.78223, 1.147827931],
        ),
        (
            ["PSY-34", "PSY-35", "PSY-36", "PSY-37", "PSY-38"],
            [40.0, 0.3, 101325.0],
            [0.01390003369, 25.09341587, 19.1252399, 76038.14676, 1.117929949],
        ),
        (
            ["PSY-39", "PSY-40", "PSY-41", "PSY-42", "PSY-43"],
            [0.0, 0.8, 101325.0],
            [0.003015618365, -1.155116445, -2.682935616, 7542.061532, 1.289962208],
        ),
        (
            ["PSY-44", "PSY-45", "PSY-46", "PSY-47", "PSY-48"],
            [-10.0, 0.8, 101325.0],
            [0.001278876257, -10.64822089, -12.48955722, -6885.317579, 1.340388654],
        ),
        (
            ["PSY-49", "PSY-50", "PSY-51", "PSY-52", "PSY-53"],
            [20.0, 0.5, 83436.0],
            [0.008840813282, 13.31325111, 9.272392288, 42559.75227, 0.9863041063],
        ),
    ];
    for (id, [t, rh, p], want) in lines {
        let state = air(t, rh, p);
        relative(id[0], state.humidity_ratio(), want[0], 0.05e-2);
        absolute(id[1], state.wet_bulb().c(), want[1], 0.002);
        absolute(id[2], state.dew_point().unwrap().c(), want[2], 0.002);
        absolute(id[3], state.enthalpy_j_kg(), want[3], 5.0);
        relative(id[4], state.density().kg_m3(), want[4], 0.01e-2);
    }
}

/// CoolProp 8.0.0, `HAPropsSI('W', …)`: the ideal mixture lies up to 0.6 % below the real gas.
#[test]
fn humidity_ratio_is_near_the_real_gas() {
    for (id, t, rh, want) in [
        ("PSY-54", 20.0, 0.5, 0.007293697702),
        ("PSY-55", 24.0, 0.8, 0.01508038105),
        ("PSY-56", 30.0, 0.9, 0.02449194143),
        ("PSY-57", -10.0, 0.8, 0.001284297379),
    ] {
        let got = air(t, rh, 101_325.0).humidity_ratio();
        relative(id, got, want, 0.6e-2);
        assert!(got < want, "{id}: the bias has a sign");
    }
}

/// CoolProp 8.0.0, `HAPropsSI('M', …)` within 0.5 % and `HAPropsSI('K', …)` within 1 %.
#[test]
fn transport_properties_are_near_the_reference() {
    for (ids, t, rh, viscosity, conductivity) in [
        (["PSY-58", "PSY-59"], 20.0, 0.5, 1.814316044e-05, 0.0258661325),
        (["PSY-60", "PSY-61"], 24.0, 0.8, 1.8266696e-05, 0.02614948858),
        (["PSY-62", "PSY-63"], 0.0, 0.8, 1.719755096e-05, 0.02436434944),
        (["PSY-64", "PSY-65"], -10.0, 0.8, 1.670593396e-05, 0.02359379145),
    ] {
        let state = air(t, rh, 101_325.0);
        relative(ids[0], state.viscosity_pa_s(), viscosity, 0.5e-2);
        relative(ids[1], state.conductivity_w_m_k(), conductivity, 1e-2);
    }
}

/// psychrolib 2.5.0: the other ways to say how humid air is.
#[test]
fn other_ways_in_agree_with_psychrolib() {
    let from_wet_bulb =
        |t, wet| MoistAir::from_wet_bulb(celsius(t), celsius(wet), SEA_LEVEL_PRESSURE).unwrap();
    absolute("PSY-66", from_wet_bulb(25.0, 18.0).relative_humidity().ratio(), 0.506806953, 0.0005);
    absolute("PSY-67", from_wet_bulb(-3.0, -4.0).relative_humidity().ratio(), 0.7978013542, 0.002);
    let damp = MoistAir::from_dew_point(celsius(22.0), celsius(12.0), SEA_LEVEL_PRESSURE).unwrap();
    absolute("PSY-68", damp.relative_humidity().ratio(), 0.5303297019, 0.0003);
    let high =
        MoistAir::from_humidity_ratio(celsius(22.0), 0.010, Pressure::from_pa(83_436.0)).unwrap();
    absolute("PSY-69", high.dew_point().unwrap().c(), 11.08648481, 0.003);
}

/// ASHRAE Fundamentals ch. 1, example 1 (chart reading, from memory).
#[test]
fn handbook_example_of_a_chart_reading() {
    let state = MoistAir::from_wet_bulb(celsius(40.0), celsius(20.0), SEA_LEVEL_PRESSURE).unwrap();
    absolute("PSY-70", state.humidity_ratio(), 0.0065, 0.0001);
    absolute("PSY-71", state.relative_humidity().ratio(), 0.14, 0.01);
    absolute("PSY-72", state.enthalpy_j_kg(), 56_700.0, 400.0);
    // The same example also gives the dew point 7 °C and the volume 0.896 m3/kg.
    absolute("dew point", state.dew_point().unwrap().c(), 7.0, 0.5);
    absolute("volume", state.specific_volume_m3_kg(), 0.896, 0.001);
}

/// ASHRAE Fundamentals ch. 1, table 2 (from memory; real gas, so 0.6 %).
#[test]
fn saturation_table_of_the_handbook() {
    for (id, t, want) in [
        ("PSY-73", 0.0, 0.00379),
        ("PSY-74", 10.0, 0.007661),
        ("PSY-75", 20.0, 0.014758),
        ("PSY-76", 25.0, 0.02017),
        ("PSY-77", 30.0, 0.027329),
        ("PSY-78", 40.0, 0.049141),
    ] {
        relative(id, air(t, 1.0, 101_325.0).humidity_ratio(), want, 0.6e-2);
    }
}

/// psychrolib 2.5.0, `GetStandardAtmPressure`, within 0.02 %.
#[test]
fn standard_pressure_agrees_with_psychrolib() {
    for (id, z, want) in [
        ("ATM-79", 500.0, 95460.81237),
        ("ATM-80", 1000.0, 89874.51942),
        ("ATM-81", 1609.344, 83427.51129),
        ("ATM-82", 2000.0, 79495.12404),
        ("ATM-83", 3000.0, 70108.42216),
    ] {
        relative(id, standard_pressure(Length::from_m(z)).unwrap().pa(), want, 0.02e-2);
    }
}

/// fluids 1.3.1, `ATMOSPHERE_1976(z).rho` (geometric altitude), within 0.05 %.
#[test]
fn standard_density_agrees_with_the_1976_atmosphere() {
    for (id, z, want) in [
        ("ATM-84", 0.0, 1.224999156),
        ("ATM-85", 1000.0, 1.111658985),
        ("ATM-86", 1609.344, 1.046660954),
        ("ATM-87", 3000.0, 0.9092539408),
    ] {
        relative(id, standard_density(Length::from_m(z)).unwrap().kg_m3(), want, 0.05e-2);
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
