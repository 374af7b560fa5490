//! Any text as each kind of quantity, exact, ranged or shop length; never a panic.
#![no_main]

use dewpath_units::{
    Airflow, Conductor, Length, Pressure, Quantity, ShopLength, Style, Temperature,
    ThermalResistance, Uncertain,
};
use libfuzzer_sys::fuzz_target;

fn one<Q: Quantity>(text: &str) {
    if let Ok(value) = Q::parse(text) {
        let _ = value.print(&Style::US);
    }
    if let Ok(value) = Uncertain::<Q>::parse(text) {
        let _ = value.print(&Style::METRIC);
    }
}

fuzz_target!(|text: &str| {
    one::<Length>(text);
    one::<Airflow>(text);
    one::<Pressure>(text);
    one::<Temperature>(text);
    one::<ThermalResistance>(text);
    one::<Conductor>(text);
    let _ = ShopLength::parse(text).map(|length| length.print(&Style::US));
});
