//! What must hold for every job: no input is too odd, more resistance never helps, less knowledge never narrows.
#![allow(clippy::unwrap_used, clippy::panic, clippy::format_push_string, reason = "a test")]

use crate::common::{self, SETTLED, delivered, likely, near, report, room, sound};
use proptest::prelude::*;
use proptest::sample::select;

/// One of several ways to write a value; `""` leaves the key out.
fn one_of(key: &'static str, values: &'static [&'static str]) -> impl Strategy<Value = String> {
    select(values).prop_map(move |value| match value {
        "" => String::new(),
        plain
            if plain.starts_with(['0', '1', '2', '3', 't', 'f', '[']) && !plain.contains(' ')
                || plain.starts_with('[') =>
        {
            format!("{key} = {plain}\n")
        }
        quoted => format!("{key} = \"{quoted}\"\n"),
    })
}

fn room_text() -> impl Strategy<Value = String> {
    (
        one_of("length", &["3 m", "8..10 ft", "about 9 ft", "unknown", ""]),
        one_of("width", &["2 m", "5 ft", "unknown", ""]),
        one_of("height", &["8 ft", "2.3..2.5 m", ""]),
        one_of("gap", &["0 mm", "1 mm", "3/4 in", "1/4..3/4 in", "unknown", ""]),
        one_of("transfer", &["150 cm2", "", "unknown"]),
        one_of("operation", &["intermittent", "continuous", "unknown", ""]),
        one_of("asked", &["80 cfm", "about 40 L/s", ""]),
    )
        .prop_map(|(length, width, height, gap, transfer, operation, asked)| {
            let door: Vec<&str> = [gap.trim(), transfer.trim()].into_iter().filter(|s| !s.is_empty()).collect();
            format!(
                "[room]\nkind = \"bathroom\"\n{length}{width}{height}{operation}{asked}door = {{ {} }}\n",
                door.join(", ")
            )
        })
}

fn fan_text() -> impl Strategy<Value = String> {
    (
        select(&[
            "rated = \"80 cfm\"\n",
            "rated = \"80 cfm at 0.1 inWC\"\n",
            "rated = [\"80 cfm at 0.1 inWC\", \"60 cfm at 0.25 inWC\"]\n",
            "rated = \"70..90 cfm at 0.1 inWC\"\n",
            "rated = \"about 80 cfm\"\n",
            "rated = [\"80 cfm at 0.1 inWC\", \"80 cfm at 0.25 inWC\"]\n",
            "curve = [\"50 L/s at 0 Pa\", \"40 L/s at 30 Pa\", \"0 L/s at 110 Pa\"]\n",
            "curve = [\"0 L/s at 60 Pa\", \"10 L/s at 40 Pa\", \"20 L/s at 62 Pa\", \"40 L/s at 0 Pa\"]\n",
            "curve = [\"40 L/s at 0.1 inWC\", \"60 L/s at 0.05 inWC\"]\n",
            "",
        ][..]),
        one_of("kind", &["axial", "centrifugal", "axial or centrifugal", "unknown", ""]),
        one_of("speed", &["", "0.5", "0.1", "1"]),
        one_of("holds_flow", &["", "30 L/s", "25..35 L/s"]),
        one_of("running", &["", "true", "false"]),
        one_of("damper", &["", "true", "false", "unknown"]),
        one_of("outlet", &["", "3 in", "4 in", "6 in"]),
    )
        .prop_map(|(rated, kind, speed, holds, running, damper, outlet)| {
            format!("[fan]\n{rated}{kind}{speed}{holds}{running}{damper}{outlet}")
        })
}

fn run_text() -> impl Strategy<Value = String> {
    let duct = || {
        (
            one_of(
                "duct",
                &[
                    "smooth metal",
                    "flex",
                    "flex or smooth metal",
                    "unknown",
                    "",
                    "plastic pipe",
                    "masonry shaft",
                ],
            ),
            one_of(
                "size",
                &[
                    "4 in",
                    "3 in",
                    "3 in or 4 in",
                    "unknown",
                    "",
                    "3-1/4 x 10 in",
                    "oval 3 x 7 in",
                    "1 in",
                    "12 in",
                ],
            ),
            one_of("pulled", &["", "tight", "normal or slack"]),
            one_of("roughness", &["", "0 mm", "0.09 mm", "0.05..0.15 mm", "3 mm"]),
        )
            .prop_map(|(a, b, c, d)| format!("{a}{b}{c}{d}"))
    };
    let sum = (
        duct(),
        one_of("length", &["0 m", "12 ft", "8..30 ft", "about 20 ft", "unknown", "", "500 ft"]),
        one_of("elbows", &["0", "2", "1..3", "unknown", "", "40"]),
        one_of("elbow_make", &["", "stamped", "adjustable", "mitred", "3-piece", "unknown"]),
    )
        .prop_map(|(duct, length, elbows, make)| format!("{duct}{length}{elbows}{make}"));
    let part = select(
        &[
            "piece = { length = \"2 m\" }",
            "piece = { length = \"0 m\" }",
            "piece = { length = \"unknown\", duct = \"flex\" }",
            "piece = { length = \"1..4 m\", size = \"6 in\" }",
            "elbow = { make = \"stamped\", angle = \"90 deg\" }",
            "elbow = { angle = \"45 deg\" }",
            "elbow = { make = \"3-piece\", radius = 0.75 }",
            "elbow = { make = \"unknown\", angle = \"10..90 deg\" }",
            "transition = { to = \"6 in\", shape = \"abrupt\" }",
            "transition = { to = \"3 in\", shape = \"cone\", angle = \"30 deg\" }",
            "transition = { to = \"5 in\" }",
            "damper = { kind = \"backdraft\" }",
            "damper = { kind = \"balancing\", angle = \"40 deg\" }",
            "damper = { kind = \"balancing\", angle = \"0..90 deg\" }",
            "damper = { kind = \"unknown\" }",
            "crush = { open = 0.5 }",
            "crush = { open = 0.01 }",
            "crush = { open = \"unknown\" }",
            "other = { name = \"silencer\", point = \"30 L/s at 5 Pa\" }",
        ][..],
    );
    let parts = (duct(), prop::collection::vec(part, 1..7)).prop_map(|(duct, parts)| {
        let parts = parts
            .iter()
            .enumerate()
            .map(|(i, part)| format!("[[run.part]]\nid = \"p{i}\"\n{part}\n"))
            .collect::<Vec<_>>()
            .concat();
        format!("{duct}{parts}")
    });
    prop_oneof![sum, parts]
}

fn terminal_text() -> impl Strategy<Value = String> {
    (
        one_of(
            "kind",
            &[
                "wall cap",
                "roof cap",
                "unknown",
                "",
                "attic",
                "shared riser",
                "open end",
                "wall cap or attic",
                "nowhere",
            ],
        ),
        one_of("flap", &["", "true", "false", "unknown"]),
        one_of("screen", &["", "none", "insect", "unknown", "coarse or insect"]),
        one_of("clogged", &["", "0.3", "1", "0..1"]),
        one_of("point", &["", "", "30 L/s at 12 Pa"]),
        one_of("size", &["", "4 in", "3 in"]),
    )
        .prop_map(|(kind, flap, screen, clogged, point, size)| {
            format!("[terminal]\n{kind}{flap}{screen}{clogged}{point}{size}")
        })
}

fn any_job() -> impl Strategy<Value = String> {
    (
        one_of("rule_book", &["us-irc-2021", "us-irc-2018", "", "de-din-18017-3"]),
        one_of("altitude", &["", "5000 ft", "unknown", "0..2000 m", "-400 m"]),
        one_of("air_changes", &["", "5 ACH50", "0.5..3 ACH50", "unknown"]),
        room_text(),
        fan_text(),
        run_text(),
        terminal_text(),
    )
        .prop_map(|(book, altitude, changes, room, fan, run, terminal)| {
            format!(
                "format = 1\nshow = \"us\"\n{book}[site]\n{altitude}[dwelling]\n{changes}{room}{fan}[run]\n{run}{terminal}"
            )
        })
}

proptest! {
    #![proptest_config(ProptestConfig { max_shrink_iters: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_job_is_refused_or_answered(text in any_job()) {
        // What the reader refuses is told there; what it lets through must be answered.
        let Ok(read) = dewpath_job::read("job.toml", &text) else { return Ok(()) };
        let job = read.resolve(&dewpath_job::model::Library::default()).unwrap();
        let report = common::judge(&job, dewpath_job::model::Library::default(), &text, 24);
        sound(&report, &text);
        let unsolved = report.findings.iter().find(|f| f.id == "engine.unsolved");
        prop_assert!(unsolved.is_none(), "{unsolved:#?}\n{text}");
        let zero = common::judge(&job, dewpath_job::model::Library::default(), &text, 0);
        sound(&zero, &text);
    }
}

