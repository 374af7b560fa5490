//! Duct-length tables, cell by cell, and how they are read between their lines.
//!
//! Source of the cells: IRC Table M1504.2 (editions 2018 to 2024; M1506.2 in 2015), identical in 18
//! adopted state texts; Washington Table M1505.4.4.2 and Oregon Table M1504.2 of the 2021 state codes.
//! Reading between the lines: common practice, no source (the tables print no rule).

use dewpath_rulebook::{Answer, Book, DuctKind, Limit, TableLimit, hydraulic_diameter, load};
use dewpath_units::{Airflow, Area, Length};
use proptest::prelude::*;

/// Not allowed.
const X: f64 = -1.0;
/// No limit.
const NL: f64 = f64::INFINITY;
/// Not printed.
const NP: f64 = -2.0;

const FLOWS: [f64; 8] = [50.0, 80.0, 100.0, 125.0, 150.0, 200.0, 250.0, 300.0];
const FLEX: [(f64, [f64; 8]); 6] = [
    (3.0, [X, X, X, X, X, X, X, X]),
    (4.0, [56.0, 4.0, X, X, X, X, X, X]),
    (5.0, [NL, 81.0, 42.0, 16.0, 2.0, X, X, X]),
    (6.0, [NL, NL, 158.0, 91.0, 55.0, 18.0, 1.0, X]),
    (7.0, [NL, NL, NL, NL, 161.0, 78.0, 40.0, 19.0]),
    (8.0, [NL, NL, NL, NL, NL, 189.0, 111.0, 69.0]),
];
const SMOOTH: [(f64, [f64; 8]); 6] = [
    (3.0, [5.0, X, X, X, X, X, X, X]),
    (4.0, [114.0, 31.0, 10.0, X, X, X, X, X]),
    (5.0, [NL, 152.0, 91.0, 51.0, 28.0, 4.0, X, X]),
    (6.0, [NL, NL, NL, 168.0, 112.0, 53.0, 25.0, 9.0]),
    (7.0, [NL, NL, NL, NL, NL, 148.0, 88.0, 54.0]),
    (8.0, [NL, NL, NL, NL, NL, NL, 198.0, 133.0]),
];

fn ask(book: &Book, kind: DuctKind, inches: f64, cfm: f64, elbows: u32) -> Option<TableLimit> {
    let answer =
        book.duct_length(kind, Length::from_inches(inches), Airflow::from_cfm(cfm), elbows);
    answer.value().copied()
}

fn assert_limit(found: Limit, feet: f64, what: &str) {
    match found {
        Limit::NoLimit => assert!(feet.is_infinite(), "{what}: no limit, not {feet} ft"),
        Limit::NotAllowed => assert!(feet == X, "{what}: not allowed, not {feet} ft"),
        Limit::Max(most) => {
            assert!((most.feet() - feet).abs() < 1e-9, "{what}: {most:?}, not {feet} ft");
        }
    }
}

fn assert_table<const N: usize>(
    book: &Book,
    kind: DuctKind,
    flows: &[f64; N],
    rows: &[(f64, [f64; N])],
) {
    for (inches, cells) in rows {
        for (cfm, feet) in flows.iter().zip(cells) {
            if *feet == NP {
                continue;
            }
            let what = format!("{} {kind:?} {inches} in {cfm} cfm", book.id());
            let limit =
                ask(book, kind, *inches, *cfm, 0).unwrap_or_else(|| panic!("{what}: nothing"));
            assert_limit(limit.limit, *feet, &what);
            assert_limit(limit.printed, *feet, &what);
            assert!((limit.row.inches() - inches).abs() < 1e-9, "{what}: row {:?}", limit.row);
            assert!((limit.column.cfm() - cfm).abs() < 1e-9, "{what}: column {:?}", limit.column);
        }
    }
}

#[test]
fn every_cell_of_the_model_code_table() {
    for id in ["us-irc-2018", "us-irc-2021", "us-irc-2024", "us-ashrae-62.2"] {
        let book = load(id).unwrap();
        assert_table(&book, DuctKind::Flex, &FLOWS, &FLEX);
        assert_table(&book, DuctKind::Smooth, &FLOWS, &SMOOTH);
        let rating = book.duct_table_rating();
        assert!((rating.value().unwrap().in_wc() - 0.25).abs() < 1e-12);
    }
}

