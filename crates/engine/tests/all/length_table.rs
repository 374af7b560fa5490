//! The published duct-length table through the whole engine.
//!
//! IRC 2018/2021/2024 table M1504.2 gives, for a fan whose flow is rated at 0.25 in. of water, the greatest length of
//! smooth duct without elbows. A job at the printed length with such a fan, a wall cap and what is assumed of its casing
//! should thus deliver the flow of the column. The table knows no door and no tight house: both are written wide open here.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]

use crate::common::{likely, report};

/// Diameter (in) and its numeric cells: rated flow (cfm) and length (ft); identical in 18 adopted state texts.
const SMOOTH: [(u32, &[(u32, u32)]); 5] = [
    (4, &[(50, 114), (80, 31), (100, 10)]),
    (5, &[(80, 152), (100, 91), (125, 51), (150, 28), (200, 4)]),
    (6, &[(125, 168), (150, 112), (200, 53), (250, 25), (300, 9)]),
    (7, &[(200, 148), (250, 88), (300, 54)]),
    (8, &[(250, 198), (300, 133)]),
];

fn delivered_cfm(inches: u32, cfm: u32, feet: u32) -> f64 {
    let text = format!(
        "format = 1\nshow = \"us\"\nrule_book = \"us-irc-2021\"
site = {{ altitude = \"0 ft\", indoor = \"68 F\", humidity = \"20 %\" }}
dwelling = {{ leakage = \"20000 cfm50\" }}
[room]\nkind = \"bathroom\"\nlength = \"10 ft\"\nwidth = \"8 ft\"\nheight = \"8 ft\"\ndoor = {{ transfer = \"8 ft2\" }}
[fan]\nrated = \"{cfm} cfm at 0.25 inWC\"\ndamper = true
[run]\nduct = \"smooth metal\"\nsize = \"{inches} in\"\nroughness = \"0.09 mm\"\nlength = \"{feet} ft\"\nelbows = 0
[terminal]\nkind = \"wall cap\"\nscreen = \"none\"\nflap = true\n"
    );
    // 1 cfm is 0.028316846592 m3 a minute, by the exact foot.
    likely(&report(&text, 256), "room") * 60.0 / 28.316846592
}

#[test]
fn a_fan_rated_for_the_column_delivers_it_at_the_printed_length() {
    let mut off = Vec::new();
    let mut count = 0;
    for (inches, row) in SMOOTH {
        for &(cfm, feet) in row {
            let flow = delivered_cfm(inches, cfm, feet);
            let share = flow / f64::from(cfm) - 1.0;
            count += 1;
            if share.abs() > 0.10 {
                off.push(format!(
                    "{inches} in, {cfm} cfm, {feet} ft: {flow:.1} cfm, {:+.1} %",
                    100.0 * share
                ));
            }
        }
    }
    assert_eq!(count, 18, "numeric smooth cells from 4 to 8 in");
    assert!(off.is_empty(), "{off:#?}");
}

#[test]
fn three_quarters_of_the_length_delivers_more_and_half_as_much_again_less() {
    for (inches, row) in SMOOTH {
        let (cfm, feet) = row[0];
        let at = delivered_cfm(inches, cfm, feet);
        assert!(delivered_cfm(inches, cfm, feet * 3 / 4) > at);
        assert!(delivered_cfm(inches, cfm, feet * 3 / 2) < at);
    }
}
