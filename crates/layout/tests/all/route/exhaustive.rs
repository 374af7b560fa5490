//! On small floors whose faces all lie on a lattice of 10 cm, trying every corner of the lattice gives the same routes that are
//! not dominated.

use std::cell::Cell;
use std::collections::BTreeMap;

use dewpath_layout::bore::Opening;
use dewpath_layout::framing::{Bay, Member, MemberKind};
use dewpath_layout::geometry::{Axis, Block, Point};
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{
    Bend, Bore, Duct, Exit, ExitKind, Heading, Route, Space, SpaceKind, front, search,
};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::verifier::Floor;

const UNIT: f64 = 0.1;
const SIZE: [i32; 3] = [16, 10, 10];
const HAIR: f64 = 1e-3;

/// Corner on the lattice, direction (axis and sign), number of the fitting; 9 at the collar.
type State = ([i32; 3], usize, i32, usize);

/// Loss and work in thousandths, so that equal sums are equal.
type Cost = (i64, i64);

fn m(v: i32) -> f64 {
    f64::from(v) * UNIT
}

fn block(min: [i32; 3], max: [i32; 3]) -> Block {
    Block { min: min.map(m), max: max.map(m) }
}

fn duct(bends: usize, straight: i32) -> Duct {
    let bend = |id: &str, radius_m, pressure_pa, labour_h| Bend {
        id: id.to_owned(),
        turn_deg: 90.0,
        radius_m,
        pressure_pa,
        labour_h,
    };
    let all = [bend("wide", 0.2, 2.0, 0.7), bend("tight", 0.1, 5.0, 0.2)];
    Duct {
        id: "duct".to_owned(),
        bare_m: 0.2,
        outside_m: 0.2,
        height_m: None,
        hole_m: 0.22,
        straight_pa_per_m: 1.0,
        straight_h_per_m: 0.2,
        bends: all[..bends].to_vec(),
        first_straight_m: 0.1,
        min_straight_m: m(straight),
        last_straight_m: 0.1,
        bore_h: 2.0,
    }
}

/// Two bays along x with a member of 20 cm between them, an attic over both.
fn floor() -> impl Strategy<Value = (Floor, [i32; 2])> {
    let box_at = (0..14, 0..9, 0..9, 1..4, 1..4, 1..4);
    (prop::collection::vec(box_at, 0..7), 2..12, any::<bool>(), 0..16, 0..16, 1..5).prop_map(
        |(boxes, x, up, bore_from, bore_to, gable): (Vec<_>, i32, bool, i32, i32, i32)| {
            let bay = |id: &str, from, to| Bay {
                id: id.to_owned(),
                zone: 0,
                along: Axis::X,
                space: block([0, from, 0], [16, to, 4]),
            };
            let exit = |id: &str, kind, min, max, axis, ahead, pressure_pa| Exit {
                id: id.to_owned(),
                kind,
                window: block(min, max),
                outward: Heading { axis, ahead },
                depth_m: 0.2,
                pressure_pa,
                labour_h: 1.0,
            };
            let g = 2 * gable;
            let floor = Floor {
                from: [m(x), 0.2, 0.2],
                towards: Heading { axis: if up { Axis::Z } else { Axis::X }, ahead: true },
                bays: vec![bay("south", 0, 4), bay("north", 6, 10)],
                members: vec![Member {
                    id: "beam".to_owned(),
                    kind: MemberKind::Sawn,
                    along: Axis::X,
                    solid: block([0, 4, 0], [16, 6, 4]),
                    span: [0.0, 1.6],
                }],
                spaces: vec![Space {
                    id: "attic".to_owned(),
                    kind: SpaceKind::Attic,
                    clear: block([0, 0, 4], [16, 10, 10]),
                }],
                obstacles: (boxes.into_iter().enumerate())
                    .map(|(k, (x, y, z, dx, dy, dz))| Obstacle {
                        id: format!("{k}"),
                        solid: block([x, y, z], [x + dx, y + dy, z + dz]),
                    })
                    .collect(),
                exits: vec![
                    exit("rim", ExitKind::Rim, [16, 6, 2], [16, 10, 2], Axis::X, true, 6.0),
                    exit("gable", ExitKind::Gable, [g, 0, 6], [g + 2, 0, 8], Axis::Y, false, 4.0),
                    exit("roof", ExitKind::Roof, [10, 4, 10], [14, 8, 10], Axis::Z, true, 3.0),
                ],
            };
            (floor, [bore_from.min(bore_to), bore_from.max(bore_to)])
        },
    )
}

