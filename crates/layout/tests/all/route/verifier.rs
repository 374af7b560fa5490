//! Whether a route is legal, by first principles and with nothing of the search: points on the surface of the duct, every few
//! millimetres along it, against bays, spaces, members and obstacles one by one.

use dewpath_layout::bore::Opening;
use dewpath_layout::framing::{Bay, Member};
use dewpath_layout::geometry::{Block, Point};
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{Bore, Duct, Exit, MayBore, Route, Space, Ways};

/// Slack for lengths, m.
const HAIR: f64 = 3e-4;

/// A floor that owns what a search borrows.
#[derive(Debug, Clone)]
pub struct Floor {
    pub from: Point,
    pub towards: dewpath_layout::route::Heading,
    pub bays: Vec<Bay>,
    pub members: Vec<Member>,
    pub spaces: Vec<Space>,
    pub obstacles: Vec<Obstacle>,
    pub exits: Vec<Exit>,
}

impl Floor {
    pub fn ways(&self) -> Ways<'_> {
        Ways {
            from: self.from,
            towards: self.towards,
            bays: &self.bays,
            members: &self.members,
            spaces: &self.spaces,
            obstacles: &self.obstacles,
            exits: &self.exits,
        }
    }
}

fn sub(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] - b[i])
}

fn plus(a: Point, d: Point, by: f64) -> Point {
    std::array::from_fn(|i| a[i] + d[i] * by)
}

fn dot(a: Point, b: Point) -> f64 {
    (0..3).map(|i| a[i] * b[i]).sum()
}

fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn inside(block: &Block, p: Point, grown: f64) -> bool {
    (0..3).all(|i| p[i] > block.min[i] - grown && p[i] < block.max[i] + grown)
}

/// What is wrong with a route; empty where nothing is.
pub fn faults(floor: &Floor, duct: &Duct, may_bore: &MayBore<'_>, route: &Route) -> Vec<String> {
    let mut faults = Vec::new();
    let exit = floor.exits.iter().find(|e| e.id == route.exit).expect("a known exit");
    let legs = &route.legs;
    if legs.len() != route.bends.len() + 1 {
        faults.push("a fitting between each two legs".to_owned());
        return faults;
    }
    let directions: Vec<Point> = legs
        .iter()
        .map(|leg| {
            let d = sub(leg.to, leg.from);
            d.map(|v| v / length(d))
        })
        .collect();
    if length(sub(legs[0].from, floor.from)) > HAIR
        || dot(directions[0], floor.towards.vector()) < 1.0 - 1e-9
    {
        faults.push("it doesn't begin at the collar".to_owned());
    }
    let last = legs[legs.len() - 1].to;
    if !inside(&exit.window, last, HAIR)
        || dot(directions[legs.len() - 1], exit.outward.vector()) < 1.0 - 1e-9
    {
        faults.push("it doesn't end in the window of its exit".to_owned());
    }
    // Fittings: their turn, their radius, the straight lengths between them.
    let tangent = |k: usize| {
        let bend = &route.bends[k];
        bend.radius_m * (0.5 * bend.turn_deg.to_radians()).tan()
    };
    for (k, at) in route.bends.iter().enumerate() {
        let listed = duct.bends.iter().any(|b| {
            b.id == at.bend
                && (b.radius_m - at.radius_m).abs() < 1e-12
                && (b.turn_deg - at.turn_deg).abs() < 1e-9
        });
        let turn = dot(directions[k], directions[k + 1]).clamp(-1.0, 1.0).acos().to_degrees();
        if !listed || (turn - at.turn_deg).abs() > 0.01 {
            faults.push(format!("fitting {k} turns by {turn}"));
        }
        if length(sub(legs[k].to, at.corner)) > HAIR
            || length(sub(legs[k + 1].from, at.corner)) > HAIR
        {
            faults.push(format!("fitting {k} is not at the corner"));
        }
    }
    let count = legs.len();
    let mut straight_sum = 0.0;
    for (k, leg) in legs.iter().enumerate() {
        let before = if k == 0 { 0.0 } else { tangent(k - 1) };
        let after = if k + 1 == count { 0.0 } else { tangent(k) };
        let straight = length(sub(leg.to, leg.from)) - before - after;
        let mut needed: f64 = if k > 0 && k + 1 < count { duct.min_straight_m } else { 0.0 };
        if k == 0 && count > 1 {
            needed = needed.max(duct.first_straight_m);
        }
        if k > 0 && k + 1 == count {
            needed = needed.max(duct.last_straight_m);
        }
        if straight < needed - HAIR {
            faults.push(format!("leg {k} is straight for {straight}, {needed} are needed"));
        }
        straight_sum += straight;
    }
    // What it costs.
    let arcs: f64 = route.bends.iter().map(|b| b.radius_m * b.turn_deg.to_radians()).sum();
    let of = |id: &str| duct.bends.iter().find(|b| b.id == id).expect("a listed fitting");
    let duct_m = straight_sum + exit.depth_m;
    let pressure = duct_m * duct.straight_pa_per_m
        + route.bends.iter().map(|b| of(&b.bend).pressure_pa).sum::<f64>()
        + exit.pressure_pa;
    let labour = duct_m * duct.straight_h_per_m
        + route.bends.iter().map(|b| of(&b.bend).labour_h).sum::<f64>()
        + route.crossings.len() as f64 * duct.bore_h
        + exit.labour_h;
    for (what, told, computed) in [
        ("length", route.length_m, duct_m + arcs),
        ("loss", route.pressure_pa, pressure),
        ("work", route.labour_h, labour),
    ] {
        if (told - computed).abs() > 1e-6 * (1.0 + computed) {
            faults.push(format!("{what} is told as {told}, comes to {computed}"));
        }
    }
    // Which way the broad side of an oval duct lies: level, and where the duct stands up across the plane in which it was
    // turned up or will be turned down, which must be one.
    let plane = |k: usize| cross(directions[k], directions[k + 1]);
    let mut sides: Vec<Point> = directions.iter().map(|d| cross(*d, UP)).collect();
    for k in (0..count).filter(|k| is_upright(directions[*k])) {
        let (before, after) = (k.checked_sub(1).map(plane), (k + 1 < count).then(|| plane(k)));
        if let (Some(a), Some(b), Some(_)) = (before, after, duct.height_m)
            && length(cross(a, b)) > 1e-6
        {
            faults.push(format!("leg {k} stands up and is turned in two planes"));
        }
        sides[k] = before.or(after).unwrap_or([1.0, 0.0, 0.0]);
    }
    // The surface along straights and arcs.
    for (k, leg) in legs.iter().enumerate() {
        let d = directions[k];
        let before = if k == 0 { 0.0 } else { tangent(k - 1) };
        let after = if k + 1 == count { 0.0 } else { tangent(k) };
        let whole = length(sub(leg.to, leg.from));
        let (from, to) = (before, whole - after);
        let steps = ((to - from) / 0.006).ceil().max(1.0) as usize;
        for s in 0..=steps {
            let at = plus(leg.from, d, from + (to - from) * s as f64 / steps as f64);
            // The end faces touch what they lead into: step inside.
            let at = if s == 0 { plus(at, d, HAIR) } else { at };
            let at = if s == steps { plus(at, d, -HAIR) } else { at };
            ring(floor, duct, may_bore, route, at, [d, sides[k]], true, &mut faults);
        }
    }
    for (k, bend) in route.bends.iter().enumerate() {
        let (d, e) = (directions[k], directions[k + 1]);
        let start = plus(bend.corner, d, -tangent(k));
        // Towards the centre of the arc: across the first leg, in the plane of both.
        let aside = plus(e, d, -dot(e, d));
        let n = aside.map(|v| v / length(aside));
        let centre = plus(start, n, bend.radius_m);
        let plane = cross(d, n);
        let turn = bend.turn_deg.to_radians();
        let steps = (turn * bend.radius_m / 0.006).ceil().max(4.0) as usize;
        for s in 0..=steps {
            let angle = turn * s as f64 / steps as f64;
            let at =
                plus(plus(centre, n, -bend.radius_m * angle.cos()), d, bend.radius_m * angle.sin());
            let heading: Point = std::array::from_fn(|i| d[i] * angle.cos() + n[i] * angle.sin());
            let side = if is_upright(plane) { cross(heading, UP) } else { plane };
            ring(floor, duct, may_bore, route, at, [heading, side], false, &mut faults);
        }
    }
    faults
}

