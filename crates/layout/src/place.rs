//! Where a housing fits between members, nearest to where it is wished for.
//!
//! A housing is a body that hangs between members, a flange under the ceiling, and the room that its outlet needs: collar and
//! the first straight length of duct. Each of the four quarter turns is tried in each bay. What the housing may not touch
//! (members, obstacles, walls of the room, a wet zone it isn't listed for) takes a convex shape away from the spots where its
//! middle may lie; the nearest spot that is left is found exactly, without a grid.
//!
//! Which flange, collar and straight length a housing needs is printed by its maker; a straight first length of 3 ft is advice
//! of the US Department of Energy's Building America Solution Center for bath fans. That a housing hangs level is common
//! practice, no source.
//!
//! ```
//! use dewpath_layout::framing::{MemberKind, Zone};
//! use dewpath_layout::geometry::{Axis, Block};
//! use dewpath_layout::place::{Housing, Outlet, Side, Site, Stock, Wish, places};
//!
//! // Joists 38 x 235 mm at 400 mm along y; the first bay is clear from 0.038 to 0.400 m.
//! let zone = Zone {
//!     id: "joists".to_owned(),
//!     kind: MemberKind::Sawn,
//!     along: Axis::Y,
//!     space: Block { min: [0.0, 0.0, 2.4], max: [2.4, 3.0, 2.635] },
//!     width_m: 0.038,
//!     spacing_m: 0.4,
//!     first_m: 0.019,
//! };
//! let housing = Housing {
//!     id: "fan".to_owned(),
//!     body_m: [0.25, 0.28, 0.19],
//!     flange_m: 0.012,
//!     flange_between: false,
//!     reach_m: 0.006,
//!     outlet: Outlet {
//!         side: Side::PlusY, offset_m: 0.0, height_m: 0.1, outside_m: 0.1, collar_m: 0.04, straight_m: 0.9,
//!     },
//!     listed_wet: false,
//! };
//! let (members, bays) = (zone.members()?, zone.bays(0)?);
//! let site = Site {
//!     bays: &bays, members: &members, open: &[], obstacles: &[], wet: &[], plan: None, board_m: 0.0125, play_m: 0.0,
//!     straight_may_leave: true, stock: Stock { thickness_m: 0.038, depth_m: 0.235 },
//! };
//! let wish = Wish { at: [0.3, 1.5], cable_from: None, keep: 3, per_bay: 1 };
//! let nearest = &places(&housing, &site, &wish)?[0];
//! // The body ends at the next joist: 0.400 - 0.125.
//! assert!((nearest.middle[0] - 0.275).abs() < 1e-9);
//! assert_eq!(nearest.bay_id, "joists 1");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod mount;
mod region;
mod shortfall;
mod site;

use dewpath_units::sort;

use crate::error::{BadGeometry, Of};
use crate::framing::{Bay, Member, check_block};
use crate::geometry::{Axis, Block, Point, TOUCH_M, nm};
use crate::room::{Rectangle, Spot, apart};
use region::{Taken, nearest_free, nearness};
use shortfall::{Kind, Relaxed};

pub use mount::{Bars, BlockCut, Face, Mount, crossed_by_cable};
pub use shortfall::{NoPlace, Shortfall};
pub use site::{Bound, FLANGE_M, Housing, Obstacle, Outlet, Side, Site, Stock};

/// What is wished for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Where the middle of the housing should be.
    pub at: Spot,
    /// Where the cable comes from; none where that isn't known.
    pub cable_from: Option<Spot>,
    /// Most places to give.
    pub keep: usize,
    /// Most places to give in one bay: 4 keeps all turns, 1 only the nearest.
    pub per_bay: usize,
}

/// A place for a housing.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Index of its bay.
    pub bay: usize,
    /// Name of its bay.
    pub bay_id: String,
    /// Middle of the body in plan.
    pub middle: Spot,
    /// Quarter turns against the clock, seen from above: 0 to 3.
    pub turns: u8,
    /// Body.
    pub body: Block,
    /// Where the duct leaves the body.
    pub outlet: Point,
    /// Direction in which it leaves, of length 1.
    pub towards: Point,
    /// From the wish to the middle, m.
    pub offset_m: [f64; 2],
    /// Its length, m.
    pub distance_m: f64,
    /// What keeps the housing, so turned, from the wish itself; empty where it hangs there.
    pub why: Vec<Bound>,
    /// How it is fastened.
    pub mount: Mount,
    /// Members that the cable crosses, in order from where it comes; none where that isn't known.
    pub drilled: Option<Vec<String>>,
}

