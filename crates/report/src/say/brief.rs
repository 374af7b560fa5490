//! What the brief says.

use dewpath_message::slot::{AirflowLS, ChanceRatio, Count, Name, Word};
use dewpath_message::{Figure, messages};

messages! {
    enum BriefWord {
        AirHolds = "brief.air.holds",
        AirJust = "brief.air.just",
        AirFails = "brief.air.fails",
        AirMend = "brief.air.mend",
        MirrorHolds = "brief.mirror.holds",
        MirrorSlow = "brief.mirror.slow",
        MirrorFails = "brief.mirror.fails",
        DryHolds = "brief.dry.holds",
        DryFails = "brief.dry.fails",
        HouseHolds = "brief.house.holds",
        HouseTested = "brief.house.tested",
        HouseSpills = "brief.house.spills",
        HouseNear = "brief.house.near",
        HouseFails = "brief.house.fails",
        RulesHold = "brief.rules.hold",
        PlaceHolds = "brief.place.holds",
        PlaceFails = "brief.place.fails",
        Unknown = "brief.unknown",
        Watch = "brief.watch",
        NotAsked = "brief.not-asked",
    }

    struct BriefPoints { count: Count } = BriefPointsKey {
        Broken = "brief.points.broken",
        Open = "brief.points.open",
        ToWatch = "brief.points.to-watch",
        Overridden = "brief.points.overridden",
        More = "brief.points.more",
    }

    struct BriefFigure {
        figure: Figure,
        required: Option<Figure>,
        chance: Option<ChanceRatio>,
        room: Option<Name>,
    } = BriefFigureKey {
        Air = "brief.figure.air",
        Limit = "brief.figure.limit",
    }

    struct BriefPoint { check: Word } = "brief.point"

    enum BriefSilent {
        NoBook = "brief.silent.book",
        FuelUnknown = "brief.silent.fuel",
        NoFlue = "brief.silent.no-flue",
        NoRun = "brief.silent.run",
        NoPlace = "brief.silent.place",
        NoPlan = "brief.silent.plan",
        NoSize = "brief.silent.size",
        NothingMore = "brief.silent.nothing-more",
    }

    struct BriefComplaint { kind: Word, when: Option<Name> } = BriefComplaintKey {
        Told = "brief.complaint.told",
        Against = "brief.complaint.against",
        Fog = "brief.complaint.fog",
        Old = "brief.complaint.old",
        NeverStops = "brief.complaint.never-stops",
    }

    enum BriefChance {
        Close = "brief.chance.close",
    }

    struct BriefExpected { expected: AirflowLS } = "brief.expected"

    struct BriefAsked { required: AirflowLS } = "brief.asked"

    struct BriefLookOutlet { terminal: Name, count: Count } = "brief.look-outlet"

    struct BriefLook { what: Word } = "brief.look"

    struct MirrorSooner { now: Figure, then: Figure } = MirrorSoonerKey {
        Gap = "brief.mirror.gap",
        Pipe = "brief.mirror.pipe",
        Longer = "brief.mirror.longer",
    }

    struct BriefFan { fan: Name, flow: Figure } = "brief.fan"

    struct BriefWay { way: Name, flow: Figure } = "brief.way"
}
