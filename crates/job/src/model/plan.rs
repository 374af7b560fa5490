//! Where a room is, what its walls are, and where its housing should be.
//!
//! All of it stands in one frame of the dwelling that the user chooses: x and y in plan, z up. Lengths
//! along the axes are exact, since a place that is not known to the width of a pencil is measured again
//! before anything is cut.

use dewpath_units::{Length, Stated};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::{BOARD, LEVEL};
use crate::value::{Given, GivenChoice, GivenCount, GivenOutline, GivenPlace, GivenYesNo, Wish};

/// Where a room is and what its walls are.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
pub struct RoomPlan {
    /// Corners of its outline, in the order in which one walks round it; needed where it is no rectangle. It goes
    /// before `at`.
    #[key(
        name = "plan",
        example = [["0 ft", "0 ft"], ["9 ft 4 in", "0 ft"], ["9 ft 4 in", "5 ft"], ["0 ft", "5 ft"]],
    )]
    pub outline: GivenOutline,
    /// Where a rectangular room is: its corner with the least x and y.
    #[key(example = ["0 ft", "0 ft"])]
    pub at: GivenPlace<2>,
    /// Along which axis its length lies, beside `at`; along x when left out.
    #[key(example = "x")]
    pub length_along: GivenChoice<Along>,
    /// Level of its finished floor.
    #[key(example = "0 ft", signed, limits = LEVEL)]
    pub floor_level: Given<Length>,
    /// Whether lengths were taken between finished walls or between bare framing.
    #[key(example = "finished")]
    pub measured: GivenChoice<MeasuredTo>,
    /// Thickness of the boards on its walls.
    #[key(example = "1/2 in", limits = BOARD)]
    pub drywall: Given<Length>,
    /// Thickness of the boards under its ceiling, where it is another one.
    #[key(example = "5/8 in", limits = BOARD)]
    pub ceiling_drywall: Given<Length>,
    /// A wall of the room.
    #[key(name = "wall", example = { id = "north", corner = 3, outside = true })]
    pub walls: Vec<RoomWall>,
    /// A zone that is sprayed or splashed.
    #[key(example = { id = "shower", at = ["0 ft", "0 ft"], size = ["3 ft", "3 ft"] })]
    pub wet: Vec<WetZone>,
    /// Where a fixture or the door is.
    #[key(
        name = "fixture_at",
        example = { id = "toilet", kind = "toilet", at = ["8 ft", "2 ft 6 in"] },
    )]
    pub fixtures: Vec<FixtureAt>,
    /// Where the housing should be: `centre`, `over the shower`, `between fixture and door`, or a point such as
    /// `["4 ft", "3 ft"]`.
    #[key(example = "centre")]
    pub wish: Option<Stated<Wish>>,
}

category! {
    /// Direction in plan.
    pub enum Along {
        /// Along x.
        X = "x",
        /// Along y.
        Y = "y",
    }
}

category! {
    /// What lengths of a room were taken to.
    pub enum MeasuredTo {
        /// Finished walls and ceiling.
        Finished = "finished",
        /// Bare studs and joists.
        Framing = "framing" | "bare framing" | "studs",
    }
}

/// A wall of the room, from one corner of its outline to the next. Corners of a rectangle written by `at` count
/// from the least x and y along x, against the clock.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "wall", written = "[[room.wall]]", ids = Within)]
pub struct RoomWall {
    /// Stable id within its list; numbered when left out.
    #[key(id, example = "north")]
    pub id: String,
    /// Number of the corner at which it begins, from 1.
    #[key(example = 3, possible(200), usual(24))]
    pub corner: GivenCount,
    /// Whether the outdoors is behind it.
    #[key(example = true)]
    pub outside: GivenYesNo,
    /// What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules
    /// decide.
    #[key(example = "none")]
    pub separation: GivenChoice<Separation>,
    /// Its layers, from the room.
    #[key(
        example = [{ material = "drywall", thickness = "1/2 in" }, { material = "studs", thickness = "3-1/2 in" }],
    )]
    pub layers: Vec<Layer>,
}