/// Why there is no place.
#[derive(Debug, Clone, PartialEq)]
pub enum PlaceError {
    /// Something can't be worked with.
    Bad(BadGeometry),
    /// It fits nowhere.
    Nowhere(NoPlace),
}

impl std::fmt::Display for PlaceError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Bad(bad) => bad.fmt(f),
            Self::Nowhere(nowhere) => nowhere.fmt(f),
        }
    }
}

impl std::error::Error for PlaceError {}

impl From<BadGeometry> for PlaceError {
    fn from(bad: BadGeometry) -> Self {
        Self::Bad(bad)
    }
}

/// What a part of a turned housing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Body,
    Flange,
    Outlet,
}

/// A part of a turned housing, about its middle.
#[derive(Debug, Clone, Copy)]
struct Part {
    what: What,
    offset: Spot,
    half: [f64; 2],
    z: [f64; 2],
}

impl Part {
    fn rectangle(&self, middle: Spot) -> Rectangle {
        Rectangle::round(std::array::from_fn(|i| middle[i] + self.offset[i]), self.half)
    }

    fn block(&self, middle: Spot) -> Block {
        let Rectangle { min, max } = self.rectangle(middle);
        Block { min: [min[0], min[1], self.z[0]], max: [max[0], max[1], self.z[1]] }
    }

    fn meets_height(&self, solid: &Block) -> bool {
        solid.min[2] < self.z[1] - TOUCH_M && self.z[0] < solid.max[2] - TOUCH_M
    }
}

/// Places for a housing, nearest to the wish first; at most one for each bay and quarter turn.
///
/// Places at the same distance to a nanometre are ordered by bay, then by turn.
///
/// # Errors
/// [`PlaceError::Bad`] when a dimension can't be worked with or the housing is larger than the room;
/// [`PlaceError::Nowhere`] when it fits nowhere, with what is short and by how much.
pub fn places(housing: &Housing, site: &Site<'_>, wish: &Wish) -> Result<Vec<Place>, PlaceError> {
    check(housing, site, wish)?;
    let kept = spots(housing, site, wish);
    if kept.is_empty() {
        let fits = |relaxed: &Relaxed| {
            let fits_so =
                |bay, turns| nearest_in_bay(housing, site, bay, turns, wish.at, relaxed).is_some();
            (0..site.bays.len()).any(|bay| (0..4).any(|turns| fits_so(bay, turns)))
        };
        return Err(PlaceError::Nowhere(shortfall::explain(housing, site, &fits)));
    }
    Ok(kept.iter().map(|spot| finished(housing, site, wish, *spot)).collect())
}

/// A spot for the middle, in a bay, so turned.
#[derive(Debug, Clone, Copy)]
struct Found {
    bay: usize,
    turns: u8,
    middle: Spot,
    distance: f64,
}

/// Nearest spot for each bay and turn, nearest first, as many as are wished for.
fn spots(housing: &Housing, site: &Site<'_>, wish: &Wish) -> Vec<Found> {
    let relaxed = Relaxed::default();
    let mut bays: Vec<(f64, usize)> =
        site.bays.iter().map(|bay| to_bay_m(bay, wish.at)).zip(0..).collect();
    sort::by_key(&mut bays, |(to_bay_m, _)| nm(*to_bay_m));
    let mut kept: Vec<Found> = Vec::new();
    for (least_m, bay) in bays {
        // The housing hangs in its bay: what lies beyond the last one that is kept is not kept.
        let full = kept.len() == wish.keep.max(1);
        if full && kept.last().is_some_and(|last| least_m > last.distance + 2.0 * TOUCH_M) {
            break;
        }
        for turns in 0..4 {
            if let Some(middle) = nearest_in_bay(housing, site, bay, turns, wish.at, &relaxed) {
                kept.push(Found { bay, turns, middle, distance: apart(middle, wish.at) });
            }
        }
        kept = best(kept, wish);
    }
    kept
}

