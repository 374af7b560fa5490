//! Whatever numbers are typed: an answer in finite numbers, or an error that names one of them. Never a panic.

use dewpath_layout::bore::{
    Duty, Hole, HoleRule, Joist, Most, Opening, Plate, PlateRule, Reach, Rectangular, Stud,
    StudRule, judge_hole, judge_plate, judge_stud,
};
use dewpath_layout::clearance::{Limit, Near, measure};
use dewpath_layout::framing::{Bay, Member, MemberKind};
use dewpath_layout::geometry::{Axis, Block};
use dewpath_layout::notch::{Along, Cut, Notch, NotchRule, judge_notch};
use dewpath_layout::penetration::{
    Courses, Crossing, Laps, Layer, Material, on_courses, roof_hole, wall_sheet,
};
use dewpath_layout::place::{
    Housing, Obstacle, Outlet, PlaceError, Side, Site, Stock, Wish, places,
};
use dewpath_layout::room::Plan;
use proptest::prelude::*;

/// Numbers that occur, numbers that break things, and everything between.
fn wild() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -0.2..3.0f64,
        2 => prop::sample::select(vec![0.0, -0.0, 1e-4, 1.0, -1.0, 0.5, 1000.0, 1e-300]),
        1 => prop::sample::select(vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN, 1e9]),
        1 => proptest::num::f64::ANY,
    ]
}

fn maybe() -> impl Strategy<Value = Option<f64>> {
    proptest::option::of(wild())
}

fn wild_block() -> impl Strategy<Value = Block> {
    (proptest::array::uniform3(wild()), proptest::array::uniform3(wild()), any::<bool>()).prop_map(
        |(min, size, sized)| Block {
            min,
            max: if sized { std::array::from_fn(|i| min[i] + size[i].abs()) } else { size },
        },
    )
}

/// Mostly sound, so that the search itself is reached.
fn tame_block() -> impl Strategy<Value = Block> {
    prop_oneof![
        9 => (proptest::array::uniform3(0.0..2.0f64), proptest::array::uniform3(0.001..1.5f64))
            .prop_map(|(min, size)| Block { min, max: std::array::from_fn(|i| min[i] + size[i]) }),
        1 => wild_block(),
    ]
}

