//! Distances at a terminal, by hand and against points tried one by one.

use dewpath_layout::clearance::{Enough, Limit, Near, measure, on_wall};
use dewpath_layout::geometry::{Axis, Block};
use proptest::prelude::*;

const FOOT: f64 = 0.3048;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// 3 ft to openings (IRC 2018 to 2024 M1504.3); from 2024 on waived where the outlet is 1 ft or more above the opening.
#[test]
fn openings_by_hand() {
    // A 6 in terminal on the wall y = 0; a window 4 ft to the right and 3 ft lower, from edge to edge.
    let terminal = on_wall("cap", [0.0, 0.0, 10.0 * FOOT], [0.5 * FOOT; 2], Axis::Y).unwrap();
    let window = Block { min: [4.25 * FOOT, 0.0, 3.0 * FOOT], max: [7.0 * FOOT, 0.1, 6.75 * FOOT] };
    let limit = Limit { least_m: 3.0 * FOOT, free_above_m: None };
    let d = measure("cap", &terminal, &Near::Box(window), Some(&limit)).unwrap();
    assert!(
        near(d.distance_m / FOOT, 5.0)
            && near(d.level_m / FOOT, 4.0)
            && near(d.above_m / FOOT, 3.0)
    );
    assert_eq!((d.enough, d.short_m), (Enough::Yes, 0.0));
    // Two feet to the right of its edge at the same height.
    let beside = Block { min: [2.25 * FOOT, 0.0, 9.0 * FOOT], max: [4.0 * FOOT, 0.1, 11.0 * FOOT] };
    let d = measure("cap", &terminal, &Near::Box(beside), Some(&limit)).unwrap();
    assert_eq!(d.enough, Enough::No);
    assert!(near(d.short_m / FOOT, 1.0));
    // A foot and a half right below: too near, but free where height frees.
    let below = Block { min: [-FOOT, 0.0, 6.0 * FOOT], max: [FOOT, 0.1, 8.25 * FOOT] };
    let at = |free_above_m| {
        let limit = Limit { free_above_m, ..limit };
        measure("cap", &terminal, &Near::Box(below), Some(&limit)).unwrap().enough
    };
    assert_eq!(
        (at(None), at(Some(FOOT)), at(Some(2.0 * FOOT))),
        (Enough::No, Enough::Above, Enough::No)
    );
    assert_eq!(measure("cap", &terminal, &Near::Box(below), None).unwrap().enough, Enough::NoLimit);
    // Exactly three feet is enough.
    let edge = Block { min: [3.25 * FOOT, 0.0, 9.0 * FOOT], max: [4.0 * FOOT, 0.1, 11.0 * FOOT] };
    assert_eq!(
        measure("cap", &terminal, &Near::Box(edge), Some(&limit)).unwrap().enough,
        Enough::Yes
    );
}

/// Property line 3 ft (IRC M1504.3); a line that slants away from the wall.
#[test]
fn lines_and_grade_by_hand() {
    let terminal = on_wall("cap", [0.0, 0.0, 2.0], [0.2, 0.2], Axis::Y).unwrap();
    let line =
        |from, to| measure("cap", &terminal, &Near::Line(from, to), None).unwrap().distance_m;
    assert!(near(line([-5.0, -0.9, 2.0], [5.0, -0.9, 2.0]), 0.9));
    // At 45 degrees past the corner (0.1, 0): the line x + y = 2.1 is 2 / sqrt 2 away.
    assert!(near(line([2.1, 0.0, 2.0], [0.1, 2.0, 2.0]), 2.0_f64.sqrt()));
    assert!(near(line([0.0, -1.0, 2.0], [0.0, 1.0, 2.0]), 0.0), "it passes through");
    assert!(near(line([1.1, 0.0, 2.0], [1.1, 0.0, 2.0]), 1.0), "a point");
    let ground = measure("cap", &terminal, &Near::Below { z_m: 1.5 }, None).unwrap();
    assert!(near(ground.distance_m, 0.4) && near(ground.above_m, 0.4));
    let buried = measure("cap", &terminal, &Near::Below { z_m: 2.5 }, None).unwrap();
    assert!(near(buried.distance_m, 0.0) && buried.above_m < 0.0);
}

#[test]
fn bad_places_say_what_is_wrong() {
    assert_eq!(
        on_wall("cap", [0.0; 3], [0.1; 2], Axis::Z).unwrap_err().what,
        "direction of the wall"
    );
    assert_eq!(on_wall("cap", [f64::NAN, 0.0, 0.0], [0.1; 2], Axis::X).unwrap_err().what, "middle");
    assert_eq!(on_wall("cap", [0.0; 3], [-0.1, 0.1], Axis::X).unwrap_err().what, "width");
    let cap = on_wall("cap", [0.0; 3], [0.1; 2], Axis::X).unwrap();
    assert!(near(cap.max[1], 0.05) && near(cap.max[0], 0.0));
    let inside_out = Block { min: [1.0; 3], max: [0.0; 3] };
    assert_eq!(measure("cap", &cap, &Near::Box(inside_out), None).unwrap_err().what, "size");
    let limit = Limit { least_m: f64::NAN, free_above_m: None };
    assert_eq!(
        measure("cap", &cap, &Near::Box(cap), Some(&limit)).unwrap_err().what,
        "least distance"
    );
    assert_eq!(
        measure("cap", &cap, &Near::Below { z_m: f64::NAN }, None).unwrap_err().what,
        "height"
    );
}

proptest! {
    /// Distance to a line against points of the line tried one by one, and to a box against the line along its diagonal.
    #[test]
    fn a_line_against_its_points(
        low in proptest::array::uniform3(-2.0..2.0f64), size in proptest::array::uniform3(0.0..2.0f64),
        from in proptest::array::uniform3(-4.0..4.0f64), to in proptest::array::uniform3(-4.0..4.0f64),
    ) {
        let block = Block { min: low, max: std::array::from_fn(|i| low[i] + size[i]) };
        let found = measure("cap", &block, &Near::Line(from, to), None).unwrap().distance_m;
        let tried = (0..=4000).map(|k| {
            let t = f64::from(k) / 4000.0;
            let square: f64 = (0..3).map(|i| {
                let p = from[i] + t * (to[i] - from[i]);
                let out = p - p.clamp(block.min[i], block.max[i]);
                out * out
            }).sum();
            square.sqrt()
        }).fold(f64::INFINITY, f64::min);
        prop_assert!(found <= tried + 1e-9 && found >= tried - 2e-3, "{found} against {tried}");
        let other = Block {
            min: std::array::from_fn(|i| from[i].min(to[i])), max: std::array::from_fn(|i| from[i].max(to[i])),
        };
        let boxes = measure("cap", &block, &Near::Box(other), None).unwrap();
        let back = measure("cap", &other, &Near::Box(block), None).unwrap();
        prop_assert!(boxes.distance_m <= found + 1e-9);
        prop_assert!((boxes.distance_m - back.distance_m).abs() < 1e-12);
        prop_assert!(boxes.level_m <= boxes.distance_m + 1e-12);
    }
}
