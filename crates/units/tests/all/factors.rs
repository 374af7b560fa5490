//! Every conversion factor against the general-purpose library uom, which takes its own from NIST SP 811.
//!
//! uom rounds some factors to the seven figures that SP 811 prints (cubic foot, pound, Btu), so the
//! tolerance is 1e-6 where it does and 1e-12 where the definition is short. Its plain `inch_of_water` is
//! the conventional one (249.0889 Pa), as ours; its 39.2 °F and 60 °F variants differ by 3e-5 and 1e-3.

use dewpath_units::{
    Airflow, Angle, Area, Density, Duration, Length, Mass, MassFlow, Power, Pressure, Quantity,
    Ratio, Temperature, TemperatureDifference, ThermalResistance, Velocity, Volume, WaterFlow,
};
use uom::si::f64 as oracle;
use uom::si::{
    angle, area, length, mass, mass_density, mass_rate, power, pressure, ratio,
    temperature_interval, thermodynamic_temperature as temperature, time, velocity, volume,
    volume_rate,
};

const DEFINED: f64 = 1e-12;
const SEVEN_FIGURES: f64 = 1e-6;

fn same(name: &str, ours: f64, theirs: f64, tolerance: f64) {
    let error = (ours - theirs).abs();
    assert!(error <= tolerance * theirs.abs(), "{name}: {ours} ≠ {theirs}");
}

/// One unit three ways: the constructor, the accessor, and the unit as written.
macro_rules! factor {
    ($ours:ident :: $from:ident, $get:ident, $written:literal; $theirs:ident, $quantity:ident :: $unit:ident, $tolerance:expr) => {{
        let expected = oracle::$theirs::new::<$quantity::$unit>(7.0).value;
        same($written, $ours::$from(7.0).si(), expected, $tolerance);
        same($written, $ours::from_si(expected).$get(), 7.0, $tolerance);
        written::<$ours>($written, expected, $tolerance);
    }};
}

fn written<T: Quantity>(text: &str, expected: f64, tolerance: f64) {
    let value = T::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    same(text, value.si(), expected, tolerance);
}

#[test]
fn lengths_areas_volumes() {
    factor!(Length::from_m, m, "7 m"; Length, length::meter, DEFINED);
    factor!(Length::from_cm, cm, "7 cm"; Length, length::centimeter, DEFINED);
    factor!(Length::from_mm, mm, "7 mm"; Length, length::millimeter, DEFINED);
    factor!(Length::from_inches, inches, "7 in"; Length, length::inch, DEFINED);
    factor!(Length::from_feet, feet, "7 ft"; Length, length::foot, DEFINED);
    written::<Length>("7 yd", oracle::Length::new::<length::yard>(7.0).value, DEFINED);
    factor!(Area::from_m2, m2, "7 m2"; Area, area::square_meter, DEFINED);
    factor!(Area::from_cm2, cm2, "7 cm2"; Area, area::square_centimeter, DEFINED);
    factor!(Area::from_mm2, mm2, "7 mm2"; Area, area::square_millimeter, DEFINED);
    factor!(Area::from_ft2, ft2, "7 ft2"; Area, area::square_foot, SEVEN_FIGURES);
    factor!(Area::from_in2, in2, "7 in2"; Area, area::square_inch, SEVEN_FIGURES);
    factor!(Volume::from_m3, m3, "7 m3"; Volume, volume::cubic_meter, DEFINED);
    factor!(Volume::from_l, l, "7 L"; Volume, volume::liter, DEFINED);
    factor!(Volume::from_ft3, ft3, "7 ft3"; Volume, volume::cubic_foot, SEVEN_FIGURES);
    factor!(Volume::from_in3, in3, "7 in3"; Volume, volume::cubic_inch, SEVEN_FIGURES);
    written::<Volume>("7 gal", oracle::Volume::new::<volume::gallon>(7.0).value, SEVEN_FIGURES);
    written::<Volume>("7 mL", oracle::Volume::new::<volume::milliliter>(7.0).value, DEFINED);
}