category! {
    /// What a wall, floor or roof keeps apart.
    pub enum Separation {
        /// Nothing that a rule is known for.
        None = "none",
        /// A dwelling from its garage.
        Garage = "garage",
        /// Two dwellings of one building.
        Dwelling = "dwelling" | "another dwelling",
        /// Two townhouses.
        Townhouse = "townhouse",
        /// It is rated for a time for another reason.
        Rated = "fire-rated" | "rated",
    }
}

/// A layer of a wall or roof, in the order in which a drill from indoors meets it.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "layer", written = "layers = [{ … }]")]
pub struct Layer {
    /// What it is made of.
    #[key(example = "brick")]
    pub material: GivenChoice<LayerMaterial>,
    /// Its thickness.
    #[key(example = "3-5/8 in", possible(0.0, 3.0), usual(0.0001, 0.9))]
    pub thickness: Given<Length>,
}

category! {
    /// What a layer of a wall or roof is made of.
    pub enum LayerMaterial {
        /// Gypsum board.
        Drywall = "drywall" | "gypsum board",
        /// Plaster.
        Plaster = "plaster",
        /// Tile on its board.
        Tile = "tile",
        /// Studs with what is between them.
        Studs = "studs" | "stud cavity",
        /// A header, rim board, band or other solid timber.
        Timber = "timber" | "solid wood" | "rim board",
        /// Plywood or strand board.
        Sheathing = "sheathing" | "plywood" | "osb",
        /// Rigid insulation.
        RigidInsulation = "rigid insulation" | "foam board",
        /// Membrane that drains: paper or wrap.
        Membrane = "membrane" | "house wrap",
        /// Air gap.
        AirGap = "air gap" | "cavity",
        /// Brick.
        Brick = "brick",
        /// Hollow concrete block.
        Block = "block" | "concrete block",
        /// Poured concrete.
        Concrete = "concrete",
        /// Stone.
        Stone = "stone",
        /// Stucco.
        Stucco = "stucco" | "render",
        /// Wood siding or shingles.
        WoodSiding = "wood siding",
        /// Fibre cement.
        FibreCement = "fibre cement" | "fiber cement",
        /// Vinyl siding.
        Vinyl = "vinyl siding" | "vinyl",
        /// Metal cladding.
        Metal = "metal" | "metal siding",
        /// Roof cover.
        RoofCover = "roof cover" | "roofing",
        /// Anything else.
        Other = "other",
    }
}

/// A zone that is sprayed or splashed: over a shower or tub. What hangs there must be listed for it.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "wet", written = "[[room.wet]]", ids = Within)]
pub struct WetZone {
    /// Stable id within its list; numbered when left out.
    #[key(id, example = "shower")]
    pub id: String,
    /// Its corner with the least x and y.
    #[key(example = ["0 ft", "0 ft"])]
    pub at: GivenPlace<2>,
    /// Its extent along x and y.
    #[key(example = ["3 ft", "3 ft"], extent)]
    pub size: GivenPlace<2>,
}

/// Where a fixture or the door is.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "fixture_at", written = "[[room.fixture_at]]", ids = Within)]
pub struct FixtureAt {
    /// Stable id within its list; numbered when left out.
    #[key(id, example = "toilet")]
    pub id: String,
    /// What it is.
    #[key(example = "toilet")]
    pub kind: GivenChoice<FixtureKind>,
    /// Its middle; of a door, the middle of its opening.
    #[key(example = ["8 ft", "2 ft 6 in"])]
    pub at: GivenPlace<2>,
}

category! {
    /// A fixture, or the door, for its place.
    pub enum FixtureKind {
        /// Shower.
        Shower = "shower",
        /// Tub.
        Tub = "tub",
        /// Toilet.
        Toilet = "toilet",
        /// Washbasin.
        Basin = "basin" | "washbasin",
        /// Door to the rest of the dwelling.
        Door = "door",
    }
}
