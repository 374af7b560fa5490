//! Ways outdoors: where a terminal may lie, what is drilled through, and what is near.

use dewpath_units::{Angle, Length, Ratio};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::LEVEL;
use crate::model::plan::{Layer, Separation};
use crate::value::{Given, GivenChoice, GivenPlace, GivenYesNo, Section};

/// A way outdoors: where a terminal may lie, what is drilled through, and what is near. Local codes and the
/// authority on site decide where air may leave.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "way_out", written = "[[way_out]]")]
pub struct WayOut {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "north-wall")]
    pub id: String,
    /// What it leads through.
    #[key(example = "wall")]
    pub kind: GivenChoice<WayOutKind>,
    /// Which way its outside looks.
    #[key(example = "+y")]
    pub facing: GivenChoice<Outward>,
    /// Corner with the least x, y and z of the window in which the middle of the terminal may lie, in the plane
    /// of its outside.
    #[key(example = ["0 ft", "14 ft", "8 ft"])]
    pub at: GivenPlace<3>,
    /// Extent of that window along x, y and z; 0 along the direction in which it looks.
    #[key(example = ["12 ft", "0 ft", "9 in"], extent)]
    pub size: GivenPlace<3>,
    /// Id of the terminal of this job that is or will be here.
    #[key(example = "cap", refers = "terminal")]
    pub terminal: Option<String>,
    /// Where the middle of the terminal is in that window, where that is settled.
    #[key(example = ["5 ft", "14 ft"])]
    pub terminal_at: GivenPlace<2>,
    /// Opening that is there already.
    #[key(example = "4 in")]
    pub opening: GivenChoice<Section>,
    /// What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules
    /// decide.
    #[key(example = "none")]
    pub separation: GivenChoice<Separation>,
    /// Its layers, from indoors.
    #[key(
        example = [{ material = "rim board", thickness = "1-1/2 in" }, { material = "sheathing", thickness = "1/2 in" }, { material = "vinyl", thickness = "1/2 in" }],
    )]
    pub layers: Vec<Layer>,
    /// Courses of its masonry.
    #[key(example = { course = "2-2/3 in", joint = "3/8 in" })]
    pub coursing: Coursing,
    /// Slope of a roof, from level.
    #[key(example = "26.6 deg", possible(0.0, 1.55), usual(0.0, 1.1))]
    pub slope: Given<Angle>,
    /// Slope of a roof as rise over run: 6 in 12 is 0.5. `slope` goes before it.
    #[key(example = 0.5, possible(0.0, 50.0), usual(0.0, 2.0))]
    pub pitch: Given<Ratio>,
    /// Cover of a roof.
    #[key(example = "asphalt shingles")]
    pub cover: GivenChoice<RoofCover>,
    /// Something near that a terminal must keep away from.
    #[key(
        example = { id = "bedroom-window", kind = "window", at = ["20 ft", "14 ft", "3 ft"], size = ["3 ft", "0 ft", "4 ft"] },
    )]
    pub near: Vec<NearThing>,
}

category! {
    /// What a way outdoors leads through.
    pub enum WayOutKind {
        /// Rim or band at the ends of the members.
        Rim = "rim" | "band",
        /// Wall.
        Wall = "wall",
        /// Soffit, by a fitting that blows outdoors.
        Soffit = "soffit",
        /// Gable.
        Gable = "gable",
        /// Roof.
        Roof = "roof",
        /// An opening that is there already.
        Existing = "existing opening",
    }
}

category! {
    /// Which way the outside of a wall or roof looks.
    pub enum Outward {
        /// To greater x.
        PlusX = "+x",
        /// To lesser x.
        MinusX = "-x",
        /// To greater y.
        PlusY = "+y",
        /// To lesser y.
        MinusY = "-y",
        /// Up.
        Up = "up" | "+z",
        /// Down, as under a soffit.
        Down = "down" | "-z",
    }
}

/// Courses of masonry, so that a hole is laid out on them.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "coursing", written = "[way_out.coursing]")]
pub struct Coursing {
    /// From the middle of one bed joint to the next: 2-2/3 in for modular brick.
    #[key(example = "2-2/3 in", possible(0.02, 1.0), usual(0.05, 0.25))]
    pub course: Given<Length>,
    /// Thickness of the joints.
    #[key(example = "3/8 in", possible(0.0, 0.1), usual(0.005, 0.02))]
    pub joint: Given<Length>,
    /// From the middle of one head joint to the next in the same course.
    #[key(example = "8 in", possible(0.02, 2.0), usual(0.1, 0.6))]
    pub unit: Given<Length>,
    /// Level of the middle of one bed joint.
    #[key(example = "8 ft 0-1/2 in", signed, limits = LEVEL)]
    pub bed: Given<Length>,
}

category! {
    /// Cover of a roof.
    pub enum RoofCover {
        /// Asphalt shingles.
        Shingle = "asphalt shingles" | "shingles",
        /// Wood shingles or shakes.
        Wood = "wood shingles" | "shakes",
        /// Metal.
        Metal = "metal",
        /// Tile.
        Tile = "tile",
        /// Slate.
        Slate = "slate",
        /// Membrane.
        Membrane = "membrane",
    }
}

/// Something near a possible terminal that it must keep away from. Grade and snow line are flat boxes at their
/// level; a property line is a flat box along it.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "near", written = "[[way_out.near]]", ids = Within)]
pub struct NearThing {
    /// Stable id within its list; numbered when left out.
    #[key(id, example = "bedroom-window")]
    pub id: String,
    /// What it is.
    #[key(example = "window")]
    pub kind: GivenChoice<NearKind>,
    /// Whether a window or door opens.
    #[key(example = true)]
    pub opens: GivenYesNo,
    /// Its corner with the least x, y and z.
    #[key(example = ["20 ft", "14 ft", "3 ft"])]
    pub at: GivenPlace<3>,
    /// Its extent along x, y and z.
    #[key(example = ["3 ft", "0 ft", "4 ft"], extent)]
    pub size: GivenPlace<3>,
}

category! {
    /// What a terminal must keep away from.
    pub enum NearKind {
        /// Window.
        Window = "window",
        /// Door.
        Door = "door",
        /// Mechanical air intake.
        Intake = "intake" | "air intake",
        /// Gravity air inlet.
        Inlet = "gravity inlet",
        /// Vented soffit.
        SoffitVent = "soffit vent",
        /// Property line.
        PropertyLine = "property line",
        /// Gas meter or regulator.
        Meter = "meter" | "gas meter",
        /// Walkway.
        Walkway = "walkway",
        /// Grade.
        Grade = "grade",
        /// Depth of snow that is usual.
        SnowLine = "snow line",
    }
}
