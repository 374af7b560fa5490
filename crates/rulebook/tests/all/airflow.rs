//! Required airflow of rooms and dwellings.
//!
//! Sources stand beside the checks; the figures of each book are those of its tables as printed in
//! adopted texts or, where a book says "from memory", as recorded.

use dewpath_rulebook::{
    AirflowMethod, Amendment, Answer, Applies, Book, Cooker, DwellingMethod, DwellingTrigger,
    DwellingUse, Fixtures, KitchenExhaust, Operation, RoomFact, RoomKind, RoomUse, Standing, load,
};
use dewpath_units::{Airflow, Area, Length, Volume};

fn room(kind: RoomKind, operation: Operation) -> RoomUse {
    RoomUse { operation: Some(operation), ..RoomUse::new(kind) }
}

fn governing(book: &Book, room: &RoomUse) -> Option<Airflow> {
    book.governing_airflow(room).value().copied()
}

fn assert_cfm(found: Option<Airflow>, cfm: f64, what: &str) {
    let found = found.unwrap_or_else(|| panic!("{what}: nothing governs"));
    assert!((found.cfm() - cfm).abs() < 1e-6, "{what}: {} cfm, not {cfm}", found.cfm());
}

fn assert_l_s(found: Option<Airflow>, l_s: f64, what: &str) {
    let found = found.unwrap_or_else(|| panic!("{what}: nothing governs"));
    assert!((found.l_s() - l_s).abs() < 1e-9, "{what}: {} L/s, not {l_s}", found.l_s());
}

#[test]
fn united_states_fixed_rates() {
    // IRC Table M1505.4.4 (2018, 2021), Table M1505.5 (2024); ASHRAE 62.2 Tables 5-1 and 5-2.
    use Operation::{Continuous, Intermittent};
    for (id, section) in [
        ("us-irc-2018", "Table M1505.4.4"),
        ("us-irc-2021", "Table M1505.4.4"),
        ("us-irc-2024", "Table M1505.5"),
    ] {
        let book = load(id).unwrap();
        for (kind, operation, cfm) in [
            (RoomKind::Bathroom, Intermittent, 50.0),
            (RoomKind::Bathroom, Continuous, 20.0),
            (RoomKind::ToiletRoom, Intermittent, 50.0),
            (RoomKind::ToiletRoom, Continuous, 20.0),
            (RoomKind::Kitchen, Intermittent, 100.0),
            (RoomKind::Kitchen, Continuous, 25.0),
        ] {
            let answer = book.governing_airflow(&room(kind, operation));
            assert_cfm(answer.value().copied(), cfm, id);
            let ruled = answer.known().unwrap();
            assert_eq!((ruled.section.as_str(), ruled.standing), (section, Standing::Confirmed));
        }
    }
    let standard = load("us-ashrae-62.2").unwrap();
    assert_cfm(governing(&standard, &room(RoomKind::Bathroom, Intermittent)), 50.0, "62.2");
    assert_cfm(governing(&standard, &room(RoomKind::Bathroom, Continuous)), 20.0, "62.2");
}

