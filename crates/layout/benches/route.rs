//! How long the search for ways outdoors takes, and how that grows with the floor.
//!
//! Run with `cargo bench -p dewpath-layout --bench route`.

#![allow(missing_docs, unused_qualifications, reason = "the macros write such items")]
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a bench that fails here should stop")]

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use dewpath_layout::framing::{Bay, Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block};
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{
    Bend, Bore, Duct, Exit, ExitKind, Heading, Offer, Offers, Space, SpaceKind, Ways, search,
    why_none,
};

const FOOT: f64 = 0.3048;
const AHEAD_X: Heading = Heading { axis: Axis::X, ahead: true };

struct Floor {
    bays: Vec<Bay>,
    members: Vec<Member>,
    spaces: Vec<Space>,
    obstacles: Vec<Obstacle>,
    exits: Vec<Exit>,
    size: [f64; 2],
}

/// A floor of joists along x at 16 in, obstacles spread over bays and attic, exits on all sides.
fn floor(length_ft: f64, width_ft: f64, obstacles: usize, with_attic: bool) -> Floor {
    let (length, width) = (length_ft * FOOT, width_ft * FOOT);
    let (under, top) = (2.44, 2.44 + 0.286);
    let zone = Zone {
        id: "joists".to_owned(),
        kind: MemberKind::Sawn,
        along: Axis::X,
        space: Block { min: [0.0, 0.0, under], max: [length, width, top] },
        width_m: 0.038,
        spacing_m: width / (width / 0.4064).round(),
        first_m: 0.019,
    };
    let attic = Block { min: [0.0, 0.0, top], max: [length, width, top + 1.2] };
    let spaces = if with_attic {
        vec![Space { id: "attic".to_owned(), kind: SpaceKind::Attic, clear: attic }]
    } else {
        Vec::new()
    };
    // A low-discrepancy sequence spreads them evenly, the same on every run.
    let spread = |k: usize, by: f64| (k as f64 * by).fract();
    let obstacles = (1..=obstacles)
        .map(|k| {
            let (x, y) = (spread(k, 0.754_877_666) * length, spread(k, 0.569_840_291) * width);
            let z = if with_attic && k % 2 == 0 { top } else { under };
            // None stands on the collar or right behind it.
            let at_collar = (x - 0.47 * length).abs() < 0.8 && (y - 0.5 * width).abs() < 0.6;
            let x = if at_collar { x + 1.6 } else { x };
            Obstacle {
                id: format!("obstacle {k}"),
                solid: Block { min: [x, y, z], max: [x + 0.2, y + 0.2, z + 0.2] },
            }
        })
        .collect();
    let middle = 0.5 * (under + top);
    let exit = |id: &str, kind, window, outward| Exit {
        id: id.to_owned(),
        kind,
        window,
        outward,
        depth_m: 0.2,
        pressure_pa: 6.0,
        labour_h: 2.0,
    };
    let mut exits = vec![
        exit(
            "east rim",
            ExitKind::Rim,
            Block { min: [length, 0.0, middle - 0.02], max: [length, width, middle + 0.02] },
            AHEAD_X,
        ),
        exit(
            "west rim",
            ExitKind::Rim,
            Block { min: [0.0, 0.0, middle - 0.02], max: [0.0, width, middle + 0.02] },
            Heading { axis: Axis::X, ahead: false },
        ),
    ];
    if with_attic {
        exits.extend([
            exit(
                "south gable",
                ExitKind::Gable,
                Block { min: [1.0, 0.0, top + 0.2], max: [length - 1.0, 0.0, top + 0.9] },
                Heading { axis: Axis::Y, ahead: false },
            ),
            exit(
                "roof",
                ExitKind::Roof,
                Block { min: [1.0, 1.0, top + 1.2], max: [length - 1.0, width - 1.0, top + 1.2] },
                Heading { axis: Axis::Z, ahead: true },
            ),
        ]);
    }
    Floor {
        bays: zone.bays(0).unwrap(),
        members: zone.members().unwrap(),
        spaces,
        obstacles,
        exits,
        size: [length, width],
    }
}

