//! Which ways lead outdoors: a search from the outlet of a housing to every admissible exit.
//!
//! A duct is a line of straight legs between corners, each corner a real fitting. The line may lie wherever the outside of
//! the duct, with its insulation, stays inside bays and other open spaces and clear of members and obstacles. A leg crosses
//! a member only squarely and only where a bore is allowed; which bore is allowed is asked of the caller.
//!
//! Positions are exact: corners lie at critical coordinates (centre lines of bays and spaces, faces of obstacles moved off by
//! half the duct, windows of exits, the outlet, the nearest place at which a fitting can follow another), not on a raster.
//! Among all ways over these coordinates the search finds those that no other one beats in both loss of pressure and hours
//! of work, and for every other exit that can be reached at all the way with the least loss.
//!
//! ```
//! use dewpath_layout::framing::{MemberKind, Zone};
//! use dewpath_layout::geometry::{Axis, Block};
//! use dewpath_layout::route::{Bore, Duct, Exit, ExitKind, Heading, Ways, search};
//!
//! let zone = Zone {
//!     id: "joists".to_owned(),
//!     kind: MemberKind::Sawn,
//!     along: Axis::X,
//!     space: Block { min: [0.0, 0.0, 2.44], max: [4.0, 3.0, 2.675] },
//!     width_m: 0.038,
//!     spacing_m: 0.406,
//!     first_m: 0.019,
//! };
//! let (bays, members) = (zone.bays(0)?, zone.members()?);
//! let exits = [Exit {
//!     id: "east rim".to_owned(),
//!     kind: ExitKind::Rim,
//!     window: Block { min: [4.0, 0.1, 2.5], max: [4.0, 2.9, 2.62] },
//!     outward: Heading { axis: Axis::X, ahead: true },
//!     depth_m: 0.15,
//!     pressure_pa: 5.0,
//!     labour_h: 1.5,
//! }];
//! let ways = Ways {
//!     from: [1.0, 0.241, 2.56],
//!     towards: Heading { axis: Axis::X, ahead: true },
//!     bays: &bays,
//!     members: &members,
//!     spaces: &[],
//!     obstacles: &[],
//!     exits: &exits,
//! };
//! let duct = Duct {
//!     id: "4 in".to_owned(),
//!     bare_m: 0.102,
//!     outside_m: 0.102,
//!     height_m: None,
//!     hole_m: 0.108,
//!     straight_pa_per_m: 1.2,
//!     straight_h_per_m: 0.15,
//!     bends: vec![],
//!     first_straight_m: 0.3,
//!     min_straight_m: 0.0,
//!     last_straight_m: 0.0,
//!     bore_h: 0.5,
//! };
//! let never = |_: &_, _: f64, _: f64, _: f64| Bore::Forbidden("no bore was asked for".to_owned());
//! let routes = search(&ways, &duct, &never, 5)?;
//! assert_eq!(routes[0].exit, "east rim");
//! assert!((routes[0].length_m - 3.15).abs() < 1e-9);
//! # Ok::<(), dewpath_layout::error::BadGeometry>(())
//! ```

use crate::error::BadGeometry;
use crate::framing::{Bay, Member};
use crate::geometry::{Axis, Block, Point};
use crate::place::Obstacle;

mod check;
mod fall;
mod free;
mod graph;
mod pareto;
mod relax;
mod stops;
mod trace;

pub use fall::{Fall, LowPoint, falls, low_points, supports};
pub use relax::{Blocked, NoRoute, Offer, Offers, Opening, Relaxed, why_none};

/// A direction along an axis of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Heading {
    /// Axis.
    pub axis: Axis,
    /// Whether towards greater coordinates.
    pub ahead: bool,
}

impl Heading {
    /// The direction as a vector of length 1.
    pub fn vector(self) -> Point {
        let mut vector = [0.0; 3];
        vector[self.axis.index()] = self.sign();
        vector
    }

    /// The direction of a vector along an axis, of any length; none for one that lies askew or has no length.
    pub fn of(vector: Point) -> Option<Self> {
        let longest = vector.iter().fold(0.0_f64, |most, v| most.max(v.abs()));
        let along = |v: &f64| v.abs() > 1e-6 * longest;
        if !longest.is_finite() || longest <= 0.0 || vector.iter().filter(|v| along(v)).count() != 1
        {
            return None;
        }
        let axes = [Axis::X, Axis::Y, Axis::Z].into_iter();
        axes.zip(vector).find(|(_, v)| along(v)).map(|(axis, v)| Self { axis, ahead: v > 0.0 })
    }

