//! Placement in a floor of 40 ft x 30 ft with 30 members and 20 obstacles: three places, and the reason why there is none.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use dewpath_layout::framing::{Bay, Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block};
use dewpath_layout::place::{Housing, Obstacle, Outlet, Side, Site, Stock, Wish, places};
use dewpath_layout::room::Plan;

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;

/// Members, bays and obstacles of a floor of 40 ft by so many feet; two thirds of an obstacle for each foot.
fn floor(width_ft: u32) -> (Vec<Member>, Vec<Bay>, Vec<Obstacle>) {
    let zone = Zone {
        id: "joists".to_owned(),
        kind: MemberKind::Sawn,
        along: Axis::Y,
        space: Block {
            min: [0.0, 0.0, 2.44],
            max: [40.0 * FOOT, f64::from(width_ft) * FOOT, 2.44 + 9.25 * INCH],
        },
        width_m: 1.5 * INCH,
        spacing_m: 16.0 * INCH,
        first_m: 0.75 * INCH,
    };
    let obstacles = (0..width_ft * 2 / 3).map(|k| {
        // Spread by a step that shares no factor with the floor.
        let (x, y) = (f64::from(k * 13 % 37) * FOOT, f64::from(k * 7 % width_ft) * FOOT);
        let solid = Block { min: [x, y, 2.43], max: [x + 0.6, y + 0.25, 2.6] };
        Obstacle { id: format!("obstacle {k}"), solid }
    });
    let obstacles = obstacles.collect();
    (zone.members().expect("sound"), zone.bays(0).expect("sound"), obstacles)
}

fn housing(width_in: f64) -> Housing {
    Housing {
        id: "fan".to_owned(),
        body_m: [width_in * INCH, 11.0 * INCH, 7.5 * INCH],
        flange_m: 0.5 * INCH,
        flange_between: false,
        reach_m: 0.25 * INCH,
        outlet: Outlet {
            side: Side::PlusY,
            offset_m: 0.0,
            height_m: 4.0 * INCH,
            outside_m: 4.0 * INCH,
            collar_m: 1.5 * INCH,
            straight_m: 36.0 * INCH,
        },
        listed_wet: false,
    }
}

fn placement(c: &mut Criterion) {
    let mut group = c.benchmark_group("place");
    for width_ft in [15, 30, 60, 120] {
        let (members, bays, obstacles) = floor(width_ft);
        let plan = Plan::rectangle("floor", [0.0, 0.0], [40.0 * FOOT, f64::from(width_ft) * FOOT]);
        let plan = plan.expect("sound");
        let site = Site {
            bays: &bays,
            members: &members,
            open: &[],
            obstacles: &obstacles,
            wet: &[],
            plan: Some(&plan),
            board_m: 0.5 * INCH,
            play_m: 0.0,
            straight_may_leave: true,
            stock: Stock { thickness_m: 1.5 * INCH, depth_m: 9.25 * INCH },
        };
        let wish = Wish { at: [6.1, 4.6], cable_from: Some([0.5, 0.5]), keep: 3, per_bay: 1 };
        let (fits, wide) = (housing(10.0), housing(15.0));
        group.bench_function(BenchmarkId::new("three places", width_ft), |b| {
            b.iter(|| places(black_box(&fits), &site, &wish));
        });
        group.bench_function(BenchmarkId::new("none, and why", width_ft), |b| {
            b.iter(|| places(black_box(&wide), &site, &wish));
        });
    }
    group.finish();
}

criterion_group!(benches, placement);
criterion_main!(benches);
