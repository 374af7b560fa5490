//! Prints a few hundred invented records of air that dries after a shower, with what the fits make of each, as CSV, for
//! comparison with a general-purpose library (`reference/test_decay.py`). Always the same records.
//!
//! One row a reading; what was fitted stands in each row of its record. A fit that finds no answer prints `none`.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_moisture::decay::{
    Background, DecayError, Point, Trace, exponential, exponential_above_unknown, fast_and_slow,
    log_linear, log_linear_weighted,
};

const RECORDS: u32 = 240;
/// The logarithm is fitted as long as the excess is above this, kg/kg.
const LEAST_EXCESS: f64 = 0.001;

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916); independent ones
/// fill the cube.
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

/// A disturbance of about unit size that is as good as random: the sum of twelve even numbers, less six (central limit).
fn noise(record: u32, reading: u32) -> f64 {
    let mut state = u64::from(record) << 32 | u64::from(reading);
    let mut sum = -6.0;
    for _ in 0..12 {
        // The step and the finaliser of SplitMix64 (Steele, Lea & Flood 2014).
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        sum += ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64;
    }
    sum
}

/// Readings, and the background they fall to.
fn record(number: u32) -> (Vec<Point>, f64) {
    // The irrational numbers are the roots of 2, 3, 5, 7, 11 and 13.
    let rate = 1.0 + 11.0 * spread(number, std::f64::consts::SQRT_2);
    let background = 0.004 + 0.008 * spread(number, 1.7320508075688772);
    let excess = 0.003 + 0.009 * spread(number, 2.23606797749979);
    // Every third record has a tail of walls that dry.
    let has_tail = number.is_multiple_of(3);
    let tail = if has_tail { 0.1 + 0.3 * spread(number, 2.6457513110645907) } else { 0.0 };
    let tail_rate = rate * (0.05 + 0.1 * spread(number, 3.3166247903554));
    let scatter = excess * (0.002 + 0.02 * spread(number, 3.605551275463989));
    let readings = 20 + number % 40;
    let length_h = 2.5 / rate * if has_tail { 4.0 } else { 1.0 };
    let points = (0..readings).map(|reading| {
        let time_h = length_h * f64::from(reading) / f64::from(readings - 1);
        let fast = (1.0 - tail) * libm::exp(-rate * time_h);
        let slow = tail * libm::exp(-tail_rate * time_h);
        let humidity_ratio = background + excess * (fast + slow) + scatter * noise(number, reading);
        Point { time_s: 3600.0 * time_h, humidity_ratio }
    });
    (points.collect(), background)
}

/// What was found, or as many `none`.
fn cells<const N: usize>(found: Result<[f64; N], DecayError>) -> Vec<String> {
    match found {
        Ok(values) => values.iter().map(|value| format!("{value:e}")).collect(),
        Err(_) => vec![String::from("none"); N],
    }
}

fn main() -> Result<(), DecayError> {
    println!(
        "record,time_h,humidity_ratio,background,line_rate,line_half_width,line_used,weighted_rate,weighted_half_width,\
         known_rate,known_half_width,known_excess,known_autocorrelation,free_rate,free_half_width,free_background,\
         fast_rate,slow_rate,tail,fast_half_width,aicc_single,aicc_double"
    );
    for number in 1..=RECORDS {
        let (points, value) = record(number);
        let trace = Trace::new(points)?;
        let background = Background::Constant(value);
        let line = log_linear(&trace, background, LEAST_EXCESS)
            .map(|fit| [fit.rate_per_h, fit.half_width_independent_per_h, fit.points as f64]);
        let weighted = log_linear_weighted(&trace, background, LEAST_EXCESS)
            .map(|fit| [fit.rate_per_h, fit.half_width_independent_per_h]);
        let known = exponential(&trace, background).map(|fit| {
            let half_width = fit.half_width_independent_per_h;
            [fit.rate_per_h, half_width, fit.excess, fit.autocorrelation_ratio]
        });
        let free = exponential_above_unknown(&trace)
            .map(|fit| [fit.rate_per_h, fit.half_width_independent_per_h, fit.background]);
        let double = fast_and_slow(&trace, background).map(|fit| {
            let rates = [fit.fast_per_h, fit.slow_per_h, fit.tail_ratio];
            let [fast, slow, tail] = rates;
            [fast, slow, tail, fit.fast_half_width_per_h, fit.aicc_single, fit.aicc_double]
        });
        let fits =
            [cells(line), cells(weighted), cells(known), cells(free), cells(double)].concat();
        for point in trace.points() {
            let reading = [point.time_s / 3600.0, point.humidity_ratio, value];
            let reading = reading.map(|x| format!("{x:e}")).join(",");
            println!("{number},{reading},{}", fits.join(","));
        }
    }
    Ok(())
}