/// A job whose resistance can be turned up.
#[derive(Debug, Clone, Copy)]
struct Knobs {
    length_m: f64,
    elbows: u32,
    size_mm: f64,
    gap_mm: f64,
    by_parts: bool,
    flex: bool,
    fan: usize,
    terminal: usize,
}

const FANS: [&str; 4] = [
    "curve = [\"50 L/s at 0 Pa\", \"40 L/s at 30 Pa\", \"0 L/s at 110 Pa\"]",
    "rated = [\"80 cfm at 0.1 inWC\", \"60 cfm at 0.25 inWC\"]\nkind = \"centrifugal\"",
    "rated = \"110 cfm at 0.1 inWC\"\nkind = \"centrifugal\"",
    "rated = \"50 cfm\"\nkind = \"axial\"",
];
const TERMINALS: [&str; 4] = [
    "kind = \"wall cap\"\nflap = true\nscreen = \"none\"",
    "kind = \"roof cap\"\nscreen = \"insect\"\nclogged = 0.2",
    "kind = \"open end\"",
    "kind = \"wall cap\"\npoint = \"30 L/s at 12 Pa\"",
];

impl Knobs {
    fn text(self) -> String {
        let Self { length_m, elbows, size_mm, gap_mm, by_parts, flex, fan, terminal } = self;
        let duct =
            if flex { "duct = \"flex\"\ncompression = 0.1" } else { "duct = \"smooth metal\"" };
        let make = if flex { "flex bend" } else { "stamped" };
        let room = room("bath").replace("12 mm", &format!("{gap_mm} mm"));
        let shape = if by_parts {
            let mut parts =
                format!("[[run.part]]\nid = \"first\"\npiece = {{ length = \"{length_m} m\" }}\n");
            for i in 0..elbows {
                parts.push_str(&format!(
                    "[[run.part]]\nid = \"e{i}\"\nelbow = {{ make = \"{make}\", angle = \"90 deg\" }}\n"
                ));
            }
            parts
        } else {
            format!("length = \"{length_m} m\"\nelbows = {elbows}\nelbow_make = \"{make}\"\n")
        };
        format!(
            "{SETTLED}{room}[fan]\n{}\n[run]\n{duct}\nsize = \"{size_mm} mm\"\n{shape}[terminal]\n{}\n",
            FANS[fan], TERMINALS[terminal]
        )
    }

