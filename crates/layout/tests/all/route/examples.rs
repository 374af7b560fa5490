//! Ways whose lengths are worked out by hand.

use dewpath_layout::bore::{Hole, HoleRule, Joist, Opening, Rectangular, Ruling, judge_hole};
use dewpath_layout::framing::{Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block};
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{
    Bend, Bore, Duct, Exit, ExitKind, Heading, Offer, Offers, Relaxed, Route, Space, SpaceKind,
    falls, low_points, search, supports, why_none,
};

use super::verifier::{Floor, faults};

const INCH: f64 = 0.0254;

fn heading(axis: Axis, ahead: bool) -> Heading {
    Heading { axis, ahead }
}

/// Joists 2x10 at 16 in along x over a room of 4 m by 3 m: actual depth 9-1/4 in, thickness 1-1/2 in (PS 20, American
/// Softwood Lumber Standard). One rim to the east.
pub fn floor() -> Floor {
    let zone = Zone {
        id: "joists".to_owned(),
        kind: MemberKind::Sawn,
        along: Axis::X,
        space: Block { min: [0.0, 0.0, 2.44], max: [4.0, 3.0, 2.44 + 9.25 * INCH] },
        width_m: 1.5 * INCH,
        spacing_m: 16.0 * INCH,
        first_m: 0.75 * INCH,
    };
    let bays = zone.bays(0).unwrap();
    let from = [1.0, bays[2].space.middle()[1], bays[2].space.middle()[2]];
    Floor {
        from,
        towards: heading(Axis::X, true),
        members: zone.members().unwrap(),
        bays,
        spaces: vec![],
        obstacles: vec![],
        exits: vec![Exit {
            id: "east rim".to_owned(),
            kind: ExitKind::Rim,
            window: Block { min: [4.0, 0.1, 2.5], max: [4.0, 2.9, 2.62] },
            outward: heading(Axis::X, true),
            depth_m: 0.15,
            pressure_pa: 5.0,
            labour_h: 1.5,
        }],
    }
}

/// A round 4 in duct with fittings of 90 degrees of 6 in radius.
pub fn duct() -> Duct {
    Duct {
        id: "4 in".to_owned(),
        bare_m: 4.0 * INCH,
        outside_m: 4.0 * INCH,
        height_m: None,
        hole_m: 4.25 * INCH,
        straight_pa_per_m: 1.0,
        straight_h_per_m: 0.2,
        bends: vec![Bend {
            id: "square".to_owned(),
            turn_deg: 90.0,
            radius_m: 6.0 * INCH,
            pressure_pa: 3.0,
            labour_h: 0.4,
        }],
        first_straight_m: 0.3,
        min_straight_m: 0.0,
        last_straight_m: 0.0,
        bore_h: 0.5,
    }
}

pub fn halves(duct: &mut Duct) {
    duct.bends.push(Bend {
        id: "half".to_owned(),
        turn_deg: 45.0,
        radius_m: 6.0 * INCH,
        pressure_pa: 1.0,
        labour_h: 0.3,
    });
}

fn attic(floor: &mut Floor) {
    let top = 2.44 + 9.25 * INCH;
    let clear = Block { min: [0.0, 0.0, top], max: [4.0, 3.0, top + 1.5] };
    floor.spaces.push(Space { id: "attic".to_owned(), kind: SpaceKind::Attic, clear });
}

fn roof(floor: &mut Floor) {
    let up = 2.44 + 9.25 * INCH + 1.5;
    floor.exits.push(Exit {
        id: "roof".to_owned(),
        kind: ExitKind::Roof,
        window: Block { min: [1.2, 0.5, up], max: [2.8, 2.5, up] },
        outward: heading(Axis::Z, true),
        depth_m: 0.1,
        pressure_pa: 4.0,
        labour_h: 4.0,
    });
}