#[test]
fn kitchens_ask_what_exhausts_them() {
    // ASHRAE 62.2 Table 5-1: hood 100 cfm, anything else 300 cfm.
    let book = load("us-ashrae-62.2").unwrap();
    let kitchen = room(RoomKind::Kitchen, Operation::Intermittent);
    let with =
        |exhaust| RoomUse { kitchen_exhaust: Some(exhaust), enclosed: Some(false), ..kitchen };
    assert_cfm(governing(&book, &with(KitchenExhaust::Hood)), 100.0, "hood");
    assert_cfm(governing(&book, &with(KitchenExhaust::Other)), 300.0, "other");
    let open = book.required_airflow(&kitchen);
    assert!(open.iter().any(|rate| rate.applies == Applies::Unless(RoomFact::KitchenExhaust)));
    assert!(!open.iter().any(|rate| rate.governs), "a hood is not assumed: {open:?}");
    // Table 5-2: 5 air changes an hour, enclosed kitchens only. 1200 ft3: 100 cfm.
    let continuous = RoomUse {
        enclosed: Some(true),
        volume: Some(Volume::from_ft3(1200.0)),
        ..room(RoomKind::Kitchen, Operation::Continuous)
    };
    assert_cfm(governing(&book, &continuous), 100.0, "enclosed");
    // Whether it runs on is not known: no fixed rate stands beside the one that runs on.
    let any = RoomUse { operation: None, ..continuous };
    let rates = book.required_airflow(&any);
    let by_changes = |operation| {
        let is_it = |method| method == AirflowMethod::AirChanges;
        rates.iter().find(|rate| is_it(rate.method) && rate.operation == Some(operation)).unwrap()
    };
    assert_eq!(by_changes(Operation::Continuous).applies, Applies::Unless(RoomFact::Operation));
    assert_eq!(by_changes(Operation::Intermittent).applies, Applies::Instead);
    let open_plan = RoomUse { enclosed: Some(false), ..continuous };
    assert_eq!(governing(&book, &open_plan), None);

    // Washington Tables M1505.4.4.1 and .3: 160 electric, 250 combustion, 300 other.
    let washington = load("us-wa-2021").unwrap();
    let hood = |cooker| RoomUse { cooker: Some(cooker), ..with(KitchenExhaust::Hood) };
    assert_cfm(governing(&washington, &hood(Cooker::Electric)), 160.0, "electric");
    assert_cfm(governing(&washington, &hood(Cooker::Combustion)), 250.0, "combustion");
    assert_cfm(governing(&washington, &with(KitchenExhaust::Other)), 300.0, "other");

    // Poland: 70 m3/h with gas, 50 m3/h electric, whatever the operation.
    let poland = load("pl").unwrap();
    let cooks = |cooker| RoomUse { cooker: Some(cooker), ..RoomUse::new(RoomKind::Kitchen) };
    let m3_h = |room| governing(&poland, &room).unwrap().m3_h();
    assert!((m3_h(cooks(Cooker::Combustion)) - 70.0).abs() < 1e-9);
    assert!((m3_h(cooks(Cooker::Electric)) - 50.0).abs() < 1e-9);
    assert_eq!(governing(&poland, &RoomUse::new(RoomKind::Kitchen)), None);
}

#[test]
fn other_countries_keep_their_own_rates_and_units() {
    use Operation::{Continuous, Intermittent};
    use RoomKind::{Bathroom, Kitchen, Laundry, ToiletRoom};
    // Approved Document F 2021 Tables 1.1 and 1.2; NCC 2022 10.8.2; BR18; Dutch decree; NBC 9.32.3.7 and
    // G4/AS1 from memory. L/s.
    let table = [
        ("gb-eng-adf-2021", Bathroom, Intermittent, 15.0),
        ("gb-eng-adf-2021", ToiletRoom, Intermittent, 6.0),
        ("gb-eng-adf-2021", Laundry, Intermittent, 30.0),
        ("gb-eng-adf-2021", Bathroom, Continuous, 8.0),
        ("gb-eng-adf-2021", ToiletRoom, Continuous, 6.0),
        ("gb-eng-adf-2021", Kitchen, Continuous, 13.0),
        ("gb-eng-adf-2021", Laundry, Continuous, 8.0),
        ("au-ncc-2022", Bathroom, Intermittent, 25.0),
        ("au-ncc-2022", ToiletRoom, Continuous, 25.0),
        ("au-ncc-2022", Kitchen, Intermittent, 40.0),
        ("au-ncc-2022", Laundry, Intermittent, 40.0),
        ("dk-br18", Bathroom, Continuous, 15.0),
        ("dk-br18", ToiletRoom, Continuous, 10.0),
        ("dk-br18", Kitchen, Continuous, 20.0),
        ("dk-br18", Laundry, Continuous, 10.0),
        ("nl", Bathroom, Continuous, 14.0),
        ("nl", ToiletRoom, Continuous, 7.0),
        ("nl", Kitchen, Continuous, 21.0),
        ("ca-nbc", Bathroom, Intermittent, 25.0),
        ("ca-nbc", ToiletRoom, Intermittent, 25.0),
        ("ca-nbc", Kitchen, Intermittent, 50.0),
        ("nz-g4", Bathroom, Intermittent, 25.0),
        // DIN 18017-3: 60 and 40 m3/h, half in a toilet room.
        ("de-din-18017-3", Bathroom, Intermittent, 60.0 / 3.6),
        ("de-din-18017-3", Bathroom, Continuous, 40.0 / 3.6),
        ("de-din-18017-3", ToiletRoom, Intermittent, 30.0 / 3.6),
        ("de-din-18017-3", ToiletRoom, Continuous, 20.0 / 3.6),
        ("pl", Bathroom, Intermittent, 50.0 / 3.6),
        ("pl", ToiletRoom, Intermittent, 30.0 / 3.6),
    ];
    for (id, kind, operation, l_s) in table {
        let book = load(id).unwrap();
        assert_l_s(governing(&book, &room(kind, operation)), l_s, &format!("{id} {kind:?}"));
    }
    // A hood over the range in England extracts 30 L/s, anything else 60 L/s.
    let england = load("gb-eng-adf-2021").unwrap();
    for (exhaust, l_s) in [(KitchenExhaust::Hood, 30.0), (KitchenExhaust::Other, 60.0)] {
        let kitchen = RoomUse { kitchen_exhaust: Some(exhaust), ..room(Kitchen, Intermittent) };
        assert_l_s(governing(&england, &kitchen), l_s, "kitchen");
    }
}

