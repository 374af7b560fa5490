//! A housing, what it is put into, and what binds it.

use crate::framing::{Bay, Member};
use crate::geometry::Block;
use crate::room::{Plan, Spot};

/// Thickness that a flange takes under the ceiling, m: sheet metal with a screw head, common practice, no source.
pub const FLANGE_M: f64 = 0.003;

/// A side of a housing in its own frame, before it is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Towards greater x.
    PlusX,
    /// Towards greater y.
    PlusY,
    /// Towards lesser x.
    MinusX,
    /// Towards lesser y.
    MinusY,
    /// Upwards.
    Up,
}

impl Side {
    /// Direction in plan after so many quarter turns against the clock; none for up.
    pub(super) fn plan(self, turns: u8) -> Option<Spot> {
        let start = match self {
            Self::PlusX => 0,
            Self::PlusY => 1,
            Self::MinusX => 2,
            Self::MinusY => 3,
            Self::Up => return None,
        };
        Some([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]][usize::from((start + turns) % 4)])
    }
}

/// The outlet of a housing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlet {
    /// Side on which the duct leaves.
    pub side: Side,
    /// From the middle of that side to the centre of the collar, m: along the housing's x where the duct leaves along y or up,
    /// along its y where it leaves along x.
    pub offset_m: f64,
    /// Centre of the collar above the lip of the housing, m; not used where the duct leaves upwards.
    pub height_m: f64,
    /// Outside diameter of what is put on the collar, with its insulation, m.
    pub outside_m: f64,
    /// How far the collar stands out, m.
    pub collar_m: f64,
    /// Least straight length of duct after the collar, m.
    pub straight_m: f64,
}

/// A housing.
#[derive(Debug, Clone, PartialEq)]
pub struct Housing {
    /// Whose it is, for messages: the id of the fan.
    pub id: String,
    /// Size of the body along its x, y and z, m. Its lip lies in the plane of the finished ceiling.
    pub body_m: [f64; 3],
    /// How far the flange reaches beyond the body all round, m.
    pub flange_m: f64,
    /// Whether the flange must fit between the members as well, rather than under them.
    pub flange_between: bool,
    /// Largest gap between the body and the face of a member over which its ears or screws reach, m.
    pub reach_m: f64,
    /// Outlet.
    pub outlet: Outlet,
    /// Whether it is listed for the wet zone of a shower or tub.
    pub listed_wet: bool,
}

/// Something that is in the way, or a zone that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    /// Name.
    pub id: String,
    /// What it fills.
    pub solid: Block,
}

/// Lumber that blocks are cut from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// Thickness, m.
    pub thickness_m: f64,
    /// Height when it stands on edge, m.
    pub depth_m: f64,
}

/// What the housing is put into.
#[derive(Debug, Clone, Copy)]
pub struct Site<'a> {
    /// Bays.
    pub bays: &'a [Bay],
    /// Members of all zones.
    pub members: &'a [Member],
    /// Open spaces, such as an attic, into which a housing may rise where one lies right above its bay.
    pub open: &'a [Block],
    /// Lights, pipes, other ducts, beams.
    pub obstacles: &'a [Obstacle],
    /// Wet zones, in plan.
    pub wet: &'a [Obstacle],
    /// Outline of the room, finished; none where the housing isn't bound to one.
    pub plan: Option<&'a Plan>,
    /// Thickness of the ceiling board under the members, m.
    pub board_m: f64,
    /// Play wanted round the body, m.
    pub play_m: f64,
    /// Whether the first straight length may pass the end of its bay, as through an outside wall.
    pub straight_may_leave: bool,
    /// Lumber for blocks.
    pub stock: Stock,
}

/// What a place is bound by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bound {
    /// Clear width between members.
    BayWidth,
    /// Length of the bay.
    BayLength,
    /// Height of the bay.
    BayHeight,
    /// No bay is there.
    NoFraming,
    /// A member, by its name.
    Member(String),
    /// Walls of the room.
    Outline,
    /// An obstacle, by its name.
    Obstacle(String),
    /// A wet zone for which the housing isn't listed, by its name.
    WetZone(String),
    /// Room for collar and first straight length; what is in the way, or none where it is the end of the bay.
    FirstStraight(Option<String>),
}
