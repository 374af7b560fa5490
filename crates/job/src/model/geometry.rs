//! Where things are: the plan of a room, the framing above it, what is in the way, the ways out.
//!
//! All of it stands in one frame of the dwelling that the user chooses: x and y in plan, z up. Lengths
//! along the axes are exact, since a place that is not known to the width of a pencil is measured again
//! before anything is cut.

use dewpath_units::{Angle, Choice, Length, Ratio, Stated};

use super::{Given, GivenChoice, GivenCount, GivenYesNo, Section};
use crate::category::category;

/// Lengths along the axes, in their order, that may be left out or unknown.
pub type GivenPlace<const N: usize> = Option<Stated<Choice<[Length; N]>>>;
/// Corners of an outline in order, that may be left out or unknown.
pub type GivenOutline = Option<Stated<Choice<Vec<[Length; 2]>>>>;

/// The lengths of a place that is known.
pub fn place_known<const N: usize>(given: &GivenPlace<N>) -> Option<[Length; N]> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(place)) => Some(*place),
        _ => None,
    }
}

/// The corners of an outline that is known.
pub fn outline_known(given: &GivenOutline) -> Option<&[[Length; 2]]> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(corners)) => Some(corners),
        _ => None,
    }
}

/// Where a room is and what its walls are.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RoomPlan {
    /// Corners of its outline in the order in which one walks round it; goes before `at`.
    pub outline: GivenOutline,
    /// Corner with the least x and y of a rectangular room.
    pub at: GivenPlace<2>,
    /// Along which axis the room's length lies, where `at` is written; x when left out.
    pub length_along: GivenChoice<Along>,
    /// Level of the finished floor.
    pub floor_level: Given<Length>,
    /// Whether lengths were taken between finished walls or between bare framing.
    pub measured: GivenChoice<MeasuredTo>,
    /// Thickness of the boards on its walls.
    pub drywall: Given<Length>,
    /// Thickness of the boards under its ceiling, where it is another one.
    pub ceiling_drywall: Given<Length>,
    /// Its walls.
    pub walls: Vec<RoomWall>,
    /// Zones that are sprayed or splashed.
    pub wet: Vec<WetZone>,
    /// Where fixtures and doors are.
    pub fixtures: Vec<FixtureAt>,
    /// Where the housing should be.
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

/// A wall of a room.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomWall {
    /// Stable id within the room.
    pub id: String,
    /// Corner at which it begins, from 1; it ends at the next one.
    pub corner: GivenCount,
    /// Whether the outdoors is behind it.
    pub outside: GivenYesNo,
    /// What it must keep apart.
    pub separation: GivenChoice<Separation>,
    /// Its layers, from the room.
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
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What it is made of.
    pub material: GivenChoice<LayerMaterial>,
    /// Thickness.
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

/// A zone that is sprayed or splashed.
#[derive(Debug, Clone, PartialEq)]
pub struct WetZone {
    /// Stable id within the room.
    pub id: String,
    /// Corner with the least x and y.
    pub at: GivenPlace<2>,
    /// Extent along x and y.
    pub size: GivenPlace<2>,
}

/// Where a fixture or door is.
#[derive(Debug, Clone, PartialEq)]
pub struct FixtureAt {
    /// Stable id within the room.
    pub id: String,
    /// What it is.
    pub kind: GivenChoice<FixtureKind>,
    /// Its middle.
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

/// Where a housing should be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wish {
    /// Centre of the room.
    Centre,
    /// Over the middle of the shower or tub.
    OverShower,
    /// Halfway from the shower, tub or toilet to the door.
    BetweenFixtureAndDoor,
    /// At a point.
    At([Length; 2]),
}

category! {
    /// The words for a wish that is no point.
    pub enum WishWord {
        /// Centre of the room.
        Centre = "centre" | "center",
        /// Over the middle of the shower or tub.
        OverShower = "over the shower" | "over the tub",
        /// Halfway from the shower, tub or toilet to the door.
        Between = "between fixture and door",
    }
}

impl WishWord {
    /// The wish that the word means.
    pub const fn wish(self) -> Wish {
        match self {
            Self::Centre => Wish::Centre,
            Self::OverShower => Wish::OverShower,
            Self::Between => Wish::BetweenFixtureAndDoor,
        }
    }
}

