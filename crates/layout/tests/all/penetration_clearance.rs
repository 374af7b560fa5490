//! Distances at a terminal, by hand and against points tried one by one.

use dewpath_layout::clearance::{Enough, Limit, Near, measure, nearest_clear, on_wall};
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

/// A terminal on a wall along x with two windows of the house in it: it goes to the nearer end of what is too near.
#[test]
fn a_terminal_goes_to_the_nearest_spot_that_is_far_enough() {
    let wall = Block { min: [0.0, 5.0, 2.0], max: [10.0, 5.0, 2.0] };
    let half = [0.1, 0.0, 0.1];
    let pane = |from: f64| Near::Box(Block { min: [from, 5.0, 1.0], max: [from + 1.0, 5.1, 2.5] });
    let limit = Limit { least_m: 0.9, free_above_m: None };
    let nears = [(pane(3.0), limit), (pane(5.5), limit)];
    let at = |x: f64, nears: &[(Near, Limit)]| {
        nearest_clear("cap", &wall, half, [x, 5.0, 2.0], nears).unwrap()
    };
    // From 2.0 to 5.0 it is too near to the first pane, from 4.5 to 7.5 to the second one.
    assert_eq!(at(1.0, &nears), Some([1.0, 5.0, 2.0]));
    assert!(
        at(2.4, &nears)
            .is_some_and(|[x, y, z]| (x - 2.0).abs() < 1e-4 && near(y, 5.0) && near(z, 2.0))
    );
    assert!(at(4.6, &nears).is_some_and(|[x, ..]| (x - 2.0).abs() < 1e-4), "{:?}", at(4.6, &nears));
    assert!(at(5.2, &nears).is_some_and(|[x, ..]| (x - 7.5).abs() < 1e-4));
    // A hand beyond the wall is brought back to its end.
    assert_eq!(at(12.0, &nears), Some([10.0, 5.0, 2.0]));
    // Nowhere, and freed by height.
    let wide = Limit { least_m: 9.0, free_above_m: None };
    assert_eq!(at(1.0, &[(pane(5.0), wide)]), None);
    let low = Near::Box(Block { min: [3.0, 5.0, 0.0], max: [4.0, 5.1, 1.0] });
    let freed = Limit { least_m: 2.0, free_above_m: Some(0.5) };
    assert_eq!(at(3.5, &[(low, freed)]), Some([3.5, 5.0, 2.0]));
    assert!(nearest_clear("cap", &wall, half, [f64::NAN, 5.0, 2.0], &[]).is_err());
}

proptest! {
    /// On a roof: what is found keeps every distance, and no spot of a grid is nearer by more than headings lie apart.
    #[test]
    fn on_a_roof_nothing_on_a_grid_is_much_nearer(
        wish in prop::array::uniform2(0.0..6.0_f64),
        corner in prop::array::uniform2(0.0..5.0_f64),
        least in 0.2..2.0_f64,
    ) {
        let roof = Block { min: [0.0, 0.0, 3.0], max: [6.0, 6.0, 3.0] };
        let stack = Near::Box(Block { min: [corner[0], corner[1], 3.0], max: [corner[0] + 0.5, corner[1] + 0.5, 4.0] });
        let limit = Limit { least_m: least, free_above_m: None };
        let half = [0.1; 3];
        let wish = [wish[0], wish[1], 3.0];
        let clear = |at: [f64; 3]| {
            let body = Block { min: at.map(|v| v - 0.1), max: at.map(|v| v + 0.1) };
            measure("cap", &body, &stack, Some(&limit)).unwrap().enough != Enough::No
        };
        let apart = |a: [f64; 3]| libm::hypot(a[0] - wish[0], a[1] - wish[1]);
        let found = nearest_clear("cap", &roof, half, wish, &[(stack, limit)]).unwrap();
        let grid = (0..=60).flat_map(|i| (0..=60).map(move |j| [0.1 * f64::from(i), 0.1 * f64::from(j), 3.0]));
        let best = grid.filter(|at| clear(*at)).map(apart).fold(f64::INFINITY, f64::min);
        match found {
            Some(at) => {
                prop_assert!(clear(at) && roof.has(at));
                prop_assert!(apart(at) <= best * 1.01 + 0.02, "{} and {best}", apart(at));
            }
            None => prop_assert!(best.is_infinite()),
        }
    }
}
