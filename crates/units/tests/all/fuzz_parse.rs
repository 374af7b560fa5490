//! Any bytes at all: no reader panics, every error points into the text, and what was read prints.
//!
//! Runs as an ordinary test with a bounded number of inputs; `cargo bolero test -p dewpath-units
//! fuzz_parse` searches for as long as it is let.

use bolero::check;
use dewpath_units::{
    Category, Choice, Conductor, Humidity, Length, Origin, ParseError, Pressure, Quantity, Ratio,
    ShopLength, Style, Temperature, TemperatureDifference, ThermalResistance, Uncertain, WaterFlow,
    YesNo,
};

fn points_into(text: &str, error: &ParseError) {
    assert!(text.get(error.span.clone()).is_some(), "{text:?} {error:?}");
    assert!(!error.to_string().is_empty());
}

fn quantity<T: Quantity>(text: &str) {
    match T::parse(text) {
        Ok(value) => {
            assert!(value.si().is_finite(), "{text:?}");
            for style in [Style::US, Style::METRIC] {
                let printed = value.print(&style);
                assert!(T::parse(&printed).is_ok(), "{text:?} → {printed:?}");
            }
        }
        Err(error) => points_into(text, &error),
    }
    match Uncertain::<T>::parse(text) {
        Ok(value) => {
            let printed = value.print(&Style::US);
            assert!(Uncertain::<T>::parse(&printed).is_ok(), "{text:?} → {printed:?}");
            if let Some((low, high)) = value.bounds() {
                assert!(low <= high, "{text:?}");
                assert!(
                    value.quantile(0.3).is_some_and(|drawn| drawn.si().is_finite()),
                    "{text:?}"
                );
            }
        }
        Err(error) => points_into(text, &error),
    }
}

fn everything(text: &str) {
    quantity::<Length>(text);
    quantity::<Pressure>(text);
    quantity::<Temperature>(text);
    quantity::<Humidity>(text);
    quantity::<Ratio>(text);
    quantity::<ThermalResistance>(text);
    quantity::<Conductor>(text);
    quantity::<WaterFlow>(text);
    quantity::<TemperatureDifference>(text);
    match ShopLength::parse(text) {
        Ok(length) => assert!(!length.print(&Style::US).is_empty()),
        Err(error) => points_into(text, &error),
    }
    let others = [
        Uncertain::<u32>::parse(text).err(),
        Choice::<Origin>::parse(text).err(),
        YesNo::parse(text).err(),
        Origin::parse_word(text).err(),
    ];
    others.iter().flatten().for_each(|error| points_into(text, error));
}

#[test]
fn fuzz_parse() {
    check!().with_iterations(2_000).with_max_len(64).for_each(|bytes: &[u8]| {
        everything(&String::from_utf8_lossy(bytes));
    });
}

/// Random bytes seldom make a unit; this one strings together the pieces that quantities are made of.
#[test]
fn fuzz_pieces() {
    const PIECES: [&str; 48] = [
        "9", "4", "12", "0", "1/2", "½", "/", ".", ",", "-", "+", " ", " ", "..", "…", " to ",
        "about ", "~", "+-", "±", "unknown", "ft", "in", "'", "\"", "″", "m", "mm", "m²", "³",
        "cfm", "50", "L/s", "inWC", "w.g.", "R-", "RSI ", "AWG", "°", "F", "C", "%", "RH", "e",
        "é", "\u{a0}", "h", "min",
    ];
    check!().with_iterations(4_000).with_max_len(12).for_each(|bytes: &[u8]| {
        let text: String = bytes.iter().map(|&b| PIECES[usize::from(b) % PIECES.len()]).collect();
        everything(&text);
    });
}