/// The limit on holes in sawn joists of the International Residential Code, R502.8.1: no larger than a third of the depth,
/// 2 in from top and bottom.
fn sawn(member: &Member, _: f64, height: f64, hole: Opening) -> Bore {
    let Opening::Round { diameter_m: hole } = hole else {
        return Bore::Forbidden("the rule speaks of round holes".to_owned());
    };
    let (depth, edge) = (member.depth_m(), 2.0 * INCH);
    let fits = hole <= depth / 3.0
        && height - 0.5 * hole >= edge - 1e-9
        && depth - height - 0.5 * hole >= edge - 1e-9;
    if fits { Bore::Allowed } else { Bore::Forbidden("hole larger than d/3".to_owned()) }
}

fn routes(floor: &Floor, duct: &Duct) -> Vec<Route> {
    let found = search(&floor.ways(), duct, &sawn, 5).unwrap();
    for route in &found {
        assert_eq!(faults(floor, duct, &sawn, route), Vec::<String>::new());
    }
    found
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

#[test]
fn straight_along_the_bay() {
    let found = routes(&floor(), &duct());
    assert_eq!(found.len(), 1);
    let route = &found[0];
    assert_eq!(route.through, ["joists 3"]);
    assert!(route.bends.is_empty() && route.crossings.is_empty() && route.legs.len() == 1);
    near(route.length_m, 3.0 + 0.15);
    near(route.pressure_pa, 3.15 + 5.0);
    near(route.labour_h, 0.2 * 3.15 + 1.5);
}

/// From a bay up through the roof: one fitting; its corner lies the first straight length and a radius after the collar.
#[test]
fn up_through_the_roof() {
    let mut floor = floor();
    floor.exits.clear();
    attic(&mut floor);
    roof(&mut floor);
    let found = routes(&floor, &duct());
    let route = &found[0];
    assert_eq!(route.through, ["joists 3", "attic"]);
    let r = 6.0 * INCH;
    near(route.bends[0].corner[0], 1.0 + 0.3 + r);
    let rise = 0.5 * 9.25 * INCH + 1.5;
    near(route.length_m, 0.3 + std::f64::consts::FRAC_PI_2 * r + (rise - r) + 0.1);
    near(route.pressure_pa, 0.3 + (rise - r) + 0.1 + 3.0 + 4.0);
}

/// A light in the bay: past it with two fittings of 45 degrees, or not at all.
#[test]
fn aside_past_a_light() {
    let mut floor = floor();
    let bay = floor.bays[2].space;
    floor.obstacles.push(Obstacle {
        id: "light".to_owned(),
        solid: Block {
            min: [2.4, bay.min[1], bay.min[2]],
            max: [2.7, bay.middle()[1] - 0.02, bay.max[2]],
        },
    });
    assert_eq!(routes(&floor, &duct()), vec![]);
    let mut duct = duct();
    halves(&mut duct);
    let found = routes(&floor, &duct);
    let route = &found[0];
    assert_eq!(route.bends.iter().map(|b| b.turn_deg).collect::<Vec<_>>(), [45.0, 45.0]);
    // Aside by no less than the two fittings need.
    let aside = route.legs[2].from[1] - route.legs[0].from[1];
    let tangent = 6.0 * INCH * (22.5_f64.to_radians()).tan();
    assert!(aside >= 2.0 * tangent * 0.5_f64.sqrt() - 1e-9, "{aside}");
    assert!(aside >= -0.02 + 2.0 * INCH - 1e-4, "{aside}");
}

/// A 4 in duct does not pass a sawn joist; a 3 in one passes a 2x12 (International Residential Code, R502.8.1: 11-1/4 in / 3 =
/// 3.75 in) but no 2x10 (3.08 in).
#[test]
fn bores_as_the_rule_allows() {
    let across = |depth_in: f64| {
        let mut floor = floor();
        floor.towards = heading(Axis::Y, true);
        for block in floor.bays.iter_mut().map(|b| &mut b.space) {
            block.max[2] = 2.44 + depth_in * INCH;
        }
        for block in floor.members.iter_mut().map(|m| &mut m.solid) {
            block.max[2] = 2.44 + depth_in * INCH;
        }
        floor.from = [2.0, floor.bays[2].space.middle()[1], 2.44 + 0.5 * depth_in * INCH];
        floor.exits[0].outward = heading(Axis::Y, true);
        floor.exits[0].window = Block { min: [0.5, 3.0, 2.5], max: [3.5, 3.0, 2.7] };
        floor
    };
    let mut three = duct();
    (three.bare_m, three.outside_m, three.hole_m) = (3.0 * INCH, 3.0 * INCH, 3.125 * INCH);
    three.first_straight_m = 0.0;
    assert_eq!(routes(&across(9.25), &three), vec![]);
    assert_eq!(routes(&across(11.25), &duct()), vec![]);
    let floor = across(11.25);
    let found = routes(&floor, &three);
    let beyond = floor.members.iter().filter(|m| m.solid.min[1] > floor.from[1]).count();
    assert_eq!(found[0].crossings.len(), beyond);
    near(found[0].crossings[0].along_m, 2.0);
    near(found[0].crossings[0].height_m, 0.5 * 11.25 * INCH);
    let order: Vec<f64> = found[0].crossings.iter().map(|c| c.at[1]).collect();
    assert!(order.windows(2).all(|w| w[0] < w[1]));
}

/// From a bay into the attic above it in one slanted leg, and out by a gable: the leg rises from the middle of the bay, 4-5/8 in
/// below the attic, to the sill of the gable, 0.3 m above.
#[test]
fn up_into_the_attic_askew() {
    let mut floor = floor();
    attic(&mut floor);
    let top = 2.44 + 9.25 * INCH;
    floor.exits = vec![Exit {
        id: "gable".to_owned(),
        kind: ExitKind::Gable,
        window: Block { min: [4.0, 0.5, top + 0.3], max: [4.0, 2.5, top + 0.9] },
        ..floor.exits[0].clone()
    }];
    let mut duct = duct();
    halves(&mut duct);
    let found = routes(&floor, &duct);
    let route = &found[0];
    assert_eq!(route.bends.iter().map(|b| b.turn_deg).collect::<Vec<_>>(), [45.0, 45.0]);
    assert_eq!(route.legs[1].through, ["joists 3", "attic"]);
    let (rise, tangent) = (0.3 + 4.625 * INCH, 6.0 * INCH * 22.5_f64.to_radians().tan());
    let straight = 3.0 - rise + rise * 2.0_f64.sqrt() - 4.0 * tangent + 0.15;
    near(route.pressure_pa, straight + 2.0 * 1.0 + 5.0);
    // A pipe that lies where only the slanted leg passes turns it away.
    let foot = route.legs[1].from;
    let at = [foot[0] + 0.5 * rise, foot[1], foot[2] + 0.5 * rise];
    floor.obstacles.push(Obstacle {
        id: "pipe".to_owned(),
        solid: Block {
            min: [at[0] - 0.01, 0.0, at[2] - 0.01],
            max: [at[0] + 0.01, 3.0, at[2] + 0.01],
        },
    });
    let around = &routes(&floor, &duct)[0];
    assert!(around.pressure_pa > route.pressure_pa + 1e-3, "{around:#?}");
}

/// A flat duct is led through a rectangular hole: where a rule tells how such a hole counts it may be cut, where none does it
/// may not. The share of depth is of no book, so that a hole of this size is allowed at all.
#[test]
fn a_flat_duct_crosses_where_a_rectangle_may_be_cut() {
    let mut floor = floor();
    floor.towards = heading(Axis::Y, true);
    floor.from[0] = 2.0;
    floor.exits[0].outward = heading(Axis::Y, true);
    floor.exits[0].window = Block { min: [0.5, 3.0, 2.5], max: [3.5, 3.0, 2.7] };
    let mut oval = duct();
    (oval.outside_m, oval.hole_m, oval.height_m) = (5.0 * INCH, 5.25 * INCH, Some(3.0 * INCH));
    oval.first_straight_m = 0.0;
    let ruled = |rectangular: Rectangular| {
        let rule = HoleRule {
            share_of_depth: 0.8,
            edge_m: 2.0 * INCH,
            apart_m: None,
            whole_ends: None,
            whole_middle: None,
            least_depth_m: None,
            rectangular,
        };
        let may_bore = move |member: &Member, along: f64, up: f64, opening: Opening| {
            let joist = Joist {
                id: member.id.clone(),
                kind: member.kind,
                depth_m: Some(member.depth_m()),
                span_m: Some(member.span[1] - member.span[0]),
            };
            let hole =
                Hole { id: "hole".to_owned(), opening, along_m: Some(along), up_m: Some(up) };
            match judge_hole(&joist, &hole, &[], Some(&rule)).map(|answer| answer.ruling) {
                Ok(Ruling::Allowed) => Bore::Allowed,
                other => Bore::Forbidden(format!("{other:?}")),
            }
        };
        let found = search(&floor.ways(), &oval, &may_bore, 5).unwrap();
        for route in &found {
            assert_eq!(faults(&floor, &oval, &may_bore, route), Vec::<String>::new());
        }
        found
    };
    assert_eq!(ruled(Rectangular::NotTold), vec![]);
    // By its diagonal, 6.17 in., it is larger than both edges leave of 9-1/4 in.
    assert_eq!(ruled(Rectangular::Diagonal), vec![]);
    let found = ruled(Rectangular::Side { share: 1.0 });
    let beyond = floor.members.iter().filter(|m| m.solid.min[1] > floor.from[1]).count();
    assert_eq!(found[0].crossings.len(), beyond);
    let hole = found[0].crossings[0].opening;
    let Opening::Rectangle { width_m, height_m } = hole else { panic!("{hole:?}") };
    near(width_m, 5.25 * INCH);
    near(height_m, 3.25 * INCH);
}

/// The rim is shorter, the roof loses less: both are kept. A gable that is worse in both is kept as the only way to it.
#[test]
fn ways_that_trade_loss_against_work() {
    let mut floor = floor();
    attic(&mut floor);
    roof(&mut floor);
    floor.exits[0].pressure_pa = 20.0;
    floor.exits.push(Exit {
        id: "gable".to_owned(),
        kind: ExitKind::Gable,
        window: Block { min: [1.0, 3.0, 3.0], max: [3.0, 3.0, 3.5] },
        outward: heading(Axis::Y, true),
        depth_m: 0.2,
        pressure_pa: 30.0,
        labour_h: 9.0,
    });
    let found = routes(&floor, &duct());
    let told: Vec<(&str, bool)> = found.iter().map(|r| (r.exit.as_str(), r.is_dominated)).collect();
    assert_eq!(told, [("roof", false), ("east rim", false), ("gable", true)]);
    assert_eq!(search(&floor.ways(), &duct(), &sawn, 2).unwrap().len(), 2);
    assert_eq!(routes(&floor, &duct()), found, "the same every time");
}

#[test]
fn an_oval_duct_passes_where_a_round_one_does_not() {
    let mut floor = floor();
    let bay = floor.bays[2].space;
    floor.obstacles.push(Obstacle {
        id: "pipe".to_owned(),
        solid: Block {
            min: [2.0, bay.min[1], bay.min[2]],
            max: [2.1, bay.max[1], bay.middle()[2] - 1.6 * INCH],
        },
    });
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden("no bore".to_owned());
    let mut oval = duct();
    oval.id = "3 by 5 oval".to_owned();
    (oval.outside_m, oval.hole_m, oval.height_m) = (5.0 * INCH, 5.2 * INCH, Some(3.0 * INCH));
    let space = Space {
        id: "lowered soffit".to_owned(),
        kind: SpaceKind::LoweredSoffit,
        clear: Block { min: [0.0, bay.min[1], 2.0], max: [4.0, bay.max[1], 2.44] },
    };
    let mut lower = floor.exits[0].clone();
    (lower.id, lower.kind) = ("east wall".to_owned(), ExitKind::Wall);
    (lower.window.min[2], lower.window.max[2]) = (2.1, 2.4);
    floor.exits.push(lower);
    let mut west = floor.exits[0].clone();
    west.id = "west rim".to_owned();
    (west.window.min[0], west.window.max[0]) = (0.0, 0.0);
    west.outward = heading(Axis::X, false);
    let mut small = duct();
    small.id = "3 in".to_owned();
    (small.bare_m, small.outside_m) = (3.0 * INCH, 3.0 * INCH);
    let offers = Offers {
        smaller: vec![Offer { what: small, labour_h: Some(0.5) }],
        ovals: vec![Offer { what: oval, labour_h: None }],
        spaces: vec![Offer { what: space, labour_h: Some(12.0) }],
        exits: vec![Offer { what: west, labour_h: Some(0.0) }],
        obstacles: vec![Offer { what: 0, labour_h: Some(3.0) }],
    };
    let none = why_none(&floor.ways(), &duct(), &never, &offers).unwrap().expect("no way");
    assert_eq!(none.blocked.reached, ["joists 3"]);
    let told: Vec<&Relaxed> = none.openings.iter().map(|o| &o.relaxed).collect();
    // No way turns round within a bay of 14-1/2 in with fittings of 6 in radius, so the rim behind the housing opens none.
    assert_eq!(
        told,
        [
            &Relaxed::SmallerDuct("3 in".to_owned()),
            &Relaxed::Obstacle("pipe".to_owned()),
            &Relaxed::Space("lowered soffit".to_owned()),
            &Relaxed::OvalDuct("3 by 5 oval".to_owned()),
        ]
    );
    assert_eq!(none.openings[3].labour_h, None, "unknown work stays unknown");
    let cheapest = none.openings[0].labour_h.unwrap();
    near(cheapest, none.openings[0].route.labour_h + 0.5);
    floor.obstacles.clear();
    assert_eq!(why_none(&floor.ways(), &duct(), &never, &offers), Ok(None));
}

#[test]
fn fall_low_points_and_supports() {
    // 1/8 in on a foot over 3 m.
    let slope = 0.125 / 12.0;
    let plain = floor();
    let route = &routes(&plain, &duct())[0];
    let fall = falls(route, &plain.ways(), &duct(), &sawn, slope).unwrap();
    assert_eq!(fall.len(), 1);
    near(fall[0].to_m, 3.0 * slope);
    assert!(fall[0].fits);
    assert!(!falls(route, &plain.ways(), &duct(), &sawn, 0.1).unwrap()[0].fits);
    assert_eq!(low_points(route), vec![]);
    let at = supports(route.legs[0].from, route.legs[0].to, 1.2).unwrap();
    assert_eq!(at.iter().map(|p| p[0]).collect::<Vec<_>>(), [1.5, 2.5, 3.5]);

    // A 3 in. duct across 2x12: the holes may lie from 2 + 1.5625 in. above the underside on, 2.06 in. below the middle.
    let mut across = floor();
    for block in across.bays.iter_mut().map(|b| &mut b.space) {
        block.max[2] = 2.44 + 11.25 * INCH;
    }
    for block in across.members.iter_mut().map(|m| &mut m.solid) {
        block.max[2] = 2.44 + 11.25 * INCH;
    }
    across.towards = heading(Axis::Y, true);
    across.from = [2.0, across.bays[2].space.middle()[1], 2.44 + 5.625 * INCH];
    across.exits[0].outward = heading(Axis::Y, true);
    across.exits[0].window = Block { min: [0.5, 3.0, 2.4], max: [3.5, 3.0, 2.7] };
    let mut three = duct();
    (three.bare_m, three.outside_m, three.hole_m) = (3.0 * INCH, 3.0 * INCH, 3.125 * INCH);
    three.first_straight_m = 0.0;
    let route = &routes(&across, &three)[0];
    let run = 3.0 - across.from[1];
    let most = 2.0625 * INCH / run;
    for (slope, fits) in [(0.98 * most, true), (1.02 * most, false)] {
        let fall = falls(route, &across.ways(), &three, &sawn, slope).unwrap();
        near(fall[0].to_m, slope * run);
        assert_eq!(fall[0].fits, fits, "{slope}");
    }

    let mut high = floor();
    high.exits.clear();
    attic(&mut high);
    roof(&mut high);
    let route = &routes(&high, &duct())[0];
    let low = low_points(route);
    assert!(low.len() == 1 && low[0].is_housing && low[0].leg == 1, "{low:?}");
    assert_eq!(falls(route, &high.ways(), &duct(), &sawn, slope).unwrap(), vec![]);
}
