//! Holes and notches by member and edition, plates, shields, fire separations.
//!
//! Sources stand beside the checks.

use dewpath_rulebook::{Answer, Book, ChartMember, FireBlock, StudKind, builtin_ids, load};
use dewpath_units::Length;

const MODEL_CODES: [&str; 3] = ["us-irc-2018", "us-irc-2021", "us-irc-2024"];

fn book(id: &str) -> Book {
    load(id).unwrap()
}

fn inches(length: Option<Length>) -> Option<f64> {
    length.map(Length::inches)
}

fn near(found: Option<f64>, expected: f64, within: f64, what: &str) {
    let found = found.unwrap_or_else(|| panic!("{what}: not in the book"));
    assert!((found - expected).abs() <= within, "{what}: {found}, not {expected}");
}

type Joist = (&'static str, f64, Option<f64>, f64, f64, Option<f64>);

/// Actual depths by PS 20, and what the tables made from IRC R502.8.1 and NBC 9.23.5 print beside them:
/// largest hole, notch, end notch (IRC, in.); largest hole (NBC, mm). Two decimals.
const JOISTS: [Joist; 5] = [
    ("2x4", 3.5, None, 0.58, 0.87, None),
    ("2x6", 5.5, Some(1.5), 0.92, 1.37, Some(35.0)),
    ("2x8", 7.25, Some(2.42), 1.21, 1.81, Some(46.0)),
    ("2x10", 9.25, Some(3.08), 1.54, 2.31, Some(59.0)),
    ("2x12", 11.25, Some(3.75), 1.87, 2.81, Some(71.0)),
];

#[test]
fn joists_by_edition() {
    for id in MODEL_CODES {
        let hole = book(id).joist_hole().into_known().unwrap();
        assert_eq!(hole.section, "R502.8.1", "{id}");
        assert!(hole.is_confirmed());
        near(inches(hole.value.to_edge), 2.0, 1e-9, id);
        near(inches(hole.value.to_next), 2.0, 1e-9, id);
        let notch = *book(id).joist_notch().value().unwrap();
        assert_eq!(notch.in_middle_third, Some(false));
        near(notch.length_share, 1.0 / 3.0, 1e-12, id);
        for (size, depth, largest, cut, end, _) in JOISTS {
            let depth = Length::from_inches(depth);
            let found = inches(hole.value.largest(depth));
            match largest {
                None => assert_eq!(found, None, "{id} {size}"),
                Some(largest) => near(found, largest, 0.01, &format!("{id} {size}")),
            }
            near(Some(notch.depth_share * depth.inches()), cut, 0.01, size);
            near(notch.end_depth_share.map(|share| share * depth.inches()), end, 0.01, size);
        }
    }
}

#[test]
fn joists_in_canada() {
    // NBC 9.23.5 as given in the CMHC framing guide: a quarter of the depth, 50 mm from the edges; the
    // metric depths of the same sizes are 89, 140, 184, 235 and 286 mm.
    let code = book("ca-nbc");
    let hole = *code.joist_hole().value().unwrap();
    for ((size, .., largest), depth) in JOISTS.into_iter().zip([89.0, 140.0, 184.0, 235.0, 286.0]) {
        let found = hole.largest(Length::from_mm(depth)).map(Length::mm);
        match largest {
            None => assert_eq!(found, None, "{size}"),
            Some(largest) => near(found, largest, 0.6, size),
        }
    }
    let notch = *code.joist_notch().value().unwrap();
    assert_eq!(notch.top_only, Some(true));
    near(Some(notch.depth_share), 1.0 / 3.0, 1e-12, "notch");
    near(notch.from_bearing_share, 0.5, 1e-12, "from the bearing");
}

#[test]
fn no_sawn_joist_takes_a_four_inch_duct() {
    // What follows from both tables: a 4 in. duct (hole of 4-1/8 in.) fits no joist up to 2x12; a 3 in.
    // duct (hole of 3-1/8 in.) fits a 2x12 under the IRC and none under the NBC.
    let fits = |id: &str, hole: f64| -> Vec<&str> {
        let rule = *book(id).joist_hole().value().unwrap();
        let takes = |depth: f64| {
            inches(rule.largest(Length::from_inches(depth))).is_some_and(|most| most >= hole)
        };
        JOISTS.iter().filter(|(_, depth, ..)| takes(*depth)).map(|(size, ..)| *size).collect()
    };
    for id in MODEL_CODES {
        assert!(fits(id, 4.125).is_empty(), "{id}");
        assert_eq!(fits(id, 3.125), ["2x12"], "{id}");
    }
    assert!(fits("ca-nbc", 3.125).is_empty());
}

#[test]
fn studs_by_kind() {
    // IRC R602.6; a county handout prints for 2x4: notch 7/8 and 1.40, bore 1.40 and 2.10 in.; for 2x6:
    // notch 1-3/8 and 2.20, bore 2.20 and 3.30 in.
    for id in MODEL_CODES {
        let bearing = *book(id).stud_cut(StudKind::Bearing).value().unwrap();
        let other = *book(id).stud_cut(StudKind::NonBearing).value().unwrap();
        for (depth, notches, bores) in
            [(3.5, [0.875, 1.4], [1.4, 2.1]), (5.5, [1.375, 2.2], [2.2, 3.3])]
        {
            let stud = Length::from_inches(depth);
            near(bearing.notch_share.map(|share| share * depth), notches[0], 1e-9, id);
            near(other.notch_share.map(|share| share * depth), notches[1], 1e-9, id);
            near(inches(bearing.largest_hole(stud, false)), bores[0], 1e-9, id);
            near(inches(other.largest_hole(stud, false)), bores[1], 1e-9, id);
            near(inches(bearing.largest_hole(stud, true)), 0.6 * depth, 1e-9, id);
        }
        near(inches(bearing.to_edge), 0.625, 1e-9, id);
        assert_eq!(bearing.doubled_in_succession, Some(2));
        assert_eq!((bearing.hole_at_notch, other.hole_share_doubled), (Some(false), None));
        // A stud of 1-1/4 in. depth has no wood left beside two edges of 5/8 in.
        assert_eq!(other.largest_hole(Length::from_inches(1.25), false), None);
    }
    // NBC 9.23.5 (CMHC guide): two thirds of a bearing stud's depth stay, 40 mm of any other; reinforced
    // with a 38 mm member 600 mm past the cut.
    let code = book("ca-nbc");
    let bearing = code.stud_cut(StudKind::Bearing).into_known().unwrap();
    near(
        bearing.value.largest_hole(Length::from_mm(89.0), false).map(Length::mm),
        89.0 / 3.0,
        1e-9,
        "bearing",
    );
    let other = *code.stud_cut(StudKind::NonBearing).value().unwrap();
    near(other.largest_hole(Length::from_mm(89.0), false).map(Length::mm), 49.0, 1e-9, "other");
    assert_eq!(other.largest_hole(Length::from_mm(38.0), false), None);
    let (past, by) = *code.stud_reinforcement().value().unwrap();
    assert_eq!((past, by), (Length::from_mm(600.0), Length::from_mm(38.0)));
    assert!(book("us-irc-2021").stud_reinforcement().value().is_none());
}

#[test]
fn plates() {
    // IRC R602.6.1: a cut of more than half (2x4: 1.75 in., 2x6: 2.75 in.) asks for a tie of 0.054 in.
    // (16 gauge) by 1-1/2 in., 6 in. past the opening, 8 nails of 0.148 by 1-1/2 in. on each side.
    for id in MODEL_CODES {
        let rule = book(id).plate_rule().into_known().unwrap();
        assert_eq!(rule.section, "R602.6.1");
        let rule = rule.value;
        for (width, widest) in [(3.5, 1.75), (5.5, 2.75), (7.25, 3.625)] {
            let found = inches(rule.widest_without_tie(Length::from_inches(width)));
            near(found, widest, 1e-9, id);
            assert!(
                widest < 4.0,
                "a 4 in. riser through a plate up to 2x8 always asks for the tie"
            );
        }
        near(inches(rule.tie_thickness), 0.054, 1e-9, id);
        near(inches(rule.tie_width), 1.5, 1e-9, id);
        near(inches(rule.tie_past), 6.0, 1e-9, id);
        near(inches(rule.nail_diameter), 0.148, 1e-9, id);
        near(inches(rule.nail_length), 1.5, 1e-9, id);
        assert_eq!((rule.tie_gauge, rule.nails_each_side), (Some(16), Some(8)));
        assert_eq!(rule.waived_by_panel, Some(true));
    }
    // NBC 9.23.5 (CMHC guide): 50 mm stay.
    let rule = *book("ca-nbc").plate_rule().value().unwrap();
    near(rule.widest_without_tie(Length::from_mm(89.0)).map(Length::mm), 39.0, 1e-9, "plate");
    assert_eq!(rule.widest_without_tie(Length::from_mm(45.0)), None);
}

#[test]
fn what_only_a_chart_allows() {
    // IRC R502.8.2, R802.7.2, R802.10.4; NBC: trusses never.
    for id in MODEL_CODES {
        for member in [ChartMember::Truss, ChartMember::IJoist, ChartMember::Engineered] {
            assert_eq!(book(id).only_by_chart(member).value(), Some(&true), "{id} {member:?}");
        }
        // IRC R502.10 and R502.7.
        near(book(id).single_header_most().value().copied().map(Length::feet), 4.0, 1e-9, id);
        assert_eq!(book(id).end_restraint_restored().value(), Some(&true));
    }
    assert_eq!(book("ca-nbc").only_by_chart(ChartMember::Truss).value(), Some(&true));
    assert_eq!(book("ca-nbc").only_by_chart(ChartMember::IJoist).value(), None);
}

#[test]
fn shields() {
    // IRC M1308.2 for pipes; M1502 for dryer ducts: 0.062 in. steel, 2 in. past.
    for id in MODEL_CODES {
        near(book(id).shield().value().map(|shield| shield.within.inches()), 1.25, 1e-9, id);
        let dryer = *book(id).dryer_shield().value().unwrap();
        near(Some(dryer.within.inches()), 1.25, 1e-9, id);
        near(inches(dryer.thickness), 0.062, 1e-9, id);
        near(inches(dryer.past), 2.0, 1e-9, id);
    }
}

#[test]
fn fire() {
    for id in MODEL_CODES {
        let code = book(id);
        // IRC R302.11: gaps round ducts closed; every 10 ft; loose fill is none of the materials.
        assert_eq!(code.annular_gap_blocked().value(), Some(&true));
        assert_eq!(code.fire_blocking().value().unwrap().as_slice(), FireBlock::ALL);
        near(code.fire_blocking_every().value().copied().map(Length::feet), 10.0, 1e-9, id);
        near(
            code.draft_stop_above().value().copied().map(dewpath_units::Area::ft2),
            1000.0,
            1e-9,
            id,
        );
        // IRC R302.3 and R302.4: 1 h, half of it with sprinklers; ASTM E814 at 3 Pa.
        let separation = *code.dwelling_separation().value().unwrap();
        near(Some(separation.rating.h()), 1.0, 1e-12, id);
        near(separation.rating_sprinklered.map(dewpath_units::Duration::min), 30.0, 1e-9, id);
        assert_eq!(separation.tested_penetration, Some(true));
        near(separation.test_pressure.map(dewpath_units::Pressure::pa), 3.0, 1e-12, id);
    }
}

#[test]
fn a_book_without_rules_for_members_does_not_borrow_them() {
    for id in builtin_ids().iter().filter(|id| !id.starts_with("us-") && **id != "ca-nbc") {
        let code = book(id);
        assert!(matches!(code.joist_hole(), Answer::NotInBook { .. }), "{id}");
        assert!(matches!(code.joist_notch(), Answer::NotInBook { .. }), "{id}");
        assert!(matches!(code.stud_cut(StudKind::Bearing), Answer::NotInBook { .. }), "{id}");
        assert!(matches!(code.plate_rule(), Answer::NotInBook { .. }), "{id}");
        assert!(matches!(code.dwelling_separation(), Answer::NotInBook { .. }), "{id}");
    }
    let Answer::NotInBook { question } = book("nl").stud_cut(StudKind::NonBearing) else {
        panic!("a book without it answered");
    };
    assert_eq!(question, "stud.hole_share_other");
    // States take the rules over, but nobody read them there.
    assert!(!book("us-or-2021").joist_hole().known().unwrap().is_confirmed());
}

#[test]
fn nothing_comes_out_of_no_depth() {
    let hole = *book("us-irc-2024").joist_hole().value().unwrap();
    for depth in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(hole.largest(Length::from_m(depth)), None, "{depth}");
    }
}