/// The nearest of what was found, as many as are wished for in all and in each bay.
fn best(mut found: Vec<Found>, wish: &Wish) -> Vec<Found> {
    let rank = |f: &Found| (nm(f.distance), f.bay, f.turns);
    sort::by_key(&mut found, rank);
    let mut kept: Vec<Found> = Vec::new();
    for spot in found {
        let in_bay = kept.iter().filter(|k| k.bay == spot.bay).count();
        if in_bay < wish.per_bay.max(1) && kept.len() < wish.keep.max(1) {
            kept.push(spot);
        }
    }
    kept
}

/// Distance of a spot to the inside of a bay in plan, m.
fn to_bay_m(bay: &Bay, spot: Spot) -> f64 {
    let Block { min, max } = bay.space;
    apart(spot, std::array::from_fn(|i| spot[i].max(min[i]).min(max[i])))
}

/// Nearest spot in one bay with one turn, over the bay itself and what it is together with an open space above.
fn nearest_in_bay(
    housing: &Housing,
    site: &Site<'_>,
    bay: usize,
    turns: u8,
    wish: Spot,
    relaxed: &Relaxed,
) -> Option<Spot> {
    let parts = parts(housing, site, &site.bays[bay], turns, relaxed);
    spaces(site, &site.bays[bay])
        .iter()
        .filter_map(|space| {
            let within = middles(housing, site, &parts, &site.bays[bay].space, space)?;
            let taken = taken(housing, site, &parts, relaxed);
            let allowed = |spot: Spot| {
                relaxed.drops(Kind::Outline) || site.plan.is_none_or(|plan| plan.contains(spot))
            };
            nearest_free(&within, &taken, wish, &allowed)
        })
        .min_by_key(|spot| nearness(*spot, wish))
}

/// The bay, and the bay with each open space that lies right above it.
fn spaces(site: &Site<'_>, bay: &Bay) -> Vec<Block> {
    let risen = site.open.iter().filter_map(|open| {
        let above = open.min[2] <= bay.space.max[2] + TOUCH_M && open.max[2] > bay.space.max[2];
        let mut tall = bay.space;
        tall.max[2] = open.max[2];
        let mut under = *open;
        under.min[2] = bay.space.min[2];
        above.then(|| tall.shared(&under)).flatten()
    });
    std::iter::once(bay.space).chain(risen).collect()
}

/// Parts of the turned housing in a bay, loosened by what is relaxed.
fn parts(housing: &Housing, site: &Site<'_>, bay: &Bay, turns: u8, relaxed: &Relaxed) -> Vec<Part> {
    let under = bay.space.min[2];
    let lip = under - site.board_m;
    let [x, y, depth] = housing.body_m;
    let size = if turns.is_multiple_of(2) { [x, y] } else { [y, x] };
    let (along, across) = (bay.along.index(), bay.along.across().index());
    // Half sizes of what must fit, grown by `by`, shrunk by what is relaxed.
    let half = |by: f64| {
        let mut half = size.map(|s| 0.5 * s + by);
        half[across] = (half[across] - 0.5 * relaxed.by(Kind::Width)).max(0.0);
        half[along] = (half[along] - 0.5 * relaxed.by(Kind::Length)).max(0.0);
        half
    };
    let top = lip + (depth - relaxed.by(Kind::Height)).max(site.board_m + 2.0 * TOUCH_M);
    let mut parts = vec![
        Part { what: What::Body, offset: [0.0; 2], half: half(site.play_m), z: [lip, top] },
        Part {
            what: What::Flange,
            offset: [0.0; 2],
            half: half(housing.flange_m.max(site.play_m)),
            z: [lip - FLANGE_M, under.max(lip + FLANGE_M)],
        },
    ];
    let outlet = &housing.outlet;
    let (radius, reach) =
        (0.5 * outlet.outside_m, outlet.collar_m + outlet.straight_m - relaxed.by(Kind::Straight));
    if reach > TOUCH_M {
        let (start, towards) = outlet_of(housing, turns, lip);
        parts.push(match outlet.side.plan(turns) {
            Some(_) => Part {
                what: What::Outlet,
                offset: std::array::from_fn(|i| start[i] + 0.5 * reach * towards[i]),
                half: std::array::from_fn(|i| if towards[i] == 0.0 { radius } else { 0.5 * reach }),
                z: [start[2] - radius, start[2] + radius],
            },
            None => Part {
                what: What::Outlet,
                offset: [start[0], start[1]],
                half: [radius; 2],
                z: [start[2], start[2] + reach],
            },
        });
    }
    parts
}

