//! Prints moist-air properties at a few thousand generated states as CSV, for comparison with general-purpose
//! libraries (`reference/test_moist_air.py`). Always the same states.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_air::domain::OutOfDomain;
use dewpath_air::moist_air::{MoistAir, saturation_pressure};
use dewpath_units::{Humidity, Pressure, Temperature};

const POINTS: u32 = 4000;

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916); three independent ones
/// fill the cube.
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

fn main() -> Result<(), OutOfDomain> {
    println!(
        "temperature_c,humidity,pressure_pa,saturation_pa,humidity_ratio,vapour_pa,dew_point_c,wet_bulb_c,\
         enthalpy_j_kg,volume_m3_kg,density_kg_m3,viscosity_pa_s,conductivity_w_m_k,humidity_from_wet_bulb,\
         humidity_from_dew_point"
    );
    for index in 1..=POINTS {
        // The irrational numbers are the roots of 2, 3 and 5.
        let temperature =
            Temperature::from_c(-40.0 + 100.0 * spread(index, std::f64::consts::SQRT_2));
        let humidity = Humidity::from_ratio(0.02 + 0.98 * spread(index, 1.7320508075688772));
        let pressure = Pressure::from_pa(70_000.0 + 38_000.0 * spread(index, 2.23606797749979));
        let air = MoistAir::from_relative_humidity(temperature, humidity, pressure)?;
        let dew_point = air.dew_point()?;
        let wet_bulb = air.wet_bulb();
        let by_wet = MoistAir::from_wet_bulb(temperature, wet_bulb.lesser(temperature), pressure)?;
        let by_dew =
            MoistAir::from_dew_point(temperature, dew_point.lesser(temperature), pressure)?;
        let row = [
            temperature.c(),
            humidity.ratio(),
            pressure.pa(),
            saturation_pressure(temperature)?.pa(),
            air.humidity_ratio(),
            air.vapour_pressure().pa(),
            dew_point.c(),
            wet_bulb.c(),
            air.enthalpy_j_kg(),
            air.specific_volume_m3_kg(),
            air.density().kg_m3(),
            air.viscosity_pa_s(),
            air.conductivity_w_m_k(),
            by_wet.relative_humidity().ratio(),
            by_dew.relative_humidity().ratio(),
        ];
        println!("{}", row.map(|x| format!("{x:e}")).join(","));
    }
    Ok(())
}