#[test]
fn unit_checks_of_published_pairs() {
    // 1 cfm = 0.4719 L/s = 1.699 m3/h; 15 L/s = 31.8 cfm; 60 m3/h = 35.3 cfm (derived, SI Brochure).
    let england = load("gb-eng-adf-2021").unwrap();
    let bath = governing(&england, &room(RoomKind::Bathroom, Operation::Intermittent)).unwrap();
    assert!((bath.cfm() - 31.8).abs() < 0.05);
    let germany = load("de-din-18017-3").unwrap();
    let bath = governing(&germany, &room(RoomKind::Bathroom, Operation::Intermittent)).unwrap();
    assert!((bath.cfm() - 35.3).abs() < 0.05);
    let model = load("us-irc-2021").unwrap();
    let bath = governing(&model, &room(RoomKind::Bathroom, Operation::Intermittent)).unwrap();
    assert!((bath.l_s() - 23.6).abs() < 0.05 && (bath.m3_h() - 85.0).abs() < 0.1);
}

#[test]
fn an_unknown_operation_lists_both_rates_and_governs_none() {
    let book = load("us-irc-2021").unwrap();
    let rates = book.required_airflow(&RoomUse::new(RoomKind::Bathroom));
    assert_eq!(rates.len(), 2);
    for rate in &rates {
        assert_eq!(rate.applies, Applies::Unless(RoomFact::Operation));
        assert!(!rate.governs && rate.airflow.is_some());
    }
    let question = "airflow.bathroom".to_owned();
    assert_eq!(
        book.governing_airflow(&RoomUse::new(RoomKind::Bathroom)),
        Answer::NotInBook { question }
    );
}

#[test]
fn rooms_without_a_rate_stay_without() {
    // Neither the IRC nor 62.2 gives a laundry a bath-like rate.
    for id in ["us-irc-2021", "us-ashrae-62.2"] {
        let book = load(id).unwrap();
        for kind in [RoomKind::Laundry, RoomKind::SteamShower, RoomKind::Other] {
            assert!(book.required_airflow(&room(kind, Operation::Intermittent)).is_empty());
        }
    }
    let zealand = load("nz-g4").unwrap();
    assert!(
        zealand.required_airflow(&room(RoomKind::ToiletRoom, Operation::Intermittent)).is_empty()
    );
    assert!(zealand.required_airflow(&room(RoomKind::Bathroom, Operation::Continuous)).is_empty());
}

fn bath(area_ft2: f64, fixtures: [Option<u32>; 4]) -> RoomUse {
    let [toilets, showers, tubs, jetted_tubs] = fixtures;
    RoomUse {
        floor_area: Some(Area::from_ft2(area_ft2)),
        volume: Some(Area::from_ft2(area_ft2) * Length::from_feet(8.0)),
        fixtures: Fixtures { toilets, showers, tubs, jetted_tubs },
        ..room(RoomKind::Bathroom, Operation::Intermittent)
    }
}

