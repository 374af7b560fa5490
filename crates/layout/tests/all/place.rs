//! Where a housing fits: worked by hand, and against a search that tries every spot of a fine grid.

use dewpath_layout::framing::{Bay, Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block, TOUCH_M};
use dewpath_layout::place::{
    Bound, Housing, NoPlace, Obstacle, Outlet, Place, PlaceError, Side, Site, Stock, Wish,
    crossed_by_cable, places,
};
use dewpath_layout::room::Plan;
use proptest::prelude::*;

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;

/// A floor that owns what a site borrows.
#[derive(Debug, Clone)]
struct Floor {
    members: Vec<Member>,
    bays: Vec<Bay>,
    open: Vec<Block>,
    obstacles: Vec<Obstacle>,
    wet: Vec<Obstacle>,
    plan: Option<Plan>,
    may_leave: bool,
}

impl Floor {
    fn new(zones: &[Zone], plan: Option<Plan>) -> Self {
        let members = zones.iter().flat_map(|z| z.members().expect("sound framing")).collect();
        let bays = zones.iter().enumerate();
        let bays = bays.flat_map(|(k, z)| z.bays(k).expect("sound framing")).collect();
        let (open, obstacles, wet) = (Vec::new(), Vec::new(), Vec::new());
        Self { members, bays, open, obstacles, wet, plan, may_leave: false }
    }

    fn site(&self) -> Site<'_> {
        Site {
            bays: &self.bays,
            members: &self.members,
            open: &self.open,
            obstacles: &self.obstacles,
            wet: &self.wet,
            plan: self.plan.as_ref(),
            board_m: 0.5 * INCH,
            play_m: 0.0,
            straight_may_leave: self.may_leave,
            stock: Stock { thickness_m: 1.5 * INCH, depth_m: 9.25 * INCH },
        }
    }

    fn places(&self, housing: &Housing, at: [f64; 2]) -> Result<Vec<Place>, PlaceError> {
        places(housing, &self.site(), &Wish { at, cable_from: None, keep: 8, per_bay: 4 })
    }

    fn nowhere(&self, housing: &Housing, at: [f64; 2]) -> NoPlace {
        match self.places(housing, at) {
            Err(PlaceError::Nowhere(nowhere)) => nowhere,
            other => unreachable!("a reason was expected, not {other:?}"),
        }
    }
}

/// 2x10 at 16 in along y over 8 ft x 5 ft, the first one flush with the edge.
fn joists() -> Zone {
    Zone {
        id: "joists".to_owned(),
        kind: MemberKind::Sawn,
        along: Axis::Y,
        space: Block {
            min: [0.0, 0.0, 8.0 * FOOT],
            max: [8.0 * FOOT, 10.0 * FOOT, 8.0 * FOOT + 9.25 * INCH],
        },
        width_m: 1.5 * INCH,
        spacing_m: 16.0 * INCH,
        first_m: 0.75 * INCH,
    }
}

/// Body of 10 x 11 x 7-1/2 in with a 4 in outlet on the side that looks towards greater y.
fn housing() -> Housing {
    Housing {
        id: "fan".to_owned(),
        body_m: [10.0 * INCH, 11.0 * INCH, 7.5 * INCH],
        flange_m: 0.5 * INCH,
        flange_between: false,
        reach_m: 0.25 * INCH,
        outlet: Outlet {
            side: Side::PlusY,
            offset_m: 0.0,
            height_m: 4.0 * INCH,
            outside_m: 4.0 * INCH,
            collar_m: 1.5 * INCH,
            straight_m: 12.0 * INCH,
        },
        listed_wet: false,
    }
}

fn room() -> Plan {
    Plan::rectangle("bath", [0.0, 0.0], [8.0 * FOOT, 10.0 * FOOT]).expect("a sound outline")
}