#[test]
fn flows() {
    factor!(Airflow::from_m3_s, m3_s, "7 m3/s"; VolumeRate, volume_rate::cubic_meter_per_second, DEFINED);
    factor!(Airflow::from_l_s, l_s, "7 L/s"; VolumeRate, volume_rate::liter_per_second, DEFINED);
    factor!(Airflow::from_cfm, cfm, "7 cfm"; VolumeRate, volume_rate::cubic_foot_per_minute, SEVEN_FIGURES);
    factor!(Airflow::from_m3_h, m3_h, "7 m3/h"; VolumeRate, volume_rate::cubic_meter_per_hour, DEFINED);
    written::<Airflow>(
        "7 m3/min",
        oracle::VolumeRate::new::<volume_rate::cubic_meter_per_minute>(7.0).value,
        DEFINED,
    );
    written::<Airflow>(
        "7 L/min",
        oracle::VolumeRate::new::<volume_rate::liter_per_minute>(7.0).value,
        DEFINED,
    );
    factor!(MassFlow::from_kg_s, kg_s, "7 kg/s"; MassRate, mass_rate::kilogram_per_second, DEFINED);
    factor!(MassFlow::from_g_s, g_s, "7 g/s"; MassRate, mass_rate::gram_per_second, DEFINED);
    factor!(MassFlow::from_kg_h, kg_h, "7 kg/h"; MassRate, mass_rate::kilogram_per_hour, DEFINED);
    written::<MassFlow>(
        "7 lb/h",
        oracle::MassRate::new::<mass_rate::pound_per_hour>(7.0).value,
        SEVEN_FIGURES,
    );
}

#[test]
fn flows_of_water() {
    factor!(WaterFlow::from_gpm, gpm, "7 gpm"; VolumeRate, volume_rate::gallon_per_minute, SEVEN_FIGURES);
    factor!(WaterFlow::from_l_min, l_min, "7 L/min"; VolumeRate, volume_rate::liter_per_minute, DEFINED);
    written::<WaterFlow>(
        "7 L/s",
        oracle::VolumeRate::new::<volume_rate::liter_per_second>(7.0).value,
        DEFINED,
    );
}

#[test]
fn pressures() {
    factor!(Pressure::from_pa, pa, "7 Pa"; Pressure, pressure::pascal, DEFINED);
    factor!(Pressure::from_in_wc, in_wc, "7 inWC"; Pressure, pressure::inch_of_water, SEVEN_FIGURES);
    written::<Pressure>("7 kPa", oracle::Pressure::new::<pressure::kilopascal>(7.0).value, DEFINED);
    written::<Pressure>(
        "7 hPa",
        oracle::Pressure::new::<pressure::hectopascal>(7.0).value,
        DEFINED,
    );
    written::<Pressure>("7 mbar", oracle::Pressure::new::<pressure::millibar>(7.0).value, DEFINED);
    written::<Pressure>(
        "7 mmH2O",
        oracle::Pressure::new::<pressure::millimeter_of_water>(7.0).value,
        DEFINED,
    );
    written::<Pressure>(
        "7 inHg",
        oracle::Pressure::new::<pressure::inch_of_mercury>(7.0).value,
        SEVEN_FIGURES,
    );
    written::<Pressure>("7 psi", oracle::Pressure::new::<pressure::psi>(7.0).value, SEVEN_FIGURES);

    // The three inches of water, so that nobody mistakes one for another (NIST SP 811, B.8).
    let ours = Pressure::from_in_wc(1.0).pa();
    same("conventional", ours, 249.0889, 1e-7);
    assert!(
        (ours - oracle::Pressure::new::<pressure::inch_of_water_39_2>(1.0).value).abs() > 0.005
    );
    assert!((ours - oracle::Pressure::new::<pressure::inch_of_water_60>(1.0).value).abs() > 0.2);
}

