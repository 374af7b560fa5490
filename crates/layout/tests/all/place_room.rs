//! Outlines of rooms.

use dewpath_layout::room::{Plan, Rectangle, Wall};
use proptest::prelude::*;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn ell() -> Plan {
    let corners = [[0.0, 0.0], [4.0, 0.0], [4.0, 1.0], [1.0, 1.0], [1.0, 3.0], [0.0, 3.0]];
    Plan::new("bath", &corners).expect("a sound outline")
}

/// Area and centre of an L by its two rectangles: composite-area method, any statics handbook. 4 x 1 at (2, 0.5) and
/// 1 x 2 at (0.5, 2): area 6, centre ((8 + 1) / 6, (2 + 4) / 6).
#[test]
fn area_and_centre_of_an_ell() {
    let plan = ell();
    assert!(near(plan.area_m2(), 6.0));
    assert!(near(plan.centroid()[0], 1.5) && near(plan.centroid()[1], 1.0));
    assert!(near(plan.perimeter_m(), 14.0));
    let mut turned: Vec<_> = plan.corners().to_vec();
    turned.reverse();
    let turned = Plan::new("bath", &turned).unwrap();
    assert!(near(turned.area_m2(), 6.0) && near(turned.centroid()[0], 1.5));
    assert!(near(turned.edges()[0].outward[0], -plan.edges()[5].outward[1]));
}

#[test]
fn inside_and_outside() {
    let plan = ell();
    assert!(plan.contains([0.5, 2.5]) && plan.contains([3.5, 0.5]));
    assert!(plan.contains([1.0, 2.0]), "a wall belongs to the room");
    assert!(
        !plan.contains([1.5, 2.0]) && !plan.contains([-0.1, 0.0]) && !plan.contains([4.1, 1.0])
    );
    let holds = |min, max| plan.contains_rectangle(&Rectangle { min, max });
    assert!(holds([0.0, 0.0], [1.0, 3.0]) && holds([0.0, 0.0], [4.0, 1.0]));
    assert!(!holds([0.5, 0.5], [1.5, 1.5]), "the inner corner is cut off");
    assert!(!holds([0.0, 0.0], [4.0, 3.0]), "all corners but one lie on the outline");
    assert!(!holds([2.0, 1.5], [3.0, 2.0]) && !holds([-1.0, -1.0], [5.0, 4.0]));
}

#[test]
fn walls_look_outwards() {
    let plan = ell();
    let wall = |corner| plan.wall(&Wall { id: "wall".to_owned(), corner, outside: Some(true) });
    assert!(near(wall(1).unwrap().outward[1], -1.0));
    assert!(near(wall(2).unwrap().outward[0], 1.0));
    assert!(near(wall(6).unwrap().outward[0], -1.0));
    assert!(near(wall(5).unwrap().length_m(), 1.0));
    assert_eq!(wall(7).unwrap_err().what, "first corner");
    assert_eq!(wall(0).unwrap_err().what, "first corner");
}

