//! Geometry that can't be worked with is refused with what, where and the way out.

use dewpath_layout::geometry::Block;
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{
    Bend, Bore, Duct, ExitKind, Space, SpaceKind, falls, search, search_through, supports,
};

use super::examples::{duct, floor};
use super::verifier::Floor;

fn refused(change: impl Fn(&mut Floor, &mut Duct)) -> String {
    let (mut floor, mut duct) = (floor(), duct());
    change(&mut floor, &mut duct);
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden(String::new());
    search(&floor.ways(), &duct, &never, 5).expect_err("must be refused").to_string()
}

#[test]
fn every_bad_value_is_named_with_its_place() {
    let cases = [
        (refused(|f, _| f.from[1] = f64::NAN), "the outlet"),
        (refused(|f, _| f.bays[0].space.max[0] = f.bays[0].space.min[0]), "joists 1"),
        (refused(|f, _| f.members[0].span = [1.0, 1.0]), "span of joists 1"),
        (refused(|f, _| f.exits[0].window.max[0] += 0.2), "window of east rim"),
        (refused(|f, _| f.exits[0].window.min[2] = f64::INFINITY), "window of east rim"),
        (refused(|f, _| f.exits[0].depth_m = -0.1), "depth of east rim"),
        (refused(|f, _| f.exits[0].pressure_pa = f64::NAN), "loss of the terminal of east rim"),
        (refused(|f, _| f.exits[0].labour_h = -1.0), "work on the terminal of east rim"),
        (refused(|f, _| f.exits.push(f.exits[0].clone())), "name of an exit of east rim"),
        (refused(|_, d| d.bare_m = 0.0), "diameter of 4 in"),
        (refused(|_, d| d.outside_m = 0.05), "diameter with insulation of 4 in"),
        (refused(|_, d| d.height_m = Some(0.5)), "height of 4 in"),
        (refused(|_, d| d.hole_m = 0.05), "hole of 4 in"),
        (refused(|_, d| d.min_straight_m = -1.0), "straight length between fittings of 4 in"),
        (refused(|_, d| d.straight_pa_per_m = f64::INFINITY), "loss of a metre of 4 in"),
        (refused(|_, d| d.bends[0].turn_deg = 60.0), "turn of square"),
        (refused(|_, d| d.bends[0].radius_m = 0.0), "radius of square"),
        (refused(|_, d| d.bends[0].labour_h = f64::NAN), "work on a fitting of square"),
    ];
    for (said, expected) in cases {
        assert!(said.contains(expected), "{said:?} doesn't name {expected:?}");
    }
}

#[test]
fn a_collar_outside_of_every_space_has_no_route_and_no_error() {
    let mut floor = floor();
    floor.from = [50.0, 50.0, 50.0];
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden(String::new());
    assert_eq!(search(&floor.ways(), &duct(), &never, 5), Ok(vec![]));
    floor.exits.clear();
    assert_eq!(search(&floor.ways(), &duct(), &never, 5), Ok(vec![]));
    floor.bays.clear();
    assert_eq!(search(&floor.ways(), &duct(), &never, 0), Ok(vec![]));
}

#[test]
fn slopes_and_spacings_are_checked() {
    let floor = floor();
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden(String::new());
    let route = search(&floor.ways(), &duct(), &never, 1).unwrap().remove(0);
    for slope in [-0.01, 0.3, f64::NAN] {
        assert!(falls(&route, &floor.ways(), &duct(), &never, slope).is_err(), "{slope}");
    }
    for spacing in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(supports([0.0; 3], [1.0, 0.0, 0.0], spacing).is_err(), "{spacing}");
    }
    assert!(Block { min: [0.0; 3], max: [1.0; 3] }.is_sound());
}

#[test]
fn a_floor_too_large_to_be_searched_through_is_told() {
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden(String::new());
    let small = search_through(&floor().ways(), &duct(), &never, 5).unwrap();
    assert!(small.is_whole && !small.routes.is_empty(), "{small:?}");
    // An attic of 30 m square with posts every two metres: more places than are looked at.
    let mut large = floor();
    let top = large.bays[0].space.max[2];
    let clear = Block { min: [0.0, 0.0, top], max: [30.0, 30.0, top + 2.0] };
    large.spaces.push(Space { id: "attic".to_owned(), kind: SpaceKind::Attic, clear });
    for post in 0..225 {
        let (x, y) = (1.0 + 2.0 * f64::from(post % 15), 1.0 + 2.0 * f64::from(post / 15));
        // No two stand in one line, so that each adds lines of its own.
        let (x, y) = (x + 0.003 * f64::from(post), y + 0.0017 * f64::from(post));
        let solid = Block { min: [x, y, top], max: [x + 0.1, y + 0.1, top + 2.0] };
        large.obstacles.push(Obstacle { id: format!("post {post}"), solid });
    }
    large.exits.truncate(1);
    large.exits[0].kind = ExitKind::Gable;
    large.exits[0].window = Block { min: [30.0, 28.0, top + 0.5], max: [30.0, 29.0, top + 1.5] };
    let mut fitted = duct();
    let slim = Bend { radius_m: 0.12, id: "short".to_owned(), ..fitted.bends[0].clone() };
    fitted.bends.push(slim);
    let found = search_through(&large.ways(), &fitted, &never, 5);
    // Refused by name, or told as not searched through: never a quiet "none".
    assert!(found.map_or(true, |found| !found.is_whole), "every place was looked at");
}
