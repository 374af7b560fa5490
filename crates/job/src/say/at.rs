//! What is wrong at one place of a file: of a value, or that it is missing.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, Reference, Word};

messages! {
    struct AtPath { path: Name } = AtPathKey {
        HoldsNothing = "job.at.holds-nothing",
        WithoutExtent = "job.at.without-extent",
        PartOfNothing = "job.at.part-of-nothing",
        BesideParts = "job.at.beside-parts",
        BesideEquivalent = "job.at.beside-equivalent",
        Equivalent = "job.at.equivalent",
        BesideBag = "job.at.beside-bag",
        FarAway = "job.at.far-away",
        NoPressure = "job.at.no-pressure",
        PointInexact = "job.at.point-inexact",
        OnePoint = "job.at.one-point",
        FlowTwice = "job.at.flow-twice",
        PointImpossible = "job.at.point-impossible",
        NoCount = "job.at.no-count",
        ListForValue = "job.at.list-for-value",
        RangeReversed = "job.at.range-reversed",
        SideImpossible = "job.at.side-impossible",
        WithoutValue = "job.at.without-value",
        Empty = "job.at.empty",
        NoValue = "job.at.no-value",
        List = "job.at.list",
        NotWritten = "job.at.not-written",
        LossFlowNone = "job.at.loss-flow-none",
        LossPressureNone = "job.at.loss-pressure-none",
        RatedFlowNone = "job.at.rated-flow-none",
        TooLarge = "job.at.too-large",
        TooSmall = "job.at.too-small",
        OddlyLarge = "job.at.oddly-large",
        OddlySmall = "job.at.oddly-small",
    }

    struct LengthsAlong { path: Name, wanted: Count, count: Count } = "job.at.lengths-along"

    struct ExtentBeyond { path: Name, most: Reference } = "job.at.extent-beyond"

    struct PathTyped { path: Name, typed: Name } = PathTypedKey {
        NoUnit = "job.at.no-unit",
        NotMeasured = "job.at.not-measured",
        NoDuct = "job.at.no-duct",
        OddDuct = "job.at.odd-duct",
        NoSize = "job.at.no-size",
        NoTime = "job.at.no-time",
        NoYesNo = "job.at.no-yes-no",
        NoSuchWord = "job.at.no-such-word",
    }

    struct Between { path: Name, low: Reference, high: Reference } = "job.at.between"

    struct CountBeyond { path: Name, count: Count, most: Count } = "job.at.count-beyond"

    struct CountOdd { path: Name, count: Count } = "job.at.count-odd"

    struct KindWithoutUnit { path: Name, kind: Word, typed: Name } = "job.at.kind-without-unit"

    struct SidesOf { path: Name, wanted: Count, count: Count } = "job.at.sides-of"

    struct MonthsOf { path: Name, count: Count } = "job.at.months-of"

    struct NoDay { path: Name, typed: Name, first: Reference, last: Reference } = "job.at.no-day"

    struct Lacks { path: Name, missing: Reference } = LacksKey {
        Alone = "job.at.lacks",
        RoomOfGrille = "job.at.lacks.room-of-grille",
        From = "job.at.lacks.from",
        To = "job.at.lacks.to",
        RoomOfFan = "job.at.lacks.room-of-fan",
    }
}