#[test]
fn trade_guideline_by_area_and_by_fixture() {
    // HVI guideline: 1 cfm per ft2 up to 100 ft2, at least 50 cfm; above, 50 cfm for each toilet,
    // shower and tub, 100 cfm for a jetted tub.
    let book = load("trade-guideline").unwrap();
    let none = [None; 4];
    assert_cfm(governing(&book, &bath(80.0, none)), 80.0, "80 ft2");
    assert_cfm(governing(&book, &bath(35.0, none)), 50.0, "35 ft2");
    assert_cfm(governing(&book, &bath(100.0, none)), 100.0, "100 ft2");
    let full = [Some(1), Some(1), Some(0), Some(1)];
    assert_cfm(governing(&book, &bath(130.0, full)), 200.0, "130 ft2");
    // A count that is not known is not taken for zero.
    let rates = book.required_airflow(&bath(130.0, [Some(1), None, Some(0), Some(1)]));
    assert_eq!(rates[0].method, AirflowMethod::PerFixture);
    assert_eq!(rates[0].applies, Applies::Unless(RoomFact::Fixtures));
    assert_eq!(rates[0].airflow, None);
    // Nor are no fixtures at all taken for no air.
    assert_eq!(governing(&book, &bath(130.0, [Some(0); 4])), None);
    // Without the area nobody knows which of the two it is.
    let unknown = RoomUse { floor_area: None, ..bath(80.0, full) };
    assert_eq!(governing(&book, &unknown), None);
}

/// The limit of the area is kept but for a rounding; just above it fixtures count.
#[test]
fn the_area_limit_is_the_last_that_goes_by_area() {
    let book = load("trade-guideline").unwrap();
    let limit = Area::from_ft2(100.0);
    let method = |area: Area| {
        let room = RoomUse { floor_area: Some(area), ..bath(100.0, [Some(1); 4]) };
        book.required_airflow(&room)[0].method
    };
    for area in [limit, Area::from_m2(limit.m2() * (1.0 + 1e-9))] {
        assert_eq!(method(area), AirflowMethod::PerArea);
    }
    assert_eq!(method(Area::from_ft2(100.1)), AirflowMethod::PerFixture);
}

/// A sum rests on the weakest of its rates; of two rates that are the same the one by area is cited.
#[test]
fn what_a_rate_of_a_room_rests_on() {
    let local = r#"
format = 1
amends = "trade-guideline"
name = "Harlow Falls ordinance 14"

[airflow.bathroom]
per_area = { value = "5 L/s per m2", section = "14-1", standing = "confirmed" }
least = { value = "20 L/s", section = "14-2", standing = "confirmed" }
per_shower = { value = "25 L/s", section = "14-3", standing = "from memory" }
"#;
    let book = load("trade-guideline").unwrap();
    let local = book.amended_by(&Amendment::parse(local).unwrap()).unwrap();
    let first = |room: &RoomUse| local.required_airflow(room)[0].airflow.clone().unwrap();
    assert_eq!(
        first(&bath(130.0, [Some(1), Some(1), Some(0), Some(0)])).standing,
        Standing::FromMemory
    );
    let by_area =
        |m2| first(&RoomUse { floor_area: Some(Area::from_m2(m2)), ..bath(50.0, [None; 4]) });
    assert_eq!(by_area(3.9).section, "14-2");
    assert_eq!(by_area(4.0).section, "14-1");
}

#[test]
fn air_changes_stand_beside_the_rate_by_area() {
    // 8 air changes an hour of 8 ft height: 8 / 60 x 8 = 1.0667 cfm per ft2; 80 ft2: 85.33 cfm.
    let book = load("trade-guideline").unwrap();
    let rates = book.required_airflow(&bath(80.0, [None; 4]));
    let changes = rates.iter().find(|rate| rate.method == AirflowMethod::AirChanges).unwrap();
    assert_eq!(changes.applies, Applies::Instead);
    assert!(!changes.governs);
    assert_cfm(changes.airflow.as_ref().map(|ruled| ruled.value), 8.0 / 60.0 * 640.0, "8 ACH");
}

