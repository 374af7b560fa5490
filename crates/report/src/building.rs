//! Where the housing goes, how the duct gets out, what is cut: lengths in the frame of the dwelling.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::finding::{Source, Step, Verdict};
use crate::patch::PatchText;
use crate::room::Delivered;
use dewpath_message::{Message, Triple};

/// A place for the housing of a fan, best first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Placement {
    /// Fan id.
    pub fan: String,
    /// 1 is nearest to the wish; 0 is the place that is written, where the housing hangs there.
    pub rank: u32,
    /// Bay it hangs in, by the name of its framing and its number.
    pub bay: String,
    /// Middle of the housing.
    pub x_m: f64,
    /// Middle of the housing.
    pub y_m: f64,
    /// Corners of its body in plan, least first.
    pub body_m: [[f64; 2]; 2],
    /// Turned by so many degrees: 0, 90, 180 or 270.
    pub turned_deg: f64,
    /// Where the duct leaves the housing: x, y, z.
    pub outlet_m: [f64; 3],
    /// Direction in which it leaves: 0 along x, 90 along y.
    pub outlet_towards_deg: f64,
    /// What was wished for, by key.
    pub wish: String,
    /// How far off the wish.
    pub offset_m: f64,
    /// How far off along x and along y.
    pub offset_xy_m: [f64; 2],
    /// Why it is off, where it is.
    pub why: Option<Message>,
    /// Blocking to cut and set.
    pub blocks: Vec<BlockPiece>,
    /// What is fastened to what: faces of members, blocks, hanger bars as the other way.
    pub fastening: Vec<Message>,
    /// Members through which the cable must be drilled.
    pub drilled: Vec<String>,
    /// What the job becomes when this place is taken.
    pub patch: PatchText,
}

/// A piece of blocking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BlockPiece {
    /// Between these members or edges.
    pub between: [String; 2],
    /// Length to cut.
    pub length_m: f64,
    /// Size, as the trade names it.
    pub size: String,
    /// Middle of its face towards the housing: x, y.
    pub at_m: [f64; 2],
}

/// A way outdoors for the duct of a fan, best first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RouteResult {
    /// Fan id.
    pub fan: String,
    /// 1 is recommended.
    pub rank: u32,
    /// Way out it takes.
    pub way_out: String,
    /// Duct of the library by its id; that of the run by its size, as the trade names it.
    pub duct: String,
    /// Inside diameter of the duct: what drawings and holes of this way are made for.
    pub size_m: f64,
    /// Bays and spaces it goes through, in order.
    pub through: Vec<String>,
    /// Corners of the centre line from the outlet of the housing to the terminal: x, y, z.
    pub line_m: Vec<[f64; 3]>,
    /// Straight duct to cut, with what goes through wall or roof; elbows are apart. It is the length that the run has once this way
    /// is taken, so that the two can be compared.
    pub length_m: f64,
    /// Bends, in order.
    pub elbows: Vec<Elbow>,
    /// Holes through members.
    pub bores: Vec<Bore>,
    /// Loss at the required flow, by the search.
    pub loss_pa: f64,
    /// What would leave the room, with the whole network; none when it can't be said.
    pub delivered: Option<Delivered>,
    /// Water of a winter day that does not get out: it stands in the duct or runs back to the fan. Of the recommended way, where
    /// it can be said.
    pub stays_g: Option<Triple>,
    /// Work to build it.
    pub labour_h: f64,
    /// Straight legs in order from the housing, as they lie once the duct falls to the outdoors.
    pub legs: Vec<RouteLeg>,
    /// Fall of level legs, a length of height on the same length of duct.
    pub slope_ratio: f64,
    /// Who asks for that fall.
    pub slope_source: Source,
    /// Fall by the slope from the last rise, or from the housing, to the terminal.
    pub fall_m: f64,
    /// Places from which water can't run outdoors, in order.
    pub low_points: Vec<LowPoint>,
    /// How far apart it is supported.
    pub supports: Supports,
    /// Places of supports along the line, from the outlet.
    pub supports_m: Vec<f64>,
    /// Joints and how they are made.
    pub jointing: Jointing,
    /// What to bring: duct, elbows, supports, fasteners, insulation, what it ends in.
    pub materials: Vec<Message>,
    /// How loss and work are made up, in this order.
    pub working: Vec<Step>,
    /// Whether it gives enough air, breaking nothing.
    pub verdict: Verdict,
    /// What was noticed.
    pub notes: Vec<Message>,
    /// What the job becomes when this way is taken.
    pub patch: PatchText,
}