/// A part of a floor or ceiling in which members run one way at one spacing.
#[derive(Debug, Clone, PartialEq)]
pub struct Framing {
    /// Stable id.
    pub id: String,
    /// Kind of its members.
    pub kind: GivenChoice<FramingKind>,
    /// Nominal size of a member.
    pub size: GivenChoice<LumberSize>,
    /// Actual width and depth of a member; goes before `size`.
    pub actual: GivenPlace<2>,
    /// From centre to centre.
    pub spacing: Given<Length>,
    /// Direction in which members run.
    pub direction: GivenChoice<Along>,
    /// Centre of the first member from the edge of the zone with the least x or y.
    pub first: Given<Length>,
    /// Corner with the least x and y.
    pub at: GivenPlace<2>,
    /// Extent along x and y.
    pub extent: GivenPlace<2>,
    /// Level of the underside of the members.
    pub bottom: Given<Length>,
    /// Where the two bearings of a member stand, along it.
    pub bearings: GivenPlace<2>,
    /// Clear span of a member, where the bearings are not written.
    pub span: Given<Length>,
    /// What is above.
    pub above: GivenChoice<Above>,
    /// What it must keep apart.
    pub separation: GivenChoice<Separation>,
    /// Members that have another one beside them.
    pub doubles: Vec<DoubledMember>,
}

impl Framing {
    /// Actual width and depth of a member: as written, else that of its nominal size where it is known.
    pub fn actual_size(&self) -> Option<[Length; 2]> {
        if self.actual.is_some() {
            return place_known(&self.actual);
        }
        match self.size.as_ref().map(|stated| &stated.value) {
            Some(Choice::Known(size)) => Some(size.actual()),
            _ => None,
        }
    }
}

category! {
    /// Kind of members.
    pub enum FramingKind {
        /// Sawn joists or rafters.
        Sawn = "sawn joist" | "sawn" | "rafter",
        /// Sawn joists, each of them doubled.
        Doubled = "doubled" | "doubled joist",
        /// I-joists.
        IJoist = "i-joist",
        /// Trusses.
        Truss = "truss",
        /// Laminated or otherwise engineered timber.
        Engineered = "engineered",
        /// Steel joists.
        Steel = "steel",
    }
}

category! {
    /// What lies above a ceiling.
    pub enum Above {
        /// A heated floor of the same dwelling.
        Heated = "heated" | "heated floor",
        /// An attic outside the insulation.
        Attic = "attic",
        /// A flat roof.
        FlatRoof = "flat roof",
        /// Another dwelling.
        Dwelling = "dwelling" | "another dwelling",
    }
}

category! {
    /// Nominal size of softwood lumber.
    pub enum LumberSize {
        /// 2x4.
        TwoByFour = "2x4" | "2 x 4",
        /// 2x6.
        TwoBySix = "2x6" | "2 x 6",
        /// 2x8.
        TwoByEight = "2x8" | "2 x 8",
        /// 2x10.
        TwoByTen = "2x10" | "2 x 10",
        /// 2x12.
        TwoByTwelve = "2x12" | "2 x 12",
    }
}

impl LumberSize {
    /// Actual width and depth of dry, dressed lumber (PS 20: 1-1/2 in by 3-1/2, 5-1/2, 7-1/4, 9-1/4 or 11-1/4 in).
    pub fn actual(self) -> [Length; 2] {
        let depth_in = match self {
            Self::TwoByFour => 3.5,
            Self::TwoBySix => 5.5,
            Self::TwoByEight => 7.25,
            Self::TwoByTen => 9.25,
            Self::TwoByTwelve => 11.25,
        };
        [Length::from_inches(1.5), Length::from_inches(depth_in)]
    }
}

/// A member with another one of its size beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct DoubledMember {
    /// Number of the member from the first, from 1.
    pub member: GivenCount,
    /// On which side of it the other one stands.
    pub side: GivenChoice<DoubleSide>,
}

category! {
    /// On which side of a member its double stands.
    pub enum DoubleSide {
        /// Towards the first member.
        Before = "before",
        /// Away from the first member.
        After = "after",
    }
}