#[test]
fn own_points_and_margins_of_the_trade() {
    let book = load("trade-guideline").unwrap();
    assert_eq!(book.own_exhaust_point(RoomKind::ToiletRoom).value(), Some(&true));
    assert_eq!(book.own_exhaust_point(RoomKind::Kitchen).value(), None);
    let steam = book.governing_airflow(&RoomUse::new(RoomKind::SteamShower));
    assert_cfm(steam.value().copied(), 50.0, "steam");
    assert!(!steam.known().unwrap().is_confirmed());
    // BASC retrofit checklist: 70 cfm rated for 50, 50 cfm rated for 20.
    assert_cfm(book.rated_airflow_to_buy(Operation::Intermittent).value().copied(), 70.0, "buy");
    assert_cfm(book.rated_airflow_to_buy(Operation::Continuous).value().copied(), 50.0, "buy");
}

#[test]
fn a_window_may_stand_in() {
    // IRC R303.3 (2018, 2021), R325.2 (2024): 3 ft2 glazed, half of it openable.
    for (id, section) in
        [("us-irc-2018", "R303.3"), ("us-irc-2021", "R303.3"), ("us-irc-2024", "R325.2")]
    {
        let answer = load(id).unwrap().window_alternative(RoomKind::Bathroom);
        let ruled = answer.known().unwrap();
        assert_eq!(ruled.section, section);
        assert!((ruled.value.glazed.ft2() - 3.0).abs() < 1e-9);
        assert!((ruled.value.openable.ft2() - 1.5).abs() < 1e-9);
    }
    assert_eq!(load("us-irc-2021").unwrap().window_alternative(RoomKind::Kitchen).value(), None);
    assert_eq!(load("nz-g4").unwrap().window_alternative(RoomKind::Bathroom).value(), None);
    // Approved Document F: a toilet room may be aired by a window instead, a bathroom not.
    let england = load("gb-eng-adf-2021").unwrap();
    assert_eq!(england.window_airing_accepted(RoomKind::ToiletRoom).value(), Some(&true));
    assert_eq!(england.window_airing_accepted(RoomKind::Bathroom).value(), Some(&false));
}

#[test]
fn rating_pressure_by_edition() {
    // IRC 2021 Table M1505.4.4 footnote a, 2024 M1505.5: 0.25 in. w.c.; 2018 has none.
    assert_eq!(load("us-irc-2018").unwrap().rating_pressure().value(), None);
    for id in ["us-irc-2021", "us-irc-2024"] {
        let answer = load(id).unwrap().rating_pressure();
        assert!((answer.value().unwrap().in_wc() - 0.25).abs() < 1e-12);
    }
    assert_eq!(load("us-irc-2018").unwrap().listing_required().value(), Some(&true));
}

fn dwelling(ft2: f64, bedrooms: u32) -> DwellingUse {
    DwellingUse {
        floor_area: Some(Area::from_ft2(ft2)),
        bedrooms: Some(bedrooms),
        ..DwellingUse::default()
    }
}

fn by_method(book: &Book, dwelling: &DwellingUse, method: DwellingMethod) -> Option<Airflow> {
    let rates = book.dwelling_airflow(dwelling);
    rates.iter().find(|rate| rate.method == method).map(|rate| rate.least.value)
}

#[test]
fn whole_house_table_cell_by_cell() {
    // IRC Table M1505.4.3(1).
    let rows = [
        (1400.0, [30.0, 45.0, 60.0, 75.0, 90.0]),
        (2000.0, [45.0, 60.0, 75.0, 90.0, 105.0]),
        (3500.0, [60.0, 75.0, 90.0, 105.0, 120.0]),
        (5000.0, [75.0, 90.0, 105.0, 120.0, 135.0]),
        (7000.0, [90.0, 105.0, 120.0, 135.0, 150.0]),
        (9000.0, [105.0, 120.0, 135.0, 150.0, 165.0]),
    ];
    for id in ["us-irc-2018", "us-irc-2021", "us-irc-2024"] {
        let book = load(id).unwrap();
        for (ft2, cells) in rows {
            for (column, cfm) in cells.iter().enumerate() {
                for bedrooms in [2 * column as u32, 2 * column as u32 + 1] {
                    let found = by_method(&book, &dwelling(ft2, bedrooms), DwellingMethod::Table);
                    assert_cfm(found, *cfm, &format!("{id} {ft2} ft2 {bedrooms} bedrooms"));
                }
            }
        }
    }
}

