//! Holes and notches against the tables of two building codes.
//!
//! IRC: International Residential Code 2018, 2021, 2024, R502.8.1 (joists; rafters by R802.7.1), R602.6 and R602.6.1 (studs and
//! top plates), R502.8.2, R802.7.2 and R802.10.4 (what is left to the maker or a designer).
//! NBC: National Building Code of Canada 9.23.5, as the wood-frame guide of the Canada Mortgage and Housing Corporation gives it.
//! Actual sizes of lumber: PS 20 American Softwood Lumber Standard; metric 89, 140, 184, 235, 286 mm.

use dewpath_layout::bore::{
    Duty, Fault, Hole, HoleRule, Joist, Missing, Most, Opening, Plate, PlateRule, ROUND_OFF_M,
    Reach, Rectangular, Ruling, Stud, StudRule, Tie, TieNeed, apart_m, cavity_short_m, judge_hole,
    judge_plate, judge_stud, shield_needed,
};
use dewpath_layout::framing::MemberKind;
use dewpath_layout::notch::{
    Along, Cut, Notch, NotchRule, StudNotchRule, judge_notch, judge_stud_notch,
};
use proptest::prelude::*;

const INCH: f64 = 0.0254;
/// Nominal size and actual depth, in: PS 20.
const DRESSED: [(&str, f64); 5] =
    [("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25)];
const METRIC_MM: [f64; 5] = [89.0, 140.0, 184.0, 235.0, 286.0];

/// IRC R502.8.1: a third of the depth, 2 in from top, bottom, other holes and notches.
const IRC: HoleRule = HoleRule {
    share_of_depth: 1.0 / 3.0,
    edge_m: 2.0 * INCH,
    apart_m: Some(2.0 * INCH),
    whole_ends: None,
    whole_middle: None,
    least_depth_m: None,
    rectangular: Rectangular::Diagonal,
};

/// NBC 9.23.5: a quarter of the depth, 50 mm from the edges.
const NBC: HoleRule = HoleRule { share_of_depth: 0.25, edge_m: 0.050, apart_m: None, ..IRC };

/// IRC R502.8.1: a sixth deep, a third of the depth long, not in the middle third; a quarter at the ends; 4 in nominal (3-1/2 in)
/// and thicker only at the ends of the tension side.
const IRC_NOTCH: NotchRule = NotchRule {
    depth_share: 1.0 / 6.0,
    length_share: Some(1.0 / 3.0),
    end_depth_share: Some(0.25),
    whole_middle: Some([1.0 / 3.0, 2.0 / 3.0]),
    near_bearing: None,
    whole_tension_from_m: Some(3.5 * INCH),
    top_only: false,
};

/// NBC 9.23.5: from the top only, within half the depth of the bearing, a third deep.
const NBC_NOTCH: NotchRule = NotchRule {
    depth_share: 1.0 / 3.0,
    length_share: None,
    end_depth_share: None,
    whole_middle: None,
    near_bearing: Some(Reach::Depths(0.5)),
    whole_tension_from_m: None,
    top_only: true,
};

/// IRC R602.6: bearing 40 %, doubled 60 % and two in a row at most, non-bearing 60 %, 5/8 in to the edge, not at a notch.
const IRC_STUD: StudRule = StudRule {
    bearing: Most::Share(0.40),
    doubled: Some(Most::Share(0.60)),
    doubled_in_a_row: Some(2),
    non_bearing: Most::Share(0.60),
    edge_m: Some(0.625 * INCH),
    beside_notch: false,
};

/// IRC R602.6.1: half the width; a tie 0.054 in x 1-1/2 in, 6 in past the opening, eight nails on each side.
const IRC_PLATE: PlateRule = PlateRule {
    free: Most::Share(0.5),
    tie: Some(Tie {
        thickness_m: 0.054 * INCH,
        width_m: 1.5 * INCH,
        past_m: 6.0 * INCH,
        nails_each_side: 8,
    }),
    panel_instead: true,
};

fn joist(depth_in: f64) -> Joist {
    Joist {
        id: "joist".to_owned(),
        kind: MemberKind::Sawn,
        depth_m: Some(depth_in * INCH),
        span_m: Some(12.0 * 12.0 * INCH),
    }
}

fn hole(diameter_in: f64, along_in: f64, up_in: f64) -> Hole {
    Hole {
        id: "duct".to_owned(),
        opening: Opening::Round { diameter_m: diameter_in * INCH },
        along_m: Some(along_in * INCH),
        up_m: Some(up_in * INCH),
    }
}

fn ruling(joist: &Joist, hole: &Hole, rule: &HoleRule) -> Ruling {
    judge_hole(joist, hole, &[], Some(rule)).expect("sound").ruling
}

/// Largest holes, in: for a 2x6 the edges govern (5-1/2 - 4), not d/3 = 1.83.
#[test]
fn largest_holes_of_the_irc() {
    let printed = [0.0, 1.5, 2.42, 3.08, 3.75];
    for ((size, depth), most) in DRESSED.into_iter().zip(printed) {
        let largest = IRC.largest_m(depth * INCH) / INCH;
        assert!((largest - most).abs() < 0.005, "{size}: {largest}");
    }
}

/// d/4, in and mm: 1.37 (35), 1.81 (46), 2.31 (59), 2.81 (71) for 2x6 to 2x12; none in a 2x4.
#[test]
fn largest_holes_of_the_nbc() {
    let printed = [(0.0, 0.0), (1.37, 35.0), (1.81, 46.0), (2.31, 59.0), (2.81, 71.0)];
    for (((size, depth), metric), (inches, mm)) in DRESSED.into_iter().zip(METRIC_MM).zip(printed) {
        let largest = NBC.largest_m(depth * INCH) / INCH;
        assert!((largest - inches).abs() < 0.01, "{size}: {largest}");
        let largest = NBC.largest_m(metric * 1e-3) * 1e3;
        assert!((largest - mm).abs() < 0.6, "{size}: {largest}");
    }
}

/// What follows from both tables: no sawn joist to 2x12 takes a hole for a 4 in duct; one for a 3 in duct (about 3-1/8 in) goes
/// into a 2x12 under the IRC and into none under the NBC; a 2x4 takes none.
#[test]
fn holes_for_ducts() {
    for (size, depth) in DRESSED {
        let middle = 0.5 * depth;
        for rule in [&IRC, &NBC] {
            assert_eq!(ruling(&joist(depth), &hole(4.125, 60.0, middle), rule), Ruling::Forbidden);
        }
        let three = hole(3.125, 60.0, middle);
        let expected = if size == "2x12" { Ruling::Allowed } else { Ruling::Forbidden };
        assert_eq!(ruling(&joist(depth), &three, &IRC), expected, "{size}");
        assert_eq!(ruling(&joist(depth), &three, &NBC), Ruling::Forbidden, "{size}");
    }
    let small = judge_hole(&joist(3.5), &hole(0.5, 60.0, 1.75), &[], Some(&IRC)).unwrap();
    assert!(small.faults.contains(&Fault::Shallow));
    assert_eq!(small.allowed_m, Some(0.0));
}

#[test]
fn edges_and_neighbours() {
    let twelve = joist(11.25);
    // Just on the limit: 3-3/4 in with 2 in above.
    assert_eq!(ruling(&twelve, &hole(3.75, 60.0, 11.25 - 2.0 - 1.875), &IRC), Ruling::Allowed);
    let low = judge_hole(&twelve, &hole(3.0, 60.0, 3.0), &[], Some(&IRC)).unwrap();
    assert_eq!(low.ruling, Ruling::Forbidden);
    assert!((low.edge_m.unwrap() / INCH - 1.5).abs() < 1e-9);
    assert!(
        matches!(low.faults[..], [Fault::NearEdge { by_m }] if (by_m / INCH - 0.5).abs() < 1e-9)
    );
    assert_eq!(IRC.centre_between(9.25 * INCH, 4.0 * INCH), None);
    let [from, to] = IRC.centre_between(11.25 * INCH, 3.0 * INCH).unwrap();
    assert!((from / INCH - 3.5).abs() < 1e-9 && (to / INCH - 7.75).abs() < 1e-9);

    let beside = |along: f64| {
        let other = Hole { id: "pipe".to_owned(), ..hole(2.0, along, 5.0) };
        judge_hole(&twelve, &hole(3.0, 60.0, 5.0), &[other], Some(&IRC)).unwrap()
    };
    // Edge to edge: 4.5 - 1.5 - 1 = 2.
    assert_eq!(beside(64.5).ruling, Ruling::Allowed);
    let near = beside(64.0);
    assert!(matches!(&near.faults[..], [Fault::NearCut { id, by_m }]
        if id == "pipe" && (by_m / INCH - 0.5).abs() < 1e-9));
    // A notch is a rectangle: 1 in deep from the top, its corner 3-4-5 away from the centre of the hole.
    let notch = Hole {
        id: "notch".to_owned(),
        opening: Opening::Rectangle { width_m: 2.0 * INCH, height_m: 1.0 * INCH },
        along_m: Some(65.0 * INCH),
        up_m: Some(8.5 * INCH),
    };
    let apart = apart_m(&hole(3.0, 61.0, 4.0), &notch).unwrap();
    assert!((apart / INCH - (5.0 - 1.5)).abs() < 1e-9, "{apart}");
}

#[test]
fn no_number_but_from_the_maker() {
    let large = hole(4.0, 60.0, 5.0);
    for (kind, expected) in [
        (MemberKind::IJoist, Ruling::MakersChart),
        (MemberKind::Engineered, Ruling::MakersChart),
        (MemberKind::Steel, Ruling::MakersChart),
        (MemberKind::Truss, Ruling::Designer),
    ] {
        let member = Joist { kind, ..joist(11.875) };
        for hole in [&large, &hole(0.25, 60.0, 5.9)] {
            let answer = judge_hole(&member, hole, &[], Some(&IRC)).unwrap();
            assert_eq!(
                (answer.ruling, answer.allowed_m, answer.edge_least_m),
                (expected, None, None)
            );
        }
        let notch = Notch {
            id: "notch".to_owned(),
            depth_m: 0.01,
            length_m: 0.01,
            cut: Some(Cut::Top),
            along: Some(Along::End),
            member_thickness_m: None,
        };
        let answer = judge_notch(&member, &notch, Some(&IRC_NOTCH)).unwrap();
        assert_eq!((answer.ruling, answer.depth_most_m), (expected, None));
    }
    let doubled = Joist { kind: MemberKind::Doubled, ..joist(11.25) };
    assert_eq!(ruling(&doubled, &hole(3.0, 60.0, 5.0), &IRC), Ruling::Allowed);
}

#[test]
fn what_is_not_known_stays_so() {
    let twelve = joist(11.25);
    let mut unplaced = hole(3.0, 60.0, 5.0);
    unplaced.up_m = None;
    let answer = judge_hole(&twelve, &unplaced, &[], Some(&IRC)).unwrap();
    assert_eq!((answer.ruling, &answer.missing[..]), (Ruling::Unknown, &[Missing::Height][..]));
    // Too large is too large wherever it goes.
    let mut large = hole(4.0, 60.0, 5.0);
    large.up_m = None;
    assert_eq!(ruling(&twelve, &large, &IRC), Ruling::Forbidden);
    let unseen = Joist { depth_m: None, ..joist(11.25) };
    assert_eq!(ruling(&unseen, &hole(1.0, 60.0, 5.0), &IRC), Ruling::Unknown);
    let answer = judge_hole(&twelve, &hole(1.0, 60.0, 5.0), &[], None).unwrap();
    assert_eq!(
        (answer.ruling, answer.allowed_m, &answer.missing[..]),
        (Ruling::Unknown, None, &[Missing::Rule][..])
    );
}

/// Limits as a maker's chart may state them, handed in for a member of its own: whole ends and middle, sides of rectangles.
/// Numbers of this test are invented.
#[test]
fn parts_that_stay_whole() {
    let chart = HoleRule {
        share_of_depth: 0.5,
        edge_m: 0.01,
        whole_ends: Some(Reach::Depths(1.0)),
        whole_middle: Some([0.4, 0.6]),
        least_depth_m: Some(9.0 * INCH),
        rectangular: Rectangular::Side { share: 0.75 },
        ..IRC
    };
    let ten = joist(10.0);
    let at = |along: f64| ruling(&ten, &hole(2.0, along, 5.0), &chart);
    assert_eq!(at(10.5), Ruling::Forbidden);
    assert_eq!(at(11.0), Ruling::Allowed);
    assert_eq!(at(133.5), Ruling::Forbidden);
    assert_eq!(at(133.0), Ruling::Allowed);
    // The middle from 57.6 to 86.4.
    assert_eq!(at(57.0), Ruling::Forbidden);
    assert_eq!(at(56.5), Ruling::Allowed);
    assert_eq!(ruling(&joist(8.0), &hole(1.0, 30.0, 4.0), &chart), Ruling::Forbidden);
    let mut adrift = hole(2.0, 30.0, 5.0);
    adrift.along_m = None;
    let answer = judge_hole(&ten, &adrift, &[], Some(&chart)).unwrap();
    assert_eq!(answer.missing, [Missing::Along]);
    // 3-3/4 in of side is three quarters of 5 in.
    let side = |w: f64, h: f64, rule: &HoleRule| {
        let opening = Opening::Rectangle { width_m: w * INCH, height_m: h * INCH };
        judge_hole(&ten, &Hole { opening, ..hole(1.0, 30.0, 5.0) }, &[], Some(rule)).unwrap()
    };
    assert_eq!(side(3.75, 2.0, &chart).ruling, Ruling::Allowed);
    assert_eq!(side(3.8, 2.0, &chart).ruling, Ruling::Forbidden);
    // By the diagonal: 3 x 4 counts as 5.
    let diagonal = side(3.0, 4.0, &HoleRule { rectangular: Rectangular::Diagonal, ..chart });
    assert!((diagonal.counts_as_m.unwrap() / INCH - 5.0).abs() < 1e-9);
    assert_eq!(diagonal.ruling, Ruling::Allowed);
    let untold = side(1.0, 1.0, &HoleRule { rectangular: Rectangular::NotTold, ..chart });
    assert_eq!(
        (untold.ruling, &untold.missing[..]),
        (Ruling::Unknown, &[Missing::Rectangular][..])
    );
}

fn notch(depth_in: f64, length_in: f64, cut: Cut, along: Along) -> Notch {
    Notch {
        id: "notch".to_owned(),
        depth_m: depth_in * INCH,
        length_m: length_in * INCH,
        cut: Some(cut),
        along: Some(along),
        member_thickness_m: Some(1.5 * INCH),
    }
}

/// Notch d/6: 0.58, 0.92, 1.21, 1.54, 1.87; end notch d/4: 0.87, 1.37, 1.81, 2.31, 2.81.
#[test]
fn deepest_notches_of_the_irc() {
    let printed = [(0.58, 0.87), (0.92, 1.37), (1.21, 1.81), (1.54, 2.31), (1.87, 2.81)];
    for ((size, depth), (inner, end)) in DRESSED.into_iter().zip(printed) {
        let deepest = |along| {
            let notch = notch(0.25, 1.0, Cut::Top, along);
            let answer = judge_notch(&joist(depth), &notch, Some(&IRC_NOTCH)).unwrap();
            assert_eq!(answer.ruling, Ruling::Allowed, "{size}");
            answer.depth_most_m.unwrap() / INCH
        };
        assert!((deepest(Along::Span { from_m: 0.3 }) - inner).abs() < 0.01, "{size}");
        assert!((deepest(Along::End) - end).abs() < 0.01, "{size}");
    }
}

#[test]
fn where_a_joist_may_be_notched() {
    let ten = joist(9.25);
    let irc = |n: &Notch| judge_notch(&ten, n, Some(&IRC_NOTCH)).unwrap();
    // The middle third of 144 in runs from 48 to 96.
    let at = |from: f64| notch(1.5, 3.0, Cut::Top, Along::Span { from_m: from * INCH });
    assert_eq!(irc(&at(45.0)).ruling, Ruling::Allowed);
    assert!(matches!(irc(&at(45.5)).faults[..], [Fault::WholePart { .. }]));
    assert_eq!(irc(&at(96.0)).ruling, Ruling::Allowed);
    assert!(matches!(
        irc(&notch(1.6, 3.0, Cut::Top, Along::Span { from_m: 0.3 })).faults[..],
        [Fault::TooDeep { .. }]
    ));
    assert!(matches!(
        irc(&notch(1.5, 3.2, Cut::Top, Along::Span { from_m: 0.3 })).faults[..],
        [Fault::TooLong { .. }]
    ));
    // A beam 4 in nominal thick: not from below but at its ends.
    let mut thick = notch(1.0, 2.0, Cut::Underside, Along::Span { from_m: 0.3 });
    assert_eq!(irc(&thick).ruling, Ruling::Allowed);
    thick.member_thickness_m = Some(3.5 * INCH);
    assert_eq!(irc(&thick).faults, [Fault::WholeFace]);
    thick.member_thickness_m = None;
    assert_eq!(irc(&thick).missing, [Missing::Thickness]);
    thick.along = Some(Along::End);
    assert_eq!(irc(&thick).ruling, Ruling::Allowed);
    // NBC: top only, within 4.625 in of the bearing.
    let nbc = |n: &Notch| judge_notch(&ten, n, Some(&NBC_NOTCH)).unwrap();
    assert_eq!(
        nbc(&notch(3.0, 2.0, Cut::Top, Along::Span { from_m: 2.6 * INCH })).ruling,
        Ruling::Allowed
    );
    assert_eq!(
        nbc(&notch(3.0, 2.0, Cut::Top, Along::Span { from_m: 2.7 * INCH })).ruling,
        Ruling::Forbidden
    );
    assert_eq!(nbc(&notch(3.1, 1.0, Cut::Top, Along::End)).ruling, Ruling::Forbidden);
    assert_eq!(nbc(&notch(1.0, 1.0, Cut::Underside, Along::End)).faults, [Fault::WholeFace]);
    let mut unseen = notch(1.0, 1.0, Cut::Top, Along::End);
    (unseen.cut, unseen.along) = (None, None);
    assert_eq!(nbc(&unseen).missing, [Missing::Face, Missing::Along]);
    assert_eq!(judge_notch(&ten, &at(10.0), None).unwrap().missing, [Missing::Rule]);
}

fn stud(depth_in: f64, duty: Option<Duty>) -> Stud {
    Stud {
        id: "stud".to_owned(),
        depth_m: depth_in * INCH,
        duty,
        doubled: false,
        in_a_row: None,
        notched: Some(false),
    }
}

/// 2x4: bore 1.40 bearing, 2.10 not; notch 7/8 and 1.40. 2x6: bore 2.20 and 3.30; notch 1-3/8 and 2.20.
#[test]
fn studs_of_the_irc() {
    let notches = StudNotchRule { bearing: Most::Share(0.25), non_bearing: Most::Share(0.40) };
    for (depth, duty, bore, deep) in [
        (3.5, Duty::Bearing, 1.40, 0.875),
        (3.5, Duty::NonBearing, 2.10, 1.40),
        (5.5, Duty::Bearing, 2.20, 1.375),
        (5.5, Duty::NonBearing, 3.30, 2.20),
    ] {
        let stud = stud(depth, Some(duty));
        let judge = |d: f64| judge_stud(&stud, d * INCH, Some(0.625 * INCH), &IRC_STUD).unwrap();
        assert!((judge(1.0).allowed_m.unwrap() / INCH - bore).abs() < 1e-9);
        assert_eq!(judge(bore).ruling, Ruling::Allowed);
        assert_eq!(judge(bore + 0.01).ruling, Ruling::Forbidden);
        let notched = |d: f64| {
            judge_stud_notch("stud", depth * INCH, Some(duty), d * INCH, &notches).unwrap()
        };
        assert!((notched(0.5).depth_most_m.unwrap() / INCH - deep).abs() < 1e-9);
        assert_eq!(notched(deep).ruling, Ruling::Allowed);
        assert_eq!(notched(deep + 0.01).ruling, Ruling::Forbidden);
    }
    let near =
        judge_stud(&stud(3.5, Some(Duty::Bearing)), INCH, Some(0.5 * INCH), &IRC_STUD).unwrap();
    assert!(
        matches!(near.faults[..], [Fault::NearEdge { by_m }] if (by_m / INCH - 0.125).abs() < 1e-9)
    );
}

#[test]
fn doubled_and_unknown_studs() {
    let judge = |stud: &Stud, d: f64| judge_stud(stud, d * INCH, Some(INCH), &IRC_STUD).unwrap();
    let mut doubled = Stud { doubled: true, ..stud(5.5, Some(Duty::Bearing)) };
    assert_eq!(judge(&doubled, 2.2).ruling, Ruling::Allowed, "no ease is needed");
    assert_eq!(judge(&doubled, 3.3).missing, [Missing::Row]);
    doubled.in_a_row = Some(2);
    assert_eq!(judge(&doubled, 3.3).ruling, Ruling::Allowed);
    doubled.in_a_row = Some(3);
    assert_eq!(judge(&doubled, 3.3).faults, [Fault::InARow { most: 2 }]);
    let unseen = stud(5.5, None);
    assert_eq!(judge(&unseen, 2.2).ruling, Ruling::Allowed);
    assert_eq!(judge(&unseen, 3.0).missing, [Missing::Duty]);
    assert_eq!(judge(&unseen, 3.4).ruling, Ruling::Forbidden);
    let notched = Stud { notched: Some(true), ..stud(5.5, Some(Duty::Bearing)) };
    assert_eq!(judge(&notched, 1.0).ruling, Ruling::Forbidden);
    let answer = judge_stud(&stud(5.5, Some(Duty::Bearing)), INCH, None, &IRC_STUD).unwrap();
    assert_eq!(answer.missing, [Missing::Height]);
    // NBC: a bearing stud keeps two thirds of its depth, another 40 mm; no row limit.
    let nbc = StudNotchRule { bearing: Most::Share(1.0 / 3.0), non_bearing: Most::Keep(0.040) };
    let deepest = |duty| {
        judge_stud_notch("stud", 0.089, Some(duty), 0.01, &nbc).unwrap().depth_most_m.unwrap()
    };
    assert!((deepest(Duty::Bearing) - 0.089 / 3.0).abs() < 1e-12);
    assert!((deepest(Duty::NonBearing) - 0.049).abs() < 1e-12);
}

/// Top plate cut by more than half: 2x4 above 1.75 in, 2x6 above 2.75 in. A 4 in riser through a 2x4, 2x6 or 2x8 plate always
/// needs the tie.
#[test]
fn plates_of_the_irc() {
    let plate = |width: f64, duty, panel| Plate {
        id: "plate".to_owned(),
        width_m: width * INCH,
        duty,
        panel,
    };
    let need = |width: f64, cut: f64| {
        judge_plate(&plate(width, Some(Duty::Bearing), Some(false)), cut * INCH, &IRC_PLATE)
            .unwrap()
    };
    assert_eq!(need(3.5, 1.75).tie, TieNeed::No);
    assert!(matches!(need(3.5, 1.76).tie, TieNeed::Yes { .. }));
    assert_eq!(need(5.5, 2.75).tie, TieNeed::No);
    assert!(matches!(need(5.5, 2.76).tie, TieNeed::Yes { .. }));
    for width in [3.5, 5.5, 7.25] {
        let answer = need(width, 4.125);
        assert!(
            matches!(answer.tie, TieNeed::Yes { length_m, tie } if (length_m / INCH - 16.125).abs() < 1e-9 && tie.nails_each_side == 8)
        );
        assert!((answer.left_m / INCH - (width - 4.125).max(0.0)).abs() < 1e-9);
    }
    assert!((need(3.5, 4.125).cut_share - 1.0).abs() < 1e-12);
    let of =
        |duty, panel| judge_plate(&plate(5.5, duty, panel), 4.0 * INCH, &IRC_PLATE).unwrap().tie;
    assert_eq!(of(Some(Duty::NonBearing), None), TieNeed::No);
    assert_eq!(of(Some(Duty::Bearing), Some(true)), TieNeed::PanelDoes);
    assert_eq!(of(Some(Duty::Bearing), None), TieNeed::Unknown(Missing::Panel));
    assert_eq!(of(None, Some(false)), TieNeed::Unknown(Missing::Duty));
    // NBC: a top plate keeps 50 mm or is reinforced.
    let nbc = PlateRule { free: Most::Keep(0.050), tie: None, panel_instead: false };
    let of = |cut: f64| judge_plate(&plate(3.5, Some(Duty::Bearing), None), cut, &nbc).unwrap().tie;
    assert_eq!(of(0.0389), TieNeed::No);
    assert_eq!(of(0.040), TieNeed::Reinforce);
}

/// IRC M1308.2: a plate of steel where less than 1-1/4 in is left to the face. A 4 in round is half an inch too thick
/// for a 2x4 cavity.
#[test]
fn shields_and_cavities() {
    assert_eq!(shield_needed(Some(1.2 * INCH), 1.25 * INCH), Some(true));
    assert_eq!(shield_needed(Some(1.25 * INCH), 1.25 * INCH), Some(false));
    assert_eq!(shield_needed(None, 1.25 * INCH), None);
    assert!((cavity_short_m(3.5 * INCH, 4.0 * INCH).unwrap() / INCH - 0.5).abs() < 1e-9);
    assert_eq!(cavity_short_m(5.5 * INCH, 4.0 * INCH), None);
}

#[test]
fn bad_numbers_say_what_is_wrong() {
    let what = |joist: &Joist, hole: &Hole, rule: &HoleRule| {
        judge_hole(joist, hole, &[], Some(rule)).unwrap_err().what
    };
    let ten = joist(9.25);
    assert_eq!(what(&ten, &hole(0.0, 1.0, 4.0), &IRC), "diameter of a hole");
    assert_eq!(what(&ten, &hole(1.0, 1.0, 10.0), &IRC), "centre of the hole");
    assert_eq!(what(&ten, &hole(1.0, 1.0, f64::NAN), &IRC), "centre of the hole");
    assert_eq!(what(&joist(-1.0), &hole(1.0, 1.0, 4.0), &IRC), "depth");
    assert_eq!(
        what(&ten, &hole(1.0, 1.0, 4.0), &HoleRule { share_of_depth: 1.5, ..IRC }),
        "share of the depth"
    );
    assert_eq!(
        what(&ten, &hole(1.0, 1.0, 4.0), &HoleRule { edge_m: f64::NAN, ..IRC }),
        "edge distance"
    );
    assert_eq!(
        judge_stud(&stud(3.5, None), -1.0, None, &IRC_STUD).unwrap_err().what,
        "diameter of a hole"
    );
    let rule = StudRule { non_bearing: Most::Share(f64::NAN), ..IRC_STUD };
    assert_eq!(
        judge_stud(&stud(3.5, None), INCH, None, &rule).unwrap_err().what,
        "share that may be cut"
    );
    let rule = NotchRule { whole_middle: Some([f64::NAN, 0.6]), ..IRC_NOTCH };
    let top = notch(1.0, 1.0, Cut::Top, Along::End);
    assert_eq!(judge_notch(&ten, &top, Some(&rule)).unwrap_err().what, "end of the whole middle");
    let plate = Plate { id: "plate".to_owned(), width_m: 0.0, duty: None, panel: None };
    assert_eq!(judge_plate(&plate, 0.1, &IRC_PLATE).unwrap_err().what, "width");
}

proptest! {
    /// A hole that is allowed stays allowed when it gets smaller about the same centre; the centre may lie where it is said to.
    #[test]
    fn smaller_is_never_worse(
        depth in 3.0..14.0f64, diameter in 0.1..5.0f64, height in 0.01..0.99f64, share in 0.1..1.0f64,
    ) {
        let up = height * depth;
        let joist = joist(depth);
        let large = ruling(&joist, &hole(diameter, 60.0, up), &IRC);
        if large == Ruling::Allowed {
            prop_assert_eq!(ruling(&joist, &hole(diameter * share, 60.0, up), &IRC), Ruling::Allowed);
        }
        let Some([low, high]) = IRC.centre_between(depth * INCH, diameter * INCH) else {
            prop_assert_ne!(large, Ruling::Allowed, "it fits nowhere");
            return Ok(());
        };
        let outside = (low - up * INCH).max(up * INCH - high);
        // The judgement lets the edge be short by the round-off, the range of heights does not.
        prop_assert_eq!(outside <= ROUND_OFF_M, large == Ruling::Allowed, "{} to {} m", low, high);
    }
}
