//! What is said of what to do, and what is missing.

use dewpath_message::slot::{
    AirflowLS, AreaM2, GapMm, InsulationRsi, LengthM, Name, PressurePa, Reference, TimeH, Word,
};
use dewpath_message::{Text, messages};

messages! {
    enum Missing {
        Operation = "missing.operation",
        FloorArea = "missing.floor-area",
        Bedrooms = "missing.bedrooms",
        DwellingArea = "missing.dwelling-area",
        Volume = "missing.volume",
        Fixtures = "missing.fixtures",
        KitchenExhaust = "missing.kitchen-exhaust",
        Cooker = "missing.cooker",
        Enclosed = "missing.enclosed",
    }

    enum Todo {
        OutletFirst = "todo.outlet-first",
        LargerFanLast = "todo.larger-fan-last",
        LookNext = "todo.look-next",
        MeasureFlow = "todo.measure-flow",
        WriteMethod = "todo.write-method",
        MeasureAgain = "todo.measure-again",
        NameBook = "todo.name-book",
        AskAuthority = "todo.ask-authority",
        ReadLabel = "todo.read-label",
        LetRun = "todo.let-run",
        AddFan = "todo.add-fan",
        MakerCriteria = "todo.maker-criteria",
        FullSizeDuct = "todo.full-size-duct",
        LookDuct = "todo.look-duct",
        Garage = "todo.garage",
        Balance = "todo.balance",
        PullTight = "todo.pull-tight",
        LookInsulation = "todo.look-insulation",
        OwnDuct = "todo.own-duct",
        DampersBoth = "todo.dampers-both",
        RiserOwner = "todo.riser-owner",
        LeadOutdoors = "todo.lead-outdoors",
        SeeOutlet = "todo.see-outlet",
        MoveTerminal = "todo.move-terminal",
        CloseSoffitVents = "todo.close-soffit-vents",
        CleanScreen = "todo.clean-screen",
        FreeFlap = "todo.free-flap",
        OpenCrushed = "todo.open-crushed",
        RatingAtPressure = "todo.rating-at-pressure",
        Gfci = "todo.gfci",
        ChooseControl = "todo.choose-control",
        LessPressure = "todo.less-pressure",
        WorstCaseTest = "todo.worst-case-test",
        AskFuel = "todo.ask-fuel",
        MeasureDryer = "todo.measure-dryer",
        SealJoints = "todo.seal-joints",
        FlueGasInRoom = "todo.flue-gas-in-room",
        TestAgainWhenTighter = "todo.test-again-when-tighter",
        WorstCaseAfter = "todo.worst-case-after",
        CoAlarm = "todo.co-alarm",
        MeasureLeakage = "todo.measure-leakage",
        TightFlap = "todo.tight-flap",
        WayIn = "todo.way-in",
        Carpet = "todo.carpet",
        WriteHours = "todo.write-hours",
        BalancedSupply = "todo.balanced-supply",
        WriteVentilation = "todo.write-ventilation",
        MakeUpAir = "todo.make-up-air",
        LookHidden = "todo.look-hidden",
        NameWeather = "todo.name-weather",
        WarmerSurface = "todo.warmer-surface",
        HygrometerOnColdDay = "todo.hygrometer-on-cold-day",
        DryTheHouse = "todo.dry-the-house",
        RunOn = "todo.run-on",
        Bury = "todo.bury",
        SlopeOut = "todo.slope-out",
        Trap = "todo.trap",
        LookSlope = "todo.look-slope",
        WritePlace = "todo.write-place",
        WriteRun = "todo.write-run",
        WriteMonths = "todo.write-months",
        LookFlap = "todo.look-flap",
        SealHousing = "todo.seal-housing",
        LookRoof = "todo.look-roof",
        LookFlapAndWrap = "todo.look-flap-and-wrap",
        LookFlapAndSeal = "todo.look-flap-and-seal",
        AskRain = "todo.ask-rain",
        AskThaw = "todo.ask-thaw",
        TellTheDrip = "todo.tell-the-drip",
        LessFloor = "todo.less-floor",
        DrainOrInsulate = "todo.drain-or-insulate",
        RoomToFall = "todo.room-to-fall",
        FirestopSystem = "todo.firestop-system",
        OtherWayOut = "todo.other-way-out",
        RunWithMembers = "todo.run-with-members",
        LevelHoldPoint = "todo.level-hold-point",
        TakePlace = "todo.take-place",
        SizeAndFan = "todo.size-and-fan",
        SizeOfRoom = "todo.size-of-room",
        MoreAirOrLonger = "todo.more-air-or-longer",
        LowerSetPoint = "todo.lower-set-point",
        ReadTheDial = "todo.read-the-dial",
        WherePiecesRun = "todo.where-pieces-run",
        RaiseSetPoint = "todo.raise-set-point",
        ControlByRise = "todo.control-by-rise",
        FasterSensor = "todo.faster-sensor",
        LongerRun = "todo.longer-run",
    }

    struct TodoLookRound { furthest: LengthM } = "todo.look-round"

    struct TodoInsulate { needed: Option<InsulationRsi> } = "todo.insulate"

    struct TodoLargestLoss { part: Name, what: Word, loss: PressurePa } = "todo.largest-loss"

    struct TodoConfirmInBook { section: Text, book: Text } = "todo.confirm-in-book"

    struct TodoUndercut { gap: GapMm } = TodoUndercutKey {
        Cut = "todo.undercut",
        Measure = "todo.measure-gap",
    }

    struct TodoTransferRule { area: AreaM2, section: Reference } = "todo.transfer-rule"

    struct TodoMakeUpOpening {
        area: AreaM2,
        flow: AirflowLS,
        pressure: PressurePa,
    } = "todo.make-up-opening"

    struct TodoRunLonger { minutes: TimeH } = "todo.run-longer"

    struct TodoEachPeriod { period: TimeH } = "todo.each-period"

    struct TodoShortCycles { book: Reference } = "todo.short-cycles"

    struct TodoMoreVentilation { flow: AirflowLS } = "todo.more-ventilation"
}