#[test]
fn speeds_times_angles_ratios() {
    factor!(Velocity::from_m_s, m_s, "7 m/s"; Velocity, velocity::meter_per_second, DEFINED);
    factor!(Velocity::from_fpm, fpm, "7 fpm"; Velocity, velocity::foot_per_minute, DEFINED);
    factor!(Velocity::from_mph, mph, "7 mph"; Velocity, velocity::mile_per_hour, DEFINED);
    factor!(Velocity::from_km_h, km_h, "7 km/h"; Velocity, velocity::kilometer_per_hour, SEVEN_FIGURES);
    written::<Velocity>(
        "7 ft/s",
        oracle::Velocity::new::<velocity::foot_per_second>(7.0).value,
        DEFINED,
    );
    written::<Velocity>("7 kn", oracle::Velocity::new::<velocity::knot>(7.0).value, SEVEN_FIGURES);
    factor!(Duration::from_s, s, "7 s"; Time, time::second, DEFINED);
    factor!(Duration::from_min, min, "7 min"; Time, time::minute, DEFINED);
    factor!(Duration::from_h, h, "7 h"; Time, time::hour, DEFINED);
    written::<Duration>("7 days", oracle::Time::new::<time::day>(7.0).value, DEFINED);
    factor!(Angle::from_rad, rad, "7 rad"; Angle, angle::radian, DEFINED);
    factor!(Angle::from_deg, deg, "7 deg"; Angle, angle::degree, DEFINED);
    factor!(Ratio::from_ratio, ratio, "7"; Ratio, ratio::ratio, DEFINED);
    factor!(Ratio::from_percent, percent, "7 %"; Ratio, ratio::percent, DEFINED);
}

#[test]
fn temperatures() {
    factor!(Temperature::from_k, k, "7 K"; ThermodynamicTemperature, temperature::kelvin, DEFINED);
    factor!(Temperature::from_c, c, "7 C"; ThermodynamicTemperature, temperature::degree_celsius, DEFINED);
    // Going back to 7 °F subtracts 460 °F, which costs three figures of the sixteen.
    factor!(Temperature::from_f, f, "7 F"; ThermodynamicTemperature, temperature::degree_fahrenheit, DEFINED);
}

#[test]
fn differences_of_temperature_know_no_shift() {
    factor!(TemperatureDifference::from_k, k, "7 K"; TemperatureInterval, temperature_interval::kelvin, DEFINED);
    factor!(TemperatureDifference::from_f, f, "7 F"; TemperatureInterval, temperature_interval::degree_fahrenheit, DEFINED);
    written::<TemperatureDifference>(
        "7 C",
        oracle::TemperatureInterval::new::<temperature_interval::degree_celsius>(7.0).value,
        DEFINED,
    );
}

#[test]
fn masses_and_powers() {
    factor!(Mass::from_kg, kg, "7 kg"; Mass, mass::kilogram, DEFINED);
    factor!(Mass::from_lb, lb, "7 lb"; Mass, mass::pound, SEVEN_FIGURES);
    written::<Mass>("7 g", oracle::Mass::new::<mass::gram>(7.0).value, DEFINED);
    written::<Mass>("7 oz", oracle::Mass::new::<mass::ounce>(7.0).value, SEVEN_FIGURES);
    written::<Mass>("7 gr", oracle::Mass::new::<mass::grain>(7.0).value, SEVEN_FIGURES);
    factor!(Density::from_kg_m3, kg_m3, "7 kg/m3"; MassDensity, mass_density::kilogram_per_cubic_meter, DEFINED);
    factor!(Density::from_lb_ft3, lb_ft3, "7 lb/ft3"; MassDensity, mass_density::pound_per_cubic_foot, SEVEN_FIGURES);
    factor!(Power::from_w, w, "7 W"; Power, power::watt, DEFINED);
    written::<Power>("7 kW", oracle::Power::new::<power::kilowatt>(7.0).value, DEFINED);
}

/// uom has no thermal resistance of an area and no Btu per hour; these are the printed factors of NIST
/// SP 811, B.8: Btu_IT/h 0.2930711 W, °F·h·ft²/Btu_IT 0.1761102 K·m²/W.
#[test]
fn btu_units_against_the_printed_table() {
    same("Btu/h", Power::from_btu_h(1.0).w(), 0.2930711, 2e-7);
    same("R", ThermalResistance::from_r_ip(1.0).rsi(), 0.1761102, 2e-7);
    same("RSI", ThermalResistance::from_rsi(1.0).r_ip(), 5.678263, 2e-7);
}
