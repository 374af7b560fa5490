//! What a search is about, and what it gives: ducts and their fittings, spaces, exits, routes.

use crate::bore;
use crate::framing::{Bay, Member};
use crate::geometry::{Axis, Block, Point};
use crate::place::Obstacle;

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
    /// Diameter of the hole that it is led through a member in, m; for an oval duct the width of the hole, which has the same
    /// play in height.
    pub hole_m: f64,
    /// Loss of a metre of straight duct at the required flow, Pa/m.
    pub straight_pa_per_m: f64,
    /// Work on a metre of straight duct, h/m.
    pub straight_h_per_m: f64,
    /// Fittings that may be used. Those of 45 degrees are used in pairs, as an offset or as a wide turn.
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

impl Duct {
    /// The hole that it is led through a member in.
    pub fn opening(&self) -> bore::Opening {
        match self.height_m {
            None => bore::Opening::Round { diameter_m: self.hole_m },
            Some(height) => bore::Opening::Rectangle {
                width_m: self.hole_m,
                height_m: height + (self.hole_m - self.outside_m),
            },
        }
    }
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
/// above the underside, m, and its shape: a flat duct is led through a rectangle.
pub type MayBore<'a> = dyn Fn(&Member, f64, f64, bore::Opening) -> Bore + 'a;

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
    /// The hole.
    pub opening: bore::Opening,
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

impl Route {
    /// Whether another one leads through the same spaces to the same exit, whatever its duct.
    pub fn is_same_way(&self, other: &Self) -> bool {
        self.exit == other.exit && self.through == other.through
    }
}
