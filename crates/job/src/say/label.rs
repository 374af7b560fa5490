//! Short texts at the caret.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Reference};

messages! {
    enum Label {
        SayWhy = "job.label.say-why",
        AtOrAboveHoldsAt = "job.label.at-or-above-holds-at",
        WhatMeasured = "job.label.what-measured",
        WhereEnds = "job.label.where-ends",
        OnlyInSwap = "job.label.only-in-swap",
        Used = "job.label.used",
        WrongKind = "job.label.wrong-kind",
        LargerThanGlazed = "job.label.larger-than-glazed",
        DoesNotFit = "job.label.does-not-fit",
        ToWhichSize = "job.label.to-which-size",
        NoLength = "job.label.no-length",
        NoPart = "job.label.no-part",
        FileNameBelongs = "job.label.file-name-belongs",
        NotUsed = "job.label.not-used",
        AirCannotHold = "job.label.air-cannot-hold",
        AboveCooling = "job.label.above-cooling",
        OneTimeEach = "job.label.one-time-each",
        OneTimeTwice = "job.label.one-time-twice",
        UsualBehindMirror = "job.label.usual-behind-mirror",
        AsLargeAsOnAt = "job.label.as-large-as-on-at",
        LongerThanMaxRun = "job.label.longer-than-max-run",
        WaterRunsDown = "job.label.water-runs-down",
        CornerAlone = "job.label.corner-alone",
        ThreeCorners = "job.label.three-corners",
        WallWithoutLength = "job.label.wall-without-length",
        NoRoomHasIt = "job.label.no-room-has-it",
        NoSuchCorner = "job.label.no-such-corner",
        OneWallAtCorner = "job.label.one-wall-at-corner",
        MoreThanNoneEach = "job.label.more-than-none-each",
        OverWhat = "job.label.over-what",
        BetweenWhat = "job.label.between-what",
        RightAngles = "job.label.right-angles",
        LargerThanRoom = "job.label.larger-than-room",
        WidthThenDepth = "job.label.width-then-depth",
        NothingClear = "job.label.nothing-clear",
        OutsideFraming = "job.label.outside-framing",
        LesserToGreater = "job.label.lesser-to-greater",
        IsThatMeant = "job.label.is-that-meant",
        NoSuchMember = "job.label.no-such-member",
        NotBetweenCorners = "job.label.not-between-corners",
        MoreThanNoneAlong = "job.label.more-than-none-along",
        PlaneFlat = "job.label.plane-flat",
        WallLooksAside = "job.label.wall-looks-aside",
        NothingOfBrick = "job.label.nothing-of-brick",
        LeadsBack = "job.label.leads-back",
        OneRunLeaves = "job.label.one-run-leaves",
        NoRun = "job.label.no-run",
        OneCollar = "job.label.one-collar",
        CannotPass = "job.label.cannot-pass",
        NotConnected = "job.label.not-connected",
        QuotesMissing = "job.label.quotes-missing",
        ValueMissing = "job.label.value-missing",
        QuotesDoNotMatch = "job.label.quotes-do-not-match",
        LevelsMost = "job.label.levels-most",
        WrittenAbove = "job.label.written-above",
        QuoteMissing = "job.label.quote-missing",
        Here = "job.label.here",
        CannotBeRead = "job.label.cannot-be-read",
        CannotBeLaidOver = "job.label.cannot-be-laid-over",
        OneCellTooMany = "job.label.one-cell-too-many",
        SecondTime = "job.label.second-time",
        InHeader = "job.label.in-header",
        OneThing = "job.label.one-thing",
        SumOrParts = "job.label.sum-or-parts",
        HoldsElbows = "job.label.holds-elbows",
        FlowFromBag = "job.label.flow-from-bag",
        PutQuotes = "job.label.put-quotes",
        LettersOfIds = "job.label.letters-of-ids",
        ChooseAnother = "job.label.choose-another",
        SecondUse = "job.label.second-use",
        FirstUse = "job.label.first-use",
        AlongTwo = "job.label.along-two",
        AlongThree = "job.label.along-three",
        LookAtSign = "job.label.look-at-sign",
        WhichUnit = "job.label.which-unit",
        PressureBelongs = "job.label.pressure-belongs",
        NotExact = "job.label.not-exact",
        NoCurveYet = "job.label.no-curve-yet",
        EachFlowOnce = "job.label.each-flow-once",
        FlowsAndPressures = "job.label.flows-and-pressures",
        OutsideOfThat = "job.label.outside-of-that",
        NotACount = "job.label.not-a-count",
        TooMany = "job.label.too-many",
        NotFinite = "job.label.not-finite",
        OneValueBelongs = "job.label.one-value-belongs",
        MustBeMore = "job.label.must-be-more",
        BelongsElsewhere = "job.label.belongs-elsewhere",
        NotKnownHere = "job.label.not-known-here",
        Impossible = "job.label.impossible",
        SizesRead = "job.label.sizes-read",
        UsualDucts = "job.label.usual-ducts",
        DiameterOrSides = "job.label.diameter-or-sides",
        TwelveBelong = "job.label.twelve-belong",
        DayBelongs = "job.label.day-belongs",
        TimeBelongs = "job.label.time-belongs",
        Newer = "job.label.newer",
        MustBeOne = "job.label.must-be-one",
        YesNoBelongs = "job.label.yes-no-belongs",
        Outside = "job.label.outside",
        Where = "job.label.where",
        NotInJob = "job.label.not-in-job",
        NotKnown = "job.label.not-known",
        NotFound = "job.label.not-found",
    }

    struct MustBeWritten { key: Reference } = "job.label.must-be-written"

    struct OfKind { kind: Reference } = OfKindKey {
        This = "job.label.this",
        IdOf = "job.label.id-of",
        NoneYet = "job.label.none-yet",
    }

    struct RarelyMore { count: Count } = "job.label.rarely-more"

    struct Limits { low: Reference, high: Reference } = LimitsKey {
        Possible = "job.label.possible",
        Usual = "job.label.usual",
    }

    struct LengthsByX { count: Count } = "job.label.lengths-by-x"

    struct MayMean { others: Option<Reference>, last: Reference } = "job.label.may-mean"

    struct DidYouMean { near: Reference } = "job.label.did-you-mean"

}
