//! What cannot be of where things are.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name};

messages! {
    struct OfRoom { room: Name } = OfRoomKey {
        ShowersWithoutShower = "job.place.showers-without-shower",
        CornerBesidePlan = "job.place.corner-beside-plan",
        CornerWithoutSize = "job.place.corner-without-size",
        AxisWithoutCorner = "job.place.axis-without-corner",
        ShowerNowhere = "job.place.shower-nowhere",
        FixtureAndDoorNowhere = "job.place.fixture-and-door-nowhere",
        WishOutside = "job.place.wish-outside",
    }

    struct OfThing { thing: Name } = OfThingKey {
        GlazingWithoutWindow = "job.place.glazing-without-window",
        HeatedFromBehind = "job.place.heated-from-behind",
        OpensNowhere = "job.place.opens-nowhere",
    }

    struct CornersOfRoom { room: Name, count: Count } = "job.place.corners-of-room"

    struct Pair { one: Count, other: Count, room: Name } = PairKey {
        CornersTogether = "job.place.corners-together",
        WallsCross = "job.place.walls-cross",
    }

    struct WallWithoutCorner { wall: Name, corner: Count, room: Name } = "job.place.wall-without-corner"

    struct WallsAtCorner { room: Name, corner: Count } = "job.place.walls-at-corner"

    struct HousingBeyondRoom { fan: Name, room: Name } = "job.place.housing-beyond-room"

    struct OfFraming { framing: Name } = OfFramingKey {
        WiderThanDeep = "job.place.wider-than-deep",
        Touching = "job.place.touching",
        FirstBeyondEdge = "job.place.first-beyond-edge",
        BearingsReversed = "job.place.bearings-reversed",
        NominalSize = "job.place.nominal-size",
        SpanBesideBearings = "job.place.span-beside-bearings",
    }

    struct NoMember { framing: Name, member: Count } = "job.place.no-member"

    struct OfWay { way: Name } = OfWayKey {
        TerminalBeyondWindow = "job.place.terminal-beyond-window",
        WindowWithoutExtent = "job.place.window-without-extent",
        WindowThick = "job.place.window-thick",
        UprightLooksUp = "job.place.upright-looks-up",
        SlopeTwice = "job.place.slope-twice",
        NoRoof = "job.place.no-roof",
        JointsFillCourses = "job.place.joints-fill-courses",
    }

    struct OutsideRoom { thing: Name, room: Name } = OutsideRoomKey {
        WetZone = "job.place.wet-zone",
        Thing = "job.place.thing",
        Fan = "job.place.fan",
    }
}