    /// 1 towards greater coordinates, -1 towards lesser ones.
    pub(crate) const fn sign(self) -> f64 {
        if self.ahead { 1.0 } else { -1.0 }
    }
}

/// A box beside the bays in which a duct may run.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    /// Name, unique in the job.
    pub id: String,
    /// Kind.
    pub kind: SpaceKind,
    /// What is clear of it.
    pub clear: Block,
}

/// Kind of a space beside the bays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpaceKind {
    /// Attic above the ceiling.
    Attic,
    /// Chase or other shaft from floor to floor.
    Chase,
    /// Ceiling that hangs lower than the framing.
    LoweredSoffit,
    /// Crawl space or basement below.
    Crawl,
    /// Opening that is there already, such as the open web of a truss.
    Opening,
}

/// Kind of an exit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ExitKind {
    /// Outside wall above or below the framing.
    Wall,
    /// Rim of the framing.
    Rim,
    /// Underside of the eaves.
    Soffit,
    /// Gable wall of an attic.
    Gable,
    /// Roof.
    Roof,
}

/// A way out: where the centre of a terminal may lie, and what passing it takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Exit {
    /// Name, unique in the job.
    pub id: String,
    /// Kind.
    pub kind: ExitKind,
    /// Where the centre line of the duct may meet the inner face of wall, rim or roof; flat across the outward direction.
    pub window: Block,
    /// Direction out.
    pub outward: Heading,
    /// Length of duct from the inner face to the outdoors, m.
    pub depth_m: f64,
    /// Loss of the terminal at the required flow, Pa.
    pub pressure_pa: f64,
    /// Work on it, h.
    pub labour_h: f64,
}

/// A fitting that turns the duct.
#[derive(Debug, Clone, PartialEq)]
pub struct Bend {
    /// Name.
    pub id: String,
    /// Turn, degrees: 45 or 90.
    pub turn_deg: f64,
    /// Radius of its centre line, m.
    pub radius_m: f64,
    /// Loss between its ends at the required flow, Pa.
    pub pressure_pa: f64,
    /// Work on it, h.
    pub labour_h: f64,
}

/// A duct and its fittings.
#[derive(Debug, Clone, PartialEq)]
pub struct Duct {
    /// Name.
    pub id: String,
    /// Outside diameter without insulation, m.
    pub bare_m: f64,
    /// Outside diameter with insulation, m; width of an oval duct.
    pub outside_m: f64,
    /// Outside height with insulation of an oval duct, m; none for a round one.
    pub height_m: Option<f64>,
    /// Diameter of the hole that it is led through a member in, m.
    pub hole_m: f64,
    /// Loss of a metre of straight duct at the required flow, Pa/m.
    pub straight_pa_per_m: f64,
    /// Work on a metre of straight duct, h/m.
    pub straight_h_per_m: f64,
    /// Fittings that may be used. Those of 45 degrees are used in pairs within a bay, as an offset or as a wide turn.
    pub bends: Vec<Bend>,
    /// Straight length after the collar before the first fitting, m.
    pub first_straight_m: f64,
    /// Straight length between two fittings, m.
    pub min_straight_m: f64,
    /// Straight length between the last fitting and the inner face of the exit, m.
    pub last_straight_m: f64,
    /// Work on one bore, h.
    pub bore_h: f64,
}

/// Everything that a search is about, in one frame.
#[derive(Debug, Clone, Copy)]
pub struct Ways<'a> {
    /// Centre of the collar's end.
    pub from: Point,
    /// Direction in which the duct leaves it.
    pub towards: Heading,
    /// Bays.
    pub bays: &'a [Bay],
    /// Members.
    pub members: &'a [Member],
    /// Other spaces in which a duct may run.
    pub spaces: &'a [Space],
    /// What stands in the way. Where one must be kept clear of, its box holds the clearance.
    pub obstacles: &'a [Obstacle],
    /// Ways out.
    pub exits: &'a [Exit],
}

/// Whether a bore is allowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bore {
    /// It is.
    Allowed,
    /// It is not, and why.
    Forbidden(String),
}

/// Says whether a member may be bored: the member, the centre of the hole along it from the first bearing, m, its height
/// above the underside, m, and its diameter, m.
pub type MayBore<'a> = dyn Fn(&Member, f64, f64, f64) -> Bore + 'a;