/// A raster of the floor, asked point by point.
struct Raster<'a> {
    floor: &'a Floor,
    bored: [i32; 2],
    arcs: BTreeMap<(State, usize, i32), bool>,
}

fn strictly(block: &Block, p: Point) -> bool {
    (0..3).all(|i| p[i] > block.min[i] + HAIR && p[i] < block.max[i] - HAIR)
}

impl Raster<'_> {
    /// Whether a point of the duct is clear; across the beam only where it is bored.
    fn clear(&self, p: Point, through_beam: bool) -> bool {
        let floor = self.floor;
        if floor.obstacles.iter().any(|o| strictly(&o.solid, p)) {
            return false;
        }
        if floor.members.iter().any(|b| strictly(&b.solid, p)) {
            return through_beam;
        }
        (0..3).all(|i| p[i] > -HAIR && p[i] < m(SIZE[i]) + HAIR)
    }

    /// Whether the duct may move from one lattice point to the next.
    fn step(&self, at: [i32; 3], axis: usize, sign: i32) -> bool {
        let through_beam =
            axis == 1 && at[2] == 2 && (self.bored[0]..=self.bored[1]).contains(&at[0]);
        let [j, k] = [(axis + 1) % 3, (axis + 2) % 3];
        let marks = [-0.095, -0.05, 0.0, 0.05, 0.095];
        [0.25, 0.75].iter().all(|along| {
            marks.iter().all(|u| {
                marks.iter().all(|v| {
                    let mut p = at.map(m);
                    p[axis] += f64::from(sign) * along * UNIT;
                    p[j] += u;
                    p[k] += v;
                    self.clear(p, through_beam)
                })
            })
        })
    }

    /// Whether an arc with a square section is clear, point by point.
    fn arc(&mut self, state: State, side: usize, side_sign: i32, radius: f64) -> bool {
        let key = (state, side, side_sign);
        if let Some(known) = self.arcs.get(&key) {
            return *known;
        }
        let (at, axis, sign, _) = state;
        let lateral = 3 - axis - side;
        let (s, t) = (f64::from(sign), f64::from(side_sign));
        let is_clear = (0..=45).all(|a| {
            let angle = f64::from(a).to_radians() * 2.0;
            [-0.098, -0.05, 0.0, 0.05, 0.098].iter().all(|r| {
                [-0.095, 0.0, 0.095].iter().all(|l| {
                    let mut p = at.map(m);
                    p[axis] += s * (-radius + (radius + r) * angle.sin());
                    p[side] += t * (radius - (radius + r) * angle.cos());
                    p[lateral] += l;
                    self.clear(p, false)
                })
            })
        });
        self.arcs.insert(key, is_clear);
        is_clear
    }
}

fn milli(v: f64) -> i64 {
    (v * 1000.0).round() as i64
}

/// Keeps a cost if no other beats it; tells whether it was kept.
fn keep(costs: &mut Vec<Cost>, new: Cost) -> bool {
    if costs.iter().any(|c| c.0 <= new.0 && c.1 <= new.1) {
        return false;
    }
    costs.retain(|c| !(new.0 <= c.0 && new.1 <= c.1));
    costs.push(new);
    true
}