#[test]
fn whole_house_table_is_the_formula_at_the_top_of_each_band() {
    // IRC Equation 15-1: 0.01 A + 7.5 (Nbr + 1). The open bands end at 9000 ft2 and 9 bedrooms (derived).
    let book = load("us-irc-2024").unwrap();
    for ft2 in [1500.0, 3000.0, 4500.0, 6000.0, 7500.0, 9000.0] {
        for bedrooms in [1, 3, 5, 7, 9] {
            let house = dwelling(ft2, bedrooms);
            let cfm = 0.01 * ft2 + 7.5 * (f64::from(bedrooms) + 1.0);
            assert_cfm(by_method(&book, &house, DwellingMethod::Formula), cfm, "formula");
            assert_cfm(by_method(&book, &house, DwellingMethod::Table), cfm, "table");
        }
    }
    // Inside a band the table is the stricter one and governs.
    let rates = book.dwelling_airflow(&dwelling(1600.0, 2));
    let governing = rates.iter().find(|rate| rate.governs).unwrap();
    assert_eq!(governing.method, DwellingMethod::Table);
    assert_cfm(Some(governing.least.value), 60.0, "1600 ft2, 2 bedrooms");
}

#[test]
fn the_standard_asks_102_cfm_of_2400_ft2_and_three_bedrooms() {
    // ASHRAE 62.2: 0.03 x 2400 + 7.5 x 4 = 102 cfm (worked on a page that quotes the standard).
    let book = load("us-ashrae-62.2").unwrap();
    assert_cfm(by_method(&book, &dwelling(2400.0, 3), DwellingMethod::Formula), 102.0, "62.2");
    // The metric form, 0.15 x 223 + 3.5 x 4 = 47.4 L/s, agrees within its rounding (1.6 %).
    let metric = 0.15 * Area::from_ft2(2400.0).m2() + 3.5 * 4.0;
    let found = by_method(&book, &dwelling(2400.0, 3), DwellingMethod::Formula).unwrap();
    assert!((found.l_s() / metric - 1.0).abs() < 0.017);
}

#[test]
fn missing_facts_of_a_dwelling_find_no_rate() {
    let book = load("us-irc-2021").unwrap();
    let half = DwellingUse { bedrooms: None, ..dwelling(1600.0, 2) };
    assert!(book.dwelling_airflow(&half).is_empty());
    assert!(load("nz-g4").unwrap().dwelling_airflow(&dwelling(1600.0, 2)).is_empty());
}

#[test]
fn england_takes_the_larger_of_area_and_bedrooms() {
    // Approved Document F Table 1.3: 0.3 L/s per m2; 19, 25, 31, 37, 43 L/s and 6 more each (memory).
    let book = load("gb-eng-adf-2021").unwrap();
    let flat = |m2: f64, bedrooms| DwellingUse {
        floor_area: Some(Area::from_m2(m2)),
        bedrooms: Some(bedrooms),
        ..DwellingUse::default()
    };
    for (bedrooms, l_s) in
        [(1, 19.0), (2, 25.0), (3, 31.0), (4, 37.0), (5, 43.0), (6, 49.0), (7, 55.0)]
    {
        let found = by_method(&book, &flat(50.0, bedrooms), DwellingMethod::ByBedrooms);
        assert_l_s(found, l_s, &format!("{bedrooms} bedrooms"));
    }
    let governing = |house| {
        let rates = book.dwelling_airflow(&house);
        let found = rates.iter().find(|rate| rate.governs).unwrap();
        (found.method, found.least.value)
    };
    let (method, rate) = governing(flat(120.0, 2));
    assert_eq!(method, DwellingMethod::PerArea);
    assert_l_s(Some(rate), 36.0, "120 m2");
    assert_eq!(governing(flat(60.0, 2)).0, DwellingMethod::ByBedrooms);
    // No row is printed for a dwelling without bedrooms.
    assert_eq!(by_method(&book, &flat(30.0, 0), DwellingMethod::ByBedrooms), None);
}

