//! Random ceilings.

use dewpath_layout::bore::Opening;
use dewpath_layout::framing::{Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block};
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{Bend, Bore, Duct, Exit, ExitKind, Heading, Space, SpaceKind};
use proptest::prelude::*;

use super::verifier::Floor;

/// A number from 0 to 1.
fn unit() -> impl Strategy<Value = f64> {
    0.0..1.0_f64
}

/// A bore rule of the usual shape: a hole no larger than a share of the depth, away from both edges and from the bearings.
/// What it allows is more than a rule book would, so that ducts do cross members.
pub fn bore(member: &Member, along: f64, height: f64, hole: Opening) -> Bore {
    let depth = member.depth_m();
    let span = member.span[1] - member.span[0];
    if member.kind == MemberKind::Truss {
        return Bore::Forbidden("a truss is not bored".to_owned());
    }
    let (hole, wide) = match hole {
        Opening::Round { diameter_m } => (diameter_m, 0.0),
        Opening::Rectangle { width_m, height_m } => (height_m, width_m),
    };
    if hole > 0.6 * depth || wide > depth {
        return Bore::Forbidden("the hole is too large".to_owned());
    }
    if height - 0.5 * hole < 0.03 || depth - height - 0.5 * hole < 0.03 {
        return Bore::Forbidden("too near to an edge".to_owned());
    }
    if along < 0.15 * span || along > 0.85 * span {
        return Bore::Forbidden("too near to a bearing".to_owned());
    }
    Bore::Allowed
}

pub fn duct() -> impl Strategy<Value = Duct> {
    let bare = prop::sample::select(vec![0.08, 0.102, 0.125, 0.153]);
    let wrap = prop::sample::select(vec![0.0, 0.0, 0.025, 0.05]);
    (bare, wrap, any::<bool>(), any::<bool>(), 0.0..0.4_f64, 0.0..0.1_f64, unit()).prop_map(
        |(bare, wrap, slants, oval, first, min, price)| {
            let outside = bare + 2.0 * wrap;
            let bend = |id: &str, turn_deg: f64, radius_m, pressure_pa, labour_h| Bend {
                id: id.to_owned(),
                turn_deg,
                radius_m,
                pressure_pa,
                labour_h,
            };
            let mut bends = vec![
                bend("short", 90.0, 0.75 * bare, 4.0, 0.2),
                bend("long", 90.0, 1.5 * bare, 2.0, 0.2 + 0.5 * price),
            ];
            if slants {
                bends.push(bend("half", 45.0, bare, 1.0, 0.3 * price));
            }
            let oval = oval && wrap < 0.03;
            Duct {
                id: "duct".to_owned(),
                bare_m: bare,
                outside_m: if oval { 1.3 * outside } else { outside },
                height_m: oval.then_some(0.7 * outside),
                hole_m: 1.35 * outside,
                straight_pa_per_m: 0.5 + 2.0 * price,
                straight_h_per_m: 0.1,
                bends,
                first_straight_m: first,
                min_straight_m: min,
                last_straight_m: 0.5 * min,
                bore_h: 0.5,
            }
        },
    )
}

/// A box somewhere in another one, from 5 to 35 cm long each way.
fn obstacle(within: Block) -> impl Strategy<Value = Block> {
    (prop::array::uniform3(unit()), prop::array::uniform3(0.05..0.35_f64)).prop_map(
        move |(at, size)| {
            let min: [f64; 3] = std::array::from_fn(|i| {
                within.min[i] + at[i] * (within.max[i] - within.min[i] - 0.02)
            });
            Block { min, max: std::array::from_fn(|i| min[i] + size[i]) }
        },
    )
}