fn axis(k: u8) -> Axis {
    [Axis::X, Axis::Y, Axis::Z][usize::from(k % 3)]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn places_of_anything(
        spaces in proptest::collection::vec((tame_block(), 0..20u8), 0..4),
        solids in proptest::collection::vec((tame_block(), 0..20u8), 0..3),
        open in proptest::collection::vec(tame_block(), 0..2),
        obstacles in proptest::collection::vec(tame_block(), 0..3),
        wet in proptest::collection::vec(tame_block(), 0..2),
        corners in proptest::collection::vec(proptest::array::uniform2(-1.0..3.0f64), 0..7),
        body in proptest::array::uniform3(0.01..0.6f64), outlet in proptest::array::uniform5(0.01..0.4f64),
        odd in (0..40u8, wild()), side in 0..5usize, wish in (wild(), wild()), flags in proptest::array::uniform3(any::<bool>()),
    ) {
        // Mostly along x or y.
        let along = |k: u8| if k == 0 { Axis::Z } else { axis(k % 2) };
        let bays: Vec<Bay> = spaces.iter().map(|(space, k)| Bay {
            id: "bay".to_owned(), zone: 0, along: along(*k), space: *space,
        }).collect();
        let members: Vec<Member> = solids.iter().map(|(solid, k)| {
            let l = along(*k).index();
            Member { id: "member".to_owned(), kind: MemberKind::Sawn, along: along(*k), solid: *solid, span: [solid.min[l], solid.max[l]] }
        }).collect();
        let named = |blocks: &[Block]| -> Vec<Obstacle> {
            blocks.iter().map(|b| Obstacle { id: "it".to_owned(), solid: *b }).collect()
        };
        let (obstacles, wet) = (named(&obstacles), named(&wet));
        let plan = Plan::new("room", &corners).ok();
        // One number of the housing may be anything.
        let mut numbers = [body[0], body[1], body[2], outlet[0], outlet[1], outlet[2], outlet[3], outlet[4], 0.02, 0.01, 0.0];
        if let Some(number) = numbers.get_mut(usize::from(odd.0)) { *number = odd.1; }
        let [w, l, d, height, outside, collar, straight, offset, flange, reach, board] = numbers;
        let housing = Housing {
            id: "fan".to_owned(), body_m: [w, l, d], flange_m: flange, flange_between: flags[0], reach_m: reach,
            outlet: Outlet {
                side: [Side::PlusX, Side::PlusY, Side::MinusX, Side::MinusY, Side::Up][side],
                offset_m: offset, height_m: height, outside_m: outside, collar_m: collar, straight_m: straight,
            },
            listed_wet: flags[1],
        };
        let site = Site {
            bays: &bays, members: &members, open: &open, obstacles: &obstacles, wet: &wet, plan: plan.as_ref(),
            board_m: board, play_m: 0.0, straight_may_leave: flags[2],
            stock: Stock { thickness_m: 0.038, depth_m: 0.184 },
        };
        let wish = Wish { at: [wish.0, wish.1], cable_from: Some([0.1, 0.2]), keep: 5, per_bay: 2 };
        match places(&housing, &site, &wish) {
            Ok(found) => for place in found {
                let numbers = place.middle.iter().chain(&place.outlet).chain(&place.offset_m);
                prop_assert!(numbers.chain([&place.distance_m]).all(|v| v.is_finite()));
                prop_assert!(place.mount.blocks.iter().all(|b| b.length_m > 0.0));
            },
            Err(PlaceError::Nowhere(nowhere)) => {
                prop_assert!(!nowhere.shortfalls.is_empty());
                prop_assert!(nowhere.shortfalls.iter().all(|s| s.short_m.is_none_or(|by| by.is_finite() && by > 0.0)));
            }
            Err(PlaceError::Bad(bad)) => prop_assert!(!bad.to_string().contains("NaN")),
        }
    }

    #[test]
    fn cuts_of_anything(
        n in proptest::array::uniform12(wild()), o in proptest::array::uniform6(maybe()), flags in proptest::array::uniform4(any::<bool>()),
        kind in 0..6usize,
    ) {
        let kind = [MemberKind::Sawn, MemberKind::Sawn, MemberKind::Doubled, MemberKind::Sawn, MemberKind::Truss, MemberKind::Steel][kind];
        let joist = Joist { id: "joist".to_owned(), kind, depth_m: o[0], span_m: o[1] };
        let opening = if flags[0] { Opening::Round { diameter_m: n[0] } } else { Opening::Rectangle { width_m: n[0], height_m: n[1] } };
        let rule = HoleRule {
            share_of_depth: n[2], edge_m: n[3], apart_m: o[2],
            whole_ends: flags[1].then_some(Reach::Depths(n[4])), whole_middle: flags[2].then_some([n[5], n[6]]),
            least_depth_m: o[3],
            rectangular: if flags[3] { Rectangular::Diagonal } else { Rectangular::Side { share: n[7] } },
        };
        let hole = Hole { id: "hole".to_owned(), opening, along_m: o[4], up_m: o[5] };
        let other = Hole { along_m: o[5], up_m: o[4], ..hole.clone() };
        if let Ok(answer) = judge_hole(&joist, &hole, &[other], Some(&rule)) {
            let numbers = [answer.allowed_m, answer.counts_as_m, answer.edge_m, answer.edge_least_m];
            prop_assert!(numbers.iter().flatten().all(|v| v.is_finite() && *v >= 0.0), "{answer:?}");
            prop_assert!(!format!("{:?}", answer.faults).contains("NaN"), "{answer:?}");
        }
        let notch = Notch {
            id: "notch".to_owned(), depth_m: n[0], length_m: n[1], cut: flags[0].then_some(Cut::Top),
            along: o[4].map(|from_m| Along::Span { from_m }), member_thickness_m: o[5],
        };
        let limits = NotchRule {
            depth_share: n[2], length_share: o[2], end_depth_share: o[3], whole_middle: flags[2].then_some([n[5], n[6]]),
            near_bearing: flags[1].then_some(Reach::Metres(n[4])), whole_tension_from_m: Some(n[8]), top_only: flags[3],
        };
        if let Ok(answer) = judge_notch(&joist, &notch, Some(&limits)) {
            prop_assert!(!format!("{answer:?}").contains("NaN"), "{answer:?}");
        }
        let duty = flags[0].then_some(Duty::Bearing);
        let stud = Stud { id: "stud".to_owned(), depth_m: n[0], duty, doubled: flags[1], in_a_row: None, notched: None };
        let stud_rule = StudRule {
            bearing: Most::Share(n[2]), doubled: None, doubled_in_a_row: Some(2), non_bearing: Most::Keep(n[3]), edge_m: o[2],
            beside_notch: flags[2],
        };
        if let Ok(answer) = judge_stud(&stud, n[1], o[0], &stud_rule) {
            prop_assert!(!format!("{answer:?}").contains("NaN"), "{answer:?}");
        }
        let plate = Plate { id: "plate".to_owned(), width_m: n[0], duty, panel: None };
        let plate_rule = PlateRule { free: Most::Share(n[4]), tie: None, panel_instead: flags[3] };
        if let Ok(answer) = judge_plate(&plate, n[1], &plate_rule) {
            prop_assert!((0.0..=1.0).contains(&answer.cut_share) && answer.left_m >= 0.0);
        }
    }

    #[test]
    fn holes_and_distances_of_anything(
        n in proptest::array::uniform12(wild()), thick in proptest::collection::vec((maybe(), 0..4usize), 0..5),
        a in wild_block(), b in wild_block(), from in proptest::array::uniform3(wild()), to in proptest::array::uniform3(wild()),
    ) {
        let kinds = [Material::Masonry, Material::Timber, Material::Cavity, Material::Unknown];
        let layers: Vec<Layer> = thick.iter().map(|(t, k)| Layer { material: kinds[*k], thickness_m: *t }).collect();
        let crossing = Crossing {
            outside_m: n[0], clearance_m: n[1], fall_ratio: n[2], past_m: [n[3], n[4]], fill_ratio: n[5], separation: None,
        };
        if let Ok(sheet) = wall_sheet("wall", &layers, &crossing) {
            let numbers = [Some(sheet.hole_m), sheet.level_hole_m, sheet.thickness_m, sheet.fall_m, sheet.sleeve_m, sheet.foam_m3];
            prop_assert!(numbers.iter().flatten().all(|v| v.is_finite() && *v >= 0.0), "{sheet:?}");
        }
        if let Ok(hole) = roof_hole("roof", &layers, &crossing, n[6], &Laps { side_m: n[7], up_m: n[8], down_m: n[9] }) {
            prop_assert!(hole.along_m >= hole.across_m && hole.flashing_m.iter().all(|v| v.is_finite()));
        }
        if let Ok(both) = on_courses("brick", &Courses { brick_m: n[0], joint_m: n[1] }, n[10], n[11]) {
            prop_assert!(both.iter().all(|c| c.centre_m.is_finite()));
        }
        let limit = Limit { least_m: n[0], free_above_m: Some(n[1]) };
        for near in [Near::Box(b), Near::Line(from, to), Near::Below { z_m: n[2] }] {
            if let Ok(d) = measure("cap", &a, &near, Some(&limit)) {
                prop_assert!([d.distance_m, d.level_m, d.above_m, d.short_m].iter().all(|v| v.is_finite()));
                prop_assert!(d.distance_m >= 0.0 && d.short_m >= 0.0);
            }
        }
    }
}