/// A straight leg of a route.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// Corner or collar where it begins.
    pub from: Point,
    /// Corner or inner face of the exit where it ends.
    pub to: Point,
    /// Ends of its straight part: where the fittings end.
    pub straight: [Point; 2],
    /// Bays and spaces that its centre line passes, in order.
    pub through: Vec<String>,
}

/// A fitting in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct BendAt {
    /// Name of the fitting.
    pub bend: String,
    /// Corner: where the centre lines of both legs meet.
    pub corner: Point,
    /// Turn, degrees.
    pub turn_deg: f64,
    /// Radius of its centre line, m.
    pub radius_m: f64,
}

/// A member that is bored.
#[derive(Debug, Clone, PartialEq)]
pub struct Crossing {
    /// Name of the member.
    pub member: String,
    /// Centre of the hole, in the middle of the member's thickness.
    pub at: Point,
    /// Along the member from its first bearing, m.
    pub along_m: f64,
    /// Above its underside, m.
    pub height_m: f64,
    /// Diameter of the hole, m.
    pub hole_m: f64,
}

/// A way outdoors.
#[derive(Debug, Clone, PartialEq)]
pub struct Route {
    /// Name of the duct.
    pub duct: String,
    /// Name of the exit.
    pub exit: String,
    /// Kind of the exit.
    pub kind: ExitKind,
    /// Straight legs, from the collar to the inner face of the exit.
    pub legs: Vec<Leg>,
    /// Fittings, in order: one between each leg and the next.
    pub bends: Vec<BendAt>,
    /// Members that are bored, in order.
    pub crossings: Vec<Crossing>,
    /// Bays and spaces in order.
    pub through: Vec<String>,
    /// Length of the centre line from the collar to the outdoors, m.
    pub length_m: f64,
    /// Loss at the required flow: duct, fittings and terminal, Pa.
    pub pressure_pa: f64,
    /// Work: duct, fittings, bores and terminal, h.
    pub labour_h: f64,
    /// Whether another route is no worse in both loss and work; such a one is kept because it leads to another exit.
    pub is_dominated: bool,
}

/// The ways outdoors with one duct, up to `keep` of them: first those that no other one beats in both loss and work, then
/// for each exit that these leave out the one with the least loss. In each part the least loss comes first. Empty where
/// there is no way; [`why_none`] then says what would open one.
///
/// Two routes through the same spaces to the same exit count as one; the one with less loss is kept. A way that would run
/// into itself is left out.
///
/// # Errors
/// When something has no size, no place or no name of its own, a fitting turns by another angle than 45 or 90 degrees, a loss
/// or an amount of work is below nothing, or the floor is too large to be searched.
pub fn search(
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    keep: usize,
) -> Result<Vec<Route>, BadGeometry> {
    check::ways(ways)?;
    check::duct(duct)?;
    let mut graph = graph::Graph::new(ways, duct, may_bore);
    let front = pareto::front(&mut graph)?;
    let mut routes: Vec<Route> =
        front.iter().filter_map(|path| trace::route(&graph, path, false)).collect();
    for exit in 0..ways.exits.len() {
        if routes.iter().all(|route| route.exit != ways.exits[exit].id) {
            let path = pareto::least_loss(&mut graph, exit)?;
            routes.extend(path.and_then(|path| trace::route(&graph, &path, true)));
        }
    }
    Ok(ranked(routes, keep))
}

/// Routes of several searches in one list: marked anew for which are dominated, without those that are not distinct, the
/// ones that are not dominated first, then by loss, work, exit and duct.
pub fn ranked(mut routes: Vec<Route>, keep: usize) -> Vec<Route> {
    routes.sort_by(|a, b| {
        (a.pressure_pa.total_cmp(&b.pressure_pa))
            .then(a.labour_h.total_cmp(&b.labour_h))
            .then_with(|| a.exit.cmp(&b.exit))
            .then_with(|| a.duct.cmp(&b.duct))
    });
    let mut kept: Vec<Route> = Vec::new();
    for mut route in routes {
        let is_same =
            |k: &Route| k.exit == route.exit && k.duct == route.duct && k.through == route.through;
        if kept.iter().any(is_same) {
            continue;
        }
        route.is_dominated = kept.iter().any(|k| k.labour_h <= route.labour_h);
        kept.push(route);
    }
    kept.sort_by_key(|route| route.is_dominated);
    kept.truncate(keep);
    kept
}