fn duct(with_slants: bool) -> Duct {
    let bend = |id: &str, turn_deg, radius_m, pressure_pa, labour_h| Bend {
        id: id.to_owned(),
        turn_deg,
        radius_m,
        pressure_pa,
        labour_h,
    };
    let mut bends =
        vec![bend("90 short", 90.0, 0.102, 3.0, 0.3), bend("90 long", 90.0, 0.153, 2.0, 0.4)];
    if with_slants {
        bends.push(bend("45", 45.0, 0.153, 0.8, 0.3));
    }
    Duct {
        id: "4 in".to_owned(),
        bare_m: 0.102,
        outside_m: 0.153,
        height_m: None,
        hole_m: 0.16,
        straight_pa_per_m: 1.2,
        straight_h_per_m: 0.2,
        bends,
        first_straight_m: 0.3,
        min_straight_m: 0.05,
        last_straight_m: 0.1,
        bore_h: 0.5,
    }
}

/// What opens a way where there is none, every obstacle offered.
fn openings(floor: &Floor, duct: &Duct, bore: &Bore) -> usize {
    let may_bore = |_: &Member, _: f64, _: f64, _: _| bore.clone();
    let obstacles = (0..floor.obstacles.len()).map(|what| Offer { what, labour_h: None });
    let offers = Offers { obstacles: obstacles.collect(), ..Offers::default() };
    let told = why_none(&ways(floor), duct, &may_bore, &offers).unwrap();
    told.expect("a floor without a way").openings.len()
}

fn ways(floor: &Floor) -> Ways<'_> {
    let bay = &floor.bays[floor.bays.len() / 2];
    Ways {
        from: [0.45 * floor.size[0], bay.space.middle()[1], bay.space.middle()[2]],
        towards: AHEAD_X,
        bays: &floor.bays,
        members: &floor.members,
        spaces: &floor.spaces,
        obstacles: &floor.obstacles,
        exits: &floor.exits,
    }
}

fn found(floor: &Floor, duct: &Duct, bore: &Bore) -> usize {
    let may_bore = |_: &Member, _: f64, _: f64, _: _| bore.clone();
    let found = search(&ways(floor), duct, &may_bore, 5).unwrap().len();
    assert!(found > 0, "a floor without a way");
    found
}

fn routes(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("route");
    group.sample_size(20);
    let never = Bore::Forbidden("no bore".to_owned());
    let cases = [
        ("bays alone", false, false, never.clone()),
        ("bays and bores", false, false, Bore::Allowed),
        ("attic", true, false, never.clone()),
        ("attic, 45 degrees", true, true, never.clone()),
        ("attic and bores, 45 degrees", true, true, Bore::Allowed),
    ];
    for (name, attic, slants, bore) in &cases {
        let (floor, duct) = (floor(40.0, 30.0, 20, *attic), duct(*slants));
        group.bench_function(*name, |b| b.iter(|| found(black_box(&floor), &duct, bore)));
    }
    for scale in [0.5, 0.707, 1.0, 1.414, 2.0, 2.828] {
        let obstacles = (20.0_f64 * scale * scale).round() as usize;
        let (floor, duct) = (floor(40.0 * scale, 30.0 * scale, obstacles, true), duct(false));
        let area = (floor.size[0] * floor.size[1]).round();
        group.bench_with_input(BenchmarkId::new("m2", area), &floor, |b, floor| {
            b.iter(|| found(floor, &duct, &never));
        });
    }
    for scale in [1.0, 2.828] {
        let obstacles = (20.0_f64 * scale * scale).round() as usize;
        let mut floor = floor(40.0 * scale, 30.0 * scale, obstacles, false);
        // The rim behind the housing alone: no way turns round within a bay.
        floor.exits.retain(|exit| exit.id == "west rim");
        let duct = duct(true);
        let area = (floor.size[0] * floor.size[1]).round();
        group.bench_with_input(BenchmarkId::new("why none, m2", area), &floor, |b, floor| {
            b.iter(|| openings(floor, &duct, &never));
        });
    }
    group.finish();
}

criterion_group!(benches, routes);
criterion_main!(benches);