/// Where the duct leaves the turned body, about its middle, and in which direction.
fn outlet_of(housing: &Housing, turns: u8, lip: f64) -> (Point, Point) {
    let [x, y, depth] = housing.body_m;
    let outlet = &housing.outlet;
    let (spot, z) = match outlet.side {
        Side::PlusX => ([0.5 * x, outlet.offset_m], outlet.height_m),
        Side::MinusX => ([-0.5 * x, outlet.offset_m], outlet.height_m),
        Side::PlusY => ([outlet.offset_m, 0.5 * y], outlet.height_m),
        Side::MinusY => ([outlet.offset_m, -0.5 * y], outlet.height_m),
        Side::Up => ([outlet.offset_m, 0.0], depth),
    };
    let turned = (0..turns).fold(spot, |[x, y], _| [-y, x]);
    let towards = outlet.side.plan(turns).map_or([0.0, 0.0, 1.0], |[x, y]| [x, y, 0.0]);
    ([turned[0], turned[1], lip + z], towards)
}

/// Where the middle may lie so that what must stay in the bay does, the body in `space`: the bay itself or with an open space
/// above. None where it doesn't fit.
fn middles(
    housing: &Housing,
    site: &Site<'_>,
    parts: &[Part],
    bay: &Block,
    space: &Block,
) -> Option<Rectangle> {
    let upright = parts.iter().filter(|part| part.what != What::Flange).all(|part| {
        part.z[0] >= space.min[2] - site.board_m - TOUCH_M && part.z[1] <= space.max[2] + TOUCH_M
    });
    if !upright {
        return None;
    }
    let bound = parts.iter().filter(|part| match part.what {
        What::Body => true,
        What::Flange => housing.flange_between,
        What::Outlet => !site.straight_may_leave,
    });
    let mut within = Rectangle { min: [f64::NEG_INFINITY; 2], max: [f64::INFINITY; 2] };
    for part in bound {
        // A duct that lies in the bay may run on where only the bay does.
        let low = part.what == What::Outlet && part.z[1] <= bay.max[2] + TOUCH_M;
        let space = if low { bay } else { space };
        for i in 0..2 {
            within.min[i] = within.min[i].max(space.min[i] + part.half[i] - part.offset[i]);
            within.max[i] = within.max[i].min(space.max[i] - part.half[i] - part.offset[i]);
        }
    }
    for i in 0..2 {
        if within.min[i] > within.max[i] + TOUCH_M {
            return None;
        }
        if within.min[i] > within.max[i] {
            let both = 0.5 * (within.min[i] + within.max[i]);
            (within.min[i], within.max[i]) = (both, both);
        }
    }
    Some(within)
}

/// What takes spots for the middle away.
fn taken(housing: &Housing, site: &Site<'_>, parts: &[Part], relaxed: &Relaxed) -> Vec<Taken> {
    let mut taken = Vec::new();
    for part in parts {
        let solids = site
            .members
            .iter()
            .enumerate()
            .filter(|_| part.what != What::Flange)
            .map(|(k, member)| (member.solid, relaxed.by(Kind::Member(k))))
            .chain(
                site.obstacles
                    .iter()
                    .enumerate()
                    .map(|(k, o)| (o.solid, relaxed.by(Kind::Obstacle(k)))),
            );
        for (solid, by) in solids.filter(|(solid, _)| part.meets_height(solid)) {
            if let Some(plan) = shrunk(&solid, by) {
                taken.push(Taken::by_rectangle(&plan, part.offset, part.half));
            }
        }
        if part.what != What::Flange {
            continue;
        }
        if !housing.listed_wet {
            for (k, zone) in site.wet.iter().enumerate() {
                if let Some(plan) = shrunk(&zone.solid, relaxed.by(Kind::Wet(k))) {
                    taken.push(Taken::by_rectangle(&plan, part.offset, part.half));
                }
            }
        }
        if let Some(plan) = site.plan {
            let half = part.half.map(|h| h - relaxed.by(Kind::Outline));
            if half.iter().all(|h| *h > 0.0) {
                let edges = plan.edges();
                taken
                    .extend(edges.iter().map(|e| Taken::by_piece(e.from, e.to, part.offset, half)));
            }
        }
    }
    taken
}