/// Half-inch board on every wall: 1/2 in is the usual thickness of gypsum board (ASTM C1396 lists it). A room of 5 x 8 ft
/// finished is 5 ft 1 in x 8 ft 1 in between studs.
#[test]
fn rough_and_finished() {
    let (foot, inch) = (0.3048, 0.0254);
    let finished = Plan::rectangle("bath", [0.0, 0.0], [5.0 * foot, 8.0 * foot]).unwrap();
    let rough = finished.moved(&[0.5 * inch; 4]).unwrap();
    let size = rough.bounds();
    assert!(near((size.max[0] - size.min[0]) / inch, 61.0));
    assert!(near((size.max[1] - size.min[1]) / inch, 97.0));
    let back = rough.moved(&[-0.5 * inch; 4]).unwrap();
    assert!(near(back.area_m2(), finished.area_m2()));
    // An inner corner moves the other way: the foot of the L stays 1 wide plus a board on each side.
    let rough = ell().moved(&[0.01; 6]).unwrap();
    assert!(near(rough.area_m2(), 4.02 * 1.02 + 1.02 * 2.0), "{}", rough.area_m2());
    assert!(ell().moved(&[-0.6; 6]).is_err(), "the room vanishes");
    assert!(ell().moved(&[0.01; 4]).is_err());
    assert!(ell().moved(&[f64::NAN; 6]).is_err());
    // A wall written as two pieces in line.
    let plan =
        Plan::new("hall", &[[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]).unwrap();
    assert!(near(plan.moved(&[0.1; 5]).unwrap().area_m2(), 2.2 * 1.2));
}

#[test]
fn bad_outlines_say_what_is_wrong() {
    let what = |corners: &[[f64; 2]]| Plan::new("bath", corners).unwrap_err();
    assert_eq!(what(&[]).what, "number of corners");
    assert_eq!(what(&[[0.0, 0.0], [1.0, 0.0]]).what, "number of corners");
    let bow = what(&[[0.0, 0.0], [2.0, 2.0], [2.0, 0.0], [0.0, 2.0]]);
    assert_eq!(
        bow.to_string(),
        "wall of bath is 3 in order: it crosses or touches another wall of the same outline; write the corners in the \
         order in which one walks round the room"
    );
    assert_eq!(what(&[[0.0, 0.0], [1.0, 0.0], [1.0, 0.0], [0.0, 1.0]]).what, "length of a wall");
    assert_eq!(what(&[[0.0, 0.0], [2.0, 0.0], [1.0, 0.0]]).what, "wall");
    assert_eq!(what(&[[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 0.0], [0.0, 1.0]]).what, "wall");
    assert_eq!(what(&[[0.0, 0.0], [f64::NAN, 0.0], [2.0, 1.0]]).what, "corner");
    assert_eq!(what(&[[0.0, 0.0], [1e9, 0.0], [2.0, 1.0]]).what, "corner");
    assert_eq!(Plan::rectangle("bath", [0.0, 0.0], [0.0, 2.0]).unwrap_err().what, "length");
    // The first corner repeated at the end is no second wall.
    let closed = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]];
    assert_eq!(Plan::new("bath", &closed).unwrap().corners().len(), 4);
}

proptest! {
    /// Outlines that are stars about a middle: the inside test agrees with the sum of the angles seen from the point.
    #[test]
    fn inside_agrees_with_winding(
        radii in proptest::collection::vec(0.3..3.0f64, 3..12), x in -3.0..3.0f64, y in -3.0..3.0f64,
    ) {
        let count = radii.len() as f64;
        let corners: Vec<[f64; 2]> = radii.iter().enumerate().map(|(k, r)| {
            let angle = core::f64::consts::TAU * k as f64 / count;
            [r * libm::cos(angle), r * libm::sin(angle)]
        }).collect();
        let plan = Plan::new("room", &corners).unwrap();
        let winding: f64 = plan.edges().iter().map(|e| {
            let (a, b) = ([e.from[0] - x, e.from[1] - y], [e.to[0] - x, e.to[1] - y]);
            libm::atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
        }).sum();
        if plan.distance_m([x, y]) > 1e-3 {
            prop_assert_eq!(plan.contains([x, y]), winding > 3.0);
        }
        let small = Rectangle { min: [x - 0.05, y - 0.04], max: [x + 0.06, y + 0.05] };
        let sampled = (0..=20).all(|i| (0..=20).all(|j| {
            let at = |k: usize, n: i32| small.min[k] + (small.max[k] - small.min[k]) * f64::from(n) / 20.0;
            plan.contains([at(0, i), at(1, j)])
        }));
        // A corner of the room may reach in between two samples; the other way round there is no doubt.
        if plan.contains_rectangle(&small) {
            prop_assert!(sampled);
        } else if sampled {
            prop_assert!(plan.corners().iter().any(|c| (0..2).all(|i| c[i] > small.min[i] && c[i] < small.max[i])));
        }
    }

    #[test]
    fn never_panics(corners in proptest::collection::vec(proptest::array::uniform2(-3..3i8), 0..9)) {
        let corners: Vec<[f64; 2]> = corners.iter().map(|c| c.map(f64::from)).collect();
        if let Ok(plan) = Plan::new("room", &corners) {
            prop_assert!(plan.area_m2() > 0.0 && plan.centroid().iter().all(|v| v.is_finite()));
            let count = plan.corners().len();
            if let Ok(moved) = plan.moved(&vec![0.1; count]) {
                prop_assert!(moved.area_m2() > plan.area_m2());
            }
        }
    }
}