#[test]
fn every_cell_of_the_state_tables() {
    let flex = [
        (4.0, [25.0, X, NP, NP]),
        (5.0, [90.0, 15.0, X, NP]),
        (6.0, [NL, 90.0, 45.0, 15.0]),
        (7.0, [NP, NP, NP, 70.0]),
    ];
    let smooth = [
        (4.0, [70.0, 20.0, NP, NP]),
        (5.0, [100.0, 100.0, 50.0, NP]),
        (6.0, [NL, NL, NL, NL]),
        (7.0, [NP, NP, NP, NL]),
    ];
    for (id, in_wc) in [("us-wa-2021", 0.25), ("us-or-2021", 0.10)] {
        let book = load(id).unwrap();
        let flows = [50.0, 80.0, 100.0, 125.0];
        assert_table(&book, DuctKind::Flex, &flows, &flex);
        assert_table(&book, DuctKind::Smooth, &flows, &smooth);
        let rating = book.duct_table_rating();
        assert!((rating.value().unwrap().in_wc() - in_wc).abs() < 1e-12, "{id}: {rating:?}");
    }
    let oregon = load("us-or-2021").unwrap();
    assert_table(&oregon, DuctKind::Flex, &[160.0], &[(6.0, [4.0]), (7.0, [50.0])]);
    assert_table(&oregon, DuctKind::Smooth, &[160.0], &[(6.0, [40.0]), (7.0, [100.0])]);
}

#[test]
fn each_elbow_takes_its_length() {
    // IRC Table M1504.2 footnote c: 15 ft for each elbow. 31 - 30 = 1 ft; 152 - 30 = 122 ft.
    let book = load("us-irc-2021").unwrap();
    let four = ask(&book, DuctKind::Smooth, 4.0, 80.0, 2).unwrap();
    assert_limit(four.limit, 1.0, "4 in, 80 cfm, 2 elbows");
    assert_limit(four.printed, 31.0, "as printed");
    assert!((four.deduction.feet() - 30.0).abs() < 1e-9);
    assert!(four.allows(Length::from_feet(1.0)) && !four.allows(Length::from_feet(1.1)));
    assert_limit(ask(&book, DuctKind::Smooth, 5.0, 80.0, 2).unwrap().limit, 122.0, "5 in");
    // Nothing left: 31 - 45 < 0; and 4 in. flexible duct at 80 cfm with one elbow, 4 - 15 < 0.
    assert_limit(ask(&book, DuctKind::Smooth, 4.0, 80.0, 3).unwrap().limit, X, "3 elbows");
    assert_limit(ask(&book, DuctKind::Flex, 4.0, 80.0, 1).unwrap().limit, X, "flex, 1 elbow");
    // Elbows change neither "no limit" nor "not allowed".
    assert_limit(ask(&book, DuctKind::Smooth, 6.0, 50.0, 9).unwrap().limit, NL, "no limit");
    assert_limit(ask(&book, DuctKind::Flex, 3.0, 50.0, 9).unwrap().limit, X, "3 in flex");
    // A number of elbows nobody has does not overflow.
    assert_limit(ask(&book, DuctKind::Smooth, 4.0, 50.0, u32::MAX).unwrap().limit, X, "many");
}

#[test]
fn the_states_give_three_elbows_free() {
    // Washington Table M1505.4.4.2, Oregon Table M1504.2: three elbows, then 10 ft less for each.
    for id in ["us-wa-2021", "us-or-2021"] {
        let book = load(id).unwrap();
        for (elbows, feet) in [(0, 70.0), (3, 70.0), (4, 60.0), (9, 10.0), (10, X)] {
            let limit = ask(&book, DuctKind::Smooth, 4.0, 50.0, elbows).unwrap();
            assert_limit(limit.limit, feet, &format!("{id}, {elbows} elbows"));
        }
    }
}

#[test]
fn between_lines_the_stricter_line_is_read() {
    let book = load("us-irc-2021").unwrap();
    // 81 cfm reads the 100 cfm column, 40 cfm the 50 cfm column.
    assert_limit(ask(&book, DuctKind::Smooth, 4.0, 81.0, 0).unwrap().limit, 10.0, "81 cfm");
    assert_limit(ask(&book, DuctKind::Smooth, 4.0, 40.0, 0).unwrap().limit, 114.0, "40 cfm");
    // A 4.5 in. duct reads the 4 in. row, a 10 in. duct the row of 8 in. and larger.
    assert_limit(ask(&book, DuctKind::Smooth, 4.5, 80.0, 0).unwrap().limit, 31.0, "4.5 in");
    assert_limit(ask(&book, DuctKind::Smooth, 10.0, 300.0, 0).unwrap().limit, 133.0, "10 in");
    // 100 mm is smaller than 4 in. (101.6 mm) and reads the 3 in. row; 102 mm is 4 in.
    let metric = |mm: f64| {
        book.duct_length(DuctKind::Smooth, Length::from_mm(mm), Airflow::from_cfm(50.0), 0)
            .value()
            .unwrap()
            .limit
    };
    assert_limit(metric(100.0), 5.0, "100 mm");
    assert_limit(metric(102.0), 114.0, "102 mm");
    // 37.8 L/s is 80.09 cfm as people round 80 cfm.
    let rounded = Airflow::from_l_s(37.8);
    let limit = book.duct_length(DuctKind::Smooth, Length::from_inches(4.0), rounded, 0);
    assert_limit(limit.value().unwrap().limit, 31.0, "37.8 L/s");
}

