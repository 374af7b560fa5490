//! Prints the mould index through a year of hours, every 30 days, by class and decline, as CSV, for comparison with another
//! integration of the same equation (`reference/test_mould.py`). Always the same year.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::f64::consts::TAU;

use dewpath_air::domain::OutOfDomain;
use dewpath_moisture::mould::{DeclineClass, MouldIndex, SensitivityClass, Substrate};

const HOURS: u32 = 8760;
const TOLD_EVERY_H: u32 = 720;
/// Mean humidities of the years, per cent.
const MEANS: [f64; 3] = [80.0, 83.0, 86.0];

/// Seasons and days of a cold bridge: damp in winter, damper at night.
fn hour_of(hour: u32, mean_percent: f64) -> (f64, f64) {
    let (year, day) = (f64::from(hour) / f64::from(HOURS), f64::from(hour) / 24.0);
    let wave = |turns: f64| libm::sin(TAU * turns);
    let t_c = 12.0 + 9.0 * wave(year - 0.3) + 2.0 * wave(day);
    let percent = mean_percent + 14.0 * wave(year + 0.2) + 8.0 * wave(day + 0.5);
    (t_c, percent.min(98.0))
}

fn main() -> Result<(), OutOfDomain> {
    println!("class,decline_factor,mean_percent,hour,index");
    for class in SensitivityClass::ALL {
        for decline in [DeclineClass::Full, DeclineClass::RelativelyLow, DeclineClass::AlmostNone] {
            for mean in MEANS {
                let mut mould = MouldIndex::starting_at(Substrate::Class(class, decline), 0.0)?;
                for hour in 0..HOURS {
                    let (t_c, percent) = hour_of(hour, mean);
                    mould.advance(t_c, percent, 1.0);
                    if (hour + 1) % TOLD_EVERY_H == 0 {
                        let numbers = [decline.factor(), mean, f64::from(hour + 1), mould.index()];
                        println!("{class:?},{}", numbers.map(|x| format!("{x:e}")).join(","));
                    }
                }
            }
        }
    }
    Ok(())
}