/// Every way over the lattice with up to eight fittings.
fn all_ways(floor: &Floor, bored: [i32; 2], duct: &Duct) -> Vec<Cost> {
    let mut raster = Raster { floor, bored, arcs: BTreeMap::new() };
    let start = floor.from.map(|v| (v / UNIT).round() as i32);
    let begin: State = (start, floor.towards.axis.index(), 1, 9);
    let mut layer: BTreeMap<State, Vec<Cost>> = BTreeMap::from([(begin, vec![(0, 0)])]);
    let mut best: BTreeMap<State, Vec<Cost>> = BTreeMap::new();
    let mut out: Vec<Cost> = Vec::new();
    let units = |v: f64| (v / UNIT).round() as i32;
    for _ in 0..=8 {
        let mut next: BTreeMap<State, Vec<Cost>> = BTreeMap::new();
        for (state, costs) in layer {
            let (at, axis, sign, bend) = state;
            let used = duct.bends.get(bend).map_or(0, |b| units(b.radius_m));
            let needed = units(if bend == 9 { duct.first_straight_m } else { duct.min_straight_m });
            // From the end of the fitting on, lattice point by lattice point, as long as it is clear.
            let mut end = at;
            end[axis] += sign * used;
            let mut straight = 0;
            let mut bores = 0;
            loop {
                let per = |length: f64, rate: f64| milli(length * rate);
                let run = (
                    per(m(straight), duct.straight_pa_per_m),
                    per(m(straight), duct.straight_h_per_m) + milli(duct.bore_h) * bores,
                );
                for exit in &floor.exits {
                    let p = end.map(m);
                    let inside = (0..3).all(|i| {
                        p[i] > exit.window.min[i] - HAIR && p[i] < exit.window.max[i] + HAIR
                    });
                    let outward =
                        exit.outward.axis.index() == axis && exit.outward.ahead == (sign > 0);
                    if inside && outward && straight >= units(duct.last_straight_m) {
                        let more = (
                            per(exit.depth_m, duct.straight_pa_per_m) + milli(exit.pressure_pa),
                            per(exit.depth_m, duct.straight_h_per_m) + milli(exit.labour_h),
                        );
                        for c in &costs {
                            keep(&mut out, (c.0 + run.0 + more.0, c.1 + run.1 + more.1));
                        }
                    }
                }
                for (number, fitting) in
                    duct.bends.iter().enumerate().filter(|_| straight >= needed)
                {
                    let mut corner = end;
                    corner[axis] += sign * units(fitting.radius_m);
                    let here: State = (corner, axis, sign, number);
                    for side in (0..3).filter(|s| *s != axis) {
                        for side_sign in [-1, 1] {
                            if !raster.arc(here, side, side_sign, fitting.radius_m) {
                                continue;
                            }
                            let to: State = (corner, side, side_sign, number);
                            for c in &costs {
                                let new = (
                                    c.0 + run.0 + milli(fitting.pressure_pa),
                                    c.1 + run.1 + milli(fitting.labour_h),
                                );
                                if keep(best.entry(to).or_default(), new) {
                                    keep(next.entry(to).or_default(), new);
                                }
                            }
                        }
                    }
                }
                if !raster.step(end, axis, sign) {
                    break;
                }
                // The beam is counted where its middle is passed.
                end[axis] += sign;
                straight += 1;
                bores += i64::from(axis == 1 && end[1] == 5 && end[2] < 4);
            }
        }
        layer = next;
    }
    out.sort_unstable();
    out
}

#[test]
fn small_floors_have_the_same_routes_as_by_trying_everything() {
    let config = Config { cases: 100, failure_persistence: None, ..Config::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let (several, none) = (Cell::new(0), Cell::new(0));
    runner
        .run(&(floor(), 1..3_usize, 0..2), |((floor, bored), bends, straight)| {
            let duct = duct(bends, straight);
            let may_bore = |_: &Member, along: f64, height: f64, _: Opening| {
                let inside = along > m(bored[0]) - 1e-6 && along < m(bored[1]) + 1e-6;
                if inside && (height - 0.2).abs() < HAIR {
                    Bore::Allowed
                } else {
                    Bore::Forbidden("not here".to_owned())
                }
            };
            let expected = all_ways(&floor, bored, &duct);
            let amounts = |r: &Route| (milli(r.pressure_pa), milli(r.labour_h));
            let ways = floor.ways();
            let found = front(&ways, &duct, &may_bore).expect("sound geometry");
            let found: Vec<Cost> = found.iter().map(amounts).collect();
            several.set(several.get() + usize::from(expected.len() > 1));
            none.set(none.get() + usize::from(expected.is_empty()));
            prop_assert_eq!(&found, &expected);
            // Of ways through the same spaces to the same exit a search shows one, that with the least loss.
            let shown = search(&ways, &duct, &may_bore, usize::MAX).expect("sound geometry");
            prop_assert_eq!(shown.first().map(amounts), expected.first().copied());
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    assert!(several.get() > 10, "floors with several routes: {}", several.get());
    assert!(none.get() > 0, "floors without a way: {}", none.get());
}