/// A straight leg of a way outdoors.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RouteLeg {
    /// Bays and spaces it goes through, in order.
    pub through: Vec<String>,
    /// From corner to corner along the centre line; the last one ends at the inner face of wall or roof.
    pub length_m: f64,
    /// Straight duct to cut for it, between the fittings; the last one goes on through wall or roof.
    pub straight_m: f64,
    /// How far its end lies below its begin; below nought where it rises.
    pub fall_m: f64,
    /// Which way water runs in it, by key: outdoors, back, or nowhere.
    pub runs: String,
    /// Centre of the duct above the finished ceiling at the housing, where the leg begins.
    pub from_over_ceiling_m: f64,
    /// The same where it ends.
    pub to_over_ceiling_m: f64,
    /// Whether there is room for the fall, bores included; none where it has no slope.
    pub fits: Option<bool>,
}

/// A place of a duct from which water can't run outdoors.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LowPoint {
    /// Where: x, y, z.
    pub at_m: [f64; 3],
    /// Along the line, from the outlet.
    pub along_m: f64,
    /// Bay or space it lies in.
    pub within: String,
    /// Whether water runs on from there into the housing.
    pub is_housing: bool,
}

/// Distance between supports of a duct.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Supports {
    /// No further apart than this.
    pub spacing_m: f64,
    /// What the book allows at most; none where no book in use says.
    pub most_m: Option<f64>,
    /// Who says.
    pub source: Source,
}

/// Joints of a duct.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Jointing {
    /// Joints in order, from the collar to the terminal.
    pub joints: Vec<Joint>,
    /// Straight pieces to cut.
    pub piece_count: u32,
    /// Length in which the duct is sold.
    pub sold_m: f64,
    /// Who says so.
    pub sold_source: Source,
    /// Screws or rivets in a joint that is screwed, spread evenly round.
    pub screw_count: u32,
    /// Least lap of a crimped joint; none where no book in use says.
    pub lap_m: Option<f64>,
    /// What a joint may be sealed with.
    pub seals: Vec<String>,
    /// Who says how joints are made.
    pub source: Source,
}

/// A joint of a duct.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Joint {
    /// Along the line, from the outlet.
    pub along_m: f64,
    /// What it joins the duct to, by key: collar, another piece, elbow, terminal.
    pub kind: String,
    /// How it is made, by key.
    pub made: String,
}

/// A bend of a way outdoors.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Elbow {
    /// Turn.
    pub turn_deg: f64,
    /// Radius of the centre line.
    pub radius_m: f64,
    /// Corner: x, y, z.
    pub at_m: [f64; 3],
}

/// A hole through a member.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bore {
    /// Member, by the name of its framing and its number.
    pub member: String,
    /// Centre of the hole, x, y, z, on a way outdoors; none where it is asked of a member at large.
    pub at_m: Option<[f64; 3]>,
    /// Kind of member, by key.
    pub kind: String,
    /// Depth of the member; none when it is not known.
    pub depth_m: Option<f64>,
    /// Hole.
    pub diameter_m: f64,
    /// Largest hole the book allows there; none where the book gives no number and the maker's chart is needed.
    pub allowed_m: Option<f64>,
    /// Distance from the hole to the nearer edge.
    pub edge_m: Option<f64>,
    /// Least distance the book asks for.
    pub edge_least_m: Option<f64>,
    /// Whether it may be cut.
    pub verdict: Verdict,
    /// Book and section.
    pub source: Source,
}

/// A hole through wall or roof.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Penetration {
    /// Way out or terminal it is for.
    pub at: String,
    /// Hole.
    pub diameter_m: f64,
    /// Outside diameter of what goes through.
    pub duct_m: f64,
    /// Thickness of the wall or roof.
    pub thickness_m: Option<f64>,
    /// Fall of the duct across it, to outdoors.
    pub fall_m: f64,
    /// Centre above the starting course line and number of courses; none without coursing.
    pub courses: Option<Coursing>,
    /// Foam round the duct.
    pub foam_m3: f64,
    /// What is done, in order.
    pub steps: Vec<Message>,
}

/// Centre of a hole on the course lines of masonry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Coursing {
    /// Height of brick and joint.
    pub course_m: f64,
    /// Full courses below the centre.
    pub below_count: f64,
    /// Height of the centre above the line that was counted from.
    pub centre_m: f64,
    /// How far that is off the wanted height.
    pub offset_m: f64,
}

/// Distance from a terminal to something near it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClearanceResult {
    /// Way out or terminal.
    pub at: String,
    /// What is near, by its id.
    pub near: String,
    /// Kind, by key.
    pub kind: String,
    /// Distance.
    pub distance_m: f64,
    /// Least distance; none when no book says.
    pub least_m: Option<f64>,
    /// Whether it is far enough.
    pub verdict: Verdict,
    /// Book and section.
    pub source: Option<Source>,
}