/// The hole for a duct: round, or as wide and as high as the duct and its play.
fn hole_for(duct: &Duct) -> Opening {
    match duct.height_m {
        None => Opening::Round { diameter_m: duct.hole_m },
        Some(height) => Opening::Rectangle {
            width_m: duct.hole_m,
            height_m: height + (duct.hole_m - duct.outside_m),
        },
    }
}

const UP: Point = [0.0, 0.0, 1.0];

fn is_upright(direction: Point) -> bool {
    direction[2].abs() > 0.99 * length(direction)
}

/// Points round the duct at one place of its centre line, of its heading and that of its broad side.
#[allow(clippy::too_many_arguments, reason = "one place with all that it is held against")]
fn ring(
    floor: &Floor,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    route: &Route,
    at: Point,
    [heading, side]: [Point; 2],
    is_straight: bool,
    faults: &mut Vec<String>,
) {
    let side = side.map(|v| v / length(side));
    let top = cross(side, heading);
    let wide = 0.5 * duct.outside_m - HAIR;
    let high = 0.5 * duct.height_m.unwrap_or(duct.outside_m) - HAIR;
    let mut points = vec![at];
    points.extend((0..12).map(|k| {
        let angle = f64::from(k) * std::f64::consts::TAU / 12.0;
        plus(plus(at, side, wide * angle.cos()), top, high * angle.sin())
    }));
    for p in points {
        if floor.obstacles.iter().any(|o| inside(&o.solid, p, -HAIR)) {
            faults.push(format!("an obstacle at {p:?}"));
        }
        let mut in_hole = false;
        for member in floor.members.iter().filter(|m| inside(&m.solid, p, -HAIR)) {
            let along = member.along.index();
            let square = is_straight && heading[1 - along].abs() > 1.0 - 1e-9;
            let (from_bearing, height) = (at[along] - member.span[0], at[2] - member.solid.min[2]);
            let allowed = may_bore(member, from_bearing, height, hole_for(duct)) == Bore::Allowed;
            let told = route.crossings.iter().any(|c| {
                c.member == member.id
                    && (c.along_m - from_bearing).abs() < HAIR
                    && (c.height_m - height).abs() < HAIR
                    && c.opening == hole_for(duct)
            });
            // The broad side of what is not round lies along the member, as the hole does.
            in_hole = square && allowed && told && side[along].abs() > 1.0 - 1e-9;
            if !in_hole {
                faults.push(format!("member {} at {p:?}", member.id));
            }
        }
        // Between the end of a member and the bay the point may lie on either's face.
        let on_member = in_hole
            || floor.members.iter().any(|m| {
                inside(&m.solid, p, HAIR) && route.crossings.iter().any(|c| c.member == m.id)
            });
        let regions =
            floor.bays.iter().map(|b| &b.space).chain(floor.spaces.iter().map(|s| &s.clear));
        if !on_member && !regions.into_iter().any(|r| inside(r, p, HAIR)) {
            faults.push(format!("outside of every bay and space at {p:?}"));
        }
    }
}