#[test]
fn canada_gives_the_principal_fan_a_band() {
    // NBC 9.32.3.3, from memory: L/s.
    let book = load("ca-nbc").unwrap();
    let rows =
        [(1, 16.0, 24.0), (2, 18.0, 28.0), (3, 22.0, 32.0), (4, 26.0, 38.0), (5, 30.0, 45.0)];
    for (bedrooms, least, most) in rows {
        let house = DwellingUse { bedrooms: Some(bedrooms), ..DwellingUse::default() };
        let rates = book.dwelling_airflow(&house);
        assert_eq!(rates.len(), 1);
        assert_l_s(Some(rates[0].least.value), least, "least");
        assert_l_s(rates[0].most.as_ref().map(|most| most.value), most, "most");
        assert_eq!(rates[0].least.standing, Standing::FromMemory);
    }
    // Above five bedrooms another standard governs.
    let large = DwellingUse { bedrooms: Some(6), ..DwellingUse::default() };
    assert!(book.dwelling_airflow(&large).is_empty());
    // Ontario: 5 L/s a room, 10 L/s for the principal bedroom and a large basement.
    let ontario = load("ca-on").unwrap();
    let house = DwellingUse { rooms: Some(6), principal_rooms: Some(2), ..DwellingUse::default() };
    assert_l_s(by_method(&ontario, &house, DwellingMethod::PerRoom), 50.0, "Ontario");
    assert_eq!(ontario.dwelling_rate_above_least().value(), Some(&0.5));
}

#[test]
fn run_time_factors_are_interpolated_and_never_extrapolated() {
    // IRC Table M1505.4.3(2): shares of each 4 h.
    let book = load("us-irc-2021").unwrap();
    let factor = |share: f64| *book.run_time_factor(share).value().unwrap();
    for (share, printed) in
        [(0.25, 4.0), (0.33, 3.0), (0.5, 2.0), (0.66, 1.5), (0.75, 1.3), (1.0, 1.0)]
    {
        assert!((factor(share).unwrap() - printed).abs() < 1e-12, "{share}");
    }
    // Half way between 25 % and 33 %: 3.5; between 75 % and 100 %: 1.15.
    assert!((factor(0.29).unwrap() - 3.5).abs() < 1e-12);
    assert!((factor(0.875).unwrap() - 1.15).abs() < 1e-12);
    for outside in [0.0, 0.24, 1.01, f64::NAN] {
        assert_eq!(factor(outside), None, "{outside}");
    }
    assert!((book.run_time_period().value().unwrap().h() - 4.0).abs() < 1e-12);
    assert_eq!(load("nz-g4").unwrap().run_time_factor(0.5).value(), None);
}

#[test]
fn credits_and_the_path_for_existing_dwellings() {
    // IRC M1505.4.3 exception 1: 30 %; 62.2: 2/3 of the total in new work (memory).
    assert!((load("us-irc-2021").unwrap().balanced_credit().value().unwrap() - 0.3).abs() < 1e-12);
    let book = load("us-ashrae-62.2").unwrap();
    let credit = book.infiltration_credit_most();
    assert!((credit.value().unwrap() - 2.0 / 3.0).abs() < 1e-12);
    assert!(!credit.known().unwrap().is_confirmed());
    // 62.2 Normative Appendix A: a quarter of the deficits. A bath without a fan (50) and a kitchen
    // hood that moves 60 of 100: 0.25 x (50 + 40) = 22.5 cfm; a surplus takes nothing off.
    let path = *book.existing_path().value().unwrap();
    let cfm = Airflow::from_cfm;
    let rooms = [(cfm(50.0), cfm(0.0)), (cfm(100.0), cfm(60.0)), (cfm(50.0), cfm(80.0))];
    assert_cfm(Some(path.addition(&rooms)), 22.5, "addition");
    assert_cfm(book.existing_window_credit().value().copied(), 20.0, "window");
}

#[test]
fn when_a_dwelling_needs_its_own_ventilation() {
    // IRC R303.4 (2018: tested at no more than 5 ACH50; 2021: any), R325.3 (2024).
    let trigger = |id| load(id).unwrap().dwelling_trigger().value().copied();
    match trigger("us-irc-2018") {
        Some(DwellingTrigger::TestedUpTo(most)) => assert!((most.per_h() - 5.0).abs() < 1e-12),
        other => panic!("{other:?}"),
    }
    assert_eq!(trigger("us-irc-2021"), Some(DwellingTrigger::Always));
    assert_eq!(trigger("us-irc-2024"), Some(DwellingTrigger::Always));
    assert_eq!(trigger("nl"), None);
}