/// Joists along x with a second zone along y beyond them, an attic above and a lowered soffit below, each of them perhaps.
pub fn floor() -> impl Strategy<Value = Floor> {
    let sizes = (2.0..5.0_f64, 1.6..3.5_f64);
    let depth = prop::sample::select(vec![0.14, 0.184, 0.235, 0.286]);
    let spacing = prop::sample::select(vec![0.305, 0.406, 0.488, 0.61]);
    let flags = prop::array::uniform4(any::<bool>());
    (sizes, depth, spacing, 0.0..0.3_f64, flags)
        .prop_flat_map(|((lx, ly), depth, spacing, first, flags)| {
            let boxes = Block { min: [0.0, 0.0, 2.4], max: [lx, ly, 2.4 + depth + 0.5] };
            let obstacles = prop::collection::vec(obstacle(boxes), 0..6);
            let rest = (prop::array::uniform4(unit()), any::<u8>());
            (Just((lx, ly, depth, spacing, first, flags)), obstacles, rest)
        })
        .prop_map(|((lx, ly, depth, spacing, first, flags), obstacles, (at, pick))| {
            let [has_attic, has_soffit, has_second, is_truss] = flags;
            let (under, top) = (2.4, 2.4 + depth);
            let kind = if is_truss { MemberKind::Truss } else { MemberKind::Sawn };
            let zone = Zone {
                id: "joists".to_owned(),
                kind,
                along: Axis::X,
                space: Block { min: [0.0, 0.0, under], max: [lx, ly, top] },
                width_m: 0.038,
                spacing_m: spacing,
                first_m: first,
            };
            let mut bays = zone.bays(0).expect("sound framing");
            let mut members = zone.members().expect("sound framing");
            let first_bays = bays.len();
            if has_second {
                let second = Zone {
                    id: "second".to_owned(),
                    along: Axis::Y,
                    space: Block { min: [lx, 0.0, under], max: [lx + 1.5, ly, top] },
                    first_m: 0.3,
                    ..zone
                };
                bays.extend(second.bays(1).expect("sound framing"));
                members.extend(second.members().expect("sound framing"));
            }
            let mut spaces = Vec::new();
            if has_attic {
                let clear = Block { min: [0.0, 0.0, top], max: [lx, ly, top + 0.4 + at[0]] };
                spaces.push(Space { id: "attic".to_owned(), kind: SpaceKind::Attic, clear });
            }
            if has_soffit {
                let y = 0.3 + at[1] * (ly - 0.8);
                let clear = Block { min: [0.0, y, under - 0.35], max: [lx, y + 0.45, under] };
                let kind = SpaceKind::LoweredSoffit;
                spaces.push(Space { id: "soffit".to_owned(), kind, clear });
            }
            let exits = exits([lx, ly], [under, top], has_attic, has_soffit, has_second, at);
            let bay = &bays[(usize::from(pick) / 4) % first_bays];
            let middle = bay.space.middle();
            let towards = match pick % 4 {
                0 => Heading { axis: Axis::Z, ahead: true },
                1 => Heading { axis: Axis::X, ahead: false },
                _ => Heading { axis: Axis::X, ahead: true },
            };
            let from = [(0.15 + 0.7 * at[2]) * lx, middle[1], middle[2]];
            let obstacles = (obstacles.into_iter().enumerate())
                .map(|(k, solid)| Obstacle { id: format!("obstacle {k}"), solid })
                .collect();
            Floor { from, towards, bays, members, spaces, obstacles, exits }
        })
}

fn exits(
    [lx, ly]: [f64; 2],
    [under, top]: [f64; 2],
    has_attic: bool,
    has_soffit: bool,
    has_second: bool,
    at: [f64; 4],
) -> Vec<Exit> {
    let exit = |id: &str, kind, min, max, axis, ahead| Exit {
        id: id.to_owned(),
        kind,
        window: Block { min, max },
        outward: Heading { axis, ahead },
        depth_m: 0.15,
        pressure_pa: 5.0 + at[3],
        labour_h: 1.5,
    };
    let middle = 0.5 * (under + top);
    let (low, high) = (middle - 0.02, middle + 0.02);
    let end = if has_second { lx + 1.5 } else { lx };
    let mut exits = vec![
        exit("west rim", ExitKind::Rim, [0.0, 0.0, low], [0.0, ly, high], Axis::X, false),
        exit("east rim", ExitKind::Rim, [end, 0.0, low], [end, ly, high], Axis::X, true),
        exit("north rim", ExitKind::Rim, [0.0, ly, low], [end, ly, high], Axis::Y, true),
    ];
    if has_attic {
        let up = top + 0.4 + at[0];
        exits.push(exit("roof", ExitKind::Roof, [0.5, 0.3, up], [1.5, 1.2, up], Axis::Z, true));
        let (a, b) = (top + 0.1, up - 0.1);
        exits.push(exit("gable", ExitKind::Gable, [0.2, 0.0, a], [1.8, 0.0, b], Axis::Y, false));
    }
    if has_soffit {
        let (a, b) = (under - 0.3, under - 0.05);
        exits.push(exit("wall", ExitKind::Wall, [lx, 0.0, a], [lx, ly, b], Axis::X, true));
    }
    exits
}
