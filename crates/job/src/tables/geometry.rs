//! Tables of the geometry of the job: framing, spaces, obstacles, ways out, and where things of a room are.

use dewpath_units::{Angle, Length, Ratio};

use crate::model::{
    Above, Along, DoubleSide, FixtureKind, FramingKind, LayerMaterial, LumberSize, NearKind,
    ObstacleKind, Outward, RoofCover, Separation, SpaceKind, WayOutKind,
};
use crate::spec::{Limits, Shape, Table, key, quantity, words_of};

/// Levels: 330 ft to either side possible; beyond three storeys somebody should look again.
pub(super) const LEVEL: Shape =
    Shape::SignedLength(Limits { possible: [-100.0, 100.0], usual: [-6.0, 12.0] });
/// Boards: up to 4 in possible, 1/4 in to 1-1/4 in usual.
pub(super) const BOARD: Shape = quantity::<Length>(0.0, 0.1, 0.006, 0.032);

const CORNER_3: &str = "Its corner with the least x, y and z.";
const SIZE_3: &str = "Its extent along x, y and z.";
const WITHIN: &str = "Stable id within its list; numbered when left out.";
const SEPARATES: &str = "What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules decide.";

pub(super) static ROOM_WALL: Table = Table {
    name: "wall",
    written: "[[room.wall]]",
    doc: "A wall of the room, from one corner of its outline to the next. Corners of a rectangle written by `at` count from the least x and y along x, against the clock.",
    keys: &[
        key("id", Shape::Id, r#""north""#, WITHIN),
        key(
            "corner",
            Shape::Count(200, 24),
            "3",
            "Number of the corner at which it begins, from 1.",
        ),
        key("outside", Shape::YesNo, "true", "Whether the outdoors is behind it."),
        key("separation", Shape::Choice(words_of::<Separation>), r#""none""#, SEPARATES),
        key(
            "layers",
            Shape::Many(&LAYER),
            r#"[{ material = "drywall", thickness = "1/2 in" }, { material = "studs", thickness = "3-1/2 in" }]"#,
            "Its layers, from the room.",
        ),
    ],
};

static LAYER: Table = Table {
    name: "layer",
    written: "layers = [{ … }]",
    doc: "A layer of a wall or roof, in the order in which a drill from indoors meets it.",
    keys: &[
        key(
            "material",
            Shape::Choice(words_of::<LayerMaterial>),
            r#""brick""#,
            "What it is made of.",
        ),
        key(
            "thickness",
            quantity::<Length>(0.0, 3.0, 0.0001, 0.4),
            r#""3-5/8 in""#,
            "Its thickness.",
        ),
    ],
};

pub(super) static WET: Table = Table {
    name: "wet",
    written: "[[room.wet]]",
    doc: "A zone that is sprayed or splashed: over a shower or tub. What hangs there must be listed for it.",
    keys: &[
        key("id", Shape::Id, r#""shower""#, WITHIN),
        key("at", Shape::Place(2), r#"["0 ft", "0 ft"]"#, "Its corner with the least x and y."),
        key("size", Shape::Extent(2), r#"["3 ft", "3 ft"]"#, "Its extent along x and y."),
    ],
};

pub(super) static FIXTURE_AT: Table = Table {
    name: "fixture_at",
    written: "[[room.fixture_at]]",
    doc: "Where a fixture or the door is.",
    keys: &[
        key("id", Shape::Id, r#""toilet""#, WITHIN),
        key("kind", Shape::Choice(words_of::<FixtureKind>), r#""toilet""#, "What it is."),
        key(
            "at",
            Shape::Place(2),
            r#"["8 ft", "2 ft 6 in"]"#,
            "Its middle; of a door, the middle of its opening.",
        ),
    ],
};

pub(super) static FRAMING: Table = Table {
    name: "framing",
    written: "[[framing]]",
    doc: "A part of a floor or ceiling in which members run one way at one spacing. Where they change direction, as over a bearing wall, write one for each part.",
    keys: &[
        key("id", Shape::Id, r#""joists""#, "Stable id; may be left out when there is only one."),
        key(
            "kind",
            Shape::Choice(words_of::<FramingKind>),
            r#""sawn joist""#,
            "Kind of its members. Trusses, I-joists and other engineered members are never cut without their maker's chart.",
        ),
        key(
            "size",
            Shape::Choice(words_of::<LumberSize>),
            r#""2x10""#,
            "Nominal size of sawn members; the actual one follows (PS 20).",
        ),
        key(
            "actual",
            Shape::Extent(2),
            r#"["1-1/2 in", "9-1/4 in"]"#,
            "Actual width and depth of a member, measured; it goes before `size`.",
        ),
        key(
            "spacing",
            quantity::<Length>(0.03, 5.0, 0.25, 0.7),
            r#""16 in""#,
            "From centre to centre.",
        ),
        key(
            "direction",
            Shape::Choice(words_of::<Along>),
            r#""y""#,
            "Direction in which the members run.",
        ),
        key(
            "first",
            quantity::<Length>(0.0, 5.0, 0.0, 0.7),
            r#""15-1/4 in""#,
            "Centre of the first member from the edge of this part with the least x or y, measured across the members.",
        ),
        key("at", Shape::Place(2), r#"["0 ft", "0 ft"]"#, "Its corner with the least x and y."),
        key("extent", Shape::Extent(2), r#"["12 ft", "14 ft"]"#, "Its extent along x and y."),
        key(
            "bottom",
            LEVEL,
            r#""8 ft""#,
            "Level of the underside of its members; when left out they lie on the boards of the ceiling of the room below.",
        ),
        key(
            "bearings",
            Shape::Place(2),
            r#"["0 ft", "14 ft"]"#,
            "Where the two bearings of a member stand, along it: along x where the members run along x, else along y.",
        ),
        key(
            "span",
            quantity::<Length>(0.1, 60.0, 0.6, 8.0),
            r#""13 ft 5 in""#,
            "Clear span of a member, where the bearings are not written.",
        ),
        key("above", Shape::Choice(words_of::<Above>), r#""heated""#, "What is above."),
        key("separation", Shape::Choice(words_of::<Separation>), r#""none""#, SEPARATES),
        key(
            "double",
            Shape::Many(&DOUBLE),
            r#"{ member = 3, side = "after" }"#,
            "A member with another one of its size beside it, as under a wall or at an opening.",
        ),
    ],
};

static DOUBLE: Table = Table {
    name: "double",
    written: "[[framing.double]]",
    doc: "A member with another one of its size beside it.",
    keys: &[
        key(
            "member",
            Shape::Count(10_000, 60),
            "3",
            "Number of the member from the first, from 1.",
        ),
        key(
            "side",
            Shape::Choice(words_of::<DoubleSide>),
            r#""after""#,
            "On which side of it the other one stands: towards the first member is before.",
        ),
    ],
};

pub(super) static SPACE: Table = Table {
    name: "space",
    written: "[[space]]",
    doc: "A space that a duct may pass through, beside the bays between members.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""attic-space""#,
            "Stable id; may be left out when there is only one.",
        ),
        key("kind", Shape::Choice(words_of::<SpaceKind>), r#""attic""#, "What it is."),
        key("at", Shape::Place(3), r#"["0 ft", "0 ft", "8 ft 9-1/4 in"]"#, CORNER_3),
        key("size", Shape::Extent(3), r#"["30 ft", "24 ft", "5 ft"]"#, SIZE_3),
    ],
};

pub(super) static OBSTACLE: Table = Table {
    name: "obstacle",
    written: "[[obstacle]]",
    doc: "Something that is in the way, as a box.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""ceiling-light""#,
            "Stable id; may be left out when there is only one.",
        ),
        key("kind", Shape::Choice(words_of::<ObstacleKind>), r#""light""#, "What it is."),
        key("at", Shape::Place(3), r#"["4 ft", "2 ft", "8 ft"]"#, CORNER_3),
        key("size", Shape::Extent(3), r#"["8 in", "8 in", "6 in"]"#, SIZE_3),
    ],
};

pub(super) static WAY_OUT: Table = Table {
    name: "way_out",
    written: "[[way_out]]",
    doc: "A way outdoors: where a terminal may lie, what is drilled through, and what is near. Local codes and the authority on site decide where air may leave.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""north-wall""#,
            "Stable id; may be left out when there is only one.",
        ),
        key("kind", Shape::Choice(words_of::<WayOutKind>), r#""wall""#, "What it leads through."),
        key(
            "facing",
            Shape::Choice(words_of::<Outward>),
            r#""+y""#,
            "Which way its outside looks.",
        ),
        key(
            "at",
            Shape::Place(3),
            r#"["0 ft", "14 ft", "8 ft"]"#,
            "Corner with the least x, y and z of the window in which the middle of the terminal may lie, in the plane of its outside.",
        ),
        key(
            "size",
            Shape::Extent(3),
            r#"["12 ft", "0 ft", "9 in"]"#,
            "Extent of that window along x, y and z; 0 along the direction in which it looks.",
        ),
        key(
            "terminal",
            Shape::Reference("terminal"),
            r#""cap""#,
            "Id of the terminal of this job that is or will be here.",
        ),
        key(
            "terminal_at",
            Shape::Place(2),
            r#"["5 ft", "14 ft"]"#,
            "Where the middle of the terminal is in that window, where that is settled.",
        ),
        key("opening", Shape::Size, r#""4 in""#, "Opening that is there already."),
        key("separation", Shape::Choice(words_of::<Separation>), r#""none""#, SEPARATES),
        key(
            "layers",
            Shape::Many(&LAYER),
            r#"[{ material = "rim board", thickness = "1-1/2 in" }, { material = "sheathing", thickness = "1/2 in" }, { material = "vinyl", thickness = "1/2 in" }]"#,
            "Its layers, from indoors.",
        ),
        key(
            "coursing",
            Shape::One(&COURSING),
            r#"{ course = "2-2/3 in", joint = "3/8 in" }"#,
            "Courses of its masonry.",
        ),
        key(
            "slope",
            quantity::<Angle>(0.0, 1.55, 0.0, 1.1),
            r#""26.6 deg""#,
            "Slope of a roof, from level.",
        ),
        key(
            "pitch",
            quantity::<Ratio>(0.0, 50.0, 0.0, 2.0),
            "0.5",
            "Slope of a roof as rise over run: 6 in 12 is 0.5. `slope` goes before it.",
        ),
        key(
            "cover",
            Shape::Choice(words_of::<RoofCover>),
            r#""asphalt shingles""#,
            "Cover of a roof.",
        ),
        key(
            "near",
            Shape::Many(&NEAR),
            r#"{ id = "bedroom-window", kind = "window", at = ["20 ft", "14 ft", "3 ft"], size = ["3 ft", "0 ft", "4 ft"] }"#,
            "Something near that a terminal must keep away from.",
        ),
    ],
};

static COURSING: Table = Table {
    name: "coursing",
    written: "[way_out.coursing]",
    doc: "Courses of masonry, so that a hole is laid out on them.",
    keys: &[
        key(
            "course",
            quantity::<Length>(0.02, 1.0, 0.05, 0.25),
            r#""2-2/3 in""#,
            "From the middle of one bed joint to the next: 2-2/3 in for modular brick.",
        ),
        key(
            "joint",
            quantity::<Length>(0.0, 0.1, 0.005, 0.02),
            r#""3/8 in""#,
            "Thickness of the joints.",
        ),
        key(
            "unit",
            quantity::<Length>(0.02, 2.0, 0.1, 0.6),
            r#""8 in""#,
            "From the middle of one head joint to the next in the same course.",
        ),
        key("bed", LEVEL, r#""8 ft 0-1/2 in""#, "Level of the middle of one bed joint."),
    ],
};

static NEAR: Table = Table {
    name: "near",
    written: "[[way_out.near]]",
    doc: "Something near a possible terminal that it must keep away from. Grade and snow line are flat boxes at their level; a property line is a flat box along it.",
    keys: &[
        key("id", Shape::Id, r#""bedroom-window""#, WITHIN),
        key("kind", Shape::Choice(words_of::<NearKind>), r#""window""#, "What it is."),
        key("opens", Shape::YesNo, "true", "Whether a window or door opens."),
        key("at", Shape::Place(3), r#"["20 ft", "14 ft", "3 ft"]"#, CORNER_3),
        key("size", Shape::Extent(3), r#"["3 ft", "0 ft", "4 ft"]"#, SIZE_3),
    ],
};