/// Plan of a block, shrunk on every side; none where nothing is left.
fn shrunk(block: &Block, by: f64) -> Option<Rectangle> {
    let plan = plan_of(block).grown(-by);
    (0..2).all(|i| plan.max[i] - plan.min[i] > TOUCH_M).then_some(plan)
}

/// Plan of a block.
fn plan_of(block: &Block) -> Rectangle {
    Rectangle { min: [block.min[0], block.min[1]], max: [block.max[0], block.max[1]] }
}

/// All that is to be said of a place.
fn finished(housing: &Housing, site: &Site<'_>, wish: &Wish, found: Found) -> Place {
    let Found { bay: index, turns, middle, .. } = found;
    let bay = &site.bays[index];
    let none = Relaxed::default();
    let parts = parts(housing, site, bay, turns, &none);
    let lip = bay.space.min[2] - site.board_m;
    let [x, y, depth] = housing.body_m;
    let size = if turns.is_multiple_of(2) { [x, y] } else { [y, x] };
    let plan = Rectangle::round(middle, size.map(|s| 0.5 * s));
    let body = Block {
        min: [plan.min[0], plan.min[1], lip],
        max: [plan.max[0], plan.max[1], lip + depth],
    };
    let (start, towards) = outlet_of(housing, turns, lip);
    let offset_m: [f64; 2] = std::array::from_fn(|i| middle[i] - wish.at[i]);
    let distance_m = found.distance;
    let outlet_room = parts.iter().find(|p| p.what == What::Outlet).map(|p| p.block(middle));
    Place {
        bay: index,
        bay_id: bay.id.clone(),
        middle,
        turns,
        body,
        outlet: [middle[0] + start[0], middle[1] + start[1], start[2]],
        towards,
        offset_m,
        distance_m,
        why: if distance_m <= TOUCH_M { Vec::new() } else { why(housing, site, &parts, wish.at) },
        mount: mount::of(housing, site, bay, &body, outlet_room.as_ref()),
        drilled: wish.cable_from.map(|from| crossed_by_cable(site.members, from, middle)),
    }
}

/// What is in the way at a spot.
fn why(housing: &Housing, site: &Site<'_>, parts: &[Part], spot: Spot) -> Vec<Bound> {
    let mut why = Vec::new();
    let mut say = |bound: Bound| {
        if !why.contains(&bound) {
            why.push(bound);
        }
    };
    for part in parts {
        let block = part.block(spot);
        let members =
            site.members.iter().filter(|m| part.what != What::Flange && block.overlaps(&m.solid));
        for member in members {
            say(match part.what {
                What::Outlet => Bound::FirstStraight(Some(member.id.clone())),
                _ => Bound::Member(member.id.clone()),
            });
        }
        for obstacle in site.obstacles.iter().filter(|o| block.overlaps(&o.solid)) {
            say(match part.what {
                What::Outlet => Bound::FirstStraight(Some(obstacle.id.clone())),
                _ => Bound::Obstacle(obstacle.id.clone()),
            });
        }
        if part.what == What::Flange {
            let plan = part.rectangle(spot);
            for zone in
                site.wet.iter().filter(|z| !housing.listed_wet && plan.overlaps(&plan_of(&z.solid)))
            {
                say(Bound::WetZone(zone.id.clone()));
            }
            if site.plan.is_some_and(|outline| !outline.contains_rectangle(&plan)) {
                say(Bound::Outline);
            }
        }
    }
    if why.is_empty() {
        let body = parts.iter().find(|p| p.what == What::Body).map(|p| p.rectangle(spot));
        let over = |bay: &&Bay| body.is_some_and(|b| b.overlaps(&plan_of(&bay.space)));
        why.push(match site.bays.iter().find(over) {
            Some(bay) => at_end(parts, &bay.space, spot),
            None => Bound::NoFraming,
        });
    }
    why
}