#[test]
fn outside_the_table_only_a_prohibition_reaches() {
    let book = load("us-irc-2021").unwrap();
    // Above the last column nothing is said of an 8 in. duct, ...
    assert_eq!(ask(&book, DuctKind::Smooth, 8.0, 301.0, 0), None);
    // ... but what 300 cfm may not, 400 cfm may not either.
    assert_limit(ask(&book, DuctKind::Smooth, 5.0, 400.0, 0).unwrap().limit, X, "5 in, 400 cfm");
    assert_limit(ask(&book, DuctKind::Flex, 2.0, 50.0, 0).unwrap().limit, X, "2 in flex");
    assert_eq!(ask(&book, DuctKind::Smooth, 2.0, 50.0, 0), None);
    // Cells the state tables do not print: a smaller duct or a stronger fan stands in, else nothing.
    let washington = load("us-wa-2021").unwrap();
    let seven = ask(&washington, DuctKind::Flex, 7.0, 100.0, 0).unwrap();
    assert_limit(seven.limit, 70.0, "7 in at 100 cfm, by its 125 cfm cell");
    assert!((seven.column.cfm() - 125.0).abs() < 1e-9);
    let seven = ask(&washington, DuctKind::Flex, 7.0, 80.0, 0).unwrap();
    assert_limit(seven.limit, 90.0, "7 in at 80 cfm, by the 6 in cell");
    assert!((seven.row.inches() - 6.0).abs() < 1e-9);
    assert_limit(ask(&washington, DuctKind::Flex, 4.0, 125.0, 0).unwrap().limit, X, "4 in flex");
    assert_eq!(ask(&washington, DuctKind::Smooth, 4.0, 100.0, 0), None);
    assert_eq!(ask(&washington, DuctKind::Smooth, 6.0, 150.0, 0), None);
}

#[test]
fn impossible_sizes_find_nothing() {
    let book = load("us-irc-2021").unwrap();
    for bad in [0.0, -4.0, f64::NAN] {
        assert_eq!(ask(&book, DuctKind::Smooth, bad, 80.0, 0), None);
        assert_eq!(ask(&book, DuctKind::Smooth, 4.0, bad, 0), None);
    }
}

#[test]
fn books_without_a_table_say_so() {
    for id in ["ca-on", "gb-eng-adf-2021", "de-din-18017-3", "trade-guideline"] {
        let book = load(id).unwrap();
        let diameter = Length::from_inches(4.0);
        let answer = book.duct_length(DuctKind::Smooth, diameter, Airflow::from_cfm(80.0), 0);
        assert_eq!(answer, Answer::NotInBook { question: "duct_table".to_owned() }, "{id}");
    }
}

#[test]
fn other_shapes_enter_by_hydraulic_diameter() {
    // IRC Table M1504.2 footnote b. 3-1/4 x 10 in.: 4 x 32.5 / 26.5 = 4.906 in., the 4 in. row.
    let area = Length::from_inches(3.25) * Length::from_inches(10.0);
    let diameter = hydraulic_diameter(area, Length::from_inches(26.5));
    assert!((diameter.inches() - 4.9057).abs() < 1e-4);
    let book = load("us-irc-2021").unwrap();
    let limit = book.duct_length(DuctKind::Smooth, diameter, Airflow::from_cfm(80.0), 0);
    assert_limit(limit.value().unwrap().limit, 31.0, "3-1/4 x 10");
    // A circle keeps its own diameter.
    let circle = Area::from_m2(std::f64::consts::FRAC_PI_4 * 0.01);
    let back = hydraulic_diameter(circle, Length::from_m(std::f64::consts::PI * 0.1));
    assert!((back.m() - 0.1).abs() < 1e-12);
}

/// Greater is more lenient.
fn leniency(limit: Option<TableLimit>) -> Option<f64> {
    Some(match limit?.limit {
        Limit::NoLimit => f64::INFINITY,
        Limit::NotAllowed => 0.0,
        Limit::Max(most) => most.m(),
    })
}

proptest! {
    /// A larger duct, a weaker fan or fewer elbows never tighten the limit, where both are known.
    #[test]
    fn the_tables_are_monotone(
        id in prop::sample::select(vec!["us-irc-2021", "us-wa-2021", "us-or-2021"]),
        is_smooth: bool,
        inches in 2.0..12.0_f64,
        wider in 0.0..4.0_f64,
        cfm in 10.0..400.0_f64,
        weaker in 0.1..1.0_f64,
        elbows in 0..8_u32,
    ) {
        let book = load(id).unwrap();
        let kind = if is_smooth { DuctKind::Smooth } else { DuctKind::Flex };
        let tight = leniency(ask(&book, kind, inches, cfm, elbows + 1));
        for (inches, cfm, elbows) in [
            (inches + wider, cfm, elbows + 1),
            (inches, cfm * weaker, elbows + 1),
            (inches, cfm, elbows),
        ] {
            if let (Some(tight), Some(loose)) = (tight, leniency(ask(&book, kind, inches, cfm, elbows))) {
                prop_assert!(loose >= tight, "{inches} in, {cfm} cfm, {elbows} elbows: {loose} < {tight}");
            }
        }
    }
}
