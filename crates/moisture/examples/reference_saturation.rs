//! Prints what the table of saturation says at a few thousand generated states as CSV, for comparison with a
//! general-purpose library (`reference/test_saturation.py`). Always the same states.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_moisture::saturation::{HIGH_C, LOW_C, Saturation};

const POINTS: u32 = 4000;

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916); independent ones
/// fill the cube.
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

fn main() {
    println!(
        "temperature_c,pressure_pa,humidity,saturation_pa,slope_pa_k,humidity_ratio,slope_ratio_k,dew_point_c,back"
    );
    let saturation = Saturation::shared();
    for index in 1..=POINTS {
        // The irrational numbers are the roots of 2, 3 and 5. Near boiling a ratio says little.
        let t_c = LOW_C + (HIGH_C - 15.0 - LOW_C) * spread(index, std::f64::consts::SQRT_2);
        let p_pa = 70_000.0 + 38_000.0 * spread(index, 1.7320508075688772);
        let humidity = 0.05 + 0.95 * spread(index, 2.23606797749979);
        let (pressure, slope) = saturation.pressure_and_slope(t_c);
        let (ratio, slope_ratio) = saturation.humidity_ratio_and_slope(t_c, p_pa);
        let vapour = humidity * pressure;
        let w = 0.621945 * vapour / (p_pa - vapour);
        let row = [
            t_c,
            p_pa,
            humidity,
            pressure,
            slope,
            ratio,
            slope_ratio,
            saturation.dew_point_c(w, p_pa),
            saturation.relative_humidity(w, t_c, p_pa),
        ];
        println!("{}", row.map(|x| format!("{x:e}")).join(","));
    }
}