/// Which part passes the end of its bay.
fn at_end(parts: &[Part], space: &Block, spot: Spot) -> Bound {
    let passes = |part: &&Part| {
        let (plan, space) = (part.rectangle(spot), plan_of(space));
        (0..2).any(|i| plan.min[i] < space.min[i] - TOUCH_M || plan.max[i] > space.max[i] + TOUCH_M)
    };
    let of = |what: What| parts.iter().filter(move |p| p.what == what);
    if of(What::Body).any(|p| passes(&p)) {
        Bound::BayLength
    } else if of(What::Outlet).any(|p| passes(&p)) {
        Bound::FirstStraight(None)
    } else if of(What::Flange).any(|p| passes(&p)) {
        Bound::BayWidth
    } else {
        Bound::BayHeight
    }
}

/// Whether everything that is given can be worked with.
fn check(housing: &Housing, site: &Site<'_>, wish: &Wish) -> Result<(), BadGeometry> {
    let of = Of(&housing.id);
    let [x, y, z] = housing.body_m;
    of.length("width of the housing", x, 0.01)?;
    of.length("length of the housing", y, 0.01)?;
    of.length("depth of the housing", z, 0.01)?;
    of.length("flange", housing.flange_m, 0.0)?;
    of.length("reach of the ears", housing.reach_m, 0.0)?;
    let outlet = &housing.outlet;
    of.length("diameter at the outlet", outlet.outside_m, 0.01)?;
    of.length("collar", outlet.collar_m, 0.0)?;
    of.length("first straight length", outlet.straight_m, 0.0)?;
    of.length("height of the outlet", outlet.height_m, 0.0)?;
    of.position("offset of the outlet", outlet.offset_m)?;
    of.length("thickness of the ceiling", site.board_m, 0.0)?;
    of.length("play", site.play_m, 0.0)?;
    of.length("thickness of blocks", site.stock.thickness_m, 0.001)?;
    of.length("depth of blocks", site.stock.depth_m, 0.001)?;
    if z <= site.board_m {
        return Err(of.bad(
            "depth of the housing",
            z,
            "m",
            "it is no deeper than the ceiling is thick",
            "measure it from the lip to the top",
        ));
    }
    for value in wish.at.into_iter().chain(wish.cable_from.into_iter().flatten()) {
        of.position("wished place", value)?;
    }
    site.members.iter().try_for_each(Member::check)?;
    site.bays.iter().try_for_each(|bay| {
        check_block(Of(&bay.id), &bay.space)?;
        if bay.along == Axis::Z {
            return Err(Of(&bay.id).bad(
                "direction of a bay",
                90.0,
                "degrees from level",
                "bays of a ceiling lie level",
                "say along which wall its members run",
            ));
        }
        Ok(())
    })?;
    site.obstacles.iter().chain(site.wet).try_for_each(|o| check_block(Of(&o.id), &o.solid))?;
    site.open.iter().try_for_each(|open| check_block(Of("open space"), open))?;
    larger_than_room(housing, site)
}

/// A housing that no turn brings into the room.
fn larger_than_room(housing: &Housing, site: &Site<'_>) -> Result<(), BadGeometry> {
    let Some(plan) = site.plan else { return Ok(()) };
    let bounds = plan.bounds();
    let [dx, dy]: [f64; 2] = std::array::from_fn(|i| bounds.max[i] - bounds.min[i] + 2.0 * TOUCH_M);
    let [x, y, _] = housing.body_m.map(|s| s + 2.0 * housing.flange_m);
    if (x <= dx && y <= dy) || (y <= dx && x <= dy) {
        return Ok(());
    }
    Err(Of(&housing.id).bad(
        "longer side of the housing with its flange",
        x.max(y),
        "m",
        "it is larger than the room",
        "check the units of the housing and of the room",
    ))
}