/// A space that a duct may pass through.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    /// Stable id.
    pub id: String,
    /// What it is.
    pub kind: GivenChoice<SpaceKind>,
    /// Corner with the least x, y and z.
    pub at: GivenPlace<3>,
    /// Extent along x, y and z.
    pub size: GivenPlace<3>,
}

category! {
    /// Kind of a space.
    pub enum SpaceKind {
        /// Attic.
        Attic = "attic",
        /// A boxed-in drop below a ceiling.
        Soffit = "soffit" | "soffit drop",
        /// Chase.
        Chase = "chase",
        /// Crawl space.
        Crawl = "crawl" | "crawl space",
    }
}

/// Something that is in the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    /// Stable id.
    pub id: String,
    /// What it is.
    pub kind: GivenChoice<ObstacleKind>,
    /// Corner with the least x, y and z.
    pub at: GivenPlace<3>,
    /// Extent along x, y and z.
    pub size: GivenPlace<3>,
}

category! {
    /// Kind of something that is in the way.
    pub enum ObstacleKind {
        /// Light.
        Light = "light",
        /// Pipe.
        Pipe = "pipe",
        /// Another duct.
        Duct = "duct",
        /// Beam.
        Beam = "beam",
        /// Outlet or junction box.
        Outlet = "outlet" | "junction box",
        /// Anything else.
        Other = "other",
    }
}

/// A way outdoors.
#[derive(Debug, Clone, PartialEq)]
pub struct WayOut {
    /// Stable id.
    pub id: String,
    /// What it leads through.
    pub kind: GivenChoice<WayOutKind>,
    /// Which way its outside looks.
    pub facing: GivenChoice<Outward>,
    /// Corner with the least x, y and z of the window in which the terminal may lie.
    pub at: GivenPlace<3>,
    /// Extent of that window along x, y and z.
    pub size: GivenPlace<3>,
    /// The terminal of this job that is or will be here.
    pub terminal: Option<String>,
    /// Where in that window the middle of the terminal is, x and y.
    pub terminal_at: GivenPlace<2>,
    /// Opening that is there already.
    pub opening: GivenChoice<Section>,
    /// What it must keep apart.
    pub separation: GivenChoice<Separation>,
    /// Its layers, from indoors.
    pub layers: Vec<Layer>,
    /// Courses of its masonry.
    pub coursing: Coursing,
    /// Slope of a roof, from level.
    pub slope: Given<Angle>,
    /// Slope of a roof as rise over run; `slope` goes before it.
    pub pitch: Given<Ratio>,
    /// Cover of a roof.
    pub cover: GivenChoice<RoofCover>,
    /// What the terminal must keep away from.
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

/// Courses of masonry.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Coursing {
    /// From bed joint to bed joint.
    pub course: Given<Length>,
    /// Thickness of the joint.
    pub joint: Given<Length>,
    /// From head joint to head joint.
    pub unit: Given<Length>,
    /// Level of the middle of one bed joint.
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

/// Something near a possible terminal.
#[derive(Debug, Clone, PartialEq)]
pub struct NearThing {
    /// Stable id within the way out.
    pub id: String,
    /// What it is.
    pub kind: GivenChoice<NearKind>,
    /// Whether it opens, for a window or door.
    pub opens: GivenYesNo,
    /// Corner with the least x, y and z.
    pub at: GivenPlace<3>,
    /// Extent along x, y and z.
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

/// How a housing is made and hung.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HousingGiven {
    /// Side on which its collar is.
    pub outlet_side: GivenChoice<OutletSide>,
    /// From the middle of that side to the centre of the collar.
    pub outlet_offset: Given<Length>,
    /// Centre of the collar above the ceiling face.
    pub outlet_height: Given<Length>,
    /// How far the collar stands out.
    pub collar: Given<Length>,
    /// How far the flange reaches beyond the body all round.
    pub flange: Given<Length>,
}

category! {
    /// Side of a housing on which its collar is.
    pub enum OutletSide {
        /// An end: the side at the end of its length.
        End = "end",
        /// A flank: the side along its length.
        Flank = "flank",
        /// The top.
        Top = "top",
    }
}
