//! Ways out.

use dewpath_message::slot::{Count, List, Name, Reference};
use dewpath_message::{Value, messages};

messages! {
    enum Do {
        GiveReason = "job.do.give-reason",
        WriteLimits = "job.do.write-limits",
        WriteReading = "job.do.write-reading",
        WriteItFirst = "job.do.write-it-first",
        WriteSwap = "job.do.write-swap",
        KeepReadOff = "job.do.keep-read-off",
        UsedAsWritten = "job.do.used-as-written",
        NameWeather = "job.do.name-weather",
        LeaveOneOut = "job.do.leave-one-out",
        LookAtMonths = "job.do.look-at-months",
        WriteSetPoints = "job.do.write-set-points",
        LeaveSetPointOut = "job.do.leave-set-point-out",
        WriteVentilation = "job.do.write-ventilation",
        WriteBalanced = "job.do.write-balanced",
        WriteEachTime = "job.do.write-each-time",
        WriteSecondTime = "job.do.write-second-time",
        WriteFanHabit = "job.do.write-fan-habit",
        LookAtFixtures = "job.do.look-at-fixtures",
        WriteWindow = "job.do.write-window",
        WriteHeater = "job.do.write-heater",
        WriteHumidityControl = "job.do.write-humidity-control",
        WriteOccupancy = "job.do.write-occupancy",
        LookAtBand = "job.do.look-at-band",
        LookAtDials = "job.do.look-at-dials",
        LookAtRise = "job.do.look-at-rise",
        WriteBuried = "job.do.write-buried",
        WriteSizeOrPlan = "job.do.write-size-or-plan",
        WriteCorner = "job.do.write-corner",
        WriteCornersInOrder = "job.do.write-corners-in-order",
        WriteCornersOnce = "job.do.write-corners-once",
        WriteCornersRound = "job.do.write-corners-round",
        LookAtPlan = "job.do.look-at-plan",
        UseOneFrame = "job.do.use-one-frame",
        WriteUnknownUnmeasured = "job.do.write-unknown-unmeasured",
        LookAtHousing = "job.do.look-at-housing",
        MeasureCentres = "job.do.measure-centres",
        MeasureFromEdge = "job.do.measure-from-edge",
        WriteActual = "job.do.write-actual",
        CountMembers = "job.do.count-members",
        WriteSpotInWindow = "job.do.write-spot-in-window",
        WriteReach = "job.do.write-reach",
        WriteNoThickness = "job.do.write-no-thickness",
        WriteRoof = "job.do.write-roof",
        MeasureCourse = "job.do.measure-course",
        LeaveOut = "job.do.leave-out",
        LookForTurned = "job.do.look-for-turned",
        WriteMissingRun = "job.do.write-missing-run",
        KeepOneDwelling = "job.do.keep-one-dwelling",
        WriteValueOrUnknown = "job.do.write-value-or-unknown",
        LookForBrackets = "job.do.look-for-brackets",
        CloseText = "job.do.close-text",
        SaveFromUtf16 = "job.do.save-from-utf16",
        SaveAsUtf8 = "job.do.save-as-utf8",
        QuoteCell = "job.do.quote-cell",
        QuoteCommas = "job.do.quote-commas",
        WriteHeader = "job.do.write-header",
        KeepOne = "job.do.keep-one",
        WriteIds = "job.do.write-ids",
        LeaveAddingUp = "job.do.leave-adding-up",
        WriteRatings = "job.do.write-ratings",
        WriteRating = "job.do.write-rating",
        LeavePointOut = "job.do.leave-point-out",
        WriteUnknown = "job.do.write-unknown",
        WriteLowerFirst = "job.do.write-lower-first",
        WriteSize = "job.do.write-size",
        WriteSizeOrOval = "job.do.write-size-or-oval",
        WriteDay = "job.do.write-day",
        WriteTime = "job.do.write-time",
        WriteFormatFirst = "job.do.write-format-first",
        UseNewer = "job.do.use-newer",
        WriteFormat = "job.do.write-format",
        WriteBoth = "job.do.write-both",
        CheckFirst = "job.do.check-first",
        EndWithKey = "job.do.end-with-key",
        MendFirst = "job.do.mend-first",
        GoOn = "job.do.go-on",
        TakeNothing = "job.do.take-nothing",
        NameElement = "job.do.name-element",
    }

    struct InSection { section: Reference } = InSectionKey {
        LookAtOutlet = "job.do.look-at-outlet",
        ExistingInNewWork = "job.do.existing-in-new-work",
        WriteDoor = "job.do.write-door",
        JunctionBehindFan = "job.do.junction-behind-fan",
        WriteRun = "job.do.write-run",
        JunctionWhereMeet = "job.do.junction-where-meet",
        SecondStartsWith = "job.do.second-starts-with",
        AboveBrackets = "job.do.above-brackets",
    }

    struct Start { room: Reference, fan: Reference } = "job.do.start"

    struct WriteShower { wet: Reference, fixture: Reference } = "job.do.write-shower"

    struct Example { example: Reference } = "job.do.example"

    struct WriteRunFrom { section: Reference, grille: Name } = "job.do.write-run-from"

    struct LineIs { section: Reference, list: Reference } = "job.do.line-is"

    struct Names { names: Reference } = NamesKey {
        Columns = "job.do.columns",
        KeysThere = "job.do.keys-there",
    }

    struct NoLibrary { kind: Reference, line: Reference } = "job.do.no-library"

    struct LeaveKeyOut { key: Reference } = "job.do.leave-key-out"

    struct OfId { id: Reference } = OfIdKey {
        Keep = "job.do.keep",
        NamePeople = "job.do.name-people",
    }

    struct ExampleOr { example: Reference, other: Reference } = "job.do.example-or"

    struct ExampleOfCount { example: Reference, range: Reference, unknown: Reference } = "job.do.example-of-count"

    struct ExampleOfWords { example: Reference, others: Option<Reference>, last: Reference } = "job.do.example-of-words"

    struct ExampleInUnit { example: Reference } = "job.do.example-in-unit"

    struct OneOf { others: Option<Reference>, last: Reference } = OneOfKey {
        KnownHere = "job.do.known-here",
        Known = "job.do.known",
        Write = "job.do.write",
        WritePart = "job.do.write-part",
    }

    struct NoneInJob { others: Option<Reference>, kind: Reference } = "job.do.none-in-job"

    struct CornersCounted { most: Option<Count> } = "job.do.corners-counted"

    struct WriteLike { line: Reference } = "job.do.write-like"

    struct UnitAsWord { line: Reference } = "job.do.unit-as-word"

    struct KnownModels { names: Reference, more: Option<Count> } = "job.do.known-models"

    struct WriteShow { line: Reference } = "job.do.write-show"

    struct OtherId { id: Reference, kind: Reference } = OtherIdKey {
        InJob = "job.do.in-job",
        InList = "job.do.in-list",
    }

    struct RangeAsText { line: Reference } = "job.do.range-as-text"

    struct KeyElsewhere { key: Name, tables: List } = "job.do.key-elsewhere"

    struct NoKeys { table: Value } = "job.do.no-keys"

    struct KeysOf { table: Value, names: Reference } = "job.do.keys-of"

    struct NameElementAs { path: Reference } = "job.do.name-element-as"

    struct EndPathAt { step: Reference, value: Reference } = "job.do.end-path-at"
}