fn block(id: &str, min: [f64; 3], max: [f64; 3]) -> Obstacle {
    Obstacle {
        id: id.to_owned(),
        solid: Block { min: min.map(|v| v * INCH), max: max.map(|v| v * INCH) },
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// Joists stand at 32 to 33-1/2 in and 48 to 49-1/2 in: the bay between them is clear from 33-1/2 to 48. A body 10 in wide
/// has its middle between 38-1/2 and 43: a wish at 45 is off by 2 in. Worked by hand.
#[test]
fn nearest_in_a_bay_by_hand() {
    let floor = Floor::new(&[joists()], Some(room()));
    let found = floor.places(&housing(), [45.0 * INCH, 60.0 * INCH]).unwrap();
    let first = &found[0];
    assert_eq!((first.bay_id.as_str(), first.turns), ("joists 3", 0));
    assert!(near(first.middle[0] / INCH, 43.0) && near(first.middle[1] / INCH, 60.0));
    assert!(near(first.offset_m[0] / INCH, -2.0) && near(first.distance_m / INCH, 2.0));
    assert_eq!(first.why, [Bound::Member("joists 4".to_owned())]);
    // Turned half round it hangs in the same spot; across the bay the first straight length finds no room.
    assert_eq!((found[1].turns, found[1].bay), (2, first.bay));
    assert!(found.iter().all(|place| place.turns % 2 == 0), "{found:?}");
    // 11 in of body and the outlet at 60 + 5-1/2.
    assert!(near(first.outlet[1] / INCH, 65.5) && near(first.towards[1], 1.0));
    assert!(near(first.outlet[2] / INCH, 96.0 - 0.5 + 4.0));
    assert!(near(first.body.min[2] / INCH, 95.5) && near(first.body.max[2] / INCH, 103.0));
    assert!(near(first.body.min[0] / INCH, 38.0));
}

#[test]
fn a_wish_that_can_be_met_is_met() {
    let floor = Floor::new(&[joists()], Some(room()));
    let first = &floor.places(&housing(), [40.0 * INCH, 60.0 * INCH]).unwrap()[0];
    assert!(near(first.distance_m, 0.0) && first.why.is_empty());
}

#[test]
fn blocks_are_cut_to_the_clear_bay() {
    let floor = Floor::new(&[joists()], Some(room()));
    let first = &floor.places(&housing(), [43.0 * INCH, 60.0 * INCH]).unwrap()[0];
    let mount = &first.mount;
    assert_eq!(mount.faces[1].member.as_deref(), Some("joists 4"));
    assert!(mount.faces[1].fastened && !mount.faces[0].fastened);
    assert!(near(mount.faces[0].gap_m / INCH, 4.5));
    // 16 in less 1-1/2 in of lumber, PS 20.
    assert!(mount.blocks.iter().all(|b| near(b.length_m / INCH, 14.5)));
    assert_eq!(mount.bars.unwrap().count, 2);
    // The duct leaves where the far block would stand.
    assert_eq!(mount.blocks[1].blocked_by, Some(Bound::FirstStraight(None)));
    assert_eq!(mount.clear_blocks().count(), 1);
    assert!(near(mount.blocks[0].at[1] / INCH, 54.5) && near(mount.blocks[0].at[0] / INCH, 40.75));
    assert_eq!(mount.blocks[0].between, [Some("joists 3".to_owned()), Some("joists 4".to_owned())]);
    // A body as wide as the bay needs none.
    let wide = Housing { body_m: [14.5 * INCH, 11.0 * INCH, 7.5 * INCH], ..housing() };
    let first = &floor.places(&wide, [43.0 * INCH, 60.0 * INCH]).unwrap()[0];
    assert!(near(first.middle[0] / INCH, 40.75));
    assert!(first.mount.blocks.is_empty() && first.mount.bars.is_none());
}

#[test]
fn too_wide_by_half_an_inch() {
    let floor = Floor::new(&[joists()], Some(room()));
    let wide = Housing { body_m: [15.0 * INCH, 15.0 * INCH, 7.5 * INCH], ..housing() };
    let nowhere = floor.nowhere(&wide, [45.0 * INCH, 60.0 * INCH]);
    let first = &nowhere.shortfalls[0];
    assert_eq!(first.bound, Bound::BayWidth);
    assert!(first.enough_alone);
    assert!((first.short_m.unwrap() - 0.5 * INCH).abs() < 2e-4, "{first:?}");
}

#[test]
fn too_deep_for_the_bay_unless_an_attic_is_above() {
    let mut floor = Floor::new(&[joists()], Some(room()));
    let deep = Housing { body_m: [10.0 * INCH, 11.0 * INCH, 10.5 * INCH], ..housing() };
    let nowhere = floor.nowhere(&deep, [45.0 * INCH, 60.0 * INCH]);
    assert_eq!(nowhere.shortfalls[0].bound, Bound::BayHeight);
    // 10-1/2 less the 1/2 in board leaves 10 over the underside of 9-1/4 in joists.
    assert!((nowhere.shortfalls[0].short_m.unwrap() - 0.75 * INCH).abs() < 2e-4, "{nowhere:?}");
    let mut attic = joists().space;
    attic.min[2] = attic.max[2];
    attic.max[2] += 1.0;
    floor.open.push(attic);
    assert!(floor.places(&deep, [45.0 * INCH, 60.0 * INCH]).is_ok());
    // An attic over part of the ceiling only.
    floor.open[0].min[1] = 100.0 * INCH;
    let first = &floor.places(&deep, [40.0 * INCH, 60.0 * INCH]).unwrap()[0];
    // Only the body rises; its duct runs back under the closed part.
    assert_eq!(first.turns, 2);
    assert!(near(first.middle[1] / INCH, 105.5), "{first:?}");
    assert_eq!(first.why, [Bound::BayHeight]);
}

#[test]
fn wet_zone_needs_a_listing() {
    let mut floor = Floor::new(&[joists()], Some(room()));
    floor.wet.push(block("shower", [0.0, 0.0, 0.0], [96.0, 36.0, 96.0]));
    let wish = [40.0 * INCH, 20.0 * INCH];
    let first = &floor.places(&housing(), wish).unwrap()[0];
    // Flange of 1/2 in beyond 5-1/2 in of body.
    assert!(near(first.middle[1] / INCH, 42.0), "{first:?}");
    assert_eq!(first.why, [Bound::WetZone("shower".to_owned())]);
    let listed = Housing { listed_wet: true, ..housing() };
    assert!(near(floor.places(&listed, wish).unwrap()[0].distance_m, 0.0));
    // All of the room is wet.
    floor.wet[0] = block("shower", [-9.0, -9.0, 0.0], [106.0, 130.0, 96.0]);
    let nowhere = floor.nowhere(&housing(), wish);
    assert!(nowhere.shortfalls.iter().any(|s| s.bound == Bound::WetZone("shower".to_owned())));
}

#[test]
fn first_straight_length_needs_room() {
    let mut floor = Floor::new(&[joists()], Some(room()));
    // A pipe across all bays 8 in beyond the body.
    floor.obstacles.push(block("drain", [0.0, 73.5, 98.0], [96.0, 76.5, 101.0]));
    let wish = [40.0 * INCH, 60.0 * INCH];
    let found = floor.places(&housing(), wish).unwrap();
    // Turned half round it stays; unturned it moves back: 73-1/2 - 13-1/2 - 5-1/2.
    assert_eq!(found[0].turns, 2);
    let unturned = found.iter().find(|p| p.turns == 0 && p.bay == found[0].bay).unwrap();
    assert!(near(unturned.middle[1] / INCH, 54.5), "{unturned:?}");
    assert_eq!(unturned.why, [Bound::FirstStraight(Some("drain".to_owned()))]);
    // 10 ft of straight length fits nowhere but through the end of the bay.
    let mut long = housing();
    long.outlet.straight_m = 10.0 * FOOT;
    floor.obstacles.clear();
    let nowhere = floor.nowhere(&long, wish);
    assert_eq!(nowhere.shortfalls[0].bound, Bound::FirstStraight(None));
    // 120 in less the body of 11 and the collar of 1-1/2 leaves 107-1/2; the flange keeps 1/2 in off the wall.
    assert!((nowhere.shortfalls[0].short_m.unwrap() - 13.0 * INCH).abs() < 3e-4, "{nowhere:?}");
    floor.may_leave = true;
    assert!(near(floor.places(&long, wish).unwrap()[0].distance_m, 0.0));
}

#[test]
fn outlet_upwards_needs_an_attic() {
    let mut floor = Floor::new(&[joists()], Some(room()));
    let mut up = housing();
    up.outlet.side = Side::Up;
    let wish = [40.0 * INCH, 60.0 * INCH];
    assert_eq!(floor.nowhere(&up, wish).shortfalls[0].bound, Bound::FirstStraight(None));
    let mut attic = joists().space;
    attic.min[2] = attic.max[2];
    attic.max[2] += 1.0;
    floor.open.push(attic);
    let found = floor.places(&up, wish).unwrap();
    assert_eq!(found.iter().filter(|p| p.bay == found[0].bay).count(), 4);
    assert!(near(found[0].towards[2], 1.0) && near(found[0].outlet[2] / INCH, 103.0));
    assert!(found[0].mount.clear_blocks().count() == 2);
}

#[test]
fn a_slanted_wall_keeps_the_flange_inside() {
    // The wall runs from (60, 0) to (96, 36): below it x - y = 60. A flange of 11 x 12 in touches it with its corner:
    // x + 5-1/2 - (y - 6) = 60. Nearest to (90, 10) on that line would be in the joist; worked for the bay 65-1/2 to 80.
    let corners = [[0.0, 0.0], [60.0, 0.0], [96.0, 36.0], [96.0, 120.0], [0.0, 120.0]];
    let corners = corners.map(|c| c.map(|v| v * INCH));
    let floor = Floor::new(&[joists()], Some(Plan::new("bath", &corners).unwrap()));
    let first = &floor.places(&housing(), [75.0 * INCH, 20.0 * INCH]).unwrap()[0];
    assert!(near(first.middle[0] / INCH + 11.5 - first.middle[1] / INCH, 60.0), "{first:?}");
    // Foot of (75, 20) on x - y = 48-1/2: (71.75, 23.25), inside the bay's 70-1/2 to 75.
    assert!(near(first.middle[0] / INCH, 71.75) && near(first.middle[1] / INCH, 23.25));
    assert_eq!(first.why, [Bound::Outline]);
}

#[test]
fn two_limits_at_once_are_both_named() {
    let floor = Floor::new(&[joists()], Some(room()));
    let big = Housing { body_m: [15.0 * INCH, 16.0 * INCH, 12.0 * INCH], ..housing() };
    let nowhere = floor.nowhere(&big, [45.0 * INCH, 60.0 * INCH]);
    let bounds: Vec<_> = nowhere.shortfalls.iter().map(|s| s.bound.clone()).collect();
    assert!(bounds.contains(&Bound::BayWidth) && bounds.contains(&Bound::BayHeight), "{nowhere:?}");
    assert!(nowhere.shortfalls.iter().all(|s| !s.enough_alone));
    let empty = Floor::new(&[], Some(room()));
    assert_eq!(empty.nowhere(&housing(), [1.0, 1.0]).shortfalls[0].bound, Bound::NoFraming);
}

/// A bay of two tenths of a millimetre beside the last member, as rounding leaves it, is no error and no place.
#[test]
fn a_sliver_of_a_bay_is_no_place() {
    let mut zone = joists();
    zone.space.max[0] = (0.75 + 80.0 + 0.75) * INCH + 1.5e-4;
    let floor = Floor::new(&[zone], Some(room()));
    assert!(floor.bays.last().unwrap().space.size(Axis::X) < 2e-4);
    assert!(near(floor.places(&housing(), [40.0 * INCH, 60.0 * INCH]).unwrap()[0].distance_m, 0.0));
}

#[test]
fn cable_crosses_members_in_order() {
    let members = joists().members().unwrap();
    let at = |x: f64, y: f64| [x * INCH, y * INCH];
    assert_eq!(crossed_by_cable(&members, at(5.0, 10.0), at(40.0, 60.0)), ["joists 2", "joists 3"]);
    assert_eq!(crossed_by_cable(&members, at(40.0, 60.0), at(5.0, 10.0)), ["joists 3", "joists 2"]);
    assert!(crossed_by_cable(&members, at(40.0, 10.0), at(41.0, 60.0)).is_empty());
    // Round the end of a member that stops short, where that crosses fewer.
    let mut short = members.clone();
    short[1].solid.min[1] = 30.0 * INCH;
    short[2].solid.min[1] = 30.0 * INCH;
    assert!(crossed_by_cable(&short, at(5.0, 10.0), at(40.0, 60.0)).is_empty());
}

#[test]
fn bad_geometry_says_what_is_wrong() {
    let floor = Floor::new(&[joists()], Some(room()));
    let bad = |change: &dyn Fn(&mut Housing)| {
        let mut housing = housing();
        change(&mut housing);
        match floor.places(&housing, [1.0, 1.0]) {
            Err(PlaceError::Bad(bad)) => bad,
            other => panic!("an error was expected, not {other:?}"),
        }
    };
    let large = bad(&|h| h.body_m = [3.0, 4.0, 0.2]);
    assert_eq!(
        (large.what, large.reason, large.way_out),
        (
            "longer side of the housing with its flange",
            "it is larger than the room",
            "check the units of the housing and of the room"
        )
    );
    assert!(near(large.value, 4.0 + INCH));
    assert_eq!(bad(&|h| h.body_m[0] = 0.0).what, "width of the housing");
    assert_eq!(bad(&|h| h.body_m[2] = f64::NAN).what, "depth of the housing");
    assert_eq!(bad(&|h| h.body_m[2] = 0.01).what, "depth of the housing");
    assert_eq!(bad(&|h| h.outlet.straight_m = -1.0).what, "first straight length");
    assert_eq!(bad(&|h| h.flange_m = f64::INFINITY).what, "flange");
    let wish = floor.places(&housing(), [f64::NAN, 0.0]);
    assert!(matches!(wish, Err(PlaceError::Bad(b)) if b.what == "wished place"));
    let mut outside = floor.clone();
    outside.members[0].span = [-1.0, 9.0];
    assert!(
        matches!(outside.places(&housing(), [1.0, 1.0]), Err(PlaceError::Bad(b)) if b.what == "span")
    );
}

// ---------------------------------------------------------------------------------------------------------------------
// A second way to the same answer, from first principles: every spot of a grid is tried against the boxes themselves.

/// Boxes of a housing at a spot: body, flange, collar with first straight length.
fn boxes(housing: &Housing, under: f64, at: [f64; 2], turns: u8) -> (Block, Block, Block) {
    let board = 0.5 * INCH;
    let (sin, cos) = [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)][usize::from(turns)];
    // Corner points turned about the middle.
    let turned = |low: [f64; 3], high: [f64; 3]| {
        let spin = |x: f64, y: f64| [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos];
        let (a, b) = (spin(low[0], low[1]), spin(high[0], high[1]));
        Block {
            min: [a[0].min(b[0]), a[1].min(b[1]), low[2]],
            max: [a[0].max(b[0]), a[1].max(b[1]), high[2]],
        }
    };
    let [w, l, d] = housing.body_m;
    let lip = under - board;
    let f = housing.flange_m;
    let body = turned([-w / 2.0, -l / 2.0, lip], [w / 2.0, l / 2.0, lip + d]);
    let flange =
        turned([-w / 2.0 - f, -l / 2.0 - f, lip - 0.003], [w / 2.0 + f, l / 2.0 + f, under]);
    let o = &housing.outlet;
    let (r, reach, z) = (o.outside_m / 2.0, o.collar_m + o.straight_m, lip + o.height_m);
    assert_eq!(o.side, Side::PlusY, "the only side that the grid knows");
    let duct = turned([o.offset_m - r, l / 2.0, z - r], [o.offset_m + r, l / 2.0 + reach, z + r]);
    (body, flange, duct)
}

/// Whether the insides of two boxes share more than `slack`.
fn shares(a: &Block, b: &Block, slack: f64) -> bool {
    (0..3).all(|i| a.max[i].min(b.max[i]) - a.min[i].max(b.min[i]) > slack)
}

/// Whether a housing may hang at a spot, everything grown by `slack` (shrunk where it is below zero).
fn legal(floor: &Floor, housing: &Housing, at: [f64; 2], turns: u8, slack: f64) -> bool {
    let plan = floor.plan.as_ref().expect("a room");
    floor.bays.iter().any(|bay| {
        let (body, flange, duct) = boxes(housing, bay.space.min[2], at, turns);
        // Faces nearer than `TOUCH_M` touch: that much a body may stand out of its bay, and no more.
        let top = bay.space.max[2] + if slack < 0.0 { TOUCH_M } else { -slack };
        let in_bay = |b: &Block| {
            (0..2).all(|i| {
                b.min[i] >= bay.space.min[i] + slack && b.max[i] <= bay.space.max[i] - slack
            }) && b.max[2] <= top + 1e-9
        };
        let clear = |b: &Block| {
            !floor.members.iter().any(|m| shares(b, &m.solid, -slack))
                && !floor.obstacles.iter().any(|o| shares(b, &o.solid, -slack))
        };
        let hits = |b: &Block| floor.obstacles.iter().any(|o| shares(b, &o.solid, -slack));
        let dry = || {
            housing.listed_wet
                || !floor.wet.iter().any(|w| {
                    (0..2).all(|i| {
                        flange.max[i].min(w.solid.max[i]) - flange.min[i].max(w.solid.min[i])
                            > -slack
                    })
                })
        };
        // A corner of the outline may stand in between two points of the rim that are tried below.
        let pierced = || {
            plan.corners().iter().any(|corner| {
                (0..2)
                    .all(|i| corner[i] > flange.min[i] - slack && corner[i] < flange.max[i] + slack)
            })
        };
        // A rectangle lies in a simple outline if its whole rim does: tried at points close together.
        let rim = || {
            (0..=40).all(|k| {
                let t = f64::from(k) / 40.0;
                let x = flange.min[0] + t * (flange.max[0] - flange.min[0]);
                let y = flange.min[1] + t * (flange.max[1] - flange.min[1]);
                [[x, flange.min[1]], [x, flange.max[1]], [flange.min[0], y], [flange.max[0], y]]
                    .into_iter()
                    .all(|p| plan.contains(p))
            })
        };
        in_bay(&body)
            && in_bay(&duct)
            && clear(&body)
            && clear(&duct)
            && !hits(&flange)
            && dry()
            && !pierced()
            && rim()
    })
}

prop_compose! {
    /// A room of five outlines, or a rectangle that stands at an angle to the members, two zones of members, obstacles, a wet zone and a housing, all at random.
    fn random_floor()(
        along_x in any::<bool>(), spacing in 12.0..26.0f64, first in 0.0..12.0f64, deep in 5.5..11.5f64,
        split in 40.0..90.0f64, shape in 0..7u8, angle in 1.0..89.0f64,
        lights in proptest::collection::vec((0.0..120.0f64, 0.0..90.0f64, 2.0..14.0f64, 2.0..14.0f64, 0.0..6.0f64), 0..8),
        wet in (0.0..90.0f64, 0.0..60.0f64, 10.0..60.0f64, 10.0..40.0f64), has_wet in any::<bool>(),
        body in (6.0..15.0f64, 6.0..15.0f64, 4.0..8.0f64), flange in 0.0..1.5f64, straight in 0.0..30.0f64,
        wish in (10.0..110.0f64, 10.0..80.0f64), listed in any::<bool>(),
    ) -> (Floor, Housing, [f64; 2]) {
        let zone = |id: &str, along, from: f64, to: f64| Zone {
            id: id.to_owned(), kind: MemberKind::Sawn, along,
            space: Block {
                min: [from * INCH, 0.0, 96.0 * INCH],
                max: [to * INCH, 90.0 * INCH, (96.0 + deep) * INCH],
            },
            width_m: 1.5 * INCH, spacing_m: spacing * INCH, first_m: first * INCH,
        };
        let (one, other) = if along_x { (Axis::X, Axis::Y) } else { (Axis::Y, Axis::X) };
        let corners: Vec<[f64; 2]> = match shape {
            0 => vec![[0.0, 0.0], [120.0, 0.0], [120.0, 90.0], [0.0, 90.0]],
            1 => vec![[5.0, 5.0], [110.0, 5.0], [110.0, 40.0], [60.0, 40.0], [60.0, 85.0], [5.0, 85.0]],
            2 => vec![[10.0, 0.0], [120.0, 20.0], [100.0, 90.0], [0.0, 70.0]],
            5 | 6 => askew(angle),
            3 => vec![[0.0, 90.0], [60.0, 45.0], [0.0, 0.0], [120.0, 0.0], [120.0, 90.0]],
            _ => vec![[20.0, 10.0], [100.0, 10.0], [115.0, 50.0], [60.0, 88.0], [8.0, 50.0]],
        };
        let corners: Vec<[f64; 2]> = corners.iter().map(|c| c.map(|v| v * INCH)).collect();
        let plan = Plan::new("room", &corners).expect("a sound outline");
        let mut floor = Floor::new(&[zone("a", one, 0.0, split), zone("b", other, split, 120.0)], Some(plan));
        floor.obstacles = lights.iter().enumerate().map(|(k, (x, y, dx, dy, z))| {
            block(&format!("light {k}"), [*x, *y, 95.0 + z], [x + dx, y + dy, 95.0 + z + 4.0])
        }).collect();
        if has_wet {
            let (x, y, dx, dy) = wet;
            floor.wet.push(block("shower", [x, y, 0.0], [x + dx, y + dy, 96.0]));
        }
        let mut housing = housing();
        housing.body_m = [body.0 * INCH, body.1 * INCH, body.2 * INCH];
        housing.flange_m = flange * INCH;
        housing.listed_wet = listed;
        housing.outlet.outside_m = 3.5 * INCH;
        housing.outlet.height_m = 2.5 * INCH;
        housing.outlet.straight_m = straight * INCH;
        (floor, housing, [wish.0 * INCH, wish.1 * INCH])
    }
}

/// A rectangle of 70 in. by 50 in. about the middle of the floor, turned.
fn askew(angle_deg: f64) -> Vec<[f64; 2]> {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let corners = [[-35.0, -25.0], [35.0, -25.0], [35.0, 25.0], [-35.0, 25.0]];
    corners.iter().map(|[x, y]| [60.0 + x * cos - y * sin, 45.0 + x * sin + y * cos]).collect()
}

/// A room at an angle to its members still takes a housing that lies along them, right in its middle where a bay is there, and
/// in its corner as near as the slanted walls allow.
#[test]
fn a_room_at_an_angle_takes_a_housing() {
    for angle in [0.5, 10.0, 30.0, 45.0, 60.0, 89.0] {
        let corners: Vec<[f64; 2]> = askew(angle).iter().map(|c| c.map(|v| v * INCH)).collect();
        let plan = Plan::new("room", &corners).unwrap();
        let centre = plan.centroid();
        let floor = Floor::new(&[joists()], Some(plan));
        let housing = housing();
        let found = floor.places(&housing, centre).unwrap();
        assert!(found[0].distance_m < 10.0 * INCH, "{angle}: {:?}", found[0]);
        let corner = floor.places(&housing, corners[0]).unwrap();
        for place in found.iter().chain(&corner) {
            assert!(
                legal(&floor, &housing, place.middle, place.turns, -2e-4),
                "{angle}: {place:?}"
            );
        }
        assert!(corner[0].distance_m > 2.0 * INCH, "{angle}: it can't hang in the corner itself");
        assert!(corner[0].why.contains(&Bound::Outline), "{angle}: {:?}", corner[0].why);
    }
}

/// Nearest legal spot of a grid, each turn by itself; spots that are only just legal are left out.
fn nearest_of_grid(
    floor: &Floor,
    housing: &Housing,
    wish: [f64; 2],
    turns: u8,
    step: f64,
) -> Option<f64> {
    let mut best: Option<f64> = None;
    let (nx, ny) = ((120.0 * INCH / step) as i32, (90.0 * INCH / step) as i32);
    for i in 0..=nx {
        for j in 0..=ny {
            let at = [f64::from(i) * step, f64::from(j) * step];
            let distance = libm::hypot(at[0] - wish[0], at[1] - wish[1]);
            if best.is_none_or(|b| distance < b) && legal(floor, housing, at, turns, 1e-5) {
                best = Some(distance);
            }
        }
    }
    best
}

/// A wish on the middle of a joist is as far from the bay on either side: the lesser bay comes first, whichever side the rounding of
/// sums favours.
#[test]
fn a_wish_on_a_joist_goes_to_the_lesser_bay() {
    for spacing_in in [12.0, 16.0, 19.2, 24.0] {
        let mut zone = joists();
        zone.spacing_m = spacing_in * INCH;
        zone.first_m = 0.5 * zone.spacing_m;
        zone.space.max[0] = 60.0 * FOOT;
        let floor = Floor::new(&[zone], None);
        for k in 1..floor.bays.len() - 2 {
            let joist = floor.members[k].solid;
            let wish = [0.5 * (joist.min[0] + joist.max[0]), 5.0 * FOOT];
            let mut narrow = housing();
            narrow.body_m = [6.0 * INCH, 6.0 * INCH, 7.5 * INCH];
            let found = floor.places(&narrow, wish).unwrap();
            assert_eq!(found[0].bay, k, "{spacing_in} in, joist {k}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    /// Every place is legal, and no spot of a grid is nearer than the nearest place with that turn.
    #[test]
    fn no_spot_of_a_grid_is_nearer((floor, housing, wish) in random_floor()) {
        let wanted = Wish { at: wish, cable_from: None, keep: 1000, per_bay: 4 };
        let found = match places(&housing, &floor.site(), &wanted) {
            Ok(found) => found,
            Err(PlaceError::Nowhere(nowhere)) => {
                prop_assert!(!nowhere.shortfalls.is_empty());
                prop_assert!(nowhere.shortfalls.iter().all(|s| s.short_m.is_none_or(|by| by > 0.0)));
                Vec::new()
            }
            Err(bad) => return Err(TestCaseError::fail(bad.to_string())),
        };
        for place in &found {
            prop_assert!(legal(&floor, &housing, place.middle, place.turns, -2e-4), "{place:?}");
            prop_assert_eq!(place.why.is_empty(), place.distance_m <= 1e-4);
        }
        prop_assert!(found.is_sorted_by(|a, b| a.distance_m <= b.distance_m + 2e-4));
        for turns in 0..4 {
            let exact = found.iter().filter(|p| p.turns == turns).map(|p| p.distance_m).next();
            if let Some(grid) = nearest_of_grid(&floor, &housing, wish, turns, 1.0 * INCH) {
                // What lies within a tenth of a millimetre touches, so spots closer than that are one.
                prop_assert!(exact.is_some_and(|exact| exact <= grid + TOUCH_M), "turned {turns}: {exact:?} against {grid}");
            }
        }
    }

    /// Keeping fewer places leaves the first ones as they are, though bays that lie beyond them are not looked at.
    #[test]
    fn fewer_are_the_first_of_many((floor, housing, wish) in random_floor(), keep in 1..9usize, per_bay in 1..5usize) {
        let of = |keep: usize| {
            let wanted = Wish { at: wish, cable_from: None, keep, per_bay };
            places(&housing, &floor.site(), &wanted).unwrap_or_default()
        };
        let (many, few) = (of(1000), of(keep));
        prop_assert_eq!(&few[..], &many[..keep.min(many.len())]);
    }
}