    fn flow(self) -> f64 {
        likely(&report(&self.text(), 0), "bath")
    }
}

fn knobs() -> impl Strategy<Value = Knobs> {
    (
        0.0..25.0_f64,
        0..5_u32,
        75.0..160.0_f64,
        1.0..20.0_f64,
        any::<bool>(),
        any::<bool>(),
        0..4_usize,
        0..4_usize,
    )
        .prop_map(|(length_m, elbows, size_mm, gap_mm, by_parts, flex, fan, terminal)| Knobs {
            length_m,
            elbows,
            size_mm,
            gap_mm,
            by_parts,
            flex,
            fan,
            terminal,
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases / 4, max_shrink_iters: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_resistance_never_helps(knobs in knobs(), more in 0.1..8.0_f64) {
        let flow = knobs.flow();
        // A hair of rounding; the elbows of a run by parts sit behind a first piece, so that only a first piece
        // below three diameters changes what is lost behind the fan.
        let least = flow * (1.0 + 1e-9);
        let longer = Knobs { length_m: knobs.length_m + more, ..knobs };
        if !(knobs.by_parts && knobs.length_m < 0.5) {
            prop_assert!(longer.flow() <= least, "longer: {} over {flow}", longer.flow());
        }
        let turns = Knobs { elbows: knobs.elbows + 1, ..knobs };
        prop_assert!(turns.flow() <= least, "an elbow more: {} over {flow}", turns.flow());
        if knobs.terminal != 3 {
            let narrower = Knobs { size_mm: knobs.size_mm * 0.9, ..knobs };
            prop_assert!(narrower.flow() <= least, "narrower: {} over {flow}", narrower.flow());
        }
        let tighter = Knobs { gap_mm: knobs.gap_mm * 0.8, ..knobs };
        prop_assert!(tighter.flow() <= least, "tighter door: {} over {flow}", tighter.flow());
    }

    #[test]
    fn a_wider_range_never_narrows_the_answer(
        knobs in knobs(),
        low in 1.0..8.0_f64,
        width in 0.0..6.0_f64,
        wider in 0.2..4.0_f64,
    ) {
        let knobs = Knobs { length_m: 7.5, ..knobs };
        let with = |low: f64, high: f64| {
            let text = knobs.text().replace("\"7.5 m\"", &format!("\"{low}..{high} m\""));
            delivered(&report(&text, 1024), "bath")
        };
        let middle = low + width / 2.0 + wider;
        let (narrow, wide) = (
            with(middle - width / 2.0, middle + width / 2.0),
            with(middle - width / 2.0 - wider, middle + width / 2.0 + wider),
        );
        // Other bands stay; two independent spreads add up, so that only the choice of a neighbouring draw may narrow.
        prop_assert!(
            wide.high - wide.low >= 0.95 * (narrow.high - narrow.low) - 1e-6,
            "{narrow:?} {wide:?}\n{}", knobs.text()
        );
    }

    #[test]
    fn what_is_known_exactly_leaves_no_spread(knobs in knobs()) {
        let knobs = Knobs { elbows: 0, flex: false, fan: 0, terminal: 2, gap_mm: 15.0, ..knobs };
        let text = knobs.text().replace("duct = ", "roughness = \"0.09 mm\"\nduct = ");
        let exact = delivered(&report(&text, 128), "bath");
        prop_assert!(exact.high - exact.low < 0.003 * exact.likely, "{exact:?}");
        let zero = delivered(&report(&text, 0), "bath");
        prop_assert!((zero.likely - exact.likely).abs() < 0.003 * exact.likely, "{zero:?} {exact:?}");
    }

    #[test]
    fn no_draws_give_the_medians(knobs in knobs()) {
        let text = knobs.text();
        let zero = delivered(&report(&text, 0), "bath");
        prop_assert!(zero.low.total_cmp(&zero.high).is_eq());
        let many = delivered(&report(&text, 512), "bath");
        prop_assert!((zero.likely - many.likely).abs() <= 0.05 * many.likely, "{zero:?} {many:?}\n{text}");
        prop_assert!(many.low <= zero.likely && zero.likely <= many.high, "{zero:?} {many:?}\n{text}");
    }

    #[test]
    fn both_ways_to_write_a_run_agree(knobs in knobs()) {
        // Elbows at the end of a run by parts; the sum does not say where they are and allows for one at the fan.
        prop_assume!(knobs.length_m > 0.5);
        let knobs = Knobs { elbows: 0, ..knobs };
        let sum = Knobs { by_parts: false, ..knobs }.flow();
        let parts = Knobs { by_parts: true, ..knobs }.flow();
        prop_assert!((sum - parts).abs() <= 1e-9 * sum, "{sum} {parts}");
    }

    #[test]
    fn thin_air_keeps_the_volume_and_loses_the_mass(knobs in knobs(), altitude in 500.0..3000.0_f64) {
        // Pressure of the fan and losses both follow the density (fan laws, ANSI/AMCA 211): only the weight of a flap,
        // the laminar part of leaks and the Reynolds number do not.
        let text = knobs.text();
        let high = text.replace("\"100 m\"", &format!("\"{altitude} m\""));
        let (low, high) = (report(&text, 0), report(&high, 0));
        let (a, b) = (low.rooms[0].delivered.unwrap(), high.rooms[0].delivered.unwrap());
        let volume = b.airflow_l_s.likely / a.airflow_l_s.likely;
        let mass = b.mass_kg_s.likely / a.mass_kg_s.likely;
        prop_assert!(volume > 0.88 && volume < 1.02, "{volume}");
        prop_assert!(mass < 0.97 * volume, "{mass} {volume}");
        // Standard atmosphere (ISO 2533), same temperature and humidity: pressure alone, but for the vapour.
        let pressure = |z: f64| libm::pow(1.0 - 2.25577e-5 * z, 5.2559);
        let ratio = pressure(altitude) / pressure(100.0);
        prop_assert!((mass / volume / ratio - 1.0).abs() < 0.005, "{} {ratio}", mass / volume);
    }

    #[test]
    fn the_same_job_gives_the_same_bytes(text in any_job()) {
        let Ok(read) = dewpath_job::read("job.toml", &text) else { return Ok(()) };
        let job = read.resolve(&dewpath_job::model::Library::default()).unwrap();
        let bytes = || {
            let report = common::judge(&job, dewpath_job::model::Library::default(), &text, 32);
            serde_json::to_string(&report).unwrap()
        };
        prop_assert_eq!(bytes(), bytes());
    }
}

/// Everything about a room that is numbers, as bytes.
fn of_room(report: &dewpath_report::Report, id: &str) -> String {
    serde_json::to_string(report.rooms.iter().find(|r| r.id == id).unwrap()).unwrap()
}

fn two_rooms(other: &str, name: &str) -> String {
    let a = room("bath");
    let b = room("other").replace("width = \"2 m\"", other);
    format!(
        "name = \"{name}\"\n{SETTLED}{a}{b}[[fan]]\nid = \"fan\"\nroom = \"bath\"\nrated = \"80 cfm\"\n\
         [run]\nduct = \"flex\"\nlength = \"3..9 m\"\nelbows = \"1..3\"\n[terminal]\nkind = \"unknown\"\n"
    )
}

#[test]
fn an_edit_elsewhere_does_not_shake_the_draws() {
    let base = of_room(&report(&two_rooms("width = \"2 m\"", "one"), 256), "bath");
    for (other, name) in [
        ("width = \"2 m\"", "another name"),
        ("width = \"1..4 m\"", "one"),
        ("width = \"unknown\"", "one"),
        ("width = \"2 m\"\noperation = \"continuous\"", "one"),
    ] {
        let edited = report(&two_rooms(other, name), 256);
        assert_eq!(of_room(&edited, "bath"), base, "{other} {name}");
    }
}

#[test]
fn another_room_without_exhaust_does_not_shake_the_draws() {
    let two = two_rooms("width = \"2 m\"", "one");
    let one = two.replace(&room("other"), "");
    assert_ne!(one, two);
    let (one, two) = (report(&one, 256), report(&two, 256));
    let (a, b) = (delivered(&one, "bath"), delivered(&two, "bath"));
    near(a.low, b.low, 1e-9);
    near(a.likely, b.likely, 1e-9);
    near(a.high, b.high, 1e-9);
}

#[test]
fn a_new_uncertain_value_does_not_shake_the_draws_of_the_others() {
    // The draws of the run stay, so that a spread of no width changes nothing.
    let base = two_rooms("width = \"2 m\"", "one");
    let spread = base.replace("gap = \"12 mm\"", "gap = \"12..12.000001 mm\"");
    let (a, b) = (delivered(&report(&base, 256), "bath"), delivered(&report(&spread, 256), "bath"));
    near(b.low, a.low, 1e-6);
    near(b.high, a.high, 1e-6);
}

fn compare(a: &serde_json::Value, b: &serde_json::Value, at: &str) {
    use serde_json::Value::{Array, Number, Object};
    match (a, b) {
        (Number(a), Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            assert!((a - b).abs() <= 1e-9 * b.abs().max(1e-3), "{at}: {a} {b}");
        }
        (Object(a), Object(b)) => {
            assert_eq!(a.len(), b.len(), "{at}");
            for (key, value) in a.iter().filter(|(key, _)| *key != "world") {
                compare(value, &b[key], &format!("{at}.{key}"));
            }
        }
        (Array(a), Array(b)) => {
            assert_eq!(a.len(), b.len(), "{at}");
            a.iter().zip(b).enumerate().for_each(|(i, (a, b))| compare(a, b, &format!("{at}.{i}")));
        }
        _ => assert_eq!(a, b, "{at}"),
    }
}

#[test]
fn both_unit_systems_give_the_same_numbers() {
    // 1 in = 25.4 mm, 1 ft = 304.8 mm exactly; 60 cfm = 28.316846592 L/s by the exact foot.
    let us = "format = 1\nshow = \"us\"\nrule_book = \"us-irc-2021\"\nsite = { altitude = \"1000 ft\", indoor = \"68 F\" }\n\
        dwelling = { volume = \"10000 ft3\" }\n[room]\nkind = \"bathroom\"\nlength = \"10 ft\"\nwidth = \"5 ft\"\nheight = \"8 ft\"\n\
        door = { width = \"28 in\", gap = \"1/2 in\" }\n[fan]\ncurve = [\"120 cfm at 0 Pa\", \"60 cfm at 62 Pa\", \"0 cfm at 110 Pa\"]\n\
        [run]\nduct = \"flex\"\nsize = \"4 in\"\nlength = \"10..20 ft\"\nelbows = 2\n[terminal]\nkind = \"wall cap\"\n";
    let metric = us
        .replace("1000 ft\"", "304.8 m\"")
        .replace("68 F", "20 C")
        .replace("10000 ft3", "283.16846592 m3")
        .replace("\"10 ft\"", "\"3.048 m\"")
        .replace("\"5 ft\"", "\"1.524 m\"")
        .replace("\"8 ft\"", "\"2.4384 m\"")
        .replace("28 in", "711.2 mm")
        .replace("1/2 in", "12.7 mm")
        .replace("120 cfm", "56.633693184 L/s")
        .replace("60 cfm", "28.316846592 L/s")
        .replace("0 cfm", "0 L/s")
        .replace("\"4 in\"", "\"101.6 mm\"")
        .replace("10..20 ft", "3.048..6.096 m");
    let (us, metric) = (report(us, 256), report(&metric, 256));
    compare(&serde_json::to_value(&us).unwrap(), &serde_json::to_value(&metric).unwrap(), "report");
}

#[test]
fn what_the_same_hands_did_shares_its_draw() {
    // A run "3 in. or 4 in." is one or the other all along, however many parts it has: the loss of its parts is
    // that of the same run written as a sum, in every draw.
    let run = |shape: &str| {
        let room = room("bath");
        let text = format!(
            "{SETTLED}{room}[fan]\n{}\n[run]\nduct = \"flex or smooth metal\"\nsize = \"3 in or 4 in\"\n{shape}\n\
             [terminal]\nkind = \"open end\"\nsize = \"4 in\"\n",
            FANS[0]
        );
        delivered(&report(&text, 512), "bath")
    };
    let sum = run("length = \"6 m\"\nelbows = 0");
    let parts = (0..6)
        .map(|i| format!("[[run.part]]\nid = \"p{i}\"\npiece = {{ length = \"1 m\" }}\n"))
        .collect::<Vec<_>>()
        .concat();
    let parts = run(&parts);
    near(parts.low, sum.low, 0.02);
    near(parts.high, sum.high, 0.02);
}
