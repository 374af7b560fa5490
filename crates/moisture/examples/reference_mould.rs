//! Prints the mould index after a few thousand generated exposures as CSV, for comparison with a stepwise integration
//! of the same equation (`reference/test_mould.py`). Always the same exposures.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_air::domain::OutOfDomain;
use dewpath_moisture::mould::{DeclineClass, MouldIndex, SensitivityClass, Substrate};

const POINTS: u32 = 4000;

const DECLINES: [DeclineClass; 4] = [
    DeclineClass::Full,
    DeclineClass::Significant,
    DeclineClass::RelativelyLow,
    DeclineClass::AlmostNone,
];

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916); independent ones
/// fill the cube.
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

fn main() -> Result<(), OutOfDomain> {
    println!("class,decline_factor,temperature_c,humidity_percent,hours,start_index,index");
    for point in 1..=POINTS {
        // The irrational numbers are the roots of 2, 3, 5 and 7.
        let class = SensitivityClass::ALL[(point % 4) as usize];
        let decline = DECLINES[(point / 4 % 4) as usize];
        let t_c = -3.0 + 43.0 * spread(point, std::f64::consts::SQRT_2);
        let humidity = 70.0 + 30.0 * spread(point, 1.7320508075688772);
        // From an hour to two years, evenly in the logarithm.
        let hours = libm::exp(libm::log(17_520.0) * spread(point, 2.23606797749979));
        // Half of the surfaces start without mould.
        let start = (5.0 * spread(point, 2.6457513110645907) - 2.5).max(0.0);
        let substrate = Substrate::Class(class, decline);
        let mut mould = MouldIndex::starting_at(substrate, start)?;
        mould.advance(t_c, humidity, hours);
        let numbers = [decline.factor(), t_c, humidity, hours, start, mould.index()];
        println!("{class:?},{}", numbers.map(|x| format!("{x:e}")).join(","));
    }
    Ok(())
}
