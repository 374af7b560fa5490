//! A floor is the same floor in millimetres: what was measured in inches, written exactly in millimetres (1 in is 25.4 mm by the
//! International Yard and Pound Agreement of 1959), hangs the housing in the same spot and leads out the same way. Sums of the two
//! differ in their last digits alone, and no tie is settled by those.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]

use crate::common::report;
use dewpath_units::ShopLength;

/// The cases with a geometry, by name.
fn cases() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../jobs/cases");
    let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut cases: Vec<(String, String)> = paths
        .filter_map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            let is_toml = path.extension().is_some_and(|extension| extension == "toml");
            (name.starts_with("geo-") && is_toml)
                .then(|| (name, std::fs::read_to_string(&path).unwrap()))
        })
        .collect();
    cases.sort();
    cases
}

/// The text of a job with every length in millimetres, and how many there are.
fn in_mm(text: &str) -> (String, usize) {
    let mut count = 0;
    let lines: Vec<String> = text
        .lines()
        .map(|line| {
            if line.starts_with('#') || line.starts_with("name") {
                return line.to_owned();
            }
            // Every other part stands between quotes.
            let parts = line.split('"').enumerate().map(|(k, part)| {
                let converted = if k % 2 == 1 { lengths_in_mm(part) } else { None };
                count += usize::from(converted.is_some());
                converted.unwrap_or_else(|| part.to_owned())
            });
            parts.collect::<Vec<_>>().join("\"")
        })
        .collect();
    (lines.join("\n"), count)
}

/// One length or several, as `9 in x 10 in`; none for any other text.
fn lengths_in_mm(text: &str) -> Option<String> {
    let one = |text: &str| {
        let (sign, length) = text.strip_prefix('-').map_or(("", text), |length| ("-", length));
        let nm = ShopLength::parse(length).ok()?.nm();
        Some(format!("{sign}{}.{:06} mm", nm / 1_000_000, nm % 1_000_000))
    };
    text.split(" x ").map(one).collect::<Option<Vec<_>>>().map(|all| all.join(" x "))
}

#[test]
fn the_same_floor_in_millimetres_has_the_same_places_and_ways_out() {
    let (mut placed, mut led) = (0, 0);
    for (name, text) in cases() {
        let (converted, count) = in_mm(&text);
        assert!(count > 20, "{name}: {count} lengths");
        let [inches, millimetres] = [&text, &converted].map(|text| report(text, 0));
        assert_eq!(inches.placements.len(), millimetres.placements.len(), "{name}");
        for (a, b) in inches.placements.iter().zip(&millimetres.placements) {
            assert_eq!((a.rank, &a.bay), (b.rank, &b.bay), "{name}");
            let off = [a.x_m - b.x_m, a.y_m - b.y_m, a.turned_deg - b.turned_deg];
            assert!(off.iter().all(|off| off.abs() < 1e-6), "{name}: {a:#?} became {b:#?}");
            placed += 1;
        }
        assert_eq!(inches.routes.len(), millimetres.routes.len(), "{name}");
        for (a, b) in inches.routes.iter().zip(&millimetres.routes) {
            assert_eq!((a.rank, &a.way_out), (b.rank, &b.way_out), "{name}");
            assert!((a.length_m - b.length_m).abs() < 1e-6, "{name}: {a:#?} became {b:#?}");
            led += 1;
        }
    }
    assert!(placed >= 20 && led >= 10, "{placed} places, {led} ways");
}
